//! Speed of the panels: one frame of the editor's, for a design of many pieces.
//!
//! `cargo bench --no-default-features --features speed,panel-tests --bench panels`.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark has no readers and stops at the first fault")]

use std::path::Path;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use egui_kittest::Harness;
use tierproof::design::read_design;
use tierproof::edits::bench::Workbench;
use tierproof::edits::choose::Thing;
use tierproof::edits::journal::State;
use tierproof::panels::{Desk, Look, Memo, Settings, editor};

/// A tier with as many balls on its side.
fn many(count: usize) -> String {
    let mut text =
        String::from("unit = 'mm'\n[board]\nsize = 900\n[[tier]]\nname = 'base'\nsize = 600\nheight = 400\n");
    for number in 0..count {
        let (along, up) = ((number % 200) as f64 * 9.4 - 940.0, 5.0 + (number / 200) as f64 * 7.5);
        text += &format!(
            "[[piece]]\nname = 'ball {number}'\nkind = 'ball'\nseat = {{ on = 'base', surface = 'side' }}\n\
             at = {{ along = {along:.1}, up = {up:.1} }}\nsize = 6\nfinish = 'gold'\n"
        );
    }
    text
}

fn frames(bench: &mut Criterion) {
    let mut group = bench.benchmark_group("a frame of the panels");
    for count in [20, 2000] {
        let design = Arc::new(read_design(&many(count), "").unwrap());
        let mut shown = Workbench::new(design, Arc::default()).unwrap();
        shown.take(shown.job().unwrap().run());
        shown.choose(Some(Thing::Piece("ball 3".to_owned())));
        let draw = move |ui: &mut egui::Ui, (bench, memo): &mut (Workbench, Memo)| {
            let desk = Desk { file: Path::new("cake.toml"), state: &State::Saved };
            let settings = Settings::default();
            let _ = editor(ui, &Look { bench, desk, making: None, said: &[], readout: "", settings }, memo);
        };
        let builder = Harness::builder().with_size(egui::vec2(1920.0, 1080.0));
        let mut hands = builder.build_ui_state(draw, (shown, Memo::default()));
        group.bench_function(format!("{count} pieces"), |b| b.iter(|| hands.run_steps(1)));
    }
    group.finish();
}

criterion_group!(benches, frames);
criterion_main!(benches);
