//! The same network by dense linear algebra: Newton's method with the analytic Jacobian, halving a step that
//! makes what is left over larger, to the residual that a solution is asked for.

use bayrun::physics::duct::{Section, velocity_pressure};
use bayrun::physics::network::{Drive, FanCurve, Network, Segment};
use bayrun::quantity::{AirFlow, Pressure};
use nalgebra::{DMatrix, DVector, Dyn, LU};

/// A method: the flows of the segments and the steps taken.
pub(crate) type Method = fn(&Network) -> (Vec<f64>, u32);

/// Left over where the search stops, as a share of the largest pressure.
const ENOUGH: f64 = 1e-9;

struct Part {
    from: Option<usize>,
    to: Option<usize>,
    unit: f64,
    reynolds: f64,
    slender: f64,
    minor: f64,
    rough: f64,
}

struct System<'a> {
    parts: Vec<Part>,
    nodes: usize,
    inlet: Option<usize>,
    outlet: Option<usize>,
    fan: &'a FanCurve,
    most: f64,
}

/// Darcy factor by Colebrook and its slope by Reynolds number; laminar below 2000, a straight line to 4000.
fn factor(reynolds: f64, rough: f64) -> (f64, f64) {
    let c = 2.0 / std::f64::consts::LN_10;
    if reynolds <= 2000.0 {
        let re = reynolds.max(1e-9);
        return (64.0 / re, -64.0 / (re * re));
    }
    if reynolds < 4000.0 {
        let (edge, _) = factor(4000.0, rough);
        let climb = (edge - 0.032) / 2000.0;
        return (0.032 + climb * (reynolds - 2000.0), climb);
    }
    let mut x: f64 = 6.0;
    let mut inside = 1.0;
    for _ in 0..20 {
        inside = rough / 3.7 + 2.51 * x / reynolds;
        let step = (x + c * libm::log(inside)) / (1.0 + c * 2.51 / (reynolds * inside));
        x -= step;
        if step.abs() < 1e-12 {
            break;
        }
    }
    let bend = c * 2.51 / (reynolds * inside);
    let slope = bend * x / reynolds / (1.0 + bend);
    (1.0 / (x * x), -2.0 * slope / (x * x * x))
}

impl Part {
    fn of(segment: &Segment, network: &Network, free: &[Option<usize>]) -> Self {
        let section: &Section = &segment.section;
        let feet = section.hydraulic_diameter().value() / 12.0;
        let speed = section.velocity(AirFlow::new(1.0));
        let air = &network.air;
        Self {
            from: free[segment.from],
            to: free[segment.to],
            unit: velocity_pressure(air, speed).value(),
            reynolds: air.density.value() * speed.value() / 60.0 * feet / air.viscosity.value(),
            slender: segment.length.to_feet() / feet,
            minor: segment.minor,
            rough: segment.roughness.to_feet() / feet,
        }
    }

    fn drop(&self, pressures: &DVector<f64>) -> f64 {
        let at = |node: Option<usize>| node.map_or(0.0, |node| pressures[node]);
        at(self.from) - at(self.to)
    }

    /// Loss and its slope.
    fn at(&self, flow: f64) -> (f64, f64) {
        let q = flow.abs();
        let (f, slope) = factor(self.reynolds * q, self.rough);
        let whole = f * self.slender + self.minor;
        let loss = self.unit * q * q * whole;
        let rise = self.unit * (2.0 * q * whole + q * q * slope * self.reynolds * self.slender);
        (if flow < 0.0 { -loss } else { loss }, rise.max(1e-12))
    }
}

impl<'a> System<'a> {
    fn of(network: &'a Network) -> Self {
        let mut nodes = 0;
        let free: Vec<Option<usize>> = network
            .nodes
            .iter()
            .map(|node| {
                assert!(node.fixed.is_none_or(|p| p == Pressure::new(0.0)));
                node.fixed.is_none().then(|| {
                    nodes += 1;
                    nodes - 1
                })
            })
            .collect();
        let Drive::Fan(fan) = &network.source.drive else {
            panic!("the bench drives with a fan");
        };
        let (mut most, mut beyond) = (0.0, 1e6);
        for _ in 0..40 {
            let middle = f64::midpoint(most, beyond);
            if fan.rise(AirFlow::new(middle)).is_some() {
                most = middle;
            } else {
                beyond = middle;
            }
        }
        Self {
            parts: network
                .segments
                .iter()
                .map(|segment| Part::of(segment, network, &free))
                .collect(),
            nodes,
            inlet: free[network.source.inlet],
            outlet: free[network.source.outlet],
            fan,
            most,
        }
    }

    /// Rise of the fan and its slope.
    fn rise(&self, flow: f64) -> (f64, f64) {
        let at = |q: f64| self.fan.rise(AirFlow::new(q)).map(Pressure::value);
        let q = flow.clamp(0.0, self.most - 1e-3);
        let (here, there) = (at(q).unwrap(), at(q + 1e-3).unwrap());
        let slope = (there - here) / 1e-3;
        (here + slope * (flow - q), slope)
    }

    /// Conductances between nodes, taken apart.
    fn apart(&self, conductance: &[f64]) -> LU<f64, Dyn, Dyn> {
        let mut matrix = DMatrix::zeros(self.nodes, self.nodes);
        for (part, g) in self.parts.iter().zip(conductance) {
            for (own, other) in [(part.from, part.to), (part.to, part.from)] {
                let Some(own) = own else { continue };
                matrix[(own, own)] += g;
                if let Some(other) = other {
                    matrix[(own, other)] -= g;
                }
            }
        }
        matrix.lu()
    }

    /// The solver's own start: flows that balance, as if every loss were proportional to flow, twice.
    fn start(&self) -> (Vec<f64>, DVector<f64>, f64) {
        let source = self.most / 2.0;
        let mut slopes: Vec<f64> = self
            .parts
            .iter()
            .map(|part| {
                let likely = (0.0624 / part.unit).sqrt();
                part.at(likely).0 / likely
            })
            .collect();
        let mut flows = vec![0.0; self.parts.len()];
        let mut pressures = DVector::zeros(self.nodes);
        for _ in 0..2 {
            let conductance: Vec<f64> = slopes.iter().map(|slope| 1.0 / slope).collect();
            let mut put = DVector::zeros(self.nodes);
            if let Some(node) = self.outlet {
                put[node] += source;
            }
            if let Some(node) = self.inlet {
                put[node] -= source;
            }
            pressures = self.apart(&conductance).solve(&put).unwrap();
            for (at, part) in self.parts.iter().enumerate() {
                flows[at] = conductance[at] * part.drop(&pressures);
                let flow = flows[at].abs().max(source * 1e-9);
                slopes[at] = part.at(flow).0 / flow;
            }
        }
        (flows, pressures, source)
    }

    /// What is left over: of each segment, of each node, of the fan.
    fn left(&self, x: &DVector<f64>) -> DVector<f64> {
        let (edges, nodes) = (self.parts.len(), self.nodes);
        let at = |node: Option<usize>| node.map_or(0.0, |node| x[edges + node]);
        let mut left = DVector::zeros(edges + nodes + 1);
        for (n, part) in self.parts.iter().enumerate() {
            left[n] = at(part.from) - at(part.to) - part.at(x[n]).0;
            if let Some(node) = part.from {
                left[edges + node] -= x[n];
            }
            if let Some(node) = part.to {
                left[edges + node] += x[n];
            }
        }
        let source = x[edges + nodes];
        if let Some(node) = self.outlet {
            left[edges + node] += source;
        }
        if let Some(node) = self.inlet {
            left[edges + node] -= source;
        }
        left[edges + nodes] = at(self.outlet) - at(self.inlet) - self.rise(source).0;
        left
    }

    fn jacobian(&self, x: &DVector<f64>) -> DMatrix<f64> {
        let (edges, nodes) = (self.parts.len(), self.nodes);
        let mut matrix = DMatrix::zeros(edges + nodes + 1, edges + nodes + 1);
        for (n, part) in self.parts.iter().enumerate() {
            matrix[(n, n)] = -part.at(x[n]).1;
            if let Some(node) = part.from {
                matrix[(n, edges + node)] = 1.0;
                matrix[(edges + node, n)] = -1.0;
            }
            if let Some(node) = part.to {
                matrix[(n, edges + node)] = -1.0;
                matrix[(edges + node, n)] = 1.0;
            }
        }
        let last = edges + nodes;
        for (node, sign) in [(self.outlet, 1.0), (self.inlet, -1.0)] {
            if let Some(node) = node {
                matrix[(edges + node, last)] = sign;
                matrix[(last, edges + node)] = sign;
            }
        }
        matrix[(last, last)] = -self.rise(x[last]).1;
        matrix
    }
}

/// Over all flows and pressures at once.
pub(crate) fn whole(network: &Network) -> (Vec<f64>, u32) {
    let system = System::of(network);
    let (flows, pressures, source) = system.start();
    let edges = system.parts.len();
    let mut x = DVector::zeros(edges + system.nodes + 1);
    x.rows_mut(0, edges).copy_from_slice(&flows);
    x.rows_mut(edges, system.nodes).copy_from(&pressures);
    x[edges + system.nodes] = source;
    let mut left = system.left(&x);
    for steps in 0..200 {
        let largest = x.rows(edges, system.nodes).amax();
        if left.amax() <= ENOUGH * largest {
            return (x.rows(0, edges).iter().copied().collect(), steps);
        }
        let step = system.jacobian(&x).lu().solve(&left).unwrap();
        let mut share = 1.0;
        loop {
            let next = &x - &step * share;
            let next_left = system.left(&next);
            if next_left.norm() < left.norm() || share < 1e-4 {
                (x, left) = (next, next_left);
                break;
            }
            share *= 0.5;
        }
    }
    panic!("the dense solve did not end");
}

/// Over the pressures alone: flows linear about the present ones, the fan taken in by its slope.
pub(crate) fn nodal(network: &Network) -> (Vec<f64>, u32) {
    let system = System::of(network);
    let (mut flows, mut pressures, mut source) = system.start();
    for steps in 0..200 {
        let largest = pressures.amax();
        let mut open = 0.0_f64;
        let mut conductance = Vec::with_capacity(flows.len());
        let mut offset = Vec::with_capacity(flows.len());
        for (part, flow) in system.parts.iter().zip(&flows) {
            let (loss, slope) = part.at(*flow);
            open = open.max((part.drop(&pressures) - loss).abs());
            conductance.push(1.0 / slope);
            offset.push(flow - loss / slope);
        }
        let (rise, slope) = system.rise(source);
        let at = |node: Option<usize>, p: &DVector<f64>| node.map_or(0.0, |node| p[node]);
        let across = at(system.outlet, &pressures) - at(system.inlet, &pressures);
        open = open.max((across - rise).abs());
        if steps > 0 && open <= ENOUGH * largest {
            return (flows, steps);
        }
        let mut put = DVector::zeros(system.nodes);
        for (part, offset) in system.parts.iter().zip(&offset) {
            if let Some(node) = part.from {
                put[node] -= offset;
            }
            if let Some(node) = part.to {
                put[node] += offset;
            }
        }
        // A flat fan has no conductance: two solves, with and without its flow, and the one that meets it.
        let mut unit = DVector::zeros(system.nodes);
        if let Some(node) = system.outlet {
            unit[node] += 1.0;
        }
        if let Some(node) = system.inlet {
            unit[node] -= 1.0;
        }
        let matrix = system.apart(&conductance);
        let (still, by_unit) = (matrix.solve(&put).unwrap(), matrix.solve(&unit).unwrap());
        let (p, u) = (
            at(system.outlet, &still) - at(system.inlet, &still),
            at(system.outlet, &by_unit) - at(system.inlet, &by_unit),
        );
        source = (rise - slope * source - p) / (u - slope);
        pressures = still + by_unit * source;
        for (at, part) in system.parts.iter().enumerate() {
            flows[at] = conductance[at] * part.drop(&pressures) + offset[at];
        }
    }
    panic!("the nodal solve did not end");
}
