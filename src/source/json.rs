//! The JSON face of findings: the fixed form that other programs read.

use serde_json::{Value, json};

use super::{Edit, Files, Finding, Label, Scalar, Span};

fn scalar(value: &Scalar) -> Value {
    match value {
        Scalar::Number(n) => json!(n),
        Scalar::Text(t) => json!(t),
        Scalar::Bool(b) => json!(b),
        Scalar::Pair(a, b) => json!([a, b]),
        Scalar::Words(words) => json!(words),
    }
}

fn place(files: &Files, span: Span) -> serde_json::Map<String, Value> {
    let at = files.position(span);
    let mut map = serde_json::Map::new();
    map.insert("file".into(), json!(files.name(span.file)));
    map.insert("line".into(), json!(at.line));
    map.insert("column".into(), json!(at.column));
    map.insert("end_line".into(), json!(at.end_line));
    map.insert("end_column".into(), json!(at.end_column));
    map
}

/// One label: its place and its text.
pub fn label_json(files: &Files, label: &Label) -> Value {
    let mut map = place(files, label.span);
    map.insert("text".into(), json!(label.text));
    Value::Object(map)
}

/// One finding in the form that `check --format json` promises.
pub fn finding_json(files: &Files, finding: &Finding) -> Value {
    let mut map = serde_json::Map::new();
    map.insert("code".into(), json!(finding.kind.code));
    map.insert("name".into(), json!(finding.kind.name));
    map.insert("severity".into(), json!(finding.severity.word()));
    map.insert("message".into(), json!(finding.message));
    map.extend(place(files, finding.span));
    let (found, needed) = match &finding.measured {
        Some((found, needed)) => (
            json!({ "value": scalar(&found.value), "unit": found.unit }),
            json!({
                "relation": needed.relation.words(),
                "value": scalar(&needed.shown.value),
                "unit": needed.shown.unit,
            }),
        ),
        None => (Value::Null, Value::Null),
    };
    map.insert("found".into(), found);
    map.insert("needed".into(), needed);
    map.insert("help".into(), json!(finding.help));
    let edits: Vec<Value> = finding
        .edits
        .iter()
        .map(|edit| edit_json(files, edit))
        .collect();
    map.insert("edits".into(), Value::Array(edits));
    let labels: Vec<Value> = finding
        .labels
        .iter()
        .map(|label| label_json(files, label))
        .collect();
    map.insert("labels".into(), Value::Array(labels));
    map.insert("source".into(), json!(finding.source_text()));
    map.insert("waived".into(), json!(finding.waived));
    Value::Object(map)
}

/// A change of text: its place and what to put there.
pub fn edit_json(files: &Files, edit: &Edit) -> Value {
    let mut map = place(files, edit.span);
    map.insert("text".into(), json!(edit.text));
    Value::Object(map)
}

/// One file that could not be read, for `failed`.
pub fn failed_json(file: &str, message: &str) -> Value {
    json!({ "file": file, "message": message })
}
