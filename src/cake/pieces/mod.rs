//! What each kind of piece is as a thing: its size and paste, and its bodies. One file a kind; [`measure`] and [`parts`] are the list.
//!
//! In: a piece's [`Form`] from the design, how it is held, the art on the shelf. Out: figures ([`PieceMeasure`]: cheap, no bodies)
//! and bodies ([`Part`]), both in the piece's own frame, mm. Where on the cake that frame lies is not known here.
//!
//! ```text
//!   on a top or the board                    on a side
//!        y up                                   y up
//!        |                                      |
//!        o---- x right                          o---- x right along the tape
//!       /                                      /
//!      z to the front                         z out of the side
//!   o: where it stands                       o: its place, on the side's surface
//! ```

#[cfg(test)]
pub(super) mod any;
mod ball;
mod bow;
mod likeness;
mod making;
mod measures;
mod plaque;
mod print;
mod rod;
mod rope;
mod scatter;
mod sign;
mod site;
mod solid;
mod template;
mod tilt;
mod topper;
#[cfg(test)]
pub(super) mod trial;

pub use making::{Bulk, Hold, Makings, Paint, Part, PieceError, Posture, Stock};
pub use measures::{Bend, Cut, CutEnd, PickKind, PickMeasure, PieceMeasure, PieceSize, Shortfall, hull};
pub use print::{Ink, PiecePrint, print};

pub use rod::{foot_cut, rod_profile, rod_radius};
pub use rope::Run;
pub use scatter::Thrown;
pub use site::{Endless, Site};
pub use template::{Guide, Mirrored, Template, templates};
pub use tilt::tilted;

use crate::design::model::Form;

/// Size, paste, picks and footprint of a piece, without building it.
///
/// # Errors
/// Art that can't be used.
pub fn measure(
    form: &Form,
    (posture, site): (Posture, &dyn Site),
    makings: Makings,
) -> Result<PieceMeasure, PieceError> {
    Ok(match form {
        Form::Topper(topper) => topper::measure(topper, posture, makings)?,
        Form::Plaque(plaque) => plaque::measure(plaque, posture, makings)?,
        Form::Ball(ball) => ball::measure(ball, posture),
        Form::Scatter(scatter) => scatter::measure(scatter, posture, site),
        Form::Rope(rope) => rope::measure(rope, posture, site),
        Form::Bow(bow) => bow::measure(bow, posture),
        Form::Sign(sign) => sign::measure(sign, posture, makings)?,
        Form::Rod(rod) => rod::measure(rod, posture),
        Form::Solid(solid) => solid::measure(solid, posture),
    })
}

/// The bodies of a piece as [`measure`] found it. Equal ones share a mesh, also with pieces built from the same `stock` before.
///
/// # Errors
/// Art that can't be used.
pub fn parts(
    form: &Form,
    (posture, measured): (Posture, &PieceMeasure),
    makings: Makings,
    stock: &mut Stock,
) -> Result<Vec<Part>, PieceError> {
    Ok(match form {
        Form::Topper(topper) => topper::parts(topper, posture, makings, stock)?,
        Form::Plaque(plaque) => plaque::parts(plaque, posture, makings)?,
        Form::Ball(ball) => ball::parts(ball, posture, stock),
        Form::Scatter(scatter) => scatter::parts(scatter, (posture, &measured.balls), stock),
        Form::Rope(rope) => rope::parts(rope, (posture, &measured.run), stock),
        Form::Bow(bow) => bow::parts(bow, posture),
        Form::Sign(sign) => sign::parts(sign, posture, makings)?,
        Form::Rod(rod) => rod::parts(rod, (posture, measured.foot), stock),
        Form::Solid(solid) => solid::parts(solid, posture, stock),
    })
}
