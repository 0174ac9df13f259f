//! The job at a further condition: the whole computation of the air, with that weather in the place of a season's.
//!
//! Loads are known at the designs alone. What changes with the weather outdoors is a room's heat loss by the degree;
//! sun, people and lamps stay as the cooling design has them, so a cooling condition is one with the sun out.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalog::{Catalog, Standards};
use crate::figures::{Figure, FigureValue, Input, Ledger};
use crate::model::{Condition, Model, Room, Story};
use crate::quantity::Dimension;
use crate::source::{Span, Spanned};

use super::comfort::design::Season;
use super::{Purpose, air, comfort, water};

const SOURCE: &str = "steady heat through walls and roofs, ASHRAE Handbook—Fundamentals: in proportion to the difference of temperature";
const OWN: [&str; 2] = ["summer", "winter"];

/// Temperatures outdoors and indoors, °F.
#[derive(Clone, Copy)]
struct Weather {
    outdoor: f64,
    indoor: f64,
}

impl Weather {
    fn of(condition: &Condition) -> Option<Self> {
        Some(Self {
            outdoor: condition.outdoor?.value,
            indoor: condition.indoor?.value,
        })
    }

    /// How much warmer it is outdoors, °F.
    fn over(self) -> f64 {
        self.outdoor - self.indoor
    }
}

/// The designs of the job, and the further weather.
#[derive(Clone, Copy)]
struct Change {
    summer: Option<Weather>,
    winter: Option<Weather>,
    now: Weather,
}

impl Change {
    fn of(model: &Model, condition: &Condition) -> Option<Self> {
        let design = |name| model.job.condition(name).and_then(Weather::of);
        Some(Self {
            summer: design("summer"),
            winter: design("winter"),
            now: Weather::of(condition)?,
        })
    }

    /// What a room's load changes by for each degree, Btu/(h·°F): its heat loss by the degree of winter; where that
    /// is not known, all of its cooling load.
    fn slope(&self, room: &Room) -> Option<f64> {
        let by = |load: Option<Spanned<f64>>, weather: Option<Weather>| {
            let apart = weather?.over().abs();
            (apart > 0.0).then_some(load?.value / apart)
        };
        by(room.heating, self.winter).or_else(|| by(room.sensible, self.summer))
    }

    /// A room's sensible cooling load, Btu/h; below nothing where it loses more than it gains.
    fn cooling(&self, room: &Room) -> Option<f64> {
        let change = self.now.over() - self.summer?.over();
        Some(room.sensible?.value + self.slope(room)? * change)
    }

    /// A room's heat loss, Btu/h.
    fn heating(&self, room: &Room) -> Option<f64> {
        Some(-self.slope(room)? * self.now.over())
    }

    /// Whether the house gains heat then, so that it cools.
    fn season(&self, model: &Model) -> Option<Season> {
        let rooms = model.house.rooms.values();
        let gain: f64 = rooms.filter_map(|room| self.cooling(room)).sum();
        match (self.summer, self.winter) {
            (Some(_), _) if gain > 0.0 => Some(Season::Summer),
            (_, Some(_)) if self.now.over() < 0.0 => Some(Season::Winter),
            _ => None,
        }
    }

    /// Temperature of an unconditioned story for which a design says `stated`.
    ///
    /// Warmer than all around it, it keeps what the sun or a boiler adds; between indoors and outdoors it keeps its
    /// share; colder than both, the ground keeps it.
    fn space(&self, stated: f64, season: Season) -> Option<f64> {
        let design = match season {
            Season::Summer => self.summer?,
            Season::Winter => self.winter?,
        };
        let (warm, cold) = (
            design.outdoor.max(design.indoor),
            design.outdoor.min(design.indoor),
        );
        Some(if stated >= warm {
            let about = if design.outdoor >= design.indoor {
                self.now.outdoor
            } else {
                self.now.indoor
            };
            about + (stated - warm)
        } else if stated <= cold {
            stated
        } else {
            self.now.indoor + (stated - design.indoor) / design.over() * self.now.over()
        })
    }
}

/// Which season's computation a further condition is put through; none where the job lacks the design that its
/// loads are reckoned from.
pub(super) fn season_at(model: &Model, condition: &Condition) -> Option<Season> {
    if OWN.contains(&condition.name.as_str()) {
        return None;
    }
    Change::of(model, condition)?.season(model)
}

/// A job in which the condition stands for a season's design.
struct StandIn<'m> {
    condition: &'m Condition,
    season: Season,
    model: Model,
    /// Values that were reckoned anew, by the words that the job has for them at design.
    anew: BTreeMap<Span, Figure>,
}

impl<'m> StandIn<'m> {
    fn of(model: &'m Model, condition: &'m Condition) -> Option<Self> {
        let season = season_at(model, condition)?;
        let change = Change::of(model, condition)?;
        let mut out = Self {
            condition,
            season,
            model: model.clone(),
            anew: BTreeMap::new(),
        };
        let word = season.word();
        out.model
            .job
            .conditions
            .retain(|own| OWN.contains(&own.name.as_str()) && own.name != word);
        out.model.job.conditions.push(Condition {
            name: word.to_owned(),
            ..condition.clone()
        });
        for room in model.house.rooms.values() {
            out.room(room, &change);
        }
        for story in model.house.stories.values() {
            out.story(story, &change);
        }
        Some(out)
    }

    /// Id of a figure at this condition.
    fn id(&self, id: &str) -> String {
        let name = &self.condition.name;
        let Some((what, at)) = id.split_once('@') else {
            return format!("{id}@{name}");
        };
        match at.strip_prefix(self.season.word()) {
            Some(rest) => format!("{what}@{name}{rest}"),
            None => format!("{what}@{name}.{at}"),
        }
    }

    fn cite(&self, figure: Figure, own: (Span, String)) -> Figure {
        let name = &self.condition.name;
        let mut figure = figure.source(SOURCE).place(own.0, own.1);
        for (value, what) in [
            (self.condition.outdoor, "outdoor"),
            (self.condition.indoor, "indoor"),
        ] {
            if let Some(value) = value {
                figure = figure.place(value.span, format!("{name} {what} temperature"));
            }
        }
        figure
    }

    fn room(&mut self, room: &Room, change: &Change) {
        let (stated, now, what, formula) = match self.season {
            Season::Summer => (
                room.sensible,
                change.cooling(room),
                "sensible cooling load",
                "design load − U × (degrees that outdoors is over indoors at design − the same now), with U the heat loss ÷ winter's difference of indoors and outdoors; sun, people and lamps as at design",
            ),
            Season::Winter => (
                room.heating,
                change.heating(room),
                "heat loss",
                "design heat loss × difference of indoors and outdoors ÷ that of design",
            ),
        };
        let (Some(stated), Some(now)) = (stated, now) else {
            return;
        };
        let id = format!("room.{}.own-load@{}", room.name, self.condition.name);
        let figure = Figure::number(id, now, Dimension::HeatFlow).formula(formula);
        let mut figure = self.cite(figure, (stated.span, format!("{what} of {}", room.name)));
        if let (Season::Summer, Some(loss)) = (self.season, room.heating) {
            figure = figure.place(loss.span, format!("heat loss of {}", room.name));
        }
        self.anew.insert(stated.span, figure);
        if let Some(room) = self.model.house.rooms.get_mut(&room.name) {
            let own = match self.season {
                Season::Summer => &mut room.sensible,
                Season::Winter => &mut room.heating,
            };
            *own = Some(Spanned::new(now, stated.span));
        }
    }

    fn story(&mut self, story: &Story, change: &Change) {
        let stated = match self.season {
            Season::Summer => story.summer,
            Season::Winter => story.winter,
        };
        let Some(stated) = stated else {
            return;
        };
        let Some(now) = change.space(stated.value, self.season) else {
            return;
        };
        let id = format!("story.{}.temperature@{}", story.name, self.condition.name);
        let figure = Figure::number(id, now, Dimension::Temperature).formula(
            "warmer than indoors and outdoors at design: as much over them now; between them: its share of the difference; colder than both: as the ground keeps it",
        );
        let words = format!("{} temperature of {}", self.season.word(), story.name);
        let figure = self.cite(figure, (stated.span, words));
        self.anew.insert(stated.span, figure);
        if let Some(story) = self.model.house.stories.get_mut(&story.name) {
            let own = match self.season {
                Season::Summer => &mut story.summer,
                Season::Winter => &mut story.winter,
            };
            *own = Some(Spanned::new(now, stated.span));
        }
    }

    fn within(&self, span: Span) -> bool {
        let whole = self.condition.span;
        span.file == whole.file && span.start >= whole.start && span.end <= whole.end
    }

    /// Ids of the figures that rest on this weather, and on nothing that is known at design alone.
    fn resting(&self, ledger: &Ledger) -> BTreeSet<String> {
        let latent: BTreeSet<Span> = self
            .model
            .house
            .rooms
            .values()
            .filter_map(|room| Some(room.latent?.span))
            .collect();
        let weather = |span: Span| self.within(span) || self.anew.contains_key(&span);
        let own = closure(ledger, &weather);
        let design = closure(ledger, &|span| latent.contains(&span));
        own.difference(&design)
            .filter(|id| !self.of_design_alone(id))
            .map(|id| (*id).to_owned())
            .collect()
    }

    /// What is of the designs alone: the other season's, the grid of readings over all weathers, the rule of thumb.
    fn of_design_alone(&self, id: &str) -> bool {
        let (what, at) = id.split_once('@').unwrap_or((id, ""));
        let quantity = what.rsplit('.').next().unwrap_or(what);
        let other = OWN.iter().filter(|word| **word != self.season.word());
        quantity.starts_with("split-")
            || quantity == "airflow-estimate"
            || other.into_iter().any(|word| at.starts_with(word))
    }

    /// A figure of the stand-in as one of the job's at this condition.
    fn adopt(&self, figure: &Figure, own: &BTreeSet<String>) -> Figure {
        let mut figure = figure.clone();
        figure.id = self.id(&figure.id);
        let mut anew = Vec::new();
        for input in &mut figure.inputs {
            match input {
                Input::Figure(id) if own.contains(id) => *id = self.id(id),
                Input::Place { span, text } if self.within(*span) => {
                    *text = text.replacen(self.season.word(), &self.condition.name, 1);
                }
                Input::Place { span, .. } => {
                    if let Some(reckoned) = self.anew.get(span) {
                        anew.push(Input::Figure(reckoned.id.clone()));
                    }
                }
                Input::Figure(_) | Input::Standard(_) => {}
            }
        }
        figure.inputs.extend(anew);
        if let FigureValue::Unknown(reason) = &mut figure.value {
            *reason = reason.replacen(self.season.word(), &self.condition.name, 1);
        }
        figure
    }
}

/// Ids of the figures that rest, through others or at once, on words for which `held` is true.
fn closure<'l>(ledger: &'l Ledger, held: &dyn Fn(Span) -> bool) -> BTreeSet<&'l str> {
    let mut found: BTreeSet<&str> = BTreeSet::new();
    loop {
        let before = found.len();
        for figure in ledger.iter() {
            let rests = figure.inputs.iter().any(|input| match input {
                Input::Figure(id) => found.contains(id.as_str()),
                Input::Place { span, .. } => held(*span),
                Input::Standard(_) => false,
            });
            if rests {
                found.insert(&figure.id);
            }
        }
        if found.len() == before {
            return found;
        }
    }
}

/// Enters what the air does at each further condition of the job: `…@name` for what is plain at the designs.
pub(super) fn enter(
    model: &Model,
    catalog: &Catalog,
    standards: &Standards,
    purpose: Purpose,
    ledger: &mut Ledger,
) {
    for condition in &model.job.conditions {
        let Some(stand_in) = StandIn::of(model, condition) else {
            continue;
        };
        let mut own = Ledger::default();
        water::enter_flows(&stand_in.model, catalog, &mut own);
        air::enter(&stand_in.model, catalog, standards, purpose, &mut own);
        comfort::enter(&stand_in.model, catalog, purpose, &mut own);
        for figure in stand_in.anew.values() {
            ledger.enter(figure.clone());
        }
        let resting = stand_in.resting(&own);
        for figure in own.iter().filter(|figure| resting.contains(&figure.id)) {
            ledger.enter(stand_in.adopt(figure, &resting));
        }
    }
}
