//! A design that is loaded, saved and loaded again is the same design; what was not edited keeps its text.

use proptest::prelude::{ProptestConfig, any, prop_assert_eq, proptest};

use tierproof::design::model::{At, Design, Form};
use tierproof::design::{read_design, write_design};
use tierproof::measure::{Length, PlanPoint, Unit};

use crate::dice::Dice;

const EVERYTHING: &str = include_str!("good/everything.toml");

fn read(text: &str) -> Design {
    read_design(text, "cake.toml").unwrap_or_else(|problems| panic!("\n{problems}\n{text}"))
}

/// The lines of one text that the other does not have.
fn only_in<'a>(text: &'a str, other: &str) -> Vec<&'a str> {
    text.lines().filter(|line| !other.lines().any(|known| known == *line)).collect()
}

#[test]
fn an_unedited_design_keeps_every_byte() {
    assert_eq!(write_design(&read(EVERYTHING), Some(EVERYTHING)), EVERYTHING);
}

#[test]
fn a_design_without_a_file_is_written_whole() {
    let design = read(EVERYTHING);
    let text = write_design(&design, None);
    assert_eq!(read(&text), design);
    assert!(!text.contains("petals"), "defaults are left out:\n{text}");
}

#[test]
fn only_the_edited_value_changes_its_text() {
    let mut design = read(EVERYTHING);
    design.tiers[0].height = Length::inches(5.625);
    design.pieces[1].at = At::Plan(PlanPoint { x: Length::inches(3.75), z: Length::inches(2.5) });
    if let Form::Bow(bow) = &mut design.pieces[4].form {
        bow.loops = 3;
    }
    let text = write_design(&design, Some(EVERYTHING));
    assert_eq!(read(&text), design);
    assert_eq!(
        only_in(&text, EVERYTHING),
        [
            "height = \"5 5/8 in\"                   # as it stands iced and covered",
            "at = { x = \"3 3/4\", z = 2.5 }",
            "loops = 3",
        ]
    );
}

#[test]
fn pieces_are_moved_added_and_removed_with_their_comments() {
    let mut design = read(EVERYTHING);
    let oar = design.pieces.iter().position(|piece| piece.name == "oar").expect("oar");
    let mut oar = design.pieces.remove(oar);
    design.pieces.insert(0, oar.clone());
    oar.name = "second oar".to_owned();
    design.pieces.insert(1, oar);
    design.pieces.retain(|piece| piece.name != "bow");
    let text = write_design(&design, Some(EVERYTHING));
    assert_eq!(read(&text), design);
    assert!(text.contains("# its foot"), "{text}");
    assert!(!text.contains("ribbon"), "{text}");
    assert!(text.find("second oar") < text.find("lighthouse\""), "{text}");
}

#[test]
fn bare_numbers_are_rewritten_when_the_unit_changes() {
    let mut design = read(EVERYTHING);
    design.unit = Unit::Millimetre;
    let text = write_design(&design, Some(EVERYTHING));
    assert_eq!(read(&text), design);
    assert!(text.contains("size = \"12 in\""), "{text}");
    assert!(text.contains("ring = 50.8"), "{text}");
    assert!(text.contains("[\"1 in\", 1]"), "{text}");
    assert!(text.contains("# the unit") || text.contains("# in | mm | cm"), "{text}");
}

#[test]
fn a_file_that_cannot_be_read_is_written_anew() {
    let design = read(EVERYTHING);
    assert_eq!(read(&write_design(&design, Some("not = [a design"))), design);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn any_design_is_written_and_read_back_identically(seed in any::<u64>()) {
        let design = Dice::new(seed).design();
        prop_assert_eq!(read(&write_design(&design, None)), design);
    }

    #[test]
    fn any_edit_is_written_and_read_back_identically(seed in any::<u64>()) {
        let mut dice = Dice::new(seed);
        let before = dice.design();
        let text = format!("# mine\n{}# the end\n", write_design(&before, None));
        let after = dice.edited(&before);
        let written = write_design(&after, Some(&text));
        prop_assert_eq!(read(&written), after);
        assert!(written.starts_with("# mine") && written.ends_with("# the end\n"), "comments are lost:\n{written}");
    }
}
