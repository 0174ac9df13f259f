//! Reads the shipped font. Licence: `templates/fonts/LICENSE.txt`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider as _};

/// The family's name, as style sheets, drawings and the page source write it.
pub const FAMILY: &str = "Go";

/// How heavy the letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// For reading.
    Regular,
    /// For the figure in hand.
    Bold,
}

/// One file of the font.
#[derive(Clone, Copy, Debug)]
pub struct FontFile {
    /// Its name in a folder.
    pub name: &'static str,
    /// Its weight.
    pub weight: Weight,
    /// Its bytes.
    pub bytes: &'static [u8],
}

impl FontFile {
    /// Both files.
    pub const ALL: [Self; 2] = [
        Self {
            name: "Go-Regular.ttf",
            weight: Weight::Regular,
            bytes: include_bytes!("../../../templates/fonts/Go-Regular.ttf"),
        },
        Self {
            name: "Go-Bold.ttf",
            weight: Weight::Bold,
            bytes: include_bytes!("../../../templates/fonts/Go-Bold.ttf"),
        },
    ];
}

/// Advances per character, in thousandths of the letter height.
struct Advances {
    of: BTreeMap<char, f64>,
    unknown: f64,
}

fn advances(weight: Weight) -> Advances {
    let mut table = Advances {
        of: BTreeMap::new(),
        unknown: 0.6,
    };
    let file = FontFile::ALL.into_iter().find(|file| file.weight == weight);
    let Some(font) = file.and_then(|file| FontRef::new(file.bytes).ok()) else {
        return table;
    };
    // One unit a letter height: advances come as shares of it.
    let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    for (code, glyph) in font.charmap().mappings() {
        if let (Some(letter), Some(wide)) = (char::from_u32(code), metrics.advance_width(glyph)) {
            table.of.insert(letter, f64::from(wide));
        }
    }
    // A letter that the font lacks is drawn by another one: allow for a wide one.
    table.unknown = 1.0;
    table
}

static REGULAR: LazyLock<Advances> = LazyLock::new(|| advances(Weight::Regular));
static BOLD: LazyLock<Advances> = LazyLock::new(|| advances(Weight::Bold));

/// Width of `text` in points when its letters are `size` points high; without kerning, as drawings are set.
pub fn text_width(text: &str, weight: Weight, size: f64) -> f64 {
    let table = match weight {
        Weight::Regular => &*REGULAR,
        Weight::Bold => &*BOLD,
    };
    let ems: f64 = text
        .chars()
        .map(|letter| table.of.get(&letter).copied().unwrap_or(table.unknown))
        .sum();
    ems * size
}

/// A square for every letter that neither the shipped font nor the page program's own fonts draw:
/// on paper it would leave a gap that no one notices. Those draw the scripts up to Hebrew.
pub fn drawable(text: &str) -> String {
    let drawn = |letter: char| {
        letter < '\u{600}'
            || ('\u{200b}'..='\u{200d}').contains(&letter)
            || REGULAR.of.contains_key(&letter)
    };
    text.chars()
        .map(|letter| if drawn(letter) { letter } else { '□' })
        .collect()
}

/// Puts a break that does not show into every word longer than `most` letters, so that it cannot leave the paper.
pub fn break_long_words(text: &str, most: usize) -> String {
    let mut out = String::with_capacity(text.len());
    let mut run = 0;
    for letter in text.chars() {
        if letter.is_whitespace() {
            run = 0;
        } else {
            if run == most {
                out.push('\u{200b}');
                run = 0;
            }
            run += 1;
        }
        out.push(letter);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_come_from_the_font() {
        // hmtx of Go Regular: digits 1139 of 2048 units.
        let wide = text_width("0000", Weight::Regular, 20.48);
        assert!((wide - 4.0 * 11.39).abs() < 0.2, "{wide}");
        assert!(
            text_width("trunk", Weight::Bold, 10.0) > text_width("trunk", Weight::Regular, 10.0)
        );
        assert!(text_width("", Weight::Bold, 10.0).abs() < f64::EPSILON);
    }

    #[test]
    fn every_sign_that_the_packet_prints_is_in_both_weights() {
        for table in [&*REGULAR, &*BOLD] {
            let missing: String = "½¼¾⅛⅜⅝⅞°±×÷→←↑↓–—“”‘’≤≥·…′″²³Ω□éñü"
                .chars()
                .filter(|letter| !table.of.contains_key(letter))
                .collect();
            assert_eq!(missing, "");
        }
    }

    #[test]
    fn what_no_font_draws_shows_as_a_square() {
        assert_eq!(drawable("hot 🔥 — ½ ñ Ω שלום 水"), "hot □ — ½ ñ Ω שלום □");
    }

    #[test]
    fn long_words_may_break_and_lose_nothing() {
        let broken = break_long_words("abcdefgh ij", 4);
        assert_eq!(broken, "abcd\u{200b}efgh ij");
        assert_eq!(broken.replace('\u{200b}', ""), "abcdefgh ij");
    }
}
