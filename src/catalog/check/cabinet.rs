//! Ports lie on the side of the cabinet that they open to.

use crate::catalog::{Orientation, Port, Section, Side, Size};
use crate::quantity::{Length, length_text, show_length};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

/// A port beside its face.
pub(in crate::catalog) const PORT_OFF_FACE: Kind = Kind {
    code: "CAT012",
    name: "port_off_face",
    title: "a port does not lie on its side of the cabinet",
    severity: Severity::Error,
    source: "geometry",
    why: Why {
        checks: "That the middle of a port lies on the side it opens to, and the whole opening within that side.",
        on_site: "The trunk, the drain and the cables start at the wrong place, so every length and fall computed from there is wrong.",
        fix: "Compare the three lengths of `place` with `size`: x from the back, y from the right side, z up.",
    },
};

/// One axis: where the port is, its half extent there, and how far the cabinet goes.
struct Along {
    name: &'static str,
    at: Length,
    half: Length,
    end: Length,
}

/// The port's plane and the two axes of its face.
fn axes(port: &Port, size: Size) -> Option<(Along, Length, [Along; 2])> {
    let place = port.place.get()?;
    let facing = port.facing.get()?;
    // A pipe's own width may reach over an edge of the sheet metal; an opening may not.
    let (wide, high) = match port.size.get() {
        Some(section @ (Section::Round(_) | Section::Rectangular(_, _))) => section.extent(),
        _ => (Length::ZERO, Length::ZERO),
    };
    let axis = |name, at, extent: Length, end| Along {
        name,
        at,
        half: extent.half(),
        end,
    };
    let (x, y, z) = (size.length, size.width, size.height);
    let flat = Length::ZERO;
    Some(match facing {
        Side::Front | Side::Back => (
            axis("x", place.x, flat, x),
            if facing == Side::Front { x } else { flat },
            [axis("y", place.y, wide, y), axis("z", place.z, high, z)],
        ),
        Side::Left | Side::Right => (
            axis("y", place.y, flat, y),
            if facing == Side::Left { y } else { flat },
            [axis("x", place.x, wide, x), axis("z", place.z, high, z)],
        ),
        Side::Top | Side::Bottom => (
            axis("z", place.z, flat, z),
            if facing == Side::Top { z } else { flat },
            [axis("x", place.x, wide, x), axis("y", place.y, high, y)],
        ),
    })
}

/// One port of a cabinet.
pub(super) fn port(
    name: &str,
    port: &Port,
    size: Option<Size>,
    size_span: Span,
    findings: &mut Vec<Finding>,
) {
    let Some((plane, wanted, across)) = size.and_then(|size| axes(port, size)) else {
        return;
    };
    let side = port.facing.get().map_or("", Side::word);
    if plane.at != wanted {
        findings.push(
            Finding::new(
                &PORT_OFF_FACE,
                port.place.span,
                format!("port `{name}` opens to the {side} and does not lie on that side"),
                format!("give it {} = `{}`", plane.name, length_text(wanted)),
            )
            .measured(show_length(plane.at), Relation::Equal, show_length(wanted))
            .label(size_span, "the cabinet"),
        );
        return;
    }
    for along in across {
        let (least, most) = (along.half, along.end - along.half);
        if least <= along.at && along.at <= most {
            continue;
        }
        let (limit, relation) = if along.at < least {
            (least, Relation::AtLeast)
        } else {
            (most, Relation::AtMost)
        };
        if least > most {
            findings.push(
                Finding::new(
                    &PORT_OFF_FACE,
                    port.size.span,
                    format!("port `{name}` is larger than the {side} of the cabinet"),
                    "look at both sizes: width x height as seen from outside",
                )
                .measured(
                    show_length(along.half * 2),
                    Relation::AtMost,
                    show_length(along.end),
                )
                .label(size_span, "the cabinet"),
            );
            return;
        }
        let help = format!(
            "give it {} from `{}` to `{}`",
            along.name,
            length_text(least),
            length_text(most)
        );
        findings.push(
            Finding::new(
                &PORT_OFF_FACE,
                port.place.span,
                format!(
                    "port `{name}` reaches past the edge of the {side} along {}",
                    along.name
                ),
                help,
            )
            .measured(show_length(along.at), relation, show_length(limit))
            .label(size_span, "the cabinet"),
        );
        return;
    }
}

/// The supply of a horizontal unit opens at the front, that of a vertical one at the top.
pub(super) fn discharge(
    orientation: Option<Orientation>,
    supply: &Port,
    findings: &mut Vec<Finding>,
) {
    let (Some(orientation), Some(facing)) = (orientation, supply.facing.get()) else {
        return;
    };
    let wanted = match orientation {
        Orientation::Horizontal => Side::Front,
        Orientation::Vertical => Side::Top,
    };
    if facing != wanted {
        findings.push(
            Finding::new(
                &PORT_OFF_FACE,
                supply.facing.span,
                format!(
                    "the supply of a {} unit opens to the {}",
                    orientation.word(),
                    facing.word()
                ),
                format!(
                    "write `{}`, or change the unit's `orientation`",
                    wanted.word()
                ),
            )
            .measured(
                Shown::word(facing.word()),
                Relation::Equal,
                Shown::word(wanted.word()),
            ),
        );
    }
}
