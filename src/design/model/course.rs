//! A course: one horizontal layer up the side of a tier.

use crate::measure::Length;

/// One layer up the side.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Unique among the tier's courses.
    pub name: String,
    /// What it is.
    pub kind: CourseKind,
    /// Kept from being moved or changed in the editor; means nothing for the cake.
    pub locked: bool,
}

/// What a course is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum CourseKind {
    /// A rolled rope.
    Rope {
        /// Across the rope; also the course's height.
        diameter: Length,
        /// Name of the finish.
        finish: String,
        /// Where its ends meet.
        seam: SeamPlace,
        /// What it is stuck on with; `None`: as the kitchen says.
        stuck_with: Option<String>,
    },
    /// A row of balls that touch.
    Pearls {
        /// Across one ball; also the course's height.
        diameter: Length,
        /// Name of the finish.
        finish: String,
        /// Where the row begins.
        seam: SeamPlace,
        /// What it is stuck on with; `None`: as the kitchen says.
        stuck_with: Option<String>,
    },
    /// A flat band of paste.
    Band {
        /// How high it is.
        height: CourseHeight,
        /// How thick it is.
        thickness: Length,
        /// Name of the finish.
        finish: String,
        /// Where its ends meet.
        seam: SeamPlace,
        /// What it is stuck on with; `None`: as the kitchen says.
        stuck_with: Option<String>,
    },
    /// A printed picture or pattern.
    Wrap(Box<Wrap>),
    /// The covering, left as it is.
    Bare {
        /// How high it is.
        height: CourseHeight,
    },
}

impl CourseKind {
    /// The word a design file uses: `rope`, `pearls`, `band`, `wrap` or `bare`.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Rope { .. } => "rope",
            Self::Pearls { .. } => "pearls",
            Self::Band { .. } => "band",
            Self::Wrap(_) => "wrap",
            Self::Bare { .. } => "bare",
        }
    }

    /// What it is stuck on with, where the course says so itself.
    #[must_use]
    pub fn stuck_with(&self) -> Option<&str> {
        match self {
            Self::Rope { stuck_with, .. } | Self::Pearls { stuck_with, .. } | Self::Band { stuck_with, .. } => {
                stuck_with.as_deref()
            }
            Self::Wrap(wrap) => wrap.stuck_with.as_deref(),
            Self::Bare { .. } => None,
        }
    }
}

/// How high a course is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CourseHeight {
    /// Exactly so high.
    Fixed(Length),
    /// A share of what the fixed courses leave.
    Fill {
        /// Its share against the other filling courses; 1 unless said.
        weight: f64,
        /// Never less than this.
        least: Length,
    },
}

/// Where the two ends of a rope or band meet.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum SeamPlace {
    /// Half-way round from front centre.
    #[default]
    Back,
    /// At front centre.
    Front,
    /// At a place on the tape.
    Along(Length),
}

impl SeamPlace {
    /// Its place on a tape of length `around`.
    #[must_use]
    pub fn along(self, around: Length) -> Length {
        match self {
            Self::Back => around / 2.0,
            Self::Front => Length::ZERO,
            Self::Along(along) => along,
        }
    }
}

/// A printed wrap.
#[derive(Clone, Debug, PartialEq)]
pub struct Wrap {
    /// How high the print is.
    pub height: CourseHeight,
    /// Path of the art, inside the design's folder.
    pub art: String,
    /// How the art is fitted to the course.
    pub fit: Fit,
    /// The point of the art that cover and contain keep in place: 0..1 from its left and from its top.
    pub focus: [f64; 2],
    /// Where on the tape the focus falls; front centre unless said.
    pub focus_along: Length,
    /// Name of the sheet it is printed on; `None` takes the unit's usual one.
    pub sheet: Option<String>,
    /// Whether its strips may lie turned by a quarter on their sheet, where the sheet lets them.
    pub turn: bool,
    /// How much each strip runs under the next.
    pub overlap: Length,
    /// Of the printed sheet.
    pub thickness: Length,
    /// A strip of paste beneath the print.
    pub under: Option<Under>,
    /// Only this stretch of the tape, from and to; `None`: all round.
    pub stretch: Option<(Length, Length)>,
    /// Seams fixed at these places on the tape.
    pub pins: Vec<Length>,
    /// A stretch without a join.
    pub join_free: Option<JoinFree>,
    /// Further stretches without a seam, from and to.
    pub forbid: Vec<(Length, Length)>,
    /// Least width of a strip; `None` takes the design's.
    pub least_strip: Option<Length>,
    /// What it is stuck on with; `None`: as the kitchen says.
    pub stuck_with: Option<String>,
}

/// How art is fitted to a wrap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fit {
    /// Side by side, closed on itself.
    Repeat {
        /// So wide is one repeat before it is closed.
        width: Length,
        /// How far it is moved to the right of where its focus would stand.
        shift: Shift,
    },
    /// One picture that covers the whole course; what stands over is cut away.
    Cover,
    /// One picture that is seen whole; the rest stays blank.
    Contain,
}

/// How far a repeat is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shift {
    /// Exactly so far.
    By(Length),
    /// As far as makes its seams show least.
    Best,
}

/// A strip of paste beneath a print.
#[derive(Clone, Debug, PartialEq)]
pub struct Under {
    /// Its thickness.
    pub paste: Length,
    /// Name of the finish.
    pub finish: String,
    /// Where its two ends meet; `None`: away from the print's seams, where it is hidden.
    pub seam: Option<SeamPlace>,
}

/// A stretch of the tape that must not hold a seam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JoinFree {
    /// Its middle.
    pub centre: Length,
    /// Its whole width.
    pub width: Length,
}
