//! The electrical feed from panel to unit.

use super::Word;
use super::job::EVERYWHERE;
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about power.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "panel",
        "<name:name> on <story:ref>",
        &[PANEL, EVERYWHERE],
        Many,
        "A panel and the supply system behind it.",
        "panel p1 on basement { at 2 ft, 20 ft, supply 240/120 }",
    ),
    Word::block(
        "circuit",
        "<name:name> to <unit:ref>",
        &[CIRCUIT, EVERYWHERE],
        Many,
        "The circuit from the panel to a unit.",
        "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    ),
    Word::block(
        "disconnect",
        "<name:name> for <unit:ref>",
        &[DISCONNECT, EVERYWHERE],
        Many,
        "A disconnect and where it stands.",
        "disconnect ah-switch for ah { distance 3 ft }",
    ),
    Word::block(
        "receptacle",
        "<name:name> on <story:ref>",
        &[RECEPTACLE, EVERYWHERE],
        Many,
        "A service receptacle.",
        "receptacle r1 on attic { at 20 ft, 6 ft, gfci }",
    ),
    Word::block(
        "light",
        "<name:name> on <story:ref>",
        &[LIGHT, EVERYWHERE],
        Many,
        "A light at equipment and where it is switched.",
        "light l1 on attic { at 18 ft, 8 ft, switched at hatch }",
    ),
];

static PANEL: &[Word] = &[
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        Maybe,
        "Its place on plan.",
        "at 2 ft, 20 ft",
    ),
    Word::plain(
        "supply",
        "<system:label>",
        One,
        "The supply system: `240/120`, `208/120` from a wye, or `120`.",
        "supply 240/120",
    ),
    Word::plain(
        "rating",
        "<rating:amps>",
        Maybe,
        "Its rating.",
        "rating 200 A",
    ),
    Word::plain(
        "load",
        "<load:amps>",
        Maybe,
        "What it carries without this job, at its higher voltage: by Article 220, or 125 % of the highest demand of a year.",
        "load 96 A",
    ),
    Word::plain(
        "spaces",
        "<count:count>",
        Maybe,
        "How many breaker positions it has.",
        "spaces 40",
    ),
    Word::plain(
        "free",
        "<count:count>",
        Maybe,
        "How many of its positions are free for this job.",
        "free 8",
    ),
    Word::plain(
        "faces",
        "<direction:north|south|east|west>",
        Maybe,
        "The way its front looks, from the wall into the space where somebody stands.",
        "faces east",
    ),
    Word::plain(
        "width",
        "<width:length>",
        Maybe,
        "Its width; 15 in where nothing is said.",
        "width 15 in",
    ),
];

static CIRCUIT: &[Word] = &[
    Word::plain(
        "existing",
        "",
        Maybe,
        "It is there already: its cable and breaker are not ordered, and its panel's `load` holds what it carries.",
        "existing",
    ),
    Word::plain(
        "feeds",
        "<unit:ref>",
        Many,
        "A further unit on the same circuit.",
        "feeds c1",
    ),
    Word::plain(
        "from",
        "panel <panel:ref>",
        One,
        "The panel it starts at.",
        "from panel p1",
    ),
    Word::plain(
        "breaker-positions",
        "<position:label> [<other:label>]",
        Maybe,
        "The panel positions of its breaker.",
        "breaker-positions 14 16",
    ),
    Word::plain(
        "breaker",
        "<rating:amps> <poles:1-pole|2-pole>",
        One,
        "Its breaker.",
        "breaker 15 A 2-pole",
    ),
    Word::plain(
        "cable",
        "<cable:text>",
        One,
        "Its cable, as the catalog names it.",
        "cable \"14/2 with ground\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        One,
        "Its length by tape, one way.",
        "measured 62 ft",
    ),
    Word::plain("volts", "<volts:label>", One, "Its voltage.", "volts 240"),
    Word::plain(
        "gfci",
        "",
        Maybe,
        "Its breaker gives GFCI protection.",
        "gfci",
    ),
    Word::plain(
        "terminals",
        "<rated:temperature>",
        Maybe,
        "The temperature that the terminals at both ends are marked for; 60 C where nothing is said.",
        "terminals 75 C",
    ),
    Word::plain(
        "through",
        "<way:ref>",
        Many,
        "A story or room that it passes through; a trunk or return where it lies in one.",
        "through attic",
    ),
    Word::plain(
        "bundled",
        "<count:count>",
        Maybe,
        "How many cables lie together.",
        "bundled 2",
    ),
    Word::plain(
        "enters",
        "<port:ref>",
        Maybe,
        "The opening by which it enters the unit.",
        "enters ah.power",
    ),
    Word::plain(
        "land",
        "<conductor:label> on <terminal:label>",
        Many,
        "A conductor and the unit's terminal that it lands on.",
        "land black on L1",
    ),
];

static DISCONNECT: &[Word] = &[
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        Maybe,
        "Its place on plan, on the level of its unit.",
        "at 9 ft, 11 ft",
    ),
    Word::plain(
        "faces",
        "<direction:north|south|east|west>",
        Maybe,
        "The way its front looks, toward where somebody stands.",
        "faces west",
    ),
    Word::plain(
        "width",
        "<width:length>",
        Maybe,
        "Its width; 8 in where nothing is said.",
        "width 8 in",
    ),
    Word::plain(
        "distance",
        "<distance:length>",
        Maybe,
        "Its distance from the unit, in sight of it.",
        "distance 3 ft",
    ),
    Word::plain(
        "rating",
        "<rating:amps>",
        Maybe,
        "Its rating.",
        "rating 30 A",
    ),
    Word::plain(
        "fuses",
        "<rating:amps>",
        Maybe,
        "The rating of the fuses in it.",
        "fuses 30 A",
    ),
    Word::plain(
        "hidden",
        "",
        Maybe,
        "It cannot be seen from the unit.",
        "hidden",
    ),
];

static RECEPTACLE: &[Word] = &[
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        Maybe,
        "Its place on plan.",
        "at 20 ft, 6 ft",
    ),
    Word::plain("gfci", "", Maybe, "It is GFCI protected.", "gfci"),
    Word::plain(
        "outdoors",
        "",
        Maybe,
        "It stands outdoors, at the level of the ground.",
        "outdoors",
    ),
];

static LIGHT: &[Word] = &[
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        Maybe,
        "Its place on plan.",
        "at 18 ft, 8 ft",
    ),
    Word::plain(
        "switched",
        "at <place:ref>",
        Maybe,
        "Where its switch is.",
        "switched at hatch",
    ),
];
