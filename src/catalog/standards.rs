//! Shop standards: thresholds tightened or loosened, severities, preferred stock; and the root file `bayrun.yaml`.

use super::misread::Misread;
use super::misread::amount_finding;
use super::node::{Node, Value};
use super::reading::{Field, Reading};
use super::record::record;
use super::shelf::{Placed, Shelf};
use super::stated::{Readable, Stated};
use super::yaml::tree;
use crate::quantity::{Dimension, Quantity, QuantityError, read_all};
use crate::source::{FileId, Finding, Severity, Span};

/// An amount whose dimension is known to the rule that it belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Words(String);

impl Readable for Words {
    /// Any amount will do: which dimension it takes, the rule says.
    fn parse(text: &str) -> Result<Self, Misread> {
        let mut first = None;
        for dimension in Dimension::ALL {
            match read_all(text, *dimension) {
                Ok(_) => return Ok(Self(text.to_owned())),
                Err(error) => {
                    let told = matches!(
                        error,
                        QuantityError::UnknownUnit {
                            nearest: Some(_),
                            ..
                        } | QuantityError::Number { .. }
                    );
                    if told && first.is_none() {
                        first = Some(Misread::Amount(error, *dimension));
                    }
                }
            }
        }
        Err(first.unwrap_or(Misread::Form {
            range: (0, text.len()),
            wanted: "a threshold is a number with its unit",
            example: "20 in",
        }))
    }

    fn name() -> String {
        "threshold".to_owned()
    }

    fn schema() -> schemars::Schema {
        schemars::json_schema!({ "type": ["string", "number"], "title": "an amount with its unit" })
    }
}

/// A threshold as the shop sets it.
#[derive(Clone, Debug)]
pub struct Threshold {
    words: Stated<Words>,
    /// The amount.
    pub span: Span,
}

impl Threshold {
    /// The amount as written.
    pub fn text(&self) -> &str {
        self.words.as_ref().map_or("", |words| words.0.as_str())
    }

    /// The amount in the dimension that the rule wants, or a finding at its words.
    pub fn quantity(
        &self,
        name: &str,
        dimension: Dimension,
        findings: &mut Vec<Finding>,
    ) -> Option<Quantity> {
        let words = self.words.as_ref()?;
        match read_all(&words.0, dimension) {
            Ok(quantity) => Some(quantity),
            Err(error) => {
                // A scalar's place may hold quotes; the whole of it is near enough here.
                findings.push(amount_finding(&error, dimension, &words.0, name, |_, _| {
                    self.span
                }));
                None
            }
        }
    }
}

impl Placed for Threshold {
    fn span(&self) -> Span {
        self.span
    }
}

/// The thresholds that the shop sets for one rule.
#[derive(Clone, Debug)]
pub struct RuleThresholds {
    /// The key: the rule's code or name.
    pub span: Span,
    /// The thresholds by name.
    pub by_name: Shelf<Threshold>,
}

impl Placed for RuleThresholds {
    fn span(&self) -> Span {
        self.span
    }
}

impl Field for Threshold {
    const REQUIRED: bool = true;

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        let words: Stated<Words> = Stated::read(node, reading);
        Self {
            span: words.span,
            words,
        }
    }

    fn absent(at: Span) -> Self {
        Self {
            words: Stated::absent(at),
            span: at,
        }
    }
}

impl schemars::JsonSchema for Threshold {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Threshold".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        Words::schema()
    }
}

impl Field for RuleThresholds {
    const REQUIRED: bool = true;

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        Self {
            span: node.span,
            by_name: Shelf::read(node, reading),
        }
    }

    fn absent(at: Span) -> Self {
        Self {
            span: at,
            by_name: Shelf::default(),
        }
    }
}

impl schemars::JsonSchema for RuleThresholds {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "RuleThresholds".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        generator.subschema_for::<Shelf<Threshold>>()
    }
}

record! {
    /// Shop standards.
    Standards, "shop standards" {
        /// What the file is.
        about: Option<Stated<String>>,
        /// Thresholds by rule (code or name), then by the threshold's name.
        thresholds: Shelf<RuleThresholds>,
        /// Severities by rule (code or name).
        severities: Shelf<Stated<Severity>>,
        /// Preferred stock by purpose (`trunk`, `tube`, `drain`, …).
        preferred_stock: Shelf<Stated<String>>,
    }

    /// The root file `bayrun.yaml`: it marks the folder that every path stays under.
    Root, "the root file" {
        /// What the folder is.
        about: Option<Stated<String>>,
        /// Shop standards for jobs that name none, as a path from this folder.
        standards: Option<Stated<String>>,
    }
}

fn whole<F: Field>(file: FileId, text: &str, findings: &mut Vec<Finding>) -> F {
    let mut own = Vec::new();
    let read = match tree(file, text, &mut own) {
        // An empty file, or comments alone, sets nothing.
        Some(Node {
            value: Value::Nothing,
            span,
            ..
        }) => F::absent(span),
        Some(node) => {
            let mut reading = Reading::new(file, text, &mut own);
            F::read(&node, &mut reading)
        }
        None => F::absent(Span::new(file, 0, 0)),
    };
    findings.append(&mut own);
    read
}

impl Default for Standards {
    fn default() -> Self {
        Self::absent(Span::new(FileId::own(0), 0, 0))
    }
}

impl Standards {
    /// Reads shop standards. Whether a rule or threshold of that name exists is for the rules to say.
    pub fn read(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Self {
        whole(file, text, findings)
    }

    /// The shop's threshold `name` for the rule known by `code` and `rule`.
    pub fn threshold(&self, code: &str, rule: &str, name: &str) -> Option<&Threshold> {
        let of = |key| self.thresholds.get(key)?.by_name.get(name);
        of(code).or_else(|| of(rule))
    }

    /// The shop's severity for the rule known by `code` and `rule`, with its place.
    pub fn severity(&self, code: &str, rule: &str) -> Option<(Severity, Span)> {
        let stated = self
            .severities
            .get(code)
            .or_else(|| self.severities.get(rule))?;
        Some((stated.get()?, stated.span))
    }

    /// The stock that the shop prefers for `purpose`, with its place.
    pub fn preferred(&self, purpose: &str) -> Option<(&str, Span)> {
        let stated = self.preferred_stock.get(purpose)?;
        Some((stated.as_ref()?.as_str(), stated.span))
    }
}

impl Root {
    /// Reads the root file.
    pub fn read(file: FileId, text: &str, findings: &mut Vec<Finding>) -> Self {
        whole(file, text, findings)
    }
}
