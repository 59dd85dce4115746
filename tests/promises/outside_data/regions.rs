//! Figures cut from art: outlines of drawings, their offsets, and a disc traced from a picture.

use std::fs;

use glam::DVec2;
use serde_json::{Value, json};
use tierproof::art::{Art, Join, Picture, Region, encode_png};

use super::{designs, folder, ring, save};

fn figures(region: &Region) -> Value {
    json!({
        "area": region.area(),
        "perimeter": region.perimeter(),
        "centroid": region.centroid().map(|at| [at.x, at.y]),
        "rings": region.rings.iter().map(|points| ring(points)).collect::<Value>(),
    })
}

/// Every drawing of every design, scaled to 100 mm high.
fn drawings() -> Vec<(String, Region)> {
    let mut found = Vec::new();
    for (design, path) in designs() {
        let Ok(entries) = fs::read_dir(path.join("art")) else { continue };
        let mut files: Vec<_> = entries.map(|entry| entry.expect("entry").path()).collect();
        files.sort();
        for file in files.iter().filter(|file| file.extension().is_some_and(|ending| ending == "svg")) {
            let name = format!("{design}/{}", file.file_name().expect("name").to_string_lossy());
            let art = Art::read(&fs::read(file).expect("bytes"), &name).expect("a drawing");
            let outline = art.outline().expect("an outline");
            found.push((name, outline.scaled(100.0 / art.size().1)));
        }
    }
    found
}

#[test]
fn outlines_of_art() {
    let written: Vec<Value> = drawings()
        .iter()
        .map(|(name, region)| {
            let offsets: Vec<Value> = [(Join::Round, "round", 4.76), (Join::Round, "round", -0.5), (Join::Mitre, "mitre", 2.0)]
                .into_iter()
                .map(|(join, word, distance)| {
                    json!({"join": word, "distance": distance, "region": figures(&region.offset(distance, join))})
                })
                .collect();
            json!({"name": name, "region": figures(region), "offsets": offsets})
        })
        .collect();
    save(&folder("regions"), "art.json", &Value::from(written));
}

/// A disc as a camera or a drawing program would give it: each pixel has the share of it that the disc covers.
fn disc(size: u32, centre: DVec2, radius: f64) -> Picture {
    const FINE: u32 = 16;
    let mut picture = Picture::filled(size, size, [30, 60, 90, 0]);
    for (index, pixel) in picture.rgba.chunks_exact_mut(4).enumerate() {
        let (x, y) = (index as u32 % size, index as u32 / size);
        let near = (DVec2::new(f64::from(x) + 0.5, f64::from(y) + 0.5).distance(centre) - radius).abs() < 2.0;
        let inside = |x: f64, y: f64| DVec2::new(x, y).distance(centre) <= radius;
        let covered = if near {
            let part = |n: u32| (f64::from(n) + 0.5) / f64::from(FINE);
            let points = (0..FINE).flat_map(|row| (0..FINE).map(move |column| (column, row)));
            points.filter(|&(column, row)| inside(f64::from(x) + part(column), f64::from(y) + part(row))).count()
        } else if inside(f64::from(x) + 0.5, f64::from(y) + 0.5) {
            (FINE * FINE) as usize
        } else {
            0
        };
        pixel[3] = (covered as f64 * 255.0 / f64::from(FINE * FINE)).round() as u8;
    }
    picture
}

#[test]
fn traced_discs() {
    let discs = [
        (200, DVec2::new(99.3, 101.8), 80.0),
        (400, DVec2::new(200.0, 200.0), 150.25),
        (1000, DVec2::new(512.4, 488.1), 431.7),
    ];
    let written: Vec<Value> = discs
        .into_iter()
        .map(|(size, centre, radius)| {
            let png = encode_png(&disc(size, centre, radius)).expect("png");
            let traced = Art::read(&png, "disc.png").expect("picture").outline().expect("outline");
            // Pictures count rows from the top, regions up.
            json!({
                "radius": radius,
                "centre": [centre.x, f64::from(size) - centre.y],
                "region": figures(&traced),
            })
        })
        .collect();
    save(&folder("discs"), "discs.json", &Value::from(written));
}
