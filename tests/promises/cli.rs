//! The program as it is called: exit codes, messages, nothing half-written.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const PLAIN: &str = "title = \"t\"\nunit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 6\nheight = 4\n";

fn run(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tierproof")).args(words).output().unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap_or_else(|| panic!("stopped by a signal: {output:?}"))
}

fn errors(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn design(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "cake.toml", text.as_bytes());
    folder
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    tierproof::files::write_whole(&path, bytes, tierproof::files::Overwrite::Document).unwrap();
    path
}

fn wrap(art: &str) -> String {
    format!(
        "{PLAIN}[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 3\nart = \"{art}\"\nfit = \"cover\"\n[[tier.course]]\n\
         name = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n"
    )
}

/// A design that can't be used: exit 2, the message on standard error names `phrase`, standard output stays empty.
fn refused(folder: &Path, phrase: &str) {
    for words in [["measure", "--json"], ["check", "--json"]] {
        let output = run(&[words[0], words[1], &folder.display().to_string()]);
        assert_eq!(code(&output), 2, "{output:?}");
        assert!(errors(&output).contains(phrase), "expected “{phrase}”:\n{}", errors(&output));
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn fine_is_0_a_stop_is_1_unusable_is_2() {
    let fine = design(PLAIN);
    assert_eq!(code(&run(&["check", &fine.path().display().to_string()])), 0);
    let stop = design(&format!("{PLAIN}[[tier.course]]\nname = \"a\"\nkind = \"bare\"\nheight = 9\n"));
    let output = run(&["measure", "--json", &stop.path().display().to_string()]);
    assert_eq!(code(&output), 1);
    let facts: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(facts["findings"][0]["code"], "courses-overrun");
    assert_eq!(facts["findings"][0]["by"], 127.0);
    let missing = fine.path().join("nothing");
    assert_eq!(code(&run(&["check", &missing.display().to_string()])), 2);
}

#[test]
fn a_wrap_higher_than_its_tier_is_a_stop_in_figures() {
    let folder = design(&wrap("art/a.svg").replace("height = 3\n", "height = \"5 1/2\"\n"));
    fs::create_dir(folder.path().join("art")).unwrap();
    write(folder.path(), "art/a.svg", SVG.as_bytes());
    let output = run(&["check", &folder.path().display().to_string()]);
    assert_eq!(code(&output), 1);
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("1 1/2 in higher than the tier") && said.contains("tier 'base'"), "{said}");
}

const SVG: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"20\"><path d=\"M0 0H40V20H0Z\" fill=\"#123456\"/></svg>";

#[test]
fn art_that_cannot_be_used_is_said_with_its_place() {
    let png = {
        let picture = tierproof::art::Picture::filled(64, 32, [10, 20, 30, 255]);
        tierproof::art::encode_png(&picture).unwrap()
    };
    let outside = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"><image href=\"/etc/hostname\" width=\"9\" \
                   height=\"9\"/></svg>";
    let cases: [(&str, Option<&[u8]>, &str); 6] = [
        ("a.png", None, "there is no such file"),
        ("a.png", Some(b""), "empty"),
        ("a.png", Some(b"this is a letter, not a picture"), "not a picture"),
        ("a.png", Some(&png[..png.len() / 2]), "breaks off"),
        ("a.svg", Some(outside.as_bytes()), "outside"),
        ("a.svg", Some(b"<svg xmlns=\"http://www.w3.org/2000/svg\""), "damaged"),
    ];
    for (name, bytes, phrase) in cases {
        let folder = design(&wrap(name));
        if let Some(bytes) = bytes {
            write(folder.path(), name, bytes);
        }
        refused(folder.path(), phrase);
        refused(folder.path(), "cake.toml:11:7");
    }
}

#[test]
fn paths_do_not_climb_out_of_the_folder() {
    for path in ["../secret.png", "/etc/hostname", "art/../../secret.png"] {
        let folder = design(&wrap(path));
        let output = run(&["check", &folder.path().display().to_string()]);
        assert_eq!(code(&output), 2, "{path}");
        assert!(errors(&output).contains(path), "{}", errors(&output));
    }
}

#[test]
fn empty_huge_and_binary_designs_are_refused() {
    refused(design("").path(), "cake.toml");
    let huge = format!("{PLAIN}# {}\n", "x".repeat(5 << 20));
    refused(design(&huge).path(), "cake.toml");
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "cake.toml", &[0xff, 0xfe, 0, 1, 2]);
    refused(folder.path(), "not text");
}

#[test]
fn several_problems_are_said_at_once() {
    let text = PLAIN.replace("size = 6", "size = -6").replace("height = 4", "heigth = 4");
    let output = run(&["check", &design(&text).path().display().to_string()]);
    let said = errors(&output);
    assert!(said.contains("cake.toml:5:8") && said.contains("cake.toml:6:1") && said.contains("height"), "{said}");
}

#[test]
fn a_file_of_somebody_else_is_not_overwritten() {
    let folder = design(PLAIN);
    let picture = write(folder.path(), "mine.png", b"not ours");
    let output =
        run(&["still", &folder.path().display().to_string(), "-o", &picture.display().to_string(), "--size", "64x48"]);
    assert_eq!(code(&output), 2);
    assert!(errors(&output).contains("--force"), "{}", errors(&output));
    assert_eq!(fs::read(&picture).unwrap(), b"not ours");
}

#[test]
fn a_new_design_is_a_starter_that_checks() {
    let folder = tempfile::tempdir().unwrap();
    let listed = String::from_utf8(run(&["new", "--list"]).stdout).unwrap();
    let names: Vec<&str> = listed.lines().filter_map(|line| line.split_whitespace().next()).collect();
    assert!(names.len() >= 5, "{listed}");
    for name in names {
        let place = folder.path().join(name).display().to_string();
        assert_eq!(code(&run(&["new", &place, "--starter", name])), 0);
        assert_eq!(code(&run(&["check", &place])), 0, "{name}");
    }
    let again = run(&["new", &folder.path().join("heart").display().to_string(), "--starter", "heart"]);
    assert_eq!(code(&again), 2, "an existing folder is left alone");
    let unknown = run(&["new", &folder.path().join("x").display().to_string(), "--starter", "hart"]);
    assert!(errors(&unknown).contains("heart"), "{}", errors(&unknown));
}

#[test]
fn words_that_make_no_sense_are_told() {
    let folder = design(PLAIN);
    let place = folder.path().display().to_string();
    for (option, value) in [("--view", "sideways"), ("--view", "10,95"), ("--size", "0x0"), ("--size", "9000x10")] {
        let output = run(&["still", &place, "-o", "never.png", option, value]);
        assert_eq!(code(&output), 2, "{option} {value}");
        assert!(errors(&output).contains("expected") || errors(&output).contains("elevation"), "{}", errors(&output));
    }
}

#[test]
fn the_schema_is_one_json_document() {
    let output = run(&["schema"]);
    let schema: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
}

/// Only a program with its renderer looks for a driver.
#[cfg(feature = "view")]
#[test]
fn a_machine_without_a_driver_is_told_which_package_to_install() {
    let folder = design(PLAIN);
    let picture = folder.path().join("never.png");
    let output = Command::new(env!("CARGO_BIN_EXE_tierproof"))
        .args(["still".as_ref(), folder.path().as_os_str(), "-o".as_ref(), picture.as_os_str()])
        .env("VK_DRIVER_FILES", "/nowhere")
        .env("VK_ICD_FILENAMES", "/nowhere")
        .output()
        .unwrap();
    assert_eq!(code(&output), 2);
    assert!(errors(&output).contains("mesa-vulkan-drivers"), "{}", errors(&output));
    assert_eq!(errors(&output).lines().count(), 1, "{}", errors(&output));
    assert!(!picture.exists());
}

#[test]
fn the_tape_is_written_as_its_ending_asks() {
    let folder = design(PLAIN);
    let (path, out) =
        (folder.path().display().to_string(), |name: &str| folder.path().join(name).display().to_string());
    for (name, start) in [("tape.png", b"\x89PNG".as_slice()), ("tape.SVG", b"<svg ")] {
        let output = run(&["tape", &path, "-o", &out(name), "--tier", "base"]);
        assert_eq!(code(&output), 0, "{output:?}");
        assert!(fs::read(folder.path().join(name)).unwrap().starts_with(start), "{name}");
    }
    for (words, phrase) in [
        (["tape", &path, "-o", &out("tape.pdf"), "--tier", "base"], "ends in .png or .svg"),
        (["tape", &path, "-o", &out("other.png"), "--tier", "top"], "there is no tier 'top'; the design has 'base'"),
    ] {
        let output = run(&words);
        assert_eq!(code(&output), 2, "{output:?}");
        assert!(errors(&output).contains(phrase), "{}", errors(&output));
    }
    assert!(!folder.path().join("other.png").exists());
}
