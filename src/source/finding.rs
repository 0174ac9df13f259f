//! The one finding type: what is wrong, where, found and needed, and what would mend it.

use super::{Kind, Severity, Span};

/// A number, a word, yes or no, or a pair for `between`.
#[derive(Clone, Debug, PartialEq)]
pub enum Scalar {
    /// A number in the unit that stands beside it.
    Number(f64),
    /// A word of the trade.
    Text(String),
    /// Yes or no.
    Bool(bool),
    /// Both ends of a range.
    Pair(f64, f64),
    /// Several words, for `one of`.
    Words(Vec<String>),
}

impl From<f64> for Scalar {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<&str> for Scalar {
    fn from(value: &str) -> Self {
        Self::Text(value.to_owned())
    }
}

impl From<String> for Scalar {
    fn from(value: String) -> Self {
        Self::Text(value)
    }
}

/// A value with its unit, ready for a report.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The value in `unit`.
    pub value: Scalar,
    /// The unit's printed name, none for words.
    pub unit: Option<&'static str>,
    /// How a person reads it (`1 3/4 in`).
    pub text: String,
}

impl Shown {
    /// A word: no unit.
    pub fn word(text: impl Into<String>) -> Self {
        let text = text.into();
        Self {
            value: Scalar::Text(text.clone()),
            unit: None,
            text,
        }
    }

    /// A count of things named in `text`'s own words.
    pub fn count(n: usize) -> Self {
        Self {
            value: Scalar::Number(n as f64),
            unit: None,
            text: n.to_string(),
        }
    }
}

/// How the found value has to stand to the needed one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// Found must not be smaller.
    AtLeast,
    /// Found must not be larger.
    AtMost,
    /// Found must lie in the pair.
    Between,
    /// Found must be the same.
    Equal,
    /// Found must differ.
    Not,
    /// Found must be among the words.
    OneOf,
}

impl Relation {
    /// The words that reports and JSON print.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtLeast => "at least",
            Self::AtMost => "at most",
            Self::Between => "between",
            Self::Equal => "equal",
            Self::Not => "not",
            Self::OneOf => "one of",
        }
    }
}

/// Two different numbers that read alike, with decimals added until they differ (nine at most).
fn told_apart(mut found: Shown, mut needed: Shown) -> (Shown, Shown) {
    let (Scalar::Number(a), Scalar::Number(b)) = (&found.value, &needed.value) else {
        return (found, needed);
    };
    if found.text != needed.text || a.to_bits() == b.to_bits() {
        return (found, needed);
    }
    // The unit as it was printed stands behind the last digit.
    let printed = needed.text.rsplit(|c: char| c.is_ascii_digit()).next();
    let unit = match (printed.unwrap_or_default(), needed.unit) {
        ("", Some(unit)) => format!(" {unit}"),
        (printed, _) => printed.to_owned(),
    };
    let with = |value: f64, digits: usize| {
        let text = format!("{value:.digits$}");
        format!("{}{unit}", text.trim_end_matches('0').trim_end_matches('.'))
    };
    let digits = (2..=9).find(|digits| with(*a, *digits) != with(*b, *digits));
    if let Some(digits) = digits {
        (found.text, needed.text) = (with(*a, digits), with(*b, digits));
    }
    (found, needed)
}

/// What was needed, and how it relates to what was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Needed {
    /// How found has to stand to it.
    pub relation: Relation,
    /// The needed value.
    pub shown: Shown,
}

/// A second place that the finding speaks of.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What to see there.
    pub text: String,
}

/// A change of text that would mend the finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// The words to replace; an empty range inserts.
    pub span: Span,
    /// What to put there.
    pub text: String,
}

/// One complaint, with a place and a way to mend it: the constructor asks for both.
#[derive(Clone, Debug)]
pub struct Finding {
    /// What sort it is.
    pub kind: &'static Kind,
    /// Severity after shop standards.
    pub severity: Severity,
    /// What is wrong: lower case, no full stop, present tense.
    pub message: String,
    /// The exact words at fault.
    pub span: Span,
    /// Found and needed, in the same unit: both or none.
    pub measured: Option<(Shown, Needed)>,
    /// What would mend it, with a value that passes where one can be computed.
    pub help: String,
    /// The same as changes of text, when it can be typed.
    pub edits: Vec<Edit>,
    /// Other places, most useful first.
    pub labels: Vec<Label>,
    /// The reason given by a waiver.
    pub waived: Option<String>,
    /// Source of the threshold used, when it is not the kind's own.
    pub source: Option<String>,
}

impl Finding {
    /// A finding of `kind` at the words `span`.
    pub fn new(
        kind: &'static Kind,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            kind,
            severity: kind.severity,
            message: message.into(),
            span,
            measured: None,
            help: help.into(),
            edits: Vec::new(),
            labels: Vec::new(),
            waived: None,
            source: None,
        }
    }

    /// Adds the value found and the value needed, told apart where rounding would make them read alike.
    #[must_use]
    pub fn measured(mut self, found: Shown, relation: Relation, needed: Shown) -> Self {
        let (found, needed) = told_apart(found, needed);
        self.measured = Some((
            found,
            Needed {
                relation,
                shown: needed,
            },
        ));
        self
    }

    /// Adds a second place.
    #[must_use]
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Adds a change of text that mends it.
    #[must_use]
    pub fn edit(mut self, span: Span, text: impl Into<String>) -> Self {
        self.edits.push(Edit {
            span,
            text: text.into(),
        });
        self
    }

    /// Sets the severity when it is not the kind's own.
    #[must_use]
    pub const fn severity(mut self, severity: Severity) -> Self {
        self.severity = severity;
        self
    }

    /// Names the source of the threshold used.
    #[must_use]
    pub fn source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }

    /// The source that reports print.
    pub fn source_text(&self) -> &str {
        self.source.as_deref().unwrap_or(self.kind.source)
    }
}

/// How many findings of each severity are left, and how many were waived or not checked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Errors left.
    pub error: usize,
    /// Warnings left.
    pub warning: usize,
    /// Advice left.
    pub advice: usize,
    /// Findings waived.
    pub waived: usize,
    /// Checks that could not be made.
    pub not_checked: usize,
}

impl Counts {
    /// Counts `findings`; waived ones are counted apart.
    pub fn of(findings: &[Finding], not_checked: usize) -> Self {
        let mut counts = Self {
            not_checked,
            ..Self::default()
        };
        for finding in findings {
            match (finding.waived.is_some(), finding.severity) {
                (true, _) => counts.waived += 1,
                (false, Severity::Error) => counts.error += 1,
                (false, Severity::Warning) => counts.warning += 1,
                (false, Severity::Advice) => counts.advice += 1,
            }
        }
        counts
    }
}
