//! Writes a drawing as SVG: fixed digits, fixed order, every text escaped.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use super::drawing::{Element, Lettering, Scene};
use super::leader::{place_labels, text_area};
use super::shape::{Anchor, Area, Dash, Fill, Hatch, Pen, Point};
use crate::packet::font::{FAMILY, Weight};
use crate::packet::text::Words;
use crate::quantity::number_text;

fn n(value: f64) -> String {
    number_text(value, 2)
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // XML allows no other control characters, not even escaped.
            c if c.is_control() || ('\u{fffe}'..='\u{ffff}').contains(&c) => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

const fn hatch_name(hatch: Hatch) -> &'static str {
    match hatch {
        Hatch::Rising => "hatch-rising",
        Hatch::Falling => "hatch-falling",
        Hatch::Crossed => "hatch-crossed",
        Hatch::Dots => "hatch-dots",
        Hatch::Level => "hatch-level",
    }
}

const fn hatch_body(hatch: Hatch) -> &'static str {
    match hatch {
        Hatch::Rising => {
            r##"<path d="M-1 1L1 -1M0 6L6 0M5 7L7 5" stroke="#000" stroke-width="0.6"/>"##
        }
        Hatch::Falling => {
            r##"<path d="M-1 5L1 7M0 0L6 6M5 -1L7 1" stroke="#000" stroke-width="0.6"/>"##
        }
        Hatch::Crossed => r##"<path d="M0 6L6 0M0 0L6 6" stroke="#000" stroke-width="0.5"/>"##,
        Hatch::Dots => r##"<circle cx="3" cy="3" r="0.8" fill="#000"/>"##,
        Hatch::Level => r##"<path d="M0 3L6 3" stroke="#000" stroke-width="0.6"/>"##,
    }
}

fn fill_text(fill: Fill) -> String {
    match fill {
        Fill::None => "none".into(),
        Fill::White => "#fff".into(),
        Fill::Black => "#000".into(),
        Fill::Hatch(hatch) => format!("url(#{})", hatch_name(hatch)),
    }
}

fn pen_text(pen: Pen) -> String {
    let dash = match pen.dash {
        Dash::Solid => "",
        Dash::Dashed => r#" stroke-dasharray="6 3""#,
        Dash::Dotted => r#" stroke-dasharray="1.5 3""#,
        Dash::DashDot => r#" stroke-dasharray="9 2 2 2""#,
    };
    format!(r##"stroke="#000" stroke-width="{}"{dash}"##, n(pen.width))
}

fn write_text(out: &mut String, at: Point, lettering: Lettering, text: &str) {
    let anchor = match lettering.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = match lettering.weight {
        Weight::Regular => "400",
        Weight::Bold => "700",
    };
    let turn = match lettering.quarter_turns % 4 {
        0 => String::new(),
        quarters => format!(
            r#" transform="rotate({} {} {})""#,
            -90 * i32::from(quarters),
            n(at.x),
            n(at.y)
        ),
    };
    let _ = writeln!(
        out,
        r#"<text x="{}" y="{}" font-size="{}" font-weight="{weight}" text-anchor="{anchor}"{turn}>{}</text>"#,
        n(at.x),
        n(at.y),
        n(lettering.size),
        escaped(text)
    );
}

/// White below words, so that a line never strikes them out.
fn write_ground(out: &mut String, area: Area) {
    let _ = writeln!(
        out,
        r##"<rect x="{}" y="{}" width="{}" height="{}" fill="#fff" fill-opacity="0.85"/>"##,
        n(area.corner.x),
        n(area.corner.y),
        n(area.width),
        n(area.height)
    );
}

fn write_path(out: &mut String, points: &[Point], closed: bool, pen: Pen, fill: Fill) {
    let mut d = String::new();
    for (at, point) in points.iter().enumerate() {
        let letter = if at == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{letter}{} {}", n(point.x), n(point.y));
    }
    if closed {
        d.push('Z');
    }
    let _ = writeln!(
        out,
        r#"<path d="{d}" fill="{}" {}/>"#,
        fill_text(fill),
        pen_text(pen)
    );
}

impl Scene {
    /// The drawing as SVG, the same text for the same drawing.
    pub fn svg(&self, words: &Words) -> String {
        let mut body = String::new();
        let mut hatches = BTreeSet::new();
        for element in &self.elements {
            if let Element::Path { fill, .. } | Element::Circle { fill, .. } = element
                && let Fill::Hatch(hatch) = fill
            {
                hatches.insert(*hatch);
            }
            match element {
                Element::Path {
                    points,
                    closed,
                    pen,
                    fill,
                } => {
                    // A pattern stands on white, so that what is below does not show between its lines.
                    if matches!(fill, Fill::Hatch(_)) {
                        write_path(&mut body, points, *closed, Pen::solid(0.0), Fill::White);
                    }
                    write_path(&mut body, points, *closed, *pen, *fill);
                }
                Element::Circle {
                    middle,
                    radius,
                    pen,
                    fill,
                } => {
                    let _ = writeln!(
                        body,
                        r#"<circle cx="{}" cy="{}" r="{}" fill="{}" {}/>"#,
                        n(middle.x),
                        n(middle.y),
                        n(*radius),
                        fill_text(*fill),
                        pen_text(*pen)
                    );
                }
                Element::Text { .. } => {}
            }
        }
        for (leader, placed) in self.leaders.iter().zip(place_labels(self, words)) {
            write_path(
                &mut body,
                &[placed.from, leader.target],
                false,
                Pen::THIN,
                Fill::None,
            );
            let _ = writeln!(
                body,
                r##"<circle cx="{}" cy="{}" r="1.5" fill="#000"/>"##,
                n(leader.target.x),
                n(leader.target.y)
            );
            write_ground(&mut body, placed.area);
            let base = placed
                .area
                .middle()
                .moved(0.0, leader.lettering.size * 0.35);
            write_text(&mut body, base, leader.lettering, &leader.text.plain(words));
        }
        // Words come last: nothing may cover them.
        for element in &self.elements {
            if let Element::Text {
                at,
                lettering,
                text,
            } = element
            {
                if let Some(area) = text_area(element, words) {
                    write_ground(&mut body, area.grown(0.5));
                }
                write_text(&mut body, *at, *lettering, &text.plain(words));
            }
        }
        let mut out = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}pt" height="{h}pt" font-family="{FAMILY}" font-kerning="none" role="img">"#,
            w = n(self.width),
            h = n(self.height)
        );
        out.push('\n');
        if !hatches.is_empty() {
            out.push_str("<defs>");
            for hatch in hatches {
                let _ = write!(
                    out,
                    r#"<pattern id="{}" width="6" height="6" patternUnits="userSpaceOnUse">{}</pattern>"#,
                    hatch_name(hatch),
                    hatch_body(hatch)
                );
            }
            out.push_str("</defs>\n");
        }
        out.push_str(&body);
        out.push_str("</svg>\n");
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::text::Text;
    use crate::source::{Files, SourceFile, Span};

    #[test]
    fn text_of_a_spec_stays_text() {
        let mut files = Files::default();
        let hostile = "</text><script>alert(1)</script>&\"'\u{1}";
        let id = files.add(SourceFile::new("a", hostile, None));
        let end = u32::try_from(hostile.len()).expect("short");
        let quote = Text::quote(&files, Span::new(id, 0, end));
        let mut scene = Scene::new(100.0, 50.0);
        scene.text(Point::at(10.0, 20.0), Lettering::LABEL, quote.clone());
        scene.leader(Point::at(10.0, 40.0), quote);
        let svg = scene.svg(Words::english());
        assert!(!svg.contains("<script"), "{svg}");
        assert!(!svg.contains('\u{1}'));
        assert_eq!(svg.matches("&lt;script&gt;").count(), 2);
        assert_eq!(svg, scene.svg(Words::english()));
    }

    #[test]
    fn numbers_have_two_digits_at_most_and_no_negative_zero() {
        let mut scene = Scene::new(100.0, 50.0);
        scene.line(Point::at(1.0 / 3.0, -0.001), Point::at(2.0, 3.5), Pen::THIN);
        assert!(scene.svg(Words::english()).contains("M0.33 0L2 3.5"));
    }
}
