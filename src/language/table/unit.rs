//! Equipment placed in the house, and what it stands on.

use super::Word;
use super::job::EVERYWHERE;
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about equipment.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "air-handler",
        "<name:name>",
        &[MODEL, PLACE, AIR_HANDLER, EVERYWHERE],
        Many,
        "A blower and coil cabinet, placed by its center on plan and its base.",
        "air-handler ah { model \"Example 3-ton, flat\", on attic, center 18 ft, 10 ft, discharge toward east, stand 10 in, tap 4 }",
    ),
    Word::block(
        "outdoor-unit",
        "<name:name>",
        &[MODEL, OUTDOOR, EVERYWHERE],
        Many,
        "A condensing unit or heat pump outside.",
        "outdoor-unit ou { model \"Example 3-ton, outdoor\", at 40 ft, 10 ft, pad 4 in }",
    ),
    Word::block(
        "boiler",
        "<name:name>",
        &[MODEL, PLACE, BOILER, EVERYWHERE],
        Many,
        "A boiler that feeds hot-water coils.",
        "boiler old-boiler { model \"Example boiler\", on basement, center 6 ft, 20 ft }",
    ),
    Word::block(
        "chiller",
        "<name:name>",
        &[MODEL, OUTDOOR, EVERYWHERE],
        Many,
        "A chiller or air-to-water heat pump.",
        "chiller ch { model \"Example chiller\", at 40 ft, 14 ft }",
    ),
    Word::block(
        "thermostat",
        "<name:name> in <room:ref>",
        &[MODEL, THERMOSTAT, EVERYWHERE],
        Many,
        "The thermostat and the room that it feels.",
        "thermostat stat in hall { model \"Example thermostat, two stages\", height 5 ft }",
    ),
    Word::block(
        "water-coil",
        "<name:name> on <unit:ref>",
        &[MODEL, COIL, EVERYWHERE],
        Many,
        "A hot-water coil in an air handler.",
        "water-coil wc on ah { model \"Example hot-water coil, medium\" }",
    ),
    Word::block(
        "platform",
        "<name:name> on <story:ref>",
        &[PLATFORM, EVERYWHERE],
        Many,
        "A floor or deck that equipment stands on.",
        "platform deck on attic { corner 14 ft, 6 ft, size 10 ft x 8 ft, height 8 in }",
    ),
    Word::block(
        "stand",
        "<name:name> under <unit:ref>",
        &[STAND, EVERYWHERE],
        Many,
        "A stand under a unit.",
        "stand legs under ah { height 10 in, item \"Example stand\" }",
    ),
    Word::block(
        "hanger",
        "<name:name> for <thing:ref>",
        &[HANGER, EVERYWHERE],
        Many,
        "What something hangs from.",
        "hanger rods for ah { item \"Example threaded rod\", count 4 }",
    ),
];

static MODEL: &[Word] = &[
    Word::plain(
        "model",
        "<model:text>",
        One,
        "The model, as the catalog names it.",
        "model \"Example 3-ton, flat\"",
    ),
    Word::plain(
        "existing",
        "",
        Maybe,
        "It is there already: it is neither brought nor ordered.",
        "existing",
    ),
];

static PLACE: &[Word] = &[
    Word::plain(
        "on",
        "<story:ref>",
        One,
        "The story it stands on.",
        "on attic",
    ),
    Word::plain(
        "center",
        "<x:length>, <y:length>",
        One,
        "Its middle on plan.",
        "center 18 ft, 10 ft",
    ),
    Word::plain(
        "stand",
        "<height:length>",
        Maybe,
        "Height of its base above the floor.",
        "stand 10 in",
    ),
    Word::plain(
        "hung",
        "<height:length>",
        Maybe,
        "It hangs, its base this far above the floor.",
        "hung 5 ft",
    ),
];

static AIR_HANDLER: &[Word] = &[
    Word::plain(
        "discharge",
        "toward <direction:north|south|east|west>",
        One,
        "The plan direction that the supply end faces.",
        "discharge toward east",
    ),
    Word::plain(
        "tap",
        "<tap:label>",
        Maybe,
        "The speed tap that the blower is set to.",
        "tap 4",
    ),
    Word::plain(
        "first-stage-tap",
        "<tap:label>",
        Maybe,
        "The speed tap that the blower runs at while only the first stage is called, where the equipment has two.",
        "first-stage-tap 2",
    ),
    Word::plain(
        "voltage-setting",
        "<setting:text>",
        Maybe,
        "The blower's voltage setting, as the catalog names it; as shipped when not given.",
        "voltage-setting \"208-240 V\"",
    ),
    Word::plain(
        "jumper",
        "from <from:label> to <to:label>",
        Many,
        "A jumper between two power terminals of the unit.",
        "jumper from N to 4",
    ),
    Word::plain(
        "fitted",
        "<part:text>",
        Many,
        "An optional part that is fitted.",
        "fitted \"float switch\"",
    ),
    Word::plain(
        "filter",
        "<filter:text>",
        Maybe,
        "The filter in the cabinet.",
        "filter \"Example filter, 20 x 20\"",
    ),
    Word::plain(
        "suction",
        "<suction:pressure>",
        Maybe,
        "Measured suction at the drain pan, where the catalog gives none.",
        "suction 1.1 inwc",
    ),
    Word::plain(
        "pan-pressure",
        "<pressure:pressure>",
        Maybe,
        "Measured pressure at the drain pan, where the blower stands before the coil and presses.",
        "pan-pressure 0.4 inwc",
    ),
];

static OUTDOOR: &[Word] = &[
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        One,
        "Its middle on plan.",
        "at 40 ft, 10 ft",
    ),
    Word::plain(
        "pad",
        "<height:length>",
        Maybe,
        "Height of its base above the ground.",
        "pad 4 in",
    ),
    Word::plain(
        "ground",
        "<height:length>",
        Maybe,
        "Height of the ground against the lowest floor.",
        "ground 6 ft 8 in",
    ),
];

static BOILER: &[Word] = &[
    Word::plain(
        "water",
        "<temperature:temperature>",
        Maybe,
        "Water temperature at winter design.",
        "water 150 F",
    ),
    Word::plain(
        "kind",
        "<kind:condensing|conventional|steam|water-heater>",
        Maybe,
        "What sort of boiler it is.",
        "kind conventional",
    ),
    Word::plain(
        "fill",
        "<pressure:water-pressure>",
        Maybe,
        "The pressure that the loop is filled to, cold, on the boiler's gauge.",
        "fill 18 psi",
    ),
    Word::plain(
        "relief",
        "<pressure:water-pressure>",
        Maybe,
        "The pressure at which its relief valve opens.",
        "relief 30 psi",
    ),
    Word::plain(
        "backflow-preventer",
        "",
        Maybe,
        "The fill line has a backflow preventer.",
        "backflow-preventer",
    ),
    Word::plain(
        "mixing-valve",
        "",
        Maybe,
        "A mixing valve holds what goes to the taps.",
        "mixing-valve",
    ),
    Word::plain(
        "air-separator",
        "",
        Maybe,
        "An air separator stands where the hot water leaves the boiler.",
        "air-separator",
    ),
];

static THERMOSTAT: &[Word] = &[
    Word::plain(
        "height",
        "<height:length>",
        Maybe,
        "Height above the floor.",
        "height 5 ft",
    ),
    Word::plain(
        "at",
        "<x:length>, <y:length>",
        Maybe,
        "East and north of the room's corner.",
        "at 2 ft, 0 ft",
    ),
    Word::plain(
        "powered",
        "<by:battery|common>",
        Maybe,
        "Where it takes its own power from.",
        "powered common",
    ),
];

static COIL: &[Word] = &[
    Word::plain(
        "water",
        "<temperature:temperature>",
        Maybe,
        "Entering water at winter design.",
        "water 150 F",
    ),
    Word::plain(
        "flow",
        "<flow:water-flow>",
        Maybe,
        "Water flow.",
        "flow 4 gpm",
    ),
    Word::plain(
        "glycol",
        "<share:share>",
        Maybe,
        "Propylene glycol in the water, by mass.",
        "glycol 30 %",
    ),
    Word::plain(
        "freeze-protection",
        "<how:glycol|circulation|draining>",
        Maybe,
        "What keeps its water from freezing: glycol, circulation on a falling temperature, or draining.",
        "freeze-protection circulation",
    ),
];

static PLATFORM: &[Word] = &[
    Word::plain(
        "corner",
        "<x:length>, <y:length>",
        One,
        "Its southwest corner on plan.",
        "corner 14 ft, 6 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its size east–west by north–south.",
        "size 10 ft x 8 ft",
    ),
    Word::plain(
        "height",
        "<height:length>",
        Maybe,
        "Its top above the floor.",
        "height 8 in",
    ),
];

static STAND: &[Word] = &[
    Word::plain(
        "height",
        "<height:length>",
        One,
        "Its height.",
        "height 10 in",
    ),
    Word::plain(
        "item",
        "<item:text>",
        Maybe,
        "The stock item.",
        "item \"Example stand\"",
    ),
];

static HANGER: &[Word] = &[
    Word::plain(
        "item",
        "<item:text>",
        One,
        "The stock item.",
        "item \"Example threaded rod\"",
    ),
    Word::plain("count", "<count:count>", Maybe, "How many.", "count 4"),
    Word::plain(
        "every",
        "<spacing:length>",
        Maybe,
        "Distance from one to the next.",
        "every 4 ft",
    ),
];
