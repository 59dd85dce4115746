//! Prints as pixels, at the resolution of their sheet: each by itself and no larger than it is, so that memory follows the
//! sheet and not the cake.

use glam::DVec2;

use super::prints::{Print, PrintOf};
use crate::art::{Picture, spread};
use crate::cake::Cake;
use crate::cake::pieces::Ink;
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
    let picture = if bleed == 0 { inner } else { with_bleed(&inner, bleed) };
    let mut on_white = Picture::filled(picture.width, picture.height, [255; 4]);
    on_white.lay(&picture, (0, 0));
    Painted { picture: on_white, cut, bleed }
}

/// What is cut; a blank sheet where there is no art.
fn inner(cake: &Cake, plans: &[WrapPlan], (print, (width, height)): (&Print, (u32, u32))) -> Picture {
    let painted = match &print.of {
        PrintOf::Strip { plan, start, .. } => strip(cake, plans.get(*plan), (print, *start), (width, height)),
        PrintOf::Piece { print, .. } => match &print.ink {
            Ink::Art(path, part) => cake.shelf.get(path).map(|art| art.paint_part(*part, width, height)),
            Ink::Plain(colour) => Some(Picture::filled(width, height, [colour.red, colour.green, colour.blue, 255])),
        },
    };
    painted.unwrap_or_else(|| Picture::filled(width, height, [255; 4]))
}

fn strip(cake: &Cake, plan: Option<&WrapPlan>, (print, start): (&Print, f64), pixels: (u32, u32)) -> Option<Picture> {
    let plan = plan?;
    let course = cake.tiers.get(plan.tier)?.courses.get(plan.course)?;
    let CourseKind::Wrap(wrap) = &course.kind else { return None };
    let art = cake.shelf.get(&wrap.art)?;
    let window = Window { at: DVec2::new(start, 0.0), size: print.size };
    Some(paint_window(art, &plan.layout, window, pixels))
}

/// The picture in the middle of a larger one, its colours run on all round.
fn with_bleed(inner: &Picture, bleed: u32) -> Picture {
    let mut outer = Picture::filled(inner.width + 2 * bleed, inner.height + 2 * bleed, [255, 255, 255, 0]);
    outer.lay(inner, (bleed, bleed));
    // Colours come from one pixel inside the edge; the corner of a square cut is as far off as the diagonal.
    spread(&outer, (f64::from(bleed + 1) * std::f64::consts::SQRT_2).ceil() as u32)
}
