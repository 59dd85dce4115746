//! A large picture is taken in parts.

/// A part of a picture, px from the picture's top left. It may reach over the picture's right and lower edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tile {
    /// Left edge.
    pub x: u32,
    /// Upper edge.
    pub y: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// Equal parts that cover a picture of `size` px, none wider or higher than `most` px.
pub(super) fn split(size: (u32, u32), most: u32) -> Vec<Tile> {
    let (across, width) = parts(size.0, most);
    let (down, height) = parts(size.1, most);
    let row = |row: u32| (0..across).map(move |column| Tile { x: column * width, y: row * height, width, height });
    (0..down).flat_map(row).collect()
}

/// How many parts a side is cut into, and how long each is.
fn parts(side: u32, most: u32) -> (u32, u32) {
    let count = side.div_ceil(most.max(1)).max(1);
    (count, side.div_ceil(count))
}

#[cfg(test)]
mod tests {
    use super::{Tile, split};

    #[test]
    fn a_small_picture_is_one_tile() {
        assert_eq!(split((1600, 1200), 2048), [Tile { x: 0, y: 0, width: 1600, height: 1200 }]);
    }

    #[test]
    fn tiles_cover_every_pixel_once() {
        for size in [(1, 1), (2049, 7), (5000, 8192), (8191, 4097)] {
            let tiles = split(size, 2048);
            assert!(tiles.iter().all(|tile| tile.width <= 2048 && tile.height <= 2048));
            let inside =
                |tile: &Tile| u64::from(tile.width.min(size.0 - tile.x)) * u64::from(tile.height.min(size.1 - tile.y));
            assert_eq!(tiles.iter().map(inside).sum::<u64>(), u64::from(size.0) * u64::from(size.1));
        }
    }
}
