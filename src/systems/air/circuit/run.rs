//! A run: take-off, tube with its bends, orifice and outlet, as one segment from the trunk to the rooms.

use crate::catalog::TakeOff;
use crate::model::Run;
use crate::physics::duct::Section;
use crate::quantity::trade_length;

use super::gap::{Gap, absent};
use super::items::{fitting_tube, known, not_held, outlet};
use super::network::{Circuit, ROOM, RunPart};
use super::split::{Leaves, Link};
use super::supply::{Place, Walk};

impl Walk<'_> {
    /// Adds a run that leaves at a place.
    pub(super) fn run(&self, run: &Run, place: &Place, circuit: &mut Circuit) -> Result<(), Gap> {
        let head = (run.span, run.whole, run.flawed);
        let Some(tube_name) = &run.tube else {
            let what = format!("the tube of run `{}`", run.name);
            return Err(absent(self.model, head, "tube", &what));
        };
        let Some(tube) = self.catalog.tubes.get(&tube_name.value) else {
            return Err(not_held(
                self.catalog,
                "the tube",
                &tube_name.value,
                tube_name.span,
            ));
        };
        let Some(length) = run.measured else {
            let what = format!("the length of run `{}`", run.name);
            return Err(absent(self.model, head, "measured", &what));
        };
        if run.bends.is_none() && self.model.is_open(run.span, "bends") {
            let what = format!("the number of bends of run `{}`", run.name);
            return Err(absent(self.model, head, "bends", &what));
        }
        if run.flawed {
            let what = format!("run `{}`", run.name);
            return Err(absent(self.model, head, "run", &what));
        }
        let of = tube_name.value.as_str();
        let (inside, inside_at) = known(&tube.inside, "the inside diameter", of)?;
        let (roughness, rough_at) = known(&tube.roughness, "the roughness", of)?;
        let section = Section::round(inside).ok_or(Gap::Unknown(
            format!("the inside diameter of `{of}` is nothing"),
            inside_at,
        ))?;
        let mut rests = vec![
            (tube_name.span, tube_name.value.clone()),
            (
                inside_at,
                format!("inside diameter {}", trade_length(inside)),
            ),
            (rough_at, "roughness of the tube".to_owned()),
        ];
        let mut fixed = 0.0;
        if let Some(bends) = run.bends {
            let (loss, span) = known(&tube.bend_loss, "the loss of a bend", of)?;
            fixed += bends.value * loss.0;
            rests.push((span, format!("loss of a bend: {}", loss.0)));
        }
        let (name, take_off) = fitting_tube(
            &self.catalog.take_offs,
            "take-off",
            inside,
            (|item: &TakeOff| item.tube.get(), run.span),
        )?;
        let (loss, span) = known(&take_off.loss, "the loss", name)?;
        fixed += loss.0;
        rests.push((span, format!("loss of the take-off: {}", loss.0)));
        let mut orifice = None;
        if let Some(named) = &run.orifice {
            let Some(sheet) = self.catalog.orifices.get(&named.value) else {
                return Err(not_held(
                    self.catalog,
                    "the orifice",
                    &named.value,
                    named.span,
                ));
            };
            let (loss, span) = known(&sheet.loss, "the loss", &named.value)?;
            fixed += loss.0;
            orifice = Some(loss.0);
            rests.push((named.span, named.value.clone()));
            rests.push((span, format!("loss of the orifice: {}", loss.0)));
        } else if self.model.is_open(run.span, "orifice") {
            let what = format!("the orifice of run `{}`", run.name);
            return Err(absent(self.model, head, "orifice", &what));
        }
        let Some(out) = run
            .outlet
            .as_ref()
            .and_then(|name| self.model.house.outlet(name))
        else {
            return Err(Gap::Silent);
        };
        let (name, item) = outlet(self.catalog, out, inside)?;
        let (loss, span) = known(&item.loss, "the loss", name)?;
        fixed += loss.0;
        rests.push((out.span, format!("outlet {}", out.name)));
        rests.push((span, format!("loss of the outlet: {}", loss.0)));
        let link = Link::new(&section, fixed, Leaves::TakeOff, place.upstream);
        let segment = circuit.duct(
            (run.name.clone(), run.span),
            (place.node, ROOM),
            (section, length.value, roughness),
            link,
        );
        circuit.runs.push(RunPart {
            name: run.name.clone(),
            segment,
            rests,
            inside,
            orifice,
            least: tube
                .airflow
                .get()
                .map(|range| (range.least, tube.airflow.span)),
            free: item.free.as_ref().and_then(|free| {
                let area = free.get().filter(|area| area.value() > 0.0)?;
                Some((out.name.clone(), area, free.span))
            }),
            outlet: item
                .airflow
                .get()
                .zip(item.reach.get())
                .map(|(range, reach)| (out.name.clone(), range.least, reach, item.reach.span)),
        });
        Ok(())
    }
}
