//! Where a picture shows pieces, looked up for any rectangle at once.

use glam::DVec2;

use super::label::Plate;
use crate::proof::sight::Sight;
use crate::proof::sums::Sums;

/// Which points of the sight's picture show a piece.
#[derive(Debug)]
pub(super) struct Busy {
    pieces: Sums,
    /// Points to a pixel.
    scale: DVec2,
}

impl Busy {
    /// For a picture of such a size, px.
    pub fn new(sight: &Sight, picture: DVec2) -> Self {
        let (columns, pieces) = sight.pieces();
        let pieces = Sums::new(columns, pieces.iter().map(|&piece| f64::from(u8::from(piece))));
        let (columns, rows) = pieces.size();
        let scale = DVec2::new(columns as f64, rows as f64) / picture.max(DVec2::ONE);
        Self { pieces, scale }
    }

    /// How many points of pieces a plate covers.
    pub fn covered(&self, plate: Plate) -> u32 {
        let (columns, rows) = self.pieces.size();
        let most = DVec2::new(columns as f64, rows as f64);
        let low = (plate.low * self.scale).floor().clamp(DVec2::ZERO, most);
        let high = (plate.high * self.scale).ceil().clamp(low, most);
        let place = |at: DVec2| (at.x as usize, at.y as usize);
        self.pieces.between(place(low), place(high)) as u32
    }
}
