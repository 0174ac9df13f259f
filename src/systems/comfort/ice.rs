//! How far the coil's surface is from ice, and what airflow and what filter would bring it there.

use crate::catalog::{AirHandler as Sheet, AirPoint, SafetyType, Stated};
use crate::figures::{Figure, Ledger};
use crate::physics::coil::{CoilState, FreezeFlow, Regime, freeze_flow, standard_airflow};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{Dimension, Temperature};

use super::coil::Desk;
use super::gap::{Gap, put};

const SURFACE: &str = "ASHRAE Handbook—HVAC Systems and Equipment, cooling coils: bypass factor and apparatus dew point";
/// Water freezes, °F.
const ICE: f64 = 32.0;

/// The cut-out's opening and closing temperature, where the sheet has one.
pub(super) fn cut_out(
    sheet: &Sheet,
) -> Option<(&Stated<Temperature>, Option<&Stated<Temperature>>)> {
    let safety = sheet
        .safeties
        .values()
        .find(|safety| safety.type_of.get() == Some(SafetyType::Freeze))?;
    Some((safety.opens.as_ref()?, safety.closes.as_ref()))
}

/// Enters them at one operating point of a tap.
pub(super) fn enter(
    desk: &Desk<'_>,
    (found, entering): (&CoilState, &MoistAir),
    tap: Option<&str>,
    ledger: &mut Ledger,
) {
    desk.ice(found, entering, ledger);
    desk.filter(tap, ledger);
}

impl Desk<'_> {
    /// Surface, margin to the cut-out, and the airflow at which it would open.
    fn ice(&self, found: &CoilState, entering: &MoistAir, ledger: &mut Ledger) {
        let none = Gap::because(
            "the coil's line does not meet saturation: no surface does what the table says",
        );
        let surface = found.surface.map(Temperature::value);
        let finish = |figure: Figure| {
            figure
                .formula(match found.regime {
                    Regime::Dry => "dew point at which the coil would just become wet",
                    _ => {
                        "where the line from entering to leaving air, carried on, meets saturation"
                    }
                })
                .source(SURFACE)
                .input(self.id("entering-dry-bulb"))
                .input(self.id("entering-wet-bulb"))
                .input(self.id("leaving-dry-bulb"))
                .input(self.id("leaving-wet-bulb"))
        };
        let id = self.id("surface-temperature");
        let value = surface
            .map(|t| Figure::number(id.clone(), t, Dimension::Temperature))
            .ok_or(&none);
        put(ledger, id.clone(), value, finish);
        let stated = cut_out(&self.unit.sheet);
        let opens = match &stated {
            Some((opens, _)) => match opens.get() {
                Some(value) => Ok((value.value(), Some(opens.span))),
                None => {
                    Err(Gap::because(opens.reason().unwrap_or(
                        "the cut-out's opening temperature is not given",
                    )))
                }
            },
            None => Ok((ICE, None)),
        };
        let cite = |figure: Figure| match (&opens, &stated) {
            (Ok((_, Some(span))), _) => figure.place(*span, "the freeze cut-out opens"),
            (Ok(_), _) => {
                figure.standard("the sheet has no freeze cut-out: water freezes at 32 °F")
            }
            (Err(_), Some((opens, _))) => figure.place(opens.span, "the freeze cut-out opens"),
            (Err(_), None) => figure,
        };
        let margin_id = self.id("freeze-margin");
        let margin = match (surface, &opens) {
            (Some(surface), Ok((opens, _))) => Ok(Figure::number(
                margin_id.clone(),
                surface - opens,
                Dimension::TemperatureDifference,
            )),
            (None, _) => Err(&none),
            (_, Err(gap)) => Err(gap),
        };
        put(ledger, margin_id, margin, |figure| {
            cite(
                figure
                    .formula("surface temperature less the temperature at which the freeze cut-out opens")
                    .source(SURFACE)
                    .input(id.clone()),
            )
        });
        let Ok((opens, _)) = opens else { return };
        self.freeze_airflow(entering, opens, cite, ledger);
    }

    fn freeze_airflow(
        &self,
        entering: &MoistAir,
        opens: f64,
        cite: impl Fn(Figure) -> Figure,
        ledger: &mut Ledger,
    ) {
        let id = self.id("freeze-airflow");
        let outdoor = Temperature::new(self.design.outdoor.value);
        let table = self.table;
        let flow = self.frost.at(entering, || {
            freeze_flow(table, entering, outdoor, Temperature::new(opens))
        });
        let standard = ledger.real(&self.id("standard-airflow"));
        let real = ledger.real(&self.air("airflow"));
        let never = Gap::because(
            "not even a tenth of the table's least airflow brings the surface down to it",
        );
        let always =
            Gap::because("even twice the table's greatest airflow leaves the surface below it");
        let nowhere = Gap::because(
            "the coil's line does not meet saturation where the airflow would freeze it",
        );
        let value = match (flow, standard, real) {
            (FreezeFlow::At(m), Some(standard), Some(real)) => Ok(Figure::number(
                id.clone(),
                standard_airflow(m).value() * real / standard,
                Dimension::AirFlow,
            )),
            (FreezeFlow::Never, ..) => Err(&never),
            (FreezeFlow::Always, ..) => Err(&always),
            _ => Err(&nowhere),
        };
        put(ledger, id, value, |figure| {
            let figure = figure
                .formula("airflow at which the surface reaches the temperature at which the freeze cut-out opens; below the table's airflows its edge gives the total, which keeps to the cold side")
                .source(SURFACE)
                .input(self.id("standard-airflow"))
                .input(self.id("entering-dry-bulb"))
                .input(self.id("entering-wet-bulb"))
                .input(self.id("total"));
            let mut figure = self.design.cite_outdoor(cite(figure));
            let (least, _) = table.airflows();
            for (span, words) in self.blocks(least.value(), self.design.outdoor.value) {
                figure = figure.place(span, words);
            }
            figure
        });
    }

    /// What the filter may use up before the airflow falls to the freezing one, by the tap's curve.
    fn filter(&self, tap: Option<&str>, ledger: &mut Ledger) {
        let real = |id: String| ledger.real(&id);
        let (Some(freeze), Some(flow), Some(external), Some(density)) = (
            real(self.id("freeze-airflow")),
            real(self.air("airflow")),
            real(self.air("external-static")),
            ledger.real("air.supply-density"),
        ) else {
            return;
        };
        let Some((name, tap)) = tap.and_then(|tap| self.unit.sheet.blower.taps.get_key_value(tap))
        else {
            return;
        };
        let Some(points) = &tap.points else { return };
        let id = self.id("freeze-filter-pressure");
        let read = read_at(points, freeze);
        let beyond = Gap::because("the freezing airflow lies beyond the tap's curve");
        let value = read
            .map(|pressure| {
                let blown = pressure * density / 0.075;
                let ducts = external * (freeze / flow) * (freeze / flow);
                Figure::number(id.clone(), (blown - ducts).max(0.0), Dimension::Pressure)
            })
            .ok_or(&beyond);
        let span = tap.span;
        put(ledger, id.clone(), value, |figure| {
            figure
                .formula("pressure of the tap at the freezing airflow × density over 0.075 lb/ft³, less external static × (freezing airflow ÷ airflow)²: what a dirty filter may use up beyond a clean one before the cut-out opens")
                .source("the equipment's catalog; ducts by the square of flow")
                .input(self.id("freeze-airflow"))
                .input(self.air("airflow"))
                .input(self.air("external-static"))
                .input("air.supply-density")
                .place(span, format!("curve of tap {name}"))
        });
    }
}

/// Pressure on a tap's curve at a flow; none beyond its ends.
fn read_at(points: &[Stated<AirPoint>], flow: f64) -> Option<f64> {
    let mut known: Vec<(f64, f64)> = points
        .iter()
        .filter_map(Stated::get)
        .map(|point| (point.flow.value(), point.pressure.value()))
        .collect();
    known.sort_by(|a, b| a.0.total_cmp(&b.0));
    known.windows(2).find_map(|pair| {
        let [(q1, p1), (q2, p2)] = pair else {
            return None;
        };
        (*q1 <= flow && flow <= *q2 && q2 > q1).then(|| p1 + (flow - q1) / (q2 - q1) * (p2 - p1))
    })
}
