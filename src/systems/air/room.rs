//! Rooms: their outlets, the air that their load needs, and the point farthest from an outlet.

use crate::catalog::{Catalog, Range, Standards};
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{Model, Outlet, Room, SolidKind};
use crate::physics::psychrometrics::standard_pressure;
use crate::quantity::{AirFlow, Dimension, Length, trade_length};
use crate::source::{Span, Spanned};
use crate::systems::practice::Practice;

use super::mixing::{Farthest, Place, Screen, Zone, farthest, nearest};

/// Supply air this much below the room's, °F: common practice for small-duct cooling.
const COOLING_DIFFERENCE: f64 = 25.0;
/// Supply air this much above the room's, °F: common practice.
const HEATING_DIFFERENCE: f64 = 45.0;
/// Sensible heat of a cubic foot a minute of standard air and a degree, Btu/h.
/// Source: ASHRAE Handbook—Fundamentals (60 min/h × 0.075 lb/ft³ × 0.24 Btu/(lb °F)).
const STANDARD_AIR: f64 = 1.08;
/// The most that one outlet on 2 in tube carries, cfm: common practice, 30 to 40 cfm.
const PER_OUTLET: f64 = 40.0;
/// The occupied zone reaches this high, and ends this far from the walls.
const ZONE_HEIGHT: Length = Length::feet(6);
const ZONE_INSET: Length = Length::feet(1);

/// Enters the figures of all rooms.
pub(super) fn enter(model: &Model, catalog: &Catalog, standards: &Standards, ledger: &mut Ledger) {
    let apart = |name, usual| {
        let rule = ("AIR011", "outlets_too_few", name);
        Practice::of(standards, rule, Dimension::TemperatureDifference, usual)
    };
    let apart = [
        apart("cooling-difference", COOLING_DIFFERENCE),
        apart("heating-difference", HEATING_DIFFERENCE),
    ];
    let factor = air_factor(model);
    let ratio = factor.real();
    ledger.enter(factor);
    for room in model.house.rooms.values() {
        ledger.enter(count(room));
        if room.unconditioned || room.flawed {
            continue;
        }
        airflow(room, catalog, (ratio, apart), ledger);
        if room.served_by.is_none() {
            mixing(model, room, catalog, ledger);
        }
    }
}

fn count(room: &Room) -> Figure {
    let mut count = Figure::count(
        figure_id(["room.", &room.name, ".outlets"]),
        room.outlets.len(),
    )
    .formula("number of supply outlets that stand in the room");
    for outlet in &room.outlets {
        count = count.place(outlet.span, format!("outlet {}", outlet.name));
    }
    if room.outlets.is_empty() {
        count = count.place(room.span, format!("room {}", room.name));
    }
    count
}

/// Density of the air at the job's altitude against standard air.
fn air_factor(model: &Model) -> Figure {
    let altitude = model.job.altitude.as_ref();
    let at = |altitude| standard_pressure(altitude).map(crate::quantity::Pressure::value);
    let ratio = model
        .job
        .site_altitude()
        .and_then(at)
        .zip(at(Length::ZERO))
        .map(|(here, sea)| here / sea);
    let figure = match ratio {
        Some(ratio) => Figure::number("air.density_ratio", ratio, Dimension::Count),
        None if model.job.altitude_unknown => {
            Figure::unknown("air.density_ratio", "the altitude is not known")
        }
        None => Figure::unknown("air.density_ratio", "the altitude lies outside the standard atmosphere"),
    }
    .formula("(1 − 6.8754×10⁻⁶ × altitude in ft) to the power 5.2559: the air's density against that at sea level")
    .source("standard atmosphere");
    match altitude {
        Some(altitude) => figure.place(altitude.span, "altitude"),
        None if model.job.altitude_unknown => figure,
        None => figure.standard("no altitude is given: sea level"),
    }
}

/// The catalog's sheet of an outlet, when the job names one that the catalog holds.
fn sheet<'c>(outlet: &Outlet, catalog: &'c Catalog) -> Option<&'c crate::catalog::Outlet> {
    catalog.outlets.get(&outlet.model.as_ref()?.value)
}

/// Air for each season's load, the larger of them per outlet, and how many outlets that takes.
fn airflow(
    room: &Room,
    catalog: &Catalog,
    (factor, [cooling, heating]): (Option<f64>, [Practice; 2]),
    ledger: &mut Ledger,
) {
    let id = |quantity: &str| figure_id(["room.", &room.name, ".", quantity]);
    let mut needed: Vec<(String, f64)> = Vec::new();
    let loads: [(&str, &Option<Spanned<f64>>, Practice, &str); 2] = [
        (
            "airflow-estimate@summer",
            &room.sensible,
            cooling,
            "sensible cooling load",
        ),
        (
            "airflow-estimate@winter",
            &room.heating,
            heating,
            "heat loss",
        ),
    ];
    for (quantity, load, difference, what) in loads {
        let (Some(load), Some(factor)) = (load, factor) else {
            continue;
        };
        let degrees = difference.value;
        if degrees <= 0.0 {
            continue;
        }
        let flow = load.value / (STANDARD_AIR * factor * degrees);
        let figure = Figure::number(id(quantity), flow, Dimension::AirFlow)
            .formula(format!(
                "{what} ÷ (1.08 × density ratio × {degrees} °F between supply air and room)"
            ))
            .source("ASHRAE Handbook—Fundamentals; the temperature difference is the shop's or common practice")
            .place(load.span, what)
            .input("air.density_ratio");
        ledger.enter(difference.cite(figure, &format!("{degrees} °F between supply air and room")));
        needed.push((id(quantity), flow));
    }
    let Some((governing, most)) = needed.into_iter().max_by(|a, b| a.1.total_cmp(&b.1)) else {
        return;
    };
    let each = per_outlet(room, catalog, ledger);
    ledger.enter(
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a load of a room over the flow of an outlet is a small count above zero"
        )]
        Figure::count(
            id("outlets_needed"),
            libm::ceil(most / each - 1e-9).clamp(0.0, 1e6) as usize,
        )
        .formula("the larger season's airflow ÷ the most that one outlet carries, rounded up")
        .source("common practice")
        .input(governing.clone())
        .input(id("outlet_airflow_most")),
    );
    if !room.outlets.is_empty() {
        let share = most / room.outlets.len() as f64;
        ledger.enter(
            Figure::number(id("outlet_airflow"), share, Dimension::AirFlow)
                .formula("the larger season's airflow ÷ number of outlets")
                .source("common practice")
                .input(governing)
                .input(id("outlets")),
        );
    }
}

/// The most that one outlet of the room carries: by the catalog where every outlet names its model.
fn per_outlet(room: &Room, catalog: &Catalog, ledger: &mut Ledger) -> f64 {
    let id = figure_id(["room.", &room.name, ".outlet_airflow_most"]);
    let stated: Option<Vec<(f64, Span)>> = room
        .outlets
        .iter()
        .map(|outlet| {
            let range = &sheet(outlet, catalog)?.airflow;
            let most: Range<AirFlow> = range.get()?;
            Some((most.most.value(), range.span))
        })
        .collect();
    let least = stated.and_then(|all| all.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)));
    let figure = match least {
        Some((most, span)) => Figure::number(id, most, Dimension::AirFlow)
            .formula("upper end of the airflow that one outlet is used for")
            .source("the catalog")
            .place(span, "airflow of the outlet"),
        None => Figure::number(id, PER_OUTLET, Dimension::AirFlow)
            .formula("the most that one outlet on 2 in tube carries")
            .source("common practice")
            .standard("30 to 40 cfm an outlet, common practice"),
    };
    let most = figure.real().unwrap_or(PER_OUTLET);
    ledger.enter(figure);
    most
}

/// The farthest point of the occupied zone, in the room's own measures.
fn mixing(model: &Model, room: &Room, catalog: &Catalog, ledger: &mut Ledger) {
    let Some(extent) = room.extent else { return };
    if room.outlets.is_empty() {
        return;
    }
    let local = |x: Length, y: Length, z: Length| -> Place {
        [
            (x - extent.low.x).to_inches(),
            (y - extent.low.y).to_inches(),
            (z - extent.low.z).to_inches(),
        ]
    };
    let outlets: Vec<Place> = room
        .outlets
        .iter()
        .map(|outlet| local(outlet.point.x, outlet.point.y, outlet.point.z))
        .collect();
    let inset = |low: Length, high: Length| {
        let by = ZONE_INSET.min((high - low).half());
        (low + by, high - by)
    };
    let (west, east) = inset(extent.low.x, extent.high.x);
    let (south, north) = inset(extent.low.y, extent.high.y);
    let top = (extent.low.z + ZONE_HEIGHT).min(extent.high.z);
    let zone = Zone {
        low: local(west, south, extent.low.z),
        high: local(east, north, top),
    };
    let screens: Vec<(Screen, &str, Span)> = model
        .house
        .solids
        .iter()
        .filter(|solid| solid.extent.overlap(&extent).is_some())
        .filter(|solid| solid.extent.low.z <= extent.low.z && extent.high.z <= solid.extent.high.z)
        .map(|solid| {
            // Air passes through the clearance that a flue asks for.
            let clear = solid.clearance;
            let ([x, y, _], [x2, y2, _]) = (
                local(
                    solid.extent.low.x + clear,
                    solid.extent.low.y + clear,
                    extent.low.z,
                ),
                local(
                    solid.extent.high.x - clear,
                    solid.extent.high.y - clear,
                    extent.low.z,
                ),
            );
            let off = if solid.kind == SolidKind::Wall {
                ZONE_INSET.to_inches()
            } else {
                0.0
            };
            let screen = Screen {
                low: [x, y],
                high: [x2, y2],
                off,
            };
            (screen, solid.name.as_str(), solid.span)
        })
        .collect();
    let plain: Vec<Screen> = screens.iter().map(|(screen, ..)| *screen).collect();
    let Some(found) = farthest(zone, &outlets, &plain) else {
        return;
    };
    let near = nearest(found.place, &outlets).and_then(|n| room.outlets.get(n));
    for figure in figures(room, &found, near) {
        let figure = screens.iter().fold(figure, |figure, (_, name, span)| {
            figure.place(*span, format!("{name}, from floor to ceiling"))
        });
        ledger.enter(figure);
    }
    reach(room, catalog, ledger);
}

fn figures(room: &Room, found: &Farthest, near: Option<&Outlet>) -> Vec<Figure> {
    let id = |quantity: &str| figure_id(["room.", &room.name, ".", quantity]);
    let zone = "occupied zone: from the floor to 6 ft up, 1 ft off the walls";
    let [x, y, z] = found.place.map(Length::nearest);
    let at = format!(
        "{} east and {} north of its corner, {}",
        trade_length(x),
        trade_length(y),
        if z == Length::ZERO {
            "at the floor".to_owned()
        } else {
            format!("{} up", trade_length(z))
        }
    );
    let mut figure = match found.distance {
        Some(distance) => Figure::length(id("farthest_point"), Length::nearest(distance)),
        None => Figure::unknown(id("farthest_point"), format!("no outlet is in sight {at}")),
    };
    figure = if found.within > 0.0 {
        figure.formula(format!(
            "greatest distance in space from a point of the {zone}; to the nearest outlet in line of sight, \
             found by halving the zone, at most {:.2} in too large",
            found.within
        ))
    } else {
        figure.formula(format!(
            "greatest distance in space from a point of the {zone}; to the nearest outlet in line of sight"
        ))
    };
    figure = figure
        .source("common practice")
        .place(room.span, format!("room {}", room.name));
    for outlet in &room.outlets {
        figure = figure.place(outlet.at, format!("place of outlet {}", outlet.name));
    }
    let mut out = vec![
        figure,
        Figure::text(id("farthest_at"), at)
            .formula("where the point farthest from an outlet lies")
            .input(id("farthest_point")),
    ];
    if let Some(near) = near {
        out.push(
            Figure::text(id("farthest_outlet"), near.name.clone())
                .formula("the outlet nearest to the farthest point")
                .input(id("farthest_point")),
        );
    }
    out
}

/// The least reach of the room's outlets, where the catalog states it for all of them.
fn reach(room: &Room, catalog: &Catalog, ledger: &mut Ledger) {
    let stated: Option<Vec<(Length, Span)>> = room
        .outlets
        .iter()
        .map(|outlet| {
            let reach = &sheet(outlet, catalog)?.reach;
            Some((reach.get()?, reach.span))
        })
        .collect();
    let Some((least, span)) = stated.and_then(|all| all.into_iter().min_by_key(|one| one.0)) else {
        return;
    };
    ledger.enter(
        Figure::length(figure_id(["room.", &room.name, ".reach"]), least)
            .formula("how far the air of its outlets mixes, the least of them")
            .source("the catalog")
            .place(span, "reach of the outlet"),
    );
}
