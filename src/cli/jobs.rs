//! Which jobs are meant: files as given, and every job file below a folder.

use std::path::{Path, PathBuf};

/// How many folders deep and how many files are looked at below one argument.
const DEEPEST: usize = 12;
const MOST: usize = 20_000;

/// A job to look at, and the name it is shown under.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    pub(super) path: PathBuf,
    pub(super) name: String,
}

/// A path as reports print it: with `/`.
pub(super) fn shown(path: &Path) -> String {
    path.to_string_lossy().replace('\\', "/")
}

/// Whether a file's text has a `job` block of its own.
fn holds_job(path: &Path) -> bool {
    std::fs::read_to_string(path).is_ok_and(|text| {
        text.lines().any(|line| {
            line.trim_start_matches(['\u{feff}', ' ', '\t'])
                .strip_prefix("job")
                .is_some_and(|rest| rest.starts_with([' ', '\t', '"', '{']))
        })
    })
}

fn below(folder: &Path, depth: usize, out: &mut Vec<PathBuf>) {
    let Ok(items) = std::fs::read_dir(folder) else {
        return;
    };
    let mut paths: Vec<PathBuf> = items
        .filter_map(|item| item.ok().map(|item| item.path()))
        .collect();
    paths.sort();
    for path in paths {
        if out.len() >= MOST {
            return;
        }
        let hidden = path
            .file_name()
            .is_some_and(|name| name.to_string_lossy().starts_with('.'));
        if path.is_dir() && !path.is_symlink() && depth < DEEPEST && !hidden {
            below(&path, depth + 1, out);
        } else if path.extension().is_some_and(|ending| ending == "bay") && holds_job(&path) {
            out.push(path);
        }
    }
}

/// The jobs that `paths` mean, and the paths that mean none, with the reason.
pub(super) fn wanted(paths: &[PathBuf]) -> (Vec<Wanted>, Vec<(String, String)>) {
    let (mut jobs, mut failed) = (Vec::new(), Vec::new());
    for path in paths {
        if path.is_dir() {
            let mut found = Vec::new();
            below(path, 0, &mut found);
            if found.is_empty() {
                failed.push((
                    shown(path),
                    "no job file (`.bay` with a `job` block) stands below this folder".to_owned(),
                ));
            }
            jobs.extend(found.into_iter().map(|path| Wanted {
                name: shown(&path),
                path,
            }));
        } else {
            jobs.push(Wanted {
                path: path.clone(),
                name: shown(path),
            });
        }
    }
    (jobs, failed)
}
