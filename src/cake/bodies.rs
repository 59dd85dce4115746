//! The solids of a resolved cake, with their finishes; printed wraps are added by [`crate::wraps::bodies`].

use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use super::body::{Body, Owner, Surface};
use super::course::{CakeCourse, pearl_count};
use super::pieces::{self, Hold, Makings, Paint, Part, PieceError, Posture, Stock};
use super::resolve::{Cake, CakeError};
use super::seat::{Drape, before_side};
use super::{CakePiece, CakeTier};
use crate::design::model::{CourseKind, Piece};
use crate::shapes::build::{bend, sphere, tube_round};
use crate::shapes::{Mesh, block, carry, strip_section};

/// Most that the edges of a band are eased, mm: cut paste is never knife-sharp.
const BAND_EASE: f64 = 0.6;
/// The eased top edge of a board, mm.
pub(super) const BOARD_EDGE: f64 = 1.0;

/// Every solid of the cake but its printed wraps: board, tiers, courses, pieces.
///
/// # Errors
/// A piece whose art can't be cut.
pub fn bodies(cake: &Cake) -> Result<Vec<Body>, CakeError> {
    let mut bodies = vec![board_body(cake)];
    bodies.extend(cake.tiers.iter().enumerate().flat_map(|tier| tier_bodies(cake, tier)));
    let mut stock = Stock::default();
    for piece in &cake.pieces {
        bodies.extend(piece_bodies(cake, piece, &mut stock)?);
    }
    Ok(bodies)
}

pub(super) fn board_body(cake: &Cake) -> Body {
    let board = block(&cake.board.outline, (-cake.board.thickness.as_mm(), 0.0), BOARD_EDGE);
    Body {
        name: "board".into(),
        mesh: Arc::new(board),
        pose: DAffine3::IDENTITY,
        surface: plain(cake, &cake.board.finish),
        owner: Owner::Board,
    }
}

/// A tier and its courses.
pub(super) fn tier_bodies(cake: &Cake, (index, tier): (usize, &CakeTier)) -> Vec<Body> {
    let mut bodies = vec![Body {
        name: tier.name.as_str().into(),
        mesh: Arc::new(block(&tier.outline, (0.0, tier.height.as_mm()), tier.edge.as_mm())),
        pose: tier.pose(),
        surface: plain(cake, &tier.finish),
        owner: Owner::Tier(index),
    }];
    for (number, course) in tier.courses.iter().enumerate().filter(|(_, course)| course.height() > 0.0) {
        bodies.extend(course_bodies(cake, (tier, course), Owner::Course(index, number)));
    }
    bodies
}

/// The surface of a finish without a picture.
#[must_use]
pub(super) fn plain(cake: &Cake, finish: &str) -> Surface {
    let finish = cake.design.finish(finish);
    Surface { colour: finish.colour, look: finish.look, picture: None }
}

fn course_bodies(cake: &Cake, (tier, course): (&CakeTier, &CakeCourse), owner: Owner) -> Vec<Body> {
    let name: Arc<str> = format!("{} · {}", tier.name, course.name).into();
    let solid = |mesh: Mesh, finish: &str| Body {
        name: Arc::clone(&name),
        mesh: Arc::new(mesh),
        pose: tier.pose(),
        surface: plain(cake, finish),
        owner,
    };
    match &course.kind {
        CourseKind::Rope { diameter, finish, .. } => {
            let radius = diameter.as_mm() / 2.0;
            let line: Vec<DVec3> =
                ring(tier, radius).into_iter().map(|at| DVec3::new(at.x, course.bottom + radius, at.y)).collect();
            vec![solid(tube_round(&line, radius), finish)]
        }
        CourseKind::Band { thickness, finish, .. } => {
            let section = strip_section((0.0, thickness.as_mm()), (course.bottom, course.top), BAND_EASE);
            vec![solid(carry(&tier.outline.stations_out(thickness.as_mm()), &section), finish)]
        }
        CourseKind::Pearls { diameter, finish, .. } => {
            let (diameter, surface) = (diameter.as_mm(), plain(cake, finish));
            let mesh = Arc::new(sphere(diameter / 2.0));
            let places = pearls(tier, course, diameter);
            let pearl = |(number, at): (usize, DVec3)| Body {
                name: format!("{name} · {}", number + 1).into(),
                mesh: Arc::clone(&mesh),
                pose: tier.pose() * DAffine3::from_translation(at),
                surface: surface.clone(),
                owner,
            };
            places.into_iter().enumerate().map(pearl).collect()
        }
        CourseKind::Wrap(_) | CourseKind::Bare { .. } => Vec::new(),
    }
}

/// Places once round, `out` mm outside the outline, without one twice.
fn ring(tier: &CakeTier, out: f64) -> Vec<DVec2> {
    let mut places: Vec<DVec2> = Vec::new();
    for at in tier.outline.stations_out(out).iter().map(|station| station.place(out)) {
        if places.last().is_none_or(|last| last.distance(at) > 1e-6) {
            places.push(at);
        }
    }
    if places.len() > 1 && places.first().zip(places.last()).is_some_and(|(a, b)| a.distance(*b) < 1e-6) {
        places.pop();
    }
    places
}

/// Middles of a row of pearls in the tier's frame, even along the line through them, begun at the course's seam.
pub(super) fn pearls(tier: &CakeTier, course: &CakeCourse, diameter: f64) -> Vec<DVec3> {
    let line = ring(tier, diameter / 2.0);
    let steps: Vec<f64> = line.iter().zip(line.iter().cycle().skip(1)).map(|(a, b)| a.distance(*b)).collect();
    let whole: f64 = steps.iter().sum();
    let count = pearl_count(diameter, &tier.outline);
    let share =
        course.seam(&tier.outline).unwrap_or(0.0).rem_euclid(tier.outline.perimeter()) / tier.outline.perimeter();
    let mut wanted: Vec<f64> =
        (0..count).map(|n| ((f64::from(n) + 0.5) / f64::from(count) + share).fract() * whole).collect();
    wanted.sort_by(f64::total_cmp);
    let mut places = Vec::with_capacity(wanted.len());
    let mut wanted = wanted.into_iter().peekable();
    let mut start = 0.0;
    for ((from, to), step) in line.iter().zip(line.iter().cycle().skip(1)).zip(&steps) {
        while let Some(at) = wanted.next_if(|at| *at < start + step) {
            let middle = from.lerp(*to, (at - start) / step);
            places.push(DVec3::new(middle.x, course.bottom + diameter / 2.0, middle.y));
        }
        start += step;
    }
    places
}

pub(super) fn piece_bodies(cake: &Cake, placed: &CakePiece, stock: &mut Stock) -> Result<Vec<Body>, CakeError> {
    Ok(bodies_of(cake, placed, &own_parts(cake, placed, stock)?))
}

/// The bodies of a piece from its parts in its own frame.
pub(super) fn bodies_of(cake: &Cake, placed: &CakePiece, parts: &[Part]) -> Vec<Body> {
    let Some(piece) = cake.designed(placed) else { return Vec::new() };
    let placed_parts = in_place(cake, placed, parts.to_vec());
    placed_parts.into_iter().map(|part| part_body(cake, (piece, placed.index), part)).collect()
}

/// The parts of a piece in its own frame: the same wherever it sits on seats of a kind.
pub(super) fn own_parts(cake: &Cake, placed: &CakePiece, stock: &mut Stock) -> Result<Vec<Part>, CakeError> {
    let Some(piece) = cake.designed(placed) else { return Ok(Vec::new()) };
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    let posture = Posture::from(piece.seat.surface);
    pieces::parts(&piece.form, (posture, &placed.measure), makings, stock)
        .map_err(|source: PieceError| CakeError { place: format!("piece '{}'", piece.name), source })
}

/// The parts of a piece in the cake's frame.
pub(super) fn placed_parts(cake: &Cake, placed: &CakePiece, stock: &mut Stock) -> Result<Vec<Part>, CakeError> {
    Ok(in_place(cake, placed, own_parts(cake, placed, stock)?))
}

fn in_place(cake: &Cake, placed: &CakePiece, parts: Vec<Part>) -> Vec<Part> {
    let side = placed.side.as_ref().and_then(|side| Some((side, cake.tiers.get(side.tier)?)));
    let drape = side.and_then(|(side, tier)| Drape::of(tier, side));
    let placed = parts.into_iter().map(|part| match (&drape, side, part.hold) {
        (Some(drape), _, Hold::Soft) => Part { mesh: Arc::new(draped(drape, &part)), pose: DAffine3::IDENTITY, ..part },
        (Some(drape), _, Hold::Placed) => {
            Part { pose: drape.pose(drape.turned().transform_point3(part.pose.translation)), ..part }
        }
        (None, Some((_, tier)), Hold::Placed) => {
            let middle = part.pose.translation;
            Part { pose: before_side(tier, middle.truncate(), middle.z), ..part }
        }
        _ => Part { pose: placed.pose * placed.tilt * part.pose, ..part },
    });
    placed.collect()
}

fn part_body(cake: &Cake, (piece, index): (&Piece, usize), part: Part) -> Body {
    let surface = match part.paint {
        Paint::Finish(name) => Surface { picture: part.picture, ..plain(cake, &name) },
        Paint::Plain(colour, look) => Surface { colour, look, picture: part.picture },
    };
    let name = if part.name.is_empty() {
        piece.name.as_str().into()
    } else {
        format!("{} · {}", piece.name, part.name).into()
    };
    Body { name, mesh: part.mesh, pose: part.pose, surface, owner: Owner::Piece(index) }
}

/// A soft part laid on its side, in the cake's frame.
fn draped(drape: &Drape, part: &Part) -> Mesh {
    let flat = drape.turned() * part.pose;
    let across = part.mesh.positions.iter().map(|&at| flat.transform_point3(at).x);
    let (low, high) = across.fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
    bend(&part.mesh, &flat, &drape.folds((low, high)), |at| drape.pose(at).translation)
}
