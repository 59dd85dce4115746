//! Closing a repeat, so that the pattern meets itself at the last seam.

/// A repeat that stands a whole number of times round the cake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeat {
    /// How many times it stands round.
    pub count: u32,
    /// Its printed width over the width that was asked for.
    pub scale: f64,
    /// Its printed width, mm.
    pub width: f64,
    /// How far it stands to the right of where its focus would have it, mm.
    pub shift: f64,
}

/// Most repeats that a wrap may hold; a narrower repeat is a mistake in its width.
const MOST: f64 = 2_000.0;

impl Repeat {
    /// Closes a repeat of `asked` mm on a wrap of `length` mm: `n = round(L/p)`, `scale = L/(n·p)`.
    #[must_use]
    pub fn close(asked: f64, length: f64) -> Self {
        let count = (length / asked.max(f64::MIN_POSITIVE)).round().clamp(1.0, MOST);
        let width = length / count;
        Self { count: count as u32, scale: width / asked.max(f64::MIN_POSITIVE), width, shift: 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_repeat_closes_with_the_nearest_whole_number() {
        // 565.487 mm round (a 180 mm cake) holds 9.9 repeats of 57.15 mm: ten, each a little narrower.
        let repeat = Repeat::close(57.15, 565.487);
        assert_eq!(repeat.count, 10);
        assert!((repeat.scale - 565.487 / 571.5).abs() < 1e-12);
        assert!((f64::from(repeat.count) * repeat.width - 565.487).abs() < 1e-9);
    }

    #[test]
    fn a_repeat_wider_than_the_cake_stands_once() {
        assert_eq!(Repeat::close(900.0, 565.0).count, 1);
    }
}
