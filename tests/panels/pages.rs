//! The start page, the foot, messages, and the form for what the tape read.

use egui::Key;
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tierproof::design::starters;
use tierproof::edits::choose::Thing;
use tierproof::edits::journal::State;
use tierproof::panels::{Entrance, Memo, Recent, Said, Settings, Wish, start};

use super::stage::{EVERYTHING, Stage, everything, settle};

#[test]
fn the_start_page_offers_every_starter_what_was_open_and_says_what_went_wrong() {
    let recent = [Recent { title: "Harbour birthday".to_owned(), folder: "/cakes/harbour".into() }];
    let said = [Said { words: "this is no design".to_owned(), mend: "choose another".to_owned(), folder: None }];
    let mut page = Harness::builder().with_size(egui::vec2(1024.0, 640.0)).build_ui_state(
        move |ui, (memo, wishes): &mut (Memo, Vec<Wish>)| {
            let entrance = Entrance { recent: &recent, said: &said, settings: Settings::default() };
            wishes.extend(start(ui, &entrance, memo));
        },
        (Memo::default(), Vec::new()),
    );
    page.run_steps(16);
    for starter in starters::list() {
        let name = starter.name.replace('-', " ");
        let name = format!("Begin with {}{}", name[..1].to_uppercase(), &name[1..]);
        page.get_by_label(&name);
        page.get_by_label(starter.meaning);
    }
    page.get_by_label("✖ this is no design");
    page.get_by_label("choose another");
    page.get_by_label("Harbour birthday").click();
    page.run_steps(4);
    assert_eq!(page.state().1, [Wish::Open("/cakes/harbour".into())]);
}

#[test]
fn the_foot_tells_size_portions_and_findings_and_a_click_goes_there() {
    let mut hands = everything();
    let facts = hands.state().bench.work().unwrap().facts.clone();
    hands.get_by_label(&format!("{} portions", facts.servings.ordered));
    hands.get_by_label("saved");
    hands.get_by_label(&format!("revision {}", facts.revision));
    hands.get_by_label("Findings").click();
    settle(&mut hands);
    let first = facts.findings.iter().find(|finding| finding.place.starts_with("piece"));
    let place = first.unwrap().place.clone();
    hands.get_all_by_label_contains(&format!("{place}:")).next().unwrap().click();
    settle(&mut hands);
    let name = place.trim_start_matches("piece '").trim_end_matches('\'').to_owned();
    assert_eq!(hands.state().asked.last(), Some(&Wish::GoTo(Thing::Piece(name.clone()))));
    assert_eq!(hands.state().bench.chosen(), Some(&Thing::Piece(name)));
}

#[test]
fn a_conflict_and_a_message_are_told_and_settled_by_buttons() {
    let mut stage = Stage::new(EVERYTHING);
    stage.state = State::Conflict;
    stage.said.push(Said { words: "recovered 3 changes".to_owned(), ..Said::default() });
    let mut hands = stage.open((1280.0, 800.0));
    hands.get_by_label("recovered 3 changes");
    hands.get_by_label("Dismiss the message").click();
    settle(&mut hands);
    hands.get_by_label("Go on with theirs").click();
    settle(&mut hands);
    hands.get_by_label("Keep mine beside it").click();
    settle(&mut hands);
    assert_eq!(hands.state().asked, [Wish::Dismiss(0), Wish::TakeTheirs, Wish::KeepMine]);
}

#[test]
fn what_the_tape_read_is_shown_before_it_counts() {
    let mut hands = everything();
    hands.state_mut().bench.choose(Some(Thing::Tier("base".to_owned())));
    settle(&mut hands);
    hands.get_by_label("Measured it?").click();
    settle(&mut hands);
    let around = "Once round the side";
    hands.get_by_role_and_label(Role::TextInput, around).focus();
    hands.run_steps(2);
    hands.get_by_role_and_label(Role::TextInput, around).type_text("a bit more");
    settle(&mut hands);
    assert!(hands.get_by_label("Take these readings").accesskit_node().is_disabled());
    hands.key_combination_modifiers(egui::Modifiers::COMMAND, &[Key::A]);
    hands.run_steps(2);
    hands.get_by_role_and_label(Role::TextInput, around).type_text("27 in");
    settle(&mut hands);
    hands.get_by_label("To be printed again");
    hands.get_by_label_contains("“base”, around: 26 11/16 in → 27 in");
    assert_eq!(hands.state().bench.history().steps(), (0, 0), "nothing counts yet");
    hands.get_by_label("Take these readings").click();
    settle(&mut hands);
    let around = hands.state().bench.cake().tiers[0].around();
    assert!((around.as_inches() - 27.0).abs() < 1e-9);
    assert!(hands.query_by_label("Take these readings").is_none());
}

#[test]
fn every_kind_is_added_from_the_list_and_chosen() {
    let mut hands = everything();
    for words in [
        "Plaque on top",
        "Sign on the side",
        "Bow on the side",
        "Ball on top",
        "Scatter of balls on the side",
        "Rope on the side",
        "Pearls on the side",
        "Rod on the board",
        "Candle on top",
        "Figure on top",
        "Flowers on top",
        "Rope round the side",
        "Pearls round the side",
        "Band round the side",
        "Bare course",
        "Tier on top",
        "Tier underneath",
    ] {
        let before = hands.state().bench.history().steps().0;
        hands.get_by_label("Add…").click();
        settle(&mut hands);
        hands.get_by_label(words).click();
        settle(&mut hands);
        assert_eq!(hands.state().bench.history().steps().0, before + 1, "{words}: {:?}", hands.state().refused);
        assert!(hands.state().bench.chosen().is_some(), "{words}");
    }
}
