//! The mistakes that reading a file can find.

use crate::source::{Kind, Severity, Why};

macro_rules! language_kinds {
    ($($name:ident $code:literal $word:literal: $title:literal, $checks:literal, $site:literal, $fix:literal;)+) => {
        $(
            #[doc = $title]
            pub(crate) const $name: Kind = Kind {
                code: $code,
                name: $word,
                title: $title,
                severity: Severity::Error,
                source: "the language of job files",
                why: Why { checks: $checks, on_site: $site, fix: $fix },
            };
        )+
        /// Every mistake that reading a file can find.
        pub static KINDS: &[&Kind] = &[$(&$name),+];
    };
}

language_kinds! {
    UNKNOWN_WORD "LNG001" "unknown_word": "unknown word",
        "Each statement starts with a word of the table; this one is not in it, or not in this block.",
        "The line is left out: what it was meant to say reaches neither the checks nor the crew.",
        "Use the word that the report suggests, or look the block up in the reference page.";
    WORD_MISPLACED "LNG002" "word_misplaced": "statement does not fit its word",
        "What follows a word has to stand in the order that the reference page shows.",
        "The line is left out of checks and packet.",
        "Write the statement like the example in the report.";
    WRONG_DIMENSION "LNG003" "wrong_dimension": "amount of the wrong dimension",
        "Each amount has a dimension: a length where a length belongs, a flow where a flow belongs.",
        "A wrong dimension is a mix-up of two figures, and one of them is then missing on site.",
        "Give an amount of the dimension that the report names.";
    WRONG_UNIT "LNG004" "wrong_unit": "unit missing or unknown",
        "Every amount carries its unit.",
        "A bare number is read as inches by one person and as feet by the next.",
        "Add the unit, as in the example of the report.";
    AMOUNT_MISREAD "LNG005" "amount_misread": "number that can't be read",
        "Numbers stay in a sensible range, fractions have something under the line, inches after feet stay below 12.",
        "A number with a slip in it becomes a wrong cut.",
        "Write the number anew.";
    UNKNOWN_VALUE "LNG006" "unknown_value": "word that is none of the choices",
        "Some places take one of a few words, or a value named by `let`.",
        "The line is left out of checks and packet.",
        "Use one of the words that the report lists.";
    BAD_NAME "LNG007" "bad_name": "name that can't be one",
        "A name is a letter, then letters, digits and dashes.",
        "Other lines could not refer to it.",
        "Choose another name.";
    BAD_DATE "LNG008" "bad_date": "date that is not in the calendar",
        "Dates are written year, month, day, and exist.",
        "A revision with a wrong date is taken for an older one.",
        "Correct the date.";
    UNCLOSED_STRING "LNG009" "unclosed_string": "quote not closed",
        "A quoted text ends on its own line.",
        "The rest of the line would vanish into the text.",
        "Put the closing quote.";
    UNCLOSED_BLOCK "LNG010" "unclosed_block": "block not closed",
        "Each `{` has its `}` (or a line `end`).",
        "What follows would be taken for a part of the block.",
        "Put `}` where the block ends.";
    STRAY_CLOSE "LNG011" "stray_close": "closing brace without a block",
        "Each `}` closes a block.",
        "One too many closes the block around it too early.",
        "Take it out.";
    MISSING_WORD "LNG012" "missing_word": "block lacks a word it needs",
        "Some words have to stand in a block: a room needs its corner and size.",
        "What is missing can be neither drawn nor checked.",
        "Add the line; `to measure` stands for a value that is not known yet.";
    GIVEN_TWICE "LNG013" "given_twice": "said twice",
        "A word that can stand only once stands twice.",
        "Two people build by two different lines.",
        "Keep the right one.";
    VERSION_MISSING "LNG014" "version_missing": "language version missing or unknown",
        "The first line of a job file is `bayrun 1`.",
        "A later program could read the file in another way.",
        "Put `bayrun 1` on the first line.";
    TOO_DEEP "LNG015" "too_deep": "blocks too deep in one another",
        "Blocks stand in one another at most 32 deep.",
        "No real job needs more; the file is damaged or made to do harm.",
        "Close blocks where they end.";
    WORDS_LEFT "LNG016" "words_left": "words left over",
        "A statement ends with a comma or the line's end.",
        "The words left over would be silently ignored, and somebody meant something by them.",
        "Put a comma between two statements, or take the words out.";
    BAD_INCLUDE "LNG017" "bad_include": "file that can't be brought in",
        "Included files, catalogs and standards exist, are readable, lie under the job's root and do not include themselves.",
        "Part of the job is missing.",
        "Correct the path, which is relative to the file it stands in.";
    IMPOSSIBLE_AMOUNT "LNG018" "impossible_amount": "amount that cannot be",
        "Amounts lie within what is possible at all: air is not at 930 F, and no humidity is above 100 %RH.",
        "A slipped key makes the whole computation wrong, and nobody sees it in the packet.",
        "Write the true amount; the page of the language lists what is possible.";
}
