use super::{Item, Nesting, Rect, Space, nest, nest_within, room};

const EFFORT: u64 = 300_000;

fn space(size: [i64; 2], gap: i64) -> Space {
    Space { size, gap, reserved: None }
}

fn items(sizes: &[(i64, i64)]) -> Vec<Item> {
    sizes.iter().map(|&(width, height)| Item { width, height, may_turn: true }).collect()
}

/// Everything lies on the sheet, apart by the gap, in its own size.
fn assert_sound(items: &[Item], space: &Space, nesting: &Nesting) {
    let [width, height] = space.size;
    let sheet = Rect { x: 0, y: 0, width, height };
    let gap = space.gap;
    for (number, place) in nesting.places.iter().enumerate() {
        let Some(place) = place else { continue };
        let item = items[number];
        let size = if place.turned { (item.height, item.width) } else { (item.width, item.height) };
        assert_eq!((place.at.width, place.at.height), size);
        assert!(sheet.holds(place.at) && place.sheet < nesting.sheets, "{place:?}");
        assert!(item.may_turn || !place.turned);
        let room = Rect {
            x: place.at.x - gap,
            y: place.at.y - gap,
            width: place.at.width + 2 * gap,
            height: place.at.height + 2 * gap,
        };
        assert!(space.reserved.is_none_or(|reserved| !room.meets(reserved)), "{place:?}");
        for other in nesting.places[..number].iter().flatten().filter(|other| other.sheet == place.sheet) {
            assert!(!room.meets(other.at), "{place:?} {other:?}");
        }
    }
}

/// Sizes from a seed, in steps of a tenth of a millimetre.
fn some(seed: u64, count: usize) -> Vec<Item> {
    let mut state = seed;
    let mut next = move |below: i64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as i64 % below
    };
    (0..count)
        .map(|number| Item {
            width: 5_000 + next(2_000) * 100,
            height: 5_000 + next(1_200) * 100,
            may_turn: number % 3 != 0,
        })
        .collect()
}

#[test]
fn whatever_is_nested_lies_apart_on_its_sheet_and_always_alike() {
    for seed in 0..40 {
        let items = some(seed, 3 + seed as usize % 30);
        let letter = space([203_200, 266_700], 5_000);
        for reserved in [None, Some(Rect { x: 0, y: 250_000, width: 105_000, height: 16_700 })] {
            let space = Space { reserved, ..letter };
            let nesting = nest(&items, &space, 40_000);
            assert_sound(&items, &space, &nesting);
            assert_eq!(nesting, nest(&items, &space, 40_000));
            let fits = |item: &Item| {
                item.width <= 203_200 && item.height <= 266_700 || item.may_turn && item.height <= 203_200
            };
            let left = items.iter().zip(&nesting.places).filter(|(item, place)| place.is_none() && fits(item));
            assert!(reserved.is_some() || left.count() == 0);
        }
    }
}

#[test]
fn what_fills_a_sheet_wholly_takes_one() {
    // Halves, quarters and eighths of one sheet, out of order.
    let sizes = [(50, 40), (100, 80), (25, 80), (50, 40), (25, 80)].map(|(w, h)| (w * 1_000, h * 1_000));
    let nesting = nest(&items(&sizes), &space([100_000, 160_000], 0), EFFORT);
    assert_eq!(nesting.sheets, 1);
    // With a gap of 2 mm they fit only on a sheet that is larger by the gaps.
    let gapped = nest(&items(&sizes), &space([106_000, 164_000], 2_000), EFFORT);
    assert_eq!(gapped.sheets, 1);
    assert!(nest(&items(&sizes), &space([100_000, 160_000], 2_000), EFFORT).sheets > 1);
}

#[test]
fn a_quarter_turn_saves_a_sheet_only_where_it_is_allowed() {
    // Three strips 10 1/2 in long and 2 1/2 in high: side by side the long way of a letter sheet.
    let strips = items(&[(266_700, 63_500); 3]);
    let letter = space([203_200, 266_700], 5_000);
    let nesting = nest(&strips, &letter, EFFORT);
    assert_eq!(nesting.sheets, 1);
    assert!(nesting.places.iter().flatten().all(|place| place.turned));
    let fixed: Vec<Item> = strips.iter().map(|item| Item { may_turn: false, ..*item }).collect();
    assert!(nest(&fixed, &letter, EFFORT).places.iter().all(Option::is_none));
}

#[test]
fn what_is_larger_than_a_sheet_is_left_out_and_the_rest_is_laid() {
    let nesting = nest(&items(&[(10, 10), (301, 10), (10, 10)]), &space([300, 200], 1), EFFORT);
    assert_eq!((nesting.sheets, nesting.places[1]), (1, None));
    assert!(nesting.places[0].is_some() && nesting.places[2].is_some());
    assert_eq!(nest(&[], &space([300, 200], 1), EFFORT), Nesting::default());
}

#[test]
fn strips_that_only_stand_side_by_side_need_no_search() {
    // Two of 76 mm go on a letter sheet, and none above another: five need three sheets, though their area needs two.
    let strips = items(&[(217_700, 76_200); 5]);
    let letter = space([203_200, 266_700], 5_000);
    assert_eq!(nest(&strips, &letter, 0).sheets, 3);
    assert!(nest_within(&strips, &letter, (u64::MAX, 2)).is_none());
    assert_eq!(nest_within(&strips, &letter, (0, 3)).map(|nesting| nesting.sheets), Some(3));
}

#[test]
fn no_bound_is_above_what_is_found() {
    for seed in 100..200 {
        let items = some(seed, 2 + seed as usize % 12);
        let letter = space([203_200, 266_700], 5_000);
        let found = nest(&items, &letter, 20_000).sheets;
        let laid = items.iter().filter(|item| nest(&[**item], &letter, 0).sheets == 1).count();
        let within = nest_within(&items, &letter, (20_000, found));
        assert_eq!(within.is_some(), laid == items.len(), "{seed}");
    }
}

#[test]
fn one_more_thing_has_room_where_exactly_as_much_is_free() {
    let letter = space([203_200, 266_700], 3_500);
    let column = |width: i64| Rect { x: 0, y: 0, width, height: 266_700 };
    let legend = Item { width: 106_000, height: 15_000, may_turn: true };
    let found = room(&letter, &[column(184_700)], &legend);
    assert_eq!(found, Some((Rect { x: 188_200, y: 0, width: 15_000, height: 106_000 }, true)));
    assert_eq!(room(&letter, &[column(184_701)], &legend), None);
}

#[test]
fn equal_things_lie_in_their_own_order() {
    let strips = items(&[(250_000, 60_000), (90_000, 40_000), (250_000, 60_000), (250_000, 60_000), (250_000, 60_000)]);
    let nesting = nest(&strips, &space([203_200, 266_700], 5_000), EFFORT);
    let places: Vec<(usize, i64)> = [0, 2, 3, 4]
        .iter()
        .map(|&number| nesting.places[number].map(|place| (place.sheet, place.at.x)).unwrap())
        .collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn five_hundred_strips_are_nested() {
    let strips = items(&[(250_000, 60_000); 500]);
    let nesting = nest(&strips, &space([203_200, 266_700], 5_000), 4_000_000);
    assert_eq!(nesting.sheets, 167);
}
