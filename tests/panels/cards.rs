//! Cards: what they show, what typing does, and what nonsense does not.

use egui::Key;
use egui::accesskit::Role;
use egui_kittest::kittest::{NodeT, Queryable};
use tierproof::design::Design;
use tierproof::edits::CourseName;
use tierproof::edits::choose::Thing;

use super::stage::{Hands, everything, settle};

fn choose(hands: &mut Hands, thing: Option<Thing>) {
    hands.state_mut().bench.choose(thing);
    settle(hands);
}

fn piece(name: &str) -> Option<Thing> {
    Some(Thing::Piece(name.to_owned()))
}

fn design(hands: &Hands) -> Design {
    (**hands.state().bench.design()).clone()
}

/// Puts the text in a field, as a person would: select all, type.
fn type_into(hands: &mut Hands, label: &str, text: &str) {
    hands.get_by_role_and_label(Role::TextInput, label).focus();
    settle(hands);
    hands.key_combination_modifiers(egui::Modifiers::COMMAND, &[Key::A]);
    hands.run_steps(2);
    hands.get_by_role_and_label(Role::TextInput, label).type_text(text);
    settle(hands);
}

/// The names of all fields that are shown.
fn fields(hands: &Hands) -> Vec<String> {
    let fields = hands.get_all_by_role(Role::TextInput);
    fields.filter_map(|node| node.accesskit_node().label()).collect()
}

#[test]
fn every_card_has_its_rows_by_name() {
    let mut hands = everything();
    let of = |tier: &str, course: &str| Some(Thing::Course(CourseName::new(tier, course)));
    let cards: [(Option<Thing>, &[&str]); 15] = [
        (None, &["Title", "For", "Portions"]),
        (Some(Thing::Board), &["Across", "Thickness"]),
        (Some(Thing::Tier("base".to_owned())), &["Name", "Pan", "Height as it stands", "Icing"]),
        (of("base", "rope"), &["Name", "Thickness", "Ends meet at"]),
        (of("base", "print"), &["Height", "One repeat, wide", "Paste beneath, paste"]),
        (of("base", "band"), &["Height", "Thickness"]),
        (piece("star"), &["Height", "Backing, border", "Picks, into cake", "Place, right of centre"]),
        (piece("plate"), &["Size, first", "Size, second", "Cells, rows", "Place, up from the foot"]),
        (piece("ball"), &["Size", "Pressed in by"]),
        (piece("bubbles"), &["Seed", "Spread over, along, first"]),
        (piece("swag"), &["Size", "Length", "Sag"]),
        (piece("bow"), &["Ribbon", "Loop, knot to end", "Turn"]),
        (piece("name"), &["Text", "Letters, height", "Size, first"]),
        (piece("oar"), &["Stick, diameter"]),
        (piece("candle"), &["Size, first", "Size, second"]),
    ];
    for (thing, rows) in cards {
        choose(&mut hands, thing.clone());
        let shown = fields(&hands);
        for row in rows {
            assert!(shown.iter().any(|name| name == row), "{thing:?} has no “{row}”: {shown:?}");
        }
        let mut names = shown.clone();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), shown.len(), "two fields of {thing:?} are heard as the same: {shown:?}");
    }
}

#[test]
fn a_size_is_typed_as_people_write_it_and_is_one_step() {
    let mut hands = everything();
    choose(&mut hands, piece("star"));
    type_into(&mut hands, "Height", "2 1/2\"");
    assert!(hands.state().bench.history().is_held());
    hands.get_by_label_contains("half the top’s width");
    hands.key_press(Key::Enter);
    settle(&mut hands);
    let bench = &hands.state().bench;
    assert_eq!(bench.history().steps(), (1, 0));
    let height = bench.cake().pieces[0].measure.size.height;
    assert!((height.as_inches() - 2.5 - 2.0 / 8.0).abs() < 0.26, "{height:?}");
    assert!(bench.history().undo_label().unwrap().contains("star"), "{:?}", bench.history().undo_label());
    hands.state_mut().bench.undo();
    assert_eq!(hands.state().bench.history().steps(), (0, 1));
}

#[test]
fn escape_puts_a_field_back() {
    let mut hands = everything();
    let before = design(&hands);
    choose(&mut hands, piece("bow"));
    type_into(&mut hands, "Ribbon", "1");
    assert_ne!(design(&hands), before);
    hands.key_press(Key::Escape);
    settle(&mut hands);
    assert_eq!(design(&hands), before);
    assert_eq!(hands.state().bench.history().steps(), (0, 0));
}

/// Fields that hold any text.
const FREE: [&str; 7] = ["Name", "Title", "Event", "For", "Notes", "Text", "Stuck with"];

#[test]
fn nonsense_in_any_field_of_any_card_stays_there_marked_and_changes_nothing() {
    let mut hands = everything();
    let all = [
        None,
        Some(Thing::Board),
        Some(Thing::Tier("base".to_owned())),
        Some(Thing::Course(CourseName::new("base", "print"))),
        Some(Thing::Course(CourseName::new("base", "pearls"))),
        piece("star"),
        piece("plate"),
        piece("ball"),
        piece("bubbles"),
        piece("swag"),
        piece("bow"),
        piece("name"),
        piece("oar"),
        piece("candle"),
    ];
    let mut tried = 0;
    for thing in all {
        choose(&mut hands, thing.clone());
        let before = design(&hands);
        for field in fields(&hands) {
            // A line of free text may say anything but too much.
            let nonsense =
                if FREE.contains(&field.as_str()) { "bananas ".repeat(400) } else { "¿3 bananas?".to_owned() };
            type_into(&mut hands, &field, &nonsense);
            let node = hands.get_by_role_and_label(Role::TextInput, &field);
            let said = node.accesskit_node().description().unwrap_or_default();
            assert!(!said.is_empty(), "“{field}” of {thing:?} does not say what is wrong");
            assert_eq!(design(&hands), before, "“{field}” of {thing:?}");
            hands.key_press(Key::Enter);
            settle(&mut hands);
            let node = hands.get_by_role_and_label(Role::TextInput, &field);
            assert_eq!(node.value().unwrap_or_default(), nonsense, "“{field}” of {thing:?}");
            assert_eq!(design(&hands), before, "“{field}” of {thing:?}, left");
            // The next card shows what the design has.
            hands.state_mut().bench.choose(Some(Thing::Tier("upper".to_owned())));
            settle(&mut hands);
            choose(&mut hands, thing.clone());
            tried += 1;
        }
    }
    assert!(tried > 60, "{tried}");
    assert!(hands.state().refused.is_empty(), "{:?}", hands.state().refused);
}

#[test]
fn a_mend_is_offered_on_the_card_and_does_it() {
    let mut hands = everything();
    choose(&mut hands, piece("belt"));
    hands.get_by_label("Give it a pin").click();
    settle(&mut hands);
    assert_eq!(hands.state().bench.history().steps().0, 1);
    let design = design(&hands);
    let belt = design.pieces.iter().find(|piece| piece.name == "belt").unwrap();
    assert!(matches!(&belt.form, tierproof::design::model::Form::Ball(ball) if ball.pin));
}

#[test]
fn a_name_goes_over_when_the_field_is_left_and_what_names_it_follows() {
    let mut hands = everything();
    choose(&mut hands, Some(Thing::Tier("base".to_owned())));
    type_into(&mut hands, "Name", "upper");
    let node = hands.get_by_role_and_label(Role::TextInput, "Name");
    assert!(node.accesskit_node().description().is_some(), "two of one name");
    type_into(&mut hands, "Name", "foot");
    hands.key_press(Key::Enter);
    settle(&mut hands);
    let design = design(&hands);
    assert_eq!(design.tiers[0].name, "foot");
    assert!(design.pieces.iter().any(|piece| piece.seat.on.word() == "foot"));
    assert_eq!(hands.state().bench.chosen(), Some(&Thing::Tier("foot".to_owned())));
}
