//! Why no picture could be taken.

use thiserror::Error;

/// Why no picture could be taken.
#[derive(Debug, Error)]
pub enum StillError {
    /// Nothing on this machine can draw.
    #[error(
        "no Vulkan driver was found, so no picture can be drawn; on Debian, install the package mesa-vulkan-drivers"
    )]
    NoDriver,
    /// The driver is there but gives no device.
    #[error(
        "the graphics driver \"{name}\" could not be started ({reason}); update it, or install the package mesa-vulkan-drivers"
    )]
    NoDevice {
        /// The adapter's name.
        name: String,
        /// What the driver said.
        reason: String,
    },
    /// The device failed while drawing.
    #[error("the graphics device failed while drawing ({reason}); try a smaller picture or a lower quality")]
    Lost {
        /// What the driver said.
        reason: String,
    },
    /// Whoever asked for the picture doesn't want it any more.
    #[error("the picture was called off")]
    CalledOff,
    /// The size can't be drawn.
    #[error("a picture of {width}x{height} pixels can't be drawn; each side may have 1 to {most} pixels", most = Self::MOST_PIXELS)]
    Size {
        /// Asked for, px.
        width: u32,
        /// Asked for, px.
        height: u32,
    },
}

impl StillError {
    /// The longest side of a picture, px.
    pub const MOST_PIXELS: u32 = 8192;

    /// The device failed while drawing.
    pub(super) fn lost(reason: &dyn ToString) -> Self {
        Self::Lost { reason: reason.to_string() }
    }
}
