//! Numbers on small tags beside what they number: none lies on another, and as few as can be on something else.

use glam::DVec2;

use crate::packs::pdf::{ACCENT, Frame, INK, Page, Pen, Style};
use crate::proof::ink::PAPER;

/// Room round a number, mm.
const ROOM: f64 = 0.6;
/// Between a tag and what it numbers, mm.
const GAP: f64 = 0.6;
/// A tag lies on what it numbers if that is so many times as wide and as high.
const FITS: f64 = 1.3;
/// How much worse it is to lie on another tag than on another piece.
const ON_A_TAG: f64 = 1e3;

/// Least and greatest corner on the page, mm.
pub(super) type Bounds = [DVec2; 2];

/// Draws a tag for each number, beside or on what it numbers.
pub(super) fn set(page: &mut Page, numbered: &[(usize, Bounds)]) {
    let covers: Vec<Bounds> = numbered.iter().map(|&(_, covers)| covers).collect();
    let words: Vec<_> = numbered.iter().map(|(number, _)| Style::STRONG.line(&number.to_string())).collect();
    let sizes: Vec<DVec2> =
        words.iter().map(|words| DVec2::new(words.width, words.line.cap_height) + 2.0 * ROOM).collect();
    for ((words, size), corner) in words.into_iter().zip(&sizes).zip(corners(&covers, &sizes)) {
        let frame = Frame { x: corner.x, y: corner.y, width: size.x, height: size.y };
        page.block(frame, PAPER);
        page.edge(frame, Pen::solid(0.12, ACCENT));
        page.text(corner + DVec2::new(ROOM, size.y - ROOM), words, INK);
    }
}

/// The upper left corner of each tag.
fn corners(covers: &[Bounds], sizes: &[DVec2]) -> Vec<DVec2> {
    let mut set: Vec<Bounds> = Vec::new();
    for (number, (&own, &size)) in covers.iter().zip(sizes).enumerate() {
        let places = places(own, size);
        let reach = places.iter().fold(own, |[low, high], &at| [low.min(at), high.max(at + size)]);
        let near = |laid: &Bounds| common(*laid, reach) > 0.0;
        let tags: Vec<Bounds> = set.iter().copied().filter(near).collect();
        let others = covers.iter().enumerate().filter(|&(other, _)| other != number).map(|(_, covers)| *covers);
        let others: Vec<Bounds> = others.filter(near).collect();
        let cost = |corner: DVec2| {
            let on = |laid: &Bounds| common([corner, corner + size], *laid);
            tags.iter().map(on).sum::<f64>() * ON_A_TAG + others.iter().map(on).sum::<f64>()
        };
        // Of equals the first.
        let priced = places.into_iter().map(|corner| (cost(corner), corner));
        let best = priced.reduce(|best, next| if next.0 < best.0 - 1e-9 { next } else { best });
        let corner = best.map_or(own[0], |(_, corner)| corner);
        set.push([corner, corner + size]);
    }
    set.into_iter().map(|[corner, _]| corner).collect()
}

/// Where a tag may lie, the best first: on what it numbers where that is large, else to its right, left, below, above, at its
/// corners, and the same once more a tag farther away.
fn places([low, high]: Bounds, size: DVec2) -> Vec<DVec2> {
    let middle = (low + high - size) / 2.0;
    let fits = (high - low).cmpgt(size * FITS).all();
    let mut places = if fits { vec![middle] } else { Vec::new() };
    for away in [0.0, 1.0] {
        let (before, after) = (low - size - GAP - size * away, high + GAP + size * away);
        let (left, right, above, below) = (before.x, after.x, before.y, after.y);
        let beside = [(right, middle.y), (left, middle.y), (middle.x, below), (middle.x, above)];
        let corners = [(right, below), (left, below), (right, above), (left, above)];
        places.extend(beside.into_iter().chain(corners).map(DVec2::from));
    }
    places
}

/// What two boxes have in common, mm².
fn common([low, high]: Bounds, [other_low, other_high]: Bounds) -> f64 {
    let size = (high.min(other_high) - low.max(other_low)).max(DVec2::ZERO);
    size.x * size.y
}

#[cfg(test)]
mod tests {
    use super::{Bounds, common, corners};
    use glam::DVec2;

    const TAG: DVec2 = DVec2::new(4.0, 3.0);

    fn tags(covers: &[Bounds]) -> Vec<Bounds> {
        let sizes = vec![TAG; covers.len()];
        corners(covers, &sizes).into_iter().map(|corner| [corner, corner + TAG]).collect()
    }

    fn square(x: f64, y: f64, side: f64) -> Bounds {
        [DVec2::new(x, y), DVec2::new(x + side, y + side)]
    }

    #[test]
    fn a_tag_lies_on_what_is_large_and_beside_what_is_small() {
        let [large, small] = [square(0.0, 0.0, 10.0), square(30.0, 0.0, 2.0)];
        let tags = tags(&[large, small]);
        assert_eq!(tags[0][0], DVec2::new(3.0, 3.5));
        assert_eq!(tags[1][0], DVec2::new(32.6, -0.5));
    }

    #[test]
    fn tags_of_a_crowd_lie_on_nothing() {
        // Five balls that touch, as a decorator heaps them.
        let balls = [
            square(0.0, 0.0, 3.0),
            square(3.0, 0.0, 3.0),
            square(0.0, 3.0, 3.0),
            square(3.0, 3.0, 3.0),
            square(6.0, 1.0, 3.0),
        ];
        let tags = tags(&balls);
        for (number, &tag) in tags.iter().enumerate() {
            assert!(tags[..number].iter().all(|&other| common(tag, other) == 0.0));
            assert!(balls.iter().all(|&ball| common(tag, ball) == 0.0), "{number}");
        }
    }
}
