//! The set on disk: what is in it, that it is the same twice, and what happens without the page program.

use std::fs;
use std::path::Path;

use bayrun::packet::set::{Printer, SetError, Written};
use bayrun::packet::typst::{Paper, Search, TIME_LIMIT, Typst, TypstTrouble, find};
use bayrun::packet::write_set;

use super::demo::{Ground, words};

/// The program of this machine; where there is none, tests hold the way without it instead.
pub(super) fn program() -> Result<Typst, TypstTrouble> {
    find(&Search::of_this_machine(None))
}

pub(super) fn write(
    folder: &Path,
    ground: &Ground,
    draft: Option<usize>,
    paper: Paper,
) -> Result<Written, SetError> {
    let typst = program();
    let printer = Printer {
        typst: typst.as_ref(),
        paper,
        limit: TIME_LIMIT,
    };
    write_set(
        folder,
        &ground.packet(draft),
        &ground.lists(),
        &printer,
        &words(),
    )
}

/// Every file that a set is to have on this machine.
fn expected() -> Vec<&'static str> {
    let mut files = vec![
        "lists/holes.csv",
        "lists/pieces.csv",
        "packet.html",
        "packet.json",
    ];
    if program().is_ok() {
        files.push("packet.pdf");
    }
    files
}

#[test]
fn the_set_is_whole_and_the_same_twice() {
    let home = tempfile::tempdir().expect("folder");
    let ground = Ground::new();
    let folders = ["one", "two"].map(|name| home.path().join(name));
    for folder in &folders {
        let written = write(folder, &ground, None, Paper::Letter).expect("written");
        assert_eq!(written.files, expected());
        assert_eq!(
            written.trouble.is_none(),
            program().is_ok(),
            "{:?}",
            written.trouble
        );
    }
    for file in expected() {
        let [one, two] = folders
            .each_ref()
            .map(|folder| fs::read(folder.join(file)).expect("file"));
        assert!(one == two, "{file} differs");
    }
    if let Some(keep) = std::env::var_os("BAYRUN_KEEP_DEMO") {
        let keep = Path::new(&keep);
        write(&keep.join("letter"), &ground, None, Paper::Letter).expect("kept");
        write(&keep.join("a4-draft"), &ground, Some(3), Paper::A4).expect("kept");
    }
}

/// Everything but the pages is written, and the message says how to get them.
pub(super) fn assert_without_pages(trouble: &TypstTrouble) {
    let home = tempfile::tempdir().expect("folder");
    let folder = home.path().join("out");
    let ground = Ground::new();
    let printer = Printer {
        typst: Err(trouble),
        paper: Paper::Letter,
        limit: TIME_LIMIT,
    };
    let packet = ground.packet(None);
    let written =
        write_set(&folder, &packet, &ground.lists(), &printer, &words()).expect("written");
    let told = written.trouble.expect("no pages").to_string();
    assert!(
        told.contains("--install-typst") && told.contains("BAYRUN_TYPST"),
        "{told}"
    );
    assert!(!folder.join("packet.pdf").exists());
    assert!(folder.join("packet.html").is_file() && folder.join("lists/pieces.csv").is_file());
}

#[test]
fn without_the_program_everything_else_is_written_and_one_message_says_how_to_get_it() {
    assert_without_pages(&find(&Search::default()).expect_err("nowhere to look"));
}

#[test]
fn a_packet_without_pages_takes_the_place_of_one_with_pages_whole() {
    let home = tempfile::tempdir().expect("folder");
    let folder = home.path().join("out");
    let ground = Ground::new();
    write(&folder, &ground, None, Paper::Letter).expect("first");
    let trouble = TypstTrouble::NotFound;
    let printer = Printer {
        typst: Err(&trouble),
        paper: Paper::Letter,
        limit: TIME_LIMIT,
    };
    write_set(&folder, &ground.packet(None), &[], &printer, &words()).expect("second");
    assert!(
        !folder.join("packet.pdf").exists(),
        "an old PDF would contradict the new page"
    );
    assert!(!folder.join("lists").exists());
    assert_eq!(fs::read_dir(home.path()).expect("home").count(), 1);
}

#[test]
fn a_folder_with_other_files_is_refused_and_stays_as_it_is() {
    let home = tempfile::tempdir().expect("folder");
    fs::write(home.path().join("notes.txt"), "mine").expect("write");
    let told = write(home.path(), &Ground::new(), None, Paper::Letter).expect_err("refused");
    assert!(told.to_string().contains("notes.txt"), "{told}");
    assert_eq!(fs::read_dir(home.path()).expect("home").count(), 1);
}

#[test]
fn the_lists_have_the_stated_columns() {
    let home = tempfile::tempdir().expect("folder");
    let folder = home.path().join("out");
    write(&folder, &Ground::new(), None, Paper::Letter).expect("written");
    let first = |name: &str| {
        let text = fs::read_to_string(folder.join("lists").join(name)).expect("list");
        text.lines().next().unwrap_or_default().to_owned()
    };
    assert_eq!(
        first("pieces.csv"),
        "tag,system,item,stock,length,length_in,from,to,room,story"
    );
    assert_eq!(
        first("holes.csv"),
        "tag,trunk,piece,distance_in,diameter_in,side"
    );
}

#[test]
fn a_draft_says_so_on_every_page_and_has_a_digest_of_its_own() {
    let home = tempfile::tempdir().expect("folder");
    let ground = Ground::new();
    let read = |name: &str, draft| {
        let folder = home.path().join(name);
        write(&folder, &ground, draft, Paper::A4).expect("written");
        let text = fs::read_to_string(folder.join("packet.json")).expect("json");
        let json: serde_json::Value = serde_json::from_str(&text).expect("json");
        (
            fs::read_to_string(folder.join("packet.html")).expect("page"),
            json,
        )
    };
    let (page, draft) = read("draft", Some(1));
    let (clean_page, clean) = read("clean", None);
    let count = page.matches("error left").count();
    assert_eq!(
        count,
        ground.packet(None).pages.len() + 1,
        "once on top and once a page"
    );
    assert!(!clean_page.contains("DRAFT"));
    assert_eq!(draft["draft"]["errors"], 1);
    assert!(clean["draft"].is_null());
    assert_ne!(draft["digest"], clean["digest"]);
    // What a page says is the same, so its own digest is too.
    assert_eq!(draft["pages"][0]["digest"], clean["pages"][0]["digest"]);
}

#[test]
fn the_web_page_fetches_nothing_runs_nothing_and_stays_small() {
    let home = tempfile::tempdir().expect("folder");
    let folder = home.path().join("out");
    write(&folder, &Ground::new(), None, Paper::Letter).expect("written");
    let page = fs::read_to_string(folder.join("packet.html")).expect("page");
    for word in ["<script", "<link", "@import", "onclick", "javascript:"] {
        assert!(!page.contains(word), "{word}");
    }
    let outside = page.replace("http://www.w3.org/2000/svg", "");
    assert!(!outside.contains("://"), "something is fetched");
    let fonts: usize = page
        .split("base64,")
        .skip(1)
        .filter_map(|rest| rest.find(')'))
        .sum();
    assert!(fonts > 10_000 && fonts < 250_000, "{fonts} bytes of font");
}
