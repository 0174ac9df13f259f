//! Builds the program once into Bayrun's own cache folder, after a look at what the build needs beside Rust.

use std::io::{BufRead as _, BufReader};
use std::path::PathBuf;
use std::process::{Command, Stdio};

use super::find::{Search, Typst, VERSION};
use super::trouble::TypstTrouble;

/// The least Rust that typst 0.15.1 builds with (`rust-version` of its `Cargo.toml`).
const LEAST_RUST: (u32, u32) = (1, 92);

/// Features that the packet needs: typst's own fonts for letters that the shipped font lacks.
const FEATURES: [&str; 3] = ["--no-default-features", "--features", "embedded-fonts"];

/// Settings that make the build short; a packet then prints a few hundredths of a second slower.
const PROFILE: [(&str, &str); 4] = [
    ("CARGO_PROFILE_RELEASE_LTO", "off"),
    ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "256"),
    ("CARGO_PROFILE_RELEASE_OPT_LEVEL", "1"),
    ("CARGO_PROFILE_RELEASE_DEBUG", "0"),
];

/// Something that the build needs beside Rust.
#[derive(Clone, Copy, Debug)]
pub struct Need {
    /// What it is.
    pub what: &'static str,
    /// The command that brings it (Debian and kin; elsewhere the names differ).
    pub command: &'static str,
    /// Ways to ask for it: one that answers is enough.
    asks: &'static [&'static [&'static str]],
}

/// What the build needs on systems where it speaks to OpenSSL (all but Windows and macOS): its stack
/// switching is assembled by a C compiler, and `openssl-sys` asks pkg-config for libssl.
pub const INSTALL_NEEDS: [Need; 3] = [
    Need {
        what: "a C compiler (cc)",
        command: "sudo apt-get install build-essential",
        asks: &[
            &["cc", "--version"],
            &["gcc", "--version"],
            &["clang", "--version"],
        ],
    },
    Need {
        what: "pkg-config",
        command: "sudo apt-get install pkg-config",
        asks: &[&["pkg-config", "--version"], &["pkgconf", "--version"]],
    },
    Need {
        what: "the headers of OpenSSL (libssl-dev)",
        command: "sudo apt-get install libssl-dev",
        asks: &[&["pkg-config", "--exists", "openssl"]],
    },
];

fn answers(ask: &[&str]) -> bool {
    let Some((program, rest)) = ask.split_first() else {
        return false;
    };
    Command::new(program)
        .args(rest)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|status| status.success())
}

/// The version of Rust, from the words of `rustc --version`.
fn rust_version(says: &str) -> Option<(u32, u32)> {
    let number = says.split_whitespace().nth(1)?;
    let mut parts = number.split('.');
    Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
}

/// What is missing, asked by `answers` and told by the words of `rustc --version`.
fn missing(
    rust: Option<&str>,
    speaks_openssl: bool,
    answers: &dyn Fn(&[&str]) -> bool,
) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let (major, minor) = LEAST_RUST;
    if rust
        .and_then(rust_version)
        .is_none_or(|found| found < LEAST_RUST)
        || !answers(&["cargo", "--version"])
    {
        out.push((
            format!("Rust {major}.{minor} or newer with cargo"),
            "rustup update stable".to_owned(),
        ));
    }
    for need in INSTALL_NEEDS.iter().filter(|_| speaks_openssl) {
        if !need.asks.iter().any(|ask| answers(ask)) {
            out.push((need.what.to_owned(), need.command.to_owned()));
        }
    }
    out
}

fn check_needs() -> Result<(), TypstTrouble> {
    let rust = Command::new("rustc")
        .arg("--version")
        .output()
        .ok()
        .and_then(|output| String::from_utf8(output.stdout).ok());
    let speaks_openssl = !cfg!(any(windows, target_os = "macos"));
    let missing = missing(rust.as_deref(), speaks_openssl, &answers);
    if missing.is_empty() {
        Ok(())
    } else {
        Err(TypstTrouble::Needs(missing))
    }
}

/// Builds typst into the cache folder, if it is not there, and tells each step of the build to `progress`.
pub fn install_typst(
    search: &Search,
    progress: &mut dyn FnMut(&str),
) -> Result<Typst, TypstTrouble> {
    let folder = |words: &str| TypstTrouble::Folder(words.to_owned());
    let no_place = || folder("there is no cache folder: set HOME or XDG_CACHE_HOME");
    let program = search.cached_program().ok_or_else(no_place)?;
    if let Ok(typst) = Typst::at(&program) {
        return Ok(typst);
    }
    check_needs()?;
    let root: PathBuf = search.cached_root().ok_or_else(no_place)?;
    std::fs::create_dir_all(&root).map_err(|error| folder(&error.to_string()))?;
    progress(&format!(
        "building typst {VERSION}, once; this takes some minutes"
    ));
    let mut child = Command::new("cargo")
        .args([
            "install",
            "typst-cli",
            "--locked",
            "--force",
            "--version",
            VERSION,
        ])
        .args(FEATURES)
        .arg("--root")
        .arg(&root)
        .envs(PROFILE)
        // A folder shared with another build would keep settings of its own.
        .env_remove("CARGO_TARGET_DIR")
        .env_remove("RUSTFLAGS")
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|error| TypstTrouble::BuildFailed(error.to_string()))?;
    let mut last: Vec<String> = Vec::new();
    if let Some(lines) = child.stderr.take() {
        for line in BufReader::new(lines).lines().map_while(Result::ok) {
            progress(line.trim());
            if last.len() == 8 {
                last.remove(0);
            }
            last.push(line);
        }
    }
    match child.wait() {
        Ok(status) if status.success() => Typst::at(&program),
        Ok(_) => Err(TypstTrouble::BuildFailed(last.join("\n"))),
        Err(error) => Err(TypstTrouble::BuildFailed(error.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_named_with_its_command() {
        let bare = |ask: &[&str]| ask == ["cargo", "--version"];
        let missing = missing(Some("rustc 1.92.0 (abc 2026-01-01)"), true, &bare);
        let what: Vec<_> = missing
            .iter()
            .map(|(_, command)| command.as_str())
            .collect();
        assert_eq!(
            what,
            [
                "sudo apt-get install build-essential",
                "sudo apt-get install pkg-config",
                "sudo apt-get install libssl-dev"
            ]
        );
        let words = TypstTrouble::Needs(missing).to_string();
        assert!(
            words.contains("libssl-dev") && words.contains("C compiler"),
            "{words}"
        );
    }

    #[test]
    fn an_older_rust_is_named() {
        let all = |_: &[&str]| true;
        assert_eq!(missing(Some("rustc 1.91.1"), true, &all).len(), 1);
        assert_eq!(missing(None, true, &all).len(), 1);
        assert!(missing(Some("rustc 1.92.0"), true, &all).is_empty());
        assert!(
            missing(Some("rustc 2.0.0"), false, &|ask| ask
                == ["cargo", "--version"])
            .is_empty()
        );
    }

    #[test]
    fn a_program_that_was_built_is_not_built_again() {
        // Nothing is installed and nothing is run: without a cache folder the answer is immediate.
        let told = install_typst(&Search::default(), &mut |_| {});
        assert!(matches!(told, Err(TypstTrouble::Folder(_))));
    }
}
