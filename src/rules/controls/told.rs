//! Faults that show when the wiring is run, each once, at the landing that causes it.

use crate::rules::{Job, Report};
use crate::source::{Finding, Kind, Relation, Scalar, Shown, Span};
use crate::systems::controls::{Circuit, Fault, Mend, Netlist, Wrong};

use super::asked;
use super::proved::{place_of, shares_voltage, spans_of_way};

/// A fault and the landing that would mend it.
pub(super) struct Told {
    pub(super) fault: Fault,
    pub(super) mend: Option<Mend>,
    place: Option<Span>,
}

/// What an earlier rule says about the same way, so that one slip stays one finding.
fn is_told(net: &Netlist, circuit: &Circuit<'_>, fault: &Fault, report: &Report) -> bool {
    // Crossed rails and tied transformers reach everywhere.
    let rails = |finding: &Finding| {
        finding.kind.code == "CTL007"
            || finding.kind.code == "CTL006" && finding.message.starts_with("power")
    };
    if report.findings.iter().any(rails) {
        return true;
    }
    // A call that blows the transformer or drops itself out reaches nothing, wherever it was meant to go: it is
    // reported as that.
    if circuit.is_shorted_in(&fault.state) || circuit.is_restless(&fault.state) {
        return true;
    }
    let spans = spans_of_way(net, circuit, fault.at);
    report.findings.iter().any(|finding| {
        let wiring =
            ("CTL001"..="CTL009").contains(&finding.kind.code) || finding.kind.code == "CTL014";
        wiring && spans.contains(&finding.span)
    })
}

/// The faults of the job, the cause for each: what goes with the same landing is left out.
pub(super) fn told(job: &Job<'_>, report: &Report) -> Vec<Told> {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() {
        return Vec::new();
    }
    let mut left = job.wiring.faults().to_vec();
    left.retain(|fault| {
        let shares = fault.wrong == Wrong::NotClosed && shares_voltage(job, fault.at);
        !shares && !is_told(net, circuit, fault, report)
    });
    let mut out = Vec::new();
    while !left.is_empty() {
        let fault = left.remove(0);
        // What feeds a terminal beside its own call is taken out, not put elsewhere.
        let mend = if matches!(fault.wrong, Wrong::Other(_)) {
            None
        } else {
            circuit.mend(&fault)
        };
        if let Some(mend) = &mend {
            left.retain(|other| !circuit.is_mended(other, mend));
        }
        let place = place(net, circuit, &fault);
        out.push(Told { fault, mend, place });
    }
    out
}

/// Where a fault without a mend is shown: a landing on the terminal, else its unit.
fn place(net: &Netlist, circuit: &Circuit<'_>, fault: &Fault) -> Option<Span> {
    if let Wrong::Other(_) = fault.wrong {
        let contact = circuit.contact_of(fault);
        let span = contact.and_then(|n| net.joins_of(n).find_map(|join| join.words));
        if span.is_some() {
            return span;
        }
    }
    place_of(net, fault.at)
}

/// The finding for one fault: what is wrong in `message`, and `other` to do where no single landing mends it.
pub(super) fn finding(
    kind: &'static Kind,
    net: &Netlist,
    told: &Told,
    message: String,
    other: String,
) -> Option<Finding> {
    let name = |n: usize| net.at(n).map_or("", |point| point.name.as_str()).to_owned();
    if let Some(mend) = &told.mend {
        let (from, to) = (name(mend.from), name(mend.to));
        return Some(
            Finding::new(kind, mend.words, message, format!("land it on `{to}`"))
                .measured(Shown::word(from), Relation::Equal, Shown::word(to.clone()))
                .edit(mend.words, to),
        );
    }
    let at = name(told.fault.at);
    let span = told.place?;
    let (found, needed) = match told.fault.wrong {
        Wrong::AtRest => ("called".to_owned(), "not called".to_owned()),
        Wrong::Meets(foreign) => (format!("joined to {}", name(foreign)), "apart".to_owned()),
        Wrong::NotClosed => ("not called".to_owned(), "called".to_owned()),
        Wrong::Other(carried) => (
            format!("called for {}", asked(carried)),
            format!("called for {}", asked(told.fault.call)),
        ),
    };
    Some(
        Finding::new(kind, span, message, other.replace("{at}", &at)).measured(
            Shown::word(found),
            Relation::Equal,
            Shown {
                value: Scalar::Text(needed.clone()),
                unit: None,
                text: needed,
            },
        ),
    )
}
