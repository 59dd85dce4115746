//! How different two colours look: CIEDE2000 on CIELAB.

use super::colour::Colour;

/// A colour in CIELAB (CIE 15), seen under daylight D65.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lab {
    /// Lightness, 0 black to 100 white.
    pub lightness: f64,
    /// From green to red.
    pub a: f64,
    /// From blue to yellow.
    pub b: f64,
}

impl From<Colour> for Lab {
    /// By the primaries and the white of sRGB (IEC 61966-2-1): a grey has no hue.
    fn from(colour: Colour) -> Self {
        let [red, green, blue] = colour.linear();
        let x = (0.412_456_4 * red + 0.357_576_1 * green + 0.180_437_5 * blue) / 0.950_47;
        let y = 0.212_672_9 * red + 0.715_152_2 * green + 0.072_175_0 * blue;
        let z = (0.019_333_9 * red + 0.119_192_0 * green + 0.950_304_1 * blue) / 1.088_83;
        let [x, y, z] = [x, y, z].map(|light| {
            const LEAST: f64 = 216.0 / 24_389.0;
            if light > LEAST { light.cbrt() } else { (24_389.0 / 27.0 * light + 16.0) / 116.0 }
        });
        Self { lightness: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }
}

impl Lab {
    /// How different two colours look, ΔE00: about 1 is the least that a practised eye sees side by side.
    ///
    /// ISO/CIE 11664-6:2014, all weights 1; written after G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference
    /// formula", Color Research and Application 30 (2005) 21–30, whose numbers of equations stand beside the lines.
    #[must_use]
    pub fn difference(self, other: Self) -> f64 {
        let mean_chroma = (self.a.hypot(self.b) + other.a.hypot(other.b)) / 2.0; // (2), (3)
        let stretch = 1.5 - 0.5 * vivid(mean_chroma); // 1 + G of (4)
        let [(c1, h1), (c2, h2)] = [self, other].map(|lab| polar(lab.a * stretch, lab.b)); // (5) to (7)
        let grey = c1 * c2 == 0.0;
        let turn = if grey { 0.0 } else { shortest(h2 - h1) }; // (10)
        let (light, chroma) = (other.lightness - self.lightness, c2 - c1); // (8), (9)
        let hue = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin(); // (11)
        let mean_light = (self.lightness + other.lightness) / 2.0 - 50.0;
        let mean_c = (c1 + c2) / 2.0;
        let mean_h = if grey { h1 + h2 } else { mean_hue(h1, h2) }; // (14)
        let cosine = |times: f64, off: f64| (times * mean_h + off).to_radians().cos();
        let t = 1.0 - 0.17 * cosine(1.0, -30.0) + 0.24 * cosine(2.0, 0.0) + 0.32 * cosine(3.0, 6.0)
            - 0.20 * cosine(4.0, -63.0); // (15)
        let light = light / (1.0 + 0.015 * mean_light.powi(2) / (20.0 + mean_light.powi(2)).sqrt()); // (18)
        let chroma = chroma / (1.0 + 0.045 * mean_c); // (19)
        let hue = hue / (1.0 + 0.015 * mean_c * t); // (20)
        let blue = 30.0 * (-((mean_h - 275.0) / 25.0).powi(2)).exp(); // (16)
        let rotation = -2.0 * vivid(mean_c) * (2.0 * blue).to_radians().sin(); // (17), (21)
        (light * light + chroma * chroma + hue * hue + rotation * chroma * hue).max(0.0).sqrt() // (22)
    }
}

/// How near a chroma is to those of strong colours, 0..1.
fn vivid(chroma: f64) -> f64 {
    const STRONG: f64 = 6_103_515_625.0; // 25 to the 7th
    let power = chroma.powi(7);
    (power / (power + STRONG)).sqrt()
}

/// Chroma, and hue in degrees 0..360; a grey has the hue 0.
fn polar(a: f64, b: f64) -> (f64, f64) {
    if a == 0.0 && b == 0.0 { (0.0, 0.0) } else { (a.hypot(b), b.atan2(a).to_degrees().rem_euclid(360.0)) }
}

fn shortest(turn: f64) -> f64 {
    if turn > 180.0 {
        turn - 360.0
    } else if turn < -180.0 {
        turn + 360.0
    } else {
        turn
    }
}

fn mean_hue(one: f64, other: f64) -> f64 {
    let sum = one + other;
    if (one - other).abs() <= 180.0 {
        sum / 2.0
    } else if sum < 360.0 {
        (sum + 360.0) / 2.0
    } else {
        (sum - 360.0) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The 34 pairs of Sharma, Wu & Dalal (2005), table 1: L a b, L a b, ΔE00.
    const PAIRS: [[f64; 7]; 34] = [
        [50.0, 2.6772, -79.7751, 50.0, 0.0, -82.7485, 2.0425],
        [50.0, 3.1571, -77.2803, 50.0, 0.0, -82.7485, 2.8615],
        [50.0, 2.8361, -74.0200, 50.0, 0.0, -82.7485, 3.4412],
        [50.0, -1.3802, -84.2814, 50.0, 0.0, -82.7485, 1.0000],
        [50.0, -1.1848, -84.8006, 50.0, 0.0, -82.7485, 1.0000],
        [50.0, -0.9009, -85.5211, 50.0, 0.0, -82.7485, 1.0000],
        [50.0, 0.0, 0.0, 50.0, -1.0, 2.0, 2.3669],
        [50.0, -1.0, 2.0, 50.0, 0.0, 0.0, 2.3669],
        [50.0, 2.4900, -0.0010, 50.0, -2.4900, 0.0009, 7.1792],
        [50.0, 2.4900, -0.0010, 50.0, -2.4900, 0.0010, 7.1792],
        [50.0, 2.4900, -0.0010, 50.0, -2.4900, 0.0011, 7.2195],
        [50.0, 2.4900, -0.0010, 50.0, -2.4900, 0.0012, 7.2195],
        [50.0, -0.0010, 2.4900, 50.0, 0.0009, -2.4900, 4.8045],
        [50.0, -0.0010, 2.4900, 50.0, 0.0010, -2.4900, 4.8045],
        [50.0, -0.0010, 2.4900, 50.0, 0.0011, -2.4900, 4.7461],
        [50.0, 2.5, 0.0, 50.0, 0.0, -2.5, 4.3065],
        [50.0, 2.5, 0.0, 73.0, 25.0, -18.0, 27.1492],
        [50.0, 2.5, 0.0, 61.0, -5.0, 29.0, 22.8977],
        [50.0, 2.5, 0.0, 56.0, -27.0, -3.0, 31.9030],
        [50.0, 2.5, 0.0, 58.0, 24.0, 15.0, 19.4535],
        [50.0, 2.5, 0.0, 50.0, 3.1736, 0.5854, 1.0000],
        [50.0, 2.5, 0.0, 50.0, 3.2972, 0.0, 1.0000],
        [50.0, 2.5, 0.0, 50.0, 1.8634, 0.5757, 1.0000],
        [50.0, 2.5, 0.0, 50.0, 3.2592, 0.3350, 1.0000],
        [60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644],
        [63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630],
        [61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731],
        [35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645],
        [22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373],
        [36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146],
        [90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441],
        [90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381],
        [6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377],
        [2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082],
    ];

    #[test]
    fn the_published_pairs_differ_as_published() {
        for [l1, a1, b1, l2, a2, b2, published] in PAIRS {
            let (one, other) = (Lab { lightness: l1, a: a1, b: b1 }, Lab { lightness: l2, a: a2, b: b2 });
            for found in [one.difference(other), other.difference(one)] {
                assert!((found - published).abs() <= 5.1e-5, "{one:?} {other:?}: {found}, not {published}");
            }
            assert_eq!(one.difference(one), 0.0);
        }
    }

    #[test]
    fn srgb_becomes_lab_as_tables_have_it() {
        // Primaries of sRGB in CIELAB under D65 (from memory of common tables, to two places).
        for (colour, [lightness, a, b]) in [
            ("#ffffff", [100.0, 0.0, 0.0]),
            ("#000000", [0.0, 0.0, 0.0]),
            ("#ff0000", [53.24, 80.09, 67.20]),
            ("#00ff00", [87.73, -86.18, 83.18]),
            ("#0000ff", [32.30, 79.19, -107.86]),
            ("#808080", [53.59, 0.0, 0.0]),
        ] {
            let lab = Lab::from(Colour::read(colour).unwrap());
            for (found, known) in [(lab.lightness, lightness), (lab.a, a), (lab.b, b)] {
                assert!((found - known).abs() < 0.012, "{colour}: {lab:?}");
            }
        }
    }
}
