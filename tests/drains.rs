//! The water of traps integrated in time against the static rule, and drains walked leg by leg a second time.

use std::fmt::Write as _;
use std::path::PathBuf;

use bayrun::physics::trap_water::TrapWater;
use bayrun::quantity::Length;
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

use crate::comfort::needed;
use crate::generate::Seed;
use crate::support::cases::root;

// ---------------------------------------------------------------- the two legs in time

/// The levels of a trap's two legs above its weir, in inches, with all that ran in and over since the start.
#[derive(Clone, Copy, Debug)]
struct Column {
    inlet: f64,
    outlet: f64,
    came: f64,
    spilled: f64,
    lowest: f64,
}

impl Column {
    fn standing(lacking: f64) -> Self {
        Self {
            inlet: -lacking,
            outlet: -lacking,
            came: 0.0,
            spilled: 0.0,
            lowest: -lacking,
        }
    }

    /// Lets `suction(t)` pull for `seconds` while `inflow` (inches of leg a second) comes from the pan. The water moves
    /// through the dip as fast as friction lets it, so slowly that it has no swing.
    fn run(mut self, seconds: f64, inflow: f64, suction: impl Fn(f64) -> f64) -> Self {
        let dt = 2e-3;
        let started = self.inlet + self.outlet - self.came + self.spilled;
        let mut t = 0.0;
        while t < seconds {
            let moved = 4.0 * (self.inlet - self.outlet - suction(t)) * dt;
            self.inlet += inflow * dt - moved;
            self.came += inflow * dt;
            self.outlet += moved;
            if self.outlet > 0.0 {
                self.spilled += self.outlet;
                self.outlet = 0.0;
            }
            self.lowest = self.lowest.min(self.inlet).min(self.outlet);
            t += dt;
        }
        let kept = self.inlet + self.outlet - self.came + self.spilled;
        assert!(
            (kept - started).abs() < 1e-9,
            "water is made or lost: {self:?}"
        );
        self
    }

    /// What is missing below the weir once the blower is off and the levels are even.
    fn lacking(&self) -> f64 {
        -f64::midpoint(self.inlet, self.outlet)
    }
}

/// A blower that takes twenty seconds to come to its speed.
fn ramp(to: f64) -> impl Fn(f64) -> f64 {
    move |t| to * (t / 20.0).min(1.0)
}

/// A trap as drawn: drop, seal, and the suction at its pan (below zero: pressure), in inches of water.
#[derive(Clone, Copy, Debug)]
struct Drawn {
    drop: f64,
    seal: f64,
    suction: f64,
}

impl Drawn {
    fn water(&self, lacking: f64) -> TrapWater {
        TrapWater {
            drop: self.drop,
            seal: self.seal,
            lacking,
        }
    }

    /// Starts the blower on a trap that lacks that much and compares with the static rule.
    fn starts(&self, lacking: f64) {
        let end = Column::standing(lacking).run(60.0, 0.0, ramp(self.suction));
        let rest = self.water(lacking).at_rest(self.suction);
        let near = (end.lowest + self.seal).abs() < 2e-3;
        assert!(
            near || (end.lowest > -self.seal) == rest.is_some(),
            "{self:?} lacking {lacking}: {end:?} {rest:?}"
        );
        if let Some(rest) = rest {
            assert!((rest.inlet - end.inlet).abs() < 1e-3, "{self:?} {end:?}");
            assert!((rest.outlet - end.outlet).abs() < 1e-3, "{self:?} {end:?}");
        }
    }

    /// Runs with water coming, stops, and starts again on what is left.
    fn runs_and_stops(&self) {
        let running = Column::standing(0.0).run(200.0, 0.05, ramp(self.suction));
        let inflow_head = 0.05 / 4.0;
        let level = self.suction;
        assert!(
            (running.inlet - level).abs() < inflow_head + 1e-3 && running.outlet.abs() < 1e-9,
            "{self:?}: {running:?}"
        );
        let stopped = running.run(60.0, 0.0, |t| self.suction * (1.0 - t / 20.0).max(0.0));
        // Under suction the high leg runs over the weir and leaves the trap full.
        let left = stopped.lacking();
        if self.suction >= 0.0 {
            assert!(left.abs() < 1e-3, "{self:?}: {stopped:?}");
        } else {
            assert!(
                (left + self.suction / 2.0).abs() < inflow_head + 1e-3,
                "{self:?}: {stopped:?}"
            );
        }
        self.starts(left.max(0.0));
    }

    fn all(&self) {
        for lacking in [0.0, self.seal / 2.0, self.seal / 5.0] {
            self.starts(lacking);
        }
        self.runs_and_stops();
    }
}

fn check(path: &str) -> Checked {
    let path = root().join(path);
    Workshop::new(&Disk, None).check(&path, "job.bay").unwrap()
}

#[test]
fn the_traps_of_the_examples_behave_as_their_figures_say() {
    let mut seen = 0;
    for path in [
        "examples/larkspur-lane/larkspur-lane.bay",
        "examples/first-job/first-job.bay",
        "examples/old-farmhouse/old-farmhouse.bay",
        "tests/houses/whole.bay",
        "tests/houses/lifted.bay",
    ] {
        let checked = check(path);
        for drain in checked.model.drains.values() {
            let of = |what: &str| {
                checked
                    .ledger
                    .length(&format!("drain.{}.{what}", drain.name))
            };
            let (Some(drop), Some(seal)) = (of("trap-drop"), of("trap-seal")) else {
                continue;
            };
            for filter in ["@clean", "@dirty", ""] {
                let id = format!("air-handler.{}.pan-suction{filter}", drain.unit);
                let Some(suction) = checked.ledger.real(&id) else {
                    continue;
                };
                let drawn = Drawn {
                    drop: drop.to_inches(),
                    seal: seal.to_inches(),
                    suction,
                };
                drawn.all();
                seen += 1;
                if filter.is_empty() {
                    // What the figures have in hand is where the integration fails.
                    let lacks = of("trap-may-lack").unwrap().to_inches();
                    let start = |lacking: f64| {
                        Column::standing(lacking)
                            .run(60.0, 0.0, ramp(suction))
                            .lowest
                    };
                    assert!(start(lacks - 0.01) > -drawn.seal, "{path}");
                    assert!(start(lacks + 0.01) < -drawn.seal, "{path}");
                    let running = Column::standing(0.0).run(200.0, 0.01, ramp(suction));
                    let flood = of("trap-flood-margin").unwrap().to_inches();
                    assert!((drawn.drop - running.inlet - flood).abs() < 0.01, "{path}");
                    println!(
                        "{path} {}: may lack {lacks:.2} in, below the pan by {flood:.2} in, left after a swing {:.2} in of {:.2} in",
                        drain.name,
                        of("trap-swing-margin").unwrap().to_inches(),
                        drawn.seal
                    );
                }
            }
        }
    }
    assert!(seen >= 13, "{seen} traps");
}

#[test]
fn random_traps_behave_as_the_static_rule_says() {
    let mut dice = Seed::new(20_261_125);
    let mut real = |low: f64, high: f64| low + (high - low) * dice.range(0, 1_000_000) as f64 / 1e6;
    for _ in 0..300 {
        let drawn = Drawn {
            drop: real(0.1, 4.0),
            seal: real(0.05, 3.0),
            suction: real(-2.0, 3.0),
        };
        drawn.all();
        drawn.starts(real(0.0, drawn.seal));
    }
}

/// Without friction and with the whole suction at once the water swings twice as far as it comes to rest.
#[test]
fn a_sudden_start_swings_as_far_as_the_margin_says() {
    for (seal, suction) in [(1.25, 0.9), (0.6, 1.0), (2.0, 0.3)] {
        let length = 2.0 * seal + suction;
        let (mut outlet, mut speed, mut lowest, mut first) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0);
        let dt = 1e-5;
        for n in 0..100_000 {
            // Both legs move by the same way: the difference of levels is twice it.
            let force = 386.088_583 * (-2.0 * outlet - suction) / length;
            speed += force * dt;
            outlet += speed * dt;
            if outlet < lowest {
                lowest = outlet;
                first = f64::from(n) * dt;
            }
        }
        let margin = TrapWater {
            drop: 3.0,
            seal,
            lacking: 0.0,
        }
        .swing_margin(suction);
        assert!((seal + lowest - margin).abs() < 1e-3, "{lowest} {margin}");
        let half = TrapWater::swing(Length::nearest(length)) / 2.0;
        // Later swings reach the same depth to a rounding: any odd half period will do.
        let share = first / half;
        assert!((share - share.round()).abs() < 0.01, "{first} {half}");
    }
}

// ---------------------------------------------------------------- drains walked a second time

struct Walked {
    text: String,
    /// Height of each leg's start and end above the lowest floor, in sixty-fourths of an inch.
    legs: Vec<(i64, i64)>,
    /// Legs that run uphill.
    rises: usize,
}

/// Height of the drain port: attic floor 9 ft, stand 10 in, port 2 in up the cabinet; in sixty-fourths.
const PORT: i64 = (108 + 10 + 2) * 64;

fn inches(sixty_fourths: i64) -> String {
    let (whole, rest) = (sixty_fourths / 64, sixty_fourths % 64);
    if rest == 0 {
        format!("{whole} in")
    } else {
        format!("{whole} {rest}/64 in")
    }
}

fn walk(dice: &mut Seed) -> Walked {
    let mut walked = Walked {
        text: String::new(),
        legs: Vec::new(),
        rises: 0,
    };
    let drop = dice.range(130, 220);
    let mut z = PORT;
    let trap_after = dice.range(0, 1);
    let ways = ["north", "south", "east", "west"];
    for n in 0..dice.range(3, 9) {
        if n == trap_after {
            let _ = writeln!(
                walked.text,
                "  cleanout, trap drop {}, seal 1 3/4 in",
                inches(drop)
            );
            z = PORT - drop;
        }
        let start = z;
        if n > trap_after && dice.range(0, 3) == 0 {
            let long = dice.range(64, 12 * 64);
            let _ = writeln!(walked.text, "  down {}", inches(long));
            z -= long;
        } else {
            let long = if n < trap_after {
                4 * 64
            } else {
                dice.range(7 * 64, 60 * 64)
            };
            let way = ways[usize::try_from(dice.range(0, 3)).unwrap()];
            let _ = write!(walked.text, "  {way} {}", inches(long));
            match dice.range(0, 5) {
                0 if n > trap_after => {
                    let rise = dice.range(1, 60);
                    let _ = write!(walked.text, ", rise {}", inches(rise));
                    z += rise;
                    walked.rises += 1;
                }
                _ if n > trap_after => {
                    let fall = long / 48 + dice.range(1, 40);
                    let _ = write!(walked.text, ", fall {}", inches(fall));
                    z -= fall;
                }
                _ => {}
            }
            walked.text.push('\n');
        }
        walked.legs.push((start, z));
    }
    walked
}

#[test]
fn thirty_drains_stand_where_a_second_walk_puts_them() {
    let path: PathBuf = root().join("tests/houses/thirty.bay");
    let sixty_fourth = |n: i64| Length::from_nm(Length::INCH.nm() / 64 * n);
    for seed in 0..30 {
        let walked = walk(&mut Seed::new(seed));
        let text = format!(
            "bayrun 1\ninclude \"shell.bay\"\ndrain d from ah.drain {{\n  pipe \"3/4 in PVC\"\n{}  discharge to laundry-sink, air gap 2 in\n}}\n",
            walked.text
        );
        let reader = Overlay {
            above: Memory::default().with(&path, text.clone()),
            below: &Disk,
        };
        let checked = Workshop::new(&reader, None)
            .check(&path, "thirty.bay")
            .unwrap();
        let of = |what: &str| checked.ledger.length(&format!("drain.d.{what}"));
        for (n, (start, end)) in walked.legs.iter().enumerate() {
            for (what, z) in [("start", start), ("end", end)] {
                let found = of(&format!("leg-{}-{what}", n + 1));
                assert_eq!(
                    found,
                    Some(sixty_fourth(*z)),
                    "seed {seed} leg {n} {what}\n{text}"
                );
            }
        }
        let last = walked.legs.last().unwrap().1;
        assert_eq!(
            of("fall-available"),
            Some(sixty_fourth(PORT - last)),
            "{text}"
        );
        let rises = checked
            .findings
            .iter()
            .filter(|finding| finding.kind.code == "DRN012")
            .count();
        assert_eq!(rises, walked.rises, "{text}");
        supports(&checked, &walked, &text);
    }
}

/// Each support lies on the straight line between the ends of its leg, to the nearest sixteenth.
fn supports(checked: &Checked, walked: &Walked, text: &str) {
    let ledger = &checked.ledger;
    let count = ledger.real("drain.d.supports").unwrap();
    let mut k = 1;
    while f64::from(k) <= count {
        let of = |what: &str| {
            ledger
                .length(&format!("drain.d.support-{k}-{what}"))
                .unwrap()
        };
        let leg = ledger.word(&format!("drain.d.support-{k}-leg")).unwrap();
        let n: usize = leg.trim_start_matches("leg-").parse().unwrap();
        let length = ledger.length(&format!("drain.d.leg-{n}-length")).unwrap();
        let (start, end) = walked.legs[n - 1];
        let share = of("along").to_inches() / length.to_inches();
        let z = (start as f64 + (end - start) as f64 * share) / 64.0;
        assert!(
            (of("height").to_inches() - z).abs() <= 1.0 / 32.0 + 1e-9,
            "{k}\n{text}"
        );
        let below = PORT as f64 / 64.0 - z;
        assert!(
            (of("below").to_inches() - below).abs() <= 1.0 / 32.0 + 1e-9,
            "{k}\n{text}"
        );
        k += 1;
    }
}

// ---------------------------------------------------------------- the basement with its pump

#[test]
fn a_lifted_drain_is_clean_and_its_pump_runs_where_hand_calculation_puts_it() {
    let checked = check("tests/houses/lifted.bay");
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let real = |id: &str| checked.ledger.real(id).unwrap();
    // The wettest hour is the job's named condition, and the drain carries what the coil makes.
    let word = checked.ledger.word("air-handler.ah.wettest-state").unwrap();
    assert!(word.contains("muggy"), "{word}");
    let (design, wettest) = (
        real("drain.primary.flow"),
        real("drain.primary.flow-wettest"),
    );
    assert!(wettest > design && design > 0.0);
    let gallons = real("pump.lift.inflow-hour");
    assert!(
        (gallons / (wettest / 8.338) - 1.0).abs() < 1e-3,
        "{gallons}"
    );
    // Lift 66 in; at 55 F: 18 ft of 3/8 in smooth tube, 3 bends, ends and a check valve.
    let (flow, head) = (
        real("pump.lift.moves-hour"),
        checked.ledger.length("pump.lift.head").unwrap().to_inches(),
    );
    let velocity: f64 = flow * 231.0
        / 1728.0
        / 3600.0
        / (std::f64::consts::FRAC_PI_4 * (0.375 / 12.0) * (0.375 / 12.0));
    let viscosity = 8.2e-4 / 62.39;
    let reynolds = velocity * 0.375 / 12.0 / viscosity;
    let factor = 0.316 / libm::pow(reynolds, 0.25);
    let losses = factor * 18.0 / (0.375 / 12.0) + 1.5 + 2.7 + 12.0;
    let by_hand = 66.0 + losses * velocity * velocity / 64.348 * 12.0;
    assert!((head / by_hand - 1.0).abs() < 0.03, "{head} {by_hand}");
    // On the curve between 48 gal/h at 2.2 psi and 30 at 4.3 psi, or its neighbours.
    let psi = head / 12.0 * 62.39 / 144.0;
    let points = [(0.4, 65.0), (2.2, 48.0), (4.3, 30.0), (6.5, 12.0)];
    let on_curve = points
        .windows(2)
        .find(|w| w[0].0 <= psi && psi <= w[1].0)
        .map(|w| w[0].1 + (psi - w[0].0) / (w[1].0 - w[0].0) * (w[1].1 - w[0].1))
        .unwrap();
    assert!((flow - on_curve).abs() < 0.1, "{flow} {on_curve}");
    // 0.15 gal each time.
    let cycles = real("pump.lift.cycles");
    let by_hand = 1.0 / (0.15 / gallons + 0.15 / (flow - gallons));
    assert!((cycles / by_hand - 1.0).abs() < 1e-9);
}

#[test]
fn a_wye_that_does_not_say_its_way_is_not_judged_and_is_ordered() {
    let path = root().join("examples/larkspur-lane/larkspur-lane.bay");
    let text = std::fs::read_to_string(&path).unwrap();
    let with = |words: &str| {
        let text = text.replace("cleanout plug threaded, trap", &format!("{words}, trap"));
        let reader = Overlay {
            above: Memory::default().with(&path, text),
            below: &Disk,
        };
        Workshop::new(&reader, None)
            .check(&path, "larkspur-lane.bay")
            .unwrap()
    };
    let unsaid = |checked: &Checked| {
        let mut all = checked.not_checked.iter();
        all.any(|one| one.kind_code == "DRN050")
    };
    assert!(!unsaid(&with("cleanout plug threaded")));
    let open = with("cleanout plug threaded in wye");
    assert!(unsaid(&open));
    let said = with("cleanout in wye facing with flow");
    assert!(!unsaid(&said));
    assert_eq!(needed(&said, "3/4 in PVC wye"), 1);
    assert_eq!(needed(&said, "3/4 in PVC cleanout plug"), 1);
    assert_eq!(needed(&said, "3/4 in PVC cleanout"), 0);
}
