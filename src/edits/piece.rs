//! Edits of a piece.

use super::Refusal;
use super::delete::delete_piece;
use super::names::{free_name, piece_index, piece_mut, put, riders};
use super::resize::{Resize, resized, set_art, set_finish};
use crate::design::model::pieces::{Over, Scatter};
use crate::design::model::{At, Form, Piece, Seat, Surface, Target};
use crate::design::{Design, Names, renamed};
use crate::measure::{Angle, Length, PlanPoint, TapePoint};

/// An edit of a piece.
#[derive(Clone, Debug, PartialEq)]
pub enum PieceEdit {
    /// What it is, with all its sizes.
    Form(Box<Form>),
    /// Its place: on which seat, and where on it. Of a scatter, its stretch moves with its middle.
    Move(Seat, At),
    /// How it is turned.
    Turn(Angle),
    /// How it leans.
    Tilt(Angle),
    /// Larger or smaller; thicknesses and sticks stay.
    Resize(Resize),
    /// The finish it is mainly made in.
    Finish(String),
    /// Its art: a path in the design's folder.
    Art(String),
    /// Hours it dries, where the person knows better than the table.
    Dry(Option<f64>),
    /// Another name; what sits on it follows.
    Rename(String),
    /// Leaves it out of everything, with all that sits on it; or lets them be seen.
    Hide(bool),
    /// Keeps it as it is, or lets it go.
    Lock(bool),
    /// Its place in the design's list of pieces.
    Order(usize),
    /// A copy of it on the same seat.
    Duplicate(Copy),
    /// To the other side of front centre, with what sits on it.
    Mirror,
    /// Takes it away; see [`super::consequences`] for what becomes of the pieces on it.
    Delete,
}

/// Where a copy goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Copy {
    /// Beside the first.
    Beside,
    /// To its mirrored place, on the other side of front centre.
    Mirrored,
}

impl PieceEdit {
    /// Changes values of one piece only, and no name.
    pub(super) const fn keeps_to_itself(&self) -> bool {
        match self {
            Self::Form(_) | Self::Move(..) | Self::Turn(_) | Self::Resize(_) | Self::Finish(_) | Self::Art(_) => true,
            Self::Tilt(_) | Self::Dry(_) | Self::Lock(_) => true,
            Self::Mirror | Self::Rename(_) | Self::Hide(_) | Self::Order(_) | Self::Duplicate(_) | Self::Delete => {
                false
            }
        }
    }

    const fn is_let_through_a_lock(&self) -> bool {
        matches!(self, Self::Lock(_) | Self::Hide(_) | Self::Order(_) | Self::Duplicate(_))
    }
}

pub(super) fn carry_out(design: &mut Design, name: &str, edit: &PieceEdit) -> Result<(), Refusal> {
    let piece = piece_mut(design, name)?;
    if piece.locked && !edit.is_let_through_a_lock() {
        return Err(Refusal::locked("piece", name));
    }
    match edit {
        PieceEdit::Form(form) => piece.form = (**form).clone(),
        PieceEdit::Move(seat, at) => move_to(piece, seat, *at)?,
        PieceEdit::Turn(turn) => piece.turn = *turn,
        PieceEdit::Tilt(tilt) => tilt_to(piece, *tilt)?,
        PieceEdit::Resize(resize) => piece.form = resized(&piece.form, *resize),
        PieceEdit::Finish(finish) => set_finish(&mut piece.form, finish),
        PieceEdit::Art(path) => set_art(piece, path)?,
        PieceEdit::Dry(hours) => piece.dry_hours = *hours,
        PieceEdit::Rename(to) => return rename(design, (name, to)),
        PieceEdit::Hide(hidden) => hide(design, name, *hidden),
        PieceEdit::Lock(locked) => piece.locked = *locked,
        PieceEdit::Order(to) => {
            let from = piece_index(design, name)?;
            put(&mut design.pieces, from, *to);
        }
        PieceEdit::Duplicate(copy) => duplicate(design, name, *copy)?,
        PieceEdit::Mirror => {
            mirror(piece);
            mirror_riders(design, &Target::Piece(name.to_owned()));
        }
        PieceEdit::Delete => return delete_piece(design, name),
    }
    Ok(())
}

fn tilt_to(piece: &mut Piece, tilt: Angle) -> Result<(), Refusal> {
    if matches!(piece.form, Form::Ball(_) | Form::Scatter(_)) {
        return Err(Refusal::senseless("a ball looks the same however it leans", "turn or move it instead"));
    }
    piece.tilt = tilt;
    Ok(())
}

fn move_to(piece: &mut Piece, seat: &Seat, at: At) -> Result<(), Refusal> {
    let is_tape = matches!(at, At::Tape(_));
    if is_tape != (seat.surface == Surface::Side) {
        let sentence = "a place on a side is along and up, any other is x and z";
        return Err(Refusal::senseless(sentence, "give the place that its seat asks for"));
    }
    if is_tape && matches!(&piece.form, Form::Rod(rod) if rod.leans_on.is_some()) {
        return Err(Refusal::senseless("a leaning rod stands on the board or on a top", "put its foot there"));
    }
    piece.seat = seat.clone();
    piece.at = at;
    if let Form::Scatter(scatter) = &mut piece.form {
        // A scatter's stretch alone says where it lies; on a top it turns about the seat's middle.
        piece.at = if is_tape { At::Tape(TapePoint::default()) } else { At::Plan(PlanPoint::default()) };
        move_stretch(scatter, turned(at, -piece.turn.as_radians()));
    }
    Ok(())
}

/// A place on a top, turned about the top's middle, counter-clockwise seen from above; a place on a side stays.
fn turned(at: At, by: f64) -> At {
    let At::Plan(at) = at else { return at };
    let (sin, cos) = by.sin_cos();
    At::Plan(PlanPoint { x: at.x * cos + at.z * sin, z: at.z * cos - at.x * sin })
}

/// The stretch of a scatter about another middle; on another surface with the same two widths.
fn move_stretch(scatter: &mut Scatter, at: At) {
    let ((a, b), (c, d)) = match scatter.over {
        Over::Tape { along, up } => (along, up),
        Over::Plan { x, z } => (x, z),
    };
    let about = |middle: Length, width: Length| (middle - width / 2.0, middle + width / 2.0);
    scatter.over = match at {
        At::Tape(at) => Over::Tape { along: about(at.along, b - a), up: about(at.up, d - c) },
        At::Plan(at) => Over::Plan { x: about(at.x, b - a), z: about(at.z, d - c) },
    };
}

/// Where a piece is, as a person would point at it: of a scatter the middle of its stretch, else its place.
#[must_use]
pub fn middle(piece: &Piece) -> At {
    let mid = |(a, b): (Length, Length)| (a + b) / 2.0;
    let plan = |x, z| At::Plan(PlanPoint { x, z });
    match &piece.form {
        Form::Scatter(scatter) => match scatter.over {
            Over::Tape { along, up } => At::Tape(TapePoint { along: mid(along), up: mid(up) }),
            Over::Plan { x, z } => turned(plan(mid(x), mid(z)), piece.turn.as_radians()),
        },
        _ => piece.at,
    }
}

fn rename(design: &mut Design, (from, to): (&str, &str)) -> Result<(), Refusal> {
    piece_mut(design, from)?.name = to.to_owned();
    let follow = renamed(design, &[Names::Seat], (from, to));
    *design = follow.ok_or_else(|| Refusal::missing("piece", from))?;
    Ok(())
}

/// Hides a piece with all that sits on it, as nothing can sit on what is not there; shows it with all that carries it.
fn hide(design: &mut Design, name: &str, hidden: bool) {
    let mut next = vec![name.to_owned()];
    // Each round goes one seat further; seats never lead in a ring.
    while let Some(name) = next.pop() {
        let on = Target::Piece(name.clone());
        let Some(piece) = design.pieces.iter_mut().find(|piece| piece.name == name) else { continue };
        piece.hidden = hidden;
        if hidden {
            next.extend(riders(design, &on).map(|rider| rider.name.clone()));
        } else if let Target::Piece(carrier) = &piece.seat.on {
            next.push(carrier.clone());
        }
    }
}

fn duplicate(design: &mut Design, name: &str, copy: Copy) -> Result<(), Refusal> {
    let index = piece_index(design, name)?;
    let mut twin = piece_mut(design, name)?.clone();
    twin.name = free_name(design, name);
    twin.locked = false;
    match copy {
        Copy::Mirrored => mirror(&mut twin),
        Copy::Beside => {
            let step = Length::of(1.0, design.unit).max(Length::mm(20.0));
            let at = match middle(&twin) {
                At::Tape(at) => At::Tape(TapePoint { along: at.along + step, ..at }),
                At::Plan(at) => At::Plan(PlanPoint { x: at.x + step, ..at }),
            };
            let seat = twin.seat.clone();
            move_to(&mut twin, &seat, at)?;
        }
    }
    design.pieces.insert(index + 1, twin);
    Ok(())
}

/// Mirrors what sits on something, and what sits on that.
pub(super) fn mirror_riders(design: &mut Design, on: &Target) {
    let mut carriers = vec![on.clone()];
    // Seats never lead in a ring, so every piece is met once.
    while let Some(on) = carriers.pop() {
        for piece in design.pieces.iter_mut().filter(|piece| piece.seat.on == on) {
            mirror(piece);
            carriers.push(Target::Piece(piece.name.clone()));
        }
    }
}

/// To the other side of front centre.
fn mirror(piece: &mut Piece) {
    match &mut piece.at {
        At::Tape(at) => at.along = -at.along,
        At::Plan(at) => at.x = -at.x,
    }
    piece.turn = Angle::degrees(-piece.turn.as_degrees());
    match &mut piece.form {
        Form::Scatter(scatter) => match &mut scatter.over {
            Over::Tape { along, .. } => *along = (-along.1, -along.0),
            Over::Plan { x, .. } => *x = (-x.1, -x.0),
        },
        Form::Bow(bow) => bow.mirror = !bow.mirror,
        _ => {}
    }
}
