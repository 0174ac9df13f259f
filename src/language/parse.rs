//! Blocks and statements: reads a file's tokens against the table, with a block stack of its own,
//! so that a missing brace costs one finding and a bad line costs that line.

use crate::source::{FileId, Finding, Kind, Severity, Span, Why};

use super::entry::{Entry, Field, Value};
use super::impossible::impossible;
use super::load::Loader;
use super::matcher::{Cursor, Match};
use super::mend::Misfit;
use super::pattern::compile;
use super::table::{Need, TOP, Word, possible};
use super::token::{TokenKind, tokens};
use super::word_distance;

/// How deep blocks may stand in one another.
const DEEPEST: usize = 32;

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

/// The words that a block knows.
type Groups = &'static [&'static [Word]];

fn find(groups: Groups, words: &str) -> Option<&'static Word> {
    groups
        .iter()
        .copied()
        .flatten()
        .find(|word| word.word == words)
}

fn nearest(groups: Groups, words: &str) -> Option<&'static Word> {
    groups
        .iter()
        .copied()
        .flatten()
        .map(|word| (word_distance(word.word, words), word))
        .filter(|(distance, word)| *distance <= 1 + word.word.len() / 5)
        .min_by_key(|(distance, word)| (*distance, word.word))
        .map(|(_, word)| word)
}

struct OpenBlock {
    groups: Groups,
    head: Span,
    name: String,
}

/// Reads one file into entries; included files are read where they stand.
pub(super) fn read_file(
    loader: &mut Loader<'_>,
    file: FileId,
    text: &str,
    main: bool,
) -> Vec<Entry> {
    let all = tokens(text);
    let kept: Vec<_> = all
        .into_iter()
        .filter(|token| !token.kind.is_trivia())
        .collect();
    let cursor = Cursor {
        text,
        tokens: &kept,
        at: 0,
        file,
    };
    let mut parser = Parser {
        loader,
        cursor,
        open: Vec::new(),
        unwind: None,
    };
    parser.version(main);
    parser.body(TOP).0
}

struct Parser<'l, 'r, 'a> {
    loader: &'l mut Loader<'r>,
    cursor: Cursor<'a>,
    open: Vec<OpenBlock>,
    /// Set when a block was found unclosed: the number of open blocks to go back to.
    unwind: Option<usize>,
}

impl Parser<'_, '_, '_> {
    fn report(&mut self, finding: Finding) {
        self.loader.findings.push(finding);
    }

    fn version(&mut self, main: bool) {
        while self
            .cursor
            .peek()
            .is_some_and(|t| t.kind == TokenKind::Break)
        {
            self.cursor.at += 1;
        }
        let here = self.cursor.here();
        if self.cursor.peek_words() != "bayrun" {
            if main {
                let shown = if here.is_empty() {
                    here
                } else {
                    self.cursor.rest_of_clause()
                };
                let finding = Finding::new(
                    &VERSION_MISSING,
                    shown,
                    "the file does not start with the language version",
                    "put `bayrun 1` on the first line",
                )
                .edit(Span::new(here.file, 0, 0), "bayrun 1\n");
                self.report(finding);
            }
            return;
        }
        self.cursor.at += 1;
        let version = self.cursor.peek_words();
        let over = self.cursor.clause_over();
        if version == "1" {
            self.cursor.at += 1;
            return;
        }
        let span = if over { here } else { self.cursor.here() };
        let message = if over {
            "the language version lacks its number".to_owned()
        } else {
            format!("language version `{version}` is not one that this program reads")
        };
        let edit = Span::new(
            here.file,
            here.start,
            if over { here.end } else { span.end },
        );
        self.report(
            Finding::new(&VERSION_MISSING, span, message, "write `bayrun 1`")
                .edit(edit, "bayrun 1"),
        );
        while self
            .cursor
            .peek()
            .is_some_and(|t| t.kind != TokenKind::Break)
        {
            self.cursor.at += 1;
        }
    }

    /// Reads statements up to the block's end; says whether part of it was wrong, and where it ended.
    fn body(&mut self, groups: Groups) -> (Vec<Entry>, bool, Vec<&'static str>) {
        let mut entries: Vec<Entry> = Vec::new();
        let mut flawed = false;
        // Words that a misspelt one was most likely meant to be: not reported as missing as well.
        let mut meant: Vec<&'static str> = Vec::new();
        loop {
            if self.unwind.is_some() {
                return (entries, true, meant);
            }
            let Some(token) = self.cursor.peek() else {
                return (entries, flawed, meant);
            };
            match token.kind {
                TokenKind::Break | TokenKind::Comma => self.cursor.at += 1,
                TokenKind::Close => {
                    if !self.open.is_empty() {
                        return (entries, flawed, meant);
                    }
                    let span = self.cursor.span(token);
                    self.cursor.at += 1;
                    self.report(
                        Finding::new(&STRAY_CLOSE, span, "this `}` closes nothing", "take it out")
                            .edit(span, ""),
                    );
                }
                TokenKind::Word => {
                    let words = self.cursor.words(token);
                    if words == "end"
                        && !self.open.is_empty()
                        && find(groups, "end").is_none()
                        && self.alone()
                    {
                        return (entries, flawed, meant);
                    }
                    match find(groups, words) {
                        Some(word) => {
                            let entry = self.entry(word);
                            flawed |= entry.flawed;
                            self.twice(groups, &entries, &entry);
                            let included = self.bring_in(&entry);
                            entries.push(entry);
                            entries.extend(included);
                        }
                        None if self.belongs_above(words) => return (entries, true, meant),
                        None => {
                            flawed = true;
                            meant.extend(self.unknown_word(groups, words));
                        }
                    }
                }
                _ => {
                    flawed = true;
                    self.no_word(token.kind);
                }
            }
        }
    }

    /// Whether the word stands alone on its line, as `end` does.
    fn alone(&self) -> bool {
        let before = self
            .cursor
            .at
            .checked_sub(1)
            .and_then(|n| self.cursor.tokens.get(n));
        before.is_none_or(|t| t.kind == TokenKind::Break)
            && self
                .cursor
                .peek_at(1)
                .is_none_or(|t| t.kind == TokenKind::Break)
    }

    /// A word that this block does not know but one around it does, and that opens a block there:
    /// this block was not closed.
    fn belongs_above(&mut self, words: &str) -> bool {
        let Some(depth) = self
            .open
            .iter()
            .rposition(|block| find(block.groups, words).is_some())
        else {
            // The top level has no open block of its own.
            return self.at_top(words);
        };
        self.leave_to(depth + 1)
    }

    fn at_top(&mut self, words: &str) -> bool {
        if self.open.is_empty() || find(TOP, words).is_none_or(|word| !word.has_block()) {
            return false;
        }
        self.leave_to(0)
    }

    fn leave_to(&mut self, depth: usize) -> bool {
        let here = self.cursor.here();
        let Some(block) = self.open.get(depth) else {
            return false;
        };
        self.unwind = Some(depth);
        if self.brace_in_quote(block.head, here) {
            return true;
        }
        let finding = Finding::new(
            &UNCLOSED_BLOCK,
            block.head,
            format!("{} is not closed before the next block begins", block.name),
            "put `}` on a line of its own before it",
        )
        .label(here, "the next block begins here")
        .edit(Span::new(here.file, here.start, here.start), "}\n");
        self.report(finding);
        true
    }

    /// Whether a quote left open between the two places holds the brace that is missed: it is reported already.
    fn brace_in_quote(&self, head: Span, here: Span) -> bool {
        self.cursor.tokens.iter().any(|token| {
            token.kind == TokenKind::Unclosed
                && head.start <= token.start
                && token.start < here.start
                && self.cursor.words(*token).contains('}')
        })
    }

    fn unknown_word(&mut self, groups: Groups, words: &str) -> Option<&'static str> {
        let span = self.cursor.here();
        let near = nearest(groups, words);
        let inside = self.open.last().map_or_else(
            || "the file's top level".to_owned(),
            |block| block.name.clone(),
        );
        let elsewhere = super::all_words()
            .into_iter()
            .find(|(path, word)| word.word == words && !path.is_empty());
        let help = match (near, elsewhere) {
            (Some(near), _) => format!("write `{}`, as in `{}`", near.word, near.example),
            (None, Some((path, _))) => format!("it belongs into a block `{}`", path.join(" … ")),
            (None, None) => {
                let known: Vec<&str> = groups
                    .iter()
                    .copied()
                    .flatten()
                    .take(8)
                    .map(|word| word.word)
                    .collect();
                format!("{inside} knows words such as `{}`", known.join("`, `"))
            }
        };
        let mut finding = Finding::new(
            &UNKNOWN_WORD,
            span,
            format!("`{words}` is not a word of {inside}"),
            help,
        );
        if let Some(near) = near {
            finding = finding.edit(span, near.word);
        }
        self.report(finding);
        self.skip(groups);
        near.map(|word| word.word)
    }

    fn no_word(&mut self, kind: TokenKind) {
        let span = self.cursor.rest_of_clause();
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        let finding = match kind {
            TokenKind::Unclosed => Finding::new(
                &UNCLOSED_STRING,
                self.cursor.here(),
                "this quote is not closed on its line",
                "put the closing `\"`",
            ),
            TokenKind::Open => Finding::new(
                &WORD_MISPLACED,
                self.cursor.here(),
                "this block has no word before it",
                "put the word and name before `{`, as in `room den on first {`",
            ),
            _ => Finding::new(
                &WORDS_LEFT,
                span,
                "a statement starts with a word, and this does not",
                "put the word before it, or take it out",
            ),
        };
        self.report(finding);
        self.skip(groups);
    }

    /// Goes on to the next statement: past commas that are followed by no known word, past whole blocks.
    fn skip(&mut self, groups: Groups) {
        let mut depth = 0_usize;
        let mut first = true;
        while let Some(token) = self.cursor.peek() {
            match token.kind {
                TokenKind::Open => depth += 1,
                TokenKind::Close if depth == 0 => return,
                TokenKind::Close => depth -= 1,
                TokenKind::Break if depth == 0 => return,
                TokenKind::Comma if depth == 0 && !first => {
                    let known = self.cursor.peek_at(1).is_some_and(|t| {
                        t.kind == TokenKind::Word && find(groups, self.cursor.words(t)).is_some()
                    });
                    if known {
                        return;
                    }
                }
                // A block that is skipped and never closed must not swallow the house.
                TokenKind::Word if depth > 0 => {
                    let starts = self
                        .cursor
                        .at
                        .checked_sub(1)
                        .and_then(|n| self.cursor.tokens.get(n))
                        .is_some_and(|t| t.kind == TokenKind::Break);
                    let words = self.cursor.words(token);
                    if starts
                        && find(TOP, words).is_some_and(Word::has_block)
                        && find(groups, words).is_none()
                    {
                        return;
                    }
                }
                _ => {}
            }
            first = false;
            self.cursor.at += 1;
        }
    }

    fn entry(&mut self, word: &'static Word) -> Entry {
        let word_span = self.cursor.here();
        self.cursor.at += 1;
        let pattern = compile(word.pattern);
        let mut matching = Match {
            cursor: &mut self.cursor,
            lets: &self.loader.lets,
            word: word.word,
            example: word.example,
            fields: Vec::new(),
        };
        let fit = matching.read(pattern);
        let mut fields = matching.fields;
        let mut flawed = false;
        let misfit = match fit {
            Err(finding) => Some(*finding),
            Ok(()) if self.cursor.clause_over() => None,
            Ok(()) => Some(self.words_left(word)),
        };
        if let Some(finding) = misfit {
            let touches = self.cursor.here().start == self.cursor.end_of_last().end;
            if let Some(mended) = self.report_misfit(word, word_span, finding) {
                fields = mended;
            } else {
                flawed = true;
                // `24O` is neither 24 nor anything else.
                if let (Some(last), true) = (fields.last_mut(), touches) {
                    last.value.value = Value::Bad;
                }
                self.pass_clause(word);
            }
        }
        self.refuse_impossible(word, &mut fields);
        let span = word_span.to(self.cursor.end_of_last());
        let mut entry = Entry {
            word,
            word_span,
            span,
            whole: span,
            fields,
            body: Vec::new(),
            flawed,
            body_flawed: false,
        };
        self.block(&mut entry);
        entry
    }

    /// Reports a misfit with the change of one word that would make the statement read, where there is one:
    /// then the statement counts as it reads with it.
    fn report_misfit(
        &mut self,
        word: &'static Word,
        word_span: Span,
        mut finding: Finding,
    ) -> Option<Vec<Field>> {
        let misfit = Misfit {
            cursor: &self.cursor,
            lets: &self.loader.lets,
            word,
            start: word_span.start,
        };
        let mended = finding
            .edits
            .is_empty()
            .then(|| misfit.mend())
            .flatten()
            .map(|mended| {
                if mended.mend.whole {
                    finding.span = mended.mend.edit.span;
                }
                finding.help = mended.mend.help;
                finding.edits.push(mended.mend.edit);
                (mended.fields, mended.end)
            });
        self.report(finding);
        let (fields, end) = mended?;
        self.cursor.at = self
            .cursor
            .tokens
            .iter()
            .position(|token| token.start >= end)
            .unwrap_or(self.cursor.tokens.len());
        Some(fields)
    }

    /// Amounts that cannot be are reported here, and what depends on them stays silent.
    fn refuse_impossible(&mut self, word: &'static Word, fields: &mut [Field]) {
        for field in fields {
            let Value::Amount(quantity) = field.value.value else {
                continue;
            };
            let Some(possible) = possible(word.word, quantity.dimension)
                .filter(|possible| !possible.holds(quantity.real()))
            else {
                continue;
            };
            let span = field.value.span;
            let words = self
                .cursor
                .text
                .get(span.start as usize..span.end as usize)
                .unwrap_or("");
            let finding = impossible(possible, quantity.real(), words, span, word.example);
            field.value.value = Value::Bad;
            self.report(finding);
        }
    }

    fn words_left(&self, word: &'static Word) -> Finding {
        let span = self.cursor.rest_of_clause();
        let next = self.cursor.peek_words();
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        let begins = find(groups, next).or_else(|| find(word.body, next));
        let help = match begins {
            Some(next) => format!("put a comma or a new line before `{}`", next.word),
            None if matches!(next, "=" | ":") => {
                format!("leave `{next}` out, as in `{}`", word.example)
            }
            None if word.pattern.contains(&format!(", {next} ")) => {
                format!("put a comma before `{next}`, as in `{}`", word.example)
            }
            None if next == ";" => "a comma or a new line ends a statement".to_owned(),
            None => format!("write it as in `{}`", word.example),
        };
        let finding = Finding::new(
            &WORDS_LEFT,
            span,
            format!("these words do not belong to `{}`", word.word),
            help,
        );
        if begins.is_some() {
            let before = self.cursor.end_of_last();
            return finding.edit(before, ",");
        }
        finding
    }

    /// After a misfit: on to the statement's end, or to its block.
    fn pass_clause(&mut self, word: &'static Word) {
        let groups = self.open.last().map_or(TOP, |block| block.groups);
        while let Some(token) = self.cursor.peek() {
            match token.kind {
                TokenKind::Break | TokenKind::Close => return,
                TokenKind::Open if word.has_block() => return,
                TokenKind::Open => return self.skip(groups),
                TokenKind::Comma => {
                    let known = self.cursor.peek_at(1).is_some_and(|t| {
                        t.kind == TokenKind::Word && find(groups, self.cursor.words(t)).is_some()
                    });
                    if known {
                        return;
                    }
                    self.cursor.at += 1;
                }
                _ => self.cursor.at += 1,
            }
        }
    }

    fn block(&mut self, entry: &mut Entry) {
        let word = entry.word;
        let name = entry
            .fields
            .iter()
            .find_map(|field| match (&field.value.value, field.slot) {
                (super::Value::Word(name), "name") => Some(format!("`{} {name}`", word.word)),
                (super::Value::Text(title), "title") => {
                    Some(format!("`{} \"{title}\"`", word.word))
                }
                _ => None,
            })
            .unwrap_or_else(|| format!("`{}`", word.word));
        let open = self
            .cursor
            .peek()
            .is_some_and(|t| t.kind == TokenKind::Open);
        let brace_lost = !open && word.has_block() && self.body_follows(word);
        if brace_lost {
            let end = self.cursor.end_of_last();
            self.report(
                Finding::new(
                    &WORD_MISPLACED,
                    entry.span,
                    format!("{name} lacks the `{{` that opens its block"),
                    "put `{` at the end of this line",
                )
                .edit(end, " {"),
            );
        } else if !open {
            if word.has_block() && !entry.flawed {
                self.missing(entry, &name, &[]);
            }
            return;
        }
        let brace = self.cursor.here();
        if !word.has_block() {
            entry.flawed = true;
            self.report(Finding::new(
                &WORD_MISPLACED,
                brace,
                format!("`{}` has no block", word.word),
                format!("write it as in `{}`", word.example),
            ));
            let groups = self.open.last().map_or(TOP, |block| block.groups);
            self.skip(groups);
            return;
        }
        if self.open.len() >= DEEPEST {
            entry.flawed = true;
            self.report(Finding::new(
                &TOO_DEEP,
                brace,
                format!("blocks stand more than {DEEPEST} deep in one another here"),
                "close blocks where they end",
            ));
            self.skip(&[]);
            return;
        }
        if open {
            self.cursor.at += 1;
        }
        let depth = self.open.len();
        self.open.push(OpenBlock {
            groups: word.body,
            head: entry.span,
            name: name.clone(),
        });
        let (body, flawed, meant) = self.body(word.body);
        self.open.truncate(depth);
        entry.body = body;
        entry.body_flawed = flawed;
        if let Some(target) = self.unwind {
            if target == depth {
                self.unwind = None;
            }
            entry.whole = entry.span.to(self.cursor.end_of_last());
            return self.missing(entry, &name, &meant);
        }
        match self.cursor.peek() {
            // `}` or a line `end`.
            Some(_) => {
                self.cursor.at += 1;
                entry.whole = entry.span.to(self.cursor.end_of_last());
                self.after_block();
            }
            None => {
                entry.whole = entry.span.to(self.cursor.end_of_last());
                // Several blocks left open by one missing brace: the innermost tells it.
                let end = Span::new(entry.span.file, u32::MAX, u32::MAX);
                if !self.loader.unclosed_reported && !self.brace_in_quote(entry.span, end) {
                    self.loader.unclosed_reported = true;
                    self.report(Finding::new(
                        &UNCLOSED_BLOCK,
                        entry.span,
                        format!("{name} is not closed before the file ends"),
                        "put `}` where it ends",
                    ));
                }
            }
        }
        self.missing(entry, &name, &meant);
    }

    /// Whether the next line starts with a word of this block that the block around it does not know.
    fn body_follows(&self, word: &'static Word) -> bool {
        let rest = self.cursor.tokens.get(self.cursor.at..).unwrap_or(&[]);
        let around = self.open.last().map_or(TOP, |block| block.groups);
        rest.iter()
            .find(|token| token.kind != TokenKind::Break)
            .is_some_and(|token| {
                let words = self.cursor.words(*token);
                rest.first()
                    .is_some_and(|first| first.kind == TokenKind::Break)
                    && token.kind == TokenKind::Word
                    && find(word.body, words).is_some()
                    && find(around, words).is_none()
            })
    }

    fn after_block(&mut self) {
        if !self.cursor.clause_over() {
            let span = self.cursor.rest_of_clause();
            self.report(Finding::new(
                &WORDS_LEFT,
                span,
                "words follow a closing brace on its line",
                "put them on a line of their own",
            ));
            while !self.cursor.clause_over() {
                self.cursor.at += 1;
            }
        }
    }

    fn missing(&mut self, entry: &Entry, name: &str, meant: &[&'static str]) {
        let lacking: Vec<&'static Word> = entry
            .word
            .body
            .iter()
            .copied()
            .flatten()
            .filter(|word| {
                word.need == Need::One
                    && !meant.contains(&word.word)
                    && entry.child(word.word).is_none()
            })
            .collect();
        let Some(first) = lacking.first() else { return };
        // A quote left open swallows the rest of its line, where the lacking words may stand.
        let swallowed = self.cursor.tokens.iter().any(|token| {
            token.kind == TokenKind::Unclosed
                && entry.whole.start <= token.start
                && token.start < entry.whole.end
        });
        if swallowed {
            return;
        }
        let words: Vec<String> = lacking
            .iter()
            .map(|word| format!("`{}`", word.word))
            .collect();
        self.report(Finding::new(
            &MISSING_WORD,
            entry.span,
            format!("{name} lacks {}", words.join(" and ")),
            format!(
                "add a line such as `{}`; a value not known yet is `to measure`",
                first.example
            ),
        ));
    }

    fn twice(&mut self, groups: Groups, entries: &[Entry], entry: &Entry) {
        let once = groups
            .iter()
            .copied()
            .flatten()
            .any(|w| w.word == entry.word.word && w.need != Need::Many);
        if !once {
            return;
        }
        if let Some(first) = entries
            .iter()
            .find(|other| std::ptr::eq(other.word, entry.word))
        {
            let finding = Finding::new(
                &GIVEN_TWICE,
                entry.span,
                format!("`{}` is said twice", entry.word.word),
                "keep the right one",
            )
            .label(first.span, "first given here")
            .edit(entry.span, "");
            self.report(finding);
        }
    }

    /// An `include` or `let` at the top: reads the file, or keeps the value.
    fn bring_in(&mut self, entry: &Entry) -> Vec<Entry> {
        if !self.open.is_empty() || entry.flawed {
            return Vec::new();
        }
        match entry.word.word {
            "include" => self.loader.include(entry),
            "let" => {
                self.loader.name_value(entry);
                Vec::new()
            }
            _ => Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use crate::language::{Limits, Loaded, Root, all_words, compile, load};
    use crate::source::Memory;

    fn read(text: &str) -> Loaded {
        let reader = Memory::default().with("/j/a.bay", text);
        let root = Root::of(&reader, Path::new("/j/a.bay"), None).unwrap();
        load(
            &reader,
            &root,
            Path::new("/j/a.bay"),
            "a.bay",
            Limits::default(),
        )
        .unwrap()
    }

    fn codes(text: &str) -> Vec<(String, String)> {
        let loaded = read(text);
        loaded
            .findings
            .iter()
            .map(|f| (f.kind.code.to_owned(), loaded.files.text(f.span).to_owned()))
            .collect()
    }

    #[test]
    fn every_pattern_of_the_table_is_well_formed_and_every_example_reads() {
        for (path, word) in all_words() {
            let _ = compile(word.pattern);
            let opens = word.pattern.matches('[').count();
            assert_eq!(opens, word.pattern.matches(']').count(), "{}", word.word);
            let text = format!(
                "bayrun 1\n{}{}{}\n",
                path.iter().map(|w| opener(w)).collect::<String>(),
                word.example,
                "\n}".repeat(path.len())
            );
            let wrong: Vec<_> = codes(&text)
                .into_iter()
                .filter(|(code, _)| !matches!(code.as_str(), "LNG012" | "LNG017"))
                .collect();
            assert!(wrong.is_empty(), "{path:?} {}: {wrong:?}", word.word);
        }
    }

    fn opener(word: &str) -> String {
        let found = all_words()
            .into_iter()
            .find(|(_, w)| w.word == word && w.has_block())
            .unwrap()
            .1;
        let head = found.example.split('{').next().unwrap().to_owned();
        format!("{head} {{\n")
    }

    #[test]
    fn a_bad_line_costs_that_line_alone() {
        let text = "bayrun 1\nstory a { floor 0 in, ceiling 8 cfm }\nroom r on a {\n  corner 1 ft, 2 ft\n  sise 3 ft x 4 ft\n  heating 12 ft\n  cooling sensible 3 kBtu/h, latent 1 kBtu/h\n}\n";
        assert_eq!(
            codes(text),
            [
                ("LNG003".to_owned(), "8 cfm".to_owned()),
                ("LNG001".to_owned(), "sise".to_owned()),
                ("LNG003".to_owned(), "12 ft".to_owned()),
            ]
        );
    }

    #[test]
    fn a_missing_brace_costs_one_finding() {
        let text = "bayrun 1\nroom r on a {\n corner 0 ft, 0 ft\n size 1 ft x 1 ft\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft }\n";
        let found = codes(text);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0], ("LNG010".to_owned(), "room r on a".to_owned()));
        assert_eq!(read(text).entries.len(), 2);
        let text = "bayrun 1\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft\n";
        assert_eq!(codes(text).len(), 1);
        let text = "bayrun 1\nroom s on a {\n corner 0 ft, 0 ft, size 1 ft x 1 ft }\n}\nstory b { floor 0 in, ceiling 8 ft }\n";
        assert_eq!(codes(text), [("LNG011".to_owned(), "}".to_owned())]);
    }

    #[test]
    fn end_closes_a_block_and_pasted_signs_are_understood() {
        let text = "bayrun 1\r\n\u{feff}room s on a {\r\n\tcorner 0 ft, 0 ft\r\n\tsize 12′ 6″ × 14’\r\n\tnote “from a phone”\r\nend\r\n";
        assert_eq!(codes(text), []);
    }

    #[test]
    fn shared_values_are_used_by_name() {
        let text = "bayrun 1\nlet h = 8 ft 2 in\nstory a { floor 0 in, ceiling h }\nstory b { floor hh, ceiling 8 ft }\n";
        assert_eq!(codes(text), [("LNG006".to_owned(), "hh".to_owned())]);
    }
}
