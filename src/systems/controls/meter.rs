//! What a meter shows at the control terminals for each call: where control voltage stands, and which loops of units
//! that feed themselves are closed.

use crate::catalog::{CallSide, Role};
use crate::figures::{Figure, Ledger};

use super::circuit::Circuit;
use super::enter_runs::listed;
use super::netlist::{Netlist, Point};
use super::running::Running;
use super::state::State;

const BY_RUNNING: &str = "the wiring run as switches and loads to its fixed point";

/// Whether a meter is held to this terminal: what takes or gives a call, a relay's coil, and the hot side.
fn is_read(point: &Point) -> bool {
    let called = matches!(
        point.call(),
        Some((CallSide::In | CallSide::Out | CallSide::Output, _))
    );
    let by_role = matches!(point.role(), Some(Role::Power | Role::PowerIn | Role::Coil));
    called || by_role
}

impl Circuit<'_> {
    /// Terminals that conduct to the hot side of a transformer, those of thermostats left out: they are read at the
    /// other end of the cable.
    fn live(&self, net: &Netlist, running: &Running) -> Vec<usize> {
        // The far side of a unit's own transformer is no terminal: its loop is read across itself.
        let count = net.points().count();
        let sides: Vec<_> = self
            .sources
            .iter()
            .filter(|source| source.cold < count && running.is_source(source.hot, source.cold))
            .collect();
        net.points()
            .filter(|(_, point)| point.kind() != "thermostat" && is_read(point))
            .filter(|(n, _)| sides.iter().any(|source| running.meet(source.hot, *n)))
            .map(|(n, _)| n)
            .collect()
    }

    /// The loops of units that feed themselves: the terminal that takes the call, and its other side.
    fn loops(&self, net: &Netlist) -> Vec<[usize; 2]> {
        let count = net.points().count();
        let hot_of = |cold: usize| self.sources.iter().find(|source| source.cold == cold);
        self.loads
            .iter()
            .filter(|load| load.back >= count && load.call.is_some())
            .filter_map(|load| Some([load.at, hot_of(load.back)?.hot]))
            .collect()
    }
}

/// Terminals by their names.
fn named(net: &Netlist, points: &[usize]) -> String {
    let named = points.iter().filter_map(|n| net.at(*n));
    listed(&named.map(|point| point.name.clone()).collect::<Vec<_>>())
}

/// A loop as `heater.TT1 to TT2`.
fn loops_named(net: &Netlist, loops: &[[usize; 2]]) -> String {
    let named = loops.iter().filter_map(|[one, other]| {
        let (one, other) = (net.at(*one)?, net.at(*other)?);
        let terminal = other.name.split_once('.').map_or("", |(_, name)| name);
        Some(format!("{} to {terminal}", one.name))
    });
    listed(&named.collect::<Vec<_>>())
}

/// Enters what the meter shows at each call.
pub(super) fn enter(
    circuit: &Circuit<'_>,
    net: &Netlist,
    runs: &[(&State, Running)],
    ledger: &mut Ledger,
) {
    let live: Vec<Vec<usize>> = runs
        .iter()
        .map(|(_, running)| circuit.live(net, running))
        .collect();
    let always: Vec<usize> = live.first().map_or_else(Vec::new, |first| {
        let everywhere = |n: &&usize| live.iter().all(|live| live.contains(n));
        first.iter().filter(everywhere).copied().collect()
    });
    ledger.enter(
        Figure::text("control.thermostats.live-always", named(net, &always))
            .formula("terminals on the hot side of their transformer whatever is called for")
            .source(BY_RUNNING),
    );
    let loops = circuit.loops(net);
    if !loops.is_empty() {
        ledger.enter(
            Figure::text("control.thermostats.loops", loops_named(net, &loops))
                .formula("loops of units that feed themselves, each between two terminals")
                .source(BY_RUNNING),
        );
    }
    for ((state, running), live) in runs.iter().zip(&live) {
        let thermostat = state.thermostat.as_deref().unwrap_or("thermostats");
        let called: Vec<usize> = live
            .iter()
            .filter(|n| !always.contains(n))
            .copied()
            .collect();
        ledger.enter(
            Figure::text(
                format!("control.{thermostat}.live-on-{}", state.word),
                named(net, &called),
            )
            .formula("terminals on the hot side of their transformer while this call alone is up, those that always are left out")
            .source(BY_RUNNING),
        );
        if loops.is_empty() {
            continue;
        }
        let closed: Vec<[usize; 2]> = loops
            .iter()
            .filter(|[one, other]| running.meet(*one, *other))
            .copied()
            .collect();
        ledger.enter(
            Figure::text(
                format!("control.{thermostat}.closed-on-{}", state.word),
                loops_named(net, &closed),
            )
            .formula(
                "loops of units that feed themselves which are closed while this call alone is up",
            )
            .source(BY_RUNNING),
        );
    }
}
