//! Frames added in linear light, and the way from linear light to eight bits.

use crate::art::linear_table;

/// The way between linear light and eight-bit sRGB values (IEC 61966-2-1), worked out beforehand.
pub(super) struct Srgb {
    /// Linear light of every eight-bit value.
    linear: [f32; 256],
    /// Values 0..255 of evenly spaced linear light 0..1, and one more.
    values: Vec<f32>,
}

impl Srgb {
    /// Between so many steps a value that lies on a straight line is off by less than a thousandth.
    const STEPS: u16 = 16_384;

    pub(super) fn new() -> Self {
        let values = (0..=Self::STEPS + 1).map(|step| srgb_from_linear(f32::from(step) / f32::from(Self::STEPS)));
        Self { linear: linear_table(), values: values.collect() }
    }

    /// Linear light of an eight-bit value.
    pub(super) fn linear(&self, byte: u8) -> f32 {
        self.linear.get(usize::from(byte)).copied().unwrap_or_default()
    }

    /// Linear light as the nearest eight-bit value.
    pub(super) fn byte(&self, linear: f32) -> u8 {
        (self.value(linear) + 0.5) as u8
    }

    /// The opaque pixel that a mean shows over what lies behind, with deterministic dither.
    pub(super) fn over(&self, [red, green, blue, cover]: [f32; 4], behind: [f32; 3], at: (u32, u32)) -> [u8; 4] {
        let open = 1.0 - cover;
        let [r, g, b] = behind;
        let [n, o, p] = [0, 1, 2].map(|channel| noise(at.0, at.1, channel));
        [self.dithered(red + r * open, n), self.dithered(green + g * open, o), self.dithered(blue + b * open, p), 255]
    }

    /// Linear light as one of the two nearest eight-bit values, so that a slow gradient has no steps.
    ///
    /// `noise` is in -0.5..0.5; a value that eight bits can hold exactly stays what it is.
    fn dithered(&self, linear: f32, noise: f32) -> u8 {
        (self.value(linear) + 0.499 * 2.0 * noise + 0.5) as u8
    }

    /// Linear light as a value 0..255, not rounded.
    fn value(&self, linear: f32) -> f32 {
        let place = linear.clamp(0.0, 1.0) * f32::from(Self::STEPS);
        let step = place as usize;
        match self.values.get(step..step + 2) {
            Some(&[low, high]) => low + (high - low) * (place - step as f32),
            _ => 255.0,
        }
    }
}

/// Linear light as an sRGB value 0..255, not rounded (IEC 61966-2-1).
fn srgb_from_linear(linear: f32) -> f32 {
    let value = linear.clamp(0.0, 1.0);
    255.0 * if value <= 0.003_130_8 { value * 12.92 } else { 1.055 * value.powf(1.0 / 2.4) - 0.055 }
}

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

/// Noise in -0.5..0.5 from a pixel's place: an integer hash (the finaliser of MurmurHash3).
fn noise(x: u32, y: u32, channel: u32) -> f32 {
    let mut bits = x.wrapping_mul(0x9e37_79b1) ^ y.wrapping_mul(0x85eb_ca77) ^ channel.wrapping_mul(0xc2b2_ae3d);
    bits = (bits ^ bits >> 16).wrapping_mul(0x85eb_ca6b);
    bits = (bits ^ bits >> 13).wrapping_mul(0xc2b2_ae35);
    bits ^= bits >> 16;
    (bits >> 8) as f32 / 16_777_216.0 - 0.5
}

/// A half float (IEEE 754 binary16) as a float: the bits moved into place, the exponent's bias mended by a product.
fn from_half(half: u16) -> f32 {
    let magnitude = f32::from_bits(u32::from(half & 0x7fff) << 13) * 2.0f32.powi(112);
    if half & 0x8000 == 0 { magnitude } else { -magnitude }
}

#[cfg(test)]
mod tests {
    use super::{Srgb, Sum, from_half, srgb_from_linear};

    #[test]
    fn every_byte_survives_linear_light() {
        let srgb = Srgb::new();
        for byte in 0..=255 {
            let linear = srgb.linear(byte);
            assert_eq!(srgb.byte(linear), byte);
            let there = [0.0, 0.0, 0.0, 0.0];
            assert_eq!(srgb.over(there, [linear; 3], (u32::from(byte) * 7, 3)), [byte, byte, byte, 255]);
        }
        for linear in (0..=9_999_u16).map(|step| f32::from(step) / 9_999.0).chain([-1.0, 2.0]) {
            assert!((srgb.value(linear) - srgb_from_linear(linear)).abs() < 0.002, "{linear}");
        }
        assert_eq!([f32::NAN, f32::INFINITY, f32::NEG_INFINITY].map(|linear| srgb.byte(linear)), [0, 255, 0]);
    }

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
