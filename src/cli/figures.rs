//! `bayrun figures`: the ledger of a job.

use std::path::{Path, PathBuf};

use super::jobs::shown;
use super::options::FigureFormat;
use super::outcome::Outcome;
use crate::Workshop;
use crate::figures::{figures_csv, figures_human, ledger_json};
use crate::source::Disk;

/// Prints every figure of the job.
pub(super) fn figures(job: &Path, format: FigureFormat, root: Option<PathBuf>) -> Outcome {
    let name = shown(job);
    let checked = match Workshop::new(&Disk, root).check(job, &name) {
        Ok(checked) => checked,
        Err(error) => {
            let mut outcome = Outcome::refused(format!("{name}: it can't be read: {error}"));
            if format == FigureFormat::Json {
                let failed =
                    crate::source::failed_json(&name, &format!("it can't be read: {error}"));
                outcome.out = format!(
                    "{}\n",
                    serde_json::json!({ "job": name, "figures": [], "failed": [failed] })
                );
            }
            return outcome;
        }
    };
    let out = match format {
        FigureFormat::Human => figures_human(&checked.ledger),
        FigureFormat::Csv => figures_csv(&checked.files, &checked.ledger),
        FigureFormat::Json => format!(
            "{}\n",
            ledger_json(&checked.job, &checked.files, &checked.ledger)
        ),
    };
    Outcome {
        out,
        ..Outcome::default()
    }
}
