//! Pixels in memory.

/// A picture: eight-bit sRGB with straight alpha, rows from the top, four bytes a pixel.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picture {
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// `width × height × 4` bytes: red, green, blue, alpha.
    pub rgba: Vec<u8>,
}

impl Picture {
    /// A picture of one colour throughout.
    #[must_use]
    pub fn filled(width: u32, height: u32, rgba: [u8; 4]) -> Self {
        Self { width, height, rgba: rgba.repeat(width as usize * height as usize) }
    }

    /// The pixel at column `x`, row `y`; `None` outside.
    #[must_use]
    pub fn pixel(&self, x: u32, y: u32) -> Option<[u8; 4]> {
        if x >= self.width || y >= self.height {
            return None;
        }
        let start = (y as usize * self.width as usize + x as usize) * 4;
        self.rgba.get(start..start + 4)?.try_into().ok()
    }
}

/// A part of a picture or drawing, as shares of its width and height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// From the left edge, 0..1.
    pub left: f64,
    /// From the upper edge, 0..1.
    pub top: f64,
    /// Share of the width, above 0.
    pub width: f64,
    /// Share of the height, above 0.
    pub height: f64,
}

impl Part {
    /// All of it.
    pub const WHOLE: Self = Self { left: 0.0, top: 0.0, width: 1.0, height: 1.0 };
}
