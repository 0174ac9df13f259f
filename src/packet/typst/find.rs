//! Finds the program and asks its version before it is used.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use super::run::{Ended, start, wait};
use super::trouble::TypstTrouble;

/// The one version that pages are made for, and that `--install-typst` builds.
pub const VERSION: &str = "0.15.1";

/// How long the program may take to say its version.
const ANSWER_LIMIT: Duration = Duration::from_secs(20);

#[cfg(windows)]
const PROGRAM: &str = "typst.exe";
#[cfg(not(windows))]
const PROGRAM: &str = "typst";

/// A program of the right version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typst {
    path: PathBuf,
}

impl Typst {
    /// The program at `path`, if it is the right version.
    pub fn at(path: &Path) -> Result<Self, TypstTrouble> {
        let says = version(path).ok_or_else(|| TypstTrouble::NotTypst(path.to_owned()))?;
        if says.split_whitespace().nth(1) == Some(VERSION) {
            Ok(Self {
                path: path.to_owned(),
            })
        } else {
            Err(TypstTrouble::OtherVersion {
                path: path.to_owned(),
                says,
            })
        }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// What the program calls itself (`typst 0.15.1`), without the part in brackets.
fn version(path: &Path) -> Option<String> {
    let mut command = Command::new(path);
    command
        .arg("--version")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    let mut child = start(&mut command).ok()?;
    match wait(&mut child, ANSWER_LIMIT) {
        Ended::Well => {}
        Ended::Badly | Ended::Stopped => return None,
    }
    let mut says = String::new();
    std::io::Read::read_to_string(&mut child.stdout.take()?, &mut says).ok()?;
    let mut parts = says.split_whitespace();
    let (name, number) = (parts.next()?, parts.next()?);
    (name == "typst" && number.starts_with(|c: char| c.is_ascii_digit()))
        .then(|| format!("{name} {number}"))
}

/// Where to look, in this order.
#[derive(Clone, Debug, Default)]
pub struct Search {
    /// `--typst PATH`.
    pub given: Option<PathBuf>,
    /// `BAYRUN_TYPST`.
    pub variable: Option<PathBuf>,
    /// The folder of Bayrun's own program.
    pub beside: Option<PathBuf>,
    /// `PATH`.
    pub path: Option<OsString>,
    /// Bayrun's cache folder.
    pub cache: Option<PathBuf>,
}

impl Search {
    /// The places of this machine.
    pub fn of_this_machine(given: Option<PathBuf>) -> Self {
        let variable = std::env::var_os("BAYRUN_TYPST").filter(|value| !value.is_empty());
        Self {
            given,
            variable: variable.map(PathBuf::from),
            beside: std::env::current_exe()
                .ok()
                .and_then(|program| program.parent().map(Path::to_owned)),
            path: std::env::var_os("PATH"),
            cache: cache_folder(),
        }
    }

    /// Where `--install-typst` puts the program.
    pub fn cached_root(&self) -> Option<PathBuf> {
        let cache = self.cache.as_ref()?;
        Some(cache.join(format!("typst-{VERSION}")))
    }

    /// The program that `--install-typst` made.
    pub fn cached_program(&self) -> Option<PathBuf> {
        Some(self.cached_root()?.join("bin").join(PROGRAM))
    }
}

/// Bayrun's own cache folder, where the system keeps such folders.
fn cache_folder() -> Option<PathBuf> {
    let variable = |name| {
        std::env::var_os(name)
            .filter(|v| !v.is_empty())
            .map(PathBuf::from)
    };
    let base = if cfg!(windows) {
        variable("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        variable("HOME").map(|home| home.join("Library").join("Caches"))
    } else {
        variable("XDG_CACHE_HOME")
            .filter(|path| path.is_absolute())
            .or_else(|| variable("HOME").map(|home| home.join(".cache")))
    };
    base.map(|base| base.join("bayrun"))
}

/// The program: one that is named must be right; among those that merely lie about, the first right one is taken.
pub fn find(search: &Search) -> Result<Typst, TypstTrouble> {
    if let Some(named) = search.given.as_ref().or(search.variable.as_ref()) {
        return Typst::at(named);
    }
    let beside = search.beside.iter().map(|folder| folder.join(PROGRAM));
    let on_path = search
        .path
        .iter()
        .flat_map(std::env::split_paths)
        .map(|folder| folder.join(PROGRAM));
    let mut trouble = TypstTrouble::NotFound;
    for program in beside.chain(on_path).chain(search.cached_program()) {
        if !program.is_file() {
            continue;
        }
        match Typst::at(&program) {
            Ok(typst) => return Ok(typst),
            Err(other) if trouble == TypstTrouble::NotFound => trouble = other,
            Err(_) => {}
        }
    }
    Err(trouble)
}

#[cfg(test)]
#[cfg(unix)]
mod tests {
    use super::*;
    use std::os::unix::fs::PermissionsExt as _;

    fn fake(folder: &Path, says: &str) -> PathBuf {
        let program = folder.join(PROGRAM);
        std::fs::write(&program, format!("#!/bin/sh\necho '{says}'\n")).expect("write");
        let mode = std::fs::Permissions::from_mode(0o755);
        std::fs::set_permissions(&program, mode).expect("mode");
        program
    }

    #[test]
    fn another_version_is_refused_with_the_way_to_the_right_one() {
        let folder = tempfile::tempdir().expect("folder");
        let program = fake(folder.path(), "typst 0.14.9 (abc)");
        let search = Search {
            variable: Some(program),
            ..Search::default()
        };
        let words = find(&search).expect_err("refused").to_string();
        assert!(words.contains("typst 0.14.9"), "{words}");
        assert!(
            words.contains(VERSION) && words.contains("--install-typst"),
            "{words}"
        );
    }

    #[test]
    fn a_named_program_goes_before_all_others_and_is_not_passed_over() {
        let (good, bad) = (
            tempfile::tempdir().expect("a"),
            tempfile::tempdir().expect("b"),
        );
        let right = fake(good.path(), &format!("typst {VERSION} (unknown commit)"));
        let wrong = fake(bad.path(), "typst 0.1.0");
        let mut search = Search {
            given: Some(wrong),
            variable: Some(right.clone()),
            ..Search::default()
        };
        assert!(matches!(
            find(&search),
            Err(TypstTrouble::OtherVersion { .. })
        ));
        search.given = None;
        assert_eq!(find(&search).expect("found").path(), right);
    }

    #[test]
    fn those_that_lie_about_are_tried_in_order() {
        let (path, cache) = (
            tempfile::tempdir().expect("a"),
            tempfile::tempdir().expect("b"),
        );
        fake(path.path(), "typst 0.1.0");
        let search = Search {
            path: Some(path.path().as_os_str().to_owned()),
            cache: Some(cache.path().to_owned()),
            ..Search::default()
        };
        assert!(matches!(
            find(&search),
            Err(TypstTrouble::OtherVersion { .. })
        ));
        let cached = search.cached_program().expect("place");
        let bin = cached.parent().expect("folder").to_owned();
        std::fs::create_dir_all(&bin).expect("folder");
        fake(&bin, &format!("typst {VERSION}"));
        assert_eq!(find(&search).expect("found").path(), cached);
        assert_eq!(find(&Search::default()), Err(TypstTrouble::NotFound));
    }

    #[test]
    fn what_is_not_typst_is_named() {
        let folder = tempfile::tempdir().expect("folder");
        let program = fake(folder.path(), "something else");
        assert_eq!(
            Typst::at(&program),
            Err(TypstTrouble::NotTypst(program.clone()))
        );
        let missing = folder.path().join("none");
        assert_eq!(
            Typst::at(&missing),
            Err(TypstTrouble::NotTypst(missing.clone()))
        );
    }
}
