//! Sound jobs from a seed: another house, another unit, another way to face, the same rules kept.
//!
//! Laid out facing east and turned: every later property test can start from here.

use std::fmt::Write as _;

/// A small generator of numbers: SplitMix64, the same on every machine.
pub struct Seed(u64);

impl Seed {
    pub fn new(seed: u64) -> Self {
        Self(
            seed.wrapping_mul(0x9E37_79B9_7F4A_7C15)
                .wrapping_add(0x1234_5678),
        )
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number of `low..=high`.
    pub fn range(&mut self, low: i64, high: i64) -> i64 {
        low + i64::try_from(self.next() % u64::try_from(high - low + 1).unwrap()).unwrap()
    }
}

/// What the generator needs to know of a model of the example shop; sixteenths of an inch would be too fine here.
struct Unit {
    model: &'static str,
    adapter: &'static str,
    pipe: &'static str,
    /// Length along the discharge, width, height, inches.
    size: (i64, i64, i64),
    upright: bool,
    /// Least distance of a take-off, and between two, inches.
    spacing: (i64, i64),
    /// Least and greatest run, feet.
    run: (i64, i64),
    tap: &'static str,
    port: &'static str,
    terminals: [&'static str; 3],
    control: [&'static str; 5],
    outdoor: &'static str,
    outdoor_circuit: (i64, &'static str),
    outdoor_call: &'static str,
    circuit: (i64, &'static str),
    /// Height of the supply port above the base, inches.
    supply: i64,
}

const FLAT: [&str; 3] = ["L1", "L2", "GND"];
const UPRIGHT: [&str; 3] = ["T1", "T3", "E"];
const FLAT_CONTROL: [&str; 5] = ["R", "C", "G", "Y", "YO"];
const UPRIGHT_CONTROL: [&str; 5] = ["24V", "COM", "FAN", "COOL", "COOL-OUT"];

const UNITS: &[Unit] = &[
    Unit {
        model: "Example 2-ton, flat",
        adapter: "10 in square to 9 in round",
        pipe: "9 in round",
        size: (46, 24, 17),
        upright: false,
        spacing: (18, 6),
        run: (10, 25),
        tap: "3",
        port: "3/4 in PVC",
        terminals: FLAT,
        control: FLAT_CONTROL,
        outdoor: "Example 2-ton outdoor",
        outdoor_circuit: (20, "12/2 with ground"),
        outdoor_call: "Y",
        circuit: (15, "14/2 with ground"),
        supply: 0,
    },
    Unit {
        model: "Example 3-ton, flat",
        adapter: "11 in square to 9 in round",
        pipe: "9 in round",
        size: (50, 28, 19),
        upright: false,
        spacing: (18, 6),
        run: (10, 25),
        tap: "3",
        port: "3/4 in PVC",
        terminals: FLAT,
        control: FLAT_CONTROL,
        outdoor: "Example 3-ton outdoor",
        outdoor_circuit: (30, "10/2 with ground"),
        outdoor_call: "Y",
        circuit: (15, "14/2 with ground"),
        supply: 0,
    },
    Unit {
        model: "Example 4-ton, flat",
        adapter: "12 in square to 10 in round",
        pipe: "10 in round",
        size: (54, 33, 21),
        upright: false,
        spacing: (18, 6),
        run: (10, 25),
        tap: "3",
        port: "3/4 in PVC",
        terminals: FLAT,
        control: FLAT_CONTROL,
        outdoor: "Example 4-ton outdoor",
        outdoor_circuit: (40, "8/2 with ground"),
        outdoor_call: "Y1",
        circuit: (15, "12/2 with ground"),
        supply: 0,
    },
    Unit {
        model: "Example 2 1/2-ton, upright",
        adapter: "9 1/2 in square to 7 in round",
        pipe: "7 in round",
        size: (22, 23, 47),
        upright: true,
        spacing: (20, 7),
        run: (11, 28),
        tap: "B",
        port: "1 in PVC",
        terminals: UPRIGHT,
        control: UPRIGHT_CONTROL,
        outdoor: "Example 2 1/2-ton outdoor",
        outdoor_circuit: (25, "10/2 with ground"),
        outdoor_call: "Y",
        circuit: (15, "14/2 with ground"),
        supply: 47,
    },
    Unit {
        model: "Example 3 1/2-ton, upright",
        adapter: "10 1/2 in square to 9 in round",
        pipe: "9 in round",
        size: (26, 27, 52),
        upright: true,
        spacing: (20, 7),
        run: (11, 28),
        tap: "B",
        port: "1 in PVC",
        terminals: UPRIGHT,
        control: UPRIGHT_CONTROL,
        outdoor: "Example 3 1/2-ton outdoor",
        outdoor_circuit: (35, "8/2 with ground"),
        outdoor_call: "Y",
        circuit: (15, "14/2 with ground"),
        supply: 52,
    },
];

/// Which way the house is turned: quarters from east, anticlockwise.
#[derive(Clone, Copy)]
struct Turn {
    quarters: i64,
    /// Size of the plan before turning, inches.
    long: i64,
    deep: i64,
}

impl Turn {
    fn point(self, (x, y): (i64, i64)) -> (i64, i64) {
        match self.quarters {
            0 => (x, y),
            1 => (self.deep - y, x),
            2 => (self.long - x, self.deep - y),
            _ => (y, self.long - x),
        }
    }

    /// The southwest corner and the size of a rectangle after turning.
    fn rectangle(self, (x, y): (i64, i64), (w, d): (i64, i64)) -> ((i64, i64), (i64, i64)) {
        let (a, b) = (self.point((x, y)), self.point((x + w, y + d)));
        (
            (a.0.min(b.0), a.1.min(b.1)),
            ((a.0 - b.0).abs(), (a.1 - b.1).abs()),
        )
    }

    fn way(self, word: &'static str) -> &'static str {
        const WAYS: [&str; 4] = ["east", "north", "west", "south"];
        let at = WAYS.iter().position(|w| *w == word).unwrap();
        WAYS[(at + usize::try_from(self.quarters).unwrap()) % 4]
    }
}

fn trade(inches: i64) -> String {
    match (inches / 12, inches % 12) {
        (0, i) => format!("{i} in"),
        (f, 0) => format!("{f} ft"),
        (f, i) => format!("{f} ft {i} in"),
    }
}

/// A sound job of this seed, to stand in a folder beside `examples/shop`.
pub fn sound(seed: u64) -> String {
    let mut dice = Seed::new(seed);
    let unit = &UNITS[usize::try_from(dice.range(0, 4)).unwrap()];
    let columns = dice.range(2, 4);
    let widths: Vec<i64> = (0..columns).map(|_| dice.range(10, 14) * 12).collect();
    let half = dice.range(10, 13) * 12;
    let stand = if unit.upright {
        dice.range(0, 4)
    } else {
        dice.range(9, 14)
    };
    let (long, deep) = (widths.iter().sum::<i64>().max(24 * 12), 2 * half);
    let turn = Turn {
        quarters: dice.range(0, 3),
        long,
        deep,
    };
    let (ceiling, attic_floor) = (dice.range(94, 108), dice.range(110, 124));
    let mut out = String::new();
    let two = |p: (i64, i64)| format!("{}, {}", trade(p.0), trade(p.1));
    let by = |p: (i64, i64)| format!("{} x {}", trade(p.0), trade(p.1));
    let _ = writeln!(
        out,
        "bayrun 1\n# A house from a seed; everything in it is invented.\njob \"Seed {seed}\" {{\n  number {seed}, stage rough-in\n  revision A, 2026-0{}-1{}, \"drawn\"\n  altitude {} ft, codes IRC 2021, NEC 2020\n  summer outdoor {} F, indoor 75 F at 50 %RH\n  winter outdoor {} F, indoor 70 F\n}}",
        dice.range(1, 9),
        dice.range(0, 9),
        dice.range(0, 2500),
        dice.range(86, 100),
        dice.range(-5, 30)
    );
    for file in [
        "flat-family",
        "upright-family",
        "outdoor-units",
        "controls",
        "stock",
    ] {
        let _ = writeln!(out, "catalog \"../shop/{file}.yaml\"");
    }
    let _ = writeln!(
        out,
        "story ground {{ floor 0 in, ceiling {} }}\nstory attic {{ floor {}, ceiling 12 ft, summer {} F, winter {} F }}",
        trade(ceiling),
        trade(attic_floor),
        dice.range(105, 130),
        dice.range(5, 40)
    );
    // The unit near the west end, the trunk along the middle.
    let unit_x = 66;
    let front_x = if unit.upright {
        unit_x
    } else {
        unit_x + unit.size.0 / 2
    };
    let up = 30;
    let trunk_z = attic_floor
        + stand
        + if unit.upright {
            unit.supply + up
        } else {
            unit.size.2 / 2
        };
    let trunk_long = long - front_x - 12;
    let first_station = if unit.upright { up } else { 0 };
    let lowest = first_station + unit.spacing.0;
    let highest = first_station + trunk_long - unit.spacing.0;
    let mut taken: [Vec<i64>; 2] = [Vec::new(), Vec::new()];
    let mut runs = String::new();
    let mut x = 0;
    for (column, width) in widths.iter().enumerate() {
        for row in 0..2 {
            let corner = (x, if row == 0 { 0 } else { half });
            let ((cx, cy), size) = turn.rectangle(corner, (*width, half));
            let count = dice.range(2, 3);
            let name = format!("room-{column}{}", if row == 0 { "s" } else { "n" });
            let load = count * dice.range(480, 620);
            let _ = writeln!(
                out,
                "room {name} on ground {{\n  corner {}, size {}\n  cooling sensible {load} Btu/h, latent {} Btu/h\n  heating {} Btu/h",
                two((cx, cy)),
                by(size),
                load / 5,
                load * 2
            );
            for n in 0..count {
                let local = (
                    x + width * (2 * n + 1) / (2 * count),
                    corner.1 + half * (1 + (n % 2)) / 3,
                );
                let (ox, oy) = turn.point(local);
                let tag = format!("o{column}{}{n}", if row == 0 { "s" } else { "n" });
                let _ = writeln!(
                    out,
                    "  outlet {tag} in ceiling at {}",
                    two((ox - cx, oy - cy))
                );
                let aim = (local.0 - front_x + first_station).clamp(lowest, highest);
                let free = |s: &i64| taken[row].iter().all(|t| (t - s).abs() > unit.spacing.1);
                let station = (0..400)
                    .flat_map(|d| [aim - d, aim + d])
                    .filter(|s| (lowest..=highest).contains(s))
                    .find(free)
                    .unwrap();
                taken[row].push(station);
                let from = (front_x + station - first_station, half, trunk_z);
                let d = [
                    (from.0 - local.0) as f64,
                    (from.1 - local.1) as f64,
                    (from.2 - ceiling) as f64,
                ];
                let straight = (d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).sqrt() / 12.0;
                #[allow(clippy::cast_possible_truncation)]
                let measured = (((straight * 1.1) + 1.0).ceil() as i64).max(unit.run.0);
                assert!(
                    measured <= unit.run.1,
                    "seed {seed}: a run of {measured} ft"
                );
                let side = turn.way(if row == 0 { "south" } else { "north" });
                let _ = writeln!(
                    runs,
                    "run {tag} from main at {}, side {side} {{ tube \"2 in sound tube\", measured {measured} ft, bends {}, through attic }}",
                    trade(station),
                    dice.range(1, 3)
                );
            }
            let _ = writeln!(out, "}}");
        }
        x += width;
    }
    let hatch = turn.rectangle((long - 90, 12), (54, 36));
    let center = turn.point((long - 63, 30));
    // Straight from the middle of the hatch to the middle of the unit, an inch of tape over.
    let (across, along) = ((long - 63 - unit_x) as f64, (half - 30) as f64);
    #[allow(clippy::cast_possible_truncation)]
    let way = (across * across + along * along).sqrt().ceil() as i64 + 1;
    let _ = writeln!(
        out,
        "attic-access hatch on attic {{ center {}, size {} }}\naccess-path way from hatch to ah {{ length {}, clear 36 in x 72 in, floored 30 in }}",
        two(center),
        by(hatch.1),
        trade(way)
    );
    let _ = writeln!(
        out,
        "air-handler ah {{\n  model \"{}\", on attic, center {}\n  discharge toward {}, stand {}, tap {}\n  fitted \"float switch\"\n}}",
        unit.model,
        two(turn.point((unit_x, half))),
        turn.way("east"),
        trade(stand),
        unit.tap
    );
    let east = turn.way("east");
    let start = if unit.upright {
        format!("  up {}, removable\n", trade(up))
    } else {
        "  FIRST 3 ft, removable\n".replace("FIRST", east)
    };
    let rest = if unit.upright {
        trunk_long
    } else {
        trunk_long - 36
    };
    let _ = writeln!(
        out,
        "trunk main from ah.supply {{\n  adapter \"{}\", pipe \"{}\"\n{start}  {east} {}, cap\n}}\n{runs}",
        unit.adapter,
        unit.pipe,
        trade(rest)
    );
    let side = turn.way(if unit.upright { "east" } else { "south" });
    let away = turn.way(if unit.upright { "south" } else { "west" });
    let _ = writeln!(
        out,
        "drain primary from ah.drain {{\n  pipe \"{}\", solvent \"PVC cement\"\n  insulation \"1/2 in closed cell\", freeze-protection heat-cable\n  {side} 4 in, cleanout, trap drop 2 3/4 in, seal 1 1/2 in\n  {side} {} ft, fall {} in\n  {away} 2 ft, fall 1/2 in, vent 8 in\n  down 8 ft\n  discharge to floor-drain, air gap 2 1/4 in\n}}",
        unit.port,
        dice.range(2, 4),
        dice.range(1, 2)
    );
    let (breaker, cable) = unit.circuit;
    let _ = writeln!(
        out,
        "panel p1 on ground {{ supply 240/120 }}\ncircuit ah-power to ah {{\n  from panel p1, breaker {breaker} A 2-pole, cable \"{cable}\", measured {} ft, volts 240, through attic\n  enters ah.power\n  land black on {}, land white on {}, land bare on {}\n}}\ndisconnect sw for ah {{ distance 3 ft }}\ndisconnect ou-sw for ou {{ distance 4 ft }}\nlight l1 on attic {{ switched at hatch }}\ncircuit ou-power to ou {{\n  from panel p1, breaker {} A 2-pole, cable \"{}\", measured {} ft, volts 240, gfci\n}}\nreceptacle r1 on attic {{ at {}, gfci }}",
        dice.range(20, 80),
        unit.terminals[0],
        unit.terminals[1],
        unit.terminals[2],
        unit.outdoor_circuit.0,
        unit.outdoor_circuit.1,
        dice.range(20, 60),
        two(turn.point((unit_x, half)))
    );
    let [r, c, g, y, yo] = unit.control;
    let room = "room-0s";
    let _ = writeln!(
        out,
        "thermostat stat in {room} {{ model \"Example one-stage thermostat\" }}\noutdoor-unit ou {{ model \"{}\", at {}, pad 4 in }}\ncable stat-cable from stat to ah {{\n  type \"18/5\", measured 40 ft, enters ah.control\n  wire red from stat.R to ah.{r}\n  wire blue from stat.C to ah.{c}\n  wire green from stat.G to ah.{g}\n  wire yellow from stat.Y to ah.{y}\n  spare white\n}}\ncable ou-cable from ah to ou {{\n  type \"18/2\", measured 50 ft, outdoors, enters ah.control\n  wire red from ah.{yo} to ou.{}\n  wire white from ah.{c} to ou.C\n}}",
        unit.outdoor,
        two((deep.max(long) + 60, 60)),
        unit.outdoor_call
    );
    out
}
