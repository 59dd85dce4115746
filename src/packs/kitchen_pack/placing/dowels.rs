//! Where dowels stand in a tier, and how long they are cut.

use glam::{DVec2, DVec3};

use super::dial::{Dial, FINE};
use super::tags;
use super::words::o_clock;
use crate::cake::Cake;
use crate::kitchen::{Support, supports};
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{Column, Flow, Frame, INK, MUTED, Pen, Row, Style, Table};
use crate::packs::words::{count, length};

/// Height of one drawing, mm.
const TALL: f64 = 84.0;

/// Sets the plans; none where no tier carries another.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput) {
    let supports = supports(input.cake);
    if supports.is_empty() {
        return;
    }
    flow.section("Dowels", TALL + 30.0);
    for support in &supports {
        one(flow, input.cake, support);
    }
    let told = "Cut all dowels of a tier to one length, that of its lowest point as it stands; measure before cutting. How many a cake \
                needs differs from book to book: when in doubt, ask someone who stacks cakes for a living.";
    flow.paragraph(told, Style::REMARK);
}

fn one(flow: &mut Flow, cake: &Cake, support: &Support) {
    let unit = cake.design.unit;
    let Some((below, above)) = cake.tiers.get(support.stands_in).zip(cake.tiers.get(support.under)) else { return };
    flow.need(TALL + 16.0);
    let told = format!(
        "In {}, under {}: {}, {} across, each cut to {}",
        below.name,
        above.name,
        count(support.count as usize, "dowel"),
        length(support.diameter.as_mm(), unit),
        length(support.length.as_mm(), unit)
    );
    flow.paragraph(&told, Style::STRONG);
    let frame = Frame { height: TALL, ..flow.column() };
    let dial = Dial::in_frame(frame, &below.outline);
    let page = flow.page();
    dial.face(page, &below.outline, unit);
    let back = below.pose().inverse();
    let own = |at: DVec3| {
        let at = back.transform_point3(at);
        DVec2::new(at.x, at.z)
    };
    let (pose, foot) = (above.pose(), below.foot.as_mm());
    let rim = above.pan.flat(FINE).into_iter().map(|at| own(pose.transform_point3(DVec3::new(at.x, 0.0, at.y))));
    page.trace(dial.ring(rim), Pen::dashed(0.25, MUTED, &[1.6, 1.0]));
    let (mut rows, mut numbered) = (Vec::new(), Vec::new());
    for (place, number) in support.places.iter().zip(1..) {
        let at = own(DVec3::new(place.x, foot, place.y));
        let dot = Dial { centre: dial.at(at), scale: dial.scale };
        let ring = dot.circle(support.diameter.as_mm() / 2.0);
        page.area(vec![ring.clone()], INK);
        let half = DVec2::splat(support.diameter.as_mm() / 2.0 * dial.scale);
        numbered.push((number, [dial.at(at) - half, dial.at(at) + half]));
        let side = |mm: f64, words: [&str; 2]| {
            let word = if mm > 0.0 { words[0] } else { words[1] };
            format!("{} {word}", length(mm.abs(), unit))
        };
        rows.push(Row::Cells(vec![
            number.to_string().into(),
            side(at.x, ["right", "left"]).into(),
            side(at.y, ["in front", "behind"]).into(),
            length(at.length(), unit).into(),
            o_clock(at.x, at.y).into(),
        ]));
    }
    tags::set(page, &numbered);
    flow.space(TALL + 2.0);
    let columns = vec![
        Column::figures("No.", 0.8),
        Column::figures("Beside the middle", 2.6),
        Column::figures("Before, behind", 2.6),
        Column::figures("Away", 1.8),
        Column::words("At", 2.4),
    ];
    let area = flow.column();
    flow.table(&Table { columns, rows }, area);
}
