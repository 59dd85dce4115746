//! A bench under the panels, with a cake that has a piece of every kind.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use egui_kittest::Harness;
use tierproof::art::{Art, Shelf};
use tierproof::design::read_design;
use tierproof::edits::bench::Workbench;
use tierproof::edits::journal::State;
use tierproof::panels::{Desk, Look, Memo, Said, Settings, Wish, editor, serve};

use super::eye::Eye;

/// A piece of every kind, a course of every kind, a finish, a paste and a sheet of its own.
pub const EVERYTHING: &str = r##"
title = "Everything"
unit = "in"
board = { size = 12 }
[[tier]]
name = "base"
size = 8
height = 5
icing = "1/4"
course = [
  { name = "rope", kind = "rope", size = "1/4", finish = "own" },
  { name = "print", kind = "wrap", height = 3, art = "art/a.svg", fit = "repeat", repeat = 2, under = { paste = "1/8" } },
  { name = "pearls", kind = "pearls", size = "1/4" },
  { name = "band", kind = "band", height = "1/2" },
  { name = "rest", kind = "bare", height = "fill" },
]
[[tier]]
name = "upper"
size = 5
height = 4
[[piece]]
name = "star"
kind = "topper"
art = "art/a.svg"
height = 2
seat = { on = "upper", surface = "top" }
backing = { border = "1/8" }
picks = { diameter = "1/8", into_piece = 1, into_cake = 2 }
[[piece]]
name = "plate"
kind = "plaque"
size = [2, 1]
seat = { on = "base", surface = "side" }
at = { along = 6, up = 2 }
cells = { rows = 1, columns = 2, gap = "1/8", inset = "1/16", finishes = ["white"] }
[[piece]]
name = "ball"
kind = "ball"
size = "3/4"
seat = { on = "board", surface = "board" }
at = { x = 5, z = 1 }
[[piece]]
name = "belt"
kind = "ball"
size = "1/2"
seat = { on = "base", surface = "side" }
at = { along = 9, up = 4 }
[[piece]]
name = "bubbles"
kind = "scatter"
sizes = [["1/2 in", 3], ["1/4 in", 4]]
over = { along = [-4, 4], up = [1, 3] }
seat = { on = "base", surface = "side" }
[[piece]]
name = "swag"
kind = "rope"
size = "1/4"
length = 3
sag = "1/2"
seat = { on = "upper", surface = "side" }
at = { along = 0, up = 3 }
[[piece]]
name = "bow"
kind = "bow"
ribbon = "3/4"
loop = "1 1/2"
tail = 2
seat = { on = "base", surface = "side" }
at = { along = -6, up = 3 }
[[piece]]
name = "name"
kind = "sign"
text = "Seven"
letters = { height = "1/2" }
size = [3, 1]
seat = { on = "upper", surface = "side" }
at = { along = 0, up = 1 }
[[piece]]
name = "oar"
kind = "rod"
leans_on = "base"
parts = [{ length = 8, from = "1/4", to = "1/4" }]
stick = { diameter = "1/8", into_board = "3/8" }
seat = { on = "board", surface = "board" }
at = { x = 0, z = 5.5 }
[[piece]]
name = "candle"
kind = "solid"
form = "candle"
size = ["1/2", 2]
seat = { on = "upper", surface = "top" }
at = { x = 1.5, z = 0 }
[finish.own]
color = "#4f9aa8"
[paste.mine]
color = "#ffffff"
[sheet.small]
size = [6, 8]
printable = [5.5, 7.5]
"##;

const ART: &str = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><path d='M0 0H10V10H0Z'/></svg>";

/// A bench with its window's part played by a test.
pub struct Stage {
    pub bench: Workbench,
    pub memo: Memo,
    pub settings: Settings,
    pub state: State,
    pub said: Vec<Said>,
    /// What was asked of the window.
    pub asked: Vec<Wish>,
    /// What was refused.
    pub refused: Vec<String>,
}

pub type Hands = Harness<'static, Stage>;

impl Stage {
    pub fn new(text: &str) -> Self {
        let design = Arc::new(read_design(text, "cake.toml").unwrap());
        let mut shelf = Shelf::default();
        for path in design.art_paths() {
            shelf.insert(path, Arc::new(Art::read(ART.as_bytes(), path).unwrap()));
        }
        let mut bench = Workbench::new(design, Arc::new(shelf)).unwrap();
        let done = bench.job().unwrap().run();
        bench.take(done);
        Self {
            bench,
            memo: Memo::default(),
            settings: Settings::default(),
            state: State::Saved,
            said: Vec::new(),
            asked: Vec::new(),
            refused: Vec::new(),
        }
    }

    /// One frame: panels, then what they wish.
    fn frame(&mut self, ui: &mut egui::Ui) {
        let desk = Desk { file: Path::new("/cakes/everything/cake.toml"), state: &self.state };
        let look =
            Look { bench: &self.bench, desk, making: None, said: &self.said, readout: "", settings: self.settings };
        let shown = editor(ui, &look, &mut self.memo);
        for wish in shown.wishes {
            match serve(&mut self.bench, wish, Duration::from_secs(60)) {
                Ok(Some(Wish::Set(settings))) => self.settings = settings,
                Ok(asked) => self.asked.extend(asked),
                Err(refusal) => self.refused.push(refusal.to_string()),
            }
            ui.ctx().request_repaint();
        }
    }

    /// The stage in a window of this size.
    pub fn open(self, size: (f32, f32)) -> Hands {
        self.open_before(Eye::default(), size)
    }

    /// The stage in a window of this size, looked at.
    pub fn open_before(self, eye: Eye, (width, height): (f32, f32)) -> Hands {
        let builder = Harness::builder().with_size(egui::vec2(width, height)).with_max_steps(64).renderer(eye);
        let mut hands = builder.build_ui_state(|ui, stage: &mut Self| stage.frame(ui), self);
        settle(&mut hands);
        hands
    }
}

/// Frames until nothing moves.
pub fn settle(hands: &mut Hands) {
    hands.run_steps(6);
}

/// A window as a laptop has it, with everything in it.
pub fn everything() -> Hands {
    Stage::new(EVERYTHING).open((1280.0, 800.0))
}
