use std::sync::Arc;

use glam::DVec2;

use super::card::CUT_LINE;
use super::*;
use crate::art::{Art, Shelf};
use crate::cake::{Cake, resolve};
use crate::design::read_design;
use crate::kitchen::patterns;
use crate::packs::pdf::{Booklet, Mark, Page, paper_size};
use crate::proof::facts::Facts;
use crate::proof::gather::{WorkedOut, gather};
use crate::sheets::SheetPlan;
use crate::wraps::{self, WrapPlan};

/// A cake of 200 mm with a band and what else the test writes.
fn cake(more: &str) -> (Cake, Vec<WrapPlan>, Facts) {
    let text = format!(
        "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\npaste = 3\n[[tier.course]]\nname = \"rim\"\n\
         kind = \"band\"\nheight = \"fill\"\nsize = 3\nfinish = \"white\"\n{more}"
    );
    let svg = r##"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><path fill-rule="evenodd" d="M0 0H40V20H0Z M5 5H15V15H5Z" fill="#123456"/></svg>"##;
    let mut shelf = Shelf::default();
    shelf.insert("a.svg", Arc::new(Art::read(svg.as_bytes(), "a.svg").unwrap()));
    let design = Arc::new(read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}")));
    let cake = resolve(&design, &Arc::new(shelf)).unwrap();
    let (plans, _) = wraps::plan(&cake);
    let sheets = SheetPlan::default();
    let facts = gather(&cake, WorkedOut { plans: &plans, ends: &[], sheets: &sheets, findings: &[] }, "3fa9c1d0");
    (cake, plans, facts)
}

fn topper(height: u32) -> String {
    format!(
        "[[piece]]\nname = \"=flag <1>\"\nkind = \"topper\"\nseat = {{ on = \"base\", surface = \"top\" }}\nart = \"a.svg\"\nheight = {height}\n\
         finish = \"white\"\nbacking = {{ border = 5, thickness = 5, finish = \"white\" }}\n\
         picks = {{ count = 1, diameter = 3, into_piece = 10, into_cake = 30 }}\n"
    )
}

/// The pages and the SVGs of a design.
fn made(more: &str) -> (Booklet, Vec<PackFile>) {
    let (cake, plans, facts) = cake(more);
    let (patterns, left_out) = patterns(&cake, &plans).unwrap();
    let sheets = SheetPlan::default();
    let input = KitchenInput {
        facts: &facts,
        cake: &cake,
        plans: &plans,
        sheets: &sheets,
        patterns: (&patterns, left_out),
        tapes: &[],
    };
    let mut pages = Pages::new(&input);
    lay(&mut pages, &input);
    (pages.finish(&input).unwrap(), drawing::files(&input))
}

/// Least and greatest corner of each closed line drawn with the pen that is cut along.
fn cut_lines(page: &Page) -> Vec<(DVec2, DVec2)> {
    let closed = page.marks.iter().filter_map(|mark| match mark {
        Mark::Line(trace, pen) if trace.closed && pen.width == CUT_LINE => Some(&trace.points),
        _ => None,
    });
    closed
        .map(|points| points.iter().fold((DVec2::MAX, DVec2::MIN), |(low, high), at| (low.min(*at), high.max(*at))))
        .collect()
}

#[test]
fn a_topper_lies_there_in_its_size_with_its_backing_and_its_mirror() {
    let (booklet, _) = made(&topper(50));
    let sizes: Vec<DVec2> = booklet.pages.iter().flat_map(cut_lines).map(|(low, high)| high - low).collect();
    let count = |wide: f64, tall: f64| {
        let same = |size: &&DVec2| {
            size.distance(DVec2::new(wide, tall)) < 0.02 || size.distance(DVec2::new(tall, wide)) < 0.02
        };
        sizes.iter().filter(same).count()
    };
    // Front and its mirror 100 × 50, each with its hole of 25 × 25, the backing 5 mm larger all round with one of 15 × 15.
    assert_eq!(
        [count(100.0, 50.0), count(25.0, 25.0), count(110.0, 60.0), count(15.0, 15.0)],
        [2, 2, 1, 1],
        "{sizes:?}"
    );
}

#[test]
fn everything_lies_within_the_margins_of_a_printer() {
    let (booklet, _) = made(&topper(90));
    let [width, height] = paper_size(crate::design::model::Paper::A4);
    for page in &booklet.pages {
        for mark in &page.marks {
            let points: Vec<DVec2> = match mark {
                Mark::Line(trace, _) => trace.points.clone(),
                Mark::Text(at, words, _) => vec![*at, *at + DVec2::X * words.width],
                _ => Vec::new(),
            };
            for at in points {
                assert!(
                    at.cmpge(DVec2::splat(9.9)).all() && at.x <= width - 9.9 && at.y <= height - 9.9,
                    "{at} {mark:?}"
                );
            }
        }
    }
}

#[test]
fn a_band_longer_than_a_page_becomes_a_ruled_strip_and_says_how_often_it_is_laid() {
    let (booklet, files) = made("");
    let strips: Vec<DVec2> = booklet.pages.iter().flat_map(cut_lines).map(|(low, high)| high - low).collect();
    // π(206 + 3) = 656.6 mm in strips of 240 mm, as many whole 20 mm as fit on A4, and 100 mm wide.
    assert!(strips.iter().any(|size| size.distance(DVec2::new(100.0, 240.0)) < 1e-6), "{strips:?}");
    let told: String = booklet
        .pages
        .iter()
        .flat_map(|page| &page.marks)
        .filter_map(|mark| match mark {
            Mark::Text(_, words, _) | Mark::Sideways(_, words, ..) => Some(words.text.clone() + " "),
            _ => None,
        })
        .collect();
    assert!(
        told.contains("656.6 mm long in all") && told.contains("2 times") && told.contains("176.6 mm up to the mark"),
        "{told}"
    );
    // A machine's drawing has no page to fit on.
    let svg = String::from_utf8(files[0].1.clone()).unwrap();
    assert!(files[0].0 == "templates/01-base-rim.svg" && svg.contains("width=\"666.593mm\""), "{svg}");
}

#[test]
fn a_figure_larger_than_a_page_is_spread() {
    let (booklet, _) = made(&topper(180));
    let pages = booklet.bookmarks.iter().filter(|mark| mark.title.contains("page ")).count();
    // Front, mirror and backing, each over more than one.
    assert!(pages >= 6, "{:?}", booklet.bookmarks);
    assert_eq!(booklet.pages.len(), booklet.bookmarks.len());
}

#[test]
fn a_machines_drawing_has_a_group_a_cut_and_only_closed_paths() {
    let (_, files) = made(&topper(50));
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["templates/01-flag-1.svg", "templates/02-base-rim.svg"]);
    let svg = String::from_utf8(files[0].1.clone()).unwrap();
    assert!(
        svg.contains("<g id=\"front\">") && svg.contains("<g id=\"backing\">") && svg.contains("&lt;1&gt;"),
        "{svg}"
    );
    // 5 + 100 + 5 + 110 + 5 wide, 5 + 60 + 5 high.
    assert!(svg.contains("width=\"225mm\" height=\"70mm\" viewBox=\"0 0 225 70\""), "{svg}");
    for path in svg.split("d=\"").skip(1) {
        let path = path.split('"').next().unwrap();
        assert_eq!(path.matches('M').count(), path.matches('Z').count());
    }
}
