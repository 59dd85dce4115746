//! Figures of a piece, worked out without building it.

use std::borrow::Cow;
use std::f64::consts::TAU;

use glam::{DVec2, DVec3};

use super::rope::Run;
use super::scatter::Thrown;
use crate::art::Neck;
use crate::measure::{Angle, Length};

/// A piece's own width, height and depth, before it is turned.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PieceSize {
    /// Left to right.
    pub width: Length,
    /// On a top: how high it stands. On a side: from its lower to its upper edge.
    pub height: Length,
    /// On a top: front to back. On a side: how far it stands out.
    pub depth: Length,
}

/// Everything about a piece that needs no body.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PieceMeasure {
    /// Its own size.
    pub size: PieceSize,
    /// How far it stands out of its seat: up from a top, out from a side.
    pub reach: Length,
    /// Paste on the cake by the finish's name, mm³. Sticks, wax and flowers are no paste.
    pub volumes: Vec<(String, f64)>,
    /// What holds it.
    pub picks: Vec<PickMeasure>,
    /// A simple ring round what it covers of its seat, counter-clockwise as (x, z) on a top, (along, up) on a side; mm.
    pub footprint: Vec<DVec2>,
    /// How far out of its back its length is true when it bends to a side, mm.
    pub neutral: f64,
    /// The foot of a leaning rod is cut so far from square, so that it stands flat.
    pub foot: Angle,
    /// The balls of a scatter.
    pub balls: Vec<Thrown>,
    /// The middle line of a rope.
    pub run: Run,
    /// What is cut for it.
    pub cuts: Vec<Cut>,
    /// Where it is so narrow that it may break, the narrowest first: right of its middle and up from its foot (on a side:
    /// from its middle), mm.
    pub necks: Vec<Neck>,
    /// What doesn't fit.
    pub shortfalls: Vec<Shortfall>,
}

/// What kind of pick one is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PickKind {
    /// It carries the piece.
    Stick,
    /// It keeps the piece where it is.
    Pin,
    /// It keeps a piece from twisting about its sticks.
    SidePin,
}

impl PickKind {
    /// The word in lists.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stick => "stick",
            Self::Pin => "pin",
            Self::SidePin => "side pin",
        }
    }
}

/// A stick or pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PickMeasure {
    /// What it is for.
    pub kind: PickKind,
    /// Across.
    pub diameter: Length,
    /// Cut to this length.
    pub length: Length,
    /// How deep in the piece.
    pub into_piece: Length,
    /// How deep in the cake.
    pub into_cake: Length,
    /// Where it enters the seat, in the piece's frame, mm.
    pub entry: DVec3,
    /// Its direction into the seat.
    pub toward: DVec3,
}

impl PickMeasure {
    /// Where its share of the piece begins, in the piece's frame, mm: at the seat, or above it where the piece is hollow
    /// underneath.
    #[must_use]
    pub fn enters_piece(&self) -> DVec3 {
        self.entry - self.toward * (self.length - self.into_cake - self.into_piece).as_mm()
    }
}

/// A strip or plate to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Which part it becomes.
    pub what: Cow<'static, str>,
    /// Along the strip.
    pub length: Length,
    /// Across the strip.
    pub width: Length,
    /// As rolled.
    pub thickness: Length,
    /// How many.
    pub count: u32,
    /// Name of the finish.
    pub finish: String,
    /// How its free end is cut.
    pub end: CutEnd,
}

/// How the free end of a strip is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CutEnd {
    /// Square to the strip, or no end to speak of.
    #[default]
    Square,
    /// At an angle.
    Slant,
    /// With a V.
    Notch,
}

impl CutEnd {
    /// A word for lists: `square`, `slant` or `notch`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::Slant => "slant",
            Self::Notch => "notch",
        }
    }
}

/// What of a piece bends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bend {
    /// A line that hangs.
    Sag,
    /// A ring.
    Ring,
    /// The waves of a sign.
    Wave,
    /// The rolled ends of a sign.
    Curl,
    /// The loops of a bow.
    Loop,
    /// The ribbon of a bow: how wide it is.
    Ribbon,
}

/// Something that is asked for and has no room.
#[derive(Clone, Debug, PartialEq)]
pub enum Shortfall {
    /// A sign with neither lettering nor a picture.
    Blank,
    /// Cells of a plaque that lie over its edge, or have no room.
    Cells {
        /// How many were asked for.
        asked: u32,
        /// How many are cut.
        cut: u32,
    },
    /// Characters that no font at hand has a sign for.
    NoSign {
        /// The first of them.
        signs: String,
        /// How many there are.
        count: usize,
    },
    /// Lettering against the room on its sign, both as width × height.
    Text {
        /// Of the lettering.
        needs: [Length; 2],
        /// Of the face.
        room: [Length; 2],
    },
    /// A line along an edge where no edge is, or too far inside it.
    NoEdge,
    /// Paste that should bend more tightly than paste so wide or thick can.
    Bend {
        /// What bends.
        what: Bend,
        /// How deep, high or wide it was asked for.
        asked: Length,
        /// How it is drawn: as far as it bends.
        drawn: Length,
        /// How wide or thick the paste is across the bend.
        wide: Length,
    },
    /// A pick that would come out of its piece before it is as deep as it should be.
    PickRoom {
        /// What the pick is for.
        kind: PickKind,
        /// How deep it should go into the piece.
        asked: Length,
        /// How deep it can go.
        room: Length,
        /// Where it goes in: right of the piece's middle, up from its foot; mm.
        at: DVec2,
    },
    /// Sticks that stand beside the middle of the weight they carry.
    OffBalance {
        /// So far to the right of it; negative: to the left.
        right: Length,
    },
    /// A layer of a piece that falls into parts which nothing joins.
    InParts {
        /// How many.
        parts: usize,
    },
    /// Places of a piece that are narrower than paste of its thickness bears.
    Narrow {
        /// What paste so thick bears.
        least: Length,
        /// The narrowest of them.
        neck: Neck,
        /// How many there are.
        places: usize,
    },
    /// Balls of a scatter that found no place.
    Crowded {
        /// How many were asked for.
        asked: u32,
        /// How many lie there.
        placed: u32,
    },
}

/// The round corners of a footprint are drawn so near (mm) to what they are.
pub(super) const FINE: f64 = 0.02;

/// A circle as a footprint: a regular polygon round it, mm, as wide and as deep as the circle.
pub(super) fn circle(radius: f64) -> Vec<DVec2> {
    const CORNERS: u32 = 48;
    let half = TAU / f64::from(2 * CORNERS);
    let corner = |corner: u32| DVec2::from_angle(half * f64::from(2 * corner + 1)) * (radius / half.cos());
    (0..CORNERS).map(corner).collect()
}

/// A rectangle as a footprint, from its least to its greatest corner, mm.
pub(super) fn rectangle(low: DVec2, high: DVec2) -> Vec<DVec2> {
    vec![low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)]
}

/// The corners of a square round a place, mm.
pub(super) fn square_round(at: DVec2, half: f64) -> [DVec2; 4] {
    [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| at + DVec2::new(x, y) * half)
}

/// Adds paste of one finish to a list with one row a finish.
pub(super) fn add(volumes: &mut Vec<(String, f64)>, finish: &str, volume: f64) {
    match volumes.iter_mut().find(|(name, _)| name == finish) {
        Some((_, sum)) => *sum += volume,
        None => volumes.push((finish.to_owned(), volume)),
    }
}

/// The convex hull, counter-clockwise (Andrew's monotone chain, 1979).
#[must_use]
pub fn hull(mut places: Vec<DVec2>) -> Vec<DVec2> {
    places.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |places: &mut dyn Iterator<Item = &DVec2>| {
        let mut chain: Vec<DVec2> = Vec::new();
        for &at in places {
            while let [.., before, last] = *chain.as_slice() {
                if (last - before).perp_dot(at - last) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(at);
        }
        chain.pop();
        chain
    };
    let mut lower = chain(&mut places.iter());
    lower.extend(chain(&mut places.iter().rev()));
    lower
}
