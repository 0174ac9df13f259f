//! The tube of a run: the spaces that it passes through, and how warm its air arrives.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::Run;
use crate::physics::duct_heat::{InsulatedDuct, along_duct};
use crate::quantity::{Dimension, Length, Temperature};
use crate::source::Span;

use super::gap::{Gap, put};
use super::space::{Space, at, named, reaches};
use super::way::{SOURCE, Walk};

impl Walk<'_> {
    /// The pieces of a run in the spaces it passes through, in order from its take-off.
    ///
    /// In a story that is kept comfortable it has at least the height that it crosses there; all else of it is taken
    /// to lie in the space farthest from the rooms' temperature: no piece is counted shorter than it can be.
    fn pieces(&self, run: &Run, length: Length) -> Result<Vec<(Length, Space)>, Gap> {
        let take_off = run.take_off.ok_or(Gap::Silent)?;
        let outlet = run
            .outlet
            .as_ref()
            .and_then(|name| self.model.house.outlet(name))
            .ok_or(Gap::Silent)?;
        let mut spaces = Vec::new();
        for name in &run.through {
            spaces.push(named(self.model, &name.value, self.design)?);
        }
        if spaces.is_empty() {
            spaces.push(at(self.model, take_off.z, self.design)?);
        }
        let indoor = self.design.indoor.value;
        let off = |space: &Space| (space.temperature - indoor).abs();
        let worst = spaces
            .iter()
            .filter(|space| space.unconditioned)
            .max_by(|a, b| off(a).total_cmp(&off(b)))
            .cloned();
        let Some(worst) = worst else {
            let first = spaces.into_iter().next().ok_or(Gap::Silent)?;
            return Ok(vec![(length, first)]);
        };
        let (low, high) = (
            take_off.z.min(outlet.point.z),
            take_off.z.max(outlet.point.z),
        );
        let mut pieces: Vec<(Length, Space)> = Vec::new();
        let mut rest = length;
        for space in spaces.into_iter().filter(|space| !space.unconditioned) {
            let Some(story) = self.model.house.stories.get(&space.story) else {
                continue;
            };
            if pieces.iter().any(|(_, known)| known.story == space.story) {
                continue;
            }
            let (floor, above) = reaches(&self.model.house, story);
            let top = above.map_or(high, |above| above.min(high));
            let crossed = (top - floor.max(low)).max(Length::ZERO).min(rest);
            rest -= crossed;
            pieces.push((crossed, space));
        }
        let unconditioned_first = self
            .model
            .house
            .stories
            .get(&worst.story)
            .is_none_or(|story| story.floor <= take_off.z);
        if unconditioned_first {
            pieces.insert(0, (rest, worst));
        } else {
            pieces.push((rest, worst));
        }
        Ok(pieces)
    }

    /// A run: the temperature in its outlet and the heat gained.
    pub(super) fn run(
        &self,
        run: &Run,
        t: f64,
        flow: f64,
        ledger: &mut Ledger,
    ) -> Result<(f64, f64), Gap> {
        let id = figure_id(["run.", &run.name, ".supply-temperature", self.suffix]);
        let found = self.tube(run, t, flow);
        let value = found
            .as_ref()
            .map(|(end, ..)| Figure::number(id.clone(), *end, Dimension::Temperature));
        put(ledger, id, value, |figure| {
            let mut figure = figure
                .formula("temperature around it + (temperature at the take-off − that around it) × e^(−length ÷ (resistance of a foot × what the air carries)), piece by piece; a story that is kept comfortable takes the height crossed there, the rest lies in the space farthest from the rooms' temperature")
                .source(SOURCE)
                .input(figure_id(["run.", &run.name, ".airflow", self.suffix]))
                .input(figure_id(["run.", &run.name, ".take-off-temperature", self.suffix]))
                .input(figure_id(["run.", &run.name, ".length"]));
            if let Ok((.., cites)) = &found {
                for (span, words) in cites {
                    figure = figure.place(*span, words.clone());
                }
            }
            figure
        });
        found.map(|(end, gain, _)| (end, gain))
    }

    #[expect(
        clippy::type_complexity,
        reason = "what a figure cites, beside its number"
    )]
    fn tube(&self, run: &Run, t: f64, flow: f64) -> Result<(f64, f64, Vec<(Span, String)>), Gap> {
        let tube = run
            .tube
            .as_ref()
            .ok_or_else(|| Gap::because(format!("the tube of run `{}` is not named", run.name)))?;
        let sheet =
            self.catalog.tubes.get(&tube.value).ok_or_else(|| {
                Gap::because(format!("no catalog holds the tube `{}`", tube.value))
            })?;
        let unstated = |reason: Option<&'static str>, what: &str| {
            Gap::because(format!(
                "{what} of `{}`: {}",
                tube.value,
                reason.unwrap_or("the catalog does not give it")
            ))
        };
        let duct = InsulatedDuct {
            inside: sheet
                .inside
                .get()
                .ok_or_else(|| unstated(sheet.inside.reason(), "the inside diameter"))?,
            outside: sheet.outside.get(),
            insulation: sheet
                .insulation
                .get()
                .ok_or_else(|| unstated(sheet.insulation.reason(), "the insulation"))?,
        };
        let length = run.length().or(run.straight).ok_or_else(|| {
            Gap::because(format!("the length of run `{}` is not known", run.name))
        })?;
        let mut cites = vec![
            (tube.span, tube.value.clone()),
            (sheet.insulation.span, "insulation of the tube".to_owned()),
        ];
        let (mut warm, mut gain) = (t, 0.0);
        for (length, space) in self.pieces(run, length)? {
            cites.push((space.span, space.words.clone()));
            let end = along_duct(
                &duct,
                length,
                Temperature::new(space.temperature),
                Temperature::new(warm),
                &self.stream(flow),
            )
            .ok_or_else(|| Gap::because(format!("no air flows out through run `{}`", run.name)))?;
            warm = end.leaving.value();
            gain += end.gain.value();
        }
        Ok((warm, gain, cites))
    }
}
