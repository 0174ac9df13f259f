//! Fills `templates/packet.html`. The template escapes every text; drawings come escaped already.

use base64::Engine as _;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{AutoEscape, Environment, UndefinedBehavior, context};
use serde_json::{Map, Value};

use crate::packet::font::{FAMILY, FontFile, Weight};
use crate::packet::text::Words;

/// The web page could not be made; never for a packet whose template is the shipped one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageError(pub String);

impl std::fmt::Display for PageError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the web page could not be made: {}", self.0)
    }
}

impl std::error::Error for PageError {}

/// The words that templates ask for by themselves, under their last part.
pub(crate) fn template_words(words: &Words) -> Value {
    let map: Map<String, Value> = words
        .keys()
        .filter_map(|key| {
            let name = key.strip_prefix("template.")?.replace('-', "_");
            Some((name, Value::from(words.get(key)?)))
        })
        .collect();
    Value::Object(map)
}

fn font_faces() -> String {
    let faces = FontFile::ALL.map(|file| {
        let weight = match file.weight {
            Weight::Regular => 400,
            Weight::Bold => 700,
        };
        let bytes = base64::engine::general_purpose::STANDARD.encode(file.bytes);
        format!(
            "@font-face{{font-family:\"{FAMILY}\";font-weight:{weight};src:url(data:font/ttf;base64,{bytes}) format(\"truetype\")}}"
        )
    });
    faces.join("\n")
}

/// The web page of a packet in the form of [`super::super::page::packet_json`].
pub fn html(packet: &Value, words: &Words) -> Result<String, PageError> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_auto_escape_callback(|_| AutoEscape::Html);
    let failed = |error: minijinja::Error| PageError(error.to_string());
    let syntax = SyntaxConfig::builder()
        .trim_blocks(true)
        .lstrip_blocks(true)
        .build()
        .map_err(failed)?;
    environment.set_syntax(syntax);
    environment
        .add_template(
            "packet.html",
            include_str!("../../../templates/packet.html"),
        )
        .map_err(failed)?;
    let template = environment.get_template("packet.html").map_err(failed)?;
    template
        .render(context! {
            packet => Serde(packet),
            words => Serde(template_words(words)),
            fonts => font_faces(),
            style => include_str!("../../../templates/packet.css"),
        })
        .map_err(failed)
}
