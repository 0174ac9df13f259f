//! Puts a finished folder in the place of the old one, if the old one is ours to replace.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;

use super::contents::SetError;

/// How many names of strange files a message repeats.
const NAMED: usize = 3;

fn unwritable(path: &Path, error: &std::io::Error) -> SetError {
    SetError::Unwritable {
        path: path.to_owned(),
        words: error.to_string(),
    }
}

/// Every file below `folder`, its path written with `/`. Links are files: what they point at is not ours.
fn files_in(folder: &Path, below: &str, out: &mut BTreeSet<String>) -> std::io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{below}{}", entry.file_name().to_string_lossy());
        if entry.file_type()?.is_dir() {
            let before = out.len();
            files_in(&entry.path(), &format!("{name}/"), out)?;
            // An empty folder of somebody else's is not ours either.
            if out.len() == before {
                out.insert(format!("{name}/"));
            }
        } else {
            out.insert(name);
        }
    }
    Ok(())
}

/// The files that the `packet.json` of an earlier run lists.
fn listed(folder: &Path) -> Option<BTreeSet<String>> {
    let text = fs::read_to_string(folder.join("packet.json")).ok()?;
    let value: Value = serde_json::from_str(&text).ok()?;
    if value.get("tool")?.as_str()? != "bayrun" {
        return None;
    }
    let files = value.get("files")?.as_array()?;
    files
        .iter()
        .map(|file| file.as_str().map(str::to_owned))
        .collect()
}

/// Whether `folder` is missing, empty, or holds nothing but an earlier packet.
pub(super) fn may_replace(folder: &Path) -> Result<(), SetError> {
    match fs::symlink_metadata(folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(unwritable(folder, &error)),
        Ok(about) if !about.is_dir() => return Err(SetError::NotAFolder(folder.to_owned())),
        Ok(_) => {}
    }
    let mut found = BTreeSet::new();
    files_in(folder, "", &mut found).map_err(|error| unwritable(folder, &error))?;
    let ours = listed(folder).unwrap_or_default();
    let others: Vec<String> = found.difference(&ours).cloned().collect();
    if others.is_empty() {
        return Ok(());
    }
    Err(SetError::OtherFiles {
        path: folder.to_owned(),
        count: others.len(),
        names: others.into_iter().take(NAMED).collect(),
    })
}

/// The place itself: links followed, so that the folder behind a link is replaced and not the link.
pub(super) fn real_place(folder: &Path) -> Result<PathBuf, SetError> {
    if let Ok(real) = fs::canonicalize(folder) {
        return Ok(real);
    }
    let parent = match folder.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(parent).map_err(|error| unwritable(parent, &error))?;
    let parent = fs::canonicalize(parent).map_err(|error| unwritable(parent, &error))?;
    let name = folder
        .file_name()
        .ok_or_else(|| SetError::NotAFolder(folder.to_owned()))?;
    Ok(parent.join(name))
}

/// A new folder beside `place`, gone again unless it is swapped in.
pub(super) fn beside(place: &Path) -> Result<TempDir, SetError> {
    let parent = place.parent().unwrap_or(place);
    tempfile::Builder::new()
        .prefix(".bayrun-")
        .tempdir_in(parent)
        .map_err(|error| unwritable(parent, &error))
}

/// Puts `new/set` where `place` is. On any failure the old folder stands as it was.
pub(super) fn swap(new: TempDir, place: &Path) -> Result<(), SetError> {
    let fresh = new.path().join("set");
    let old = new.path().join("old");
    let had_one = match fs::rename(place, &old) {
        Ok(()) => true,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => false,
        Err(error) => return Err(unwritable(place, &error)),
    };
    // Somebody may have put a file there while the packet was being made.
    let still_ours = may_replace(&old);
    let moved = still_ours
        .and_then(|()| fs::rename(&fresh, place).map_err(|error| unwritable(place, &error)));
    if let Err(trouble) = moved {
        if had_one && fs::rename(&old, place).is_err() {
            // Keep what could not be put back: the folder beside is not removed.
            let kept = new.keep();
            return Err(SetError::Kept {
                path: kept.join("old"),
            });
        }
        return Err(trouble);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_an_earlier_packet_may_be_replaced() {
        let home = tempfile::tempdir().expect("folder");
        let folder = home.path().join("out");
        assert_eq!(may_replace(&folder), Ok(()));
        fs::create_dir(&folder).expect("folder");
        assert_eq!(may_replace(&folder), Ok(()));
        fs::write(folder.join("photo.jpg"), "x").expect("write");
        assert!(matches!(
            may_replace(&folder),
            Err(SetError::OtherFiles { .. })
        ));
        let json = r#"{"tool":"bayrun","files":["packet.json","photo.jpg"]}"#;
        fs::write(folder.join("packet.json"), json).expect("write");
        assert_eq!(may_replace(&folder), Ok(()));
        fs::create_dir(folder.join("mine")).expect("folder");
        let told = may_replace(&folder).expect_err("refused").to_string();
        assert!(told.contains("mine/"), "{told}");
        fs::remove_dir(folder.join("mine")).expect("remove");
        let json = r#"{"tool":"other","files":["packet.json","photo.jpg"]}"#;
        fs::write(folder.join("packet.json"), json).expect("write");
        assert!(may_replace(&folder).is_err());
    }

    #[test]
    fn a_file_is_not_a_folder() {
        let home = tempfile::tempdir().expect("folder");
        let file = home.path().join("out");
        fs::write(&file, "x").expect("write");
        assert_eq!(may_replace(&file), Err(SetError::NotAFolder(file.clone())));
    }

    #[test]
    fn a_swap_that_fails_leaves_the_old_folder_as_it_was() {
        let home = tempfile::tempdir().expect("folder");
        let place = home.path().join("out");
        fs::create_dir(&place).expect("folder");
        let json = r#"{"tool":"bayrun","files":["packet.json"]}"#;
        fs::write(place.join("packet.json"), json).expect("write");
        // The new folder holds no set: the second rename fails.
        let new = beside(&place).expect("beside");
        assert!(swap(new, &place).is_err());
        let kept = fs::read_to_string(place.join("packet.json")).expect("kept");
        assert_eq!(kept, json);
        let left: Vec<_> = fs::read_dir(home.path()).expect("home").collect();
        assert_eq!(left.len(), 1, "nothing is left beside");
    }
}
