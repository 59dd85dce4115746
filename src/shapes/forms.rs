//! The outlines of pans and boards, one function a shape; every other computation works on the outline alone.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use glam::DVec2;

use super::outline::{Outline, Side, bearing, outward_of, turn_between};

/// Biarcs to a quarter of an ellipse: the chain then differs from the true curve by under 1e-7 of its size.
const ELLIPSE_STEPS: u32 = 48;

/// A circle.
#[must_use]
pub fn round(across: f64) -> Outline {
    Outline::new(vec![Side::Arc { centre: DVec2::ZERO, radius: across / 2.0, start: 0.0, sweep: TAU }])
}

/// A rectangle with rounded corners; a square has equal sides.
#[must_use]
pub fn rectangle(width: f64, depth: f64, corner: f64) -> Outline {
    let (x, z) = (width / 2.0, depth / 2.0);
    let corners = [DVec2::new(x, z), DVec2::new(x, -z), DVec2::new(-x, -z), DVec2::new(-x, z)];
    polygon(&corners, corner.min(x).min(z))
}

/// A regular polygon with a side in front, by its size from corner to corner.
#[must_use]
pub fn regular(count: u32, across: f64, corner: f64) -> Outline {
    let step = TAU / f64::from(count);
    let corners: Vec<DVec2> = (0..count).map(|n| bearing((f64::from(n) + 0.5) * step) * across / 2.0).collect();
    let apothem = across / 2.0 * (step / 2.0).cos();
    polygon(&corners, corner.min(apothem))
}

/// An ellipse.
#[must_use]
pub fn oval(width: f64, depth: f64) -> Outline {
    let (a, b) = (width / 2.0, depth / 2.0);
    let count = 4 * ELLIPSE_STEPS;
    let knot = |n: u32| {
        let (sin, cos) = (f64::from(n % count) * TAU / f64::from(count)).sin_cos();
        (DVec2::new(a * sin, b * cos), DVec2::new(a * cos, -b * sin).normalize_or_zero())
    };
    Outline::new((0..count).flat_map(|n| biarc(knot(n), knot(n + 1))).collect())
}

/// A heart: two half-round lobes on the upper sides of a square that stands on its corner; the tip is in front.
///
/// ```text
///     .-.   .-.      lobes: half circles on the two upper sides
///    (   \_/   )
///     \       /      straight sides meet in a right angle
///       \   /
///         v  tip, front
/// ```
#[must_use]
pub fn heart(across: f64) -> Outline {
    // With a square of side s: lobe radius s/2, lobe centres at ±s/(2√2); so the width is s/√2 + s.
    let side = across / (1.0 + 0.5_f64.sqrt());
    let half = side * 0.5_f64.sqrt();
    // The square's corners: tip, right, cleft, left. Depth runs from the tip to the top of the lobes; centre it.
    let lobe = side / 2.0;
    let back = half / 2.0 + lobe;
    let shift = (half - back) / 2.0;
    let place = |x: f64, z: f64| DVec2::new(x, z - shift);
    let (tip, right, cleft, left) = (place(0.0, half), place(half, 0.0), place(0.0, -half), place(-half, 0.0));
    Outline::new(vec![
        Side::Line { from: tip, to: right },
        Side::Arc { centre: (right + cleft) / 2.0, radius: lobe, start: PI / 4.0, sweep: PI },
        Side::Arc { centre: (cleft + left) / 2.0, radius: lobe, start: -PI * 5.0 / 4.0, sweep: PI },
        Side::Line { from: left, to: tip },
    ])
}

/// A ring of round lobes that meet in cusps, one lobe in front; `across` touches the lobes.
///
/// Neighbouring lobes are circles that meet where they leave a half-round showing, the form petal pans have.
#[must_use]
pub fn petal(count: u32, across: f64) -> Outline {
    let step = TAU / f64::from(count.max(3));
    // Half-round lobes on the sides of a regular polygon of circumradius R: centre R·cos(step/2), radius R·sin(step/2).
    let reach = (step / 2.0).cos() + (step / 2.0).sin();
    let ring = across / 2.0 / reach;
    let radius = ring * (step / 2.0).sin();
    let lobe = |middle: f64, from: f64, sweep: f64| Side::Arc {
        centre: bearing(middle) * ring * (step / 2.0).cos(),
        radius,
        start: middle + from,
        sweep,
    };
    let mut sides = vec![lobe(0.0, 0.0, FRAC_PI_2)];
    sides.extend((1..count.max(3)).map(|n| lobe(f64::from(n) * step, -FRAC_PI_2, PI)));
    sides.push(lobe(0.0, -FRAC_PI_2, FRAC_PI_2));
    Outline::new(sides)
}

/// A convex polygon given from the first corner right of front centre on, its corners rounded by `radius`.
fn polygon(corners: &[DVec2], radius: f64) -> Outline {
    let Some((first, last)) = corners.first().zip(corners.last()) else {
        return Outline::new(Vec::new());
    };
    let front = (*first + *last) / 2.0;
    let mut sides = Vec::new();
    let mut from = front;
    for (index, &corner) in corners.iter().enumerate() {
        let before = if index == 0 { front } else { corners.get(index - 1).copied().unwrap_or(front) };
        let after = corners.get(index + 1).copied().unwrap_or(front);
        let (arriving, leaving) = ((corner - before).normalize_or_zero(), (after - corner).normalize_or_zero());
        let turn = turn_between(arriving, leaving);
        let cut = radius * (turn / 2.0).tan();
        sides.push(Side::Line { from, to: corner - arriving * cut });
        if radius > 0.0 {
            let normal = outward_of(arriving);
            let centre = corner - arriving * cut - normal * radius;
            sides.push(Side::Arc { centre, radius, start: normal.x.atan2(normal.y), sweep: turn });
        }
        from = corner + leaving * cut;
    }
    sides.push(Side::Line { from, to: front });
    Outline::new(sides)
}

/// Two arcs from one knot (place, direction of travel) to the next, with one tangent where they meet.
///
/// Bolton, K. M. (1975), "Biarc curves", Computer-Aided Design 7(2), with equal lengths of the two control arms (formula
/// from memory; checked by the perimeter of ellipses).
fn biarc((p0, t0): (DVec2, DVec2), (p1, t1): (DVec2, DVec2)) -> [Side; 2] {
    let chord = p1 - p0;
    let both = t0 + t1;
    let bend = 2.0 * (1.0 - t0.dot(t1));
    let along = chord.dot(both);
    let arm = if bend < 1e-12 {
        chord.length_squared() / (4.0 * chord.dot(t1)).max(f64::MIN_POSITIVE)
    } else {
        ((along * along + bend * chord.length_squared()).sqrt() - along) / bend
    };
    let middle = (p0 + p1 + (t0 - t1) * arm) / 2.0;
    [arc(p0, t0, middle), arc_backwards(middle, p1, t1)]
}

/// The arc that leaves `from` in `direction` and ends at `to`; a line where it does not bend.
fn arc(from: DVec2, direction: DVec2, to: DVec2) -> Side {
    let chord = to - from;
    let normal = outward_of(direction);
    let sideways = chord.dot(normal);
    if sideways.abs() < 1e-12 * chord.length().max(1.0) {
        return Side::Line { from, to };
    }
    // The centre lies on the inner side for an arc that bulges outward.
    let radius = -chord.length_squared() / (2.0 * sideways);
    let centre = from - normal * radius;
    let away = from - centre;
    let sweep = turn_between(away, to - centre);
    Side::Arc { centre, radius: radius.abs(), start: away.x.atan2(away.y), sweep }
}

/// The arc from `from` that arrives at `to` in `direction`.
fn arc_backwards(from: DVec2, to: DVec2, direction: DVec2) -> Side {
    match arc(to, -direction, from) {
        Side::Line { from, to } => Side::Line { from: to, to: from },
        Side::Arc { centre, radius, start, sweep } => Side::Arc { centre, radius, start: start + sweep, sweep: -sweep },
    }
}
