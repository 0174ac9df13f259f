//! What a tap does to the air: its curve by the fan laws, or the flow that its motor holds.

use crate::catalog::{BlowerType, Stated, Tap};
use crate::model::AirHandler;
use crate::physics::network::{Drive, FanCurve};
use crate::quantity::{AirFlow, Pressure};
use crate::source::Span;

use super::gap::{Gap, unstated};

/// A tap as the solver takes it.
#[derive(Clone, Debug)]
pub(super) struct Blows {
    pub(super) drive: Drive,
    /// The external static pressure up to which a motor holds its airflow.
    pub(super) up_to: Option<(Pressure, Span)>,
    /// The words it was read from.
    pub(super) rests: Vec<(Span, String)>,
}

/// A tap in air of a density over standard air's: pressure grows with density at the same flow.
pub(super) fn blows(unit: &AirHandler, name: &str, tap: &Tap, rated: f64) -> Result<Blows, Gap> {
    let kind = &unit.sheet.blower.type_of;
    match kind.get() {
        None => Err(unstated(
            "the type of the blower",
            &unit.model.value,
            kind.reason(),
            kind.span,
        )),
        Some(BlowerType::ConstantAirflow) => {
            let held = tap
                .holds
                .as_ref()
                .and_then(|holds| Some((holds.get()?, holds.span)));
            let Some((flow, span)) = held else {
                return Err(unstated(
                    "the airflow that the motor holds on tap",
                    name,
                    None,
                    tap.span,
                ));
            };
            let up_to = tap
                .up_to
                .as_ref()
                .and_then(|up_to| Some((up_to.get()? * rated, up_to.span)));
            let mut rests = vec![(span, format!("tap {name} holds {} cfm", flow.value()))];
            if let Some((_, at)) = &up_to {
                rests.push((*at, "pressure up to which it holds".to_owned()));
            }
            Ok(Blows {
                drive: Drive::Flow(flow),
                up_to,
                rests,
            })
        }
        Some(BlowerType::Curve) => {
            let stated: &[Stated<_>] = tap.points.as_deref().unwrap_or(&[]);
            let mut points: Vec<(AirFlow, Pressure)> = stated
                .iter()
                .filter_map(Stated::get)
                .map(|point| (point.flow, point.pressure * rated))
                .collect();
            if points.len() < stated.len() || points.len() < 2 {
                return Err(unstated("the curve of tap", name, None, tap.span));
            }
            points.sort_by(|a, b| a.0.value().total_cmp(&b.0.value()));
            let curve = FanCurve::new(&points).map_err(|why| {
                Gap::Fault(
                    format!("tap {name} of `{}`: {why}", unit.name),
                    tap.span,
                    None,
                )
            })?;
            let rests = stated
                .iter()
                .filter_map(|point| {
                    let p = point.get()?;
                    Some((
                        point.span,
                        format!("{} cfm at {} inwc", p.flow.value(), p.pressure.value()),
                    ))
                })
                .collect();
            Ok(Blows {
                drive: Drive::Fan(curve),
                up_to: None,
                rests,
            })
        }
    }
}
