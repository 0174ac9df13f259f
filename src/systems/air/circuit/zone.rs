//! Zones: what a zone's outlets get when the dampers of all others are shut.

use crate::figures::{Figure, Ledger, figure_id};
use crate::language::Entry;
use crate::model::{Model, Run};
use crate::quantity::{Dimension, Length};
use crate::source::Span;

use super::enter::{Desk, SOLVED};
use super::gap::Gap;
use super::network::Circuit;
use super::operating::Point;
use super::weather::{Season, density_id};

/// What ends the id of a figure of the first stage.
const FIRST_STAGE: &str = ".first-stage";

/// A damper in a trunk.
#[derive(Clone, Debug)]
pub(super) struct Damper {
    trunk: String,
    station: Length,
    zone: String,
    span: Span,
}

/// A zone by itself.
#[derive(Clone, Debug)]
pub(super) struct Zoned {
    name: String,
    span: Span,
    /// The dampers that are shut for it.
    shut: Vec<Span>,
    /// The words of the first stage's tap, where it is that one.
    pub(super) first_stage: Option<Span>,
    found: Result<(Circuit, Point), Gap>,
}

fn text(entry: &Entry, slot: &str) -> Option<String> {
    entry.text(slot).known().map(|text| text.value)
}

/// The dampers of the job that serve a zone.
pub(super) fn dampers(model: &Model) -> Vec<Damper> {
    model
        .blocks("damper")
        .filter_map(|entry| {
            Some(Damper {
                trunk: text(entry, "trunk")?,
                station: entry.length("station").known()?.value,
                zone: text(entry.child("zone")?, "zone")?,
                span: entry.span,
            })
        })
        .collect()
}

impl Damper {
    /// Whether it stands between the unit and where a run leaves its trunk.
    pub(super) fn before(&self, model: &Model, run: &Run) -> bool {
        let Some(station) = run.station else {
            return false;
        };
        let (mut trunk, mut at) = (run.trunk.value.as_str(), station.value);
        // A branch of a branch of a branch: nesting is bounded long before this.
        for _ in 0..64 {
            if self.trunk == trunk && at > self.station {
                return true;
            }
            let Some((parent, station)) = model
                .trunks
                .get(trunk)
                .and_then(|trunk| trunk.parent.as_ref())
            else {
                return false;
            };
            (trunk, at) = (parent, *station);
        }
        false
    }
}

/// Every zone with a run on the unit's trunks, alone: `solve` takes the runs that stay open.
pub(super) fn each_alone(
    model: &Model,
    unit: &str,
    mut solve: impl FnMut(&dyn Fn(&Run) -> bool) -> Result<(Circuit, Point), Gap>,
) -> Vec<Zoned> {
    let dampers = dampers(model);
    if dampers.is_empty() {
        return Vec::new();
    }
    let feeds = |room: &str| {
        let outlets = model.house.rooms.get(room).map(|room| &room.outlets);
        outlets.into_iter().flatten().any(|outlet| {
            model.runs.values().any(|run| {
                let own = model.unit_of(&run.trunk.value);
                run.outlet.as_ref() == Some(&outlet.name) && own.is_some_and(|own| own.name == unit)
            })
        })
    };
    model
        .blocks("zone")
        .filter(|zone| {
            zone.children("room")
                .filter_map(|room| text(room, "room"))
                .any(|room| feeds(&room))
        })
        .filter_map(|zone| {
            let name = text(zone, "name")?;
            let shut: Vec<&Damper> = dampers.iter().filter(|d| d.zone != name).collect();
            let open = |run: &Run| !shut.iter().any(|damper| damper.before(model, run));
            Some(Zoned {
                found: solve(&open),
                shut: shut.iter().map(|damper| damper.span).collect(),
                name,
                first_stage: None,
                span: zone.span,
            })
        })
        .collect()
}

impl Desk<'_> {
    /// Enters each zone alone, at the set tap and at that of the first stage.
    pub(super) fn zones(&self, ledger: &mut Ledger) {
        for zone in &self.air.zones {
            let stage = zone.first_stage.map_or("", |_| FIRST_STAGE);
            let suffix = format!("@zone-{}{stage}", zone.name);
            let cite = |mut figure: Figure| {
                figure = figure
                    .source(SOLVED)
                    .place(zone.span, format!("zone {}", zone.name));
                for span in &zone.shut {
                    figure = figure.place(*span, "a damper that is shut");
                }
                if let Some(span) = zone.first_stage {
                    figure = figure.place(span, "tap of the first stage");
                }
                figure.input(density_id(Season::Summer))
            };
            let (circuit, point) = match &zone.found {
                Ok((circuit, point)) => (circuit, point),
                Err(gap) => {
                    self.none("airflow", &suffix, gap, ledger);
                    if let Gap::Fault(reason, ..) = gap {
                        ledger.enter(cite(
                            Figure::text(self.id("air-fault", &suffix), reason.clone())
                                .formula("what keeps blower and ducts from a solution with the other zones shut"),
                        ));
                    }
                    continue;
                }
            };
            let values = [
                (
                    "airflow",
                    point.airflow.value(),
                    Dimension::AirFlow,
                    "flow at which the tap and the ducts meet with the dampers of all other zones shut",
                ),
                (
                    "plenum-pressure",
                    point.plenum.value(),
                    Dimension::Pressure,
                    "pressure at the supply opening with the dampers of all other zones shut",
                ),
                (
                    "external-static",
                    (point.plenum + point.back).value(),
                    Dimension::Pressure,
                    "plenum pressure + loss of the return with the dampers of all other zones shut",
                ),
            ];
            for (what, value, dimension, formula) in values {
                let id = self.id(what, &suffix);
                ledger.enter(cite(Figure::number(id, value, dimension).formula(formula)));
            }
            // What the first stage makes of the tons is not in the catalog.
            let tons = self.unit.sheet.tons().filter(|tons| *tons > 0.0);
            if let Some(tons) = tons.filter(|_| zone.first_stage.is_none()) {
                ledger.enter(
                    Figure::number(
                        self.id("airflow-per-ton", &suffix),
                        point.airflow.value() / tons,
                        Dimension::AirFlow,
                    )
                    .formula("airflow ÷ nominal tons")
                    .input(self.id("airflow", &suffix))
                    .place(self.unit.sheet.nominal.span, "nominal"),
                );
            }
            for run in &circuit.runs {
                if let Some((flow, _)) = circuit.flow_in(point, run.segment) {
                    ledger.enter(
                        Figure::number(
                            figure_id(["run.", &run.name, ".airflow", &suffix]),
                            flow.value(),
                            Dimension::AirFlow,
                        )
                        .formula("flow through the tube with the dampers of all other zones shut")
                        .source(SOLVED)
                        .input(self.id("airflow", &suffix)),
                    );
                }
            }
        }
    }
}
