//! A height for each pixel of a picture: how much it belongs to the figure.

use super::super::error::Fault;
use super::super::picture::Picture;

/// Pictures with more pixels than this are averaged down for tracing: 4000 × 4000.
const MAX_CELLS: usize = 16_000_000;
/// Least difference between figure and border, of 255.
const LEAST_CONTRAST: f64 = 16.0;
/// Least share of the border that must look like the border.
const PLAIN_BORDER: f64 = 0.5;
/// The border's colour reaches so far, of 255.
const BORDER_SPREAD: f64 = 48.0;
/// Shares of hard steps and of corners along the outline from which a picture is taken for one without smooth edges: a
/// slanted edge is a stair there, while an upright one has hard steps and no corners in any picture.
const STEPPED: (f64, f64) = (0.9, 0.1);
/// Heights to one step of a channel, so that they fill 16 bits.
const FINE: f64 = 257.0;

/// A height for each cell, with a rim of zeros so that every ring closes.
pub(super) struct Heights {
    /// Columns and rows with the rim.
    pub columns: usize,
    pub values: Vec<u16>,
    /// From this height on, a cell is in the figure.
    pub level: u16,
    /// The same, as exactly as it is known.
    pub line: f64,
    /// Pixels of the picture to a cell, along a side.
    pub cell: usize,
    /// Height of the picture, pixels.
    pub picture_height: f64,
    /// The picture's edges are hard steps from pixel to pixel.
    pub stepped: bool,
}

impl Heights {
    pub fn of(picture: &Picture) -> Result<Self, Fault> {
        let nothing = Fault::NoOutline { reason: "the picture is blank; use one with a figure in it" };
        let count = picture.rgba.len() / 4;
        let clear = pixels(picture).filter(|pixel| pixel[3] < 128).count();
        if count == 0 || count != picture.width as usize * picture.height as usize || clear == count {
            return Err(nothing);
        }
        if clear * 1000 >= count {
            Ok(Self::build(picture, (127.5, 255.0), |pixel| u16::from(pixel[3]) * FINE as u16))
        } else {
            Self::by_contrast(picture)
        }
    }

    fn by_contrast(picture: &Picture) -> Result<Self, Fault> {
        let border = border_colour(picture);
        let (level, contrast) = level_of_contrast(picture, border).ok_or(Fault::NoOutline {
            reason: "nothing in the picture stands out from its border; use a plain border, or a transparent background",
        })?;
        let (mut plain, mut all) = (0_u32, 0_u32);
        border_of(picture).for_each(|pixel| {
            plain += u32::from(distance(pixel, border) < level.min(BORDER_SPREAD));
            all += 1;
        });
        if f64::from(plain) < PLAIN_BORDER * f64::from(all) {
            let reason = "the border of the picture has many colours, so that no figure stands out from it; give it a plain \
                          border, or a transparent background";
            return Err(Fault::NoOutline { reason });
        }
        Ok(Self::build(picture, (level, contrast), |pixel| (distance(pixel, border) * FINE) as u16))
    }

    /// The cells of a picture; level and contrast are of 255.
    fn build(picture: &Picture, (level, contrast): (f64, f64), height: impl Fn([u8; 4]) -> u16) -> Self {
        let (width, tall) = (picture.width as usize, picture.height as usize);
        let cell = (1..).find(|cell| width.div_ceil(*cell) * tall.div_ceil(*cell) <= MAX_CELLS).unwrap_or(1);
        let (columns, rows) = (width.div_ceil(cell) + 2, tall.div_ceil(cell) + 2);
        let mut values = vec![0_u16; columns * rows];
        let mut sums = vec![0_u32; columns - 2];
        // Cells at the far edges may reach beyond the picture: what is missing there counts as empty.
        let share = (cell * cell) as u32;
        for (lines, row) in picture.rgba.chunks(width * 4 * cell).zip(values.chunks_exact_mut(columns).skip(1)) {
            sums.fill(0);
            for line in lines.chunks_exact(width * 4) {
                for (sum, pixels) in sums.iter_mut().zip(line.chunks(cell * 4)) {
                    *sum += pixels.as_chunks().0.iter().map(|pixel| u32::from(height(*pixel))).sum::<u32>();
                }
            }
            for (value, sum) in row.iter_mut().skip(1).zip(&sums) {
                *value = (sum / share) as u16;
            }
        }
        let line = level * FINE;
        let mut heights = Self {
            columns,
            values,
            level: line.ceil() as u16,
            line,
            cell,
            picture_height: tall as f64,
            stepped: false,
        };
        heights.stepped = heights.is_stepped(contrast);
        heights
    }

    /// Pairs of neighbouring cells.
    fn neighbours(&self) -> impl Iterator<Item = (u16, u16)> + '_ {
        let beside = self.values.iter().zip(self.values.iter().skip(1));
        let above = self.values.iter().zip(self.values.iter().skip(self.columns));
        beside.chain(above).map(|(one, other)| (*one, *other))
    }

    fn crosses(&self, (one, other): (u16, u16)) -> bool {
        (one >= self.level) != (other >= self.level)
    }

    /// How often neighbouring cells lie on different sides of the level.
    pub fn crossings(&self) -> usize {
        self.neighbours().filter(|pair| self.crosses(*pair)).count()
    }

    /// Whether nearly all steps across the level are from all to nothing, and go round many corners.
    fn is_stepped(&self, contrast: f64) -> bool {
        let hard = (contrast * FINE * 0.9) as u16;
        let (mut all, mut steep) = (0_usize, 0_usize);
        for (one, other) in self.neighbours().filter(|pair| self.crosses(*pair)) {
            all += 1;
            steep += usize::from(one.abs_diff(other) >= hard);
        }
        // A row above the one below it: where one of two pairs crosses and the other doesn't, there is a corner between.
        let pairs = || self.values.array_windows().map(|&[one, other]| self.crosses((one, other)));
        let corners = pairs().zip(pairs().skip(self.columns)).filter(|(above, below)| above != below).count();
        steep as f64 > STEPPED.0 * all as f64 && corners as f64 > STEPPED.1 * all as f64
    }
}

fn pixels(picture: &Picture) -> impl Iterator<Item = [u8; 4]> + '_ {
    picture.rgba.as_chunks().0.iter().copied()
}

fn border_of(picture: &Picture) -> impl Iterator<Item = [u8; 4]> + '_ {
    let (last_column, last_row) = (picture.width.saturating_sub(1), picture.height.saturating_sub(1));
    let across = (0..picture.width).flat_map(move |x| [(x, 0), (x, last_row)]);
    let down = (0..picture.height).flat_map(move |y| [(0, y), (last_column, y)]);
    across.chain(down).filter_map(|(x, y)| picture.pixel(x, y))
}

/// The median of each channel along the picture's border.
fn border_colour(picture: &Picture) -> [u8; 4] {
    let border: Vec<[u8; 4]> = border_of(picture).collect();
    std::array::from_fn(|channel| {
        let mut values: Vec<u8> = border.iter().filter_map(|pixel| pixel.get(channel).copied()).collect();
        values.sort_unstable();
        values.get(values.len() / 2).copied().unwrap_or_default()
    })
}

/// How far apart two colours look, 0..255: sRGB differences weighted 2 : 4 : 3, the usual cheap stand-in for a CIE
/// difference (common practice). Straight in sRGB, so that a pixel half covered by the figure lies half-way.
fn distance(one: [u8; 4], other: [u8; 4]) -> f64 {
    let [red, green, blue, _] = one.map(i32::from);
    let [from_red, from_green, from_blue, _] = other.map(i32::from);
    let [red, green, blue] = [red - from_red, green - from_green, blue - from_blue];
    (f64::from(2 * red * red + 4 * green * green + 3 * blue * blue) / 9.0).sqrt()
}

/// Half-way between what is border and what is figure, and how far apart the two are; `None` where they hardly differ.
///
/// The two are told apart by Otsu's method: the split that leaves the greatest variance between them (N. Otsu, IEEE
/// Trans. SMC 9, 1979).
fn level_of_contrast(picture: &Picture, border: [u8; 4]) -> Option<(f64, f64)> {
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
    (high - low >= LEAST_CONTRAST).then_some((f64::midpoint(low, high), high - low))
}
