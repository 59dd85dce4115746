//! Where labels stand: near what they name, apart from each other, inside the picture.

use glam::DVec2;

use super::busy::Busy;

/// A rectangle, px, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plate {
    /// Upper left corner.
    pub(super) low: DVec2,
    /// Lower right corner.
    pub(super) high: DVec2,
}

impl Plate {
    pub(super) fn around(centre: DVec2, size: DVec2) -> Self {
        Self { low: centre - size / 2.0, high: centre + size / 2.0 }
    }

    fn meets(self, other: Self) -> bool {
        self.low.cmplt(other.high).all() && other.low.cmplt(self.high).all()
    }

    /// Does a straight line run through it?
    fn is_crossed(self, from: DVec2, to: DVec2) -> bool {
        // What is left of the line between each pair of sides.
        let (way, low, high) = (to - from, self.low - from, self.high - from);
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (way, low, high) in [(way.x, low.x, high.x), (way.y, low.y, high.y)] {
            if way == 0.0 {
                if low > 0.0 || high < 0.0 {
                    return false;
                }
                continue;
            }
            let (near, far) = (low / way, high / way);
            enters = enters.max(near.min(far));
            leaves = leaves.min(near.max(far));
        }
        enters <= leaves
    }

    /// The same rectangle moved inside a picture of `size`, as far as it fits.
    fn inside(self, size: DVec2) -> Self {
        let reach = (size - (self.high - self.low)).max(DVec2::ZERO);
        let low = self.low.clamp(DVec2::ZERO, reach);
        Self { low, high: low + (self.high - self.low) }
    }
}

/// What labels keep clear of.
#[derive(Debug)]
pub(super) struct Room {
    /// The picture's size, px.
    pub picture: DVec2,
    /// Least distance from one label to the next, px.
    pub gap: f64,
    /// Labels that stand already.
    pub taken: Vec<Plate>,
    /// Lines that are drawn.
    pub lines: Vec<Vec<DVec2>>,
    /// Where the picture shows pieces.
    pub busy: Busy,
}

impl Room {
    fn is_free(&self, plate: Plate) -> bool {
        let wide = Plate { low: plate.low - self.gap, high: plate.high + self.gap };
        !self.taken.iter().any(|other| wide.meets(*other))
    }

    /// How ill a plate stands: the points of pieces it covers, the lines it covers.
    fn cost(&self, plate: Plate) -> (u32, usize) {
        let crossed =
            |line: &&Vec<DVec2>| line.iter().zip(line.iter().skip(1)).any(|(&from, &to)| plate.is_crossed(from, to));
        (self.busy.covered(plate), self.lines.iter().filter(crossed).count())
    }
}

/// The place for a label: over no other label, over no piece and no line where that can be, as near to the wished one as
/// that allows, inside the picture. Rings of sixteen places, ever wider, are tried; when all of them lie over another label,
/// the wished place is taken. A dimension's own place, on its line, is as good as free.
pub(super) fn free_place(wished: Plate, room: &Room) -> Plate {
    const RINGS: u32 = 60;
    let step = (wished.high.y - wished.low.y) / 2.0;
    let around = (1..=RINGS).flat_map(|ring| {
        (0..16).map(move |turn| DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 16.0) * f64::from(ring))
    });
    let places = std::iter::once(DVec2::ZERO).chain(around).map(|away| {
        let away = away * step;
        Plate { low: wished.low + away, high: wished.high + away }.inside(room.picture)
    });
    let mut best: Option<((u32, usize), Plate)> = None;
    for plate in places.filter(|plate| room.is_free(*plate)) {
        let cost = room.cost(plate);
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, plate));
        }
        if cost == (0, 0) {
            break;
        }
    }
    best.map_or_else(|| wished.inside(room.picture), |(_, plate)| plate)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::sight::Sight;
    use crate::proof::view::{Camera, Direction};
    use glam::DVec3;

    fn room(picture: DVec2) -> Room {
        let corners = [DVec3::splat(-100.0), DVec3::splat(100.0)];
        let camera = Camera::framing(Direction::new(0.0, 8.0), &corners, (picture.x as u32, picture.y as u32), 0.1);
        let busy = Busy::new(&Sight::new(&[], &camera), picture);
        Room { picture, gap: 2.0, taken: Vec::new(), lines: Vec::new(), busy }
    }

    #[test]
    fn labels_that_wish_for_one_place_stand_apart_and_inside() {
        let mut room = room(DVec2::new(400.0, 300.0));
        let corner = Plate::around(DVec2::new(395.0, 5.0), DVec2::new(120.0, 20.0));
        for _ in 0..20 {
            let plate = free_place(corner, &room);
            room.taken.push(plate);
        }
        for (number, plate) in room.taken.iter().enumerate() {
            assert!(plate.low.cmpge(DVec2::ZERO).all() && plate.high.cmple(room.picture).all(), "{plate:?}");
            assert!(room.taken[..number].iter().all(|other| !plate.meets(*other)), "{number}");
        }
    }

    #[test]
    fn a_free_wish_is_granted_and_a_line_is_stepped_off() {
        let wished = Plate::around(DVec2::new(100.0, 100.0), DVec2::new(80.0, 20.0));
        let mut room = room(DVec2::splat(300.0));
        room.taken.push(Plate::around(DVec2::new(100.0, 130.0), DVec2::new(80.0, 20.0)));
        assert_eq!(free_place(wished, &room), wished);
        room.lines.push(vec![DVec2::new(0.0, 95.0), DVec2::new(300.0, 95.0)]);
        let moved = free_place(wished, &room);
        assert!(moved.high.y < 95.0 || moved.low.y > 95.0, "{moved:?}");
        assert!(!moved.is_crossed(DVec2::new(0.0, 95.0), DVec2::new(300.0, 95.0)));
        assert!(wished.is_crossed(DVec2::new(100.0, 0.0), DVec2::new(100.0, 300.0)));
        assert!(wished.is_crossed(DVec2::new(60.0, 110.0), DVec2::new(300.0, 0.0)));
        assert!(!wished.is_crossed(DVec2::new(100.0, 0.0), DVec2::new(100.0, 89.0)));
    }
}
