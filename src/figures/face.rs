//! The ledger as JSON, CSV and words, and the derivation of one figure as a tree.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::{Value, json};

use super::{Figure, FigureValue, Input, Ledger};
use crate::source::Files;

const DEEPEST: usize = 24;

fn value_json(value: &FigureValue) -> Value {
    match value {
        FigureValue::Length(length) => json!(length.to_inches()),
        FigureValue::Slope(slope) => json!(slope.in_per_ft()),
        FigureValue::Number(number, _) => json!(number),
        FigureValue::Text(text) => json!(text),
        FigureValue::Bool(yes) => json!(yes),
        FigureValue::Unknown(_) => Value::Null,
    }
}

fn input_json(files: &Files, input: &Input) -> Value {
    match input {
        Input::Figure(id) => json!({ "figure": id }),
        Input::Place { span, text } => {
            let at = files.position(*span);
            json!({ "file": files.name(span.file), "line": at.line, "column": at.column, "text": text })
        }
        Input::Standard(words) => json!({ "standard": words }),
    }
}

/// One figure in the form that `figures --format json` promises.
pub fn figure_json(files: &Files, figure: &Figure) -> Value {
    let inputs: Vec<Value> = figure
        .inputs
        .iter()
        .map(|input| input_json(files, input))
        .collect();
    let mut map = serde_json::Map::new();
    map.insert("id".into(), json!(figure.id));
    map.insert("value".into(), value_json(&figure.value));
    if let FigureValue::Unknown(reason) = &figure.value {
        map.insert("reason".into(), json!(reason));
    }
    map.insert("unit".into(), json!(figure.unit()));
    map.insert("formula".into(), json!(figure.formula));
    map.insert("inputs".into(), Value::Array(inputs));
    map.insert("source".into(), json!(figure.source));
    Value::Object(map)
}

/// The whole ledger of `job`.
pub fn ledger_json(job: &str, files: &Files, ledger: &Ledger) -> Value {
    let figures: Vec<Value> = ledger
        .iter()
        .map(|figure| figure_json(files, figure))
        .collect();
    json!({ "job": job, "figures": figures })
}

fn input_words(files: &Files, input: &Input) -> String {
    match input {
        Input::Figure(id) => id.clone(),
        Input::Place { span, text } => format!("{} `{text}`", files.place(*span)),
        Input::Standard(words) => words.clone(),
    }
}

fn plain_value(figure: &Figure) -> String {
    match &figure.value {
        FigureValue::Text(text) => text.clone(),
        FigureValue::Bool(yes) => yes.to_string(),
        FigureValue::Unknown(_) => String::new(),
        _ => figure.real().map(|n| n.to_string()).unwrap_or_default(),
    }
}

/// The ledger as CSV: id, value, unit, formula, inputs joined by `; `, source.
pub fn figures_csv(files: &Files, ledger: &Ledger) -> String {
    let mut out = csv::Writer::from_writer(Vec::new());
    let mut row = |cells: [&str; 6]| out.write_record(cells).is_ok();
    let mut whole = row(["id", "value", "unit", "formula", "inputs", "source"]);
    for figure in ledger.iter() {
        let inputs: Vec<String> = figure
            .inputs
            .iter()
            .map(|input| input_words(files, input))
            .collect();
        let (value, inputs) = (plain_value(figure), inputs.join("; "));
        let unit = figure.unit().unwrap_or("");
        whole &= row([
            &figure.id,
            &value,
            unit,
            &figure.formula,
            &inputs,
            &figure.source,
        ]);
    }
    // Writing to memory does not fail; an empty list would show it if it did.
    if !whole {
        return String::new();
    }
    out.into_inner()
        .ok()
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .unwrap_or_default()
}

/// The ledger as two aligned columns.
pub fn figures_human(ledger: &Ledger) -> String {
    let wide = ledger
        .iter()
        .map(|figure| figure.id.len())
        .max()
        .unwrap_or(0);
    let mut out = String::new();
    for figure in ledger.iter() {
        let _ = writeln!(out, "{:wide$}  {}", figure.id, figure.shown().text);
    }
    out
}

/// The derivation of figure `id` as a tree in words, down to `file:line`.
pub fn why_human(files: &Files, ledger: &Ledger, id: &str) -> Option<String> {
    let figure = ledger.get(id)?;
    let mut tree = Tree {
        out: String::new(),
        files,
        ledger,
        told: BTreeSet::new(),
    };
    branch(&mut tree, figure, "", "", 0);
    Some(tree.out)
}

/// A derivation in the making; what was told once is not told again.
struct Tree<'a> {
    out: String,
    files: &'a Files,
    ledger: &'a Ledger,
    told: BTreeSet<&'a str>,
}

fn branch<'a>(tree: &mut Tree<'a>, figure: &'a Figure, first: &str, rest: &str, depth: usize) {
    let (files, ledger) = (tree.files, tree.ledger);
    let value = figure.shown().text;
    if !tree.told.insert(&figure.id) {
        let _ = writeln!(tree.out, "{first}{} = {value}, as above", figure.id);
        return;
    }
    let out = &mut tree.out;
    let _ = writeln!(out, "{first}{} = {value}", figure.id);
    let bar = if figure.inputs.is_empty() {
        "   "
    } else {
        "│  "
    };
    let _ = writeln!(out, "{rest}{bar}{} [{}]", figure.formula, figure.source);
    for (n, input) in figure.inputs.iter().enumerate() {
        let last = n + 1 == figure.inputs.len();
        let (first, below) = if last {
            ("└─ ", "   ")
        } else {
            ("├─ ", "│  ")
        };
        let (first, below) = (format!("{rest}{first}"), format!("{rest}{below}"));
        match input {
            Input::Figure(id) => match ledger.get(id) {
                Some(next) if depth < DEEPEST => {
                    branch(tree, next, &first, &below, depth + 1);
                }
                _ => {
                    let _ = writeln!(tree.out, "{first}{id}");
                }
            },
            other => {
                let _ = writeln!(tree.out, "{first}{}", input_words(files, other));
            }
        }
    }
}

/// The derivation of figure `id` as nested JSON; a figure that stands in it already is named, not told again.
pub fn why_json(files: &Files, ledger: &Ledger, id: &str) -> Option<Value> {
    let mut told = BTreeSet::new();
    ledger
        .get(id)
        .map(|figure| nested(files, ledger, figure, &mut told, 0))
}

fn nested<'a>(
    files: &Files,
    ledger: &'a Ledger,
    figure: &'a Figure,
    told: &mut BTreeSet<&'a str>,
    depth: usize,
) -> Value {
    told.insert(&figure.id);
    let mut value = figure_json(files, figure);
    let inputs: Vec<Value> = figure
        .inputs
        .iter()
        .map(|input| match input {
            Input::Figure(id) if depth < DEEPEST && !told.contains(id.as_str()) => {
                match ledger.get(id) {
                    Some(next) => nested(files, ledger, next, told, depth + 1),
                    None => input_json(files, input),
                }
            }
            other => input_json(files, other),
        })
        .collect();
    if let Some(map) = value.as_object_mut() {
        map.insert("inputs".into(), Value::Array(inputs));
    }
    value
}
