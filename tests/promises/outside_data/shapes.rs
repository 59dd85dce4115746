//! Outlines of all eight shapes, their offsets, and their figures.

use serde_json::{Value, json};
use tierproof::art::Join;
use tierproof::shapes::{Outline, forms};

use super::{folder, ring, save};

/// Straight pieces of the rings that are written lie this near to the true curve, mm.
const FLAT: f64 = 1e-4;

fn figures(outline: &Outline) -> Value {
    json!({"perimeter": outline.perimeter(), "area": outline.area(), "ring": ring(&outline.flat(FLAT))})
}

#[test]
fn outlines() {
    let inch = 25.4;
    // Name, size as the outside builds the same pan from, the pan.
    let pans: Vec<(&str, Value, Outline)> = vec![
        ("round", json!({"across": 8.0 * inch}), forms::round(8.0 * inch)),
        (
            "square",
            json!({"width": 6.0 * inch, "depth": 6.0 * inch, "corner": 0.0}),
            forms::rectangle(152.4, 152.4, 0.0),
        ),
        ("soft square", json!({"width": 150.0, "depth": 150.0, "corner": 12.0}), forms::rectangle(150.0, 150.0, 12.0)),
        (
            "rectangle",
            json!({"width": 9.0 * inch, "depth": 13.0 * inch, "corner": 0.0}),
            forms::rectangle(228.6, 330.2, 0.0),
        ),
        ("hexagon", json!({"across": 9.0 * inch, "sides": 6}), forms::regular(6, 9.0 * inch, 0.0)),
        ("octagon", json!({"across": 10.0 * inch, "sides": 8}), forms::regular(8, 10.0 * inch, 0.0)),
        ("oval", json!({"width": 10.75 * inch, "depth": 7.875 * inch}), forms::oval(10.75 * inch, 7.875 * inch)),
        ("tall oval", json!({"width": 100.0, "depth": 200.0}), forms::oval(100.0, 200.0)),
        ("heart", json!({}), forms::heart(9.0 * inch)),
        ("petal", json!({}), forms::petal(6, 9.0 * inch)),
        ("eight petals", json!({}), forms::petal(8, 12.0 * inch)),
    ];
    let written: Vec<Value> = pans
        .iter()
        .map(|(name, size, pan)| {
            let offsets: Vec<Value> = [(Join::Mitre, "mitre"), (Join::Round, "round")]
                .into_iter()
                .flat_map(|(join, word)| [0.3, 3.175, 6.35, 25.4].map(|distance| (join, word, distance)))
                .map(|(join, word, distance)| {
                    json!({"join": word, "distance": distance, "outline": figures(&pan.offset(distance, join))})
                })
                .collect();
            json!({"name": name, "size": size, "pan": figures(pan), "offsets": offsets})
        })
        .collect();
    save(&folder("shapes"), "outlines.json", &Value::from(written));
}
