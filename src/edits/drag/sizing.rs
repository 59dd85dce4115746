//! A piece turned or resized by one of its handles.

use glam::{DVec2, DVec3};

use super::{Manner, Pointer, Step};
use crate::cake::Cake;
use crate::design::model::{At, Form, Piece};
use crate::edits::choose::{Grip, Ray, Stance, placed};
use crate::edits::snap::Snapped;
use crate::edits::{Edit, PieceEdit, Refusal, Resize, middle, nudge_step, on_ruler, sizes};
use crate::measure::{Angle, Length};

/// Steps that turning snaps to, degrees.
const TURN_STEP: f64 = 15.0;

/// Nearer than this to a step, turning snaps to it, degrees.
const TURN_NEAR: f64 = 4.0;

/// A handle nearer to the piece's place than this says nothing about a size, mm.
const LEAST_ARM: f64 = 1.0;

/// A turn or a change of size under way.
#[derive(Clone, Debug)]
pub(super) struct Sizing {
    name: String,
    grip: Grip,
    /// Where it was grabbed, in the piece's own flat frame before the drag (turned back), mm from its place.
    grabbed: DVec2,
}

impl Sizing {
    pub(super) fn grab(cake: &Cake, name: &str, (grip, pointer): (Grip, &Pointer)) -> Result<Self, Refusal> {
        let piece = cake.design.pieces.iter().find(|piece| piece.name == name);
        let piece = piece.ok_or_else(|| Refusal::missing("piece", name))?;
        if piece.locked {
            return Err(Refusal::locked("piece", name));
        }
        let away = || Refusal::senseless("the handle can't be reached from here", "look at it from another side");
        let grabbed = local(cake, piece, (grip, pointer)).ok_or_else(away)?;
        Ok(Self { name: name.to_owned(), grip, grabbed })
    }

    pub(super) fn to(&self, cake: &Cake, pointer: &Pointer, manner: Manner) -> Option<Step> {
        let piece = cake.design.pieces.iter().find(|piece| piece.name == self.name)?;
        let now = local(cake, piece, (self.grip, pointer))?;
        let (edit, words) = match self.grip {
            Grip::Turn => turn(piece, (self.grabbed, now), manner),
            Grip::Scale | Grip::Width | Grip::Height => self.resize((cake, piece), now, manner)?,
            Grip::Move => return None,
        };
        Some(Step::new(Edit::piece(&self.name, edit), Snapped { at: piece.at, words }))
    }

    fn resize(&self, (cake, piece): (&Cake, &Piece), now: DVec2, manner: Manner) -> Option<(PieceEdit, Vec<String>)> {
        let (arm, reached) = match self.grip {
            Grip::Width => (self.grabbed.x.abs(), now.x.abs()),
            Grip::Height => (self.grabbed.y.abs(), now.y.abs()),
            _ => (self.grabbed.length(), now.length()),
        };
        let factor = (arm > LEAST_ARM).then(|| reached / arm)?;
        let factor = if manner.is_fine { 1.0 + (factor - 1.0) / 4.0 } else { factor };
        let (width, height) = sizes(&piece.form);
        let unit = cake.design.unit;
        let step = nudge_step(unit);
        let typed = |length: Length| {
            let free = manner.is_fine || manner.strength <= Length::ZERO;
            if free { step * (length / step).round().max(1.0) } else { on_ruler(length, unit) }
        };
        let resize = match (self.grip, width, height) {
            (Grip::Height, _, Some(height)) | (_, None, Some(height)) => Resize::Height(typed(height * factor)),
            (Grip::Width, Some(width), _) => Resize::Width(typed(width * factor)),
            // A corner keeps the proportion: the width is made round, the height follows by the same factor.
            (_, Some(width), _) => Resize::By(typed(width * factor) / width),
            (_, None, None) => return None,
        };
        Some((PieceEdit::Resize(resize), Vec::new()))
    }
}

fn turn(piece: &Piece, (from, to): (DVec2, DVec2), manner: Manner) -> (PieceEdit, Vec<String>) {
    let by = from.angle_to(to).to_degrees() * if manner.is_fine { 0.25 } else { 1.0 };
    let free = piece.turn.as_degrees() + by;
    let stepped = (free / TURN_STEP).round() * TURN_STEP;
    let snaps = !manner.is_fine && manner.strength > Length::ZERO && (free - stepped).abs() < TURN_NEAR;
    let degrees = if snaps { stepped } else { free.round() };
    // Turns are told between -180 and 180 degrees.
    let degrees = (degrees + 180.0).rem_euclid(360.0) - 180.0;
    let words = if snaps { vec![format!("turned {degrees}°")] } else { Vec::new() };
    (PieceEdit::Turn(Angle::degrees(degrees)), words)
}

/// Where the pointer is in the two directions the piece is handled in, from its place, turned back with it.
fn local(cake: &Cake, piece: &Piece, (grip, pointer): (Grip, &Pointer)) -> Option<DVec2> {
    let seated = placed(cake, &piece.name)?;
    let back = DVec2::from_angle(-piece.turn.as_radians());
    match (pointer, Stance::of(piece)) {
        (Pointer::Tape(name, at), Stance::AtSide) => {
            let tier = cake.tiers.get(seated.side?.tier).filter(|tier| tier.name == *name)?;
            let away = on_side(piece, (at.along.as_mm(), at.up.as_mm()), |along| tier.outline.reading(along))?;
            Some(back.rotate(away))
        }
        (Pointer::Tape(..), _) => None,
        (Pointer::Ray(ray), Stance::AtSide) => Some(beside(cake, piece, *ray)?).map(|away| back.rotate(away)),
        (Pointer::Ray(ray), stance) => {
            let pose = seated.pose;
            let up = pose.matrix3.y_axis;
            let is_flat = stance == Stance::Lying || grip == Grip::Turn;
            let height = if stance == Stance::Lying { seated.measure.size.height.as_mm() } else { 0.0 };
            let normal = if is_flat { up } else { pose.matrix3.z_axis };
            let met = ray.meets(pose.translation + if is_flat { up * height } else { DVec3::ZERO }, normal)?;
            let own = pose.inverse().transform_point3(met);
            Some(if is_flat { DVec2::new(own.x, -own.z) } else { DVec2::new(own.x, own.y) })
        }
    }
}

/// From a piece's place to a place on its side's tape.
fn on_side(piece: &Piece, (along, up): (f64, f64), reading: impl Fn(f64) -> f64) -> Option<DVec2> {
    let At::Tape(at) = middle(piece) else { return None };
    Some(DVec2::new(reading(along - at.along.as_mm()), up - at.up.as_mm()))
}

/// From a piece's place on a side to where a ray meets the plane against which it lies, bent back to the tape by the way
/// round the outline.
fn beside(cake: &Cake, piece: &Piece, ray: Ray) -> Option<DVec2> {
    let seated = placed(cake, &piece.name)?;
    let side = seated.side?;
    let tier = cake.tiers.get(side.tier)?;
    let into = tier.pose().inverse();
    let local = Ray { from: into.transform_point3(ray.from), toward: into.matrix3 * ray.toward };
    let spot = tier.outline.at(if matches!(piece.form, Form::Scatter(_)) { 0.0 } else { side.along });
    let outward = DVec3::new(spot.outward.x, 0.0, spot.outward.y);
    let point = DVec3::new(spot.point.x, 0.0, spot.point.y) + outward * side.out;
    let met = local.meets(point, outward)?;
    let along = tier.outline.nearest(DVec2::new(met.x, met.z));
    on_side(piece, (along, met.y), |along| tier.outline.reading(along))
}
