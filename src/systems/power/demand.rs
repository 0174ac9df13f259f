//! What the units on a circuit ask of it by their plates, else by their loads: running current, minimum circuit
//! ampacity, largest breaker.

use crate::catalog::Stated;
use crate::figures::{Figure, Ledger};
use crate::model::Circuit;
use crate::physics::conductor::Edition;
use crate::quantity::{Current, Dimension};
use crate::source::Spanned;

use super::code::nec;
use super::plate::Plate;
use super::together::{Bound, bounds, is_silent, least_together, share_of};

/// The units on a circuit with their plates.
pub(super) struct Units<'a> {
    circuit: &'a Circuit,
    /// The one that the circuit goes to.
    own: Plate<'a>,
    /// Further ones, by name.
    further: Vec<(&'a str, Plate<'a>)>,
    edition: Edition,
}

impl<'a> Units<'a> {
    /// None where no plate is known.
    pub(super) fn of(
        circuit: &'a Circuit,
        plates: &[(&'a Spanned<String>, Plate<'a>)],
        edition: Edition,
    ) -> Option<Self> {
        let ((_, own), further) = plates.split_first()?;
        let further = further
            .iter()
            .map(|(unit, plate)| (unit.value.as_str(), *plate))
            .collect();
        Some(Self {
            circuit,
            own: *own,
            further,
            edition,
        })
    }

    fn id(&self, what: &str) -> String {
        format!("circuit.{}.{what}", self.circuit.name)
    }

    fn plates(&self) -> Vec<Plate<'a>> {
        let further = self.further.iter().map(|(_, plate)| *plate);
        std::iter::once(self.own).chain(further).collect()
    }
}

fn amperes(id: String, value: f64) -> Figure {
    Figure::number(id, value, Dimension::Current)
}

/// A current of the plate; unknown with its reason where the plate does not give it.
fn of_plate(id: String, stated: &Stated<Current>, what: &str) -> Figure {
    match stated.get() {
        Some(current) => amperes(id, current.value()).source("the equipment's catalog"),
        None => Figure::unknown(id, stated.reason().unwrap_or("not given")),
    }
    .place(stated.span, what)
}

fn with_loads(mut figure: Figure, plate: &Plate<'_>) -> Figure {
    for (stated, words) in plate.load_places() {
        figure = figure.place(stated.span, words);
    }
    figure
}

/// The running current, the further units with it.
fn enter_running(units: &Units<'_>, ledger: &mut Ledger) {
    let (id, plate) = (units.id("running"), units.own);
    let own = match plate.running {
        Some(stated) => {
            of_plate(id.clone(), stated, "running").formula("running current on the plate")
        }
        None => match plate.carries() {
            Some(loads) if plate.loads.is_some() => with_loads(
                amperes(id.clone(), loads.running().value())
                    .formula("loads of the unit together")
                    .source(nec(units.edition, ["Annex D"; 3])),
                &plate,
            ),
            _ => return,
        },
    };
    let Some(value) = own.real().filter(|_| !units.further.is_empty()) else {
        ledger.enter(own);
        return;
    };
    let mut whole = amperes(id.clone(), value).formula("running currents on the circuit together");
    for (span, text) in own.places() {
        whole = whole.place(span, text.to_owned());
    }
    let mut sum = value;
    for (name, plate) in &units.further {
        let Some((span, current)) = share_of(plate) else {
            ledger.enter(
                Figure::unknown(id.clone(), format!("the current of `{name}` is not known"))
                    .formula("running currents on the circuit together"),
            );
            return;
        };
        sum += current;
        whole = whole.place(span, format!("current of {name}"));
    }
    let mut whole = whole.source("the equipment's catalog");
    whole.value = amperes(id, sum).value;
    ledger.enter(whole);
}

/// The minimum circuit ampacity: of the plate, else by the loads; with further units that of all together.
fn enter_least(units: &Units<'_>, ledger: &mut Ledger) {
    let alone = units.further.is_empty();
    let name = units.id(if alone {
        "least-ampacity"
    } else {
        "least-ampacity-own"
    });
    let (plate, edition) = (units.own, units.edition);
    let asked = plate.carries().and_then(|loads| loads.least_ampacity());
    let own = match (plate.least_ampacity, asked) {
        (stated, Some(ask)) if is_silent(stated) => {
            let figure = amperes(name, ask.current.value())
                .source(nec(edition, [ask.rule.of_ampacity(edition); 3]));
            let formula = if plate.loads.is_some() {
                "by its loads, since the plate gives no minimum circuit ampacity: the largest motor and electric heat at 125 %, the others whole"
            } else {
                "125 % of the running current, where the plate gives no minimum circuit ampacity"
            };
            with_loads(figure.formula(formula), &plate)
        }
        (Some(stated), _) => of_plate(name, stated, "least-ampacity")
            .formula("minimum circuit ampacity on the plate, which holds the 125 % already"),
        (None, _) => return,
    };
    ledger.enter(own);
    if alone {
        return;
    }
    let plates = units.plates();
    let formula = "minimum circuit ampacity of the unit with the largest current, and the currents of the others whole";
    let Some(sum) = least_together(&plates) else {
        ledger.enter(
            Figure::unknown(
                units.id("least-ampacity"),
                "a current on the circuit is not known",
            )
            .formula(formula),
        );
        return;
    };
    let cools = plates.iter().any(|plate| plate.conditions_air);
    let section = if cools {
        "440.33, 440.34"
    } else {
        "430.24, 430.25"
    };
    let mut whole = amperes(units.id("least-ampacity"), sum)
        .formula(formula)
        .input(units.id("least-ampacity-own"))
        .source(nec(edition, [section; 3]));
    for (name, plate) in &units.further {
        if let Some((span, _)) = share_of(plate) {
            whole = whole.place(span, format!("current of {name}"));
        }
    }
    ledger.enter(whole);
}

/// The largest breaker: of the plate, else by the loads; of several units the least.
fn enter_most(units: &Units<'_>, ledger: &mut Ledger) {
    let (circuit, edition) = (units.circuit, units.edition);
    let id = || units.id("most-breaker");
    let plates = units.plates();
    let figures: Vec<Figure> = bounds(circuit, &plates, edition)
        .into_iter()
        .filter_map(|(n, bound)| match bound {
            Bound::Plate(stated) => Some(
                of_plate(id(), stated, "most-breaker")
                    .formula("maximum breaker or fuse on the plate"),
            ),
            Bound::Loads(breaker) => Some(with_loads(
                amperes(id(), breaker.rating.value())
                    .formula("by its loads, since the plate gives no maximum: 175 % of the largest compressor or 250 % of the largest motor and the others whole, brought to a standard rating; a motor up to 6 A may stand on a general circuit")
                    .place(circuit.volts?.span, "volts")
                    .source(nec(edition, [breaker.rule.of_breaker(edition); 3])),
                plates.get(n)?,
            )),
        })
        .collect();
    let unknown = figures.iter().find(|figure| figure.real().is_none());
    let least = figures
        .iter()
        .min_by(|a, b| a.real().unwrap_or(0.0).total_cmp(&b.real().unwrap_or(0.0)));
    let Some(mut most) = unknown.or(least).cloned() else {
        return;
    };
    if !units.further.is_empty() {
        let own = most.formula.clone();
        most = most.formula(format!(
            "the least that a unit on the circuit allows: {own}"
        ));
    }
    ledger.enter(most);
}

/// Enters what the plates ask: setting, supply, currents, breaker and poles.
pub(super) fn enter_plate(units: &Units<'_>, ledger: &mut Ledger) {
    let (id, plate) = (|what: &str| units.id(what), &units.own);
    if let Some((name, setting)) = plate.setting {
        ledger.enter(
            Figure::text(id("setting"), name)
                .formula("the voltage setting that the job names, else the first of the sheet, as shipped")
                .place(setting.span, name)
                .source("the equipment's catalog"),
        );
    }
    if let Some(supply) = plate.supply.get() {
        for (what, end) in [("supply-least", supply.least), ("supply-most", supply.most)] {
            ledger.enter(
                Figure::number(id(what), end.value(), Dimension::Voltage)
                    .formula("end of the supply voltages that the plate allows")
                    .place(plate.supply.span, "supply")
                    .source("the equipment's catalog"),
            );
        }
    }
    enter_running(units, ledger);
    enter_least(units, ledger);
    enter_most(units, ledger);
    if let Some((needed, span)) = plate.poles_needed() {
        ledger.enter(
            Figure::count(id("poles-needed"), needed)
                .formula("poles of the breaker on the plate")
                .place(span, "poles")
                .source("the equipment's catalog"),
        );
    }
}
