//! How many portions, and how each tier is cut to get them.

use glam::DVec2;

use super::dial::{Dial, FINE};
use crate::art::Region;
use crate::cake::CakeTier;
use crate::kitchen::{SliceSize, cutting, portions_by_volume};
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::pdf::{ACCENT, Flow, Frame, INK, Pen, Style, TONE, Trace};
use crate::packs::words::product;

/// Height of one drawing, mm.
const TALL: f64 = 62.0;

/// Sets a diagram a tier.
pub(super) fn set(flow: &mut Flow, input: &KitchenInput) {
    let design = &input.cake.design;
    let slice = SliceSize::from(design.order.slice);
    let size = product(&[slice.width.as_mm(), slice.depth.as_mm()], design.unit);
    flow.section("Cutting", TALL + 30.0);
    let all = input.facts.servings.ordered;
    flow.paragraph(&format!("{all} portions, each {size} and the full height of its tier."), Style::STRONG);
    let told = "Rings: cut a ring as deep as a slice, then slice it; the core last. Rows and columns: straight through, both ways. By \
                area: as many slices as the top has room for; pieces at the rim are shared out. Counted on the pan, for a tier 4 in \
                high, as charts are; a taller one gives more or larger portions. First take out sticks, pins, dowels and all that is \
                not food.";
    flow.paragraph(told, Style::REMARK);
    for tier in input.cake.tiers.iter().rev() {
        one(flow, tier, slice);
    }
}

fn one(flow: &mut Flow, tier: &CakeTier, slice: SliceSize) {
    flow.need(TALL + 10.0);
    let plan = cutting(tier, slice);
    let tall = portions_by_volume(tier, slice)
        .map(|count| format!("; by volume, for its height, {count}"))
        .unwrap_or_default();
    flow.paragraph(&format!("{}: {} slices, cut {}{tall}", tier.name, plan.count, plan.method), Style::STRONG);
    if !tall.is_empty() {
        let told = "A tall tier is often said to serve more than this: that takes narrower slices, or slices shorter than the cake.";
        flow.paragraph(told, Style::REMARK);
    }
    let frame = Frame { height: TALL, ..flow.column() };
    let dial = Dial::in_frame(frame, &tier.pan);
    let page = flow.page();
    let rim = tier.pan.flat(FINE);
    page.area(vec![dial.ring(rim.iter().copied())], TONE);
    for radius in &plan.rings {
        page.trace(dial.circle(*radius), Pen::solid(0.25, ACCENT));
    }
    let shape = Region::from_paths_non_zero(std::slice::from_ref(&rim));
    for cut in &plan.cuts {
        for [from, to] in inside(&shape, *cut) {
            let points = [from, to].map(|at| dial.at(at)).to_vec();
            page.trace(Trace { points, closed: false }, Pen::solid(0.25, ACCENT));
        }
    }
    page.trace(dial.ring(rim), Pen::solid(0.35, INK));
    flow.space(TALL + 2.0);
}

/// The parts of a straight cut that lie in a figure.
fn inside(shape: &Region, [from, to]: [DVec2; 2]) -> Vec<[DVec2; 2]> {
    let way = to - from;
    let mut shares = vec![0.0, 1.0];
    for (a, b) in shape.edges() {
        let edge = b - a;
        let cross = way.perp_dot(edge);
        if cross.abs() > 1e-9 {
            let (along, beside) = ((a - from).perp_dot(edge) / cross, (a - from).perp_dot(way) / cross);
            if (0.0..=1.0).contains(&along) && (0.0..=1.0).contains(&beside) {
                shares.push(along);
            }
        }
    }
    shares.sort_by(f64::total_cmp);
    let parts = shares.iter().zip(shares.iter().skip(1)).filter(|(start, end)| *end - *start > 1e-6);
    let parts = parts.filter(|(start, end)| shape.contains(from + way * ((*start + *end) / 2.0)));
    parts.map(|(start, end)| [from + way * *start, from + way * *end]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_ends_where_the_cake_ends() {
        let square = Region::rectangle(10.0, 10.0, 0.0);
        let [part] = &inside(&square, [DVec2::new(-20.0, 1.0), DVec2::new(20.0, 1.0)])[..] else { panic!("one") };
        assert!(part[0].distance(DVec2::new(-5.0, 1.0)) < 1e-9 && part[1].distance(DVec2::new(5.0, 1.0)) < 1e-9);
        assert!(inside(&square, [DVec2::new(-20.0, 9.0), DVec2::new(20.0, 9.0)]).is_empty());
    }
}
