//! What can't be used is told with its place and its mend, all at once, and never with a panic.
//!
//! Each file in `bad/` is one bad design. Its first line has a phrase that the message must hold; its second line says
//! whether the JSON Schema can see the fault too, which an outside checker is asked.

use std::path::Path;

use proptest::prelude::{ProptestConfig, Strategy, any, prop, prop_oneof, proptest};

use tierproof::design::{Problems, read_design};

const EVERYTHING: &str = include_str!("good/everything.toml");

fn problems(text: &str) -> Problems {
    read_design(text, "cake.toml").expect_err("it can't be used")
}

/// Name and text of every bad design.
fn bad_designs() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/promises/bad");
    let paths = std::fs::read_dir(folder).expect("folder").map(|entry| entry.expect("entry").path());
    let read = |path: std::path::PathBuf| {
        let name = path.file_stem().expect("name").to_string_lossy().into_owned();
        (name, std::fs::read_to_string(&path).expect("text"))
    };
    let mut designs: Vec<_> = paths.map(read).collect();
    designs.sort();
    designs
}

#[test]
fn every_bad_design_is_refused_with_its_place_and_mend() {
    let designs = bad_designs();
    assert!(designs.len() >= 25);
    let mut wrong = Vec::new();
    for (name, text) in designs {
        let phrase = text.lines().next().and_then(|line| line.strip_prefix("# expect: ")).expect("phrase");
        let Err(problems) = read_design(&text, "cake.toml") else {
            wrong.push(format!("{name}: is taken for a design"));
            continue;
        };
        let shown = problems.to_string();
        let is_told = shown.contains(phrase) && shown.starts_with("cake.toml:") && shown.contains("\n  mend: ");
        if !is_told || (problems.list.len(), problems.more) != (1, 0) {
            wrong.push(format!("{name}: not one problem with “{phrase}”:\n{shown}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_place_is_that_of_the_fault() {
    let shown = problems("unit = \"in\"\n[[tier]]\nname = \"base\"\nsize = 7\nheight =  \"tall\"\n").to_string();
    let expected = "cake.toml:5:11: tier “base”, height: found “tall”; expected a length above zero up to 3 m\n  \
                    5 | height =  \"tall\"\n    |           ^^^^^^\n  mend: write for example 5 3/8, 5.375 in or 137 mm";
    assert_eq!(shown, expected);
}

#[test]
fn everything_wrong_is_told_at_once_in_the_order_of_the_file() {
    let text = "unit = \"in\"\ntitel = \"x\"\n[[tier]]\nname = \"base\"\nsize = -1\nheight = 0\nfinish = \"nope\"\n\
                [[piece]]\nname = \"a\"\nkind = \"ball\"\nsize = \"x\"\nseat = { on = \"b\", surface = \"top\" }\n";
    let problems = problems(text);
    let lines: Vec<_> = problems.list.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [2, 5, 6, 7, 11, 12], "\n{problems}");
}

#[test]
fn a_hopeless_file_is_answered_shortly() {
    let pieces: String =
        (0..5000).map(|_| "[[piece]]\nname = \"a\"\nkind = \"bal\"\nfinish = \"x\"\n".to_owned()).collect();
    let problems = problems(&format!("unit = \"in\"\n{pieces}"));
    assert_eq!(problems.list.len(), 50);
    assert!(problems.more > 1000);
    assert!(problems.to_string().len() < 50_000);
}

#[test]
fn a_sign_of_ten_thousand_characters_is_refused_in_one_short_sentence() {
    let text = EVERYTHING.replace("\"Seven bells\"", &format!("\"{}\"", "bells ".repeat(1_700)));
    assert_ne!(text, EVERYTHING);
    let told = problems(&text).to_string();
    assert!(told.contains("up to 2000 characters") && told.contains("shorten it"), "{told}");
    assert!(told.len() < 1_000, "{}", told.len());
}

#[test]
fn empty_deep_and_huge_files_are_answered() {
    for text in [
        String::new(),
        "\u{feff}".to_owned(),
        "a=".repeat(100),
        "[".repeat(10_000),
        format!("x = {}", "[".repeat(10_000)),
    ] {
        assert!(!problems(&text).list.is_empty());
    }
    let huge = format!("# {}\n", "x".repeat(5 << 20));
    assert!(problems(&huge).to_string().contains("at most 4194304 bytes"));
}

/// A small change to a text: bytes cut out, put in, or doubled.
fn mutations() -> impl Strategy<Value = Vec<(prop::sample::Index, usize, String)>> {
    let odd = [
        "",
        "\"",
        "'",
        "[",
        "]",
        "{",
        "}",
        "=",
        "\n",
        "-",
        "nan",
        "1e999",
        "\u{0}",
        "½",
        "board",
        "[[tier]]\n",
        "\\u0007",
        ",",
        "#",
    ];
    let piece =
        prop_oneof![prop::sample::select(odd.to_vec()).prop_map(str::to_owned), any::<char>().prop_map(String::from)];
    prop::collection::vec((any::<prop::sample::Index>(), 0..12usize, piece), 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn a_damaged_file_never_panics(mutations in mutations()) {
        let mut text: Vec<char> = EVERYTHING.chars().collect();
        for (place, gone, put) in mutations {
            let start = place.index(text.len());
            let end = (start + gone).min(text.len());
            text.splice(start..end, put.chars());
        }
        let text: String = text.into_iter().collect();
        if let Err(problems) = read_design(&text, "cake.toml") {
            assert!(!problems.to_string().is_empty());
            assert!(problems.list.iter().all(|problem| problem.line <= text.lines().count() + 1));
        }
    }
}
