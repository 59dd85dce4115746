//! The planner against every cutting there is, and against itself.

use proptest::prelude::{ProptestConfig, Strategy, any, prop, prop_assert, prop_assert_eq, proptest};

use super::brute;
use super::lattice::{Cost, Lattice, Place, Prices};
use super::{Cutting, best, possible};

/// A place: how far from the one before it, what a seam there costs, and wishes.
fn places(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Place>> {
    // Few costs, so that many cuttings are equal; now and then a corner's bonus.
    let place =
        (1..5_i64, prop::sample::select(vec![0_i64, 0, 1, 2, 5, 9, -1]), 0..10_u8, 0..8_u8, (0..20_i64, 0..9_u32));
    let place = place.prop_map(|(run, seam, barred, pinned, (off_back, front))| Place {
        run: run * 1_000,
        seam: seam * 100_000_000,
        barred: barred < 3,
        pinned: pinned == 0,
        front: 1 << (4 * front),
        off_back,
    });
    prop::collection::vec(place, count)
}

fn prices() -> impl Strategy<Value = Prices> {
    let costs = prop::sample::select(vec![100_000_000_i64, 300_000_000, 1_000_000_000]);
    let sheets = prop::sample::select(vec![0_i64, 250_000_000, 2_000_000_000]);
    (costs, 0..80_000_i64, sheets, 1..4_usize).prop_map(|(strip, sliver, sheet, strips_on_sheet)| Prices {
        strip,
        sliver,
        sheet,
        strips_on_sheet,
    })
}

fn lattice(count: std::ops::Range<usize>) -> impl Strategy<Value = Lattice> {
    let limits = (4_000..20_000_i64, 0..5_000_i64, 1..6_000_i64, 0..9_000_i64);
    (places(count), any::<bool>(), 1..5_i64, limits, prices()).prop_map(
        |(mut places, closed, gap, (longest, last_longer, least, comfortable), prices)| {
            let mut run = 0;
            for place in &mut places {
                run += place.run;
                place.run = run;
            }
            let round = closed.then(|| run + gap * 1_000 - places[0].run);
            if !closed {
                for end in [0, places.len() - 1] {
                    places[end] = Place { run: places[end].run, ..Place::default() };
                }
            }
            let last_longer = if closed { 0 } else { last_longer };
            Lattice { places, round, longest, last_longer, least, comfortable, prices }
        },
    )
}

/// The same course, read from another place on.
fn turned(lattice: &Lattice, by: usize) -> Lattice {
    let round = lattice.round.expect("closed");
    let mut places = lattice.places.clone();
    places.rotate_left(by);
    let behind = places.len() - by;
    for place in places.iter_mut().skip(behind) {
        place.run += round;
    }
    Lattice { places, ..lattice.clone() }
}

fn without_pin(lattice: &Lattice, pin: usize) -> Lattice {
    let mut free = lattice.clone();
    free.places[pin].pinned = false;
    // A pin may stand where no other seam should; freed, it is as any other seam.
    free
}

fn costs(cutting: Option<Cutting>) -> Option<Cost> {
    cutting.map(|cutting| cutting.cost)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 4_000, ..ProptestConfig::default() })]

    #[test]
    fn no_cutting_there_is_costs_less(lattice in lattice(2..12)) {
        let found = best(&lattice);
        prop_assert_eq!(costs(found.clone()), costs(brute::best(&lattice)));
        if let Some(found) = found {
            prop_assert_eq!(brute::cost_of(&lattice, &found.seams), Some(found.cost));
        }
    }

    #[test]
    fn a_turned_cake_is_cut_at_the_same_places(lattice in lattice(3..40), by in any::<prop::sample::Index>()) {
        if lattice.round.is_some() {
            let by = by.index(lattice.places.len());
            let (found, again) = (best(&lattice), best(&turned(&lattice, by)));
            prop_assert_eq!(costs(found), costs(again));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 1_000, ..ProptestConfig::default() })]

    #[test]
    fn strips_keep_to_the_sheet_and_cover_the_course_once(lattice in lattice(3..60)) {
        if let Some(found) = best(&lattice) {
            let cost = brute::cost_of(&lattice, &found.seams);
            prop_assert_eq!(cost, Some(found.cost), "a strip is too long, or the cost is another");
            let pins: Vec<usize> = (0..lattice.places.len()).filter(|&at| lattice.places[at].pinned).collect();
            prop_assert!(pins.iter().all(|pin| found.seams.contains(pin)));
            prop_assert!(found.seams.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }

    #[test]
    fn what_is_possible_is_found(lattice in lattice(2..40)) {
        let found = best(&lattice);
        prop_assert_eq!(possible(&lattice), found.is_some_and(|found| found.cost.broken == 0));
    }

    #[test]
    fn a_pin_never_makes_it_cheaper(lattice in lattice(3..60)) {
        let Some(pinned) = best(&lattice) else { return Ok(()) };
        for pin in 0..lattice.places.len() {
            let place = lattice.places[pin];
            if place.pinned && !place.barred {
                let freed = best(&without_pin(&lattice, pin)).expect("the same cutting at least");
                prop_assert!(freed.cost <= pinned.cost);
            }
        }
    }
}

#[test]
fn no_tie_puts_a_seam_before_the_customer() {
    // Twelve places 10 mm apart, the back first and the front seventh. Two strips meet at the front, in full view, and at the
    // back; three strips cost one more and hide all their seams: the same sum.
    let place = |(at, seam): (i64, i64)| {
        let off = at.min(12 - at);
        Place { run: at * 10_000, seam: seam * 1_000, front: 1 << (5 * off), off_back: off * off, ..Place::default() }
    };
    let seams = [0, 5, 5, 5, 0, 5, 1, 5, 0, 5, 5, 5];
    let places: Vec<Place> = (0..).zip(seams).map(place).collect();
    let prices = Prices { strip: 1_000, strips_on_sheet: 1, ..Prices::default() };
    let limits =
        Lattice { round: Some(120_000), longest: 60_000, least: 1, comfortable: 1, prices, ..Lattice::default() };
    let lattice = Lattice { places, ..limits };
    let two = brute::cost_of(&lattice, &[0, 6]).expect("within the sheet");
    let found = best(&lattice).expect("a cutting");
    assert_eq!((found.seams.as_slice(), found.cost.sum), (&[0, 4, 8][..], two.sum));
    assert!(found.cost < two && two.strips < found.cost.strips);
}

#[test]
fn dear_seams_are_worth_a_strip_more() {
    // Ten places 10 mm apart round, strips of at most 50 mm; all but three places are in full view.
    let dear = |at: i64| Place { run: at * 10_000, seam: 1_000_000_000, ..Place::default() };
    let mut places: Vec<Place> = (0..10).map(dear).collect();
    for hidden in [1, 4, 7] {
        places[hidden].seam = 0;
    }
    let prices = Prices { strip: 500_000_000, strips_on_sheet: 1, ..Prices::default() };
    let lattice =
        Lattice { places, round: Some(100_000), longest: 50_000, last_longer: 0, least: 1, comfortable: 1, prices };
    // Two strips are 50 mm each, and no two of the hidden places are opposite: a third costs less than a seam in view.
    assert_eq!(best(&lattice).expect("a cutting").seams, [1, 4, 7]);
    let costly = Lattice { prices: Prices { strip: 2_000_000_000, ..prices }, ..lattice };
    assert_eq!(best(&costly).expect("a cutting").seams.len(), 2);
}
