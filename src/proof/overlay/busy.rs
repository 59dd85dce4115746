//! Where a picture shows pieces, looked up for any rectangle at once.

use glam::DVec2;

use super::label::Plate;
use crate::proof::sight::Sight;

/// How many points of the sight's picture above and left of each point show a piece.
#[derive(Debug)]
pub(super) struct Busy {
    columns: usize,
    rows: usize,
    /// One row and one column more than the picture, so that the first are zero.
    sums: Vec<u32>,
    /// Points to a pixel.
    scale: DVec2,
}

impl Busy {
    /// For a picture of such a size, px.
    pub fn new(sight: &Sight, picture: DVec2) -> Self {
        let (columns, pieces) = sight.pieces();
        let rows = pieces.len() / columns.max(1);
        let mut sums = vec![0; columns + 1];
        sums.reserve(rows * (columns + 1));
        for row in pieces.chunks_exact(columns.max(1)) {
            let above = sums.len() - columns - 1;
            let mut here = 0;
            sums.push(0);
            for (column, &piece) in row.iter().enumerate() {
                here += u32::from(piece);
                sums.push(here + sums.get(above + column + 1).copied().unwrap_or(0));
            }
        }
        let scale = DVec2::new(columns as f64, rows as f64) / picture.max(DVec2::ONE);
        Self { columns, rows, sums, scale }
    }

    /// How many points of pieces a plate covers.
    pub fn covered(&self, plate: Plate) -> u32 {
        let most = DVec2::new(self.columns as f64, self.rows as f64);
        let low = (plate.low * self.scale).floor().clamp(DVec2::ZERO, most);
        let high = (plate.high * self.scale).ceil().clamp(low, most);
        let sum = |x: f64, y: f64| self.sums.get(y as usize * (self.columns + 1) + x as usize).copied().unwrap_or(0);
        (sum(high.x, high.y) + sum(low.x, low.y)) - (sum(low.x, high.y) + sum(high.x, low.y))
    }
}
