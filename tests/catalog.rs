//! The example shop and the broken catalogs under `tests/cases/catalog/`.

use std::path::{Path, PathBuf};

use bayrun::catalog::{self, Catalog};
use bayrun::source::{Face, Files, Finding, SourceFile, render};

fn folder(of: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(of)
}

fn shop_files() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder("examples/shop"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "standards.yaml")
        .collect();
    names.sort();
    names
}

fn load(names: &[&str]) -> (Files, Catalog, Vec<Finding>) {
    let mut files = Files::default();
    let mut findings = Vec::new();
    let mut whole = Catalog::default();
    for name in names {
        let text = std::fs::read_to_string(folder("examples/shop").join(name)).unwrap();
        let id = files.add(SourceFile::new(*name, text.as_str(), None));
        let one = catalog::read(id, &text, &mut findings);
        whole.merge(&one, &mut findings);
    }
    (files, whole, findings)
}

#[test]
fn the_shop_reads_without_a_finding() {
    let names = shop_files();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (files, catalog, findings) = load(&names);
    assert!(
        findings.is_empty(),
        "{}",
        render(&files, &findings, Face::default())
    );
    assert_eq!(catalog.air_handlers.len(), 6);
}
