//! Supply trunk, branches, runs, return, ventilation and zones.

use super::Word;
use super::job::EVERYWHERE;
use super::route::LEGS;
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about air.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "trunk",
        "<name:name> from <port:ref>",
        &[&TRUNK, TRUNK_START, LEGS, EVERYWHERE],
        Many,
        "The supply trunk, leg by leg from a unit's supply port.",
        "trunk main from ah.supply { pipe \"9 in round\", east 3 ft, removable, east 11 ft, cap }",
    ),
    Word::block(
        "run",
        "<name:name> from <trunk:ref> at <station:length> [, side <side:left|right|top|bottom|north|south|east|west>]",
        &[RUN, EVERYWHERE],
        Many,
        "A tube from the trunk to the outlet of the same name; the distance runs along the trunk's middle from the unit.",
        "run be1 from main at 6 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 3 }",
    ),
    Word::block(
        "return",
        "<name:name> to <port:ref>",
        &[RETURN, LEGS, EVERYWHERE],
        Many,
        "The way back of the air: grille, filter and duct to the unit's return port.",
        "return ret to ah.return { grille \"Example grille, 20 x 30\", in hall, duct \"16 in flexible\", measured 8 ft }",
    ),
    Word::block(
        "ventilation",
        "<name:name> to <port:ref>",
        &[VENTILATION, LEGS, EVERYWHERE],
        Many,
        "Outdoor air brought into the return.",
        "ventilation fresh to ah.return { flow 60 cfm }",
    ),
    Word::block(
        "zone",
        "<name:name>",
        &[ZONE, EVERYWHERE],
        Many,
        "Rooms that one thermostat and damper govern.",
        "zone upstairs { room bed-east, room bed-west, thermostat stat }",
    ),
    Word::block(
        "damper",
        "<name:name> in <trunk:ref> at <station:length>",
        &[DAMPER, EVERYWHERE],
        Many,
        "A damper in the trunk.",
        "damper d1 in main at 8 ft { zone upstairs }",
    ),
];

/// What a trunk and its branches are made of.
static TRUNK: [Word; 6] = [
    Word::plain(
        "pipe",
        "<pipe:text>",
        Many,
        "The trunk pipe from here on, as the catalog names it.",
        "pipe \"9 in round\"",
    ),
    Word::plain(
        "removable",
        "",
        Many,
        "The leg before can be taken out without cutting.",
        "removable",
    ),
    Word::plain("cap", "", Many, "The end of the trunk.", "cap"),
    Word::plain(
        "joint",
        "<joint:text>",
        Many,
        "How the piece before is joined and sealed.",
        "joint \"screws and mastic\"",
    ),
    Word::block(
        "tee",
        "<name:name>",
        &[&TRUNK, LEGS, EVERYWHERE],
        Many,
        "A tee at the end of the leg before; its block is the branch.",
        "tee north-leg { north 8 ft, cap }",
    ),
    Word::block(
        "branch",
        "<name:name> at <station:length>",
        &[&TRUNK, LEGS, EVERYWHERE],
        Many,
        "A branch that leaves this trunk at a distance from the unit; its block is the branch.",
        "branch north-leg at 9 ft { north 8 ft, cap }",
    ),
];

static TRUNK_START: &[Word] = &[Word::plain(
    "adapter",
    "<adapter:text>",
    Maybe,
    "The piece between unit and trunk.",
    "adapter \"Example adapter, square to 9 in round\"",
)];

static RUN: &[Word] = &[
    Word::plain(
        "tube",
        "<tube:text>",
        One,
        "The tube, as the catalog names it.",
        "tube \"2 in sound tube\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape, from trunk to outlet.",
        "measured 14 ft",
    ),
    Word::plain(
        "bends",
        "<bends:count>",
        Maybe,
        "How many right-angle bends it takes.",
        "bends 3",
    ),
    Word::plain(
        "through",
        "<space:ref>",
        Many,
        "A story or room that it passes through.",
        "through attic",
    ),
    Word::plain(
        "orifice",
        "<orifice:text>",
        Maybe,
        "A balancing orifice at its take-off.",
        "orifice \"Example orifice, 1 1/4 in\"",
    ),
    Word::plain(
        "to",
        "<outlet:ref>",
        Maybe,
        "The outlet it feeds, when it has another name.",
        "to be1",
    ),
];

static RETURN: &[Word] = &[
    Word::plain(
        "grille",
        "<grille:text>",
        Maybe,
        "The grille.",
        "grille \"Example grille, 20 x 30\"",
    ),
    Word::plain(
        "in",
        "<room:ref>",
        Maybe,
        "The room that the grille stands in.",
        "in hall",
    ),
    Word::plain(
        "plenum",
        "<space:ref>",
        Many,
        "A room or story whose open air is part of the return: nothing but its walls leads it.",
        "plenum closet",
    ),
    Word::plain(
        "filter",
        "<filter:text>",
        Maybe,
        "The filter.",
        "filter \"Example filter, 20 x 30\"",
    ),
    Word::plain(
        "duct",
        "<duct:text>",
        Maybe,
        "The duct between grille and unit.",
        "duct \"16 in flexible\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape.",
        "measured 8 ft",
    ),
    Word::plain(
        "through",
        "<space:ref>",
        Many,
        "A story or room that its duct passes through; the unit's own story where none is said.",
        "through attic",
    ),
    Word::plain(
        "bends",
        "<bends:count>",
        Maybe,
        "How many right-angle bends it takes.",
        "bends 1",
    ),
];

static VENTILATION: &[Word] = &[
    Word::plain(
        "flow",
        "<flow:air-flow>",
        One,
        "How much outdoor air.",
        "flow 60 cfm",
    ),
    Word::plain(
        "duct",
        "<duct:text>",
        Maybe,
        "The duct.",
        "duct \"6 in round\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape.",
        "measured 18 ft",
    ),
];

static ZONE: &[Word] = &[
    Word::plain(
        "room",
        "<room:ref>",
        Many,
        "A room of the zone.",
        "room bed-east",
    ),
    Word::plain(
        "thermostat",
        "<thermostat:ref>",
        Maybe,
        "Its thermostat.",
        "thermostat stat",
    ),
];

static DAMPER: &[Word] = &[Word::plain(
    "zone",
    "<zone:ref>",
    Maybe,
    "The zone that it serves.",
    "zone upstairs",
)];
