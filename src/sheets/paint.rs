//! Prints as pixels, at the resolution of their sheet: each by itself and no larger than it is, so that memory follows the
//! sheet and not the cake.

use glam::DVec2;

use super::prints::{Print, PrintOf};
use crate::art::{Colour, Picture, Region, Sketch, spread};
use crate::cake::Cake;
use crate::cake::pieces::{Ink, PiecePrint};
use crate::design::model::CourseKind;
use crate::measure::MM_PER_INCH;
use crate::wraps::{Window, WrapPlan, paint_window};

/// A print, painted upright.
#[derive(Clone, Debug)]
pub struct Painted {
    /// What is cut, with its bleed all round.
    pub picture: Picture,
    /// Width and height of what is cut, px.
    pub cut: (u32, u32),
    /// Width of the bleed, px.
    pub bleed: u32,
}

/// Paints a print at so many pixels to the inch.
#[must_use]
pub fn paint(cake: &Cake, plans: &[WrapPlan], (print, ppi): (&Print, u32)) -> Painted {
    let pixels = |mm: f64| (mm / MM_PER_INCH * f64::from(ppi)).round();
    let side = |mm: f64| pixels(mm).clamp(1.0, 32_768.0) as u32;
    let cut = (side(print.size.x), side(print.size.y));
    let bleed = pixels(print.bleed).max(0.0) as u32;
    let inner = inner(cake, plans, (print, cut));
    let picture = if bleed == 0 { inner } else { with_bleed(&inner, (bleed, run_on(print, bleed))) };
    let mut on_white = Picture::filled(picture.width, picture.height, [255; 4]);
    on_white.lay(&picture, (0, 0));
    Painted { picture: on_white, cut, bleed }
}

/// What is cut; a blank sheet where there is no art.
fn inner(cake: &Cake, plans: &[WrapPlan], (print, (width, height)): (&Print, (u32, u32))) -> Picture {
    let painted = match &print.of {
        PrintOf::Strip { plan, start, .. } => strip(cake, plans.get(*plan), (print, *start), (width, height)),
        PrintOf::Piece { print, .. } => of_piece(cake, print, (width, height)),
    };
    painted.unwrap_or_else(|| Picture::filled(width, height, [255; 4]))
}

fn of_piece(cake: &Cake, print: &PiecePrint, (width, height): (u32, u32)) -> Option<Picture> {
    let picture = match &print.ink {
        Ink::Art(path, part) => cake.shelf.get(path)?.paint_part(*part, width, height),
        Ink::Plain(colour) => Picture::filled(width, height, [colour.red, colour.green, colour.blue, 255]),
    };
    Some(match &print.outline {
        Some(outline) => cut_along(picture, outline, print.size),
        None => picture,
    })
}

/// Of a picture only what lies within an outline (its middle that of the picture, mm, y up): a photograph too is printed as it
/// is cut, its colours running on beyond its outline, and not with whatever stood round it.
fn cut_along(mut picture: Picture, outline: &Region, size: DVec2) -> Picture {
    let pixels = DVec2::new(f64::from(picture.width), f64::from(picture.height));
    let place = |at: &DVec2| (DVec2::new(at.x, -at.y) / size + 0.5) * pixels;
    let rings: Vec<Vec<DVec2>> = outline.rings.iter().map(|ring| ring.iter().map(place).collect()).collect();
    let rings: Vec<&[DVec2]> = rings.iter().map(Vec::as_slice).collect();
    let Some(mut mask) = Sketch::on(&Picture::filled(picture.width, picture.height, [0, 0, 0, 255])) else {
        return picture;
    };
    mask.fill(&rings, Colour::new(255, 255, 255), 1.0);
    let mask = mask.finish();
    for (pixel, covered) in picture.rgba.as_chunks_mut::<4>().0.iter_mut().zip(mask.rgba.as_chunks::<4>().0) {
        pixel[3] = (u16::from(pixel[3]) * u16::from(covered[0]) / 255) as u8;
    }
    picture
}

fn strip(cake: &Cake, plan: Option<&WrapPlan>, (print, start): (&Print, f64), pixels: (u32, u32)) -> Option<Picture> {
    let plan = plan?;
    let course = cake.tiers.get(plan.tier)?.courses.get(plan.course)?;
    let CourseKind::Wrap(wrap) = &course.kind else { return None };
    let art = cake.shelf.get(&wrap.art)?;
    let window = Window { at: DVec2::new(start, 0.0), size: print.size };
    Some(paint_window(art, &plan.layout, window, pixels))
}

/// How far colours run on beyond the edge, px. Of a cut-out to an outline that keeps the bleed's distance from its own; of
/// anything square to its box, whose corner is as far off as the diagonal.
fn run_on(print: &Print, bleed: u32) -> u32 {
    // Colours come from one pixel inside the edge.
    let beside = bleed + 1;
    match &print.of {
        PrintOf::Piece { print, .. } if print.outline.is_some() => beside,
        _ => (f64::from(beside) * std::f64::consts::SQRT_2).ceil() as u32,
    }
}

/// The picture in the middle of a larger one, its colours run on all round by so many pixels.
fn with_bleed(inner: &Picture, (bleed, reach): (u32, u32)) -> Picture {
    let mut outer = Picture::filled(inner.width + 2 * bleed, inner.height + 2 * bleed, [255, 255, 255, 0]);
    outer.lay(inner, (bleed, bleed));
    spread(&outer, reach)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::{Art, Shelf, encode_png};
    use crate::cake::resolve;
    use crate::design::read_design;
    use crate::sheets::prints::prints;

    /// A red disc of 500 px on a plain green photograph without any transparency.
    fn photograph() -> Vec<u8> {
        let pixel = |n: u32| {
            let at = DVec2::new(f64::from(n % 600), f64::from(n / 600)) + 0.5 - 300.0;
            if at.length() < 250.0 { [200, 30, 40, 255] } else { [60, 190, 80, 255] }
        };
        encode_png(&Picture { width: 600, height: 600, rgba: (0..600 * 600).flat_map(pixel).collect() }).unwrap()
    }

    #[test]
    fn a_photograph_is_printed_as_it_is_cut_with_bleed_along_its_outline() {
        let text = "unit = 'mm'\n[[tier]]\nname = 'base'\nsize = 150\nheight = 80\n[[piece]]\nname = 'disc'\nkind = 'topper'\n\
                    seat = { on = 'base', surface = 'top' }\nart = 'disc.png'\nheight = 50\nthickness = 3\nprint = true\n\
                    finish = 'white'\npicks = { count = 1, diameter = 3, into_piece = 20, into_cake = 40 }\n";
        let mut shelf = Shelf::default();
        shelf.insert("disc.png", Arc::new(Art::read(&photograph(), "disc.png").unwrap()));
        let design = read_design(text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        let cake = resolve(&Arc::new(design), &Arc::new(shelf)).unwrap();
        let print = prints(&cake, &[]).remove(0);
        // Ten pixels to the millimetre; a disc 50 mm across with 2 mm of bleed.
        let painted = paint(&cake, &[], (&print, 254));
        assert_eq!((painted.cut, painted.bleed), ((500, 500), 20));
        let red = |[red, green, ..]: [u8; 4]| red > 150 && green < 90;
        for turn in 0..24 {
            let way = DVec2::from_angle(f64::from(turn) * 15_f64.to_radians());
            let at = |out: f64| {
                let at = DVec2::splat(270.0) + way * out * 10.0;
                painted.picture.pixel(at.x as u32, at.y as u32).unwrap()
            };
            assert!(red(at(20.0)) && red(at(24.5)) && red(at(25.5)) && red(at(26.4)), "{turn}");
            // Outside it no green of the photograph: at the corners, where the box has room, white.
            assert!(turn % 6 != 3 || at(27.6) == [255; 4], "{turn}: {:?}", at(27.6));
        }
    }
}
