//! Control cables, their conductors point to point, splices and relays.

use super::Word;
use super::job::EVERYWHERE;
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about control wiring.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "cable",
        "<name:name> from <from:ref> to <to:ref>",
        &[CABLE, EVERYWHERE],
        Many,
        "A control cable and each of its conductors.",
        "cable stat-cable from stat to ah { type \"18/5\", measured 40 ft, wire red from stat.R to ah.R }",
    ),
    Word::block(
        "relay",
        "<name:name>",
        &[RELAY, EVERYWHERE],
        Many,
        "A relay.",
        "relay boiler-relay { model \"Example relay, 24 V\" }",
    ),
    Word::block(
        "splice",
        "<name:name>",
        &[SPLICE, EVERYWHERE],
        Many,
        "Conductors joined together.",
        "splice s1 { join stat-cable.red, join ou-cable.red }",
    ),
    Word::block(
        "switch",
        "<name:name>",
        &[RELAY, EVERYWHERE],
        Many,
        "A float, pan or door switch with its own terminals.",
        "switch pan-float { model \"Example float switch\" }",
    ),
];

static CABLE: &[Word] = &[
    Word::plain(
        "type",
        "<type:text>",
        One,
        "The cable, as the catalog names it.",
        "type \"18/5\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape.",
        "measured 40 ft",
    ),
    Word::plain(
        "through",
        "<way:ref>",
        Many,
        "A story or room that it passes through; a trunk or return where it lies in one.",
        "through attic",
    ),
    Word::plain(
        "outdoors",
        "",
        Maybe,
        "Part of it lies outdoors.",
        "outdoors",
    ),
    Word::plain(
        "enters",
        "<port:ref>",
        Many,
        "The opening by which it enters a unit.",
        "enters ah.control",
    ),
    Word::plain(
        "wire",
        "<colour:label> from <from:ref> to <to:ref>",
        Many,
        "A conductor, from one terminal to another.",
        "wire red from stat.R to ah.R",
    ),
    Word::plain(
        "spare",
        "<colour:label>",
        Many,
        "A conductor that stays unused.",
        "spare brown",
    ),
];

static RELAY: &[Word] = &[
    Word::plain(
        "model",
        "<model:text>",
        One,
        "The model, as the catalog names it.",
        "model \"Example relay, 24 V\"",
    ),
    Word::plain(
        "existing",
        "",
        Maybe,
        "It is there already: it is neither brought nor ordered.",
        "existing",
    ),
    Word::plain("on", "<unit:ref>", Maybe, "Where it is mounted.", "on ah"),
];

static SPLICE: &[Word] = &[Word::plain(
    "join",
    "<conductor:ref>",
    Many,
    "A conductor of the splice, as `cable.colour`.",
    "join stat-cable.red",
)];
