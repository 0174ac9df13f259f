//! `air-network FILE.json`: solves a network of ducts and prints its flows and pressures as CSV.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use serde::Deserialize;

use super::number::ten_digits;
use super::run::CalcOutcome;
use super::table::read;
use crate::physics::air::DuctAir;
use crate::physics::duct::Section;
use crate::physics::friction::{LAMINAR_BELOW, TURBULENT_FROM};
use crate::physics::network::{
    Drive, FanCurve, Network, Node, Segment, Solution, Source, Unsolvable, solve,
};
use crate::quantity::{AirFlow, Density, Length, Pressure, Viscosity};

#[derive(Deserialize)]
struct FileAir {
    density_lb_per_ft3: f64,
    viscosity_lb_per_ft_s: f64,
}

#[derive(Deserialize)]
struct FileFriction {
    #[serde(rename = "laminar_below_Re")]
    laminar_below: Option<f64>,
    #[serde(rename = "colebrook_above_Re")]
    colebrook_above: Option<f64>,
}

#[derive(Deserialize)]
struct FileNode {
    id: String,
    fixed_total_pressure_inwc: Option<f64>,
}

#[derive(Deserialize)]
struct FileSegment {
    id: String,
    from: String,
    to: String,
    shape: String,
    diameter_in: Option<f64>,
    width_in: Option<f64>,
    height_in: Option<f64>,
    length_ft: f64,
    roughness_ft: f64,
    #[serde(rename = "minor_K", default)]
    minor: f64,
    #[serde(default)]
    outlet: bool,
}

#[derive(Deserialize)]
struct FilePoint {
    flow_cfm: f64,
    pressure_rise_inwc: f64,
}

#[derive(Deserialize)]
struct FileSource {
    kind: String,
    inlet: String,
    outlet: String,
    flow_cfm: Option<f64>,
    points: Option<Vec<FilePoint>>,
}

#[derive(Deserialize)]
struct File {
    air: FileAir,
    friction: Option<FileFriction>,
    nodes: Vec<FileNode>,
    segments: Vec<FileSegment>,
    source: FileSource,
}

/// Solves the network of one file.
pub(super) fn compute_network(path: &Path) -> CalcOutcome {
    let shown = path.display().to_string().replace('\\', "/");
    let text = match read(path) {
        Ok(text) => text,
        Err(why) => return CalcOutcome::refused(format!("{shown}: {why}")),
    };
    let file: File = match serde_json::from_str(&text) {
        Ok(file) => file,
        Err(why) => return CalcOutcome::refused(format!("{shown}:{}: {why}", why.line())),
    };
    let answer = network(&file).and_then(|network| {
        solve(&network)
            .map(|solution| print(&file, &network, &solution))
            .map_err(|reasons| reasons.iter().map(Unsolvable::to_string).collect())
    });
    match answer {
        Ok(done) => done,
        Err(reasons) => {
            let mut outcome = CalcOutcome {
                code: 1,
                ..CalcOutcome::default()
            };
            for reason in reasons {
                let _ = writeln!(outcome.err, "error: {shown}: {reason}");
            }
            outcome
        }
    }
}

fn section(segment: &FileSegment) -> Option<Section> {
    let inches = |value: Option<f64>| value.map(Length::nearest);
    match segment.shape.as_str() {
        "round" => Section::round(inches(segment.diameter_in)?),
        "rect" => Section::rectangular(inches(segment.width_in)?, inches(segment.height_in)?),
        "oval" => Section::oval(inches(segment.width_in)?, inches(segment.height_in)?),
        _ => None,
    }
}

fn network(file: &File) -> Result<Network, Vec<String>> {
    let mut wrong = Vec::new();
    if let Some(friction) = &file.friction {
        let other =
            |given: Option<f64>, ours: f64| given.is_some_and(|re| (re - ours).abs() > 1e-9);
        if other(friction.laminar_below, LAMINAR_BELOW)
            || other(friction.colebrook_above, TURBULENT_FROM)
        {
            wrong.push(format!(
                "friction here is laminar to Re {LAMINAR_BELOW} and turbulent from {TURBULENT_FROM}; the file asks for other limits"
            ));
        }
    }
    let mut place: BTreeMap<&str, usize> = BTreeMap::new();
    for (at, node) in file.nodes.iter().enumerate() {
        if place.insert(&node.id, at).is_some() {
            wrong.push(format!("node `{}` stands there twice", node.id));
        }
    }
    let find = |id: &str, of: &str, wrong: &mut Vec<String>| {
        place.get(id).copied().unwrap_or_else(|| {
            wrong.push(format!("{of} names node `{id}`, which is not there"));
            0
        })
    };
    let mut segments = Vec::with_capacity(file.segments.len());
    for segment in &file.segments {
        let name = format!("segment `{}`", segment.id);
        let from = find(&segment.from, &name, &mut wrong);
        let to = find(&segment.to, &name, &mut wrong);
        let Some(section) = section(segment) else {
            wrong.push(format!(
                "{name} has no section: round needs `diameter_in`, rect and oval `width_in` and `height_in`, above zero"
            ));
            continue;
        };
        segments.push(Segment {
            id: segment.id.clone(),
            from,
            to,
            section,
            length: Length::nearest(segment.length_ft * 12.0),
            roughness: Length::nearest(segment.roughness_ft * 12.0),
            minor: segment.minor,
            outlet: segment.outlet,
        });
    }
    let inlet = find(&file.source.inlet, "the source", &mut wrong);
    let outlet = find(&file.source.outlet, "the source", &mut wrong);
    let drive = match (
        file.source.kind.as_str(),
        file.source.flow_cfm,
        &file.source.points,
    ) {
        ("fixed_flow", Some(flow), _) => Ok(Drive::Flow(AirFlow::new(flow))),
        ("fan_curve", _, Some(points)) => {
            let points: Vec<(AirFlow, Pressure)> = points
                .iter()
                .map(|p| {
                    (
                        AirFlow::new(p.flow_cfm),
                        Pressure::new(p.pressure_rise_inwc),
                    )
                })
                .collect();
            FanCurve::new(&points)
                .map(Drive::Fan)
                .map_err(|why| why.to_string())
        }
        ("fixed_flow", None, _) => Err("the source has no `flow_cfm`".to_owned()),
        ("fan_curve", _, None) => Err("the source has no `points`".to_owned()),
        (other, _, _) => Err(format!(
            "the source's kind is `{other}`, not one of fixed_flow, fan_curve"
        )),
    };
    match drive {
        Ok(drive) if wrong.is_empty() => Ok(Network {
            air: DuctAir {
                density: Density::new(file.air.density_lb_per_ft3),
                viscosity: Viscosity::new(file.air.viscosity_lb_per_ft_s),
            },
            nodes: file
                .nodes
                .iter()
                .map(|node| Node {
                    id: node.id.clone(),
                    fixed: node.fixed_total_pressure_inwc.map(Pressure::new),
                })
                .collect(),
            segments,
            source: Source {
                inlet,
                outlet,
                drive,
            },
        }),
        Ok(_) => Err(wrong),
        Err(why) => {
            wrong.push(why);
            Err(wrong)
        }
    }
}

const HEADER: [&str; 11] = [
    "kind",
    "id",
    "flow_cfm",
    "velocity_fpm",
    "reynolds",
    "regime",
    "darcy_f",
    "friction_loss_inwc",
    "minor_loss_inwc",
    "total_loss_inwc",
    "total_pressure_inwc",
];

/// One row: kind, id and the nine columns that follow.
fn row(kind: &str, id: &str, cells: [String; 9]) -> Vec<String> {
    [kind.to_owned(), id.to_owned()]
        .into_iter()
        .chain(cells)
        .collect()
}

fn print(file: &File, network: &Network, solution: &Solution) -> CalcOutcome {
    let none = String::new;
    let pressure = |node: usize| solution.pressures.get(node).map_or(0.0, |p| p.value());
    let (inlet, outlet) = (
        pressure(network.source.inlet),
        pressure(network.source.outlet),
    );
    let mut rows = vec![HEADER.map(str::to_owned).to_vec()];
    rows.push(row(
        "source",
        "source",
        [
            ten_digits(solution.source_flow.value()),
            none(),
            none(),
            none(),
            none(),
            none(),
            none(),
            ten_digits(outlet - inlet),
            ten_digits(outlet),
        ],
    ));
    let mut err = String::new();
    for (segment, flow) in network.segments.iter().zip(&solution.flows) {
        let state = segment.state(&network.air, *flow);
        let kind = if segment.outlet { "outlet" } else { "segment" };
        if segment.outlet && flow.value() < 0.0 {
            let _ = writeln!(
                err,
                "note: air flows backwards through outlet `{}`",
                segment.id
            );
        }
        rows.push(row(
            kind,
            &segment.id,
            [
                ten_digits(flow.value()),
                ten_digits(state.velocity.value()),
                ten_digits(state.reynolds),
                state.regime.to_string(),
                state.darcy.map_or_else(none, ten_digits),
                ten_digits(state.friction.value()),
                ten_digits(state.minor.value()),
                ten_digits((state.friction + state.minor).value()),
                none(),
            ],
        ));
    }
    for (node, found) in file.nodes.iter().zip(&solution.pressures) {
        let mut cells: [String; 9] = Default::default();
        if let Some(last) = cells.last_mut() {
            *last = ten_digits(found.value());
        }
        rows.push(row("node", &node.id, cells));
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    let written = rows.iter().try_for_each(|row| writer.write_record(row));
    match (written, writer.into_inner().map(String::from_utf8)) {
        (Ok(()), Ok(Ok(out))) => CalcOutcome { out, err, code: 0 },
        _ => CalcOutcome::refused("the table cannot be written"),
    }
}
