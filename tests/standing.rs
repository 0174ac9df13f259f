//! What stands beside the findings: checks that could not be made, what the shop's standards loosened, and blocks
//! that no rule judges.

use bayrun::rules::unruled;
use bayrun::source::{Disk, Memory, Overlay};
use bayrun::{Checked, Workshop};

use crate::support::cases::root;

/// A job of `body` beside the test houses, with `standards` as the shop's.
fn check(body: &str, standards: &str) -> Checked {
    let houses = root().join("tests/houses");
    let (path, shop) = (houses.join("standing.bay"), houses.join("standing.yaml"));
    let set = if standards.is_empty() {
        ""
    } else {
        "standards \"standing.yaml\"\n"
    };
    let reader = Overlay {
        above: Memory::default()
            .with(&path, format!("bayrun 1\n{body}\n{set}"))
            .with(&shop, format!("about: a test\n{standards}")),
        below: &Disk,
    };
    Workshop::new(&reader, None)
        .check(&path, "standing.bay")
        .unwrap()
}

/// The things that a rule could not judge, in order.
fn not_checked<'c>(checked: &'c Checked, code: &str) -> Vec<&'c str> {
    let told = checked.not_checked.iter();
    told.filter(|one| one.kind_code == code)
        .map(|one| one.thing.as_str())
        .collect()
}

#[test]
fn rooms_whose_door_is_not_drawn_are_told_where_they_would_shut_one() {
    let rooms = "include \"shell.bay\"\ninclude \"air.bay\"\n\
        room parlor on first { corner 0 ft, 12 ft, size 8 ft x 8 ft, use living, served by den, outlet p1 in ceiling at 3 ft, 4 ft }\n\
        room store on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, unconditioned }\n\
        room cold on first { corner 16 ft, 12 ft, size 6 ft x 8 ft, unconditioned, outlet c1 in ceiling at 3 ft, 4 ft }\n\
        room closet on first { corner 22 ft, 12 ft, size 4 ft x 4 ft, served by bed }\n\
        run p1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 20 ft, bends 2 }\n\
        run c1 from main at 6 ft, side south { tube \"2 in sound tube\", measured 20 ft, bends 2 }\n";
    let grille =
        "return ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }\n";
    let with = check(&format!("{rooms}{grille}"), "");
    assert_eq!(not_checked(&with, "RET007"), ["room `den`, room `bed`"]);
    // Without a return nobody knows where the air has to get to.
    assert!(not_checked(&check(rooms, ""), "RET007").is_empty());
}

#[test]
fn what_the_shop_sets_looser_is_noted_and_what_it_sets_tighter_or_alike_is_not() {
    let loosened = |standards: &str| -> Vec<(&str, String)> {
        let body = "include \"whole.bay\"";
        let checked = check(body, standards);
        checked
            .loosened
            .into_iter()
            .map(|one| (one.code, one.what))
            .collect()
    };
    let most =
        |feet: u32| format!("thresholds:\n  receptacle_too_far: {{ distance: {feet} ft }}\n");
    assert_eq!(
        loosened(&most(26)),
        [(
            "PWR024",
            "no service receptacle at the equipment: `distance` is looser than NEC 210.63(A)"
                .to_owned()
        )]
    );
    assert_eq!(loosened(&most(25)), []);
    assert_eq!(loosened(&most(24)), []);
    // A slope is asked for at least: looser is less.
    let least = |slope: &str| {
        format!("thresholds:\n  leg_flatter_than_usual: {{ slope: {slope} in per ft }}\n")
    };
    let codes = |standards: &str| -> Vec<&str> {
        loosened(standards)
            .into_iter()
            .map(|(code, _)| code)
            .collect()
    };
    assert_eq!(codes(&least("1/8")).len(), 1);
    assert!(codes(&least("1/4")).is_empty());
    assert!(codes(&least("1/2")).is_empty());
}

#[test]
fn a_slope_of_the_shop_is_asked_for() {
    let found = |standards: &str| {
        let checked = check("include \"whole.bay\"", standards);
        let told = checked.findings.iter();
        told.filter(|finding| finding.kind.name == "leg_flatter_than_usual")
            .count()
    };
    // The drain of the house falls 1/4 in per ft.
    assert_eq!(found(""), 0);
    assert_eq!(
        found("thresholds:\n  leg_flatter_than_usual: { slope: 3/8 in per ft }\n"),
        1
    );
}

#[test]
fn blocks_that_no_rule_judges_are_named_and_the_others_are_not() {
    assert_eq!(
        unruled(&check("include \"lifted.bay\"", "").model),
        ["stand"]
    );
    assert!(unruled(&check("include \"whole.bay\"", "").model).is_empty());
}
