//! A design that is loaded, saved and loaded again is the same design.

use tierproof::design::read_design;

const EVERYTHING: &str = include_str!("good/everything.toml");

#[test]
fn the_example_reads() {
    let design = read_design(EVERYTHING, "cake.toml").unwrap_or_else(|problems| panic!("\n{problems}"));
    println!("{design:#?}");
    assert_eq!(design.pieces.len(), 10);
}
