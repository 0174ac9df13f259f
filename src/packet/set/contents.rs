//! Makes every file of the set in a folder beside, then swaps it in.

use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use serde_json::{Value, json};

use super::earlier::Earlier;
use super::list::List;
use super::swap::{beside, may_replace, real_place, swap};
use crate::packet::html::html;
use crate::packet::page::{Packet, packet_json};
use crate::packet::text::Words;
use crate::packet::typst::{Paper, Typst, TypstTrouble, print_pdf};

/// Why nothing was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SetError {
    /// The place is a file.
    NotAFolder(PathBuf),
    /// The folder holds files that no earlier packet wrote.
    OtherFiles {
        /// The folder.
        path: PathBuf,
        /// How many.
        count: usize,
        /// The first of them.
        names: Vec<String>,
    },
    /// The system refused.
    Unwritable {
        /// Where.
        path: PathBuf,
        /// Its words.
        words: String,
    },
    /// The old packet could neither be replaced nor put back; it is kept here.
    Kept {
        /// Where it is now.
        path: PathBuf,
    },
    /// A page could not be made.
    Page(String),
}

impl fmt::Display for SetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAFolder(path) => write!(f, "`{}` is not a folder", path.display()),
            Self::OtherFiles { path, count, names } => {
                let more = if *count > names.len() { ", …" } else { "" };
                write!(
                    f,
                    "`{}` holds {count} {} that no packet put there ({}{more}); \
                     name an empty or new folder by `-o FOLDER`",
                    path.display(),
                    if *count == 1 { "file" } else { "files" },
                    names.join(", ")
                )
            }
            Self::Unwritable { path, words } => {
                write!(f, "`{}` can't be written: {words}", path.display())
            }
            Self::Kept { path } => write!(
                f,
                "the packet could not be put in place; the earlier one is kept at `{}`",
                path.display()
            ),
            Self::Page(words) => f.write_str(words),
        }
    }
}

impl std::error::Error for SetError {}

/// What prints the pages.
#[derive(Clone, Copy, Debug)]
pub struct Printer<'a> {
    /// The program, or why there is none.
    pub typst: Result<&'a Typst, &'a TypstTrouble>,
    /// The paper.
    pub paper: Paper,
    /// How long printing may take.
    pub limit: Duration,
}

/// What was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Every file of the set, relative to its folder, in order.
    pub files: Vec<String>,
    /// Why there is no `packet.pdf`, if there is none.
    pub trouble: Option<TypstTrouble>,
}

/// Writes the set into `folder`, whole or not at all. Without typst everything but the PDF is written.
pub fn write_set(
    folder: &Path,
    packet: &Packet<'_>,
    lists: &[List],
    printer: &Printer<'_>,
    words: &Words,
) -> Result<Written, SetError> {
    let standing = resolved(folder);
    may_replace(&standing)?;
    let earlier = Earlier::of_folder(&standing, packet, words);
    let since = earlier
        .as_ref()
        .and_then(|earlier| earlier.since(packet, words));
    let mut value = packet_json(packet, since.as_ref(), words);
    let pdf = printer.typst.map_err(Clone::clone).and_then(|typst| {
        print_pdf(
            typst,
            &value,
            words,
            printer.paper,
            packet.job.date,
            printer.limit,
        )
    });
    let mut files = Vec::new();
    let page = html(&value, words).map_err(|error| SetError::Page(error.to_string()))?;
    files.push(("packet.html".to_owned(), page.into_bytes()));
    let trouble = match pdf {
        Ok(bytes) => {
            files.push(("packet.pdf".to_owned(), bytes));
            None
        }
        Err(trouble) => Some(trouble),
    };
    for list in lists {
        let csv = list
            .csv(words)
            .ok_or_else(|| SetError::Page(format!("`{}` could not be made", list.file())))?;
        files.push((list.file(), csv.into_bytes()));
    }
    let mut names: Vec<String> = files.iter().map(|(name, _)| name.clone()).collect();
    names.push("packet.json".to_owned());
    names.sort();
    if let Value::Object(map) = &mut value {
        let lists: Vec<Value> = lists.iter().map(|list| list.json(words)).collect();
        map.insert("lists".into(), Value::Array(lists));
        map.insert("files".into(), json!(names));
        map.insert(
            "earlier".into(),
            json!(earlier.map(|earlier| earlier.json())),
        );
    }
    files.push((
        "packet.json".to_owned(),
        format!("{value:#}\n").into_bytes(),
    ));
    put(folder, &files)?;
    Ok(Written {
        files: names,
        trouble,
    })
}

fn resolved(folder: &Path) -> PathBuf {
    fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned())
}

fn put(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), SetError> {
    let place = real_place(folder)?;
    let new = beside(&place)?;
    let set = new.path().join("set");
    for (name, bytes) in files {
        let path = set.join(name);
        let unwritable = |error: std::io::Error| SetError::Unwritable {
            path: place.join(name),
            words: error.to_string(),
        };
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).map_err(unwritable)?;
        }
        fs::write(&path, bytes).map_err(unwritable)?;
    }
    swap(new, &place)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, bytes: &str) -> (String, Vec<u8>) {
        (name.to_owned(), bytes.as_bytes().to_vec())
    }

    #[test]
    fn a_failure_half_way_leaves_the_old_set_and_nothing_beside() {
        let home = tempfile::tempdir().expect("folder");
        let folder = home.path().join("out");
        let json = r#"{"tool":"bayrun","files":["packet.html","packet.json"]}"#;
        put(
            &folder,
            &[file("packet.html", "one"), file("packet.json", json)],
        )
        .expect("first");
        // `packet.html` is a file, so no list can be written below it: planted in the middle of the set.
        let broken = [
            file("packet.html", "two"),
            file("packet.html/lists.csv", "x"),
            file("packet.json", json),
        ];
        let told = put(&folder, &broken).expect_err("planted").to_string();
        assert!(told.contains("packet.html/lists.csv"), "{told}");
        assert_eq!(
            fs::read_to_string(folder.join("packet.html")).expect("old"),
            "one"
        );
        assert_eq!(fs::read_dir(home.path()).expect("home").count(), 1);
        put(
            &folder,
            &[file("packet.html", "three"), file("packet.json", json)],
        )
        .expect("third");
        assert_eq!(
            fs::read_to_string(folder.join("packet.html")).expect("new"),
            "three"
        );
    }

    #[test]
    fn folders_on_the_way_are_made() {
        let home = tempfile::tempdir().expect("folder");
        let folder = home.path().join("a").join("b");
        put(&folder, &[file("lists/x.csv", "1")]).expect("put");
        assert!(folder.join("lists/x.csv").is_file());
    }
}
