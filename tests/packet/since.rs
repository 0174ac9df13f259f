//! A packet printed over an earlier revision says which pages stand as they were.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

const JOB: &str = "bayrun 1
job \"Tansy Row\" {
  number T-7
  revision A, 2026-03-02, \"first issue\"
REVISIONS  stage bid
}
story ground { floor 0 in, ceiling 8 ft }
story upper { floor 9 ft, ceiling 8 ft }
room hall on ground { corner 0 in, 0 in, size 8 ft x 9 ft, unconditioned }
room loft on upper { corner 0 in, 0 in, size WIDTH x 9 ft, unconditioned }
";

fn packet(folder: &Path, revisions: &str, width: &str) -> (Value, String) {
    let job = folder.join("tansy.bay");
    let text = JOB.replace("REVISIONS", revisions).replace("WIDTH", width);
    fs::write(&job, text).expect("job");
    let out = folder.join("out");
    let done = Command::new(env!("CARGO_BIN_EXE_bayrun"))
        .args(["packet", "--draft", "--typst", "/nowhere/typst", "-o"])
        .args([&out, &job])
        .output()
        .expect("run");
    let told = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!(done.status.code(), Some(3), "{told}");
    let read = |name| fs::read_to_string(out.join(name)).expect("written");
    (
        serde_json::from_str(&read("packet.json")).expect("json"),
        read("packet.html"),
    )
}

fn kept(packet: &Value) -> BTreeSet<String> {
    packet["pages"]
        .as_array()
        .expect("pages")
        .iter()
        .filter(|page| !page["kept"].is_null())
        .map(|page| page["id"].as_str().expect("id").to_owned())
        .collect()
}

#[test]
fn pages_that_stand_are_marked_and_the_others_named() {
    let home = tempfile::tempdir().expect("folder");
    let (first, page) = packet(home.path(), "", "10 ft");
    assert!(kept(&first).is_empty());
    assert!(!page.contains("Since revision"));
    let second = "  revision B, 2026-04-01, \"loft widened\"\n";
    let (changed, page) = packet(home.path(), second, "11 ft");
    let stand = kept(&changed);
    assert!(stand.contains("plan-ground"), "{stand:?}");
    assert!(!stand.contains("plan-upper"), "{stand:?}");
    assert!(!stand.contains("cover") && !stand.contains("contents"));
    assert!(page.contains("Since revision"));
    assert!(page.contains("as in "));
    // The same revision once more says the same, byte for byte.
    let again = packet(home.path(), second, "11 ft");
    assert_eq!(again, (changed.clone(), page));
    // The letters of the packet do not hang on what stood in the folder.
    let elsewhere = tempfile::tempdir().expect("folder");
    let (fresh, _) = packet(elsewhere.path(), second, "11 ft");
    assert_eq!(fresh["digest_whole"], changed["digest_whole"]);
    assert!(kept(&fresh).is_empty());
}
