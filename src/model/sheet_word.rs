//! Words in an air handler's block that its model's sheet has to hold: speed taps, voltage settings, power terminals.

use std::sync::Arc;

use crate::catalog::nearest;
use crate::language::word_distance;
use crate::source::{Finding, Span, Spanned};

use super::air_handler::AirHandler;
use super::builder::Builder;
use super::mistakes::TERMINAL_UNKNOWN;

/// Tap, setting and power terminals are words of the model's sheet.
pub(super) fn known_words(builder: &mut Builder<'_>, unit: &AirHandler) {
    let sheet = Arc::clone(&unit.sheet);
    let taps: Vec<&str> = sheet.blower.taps.keys().map(String::as_str).collect();
    let settings: Vec<&str> = sheet
        .electrical
        .settings
        .keys()
        .map(String::as_str)
        .collect();
    let terminals: Vec<&str> = sheet
        .electrical
        .terminals
        .keys()
        .map(String::as_str)
        .collect();
    for tap in [&unit.tap, &unit.first_stage_tap].into_iter().flatten() {
        known_word(builder, "speed tap", tap, &taps, sheet.blower.span);
    }
    if let Some(setting) = &unit.setting {
        known_word(
            builder,
            "voltage setting",
            setting,
            &settings,
            sheet.electrical.span,
        );
    }
    for (from, to, _) in &unit.jumpers {
        let control = [from, to].into_iter().find(|end| {
            sheet.control.contains_key(&end.value) && !terminals.contains(&end.value.as_str())
        });
        if let Some(end) = control {
            builder.findings.push(control_jumper(unit, end, [from, to]));
            continue;
        }
        for end in [from, to] {
            known_word(builder, "terminal", end, &terminals, sheet.electrical.span);
        }
    }
}

/// A jumper on a control terminal: what is joined there is control wiring, and drawn and judged as that.
fn control_jumper(
    unit: &AirHandler,
    end: &Spanned<String>,
    [from, to]: [&Spanned<String>; 2],
) -> Finding {
    let name = &unit.name;
    Finding::new(
        &TERMINAL_UNKNOWN,
        end.span,
        format!(
            "`{}` is a control terminal, and a jumper joins power terminals",
            end.value
        ),
        format!(
            "write it as a cable: `cable bridge from {name} to {name} {{ wire red from {name}.{} to {name}.{} }}`",
            from.value, to.value
        ),
    )
}

fn known_word(
    builder: &mut Builder<'_>,
    what: &str,
    word: &Spanned<String>,
    known: &[&str],
    sheet: Span,
) -> bool {
    if known.contains(&word.value.as_str()) {
        return true;
    }
    let near = nearest(known.iter().copied(), &word.value)
        .filter(|near| word_distance(near, &word.value) <= 1 + near.len() / 4);
    let list = known.join("`, `");
    let mut finding = Finding::new(
        &TERMINAL_UNKNOWN,
        word.span,
        format!("the model has no {what} `{}`", word.value),
        near.map_or_else(
            || format!("it has `{list}`"),
            |near| format!("write `{near}`; it has `{list}`"),
        ),
    )
    .label(sheet, "the model's sheet");
    if let Some(near) = near {
        finding = finding.edit(word.span, near);
    }
    builder.report(finding);
    false
}
