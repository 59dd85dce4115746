//! Files of other versions: there is one layout so far, and a newer one is refused before anything else is looked at.

use tierproof::design::read_design;

const PLAIN: &str = "unit = \"in\"\n\n[[tier]]\nname = \"base\"\nsize = 7\nheight = 5\n";

#[test]
fn a_file_without_a_format_is_of_the_first() {
    let named = read_design(&format!("format = 1\n{PLAIN}"), "cake.toml").expect("format 1");
    assert_eq!(read_design(PLAIN, "cake.toml").expect("no format"), named);
}

#[test]
fn a_newer_file_is_refused_in_one_sentence() {
    let newer = format!("format = 2\n{PLAIN}ganache = \"a key of the future\"\n");
    let problems = read_design(&newer, "cake.toml").expect_err("newer");
    let [problem] = problems.list.as_slice() else { panic!("one problem:\n{problems}") };
    assert_eq!((problem.line, problem.column), (1, 10));
    assert_eq!(problem.found, "format 2, made by a newer version of this program");
}

#[test]
fn files_of_other_systems_read_the_same() {
    let plain = read_design(PLAIN, "cake.toml").expect("plain");
    let with_mark = format!("\u{feff}{PLAIN}");
    assert_eq!(read_design(&with_mark, "cake.toml").expect("a byte order mark"), plain);
    assert_eq!(read_design(&PLAIN.replace('\n', "\r\n"), "cake.toml").expect("line ends of two"), plain);
}
