//! Why there is no printed packet, in words that say what to do.

use std::fmt;
use std::path::PathBuf;
use std::time::Duration;

use super::find::VERSION;

/// What keeps pages from being printed. Everything else is still written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypstTrouble {
    /// The program is nowhere.
    NotFound,
    /// The program is there in another version.
    OtherVersion {
        /// Which program.
        path: PathBuf,
        /// What it calls itself.
        says: String,
    },
    /// What is named is not that program.
    NotTypst(PathBuf),
    /// It took longer than allowed and was stopped.
    TooSlow(Duration),
    /// It ended without a file; its own words.
    Failed(String),
    /// The private folder could not be made or read.
    Folder(String),
    /// The build lacks these things: what, and the command that brings it.
    Needs(Vec<(String, String)>),
    /// The build ended without a program; its last words.
    BuildFailed(String),
}

/// The two ways to get the program.
fn how_to_get_it() -> String {
    format!(
        "run `bayrun packet … --install-typst` once (it builds typst {VERSION} into Bayrun's own cache folder), \
         or name one by `--typst PATH` or `BAYRUN_TYPST`"
    )
}

impl fmt::Display for TypstTrouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFound => write!(
                f,
                "no PDF: the program typst {VERSION} is not found; {}",
                how_to_get_it()
            ),
            Self::OtherVersion { path, says } => write!(
                f,
                "no PDF: `{}` is {says}, and pages are made for typst {VERSION}; {}",
                path.display(),
                how_to_get_it()
            ),
            Self::NotTypst(path) => write!(
                f,
                "no PDF: `{}` does not answer as typst; {}",
                path.display(),
                how_to_get_it()
            ),
            Self::TooSlow(limit) => {
                write!(f, "no PDF: typst was stopped after {} s", limit.as_secs())
            }
            Self::Failed(words) => write!(f, "no PDF: typst says: {words}"),
            Self::Folder(words) => write!(f, "no PDF: the folder for typst: {words}"),
            Self::Needs(needs) => {
                write!(f, "typst {VERSION} cannot be built yet")?;
                for (what, command) in needs {
                    write!(f, "\n  missing: {what}; get it by `{command}`")?;
                }
                Ok(())
            }
            Self::BuildFailed(words) => write!(f, "building typst {VERSION} ended early: {words}"),
        }
    }
}

impl std::error::Error for TypstTrouble {}
