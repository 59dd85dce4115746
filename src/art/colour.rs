//! Colours as a person writes them: `#rrggbb`, sRGB.

use std::fmt;

/// An sRGB colour, eight bits a channel (IEC 61966-2-1).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Colour {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

impl Colour {
    /// A colour from its three sRGB channels.
    #[must_use]
    pub const fn new(red: u8, green: u8, blue: u8) -> Self {
        Self { red, green, blue }
    }

    /// Reads `#rrggbb` or `#rgb`, hexadecimal in either case.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let digits = text.trim().strip_prefix('#')?;
        if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
            return None;
        }
        let number = u32::from_str_radix(digits, 16).ok()?;
        let [_, red, green, blue] = number.to_be_bytes();
        match digits.len() {
            6 => Some(Self { red, green, blue }),
            3 => Some(Self { red: (green & 15) * 17, green: (blue >> 4) * 17, blue: (blue & 15) * 17 }),
            _ => None,
        }
    }

    /// The three channels as linear light, 0..1 (IEC 61966-2-1).
    #[must_use]
    pub fn linear(self) -> [f64; 3] {
        [self.red, self.green, self.blue].map(linear_from_byte)
    }
}

/// Linear light of an eight-bit sRGB value, 0..1 (IEC 61966-2-1).
fn linear_from_byte(byte: u8) -> f64 {
    let value = f64::from(byte) / 255.0;
    if value <= 0.040_45 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
}

/// Linear light of every eight-bit sRGB value, for looking up.
#[must_use]
pub fn linear_table() -> [f32; 256] {
    let mut bytes = 0..=u8::MAX;
    std::array::from_fn(|_| linear_from_byte(bytes.next().unwrap_or_default()) as f32)
}

impl fmt::Display for Colour {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
}
