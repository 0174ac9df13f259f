//! Suction in the cabinet at the drain pan: measured, or on the catalog's curve at the unit's airflow.

use crate::catalog::{AirPoint, BlowerType, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::AirHandler;
use crate::quantity::{Dimension, number_text};
use crate::source::Span;

/// `580 cfm at 1.04 inwc`, as the catalog writes a point.
fn point_text(point: &AirPoint) -> String {
    format!(
        "{} cfm at {} inwc",
        number_text(point.flow.value(), 1),
        number_text(point.pressure.value(), 3)
    )
}

/// A value read off a curve, and the two points it lies between.
struct ReadOff {
    value: f64,
    points: [(Span, String); 2],
}

/// `y` of a curve at `x`, on the straight line between the nearest points; none beyond the curve's ends.
fn read_off(
    points: &[Stated<AirPoint>],
    x: f64,
    xy: impl Fn(&AirPoint) -> (f64, f64),
) -> Option<ReadOff> {
    let known: Vec<(&Stated<AirPoint>, AirPoint)> = points
        .iter()
        .filter_map(|point| Some((point, point.get()?)))
        .collect();
    known.windows(2).find_map(|pair| {
        let [(low, a), (high, b)] = pair else {
            return None;
        };
        let ((xa, ya), (xb, yb)) = (xy(a), xy(b));
        let inside = xa.min(xb) <= x && x <= xa.max(xb) && xa.to_bits() != xb.to_bits();
        inside.then(|| ReadOff {
            value: ya + (yb - ya) * ((x - xa) / (xb - xa)),
            points: [(low.span, point_text(a)), (high.span, point_text(b))],
        })
    })
}

/// The airflow at which the unit runs by its catalog: the set tap at the design pressure, else the design airflow.
fn airflow(unit: &AirHandler) -> Figure {
    let id = format!("air-handler.{}.design-airflow", unit.name);
    let design = &unit.sheet.design;
    let Some((word, tap)) = unit
        .tap
        .as_ref()
        .and_then(|word| Some((word, unit.sheet.blower.taps.get(&word.value)?)))
    else {
        let formula = "airflow of the catalog's design point";
        return match design.airflow.get() {
            Some(flow) => Figure::number(id, flow.value(), Dimension::AirFlow)
                .formula(formula)
                .place(design.airflow.span, "design airflow")
                .source("the equipment's catalog"),
            None => Figure::unknown(id, design.airflow.reason().unwrap_or("not given"))
                .formula(formula)
                .place(design.airflow.span, "design airflow"),
        };
    };
    if unit.sheet.blower.type_of.get() == Some(BlowerType::ConstantAirflow) {
        let formula = "airflow that the motor holds at the set tap";
        return match tap
            .holds
            .as_ref()
            .and_then(|holds| Some((holds, holds.get()?)))
        {
            Some((holds, flow)) => Figure::number(id, flow.value(), Dimension::AirFlow)
                .formula(formula)
                .place(word.span, format!("tap {}", word.value))
                .place(holds.span, "holds")
                .source("the equipment's catalog"),
            None => Figure::unknown(id, "the catalog gives no airflow for the set tap")
                .formula(formula)
                .place(word.span, format!("tap {}", word.value)),
        };
    }
    let formula = "airflow of the set tap at the design point's external static pressure, on the catalog's curve";
    let read = design.external_static.get().and_then(|pressure| {
        read_off(tap.points.as_deref()?, pressure.value(), |point| {
            (point.pressure.value(), point.flow.value())
        })
    });
    let figure = match read {
        Some(read) => {
            let [(low, low_text), (high, high_text)] = read.points;
            Figure::number(id, read.value, Dimension::AirFlow)
                .place(low, low_text)
                .place(high, high_text)
                .source("the equipment's catalog")
        }
        None => Figure::unknown(
            id,
            "the set tap's curve does not reach the design point's pressure",
        ),
    };
    figure
        .formula(formula)
        .place(word.span, format!("tap {}", word.value))
        .place(design.external_static.span, "design external static")
}

/// Suction on one of the catalog's curves.
fn on_curve(
    unit: &AirHandler,
    filter: &str,
    curve: Option<&Vec<Stated<AirPoint>>>,
    flow: &Figure,
) -> Figure {
    let id = format!("air-handler.{}.pan-suction@{filter}", unit.name);
    let formula = format!(
        "suction on the catalog's curve for a {filter} filter at the airflow, on the straight line between its nearest points"
    );
    let Some(points) = curve.filter(|points| !points.is_empty()) else {
        return Figure::unknown(
            id,
            format!("the catalog gives no suction at the pan with a {filter} filter"),
        )
        .formula(formula)
        .place(unit.sheet.suction.span, "suction");
    };
    let Some(cfm) = flow.real() else {
        return Figure::unknown(id, "the airflow is not known")
            .formula(formula)
            .input(flow.id.clone());
    };
    match read_off(points, cfm, |point| {
        (point.flow.value(), point.pressure.value())
    }) {
        Some(read) => {
            let [(low, low_text), (high, high_text)] = read.points;
            Figure::number(id, read.value, Dimension::Pressure)
                .formula(formula)
                .input(flow.id.clone())
                .place(low, low_text)
                .place(high, high_text)
                .source("the equipment's catalog")
        }
        None => Figure::unknown(
            id,
            format!(
                "{} cfm lies beyond the catalog's curve of suction",
                number_text(cfm, 0)
            ),
        )
        .formula(formula)
        .input(flow.id.clone())
        .place(unit.sheet.suction.span, "suction"),
    }
}

/// Enters airflow and suction at the pan, with a clean filter, a dirty one, and the greater of the two.
pub(super) fn enter(unit: &AirHandler, ledger: &mut Ledger) {
    let name = &unit.name;
    let flow = airflow(unit);
    let curves = &unit.sheet.suction;
    let clean = match unit.suction {
        Some(measured) => Figure::number(
            format!("air-handler.{name}.pan-suction@clean"),
            measured.value.abs(),
            Dimension::Pressure,
        )
        .formula("suction measured at the pan")
        .place(measured.span, "suction")
        .source("measured on site"),
        None => on_curve(unit, "clean", curves.clean.as_ref(), &flow),
    };
    let dirty = on_curve(unit, "dirty", curves.dirty.as_ref(), &flow);
    let id = format!("air-handler.{name}.pan-suction");
    let greater = [&clean, &dirty]
        .into_iter()
        .filter_map(|figure| figure.real().map(|suction| (suction, figure)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let whole = match greater {
        Some((suction, of)) => Figure::number(id, suction, Dimension::Pressure).source(of.source),
        None => {
            let reason = match &clean.value {
                crate::figures::FigureValue::Unknown(reason) => reason.clone(),
                _ => String::new(),
            };
            Figure::unknown(id, reason)
        }
    }
    .formula("the greater of the suction with a clean and with a dirty filter, as far as known")
    .input(clean.id.clone())
    .input(dirty.id.clone());
    for figure in [flow, clean, dirty, whole] {
        ledger.enter(figure);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::CurvePoint;
    use crate::quantity::{AirFlow, Pressure};
    use crate::source::FileId;

    #[test]
    fn a_curve_is_never_read_beyond_its_ends() {
        let at = Span::new(FileId::own(0), 0, 0);
        let points: Vec<Stated<AirPoint>> = [(440.0, 0.6), (580.0, 1.04)]
            .into_iter()
            .map(|(flow, pressure)| {
                let point = CurvePoint {
                    flow: AirFlow::new(flow),
                    pressure: Pressure::new(pressure),
                };
                Stated::known(point, at)
            })
            .collect();
        let read =
            |x| read_off(&points, x, |p| (p.flow.value(), p.pressure.value())).map(|r| r.value);
        assert_eq!(read(440.0), Some(0.6));
        assert!((read(510.0).unwrap() - 0.82).abs() < 1e-12);
        assert_eq!(read(439.9), None);
        assert_eq!(read(580.1), None);
    }
}
