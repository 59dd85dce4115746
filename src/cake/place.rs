//! Seats every piece: on the board and on tiers, on other pieces, leaning.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use super::CakeTier;
use super::ground::Ground;
use super::lean::{Lean, lean, leaning_pose};
use super::piece::{CakePiece, Lie, SidePlace};
use super::pieces::{
    self, Makings, Part, PieceError, PieceMeasure, Posture, Stock, foot_cut, hull, rod_radius, tilted,
};
use super::resolve::{Cake, CakeError};
use super::rest::Rest;
use super::seat::{on_flat, on_front, on_side, on_tape};
use super::shortfall::{shortfall, too_short};
use crate::design::model::pieces::{Rod, RopeLine};
use crate::design::model::{At, Form, Piece, Surface, Target};
use crate::findings::Finding;
use crate::measure::{Angle, Length};
use crate::shapes::stand_off;

/// What a piece may sit on: pieces seated before it.
struct Carrier<'a> {
    piece: &'a Piece,
    placed: &'a CakePiece,
    rest: &'a Rest,
}

/// Seats every piece: first those on the board and on tiers, then those on pieces already seated.
pub(super) fn seat_pieces(cake: &Cake, before: Option<&Cake>) -> Result<(Vec<CakePiece>, Vec<Finding>), CakeError> {
    let before = before.filter(|before| has_same_seats(before, cake));
    let mut riders: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let mut ready: Vec<(usize, Option<usize>)> = Vec::new();
    for (index, piece) in cake.design.pieces.iter().enumerate().filter(|(_, piece)| !piece.hidden) {
        match &piece.seat.on {
            Target::Piece(name) => riders.entry(name).or_default().push(index),
            Target::Board | Target::Tier(_) => ready.push((index, None)),
        }
    }
    let mut seated: Vec<CakePiece> = Vec::with_capacity(cake.design.pieces.len());
    let mut rests: BTreeMap<usize, Rest> = BTreeMap::new();
    let mut findings = Vec::new();
    let mut next = 0;
    while let Some(&(index, under)) = ready.get(next) {
        next += 1;
        let Some(piece) = cake.design.pieces.get(index) else { continue };
        let on = under.and_then(|under| {
            let (placed, rest) = (seated.get(under)?, rests.get(&under)?);
            Some(Carrier { piece: cake.designed(placed)?, placed, rest })
        });
        let again = before.filter(|_| on.is_none()).and_then(|before| seated_before(before, (index, piece)));
        let placed = again.map_or_else(|| seat_piece(cake, (index, piece), on.as_ref(), &mut findings), Ok)?;
        let carried = riders.remove(piece.name.as_str()).unwrap_or_default();
        if !carried.is_empty() {
            let parts = parts(cake, piece, &placed.measure)?;
            rests.insert(seated.len(), Rest::of(&parts, &placed.tilt));
        }
        ready.extend(carried.into_iter().map(|rider| (rider, Some(seated.len()))));
        seated.push(placed);
    }
    seated.sort_by_key(|piece| piece.index);
    Ok((seated, findings))
}

/// Whether board, tiers and all that pieces are made from are those of an earlier cake.
fn has_same_seats(before: &Cake, cake: &Cake) -> bool {
    let (was, is) = (&before.design, &cake.design);
    let same_stuff = was.finishes == is.finishes && was.pastes == is.pastes && was.unit == is.unit;
    Arc::ptr_eq(&before.shelf, &cake.shelf) && was.board == is.board && was.tiers == is.tiers && same_stuff
}

/// A piece that sat on the same board or tier and is as it was, where nothing was found about it: there is nothing to work out.
fn seated_before(before: &Cake, (index, piece): (usize, &Piece)) -> Option<CakePiece> {
    let place = before.pieces.binary_search_by_key(&index, |placed| placed.index).ok()?;
    let placed = before.pieces.get(place)?;
    let is_plain = placed.lean.is_none() && placed.measure.shortfalls.is_empty();
    (is_plain && before.designed(placed) == Some(piece)).then(|| placed.clone())
}

fn named(piece: &Piece) -> impl FnOnce(PieceError) -> CakeError {
    let place = format!("piece '{}'", piece.name);
    |source| CakeError { place, source }
}

fn parts(cake: &Cake, piece: &Piece, measure: &PieceMeasure) -> Result<Vec<Part>, CakeError> {
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    let posture = Posture::from(piece.seat.surface);
    pieces::parts(&piece.form, (posture, measure), makings, &mut Stock::default()).map_err(named(piece))
}

fn seat_piece(
    cake: &Cake,
    (index, piece): (usize, &Piece),
    on: Option<&Carrier>,
    findings: &mut Vec<Finding>,
) -> Result<CakePiece, CakeError> {
    let makings = Makings { shelf: &cake.shelf, design: &cake.design };
    let posture = Posture::from(piece.seat.surface);
    let ground = Ground::of(cake, piece, on.map(|on| on.placed));
    let measure = pieces::measure(&piece.form, (posture, &ground), makings).map_err(named(piece))?;
    findings.extend(measure.shortfalls.iter().map(|lacking| shortfall(cake, piece, lacking)));
    if let Some((foot, tiers, rod)) = leaning(cake, piece) {
        let length = measure.size.height;
        let lean = lean(tiers, foot, (length, |up| rod_radius(rod, up)));
        findings.extend(lean.as_ref().and_then(|lean| too_short(cake, piece, (rod, lean, length))));
        return Ok(leant(index, (foot, rod), lean, measure));
    }
    let (tilt, measure) = if piece.tilt == Angle::ZERO {
        (DAffine3::IDENTITY, measure)
    } else {
        tilted(&parts(cake, piece, &measure)?, (posture, piece.tilt), &measure)
    };
    let side = side_place(cake, piece, (&measure, on));
    let tier = side.as_ref().and_then(|side| Some((side, cake.tiers.get(side.tier)?)));
    let pose = tier.map_or_else(|| pose(cake, piece, (&measure, on)), |(side, tier)| on_side(tier, side));
    Ok(CakePiece { index, measure: Arc::new(measure), pose, tilt, side, lean: None })
}

/// A leaning rod: its foot, the tiers up to the one it leans on, itself.
fn leaning<'a>(cake: &'a Cake, piece: &'a Piece) -> Option<(DVec3, &'a [CakeTier], &'a Rod)> {
    let (Form::Rod(rod), At::Plan(at)) = (&piece.form, piece.at) else { return None };
    let name = rod.leans_on.as_ref()?;
    let last = cake.tiers.iter().position(|tier| &tier.name == name)?;
    let seat = match &piece.seat.on {
        Target::Board => DAffine3::IDENTITY,
        Target::Tier(name) => {
            let tier = cake.tier(name)?;
            tier.pose() * DAffine3::from_translation(DVec3::Y * tier.height.as_mm())
        }
        Target::Piece(_) => return None,
    };
    let foot = seat.transform_point3(DVec3::new(at.x.as_mm(), 0.0, at.z.as_mm()));
    Some((foot, cake.tiers.get(..=last)?, rod))
}

fn leant(index: usize, (foot, rod): (DVec3, &Rod), lean: Option<Lean>, measure: PieceMeasure) -> CakePiece {
    let (pose, measure) = match &lean {
        Some(lean) => (leaning_pose(foot, lean), foot_cut(rod, lean.angle, measure)),
        None => (DAffine3::from_translation(foot), measure),
    };
    CakePiece { index, measure: Arc::new(measure), pose, tilt: DAffine3::IDENTITY, side: None, lean }
}

/// Where on a tier's side a piece sits: on the side itself, or on a soft piece that lies there; `None` elsewhere.
fn side_place(cake: &Cake, piece: &Piece, (measure, on): (&PieceMeasure, Option<&Carrier>)) -> Option<SidePlace> {
    if piece.seat.surface != Surface::Side {
        return None;
    }
    let (at, turn) = piece.place();
    let at = on_tape(at);
    let soft = Lie::Soft { neutral: measure.neutral, reach: measure.reach.as_mm() };
    let lie = if piece.is_soft() { soft } else { Lie::Stiff };
    let place = match (&piece.seat.on, on) {
        (Target::Tier(name), _) => {
            let tier = cake.tiers.iter().position(|tier| &tier.name == name)?;
            let out = cake.tiers.get(tier)?.surface_out(at.y, half_height(piece, measure));
            SidePlace { tier, along: at.x, up: at.y, out, turn, lie }
        }
        (_, Some(on)) => {
            let under = on.placed.side.filter(|_| on.piece.is_soft())?;
            let place = DVec2::from_angle(under.turn.as_radians()).rotate(at);
            let out = under.out + if lies_round(piece) { 0.0 } else { on.placed.measure.reach.as_mm() };
            let turn = Angle::radians(under.turn.as_radians() + turn.as_radians());
            // Balls strewn over what bends lie on its front, however it bends.
            let lie = if matches!(piece.form, Form::Scatter(_)) { soft } else { lie };
            SidePlace { along: under.along + place.x, up: under.up + place.y, out, turn, lie, ..under }
        }
        _ => return None,
    };
    let tier = cake.tiers.get(place.tier)?;
    Some(SidePlace { out: place.out + apart(cake, tier, piece, (&place, measure)), ..place })
}

/// How far above and below its place a piece touches a side: a ball at one point; flat pieces lie on whatever they cross.
fn half_height(piece: &Piece, measure: &PieceMeasure) -> f64 {
    match piece.form {
        Form::Ball(_) | Form::Scatter(_) => 0.1,
        _ => measure.size.height.as_mm() / 2.0,
    }
}

/// How far a stiff piece must stand off where the side comes out on both sides of its place, in a cleft, mm.
fn apart(cake: &Cake, tier: &CakeTier, piece: &Piece, (place, measure): (&SidePlace, &PieceMeasure)) -> f64 {
    if place.lie != Lie::Stiff || matches!(piece.form, Form::Scatter(_)) {
        return 0.0;
    }
    let spot = tier.outline.facing(place.along);
    if let Form::Ball(ball) = &piece.form {
        let middle = place.out + (ball.size / 2.0 - ball.sunk).as_mm().max(0.1);
        let line = tier.outline.draped(middle, 0.01);
        let nearest = line.at(line.nearest(spot.point + spot.outward * middle)).point;
        return ((nearest - spot.point).dot(spot.outward) - middle).max(0.0);
    }
    let turn = DVec2::from_angle(place.turn.as_radians());
    let across = measure.footprint.iter().map(|at| turn.rotate(*at).x);
    let (left, right) = across.fold((0.0_f64, 0.0_f64), |(left, right), x| (left.min(x), right.max(x)));
    let back = [DVec2::new(left, 0.0), DVec2::new(right, 0.0)];
    let flat = stand_off(&tier.outline, (&spot, &back));
    if flat == 0.0 {
        return flat;
    }
    // In a cleft: what is round at its back goes deeper in than a plate as wide.
    parts(cake, piece, measure).map_or(flat, |parts| stand_off(&tier.outline, (&spot, &section(&parts, place.turn))))
}

/// A ring round a piece seen along its side from above: along, out.
fn section(parts: &[Part], turn: Angle) -> Vec<DVec2> {
    let turn = DAffine3::from_rotation_z(turn.as_radians());
    let bodies = parts.iter().filter(|part| !part.is_stick());
    let places = bodies.flat_map(Part::places);
    hull(places.map(|at| turn.transform_point3(at)).map(|at| DVec2::new(at.x, at.z)).collect())
}

/// Whether a piece lies round what carries it, on the same seat: a rope outside its edge.
fn lies_round(piece: &Piece) -> bool {
    matches!(&piece.form, Form::Rope(rope) if matches!(rope.line, RopeLine::Edge(inside) if inside < Length::ZERO))
}

fn pose(cake: &Cake, piece: &Piece, (measure, on): (&PieceMeasure, Option<&Carrier>)) -> DAffine3 {
    let place = piece.place();
    match &piece.seat.on {
        Target::Board => on_flat(&DAffine3::IDENTITY, 0.0, place),
        Target::Tier(name) => {
            let tier = cake.tier(name);
            tier.map_or(DAffine3::IDENTITY, |tier| on_flat(&tier.pose(), tier.height.as_mm(), place))
        }
        Target::Piece(_) => on.map_or(DAffine3::IDENTITY, |on| pose_on_piece(on, piece, measure)),
    }
}

/// On another piece: as high as that is beneath, or as far out as its front is behind.
fn pose_on_piece(on: &Carrier, piece: &Piece, measure: &PieceMeasure) -> DAffine3 {
    let (frame, size, place) = (&on.placed.pose, on.placed.measure.size, piece.place());
    let round = lies_round(piece);
    let touched = |motion: &DAffine3| -> Vec<DVec2> {
        let at = |at: &DVec2| match piece.seat.surface {
            Surface::Side => motion.transform_point3(at.extend(0.0)).truncate(),
            Surface::Top | Surface::Board => {
                let place = motion.transform_point3(DVec3::new(at.x, 0.0, at.y));
                DVec2::new(place.x, place.z)
            }
        };
        match piece.form {
            // A ball touches at one point.
            Form::Ball(_) => vec![at(&DVec2::ZERO)],
            _ => measure.footprint.iter().map(at).collect(),
        }
    };
    match (piece.seat.surface, on.placed.side) {
        _ if round => on_flat(frame, 0.0, place),
        (Surface::Side, _) => {
            let ring = touched(&on_front(&DAffine3::IDENTITY, 0.0, place));
            on_front(frame, on.rest.front(&ring).unwrap_or(size.depth.as_mm() / 2.0), place)
        }
        // On the upper edge of what lies on a side.
        (_, Some(_)) => {
            let middle =
                DAffine3::from_translation(DVec3::new(0.0, size.height.as_mm() / 2.0, size.depth.as_mm() / 2.0));
            on_flat(&(*frame * middle), 0.0, place)
        }
        (_, None) => {
            let ring = touched(&on_flat(&DAffine3::IDENTITY, 0.0, place));
            on_flat(frame, on.rest.top(&ring).unwrap_or(size.height.as_mm()), place)
        }
    }
}
