//! Sets of rectangles with the sheets that we lay them on.
//!
//! The classes that papers on two-dimensional bin packing use: I to VI of J. Berkey and P. Wang, "Two-dimensional finite
//! bin-packing algorithms", Journal of the Operational Research Society 38 (1987) 423-429; VII to X of S. Martello and
//! D. Vigo, "Exact solution of the two-dimensional finite bin packing problem", Management Science 44 (1998) 388-399
//! (their ranges from memory). Then sets as a decorator has them, in micrometres: strips and small pieces on edible sheets.

use serde_json::{Value, json};
use tierproof::sheets::EFFORT;
use tierproof::sheets::nest::{Item, Space, nest};

use super::{folder, save};

/// Seeded chance: SplitMix64 (G. Steele and others, 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn between(&mut self, from: i64, to: i64) -> i64 {
        from + (self.next() % (to - from + 1) as u64) as i64
    }
}

/// Side of the square bin and longest side of an item, classes I to VI.
const BERKEY_WANG: [(i64, i64); 6] = [(10, 10), (30, 10), (40, 35), (100, 35), (100, 100), (300, 100)];

fn of_class(class: usize, count: usize, dice: &mut Dice) -> (i64, Vec<(i64, i64)>) {
    if let Some(&(side, longest)) = BERKEY_WANG.get(class) {
        return (side, (0..count).map(|_| (dice.between(1, longest), dice.between(1, longest))).collect());
    }
    // Seven in ten are of the class's own type, the others of the three other types.
    let side = 100;
    let (half, wide) = (side / 2, (2 * side + 2) / 3);
    let item = |dice: &mut Dice| {
        let own = class - BERKEY_WANG.len();
        let kind = if dice.between(1, 10) <= 7 { own } else { (own + dice.between(1, 3) as usize) % 4 };
        match kind {
            0 => (dice.between(wide, side), dice.between(1, half)),
            1 => (dice.between(1, half), dice.between(wide, side)),
            2 => (dice.between(half, side), dice.between(half, side)),
            _ => (dice.between(1, half), dice.between(1, half)),
        }
    };
    (side, (0..count).map(|_| item(dice)).collect())
}

/// A cake's prints: strips of one to three wraps, and some pieces.
fn of_a_cake(dice: &mut Dice) -> ([i64; 2], Vec<(i64, i64)>) {
    let sheet = if dice.between(0, 1) == 0 { [203_200, 266_700] } else { [200_000, 287_000] };
    let mut items = Vec::new();
    for _ in 0..dice.between(1, 3) {
        let (length, height) = (dice.between(150, sheet[1] / 1_000) * 1_000, dice.between(40, 125) * 1_000);
        items.extend((0..dice.between(2, 6)).map(|_| (length, height)));
    }
    items.extend((0..dice.between(0, 8)).map(|_| (dice.between(20, 120) * 1_000, dice.between(20, 120) * 1_000)));
    (sheet, items)
}

fn laid(name: &str, (size, gap): ([i64; 2], i64), sizes: &[(i64, i64)]) -> Value {
    let items: Vec<Item> = sizes.iter().map(|&(width, height)| Item { width, height, may_turn: true }).collect();
    let nesting = nest(&items, &Space { size, gap, reserved: None }, EFFORT);
    let places: Vec<Value> = nesting
        .places
        .iter()
        .map(|place| {
            let place = place.expect("everything fits a sheet");
            let at = place.at;
            json!({"sheet": place.sheet, "at": [at.x, at.y, at.width, at.height], "turned": place.turned})
        })
        .collect();
    json!({"name": name, "size": size, "gap": gap, "items": sizes, "sheets": nesting.sheets, "places": places})
}

#[test]
fn nested_sets() {
    let mut sets = Vec::new();
    for class in 0..10_usize {
        for (count, instances) in [(20, 12), (40, 8)] {
            for instance in 0..instances {
                let mut dice = Dice((class * 10_000 + count * 100 + instance) as u64);
                let (side, items) = of_class(class, count, &mut dice);
                let name = format!("class {} of {count}, {instance}", class + 1);
                sets.push(laid(&name, ([side; 2], 0), &items));
            }
        }
    }
    for instance in 0..40 {
        let (size, items) = of_a_cake(&mut Dice(1_000_000 + instance));
        sets.push(laid(&format!("cake {instance}"), (size, 5_000), &items));
    }
    assert_eq!(sets.len(), 240);
    save(&folder("sheets"), "sets.json", &Value::from(sets));
}
