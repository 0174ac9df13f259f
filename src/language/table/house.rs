//! The house: stories, rooms, and everything that stands in the way.

use super::Word;
use super::job::EVERYWHERE;
use super::word::Need::{Many, Maybe, One};

/// Words of a file's top level about the house.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "story",
        "<name:name>",
        &[STORY, EVERYWHERE],
        Many,
        "A level of the house, from its floor to its ceiling.",
        "story first { floor 0 in, ceiling 8 ft 2 in }",
    ),
    Word::block(
        "room",
        "<name:name> on <story:ref>",
        &[ROOM, EVERYWHERE],
        Many,
        "A room: its place and size on plan, its loads and its outlets.",
        "room den on first { corner 0 ft, 0 ft, size 12 ft x 14 ft }",
    ),
    Word::block(
        "roof-plane",
        "<name:name> on <story:ref>",
        &[ROOF, EVERYWHERE],
        Many,
        "The underside of a sloped roof or ceiling: it starts at an edge and rises one way.",
        "roof-plane south-slope on attic { edge 0 ft, 0 ft to 30 ft, 0 ft, rises 8 in per ft toward north }",
    ),
    Word::block(
        "wall",
        "<name:name> on <story:ref>",
        &[WALL, EVERYWHERE],
        Many,
        "A wall that stands inside a story, between two points on plan.",
        "wall knee on attic { from 0 ft, 4 ft to 30 ft, 4 ft, thick 4 1/2 in }",
    ),
    Word::block(
        "door",
        "<name:name> on <story:ref>",
        &[OPENING, EVERYWHERE],
        Many,
        "A door or other way through a wall.",
        "door cellar-door on basement { center 10 ft, 0 ft, size 30 in x 78 in }",
    ),
    Word::block(
        "stair",
        "<name:name> from <below:ref> to <above:ref>",
        &[AREA, EVERYWHERE],
        Many,
        "A stair and the area it takes on plan.",
        "stair main-stair from first to second { corner 10 ft, 4 ft, size 3 ft x 11 ft }",
    ),
    Word::block(
        "joists",
        "on <story:ref>",
        &[FRAMING, EVERYWHERE],
        Many,
        "The floor framing of a story: which way it runs, spacing and depth.",
        "joists on second { run north, spacing 16 in, depth 7 1/4 in }",
    ),
    Word::block(
        "trusses",
        "on <story:ref>",
        &[FRAMING, EVERYWHERE],
        Many,
        "Trusses in a story: never to be cut.",
        "trusses on attic { run north, spacing 24 in, depth 3 1/2 in }",
    ),
    Word::block(
        "flue",
        "<name:name> on <story:ref>",
        &[SOLID, FLUE, EVERYWHERE],
        Many,
        "A chimney or vent and the clearance it asks for.",
        "flue chimney on attic { corner 14 ft, 12 ft, size 20 in x 20 in, clearance 2 in }",
    ),
    Word::block(
        "obstacle",
        "<name:name> on <story:ref>",
        &[SOLID, EVERYWHERE],
        Many,
        "Anything solid that stands in the way.",
        "obstacle tank on attic { corner 2 ft, 3 ft, size 3 ft x 3 ft, height 40 in }",
    ),
    Word::block(
        "attic-access",
        "<name:name> on <story:ref>",
        &[HATCH, EVERYWHERE],
        Many,
        "The hatch, stair or door through which equipment reaches a story.",
        "attic-access hatch on attic { center 20 ft, 8 ft, size 30 in x 54 in }",
    ),
    Word::block(
        "access-path",
        "<name:name> from <hatch:ref> to <unit:ref>",
        &[PATH, EVERYWHERE],
        Many,
        "The way from the access to a unit: length, clear width and height, floor.",
        "access-path way from hatch to ah { length 12 ft, clear 30 in x 36 in, floored 24 in }",
    ),
];

static STORY: &[Word] = &[
    Word::plain(
        "floor",
        "<floor:length>",
        One,
        "Height of the floor above the lowest story's.",
        "floor 9 ft 4 in",
    ),
    Word::plain(
        "ceiling",
        "<ceiling:length>",
        One,
        "Height of the ceiling above this floor.",
        "ceiling 8 ft 2 in",
    ),
    Word::plain(
        "limited-access",
        "<sort:crawl-space|lay-in-ceiling>",
        Maybe,
        "A crawl space, or the space above a ceiling of lay-in tiles: only its openings let somebody in.",
        "limited-access crawl-space",
    ),
    Word::plain(
        "summer",
        "<temperature:temperature>",
        Maybe,
        "Temperature of an unconditioned story in summer.",
        "summer 128 F",
    ),
    Word::plain(
        "winter",
        "<temperature:temperature>",
        Maybe,
        "Temperature of an unconditioned story in winter.",
        "winter 18 F",
    ),
];

static ROOM: &[Word] = &[
    Word::plain(
        "corner",
        "<x:length>, <y:length>",
        One,
        "Its southwest corner on plan: east, then north of the origin.",
        "corner 14 ft, 0 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its size east–west by north–south.",
        "size 12 ft 6 in x 14 ft",
    ),
    Word::plain(
        "ceiling",
        "<height:length>",
        Maybe,
        "Its ceiling height where it differs from the story's.",
        "ceiling 7 ft 6 in",
    ),
    Word::plain(
        "cooling",
        "sensible <sensible:heat> [, latent <latent:heat>]",
        Maybe,
        "Its cooling load at summer design.",
        "cooling sensible 3900 Btu/h, latent 650 Btu/h",
    ),
    Word::plain(
        "heating",
        "<load:heat>",
        Maybe,
        "Its heat loss at winter design.",
        "heating 5200 Btu/h",
    ),
    Word::plain(
        "use",
        "<use:living|bed|bath|kitchen|hall|closet|laundry|mechanical|garage|storage>",
        Maybe,
        "What the room is for.",
        "use bed",
    ),
    Word::plain(
        "served",
        "by <room:ref>",
        Maybe,
        "The room whose air keeps this one: it needs no outlet of its own.",
        "served by hall",
    ),
    Word::plain(
        "unconditioned",
        "",
        Maybe,
        "The room is neither heated nor cooled.",
        "unconditioned",
    ),
    Word::block(
        "outlet",
        "<name:name> in <surface:ceiling|floor|wall> [<wall:north|south|east|west>] at <x:length> [, <y:length>] [, height <z:length>] [, model <model:text>] [, may move <move:length> <toward:north|south|east|west> [or <other:north|south|east|west>]]",
        &[EVERYWHERE],
        Many,
        "A supply outlet: distances east and north from the room's corner; on a wall, along it and above the floor.",
        "outlet be1 in ceiling at 2 ft, 12 ft, may move 6 in north or south",
    ),
    Word::plain(
        "door",
        "<name:name> in <wall:north|south|east|west> at <x:length>, width <width:length> [, undercut <undercut:length>]",
        Many,
        "A door in one of its walls.",
        "door d1 in north at 2 ft, width 30 in, undercut 3/4 in",
    ),
    Word::plain(
        "transfer",
        "<free:area>",
        Many,
        "Free area of a grille or short duct by which air leaves the room with its doors shut.",
        "transfer 60 in2",
    ),
    Word::plain(
        "window",
        "<name:name> in <wall:north|south|east|west> at <x:length>, width <width:length>",
        Many,
        "A window in one of its walls.",
        "window w1 in south at 4 ft, width 36 in",
    ),
];

static ROOF: &[Word] = &[
    Word::plain(
        "edge",
        "<x:length>, <y:length> to <x2:length>, <y2:length>",
        One,
        "The low edge on plan, from one point to another.",
        "edge 0 ft, 0 ft to 30 ft, 0 ft",
    ),
    Word::plain(
        "height",
        "<height:length>",
        Maybe,
        "Height of the low edge above the story's floor; at the floor when not given.",
        "height 12 in",
    ),
    Word::plain(
        "rises",
        "<slope:slope> toward <direction:north|south|east|west>",
        One,
        "How steeply the plane rises from the edge, and which way.",
        "rises 8 in per ft toward north",
    ),
];

static WALL: &[Word] = &[
    Word::plain(
        "from",
        "<x:length>, <y:length> to <x2:length>, <y2:length>",
        One,
        "The wall's two ends on plan, east–west or north–south.",
        "from 0 ft, 4 ft to 30 ft, 4 ft",
    ),
    Word::plain(
        "thick",
        "<thick:length>",
        Maybe,
        "Its thickness, half to either side.",
        "thick 4 1/2 in",
    ),
    Word::plain(
        "height",
        "<height:length>",
        Maybe,
        "Its height above the floor; to the ceiling when not given.",
        "height 4 ft",
    ),
];

static OPENING: &[Word] = &[
    Word::plain(
        "center",
        "<x:length>, <y:length>",
        One,
        "Its middle on plan.",
        "center 10 ft, 0 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Clear width by clear height.",
        "size 30 in x 78 in",
    ),
];

static AREA: &[Word] = &[
    Word::plain(
        "corner",
        "<x:length>, <y:length>",
        One,
        "Its southwest corner on plan.",
        "corner 10 ft, 4 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its size east–west by north–south.",
        "size 3 ft x 11 ft",
    ),
];

static FRAMING: &[Word] = &[
    Word::plain(
        "run",
        "<direction:north|east>",
        One,
        "The direction that each piece runs.",
        "run north",
    ),
    Word::plain(
        "spacing",
        "<spacing:length>",
        One,
        "Distance from one to the next, center to center.",
        "spacing 16 in",
    ),
    Word::plain(
        "depth",
        "<depth:length>",
        Maybe,
        "Depth of each piece.",
        "depth 7 1/4 in",
    ),
    Word::plain(
        "first",
        "at <offset:length>",
        Maybe,
        "Where the first one lies, from the origin.",
        "first at 8 in",
    ),
];

static SOLID: &[Word] = &[
    Word::plain(
        "corner",
        "<x:length>, <y:length>",
        One,
        "Its southwest corner on plan.",
        "corner 14 ft, 12 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its size east–west by north–south.",
        "size 20 in x 20 in",
    ),
    Word::plain(
        "base",
        "<base:length>",
        Maybe,
        "Its underside above the floor; on the floor when not given.",
        "base 3 ft",
    ),
    Word::plain(
        "height",
        "<height:length>",
        Maybe,
        "Its own height; to the ceiling when not given.",
        "height 40 in",
    ),
    Word::plain(
        "removable",
        "",
        Maybe,
        "It can be moved for service.",
        "removable",
    ),
];

static FLUE: &[Word] = &[Word::plain(
    "clearance",
    "<clearance:length>",
    Maybe,
    "Distance that nothing may come nearer than.",
    "clearance 2 in",
)];

static HATCH: &[Word] = &[
    Word::plain(
        "center",
        "<x:length>, <y:length>",
        One,
        "Its middle on plan.",
        "center 20 ft, 8 ft",
    ),
    Word::plain(
        "size",
        "<x:length> x <y:length>",
        One,
        "Its clear opening, one side by the other.",
        "size 30 in x 54 in",
    ),
    Word::plain(
        "kind",
        "<kind:hatch|pull-down-stair|stair|door>",
        Maybe,
        "What sort of access it is.",
        "kind pull-down-stair",
    ),
];

static PATH: &[Word] = &[
    Word::plain(
        "length",
        "<length:length>",
        Maybe,
        "Length along its middle line.",
        "length 12 ft",
    ),
    Word::plain(
        "clear",
        "<width:length> x <height:length>",
        One,
        "Least clear width by clear height.",
        "clear 30 in x 36 in",
    ),
    Word::plain(
        "floored",
        "<width:length>",
        Maybe,
        "Width of the continuous floor along it.",
        "floored 24 in",
    ),
];
