//! Why a piece of art cannot be used: what is wrong, with which file, and what would fix it.

/// A file of art that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{name}: {fault}")]
pub struct ArtError {
    /// The file, as the design names it.
    pub name: String,
    /// What is wrong with it.
    pub fault: Fault,
}

/// What is wrong with a piece of art.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// No bytes at all.
    #[error("the file is empty (0 bytes); save the art again, or copy it again from where it came")]
    Empty,
    /// None of the known kinds.
    #[error("this is not a picture that can be used; save the art as PNG, JPEG or SVG")]
    NotAPicture,
    /// A known kind that is not read.
    #[error("this is {what}, which is not read as art; save the picture as PNG, JPEG or SVG")]
    OtherKind {
        /// `a GIF`, `a WebP picture` …
        what: &'static str,
    },
    /// More pixels than are ever decoded.
    #[error(
        "the picture has {width} × {height} pixels; at most {side} a side and {millions} million in all are read; save it \
         smaller",
        side = super::raster::MAX_SIDE,
        millions = super::raster::MAX_PIXELS / 1_000_000
    )]
    TooManyPixels {
        /// Columns.
        width: u32,
        /// Rows.
        height: u32,
    },
    /// A picture where letters are wanted.
    #[error("this is a picture and not a font; name a font file (TTF or OTF), or leave `font` out for the bundled one")]
    NotAFont,
    /// Letters where a picture is wanted.
    #[error("this is a font and not a picture; name a PNG, JPEG or SVG here, and a font in a sign's letters")]
    Letters,
    /// A font packed for the web.
    #[error("this is a web font (WOFF), which is not read; use the same font as a TTF or OTF file")]
    WebFont,
    /// It breaks off in the middle.
    #[error("the {kind} breaks off before its end; copy it again from where it came")]
    CutOff {
        /// `PNG` or `JPEG`.
        kind: &'static str,
    },
    /// Its contents make no sense.
    #[error("the {kind} is damaged ({reason}); {mend}", mend = mend_of(kind))]
    Damaged {
        /// `PNG`, `JPEG`, `SVG` or `font`.
        kind: &'static str,
        /// What the reader stumbled over.
        reason: String,
    },
    /// A drawing that points outside itself.
    #[error(
        "line {line}, column {column}: the drawing refers to `{reference}`, which lies outside it and is never fetched; \
         put what it refers to into the drawing itself, or take the reference out"
    )]
    External {
        /// What it points to.
        reference: String,
        /// Line in the file, from 1.
        line: u32,
        /// Column in the line, from 1.
        column: u32,
    },
    /// A drawing with something in it that cannot be drawn or cut.
    #[error("line {line}, column {column}: {what}")]
    Unsupported {
        /// What, and what to do instead.
        what: &'static str,
        /// Line in the file, from 1.
        line: u32,
        /// Column in the line, from 1.
        column: u32,
    },
    /// More of something than can be worked with.
    #[error("there is too much in it: {what}; simplify the art")]
    TooMuch {
        /// Of what, with the limit.
        what: String,
    },
    /// Nothing in it has an outline.
    #[error("no outline could be found: {reason}")]
    NoOutline {
        /// Why, and what would help.
        reason: &'static str,
    },
}

impl Fault {
    /// The error that names the file.
    #[must_use]
    pub fn of(self, name: &str) -> ArtError {
        ArtError { name: name.to_owned(), fault: self }
    }
}

/// What would fix a damaged file.
fn mend_of(kind: &str) -> &'static str {
    match kind {
        "font" => "get the font file again from where it came, or use another",
        _ => "open it in a picture program and save it again",
    }
}
