use std::sync::Arc;

use super::*;
use crate::art::{Art, Shelf, read_raster};
use crate::cake::{bodies, resolve};
use crate::checks;
use crate::design::read_design;
use crate::findings::{Code, Finding};
use crate::kitchen::patterns;
use crate::proof::gather::{WorkedOut, gather};
use crate::proof::tape::{TapeInput, tape};
use crate::{sheets, wraps};

/// A design in mm whose art `a.svg` is 40 × 20 and blue, with what else the test writes.
fn made(more: &str) -> (Vec<PackFile>, Facts, Vec<Finding>) {
    let text = format!(
        "title = \"t\"\nunit = \"mm\"\n[sheet.small]\nsize = [120, 160]\nprintable = [110, 150]\nppi = 100\n[[tier]]\nname = \"base\"\n\
         size = 100\nheight = 90\n{more}"
    );
    let design = Arc::new(read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}")));
    let svg = r##"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><path d="M0 0H40V20H0Z" fill="#123456"/></svg>"##;
    let mut shelf = Shelf::default();
    shelf.insert("a.svg", Arc::new(Art::read(svg.as_bytes(), "a.svg").unwrap()));
    let cake = resolve(&design, &Arc::new(shelf)).unwrap();
    let (plans, mut found) = wraps::plan(&cake);
    let (sheets, laid) = sheets::lay_out(&cake, &plans);
    found.extend(laid);
    let findings = checks::all(&cake, found);
    let facts = gather(&cake, WorkedOut { plans: &plans, ends: &[], sheets: &sheets, findings: &findings }, "3fa9c1d0");
    let (patterns, left_out) = patterns(&cake, &plans).unwrap();
    let bodies = bodies(&cake).unwrap();
    let onlookers = wraps::Onlookers::new(&cake);
    let tapes = tape(
        &TapeInput {
            cake: &cake,
            plans: &plans,
            ends: &wraps::ends(&cake, &onlookers),
            bodies: &bodies,
            onlookers: &onlookers,
            revision: "3fa9c1d0",
        },
        &[0],
    );
    let input = KitchenInput {
        facts: &facts,
        cake: &cake,
        plans: &plans,
        sheets: &sheets,
        patterns: (&patterns, left_out),
        tapes: &[tapes],
    };
    let make = || {
        let mut files: Vec<PackFile> = Vec::new();
        let mut keep = |name: String, bytes: Vec<u8>| {
            files.push((name, bytes));
            Ok(())
        };
        kitchen_pack(&input, &mut keep, &mut |done, of| assert!(done < of)).unwrap();
        files
    };
    let files = make();
    assert_eq!(files, make(), "the same cake gives the same bytes");
    (files, facts, findings)
}

const WRAP: &str = "[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 60\nart = \"a.svg\"\nfit = \"cover\"\nsheet = \"small\"\n\
                    [[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n";

fn topper(height: u32) -> String {
    format!(
        "[[piece]]\nname = \"flag\"\nkind = \"topper\"\nseat = {{ on = \"base\", surface = \"top\" }}\nart = \"a.svg\"\nheight = {height}\n\
         print = true\npicks = {{ count = 1, diameter = 3, into_piece = 10, into_cake = 30 }}\n"
    )
}

#[test]
fn nothing_printed_makes_no_sheets() {
    let (files, facts, _) = made("");
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    // Nothing is cut or covered either, and no hand-over is set.
    assert_eq!(names, ["make-list.pdf", "make-list.csv", "placing.pdf", "measurements.json"]);
    assert!(facts.sheets.is_empty());
}

#[test]
fn a_picture_of_a_sheet_shows_every_print_where_the_facts_say() {
    let (files, facts, _) = made(&format!("{WRAP}{}", topper(25)));
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    let pictures: Vec<String> =
        (1..=facts.sheets.len()).map(|number| format!("sheets/sheet-{number:02}.png")).collect();
    assert_eq!(names[..pictures.len()], pictures);
    assert_eq!(names[pictures.len()..][..2], ["sheets.pdf", "sheets-mirrored.pdf"]);
    assert_eq!(names.iter().filter(|name| name.starts_with("sheets")).count(), 2 + facts.sheets.len());
    let strips = &facts.wraps[0].strips;
    assert!(strips.iter().all(|strip| strip.sheet.is_some()) && facts.pieces[0].prints[0].sheet.is_some());
    for sheet in &facts.sheets {
        let (_, png) = files.iter().find(|(name, _)| *name == format!("sheets/sheet-{:02}.png", sheet.sheet)).unwrap();
        let picture = read_raster(png, "sheet").unwrap();
        // 120 and 160 mm at 100 pixels to the inch.
        assert_eq!((picture.width, picture.height), (472, 630));
        for placed in &sheet.placed {
            let at = |x: f64, y: f64| picture.pixel((x / 25.4 * 100.0) as u32, (y / 25.4 * 100.0) as u32);
            let (right, foot) = (placed.x + placed.width, placed.y + placed.height);
            for (x, y) in [(placed.x + 0.3, placed.y + 0.3), (right - 0.3, foot - 0.3)] {
                assert_eq!(at(x, y), Some([0x12, 0x34, 0x56, 255]), "{}", placed.what);
            }
            // The topper's colour runs on by 2 mm, a strip's not at all.
            let bleeds = placed.what == "flag · front";
            assert_eq!(at(placed.x + placed.width / 2.0, placed.y - 0.6) == Some([0x12, 0x34, 0x56, 255]), bleeds);
        }
    }
}

#[test]
fn what_is_larger_than_its_sheet_is_told_and_the_rest_is_printed() {
    let (files, facts, findings) = made(&format!("{WRAP}{}", topper(120)));
    let found = findings.iter().find(|finding| finding.code == Code::PrintLargerThanSheet).unwrap();
    // 240 mm and 2 mm of bleed at both ends on 150.
    assert!(found.by.is_some_and(|by| (by.as_mm() - 94.0).abs() < 0.5), "{found:?}");
    assert!(found.place.to_string().contains("flag") && found.sentence.contains("small"), "{found:?}");
    assert_eq!(facts.pieces[0].prints[0].sheet, None);
    assert!(files.iter().any(|(name, _)| name == "sheets.pdf"));
}

#[test]
fn more_sheets_than_anyone_prints_are_told_and_left_out() {
    let small = "[kitchen]\nsheet = \"small\"\n";
    let pieces: String = (0..45).map(|number| topper(70).replace("flag", &format!("flag {number}"))).collect();
    let (files, facts, findings) = made(&format!("{small}{pieces}"));
    let found = findings.iter().find(|finding| finding.code == Code::TooManySheets).unwrap();
    assert!(found.sentence.contains("45 sheets"), "{found:?}");
    assert_eq!(facts.sheets.len(), 40);
    assert_eq!(files.iter().filter(|(name, _)| name.ends_with(".png")).count(), 40);
}

#[test]
fn strips_too_long_for_their_sheet_are_told_once() {
    let slip = "[sheet.slip]\nsize = [100, 6]\nprintable = [90, 4]\nppi = 72\n";
    let wrap = WRAP.replace("height = 60", "height = 88").replace("sheet = \"small\"", "sheet = \"slip\"");
    let (_, _, findings) = made(&format!("{slip}{wrap}"));
    assert!(findings.iter().filter(|finding| finding.code == Code::PrintLargerThanSheet).count() <= 1, "{findings:?}");
}
