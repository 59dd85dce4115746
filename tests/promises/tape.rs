//! The sides unrolled: true to scale, everything on the page, no label over another.

use std::path::Path;
use std::sync::Arc;

use glam::DVec2;
use tierproof::art::{Art, Shelf};
use tierproof::cake::{Cake, bodies, resolve};
use tierproof::design::read_design;
use tierproof::proof::chart::{Chart, Mark};
use tierproof::proof::marks::{seam_marks, size_marks};
use tierproof::proof::overlay::{Ground, label_boxes};
use tierproof::proof::sight::Sight;
use tierproof::proof::tape::{TapeInput, tape};
use tierproof::proof::view::{Camera, Direction};
use tierproof::wraps::{Onlookers, ends, plan};

/// A round cake 200 mm across, a print of 90 mm round it, a plate at 100 mm to the right and 30 mm up.
const ROUND: &str = r#"
    title = "Round"
    unit = "mm"
    tier = [{ name = "base", size = 200, height = 100, course = [
        { name = "a very long name for a course of a cake, longer than its column", kind = "wrap", height = 90, art = "a.svg", sheet = "a4" },
        { name = "rope", kind = "rope", size = 8, seam = 30 },
    ] }]
    piece = [
        { name = "plate", kind = "plaque", seat = { on = "base", surface = "side" }, at = { along = 100, up = 30 }, size = [40, 20], thickness = 3 },
        { name = "plate over the back", kind = "plaque", seat = { on = "base", surface = "side" }, at = { along = 310, up = 60 }, size = [40, 20], thickness = 3 },
    ]
"#;

fn drawn(cake: &Cake) -> Chart {
    let (plans, _) = plan(cake);
    let bodies = bodies(cake).expect("bodies");
    let onlookers = Onlookers::new(cake);
    let ends = ends(cake, &onlookers);
    let (plans, ends) = (&plans, &ends);
    let input = TapeInput { cake, plans, ends, bodies: &bodies, onlookers: &onlookers, revision: "0123abcd" };
    tape(&input, &(0..cake.tiers.len()).collect::<Vec<_>>())
}

fn round() -> Cake {
    let design = read_design(ROUND, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
    resolve(&Arc::new(design), &Arc::new(Shelf::default())).expect("a cake")
}

fn demo(path: &Path) -> Cake {
    let text = std::fs::read_to_string(path.join("cake.toml")).expect("text");
    let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
    let mut shelf = Shelf::default();
    for name in design.art_paths() {
        let art = Art::read(&std::fs::read(path.join(name)).expect("art"), name).expect("art");
        shelf.insert(name, Arc::new(art));
    }
    resolve(&Arc::new(design), &Arc::new(shelf)).expect("a cake")
}

/// The designs that come with the program.
pub(crate) fn designs() -> Vec<(String, Cake)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders =
        ["assets-demo", "assets/starters"].iter().flat_map(|shelf| std::fs::read_dir(root.join(shelf)).expect("shelf"));
    let folders = folders.map(|entry| entry.expect("entry").path()).filter(|path| path.join("cake.toml").exists());
    let mut found: Vec<_> = folders.map(|path| (path.display().to_string(), demo(&path))).collect();
    found.push(("round".to_owned(), round()));
    found
}

/// Every label: its text, and its box from the baseline to a capital's height.
fn labels(chart: &Chart) -> Vec<(&str, DVec2, DVec2)> {
    fn label(mark: &Mark) -> Option<(&str, DVec2, DVec2)> {
        let Mark::Text(text) = mark else { return None };
        let high = text.hand.size * 0.73;
        Some((text.text.as_str(), text.at - DVec2::Y * high, text.at + DVec2::X * text.width))
    }
    chart.marks.iter().filter_map(label).collect()
}

#[test]
fn no_label_lies_over_another_or_off_the_page() {
    for (name, cake) in designs() {
        let chart = drawn(&cake);
        let labels = labels(&chart);
        assert!(labels.len() > 20, "{name}");
        for (number, &(text, low, high)) in labels.iter().enumerate() {
            assert!(low.min_element() >= 0.0 && high.cmple(chart.size).all(), "{name}: '{text}' is off the page");
            for &(other, from, to) in &labels[..number] {
                let over = low.cmplt(to - 0.01).all() && from.cmplt(high - 0.01).all();
                assert!(!over, "{name}: '{text}' over '{other}'");
            }
        }
    }
}

#[test]
fn a_piece_is_drawn_where_the_tape_reads_it_and_as_large_as_it_is() {
    let chart = drawn(&round());
    // The ruler tells the scale: front centre, and 100 mm either side of it.
    let middle = |label: &(&str, DVec2, DVec2)| (label.1.x + label.2.x) / 2.0;
    let labels = labels(&chart);
    let front = labels.iter().find(|label| label.0 == "front centre").expect("front centre");
    let (axis, row) = (middle(front), front.2.y);
    let on_ruler = |label: &&(&str, DVec2, DVec2)| label.0 == "100" && label.2.y < row && label.2.y > row - 8.0;
    let numbers: Vec<f64> = labels.iter().filter(on_ruler).map(middle).collect();
    let scale = (numbers.iter().copied().fold(0.0, f64::max) - axis) / 100.0;
    assert!(
        numbers.iter().any(|&x| (x - axis + 100.0 * scale).abs() < 1e-6) && scale > 0.2 && scale < 1.0,
        "{numbers:?}"
    );
    let rings: Vec<&Vec<DVec2>> = chart
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Area { rings, opacity, .. } if *opacity == 0.85 => Some(rings),
            _ => None,
        })
        .flatten()
        .collect();
    let bounds = |ring: &[DVec2]| {
        ring.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), &at| (low.min(at), high.max(at)))
    };
    let plate = rings
        .iter()
        .map(|ring| bounds(ring))
        .find(|(low, high)| ((low.x + high.x) / 2.0 - axis - 100.0 * scale).abs() < 0.2);
    let (low, high) = plate.expect("the plate on its place");
    // It stands on a print 0.3 mm thick and is as long as it was cut in its middle: on the tape, further in, it takes less.
    assert!(
        ((high.x - low.x) / scale - 40.0 * 100.0 / 101.8).abs() < 0.1 && ((high.y - low.y) / scale - 20.0).abs() < 0.1,
        "{low} {high}"
    );
    // The one over the back comes in at both ends of the tape.
    let half = std::f64::consts::PI * 100.0 * scale;
    let ends = rings
        .iter()
        .map(|ring| bounds(ring))
        .filter(|(low, high)| (low.x - axis + half).abs() < 1e-3 || (high.x - axis - half).abs() < 1e-3);
    assert_eq!(ends.count(), 2);
}

#[test]
fn a_chart_of_any_subset_of_tiers_is_drawn() {
    let cake = round();
    let (plans, bodies) = (plan(&cake).0, bodies(&cake).expect("bodies"));
    let onlookers = Onlookers::new(&cake);
    let input =
        TapeInput { cake: &cake, plans: &plans, ends: &[], bodies: &bodies, onlookers: &onlookers, revision: "" };
    assert!(tape(&input, &[]).size.y < tape(&input, &[0]).size.y);
    assert_eq!(tape(&input, &[0]), tape(&input, &[0, 7]));
}

#[test]
fn a_still_tells_of_each_seam_how_well_it_is_hidden() {
    let cake = round();
    let (plans, bodies) = (plan(&cake).0, bodies(&cake).expect("bodies"));
    let corners: Vec<_> =
        bodies.iter().flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at))).collect();
    let camera = Camera::framing(Direction::new(0.0, 8.0), &corners, (400, 300), 0.1);
    let marks = seam_marks(&cake, (&plans, &ends(&cake, &Onlookers::new(&cake))), &Sight::new(&bodies, &camera));
    let labels: Vec<&str> = marks.iter().map(|mark| mark.label.as_str()).collect();
    assert!(labels.contains(&"rope ends · 30 mm right, in sight"), "{labels:?}");
    assert!(
        labels.iter().any(|label| label.ends_with("at the back") || label.ends_with("seen from the side")),
        "{labels:?}"
    );
}

/// Labels of seams and sizes over stills of every demo, from its sides: apart from each other, in the picture, off the pieces.
#[test]
fn labels_on_a_still_cover_neither_each_other_nor_a_piece() {
    for (name, cake) in designs().into_iter().filter(|(name, _)| !name.contains("starters")) {
        let (plans, bodies) = (plan(&cake).0, bodies(&cake).expect("bodies"));
        let ends = ends(&cake, &Onlookers::new(&cake));
        let place = |body: &tierproof::cake::Body| {
            body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at)).collect::<Vec<_>>()
        };
        let corners: Vec<_> = bodies.iter().flat_map(place).collect();
        let pieces: Vec<_> = bodies
            .iter()
            .filter(|body| matches!(body.owner, tierproof::cake::Owner::Piece(_)))
            .flat_map(place)
            .collect();
        for azimuth in [0.0, 90.0, 180.0] {
            let camera = Camera::framing(Direction::new(azimuth, 12.0), &corners, (1600, 1200), 0.17);
            let sight = Sight::new(&bodies, &camera);
            let mut marks = seam_marks(&cake, (&plans, &ends), &sight);
            marks.extend(size_marks(&cake, &camera));
            let boxes = label_boxes(&camera, &Ground { cake: &corners, sight: &sight }, &marks);
            assert!(boxes.len() > 1, "{name} {azimuth}");
            let seen = pieces.iter().filter(|at| sight.sees(**at)).filter_map(|&at| camera.pixel(at));
            let seen: Vec<DVec2> = seen.collect();
            for (number, &[low, high]) in boxes.iter().enumerate() {
                assert!(low.min_element() >= 0.0 && high.cmple(DVec2::new(1600.0, 1200.0)).all(), "{name} {azimuth}");
                for [from, to] in &boxes[..number] {
                    assert!(!(low.cmplt(*to).all() && from.cmplt(high).all()), "{name} {azimuth}: labels {number}");
                }
                // Two pixels are what the sight's own picture leaves in doubt.
                let covered = seen.iter().filter(|at| at.cmpgt(low + 2.0).all() && at.cmplt(high - 2.0).all()).count();
                assert_eq!(covered, 0, "{name} {azimuth}: label {number} of {marks:?}");
            }
        }
    }
}
