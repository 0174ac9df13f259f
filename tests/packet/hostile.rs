//! Whatever a spec says is shown, on paper and on the web page, and never carried out.

use bayrun::packet::page::{Block, Column, Fact, Packet, Page, Table, Tick, packet_json};
use bayrun::packet::scene::{Lettering, Point, Scene};
use bayrun::packet::typst::{Paper, TIME_LIMIT, print_pdf};
use bayrun::packet::{Text, html::html, say};
use bayrun::source::{Files, SourceFile, Span};

use super::demo::{Ground, words};
use super::set::{assert_without_pages, program};

const HOSTILE: [&str; 16] = [
    "#panic(\"x\")",
    "$x$ $ sum_(i)",
    "<script>alert(1)</script>",
    "\"] #read(\"/etc/hostname\") [\"",
    "back\\slash \\u{41} \\",
    "*bold* _it_ = head <label> @ref `raw` // gone /* gone",
    "]] ) } { ( [[",
    "{{ packet }} {% raw %} {# x #}",
    "' onmouseover='alert(1)",
    "&amp; &lt; &#x41;",
    "</style></svg></section>",
    "שלום עולם 12 ft",
    "🔥🧊👷 emoji",
    "http://example.invalid/#x",
    "\u{202e}gpj.exe \u{0}\u{7}",
    "=HYPERLINK(\"x\")",
];

fn with(texts: &[Text]) -> Vec<Page> {
    let first = texts.first().cloned().unwrap_or(Text::empty());
    let mut page = Page::new("hostile", first.clone());
    let mut scene = Scene::new(400.0, 30.0 * texts.len() as f64);
    let mut table = Table::new(vec![Column::left(first), Column::right(say("demo.room"))]);
    for (n, text) in texts.iter().enumerate() {
        page.put(Block::heading(text.clone()));
        page.put(Block::paragraph(text.clone()));
        page.put(Block::Facts(vec![Fact::big(text.clone(), text.clone())]));
        page.put(Block::Ticks(vec![Tick::new(
            say("demo.intro").with("job", text.clone()),
        )]));
        table.row([text.clone(), text.clone()]);
        scene.text(
            Point::at(200.0, 20.0 + 30.0 * n as f64),
            Lettering::LABEL,
            text.clone(),
        );
    }
    page.put(Block::Table(table));
    page.put(Block::drawing(say("demo.drain"), scene));
    vec![page]
}

fn quotes(files: &mut Files, texts: &[&str]) -> Vec<Text> {
    let ids: Vec<_> = texts
        .iter()
        .map(|text| files.add(SourceFile::new("h", *text, None)))
        .collect();
    ids.into_iter()
        .zip(texts)
        .map(|(id, text)| {
            let end = u32::try_from(text.len()).expect("short");
            Text::quote(files, Span::new(id, 0, end))
        })
        .collect()
}

fn packet<'a>(ground: &'a Ground, files: &'a Files, texts: &[Text]) -> Packet<'a> {
    let mut packet = ground.packet(Some(2));
    packet.job.title = texts.first().cloned().expect("a text");
    packet.files = files;
    packet.pages = with(texts);
    packet
}

/// Prints where the program is; where it is not, the packet must be whole without pages, and say why.
fn print(value: &serde_json::Value, name: &str) {
    match program() {
        Ok(typst) => {
            let pdf =
                print_pdf(&typst, value, &words(), Paper::A4, None, TIME_LIMIT).expect("printed");
            assert!(pdf.starts_with(b"%PDF-"));
            if let Some(keep) = std::env::var_os("BAYRUN_KEEP_DEMO") {
                std::fs::create_dir_all(&keep).expect("folder");
                std::fs::write(std::path::Path::new(&keep).join(name), pdf).expect("kept");
            }
        }
        Err(trouble) => assert_without_pages(&trouble),
    }
}

#[test]
fn markup_of_a_spec_is_shown_and_not_carried_out() {
    let ground = Ground::new();
    let mut files = Files::default();
    let texts = quotes(&mut files, &HOSTILE);
    let packet = packet(&ground, &files, &texts);
    let value = packet_json(&packet, None, &words());
    let page = html(&value, &words()).expect("page");
    assert!(!page.contains("<script"));
    assert!(page.contains("&lt;script&gt;"));
    assert!(!page.contains("' onmouseover"), "an attribute was closed");
    assert_eq!(page.matches("</style>").count(), 1);
    assert!(page.contains("{{ packet }}"), "shown as it was typed");
    assert!(page.contains("#panic("));
    print(&value, "hostile.pdf");
}

#[test]
fn a_word_of_two_thousand_letters_is_printed() {
    let ground = Ground::new();
    let mut files = Files::default();
    let long = "W".repeat(2000);
    let texts = quotes(&mut files, &[&long]);
    let packet = packet(&ground, &files, &texts);
    let value = packet_json(&packet, None, &words());
    html(&value, &words()).expect("page");
    print(&value, "long.pdf");
}
