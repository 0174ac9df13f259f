//! Cautions: the hazard with its sign, drawn so that it reads in black on white, and the words.

use crate::packet::scene::{Area, Fill, Pen, Point, Scene};
use crate::packet::text::{Phrase, Text, say};

/// What can hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hazard {
    /// Live parts.
    Shock,
    /// Brazing, hot surfaces.
    Fire,
    /// Water where it does harm.
    Water,
    /// Ice, frozen pipes and coils.
    Freezing,
    /// Refrigerant under pressure.
    Pressure,
    /// Heavy lifts.
    Weight,
    /// Ladders, joists, open hatches.
    Fall,
    /// Sharp edges.
    Cut,
    /// Old insulation, lead paint, dust.
    Dust,
    /// Combustion gas.
    Gas,
    /// Anything else that stops the work.
    General,
}

impl Hazard {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Shock,
        Self::Fire,
        Self::Water,
        Self::Freezing,
        Self::Pressure,
        Self::Weight,
        Self::Fall,
        Self::Cut,
        Self::Dust,
        Self::Gas,
        Self::General,
    ];

    /// The word for it in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shock => "shock",
            Self::Fire => "fire",
            Self::Water => "water",
            Self::Freezing => "freezing",
            Self::Pressure => "pressure",
            Self::Weight => "weight",
            Self::Fall => "fall",
            Self::Cut => "cut",
            Self::Dust => "dust",
            Self::Gas => "gas",
            Self::General => "general",
        }
    }

    /// The word that is printed beside the sign.
    pub const fn title(self) -> Phrase {
        match self {
            Self::Shock => say("hazard.shock"),
            Self::Fire => say("hazard.fire"),
            Self::Water => say("hazard.water"),
            Self::Freezing => say("hazard.freezing"),
            Self::Pressure => say("hazard.pressure"),
            Self::Weight => say("hazard.weight"),
            Self::Fall => say("hazard.fall"),
            Self::Cut => say("hazard.cut"),
            Self::Dust => say("hazard.dust"),
            Self::Gas => say("hazard.gas"),
            Self::General => say("hazard.general"),
        }
    }

    /// The sign: a triangle with a figure of its own.
    pub fn sign(self) -> Scene {
        let mut sign = Scene::new(36.0, 32.0);
        let corners = [(18.0, 1.5), (34.5, 30.5), (1.5, 30.5)];
        sign.outline(corners.map(at), Pen::solid(2.2), Fill::White);
        let black = |sign: &mut Scene, points: &[(f64, f64)]| {
            sign.outline(points.iter().copied().map(at), Pen::solid(0.2), Fill::Black);
        };
        let stroke = Pen::solid(1.8);
        match self {
            Self::Shock => black(
                &mut sign,
                &[
                    (19.5, 8.5),
                    (13.5, 19.5),
                    (17.2, 19.5),
                    (15.2, 28.0),
                    (22.8, 16.8),
                    (18.8, 16.8),
                    (21.5, 8.5),
                ],
            ),
            Self::Fire => black(
                &mut sign,
                &[
                    (18.0, 9.0),
                    (20.6, 14.6),
                    (22.0, 13.2),
                    (24.2, 20.0),
                    (22.8, 25.6),
                    (18.0, 28.2),
                    (13.2, 25.6),
                    (11.8, 20.4),
                    (14.0, 15.6),
                    (15.4, 18.4),
                ],
            ),
            Self::Water => {
                let drop = [(18.0, 9.0), (23.0, 19.5), (13.0, 19.5)];
                black(&mut sign, &drop);
                sign.circle(at((18.0, 22.0)), 5.4, Pen::solid(0.2), Fill::Black);
            }
            Self::Freezing => {
                for (x, y) in [(7.5, 0.0), (3.75, 6.5), (3.75, -6.5)] {
                    sign.line(at((18.0 - x, 20.5 - y)), at((18.0 + x, 20.5 + y)), stroke);
                }
            }
            Self::Pressure => {
                sign.rectangle(Area::new(13.5, 14.5, 9.0, 13.5), stroke, Fill::White);
                sign.rectangle(Area::new(16.2, 10.5, 3.6, 4.0), stroke, Fill::Black);
                sign.line(at((18.0, 25.5)), at((18.0, 17.5)), stroke);
                black(&mut sign, &[(18.0, 15.8), (20.8, 20.0), (15.2, 20.0)]);
            }
            Self::Weight => {
                black(
                    &mut sign,
                    &[(12.5, 18.0), (23.5, 18.0), (26.5, 28.0), (9.5, 28.0)],
                );
                sign.circle(at((18.0, 14.5)), 3.0, stroke, Fill::White);
            }
            Self::Fall => {
                sign.circle(at((15.6, 12.0)), 2.2, Pen::solid(0.2), Fill::Black);
                sign.path(
                    [(16.6, 14.5), (20.5, 20.0), (25.0, 22.0)].map(at),
                    Pen::solid(2.4),
                );
                sign.path([(21.5, 14.0), (18.2, 16.8), (14.0, 19.5)].map(at), stroke);
                sign.path(
                    [(8.5, 28.0), (14.5, 28.0), (14.5, 23.0), (9.5, 23.0)].map(at),
                    stroke,
                );
            }
            Self::Cut => {
                sign.line(at((10.5, 27.0)), at((24.5, 13.0)), Pen::solid(3.2));
                sign.path([(12.0, 18.5), (15.0, 16.5), (17.0, 18.5)].map(at), stroke);
                sign.path([(20.0, 26.5), (22.5, 24.0), (24.5, 26.5)].map(at), stroke);
            }
            Self::Dust => {
                let spots = [
                    (18.0, 12.5),
                    (14.6, 17.5),
                    (21.2, 17.0),
                    (17.8, 21.0),
                    (12.0, 23.5),
                ];
                for spot in spots
                    .into_iter()
                    .chain([(23.8, 22.4), (16.0, 26.5), (21.0, 26.8)])
                {
                    sign.circle(at(spot), 1.6, Pen::solid(0.2), Fill::Black);
                }
            }
            Self::Gas => {
                for y in [15.5, 20.5, 25.5] {
                    let half = (y - 8.0) / 2.6;
                    sign.path(
                        [
                            (18.0 - half, y),
                            (18.0 - half / 2.0, y - 2.4),
                            (18.0, y),
                            (18.0 + half / 2.0, y + 2.4),
                            (18.0 + half, y),
                        ]
                        .map(at),
                        stroke,
                    );
                }
            }
            Self::General => {
                black(
                    &mut sign,
                    &[(16.0, 10.5), (20.0, 10.5), (19.0, 21.5), (17.0, 21.5)],
                );
                sign.circle(at((18.0, 25.5)), 2.0, Pen::solid(0.2), Fill::Black);
            }
        }
        sign
    }
}

const fn at(place: (f64, f64)) -> Point {
    Point::at(place.0, place.1)
}

/// A caution, printed beside the step it concerns.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What can hurt.
    pub hazard: Hazard,
    /// What to do about it.
    pub text: Text,
}

impl Caution {
    /// A caution against `hazard`.
    pub fn new(hazard: Hazard, text: impl Into<Text>) -> Self {
        Self {
            hazard,
            text: text.into(),
        }
    }
}
