//! The outline of what a picture shows.
//!
//! Picture → a height for each pixel, its alpha or how far its colour is from the border's ([`heights`]) → the line at half
//! height, placed between pixels ([`march`]) → rings without specks, and without stairs where the picture has hard steps → a region.
//!
//! Half height is where a half-covered pixel lies, so an antialiased edge is found to a few hundredths of a pixel. Beside the
//! picture itself, tracing takes 2 bytes a pixel.

mod heights;
mod march;

use glam::DVec2;
use heights::Heights;

use super::error::Fault;
use super::offset::simplify_ring;
use super::picture::Picture;
use super::region::{Region, Ring, ring_area};

/// Most places where the outline crosses from one pixel to the next.
const MAX_CROSSINGS: usize = 1_000_000;
/// Most rings of a figure.
const MAX_RINGS: usize = 5_000;
/// Smallest speck that is kept, in pixels, and as a share of the largest ring.
const SPECK: (f64, f64) = (4.0, 1e-4);

/// Traces the figure in a picture: by its alpha where at least a thousandth of it is transparent, else by its contrast
/// against the colour most common along its border. Unit pixels, y **up**, origin at the lower left.
///
/// # Errors
/// A picture without a figure that stands out, or one whose outline is too ragged to be cut.
pub fn trace(picture: &Picture) -> Result<Region, Fault> {
    let heights = Heights::of(picture)?;
    let ragged = |what: String| Fault::TooMuch { what: format!("{what}; clean it of specks, or blur it a little") };
    if heights.crossings() > MAX_CROSSINGS {
        return Err(ragged("the outline in the picture is too ragged to be cut".to_owned()));
    }
    let rings = march::rings(&heights);
    let largest = rings.iter().map(|ring| ring_area(ring).abs()).fold(0.0, f64::max);
    let speck = SPECK.0.max(SPECK.1 * largest);
    let kept: Vec<&Ring> = rings.iter().filter(|ring| ring_area(ring).abs() >= speck).collect();
    if kept.len() > MAX_RINGS {
        return Err(ragged(format!("the figure in the picture is in {} separate pieces and holes", kept.len())));
    }
    // Chords of a disc this far inside it cost 4e-4 of its area.
    let fine = 1.5e-4 * largest.sqrt();
    let tolerance = if heights.stepped { 0.2 } else { fine.min(0.2) };
    let even = |ring: &Ring| if heights.stepped { without_stairs(ring) } else { ring.clone() };
    let rings: Vec<Ring> = kept.into_iter().map(|ring| simplify_ring(&even(ring), tolerance)).collect();
    let region = Region::from_paths_even_odd(&rings);
    if region.is_empty() {
        return Err(Fault::NoOutline {
            reason: "the figure in the picture is only a few pixels large; use a larger one",
        });
    }
    Ok(region)
}

/// A ring along hard steps, evened out: every place moves to the weighted middle of those beside it, over and over. It takes
/// with it a stair of up to ten pixels, and rounds corners by about two.
fn without_stairs(ring: &[DVec2]) -> Ring {
    // Of 1 2 1, half a step's variance each time: σ is 2.4 places in all, which are about a pixel apart.
    const TIMES: u32 = 12;
    (0..TIMES).fold(ring.to_vec(), |ring, _| {
        let around = |by: usize| ring.iter().cycle().skip(by);
        let sides = around(ring.len().saturating_sub(1)).zip(around(1));
        ring.iter().zip(sides).map(|(at, (before, after))| (*before + 2.0 * *at + *after) / 4.0).collect()
    })
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

    /// The picture with every channel either full or empty: no smooth edges.
    fn stepped(mut picture: Picture) -> Picture {
        picture.rgba.iter_mut().for_each(|channel| *channel = if *channel < 128 { 0 } else { 255 });
        picture
    }

    #[test]
    fn hard_steps_are_smoothed_and_an_edge_stays_where_it_is() {
        let picture = stepped(disc(256, DVec2::new(120.3, 131.7), 100.0, [[0, 0, 0, 255], CLEAR]));
        let figure = trace(&picture).unwrap();
        assert!((figure.area() / (PI * 1e4) - 1.0).abs() < 2e-3, "{}", figure.area());
        let off = figure.rings[0].iter().map(|at| (at.distance(DVec2::new(120.3, 124.3)) - 100.0).abs());
        assert!(off.fold(0.0, f64::max) < 0.5);
        // A staircase of 512 corners and more became a rim that a knife can follow.
        assert!(figure.rings[0].len() < 80, "{}", figure.rings[0].len());
        // An edge that rises by one pixel in seven.
        let inside = |n: u32| [9, 9, 9, if n / 140 > 40 + n % 140 / 7 { 255 } else { 0 }];
        let slope = Picture { width: 140, height: 100, rgba: (0..140 * 100).flat_map(inside).collect() };
        let figure = trace(&slope).unwrap();
        assert!(figure.rings[0].len() < 40, "{}", figure.rings[0].len());
        assert!((figure.area() - (140.0 * 59.0 - 140.0 * 10.0 + 70.0)).abs() < 80.0, "{}", figure.area());
    }

    #[test]
    fn specks_are_dropped_up_to_a_limit_that_is_told() {
        // A figure with a speck of one to six pixels in every tenth place round it.
        let mut picture = disc(900, DVec2::splat(450.0), 300.0, [[20, 30, 40, 255], [250, 250, 250, 255]]);
        for (n, pixel) in (0_u32..).zip(picture.rgba.as_chunks_mut::<4>().0) {
            if (n / 3).wrapping_mul(2_654_435_761) >> 9 & 127 == 0 {
                *pixel = [90, 90, 90, 255];
            }
        }
        let figure = trace(&picture).unwrap();
        assert!((figure.faces().len(), figure.rings.len()) == (1, 1), "{}", figure.rings.len());
        assert!((figure.area() / (PI * 9e4) - 1.0).abs() < 5e-3, "{}", figure.area());
        // Ten thousand squares of 5 × 5 pixels.
        let dot = |n: u32| [0, 0, 0, if n % 1000 % 10 < 5 && n / 1000 % 10 < 5 { 255 } else { 0 }];
        let dots = Picture { width: 1000, height: 1000, rgba: (0..1_000_000).flat_map(dot).collect() };
        let told = trace(&dots).unwrap_err().to_string();
        assert!(told.contains("10000 separate pieces"), "{told}");
    }

    #[test]
    fn a_picture_that_was_squeezed_as_a_jpeg_keeps_its_figure() {
        let picture = disc(256, DVec2::splat(128.0), 80.0, [[180, 40, 60, 255], [245, 244, 240, 255]]);
        for quality in [40, 90] {
            let file = super::super::encode_jpeg(&picture, quality).unwrap();
            let figure = trace(&super::super::read_raster(&file, "a").unwrap()).unwrap();
            assert_eq!(figure.rings.len(), 1);
            assert!((figure.area() / (PI * 6400.0) - 1.0).abs() < 5e-3, "{quality} {}", figure.area());
        }
    }

    #[test]
    fn a_motley_border_and_a_single_pixel_are_refused() {
        let motley = |n: u32| [(n * 37 % 256) as u8, (n * 91 % 256) as u8, (n * 53 % 256) as u8, 255];
        let picture = Picture { width: 120, height: 90, rgba: (0..120 * 90).flat_map(motley).collect() };
        assert!(trace(&picture).unwrap_err().to_string().contains("border"));
        for colour in [[0; 4], [255; 4], [9, 9, 9, 255]] {
            assert!(matches!(trace(&Picture::filled(1, 1, colour)), Err(Fault::NoOutline { .. })));
        }
    }

    #[test]
    fn noise_is_refused_and_a_large_picture_is_traced() {
        let noise = |n: u32| [0, 0, 0, if n.wrapping_mul(2_654_435_761) >> 31 == 0 { 0 } else { 255 }];
        let picture = Picture { width: 1500, height: 1500, rgba: (0..1500 * 1500).flat_map(noise).collect() };
        assert!(matches!(trace(&picture), Err(Fault::TooMuch { .. })));
        let radius = 1900.0;
        let picture = disc(4000, DVec2::splat(2000.0), radius, [[0, 0, 90, 255], [255; 4]]);
        let figure = trace(&picture).unwrap();
        assert!((figure.area() / (PI * radius * radius) - 1.0).abs() < 1e-3);
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
