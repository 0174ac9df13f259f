//! Legs that a person could walk with a tape, shared by everything that has a route.

use super::Word;
use super::word::Need::Many;

macro_rules! leg {
    ($word:literal, $doc:literal) => {
        Word::plain($word, "<run:length>", Many, $doc, concat!($word, " 9 ft"))
    };
}

/// Words of a route in any trade.
pub(super) static LEGS: &[Word] = &[
    leg!("north", "A level leg toward plan north."),
    leg!("south", "A level leg toward plan south."),
    leg!("east", "A level leg toward plan east."),
    leg!("west", "A level leg toward plan west."),
    leg!("up", "A leg straight up."),
    leg!("down", "A leg straight down."),
    Word::plain(
        "field-cut",
        "",
        Many,
        "The leg before takes up what the others leave: cut to fit.",
        "field-cut",
    ),
    Word::plain(
        "elbow",
        "[<angle:angle>]",
        Many,
        "An elbow at the end of the leg before.",
        "elbow",
    ),
    Word::plain(
        "through",
        "<space:ref>",
        Many,
        "A story or room that the route passes through.",
        "through attic",
    ),
];

/// Words of a route in pipe.
pub(super) static PIPE: &[Word] = &[
    Word::plain(
        "fall",
        "<fall:length>",
        Many,
        "How much the leg before falls from its start to its end.",
        "fall 2 1/4 in",
    ),
    Word::plain(
        "rise",
        "<rise:length>",
        Many,
        "How much the leg before rises from its start to its end.",
        "rise 1 in",
    ),
    Word::plain(
        "reduce",
        "to <pipe:text>",
        Many,
        "Another size from here on.",
        "reduce to \"1/2 in PVC\"",
    ),
    Word::plain(
        "hanger",
        "every <spacing:length>",
        Many,
        "Support spacing of the route.",
        "hanger every 4 ft",
    ),
    Word::plain(
        "insulation",
        "<insulation:text>",
        Many,
        "What the pipe is wrapped in.",
        "insulation \"1/2 in closed cell\"",
    ),
];
