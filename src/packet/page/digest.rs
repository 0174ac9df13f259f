//! Digests: two people who read the same eight letters hold the same page.
//!
//! A page's digest covers what it prints, the words of spec and catalog behind its figures, and the
//! program's version; not the job's revision, nor where in a file a word stands.

use std::collections::BTreeSet;

use super::block::Block;
use super::sheet::{Packet, Page};
use crate::figures::{Input, Ledger};
use crate::packet::text::Words;

/// Letters and digits that no handwriting or print confuses.
const ALPHABET: &[u8; 24] = b"3479ACDEFHJKMNPQRTVWXY68";
const PRINTED: usize = 8;

/// A digest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The printed form, eight letters in two groups.
    pub fn short(&self) -> String {
        let mut out = String::new();
        for (at, byte) in self.0.iter().take(PRINTED).enumerate() {
            if at == PRINTED / 2 {
                out.push('-');
            }
            let letter = ALPHABET.get(usize::from(*byte) % ALPHABET.len());
            out.push(char::from(letter.copied().unwrap_or(b'A')));
        }
        out
    }

    /// The whole digest in hexadecimal digits.
    pub fn hex(&self) -> String {
        blake3::Hash::from_bytes(self.0).to_hex().to_string()
    }
}

struct Mill(blake3::Hasher);

impl Mill {
    fn new() -> Self {
        let mut mill = Self(blake3::Hasher::new());
        mill.add("bayrun");
        mill.add(env!("CARGO_PKG_VERSION"));
        mill
    }

    /// Adds a text without byte order mark and with plain line ends; its length keeps neighbours apart.
    fn add(&mut self, text: &str) {
        let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
        self.0.update(&(text.len() as u64).to_le_bytes());
        self.0.update(text.as_bytes());
    }

    fn done(&self) -> Digest {
        Digest(*self.0.finalize().as_bytes())
    }
}

fn add_figure(mill: &mut Mill, ledger: &Ledger, id: &str, seen: &mut BTreeSet<String>) {
    let mut open = vec![id.to_owned()];
    while let Some(id) = open.pop() {
        if !seen.insert(id.clone()) {
            continue;
        }
        mill.add(&id);
        let Some(figure) = ledger.get(&id) else {
            continue;
        };
        mill.add(&figure.shown().text);
        mill.add(&figure.formula);
        mill.add(&figure.source);
        for input in &figure.inputs {
            match input {
                Input::Figure(id) => open.push(id.clone()),
                Input::Place { text, .. } => mill.add(text),
                Input::Standard(words) => mill.add(words),
            }
        }
    }
}

/// The digest of one page.
pub fn page_digest(page: &Page, ledger: &Ledger, words: &Words) -> Digest {
    let mut mill = Mill::new();
    mill.add(&page.id);
    let mut seen = BTreeSet::new();
    page.each_text(&mut |text| {
        mill.add(&text.plain(words));
        text.each_figure(&mut |id| add_figure(&mut mill, ledger, id, &mut seen));
    });
    for block in &page.blocks {
        if let Block::Drawing { scene, .. } = block {
            mill.add(&scene.svg(words));
        }
    }
    for text in &page.rests_on {
        mill.add(text);
    }
    mill.done()
}

/// The digest of the packet: all pages and all files.
pub fn packet_digest(packet: &Packet<'_>, words: &Words) -> Digest {
    let mut mill = Mill::new();
    packet
        .job
        .each_text(&mut |text| mill.add(&text.plain(words)));
    mill.add(if packet.job.draft.is_some() {
        "draft"
    } else {
        ""
    });
    for page in &packet.pages {
        mill.add(&page_digest(page, packet.ledger, words).hex());
    }
    for file in packet.files.iter() {
        mill.add(file.text());
    }
    mill.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::Figure;
    use crate::packet::text::{Text, say};
    use crate::quantity::Length;
    use crate::source::{FileId, Files, SourceFile, Span};

    fn ledger(word: &str) -> Ledger {
        let mut ledger = Ledger::default();
        let span = Span::new(FileId::own(0), 0, 4);
        ledger.enter(Figure::length("a", Length::INCH).place(span, word));
        ledger.enter(Figure::length("b", Length::INCH).input("a"));
        ledger
    }

    fn page(ledger: &Ledger) -> Page {
        let mut page = Page::new("drain", say("drawing.north"));
        page.put(Block::paragraph(Text::of(ledger, "b")));
        page
    }

    #[test]
    fn a_page_changes_with_the_words_behind_its_figures() {
        let words = Words::english();
        let of = |word: &str| {
            let ledger = ledger(word);
            page_digest(&page(&ledger), &ledger, words)
        };
        assert_eq!(of("1 in"), of("1 in"));
        assert_ne!(of("1 in"), of("1.0 in"));
    }

    #[test]
    fn line_ends_and_byte_order_marks_do_not_count_but_words_do() {
        let digest = |text: &str| {
            let ledger = ledger("1 in");
            let mut files = Files::default();
            files.add(SourceFile::new("a", text, None));
            let packet = Packet {
                job: super::super::JobFacts {
                    title: Text::empty(),
                    number: Text::empty(),
                    revision: Text::empty(),
                    revised: Text::empty(),
                    date: None,
                    revisions: Vec::new(),
                    draft: None,
                },
                pages: vec![page(&ledger)],
                ledger: &ledger,
                files: &files,
            };
            packet_digest(&packet, Words::english()).short()
        };
        assert_eq!(digest("a\nb\n"), digest("\u{feff}a\r\nb\r\n"));
        assert_ne!(digest("a\nb\n"), digest("a\nc\n"));
    }

    #[test]
    fn the_short_form_has_no_look_alikes() {
        let short = Digest([0, 1, 2, 23, 24, 47, 255, 128, 9].iter().fold(
            [0; 32],
            |mut all, b| {
                all.rotate_left(1);
                all[31] = *b;
                all
            },
        ));
        assert_eq!(short.short().len(), PRINTED + 1);
        for letter in ['0', 'O', '1', 'I', 'L', '2', 'Z', '5', 'S', 'B', 'G', 'U'] {
            assert!(!ALPHABET.contains(&(letter as u8)));
        }
        let alike: BTreeSet<_> = ALPHABET.iter().collect();
        assert_eq!(alike.len(), ALPHABET.len());
    }
}
