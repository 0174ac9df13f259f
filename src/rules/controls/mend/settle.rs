//! One slip of the hand on the control wiring is one finding, at the end that was landed wrong.
//!
//! Each rule says what it sees from its own side; several see the same slip. Where anything is found, single changes
//! are tried on a copy of the cables and judged by the same rules. The change after which nothing is left names the
//! words at fault, and only a change that brings nothing new is proposed as an edit.

use crate::model::Model;
use crate::rules::{Job, RULES, Report};
use crate::source::{Finding, Severity, Span};
use crate::systems::controls::{Netlist, Wiring};

use super::change::{Cables, Step, steps_of};
use super::choice::choices;
use super::tell;

/// Rules that judge what is joined to what.
const JOINED: [&str; 24] = [
    "CTL001", "CTL002", "CTL003", "CTL004", "CTL005", "CTL006", "CTL007", "CTL008", "CTL009",
    "CTL014", "CTL015", "CTL016", "CTL017", "CTL018", "CTL019", "CTL021", "CTL022", "CTL023",
    "CTL024", "CTL025", "CTL026", "CTL027", "CTL040", "DRN032",
];
/// Rules that a change may not run into, though what they find is not a matter of one landing.
const BESIDE: [&str; 5] = ["CTL010", "CTL031", "CTL035", "CTL036", "CTL037"];
/// How many changes are tried for what is found.
const MOST_TRIALS: usize = 160;
/// How many slips are told apart in one job.
const MOST_SLIPS: usize = 4;
/// Up to here a change is near enough at hand to be told when it leaves other things standing.
const NEAR: u8 = 5;

fn key(finding: &Finding) -> (&'static str, Span) {
    (finding.kind.code, finding.span)
}

fn among(finding: &Finding, list: &[Finding]) -> bool {
    list.iter().any(|other| key(other) == key(finding))
}

/// A copy of the job on which changes are tried.
struct Bench<'j> {
    job: &'j Job<'j>,
    model: Model,
    cables: Cables,
    /// What stands beside the wiring or is waived: no change has to mend it.
    beside: &'j [Finding],
    trials: usize,
}

/// A change that mends something and harms nothing.
struct Mended {
    rank: u8,
    steps: Vec<Step>,
    /// What is found after it.
    after: Vec<Finding>,
}

impl<'j> Bench<'j> {
    fn of(job: &'j Job<'j>, beside: &'j [Finding]) -> Self {
        Self {
            job,
            beside,
            model: job.model.clone(),
            cables: job.model.cables.clone(),
            trials: 0,
        }
    }

    /// What the rules say after a change; nothing as soon as one says what is not among `before`.
    fn judge(&mut self, steps: &[Step], before: &[Finding]) -> Option<Vec<Finding>> {
        self.trials += 1;
        self.model.cables = self.cables.clone();
        for step in steps {
            step.make(&mut self.model.cables);
        }
        let net = Netlist::of(&self.model, self.job.catalog);
        let wiring = Wiring::of(&net, &self.model, self.job.catalog);
        let job = Job {
            model: &self.model,
            wiring: &wiring,
            ..*self.job
        };
        let mut report = Report::default();
        for rule in RULES
            .iter()
            .filter(|rule| JOINED.contains(&rule.kind.code) || BESIDE.contains(&rule.kind.code))
        {
            let told = report.findings().len();
            (rule.check)(&job, &mut report);
            let new = report.findings().iter().skip(told);
            if new
                .into_iter()
                .any(|finding| !among(finding, before) && !among(finding, self.beside))
            {
                return None;
            }
        }
        let joined = |finding: &&Finding| JOINED.contains(&finding.kind.code);
        Some(report.findings().iter().filter(joined).cloned().collect())
    }

    /// The change that mends most of what is left: the first that mends all of it.
    fn best(&mut self, left: &[Finding]) -> Option<Mended> {
        let mut best: Option<Mended> = None;
        for (rank, steps) in choices(self.job, &self.cables, left) {
            if self.trials >= MOST_TRIALS {
                break;
            }
            let Some(after) = self.judge(&steps, left) else {
                continue;
            };
            let mended = Mended { rank, steps, after };
            if mended.after.is_empty() {
                return Some(mended);
            }
            let standing = |after: &[Finding]| left.iter().filter(|one| among(one, after)).count();
            let most = best
                .as_ref()
                .map_or(left.len(), |best| standing(&best.after));
            if mended.rank <= NEAR && standing(&mended.after) < most {
                best = Some(mended);
            }
        }
        best
    }
}

/// Tells each slip on the control wiring once, where it was made, and takes out edits that would bring another fault.
/// What `waived` names stays as it is.
pub fn settle(job: &Job<'_>, findings: &mut Vec<Finding>, waived: &dyn Fn(&Finding) -> bool) {
    let is_joined = |finding: &Finding| {
        JOINED.contains(&finding.kind.code)
            && finding.severity > Severity::Advice
            && !waived(finding)
    };
    if job.wiring.net.flawed || job.model.cables.is_empty() || !findings.iter().any(is_joined) {
        return;
    }
    let (mut left, mut beside): (Vec<Finding>, Vec<Finding>) =
        std::mem::take(findings).into_iter().partition(is_joined);
    let mut out = Vec::new();
    let mut bench = Bench::of(job, &beside);
    for _ in 0..MOST_SLIPS {
        if left.is_empty() {
            break;
        }
        let Some(Mended { steps, after, .. }) = bench.best(&left) else {
            break;
        };
        let (standing, healed): (Vec<Finding>, Vec<Finding>) =
            left.into_iter().partition(|one| among(one, &after));
        let edits: Option<Vec<_>> = steps
            .iter()
            .map(|step| step.edit(job.model, &bench.cables))
            .collect();
        out.extend(tell::slip(
            job,
            &bench.cables,
            &steps,
            edits.unwrap_or_default(),
            healed,
        ));
        for step in &steps {
            step.make(&mut bench.cables);
        }
        left = standing;
        bench.trials = 0;
    }
    for finding in left.clone() {
        let sound = match steps_of(&finding, &bench.cables) {
            None => true,
            Some(steps) => bench
                .judge(&steps, &left)
                .is_some_and(|after| !among(&finding, &after)),
        };
        out.push(if sound {
            finding
        } else {
            tell::without_edit(finding)
        });
    }
    beside.append(&mut out);
    *findings = beside;
}
