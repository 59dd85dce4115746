//! `tier-not-supported`, `dowel-meets-pick`, `heavy-load`, `heavy-cake`: what carries the tiers, and what it all weighs.

use glam::{DVec2, DVec3};

use crate::cake::{Cake, CakeTier};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::kitchen::{Support, cake_mass, supports};
use crate::measure::{Length, Mass, show_length, show_load};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let mut findings: Vec<Finding> = supports(cake)
        .iter()
        .filter_map(|support| Some((support, cake.tiers.get(support.under)?, cake.tiers.get(support.stands_in)?)))
        .flat_map(|(support, under, below)| {
            let place = Place::tier(&under.name);
            let found = [
                too_few(support),
                no_cake(cake, support, below),
                meets_pick(cake, support, below),
                heavy_load(support),
            ];
            found.into_iter().flatten().map(move |finding| Finding { place: place.clone(), ..finding })
        })
        .collect();
    findings.extend(heavy_cake(cake));
    findings
}

/// Fewer dowels than any book says.
fn too_few(support: &Support) -> Option<Finding> {
    let [least, most] = support.row.range;
    (support.count < least).then(|| {
        let has = match support.count {
            0 => "no dowels stand".to_owned(),
            1 => "one dowel stands".to_owned(),
            count => format!("{count} dowels stand"),
        };
        let sentence = format!("{has} under it, books say {least} to {most}");
        Finding::new(Code::TierNotSupported, "", sentence, format!("plan {} dowels", support.row.count))
    })
}

/// Dowels that would stand beside the cake, or so near its side that it breaks out.
fn no_cake(cake: &Cake, support: &Support, below: &CakeTier) -> Option<Finding> {
    let least = Threshold::DowelToCakeSide.value();
    let lacking = support.places.iter().map(|place| least + below.outline.beyond(in_tier(below, *place)));
    let outside: Vec<f64> = lacking.filter(|lacking| *lacking > 1e-6).collect();
    let by = Length::mm(outside.iter().copied().fold(0.0, f64::max));
    (!outside.is_empty()).then(|| {
        let says = show_length(by, cake.design.unit);
        let (count, all) = (outside.len(), support.places.len());
        let sentence = format!("{count} of its {all} dowels stand too near the side of '{}' or beside it", below.name);
        let mend = format!("move it {says} inward, or set its dowels {says} further in");
        Finding::new(Code::TierNotSupported, "", sentence, mend).by(by)
    })
}

/// A dowel that would run into a stick of a piece on the same tier.
fn meets_pick(cake: &Cake, support: &Support, below: &CakeTier) -> Option<Finding> {
    let clear = Threshold::DowelToPick.value() + support.diameter.as_mm() / 2.0;
    let meetings = cake.pieces.iter().flat_map(|placed| {
        let piece = cake.designed(placed);
        let here = piece.filter(|piece| piece.seat.on.word() == below.name);
        let picks = here.into_iter().flat_map(move |piece| placed.measure.picks.iter().map(move |pick| (piece, pick)));
        picks.flat_map(move |(piece, pick)| {
            let from = placed.pose.transform_point3(pick.entry);
            let to = from + placed.pose.transform_vector3(pick.toward) * pick.into_cake.as_mm();
            let apart = support.places.iter().map(move |place| away_from([from, to], *place));
            apart.map(move |apart| (piece, clear + pick.diameter.as_mm() / 2.0 - apart))
        })
    });
    let (piece, by) = meetings.max_by(|a, b| a.1.total_cmp(&b.1))?;
    (by > 1e-6).then(|| {
        let by = Length::mm(by);
        let sentence = format!("a dowel under it would run into a stick of '{}'", piece.name);
        let mend = format!("move the piece by {}, or turn the ring of dowels", show_length(by, cake.design.unit));
        Finding::new(Code::DowelMeetsPick, "", sentence, mend).by(by)
    })
}

/// How near a straight stick comes to an upright line, mm.
fn away_from([from, to]: [DVec3; 2], line: DVec2) -> f64 {
    let [from, to] = [from, to].map(|at| DVec2::new(at.x, at.z));
    let way = to - from;
    let share = ((line - from).dot(way) / way.length_squared().max(1e-9)).clamp(0.0, 1.0);
    from.lerp(to, share).distance(line)
}

fn heavy_load(support: &Support) -> Option<Finding> {
    let (each, usual) = (support.load_each(), Threshold::LoadOnDowel.value());
    (support.count > 0 && each > usual).then(|| {
        let says = |grams| show_load(Mass::grams(grams));
        let sentence =
            format!("with what stands on it it weighs about {}: {} on each dowel", says(support.load), says(each));
        Finding::new(Code::HeavyLoad, "", sentence, "more dowels, or thicker ones of plastic, and a firm card")
    })
}

fn heavy_cake(cake: &Cake) -> Option<Finding> {
    let mass = cake_mass(cake);
    (mass > Threshold::HeavyCake.value()).then(|| {
        let sentence = format!("it weighs about {} without its board", show_load(Mass::grams(mass)));
        Finding::new(
            Code::HeavyCake,
            "cake",
            sentence,
            "carry it with two people, or put the tiers together at the venue",
        )
    })
}

/// A place of the cake's plan in a tier's own plan.
fn in_tier(tier: &CakeTier, place: DVec2) -> DVec2 {
    let own = tier.pose().inverse().transform_point3(DVec3::new(place.x, 0.0, place.y));
    DVec2::new(own.x, own.z)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    fn codes(upper: &str, pieces: &str) -> Vec<(Code, Option<f64>)> {
        let tables = format!(
            "[[tier]]\nname = \"low\"\nsize = 254\nheight = 100\n[[tier]]\nname = \"high\"\nheight = 100\n{upper}\n{pieces}"
        );
        let found = check(&cake(&tables)).into_iter();
        found.map(|finding| (finding.code, finding.by.map(|by| (by.as_mm() * 10.0).round() / 10.0))).collect()
    }

    #[test]
    fn a_tier_has_enough_dowels_and_they_find_cake() {
        assert_eq!(codes("size = 152.4", ""), []);
        assert_eq!(codes("size = 152.4\ndowels = { count = 3 }", ""), [(Code::TierNotSupported, None)]);
        assert_eq!(codes("size = 152.4\ndowels = { count = 0 }", ""), [(Code::TierNotSupported, None)]);
        // Set 100 mm to the right, the dowels reach to 100 + 38.1·cos 45° along x and 38.1·sin 45° along z.
        let reach = (100.0_f64 + 38.1 * 0.5_f64.sqrt()).hypot(38.1 * 0.5_f64.sqrt());
        let by = ((reach + 12.0 - 127.0) * 10.0).round() / 10.0;
        assert_eq!(codes("size = 152.4\nat = [100, 0]", ""), [(Code::TierNotSupported, Some(by))]);
    }

    #[test]
    fn a_dowel_and_a_stick_keep_apart() {
        let ball = |x: f64| {
            format!(
                "[[piece]]\nname = \"b\"\nkind = \"topper\"\nseat = {{ on = \"low\", surface = \"top\" }}\nat = {{ x = {x}, z = {x} }}\n\
                 art = \"square.svg\"\nheight = 30\nthickness = 8\nfinish = \"white\"\n\
                 picks = {{ count = 1, diameter = 3, into_piece = 10, into_cake = 50 }}\n"
            )
        };
        // A dowel stands at 38.1·√½ = 26.9 mm in x and z.
        assert_eq!(codes("size = 152.4", &ball(60.0)), []);
        let found = codes("size = 152.4", &ball(30.0));
        let by = 3.0 + 3.175 + 1.5 - (30.0 - 38.1 * 0.5_f64.sqrt()) * 2.0_f64.sqrt();
        assert_eq!(found, [(Code::DowelMeetsPick, Some((by * 10.0).round() / 10.0))]);
    }

    #[test]
    fn what_is_heavy_is_said() {
        let heavy = codes("size = 250\nicing = 20\ndowels = { count = 4, inset = 20 }", "");
        assert_eq!(heavy.iter().map(|found| found.0).collect::<Vec<_>>(), [Code::HeavyLoad, Code::HeavyCake]);
        let tower = cake("[[tier]]\nname = \"a\"\nsize = 400\nheight = 120\nicing = 10\n");
        assert_eq!(check(&tower)[0].code, Code::HeavyCake);
    }
}
