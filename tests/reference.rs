//! Published figures: every table of `tests/reference/` with its results emptied must come back
//! within the tolerance that its header states.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use bayrun::cli::calc::{CalcOutcome, calc};

/// A table as read: its header and rows.
#[derive(Clone)]
struct Table {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    fn read(text: &str) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(text.as_bytes());
        let cells = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
        let header = cells(reader.headers().unwrap());
        let rows = reader.records().map(|r| cells(&r.unwrap())).collect();
        Self { header, rows }
    }

    fn text(&self) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        writer.write_record(&self.header).unwrap();
        for row in &self.rows {
            writer.write_record(row).unwrap();
        }
        String::from_utf8(writer.into_inner().unwrap()).unwrap()
    }

    fn column(&self, name: &str) -> usize {
        self.header.iter().position(|h| h == name).unwrap()
    }

    fn cell<'a>(&self, row: &'a [String], name: &str) -> &'a str {
        &row[self.column(name)]
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference")
}

/// The file of a bench: `trap-seal` is `trap_seal.csv`.
fn table_of(name: &str) -> Table {
    let path = folder().join(format!("{}.csv", name.replace('-', "_")));
    Table::read(&std::fs::read_to_string(path).unwrap())
}

/// Role of each column of a bench.
fn roles(name: &str) -> BTreeMap<String, String> {
    let all = Table::read(&std::fs::read_to_string(folder().join("columns.csv")).unwrap());
    all.rows
        .iter()
        .filter(|row| row[0] == name)
        .map(|row| (row[1].clone(), row[2].clone()))
        .collect()
}

/// The result column that `given` turns into an input, if any.
fn given_column(table: &Table, row: &[String]) -> Option<&'static str> {
    table
        .header
        .iter()
        .any(|h| h == "given")
        .then(|| match table.cell(row, "given") {
            "rh" => "rel_humidity_frac",
            "twb" => "wet_bulb_F",
            "tdp" => "dew_point_F",
            _ => "humidity_ratio_lb_per_lb",
        })
}

/// With every column of the roles emptied, save a result that the row gives.
fn emptied(name: &str, table: &Table, empty: &[&str]) -> Table {
    let roles = roles(name);
    let mut out = table.clone();
    for row in &mut out.rows {
        let given = given_column(table, row);
        for (at, column) in table.header.iter().enumerate() {
            if empty.contains(&roles[column].as_str()) && Some(column.as_str()) != given {
                row[at].clear();
            }
        }
    }
    out
}

fn run_text(name: &str, text: &str) -> CalcOutcome {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("table.csv");
    std::fs::write(&path, text).unwrap();
    let mut outcome = calc(Some(name), &[], Some(&path));
    let shown = folder.path().display().to_string();
    outcome.err = outcome.err.replace(&format!("{shown}/"), "");
    outcome
}

fn run(name: &str, table: &Table) -> Table {
    let outcome = run_text(name, &table.text());
    assert_eq!((outcome.err.as_str(), outcome.code), ("", 0), "{name}");
    Table::read(&outcome.out)
}

/// Compares cell by cell; `allowed` gives the greatest difference for a column, row and reference value
/// (none: do not compare). Prints and returns the largest share of the allowance that was used.
fn compare(
    name: &str,
    want: &Table,
    found: &Table,
    allowed: impl Fn(&str, &[String], f64) -> Option<f64>,
) {
    assert_eq!(want.header, found.header, "{name}");
    assert_eq!(want.rows.len(), found.rows.len(), "{name}");
    let mut worst = (0.0, String::new());
    for (row, other) in want.rows.iter().zip(&found.rows) {
        for (column, (a, b)) in want.header.iter().zip(row.iter().zip(other)) {
            let place = format!("{name} {} {column}: {a} {b}", row[0]);
            let (Ok(x), Ok(y)) = (a.parse::<f64>(), b.parse::<f64>()) else {
                assert_eq!(a, b, "{place}");
                continue;
            };
            let Some(limit) = allowed(column, row, x) else {
                continue;
            };
            let off = (x - y).abs();
            assert!(off <= limit, "{place}");
            let share = if off == 0.0 { 0.0 } else { off / limit };
            if share > worst.0 {
                worst = (share, place);
            }
        }
    }
    println!(
        "{name}: at most {:.2e} of the tolerance, {}",
        worst.0, worst.1
    );
}

/// A share of the value, with room for the ten digits printed.
fn share(of: f64) -> impl Fn(&str, &[String], f64) -> Option<f64> {
    move |_, _, value| Some(value.abs() * of + 1e-9)
}

/// Runs with results emptied, then with properties emptied too.
fn check(name: &str, allowed: impl Fn(&str, &[String], f64) -> Option<f64>) {
    let table = table_of(name);
    let found = run(name, &emptied(name, &table, &["result"]));
    compare(name, &table, &found, allowed);
}

#[test]
fn moist_air() {
    check("psychrometrics", |column, _, value| {
        Some(match column {
            "wet_bulb_F" | "dew_point_F" => 0.05,
            _ => value.abs() * 1e-3 + 1e-9,
        })
    });
}

/// Two properties without the dry bulb: the input that follows from them is filled in.
#[test]
fn moist_air_from_any_two() {
    let table = table_of("psychrometrics");
    for (given, columns) in [
        ("rh+twb", ["rel_humidity_frac", "wet_bulb_F"]),
        ("twb+tdp", ["wet_bulb_F", "dew_point_F"]),
        (
            "w+h",
            ["humidity_ratio_lb_per_lb", "enthalpy_Btu_per_lb_da"],
        ),
        ("tdb+v", ["dry_bulb_F", "specific_volume_ft3_per_lb_da"]),
    ] {
        let mut asked = table.clone();
        // Dry air has no dew point, and near freezing a wet bulb has two readings.
        asked.rows.retain(|row| {
            let of = |name: &str| table.cell(row, name).parse().unwrap_or(f64::NAN);
            of("dew_point_F") > 33.0
        });
        let want = asked.clone();
        for row in &mut asked.rows {
            for (at, name) in table.header.iter().enumerate() {
                match name.as_str() {
                    "case" | "altitude_ft" => {}
                    "given" => given.clone_into(&mut row[at]),
                    other if columns.contains(&other) => {}
                    _ => row[at].clear(),
                }
            }
        }
        let mut found = run("psychrometrics", &asked);
        let at = want.column("given");
        for (row, other) in found.rows.iter_mut().zip(&want.rows) {
            row[at].clone_from(&other[at]);
        }
        compare(given, &want, &found, |column, _, value| {
            Some(match column {
                "wet_bulb_F" | "dew_point_F" | "dry_bulb_F" => 0.001,
                _ => value.abs() * 1e-4,
            })
        });
    }
}

#[test]
fn traps() {
    check("trap-seal", |_, _, value| {
        Some((value.abs() * 0.005).max(0.02))
    });
    // The same density of water as the reference: far inside its tolerance.
    check("trap-seal", |_, _, value| Some(value.abs() * 1e-5 + 1e-9));
}

#[test]
fn conductors() {
    check("conductor", |_, _, _| Some(0.0));
}

#[test]
fn pipes() {
    check("pipe-dims", |_, _, _| Some(0.0));
}

#[test]
fn voltage_drops() {
    check("voltage-drop", share(1e-3));
    check("voltage-drop", share(1e-9));
}

/// Checks with the properties given, then (with `own`) with the program's own.
fn check_both(
    name: &str,
    given: impl Fn(&str, &[String], f64) -> Option<f64>,
    own: impl Fn(&str, &[String], f64) -> Option<f64>,
) {
    check(name, given);
    let table = table_of(name);
    let found = run(name, &emptied(name, &table, &["result", "property"]));
    compare(name, &table, &found, own);
}

/// Rows of the transitional range are there for information: only what friction does not touch is compared.
fn transitional(column: &str, row: &[String]) -> bool {
    row.iter().any(|cell| cell == "transitional")
        && (column == "darcy_f"
            || ["friction", "head", "pressure_loss", "total"]
                .iter()
                .any(|part| column.starts_with(part)))
}

#[test]
fn air_in_ducts() {
    let off = |share: f64| {
        move |column: &str, row: &[String], value: f64| {
            (!transitional(column, row)).then_some(value.abs() * share + 1e-12)
        }
    };
    check_both("air-friction", off(5e-4), off(1e-3));
    // Colebrook to the last bits: what is left is the tenth digit.
    check("air-friction", off(1e-9));
}

/// Colebrook's factor by halving.
fn colebrook(reynolds: f64, rough: f64) -> f64 {
    let (mut low, mut high) = (1e-3_f64, 1.0_f64);
    for _ in 0..200 {
        let f = f64::midpoint(low, high);
        let inside = rough / 3.7 + 2.51 / (reynolds * f.sqrt());
        if 1.0 / f.sqrt() + 2.0 * libm::log10(inside) > 0.0 {
            low = f;
        } else {
            high = f;
        }
    }
    low
}

/// A table of one bench from rows by column name.
fn table(name: &str, rows: &[&[(&str, &str)]]) -> String {
    let header = table_of(name).header;
    let mut text = header.join(",");
    for row in rows {
        let cell = |column: &String| {
            let given = row.iter().find(|(name, _)| name == column);
            given.map_or("", |(_, value)| value)
        };
        text += "\n";
        text += &header.iter().map(cell).collect::<Vec<_>>().join(",");
    }
    text + "\n"
}

#[test]
fn ducts_that_the_table_does_not_show() {
    let number = |value: f64| format!("{value:.17}");
    let (density, viscosity) = (0.075, 1.2e-5);
    let air = [
        ("density_lb_per_ft3", "0.075"),
        ("viscosity_lb_per_ft_s", "0.000012"),
    ];
    let rows: Vec<(String, f64)> = [1999.0, 2000.0, 3000.0, 3999.9999, 4000.0, 1e7]
        .map(|reynolds| {
            let fpm = reynolds * viscosity / (density * 2.0 / 12.0) * 60.0;
            (number(fpm * std::f64::consts::PI / 144.0), reynolds)
        })
        .to_vec();
    let mut given: Vec<Vec<(&str, &str)>> = rows
        .iter()
        .map(|(flow, _)| {
            vec![
                ("case", "r"),
                ("shape", "round"),
                ("diameter_in", "2"),
                ("roughness_ft", "0.0005"),
                ("flow_cfm", flow),
            ]
        })
        .collect();
    given.push(vec![
        ("case", "o"),
        ("shape", "oval"),
        ("width_in", "10"),
        ("height_in", "4"),
        ("roughness_ft", "0.0003"),
        ("flow_cfm", "300"),
    ]);
    given.push(vec![
        ("case", "lying"),
        ("shape", "oval"),
        ("width_in", "4"),
        ("height_in", "10"),
        ("roughness_ft", "0.0003"),
        ("flow_cfm", "300"),
    ]);
    given.push(vec![
        ("case", "still"),
        ("shape", "rect"),
        ("width_in", "4"),
        ("height_in", "10"),
        ("roughness_ft", "0"),
        ("flow_cfm", "0"),
    ]);
    given.iter_mut().for_each(|row| row.extend(air));
    let given: Vec<&[(&str, &str)]> = given.iter().map(Vec::as_slice).collect();
    let outcome = run_text("air-friction", &table("air-friction", &given));
    assert_eq!((outcome.err.as_str(), outcome.code), ("", 0));
    let found = Table::read(&outcome.out);
    let real =
        |row: usize, column: &str| -> f64 { found.cell(&found.rows[row], column).parse().unwrap() };
    let rough = 0.0005 * 12.0 / 2.0;
    let edge = colebrook(4000.0, rough);
    for (row, (_, reynolds)) in rows.iter().enumerate() {
        assert!((real(row, "reynolds") / reynolds - 1.0).abs() < 1e-9);
        let want = if *reynolds <= 2000.0 {
            64.0 / reynolds
        } else if *reynolds < 4000.0 {
            0.032 + (edge - 0.032) * (reynolds - 2000.0) / 2000.0
        } else {
            colebrook(*reynolds, rough)
        };
        assert!(
            (real(row, "darcy_f") / want - 1.0).abs() < 1e-9,
            "{reynolds}"
        );
    }
    let area = std::f64::consts::PI * 4.0 + 24.0;
    let around = std::f64::consts::PI * 4.0 + 12.0;
    for row in [6, 7] {
        assert!((real(row, "hydraulic_diameter_in") / (4.0 * area / around) - 1.0).abs() < 1e-9);
        assert!((real(row, "velocity_fpm") / (300.0 * 144.0 / area) - 1.0).abs() < 1e-9);
    }
    assert_eq!(found.cell(&found.rows[8], "darcy_f"), "");
    assert_eq!(real(8, "friction_inwc_per_100ft"), 0.0);
}

#[test]
fn rows_that_no_duct_fitting_or_coil_has_are_named_by_their_line() {
    let duct = |rest: &[(&'static str, &'static str)]| {
        let mut row = vec![
            ("case", "x"),
            ("roughness_ft", "0.0003"),
            ("air_temp_F", "70"),
            ("altitude_ft", "0"),
            ("flow_cfm", "100"),
        ];
        row.retain(|(name, _)| rest.iter().all(|(other, _)| other != name));
        row.extend(rest);
        row
    };
    let tee = |rest: &[(&'static str, &'static str)]| {
        let mut row = vec![
            ("case", "x"),
            ("kind", "tee_branch"),
            ("d_run_in", "9"),
            ("d_branch_in", "2"),
            ("angle_deg", "90"),
            ("q_run_cfm", "500"),
            ("q_branch_cfm", "35"),
        ];
        row.retain(|(name, _)| rest.iter().all(|(other, _)| other != name));
        row.extend(rest);
        row
    };
    let lines = |name: &str, rows: Vec<Vec<(&str, &str)>>| {
        let rows: Vec<&[(&str, &str)]> = rows.iter().map(Vec::as_slice).collect();
        let outcome = run_text(name, &table(name, &rows));
        assert_eq!(outcome.code, 1, "{name}");
        assert_eq!(Table::read(&outcome.out).rows.len(), rows.len());
        outcome.err
    };
    assert_eq!(
        lines(
            "air-friction",
            vec![
                duct(&[("shape", "rect"), ("width_in", "0"), ("height_in", "8")]),
                duct(&[
                    ("shape", "round"),
                    ("diameter_in", "2"),
                    ("roughness_ft", "0.2")
                ]),
                duct(&[
                    ("shape", "round"),
                    ("diameter_in", "2"),
                    ("air_temp_F", "500")
                ]),
                duct(&[("shape", "hexagonal"), ("diameter_in", "2")]),
                duct(&[("shape", "oval"), ("width_in", "8")]),
                duct(&[("shape", "round"), ("diameter_in", "2")]),
            ]
        ),
        "error: table.csv:2: `width_in` is 0, outside 0.01 to 10000\n\
         error: table.csv:3: `roughness_ft` is more than half the duct\n\
         error: table.csv:4: `air_temp_F` is 500, outside -148 to 392\n\
         error: table.csv:5: `shape` is `hexagonal`, not one of round, rect, oval\n\
         error: table.csv:6: `height_in` is empty\n"
    );
    assert_eq!(
        lines(
            "fitting-loss",
            vec![
                tee(&[]),
                tee(&[("d_branch_in", "12")]),
                tee(&[("q_branch_cfm", "0")]),
                tee(&[("kind", "cross")]),
                vec![
                    ("case", "x"),
                    ("kind", "contraction_sharp"),
                    ("d1_in", "7"),
                    ("d2_in", "9")
                ],
            ]
        ),
        "error: table.csv:3: `d_branch_in` is larger than `d_run_in`\n\
         error: table.csv:4: `q_branch_cfm` is zero\n\
         error: table.csv:5: `kind` is `cross`, which is no fitting held here\n\
         error: table.csv:6: `d1_in` is smaller than `d2_in`: a contraction gets narrower downstream\n"
    );
    let coil = |wet: &'static str, basis: &'static str| {
        vec![
            ("case", "x"),
            ("altitude_ft", "800"),
            ("entering_dry_bulb_F", "80"),
            ("entering_wet_bulb_F", wet),
            ("leaving_dry_bulb_F", "55"),
            ("leaving_rel_humidity_frac", "0.95"),
            ("flow_cfm", "900"),
            ("flow_basis", basis),
        ]
    };
    let err = lines(
        "condensate",
        vec![
            coil("67", "entering"),
            coil("81", "entering"),
            coil("67", "by weight"),
        ],
    );
    assert!(err.contains("table.csv:3: entering air:"), "{err}");
    assert!(
        err.contains("table.csv:4: `flow_basis` is `by weight`"),
        "{err}"
    );
    assert_eq!(err.lines().count(), 2, "{err}");
}

#[test]
fn coils_that_condense() {
    // Share of the value, or of 0.5 lb/h of water and its heat where a coil hardly condenses.
    check("condensate", |_, _, value| Some(value.abs() * 5e-3 + 1e-6));
}

#[test]
fn water_in_pipes() {
    let off = |plain: f64, glycol: f64| {
        move |column: &str, row: &[String], value: f64| {
            let share = if row.iter().any(|cell| cell.starts_with("PG")) {
                glycol
            } else {
                plain
            };
            (!transitional(column, row)).then_some(value.abs() * share)
        }
    };
    check_both("water-friction", off(2e-3, 2e-3), off(2e-2, 0.1));
}

#[test]
fn pumps() {
    let off = |share: f64| {
        move |column: &str, row: &[String], value: f64| {
            (!transitional(column, row)).then_some(value.abs() * share)
        }
    };
    check_both("pump-head", off(5e-3), off(5e-2));
}

#[test]
fn fittings() {
    check("fitting-loss", share(5e-3));
}

#[test]
fn hot_water_coils() {
    check_both("hydronic-coil", share(2e-3), share(1e-2));
}

const NAMES: [&str; 11] = [
    "air-friction",
    "condensate",
    "conductor",
    "fitting-loss",
    "hydronic-coil",
    "pipe-dims",
    "psychrometrics",
    "pump-head",
    "trap-seal",
    "voltage-drop",
    "water-friction",
];

#[test]
fn results_that_come_filled_are_never_read() {
    for name in NAMES {
        let table = table_of(name);
        let roles = roles(name);
        let plain = run(name, &emptied(name, &table, &["result"]));
        let mut spoiled = table.clone();
        for row in &mut spoiled.rows {
            let given = given_column(&table, row);
            for (at, column) in table.header.iter().enumerate() {
                if roles[column] == "result" && Some(column.as_str()) != given {
                    row[at] = "nonsense".to_owned();
                }
            }
        }
        assert_eq!(run(name, &spoiled).rows, plain.rows, "{name}");
    }
}

#[test]
fn order_of_rows_and_columns_makes_no_difference() {
    for name in NAMES {
        let table = emptied(name, &table_of(name), &["result"]);
        let plain = run(name, &table);
        let mut turned = table.clone();
        turned.header.reverse();
        turned.header.insert(2, "remark".to_owned());
        for (n, row) in turned.rows.iter_mut().enumerate() {
            row.reverse();
            row.insert(2, format!("kept, {n}"));
        }
        turned.rows.reverse();
        let mut back = run(name, &turned);
        assert_eq!(back.header, turned.header, "{name}");
        back.rows.reverse();
        for (n, row) in back.rows.iter_mut().enumerate() {
            assert_eq!(row.remove(2), format!("kept, {n}"));
            row.reverse();
        }
        assert_eq!(back.rows, plain.rows, "{name}");
    }
}

#[test]
fn a_missing_column_stops_the_table_and_is_named() {
    for name in NAMES {
        let table = table_of(name);
        for (column, role) in roles(name) {
            let at = table.column(&column);
            let mut less = table.clone();
            less.header.remove(at);
            for row in &mut less.rows {
                row.remove(at);
            }
            let outcome = run_text(name, &format!("# remark\n\n{}", less.text()));
            if role == "text" {
                assert_eq!(outcome.code, 0, "{name} {column}");
                continue;
            }
            assert_eq!(outcome.code, 2, "{name} {column}");
            assert_eq!(outcome.out, "");
            assert_eq!(
                outcome.err,
                format!("error: table.csv:3: column `{column}` is missing\n")
            );
        }
    }
}

#[test]
fn every_column_of_a_bench_has_its_role() {
    for name in NAMES {
        let told = calc(Some(name), &[], None).out;
        for (column, role) in roles(name) {
            let named = told.contains(&column);
            let wanted = !matches!(role.as_str(), "key" | "text");
            assert!(named || !wanted, "{name} {column}");
        }
    }
}

#[test]
fn a_bad_row_keeps_its_inputs_and_the_good_ones_are_printed() {
    let text = "\u{feff}# remark\r\ncase,supply_V,current_A,awg,stranding,one_way_ft,conductor_temp_C,resistance_75C_ohm_per_1000ft,resistance_at_temp_ohm_per_1000ft,voltage_drop_V,voltage_drop_percent,load_voltage_V\r\n\
        A,240,twenty,12,stranded,60,75,1,2,3,4,5\r\n\
        # between\r\n\r\n\
        B,240,20,12,stranded,60,75,1,2,3,4,5\r\n\
        C,240,20,12,stranded,-60,1e9,,,,,\r\n\
        D,240,20,6,solid,60,75,,,,,\r\n\
        E,240,20,12,stranded,60\r\n\
        F,240,20,,stranded,60,75,,,,,\r\n\
        G,240,inf,12,stranded,60,75,,,,,\r\n";
    let outcome = run_text("voltage-drop", text);
    assert_eq!(outcome.code, 1);
    assert_eq!(
        outcome.err,
        "error: table.csv:3: `current_A` is `twenty`, which is not a number\n\
         error: table.csv:7: `one_way_ft` is -60, outside 0 to 100000\n\
         error: table.csv:7: `conductor_temp_C` is 1e9, outside -60 to 250\n\
         error: table.csv:8: not held: resistance of solid 6 AWG\n\
         error: table.csv:9: the row has 6 cells, the header 12\n\
         error: table.csv:10: `awg` is empty\n\
         error: table.csv:11: `current_A` is `inf`, which is not a number\n"
    );
    let lines: Vec<&str> = outcome.out.split('\n').collect();
    assert_eq!(lines[1], "A,240,twenty,12,stranded,60,75,,,,,");
    assert_eq!(
        lines[2],
        "B,240,20,12,stranded,60,75,1.98,1.98,4.752,1.98,235.248"
    );
    assert_eq!(lines[3], "C,240,20,12,stranded,-60,1e9,,,,,");
    assert_eq!(lines.len(), 9);
    assert_eq!(lines[8], "");
}

#[test]
fn what_cannot_run_at_all_ends_with_two() {
    assert_eq!(calc(Some("voltage-drops"), &[], None).code, 2);
    assert!(
        calc(Some("voltage_drop"), &[], None)
            .err
            .contains("`bayrun calc voltage-drop`")
    );
    assert_eq!(
        calc(Some("trap-seal"), &[], Some(Path::new("no-such.csv"))).code,
        2
    );
    assert_eq!(calc(None, &[], Some(Path::new("no-such.csv"))).code, 2);
    assert_eq!(run_text("trap-seal", "").code, 2);
    assert_eq!(run_text("trap-seal", "# only remarks\n").code, 2);
    let typed = |pairs: &[&str]| {
        let pairs: Vec<String> = pairs.iter().map(|p| (*p).to_owned()).collect();
        calc(Some("trap-seal"), &pairs, None)
    };
    assert_eq!(typed(&["kind"]).code, 2);
    assert_eq!(typed(&["kind=design", "kind=trial"]).code, 2);
    assert!(typed(&["margn_in=1"]).err.contains("`margin_in=…`"));
    assert_eq!(typed(&["water_column_in=1"]).code, 2);
    assert_eq!(typed(&["margin_in=1 cfm"]).code, 2);
    assert_eq!(typed(&["kind=design"]).code, 1);
    assert_eq!(calc(None, &[], None).code, 0);
}

#[test]
fn one_case_is_typed_with_units() {
    let typed = |name: &str, pairs: &[&str]| {
        let pairs: Vec<String> = pairs.iter().map(|p| (*p).to_owned()).collect();
        calc(Some(name), &pairs, None)
    };
    let outcome = typed(
        "voltage-drop",
        &[
            "supply_V=240 V",
            "current_A=20",
            "awg=12",
            "stranding=stranded",
            "one_way_ft=60 ft",
            "conductor_temp_C=167 F",
        ],
    );
    assert_eq!(outcome.code, 0, "{}", outcome.err);
    assert_eq!(
        outcome.out,
        "resistance_75C_ohm_per_1000ft      1.98     ohm/1000 ft\n\
         resistance_at_temp_ohm_per_1000ft  1.98     ohm/1000 ft\n\
         voltage_drop_V                     4.752    V\n\
         voltage_drop_percent               1.98     %\n\
         load_voltage_V                     235.248  V\n"
    );
    let air = typed(
        "psychrometrics",
        &[
            "given=rh",
            "rel_humidity_frac=50 %",
            "dry_bulb_F=75 F",
            "altitude_ft=0",
        ],
    );
    assert!(air.out.contains("55.1199043"), "{}", air.out);
    let pipe = typed(
        "pipe-dims",
        &["material=PVC", "type=schedule 40", "nominal_size_in=3/4"],
    );
    assert!(
        pipe.out.contains("socket_depth_in      0.719"),
        "{}",
        pipe.out
    );
}

#[test]
fn what_no_table_holds_is_said_and_not_guessed() {
    let conductor = "case,table,item,parameter,value,unit,provenance\n\
        1,NEC Table 310.16,20 AWG,ampacity copper 90 C,9,A,x\n\
        2,NEC Table 310.16,18 AWG,ampacity copper 60 C,9,A,x\n\
        3,NEC Table 310.16,14 AWG,ampacity aluminum 60 C,9,A,x\n\
        4,NEC 240.6(A),12 A,largest standard rating not above,10,A,x\n\
        5,NEC 240.6(A),9 A,next standard rating at or above,10,A,x\n\
        6,NEC 240.6(A),7000 A,next standard rating at or above,,A,x\n\
        7,NEC Table 310.15(B)(1),56-60 C ambient,\"correction factor, 60 C conductor (30 C base)\",,factor,x\n\
        8,NEC Table 310.15(C)(1),5-8 current-carrying conductors,adjustment factor,,factor,x\n\
        9,NEC Table 310.15(C)(1),41 and above current-carrying conductors,adjustment factor,,factor,x\n\
        10,NEC 240.4(D),8 AWG copper,\"largest overcurrent device, general rule\",,A,x\n\
        11,NEC Table 250.122,10000 A overcurrent device,smallest copper equipment grounding conductor,,AWG,x\n\
        12,NEC Table 250.122,800 A overcurrent device,smallest copper equipment grounding conductor,,AWG,x\n\
        13,NEC Table 1,anything,else,,,\n";
    let outcome = run_text("conductor", conductor);
    assert_eq!((outcome.err.as_str(), outcome.code), ("", 0));
    let table = Table::read(&outcome.out);
    let values: Vec<&str> = table
        .rows
        .iter()
        .map(|row| table.cell(row, "value"))
        .collect();
    let none = "not held";
    assert_eq!(
        values,
        [
            none, none, none, none, "15", none, none, none, "0.35", none, none, "1/0", none
        ]
    );
    let pipes = "case,material,type,standard,nominal_size_in,outside_diameter_in,wall_in,wall_meaning,inside_diameter_in,socket_depth_in,socket_standard,provenance\n\
        1,PVC,schedule 40,,7,1,,,,,,\n\
        2,PVC,schedule 40,,3,1,,,,,ASTM D2466,\n\
        3,PVC,schedule 40,,3,1,,,,,,\n\
        4,PVC,schedule 80,,3,1,,,,,ASTM D2467,\n";
    let outcome = run_text("pipe-dims", pipes);
    assert_eq!(outcome.code, 0);
    let lines: Vec<&str> = outcome.out.lines().collect();
    assert_eq!(
        lines[1],
        "1,PVC,schedule 40,,7,not held,not held,,not held,,,"
    );
    assert_eq!(
        lines[2],
        "2,PVC,schedule 40,,3,3.5,0.216,,3.068,1.875,ASTM D2466,"
    );
    assert_eq!(lines[3], "3,PVC,schedule 40,,3,3.5,0.216,,3.068,,,");
    assert_eq!(
        lines[4],
        "4,PVC,schedule 80,,3,3.5,0.3,,2.9,not held,ASTM D2467,"
    );
}

/// Rows that the reference files do not hold: equal to a limit, no pressure, no flow, downhill, one property given.
#[test]
fn water_off_the_beaten_rows() {
    let cell =
        |found: &Table, row: usize, name: &str| found.cell(&found.rows[row], name).to_owned();
    let number =
        |found: &Table, row: usize, name: &str| cell(found, row, name).parse::<f64>().unwrap();
    let trap = table_of("trap-seal");
    let row = |cells: &[(&str, &str)]| -> Vec<String> {
        trap.header
            .iter()
            .map(|name| {
                let given = cells.iter().find(|(column, _)| column == name);
                given.map_or_else(String::new, |(_, value)| (*value).to_owned())
            })
            .collect()
    };
    let trial = |pressure: &'static str, drop: &'static str, seal: &'static str| {
        row(&[
            ("case", "T"),
            ("kind", "trial"),
            ("cabinet_static_inwc", pressure),
            ("water_F", "39.2"),
            ("given_H_in", drop),
            ("given_J_in", seal),
        ])
    };
    let asked = Table {
        header: trap.header.clone(),
        // Water of 39.2 F is a conventional inch to three parts in a hundred thousand.
        rows: vec![
            trial("-1", "1", "0.501"),
            trial("-1", "1.001", "0.499"),
            trial("1", "0", "0.999"),
            trial("1", "0", "1.001"),
            row(&[
                ("case", "D"),
                ("kind", "design"),
                ("cabinet_static_inwc", "0"),
                ("water_F", "60"),
                ("margin_in", "1"),
            ]),
        ],
    };
    let found = run("trap-seal", &asked);
    let flags = |n: usize| {
        (
            cell(&found, n, "pan_floods_running"),
            cell(&found, n, "seal_lost_at_startup"),
        )
    };
    let is = |floods: bool, lost: bool| (floods.to_string(), lost.to_string());
    assert_eq!(flags(0), is(true, false));
    assert_eq!(flags(1), is(false, true));
    assert_eq!(flags(2), is(false, true));
    assert_eq!(flags(3), is(false, false));
    assert_eq!(number(&found, 4, "water_column_in"), 0.0);
    assert_eq!(number(&found, 4, "min_seal_depth_J_in"), 0.0);

    let pump = table_of("pump-head");
    let line = |cells: &[&str]| {
        cells
            .iter()
            .map(|cell| (*cell).to_owned())
            .collect::<Vec<String>>()
    };
    let mut asked = Table {
        header: pump.header.clone(),
        rows: vec![
            line(&["still", "4", "9", "0", "0.375", "3", "60", "", ""]),
            line(&["down", "-4", "9", "20", "0.375", "3", "60", "62.0", ""]),
            line(&["thick", "4", "9", "20", "0.375", "3", "60", "", "0.001"]),
        ],
    };
    for row in &mut asked.rows {
        row.resize(pump.header.len(), String::new());
    }
    let found = run("pump-head", &asked);
    assert_eq!(number(&found, 0, "total_head_ft"), 4.0);
    assert_eq!(number(&found, 0, "friction_head_ft"), 0.0);
    assert_eq!(cell(&found, 0, "darcy_f"), "");
    let lifted = number(&found, 1, "total_head_ft")
        - number(&found, 1, "friction_head_ft")
        - number(&found, 1, "minor_head_ft");
    assert!((lifted + 4.0).abs() < 1e-9);
    assert_eq!(number(&found, 1, "density_lb_per_ft3"), 62.0);
    let psi = number(&found, 1, "total_head_ft") * 62.0 / 144.0;
    assert!((number(&found, 1, "total_pressure_psi") - psi).abs() < 1e-8);
    assert!(number(&found, 2, "reynolds") < number(&found, 1, "reynolds"));
    assert_eq!(number(&found, 2, "viscosity_lb_per_ft_s"), 0.001);
}

/// The value that `calc` prints for `name`.
pub(crate) fn printed(bench: &str, pairs: &[&str], name: &str) -> String {
    let pairs: Vec<String> = pairs.iter().map(|pair| (*pair).to_owned()).collect();
    let outcome = calc(Some(bench), &pairs, None);
    assert_eq!(outcome.code, 0, "{}", outcome.err);
    let line = outcome
        .out
        .lines()
        .find(|line| line.split_whitespace().next() == Some(name));
    let rest = line.and_then(|line| line.strip_prefix(name));
    rest.unwrap_or_default().trim().to_owned()
}

/// Published examples, worked by hand beside each.
#[test]
fn feeds_of_published_examples() {
    let feed = |pairs: &[&str], name: &str| printed("feed", pairs, name);
    // A worked question of the trade press on NEC 2017, 424.3(B): 9,600 W at 240 V, blower 3 A, terminals of 60 C:
    // 9600 / 240 = 40; (40 + 3) × 1.25 = 53.75 A: 6 AWG, 55 A at 60 C; the next breaker is 60 A.
    let heat = ["supply_V=240", "heater_kW=9.6", "motor_A=3", "edition=2017"];
    assert_eq!(feed(&heat, "least_ampacity_A"), "53.75  A");
    assert_eq!(feed(&heat, "least_ampacity_by"), "NEC 424.3(B)");
    assert_eq!(feed(&heat, "conductor"), "6 AWG");
    assert_eq!(feed(&heat, "ampacity_A"), "55     A");
    assert_eq!(feed(&heat, "breaker_A"), "60     A");
    // NEC Annex D, Example D8: motors of 34, 40 and 40 A on one feed: 40 × 1.25 + 40 + 34 = 124 A.
    let motors = [
        "supply_V=460",
        "motor_A=34+40+40",
        "cable=THHN",
        "terminal_C=75",
    ];
    assert!(feed(&motors, "least_ampacity_A").starts_with("124 "));
    assert_eq!(feed(&motors, "conductor"), "1 AWG");
    // A code quiz of the trade press on 440.22: branch-circuit selection current 40 A: 40 × 1.75 = 70 A.
    let quiz = ["supply_V=240", "compressor_A=40"];
    assert!(feed(&quiz, "breaker_A").starts_with("70 "));
    // The textbook motor of 2 hp at 230 V, 12 A by Table 430.248, terminals of 75 C: 15 A, 14 AWG, 30 A.
    let motor = ["supply_V=230", "motor_A=12", "cable=THHN", "terminal_C=75"];
    assert_eq!(feed(&motor, "conductor"), "14 AWG");
    assert!(feed(&motor, "breaker_A").starts_with("30 "));
    // Air-conditioning by its plate: 18 A and 30 A on 12 AWG, since 240.4(G) frees it; a plate of heat is not freed.
    let plate = [
        "supply_V=240",
        "plate_least_ampacity_A=18",
        "plate_most_breaker_A=30",
    ];
    let with = |word| [&plate[..], &[word]].concat();
    assert_eq!(
        feed(&with("equipment=air-conditioning"), "conductor"),
        "12 AWG"
    );
    assert_eq!(feed(&with("equipment=heat"), "conductor"), "10 AWG");
}

/// What `calc` refuses with.
fn refused(bench: &str, pairs: &[&str]) -> String {
    let pairs: Vec<String> = pairs.iter().map(|pair| (*pair).to_owned()).collect();
    let outcome = calc(Some(bench), &pairs, None);
    assert_ne!(outcome.code, 0, "{}", outcome.out);
    outcome.err
}

/// A motor of 6 A or less: 15 A, on the 14 AWG that 430.22 asks for. Heat over its compressor: 440.22(B)(2).
#[test]
fn feeds_of_small_motors_and_of_heat_over_its_compressor() {
    for amperes in ["motor_A=0.6", "motor_A=6"] {
        let pairs = ["supply_V=120", amperes];
        let feed = |name: &str| printed("feed", &pairs, name);
        assert!(feed("breaker_A").starts_with("15 "));
        assert_eq!(
            feed("breaker_by"),
            "NEC 430.52(C)(1), Table 430.52, 240.6(A)"
        );
        assert_eq!(feed("conductor"), "14 AWG");
    }
    let pairs = ["supply_V=240", "heater_A=40", "compressor_A=5"];
    assert!(printed("feed", &pairs, "breaker_A").starts_with("50 "));
    assert!(printed("feed", &pairs, "breaker_by").contains("440.22(B)(2), 424.4(B)"));
}

/// Cable NM-B is made of 14 to 2 AWG (NEC 334.104): 95 A at 60 C.
#[test]
fn building_cable_ends_at_its_thickest_conductor() {
    let of = |amperes| ["supply_V=240", "equipment=other", amperes];
    assert!(
        printed("feed", &of("plate_least_ampacity_A=95"), "cable_needed").contains("2 x 2 AWG")
    );
    let found = refused("feed", &of("plate_least_ampacity_A=95.1"));
    assert!(
        found.contains("334.104") && found.contains("1 AWG"),
        "{found}"
    );
    let pairs = ["supply_V=240", "other_A=150", "cable=MC"];
    assert!(printed("feed", &pairs, "cable_needed").starts_with("MC, 2 x 4/0 AWG"));
}

#[test]
fn no_cable_loses_more_than_the_supply_has() {
    let long = |feet| {
        let rest = [
            "current_A=100",
            "awg=18",
            "stranding=solid",
            "conductor_temp_C=75",
        ];
        [&["supply_V=24", feet][..], &rest].concat()
    };
    // 2 × 100 A × 7.77 Ω / 1000 ft: 24 V are gone after 15.44 ft.
    assert!(printed("voltage-drop", &long("one_way_ft=15.4"), "load_voltage_V").starts_with("0.0"));
    for (bench, pairs) in [
        ("voltage-drop", long("one_way_ft=15.5")),
        (
            "feed",
            vec!["supply_V=120", "other_A=16", "one_way_ft=2000"],
        ),
    ] {
        let found = refused(bench, &pairs);
        assert!(found.contains("more than the source has"), "{found}");
    }
}

/// A row of a table that loses more than its supply has is named by its line; the others are computed.
#[test]
fn a_row_that_loses_more_than_its_supply_has_is_named_by_its_line() {
    let header = "case,supply_V,current_A,awg,stranding,one_way_ft,conductor_temp_C,resistance_75C_ohm_per_1000ft,\
                  resistance_at_temp_ohm_per_1000ft,voltage_drop_V,voltage_drop_percent,load_voltage_V";
    let text = format!("{header}\na,24,1,18,solid,50,75,,,,,\nb,24,100,18,solid,2500,75,,,,,\n");
    let outcome = run_text("voltage-drop", &text);
    assert_eq!(outcome.code, 1);
    assert!(
        outcome
            .err
            .starts_with("error: table.csv:3: the cable would lose more"),
        "{}",
        outcome.err
    );
    assert!(
        outcome
            .out
            .contains("a,24,1,18,solid,50,75,7.77,7.77,0.777,3.2375,23.223"),
        "{}",
        outcome.out
    );
    assert!(
        outcome.out.contains("b,24,100,18,solid,2500,75,,,,,"),
        "{}",
        outcome.out
    );
}

#[test]
fn a_feed_asks_for_what_it_lacks() {
    assert!(refused("feed", &["supply_V=240"]).contains("or the loads: compressor_A"));
    let plate = ["supply_V=240", "plate_least_ampacity_A=12"];
    assert!(refused("feed", &plate).contains("with a plate say `equipment`"));
    let of = |running| ["supply_V=240", "other_A=12", "one_way_ft=20", running];
    // 2 × 12 A × 20 ft × 3.07 Ω / 1000 ft: 14 AWG carries 15 A at 60 C.
    assert!(printed("feed", &of("running_A=12"), "drop_V").starts_with("1.4736"));
    assert!(refused("feed", &of("running_A=12.1")).contains("more than the loads together: 12 A"));
    let of = |running| [&plate[..], &["equipment=motor", running]].concat();
    assert!(refused("feed", &of("running_A=12.1")).contains("plate's minimum ampacity: 12 A"));
}

/// 18 AWG solid copper: 7.77 Ω per 1000 ft (NEC Chapter 9, Table 8); 16 VA at 24 V over 55 ft:
/// 0.6667 A × 2 × 55 × 7.77 / 1000 = 0.5698 V.
#[test]
fn a_control_cable_loses_what_its_copper_says() {
    let pairs = ["awg=18", "one_way_ft=55", "load_VA=16", "source_VA=40"];
    let found = |name: &str| printed("control-drop", &pairs, name);
    assert!(found("drop_V").starts_with("0.5698 "));
    assert!(found("far_end_V").starts_with("23.4302 "));
    assert_eq!(found("class_2"), "yes, if the source is listed Class 2");
    let large = ["awg=18", "one_way_ft=5", "load_VA=16", "source_VA=101"];
    assert!(printed("control-drop", &large, "class_2").starts_with("no"));
}
