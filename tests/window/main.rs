//! What needs the engine: marks at known places of the tape must appear where the camera says, and the proof pack is as promised.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that meets what it did not expect must stop"
)]

mod exposure;
mod marks;
mod packs;
mod photograph;

use glam::{DVec2, DVec3};
use photograph::{Scene, photograph};
use tierproof::art::Picture;
use tierproof::proof::view::Direction;
use tierproof::scene::Stage;

const VIEWS: [(&str, f64); 4] = [("front", 0.0), ("right", 90.0), ("back", 180.0), ("left", -90.0)];

/// Furthest that a mark may lie from its predicted place, px.
const TOLERANCE: f64 = 1.5;

#[test]
fn marks_on_the_tape_appear_where_the_camera_says() {
    for (shape, size) in [("round", "180"), ("square", "170"), ("oval", "[210, 150]")] {
        let scene = Scene::of(&format!(
            "[[tier]]\nname = \"base\"\nshape = \"{shape}\"\nsize = {size}\nheight = 110\npaste = 3\nedge = 3\n{WRAP}"
        ));
        let mut seen = 0;
        let directions = VIEWS.map(|(_, azimuth)| Direction::new(azimuth, 12.0));
        for (shot, (view, _)) in photograph(&scene, &directions).into_iter().zip(VIEWS) {
            for place in scene.tape_marks() {
                let to_eye = (shot.camera.eye - place.at).normalize();
                // Edge-on marks shrink to lines; a decorator would not look for them there either.
                if place.outward.dot(to_eye) < 0.5 {
                    continue;
                }
                let predicted = shot.camera.pixel(place.at).unwrap();
                let found = marks::middle(&shot.picture, predicted, 14.0)
                    .unwrap_or_else(|| panic!("{shape}, {view}: no mark at {predicted} for {:.1}", place.along));
                let off = found.distance(predicted);
                assert!(off <= TOLERANCE, "{shape}, {view}: {:.1} lies {off:.2} px from {predicted}", place.along);
                seen += 1;
            }
        }
        assert!(seen >= 14, "{shape}: only {seen} marks were seen");
    }
}

const WRAP: &str = "[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 90\nart = \"marks\"\nfit = \"cover\"\n\
                    [[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n";

#[test]
fn marks_on_a_topper_appear_upright_and_unmirrored() {
    let scene = Scene::of(
        "[[tier]]\nname = \"base\"\nshape = \"round\"\nsize = 180\nheight = 90\npaste = 3\n[[piece]]\nname = \"card\"\nkind = \"topper\"\n\
         seat = { on = \"base\", surface = \"top\" }\nat = { x = 12, z = -8 }\nturn = 20\nart = \"card\"\nwidth = 90\nthickness = 4\nprint = true\n\
         finish = \"white\"\npicks = { count = 1, diameter = 3, into_piece = 30, into_cake = 50 }\n",
    );
    for shot in photograph(&scene, &[Direction::new(20.0, 10.0), Direction::new(-10.0, 15.0)]) {
        // The card is 90 × 60 mm; its marks lie in its corners, three of four, so that a mirrored card is told.
        for (across, up) in [(-30.0, 45.0), (30.0, 45.0), (-30.0, 15.0)] {
            let turn = 20.0_f64.to_radians();
            // Its front stands half its thickness before its middle plane, which is at the piece's place.
            let front = scene.front_of("card · front");
            let local = DVec3::new(across, up, front);
            let at = DVec3::new(12.0, 90.0, -8.0)
                + DVec3::new(
                    local.x * turn.cos() + local.z * turn.sin(),
                    local.y,
                    local.z * turn.cos() - local.x * turn.sin(),
                );
            let predicted = shot.camera.pixel(at).unwrap();
            let found =
                marks::middle(&shot.picture, predicted, 14.0).unwrap_or_else(|| panic!("no mark at {predicted}"));
            assert!(found.distance(predicted) <= TOLERANCE, "{found} {predicted}");
        }
        let missing = DVec3::new(12.0, 90.0, -8.0) + DVec3::new(30.0, 15.0, 0.0);
        assert!(
            marks::middle(&shot.picture, shot.camera.pixel(missing).unwrap(), 10.0).is_none(),
            "the card is mirrored"
        );
    }
}

#[test]
fn a_plain_cake_is_as_wide_as_it_measures_and_as_coloured_as_its_paste() {
    let scene = Scene::of(
        "[[tier]]\nname = \"base\"\nshape = \"round\"\nsize = 200\nheight = 120\npaste = 4\nfinish = \"test\"\n[finish.test]\ncolor = \"#7fa06b\"\n",
    );
    let shot = photograph(&scene, &[Direction::new(0.0, 8.0)]).remove(0);
    let picture = &shot.picture;
    // The silhouette of an upright cylinder half-way up: the places where the sight line touches it.
    let outline: Vec<f64> = (0..3600)
        .map(|step| f64::from(step) / 3600.0 * std::f64::consts::TAU)
        .filter_map(|angle| shot.camera.pixel(DVec3::new(104.0 * angle.sin(), 60.0, 104.0 * angle.cos())))
        .map(|pixel| pixel.x)
        .collect();
    let (left, right) = outline.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, r), &x| (l.min(x), r.max(x)));
    let row = shot.camera.pixel(DVec3::new(0.0, 60.0, 0.0)).unwrap().y as u32;
    let green: Vec<u32> = (0..picture.width).filter(|&x| is_green(picture.pixel(x, row).unwrap())).collect();
    let (first, last) = (f64::from(*green.first().unwrap()), f64::from(*green.last().unwrap()) + 1.0);
    assert!((first - left).abs() <= TOLERANCE && (last - right).abs() <= TOLERANCE, "{first} {left}, {last} {right}");
    assert!(((last - first) - (right - left)).abs() <= 2.0);
    // Colour is a promise: facing the camera, the paste reads as its own colour.
    let middle = middle_colour(picture, DVec2::new((left + right) / 2.0, f64::from(row)));
    for (seen, meant) in middle.iter().zip([0x7f, 0xa0, 0x6b]) {
        assert!((i32::from(*seen) - meant).abs() <= 8, "{middle:?}");
    }
    corners_are_the_backdrop(picture);
}

fn is_green([red, green, blue, _]: [u8; 4]) -> bool {
    green > red.saturating_add(12) && green > blue.saturating_add(20)
}

/// The median colour of a patch.
fn middle_colour(picture: &Picture, at: DVec2) -> [u8; 3] {
    let mut channels: [Vec<u8>; 3] = Default::default();
    for y in at.y as u32 - 20..at.y as u32 + 20 {
        for x in at.x as u32 - 20..at.x as u32 + 20 {
            for (channel, value) in channels.iter_mut().zip(picture.pixel(x, y).unwrap()) {
                channel.push(value);
            }
        }
    }
    channels.map(|mut channel| {
        channel.sort_unstable();
        channel[channel.len() / 2]
    })
}

fn corners_are_the_backdrop(picture: &Picture) {
    let meant = Stage::BACKDROP;
    let (right, low) = (picture.width - 1, picture.height - 1);
    for (x, y) in [(0, 0), (right, 0), (0, low), (right, low)] {
        let [red, green, blue, alpha] = picture.pixel(x, y).unwrap();
        for (seen, meant) in [red, green, blue].into_iter().zip([meant.red, meant.green, meant.blue]) {
            assert!(seen.abs_diff(meant) <= 1, "{x}, {y}: {red} {green} {blue}");
        }
        assert_eq!(alpha, 255);
    }
}
