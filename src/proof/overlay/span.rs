//! Dimension lines: which stands how far out, so that none crosses another.

use glam::DVec2;

use super::mark::Side;

/// A dimension in the picture: what is measured, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub(super) from: DVec2,
    pub(super) to: DVec2,
    pub(super) side: Side,
}

impl Span {
    /// Direction in which the dimension line is set off.
    pub(super) fn away(self) -> DVec2 {
        match self.side {
            Side::Left => DVec2::NEG_X,
            Side::Right => DVec2::X,
            Side::Below => DVec2::Y,
        }
    }

    /// How far along the side's own direction it reaches, from and to.
    fn extent(self) -> (f64, f64) {
        let along = if self.side == Side::Below { DVec2::X } else { DVec2::Y };
        let (a, b) = (self.from.dot(along), self.to.dot(along));
        (a.min(b), a.max(b))
    }

    /// The two ends of the dimension line when it stands at `reach` along its direction from the picture's origin.
    pub(super) fn set_off(self, reach: f64) -> [DVec2; 2] {
        let away = self.away();
        [self.from, self.to].map(|at| at + away * (reach - at.dot(away)))
    }
}

/// A level for each span, 0 nearest to the cake: short ones inside long ones; those that don't overlap share a level.
pub(super) fn levels(spans: &[Span]) -> Vec<u32> {
    let length = |span: &Span| span.extent().1 - span.extent().0;
    let mut order: Vec<usize> = (0..spans.len()).collect();
    order.sort_by(|&a, &b| {
        let by = |index: usize| spans.get(index).map_or(0.0, length);
        by(a).total_cmp(&by(b)).then(a.cmp(&b))
    });
    let mut placed: Vec<(Span, u32)> = Vec::new();
    let mut levels = vec![0; spans.len()];
    for index in order {
        let Some(&span) = spans.get(index) else { continue };
        let beneath = placed.iter().filter(|(other, _)| other.side == span.side && overlap(*other, span));
        let level = beneath.map(|(_, level)| level + 1).max().unwrap_or(0);
        placed.push((span, level));
        if let Some(slot) = levels.get_mut(index) {
            *slot = level;
        }
    }
    levels
}

fn overlap(one: Span, other: Span) -> bool {
    // Chained dimensions meet at their ends; perspective may make them overlap by a few pixels.
    const END: f64 = 6.0;
    let ((a, b), (c, d)) = (one.extent(), other.extent());
    a < d - END && c < b - END
}

#[cfg(test)]
mod tests {
    use super::*;

    fn upright(from: f64, to: f64) -> Span {
        Span { from: DVec2::new(5.0, from), to: DVec2::new(9.0, to), side: Side::Left }
    }

    #[test]
    fn chained_spans_share_a_level_and_the_whole_stands_outside() {
        assert_eq!(levels(&[upright(0.0, 300.0), upright(0.0, 100.0), upright(100.0, 300.0)]), [1, 0, 0]);
        let other = Span { side: Side::Below, ..upright(0.0, 1.0) };
        assert_eq!(levels(&[upright(0.0, 50.0), other, upright(10.0, 90.0)]), [0, 0, 1]);
    }

    #[test]
    fn a_span_is_set_off_square_to_its_side() {
        assert_eq!(upright(10.0, 20.0).set_off(40.0), [DVec2::new(-40.0, 10.0), DVec2::new(-40.0, 20.0)]);
    }
}
