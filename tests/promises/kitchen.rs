//! The kitchen pack as it is called: what it makes, what it says of input that can't be used.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const PLAIN: &str = "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 6\nheight = 4\npaste = \"1/8\"\n";

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tierproof")).args(words).output().unwrap()
}

fn errors(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A folder with a design of this text.
fn design(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cake.toml");
    tierproof::files::write_whole(&file, text.as_bytes(), tierproof::files::Overwrite::Document).unwrap();
    folder
}

fn path(path: &Path) -> String {
    path.display().to_string()
}

/// Every file below a folder with its bytes, but the markers.
fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let place = entry.unwrap().path();
        if place.is_dir() {
            found.extend(files(&place));
        } else if !place.ends_with(".tierproof") {
            found.push((path(&place), fs::read(&place).unwrap()));
        }
    }
    found.sort();
    found
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let demo = path(&Path::new(env!("CARGO_MANIFEST_DIR")).join("assets-demo/night-train"));
    let folder = tempfile::tempdir().unwrap();
    let made = |name: &str| {
        let out = folder.path().join(name);
        let output = run(&["kitchen", &demo, "-o", &path(&out)]);
        assert!(output.status.success(), "{}", errors(&output));
        files(&out).into_iter().map(|(file, bytes)| (file.replace(name, ""), bytes)).collect::<Vec<_>>()
    };
    let (one, other) = (made("one"), made("other"));
    assert!(one == other);
    for name in ["templates.pdf", "make-list.pdf", "make-list.csv", "placing.pdf", "plan.ics", "sheets.pdf"] {
        assert!(one.iter().any(|(file, _)| file.ends_with(name)), "{name}");
    }
    assert!(one.iter().any(|(file, _)| file.ends_with("templates/01-locomotive.svg")));
}

#[test]
fn without_a_hand_over_there_is_no_calendar_and_nothing_stays_of_an_earlier_one() {
    let with = design(&PLAIN.replace("[[tier]]", "[order]\nhandover = \"2027-05-15T11:00\"\n[[tier]]"));
    let out = with.path().join("pack");
    assert!(run(&["kitchen", &path(with.path()), "-o", &path(&out)]).status.success());
    assert!(out.join("plan.ics").exists());
    let without = design(PLAIN);
    assert!(run(&["kitchen", &path(without.path()), "-o", &path(&out)]).status.success());
    assert!(!out.join("plan.ics").exists() && out.join("make-list.pdf").exists());
}

#[test]
fn a_past_hand_over_is_a_stop_by_the_day_that_is_given() {
    let folder = design(&PLAIN.replace("[[tier]]", "[order]\nhandover = \"2027-05-15T11:00\"\n[[tier]]"));
    let check = |today: &[&str]| run(&[&["check", &path(folder.path())], today].concat());
    assert_eq!(check(&[]).status.code(), Some(0));
    let late = check(&["--today", "2027-05-16"]);
    assert!(late.status.code() == Some(1) && String::from_utf8(late.stdout).unwrap().contains("handover-past"));
    let tight = check(&["--today", "2027-05-15"]);
    assert!(tight.status.code() == Some(1) && String::from_utf8(tight.stdout).unwrap().contains("plan-too-late"));
    assert_eq!(check(&["--today", "soon"]).status.code(), Some(2));
}

#[test]
fn names_that_no_page_holds_are_refused() {
    for (text, phrase) in [("x".repeat(5000), "2000 characters"), ("a\\u0007b".to_owned(), "one line")] {
        let folder = design(&PLAIN.replace("[[tier]]", &format!("[order]\nfor = \"{text}\"\n[[tier]]")));
        let output = run(&["kitchen", &path(folder.path()), "-o", &path(&folder.path().join("pack"))]);
        assert_eq!(output.status.code(), Some(2));
        assert!(errors(&output).contains(phrase), "{}", errors(&output));
        assert!(!folder.path().join("pack").exists());
    }
}

#[test]
fn a_folder_that_is_a_file_and_files_of_others_are_left_alone() {
    let folder = design(PLAIN);
    let design_path = path(folder.path());
    let file = folder.path().join("cake.toml");
    let output = run(&["kitchen", &design_path, "-o", &path(&file)]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let out = folder.path().join("pack");
    fs::create_dir(&out).unwrap();
    fs::copy(&file, out.join("make-list.csv")).unwrap();
    let output = run(&["kitchen", &design_path, "-o", &path(&out)]);
    assert!(output.status.code() == Some(2) && errors(&output).contains("make-list.csv"), "{}", errors(&output));
    assert_eq!(files(&out).len(), 1);
}

#[test]
fn rates_that_are_missing_are_told_and_no_price_is() {
    let facts = |text: &str| -> serde_json::Value {
        let folder = design(text);
        serde_json::from_slice(&run(&["measure", &path(folder.path()), "--json"]).stdout).unwrap()
    };
    let none = facts(PLAIN);
    assert_eq!(none["price"]["missing"], serde_json::json!(["materials", "hour_rate", "currency"]));
    assert!(none["price"].get("total").is_none());
    let set = facts(&format!(
        "{PLAIN}[kitchen]\nmaterials = 30\nhour_rate = 20\nhours = 5\nmargin = 50\ncurrency = \"EUR\"\n"
    ));
    assert_eq!((&set["price"]["cost"], &set["price"]["total"]), (&serde_json::json!(130.0), &serde_json::json!(260.0)));
    let both = design(&format!("{PLAIN}[kitchen]\nmarkup = 30\nmargin = 50\n"));
    let refused = run(&["measure", &path(both.path())]);
    assert!(refused.status.code() == Some(2) && errors(&refused).contains("markup and margin"), "{}", errors(&refused));
}
