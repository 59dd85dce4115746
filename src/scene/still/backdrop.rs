//! What is behind the cake: one colour, a little lighter in the middle, with no line where the table ends.

use crate::art::{Colour, Picture};

use crate::scene::srgb::Srgb;

/// The backdrop of one picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Backdrop {
    colour: [f32; 3],
    size: (u32, u32),
}

impl Backdrop {
    /// How far the middle is on its way from the colour to white.
    const LIFT: f32 = 0.30;
    /// Where the middle of the light is, as a share of the picture from its top.
    const MIDDLE: f32 = 0.45;

    /// The backdrop of a colour behind a picture of `size` px.
    #[must_use]
    pub fn new(colour: Colour, size: (u32, u32)) -> Self {
        Self { colour: colour.linear().map(|channel| channel as f32), size }
    }

    /// Linear light at a pixel: exactly the colour from the corners' distance on, lighter towards the middle.
    pub(super) fn at(&self, x: u32, y: u32) -> [f32; 3] {
        let half = (self.size.0.max(1) as f32 / 2.0, self.size.1.max(1) as f32);
        let across = (x as f32 + 0.5) / half.0 - 1.0;
        let down = (y as f32 + 0.5) / half.1 - Self::MIDDLE;
        // The nearer corners, the upper ones, are where the light has ended.
        let reach = 1.0 + Self::MIDDLE * Self::MIDDLE;
        let left = (1.0 - 1.02 * (across * across + down * down) / reach).max(0.0);
        let lift = Self::LIFT * left * left;
        self.colour.map(|channel| channel + (1.0 - channel) * lift)
    }

    /// The backdrop alone.
    #[must_use]
    pub fn picture(&self) -> Picture {
        let (width, height) = self.size;
        let srgb = Srgb::new();
        let mut picture = Picture::filled(width, height, [0, 0, 0, 255]);
        for (number, pixel) in (0..).zip(picture.rgba.as_chunks_mut::<4>().0) {
            let (x, y) = (number % width, number / width);
            *pixel = srgb.over([0.0; 4], self.at(x, y), (x, y));
        }
        picture
    }
}
