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
