//! Frames added in linear light.

/// The sum of frames of one tile: red, green, blue and cover, in linear light, premultiplied.
pub(super) struct Sum {
    /// Columns.
    pub width: u32,
    values: Vec<f32>,
    frames: u16,
}

impl Sum {
    pub(super) fn new(width: u32, height: u32) -> Self {
        Self { width, values: vec![0.0; width as usize * height as usize * 4], frames: 0 }
    }

    /// Adds a frame: rows of half floats (red, green, blue, cover), each row `stride` bytes long.
    pub(super) fn add(&mut self, bytes: &[u8], stride: usize) {
        let length = self.width as usize * 4;
        for (row, sums) in bytes.chunks(stride).zip(self.values.chunks_exact_mut(length)) {
            for (half, sum) in row.chunks_exact(2).zip(sums) {
                if let [low, high] = *half {
                    *sum += from_half(u16::from_le_bytes([low, high]));
                }
            }
        }
        self.frames = self.frames.saturating_add(1);
    }

    /// The mean pixels, row by row: red, green, blue, cover.
    pub(super) fn means(&self) -> Vec<[f32; 4]> {
        let share = 1.0 / f32::from(self.frames.max(1));
        self.values.as_chunks::<4>().0.iter().map(|pixel| pixel.map(|value| value * share)).collect()
    }
}

/// A half float (IEEE 754 binary16) as a float: the bits moved into place, the exponent's bias mended by a product.
fn from_half(half: u16) -> f32 {
    let magnitude = f32::from_bits(u32::from(half & 0x7fff) << 13) * 2.0f32.powi(112);
    if half & 0x8000 == 0 { magnitude } else { -magnitude }
}

#[cfg(test)]
mod tests {
    use super::{Sum, from_half};

    #[test]
    fn half_floats_are_read() {
        // From IEEE 754's table of binary16.
        for (half, value) in [(0x3c00, 1.0), (0xc000, -2.0), (0x3555, 0.333_251_95), (0x0001, 5.960_464_5e-8), (0, 0.0)]
        {
            assert_eq!(from_half(half), value);
        }
    }

    #[test]
    fn rows_are_means_and_padding_is_skipped() {
        let mut sum = Sum::new(1, 2);
        let one = 0x3c00u16.to_le_bytes();
        let row = |values: [[u8; 2]; 6]| values.concat();
        let frame = [row([one; 6]), row([[0, 0]; 6])].concat();
        sum.add(&frame, 12);
        sum.add(&[0; 24], 12);
        assert_eq!(sum.means(), [[0.5; 4], [0.0; 4]]);
    }
}
