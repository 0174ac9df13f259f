//! Condensate, hot water and refrigerant.

use super::Word;
use super::job::EVERYWHERE;
use super::route::{LEGS, PIPE};
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about pipes.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "drain",
        "<name:name> from <port:ref>",
        &[DRAIN, PIPE, LEGS, EVERYWHERE],
        Many,
        "A condensate drain, leg by leg from a drain port or a pan to its end.",
        "drain primary from ah.drain { pipe \"3/4 in PVC\", east 4 in, trap drop 2 in, seal 1 in, south 9 ft, fall 2 1/4 in, discharge to laundry-sink, air gap 2 in }",
    ),
    Word::block(
        "pan",
        "<name:name> under <unit:ref>",
        &[PAN, EVERYWHERE],
        Many,
        "The pan under a unit.",
        "pan safety-pan under ah { size 30 in x 62 in, depth 2 in, switch \"Example pan switch\" }",
    ),
    Word::block(
        "pump",
        "<name:name>",
        &[PUMP, EVERYWHERE],
        Many,
        "A condensate pump.",
        "pump lift { model \"Example condensate pump\", on basement, center 4 ft, 6 ft, lift 7 ft, pipe \"3/8 in vinyl tube\", measured 14 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
    ),
    Word::block(
        "line-set",
        "<name:name> from <from:ref> to <to:ref>",
        &[LINE_SET, PIPE, LEGS, EVERYWHERE],
        Many,
        "The refrigerant lines between the outdoor unit and the coil.",
        "line-set ls from ou to ah { suction \"7/8 in\", liquid \"3/8 in\", measured 42 ft }",
    ),
    Word::block(
        "water-pipe",
        "<name:name> from <from:ref> to <to:ref>",
        &[WATER_PIPE, PIPE, LEGS, EVERYWHERE],
        Many,
        "A hot-water pipe, leg by leg.",
        "water-pipe supply-pipe from old-boiler.supply to wc.supply { pipe \"3/4 in copper\", up 9 ft, vent }",
    ),
    Word::block(
        "circulator",
        "<name:name> in <pipe:ref>",
        &[CIRCULATOR, EVERYWHERE],
        Many,
        "A pump in a hot-water pipe.",
        "circulator c1 in supply-pipe { model \"Example circulator\" }",
    ),
    Word::block(
        "radiators",
        "<name:name> on <boiler:ref>",
        &[RADIATORS, EVERYWHERE],
        Many,
        "An old loop of radiators that stays live beside the coil.",
        "radiators old-loop on old-boiler { room bath gives 1800 Btu/h, rated 150 F }",
    ),
];

static DRAIN: &[Word] = &[
    Word::plain(
        "pipe",
        "<pipe:text>",
        One,
        "The pipe, as the catalog names it.",
        "pipe \"3/4 in PVC\"",
    ),
    Word::plain(
        "solvent",
        "<solvent:text>",
        Maybe,
        "The cement it is joined with.",
        "solvent \"Example PVC cement\"",
    ),
    Word::plain(
        "trap",
        "drop <drop:length>, seal <seal:length>",
        Many,
        "A trap here: drop from the pan's outlet to the weir, and depth of the seal below the weir.",
        "trap drop 2 in, seal 1 in",
    ),
    Word::plain(
        "cleanout",
        "[plug <plug:threaded|glued>] [in <fitting:tee|sanitary-tee|wye> [facing <way:with|against> flow]]",
        Many,
        "A cleanout here; its plug is threaded unless said otherwise. `in wye facing with flow` names its fitting, and whether a cable put in there runs with the flow or against it; a straight tee unless said otherwise.",
        "cleanout plug threaded in wye facing with flow",
    ),
    Word::plain(
        "vent",
        "[<height:length>]",
        Many,
        "An open vent here, and its height above the pipe.",
        "vent 8 in",
    ),
    Word::plain(
        "float-switch",
        "<model:text>",
        Many,
        "A float switch here.",
        "float-switch \"Example float switch\"",
    ),
    Word::plain(
        "freeze-protection",
        "<how:heat-cable|drained-in-fall|antifreeze>",
        Maybe,
        "What keeps the water that stands in the trap from freezing: a heat cable, a trap drained each fall, or antifreeze poured in.",
        "freeze-protection heat-cable",
    ),
    Word::plain(
        "seen",
        "<place:text>",
        Maybe,
        "Where somebody sees it run, for a secondary drain or the drain of a pan.",
        "seen \"over the back door\"",
    ),
    Word::plain(
        "discharge",
        "to <end:ref> [, <how:air|solid> <gap:gap|break|joint> [<distance:length>] [in <fitting:tee|sanitary-tee|wye> [facing <way:with|against> flow]]]",
        Maybe,
        "Where it ends, and how: `air gap 2 in`, `air break` or `solid joint`. Where it joins another drain, `in wye facing with flow` names the fitting and whether its branch leads the water in with the flow or against it.",
        "discharge to laundry-sink, air gap 2 in",
    ),
];

static PAN: &[Word] = &[
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its inside size east–west by north–south.",
        "size 30 in x 62 in",
    ),
    Word::plain("depth", "<depth:length>", One, "Its depth.", "depth 2 in"),
    Word::plain(
        "base",
        "<height:length>",
        Maybe,
        "Height of its underside above the floor; on the floor when not given.",
        "base 2 in",
    ),
    Word::plain(
        "item",
        "<item:text>",
        Maybe,
        "The stock item.",
        "item \"Example pan\"",
    ),
    Word::plain(
        "switch",
        "<model:text>",
        Maybe,
        "The switch in it.",
        "switch \"Example pan switch\"",
    ),
];

static PUMP: &[Word] = &[
    Word::plain(
        "model",
        "<model:text>",
        One,
        "The model, as the catalog names it.",
        "model \"Example condensate pump\"",
    ),
    Word::plain(
        "existing",
        "",
        Maybe,
        "It is there already: it is neither brought nor ordered.",
        "existing",
    ),
    Word::plain(
        "on",
        "<story:ref>",
        One,
        "The story it stands on.",
        "on basement",
    ),
    Word::plain(
        "center",
        "<x:length>, <y:length>",
        One,
        "Its middle on plan.",
        "center 4 ft, 6 ft",
    ),
    Word::plain(
        "stand",
        "<height:length>",
        Maybe,
        "Height of its base above the floor.",
        "stand 4 in",
    ),
    Word::plain(
        "lift",
        "<lift:length>",
        Maybe,
        "How high it lifts: from its base to the highest point of its tube.",
        "lift 7 ft",
    ),
    Word::plain(
        "pipe",
        "<pipe:text>",
        Maybe,
        "Its discharge tube, as the catalog names it.",
        "pipe \"3/8 in vinyl tube\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "The whole length of its tube by tape.",
        "measured 14 ft",
    ),
    Word::plain(
        "bends",
        "<bends:count>",
        Maybe,
        "Right-angle bends in its tube.",
        "bends 3",
    ),
    Word::plain(
        "check-valve",
        "",
        Maybe,
        "A check valve at its outlet, where the pump has none of its own.",
        "check-valve",
    ),
    Word::plain(
        "freeze-protection",
        "<how:heat-cable|drained-in-fall>",
        Maybe,
        "What keeps the water that stands in its tank from freezing: a heat cable, or a tank emptied each fall.",
        "freeze-protection drained-in-fall",
    ),
    Word::plain(
        "discharge",
        "to <end:ref> [, <how:air|solid> <gap:gap|break|joint> [<distance:length>]]",
        Maybe,
        "Where its tube ends, and how.",
        "discharge to laundry-sink, air gap 2 in",
    ),
];

static LINE_SET: &[Word] = &[
    Word::plain(
        "suction",
        "<size:text>",
        One,
        "The suction line's outside diameter.",
        "suction \"7/8 in\"",
    ),
    Word::plain(
        "liquid",
        "<size:text>",
        One,
        "The liquid line's outside diameter.",
        "liquid \"3/8 in\"",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape.",
        "measured 42 ft",
    ),
];

static WATER_PIPE: &[Word] = &[
    Word::plain(
        "pipe",
        "<pipe:text>",
        One,
        "The pipe, as the catalog names it.",
        "pipe \"3/4 in copper\"",
    ),
    Word::plain(
        "vent",
        "",
        Many,
        "An air vent at the end of the leg before.",
        "vent",
    ),
    Word::plain(
        "valve",
        "<item:text>",
        Many,
        "A valve at the end of the leg before.",
        "valve \"Example ball valve\"",
    ),
    Word::plain(
        "flow-check",
        "",
        Many,
        "A flow check at the end of the leg before: no water rises by its own warmth while the circulator rests.",
        "flow-check",
    ),
    Word::plain(
        "bends",
        "<count:count>",
        Maybe,
        "How many right-angle bends it has that no leg shows.",
        "bends 4",
    ),
    Word::plain(
        "measured",
        "<length:length>",
        Maybe,
        "Its length by tape.",
        "measured 42 ft",
    ),
];

static CIRCULATOR: &[Word] = &[
    Word::plain(
        "model",
        "<model:text>",
        One,
        "The model, as the catalog names it.",
        "model \"Example circulator\"",
    ),
    Word::plain(
        "existing",
        "",
        Maybe,
        "It is there already: it is neither brought nor ordered.",
        "existing",
    ),
    Word::plain(
        "started",
        "by <relay:ref>",
        Maybe,
        "The relay whose contact starts it.",
        "started by pump-relay",
    ),
];

static RADIATORS: &[Word] = &[
    Word::plain(
        "room",
        "<room:ref> gives <heat:heat>",
        Many,
        "A room and the heat that its radiators give.",
        "room bath gives 1800 Btu/h",
    ),
    Word::plain(
        "rated",
        "<temperature:temperature>",
        Maybe,
        "The water temperature at which they give it; the boiler's when not given.",
        "rated 170 F",
    ),
    Word::plain(
        "returns",
        "<temperature:temperature>",
        Maybe,
        "The temperature at which their water comes back at winter design; with their heat it gives their flow.",
        "returns 140 F",
    ),
];
