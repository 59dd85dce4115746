//! Art that can't be cut is told in one sentence with its file and what would fix it, in time, and never with a panic.

use std::fmt::Write;
use std::time::{Duration, Instant};

use tierproof::art::{Art, Picture, encode_png};

/// Longest that any piece of bad art may take to be refused, on a slow machine in a test build.
const PATIENCE: Duration = Duration::from_secs(20);

fn svg(body: &str) -> Vec<u8> {
    format!(r#"<svg xmlns="http://www.w3.org/2000/svg" width="100" height="80">{body}</svg>"#).into_bytes()
}

/// A hundred million squares, by groups that show one another ten times over.
fn bomb() -> String {
    (0..8).fold(r#"<rect id="g0" width="9" height="9"/>"#.to_owned(), |mut body, level| {
        let _ = write!(body, r##"<g id="g{}">{}</g>"##, level + 1, format!(r##"<use href="#g{level}"/>"##).repeat(10));
        body
    })
}

/// A path of twenty thousand strokes from anywhere to anywhere.
fn tangle() -> String {
    let corner = |n: u64| (n * 7919 % 9973 % 100, n * 104_729 % 7907 % 80);
    let path = (0..20_000).map(corner).fold("M0 0".to_owned(), |mut path, (x, y)| {
        let _ = write!(path, " {x} {y}");
        path
    });
    format!(r#"<path d="{path}"/>"#)
}

fn png(width: u32, height: u32, pixel: impl Fn(u32, u32) -> [u8; 4]) -> Vec<u8> {
    let rgba = (0..width * height).flat_map(|n| pixel(n % width, n / width)).collect();
    encode_png(&Picture { width, height, rgba }).expect("png")
}

/// Bad art, and words that its sentence must hold: what is wrong, and what would fix it.
fn cases() -> Vec<(Vec<u8>, &'static str, &'static str)> {
    let soft = r##"<mask id="m"><rect width="50" height="50" fill="#777"/></mask><rect width="50" height="50" mask="url(#m)"/>"##;
    let scatter = |n: u32| n.wrapping_mul(2_654_435_761).rotate_left(9).wrapping_mul(40_503) >> 13 & 255;
    let noise = |x: u32, y: u32| [0, 0, 0, if scatter(x + 1500 * y) & 1 == 0 { 0 } else { 255 }];
    let motley =
        |x: u32, y: u32| [scatter(x + 997 * y) as u8, scatter(7 + x * y) as u8, scatter(y + 331 * x) as u8, 255];
    let dots = |x: u32, y: u32| [0, 0, 0, if x % 8 < 4 && y % 8 < 4 { 255 } else { 0 }];
    vec![
        (Vec::new(), "empty", "copy it again"),
        (b"plain words".to_vec(), "not a picture", "PNG, JPEG or SVG"),
        (svg(""), "nothing in the drawing is filled or stroked", "fill its shapes"),
        (svg(r#"<path d="M10 10 50 50"/>"#), "nothing in the drawing is filled or stroked", "fill its shapes"),
        (svg(r#"<rect width="9" height="0"/>"#), "nothing in the drawing is filled or stroked", "fill its shapes"),
        (svg(r#"<rect width="9" height="9" transform="scale(0)"/>"#), "nothing in the drawing", "fill its shapes"),
        (svg(r#"<rect x="1e9" width="9" height="9"/>"#), "nothing in the drawing", "fill its shapes"),
        (svg("<g>"), "damaged", "save it again"),
        (svg(r#"<use href="other.svg#a"/>"#), "`other.svg#a`", "into the drawing itself"),
        (svg(r#"<image href="photo.png" width="9" height="9"/>"#), "`photo.png`", "into the drawing itself"),
        (svg(soft), "mask", "black and white"),
        (svg(&bomb()), "unfolds", "simplify"),
        (svg(&tangle()), "cross each other too often", "simplify"),
        (svg(&"<g>".repeat(100_000)), "damaged", "save it again"),
        (
            b"<svg xmlns='http://www.w3.org/2000/svg' width='1e9' height='1e9'/>".to_vec(),
            "units large",
            "save it again",
        ),
        (png(90, 60, |_, _| [0; 4]), "blank", "a figure in it"),
        (png(1, 1, |_, _| [0; 4]), "blank", "a figure in it"),
        (png(1, 1, |_, _| [9, 9, 9, 255]), "stands out", "plain border"),
        (png(90, 60, |_, _| [200, 200, 200, 255]), "stands out", "plain border"),
        (png(90, 60, |x, _| [200 + (x / 20) as u8, 200, 200, 255]), "stands out", "plain border"),
        (png(120, 90, motley), "many colours", "plain border"),
        (png(90, 60, |x, y| [0, 0, 0, if x + y == 0 { 255 } else { 0 }]), "a few pixels", "larger"),
        (png(1500, 1500, noise), "ragged", "specks"),
        (png(1200, 1200, dots), "separate pieces", "specks"),
    ]
}

#[test]
fn art_that_cannot_be_cut_says_what_and_how_to_mend_it() {
    let mut wrong = Vec::new();
    for (number, (bytes, what, mend)) in cases().into_iter().enumerate() {
        let start = Instant::now();
        let Err(error) = Art::read(&bytes, "art/bad.art").and_then(|art| art.outline()) else {
            wrong.push(format!("{number} ({what}): it was cut"));
            continue;
        };
        let told = error.to_string();
        let one_sentence = told.starts_with("art/bad.art: ") && !told.contains('\n') && told.len() < 300;
        if !(one_sentence && told.contains(what) && told.contains(mend)) {
            wrong.push(format!("{number}: no “{what}” and “{mend}” in: {told}"));
        }
        if start.elapsed() > PATIENCE {
            wrong.push(format!("{number} ({what}): took {:?}", start.elapsed()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
