//! Pages that are made from the program's own text.

use std::fs;
use std::path::Path;

use tierproof::findings::{CODES, page};

#[test]
fn the_page_of_findings_is_the_catalogue() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/findings.md");
    let text = fs::read_to_string(&path).unwrap_or_default();
    // TIERPROOF_WRITE_PAGES=1 writes the page anew after a change of the catalogue.
    if std::env::var_os("TIERPROOF_WRITE_PAGES").is_some() {
        tierproof::files::write_whole(&path, page().as_bytes(), tierproof::files::Overwrite::Document).unwrap();
        return;
    }
    assert_eq!(text, page(), "docs/findings.md is out of date; TIERPROOF_WRITE_PAGES=1 writes it anew");
}

#[test]
fn every_code_has_one_row_and_one_word() {
    let mut words: Vec<&str> = CODES.iter().map(|row| row.1).collect();
    words.sort_unstable();
    words.dedup();
    assert_eq!(words.len(), CODES.len());
    for &(code, word, severity, _) in CODES {
        assert_eq!((code.word(), code.severity()), (word, severity));
    }
}

#[test]
fn the_design_in_the_readme_can_be_read() {
    let readme = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let design =
        readme.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a design in the README");
    let read = tierproof::design::read_design(design, "README.md").unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!((read.tiers.len(), read.pieces.len()), (1, 1));
}
