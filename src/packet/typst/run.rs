//! Runs the program in a private folder: no system fonts, no packages, no network, a fixed time stamp, a time limit.

use std::fs::File;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use super::find::Typst;
use super::trouble::TypstTrouble;
use crate::packet::font::{FontFile, break_long_words, drawable};
use crate::packet::html::template_words;
use crate::packet::page::Date;
use crate::packet::text::Words;

/// How long printing a packet may take.
pub const TIME_LIMIT: Duration = Duration::from_secs(120);

/// Letters of a word after which it may break on paper, so that none runs off the page.
const LONGEST_WORD: usize = 22;
/// Of the program's own words, how many letters a message repeats.
const WORDS_KEPT: usize = 2000;

/// The paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 8 1/2 by 11 in.
    #[default]
    Letter,
    /// 210 by 297 mm.
    A4,
}

impl Paper {
    /// The word on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
        }
    }

    /// Reads the word.
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "letter" => Some(Self::Letter),
            "a4" => Some(Self::A4),
            _ => None,
        }
    }

    const fn page_name(self) -> &'static str {
        match self {
            Self::Letter => "us-letter",
            Self::A4 => "a4",
        }
    }
}

pub(super) enum Ended {
    Well,
    Badly,
    Stopped,
}

/// Starts `command`; a program that is still being written (just built, say) is tried again for a moment.
pub(super) fn start(command: &mut Command) -> std::io::Result<Child> {
    for _ in 0..40 {
        match command.spawn() {
            Err(error) if error.kind() == std::io::ErrorKind::ExecutableFileBusy => {
                std::thread::sleep(Duration::from_millis(5));
            }
            done => return done,
        }
    }
    command.spawn()
}

/// Waits for `child`, and stops it at the limit.
pub(super) fn wait(child: &mut Child, limit: Duration) -> Ended {
    let start = Instant::now();
    let mut pause = Duration::from_millis(1);
    loop {
        match child.try_wait() {
            Ok(Some(status)) if status.success() => return Ended::Well,
            Ok(Some(_)) | Err(_) => return Ended::Badly,
            Ok(None) => {}
        }
        if start.elapsed() >= limit {
            // It may have ended in between; either way it is gone afterwards.
            let _ = child.kill();
            let _ = child.wait();
            return Ended::Stopped;
        }
        std::thread::sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(20));
    }
}

/// Every text of the data with breaks in its long words; drawings keep their words whole.
fn for_paper(value: &Value) -> Value {
    match value {
        Value::String(text) => Value::String(break_long_words(&drawable(text), LONGEST_WORD)),
        Value::Array(items) => Value::Array(items.iter().map(for_paper).collect()),
        Value::Object(map) => {
            let fields = map.iter().map(|(key, field)| {
                let field = match (key.as_str(), field) {
                    ("id" | "kind" | "align", _) => field.clone(),
                    ("svg" | "sign", Value::String(drawing)) => Value::String(drawable(drawing)),
                    _ => for_paper(field),
                };
                (key.clone(), field)
            });
            Value::Object(fields.collect())
        }
        other => other.clone(),
    }
}

fn lay_out(folder: &Path, packet: &Value, paper: Paper, words: &Words) -> std::io::Result<()> {
    let data = json!({
        "packet": for_paper(packet),
        "words": template_words(words),
        "paper": paper.page_name(),
    });
    std::fs::write(folder.join("packet.json"), data.to_string())?;
    std::fs::write(
        folder.join("packet.typ"),
        include_str!("../../../templates/packet.typ"),
    )?;
    let fonts = folder.join("fonts");
    std::fs::create_dir(&fonts)?;
    for file in FontFile::ALL {
        std::fs::write(fonts.join(file.name), file.bytes)?;
    }
    std::fs::create_dir(folder.join("packages"))
}

/// The printed packet, from its JSON form.
pub fn print_pdf(
    typst: &Typst,
    packet: &Value,
    words: &Words,
    paper: Paper,
    date: Option<Date>,
    limit: Duration,
) -> Result<Vec<u8>, TypstTrouble> {
    let trouble = |error: std::io::Error| TypstTrouble::Folder(error.to_string());
    let private = tempfile::Builder::new()
        .prefix("bayrun-")
        .tempdir()
        .map_err(trouble)?;
    let folder = private.path();
    lay_out(folder, packet, paper, words).map_err(trouble)?;
    let errors = folder.join("errors.txt");
    let packages = folder.join("packages");
    let mut command = Command::new(typst.path());
    command
        .current_dir(folder)
        .arg("compile")
        .args([
            "--root",
            ".",
            "--font-path",
            "fonts",
            "--ignore-system-fonts",
        ])
        .arg("--package-path")
        .arg(&packages)
        .arg("--package-cache-path")
        .arg(&packages)
        .args(["--diagnostic-format", "short", "--creation-timestamp"])
        // Without a revision the stamp still must not be the clock.
        .arg(date.map_or(0, Date::timestamp).to_string())
        .args(["packet.typ", "packet.pdf"])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(File::create(&errors).map_err(trouble)?);
    // The program reads options from the environment too; none may reach it.
    for (name, _) in std::env::vars_os() {
        let told = name.to_string_lossy();
        if told.starts_with("TYPST_") || told == "SOURCE_DATE_EPOCH" {
            command.env_remove(&name);
        }
    }
    let mut child = start(&mut command).map_err(|error| TypstTrouble::Failed(error.to_string()))?;
    match wait(&mut child, limit) {
        Ended::Well => std::fs::read(folder.join("packet.pdf")).map_err(trouble),
        Ended::Stopped => Err(TypstTrouble::TooSlow(limit)),
        Ended::Badly => {
            let says = std::fs::read(&errors).unwrap_or_default();
            let says = String::from_utf8_lossy(&says);
            let says: String = says.trim().chars().take(WORDS_KEPT).collect();
            Err(TypstTrouble::Failed(says))
        }
    }
}

#[cfg(test)]
#[cfg(unix)]
mod tests {
    use super::*;
    use std::os::unix::fs::PermissionsExt as _;

    #[test]
    fn a_program_that_hangs_is_stopped() {
        let folder = tempfile::tempdir().expect("folder");
        let program = folder.path().join("typst");
        let script = format!(
            "#!/bin/sh\nif [ \"$1\" = --version ]; then echo 'typst {}'; else exec sleep 60; fi\n",
            super::super::VERSION
        );
        std::fs::write(&program, script).expect("write");
        let mode = std::fs::Permissions::from_mode(0o755);
        std::fs::set_permissions(&program, mode).expect("mode");
        let typst = Typst::at(&program).expect("version");
        let limit = Duration::from_millis(150);
        let start = Instant::now();
        let words = Words::english();
        let ended = print_pdf(&typst, &json!({}), words, Paper::A4, None, limit);
        assert_eq!(ended, Err(TypstTrouble::TooSlow(limit)));
        assert!(start.elapsed() < Duration::from_secs(20));
    }

    #[test]
    fn drawings_keep_their_bytes_and_texts_get_breaks() {
        let long = "x".repeat(60);
        let value = for_paper(&json!({ "svg": long, "text": long }));
        assert_eq!(value["svg"], json!(long));
        assert_eq!(
            value["text"]
                .as_str()
                .map(|t| t.matches('\u{200b}').count()),
            Some(2)
        );
    }
}
