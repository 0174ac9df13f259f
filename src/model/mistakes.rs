//! What can be wrong with a job as a whole: names, places, and figures that contradict the geometry.

use crate::source::{Kind, Severity, Why};

macro_rules! model_kinds {
    ($($name:ident $code:literal $word:literal $severity:ident: $title:literal, $checks:literal, $site:literal, $fix:literal;)+) => {
        $(
            pub(crate) const $name: Kind = Kind {
                code: $code,
                name: $word,
                title: $title,
                severity: Severity::$severity,
                source: "the job file itself",
                why: Why { checks: $checks, on_site: $site, fix: $fix },
            };
        )+
        /// Every mistake that building the model can find.
        pub static KINDS: &[&Kind] = &[$(&$name),+];
    };
}

model_kinds! {
    NAME_TAKEN "MOD001" "name_taken" Error: "name taken twice",
        "Two things of one kind carry two names.",
        "The crew can't tell which one a line means.",
        "Rename one of them.";
    NAME_UNKNOWN "MOD002" "name_unknown" Error: "name that nothing carries",
        "A name in a line is carried by something in the job.",
        "The line points at nothing, so what it says is not built.",
        "Use the name that the report suggests, or add the thing.";
    MODEL_UNKNOWN "MOD003" "model_unknown" Error: "model or item not in the catalogs",
        "Models and stock items are named as a catalog of the job names them.",
        "Nothing can be ordered, drawn or checked for an item that nobody knows.",
        "Use the item that the report suggests, or name the catalog that holds it.";
    MEASURED_SHORT "MOD004" "measured_short" Error: "length shorter than the straight distance",
        "A taped length is at least the straight distance between its two ends.",
        "The tube or cable does not reach, or one of the two places is wrong.",
        "Measure again, or correct the place of one end.";
    OUTSIDE_ROOM "MOD005" "outside_room" Error: "thing outside the room it stands in",
        "An outlet lies inside its room.",
        "The hole is cut in the next room.",
        "Correct the distance from the room's southwest corner.";
    BEYOND_TRUNK "MOD006" "beyond_trunk" Error: "take-off beyond the end of its trunk",
        "A take-off lies on its trunk.",
        "There is no pipe to cut the hole in.",
        "Give a distance within the trunk's length, or lengthen the trunk.";
    WITHOUT_RUN "MOD007" "outlet_without_run" Error: "outlet that no run feeds",
        "Each outlet has a run from a trunk.",
        "An outlet is cut and no tube comes.",
        "Add a run with the outlet's name.";
    ROOM_CLASH "MOD008" "room_clash" Error: "rooms that overlap",
        "Two rooms of one story do not stand in the same place.",
        "One of the two was measured wrong, and outlets land in the wrong place.",
        "Correct corner or size of one of them.";
    WAIVER_IDLE "MOD009" "waiver_idle" Warning: "waiver that waives nothing",
        "A waiver stands in the thing that a finding concerns and names its code.",
        "A reason is printed for a fault that is not there, and the next real one is waived by it.",
        "Take the waiver out, or move it into the thing that it is meant for.";
    WAIVER_NOT_ALLOWED "MOD010" "waiver_not_allowed" Error: "waiver of a mistake in the file",
        "Only trade rules can be waived; mistakes of language, catalog and model are mended.",
        "A file with a mistake says something else than its writer means.",
        "Mend the mistake and take the waiver out.";
    STILL_OPEN "MOD011" "still_open" Error: "value still open at a stage that needs it",
        "From the stage `order`, what is bought is known; from `rough-in`, what is built is known.",
        "The crew stands before a length that nobody measured.",
        "Measure and write the value, or set the job's stage back.";
    LEG_MISSING "MOD012" "leg_missing" Error: "word without the leg it belongs to",
        "`fall`, `removable`, `elbow` and the like belong to the leg before them.",
        "The figure is lost.",
        "Put the leg before it.";
    JOB_MISSING "MOD013" "job_missing" Error: "no job block",
        "A job file has one block `job`.",
        "The packet would carry no name and no revision.",
        "Add `job \"…\" { … }`.";
    TERMINAL_UNKNOWN "MOD014" "terminal_unknown" Error: "terminal or port that the model does not have",
        "Terminals and ports are named as the catalog names them.",
        "A conductor is landed on the next best screw.",
        "Use the name that the report suggests.";
    NEGATIVE_SIZE "MOD015" "size_below_zero" Error: "size or length that is zero or less",
        "Sizes and lengths are above zero.",
        "A thing without size can be neither built nor checked.",
        "Give the true size.";
    OUTSIDE_HOUSE "MOD016" "outside_house" Error: "thing far outside the house",
        "Units, trunks and drains lie no farther outside the rooms than 15 ft, or half of the house's longer side where that is more.",
        "A distance was mistyped, and the crew looks for a place that is not there.",
        "Correct the distance, or enter the rooms and roofs that the house has there.";
    TRUNK_ASTRAY "MOD017" "trunk_astray" Error: "trunk that does not leave the way the supply opens",
        "The first leg of a trunk goes the way that the unit's supply port opens.",
        "The trunk would run through the unit or along its face; nothing can be joined there.",
        "Turn the unit, or lead the first leg the way that the port opens.";
    UNDER_HOUSE "MOD018" "under_house" Error: "drain that ends far below the lowest floor",
        "No leg of a drain ends more than 4 ft below the lowest floor.",
        "A length was mistyped; the pipe that is cut is too long.",
        "Measure again, or enter the story that lies below.";
    TAPED_UNDER_LEGS "MOD019" "taped_under_legs" Error: "taped length under that of its legs",
        "The taped length of a pipe is at least the sum of the legs that are drawn of it.",
        "The pipe does not reach, or a leg is not there as drawn.",
        "Measure again, or correct the legs.";
    TRUNK_BACK "MOD020" "trunk_turns_back" Error: "leg of trunk that runs back over the one before",
        "A leg of a trunk goes straight on or to a side, never back the way that the leg before it came.",
        "Two legs would lie in one place; nothing of what leaves them can be built.",
        "Correct the direction of the leg.";
    STORIES_CLASH "MOD021" "stories_clash" Error: "story that reaches into the one above",
        "The ceiling of a story, over the middle of its height, stands no higher than the next floor.",
        "A height was mistyped, and every length between the two floors is wrong.",
        "Correct the floor or the ceiling of one of them.";
}
