//! The catalogs and standards that one job names, found, read and laid together.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError};

use crate::catalog::{Catalog, Root as RootFile, Standards};
use crate::language::{BAD_INCLUDE, Entry, Root, beside};
use crate::source::{FileId, Files, Finding, ReadError, SourceFile, Span, Spanned};

use super::Workshop;
use super::cupboard::{Cell, Shared};

/// A catalog that a job names: where it really is, how reports name it, and the words that name it.
struct NamedCatalog {
    real: PathBuf,
    shown: String,
    path: Spanned<String>,
    id: FileId,
    cell: Cell<Catalog>,
}

/// What reading the YAML files of one job needs.
pub(super) struct Desk<'d, 'r> {
    pub(super) workshop: &'d Workshop<'r>,
    pub(super) root: &'d Root,
    pub(super) files: &'d mut Files,
    pub(super) folders: &'d [PathBuf],
    pub(super) findings: &'d mut Vec<Finding>,
}

impl Desk<'_, '_> {
    /// The real path of a YAML file that an entry names, or a finding.
    fn real(&mut self, span: Span, path: &str) -> Option<(PathBuf, String)> {
        let folder = self
            .folders
            .get(span.file.index())
            .cloned()
            .unwrap_or_default();
        let shown = beside(self.files.name(span.file), path);
        let problem = if !has_yaml_ending(path) {
            Some(format!("`{path}` does not end in `.yaml`"))
        } else if Path::new(path).is_absolute() {
            Some(format!("`{path}` is not a relative path"))
        } else {
            match self.workshop.reader.real_path(&folder.join(path)) {
                Err(error) => Some(format!("`{path}` can't be read: {error}")),
                Ok(real) if !self.root.holds(&real) => {
                    Some(format!("`{path}` lies outside the job's root"))
                }
                Ok(real) => return Some((real, shown)),
            }
        };
        if let Some(message) = problem {
            self.findings.push(Finding::new(
                &BAD_INCLUDE,
                span,
                message,
                "write a path relative to this file, as in `catalog \"../shop/stock.yaml\"`",
            ));
        }
        None
    }

    fn unreadable(&mut self, span: Span, path: &str, error: &ReadError) {
        self.findings.push(Finding::new(
            &BAD_INCLUDE,
            span,
            format!("`{path}` can't be read: {error}"),
            "name a readable YAML file below the job's root",
        ));
    }

    /// The catalogs that the job names, each once; and whether one of them is not to be had.
    fn named_catalogs(&mut self, entries: &[Entry]) -> (Vec<NamedCatalog>, bool) {
        let mut named: Vec<NamedCatalog> = Vec::new();
        let mut gaps = false;
        for entry in entries.iter().filter(|entry| entry.word.word == "catalog") {
            let Some(path) = entry.text("file").known() else {
                continue;
            };
            let Some((real, shown)) = self.real(path.span, &path.value) else {
                gaps = true;
                continue;
            };
            if named.iter().all(|known| known.real != real) {
                let (id, cell) = self.workshop.catalogs.place(&real, 0);
                named.push(NamedCatalog {
                    real,
                    shown,
                    path,
                    id,
                    cell,
                });
            }
        }
        (named, gaps)
    }

    pub(super) fn catalog(&mut self, entries: &[Entry]) -> Arc<Catalog> {
        let (named, mut gaps) = self.named_catalogs(entries);
        let workshop = self.workshop;
        for named in &named {
            workshop.fill(&named.real, &named.shown, named.id, &named.cell);
        }
        let mut cells: Vec<(PathBuf, Cell<Catalog>)> = Vec::new();
        for NamedCatalog {
            real,
            shown,
            path,
            cell,
            ..
        } in named
        {
            match cell.get() {
                Some(Ok(shared)) => {
                    self.files
                        .attach(shared.id, Arc::new(shared.file.named(shown)));
                    self.findings.extend(shared.findings.iter().cloned());
                }
                Some(Err(error)) => {
                    let error = error.clone();
                    self.unreadable(path.span, &path.value, &error);
                    gaps = true;
                    continue;
                }
                None => continue,
            }
            cells.push((real, cell));
        }
        let key: Vec<PathBuf> = cells.iter().map(|(real, _)| real.clone()).collect();
        let mut merged = self
            .workshop
            .merged
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        let (catalog, findings) = merged.entry(key).or_insert_with(|| {
            let mut whole = Catalog::default();
            let mut findings = Vec::new();
            for (_, cell) in &cells {
                if let Some(Ok(shared)) = cell.get() {
                    whole.merge(&shared.value, &mut findings);
                }
            }
            whole.link(&mut findings);
            (Arc::new(whole), findings)
        });
        self.findings.extend(findings.iter().cloned());
        if gaps {
            return Arc::new(Catalog {
                gaps,
                ..Catalog::clone(catalog)
            });
        }
        Arc::clone(catalog)
    }

    fn read_standards(
        &mut self,
        real: &Path,
        shown: String,
        span: Option<(Span, &str)>,
    ) -> Option<Arc<Standards>> {
        let workshop = self.workshop;
        let (id, cell) = workshop.standards.place(real, 1);
        cell.get_or_init(|| {
            let text = workshop.reader.read(real, workshop.limits.file_bytes)?;
            let mut findings = Vec::new();
            let value = Arc::new(Standards::read(id, &text, &mut findings));
            let file = SourceFile::new(shown.clone(), text, None);
            Ok(Shared {
                id,
                file,
                value,
                findings,
            })
        });
        match cell.get() {
            Some(Ok(shared)) => {
                self.files
                    .attach(shared.id, Arc::new(shared.file.named(shown)));
                self.findings.extend(shared.findings.iter().cloned());
                Some(Arc::clone(&shared.value))
            }
            Some(Err(error)) => {
                let error = error.clone();
                if let Some((span, path)) = span {
                    self.unreadable(span, path, &error);
                }
                None
            }
            None => None,
        }
    }

    /// The standards that the job names, else those of the root file, else none.
    pub(super) fn standards(&mut self, entries: &[Entry], job: &str) -> Arc<Standards> {
        let named = entries.iter().find(|entry| entry.word.word == "standards");
        if let Some(path) = named.and_then(|entry| entry.text("file").known()) {
            let read = self.real(path.span, &path.value).and_then(|(real, shown)| {
                self.read_standards(&real, shown, Some((path.span, &path.value)))
            });
            return read.unwrap_or_default();
        }
        self.root_standards(job).unwrap_or_default()
    }

    fn root_standards(&mut self, job: &str) -> Option<Arc<Standards>> {
        let reader = self.workshop.reader;
        let real = reader
            .real_path(&self.root.path().join("bayrun.yaml"))
            .ok()?;
        let text = reader.read(&real, self.workshop.limits.file_bytes).ok()?;
        let mut ignored = Vec::new();
        // The root file is tiny; what is wrong in it is reported at the standards that it fails to name.
        let root = RootFile::read(FileId::shared(u32::MAX / 4), &text, &mut ignored);
        let path = root.standards.and_then(|path| path.get())?;
        let real = reader
            .real_path(&self.root.path().join(&path))
            .ok()
            .filter(|real| self.root.holds(real))?;
        let depth = self.folders.first().map_or(0, |folder| {
            folder
                .strip_prefix(self.root.path())
                .map_or(0, |below| below.components().count())
        });
        let shown = beside(job, &format!("{}{path}", "../".repeat(depth)));
        self.read_standards(&real, shown, None)
    }
}

pub(super) fn has_yaml_ending(path: &str) -> bool {
    Path::new(path).extension().is_some_and(|ending| {
        ending.eq_ignore_ascii_case("yaml") || ending.eq_ignore_ascii_case("yml")
    })
}
