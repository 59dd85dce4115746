//! Approving, telling what changed since, and one file with everything: through the program as it is called.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tierproof")).args(words).output().unwrap()
}

fn fine(words: &[&str]) -> String {
    let output = run(words);
    assert_eq!(output.status.code(), Some(0), "{words:?}: {output:?}");
    String::from_utf8(output.stdout).unwrap()
}

fn refused(words: &[&str]) -> String {
    let output = run(words);
    assert_eq!(output.status.code(), Some(2), "{words:?}: {output:?}");
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr).unwrap()
}

fn json(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap()
}

/// A starter with a printed wrap, in a folder of its own.
fn design() -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("cake").display().to_string();
    fine(&["new", &place, "--starter", "one-round"]);
    (folder, place)
}

fn change(place: &str, from: &str, to: &str) {
    let path = Path::new(place).join("cake.toml");
    let text = fs::read_to_string(&path).unwrap();
    assert!(text.contains(from), "{from} in {text}");
    let text = text.replacen(from, to, 1);
    tierproof::files::write_whole(&path, text.as_bytes(), tierproof::files::Overwrite::Document).unwrap();
}

fn files_below(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
            } else {
                let name = entry.strip_prefix(folder).unwrap().display().to_string();
                found.push((name, fs::read(&entry).unwrap()));
            }
        }
    }
    found.sort();
    found
}

#[test]
fn an_approval_is_written_down_and_everything_says_when_it_holds_no_more() {
    let (_folder, place) = design();
    assert!(refused(&["diff", &place]).contains("nothing of it was approved yet"));
    let said = fine(&["approve", &place, "--by", "M. Example", "--on", "2026-11-28"]);
    let revision = json(&fine(&["measure", &place, "--json"]))["revision"].as_str().unwrap().to_owned();
    assert!(said.contains(&revision) && said.contains("28 November 2026"), "{said}");
    let record = json(&fs::read_to_string(Path::new(&place).join("approval.json")).unwrap());
    assert_eq!(
        (&record["approvals"][0]["by"], &record["approvals"][0]["on"]),
        (&"M. Example".into(), &"2026-11-28".into())
    );
    let facts = json(&fine(&["measure", &place, "--json"]));
    assert_eq!(facts["approval"]["stands"], true);
    assert!(fine(&["measure", &place]).contains("Approved by M. Example on 28 November 2026."));
    assert!(!fine(&["check", &place]).contains("moved-on"));
    assert!(fine(&["diff", &place]).contains("nothing changed"));

    change(&place, "title = ", "title = \"Another name, then \" # ");
    assert!(fine(&["check", &place]).contains(&format!("M. Example approved revision {revision}")));
    assert_eq!(json(&fine(&["measure", &place, "--json"]))["approval"]["stands"], false);
    let told = fine(&["diff", &place]);
    assert!(told.contains("title: ") && told.contains("Another name"), "{told}");

    fine(&["approve", &place, "--by", "M. Example", "--on", "2026-11-29"]);
    assert!(!fine(&["check", &place]).contains("moved-on"));
    let record = json(&fs::read_to_string(Path::new(&place).join("approval.json")).unwrap());
    assert_eq!(record["approvals"].as_array().unwrap().len(), 2);
    let kept = Path::new(&place).join("approved").join(&revision);
    assert!(fine(&["diff", &kept.display().to_string(), &place]).contains("title: "));
}

#[test]
fn an_approval_of_something_else_is_not_written_down() {
    let (_folder, place) = design();
    for (words, phrase) in [
        (["--by", " ", "--on", "2026-11-28"], "blank"),
        (["--by", "M. Example", "--on", "28/11/2026"], "such as 2026-11-28"),
        (["--by", "M. Example", "--revision", "00000000"], "the design is revision"),
        (["--by", "a\u{7}b", "--on", "2026-11-28"], "control character"),
    ] {
        let said = refused(&[&["approve", &place], &words[..]].concat());
        assert!(said.contains(phrase), "{said}");
    }
    assert!(!Path::new(&place).join("approval.json").exists() && !Path::new(&place).join("approved").exists());
    let revision = json(&fine(&["measure", &place, "--json"]))["revision"].as_str().unwrap().to_owned();
    // Without a day it is today's.
    let said = fine(&["approve", &place, "--by", "M. Example", "--revision", &revision.to_uppercase()]);
    assert!(said.contains(" 20"), "{said}");
    let record = Path::new(&place).join("approval.json");
    let text = fs::read_to_string(&record).unwrap();
    tierproof::files::write_whole(&record, &text.as_bytes()[..text.len() / 2], tierproof::files::Overwrite::Document)
        .unwrap();
    assert!(refused(&["measure", &place]).contains("approval.json:"));
}

#[test]
fn what_must_be_made_again_is_told() {
    let (folder, place) = design();
    let other = folder.path().join("other").display().to_string();
    fine(&["new", &other, "--starter", "one-round"]);
    assert!(fine(&["diff", &place, &other]).contains("nothing changed"));
    let facts = json(&fine(&["measure", &place, "--json"]));
    let course = facts["wraps"][0]["course"].as_str().unwrap();
    let tier = facts["wraps"][0]["tier"].as_str().unwrap();
    // A wider pan: the print is too short.
    let size = fs::read_to_string(Path::new(&other).join("cake.toml")).unwrap();
    let line =
        size.lines().skip_while(|line| *line != "[[tier]]").find(|line| line.starts_with("size")).unwrap().to_owned();
    change(&other, &line, "size = \"22 cm\"");
    let told = json(&fine(&["diff", &place, &other, "--json"]));
    let changed: Vec<&str> =
        told["changes"].as_array().unwrap().iter().map(|it| it["what"].as_str().unwrap()).collect();
    assert_eq!(changed, [format!("tier “{tier}”, size")]);
    let around = told["sizes"].as_array().unwrap().iter().find(|it| it["what"] == format!("“{tier}”, around")).unwrap();
    assert_eq!(around["before"], facts["tiers"][0]["finished"]["around"]);
    assert_eq!(told["print_again"][0]["what"], format!("“{course}” of “{tier}”"));
    // Another picture of the same name: nothing else changes, and it is printed again.
    let again = folder.path().join("again").display().to_string();
    fine(&["new", &again, "--starter", "one-round"]);
    let art = files_below(Path::new(&again)).into_iter().find(|(name, _)| name.ends_with(".svg")).unwrap();
    let text = String::from_utf8(art.1).unwrap().replace("</svg>", "<!-- other --></svg>");
    let path = Path::new(&again).join(art.0);
    tierproof::files::write_whole(&path, text.as_bytes(), tierproof::files::Overwrite::Document).unwrap();
    let told = json(&fine(&["diff", &place, &again, "--json"]));
    assert_eq!(told["sizes"], serde_json::json!([]));
    assert_eq!(told["print_again"][0]["why"], "its picture is another one");
}

#[test]
fn a_bundle_brings_everything_back() {
    let (folder, place) = design();
    fine(&["approve", &place, "--by", "M. Example", "--on", "2026-11-28"]);
    let before = files_below(Path::new(&place));
    let [one, two] = ["one.zip", "two.zip"].map(|name| folder.path().join(name).display().to_string());
    fine(&["bundle", &place, "-o", &one]);
    fine(&["bundle", &place, "-o", &two]);
    assert_eq!(fs::read(&one).unwrap(), fs::read(&two).unwrap());
    let back = folder.path().join("back").display().to_string();
    fine(&["unbundle", &one, "-o", &back]);
    let after = files_below(Path::new(&back));
    assert_eq!(before.iter().map(|it| &it.0).collect::<Vec<_>>(), after.iter().map(|it| &it.0).collect::<Vec<_>>());
    assert_eq!(before, after);
    assert!(refused(&["unbundle", &one, "-o", &back]).contains("already something"));
    let fresh = folder.path().join("fresh").display().to_string();
    let toml = Path::new(&place).join("cake.toml").display().to_string();
    assert!(refused(&["unbundle", &toml, "-o", &fresh]).contains("bundle"));
    assert!(!Path::new(&fresh).exists());
}

#[test]
fn a_bundle_never_writes_outside_its_folder_or_what_the_design_does_not_name() {
    let folder = tempfile::tempdir().unwrap();
    let plain = "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 6\nheight = 4\n";
    let climbing = format!(
        "{plain}[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 3\nart = \"../waves.svg\"\nfit = \"cover\"\n"
    );
    let zip = |name: &str, files: &[(&str, &str)]| {
        let files: Vec<_> = files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect();
        let path = folder.path().join(name);
        let bytes = tierproof::packs::bundle(&files).unwrap();
        tierproof::files::write_whole(&path, &bytes, tierproof::files::Overwrite::Document).unwrap();
        path.display().to_string()
    };
    let out = folder.path().join("below/out").display().to_string();
    let bad = zip("bad.zip", &[("cake.toml", &climbing), ("../waves.svg", "<svg/>")]);
    refused(&["unbundle", &bad, "-o", &out]);
    assert!(!folder.path().join("below").exists());
    let more = zip("more.zip", &[("cake.toml", plain), ("../evil", "x"), ("/etc/evil", "x"), ("run.sh", "x")]);
    fine(&["unbundle", &more, "-o", &out]);
    assert_eq!(files_below(Path::new(&out)).into_iter().map(|it| it.0).collect::<Vec<_>>(), ["cake.toml"]);
    assert!(!folder.path().join("below/evil").exists());
}
