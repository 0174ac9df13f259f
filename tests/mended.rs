//! Single slips on the control wiring of the examples, as changes of text: each is told once, at the words that were
//! changed, and what a finding proposes can be typed without bringing another fault.

use std::fs;
use std::path::{Path, PathBuf};

use bayrun::Workshop;
use bayrun::source::{Disk, Finding, Memory, Overlay, Severity, Span};
use bayrun::systems::controls::Netlist;

use crate::support::cases::root;

/// A slip in words, the text with it, and the words that were changed with what stood there.
struct Slip {
    words: String,
    text: String,
    place: Option<(usize, String)>,
}

fn replaced(text: &str, span: Span, by: &str) -> String {
    let (start, end) = (span.start as usize, span.end as usize);
    format!("{}{by}{}", &text[..start], &text[end..])
}

/// Every slip: each wire left spare, each end on every other terminal, two ends of a cable exchanged, any two
/// terminals bridged.
fn slips(path: &Path, text: &str) -> Vec<Slip> {
    let checked = Workshop::new(&Disk, None).check(path, "job").unwrap();
    let net = Netlist::of(&checked.model, &checked.catalog);
    let terminals: Vec<&str> = net
        .points()
        .filter(|(_, point)| point.unit().is_some())
        .map(|(_, point)| point.name.as_str())
        .collect();
    let mut out = Vec::new();
    for cable in checked.model.cables.values() {
        for wire in &cable.wires {
            out.push(Slip {
                words: format!("{} of {} spare", wire.colour.value, cable.name),
                text: replaced(text, wire.span, &format!("spare {}", wire.colour.value)),
                place: None,
            });
            for end in [&wire.from, &wire.to] {
                for terminal in terminals.iter().filter(|name| **name != end.value) {
                    out.push(Slip {
                        words: format!(
                            "{} → {} from {} to {terminal}",
                            wire.from.value, wire.to.value, end.value
                        ),
                        text: replaced(text, end.span, terminal),
                        place: Some((end.span.start as usize, end.value.clone())),
                    });
                }
            }
        }
        for (n, one) in cable.wires.iter().enumerate() {
            for other in cable.wires.iter().skip(n + 1) {
                for (a, b) in [(&one.from, &other.from), (&one.to, &other.to)] {
                    if a.value != b.value {
                        let later = replaced(text, b.span, &a.value);
                        out.push(Slip {
                            words: format!(
                                "{} and {} of {} exchanged",
                                a.value, b.value, cable.name
                            ),
                            text: replaced(&later, a.span, &b.value),
                            place: None,
                        });
                    }
                }
            }
        }
    }
    let unit = |name: &str| name.split_once('.').unwrap().0.to_owned();
    for (n, one) in terminals.iter().enumerate() {
        for other in terminals.iter().skip(n + 1) {
            out.push(Slip {
                words: format!("{one} and {other} bridged"),
                text: format!(
                    "{text}\ncable bridge from {} to {} {{ type \"18/2\", wire red from {one} to {other} }}\n",
                    unit(one),
                    unit(other)
                ),
                place: None,
            });
        }
    }
    out
}

fn findings(path: &Path, text: &str) -> Vec<Finding> {
    let reader = Overlay {
        above: Memory::default().with(path, text.to_owned()),
        below: &Disk,
    };
    let checked = Workshop::new(&reader, None).check(path, "job").unwrap();
    let own = |finding: &Finding| {
        finding.waived.is_none()
            && finding.severity > Severity::Advice
            && !BESIDE.contains(&finding.kind.code)
    };
    checked.findings.into_iter().filter(own).collect()
}

/// What a wrong landing may bring beside the slip itself: a load on another transformer, a screw with too many wires, a
/// voltage along another way.
const BESIDE: [&str; 5] = ["CTL012", "CTL013", "CTL028", "CTL029", "CTL031"];

fn key(finding: &Finding) -> (&'static str, String) {
    (finding.kind.code, finding.message.clone())
}

#[derive(Default)]
struct Count {
    slips: usize,
    found: usize,
    once: usize,
    proposed: usize,
    clean: usize,
    moved: usize,
    blamed: usize,
    wrong: Vec<String>,
}

fn tried(name: &str, every: usize, from: usize) -> Count {
    let path: PathBuf =
        fs::canonicalize(root().join(format!("examples/{name}/{name}.bay"))).unwrap();
    let text = fs::read_to_string(&path).unwrap();
    let mut count = Count::default();
    for slip in slips(&path, &text).into_iter().skip(from).step_by(every) {
        count.slips += 1;
        let before = findings(&path, &slip.text);
        if before.is_empty() {
            continue;
        }
        count.found += 1;
        count.once += usize::from(before.len() == 1);
        if before.len() != 1 && std::env::var("BAYRUN_TELL").is_ok() {
            let all: Vec<_> = before.iter().map(key).collect();
            println!("{name}: {}: {} findings {all:?}", slip.words, before.len());
        }
        if let Some((start, was)) = &slip.place {
            count.moved += 1;
            let right = before.iter().any(|finding| {
                finding.span.start as usize == *start
                    && finding
                        .measured
                        .as_ref()
                        .is_some_and(|(_, needed)| needed.shown.text == *was)
                    || finding
                        .edits
                        .iter()
                        .any(|edit| edit.span.start as usize == *start && edit.text == *was)
            });
            count.blamed += usize::from(right);
            if !right && std::env::var("BAYRUN_TELL").is_ok() {
                let all: Vec<_> = before.iter().map(|f| (key(f), f.help.clone())).collect();
                println!("{name}: {}: blamed {all:?}", slip.words);
            }
        }
        for finding in before.iter().filter(|finding| !finding.edits.is_empty()) {
            count.proposed += 1;
            let mut edits = finding.edits.clone();
            edits.sort_by_key(|edit| std::cmp::Reverse(edit.span.start));
            let mended = edits.iter().fold(slip.text.clone(), |text, edit| {
                replaced(&text, edit.span, &edit.text)
            });
            let after = findings(&path, &mended);
            count.clean += usize::from(after.is_empty());
            let new: Vec<_> = after
                .iter()
                .map(key)
                .filter(|one| !before.iter().any(|old| key(old) == *one))
                .collect();
            let stays = after.iter().any(|one| key(one) == key(finding));
            if stays || !new.is_empty() {
                count.wrong.push(format!(
                    "{name}: {}: {:?} with {:?}: {}{new:?}",
                    slip.words,
                    key(finding),
                    finding.edits,
                    if stays { "stays, " } else { "" }
                ));
            }
        }
    }
    count
}

#[test]
fn what_a_finding_on_the_wiring_proposes_mends_it_and_brings_nothing_new() {
    let every: usize = std::env::var("BAYRUN_EVERY")
        .ok()
        .and_then(|every| every.parse().ok())
        .unwrap_or(29);
    let counts: Vec<Count> = std::thread::scope(|scope| {
        let all = [("larkspur-lane", every), ("old-farmhouse", every * 7)];
        let running: Vec<_> = all
            .into_iter()
            .map(|(name, every)| scope.spawn(move || tried(name, every, every / 3)))
            .collect();
        running.into_iter().map(|one| one.join().unwrap()).collect()
    });
    for (count, name) in counts.iter().zip(["larkspur-lane", "old-farmhouse"]) {
        println!(
            "{name}: {} slips, {} found, {} told once; of {} moved ends {} blamed; {} proposals, {} leave nothing, {} wrong",
            count.slips,
            count.found,
            count.once,
            count.moved,
            count.blamed,
            count.proposed,
            count.clean,
            count.wrong.len()
        );
        assert!(
            count.found >= 20,
            "{name}: {} found are too few",
            count.found
        );
        assert!(
            count.wrong.is_empty(),
            "{} of {} proposals:\n{}",
            count.wrong.len(),
            count.proposed,
            count.wrong.join("\n")
        );
        // All but one in twenty are one finding, and of the moved ends all but one in twenty are blamed themselves.
        assert!(count.once * 20 >= count.found * 19, "{name}: told once");
        assert!(count.blamed * 20 >= count.moved * 19, "{name}: blamed");
    }
}
