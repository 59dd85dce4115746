//! Keys and pointer: everything that a person does without, and with, a mouse.

use egui::{Key, Modifiers, pos2};
use egui_kittest::kittest::Queryable;
use tierproof::design::model::{At, CourseKind};
use tierproof::edits::choose::Thing;
use tierproof::panels::Wish;

use super::stage::{Hands, everything, settle};

fn press(hands: &mut Hands, modifiers: Modifiers, key: Key) {
    hands.key_press_modifiers(modifiers, key);
    settle(hands);
}

fn chosen(hands: &Hands) -> Option<Thing> {
    hands.state().bench.chosen().cloned()
}

#[test]
fn the_whole_stack_is_walked_by_keys_from_the_top_of_the_cake_to_the_board() {
    let mut hands = everything();
    let mut walked = Vec::new();
    for _ in 0..40 {
        press(&mut hands, Modifiers::NONE, Key::PageDown);
        let Some(thing) = chosen(&hands) else { panic!("nothing is chosen") };
        if walked.last() == Some(&thing) {
            break;
        }
        walked.push(thing);
    }
    let design = hands.state().bench.design().clone();
    let courses: usize = design.tiers.iter().map(|tier| tier.courses.len()).sum();
    assert_eq!(walked.len(), design.pieces.len() + design.tiers.len() + courses + 1);
    assert_eq!(walked.last(), Some(&Thing::Board));
    let place = |thing: &Thing| walked.iter().position(|other| other == thing).unwrap();
    let tier = |name: &str| place(&Thing::Tier(name.to_owned()));
    assert!(tier("upper") < tier("base") && place(&Thing::Piece("star".to_owned())) < tier("upper"));
}

#[test]
fn a_piece_is_nudged_copied_mirrored_hidden_locked_and_deleted_by_keys_and_all_is_undone() {
    let mut hands = everything();
    let before = hands.state().bench.design().clone();
    hands.state_mut().bench.choose(Some(Thing::Piece("bow".to_owned())));
    settle(&mut hands);
    let along = |hands: &Hands| {
        let design = hands.state().bench.design().clone();
        match design.pieces.iter().find(|piece| piece.name == "bow").map(|piece| piece.at) {
            Some(At::Tape(at)) => at.along.as_inches(),
            other => panic!("{other:?}"),
        }
    };
    press(&mut hands, Modifiers::NONE, Key::ArrowRight);
    assert!((along(&hands) + 6.0 - 1.0 / 16.0).abs() < 1e-9);
    press(&mut hands, Modifiers::SHIFT, Key::ArrowLeft);
    assert!((along(&hands) + 6.0 + 1.0 / 16.0).abs() < 1e-9, "{}", along(&hands));
    press(&mut hands, Modifiers::COMMAND, Key::M);
    assert!(along(&hands) > 0.0);
    press(&mut hands, Modifiers::COMMAND | Modifiers::SHIFT, Key::D);
    assert_eq!(chosen(&hands), Some(Thing::Piece("bow 2".to_owned())));
    press(&mut hands, Modifiers::NONE, Key::H);
    press(&mut hands, Modifiers::NONE, Key::L);
    let copy = hands.state().bench.design().pieces.iter().find(|piece| piece.name == "bow 2").unwrap().clone();
    assert!(copy.hidden && copy.locked);
    press(&mut hands, Modifiers::NONE, Key::Delete);
    assert!(hands.state().refused[0].contains("locked"), "{:?}", hands.state().refused);
    press(&mut hands, Modifiers::NONE, Key::L);
    press(&mut hands, Modifiers::NONE, Key::Delete);
    assert_eq!(chosen(&hands), None);
    for _ in 0..12 {
        press(&mut hands, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(**hands.state().bench.design(), *before);
}

#[test]
fn courses_change_places_by_keys() {
    let mut hands = everything();
    let course = tierproof::edits::CourseName::new("base", "rope");
    hands.state_mut().bench.choose(Some(Thing::Course(course)));
    settle(&mut hands);
    press(&mut hands, Modifiers::ALT, Key::ArrowUp);
    let names = |hands: &Hands| -> Vec<String> {
        hands.state().bench.design().tiers[0].courses.iter().map(|course| course.name.clone()).collect()
    };
    assert_eq!(names(&hands)[..2], ["print", "rope"]);
    press(&mut hands, Modifiers::ALT, Key::ArrowDown);
    assert_eq!(names(&hands)[..2], ["rope", "print"]);
}

#[test]
fn views_saving_and_the_sheet_of_keys_have_keys() {
    let mut hands = everything();
    press(&mut hands, Modifiers::NONE, Key::Num3);
    press(&mut hands, Modifiers::COMMAND, Key::S);
    let asked = &hands.state().asked;
    assert!(matches!(asked[0], Wish::View(view) if view.azimuth.as_degrees() == 180.0), "{asked:?}");
    assert_eq!(asked[1], Wish::Save);
    press(&mut hands, Modifiers::NONE, Key::F1);
    hands.get_by_label("Nudge it by 1/16 in or 1 mm; with Shift a ruler’s step");
    press(&mut hands, Modifiers::NONE, Key::F1);
    assert!(hands.query_by_label("As the customer sees it").is_none());
    press(&mut hands, Modifiers::NONE, Key::F8);
    assert!(matches!(hands.state().asked.last(), Some(Wish::GoTo(_))), "{:?}", hands.state().asked);
}

/// A place in the window of a reading on the tape that is shown.
fn on_tape(hands: &Hands, (along, up): (f64, f64)) -> egui::Pos2 {
    let place = hands.get_by_label("Tape: the side unrolled").rect();
    let cake = hands.state().bench.cake();
    let tier = &cake.tiers[0];
    // As large as it goes into its room: by the width or by the height.
    let (around, height) = (tier.outline.perimeter(), tier.height.as_mm());
    let page = (f64::from(place.width()), f64::from(place.height()));
    // What stands beside a side (4 and 13 mm of the page), above it (3) and below it (13.7).
    let by_letters = |side: f64, beside: f64, cake: f64, unit: f64| (side / unit - beside) / cake;
    let unit = solve(page, (around, height), &by_letters);
    let scale = (page.0 / unit - 17.0) / around;
    let x = f64::from(place.left()) + (4.0 + (around / 2.0 + along) * scale) * unit;
    let y = f64::from(place.top()) + (3.0 + (height - up) * scale) * unit;
    pos2(x as f32, y as f32)
}

/// Points to the millimetre of the page: the one at which width and height tell the same scale.
fn solve(page: (f64, f64), cake: (f64, f64), scale: &dyn Fn(f64, f64, f64, f64) -> f64) -> f64 {
    let differ = |unit: f64| scale(page.0, 17.0, cake.0, unit) - scale(page.1, 16.7, cake.1, unit);
    let (mut low, mut high) = (1.0, 12.0);
    for _ in 0..80 {
        let middle = (low + high) / 2.0;
        if (differ(low) > 0.0) == (differ(middle) > 0.0) { low = middle } else { high = middle }
    }
    low
}

#[test]
fn a_seam_is_dragged_on_the_tape_and_pinned_where_it_is_dropped() {
    let mut hands = everything();
    let name = tierproof::edits::CourseName::new("base", "print");
    hands.state_mut().bench.choose(Some(Thing::Course(name)));
    settle(&mut hands);
    let seam = hands.state().bench.plans()[0].seams.iter().map(|seam| seam.along).fold(0.0, f64::max);
    let from = on_tape(&hands, (seam, 40.0));
    let to = on_tape(&hands, (seam - 40.0, 40.0));
    drag(&mut hands, from, to, false);
    let design = hands.state().bench.design().clone();
    let CourseKind::Wrap(wrap) = &design.tiers[0].courses[1].kind else { panic!("{design:?}") };
    assert_eq!(wrap.pins.len(), 1, "{wrap:?}");
    assert!((wrap.pins[0].as_mm() - (seam - 40.0)).abs() < 10.0, "{} {}", wrap.pins[0].as_mm(), seam - 40.0);
    assert_eq!(hands.state().bench.history().steps(), (1, 0));
    press(&mut hands, Modifiers::COMMAND, Key::Z);
    let design = hands.state().bench.design().clone();
    assert!(matches!(&design.tiers[0].courses[1].kind, CourseKind::Wrap(wrap) if wrap.pins.is_empty()));
}

fn drag(hands: &mut Hands, from: egui::Pos2, to: egui::Pos2, escape: bool) {
    hands.hover_at(from);
    hands.run_steps(2);
    hands.drag_at(from);
    hands.run_steps(2);
    for step in 1..=8 {
        hands.hover_at(from + (to - from) * (step as f32 / 8.0));
        hands.run_steps(2);
    }
    if escape {
        hands.key_press(Key::Escape);
        hands.run_steps(2);
    }
    hands.drop_at(to);
    settle(hands);
}

#[test]
fn a_piece_is_dragged_on_the_tape_as_one_step_and_escape_puts_it_back() {
    let mut hands = everything();
    hands.state_mut().bench.choose(Some(Thing::Tier("base".to_owned())));
    settle(&mut hands);
    let before = hands.state().bench.design().clone();
    let (from, to) = (on_tape(&hands, (6.0 * 25.4, 2.0 * 25.4)), on_tape(&hands, (8.0 * 25.4, 2.0 * 25.4)));
    drag(&mut hands, from, to, true);
    assert_eq!(**hands.state().bench.design(), *before);
    drag(&mut hands, from, to, false);
    assert_eq!(chosen(&hands), Some(Thing::Piece("plate".to_owned())));
    let design = hands.state().bench.design().clone();
    let Some(At::Tape(at)) = design.pieces.iter().find(|piece| piece.name == "plate").map(|piece| piece.at) else {
        panic!("{design:?}")
    };
    assert!((at.along.as_inches() - 8.0).abs() < 0.4, "{at:?}");
    assert_eq!(hands.state().bench.history().steps(), (1, 0));
}
