//! Why a command could not be done: one clear message each, from the part that found it.

use crate::cake::CakeError;
use crate::design::Problems;
use crate::files::FileError;
use crate::packs::PackError;
use crate::proof::approval::ApprovalError;
#[cfg(feature = "view")]
use crate::scene::StillError;

/// Why a command could not be done.
#[derive(Debug, thiserror::Error)]
pub enum CommandError {
    /// The design file can't be used.
    #[error("{0}")]
    Design(#[from] Problems),
    /// A file can't be read or written.
    #[error("{0}")]
    File(#[from] FileError),
    /// A piece can't be made.
    #[error("{0}; change its art or its size")]
    Cake(#[from] CakeError),
    /// A pack can't be made.
    #[error("{0}")]
    Pack(#[from] PackError),
    /// An approval can't be read or written down.
    #[error("{0}")]
    Approval(#[from] ApprovalError),
    /// A picture can't be taken.
    #[cfg(feature = "view")]
    #[error("{0}")]
    Still(#[from] StillError),
    /// The window can't be opened.
    #[cfg(feature = "view")]
    #[error("{0}")]
    Window(#[from] crate::window::WindowError),
    /// This program was built without its renderer.
    #[cfg(not(feature = "view"))]
    #[error("this program was built without pictures; build it with its usual features to take one")]
    NoPictures,
    /// Words on the command line that can't be used.
    #[error("{0}")]
    Words(String),
    /// Standard output can't be written.
    #[error("standard output can't be written: {0}")]
    Output(#[from] std::io::Error),
}
