//! The way from linear light to eight bits and back.

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

/// Noise in -0.5..0.5 from a pixel's place: an integer hash (the finaliser of MurmurHash3).
fn noise(x: u32, y: u32, channel: u32) -> f32 {
    let mut bits = x.wrapping_mul(0x9e37_79b1) ^ y.wrapping_mul(0x85eb_ca77) ^ channel.wrapping_mul(0xc2b2_ae3d);
    bits = (bits ^ bits >> 16).wrapping_mul(0x85eb_ca6b);
    bits = (bits ^ bits >> 13).wrapping_mul(0xc2b2_ae35);
    bits ^= bits >> 16;
    (bits >> 8) as f32 / 16_777_216.0 - 0.5
}

#[cfg(test)]
mod tests {
    use super::{Srgb, srgb_from_linear};

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
}
