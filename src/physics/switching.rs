//! Networks of wires, contacts, loads and transformers, brought to rest from all de-energised.
//!
//! As logic: a load is fed when its two ends conduct to the two sides of one transformer that is not short-circuited.
//! What contacts look at (loads fed, points joined, inputs) decides the next turn, until nothing changes any more.

/// One thing that a contact looks at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Input `.0` is up (or down).
    Input(usize, bool),
    /// Load `.0` is fed (or not).
    Fed(usize, bool),
    /// Two points conduct to each other.
    Joined([usize; 2]),
}

/// A contact: it conducts while all its conditions hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contact {
    /// Its two points.
    pub ends: [usize; 2],
    /// What has to hold.
    pub closed_when: Vec<Condition>,
}

/// A network of points numbered from 0.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Network {
    /// How many points there are.
    pub points: usize,
    /// Points joined for good.
    pub joins: Vec<[usize; 2]>,
    /// Contacts.
    pub contacts: Vec<Contact>,
    /// The two ends of each load.
    pub loads: Vec<[usize; 2]>,
    /// The two sides of each transformer.
    pub sources: Vec<[usize; 2]>,
}

/// What is otherwise than drawn in one trial.
#[derive(Clone, Copy, Debug, Default)]
pub struct Trial<'t> {
    /// Which inputs are up; those beyond the list are down.
    pub inputs: &'t [bool],
    /// Contacts that stick: their number, and whether closed.
    pub stuck: &'t [(usize, bool)],
}

/// Points that conduct to each other have one number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Nodes(Vec<usize>);

impl Nodes {
    fn apart(count: usize) -> Self {
        Self((0..count).collect())
    }

    /// Parts all points again.
    fn part(&mut self) {
        for (point, up) in self.0.iter_mut().enumerate() {
            *up = point;
        }
    }

    /// The number of the set that a point belongs to.
    pub fn find(&self, point: usize) -> usize {
        let mut at = point;
        while let Some(up) = self.0.get(at).copied().filter(|up| *up != at) {
            at = up;
        }
        at
    }

    /// Whether two points conduct to each other.
    pub fn meet(&self, one: usize, other: usize) -> bool {
        self.find(one) == self.find(other)
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.find(one), self.find(other));
        if let Some(slot) = self.0.get_mut(one.max(other)) {
            *slot = one.min(other);
        }
    }
}

/// Turns after which a network that has not come to rest is taken to be restless.
const MOST_TURNS: usize = 256;

/// A network with what is joined for good drawn together: fewer points, ready for many trials.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The drawn-together point of each point.
    pub net_of: Vec<usize>,
    count: usize,
    contacts: Vec<Contact>,
    loads: Vec<[usize; 2]>,
    sources: Vec<[usize; 2]>,
}

/// The network at rest, in drawn-together points; of one that never rests the turn it comes back to that tells most.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// Whether each load is fed.
    pub fed: Vec<bool>,
    /// Whether each transformer is short-circuited.
    pub shorted: Vec<bool>,
    /// Whether each contact conducts.
    pub closed: Vec<bool>,
    /// Whether it came to rest; a relay that feeds itself off never does.
    pub steady: bool,
    /// The contacts that go on moving, where it never comes to rest.
    pub moving: Vec<usize>,
    nodes: Nodes,
}

impl Network {
    /// Draws together what is joined for good, all joins but `without`.
    pub fn drawn(&self, without: Option<usize>) -> Drawn {
        let mut nodes = Nodes::apart(self.points);
        for (n, [one, other]) in self.joins.iter().enumerate() {
            if without != Some(n) {
                nodes.join(*one, *other);
            }
        }
        let mut numbers: Vec<usize> = vec![usize::MAX; self.points];
        let mut count = 0;
        let net_of: Vec<usize> = (0..self.points)
            .map(|point| {
                let Some(slot) = numbers.get_mut(nodes.find(point)) else {
                    return 0;
                };
                if *slot == usize::MAX {
                    *slot = count;
                    count += 1;
                }
                *slot
            })
            .collect();
        let at = |point: &usize| net_of.get(*point).copied().unwrap_or(0);
        let both = |ends: &[usize; 2]| ends.each_ref().map(at);
        Drawn {
            count,
            contacts: self
                .contacts
                .iter()
                .map(|contact| Contact {
                    ends: both(&contact.ends),
                    closed_when: contact
                        .closed_when
                        .iter()
                        .map(|condition| match condition {
                            Condition::Joined(ends) => Condition::Joined(both(ends)),
                            other => other.clone(),
                        })
                        .collect(),
                })
                .collect(),
            loads: self.loads.iter().map(both).collect(),
            sources: self.sources.iter().map(both).collect(),
            net_of,
        }
    }
}

impl Drawn {
    fn closed(&self, trial: Trial<'_>, fed: &[bool], nodes: &Nodes) -> Vec<bool> {
        let up = |input: usize| trial.inputs.get(input).copied().unwrap_or(false);
        let mut closed: Vec<bool> = self
            .contacts
            .iter()
            .map(|contact| {
                contact.closed_when.iter().all(|condition| match condition {
                    Condition::Input(input, wanted) => up(*input) == *wanted,
                    Condition::Fed(load, wanted) => {
                        fed.get(*load).copied().unwrap_or(false) == *wanted
                    }
                    Condition::Joined([one, other]) => nodes.meet(*one, *other),
                })
            })
            .collect();
        for (contact, state) in trial.stuck {
            if let Some(slot) = closed.get_mut(*contact) {
                *slot = *state;
            }
        }
        closed
    }

    fn nodes(&self, closed: &[bool]) -> Nodes {
        let mut nodes = Nodes::apart(self.count);
        self.join(closed, &mut nodes);
        nodes
    }

    /// Joins what the contacts that conduct join; all points are apart before.
    fn join(&self, closed: &[bool], nodes: &mut Nodes) {
        for (contact, closed) in self.contacts.iter().zip(closed) {
            if *closed {
                let [one, other] = contact.ends;
                nodes.join(one, other);
            }
        }
    }

    fn fed(&self, nodes: &Nodes) -> impl Iterator<Item = bool> {
        let across = move |one: usize, other: usize| {
            self.sources.iter().any(|sides| {
                let [hot, cold] = sides.map(|side| nodes.find(side));
                hot != cold && ([one, other] == [hot, cold] || [other, one] == [hot, cold])
            })
        };
        self.loads
            .iter()
            .map(move |ends| across(nodes.find(ends[0]), nodes.find(ends[1])))
    }

    /// Whether two points, as they were before drawing together, conduct to each other in `rest`.
    pub fn meet(&self, rest: &Rest, one: usize, other: usize) -> bool {
        match (self.net_of.get(one), self.net_of.get(other)) {
            (Some(one), Some(other)) => rest.meet(*one, *other),
            _ => false,
        }
    }

    /// Runs a trial to its rest, all loads de-energised and all points apart at first.
    ///
    /// Each turn that changes anything reaches a state not seen before, or the network never rests; a state is the
    /// set of contacts that conduct.
    pub fn rest(&self, trial: Trial<'_>) -> Rest {
        let mut fed = vec![false; self.loads.len()];
        let mut nodes = Nodes::apart(self.count);
        let mut seen: Vec<Vec<bool>> = Vec::new();
        loop {
            let closed = self.closed(trial, &fed, &nodes);
            if seen.last() == Some(&closed) {
                return self.at(closed, fed, nodes);
            }
            let before = seen.iter().position(|turn| *turn == closed);
            if before.is_some() || seen.len() >= MOST_TURNS {
                return self.never_rests(seen.split_off(before.unwrap_or(0)));
            }
            nodes.part();
            self.join(&closed, &mut nodes);
            fed.clear();
            fed.extend(self.fed(&nodes));
            seen.push(closed);
        }
    }

    fn at(&self, closed: Vec<bool>, fed: Vec<bool>, nodes: Nodes) -> Rest {
        let shorted = |[hot, cold]: &[usize; 2]| nodes.meet(*hot, *cold);
        Rest {
            fed,
            shorted: self.sources.iter().map(shorted).collect(),
            closed,
            steady: true,
            moving: Vec::new(),
            nodes,
        }
    }

    /// What is said of a network that goes through these `turns` again and again.
    fn never_rests(&self, mut turns: Vec<Vec<bool>>) -> Rest {
        let moves = |n: &usize| {
            let mut states = turns.iter().map(|turn| turn.get(*n));
            let first = states.next();
            states.any(|state| Some(state) != first)
        };
        let moving = (0..self.contacts.len()).filter(moves).collect();
        // The turn that tells most: one that shorts a transformer, else that in which most is fed.
        let tells = |closed: &[bool]| {
            let nodes = self.nodes(closed);
            let mut sources = self.sources.iter();
            let shorts = sources.any(|[hot, cold]| nodes.meet(*hot, *cold));
            let fed = self.fed(&nodes).filter(|fed| *fed).count();
            (shorts, fed)
        };
        let turn = (0..turns.len())
            .max_by_key(|n| turns.get(*n).map(|turn| tells(turn)))
            .unwrap_or(0);
        let closed = turns.get_mut(turn).map(std::mem::take).unwrap_or_default();
        let nodes = self.nodes(&closed);
        Rest {
            steady: false,
            moving,
            ..self.at(closed, self.fed(&nodes).collect(), nodes)
        }
    }
}

impl Rest {
    /// Whether two drawn-together points conduct to each other.
    pub fn meet(&self, one: usize, other: usize) -> bool {
        self.nodes.meet(one, other)
    }

    /// The number of the set of drawn-together points that conduct to a point.
    pub fn net(&self, point: usize) -> usize {
        self.nodes.find(point)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn latch() -> Network {
        // 0 hot, 1 cold, 2 behind the button or the latch; the coil holds its own contact.
        Network {
            points: 3,
            joins: vec![],
            contacts: vec![
                Contact {
                    ends: [0, 2],
                    closed_when: vec![Condition::Input(0, true)],
                },
                Contact {
                    ends: [0, 2],
                    closed_when: vec![Condition::Fed(0, true)],
                },
            ],
            loads: vec![[2, 1]],
            sources: vec![[0, 1]],
        }
    }

    #[test]
    fn a_latch_starts_dropped_out() {
        let drawn = latch().drawn(None);
        assert!(!drawn.rest(Trial::default()).fed[0]);
        let pressed = drawn.rest(Trial {
            inputs: &[true],
            stuck: &[],
        });
        assert!(pressed.fed[0] && pressed.steady);
        assert_eq!(pressed.closed, [true, true]);
    }

    #[test]
    fn a_buzzer_never_rests() {
        let mut net = latch();
        net.contacts = vec![Contact {
            ends: [0, 2],
            closed_when: vec![Condition::Fed(0, false)],
        }];
        let rest = net.drawn(None).rest(Trial::default());
        assert!(!rest.steady && rest.shorted == [false]);
        assert_eq!(rest.moving, [0]);
    }

    #[test]
    fn a_thermostat_that_shorts_its_own_supply_shows_the_short() {
        // The contact needs its supply and joins hot to cold: it closes, drops out, and closes again.
        let net = Network {
            points: 2,
            joins: vec![],
            contacts: vec![Contact {
                ends: [0, 1],
                closed_when: vec![Condition::Fed(0, true)],
            }],
            loads: vec![[0, 1]],
            sources: vec![[0, 1]],
        };
        let rest = net.drawn(None).rest(Trial::default());
        assert!(!rest.steady);
        assert_eq!((rest.shorted, rest.closed), (vec![true], vec![true]));
    }

    #[test]
    fn a_short_feeds_nothing() {
        let mut net = latch();
        net.joins = vec![[0, 2], [2, 1]];
        let rest = net.drawn(None).rest(Trial::default());
        assert_eq!(rest.shorted, [true]);
        assert_eq!(rest.fed, [false]);
        assert_eq!(net.drawn(Some(1)).rest(Trial::default()).fed, [true]);
    }
}
