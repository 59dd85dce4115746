//! Where the picks of a topper go: under the middle of its weight, inside it as deep as they go, evenly to both sides.

use glam::{DVec2, DVec3};

use super::columns::{Columns, Socket};
use super::habits::HABITS;
use crate::art::Region;
use crate::cake::pieces::{PickKind, PickMeasure, Posture, Shortfall};
use crate::design::model::pieces::{Picks, SidePins};
use crate::findings::Threshold;
use crate::measure::Length;

/// Several sticks stand apart by this share of the topper's width in all (common practice, no source).
const STICKS_APART: f64 = 0.5;
/// Side pins, nearer to its edges, by this share (common practice, no source).
const PINS_APART: f64 = 0.7;

/// What picks are set in: figures in the topper's own plane, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Held<'a> {
    /// The layer that carries it.
    pub region: &'a Region,
    /// From the figure's middle to where it lies in the piece's frame.
    pub shift: DVec2,
    /// The middle of its weight, about the figure's middle.
    pub balance: DVec2,
    /// Its whole thickness, front to back.
    pub thickness: f64,
    /// Where in its depth the middle of that layer is.
    pub depth: f64,
}

/// Equal picks of one piece.
#[derive(Clone, Copy, Debug)]
struct Set {
    kind: PickKind,
    count: u32,
    diameter: Length,
    into_piece: Length,
    into_cake: Length,
    /// How far apart in all, as a share of the piece's width.
    apart: f64,
    /// Where one alone goes: 0 in the middle, 1 where the last of several would go.
    alone: f64,
}

/// The sticks and the side pins.
fn sets(picks: &Picks) -> Vec<Set> {
    let Picks { count, diameter, into_piece, into_cake, side_pins } = *picks;
    let sticks = Set { kind: PickKind::Stick, count, diameter, into_piece, into_cake, apart: STICKS_APART, alone: 0.0 };
    let pins = side_pins.map(|SidePins { count, diameter, into_piece, into_cake }| Set {
        kind: PickKind::SidePin,
        count,
        diameter,
        into_piece,
        into_cake,
        apart: PINS_APART,
        alone: 1.0,
    });
    std::iter::once(sticks).chain(pins).collect()
}

/// Every pick of a topper, and what has no room.
pub(super) fn place(picks: &Picks, held: &Held, posture: Posture) -> (Vec<PickMeasure>, Vec<Shortfall>) {
    let columns = Columns::of(held.region, held.balance.x);
    let mut ground = Ground { held, columns, width: width(held.region), taken: Vec::new() };
    let (mut placed, mut lacking) = (Vec::new(), Vec::new());
    for set in sets(picks) {
        let found = match posture {
            Posture::OnTop => ground.stand(&set),
            Posture::OnSide => ground.pin(&set),
        };
        lacking.extend(no_room(&set, &found));
        placed.extend(found.into_iter().map(|(pick, _)| pick));
    }
    lacking.extend(off_balance(&placed, held));
    (placed, lacking)
}

fn width(region: &Region) -> f64 {
    region.bounds().map_or(0.0, |(low, high)| high.x - low.x)
}

/// A pick and how deep it could go.
type Found = (PickMeasure, f64);

/// The picks of a set that have not the room they are to have, as one.
fn no_room(set: &Set, found: &[Found]) -> Option<Shortfall> {
    let (pick, room) = found.iter().min_by(|one, other| one.1.total_cmp(&other.1))?;
    (*room < set.into_piece.as_mm() - 0.05).then(|| Shortfall::PickRoom {
        kind: set.kind,
        asked: set.into_piece,
        room: Length::mm(*room),
        at: pick.enters_piece().truncate(),
    })
}

/// Whether the sticks stand beside the weight they carry.
fn off_balance(placed: &[PickMeasure], held: &Held) -> Option<Shortfall> {
    let sticks = || placed.iter().filter(|pick| pick.kind == PickKind::Stick).map(|pick| pick.entry.x);
    let off = sticks().sum::<f64>() / sticks().count().max(1) as f64 - (held.balance + held.shift).x;
    let told = sticks().next().is_some() && off.abs() > Threshold::OffBalance.value();
    told.then_some(Shortfall::OffBalance { right: Length::mm(off) })
}

/// The piece with the picks it has so far.
struct Ground<'a> {
    held: &'a Held<'a>,
    columns: Columns,
    width: f64,
    /// Where the picks are that were set, and half of how wide each is.
    taken: Vec<(f64, f64)>,
}

impl Ground<'_> {
    /// Picks that come up from the seat.
    fn stand(&mut self, set: &Set) -> Vec<Found> {
        let half = self.columns.line(self.width * set.apart / 2.0);
        let halves: Vec<i64> = self.columns.from(half).filter(|half| *half > 0 && set.count > 1).collect();
        // Rather nearer to the middle than bare under the piece for a long way.
        let even = set.bare().find_map(|bare| halves.iter().find_map(|half| self.evenly(set, *half, bare)));
        let places = even.unwrap_or_else(|| self.singly(set, half));
        let pick = |(x, socket): (f64, Socket)| {
            let entry = DVec3::new(x + self.held.shift.x, 0.0, self.held.depth);
            let gap = (socket.foot + self.held.shift.y).max(0.0);
            (set.pick([entry, DVec3::NEG_Y], gap), socket.room)
        };
        places.into_iter().map(pick).collect()
    }

    /// Evenly to both sides of the middle, the outermost so many lines from it, if each has its room there.
    fn evenly(&mut self, set: &Set, half: i64, bare: f64) -> Option<Vec<(f64, Socket)>> {
        let before = self.taken.len();
        let places: Option<Vec<_>> = set.shares().map(|share| self.fits(set, line_at(half, share), bare)).collect();
        if places.is_none() {
            self.taken.truncate(before);
        }
        places
    }

    /// The socket at a line, where it is deep enough, no higher above the seat than may be bare, and no other pick is near;
    /// it is taken then.
    fn fits(&mut self, set: &Set, line: i64, bare: f64) -> Option<(f64, Socket)> {
        let x = self.columns.place(line);
        let socket = self.columns.socket(line, set.diameter.as_mm()).filter(|_| self.free(set, x))?;
        let holds = socket.room >= set.into_piece.as_mm() && socket.foot + self.held.shift.y <= bare;
        holds.then(|| {
            self.taken.push((x, set.diameter.as_mm() / 2.0));
            (x, socket)
        })
    }

    fn free(&self, set: &Set, x: f64) -> bool {
        let half = set.diameter.as_mm() / 2.0;
        self.taken.iter().all(|(other, its_half)| (x - other).abs() >= half + its_half + HABITS.beside_a_pick)
    }

    /// Each as near to its place as it has room; where none has, at the deepest.
    fn singly(&mut self, set: &Set, half: i64) -> Vec<(f64, Socket)> {
        let one = |share| {
            let wanted = line_at(half, share);
            let lines = self.columns.from(wanted).collect::<Vec<_>>();
            let near = set.bare().find_map(|bare| lines.iter().find_map(|line| self.fits(set, *line, bare)));
            near.unwrap_or_else(|| self.deepest(set, wanted))
        };
        set.shares().map(one).collect()
    }

    fn deepest(&mut self, set: &Set, wanted: i64) -> (f64, Socket) {
        let across = set.diameter.as_mm();
        let mut best = (self.columns.place(wanted), Socket { foot: -self.held.shift.y, room: 0.0 });
        for line in self.columns.from(wanted) {
            let x = self.columns.place(line);
            let socket = self.columns.socket(line, across).filter(|_| self.free(set, x));
            // Not a hair deeper, but so that it is worth standing further off.
            best = socket.filter(|socket| socket.room > best.1.room + 0.5).map_or(best, |socket| (x, socket));
        }
        self.taken.push((best.0, across / 2.0));
        best
    }

    /// Pins that go in from behind, at the height of the weight.
    fn pin(&mut self, set: &Set) -> Vec<Found> {
        let places = set.shares().map(|share| {
            let wanted = self.held.balance + DVec2::X * (self.width * set.apart / 2.0 * share);
            self.columns.nearest(wanted, set.diameter.as_mm() / 2.0).unwrap_or(wanted) + self.held.shift
        });
        places.map(|at| (set.pick([at.extend(0.0), DVec3::NEG_Z], 0.0), self.held.thickness)).collect()
    }
}

/// The line so far out, as a share of the outermost one's way from the middle.
fn line_at(half: i64, share: f64) -> i64 {
    (half as f64 * share).round() as i64
}

impl Set {
    /// How much of a pick may be bare between its seat and its piece, mm, by preference. One stick alone stands where the
    /// weight is, bare or not.
    fn bare(&self) -> impl Iterator<Item = f64> + use<> {
        let hidden = (self.count > 1 || self.kind == PickKind::SidePin).then_some(HABITS.bare_pick);
        hidden.into_iter().chain([f64::INFINITY])
    }

    /// Places of its picks from -1 to 1.
    fn shares(&self) -> impl Iterator<Item = f64> + use<> {
        let (count, alone) = (self.count, self.alone);
        (0..count)
            .map(move |number| if count == 1 { alone } else { 2.0 * f64::from(number) / f64::from(count - 1) - 1.0 })
    }

    /// One that enters the seat there, in that direction, and the piece beyond a gap.
    fn pick(&self, [entry, toward]: [DVec3; 2], gap: f64) -> PickMeasure {
        PickMeasure {
            kind: self.kind,
            diameter: self.diameter,
            length: self.into_cake + Length::mm(gap) + self.into_piece,
            into_piece: self.into_piece,
            into_cake: self.into_cake,
            entry,
            toward,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picks(count: u32, into_piece: f64, pins: Option<(u32, f64)>) -> Picks {
        let side_pins = pins.map(|(count, into_piece)| SidePins {
            count,
            diameter: Length::mm(1.5),
            into_piece: Length::mm(into_piece),
            into_cake: Length::mm(30.0),
        });
        let [diameter, into_piece, into_cake] = [3.0, into_piece, 60.0].map(Length::mm);
        Picks { count, diameter, into_piece, into_cake, side_pins }
    }

    fn set(region: &Region, picks: &Picks) -> (Vec<PickMeasure>, Vec<Shortfall>) {
        let (low, _) = region.bounds().unwrap();
        let balance = region.centroid().unwrap();
        let held = Held { region, shift: DVec2::Y * -low.y, balance, thickness: 6.0, depth: 0.0 };
        place(picks, &held, Posture::OnTop)
    }

    fn places(picks: &[PickMeasure]) -> Vec<f64> {
        picks.iter().map(|pick| pick.entry.x).collect()
    }

    /// A boot: a leg 20 wide and 60 high at the left, a foot 60 long and 20 high.
    fn boot() -> Region {
        let leg = Region::rectangle(20.0, 60.0, 0.0).moved(DVec2::new(-20.0, 30.0));
        leg.union(&Region::rectangle(60.0, 20.0, 0.0).moved(DVec2::Y * 10.0))
    }

    /// Whether the whole width of a pick is inside for all its depth.
    fn is_inside(region: &Region, pick: &PickMeasure) -> bool {
        let (enters, half) = (pick.enters_piece(), pick.diameter.as_mm() / 2.0);
        let steps = (0..=40).map(|step| 0.02 + f64::from(step) / 40.0 * (pick.into_piece.as_mm() - 0.04));
        let across = [-half, 0.0, half].map(|off| off * 0.99);
        steps.into_iter().all(|up| across.iter().all(|off| region.contains(DVec2::new(enters.x + off, enters.y + up))))
    }

    #[test]
    fn a_pick_stands_under_the_weight_or_as_near_as_it_has_room() {
        let boot = boot();
        let balance = boot.centroid().unwrap().x;
        let (short, lacking) = set(&boot, &picks(1, 15.0, None));
        assert_eq!((places(&short), lacking.len()), (vec![balance], 0));
        // Deeper than the foot is high, it goes up the leg, whose side is at -10.
        let (long, lacking) = set(&boot, &picks(1, 45.0, None));
        assert!((long[0].entry.x + 11.5).abs() <= 0.5 && is_inside(&boot, &long[0]), "{long:?}");
        assert!(matches!(lacking[..], [Shortfall::OffBalance { right }] if right < Length::ZERO), "{lacking:?}");
        // Nowhere is it 80 deep.
        let (_, lacking) = set(&boot, &picks(1, 80.0, None));
        let room = lacking.iter().find_map(|lacking| match lacking {
            Shortfall::PickRoom { room, .. } => Some(room.as_mm()),
            _ => None,
        });
        assert!(room.is_some_and(|room| (room - 60.0).abs() < 0.01), "{lacking:?}");
    }

    #[test]
    fn several_stand_evenly_and_side_pins_keep_clear_of_them() {
        let plate = Region::rectangle(80.0, 60.0, 0.0);
        let (placed, lacking) = set(&plate, &picks(2, 40.0, Some((2, 20.0))));
        assert_eq!((places(&placed), lacking.len()), (vec![-20.0, 20.0, -28.0, 28.0], 0));
        let kinds: Vec<&str> = placed.iter().map(|pick| pick.kind.word()).collect();
        assert_eq!(kinds, ["stick", "stick", "side pin", "side pin"]);
        let (placed, _) = set(&plate, &picks(1, 40.0, Some((1, 20.0))));
        assert_eq!(places(&placed), [0.0, 28.0]);
        // A table whose legs are all that is deep enough: the sticks go up the legs.
        let leg = |x: f64| Region::rectangle(6.0, 40.0, 0.0).moved(DVec2::new(x, 20.0));
        let table = leg(-30.0).union(&leg(30.0)).union(&Region::rectangle(80.0, 10.0, 0.0).moved(DVec2::Y * 45.0));
        let (placed, lacking) = set(&table, &picks(2, 35.0, None));
        assert!(lacking.is_empty() && placed.iter().all(|pick| is_inside(&table, pick)), "{placed:?}");
        assert!((placed[0].entry.x + placed[1].entry.x).abs() < 1e-9 && placed[1].entry.x > 28.0);
        // Side pins go up the legs rather than bare through the air, which would be nearer to their places.
        let (placed, _) = set(&table, &picks(1, 8.0, Some((2, 8.0))));
        assert!(placed[1].enters_piece().y < 0.1 && placed[2].entry.x > 27.0, "{placed:?}");
        // Between the legs a stick crosses the gap, and is longer by it.
        let (placed, _) = set(&table, &picks(1, 8.0, None));
        assert!(placed[0].entry.x.abs() < 1e-9 && (placed[0].enters_piece().y - 40.0).abs() < 1e-6);
        assert!((placed[0].length.as_mm() - (60.0 + 40.0 + 8.0)).abs() < 1e-6);
    }

    #[test]
    fn every_pick_is_inside_whatever_the_figure() {
        for seed in 0..40_u32 {
            let corner = |n: u32| {
                let reach = 20.0 + f64::from((seed * 7919 + n * 104_729) % 97) / 97.0 * 30.0;
                DVec2::from_angle(f64::from(n) * std::f64::consts::TAU / 9.0) * reach
            };
            let region = Region::from_paths_non_zero(&[(0..9).map(corner).collect()]);
            let region = region.moved(DVec2::NEG_Y * region.bounds().unwrap().0.y);
            let (placed, lacking) = set(&region, &picks(1 + seed % 3, 15.0, (seed % 2 == 0).then_some((2, 8.0))));
            let no_room = |pick: &PickMeasure| {
                lacking.iter().any(|lacking| matches!(lacking, Shortfall::PickRoom { kind, .. } if *kind == pick.kind))
            };
            assert!(
                placed.iter().all(|pick| is_inside(&region, pick) || no_room(pick)),
                "{seed}: {placed:?} {lacking:?}"
            );
        }
    }
}
