//! Where labels stand: near what they name, apart from each other, inside the picture.

use glam::DVec2;

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

    /// The same rectangle moved inside a picture of `size`, as far as it fits.
    fn inside(self, size: DVec2) -> Self {
        let reach = (size - (self.high - self.low)).max(DVec2::ZERO);
        let low = self.low.clamp(DVec2::ZERO, reach);
        Self { low, high: low + (self.high - self.low) }
    }

    pub(super) fn centre(self) -> DVec2 {
        (self.low + self.high) / 2.0
    }
}

/// The free place nearest to the wished one, inside the picture. Rings of sixteen places, ever wider, are tried; when
/// none is free, the wished place is taken.
pub(super) fn free_place(wished: Plate, taken: &[Plate], picture: DVec2) -> Plate {
    const RINGS: u32 = 60;
    let step = (wished.high.y - wished.low.y) / 2.0;
    let around = (1..=RINGS).flat_map(|ring| {
        (0..16).map(move |turn| DVec2::from_angle(f64::from(turn) * std::f64::consts::TAU / 16.0) * f64::from(ring))
    });
    std::iter::once(DVec2::ZERO)
        .chain(around)
        .map(|away| {
            let away = away * step;
            Plate { low: wished.low + away, high: wished.high + away }.inside(picture)
        })
        .find(|plate| !taken.iter().any(|other| plate.meets(*other)))
        .unwrap_or_else(|| wished.inside(picture))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_that_wish_for_one_place_stand_apart_and_inside() {
        let picture = DVec2::new(400.0, 300.0);
        let corner = Plate::around(DVec2::new(395.0, 5.0), DVec2::new(120.0, 20.0));
        let mut taken: Vec<Plate> = Vec::new();
        for _ in 0..20 {
            taken.push(free_place(corner, &taken, picture));
        }
        for (number, plate) in taken.iter().enumerate() {
            assert!(plate.low.cmpge(DVec2::ZERO).all() && plate.high.cmple(picture).all(), "{plate:?}");
            assert!(taken[..number].iter().all(|other| !plate.meets(*other)), "{number}");
        }
    }

    #[test]
    fn a_free_wish_is_granted() {
        let wished = Plate::around(DVec2::new(100.0, 100.0), DVec2::new(80.0, 20.0));
        let other = Plate::around(DVec2::new(100.0, 130.0), DVec2::new(80.0, 20.0));
        assert_eq!(free_place(wished, &[other], DVec2::splat(300.0)), wished);
    }
}
