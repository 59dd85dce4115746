//! The measurements as one document: what `measure --json` prints and what every pack shows.
//!
//! Lengths in mm, angles in degrees, masses in g. A key is left out where nothing true can be said yet.

use serde::Serialize;

use super::approval::ApprovalFacts;
use super::carrying::{BoxFacts, CautionFacts, StickFacts, SupportFacts};
use super::working::{PriceFacts, StepFacts};

/// Version of the layout of this document.
pub const SCHEMA: u32 = 1;

/// Every measurement of one design.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Facts {
    /// [`SCHEMA`].
    pub schema: u32,
    /// The design's title.
    pub title: String,
    /// Short hash of the design and its art.
    pub revision: String,
    /// The last approval; absent before the first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approval: Option<ApprovalFacts>,
    /// The unit the design is shown in: `in`, `mm` or `cm`.
    pub unit: String,
    /// From the board up.
    pub tiers: Vec<TierFacts>,
    /// Every printed wrap.
    pub wraps: Vec<WrapFacts>,
    /// Every piece that is not hidden, in the design's order.
    pub pieces: Vec<PieceFacts>,
    /// Every sheet to print, in order.
    pub sheets: Vec<SheetFacts>,
    /// What to mix, by paste.
    pub pastes: Vec<PasteFacts>,
    /// Dowels under every tier that is carried, from the board up.
    pub supports: Vec<SupportFacts>,
    /// Every stick to cut, equal ones together.
    pub sticks: Vec<StickFacts>,
    /// The board.
    pub board: BoardFacts,
    /// The whole, board included.
    pub overall: OverallFacts,
    /// Portions of the whole cake.
    pub servings: ServingFacts,
    /// What is done when, backwards from the hand-over; empty without one.
    pub schedule: Vec<StepFacts>,
    /// The price, from the person's own rates.
    pub price: PriceFacts,
    /// What the checks say.
    pub findings: Vec<FindingFacts>,
    /// What to mind; local food rules go before it.
    pub cautions: Vec<CautionFacts>,
}

/// One tier.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TierFacts {
    /// Its name.
    pub name: String,
    /// Its shape's word.
    pub shape: String,
    /// Its finished size.
    pub finished: FinishedFacts,
    /// From the foot up.
    pub courses: Vec<CourseFacts>,
    /// With its icing, paste and courses, without its pieces, g.
    pub mass: f64,
    /// Portions of this tier.
    pub servings: ServingFacts,
}

/// The finished size of a tier, as a tape measure would read it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FinishedFacts {
    /// Across, as the shape's size is meant.
    pub across: f64,
    /// Front to back.
    pub depth: f64,
    /// Foot to top.
    pub height: f64,
    /// Once round the side.
    pub around: f64,
    /// Area of the top, mm².
    pub top_area: f64,
}

/// One course.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CourseFacts {
    /// Its name.
    pub name: String,
    /// `wrap`, `band`, `rope`, `pearls` or `bare`.
    pub kind: String,
    /// Lower edge above the tier's foot.
    pub bottom: f64,
    /// Upper edge above the tier's foot.
    pub top: f64,
    /// Cut length, at the neutral line.
    pub length: f64,
    /// Where its two ends meet; absent for wraps, which tell their seams, and where nothing meets.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seam: Option<EndFacts>,
}

/// Where the two ends of a band or rope meet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EndFacts {
    /// Its place on the tape.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1.
    pub exposure: f64,
}

/// Portions, by the two named slices.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct ServingFacts {
    /// Slices of 1 1/2 in × 2 in.
    pub party: u32,
    /// Slices of 1 in × 2 in.
    pub wedding: u32,
    /// Slices as the order asks.
    pub ordered: u32,
    /// The same by volume: more where a tier is taller than the 4 in that charts count for.
    pub ordered_by_volume: u32,
}

impl ServingFacts {
    /// These and others together.
    #[must_use]
    pub const fn and(self, other: &Self) -> Self {
        Self {
            party: self.party + other.party,
            wedding: self.wedding + other.wedding,
            ordered: self.ordered + other.ordered,
            ordered_by_volume: self.ordered_by_volume + other.ordered_by_volume,
        }
    }
}

/// One printed wrap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WrapFacts {
    /// The tier it is on.
    pub tier: String,
    /// The course it is.
    pub course: String,
    /// Printed length at the neutral line of the sheet, without overlaps.
    pub length: f64,
    /// Printed height.
    pub height: f64,
    /// Length of the strip of paste beneath; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub under_length: Option<f64>,
    /// The strip of paste beneath; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub under: Option<UnderFacts>,
    /// The closed repeat; absent for a single picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub repeat: Option<RepeatFacts>,
    /// From left to right, the first one starting at the first seam.
    pub strips: Vec<StripFacts>,
    /// From left to right.
    pub seams: Vec<SeamFacts>,
    /// Cost of the plan; a seam in full view costs 1.
    pub cost: f64,
}

/// A strip of paste beneath a print.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct UnderFacts {
    /// Cut length, at its own neutral line.
    pub length: f64,
    /// Cut height.
    pub height: f64,
    /// Where its two ends meet on the tape; absent on an open stretch, where they don't.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seam: Option<f64>,
    /// The share of sight lines from which that place is seen, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exposure: Option<f64>,
}

/// A repeat closed on itself.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RepeatFacts {
    /// How many times it stands round the cake.
    pub count: u32,
    /// Its printed width over its asked width.
    pub scale: f64,
    /// How far it stands to the right of where its focus would have it.
    pub shift: f64,
}

/// One printed strip.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StripFacts {
    /// Its left seam on the tape.
    pub from: f64,
    /// Its right seam on the tape (may lie beyond the back: then larger than half the tape).
    pub to: f64,
    /// Printed width, with its overlap.
    pub width: f64,
    /// Printed height.
    pub height: f64,
    /// Pixels per inch of the art at this size; absent for drawings, which have no pixels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ppi: Option<f64>,
    /// Number of the sheet it is printed on, from 1; absent where it fits none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<usize>,
}

/// Something printed for a piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PrintFacts {
    /// Which part takes it: `front`, `plate`, `face`.
    pub what: String,
    /// Printed width, as cut.
    pub width: f64,
    /// Printed height, as cut.
    pub height: f64,
    /// Pixels per inch of the art at this size; absent for drawings and plain colours.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ppi: Option<f64>,
    /// Number of the sheet it is printed on, from 1; absent where it fits none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<usize>,
}

/// One sheet to print.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetFacts {
    /// Its number, from 1.
    pub sheet: usize,
    /// Name of its kind.
    pub size: String,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
    /// Pixels per inch at which it is printed.
    pub ppi: u32,
    /// What lies on it.
    pub placed: Vec<PlacedFacts>,
    /// The share of what the printer reaches that is cut out and used.
    pub used: f64,
}

/// A print on its sheet, as it is cut and as it lies there; from the sheet's upper left corner, y down.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlacedFacts {
    /// Its name, as written beside it.
    pub what: String,
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width as it lies.
    pub width: f64,
    /// Height as it lies.
    pub height: f64,
    /// Turned by a quarter, clockwise: its upper edge is at the right.
    pub turned: bool,
}

/// One seam.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SeamFacts {
    /// Its place on the tape.
    pub along: f64,
    /// The share of sight lines from which it is seen, 0 to 1.
    pub exposure: f64,
    /// Fixed by the person.
    pub pinned: bool,
    /// How ill the art meets itself across it, ΔE00; absent without art.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mismatch: Option<f64>,
}

/// One piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceFacts {
    /// Its name.
    pub name: String,
    /// Its kind's word.
    pub kind: String,
    /// Where it sits.
    pub seat: SeatFacts,
    /// Its place on the seat.
    pub at: PlaceFacts,
    /// Its own width, height and depth, before it is turned.
    pub size: SizeFacts,
    /// Names of its finishes.
    pub finishes: Vec<String>,
    /// Mass on the cake, g.
    pub mass: f64,
    /// What is printed for it.
    pub prints: Vec<PrintFacts>,
    /// What is cut for it.
    pub cuts: Vec<CutFacts>,
    /// Sticks and pins.
    pub picks: Vec<PickFacts>,
    /// Where it may break, the narrowest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub necks: Vec<NeckFacts>,
}

/// A strip or plate to cut.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutFacts {
    /// Which part it becomes.
    pub what: String,
    /// Along the strip.
    pub length: f64,
    /// Across the strip.
    pub width: f64,
    /// As rolled.
    pub thickness: f64,
    /// How many.
    pub count: u32,
    /// Name of the paste it is cut from.
    pub paste: String,
}

/// A seat.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeatFacts {
    /// Tier, piece, or `board`.
    pub on: String,
    /// `top`, `side` or `board`.
    pub surface: String,
}

/// A place on a seat: x and z on a top or the board, along and up on a side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct PlaceFacts {
    /// To the customer's right of the centre.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub x: Option<f64>,
    /// Towards the customer from the centre.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub z: Option<f64>,
    /// Along the tape.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<f64>,
    /// Above the tier's foot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub up: Option<f64>,
    /// Turned so much.
    pub turn: f64,
}

/// A size.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct SizeFacts {
    /// Left to right.
    pub width: f64,
    /// Foot to top.
    pub height: f64,
    /// Front to back.
    pub depth: f64,
}

/// One kind of stick or pin in a piece.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PickFacts {
    /// `stick`, `pin` or `side pin`.
    pub what: &'static str,
    /// Across.
    pub diameter: f64,
    /// Cut to this length.
    pub length: f64,
    /// How deep in the piece.
    pub into_piece: f64,
    /// How deep in the cake.
    pub into_cake: f64,
    /// Where it enters the piece: to the right of its middle.
    pub x: f64,
    /// Where it enters the piece: above its foot; on a side above its middle.
    pub up: f64,
}

/// A place of a piece that is too narrow for its paste.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NeckFacts {
    /// To the right of the piece's middle.
    pub x: f64,
    /// Above its foot; on a side above its middle.
    pub up: f64,
    /// How wide it is.
    pub width: f64,
}

/// One paste to mix.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PasteFacts {
    /// Its name.
    pub name: String,
    /// `#rrggbb`.
    pub color: String,
    /// Mass on the cake, g.
    pub on_cake: f64,
    /// Mass to mix, with its waste, g.
    pub mass: f64,
}

/// The board.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BoardFacts {
    /// Across, or its width.
    pub across: f64,
    /// Across a board that what stands on it just fits.
    pub needed: f64,
}

/// The outer size of everything.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OverallFacts {
    /// Left to right.
    pub width: f64,
    /// Front to back.
    pub depth: f64,
    /// From the table to the highest point.
    pub height: f64,
    /// Without the board, g: cake and icing by their usual densities, so good to a third.
    pub mass: f64,
    /// A box that it goes into with the usual room.
    #[serde(rename = "box")]
    pub carton: BoxFacts,
}

/// What a finding is about; empty for what is no part of the cake, such as the order or the box.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct ThingFacts {
    /// It is the board.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub board: bool,
    /// The tier, or the tier of the course.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tier: Option<String>,
    /// The course.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub course: Option<String>,
    /// A seam of the course: its reading on the tape, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub along: Option<f64>,
    /// The piece.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// The path of the picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub art: Option<String>,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FindingFacts {
    /// Its code.
    pub code: String,
    /// `note`, `warn` or `stop`.
    pub severity: String,
    /// Where, in words.
    #[serde(rename = "where")]
    pub place: String,
    /// The thing it is about, by its names in the design.
    #[serde(flatten)]
    pub thing: ThingFacts,
    /// What, and what would fix it.
    pub message: String,
    /// By how much, mm; absent where it is no length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<f64>,
}
