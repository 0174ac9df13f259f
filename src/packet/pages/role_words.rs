//! What a terminal is for, in the crew's words.

use super::source::PageSource;
use crate::catalog::{Role, Terminal};
use crate::packet::text::{Phrase, Text, say};

const fn words(role: Role) -> Phrase {
    match role {
        Role::CallInFan => say("role.call-in-fan"),
        Role::CallInCool => say("role.call-in-cool"),
        Role::CallInCool2 => say("role.call-in-cool-second"),
        Role::CallInHeat => say("role.call-in-heat"),
        Role::CallInHeat2 => say("role.call-in-heat-second"),
        Role::CallInDehumidify => say("role.call-in-dehumidify"),
        Role::CallInEmergency => say("role.call-in-emergency"),
        Role::CallInReversing => say("role.call-in-reversing"),
        Role::CallOutFan => say("role.call-out-fan"),
        Role::CallOutCool => say("role.call-out-cool"),
        Role::CallOutCool2 => say("role.call-out-cool-second"),
        Role::CallOutHeat => say("role.call-out-heat"),
        Role::CallOutHeat2 => say("role.call-out-heat-second"),
        Role::CallOutDehumidify => say("role.call-out-dehumidify"),
        Role::CallOutEmergency => say("role.call-out-emergency"),
        Role::CallOutReversing => say("role.call-out-reversing"),
        Role::OutputCool => say("role.output-cool"),
        Role::OutputCool2 => say("role.output-cool-second"),
        Role::OutputHeat => say("role.output-heat"),
        Role::OutputReversing => say("role.output-reversing"),
        Role::Power => say("role.power"),
        Role::Common => say("role.common"),
        Role::PowerIn => say("role.power-in"),
        Role::Switch => say("role.switch"),
        Role::Coil => say("role.coil"),
        Role::ContactCommon => say("role.contact-common"),
        Role::ContactOpen => say("role.contact-open"),
        Role::ContactClosed => say("role.contact-closed"),
        Role::Sensor => say("role.sensor"),
        Role::Line => say("role.line"),
        Role::LineOrNeutral => say("role.line-or-neutral"),
        Role::Neutral => say("role.neutral"),
        Role::LowSetting => say("role.low-setting"),
        Role::Ground => say("role.ground"),
        Role::Unused => say("role.unused"),
    }
}

/// The catalog's own words where it has them, else those of the role.
pub(super) fn role_words(source: &PageSource<'_>, terminal: &Terminal) -> Text {
    if let Some(does) = terminal
        .does
        .as_ref()
        .filter(|does| does.as_ref().is_some())
    {
        return source.quote(does.span);
    }
    match terminal.role.get() {
        Some(role) => words(role).into(),
        None => say("quote.not-stated").into(),
    }
}
