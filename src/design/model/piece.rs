//! A piece: anything placed on the cake or the board.

use super::pieces::{Ball, Bow, Plaque, Rod, Rope, RopeLine, Scatter, Sign, Solid, Topper};
use crate::measure::{Angle, Length, PlanPoint, TapePoint};

/// Anything placed.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Unique among pieces.
    pub name: String,
    /// Where it sits.
    pub seat: Seat,
    /// Its place on the seat.
    pub at: At,
    /// Lying and standing pieces: seen from above; on a side: seen from in front. Counter-clockwise.
    pub turn: Angle,
    /// Leant towards the front about its own left-right line; on a side: its upper edge away from the side.
    pub tilt: Angle,
    /// What it is.
    pub form: Form,
    /// Hours it dries, where the person knows better than the table.
    pub dry_hours: Option<f64>,
    /// What it is stuck on with, in the decorator's words.
    pub stuck_with: Option<String>,
    /// Left out of everything.
    pub hidden: bool,
    /// Kept from being moved or changed in the editor; means nothing for the cake.
    pub locked: bool,
}

impl Piece {
    /// Its place on its seat and its turn. A scatter and a rope along an edge take theirs from the seat; on a
    /// top, a scatter turns about its middle.
    #[must_use]
    pub fn place(&self) -> (At, Angle) {
        let follows = matches!(&self.form, Form::Rope(rope) if matches!(rope.line, RopeLine::Edge(_)));
        match (&self.form, self.at) {
            (Form::Scatter(_), At::Tape(_)) => (At::Tape(TapePoint::default()), Angle::ZERO),
            (_, At::Tape(at)) if follows => (At::Tape(TapePoint { along: Length::ZERO, ..at }), Angle::ZERO),
            (Form::Scatter(_), At::Plan(_)) => (At::Plan(PlanPoint::default()), self.turn),
            (_, At::Plan(_)) if follows => (At::Plan(PlanPoint::default()), Angle::ZERO),
            (_, at) => (at, self.turn),
        }
    }

    /// Whether it bends to a side.
    #[must_use]
    pub fn is_soft(&self) -> bool {
        self.tilt == Angle::ZERO
            && match &self.form {
                Form::Plaque(plaque) => !plaque.stiff,
                Form::Sign(sign) => !sign.stiff,
                Form::Rope(_) | Form::Bow(_) => true,
                Form::Topper(_) | Form::Ball(_) | Form::Scatter(_) | Form::Rod(_) | Form::Solid(_) => false,
            }
    }
}

/// Where a piece sits.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// On what.
    pub on: Target,
    /// On which surface of it.
    pub surface: Surface,
}

/// What a piece sits on.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// The board.
    Board,
    /// A tier by name.
    Tier(String),
    /// Another piece by name.
    Piece(String),
}

impl Target {
    /// The word a design file uses: the name, or `board`.
    #[must_use]
    pub fn word(&self) -> &str {
        match self {
            Self::Board => "board",
            Self::Tier(name) | Self::Piece(name) => name,
        }
    }
}

/// The surface of a seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Surface {
    /// The upper face of a tier or piece.
    Top,
    /// The side of a tier, or the front of a piece.
    Side,
    /// The board's top face.
    Board,
}

/// A place on a seat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum At {
    /// On a top or the board.
    Plan(PlanPoint),
    /// On a side.
    Tape(TapePoint),
}

/// What a piece is: one variant a kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// Flat art standing up.
    Topper(Topper),
    /// Flat art or a shape, lying or bent to a side.
    Plaque(Plaque),
    /// One ball.
    Ball(Ball),
    /// Many balls, from a seed.
    Scatter(Scatter),
    /// A free rope: a line or a ring.
    Rope(Rope),
    /// Loops, tails and a knot.
    Bow(Bow),
    /// A strip with lettering or a picture.
    Sign(Sign),
    /// A standing or leaning prop.
    Rod(Rod),
    /// A candle, a figure, a cluster of flowers: a simple solid.
    Solid(Solid),
}

impl Form {
    /// The word a design file uses for the kind.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Topper(_) => "topper",
            Self::Plaque(_) => "plaque",
            Self::Ball(_) => "ball",
            Self::Scatter(_) => "scatter",
            Self::Rope(_) => "rope",
            Self::Bow(_) => "bow",
            Self::Sign(_) => "sign",
            Self::Rod(_) => "rod",
            Self::Solid(_) => "solid",
        }
    }

    /// Path of the art it uses, inside the design's folder.
    #[must_use]
    pub fn art(&self) -> Option<&str> {
        match self {
            Self::Topper(topper) => Some(&topper.art),
            Self::Plaque(plaque) => plaque.art.as_deref(),
            Self::Sign(sign) => sign.art.as_deref(),
            _ => None,
        }
    }

    /// Path of the font file it is lettered in, inside the design's folder.
    #[must_use]
    pub fn font(&self) -> Option<&str> {
        match self {
            Self::Sign(sign) => sign.letters.font.as_deref(),
            _ => None,
        }
    }
}
