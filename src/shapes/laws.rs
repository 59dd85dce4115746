//! The laws that every outline keeps, called for all eight shapes.

use std::f64::consts::{PI, TAU};

use glam::{DVec2, DVec3};

use super::build::laws::keep;
use super::{Outline, block, carry, forms, strip_section};
use crate::art::Join;

fn all() -> Vec<(&'static str, Outline, bool)> {
    vec![
        ("round", forms::round(180.0), true),
        ("square", forms::rectangle(180.0, 180.0, 0.0), true),
        ("square with round corners", forms::rectangle(180.0, 180.0, 12.0), true),
        ("rectangle", forms::rectangle(330.2, 228.6, 5.0), true),
        ("hexagon", forms::regular(6, 200.0, 0.0), true),
        ("octagon", forms::regular(8, 200.0, 6.0), true),
        ("oval", forms::oval(240.0, 170.0), true),
        ("heart", forms::heart(220.0), false),
        ("petal", forms::petal(6, 230.0), false),
    ]
}

#[test]
fn readings_and_places_are_inverse() {
    for (name, outline, _) in all() {
        for step in -50..=50 {
            let along = outline.reading(outline.perimeter() * f64::from(step) / 101.0);
            let found = outline.nearest(outline.at(along).point);
            assert!((found - along).abs() < 1e-6, "{name}: {along} came back as {found}");
        }
    }
}

#[test]
fn the_tape_starts_in_front_and_runs_to_the_right() {
    for (name, outline, _) in all() {
        let front = outline.at(0.0);
        assert!(front.point.x.abs() < 1e-9 && front.point.y > 0.0, "{name}");
        assert!(outline.at(1.0).point.x > 0.0 && outline.at(-1.0).point.x < 0.0, "{name}");
        assert!(outline.at(outline.perimeter() / 2.0).point.y < 0.0, "{name}");
    }
}

#[test]
fn perimeter_and_area_equal_the_integrals_over_a_fine_polygon() {
    for (name, outline, _) in all() {
        let places = outline.flat(1e-5);
        let pairs = || places.iter().zip(places.iter().cycle().skip(1));
        let around: f64 = pairs().map(|(a, b)| a.distance(*b)).sum();
        let area: f64 = pairs().map(|(a, b)| -a.perp_dot(*b) / 2.0).sum();
        assert!((around / outline.perimeter() - 1.0).abs() < 1e-6, "{name}: {around} {}", outline.perimeter());
        assert!((area / outline.area() - 1.0).abs() < 1e-6, "{name}: {area} {}", outline.area());
    }
}

#[test]
fn round_offsets_obey_steiner() {
    // Steiner's formulas for a convex outline moved out by t: L + 2πt and A + L·t + πt².
    for (name, outline, convex) in all().into_iter().filter(|shape| shape.2) {
        assert!(convex);
        for distance in [0.4, 3.175, 25.0] {
            let moved = outline.offset(distance, Join::Round);
            let around = outline.perimeter() + TAU * distance;
            let area = outline.area() + outline.perimeter() * distance + PI * distance * distance;
            assert!((moved.perimeter() - around).abs() < 1e-6, "{name}");
            assert!((moved.area() - area).abs() < 1e-4, "{name}");
            let whole = (-outline.perimeter() / 2.0, outline.perimeter() / 2.0);
            assert!((outline.run(whole, distance) - around).abs() < 1e-6, "{name}");
        }
    }
}

#[test]
fn a_line_outside_a_cleft_is_as_long_as_the_offset_outline() {
    for (name, outline, _) in all().into_iter().filter(|shape| !shape.2) {
        let moved = outline.offset(2.0, Join::Round);
        let whole = (0.0, outline.perimeter());
        let run = outline.run(whole, 2.0);
        assert!((moved.perimeter() / run - 1.0).abs() < 1e-4, "{name}: {} {run}", moved.perimeter());
        assert!(moved.at(0.0).point.x.abs() < 1e-6, "{name} starts in front");
    }
}

#[test]
fn mitred_icing_on_a_rectangle_reads_as_published() {
    // Edible Tech Guru, "How to size cake wraps": 9 × 13 in with 1/4 in of icing all round reads 46 in.
    let iced = forms::rectangle(9.0, 13.0, 0.0).offset(0.25, Join::Mitre);
    assert!((iced.perimeter() - 46.0).abs() < 1e-9);
    let covered = iced.offset(0.125, Join::Round);
    assert!((covered.perimeter() - 46.0 - TAU / 8.0).abs() < 1e-9);
}

#[test]
fn an_oval_is_as_long_as_its_elliptic_integral() {
    // Perimeter of an ellipse by the Gauss-Kummer series, h = ((a-b)/(a+b))².
    for (a, b) in [(120.0_f64, 85.0_f64), (10.0, 5.0), (150.0, 149.0)] {
        let h = ((a - b) / (a + b)).powi(2);
        let mut sum = 1.0;
        let mut coefficient = 1.0;
        for n in 1..40 {
            let n = f64::from(n);
            coefficient *= (1.5 - n) / n;
            sum += (coefficient * h.powf(n / 2.0)).powi(2);
        }
        let exact = PI * (a + b) * sum;
        let found = forms::oval(2.0 * a, 2.0 * b).perimeter();
        assert!((found / exact - 1.0).abs() < 1e-7, "{found} {exact}");
    }
    // A published doctest prints 48.44222344723793 for a = 10, b = 5; the exact perimeter is 48.44224110273838.
    assert!((forms::oval(20.0, 10.0).perimeter() - 48.442_241_102_738_38).abs() < 1e-5);
}

#[test]
fn a_hexagon_by_its_corners_has_the_school_formulas() {
    let hexagon = forms::regular(6, 200.0, 0.0);
    assert!((hexagon.perimeter() - 600.0).abs() < 1e-9);
    assert!((hexagon.area() - 1.5 * 3.0_f64.sqrt() * 100.0 * 100.0).abs() < 1e-6);
    assert!((hexagon.reach() - 100.0).abs() < 1e-9);
    let (low, high) = hexagon.bounds();
    assert!((high.x - low.x - 200.0).abs() < 1e-9);
    assert!((high.y - low.y - 100.0 * 3.0_f64.sqrt()).abs() < 1e-9);
}

#[test]
fn insides_are_told_from_outsides() {
    for (name, outline, _) in all() {
        for step in 0..60 {
            let spot = outline.at(outline.perimeter() * (f64::from(step) + 0.31) / 60.0);
            assert!(outline.contains(spot.point - spot.outward * 0.5), "{name}");
            assert!(!outline.contains(spot.point + spot.outward * 0.5), "{name}");
        }
    }
}

#[test]
fn blocks_and_strips_are_closed_bodies_of_the_right_volume() {
    for (name, outline, convex) in all() {
        let covered = outline.offset(3.0, Join::Round);
        // A wide edge on a tight corner, and on a sharp one.
        for body in [block(&covered, (0.0, 100.0), 7.0), block(&outline, (0.0, 100.0), 7.0)] {
            keep(&body).unwrap_or_else(|law| panic!("{name}: {law}"));
        }
        let solid = block(&covered, (0.0, 100.0), 3.0);
        keep(&solid).unwrap_or_else(|law| panic!("{name}: {law}"));
        let full = covered.area() * 100.0;
        assert!(solid.volume() < full && solid.volume() > full * 0.98, "{name}: {} {full}", solid.volume());
        let section = strip_section((0.0, 3.0), (20.0, 60.0), 0.6);
        let band = carry(&covered.stations_out(3.0), &section);
        keep(&band).unwrap_or_else(|law| panic!("{name}: {law}"));
        let exact = (covered.offset(3.0, Join::Round).area() - covered.area()) * 40.0;
        let tolerance = if convex { 0.01 } else { 0.03 };
        assert!((band.volume() / exact - 1.0).abs() < tolerance, "{name}: {} {exact}", band.volume());
    }
}

#[test]
fn pictures_run_from_left_to_right_and_from_top_to_foot() {
    let outline = forms::round(180.0);
    let half = outline.perimeter() / 2.0;
    let mesh = carry(&outline.stretch((-half, half), 0.3), &strip_section((0.0, 0.3), (10.0, 90.0), 0.0));
    for ((at, normal), uv) in mesh.positions.iter().zip(&mesh.normals).zip(&mesh.uvs) {
        if normal.y.abs() < 0.5 && DVec2::new(normal.x, normal.z).dot(DVec2::new(at.x, at.z)) > 0.0 {
            let spot = outline.at((uv.x - 0.5) * outline.perimeter());
            let flat = DVec3::new(spot.point.x, 90.0 - 80.0 * uv.y, spot.point.y)
                + DVec3::new(spot.outward.x, 0.0, spot.outward.y) * 0.3;
            assert!(at.distance(flat) < 0.05, "{at} {flat}");
        }
    }
}
