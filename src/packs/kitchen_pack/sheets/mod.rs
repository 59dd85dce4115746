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
use crate::packs::pdf::{Booklet, Bookmark, Mark, Page, Print as Image, draw, write};
use crate::packs::{PackError, PackFile};
use crate::sheets::{Painted, Placed, Print, PrintedSheet, paint};
pub(super) use legend::set as set_legend;
pub(super) use lie::{Hand, Lie};
pub(super) use words::title as sheet_title;

/// All files; none where nothing is printed.
pub(super) fn files(input: &KitchenInput, tell: &mut dyn FnMut(u64, u64)) -> Result<Vec<PackFile>, PackError> {
    if input.sheets.sheets.is_empty() {
        return Ok(Vec::new());
    }
    let (mut plain, mut mirrored) = (book(input, Hand::Right), book(input, Hand::Mirrored));
    let mut pictures = Vec::new();
    for (number, sheet) in input.sheets.sheets.iter().enumerate() {
        tell(number as u64, input.sheets.sheets.len() as u64);
        let made = Made::of(input, (number, sheet))?;
        plain.pages.push(made.plain);
        mirrored.pages.push(made.mirrored);
        pictures.push((picture_name(number), made.png));
    }
    for (book, hand) in [(&mut plain, Hand::Right), (&mut mirrored, Hand::Mirrored)] {
        check::set(book, input, hand);
    }
    let mut files = vec![("sheets.pdf".to_owned(), write(&plain)?)];
    drop(plain);
    files.push(("sheets-mirrored.pdf".to_owned(), write(&mirrored)?));
    files.extend(pictures);
    Ok(files)
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

/// One sheet, made: its pages and its picture. Only one sheet's pixels are held at a time.
struct Made {
    plain: Page,
    mirrored: Page,
    png: Vec<u8>,
}

impl Made {
    fn of(input: &KitchenInput, (number, sheet): (usize, &PrintedSheet)) -> Result<Self, PackError> {
        let ppi = sheet.sheet.ppi;
        let per_mm = f64::from(ppi) / MM_PER_INCH;
        let [width, height] = (sheet.size() * per_mm).round().to_array().map(|side| side.max(1.0) as u32);
        let mut picture = Picture::filled(width, height, [255; 4]);
        let mut pages = [Hand::Right, Hand::Mirrored].map(|hand| (Page::new(sheet.size().to_array()), hand));
        for placed in &sheet.placed {
            let Some(print) = input.sheets.prints.get(placed.print) else { continue };
            let painted = paint(input.cake, input.plans, (print, ppi));
            let lying = if placed.turned { painted.picture.turned() } else { painted.picture.clone() };
            let corner = ((placed.at * per_mm).round() - f64::from(painted.bleed)).max(DVec2::ZERO);
            picture.lay(&lying, (corner.x as u32, corner.y as u32));
            for (page, hand) in &mut pages {
                let image =
                    if *hand == Hand::Mirrored { Image::lossless(&lying.mirrored()) } else { Image::lossless(&lying) };
                page.marks
                    .push(Mark::Picture(frame(&Lie::of(sheet, placed, *hand), (placed, print), &painted), image?));
            }
        }
        for (page, hand) in &mut pages {
            annotate(page, input, (number, sheet, *hand));
        }
        let [(plain, _), (mirrored, _)] = pages;
        let png = encode_png_at(&draw(&picture, &plain.marks, per_mm), ppi)
            .map_err(|error: EncodeError| PackError::Writer { file: "sheets/*.png", reason: error.to_string() })?;
        Ok(Self { plain, mirrored, png })
    }
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
