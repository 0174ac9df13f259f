//! Runs a job through the whole pipeline: read, catalog, model, figures, material, rules.
//!
//! A pure function of the files it reads through one [`Reader`]; catalogs are read once a run and shared.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use crate::catalog::{Catalog, Root as RootFile, Standards, read as read_catalog};
use crate::figures::Ledger;
use crate::language::{BAD_INCLUDE, Entry, Limits, Loaded, Root, beside, load};
use crate::material::{Material, take_off};
use crate::model::{Model, build};
use crate::rules::{Job, Judged, Loosened, NotChecked, judge};
use crate::source::{
    Counts, FileId, Files, Finding, ReadError, Reader, Severity, SourceFile, Span, Spanned,
};
use crate::systems::controls::{Netlist, Wiring};
use crate::systems::{Purpose, figure};

/// A job that went through the pipeline.
#[derive(Debug)]
pub struct Checked {
    /// The job's path as given.
    pub job: String,
    /// The texts it rests on.
    pub files: Files,
    /// The job as it will stand.
    pub model: Model,
    /// Its equipment and stock.
    pub catalog: Arc<Catalog>,
    /// The shop's thresholds.
    pub standards: Arc<Standards>,
    /// Everything computed.
    pub ledger: Ledger,
    /// Pieces and lists.
    pub material: Material,
    /// All findings, waived ones among them.
    pub findings: Vec<Finding>,
    /// Checks that could not be made.
    pub not_checked: Vec<NotChecked>,
    /// What the shop's standards loosened.
    pub loosened: Vec<Loosened>,
}

impl Checked {
    /// How many findings of each sort.
    pub fn counts(&self) -> Counts {
        Counts::of(&self.findings, self.not_checked.len())
    }

    /// Whether findings of severity error are left.
    pub fn has_errors(&self) -> bool {
        self.findings
            .iter()
            .any(|finding| finding.waived.is_none() && finding.severity == Severity::Error)
    }
}

/// A YAML file of the run, read once.
struct Shared<T> {
    id: FileId,
    file: SourceFile,
    value: T,
    findings: Vec<Finding>,
}

type Cell<T> = Arc<OnceLock<Result<Shared<T>, ReadError>>>;

/// Catalogs and standards of a run, by real path.
#[derive(Default)]
struct Cupboard<T> {
    cells: Mutex<BTreeMap<PathBuf, (u32, Cell<T>)>>,
}

impl<T> Cupboard<T> {
    /// The place of the file at `real`: its id, and the cell that the first job to ask fills.
    fn place(&self, real: &Path, offset: u32) -> (FileId, Cell<T>) {
        let mut cells = self.cells.lock().unwrap_or_else(PoisonError::into_inner);
        let next = u32::try_from(cells.len()).unwrap_or(u32::MAX / 4);
        let (index, cell) = cells
            .entry(real.to_path_buf())
            .or_insert_with(|| (next, Cell::default()));
        // Catalogs take the even ids, standards the odd ones.
        (FileId::shared(*index * 2 + offset), Arc::clone(cell))
    }
}

/// A catalog to be read ahead: real path, name in reports, id and cell.
type Ahead = (PathBuf, String, FileId, Cell<Catalog>);

/// A catalog that a job names: where it really is, how reports name it, and the words that name it.
struct NamedCatalog {
    real: PathBuf,
    shown: String,
    path: Spanned<String>,
    id: FileId,
    cell: Cell<Catalog>,
}

type Merged = Mutex<BTreeMap<Vec<PathBuf>, (Arc<Catalog>, Vec<Finding>)>>;

/// One run over any number of jobs.
pub struct Workshop<'r> {
    reader: &'r dyn Reader,
    root: Option<PathBuf>,
    limits: Limits,
    catalogs: Cupboard<Catalog>,
    standards: Cupboard<Arc<Standards>>,
    merged: Merged,
    shares: bool,
}

impl<'r> Workshop<'r> {
    /// A run that reads through `reader`, under `root` when one is given.
    pub fn new(reader: &'r dyn Reader, root: Option<PathBuf>) -> Self {
        Self {
            reader,
            root,
            limits: Limits::default(),
            catalogs: Cupboard {
                cells: Mutex::default(),
            },
            standards: Cupboard {
                cells: Mutex::default(),
            },
            merged: Mutex::default(),
            shares: false,
        }
    }

    /// Lets idle threads take parts of a job. With many jobs each thread has a job of its own instead.
    #[must_use]
    pub fn sharing(mut self) -> Self {
        self.shares = true;
        self
    }

    /// Does both, side by side where threads are idle.
    fn both<A: Send, B: Send>(
        &self,
        a: impl FnOnce() -> A + Send,
        b: impl FnOnce() -> B + Send,
    ) -> (A, B) {
        if self.shares {
            rayon::join(a, b)
        } else {
            (a(), b())
        }
    }

    /// Reads a catalog into its cell, unless another job has done so.
    fn fill(&self, real: &Path, shown: &str, id: FileId, cell: &Cell<Catalog>) {
        cell.get_or_init(|| {
            let text = self.reader.read(real, self.limits.file_bytes)?;
            let mut findings = Vec::new();
            let value = read_catalog(id, &text, &mut findings);
            let file = SourceFile::new(shown, text, None);
            Ok(Shared {
                id,
                file,
                value,
                findings,
            })
        });
    }

    /// The catalogs that lines of the job file look like naming, not read yet. What they really name is
    /// settled when the job has been read; this only starts the work.
    fn catalogs_ahead(&self, root: &Root, path: &Path, name: &str) -> Vec<Ahead> {
        let Ok(text) = self.reader.read(path, self.limits.file_bytes) else {
            return Vec::new();
        };
        let folder = path.parent().unwrap_or(Path::new(""));
        let mut ahead: Vec<Ahead> = text
            .lines()
            .filter_map(|line| line.strip_prefix("catalog \"")?.split('"').next())
            .filter(|file| has_yaml_ending(file) && !Path::new(file).is_absolute())
            .filter_map(|file| {
                let real = self.reader.real_path(&folder.join(file)).ok()?;
                root.holds(&real).then_some(())?;
                let (id, cell) = self.catalogs.place(&real, 0);
                cell.get()
                    .is_none()
                    .then(|| (real, beside(name, file), id, cell))
            })
            .collect();
        // The largest first, so that two threads end together.
        ahead.sort_by_cached_key(|(real, ..)| std::cmp::Reverse(self.reader.size(real)));
        ahead
    }

    /// Checks the job at `path`, shown under `name`, with every figure and all its material.
    ///
    /// # Errors
    /// Only when the job file itself can't be read; all else is a finding.
    pub fn check(&self, path: &Path, name: &str) -> Result<Checked, ReadError> {
        self.run(path, name, Purpose::Printing)
    }

    /// The same findings without what only pages, lists and `figures` show: no material, and no figures beyond what
    /// the findings rest on.
    ///
    /// # Errors
    /// As [`Self::check`].
    pub fn judge(&self, path: &Path, name: &str) -> Result<Checked, ReadError> {
        self.run(path, name, Purpose::Judging)
    }

    fn run(&self, path: &Path, name: &str, purpose: Purpose) -> Result<Checked, ReadError> {
        let root = Root::of(self.reader, path, self.root.as_deref())?;
        // Catalogs take half the time of one job: they are read side by side with the job's own lines; whoever is
        // free takes the next.
        let ahead = self.catalogs_ahead(&root, path, name);
        let next = AtomicUsize::new(0);
        let read_ahead = || {
            while let Some((real, shown, id, cell)) =
                ahead.get(next.fetch_add(1, Ordering::Relaxed))
            {
                self.fill(real, shown, *id, cell);
            }
        };
        let (loaded, ()) = self.both(
            || {
                let loaded = load(self.reader, &root, path, name, self.limits);
                read_ahead();
                loaded
            },
            read_ahead,
        );
        let Loaded {
            mut files,
            entries,
            folders,
            mut findings,
        } = loaded?;
        let mut desk = Desk {
            workshop: self,
            root: &root,
            files: &mut files,
            folders: &folders,
            findings: &mut findings,
        };
        let catalog = desk.catalog(&entries);
        let standards = desk.standards(&entries, name);
        standards.link(&catalog, desk.findings);
        let model = build(entries, &files, &catalog, &mut findings);
        let net = Netlist::of(&model, &catalog);
        let wiring = Wiring::of(&net, &model, &catalog);
        let judged = |ledger: &Ledger, findings: Vec<Finding>| {
            let job = Job {
                model: &model,
                ledger,
                catalog: &catalog,
                standards: &standards,
                wiring: &wiring,
            };
            judge(&files, &job, findings)
        };
        // What the wiring does needs no figure.
        let (mut ledger, ()) = self.both(
            || figure(&model, &catalog, &standards, purpose),
            || wiring.run(&model),
        );
        let mut material = Material::default();
        let told = match purpose {
            Purpose::Judging => Some(judged(&ledger, findings.clone())),
            Purpose::Printing => None,
        };
        // What is said of the air may rest on the figures that were left out: it is judged anew with all of them.
        let told = match told {
            Some(told) if !speaks_of_air(&told) => told,
            _ => {
                if purpose == Purpose::Judging {
                    ledger = figure(&model, &catalog, &standards, Purpose::Printing);
                }
                material = take_off(&model, &catalog, &ledger);
                for figure in std::mem::take(&mut material.figures) {
                    ledger.enter(figure);
                }
                judged(&ledger, findings)
            }
        };
        let Judged {
            findings,
            not_checked,
            loosened,
        } = told;
        Ok(Checked {
            job: name.to_owned(),
            files,
            model,
            catalog,
            standards,
            ledger,
            material,
            findings,
            not_checked,
            loosened,
        })
    }
}

/// Whether anything was found in the air side, or could not be checked there.
fn speaks_of_air(judged: &Judged) -> bool {
    let air = |code: &str| {
        ["AIR", "RET", "SIZ"]
            .iter()
            .any(|system| code.starts_with(system))
    };
    judged.not_checked.iter().any(|gap| air(gap.kind_code))
        || judged.findings.iter().any(|finding| air(finding.kind.code))
}

/// What reading the YAML files of one job needs.
struct Desk<'d, 'r> {
    workshop: &'d Workshop<'r>,
    root: &'d Root,
    files: &'d mut Files,
    folders: &'d [PathBuf],
    findings: &'d mut Vec<Finding>,
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

    fn catalog(&mut self, entries: &[Entry]) -> Arc<Catalog> {
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
    fn standards(&mut self, entries: &[Entry], job: &str) -> Arc<Standards> {
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

fn has_yaml_ending(path: &str) -> bool {
    Path::new(path).extension().is_some_and(|ending| {
        ending.eq_ignore_ascii_case("yaml") || ending.eq_ignore_ascii_case("yml")
    })
}
