//! Where two sides meet once they are moved: the trimming of a cleft.

use std::f64::consts::TAU;

use glam::DVec2;

use super::outline::Side;

/// Cuts two neighbouring sides off where they meet, near `corner`; `None` where they don't.
pub(super) fn trimmed(before: &Side, after: &Side, corner: DVec2) -> Option<(Side, Side)> {
    let mut places = meetings(before, after);
    places.sort_by(|a, b| a.distance_squared(corner).total_cmp(&b.distance_squared(corner)));
    places.into_iter().find_map(|place| Some((ending_at(before, place)?, starting_at(after, place)?)))
}

/// Every place where the line or circle of one side crosses that of another.
fn meetings(one: &Side, other: &Side) -> Vec<DVec2> {
    match (*one, *other) {
        (Side::Line { from, to }, Side::Line { from: start, to: end }) => {
            let (along, across) = (to - from, end - start);
            let turned = along.perp_dot(across);
            let share = (start - from).perp_dot(across) / turned;
            if share.is_finite() { vec![from + along * share] } else { Vec::new() }
        }
        (Side::Line { from, to }, Side::Arc { centre, radius, .. })
        | (Side::Arc { centre, radius, .. }, Side::Line { from, to }) => {
            let along = (to - from).normalize_or_zero();
            let foot = from + along * (centre - from).dot(along);
            either_way(foot, along, radius * radius - foot.distance_squared(centre))
        }
        (Side::Arc { centre, radius, .. }, Side::Arc { centre: second, radius: wide, .. }) => {
            let apart = second - centre;
            let distance = apart.length();
            if distance < 1e-12 {
                return Vec::new();
            }
            // The radical line lies (d² + r² − R²)/2d from the first centre.
            let share = (distance * distance + radius * radius - wide * wide) / (2.0 * distance);
            either_way(centre + apart / distance * share, apart.perp() / distance, radius * radius - share * share)
        }
    }
}

fn either_way(foot: DVec2, along: DVec2, squared: f64) -> Vec<DVec2> {
    if squared < 0.0 {
        return Vec::new();
    }
    [1.0, -1.0].map(|way| foot + along * (way * squared.sqrt())).to_vec()
}

fn ending_at(side: &Side, place: DVec2) -> Option<Side> {
    match *side {
        Side::Line { from, to } => ((place - from).dot(to - from) > 0.0).then_some(Side::Line { from, to: place }),
        Side::Arc { centre, radius, start, sweep } => {
            let run = run_to(side, place)?;
            (run > 0.0).then_some(Side::Arc { centre, radius, start, sweep: run * sweep.signum() })
        }
    }
}

fn starting_at(side: &Side, place: DVec2) -> Option<Side> {
    match *side {
        Side::Line { from, to } => ((to - place).dot(to - from) > 0.0).then_some(Side::Line { from: place, to }),
        Side::Arc { centre, radius, start, sweep } => {
            let run = run_to(side, place)?;
            let rest = sweep.abs() - run;
            let start = start + run * sweep.signum();
            (rest > 0.0).then_some(Side::Arc { centre, radius, start, sweep: rest * sweep.signum() })
        }
    }
}

/// Radians from the start of an arc to a place on its circle; `None` where the place is not on the arc.
fn run_to(side: &Side, place: DVec2) -> Option<f64> {
    let Side::Arc { centre, start, sweep, .. } = *side else { return None };
    let away = place - centre;
    let run = ((away.x.atan2(away.y) - start) * sweep.signum()).rem_euclid(TAU);
    (run <= sweep.abs()).then_some(run)
}
