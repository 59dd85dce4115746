//! Where in a design a finding lies: the thing itself, for whoever wants to go there, and its name as a person would say it.

use std::fmt;

use crate::measure::Length;

/// What a finding is about, by the names of the design.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// The board.
    Board,
    /// A tier.
    Tier(String),
    /// A course of a tier.
    Course {
        /// The tier's name.
        tier: String,
        /// Its own.
        course: String,
    },
    /// A seam of a course, by its reading on the tape.
    Seam {
        /// The tier's name.
        tier: String,
        /// The course's.
        course: String,
        /// Where on the tape.
        along: Length,
    },
    /// A piece.
    Piece(String),
    /// A picture, by its path in the design's folder.
    Art(String),
    /// What is no part of the cake: `order`, `box`, `shelf`, `sheets`.
    Other(String),
}

impl Place {
    /// A piece of this name.
    #[must_use]
    pub fn piece(name: &str) -> Self {
        Self::Piece(name.to_owned())
    }

    /// A tier of this name.
    #[must_use]
    pub fn tier(name: &str) -> Self {
        Self::Tier(name.to_owned())
    }

    /// A course of a tier.
    #[must_use]
    pub fn course(tier: &str, course: &str) -> Self {
        Self::Course { tier: tier.to_owned(), course: course.to_owned() }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Board => out.write_str("board"),
            Self::Tier(tier) => write!(out, "tier '{tier}'"),
            Self::Course { tier, course } | Self::Seam { tier, course, .. } => {
                write!(out, "tier '{tier}', course '{course}'")
            }
            Self::Piece(piece) => write!(out, "piece '{piece}'"),
            Self::Art(path) => write!(out, "art '{path}'"),
            Self::Other(word) => out.write_str(word),
        }
    }
}

impl From<&Self> for Place {
    fn from(place: &Self) -> Self {
        place.clone()
    }
}

impl From<&str> for Place {
    fn from(word: &str) -> Self {
        Self::Other(word.to_owned())
    }
}

impl From<String> for Place {
    fn from(word: String) -> Self {
        Self::Other(word)
    }
}
