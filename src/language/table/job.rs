//! The job itself, the files it uses, shared values, and what may stand anywhere.

use super::Word;
use super::word::Need::{Many, Maybe};

/// Words of a file's top level about the job and its files.
pub(super) static WORDS: &[Word] = &[
    Word::block(
        "job",
        "<title:text>",
        &[JOB, EVERYWHERE],
        Maybe,
        "Names the job and says under which conditions and codes it stands.",
        "job \"Larkspur Lane\" { number 26-0417, stage rough-in }",
    ),
    Word::plain(
        "catalog",
        "<file:text>",
        Many,
        "Reads equipment and stock from a YAML file, relative to this one.",
        "catalog \"../shop/stock.yaml\"",
    ),
    Word::plain(
        "standards",
        "<file:text>",
        Maybe,
        "Reads the shop's thresholds and severities from a YAML file.",
        "standards \"../shop/standards.yaml\"",
    ),
    Word::plain(
        "include",
        "<file:text>",
        Many,
        "Reads another job file in this place.",
        "include \"second-floor.bay\"",
    ),
    Word::plain(
        "let",
        "<name:name> = <value:any>",
        Many,
        "Gives a value a name that later lines can use in its stead.",
        "let hall-height = 8 ft 2 in",
    ),
    Word::plain(
        "on-hand",
        "<item:text>, <count:count> of <length:length>",
        Many,
        "Stock that lies in the shop and is used first.",
        "on-hand \"3/4 in PVC\", 2 of 7 ft",
    ),
];

/// Words that may stand in any block.
pub(super) static EVERYWHERE: &[Word] = &[
    Word::plain(
        "waive",
        "<code:label> because <reason:text> [by <who:text>] [on <date:date>]",
        Many,
        "Waives a finding on the thing it stands in; the reason is printed in the packet.",
        "waive AIR001 because \"heated by the old radiator\" by \"planner\" on 2026-11-19",
    ),
    Word::plain(
        "note",
        "<words:text>",
        Many,
        "A remark that the packet prints.",
        "note \"ask about the key\"",
    ),
];

static JOB: &[Word] = &[
    Word::plain(
        "number",
        "<number:label>",
        Maybe,
        "The shop's number of the job.",
        "number 26-0417",
    ),
    Word::plain(
        "stage",
        "<stage:bid|order|rough-in|start-up>",
        Maybe,
        "How far the job is: what may still be `to measure` depends on it.",
        "stage rough-in",
    ),
    Word::plain(
        "revision",
        "<mark:label>, <date:date>, <reason:text>",
        Many,
        "A state of the spec, its date, and what changed; the latest one counts.",
        "revision C, 2026-11-20, \"air handler moved clear of the chimney\"",
    ),
    Word::plain(
        "prepared-by",
        "<who:text>",
        Maybe,
        "Who wrote the spec.",
        "prepared-by \"planner\"",
    ),
    Word::plain(
        "address",
        "<words:text>",
        Maybe,
        "Where the house stands.",
        "address \"an invented lane\"",
    ),
    Word::plain(
        "altitude",
        "<altitude:length>",
        Maybe,
        "Height of the site above the sea.",
        "altitude 840 ft",
    ),
    Word::plain(
        "year-built",
        "<year:count>",
        Maybe,
        "When the house was built.",
        "year-built 1924",
    ),
    Word::plain(
        "codes",
        "IRC <irc:2015|2018|2021|2024>, NEC <nec:2017|2020|2023>",
        Maybe,
        "The editions of the residential and electrical codes that the job stands under.",
        "codes IRC 2021, NEC 2020",
    ),
    Word::plain(
        "summer",
        "outdoor <outdoor:temperature> [, wet-bulb <wet-bulb:temperature>], indoor <indoor:temperature> at <humidity:humidity>",
        Maybe,
        "Summer design temperatures and indoor humidity; the outdoor wet bulb where outdoor air is brought in.",
        "summer outdoor 93 F, indoor 75 F at 50 %RH",
    ),
    Word::plain(
        "winter",
        "outdoor <outdoor:temperature> [, wet-bulb <wet-bulb:temperature>], indoor <indoor:temperature>",
        Maybe,
        "Winter design temperatures.",
        "winter outdoor 4 F, indoor 70 F",
    ),
    Word::plain(
        "condition",
        "<name:name>, outdoor <outdoor:temperature> [, wet-bulb <wet-bulb:temperature>], indoor <indoor:temperature> [at <humidity:humidity>]",
        Many,
        "A further condition to look at, by name.",
        "condition mild-wet, outdoor 72 F, indoor 75 F at 60 %RH",
    ),
    Word::plain(
        "origin",
        "<corner:text> [, street <street:north|south|east|west>]",
        Maybe,
        "The corner that plan distances are measured from, and the side of the street.",
        "origin \"inside southwest corner, basement\", street south",
    ),
];
