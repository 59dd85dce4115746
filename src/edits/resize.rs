//! What larger and smaller mean for each kind of piece, and its main finish and art.

use super::Refusal;
use crate::design::model::pieces::{ReferenceSide, RopeLine};
use crate::design::model::{Form, Piece};
use crate::measure::Length;

/// A change of size. Thicknesses, borders and sticks stay: they follow from the tools, not from the look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Resize {
    /// Everything by this factor.
    By(f64),
    /// This wide: as its width is meant (across a ball, along a rope). The height follows where the form is fixed.
    Width(Length),
    /// This high (deep, where it lies). The width follows where the form is fixed.
    Height(Length),
}

/// The form in its new size.
#[must_use]
pub fn resized(form: &Form, resize: Resize) -> Form {
    let mut form = form.clone();
    let (width, height) = sizes(&form);
    let alone = has_free_sides(&form);
    match (resize, width, height) {
        (Resize::By(factor), ..) => stretch(&mut form, (factor, factor)),
        (Resize::Width(to), Some(from), _) if alone => stretch(&mut form, (to / from, 1.0)),
        (Resize::Height(to), _, Some(from)) if alone => stretch(&mut form, (1.0, to / from)),
        (Resize::Width(to), Some(from), _) | (Resize::Height(to), _, Some(from)) => {
            stretch(&mut form, (to / from, to / from));
        }
        (Resize::Width(to), ..) => set_reference(&mut form, ReferenceSide::Width(to)),
        (Resize::Height(to), ..) => set_reference(&mut form, ReferenceSide::Height(to)),
    }
    form
}

/// Whether its width and height can be changed one without the other.
#[must_use]
pub fn has_free_sides(form: &Form) -> bool {
    match form {
        Form::Plaque(plaque) => plaque.art.is_none(),
        Form::Sign(_) | Form::Solid(_) | Form::Rod(_) => true,
        Form::Rope(rope) => matches!(rope.line, RopeLine::Straight { .. }),
        Form::Topper(_) | Form::Ball(_) | Form::Scatter(_) | Form::Bow(_) => false,
    }
}

fn stretch(form: &mut Form, (across, up): (f64, f64)) {
    match form {
        Form::Topper(topper) => topper.size = stretched(topper.size, (across, up)),
        Form::Plaque(plaque) => {
            plaque.size = stretched(plaque.size, (across, up));
            plaque.corner = plaque.corner * across.min(up);
        }
        Form::Ball(ball) => ball.size = ball.size * across,
        Form::Scatter(scatter) => scatter.sizes.iter_mut().for_each(|(size, _)| *size = *size * across),
        Form::Rope(rope) => match &mut rope.line {
            RopeLine::Straight { length, sag } => {
                *length = *length * across;
                *sag = *sag * across;
                rope.diameter = rope.diameter * up;
            }
            RopeLine::Ring(wide) => *wide = *wide * across,
            RopeLine::Edge(_) => rope.diameter = rope.diameter * across,
        },
        Form::Bow(bow) => {
            for size in [&mut bow.ribbon, &mut bow.loop_length, &mut bow.tail_length] {
                *size = *size * across;
            }
        }
        Form::Sign(sign) => {
            let [width, height] = sign.size;
            sign.size = [width * across, height * up];
            sign.letters.height = sign.letters.height * across.min(up);
        }
        Form::Rod(rod) => {
            for part in &mut rod.parts {
                part.length = part.length * up;
                part.from = part.from * across;
                part.to = part.to * across;
            }
        }
        Form::Solid(solid) => {
            solid.across = solid.across * across;
            solid.height = solid.height * up;
        }
    }
}

fn stretched(size: ReferenceSide, (across, up): (f64, f64)) -> ReferenceSide {
    match size {
        ReferenceSide::Width(width) => ReferenceSide::Width(width * across),
        ReferenceSide::Height(height) => ReferenceSide::Height(height * up),
        ReferenceSide::Both(width, height) => ReferenceSide::Both(width * across, height * up),
    }
}

fn set_reference(form: &mut Form, to: ReferenceSide) {
    match form {
        Form::Topper(topper) => topper.size = to,
        Form::Plaque(plaque) => plaque.size = to,
        _ => {}
    }
}

fn reference(size: ReferenceSide) -> (Option<Length>, Option<Length>) {
    match size {
        ReferenceSide::Width(width) => (Some(width), None),
        ReferenceSide::Height(height) => (None, Some(height)),
        ReferenceSide::Both(width, height) => (Some(width), Some(height)),
    }
}

/// Width and height as the design gives them; `None` where they follow from the art.
#[must_use]
pub fn sizes(form: &Form) -> (Option<Length>, Option<Length>) {
    let both = |width, height| (Some(width), Some(height));
    match form {
        Form::Topper(topper) => reference(topper.size),
        Form::Plaque(plaque) => reference(plaque.size),
        Form::Ball(ball) => both(ball.size, ball.size),
        Form::Scatter(scatter) => {
            let largest = scatter.sizes.iter().map(|(size, _)| *size).fold(Length::ZERO, Length::max);
            both(largest, largest)
        }
        Form::Rope(rope) => match rope.line {
            RopeLine::Straight { length, .. } => both(length, rope.diameter),
            RopeLine::Ring(wide) => both(wide, wide),
            RopeLine::Edge(_) => both(rope.diameter, rope.diameter),
        },
        Form::Bow(bow) => both(bow.loop_length * 2.0, bow.loop_length.max(bow.tail_length)),
        Form::Sign(sign) => {
            let [width, height] = sign.size;
            both(width, height)
        }
        Form::Rod(rod) => {
            let across = rod.parts.iter().map(|part| part.from.max(part.to)).fold(Length::ZERO, Length::max);
            both(across, rod.parts.iter().map(|part| part.length).sum())
        }
        Form::Solid(solid) => both(solid.across, solid.height),
    }
}

/// The finish that a piece is mainly made in; of a rod, that of its first part.
#[must_use]
pub fn main_finish(form: &Form) -> &str {
    match form {
        Form::Topper(topper) => &topper.finish,
        Form::Plaque(plaque) => &plaque.finish,
        Form::Ball(ball) => &ball.finish,
        Form::Scatter(scatter) => &scatter.finish,
        Form::Rope(rope) => &rope.finish,
        Form::Bow(bow) => &bow.finish,
        Form::Sign(sign) => &sign.finish,
        Form::Rod(rod) => rod.parts.first().map_or("white", |part| &part.finish),
        Form::Solid(solid) => &solid.finish,
    }
}

/// Gives a piece another main finish; of a rod, every part that had the first one's.
pub(super) fn set_finish(form: &mut Form, to: &str) {
    let finish = match form {
        Form::Topper(topper) => &mut topper.finish,
        Form::Plaque(plaque) => &mut plaque.finish,
        Form::Ball(ball) => &mut ball.finish,
        Form::Scatter(scatter) => &mut scatter.finish,
        Form::Rope(rope) => &mut rope.finish,
        Form::Bow(bow) => &mut bow.finish,
        Form::Sign(sign) => &mut sign.finish,
        Form::Solid(solid) => &mut solid.finish,
        Form::Rod(rod) => {
            let old = rod.parts.first().map(|part| part.finish.clone());
            let same = rod.parts.iter_mut().filter(|part| Some(&part.finish) == old.as_ref());
            same.for_each(|part| to.clone_into(&mut part.finish));
            return;
        }
    };
    to.clone_into(finish);
}

/// Gives a piece other art: a topper, a plaque or a sign.
pub(super) fn set_art(piece: &mut Piece, path: &str) -> Result<(), Refusal> {
    match &mut piece.form {
        Form::Topper(topper) => path.clone_into(&mut topper.art),
        Form::Plaque(plaque) => plaque.art = Some(path.to_owned()),
        Form::Sign(sign) => sign.art = Some(path.to_owned()),
        _ => {
            let sentence = format!("the {} “{}” has no picture", piece.form.kind(), piece.name);
            return Err(Refusal::senseless(sentence, "drop it on a topper, a plaque, a sign or a wrap"));
        }
    }
    Ok(())
}
