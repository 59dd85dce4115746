//! Sheets ready to print: `sheets.pdf` and a PNG a sheet, both at true size; and `sheets-mirrored.pdf`, to transfer from.
//!
//! `lie` tells how a print lies on its page; `label`, `crop` and `legend` draw round it, never on it; `words` finds the
//! words; `check` is a page for plain paper where a sheet has no room for its rule.
//!
//! ```text
//!    |                 |         crop marks, outside the cut
//!   -+-----------------+-
//!    |      art        |
//!   -+-----------------+-
//!    |← meets 3   name ↑ up   meets 2 →|     a line of words at its foot, or its head
//! ```

mod check;
mod crop;
mod label;
mod legend;
mod lie;
mod words;

use glam::DVec2;

use super::KitchenInput;
use crate::art::{EncodeError, Picture, encode_png_at};
use crate::measure::MM_PER_INCH;
use crate::packs::pdf::{Booklet, Bookmark, Mark, Page, Press, Print as Image, draw};
use crate::packs::{Keep, PackError};
use crate::sheets::{Painted, Placed, Print, PrintedSheet, paint};
pub(super) use legend::set as set_legend;
pub(super) use lie::{Hand, Lie};
pub(super) use words::title as sheet_title;

/// Makes all files; none where nothing is printed. One sheet is held at a time, and of one PDF what its pictures are packed to.
pub(super) fn files(
    input: &KitchenInput,
    keep: &mut Keep<'_>,
    tell: &mut dyn FnMut(u64, u64),
) -> Result<(), PackError> {
    let sheets = &input.sheets.sheets;
    if sheets.is_empty() {
        return Ok(());
    }
    let (count, mut done) = (2 * sheets.len() as u64, 0..);
    for (name, hand) in [("sheets.pdf", Hand::Right), ("sheets-mirrored.pdf", Hand::Mirrored)] {
        let (mut book, mut press) = (book(input, hand), Press::default());
        for (number, sheet) in sheets.iter().enumerate() {
            tell(done.next().unwrap_or_default(), count);
            let (page, picture) = made(input, (number, sheet), hand)?;
            press.page(&page)?;
            // What the words stand beside is the same on both; only the one as it is seen is a picture too.
            if hand == Hand::Right {
                keep(picture_name(number), png(&picture, &page, sheet.sheet.ppi)?)?;
            }
        }
        if let Some(page) = check::page(input, hand) {
            book.bookmarks.push(Bookmark { title: "check page".to_owned(), page: sheets.len(), y: 0.0 });
            press.page(&page)?;
        }
        keep(name.to_owned(), press.finish(&book)?)?;
    }
    Ok(())
}

fn picture_name(number: usize) -> String {
    format!("sheets/sheet-{:02}.png", number + 1)
}

/// A booklet without pages, but with a bookmark for each sheet.
fn book(input: &KitchenInput, hand: Hand) -> Booklet {
    let what = if hand == Hand::Mirrored { "sheets, mirrored" } else { "sheets" };
    let bookmarks =
        (0..input.sheets.sheets.len()).map(|page| Bookmark { title: words::sheet(input, page), page, y: 0.0 });
    Booklet {
        title: format!("{} · {what}", input.facts.title),
        revision: input.facts.revision.clone(),
        pages: Vec::new(),
        bookmarks: bookmarks.collect(),
    }
}

/// One sheet: its page, and its prints as pixels.
fn made(
    input: &KitchenInput,
    (number, sheet): (usize, &PrintedSheet),
    hand: Hand,
) -> Result<(Page, Picture), PackError> {
    let ppi = sheet.sheet.ppi;
    let per_mm = per_mm(ppi);
    let [width, height] = (sheet.size() * per_mm).round().to_array().map(|side| side.max(1.0) as u32);
    let mut picture = Picture::filled(width, height, [255; 4]);
    let mut page = Page::new(sheet.size().to_array());
    for placed in &sheet.placed {
        let Some(print) = input.sheets.prints.get(placed.print) else { continue };
        let mut painted = paint(input.cake, input.plans, (print, ppi));
        if placed.turned {
            painted.picture = painted.picture.turned();
        }
        let corner = ((placed.at * per_mm).round() - f64::from(painted.bleed)).max(DVec2::ZERO);
        picture.lay(&painted.picture, (corner.x as u32, corner.y as u32));
        if hand == Hand::Mirrored {
            painted.picture = painted.picture.mirrored();
        }
        let frame = frame(&Lie::of(sheet, placed, hand), (placed, print), &painted);
        page.marks.push(Mark::Picture(frame, Image::lossless(&painted.picture)?));
    }
    annotate(&mut page, input, (number, sheet, hand));
    Ok((page, picture))
}

fn per_mm(ppi: u32) -> f64 {
    f64::from(ppi) / MM_PER_INCH
}

/// The picture of a sheet, with its words and marks.
fn png(picture: &Picture, page: &Page, ppi: u32) -> Result<Vec<u8>, PackError> {
    encode_png_at(&draw(picture, &page.marks, per_mm(ppi)), ppi)
        .map_err(|error: EncodeError| PackError::Writer { file: "sheets/*.png", reason: error.to_string() })
}

/// Where a painted print goes with its bleed, so that what is cut has its size to the micrometre.
fn frame(lie: &Lie, (placed, print): (&Placed, &Print), painted: &Painted) -> crate::packs::pdf::Frame {
    let cut = DVec2::new(f64::from(painted.cut.0), f64::from(painted.cut.1));
    let bleed = print.size / cut * f64::from(painted.bleed);
    let bleed = if placed.turned { DVec2::new(bleed.y, bleed.x) } else { bleed };
    let (at, size) = (lie.at - bleed, lie.size + 2.0 * bleed);
    crate::packs::pdf::Frame { x: at.x, y: at.y, width: size.x, height: size.y }
}

/// Draws everything that stands beside the prints of a sheet.
fn annotate(page: &mut Page, input: &KitchenInput, (number, sheet, hand): (usize, &PrintedSheet, Hand)) {
    let mut kept_clear = Vec::new();
    for placed in &sheet.placed {
        let Some(print) = input.sheets.prints.get(placed.print) else { continue };
        let lie = Lie::of(sheet, placed, hand);
        kept_clear.extend(label::set(page, (&lie, placed.label), (print, input.cake.design.unit)));
    }
    for placed in &sheet.placed {
        let Some(print) = input.sheets.prints.get(placed.print) else { continue };
        crop::set(page, sheet, (&Lie::of(sheet, placed, hand), print), &kept_clear);
    }
    if let Some(place) = sheet.legend {
        let words = [words::title(input), words::sheet_with_hint(input, (number, sheet), hand)];
        legend::set(page, &lie::legend(sheet, place, hand), &words);
    }
}
