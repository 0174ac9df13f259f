//! Which changes to try for what is found on the wiring, the likeliest slips first.

use crate::catalog::{Call, CallSide, Role};
use crate::rules::Job;
use crate::source::{Finding, Span};
use crate::systems::controls::{Place, serves};

use super::super::free_colours;
use super::change::{Cables, End, Step, steps_of};

/// What stands at the end of a wire.
#[derive(Clone, Copy, Debug)]
struct Terminal<'n> {
    name: &'n str,
    unit: &'n str,
    kind: &'n str,
    role: Option<Role>,
}

/// Equipment whose call comes from behind the safeties.
const STOPPED: [&str; 5] = ["outdoor-unit", "chiller", "boiler", "pump", "circulator"];

const fn is_contact(role: Role) -> bool {
    matches!(
        role,
        Role::ContactCommon | Role::ContactOpen | Role::ContactClosed
    )
}

/// Whether a wire may run from a terminal to another.
fn leads(from: Terminal<'_>, to: Terminal<'_>) -> bool {
    let (Some(one), Some(other)) = (from.role, to.role) else {
        return true;
    };
    match (one.call(), other.call()) {
        (Some((CallSide::Out, given)), Some((CallSide::In, taken))) => {
            given == taken && (given == Call::Reversing || !STOPPED.contains(&to.kind))
        }
        (Some((CallSide::Output, given)), Some((CallSide::In, taken))) => {
            serves(given, taken) && STOPPED.contains(&to.kind)
        }
        (Some((CallSide::Output, _)), None) => other == Role::Coil || is_contact(other),
        (Some((CallSide::Out, _)), None) => other == Role::Coil,
        (Some((CallSide::In, _)), None) => is_contact(other) && STOPPED.contains(&from.kind),
        (None, None) => match one {
            Role::Power => other == Role::PowerIn || is_contact(other),
            Role::Common => matches!(other, Role::Common | Role::Coil),
            Role::Switch => other == Role::Switch || is_contact(other),
            Role::Coil => other == Role::Coil,
            _ => is_contact(one) && is_contact(other),
        },
        _ => false,
    }
}

fn fits(one: Terminal<'_>, other: Terminal<'_>) -> bool {
    leads(one, other) || leads(other, one)
}

/// Everything that the choice looks at.
struct Look<'l> {
    terminals: Vec<Terminal<'l>>,
    splices: Vec<&'l str>,
    cables: &'l Cables,
    ends: Vec<End>,
    /// The words at which something is found.
    spans: Vec<Span>,
}

impl<'l> Look<'l> {
    fn terminal(&self, name: &str) -> Option<Terminal<'l>> {
        self.terminals.iter().find(|one| one.name == name).copied()
    }

    fn at(&self, end: End) -> Option<Terminal<'l>> {
        self.terminal(&end.at(self.cables)?.value)
    }

    fn is_wired(&self, name: &str) -> bool {
        self.ends
            .iter()
            .any(|end| end.at(self.cables).is_some_and(|at| at.value == name))
    }

    /// The two things that the cable of an end runs between.
    fn units(&self, end: End) -> Option<[&'l str; 2]> {
        let (_, cable) = self.cables.get_index(end.cable)?;
        Some([cable.from.value.as_str(), cable.to.value.as_str()])
    }

    /// The unit on which an end has to land: what its cable runs to, seen from the other end.
    fn home(&self, end: End) -> Option<&'l str> {
        let [one, two] = self.units(end)?;
        let across = self.at(end.other()).map_or("", |at| at.unit);
        let own = self.at(end).map_or("", |at| at.unit);
        // A wire with both ends on one thing went astray at the end that its cable takes elsewhere.
        let natural = if end.far { two } else { one };
        Some(if across == own && own == natural {
            own
        } else if across == one {
            two
        } else if across == two {
            one
        } else if across.is_empty() && (own == one || own == two) {
            own
        } else if end.far {
            two
        } else {
            one
        })
    }

    /// Whether an end lands on a thing that its cable does not run to.
    fn is_strange(&self, end: End) -> bool {
        let strange = |unit: &str| self.at(end).is_some_and(|at| at.unit != unit);
        self.home(end).is_some_and(strange)
    }

    /// Whether what stands at the two ends of a wire has nothing to do with each other.
    fn is_unfit(&self, end: End) -> bool {
        match (self.at(end), self.at(end.other())) {
            (Some(one), Some(other)) => !fits(one, other),
            _ => false,
        }
    }

    fn is_suspect(&self, end: End) -> bool {
        self.is_unfit(end) || self.is_strange(end) || self.is_strange(end.other())
    }

    /// Whether another wire joins the same two terminals.
    fn is_doubled(&self, end: End, one: &str, other: &str) -> bool {
        self.ends.iter().any(|e| {
            let same = e.cable == end.cable && e.wire == end.wire;
            let pair = (e.at(self.cables), e.other().at(self.cables));
            !same
                && matches!(pair, (Some(from), Some(to)) if from.value == one && to.value == other)
        })
    }

    /// Whether something is found at the words of an end.
    fn is_seen(&self, end: End) -> bool {
        end.at(self.cables)
            .is_some_and(|at| self.spans.contains(&at.span))
    }

    /// Whether both ends of a relay's coil would stand on one terminal.
    fn is_coil_on_one(&self, end: End, to: Terminal<'_>) -> bool {
        let Some(across) = self.at(end.other()) else {
            return false;
        };
        [(across, to), (to, across)].iter().any(|(coil, on)| {
            coil.role == Some(Role::Coil)
                && self.terminals.iter().any(|sibling| {
                    let other = sibling.role == Some(Role::Coil) && sibling.unit == coil.unit;
                    other
                        && sibling.name != coil.name
                        && self.is_doubled(end, sibling.name, on.name)
                })
        })
    }

    /// Puts one end elsewhere.
    fn landings(&self, out: &mut Vec<(u8, Vec<Step>)>) {
        for end in &self.ends {
            let (Some(now), Some(home)) = (end.at(self.cables), self.home(*end)) else {
                continue;
            };
            let Some(across) = end.other().at(self.cables) else {
                continue;
            };
            let seen = self.is_seen(*end);
            for to in self.terminals.iter().filter(|to| to.unit == home) {
                if to.name == now.value
                    || to.name == across.value
                    || self.is_doubled(*end, to.name, &across.value)
                {
                    continue;
                }
                let fit = self.at(end.other()).is_none_or(|across| fits(across, *to));
                let idle = self.is_coil_on_one(*end, *to);
                if !fit || idle || to.role.is_none() || to.role == Some(Role::Unused) {
                    continue;
                }
                let taken = u8::from(self.is_wired(to.name));
                let rank = if self.is_strange(*end) {
                    taken
                } else if self.is_unfit(*end) {
                    2 + taken
                } else if seen {
                    6 + taken
                } else {
                    8 + taken
                };
                out.push((rank, vec![Step::Land(*end, to.name.to_owned())]));
            }
            let spliced = self.splices.iter().filter(|name| {
                self.is_suspect(*end) && **name != now.value && **name != across.value
            });
            for name in spliced {
                out.push((3, vec![Step::Land(*end, (*name).to_owned())]));
            }
        }
    }

    /// Whether a thing has a wire beside those that `gone` names: what is left without any was not mended but left out.
    fn keeps_wires(&self, units: &[&str], gone: &dyn Fn(End) -> bool) -> bool {
        units.iter().all(|unit| {
            let mut others = self.ends.iter().filter(|end| !gone(**end));
            others.any(|end| self.at(*end).is_some_and(|at| at.unit == *unit))
        })
    }

    /// Takes a wire out, or a whole cable at which something is found.
    fn removals(&self, out: &mut Vec<(u8, Vec<Step>)>) {
        for (n, cable) in self.cables.values().enumerate() {
            let mut own = self.ends.iter().filter(|end| end.cable == n);
            let seen = own.clone().any(|end| self.is_seen(*end));
            let strange = own.any(|end| self.is_suspect(*end));
            let alone = cable.wires.len() == 1 && cable.spares.is_empty();
            let units = [cable.from.value.as_str(), cable.to.value.as_str()];
            if !self.keeps_wires(&units, &|end| end.cable == n) {
                continue;
            }
            if alone && (seen || strange) {
                out.push((5, vec![Step::Cut(n)]));
            } else if alone || seen {
                out.push((7, vec![Step::Cut(n)]));
            }
        }
        for end in self.ends.iter().filter(|end| !end.far) {
            let seen = self.is_seen(*end) || self.is_seen(end.other());
            let units: Vec<&str> = [*end, end.other()]
                .iter()
                .filter_map(|end| Some(self.at(*end)?.unit))
                .collect();
            let same = |other: End| (other.cable, other.wire) == (end.cable, end.wire);
            if !self.keeps_wires(&units, &same) {
                continue;
            }
            let rank = if self.is_suspect(*end) {
                5
            } else if seen {
                6
            } else {
                10
            };
            out.push((rank, vec![Step::Drop(*end)]));
        }
    }

    /// Exchanges two ends.
    fn exchanges(&self, out: &mut Vec<(u8, Vec<Step>)>) {
        for (n, one) in self.ends.iter().enumerate() {
            for other in self.ends.iter().skip(n + 1) {
                let (Some(a), Some(b)) = (self.at(*one), self.at(*other)) else {
                    continue;
                };
                let wire = (one.cable, one.wire) == (other.cable, other.wire);
                let across = |end: End| self.at(end.other());
                let fit = |end: End, to| across(end).is_none_or(|across| fits(across, to));
                let both = fit(*one, b) && fit(*other, a);
                let home = self.home(*one) == Some(b.unit) && self.home(*other) == Some(a.unit);
                if wire || a.name == b.name || !both || !home {
                    continue;
                }
                let seen = self.is_seen(*one) || self.is_seen(*other);
                let rank = if self.is_suspect(*one) && self.is_suspect(*other) {
                    3 + u8::from(!seen)
                } else if a.unit == b.unit && (self.is_suspect(*one) || self.is_suspect(*other)) {
                    4
                } else if one.cable == other.cable {
                    9
                } else {
                    continue;
                };
                let steps = vec![
                    Step::Land(*one, b.name.to_owned()),
                    Step::Land(*other, a.name.to_owned()),
                ];
                out.push((rank, steps));
            }
        }
    }

    /// Lands conductors that nothing uses yet: one, or in a cable without a wire two.
    fn additions(&self, job: &Job<'_>, out: &mut Vec<(u8, Vec<Step>)>) {
        for (n, cable) in self.cables.values().enumerate() {
            let free = free_colours(job, cable);
            let Some(first) = free.first() else { continue };
            let of = |unit: &str| {
                let mut list: Vec<Terminal<'_>> = self
                    .terminals
                    .iter()
                    .filter(|one| one.unit == unit)
                    .copied()
                    .collect();
                list.sort_by_key(|one| one.role == Some(Role::ContactClosed));
                list
            };
            let add = |colour: &str, one: Terminal<'_>, other: Terminal<'_>| Step::Add {
                cable: n,
                colour: colour.to_owned(),
                ends: [one.name.to_owned(), other.name.to_owned()],
            };
            let mut pairs = Vec::new();
            for one in of(&cable.from.value) {
                for other in of(&cable.to.value) {
                    let known = one.role.is_some() && other.role.is_some();
                    let wired = [one, other].map(|end| self.is_wired(end.name));
                    if known && fits(one, other) && wired != [true, true] {
                        pairs.push((u8::from(wired != [false, false]), one, other));
                    }
                }
            }
            pairs.sort_by_key(|(taken, ..)| *taken);
            for (taken, one, other) in &pairs {
                out.push((5 + taken, vec![add(&first.colour, *one, *other)]));
            }
            let (true, Some(second)) = (cable.wires.is_empty(), free.get(1)) else {
                continue;
            };
            for (k, (_, a, b)) in pairs.iter().enumerate() {
                for (_, c, d) in pairs.iter().skip(k + 1) {
                    if a.name != c.name && b.name != d.name {
                        let steps = vec![add(&first.colour, *a, *b), add(&second.colour, *c, *d)];
                        out.push((7, steps));
                    }
                }
            }
        }
    }
}

/// Changes that might mend what is found, with how near at hand each is: 0 the nearest.
pub(super) fn choices(job: &Job<'_>, cables: &Cables, left: &[Finding]) -> Vec<(u8, Vec<Step>)> {
    let net = job.wiring.net;
    let terminals = net
        .points()
        .filter_map(|(_, point)| match &point.place {
            Place::Terminal {
                unit, kind, role, ..
            } => Some(Terminal {
                name: &point.name,
                unit,
                kind,
                role: *role,
            }),
            _ => None,
        })
        .collect();
    let splices = net
        .points()
        .filter(|(_, point)| matches!(point.place, Place::Splice))
        .map(|(_, point)| point.name.as_str())
        .collect();
    let look = Look {
        terminals,
        splices,
        cables,
        ends: End::all(cables),
        spans: left.iter().map(|finding| finding.span).collect(),
    };
    let mut out: Vec<(u8, Vec<Step>)> = Vec::new();
    for finding in left {
        let Some(steps) = steps_of(finding, cables) else {
            continue;
        };
        let all = |wanted: &dyn Fn(End, &str) -> bool| {
            steps.iter().all(|step| match step {
                Step::Land(end, to) => wanted(*end, to),
                _ => false,
            })
        };
        let home = |end: End, to: &str| look.terminal(to).map(|to| to.unit) == look.home(end);
        let rank = if steps.iter().any(|step| matches!(step, Step::Add { .. })) {
            5
        } else if !all(&home) {
            6
        } else if all(&|end, _| look.is_suspect(end)) {
            0
        } else {
            4
        };
        out.push((rank, steps));
    }
    look.landings(&mut out);
    look.exchanges(&mut out);
    look.removals(&mut out);
    look.additions(job, &mut out);
    out.sort_by_key(|(rank, _)| *rank);
    out
}
