//! The supply side: trunk and branches from the plenum, take-offs, tubes, outlets.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalog::{Catalog, Section as Shape, TrunkFittingType};
use crate::model::{AirHandler, FittingKind, Model, Run, Trunk, TrunkLeg};
use crate::physics::duct::Section;
use crate::physics::fitting::{bend_miter, contraction_sharp, expansion_sharp};
use crate::quantity::{Angle, Length, trade_length};

use super::gap::{Gap, absent};
use super::items::{as_round, duct, fitting, known, not_held, pipe};
use super::network::{Circuit, PLENUM};
use super::split::{Leaves, Link};

/// Builds every trunk that starts at a unit, with its branches and the runs that are open, into the circuit.
pub(super) fn build(
    model: &Model,
    catalog: &Catalog,
    (unit, open): (&AirHandler, &dyn Fn(&Run) -> bool),
    circuit: &mut Circuit,
) -> Result<(), Gap> {
    let trunks: Vec<&Trunk> = model
        .trunks
        .values()
        .filter(|trunk| trunk.unit.as_ref() == Some(&unit.name))
        .collect();
    if trunks.is_empty() {
        return Err(Gap::Unknown(
            format!("no trunk starts at `{}`", unit.name),
            unit.span,
        ));
    }
    // A run or trunk with an unreadable or open part leaves every other flow open too.
    for trunk in &trunks {
        if trunk.flawed {
            let what = format!("trunk `{}`", trunk.name);
            return Err(absent(model, (trunk.span, trunk.whole, true), "run", &what));
        }
    }
    let mut fed: BTreeMap<&str, Vec<&Run>> = BTreeMap::new();
    for run in model.runs.values().filter(|run| open(run)) {
        if trunks.iter().any(|trunk| trunk.name == run.trunk.value) {
            fed.entry(run.trunk.value.as_str()).or_default().push(run);
        }
    }
    if fed.is_empty() {
        return Err(Gap::Unknown(
            format!("no run leaves the trunk of `{}`", unit.name),
            unit.span,
        ));
    }
    let walk = Walk {
        model,
        catalog,
        unit,
        fed: &fed,
    };
    // A branch stands after its trunk, so the place where it leaves is known by then.
    let mut places: BTreeMap<(&str, Length), Place> = BTreeMap::new();
    for trunk in trunks {
        walk.trunk(trunk, circuit, &mut places)?;
    }
    Ok(())
}

/// A node of the trunk, and what brings the air there.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) node: usize,
    pub(super) upstream: Option<usize>,
    shape: Option<Shape>,
}

pub(super) struct Walk<'a> {
    pub(super) model: &'a Model,
    pub(super) catalog: &'a Catalog,
    unit: &'a AirHandler,
    fed: &'a BTreeMap<&'a str, Vec<&'a Run>>,
}

impl<'a> Walk<'a> {
    /// Whether any air is wanted on a trunk, itself or in its branches.
    fn active(&self, trunk: &Trunk) -> bool {
        self.fed.contains_key(trunk.name.as_str())
            || self.branches(trunk).any(|(_, branch)| self.active(branch))
    }

    fn branches<'t>(
        &self,
        trunk: &'t Trunk,
    ) -> impl Iterator<Item = (Length, &'a Trunk)> + use<'a, 't> {
        let model = self.model;
        trunk
            .fittings
            .iter()
            .filter_map(move |fitting| match &fitting.kind {
                FittingKind::Tee(name) => Some((fitting.station, model.trunks.get(name)?)),
                _ => None,
            })
    }

    fn trunk(
        &self,
        trunk: &'a Trunk,
        circuit: &mut Circuit,
        places: &mut BTreeMap<(&'a str, Length), Place>,
    ) -> Result<(), Gap> {
        let runs = self
            .fed
            .get(trunk.name.as_str())
            .map_or(&[][..], Vec::as_slice);
        let mut stops: BTreeSet<Length> = BTreeSet::new();
        for run in runs {
            let Some(station) = run.station else {
                let what = format!("the place of run `{}` on its trunk", run.name);
                return Err(absent(
                    self.model,
                    (run.span, run.whole, run.flawed),
                    "run",
                    &what,
                ));
            };
            stops.insert(station.value);
        }
        let tees: Vec<Length> = self
            .branches(trunk)
            .filter(|(_, branch)| self.active(branch))
            .map(|(station, _)| station)
            .collect();
        stops.extend(&tees);
        let Some(last) = stops.last().copied() else {
            // Nothing is drawn from it: the air in it stands.
            return Ok(());
        };
        for (a, b) in trunk.legs.iter().zip(trunk.legs.iter().skip(1)) {
            if pipe_name(a) != pipe_name(b) && b.station < last {
                stops.insert(b.station);
            }
        }
        stops.remove(&Length::ZERO);
        let mut place = start(trunk, places)?;
        places.insert((trunk.name.as_str(), Length::ZERO), place.clone());
        self.runs_at(runs, Length::ZERO, &place, circuit)?;
        let mut at = Length::ZERO;
        for stop in stops {
            let segment = self.stretch(trunk, (at, stop), &place, circuit)?;
            place = Place {
                node: circuit.segments.get(segment).map_or(PLENUM, |s| s.to),
                upstream: Some(segment),
                shape: leg_before(trunk, stop)
                    .map(|leg| pipe(self.catalog, leg))
                    .transpose()?
                    .map(|p| p.shape),
            };
            places.insert((trunk.name.as_str(), stop), place.clone());
            self.runs_at(runs, stop, &place, circuit)?;
            at = stop;
        }
        Ok(())
    }

    /// One stretch of trunk between two places where air leaves or the pipe changes.
    fn stretch(
        &self,
        trunk: &Trunk,
        (from, to): (Length, Length),
        start: &Place,
        circuit: &mut Circuit,
    ) -> Result<usize, Gap> {
        let leg = leg_before(trunk, to).ok_or(Gap::Silent)?;
        let pipe = pipe(self.catalog, leg)?;
        let mut fixed = 0.0;
        // A trunk that turns at a tee turns by the tee.
        let tee_at = |station: Length| {
            trunk
                .fittings
                .iter()
                .any(|f| f.station == station && matches!(f.kind, FittingKind::Tee(_)))
        };
        let elbow_at = |station: Length| {
            trunk
                .fittings
                .iter()
                .filter(|f| f.kind == FittingKind::Elbow && f.station == station)
                .count()
        };
        for elbow in trunk.fittings.iter().filter(|f| {
            f.kind == FittingKind::Elbow
                && from < f.station
                && f.station <= to
                && !tee_at(f.station)
        }) {
            let found = fitting(self.catalog, TrunkFittingType::Elbow, (pipe.shape, None));
            match found {
                Some((sheet, loss)) => {
                    fixed += loss;
                    circuit.rests_on(sheet.loss.span, format!("loss of the elbow: {loss}"));
                }
                None => fixed += bend_miter(Angle::new(90.0)),
            }
            circuit.rests_on(elbow.span, "elbow".to_owned());
        }
        let mut leaves = Leaves::Plainly;
        if from == Length::ZERO {
            if trunk.parent.is_none() {
                fixed += self.adapter(trunk, &pipe.section, circuit)?;
            } else {
                let stated = start
                    .shape
                    .and_then(|shape| fitting(self.catalog, TrunkFittingType::Tee, (shape, None)));
                if let Some((sheet, loss)) = stated {
                    circuit.rests_on(sheet.loss.span, format!("loss of the tee: {loss}"));
                }
                leaves = Leaves::Tee(stated.map(|(_, loss)| loss));
                fixed += self.change(start.shape, pipe.shape, &pipe.section, circuit);
            }
        } else {
            leaves = if tee_at(from) && elbow_at(from) > 0 {
                Leaves::Tee(None)
            } else {
                Leaves::Straight
            };
            fixed += self.change(start.shape, pipe.shape, &pipe.section, circuit);
        }
        circuit.rests_on(
            pipe.sheet.section.span,
            "section of the trunk pipe".to_owned(),
        );
        circuit.rests_on(
            pipe.sheet.roughness.span,
            "roughness of the trunk pipe".to_owned(),
        );
        let node = circuit.node(format!("{} at {}", trunk.name, trade_length(to)));
        let link = Link::new(&pipe.section, fixed, leaves, start.upstream);
        let id = format!("{} to {}", trunk.name, trade_length(to));
        let segment = circuit.duct(
            (id, trunk.span),
            (start.node, node),
            (pipe.section, to - from, pipe.roughness),
            link,
        );
        circuit
            .trunk_segments
            .push((trunk.name.clone(), from, to, segment));
        Ok(segment)
    }

    /// A change of section at the start of a stretch, on the stretch's own velocity.
    fn change(
        &self,
        from: Option<Shape>,
        to: Shape,
        section: &Section,
        circuit: &mut Circuit,
    ) -> f64 {
        let Some((from, before)) = from
            .filter(|from| *from != to)
            .and_then(|from| Some((from, duct(from)?)))
        else {
            return 0.0;
        };
        let narrows = before.area().value() >= section.area().value();
        // On the velocity in the narrower end; turned to this stretch's.
        let onto_own = if narrows {
            1.0
        } else {
            let ratio = section.area().value() / before.area().value();
            ratio * ratio
        };
        if let Some((sheet, loss)) =
            fitting(self.catalog, TrunkFittingType::Reducer, (from, Some(to)))
        {
            circuit.rests_on(sheet.loss.span, format!("loss of the reducer: {loss}"));
            return loss * onto_own;
        }
        let (wide, narrow) = (as_round(&before), as_round(section));
        if narrows {
            contraction_sharp(wide, narrow)
        } else {
            expansion_sharp(wide, narrow) * onto_own
        }
    }

    /// Loss between the unit and the trunk, on the trunk's velocity.
    fn adapter(&self, trunk: &Trunk, section: &Section, circuit: &mut Circuit) -> Result<f64, Gap> {
        if let Some(named) = &trunk.adapter {
            let Some(adapter) = self.catalog.adapters.get(&named.value) else {
                return Err(not_held(
                    self.catalog,
                    "the adapter",
                    &named.value,
                    named.span,
                ));
            };
            let (loss, span) = known(&adapter.loss, "the loss", &named.value)?;
            circuit.rests_on(named.span, named.value.clone());
            circuit.rests_on(span, format!("loss of the adapter: {}", loss.0));
            return Ok(loss.0);
        }
        if self.model.is_open(trunk.span, "adapter") {
            let head = (trunk.span, trunk.whole, trunk.flawed);
            return Err(absent(
                self.model,
                head,
                "adapter",
                "the adapter of the trunk",
            ));
        }
        let port = &self.unit.sheet.ports.supply.size;
        let (shape, span) = known(port, "the supply opening", &self.unit.name)?;
        circuit.rests_on(span, "the unit's supply opening, no adapter".to_owned());
        Ok(duct(shape).map_or(0.0, |port| {
            contraction_sharp(as_round(&port), as_round(section))
        }))
    }

    /// The runs that leave at a station.
    fn runs_at(
        &self,
        runs: &[&Run],
        station: Length,
        place: &Place,
        circuit: &mut Circuit,
    ) -> Result<(), Gap> {
        for run in runs
            .iter()
            .filter(|run| run.station.map(|s| s.value) == Some(station))
        {
            self.run(run, place, circuit)?;
        }
        Ok(())
    }
}

fn pipe_name(leg: &TrunkLeg) -> Option<&str> {
    leg.pipe.as_ref().map(|pipe| pipe.value.as_str())
}

fn leg_before(trunk: &Trunk, station: Length) -> Option<&TrunkLeg> {
    trunk
        .legs
        .iter()
        .find(|leg| leg.station < station && station <= leg.station + leg.length)
}

/// Where a trunk or branch starts.
fn start(trunk: &Trunk, places: &BTreeMap<(&str, Length), Place>) -> Result<Place, Gap> {
    let Some((parent, station)) = &trunk.parent else {
        return Ok(Place {
            node: PLENUM,
            upstream: None,
            shape: None,
        });
    };
    places
        .get(&(parent.as_str(), *station))
        .cloned()
        .ok_or(Gap::Silent)
}
