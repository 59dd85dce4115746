//! Dimension lines: which stands how far out, so that none crosses another.
//!
//! Frame: flat, x to the right, y **down**; pixels over a picture, mm in a drawing.

use glam::DVec2;

/// At which side of the cake a dimension line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Left of the cake.
    Left,
    /// Right of the cake.
    Right,
    /// Below the cake.
    Below,
}

/// What is measured, and at which side its dimension line stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// One end of what is measured.
    pub from: DVec2,
    /// Its other end.
    pub to: DVec2,
    /// Where its dimension line stands.
    pub side: Side,
}

impl Span {
    /// Direction in which the dimension line is set off.
    #[must_use]
    pub fn away(self) -> DVec2 {
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

    /// The two ends of the dimension line when it stands at `reach` along its direction from the frame's origin.
    #[must_use]
    pub fn set_off(self, reach: f64) -> [DVec2; 2] {
        let away = self.away();
        [self.from, self.to].map(|at| at + away * (reach - at.dot(away)))
    }
}

/// A level for each span, 0 nearest to the cake: short ones inside long ones; those that don't overlap share a level.
/// Spans that share up to `slack` of their extent count as chained end to end, not as overlapping.
#[must_use]
pub fn levels(spans: &[Span], slack: f64) -> Vec<u32> {
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
        let beneath = placed.iter().filter(|(other, _)| other.side == span.side && overlap(*other, span, slack));
        let level = beneath.map(|(_, level)| level + 1).max().unwrap_or(0);
        placed.push((span, level));
        if let Some(slot) = levels.get_mut(index) {
            *slot = level;
        }
    }
    levels
}

fn overlap(one: Span, other: Span, slack: f64) -> bool {
    let ((a, b), (c, d)) = (one.extent(), other.extent());
    a < d - slack && c < b - slack
}

#[cfg(test)]
mod tests {
    use super::*;

    fn upright(from: f64, to: f64) -> Span {
        Span { from: DVec2::new(5.0, from), to: DVec2::new(9.0, to), side: Side::Left }
    }

    #[test]
    fn chained_spans_share_a_level_and_the_whole_stands_outside() {
        assert_eq!(levels(&[upright(0.0, 300.0), upright(0.0, 100.0), upright(98.0, 300.0)], 6.0), [1, 0, 0]);
        let other = Span { side: Side::Below, ..upright(0.0, 1.0) };
        assert_eq!(levels(&[upright(0.0, 50.0), other, upright(10.0, 90.0)], 0.0), [0, 0, 1]);
    }

    #[test]
    fn a_span_is_set_off_square_to_its_side() {
        assert_eq!(upright(10.0, 20.0).set_off(40.0), [DVec2::new(-40.0, 10.0), DVec2::new(-40.0, 20.0)]);
    }
}
