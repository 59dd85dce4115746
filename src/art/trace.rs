//! The outline of what a picture shows.
//!
//! Picture → a height for each pixel (its alpha, or how far its colour is from the border's) → the line at half height,
//! placed between pixels by marching squares → rings without specks → a region.
//!
//! Half height is where a half-covered pixel lies, so an antialiased edge is found to a few hundredths of a pixel.

use contour::ContourBuilder;
use glam::DVec2;

use super::error::Fault;
use super::offset::simplify_ring;
use super::picture::Picture;
use super::region::{Region, Ring, ring_area};

/// Pictures with more pixels than this are averaged down for tracing: 4000 × 4000.
const MAX_CELLS: usize = 16_000_000;
/// Most places where the outline crosses from one pixel to the next.
const MAX_CROSSINGS: usize = 1_000_000;
/// Least difference between figure and border, of 255.
const LEAST_CONTRAST: f64 = 16.0;
/// Smallest speck that is kept, in pixels, and as a share of the largest ring.
const SPECK: (f64, f64) = (4.0, 1e-4);

/// Traces the figure in a picture: by its alpha where at least a thousandth of it is transparent, else by its contrast
/// against the colour most common along its border. Unit pixels, y **up**, origin at the lower left.
///
/// # Errors
/// A picture without a figure that stands out, or one whose outline is too ragged to be cut.
pub fn trace(picture: &Picture) -> Result<Region, Fault> {
    let heights = Heights::of(picture)?;
    if heights.crossings() > MAX_CROSSINGS {
        return Err(Fault::TooMuch { what: "the outline in the picture is too ragged to be cut".to_owned() });
    }
    let rings = heights.rings()?;
    let largest = rings.iter().map(|ring| ring_area(ring).abs()).fold(0.0, f64::max);
    let speck = SPECK.0.max(SPECK.1 * largest);
    // Chords of a disc this far inside it cost 4e-4 of its area.
    let tolerance = (1.5e-4 * largest.sqrt()).min(0.2);
    let kept = rings.iter().filter(|ring| ring_area(ring).abs() >= speck);
    let rings: Vec<Ring> = kept.map(|ring| simplify_ring(ring, tolerance)).collect();
    let region = Region::from_paths_even_odd(&rings);
    if region.is_empty() {
        return Err(Fault::NoOutline {
            reason: "the figure in the picture is only a few pixels large; use a larger one",
        });
    }
    Ok(region)
}

/// A height for each pixel, with a rim of zeros so that every ring closes.
struct Heights {
    /// Columns and rows with the rim.
    columns: usize,
    rows: usize,
    values: Vec<f64>,
    /// The height of the outline.
    level: f64,
    /// Pixels of the picture to a cell.
    cell: usize,
    /// Height of the picture.
    picture_height: f64,
}

impl Heights {
    fn of(picture: &Picture) -> Result<Self, Fault> {
        let nothing = Fault::NoOutline { reason: "the picture is blank; use one with a figure in it" };
        let count = picture.rgba.len() / 4;
        let clear = pixels(picture).filter(|pixel| pixel[3] < 128).count();
        if count == 0 || count != picture.width as usize * picture.height as usize || clear == count {
            return Err(nothing);
        }
        if clear * 1000 >= count {
            return Ok(Self::build(picture, 127.5, |pixel| f64::from(pixel[3])));
        }
        let border = border_colour(picture);
        let level = level_of_contrast(picture, border).ok_or(Fault::NoOutline {
            reason: "nothing in the picture stands out from its border; use a plain border, or a transparent background",
        })?;
        Ok(Self::build(picture, level, |pixel| distance(pixel, border)))
    }

    fn build(picture: &Picture, level: f64, height: impl Fn([u8; 4]) -> f64) -> Self {
        let (width, picture_height) = (picture.width as usize, picture.height as usize);
        let cell = (1..).find(|cell| width.div_ceil(*cell) * picture_height.div_ceil(*cell) <= MAX_CELLS).unwrap_or(1);
        let (columns, rows) = (width.div_ceil(cell) + 2, picture_height.div_ceil(cell) + 2);
        let mut values = vec![0.0; columns * rows];
        // Cells at the far edges may reach beyond the picture: what is missing there counts as empty.
        let share = 1.0 / (cell * cell) as f64;
        for (row, line) in picture.rgba.chunks_exact(width * 4).enumerate() {
            let start = (row / cell + 1) * columns + 1;
            let Some(sums) = values.get_mut(start..start + columns - 2) else { continue };
            for (sum, pixels) in sums.iter_mut().zip(line.chunks(cell * 4)) {
                *sum += share * pixels.as_chunks().0.iter().copied().map(&height).sum::<f64>();
            }
        }
        Self { columns, rows, values, level, cell, picture_height: picture_height as f64 }
    }

    /// How often neighbouring cells lie on different sides of the level.
    fn crossings(&self) -> usize {
        let differ = |(one, other): (&f64, &f64)| (*one >= self.level) != (*other >= self.level);
        let beside = self.values.iter().zip(self.values.iter().skip(1)).filter(|&pair| differ(pair)).count();
        let above = self.values.iter().zip(self.values.iter().skip(self.columns)).filter(|&pair| differ(pair)).count();
        beside + above
    }

    /// The rings at the level, in pixels, y up.
    fn rings(&self) -> Result<Vec<Ring>, Fault> {
        let builder = ContourBuilder::new(self.columns, self.rows, true);
        let lines = builder.lines(&self.values, &[self.level]);
        let lines = lines.map_err(|error| Fault::TooMuch { what: format!("its outline does not close ({error})") })?;
        // The rim is one cell wide; the cell in column n covers n to n + 1.
        let place =
            |x: f64, y: f64| DVec2::new(x - 1.0, 1.0 - y) * self.cell as f64 + DVec2::new(0.0, self.picture_height);
        let rings = lines.into_iter().flat_map(|line| line.into_inner().0);
        Ok(rings.map(|ring| ring.0.iter().map(|at| place(at.x, at.y)).collect()).collect())
    }
}

fn pixels(picture: &Picture) -> impl Iterator<Item = [u8; 4]> + '_ {
    picture.rgba.as_chunks().0.iter().copied()
}

/// The median of each channel along the picture's border.
fn border_colour(picture: &Picture) -> [u8; 4] {
    let (last_column, last_row) = (picture.width.saturating_sub(1), picture.height.saturating_sub(1));
    let across = (0..picture.width).flat_map(|x| [(x, 0), (x, last_row)]);
    let down = (0..picture.height).flat_map(|y| [(0, y), (last_column, y)]);
    let border: Vec<[u8; 4]> = across.chain(down).filter_map(|(x, y)| picture.pixel(x, y)).collect();
    std::array::from_fn(|channel| {
        let mut values: Vec<u8> = border.iter().filter_map(|pixel| pixel.get(channel).copied()).collect();
        values.sort_unstable();
        values.get(values.len() / 2).copied().unwrap_or_default()
    })
}

/// How far apart two colours look, 0..255: sRGB differences weighted 2 : 4 : 3, the usual cheap stand-in for a CIE
/// difference (common practice). Straight in sRGB, so that a pixel half covered by the figure lies half-way.
fn distance(one: [u8; 4], other: [u8; 4]) -> f64 {
    let [[red, green, blue, _], other] = [one, other].map(|colour| colour.map(f64::from));
    let [red, green, blue] = [red - other[0], green - other[1], blue - other[2]];
    ((2.0 * red * red + 4.0 * green * green + 3.0 * blue * blue) / 9.0).sqrt()
}

/// Half-way between what is border and what is figure; `None` where they hardly differ.
///
/// The two are told apart by Otsu's method: the split that leaves the greatest variance between them (N. Otsu, IEEE
/// Trans. SMC 9, 1979).
fn level_of_contrast(picture: &Picture, border: [u8; 4]) -> Option<f64> {
    let mut counts = [0_u64; 256];
    for pixel in pixels(picture) {
        if let Some(count) = counts.get_mut(distance(pixel, border) as usize) {
            *count += 1;
        }
    }
    let sums = |counts: &[u64], first: usize| {
        let weighted = counts.iter().zip(first..).map(|(&count, height)| count as f64 * height as f64).sum::<f64>();
        (counts.iter().sum::<u64>() as f64, weighted)
    };
    let split = |at: usize| {
        let (low, high) = counts.split_at_checked(at)?;
        let ((few, low), (many, high)) = (sums(low, 0), sums(high, at));
        let means = (low / few, high / many);
        (few > 0.0 && many > 0.0).then(|| (few * many * (means.1 - means.0).powi(2), means))
    };
    let best = (1..256).filter_map(split).max_by(|one, other| one.0.total_cmp(&other.0))?;
    let (low, high) = best.1;
    (high - low >= LEAST_CONTRAST).then_some(f64::midpoint(low, high))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    /// A disc of `inside` on `outside`, each pixel covered as 8 × 8 points of it are.
    fn disc(size: u32, centre: DVec2, radius: f64, colours: [[u8; 4]; 2]) -> Picture {
        let [inside, outside] = colours;
        let covered = |x: u32, y: u32| {
            let reach = DVec2::new(f64::from(x) + 0.5, f64::from(y) + 0.5).distance(centre) - radius;
            if reach.abs() > 1.0 {
                return if reach < 0.0 { 1.0 } else { 0.0 };
            }
            let step = |n: u32| (f64::from(n) + 0.5) / 8.0;
            let point = |n: u32| DVec2::new(f64::from(x) + step(n % 8), f64::from(y) + step(n / 8));
            (0..64).filter(|&n| point(n).distance(centre) < radius).count() as f64 / 64.0
        };
        let mix = |share: f64| {
            std::array::from_fn::<u8, 4, _>(|n| {
                (f64::from(inside[n]) * share + f64::from(outside[n]) * (1.0 - share)).round() as u8
            })
        };
        let rgba = (0..size * size).flat_map(|n| mix(covered(n % size, n / size))).collect();
        Picture { width: size, height: size, rgba }
    }

    const CLEAR: [u8; 4] = [0; 4];

    #[test]
    fn a_disc_is_traced_within_a_thousandth_of_its_area() {
        let centre = DVec2::new(120.3, 131.7);
        for colours in [
            [[200, 0, 0, 255], CLEAR],
            [[20, 60, 90, 255], [255; 4]],
            [[250, 240, 200, 255], [40, 90, 60, 255]],
            [[200, 200, 190, 255], [230, 228, 224, 255]],
        ] {
            for radius in [30.0, 100.0] {
                let figure = trace(&disc(256, centre, radius, colours)).unwrap();
                assert!(
                    (figure.area() / (PI * radius * radius) - 1.0).abs() < 1e-3,
                    "{radius} {colours:?} {}",
                    figure.area()
                );
                // y up: 131.7 px from the top is 124.3 px from the bottom.
                assert!(figure.centroid().unwrap().distance(DVec2::new(120.3, 124.3)) < 0.05);
                assert_eq!(figure.rings.len(), 1);
            }
        }
    }

    #[test]
    fn a_ring_keeps_its_hole_and_specks_are_dropped() {
        let (red, white) = ([200, 20, 20, 255], [255; 4]);
        let mut picture = disc(200, DVec2::splat(100.0), 80.0, [red, white]);
        let hole = disc(200, DVec2::splat(100.0), 40.0, [CLEAR, [1; 4]]);
        for (pixel, inside) in picture.rgba.as_chunks_mut().0.iter_mut().zip(hole.rgba.as_chunks::<4>().0) {
            if inside[3] == 0 {
                *pixel = white;
            }
        }
        picture.rgba[4 * (3 * 200 + 3)..][..4].copy_from_slice(&red);
        let faces = trace(&picture).unwrap().faces();
        assert_eq!(faces.iter().map(|face| face.holes.len()).collect::<Vec<_>>(), [1]);
    }

    #[test]
    fn a_figure_that_fills_its_picture_is_traced_to_the_edge() {
        let mut picture = Picture::filled(40, 30, [9, 9, 9, 255]);
        for y in 0..10 {
            for x in 0..20 {
                picture.rgba[(y * 40 + x) * 4 + 3] = 0;
            }
        }
        let figure = trace(&picture).unwrap();
        assert!((figure.area() - 1000.0).abs() < 1.0, "{}", figure.area());
        assert!(!figure.contains(DVec2::new(10.0, 25.0)) && figure.contains(DVec2::new(10.0, 5.0)));
        assert_eq!(figure.bounds().unwrap().1, DVec2::new(40.0, 30.0));
    }

    #[test]
    fn pictures_without_a_figure_are_refused() {
        for picture in [
            Picture::default(),
            Picture::filled(50, 50, CLEAR),
            Picture::filled(50, 50, [200, 200, 200, 255]),
            disc(100, DVec2::splat(50.0), 30.0, [[200, 200, 200, 255], [208, 205, 203, 255]]),
            disc(100, DVec2::splat(50.0), 0.9, [[0, 0, 0, 255], CLEAR]),
            Picture { width: 9, height: 9, rgba: vec![255; 12] },
        ] {
            assert!(matches!(trace(&picture), Err(Fault::NoOutline { .. })), "{}", picture.width);
        }
    }

    #[test]
    fn noise_is_refused_and_a_large_picture_is_quick() {
        let noise = |n: u32| [0, 0, 0, if n.wrapping_mul(2_654_435_761) >> 31 == 0 { 0 } else { 255 }];
        let picture = Picture { width: 1500, height: 1500, rgba: (0..1500 * 1500).flat_map(noise).collect() };
        assert!(matches!(trace(&picture), Err(Fault::TooMuch { .. })));
        let radius = 1900.0;
        let picture = disc(4000, DVec2::splat(2000.0), radius, [[0, 0, 90, 255], [255; 4]]);
        let start = std::time::Instant::now();
        let figure = trace(&picture).unwrap();
        println!("4000 x 4000 traced in {:?}, {} corners", start.elapsed(), figure.rings[0].len());
        assert!((figure.area() / (PI * radius * radius) - 1.0).abs() < 1e-3);
        assert!(start.elapsed().as_secs() < 4);
    }

    #[test]
    fn a_picture_above_the_limit_is_averaged_down() {
        let radius = 2100.0;
        let picture = disc(4400, DVec2::splat(2199.0), radius, [[0, 0, 0, 255], CLEAR]);
        let figure = trace(&picture).unwrap();
        assert!((figure.area() / (PI * radius * radius) - 1.0).abs() < 1e-3);
        assert!(figure.centroid().unwrap().distance(DVec2::new(2199.0, 2201.0)) < 0.1);
    }
}
