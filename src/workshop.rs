//! Runs a job through the whole pipeline: read, catalog, model, figures, material, rules.
//!
//! A pure function of the files it reads through one [`Reader`]; catalogs are read once a run and shared.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use crate::catalog::{Catalog, Standards, read as read_catalog};
use crate::figures::Ledger;
use crate::language::{Limits, Loaded, Root, beside, load};
use crate::material::{Material, take_off};
use crate::model::{Model, build};
use crate::rules::{Job, Judged, Loosened, NotChecked, judge};
use crate::source::{Counts, FileId, Files, Finding, ReadError, Reader, Severity, SourceFile};
use crate::systems::controls::{Netlist, Wiring};
use crate::systems::{Purpose, figure};

use cupboard::{Cell, Cupboard, Shared};
use desk::{Desk, has_yaml_ending};

mod cupboard;
mod desk;

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

/// A catalog to be read ahead: real path, name in reports, id and cell.
type Ahead = (PathBuf, String, FileId, Cell<Catalog>);

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
            catalogs: Cupboard::default(),
            standards: Cupboard::default(),
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
