//! The tape: the chosen tier's side unrolled, a working surface. Pieces and seams are dragged on it as on the cake.
//!
//! What stays while something is dragged (courses, prints, rulers, the outline of every piece that is not moved) is drawn once and kept
//! by what it was drawn from; the rest is drawn anew each frame, from the cake as it is.

mod hold;
mod ink;
mod marks;
mod outlines;
mod seams;

use std::sync::Arc;

use egui::{ComboBox, Label, Rect, Sense, Ui, pos2};
use glam::DVec2;

pub(super) use self::hold::TapeDrag;
pub(super) use self::ink::Textures;
pub(super) use self::outlines::Outlines;
use super::signs::muted_line;
use super::typing::name as heard_as;
use super::{Look, Memo, Wish, words};
use crate::design::model::{Target, Tier};
use crate::edits::choose::Thing;
use crate::edits::snap::readout;
use crate::measure::Unit;
use crate::proof::tape::{RULERS, Unrolled, unrolled, unrolled_height};
use crate::wraps::WrapPlan;

/// Points to the millimetre of the page when the letters are of their usual size: 2.4 mm letters become 11 points.
const POINTS: f64 = 4.6;

/// However large the letters are, the rulers take no more than this share of a low panel, until they can't be read any more.
const MOST_RULER: f64 = 0.55;
const LEAST_POINTS: f64 = 4.0;

/// The drawing of a side, and what it was drawn from.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    tier: Tier,
    unit: Unit,
    plans: Vec<WrapPlan>,
    finishes: Vec<(String, crate::design::model::Finish)>,
    room: DVec2,
    pub side: Arc<Unrolled>,
}

/// Shows the tape.
pub fn tape(ui: &mut Ui, look: &Look<'_>, memo: &mut Memo) -> Vec<Wish> {
    let mut wishes = Vec::new();
    let Some(index) = shown(look, memo) else { return wishes };
    head(ui, (look, memo), index);
    let room = ui.available_size();
    let room = DVec2::new(f64::from(room.x), f64::from(room.y));
    let letters = POINTS * f64::from(ui.text_style_height(&egui::TextStyle::Body)) / 16.5;
    // As much as the drawing takes at this width, whatever it takes now: else the panel would shrink round it, and it with the panel.
    if let Some(full) = unrolled_height(look.bench.cake(), index, room.x / letters) {
        ui.set_min_height((full * letters).min(room.y) as f32);
    }
    let per_mm = letters.min((room.y * MOST_RULER / RULERS).max(LEAST_POINTS));
    let Some(side) = drawn(look, memo, index, (room / per_mm).floor()) else { return wishes };
    let size = side.chart.size * per_mm;
    let (place, response) = ui.allocate_exact_size(egui::vec2(size.x as f32, size.y as f32), Sense::click_and_drag());
    heard_as(ui, &response, words::TAPE);
    let onto = Onto { origin: DVec2::new(f64::from(place.left()), f64::from(place.top())), per_mm };
    ink::paint(ui, &mut memo.textures, (&side.chart, onto));
    marks::draw(ui, (look, &mut memo.outlines), (index, &side, onto));
    hold::pointer(ui, (look, memo), (index, &side, onto), (&response, &mut wishes));
    wishes
}

/// From the page to the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Onto {
    origin: DVec2,
    per_mm: f64,
}

impl Onto {
    pub fn window(self, place: DVec2) -> egui::Pos2 {
        let at = self.origin + place * self.per_mm;
        pos2(at.x as f32, at.y as f32)
    }

    pub fn page(self, at: egui::Pos2) -> DVec2 {
        (DVec2::new(f64::from(at.x), f64::from(at.y)) - self.origin) / self.per_mm
    }

    pub fn rect(self, [low, high]: [DVec2; 2]) -> Rect {
        Rect::from_two_pos(self.window(low), self.window(high))
    }
}

/// The tier whose side is shown: that of what was chosen last, else the one shown before, else the lowest.
fn shown(look: &Look<'_>, memo: &mut Memo) -> Option<usize> {
    let cake = look.bench.cake();
    if memo.tape_choice != look.bench.versions().choice {
        memo.tape_choice = look.bench.versions().choice;
        if let Some(tier) = look.bench.chosen().and_then(|thing| tier_of(look, thing)) {
            memo.tape_tier = tier;
        }
    }
    let found = cake.tiers.iter().position(|tier| tier.name == memo.tape_tier);
    found.or_else(|| (!cake.tiers.is_empty()).then_some(0))
}

fn tier_of(look: &Look<'_>, thing: &Thing) -> Option<String> {
    match thing {
        Thing::Board => None,
        Thing::Tier(name) => Some(name.clone()),
        Thing::Course(name) | Thing::Seam(name, _) => Some(name.tier.clone()),
        Thing::Piece(name) => {
            let piece = look.bench.design().pieces.iter().find(|piece| piece.name == *name)?;
            match &piece.seat.on {
                Target::Tier(name) => Some(name.clone()),
                Target::Board | Target::Piece(_) => None,
            }
        }
    }
}

/// Which tier, its sizes, and where what is chosen sits.
fn head(ui: &mut Ui, (look, memo): (&Look<'_>, &mut Memo), index: usize) {
    let cake = look.bench.cake();
    let Some(tier) = cake.tiers.get(index) else { return };
    // One line, however much it says: the drawing below must not move under a hand that drags on it.
    ui.horizontal(|ui| {
        let shown = ComboBox::from_id_salt("tape tier").selected_text(&tier.name).show_ui(ui, |ui| {
            for other in cake.tiers.iter().rev() {
                if ui.selectable_label(other.name == tier.name, &other.name).clicked() {
                    memo.tape_tier.clone_from(&other.name);
                }
            }
        });
        heard_as(ui, &shown.response, "Side of");
        let [around, high] =
            [tier.around(), tier.height].map(|length| crate::measure::show_length(length, cake.design.unit));
        muted_line(ui, format!("{around} round, {high} high"));
        let says = match look.bench.chosen() {
            _ if !look.readout.is_empty() => look.readout.to_owned(),
            Some(Thing::Piece(name)) => {
                readout(cake, name).map(|readout| format!("“{name}”: {readout}")).unwrap_or_default()
            }
            _ => String::new(),
        };
        let snapped = memo.tape_snapped.join(", ");
        let parts: Vec<String> = [says, snapped].into_iter().filter(|part| !part.is_empty()).collect();
        ui.add(Label::new(parts.join(" · ")).truncate());
    });
}

/// The drawing of a side: the one kept where nothing of it changed.
fn drawn(look: &Look<'_>, memo: &mut Memo, index: usize, room: DVec2) -> Option<Arc<Unrolled>> {
    let (cake, plans) = (look.bench.cake(), look.bench.plans());
    let tier = cake.design.tiers.get(index)?;
    let own: Vec<WrapPlan> = plans.iter().filter(|plan| plan.tier == index).cloned().collect();
    let finishes: Vec<_> = cake.design.finishes.iter().map(|(name, finish)| (name.clone(), finish.clone())).collect();
    if let Some(kept) = memo.drawn.as_ref().filter(|kept| {
        kept.tier == *tier
            && kept.unit == cake.design.unit
            && kept.plans == own
            && kept.finishes == finishes
            && kept.room == room
    }) {
        return Some(Arc::clone(&kept.side));
    }
    let side = Arc::new(unrolled(cake, plans, index, room)?);
    memo.drawn =
        Some(Drawn { tier: tier.clone(), unit: cake.design.unit, plans: own, finishes, room, side: Arc::clone(&side) });
    Some(side)
}
