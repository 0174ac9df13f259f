//! JSON Schemas of the files, from the types that read them.

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde_json::{Map, Value, json};

use super::Catalog;
use super::reading::{Field, key_of};
use super::standards::Standards;
use super::stated::MAKER_SILENT;

/// The schema of one mapping while its fields are added.
pub(super) struct Sheet {
    doc: &'static str,
    properties: Map<String, Value>,
    required: Vec<Value>,
}

impl Sheet {
    pub(super) fn new(doc: &'static str) -> Self {
        Self {
            doc,
            properties: Map::new(),
            required: Vec::new(),
        }
    }

    pub(super) fn field<F: Field>(
        &mut self,
        generator: &mut SchemaGenerator,
        field: &'static str,
        doc: &'static str,
    ) {
        let mut schema = F::schema(generator).to_value();
        // A single value says so itself; for a mapping or list it is added here.
        if !F::SINGLE {
            schema = json!({ "anyOf": [schema, { "const": MAKER_SILENT }] });
        }
        if let Some(map) = schema.as_object_mut() {
            map.insert("description".into(), json!(doc.trim()));
        }
        let key = key_of(field);
        if F::REQUIRED {
            self.required.push(json!(key));
        }
        self.properties.insert(key, schema);
    }

    pub(super) fn finish(self) -> Schema {
        let mut whole = Map::new();
        whole.insert("type".into(), json!("object"));
        whole.insert("description".into(), json!(self.doc.trim()));
        whole.insert("properties".into(), Value::Object(self.properties));
        if !self.required.is_empty() {
            whole.insert("required".into(), Value::Array(self.required));
        }
        // A merge key brings in the fields of an anchor.
        whole.insert("patternProperties".into(), json!({ "^<<$": true }));
        whole.insert("additionalProperties".into(), json!(false));
        Schema::from(whole)
    }
}

fn text<T: JsonSchema>() -> String {
    let schema = SchemaGenerator::default().into_root_schema_for::<T>();
    let mut out = serde_json::to_string_pretty(schema.as_value()).unwrap_or_default();
    out.push('\n');
    out
}

/// The schema of catalog files, as `grammar/catalog.schema.json` holds it.
pub fn catalog_schema() -> String {
    text::<Catalog>()
}

/// The schema of shop standards, as `grammar/standards.schema.json` holds it.
pub fn standards_schema() -> String {
    text::<Standards>()
}
