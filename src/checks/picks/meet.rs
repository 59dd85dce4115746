//! `pick-meets-pick`, `pick-meets-piece`: sticks and pins of one piece against those of others, and against other pieces.
//!
//! A stick goes through its own piece and through what carries it; both are meant. Boxes come first, and a piece's solids are
//! made only when a stick's box meets the piece's.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::cake::extent::piece_box;
use crate::cake::pieces::PickMeasure;
use crate::cake::solids::SolidStock;
use crate::cake::{Cake, CakePiece};
use crate::design::model::{Piece, Target};
use crate::findings::{Code, Finding, Place, Threshold};
use crate::measure::{Length, show_length};
use crate::shapes::solid::{Standing, near_pairs};

/// Places along a stick at which it is looked whether it is in another piece: so far apart, mm, and so many at most.
const STEP: f64 = 1.0;
const MOST: f64 = 500.0;

/// A stick where it stands.
struct Stick<'a> {
    piece: &'a Piece,
    pick: &'a PickMeasure,
    ends: [DVec3; 2],
}

impl<'a> Stick<'a> {
    fn of(piece: &'a Piece, placed: &CakePiece, pick: &'a PickMeasure) -> Self {
        let deep = pick.entry + pick.toward * pick.into_cake.as_mm();
        let ends = [deep, deep - pick.toward * pick.length.as_mm()].map(|at| placed.pose.transform_point3(at));
        Self { piece, pick, ends }
    }

    fn radius(&self) -> f64 {
        self.pick.diameter.as_mm() / 2.0
    }

    fn around(&self, room: f64) -> (DVec3, DVec3) {
        let [from, to] = self.ends;
        (from.min(to) - room, from.max(to) + room)
    }

    /// The deepest that its middle line lies in any of these.
    fn deepest(&self, solids: &[Standing]) -> f64 {
        let [from, to] = self.ends;
        let steps = (from.distance(to) / STEP).ceil().clamp(1.0, MOST) as u32;
        let places = (0..=steps).map(|step| from.lerp(to, f64::from(step) / f64::from(steps)));
        let depths = places.flat_map(|at| solids.iter().map(move |solid| solid.depth(at).inside));
        depths.fold(0.0, f64::max)
    }
}

pub(in crate::checks) fn check(cake: &Cake) -> Vec<Finding> {
    let pieces: Vec<(&Piece, &CakePiece)> =
        cake.pieces.iter().filter_map(|placed| Some((cake.designed(placed)?, placed))).collect();
    let sticks: Vec<Stick> = pieces
        .iter()
        .flat_map(|(piece, placed)| placed.measure.picks.iter().map(|pick| Stick::of(piece, placed, pick)))
        .collect();
    if sticks.is_empty() {
        return Vec::new();
    }
    let room = Threshold::PickToPick.value();
    let boxes: Vec<_> = sticks
        .iter()
        .map(|stick| stick.around(stick.radius() + room))
        .chain(pieces.iter().map(|(_, placed)| piece_box(cake, placed)))
        .map(
            |(low, high)| {
                if low.is_finite() && high.is_finite() { (low, high) } else { (DVec3::INFINITY, DVec3::INFINITY) }
            },
        )
        .collect();
    let mut meetings = Meetings { cake, worst: BTreeMap::new(), made: BTreeMap::new(), stock: SolidStock::default() };
    for (one, other) in near_pairs(&boxes, |_| true) {
        match (sticks.get(one), sticks.get(other)) {
            (Some(one), Some(other)) => meetings.sticks(one, other),
            (Some(stick), None) => {
                if let Some(met) = pieces.get(other - sticks.len()) {
                    meetings.piece(stick, *met);
                }
            }
            _ => {}
        }
    }
    meetings.findings()
}

/// What was found so far: by the piece whose stick it is, the deepest meeting of each code.
struct Meetings<'a> {
    cake: &'a Cake,
    worst: BTreeMap<(&'a str, Code), (Length, String)>,
    made: BTreeMap<&'a str, Vec<Standing>>,
    stock: SolidStock,
}

impl<'a> Meetings<'a> {
    fn sticks(&mut self, one: &Stick<'a>, other: &Stick<'a>) {
        if one.piece.name == other.piece.name {
            return;
        }
        let clear = Threshold::PickToPick.value() + one.radius() + other.radius();
        let by = clear - apart(one.ends, other.ends);
        let sentence =
            format!("its {} runs into a {} of '{}'", other.pick.kind.word(), one.pick.kind.word(), one.piece.name);
        self.note((&other.piece.name, Code::PickMeetsPick), by, sentence);
    }

    fn piece(&mut self, stick: &Stick<'a>, (met, placed): (&'a Piece, &CakePiece)) {
        if stick.piece.name == met.name || carries(met, stick.piece) || carries(stick.piece, met) {
            return;
        }
        let solids = self.made.entry(&met.name).or_insert_with(|| self.stock.piece(self.cake, placed));
        let depth = stick.deepest(solids);
        if depth > Threshold::Overlap.value() {
            let sentence = format!("its {} runs into '{}'", stick.pick.kind.word(), met.name);
            self.note((&stick.piece.name, Code::PickMeetsPiece), depth + stick.radius(), sentence);
        }
    }

    fn note(&mut self, key: (&'a str, Code), by: f64, sentence: String) {
        let by = Length::mm(by);
        let known = self.worst.get(&key).is_some_and(|(known, _)| *known >= by);
        if by.as_mm() > 1e-6 && !known {
            self.worst.insert(key, (by, sentence));
        }
    }

    fn findings(self) -> Vec<Finding> {
        let unit = self.cake.design.unit;
        let say = |((name, code), (by, sentence)): ((&str, Code), (Length, String))| {
            let mend = format!("move one of the two by {}, or take a shorter stick", show_length(by, unit));
            Finding::new(code, Place::piece(name), sentence, mend).by(by)
        };
        self.worst.into_iter().map(say).collect()
    }
}

/// Whether one piece sits on the other.
fn carries(below: &Piece, above: &Piece) -> bool {
    matches!(&above.seat.on, Target::Piece(name) if name == &below.name)
}

/// How near two straight lines between their ends come to each other: at two inner places, or at an end of one.
fn apart([a, b]: [DVec3; 2], [c, d]: [DVec3; 2]) -> f64 {
    let ends = to_line(a, [c, d]).min(to_line(b, [c, d])).min(to_line(c, [a, b])).min(to_line(d, [a, b]));
    let (one, other, between) = (b - a, d - c, c - a);
    let across = one.cross(other);
    let square = across.length_squared();
    let shares = [between.cross(other), between.cross(one)].map(|side| side.dot(across) / square);
    let inner = square > 1e-9 && shares.iter().all(|share| (0.0..=1.0).contains(share));
    if inner { ends.min(between.dot(across).abs() / square.sqrt()) } else { ends }
}

fn to_line(place: DVec3, [from, to]: [DVec3; 2]) -> f64 {
    let way = to - from;
    let share = ((place - from).dot(way) / way.length_squared().max(1e-12)).clamp(0.0, 1.0);
    place.distance(from + way * share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;

    const TIER: &str = "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n";

    fn topper(x: f64) -> String {
        format!(
            "[[piece]]\nname = \"t\"\nkind = \"topper\"\nseat = {{ on = \"a\", surface = \"top\" }}\nat = {{ x = {x}, z = 60 }}\n\
             art = \"square.svg\"\nheight = 30\nthickness = 8\nfinish = \"white\"\n\
             picks = {{ count = 1, diameter = 3, into_piece = 10, into_cake = 50 }}\n"
        )
    }

    fn ball(along: f64) -> String {
        format!(
            "[[piece]]\nname = \"b\"\nkind = \"ball\"\nseat = {{ on = \"a\", surface = \"side\" }}\nat = {{ along = {along}, up = 70 }}\n\
             size = 24\npin = true\nfinish = \"gold\"\n"
        )
    }

    #[test]
    fn the_stick_of_a_topper_and_the_pin_of_a_ball_keep_apart() {
        // The pin comes in 16 mm deep at the front, 30 mm below the top, where the stick stands 15 mm from the side.
        let found = check(&cake(&(TIER.to_owned() + &topper(0.0) + &ball(0.0))));
        let [finding] = &found[..] else { panic!("{found:?}") };
        assert!(finding.code == Code::PickMeetsPick && finding.sentence.contains("'t'"), "{finding:?}");
        // Their middle lines meet: both radii and the room between are lacking.
        assert!((finding.by.unwrap().as_mm() - (1.5 + 1.0 + 1.0)).abs() < 1e-6, "{finding:?}");
        assert_eq!(check(&cake(&(TIER.to_owned() + &topper(0.0) + &ball(20.0)))), []);
    }

    #[test]
    fn a_stick_keeps_out_of_other_pieces() {
        let flat = "[[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = { on = \"a\", surface = \"top\" }\n\
                    at = { x = 0, z = 60 }\nsize = [20, 20]\nthickness = 6\nfinish = \"white\"\n";
        let codes = |tables: String| check(&cake(&tables)).iter().map(|finding| finding.code).collect::<Vec<_>>();
        assert_eq!(codes(TIER.to_owned() + flat + &topper(0.0)), [Code::PickMeetsPiece]);
        assert_eq!(codes(TIER.to_owned() + flat + &topper(30.0)), []);
        // On the plate itself its stick goes through it.
        let on_plate = topper(0.0).replace("on = \"a\"", "on = \"plate\"").replace("z = 60", "z = 0");
        assert_eq!(codes(TIER.to_owned() + flat + &on_plate), []);
    }

    #[test]
    fn straight_lines_are_as_far_apart_as_their_nearest_places() {
        let line = |a: [f64; 3], b: [f64; 3]| [DVec3::from(a), DVec3::from(b)];
        let level = line([-5.0, 0.0, 0.0], [5.0, 0.0, 0.0]);
        assert_eq!(apart(level, line([0.0, 3.0, -5.0], [0.0, 3.0, 5.0])), 3.0);
        assert_eq!(apart(level, line([8.0, 4.0, 0.0], [12.0, 4.0, 0.0])), 5.0);
        assert_eq!(apart(level, line([0.0, 2.0, 0.0], [0.0, 9.0, 0.0])), 2.0);
        assert_eq!(apart(level, line([-9.0, 1.0, 0.0], [9.0, 1.0, 0.0])), 1.0);
    }
}
