//! Balancing orifices put in, exchanged, or taken out.

use super::change::{Change, Part};
use super::job::Job;
use super::search::Chosen;
use super::text::{insert, replace};
use crate::model::Run;
use crate::source::{Edit, Span, Spanned};

/// Orifices tried beyond the one there is.
const TIGHTER: usize = 2;

impl<'a> Job<'a> {
    /// Orifices that fit the run's tube, the widest first.
    fn orifices(&self, run: &Run) -> Vec<&'a str> {
        let inside = run
            .tube
            .as_ref()
            .and_then(|tube| self.catalog.tubes.get(&tube.value))
            .and_then(|tube| tube.inside.get());
        let Some(inside) = inside else {
            return Vec::new();
        };
        let mut fitting: Vec<(f64, &str)> = self
            .catalog
            .orifices
            .iter()
            .filter(|(_, orifice)| orifice.tube.get() == Some(inside))
            .filter_map(|(name, orifice)| Some((orifice.loss.get()?.0, name.as_str())))
            .collect();
        fitting.sort_by(|a, b| a.0.total_cmp(&b.0));
        fitting.into_iter().map(|(_, name)| name).collect()
    }

    /// The next wider orifice, or none, and the next tighter ones, from what is chosen for the run already.
    pub(super) fn orifice_changes(&self, run: &Run, chosen: &Chosen, out: &mut Vec<Change>) {
        let Some(tube) = &run.tube else {
            return;
        };
        let from = run.orifice.as_ref();
        let fitting = self.orifices(run);
        let set = chosen.get(&("orifice", run.name.clone()));
        let now = match set.map(|change| &change.part) {
            Some(Part::Orifice { to, .. }) => to.as_deref(),
            _ => from.map(|from| from.value.as_str()),
        };
        let own = now.and_then(|now| fitting.iter().position(|name| *name == now));
        let wider = own.map(|at| at.checked_sub(1).and_then(|at| fitting.get(at)).copied());
        let tighter = fitting
            .iter()
            .skip(own.map_or(0, |at| at + 1))
            .take(TIGHTER);
        let options = wider.into_iter().chain(tighter.map(|name| Some(*name)));
        for to in options {
            if to == from.map(|from| from.value.as_str()) {
                continue;
            }
            let edit = match (from, to) {
                (Some(from), Some(to)) => replace(from.span, format!("\"{to}\"")),
                (None, Some(to)) => insert(tube.span, format!(", orifice \"{to}\"")),
                (Some(from), None) => {
                    let Some(edit) = self.clause_out(from) else {
                        continue;
                    };
                    edit
                }
                (None, None) => continue,
            };
            out.push(self.of_run(
                run,
                Part::Orifice {
                    from: from.map(|from| from.value.clone()),
                    to: to.map(str::to_owned),
                },
                edit,
            ));
        }
    }

    /// Takes the clause `, orifice "…"` out; none where it is not written that way.
    pub(super) fn clause_out(&self, orifice: &Spanned<String>) -> Option<Edit> {
        let file = self.files.get(orifice.span.file)?;
        let before = file.text().get(..orifice.span.start as usize)?;
        let start = before.trim_end().strip_suffix("orifice")?.trim_end();
        let start = start.strip_suffix(',')?.len();
        Some(Edit {
            span: Span::new(
                orifice.span.file,
                u32::try_from(start).ok()?,
                orifice.span.end,
            ),
            text: String::new(),
        })
    }
}
