//! The packet as one JSON value: what `packet.json` holds and what both templates read.

use serde_json::{Map, Value, json};

use super::block::{Blank, Block, Table, Tick};
use super::caution::Caution;
use super::digest::{packet_digest, page_digest};
use super::sheet::{Packet, Page};
use super::since::Since;
use crate::figures::Figure;
use crate::packet::text::{RunKind, Text, Words, plural, say};

fn runs(text: &Text, words: &Words) -> Value {
    let list = text.runs(words).into_iter().map(|run| {
        let mut map = Map::new();
        map.insert("kind".into(), json!(run.kind.word()));
        map.insert("text".into(), json!(run.text));
        match run.kind {
            RunKind::Figure(id) => map.insert("figure".into(), json!(id)),
            RunKind::Quote(place) => map.insert("place".into(), json!(place)),
            RunKind::Report(code) => map.insert("code".into(), json!(code)),
            RunKind::Words | RunKind::Tag | RunKind::Blank => None,
        };
        Value::Object(map)
    });
    Value::Array(list.collect())
}

fn caution_json(caution: &Caution, words: &Words) -> Value {
    json!({
        "hazard": caution.hazard.word(),
        "title": runs(&caution.hazard.title().into(), words),
        "text": runs(&caution.text, words),
        "sign": caution.hazard.sign().svg(words),
    })
}

fn table_json(table: &Table, words: &Words) -> Value {
    let columns: Vec<Value> = table
        .columns
        .iter()
        .map(|column| {
            json!({
                "head": runs(&column.head, words),
                "label": column.head.plain(words),
                "align": column.align.word(),
                "wide": column.wide,
            })
        })
        .collect();
    let rows: Vec<Value> = table
        .rows
        .iter()
        .map(|row| {
            let cells: Vec<Value> = row.cells.iter().map(|cell| runs(cell, words)).collect();
            json!({ "strong": row.strong, "cells": cells })
        })
        .collect();
    json!({ "kind": "table", "columns": columns, "rows": rows })
}

fn tick_json(tick: &Tick, words: &Words) -> Value {
    let cautions: Vec<Value> = tick
        .cautions
        .iter()
        .map(|c| caution_json(c, words))
        .collect();
    json!({ "text": runs(&tick.text, words), "cautions": cautions })
}

fn blank_json(blank: &Blank, words: &Words) -> Value {
    json!({
        "name": runs(&blank.name, words),
        "expected": runs(&blank.expected, words),
        "unit": runs(&blank.unit, words),
    })
}

fn block_json(block: &Block, words: &Words) -> Value {
    match block {
        Block::Heading(text) => json!({ "kind": "heading", "text": runs(text, words) }),
        Block::Paragraph(text) => json!({ "kind": "paragraph", "text": runs(text, words) }),
        Block::Note(text) => json!({ "kind": "note", "text": runs(text, words) }),
        Block::Facts(facts) => {
            let facts: Vec<Value> = facts
                .iter()
                .map(|fact| {
                    json!({
                        "name": runs(&fact.name, words),
                        "value": runs(&fact.value, words),
                        "big": fact.big,
                    })
                })
                .collect();
            json!({ "kind": "facts", "facts": facts })
        }
        Block::Table(table) => table_json(table, words),
        Block::Ticks(ticks) => {
            let ticks: Vec<Value> = ticks.iter().map(|tick| tick_json(tick, words)).collect();
            json!({ "kind": "ticks", "ticks": ticks })
        }
        Block::Caution(caution) => {
            json!({ "kind": "caution", "caution": caution_json(caution, words) })
        }
        Block::Drawing { title, scene } => {
            let area = scene.area();
            json!({
                "kind": "drawing",
                "title": runs(title, words),
                "svg": scene.svg(words),
                "alternative": scene.alternative(words),
                "width": area.width,
                "height": area.height,
            })
        }
        Block::Blanks(blanks) => {
            let blanks: Vec<Value> = blanks
                .iter()
                .map(|blank| blank_json(blank, words))
                .collect();
            json!({ "kind": "blanks", "blanks": blanks })
        }
        Block::Contents => json!({ "kind": "contents" }),
    }
}

fn page_json(page: &Page, digest: &str, since: Option<&Since>, words: &Words) -> Value {
    let trades: Vec<Value> = page
        .trades
        .iter()
        .map(|trade| json!({ "id": trade.word(), "title": Text::from(trade.title()).plain(words) }))
        .collect();
    let blocks: Vec<Value> = page
        .blocks
        .iter()
        .map(|block| block_json(block, words))
        .collect();
    let kept = since.filter(|since| since.holds(page, digest));
    json!({
        "id": page.id,
        "title": runs(&page.title, words),
        "trades": trades,
        "sideways": page.sideways,
        "digest": digest,
        "kept": kept.map(|since| runs(&since.mark(), words)),
        "blocks": blocks,
    })
}

/// What a draft says on every page.
fn draft_json(errors: usize, words: &Words) -> Value {
    let count = Figure::count("draft.errors", errors);
    let text = plural(say("draft.one"), say("draft.many"), &count);
    json!({ "errors": errors, "text": runs(&text.into(), words) })
}

/// The whole packet, ready for `packet.json` and for the templates.
///
/// `since` is said on the cover and beside the pages that stand as they were; digests leave it out, so that
/// the same job has the same letters wherever it is printed.
pub fn packet_json(packet: &Packet<'_>, since: Option<&Since>, words: &Words) -> Value {
    let job = &packet.job;
    let sheets: Vec<(&Page, String)> = packet
        .pages
        .iter()
        .map(|page| (page, page_digest(page, packet.ledger, words).short()))
        .collect();
    let mut pages: Vec<Value> = sheets
        .iter()
        .map(|(page, digest)| page_json(page, digest, since, words))
        .collect();
    let cover = pages
        .iter_mut()
        .find(|page| page.get("id").is_some_and(|id| id == "cover"))
        .and_then(|cover| cover.get_mut("blocks")?.as_array_mut());
    if let (Some(since), Some(blocks)) = (since, cover) {
        let said = since.blocks(&sheets);
        blocks.extend(said.iter().map(|block| block_json(block, words)));
    }
    let digest = packet_digest(packet, words);
    json!({
        "tool": "bayrun",
        "version": env!("CARGO_PKG_VERSION"),
        "digest": digest.short(),
        "digest_whole": digest.hex(),
        "draft": job.draft.map(|errors| draft_json(errors, words)),
        "job": {
            "title": runs(&job.title, words),
            "title_plain": job.title.plain(words),
            "number": runs(&job.number, words),
            "number_plain": job.number.plain(words),
            "revision": runs(&job.revision, words),
            "revision_plain": job.revision.plain(words),
            "revised": runs(&job.revised, words),
        },
        "pages": pages,
    })
}
