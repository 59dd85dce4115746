//! From small windows to large ones, small letters to large ones, light and dark: everything stays in the window and apart.

use egui_kittest::kittest::Queryable;
use tierproof::edits::choose::Thing;
use tierproof::panels::{Scheme, Settings};

use super::eye::Eye;
use super::stage::{EVERYTHING, Stage};

#[test]
fn everything_that_matters_is_in_the_window_at_80_and_200_percent() {
    for (scale, size, scheme) in [
        (80, (1024.0, 640.0), Scheme::Light),
        (100, (1024.0, 640.0), Scheme::Dark),
        (200, (1024.0, 640.0), Scheme::Dark),
        (200, (1600.0, 1000.0), Scheme::Light),
        (200, (3840.0, 2160.0), Scheme::Dark),
    ] {
        let mut stage = Stage::new(EVERYTHING);
        stage.settings = Settings { scale, scheme, ..Settings::default() };
        stage.bench.choose(Some(Thing::Piece("star".to_owned())));
        let eye = Eye::default();
        let hands = stage.open_before(eye.clone(), size);
        // Kept beside the test, to be looked at; here only that it was drawn in the scheme's colours. A large window takes long.
        if size.0 < 1500.0 {
            let seen = eye.keep(&hands, &format!("{scale}-{}", scheme.word()));
            let paper = scheme.palette().paper;
            let share = seen.pixels.iter().filter(|pixel| **pixel == paper).count() as f32 / seen.pixels.len() as f32;
            assert!(share > 0.15, "{share} of the window is paper");
        }
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(size.0, size.1));
        for name in ["Undo", "Add…", "Findings", "Tape: the side unrolled", "Name", "Keys (F1)"] {
            let found = hands.get_all_by_label(name).next();
            let place = found.unwrap_or_else(|| panic!("{name} at {scale} %, {size:?}")).rect();
            assert!(window.expand(1.0).contains_rect(place), "{name} at {place} in {size:?}, {scale} %");
            assert!(place.width() > 8.0 && place.height() > 8.0, "{name} at {place}");
        }
        let body = hands.ctx.global_style().text_styles[&egui::TextStyle::Body].size;
        assert!((body - 13.5 * f32::from(scale) / 100.0).abs() <= 0.3, "{body}");
    }
}

#[test]
fn letters_are_made_larger_from_the_bar() {
    let mut hands = Stage::new(EVERYTHING).open((1280.0, 800.0));
    hands.get_by_label("View").click();
    hands.run_steps(4);
    hands.get_by_label("Larger").click();
    hands.run_steps(4);
    assert_eq!(hands.state().settings.scale, 110);
    hands.get_by_label("Dark").click();
    hands.run_steps(4);
    assert_eq!(hands.state().settings.scheme, Scheme::Dark);
}
