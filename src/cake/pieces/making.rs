//! What a piece is made from, and the bodies that come of it.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use crate::art::{ArtError, Colour, Picture, Shelf};
use crate::design::model::Surface;
use crate::design::{Design, Look};
use crate::shapes::Mesh;
use crate::shapes::build::{bar, lathe, sphere};

/// What pieces are made from.
#[derive(Clone, Copy, Debug)]
pub struct Makings<'a> {
    /// The design's art, by path.
    pub shelf: &'a Shelf,
    /// The design that the piece belongs to.
    pub design: &'a Design,
}

/// How a piece is held, which follows from the surface of its seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Posture {
    /// On a top or on the board: it stands or lies, as its kind does.
    OnTop,
    /// On a side.
    OnSide,
}

impl From<Surface> for Posture {
    fn from(surface: Surface) -> Self {
        match surface {
            Surface::Top | Surface::Board => Self::OnTop,
            Surface::Side => Self::OnSide,
        }
    }
}

impl Posture {
    /// From the frame of a side (z out of the seat) to the piece's frame: on a top it is laid on its back, head away
    /// from the customer.
    pub(super) fn laid(self) -> DAffine3 {
        match self {
            Self::OnTop => DAffine3::from_rotation_x(-FRAC_PI_2),
            Self::OnSide => DAffine3::IDENTITY,
        }
    }

    /// From the frame of a top (y up) to the piece's frame, for what stands: on a side it stands upright against it, its middle
    /// at its place, `radius` mm out and `tall` mm high.
    pub(super) fn upright(self, radius: f64, tall: f64) -> DAffine3 {
        match self {
            Self::OnTop => DAffine3::IDENTITY,
            Self::OnSide => DAffine3::from_translation(DVec3::new(0.0, -tall / 2.0, radius)),
        }
    }

    /// From the frame of a top (y out of the seat) to the piece's frame: on a side it sticks out, its front downward.
    pub(super) fn raised(self) -> DAffine3 {
        match self {
            Self::OnTop => DAffine3::IDENTITY,
            Self::OnSide => DAffine3::from_rotation_x(FRAC_PI_2),
        }
    }

    /// A place of the frame of a side, on the seat: (x, z) on a top, (along, up) on a side.
    pub(super) fn on_seat(self, at: DVec2) -> DVec2 {
        match self {
            Self::OnTop => DVec2::new(at.x, -at.y),
            Self::OnSide => at,
        }
    }

    /// The direction out of the seat.
    pub(in crate::cake) fn out(self) -> DVec3 {
        match self {
            Self::OnTop => DVec3::Y,
            Self::OnSide => DVec3::Z,
        }
    }

    /// A place on the seat, so far out: (right, front) on a top, (right, up) on a side.
    #[must_use]
    pub fn place(self, on: DVec2, out: f64) -> DVec3 {
        match self {
            Self::OnTop => DVec3::new(on.x, out, on.y),
            Self::OnSide => on.extend(out),
        }
    }
}

/// What a part looks like.
#[derive(Clone, Debug, PartialEq)]
pub enum Paint {
    /// A finish of the design, by name.
    Finish(String),
    /// A colour of its own: letters, sticks, wicks.
    Plain(Colour, Look),
}

/// How a part of a piece on a side goes with the side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// As one with the piece's frame.
    Rigid,
    /// Stiff itself, but its own origin (x along, y up, z out) is laid on the side: one ball of a row.
    Placed,
    /// Bends: every corner (x along, y up, z out) is laid on the side.
    Soft,
}

/// What a part is, to whatever asks for the space it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bulk {
    /// What its mesh encloses.
    Body,
    /// A ball about its own origin, of this radius (mm).
    Ball(f64),
    /// A stick or pin: meant to go into things.
    Stick,
}

/// One body of a piece.
#[derive(Clone, Debug)]
pub struct Part {
    /// `front`, `backing`, `knot` …; unique within the piece.
    pub name: Cow<'static, str>,
    /// The surface, in the part's own frame, mm.
    pub mesh: Arc<Mesh>,
    /// From the part's frame to the piece's.
    pub pose: DAffine3,
    /// What it looks like.
    pub paint: Paint,
    /// A picture laid on by the mesh's picture places, over the paint.
    pub picture: Option<Arc<Picture>>,
    /// How it goes with a side.
    pub hold: Hold,
    /// What it is.
    pub bulk: Bulk,
}

impl Part {
    /// A rigid part at the piece's origin, in a finish of the design.
    pub(super) fn new(name: impl Into<Cow<'static, str>>, mesh: impl Into<Arc<Mesh>>, finish: &str) -> Self {
        Self {
            name: name.into(),
            mesh: mesh.into(),
            pose: DAffine3::IDENTITY,
            paint: Paint::Finish(finish.to_owned()),
            picture: None,
            hold: Hold::Rigid,
            bulk: Bulk::Body,
        }
    }

    /// A ball about the piece's origin, so wide (mm), in a finish of the design.
    pub(super) fn ball(name: impl Into<Cow<'static, str>>, across: f64, finish: &str, stock: &mut Stock) -> Self {
        Self { bulk: Bulk::Ball(across / 2.0), ..Self::new(name, stock.ball(across), finish) }
    }

    /// The same part, placed.
    pub(super) fn at(self, pose: DAffine3) -> Self {
        Self { pose, ..self }
    }

    /// The same part, held so.
    pub(super) fn held(self, hold: Hold) -> Self {
        Self { hold, ..self }
    }

    /// The corners of its surface, in the frame that it is placed in.
    pub fn places(&self) -> impl Iterator<Item = DVec3> {
        self.mesh.positions.iter().map(|&at| self.pose.transform_point3(at))
    }

    /// Whether it is a stick or pin, which goes into its seat.
    #[must_use]
    pub fn is_stick(&self) -> bool {
        self.bulk == Bulk::Stick
    }

    /// The same part in a colour of its own.
    pub(super) fn painted(self, colour: Colour) -> Self {
        Self { paint: Paint::Plain(colour, Look::Paste), ..self }
    }
}

/// Colour of a wooden stick.
const STICK: Colour = Colour::new(0xd9, 0xb9, 0x8a);

/// Bodies that many pieces share.
#[derive(Clone, Debug, Default)]
pub struct Stock {
    shelf: BTreeMap<(Ware, u64, u64), Arc<Mesh>>,
}

/// What lies in a stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Ware {
    Ball,
    Stick,
}

impl Stock {
    /// A ball about its centre, so wide (mm).
    fn ball(&mut self, across: f64) -> Arc<Mesh> {
        self.share((Ware::Ball, across.to_bits(), 0), || sphere(across / 2.0))
    }

    /// A stick from the origin up, so thick and so long (mm).
    fn stick(&mut self, across: f64, length: f64) -> Arc<Mesh> {
        self.share((Ware::Stick, across.to_bits(), length.to_bits()), || stick(across, length))
    }

    fn share(&mut self, key: (Ware, u64, u64), make: impl FnOnce() -> Mesh) -> Arc<Mesh> {
        self.shelf.entry(key).or_insert_with(|| Arc::new(make())).clone()
    }

    /// A pick as measured: from its end in the cake to its end in the piece.
    pub(super) fn pick(&mut self, name: impl Into<Cow<'static, str>>, pick: &super::PickMeasure) -> Part {
        let mesh = self.stick(pick.diameter.as_mm(), pick.length.as_mm());
        let turn = glam::DQuat::from_rotation_arc(DVec3::Y, -pick.toward);
        let end = pick.entry + pick.toward * pick.into_cake.as_mm();
        let stick = Part::new(name, mesh, "").painted(STICK).at(DAffine3::from_rotation_translation(turn, end));
        Part { bulk: Bulk::Stick, ..stick }
    }
}

/// A stick from the origin up.
fn stick(across: f64, length: f64) -> Mesh {
    let radius = across / 2.0;
    lathe(&bar([radius, radius], length, radius / 4.0))
}

/// Why a piece can't be made.
#[derive(Clone, Debug, thiserror::Error, PartialEq)]
pub enum PieceError {
    /// Its art was not read.
    #[error("{path}: the art was not found in the design's folder; put it there, or name another")]
    Missing {
        /// The art.
        path: String,
    },
    /// Its art can't be used.
    #[error(transparent)]
    Art(#[from] ArtError),
    /// Its outline encloses nothing, or touches itself so that it can't be cut.
    #[error(
        "{path}: the outline encloses no area that could be cut in one piece; draw it as closed shapes that don't touch"
    )]
    Outline {
        /// The art.
        path: String,
    },
}
