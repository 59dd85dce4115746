//! The exposure of seams, held against pictures: each seam is painted on the cake as a ribbon of a colour of its own, the cake
//! is looked at from many places, and the height of the ribbon that its pixels show is what was seen.

use std::sync::Arc;

use glam::{DVec2, DVec3};
use tierproof::art::{Art, Colour, Picture, Shelf};
use tierproof::cake::{Body, Cake, Owner, Surface, bodies, resolve};
use tierproof::design::model::CourseKind;
use tierproof::design::{Look, read_design};
use tierproof::measure::Angle;
use tierproof::proof::view::{Camera, Direction};
use tierproof::scene::{Quality, Stage};
use tierproof::shapes::Mesh;
use tierproof::wraps::{self, Onlookers};

use super::photograph::take_in_turn;

/// Colours of ribbons: nothing else on these cakes has any.
const PAINTS: [Colour; 5] = [
    Colour::new(220, 0, 0),
    Colour::new(0, 190, 0),
    Colour::new(0, 40, 230),
    Colour::new(220, 0, 210),
    Colour::new(0, 200, 210),
];
/// Directions to look from: a power of two, so that the eye levels are evenly spread.
const LOOKS: u32 = 32;
/// Distance of the eye, mm: so far that sight lines are all but parallel.
const FAR: f64 = 8000.0;
/// Furthest that the picture and the cast may disagree.
const AGREE: f64 = 0.05;

/// A cake and the readings of the seams to be looked for: tier, along.
struct Case {
    name: &'static str,
    text: String,
    seams: Vec<(usize, f64)>,
}

fn side(height: f64) -> String {
    format!(
        "[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = {height}\nart = \"none.png\"\n\
         [[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n"
    )
}

fn tier(name: &str, shape: &str, size: f64, more: &str) -> String {
    format!("[[tier]]\nname = \"{name}\"\nshape = \"{shape}\"\nsize = {size}\nheight = 100\n{more}\n{}", side(85.0))
}

fn piece(name: &str, kind: &str, (on, surface): (&str, &str), more: &str) -> String {
    format!(
        "[[piece]]\nname = \"{name}\"\nkind = \"{kind}\"\nseat = {{ on = \"{on}\", surface = \"{surface}\" }}\n{more}\n"
    )
}

fn cases() -> Vec<Case> {
    let bow = piece("bow", "bow", ("base", "side"), "at = { along = 120, up = 60 }\nribbon = 34\nloop = 42\ntail = 60");
    let rod = piece(
        "oar",
        "rod",
        ("board", "board"),
        "at = { x = -150, z = 60 }\nleans_on = \"base\"\nparts = [{ length = 190, from = 22, to = 22, finish = \"white\" }]",
    );
    let star = piece(
        "star",
        "topper",
        ("base", "top"),
        "at = { x = 5, z = 95 }\nart = \"star.svg\"\nheight = 80\nthickness = 4",
    );
    let balls = piece("ball", "ball", ("board", "board"), "at = { x = 35, z = 115 }\nsize = 60")
        + &piece("pin", "ball", ("base", "side"), "at = { along = 30, up = 60 }\nsize = 24");
    vec![
        Case {
            name: "round",
            text: tier("base", "round", 200.0, "") + &bow + &rod,
            seams: vec![(0, 0.0), (0, -40.0 / 360.0 * 628.3), (0, 120.0), (0, -135.0), (0, 314.0)],
        },
        Case {
            name: "two tiers",
            text: tier("base", "round", 240.0, "") + &tier("upper", "round", 140.0, "") + &star,
            seams: vec![(1, 0.0), (1, 60.0), (1, -25.0), (0, 230.0)],
        },
        Case {
            name: "square",
            text: tier("base", "square", 160.0, "paste = 4\nturn = 20") + &balls,
            // None on the corner's rounding: a flat ribbon there shows its edges to both sides.
            seams: vec![(0, 20.0), (0, 70.0), (0, 150.0), (0, -150.0)],
        },
        Case {
            name: "heart",
            text: tier("base", "heart", 200.0, "paste = 3") + "[viewing]\nfront = 180\ndown = [5, 25]\n",
            seams: vec![(0, 290.0), (0, 240.0), (0, -200.0), (0, -100.0)],
        },
    ]
}

fn resolved(case: &Case) -> Cake {
    let star = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'><path d='M50 0 62 36 100 38 69 60 80 98 50 75 20 98 31 60 0 38 38 36Z'/></svg>";
    let mut shelf = Shelf::default();
    shelf.insert("star.svg", Arc::new(Art::read(star.as_bytes(), "star.svg").unwrap()));
    let text = format!("title = \"t\"\nunit = \"mm\"\n[board]\nsize = 330\n{}", case.text);
    let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{}: {problems}", case.name));
    resolve(&Arc::new(design), &Arc::new(shelf)).unwrap()
}

/// A ribbon 3 mm wide on the outer face of a tier's print, and its two ends.
fn ribbon(cake: &Cake, (tier, along): (usize, f64), colour: Colour) -> (Body, [DVec3; 2]) {
    let tier = &cake.tiers[tier];
    let course = &tier.courses[0];
    assert!(matches!(course.kind, CourseKind::Wrap(_)));
    let spot = tier.outline.at(along);
    let outward = DVec3::new(spot.outward.x, 0.0, spot.outward.y);
    let axes = [DVec3::Y.cross(outward), DVec3::Y, outward];
    let middle = DVec3::new(spot.point.x, (course.bottom + course.top) / 2.0, spot.point.y) + outward * course.outer;
    let half = [1.5, course.height() / 2.0, 0.2];
    let mut mesh = Mesh::default();
    for (number, sign) in [(0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0), (2, 1.0), (2, -1.0)] {
        let [out, right, up] = [0, 1, 2].map(|step| axes[(number + step) % 3] * half[(number + step) % 3]);
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(r, u)| {
            let at = middle + (out + right * r) * sign + up * u;
            mesh.corner(at, out.normalize() * sign, DVec2::ZERO)
        });
        mesh.patch(corners);
    }
    let pose = tier.pose();
    let ends = [-1.0, 1.0].map(|way| pose.transform_point3(middle + DVec3::Y * (way * half[1])));
    let surface = Surface { colour, look: Look::Paste, picture: None };
    (Body { name: format!("ribbon {colour}").into(), mesh: Arc::new(mesh), pose, surface, owner: Owner::Board }, ends)
}

/// The places from which to look: azimuths by the cosine, eye levels evenly, spread by Halton's sequences.
fn directions(cake: &Cake) -> Vec<Direction> {
    let viewing = cake.design.viewing;
    let halton = |mut number: u32, base: u32| {
        let (mut share, mut sum) = (1.0, 0.0);
        while number > 0 {
            share /= f64::from(base);
            sum += share * f64::from(number % base);
            number /= base;
        }
        sum
    };
    let [low, high] = viewing.down.map(Angle::as_degrees);
    let look = |number: u32| {
        let across = (f64::from(number) + 0.5) / f64::from(LOOKS) * 2.0 - 1.0;
        let azimuth = (across * viewing.spread.as_radians().sin()).asin().to_degrees();
        Direction::new(viewing.front.as_degrees() + azimuth, low + (high - low) * halton(number + 1, 2))
    };
    (0..LOOKS).map(look).collect()
}

/// From far away, with all of a cake's tiers in a small picture.
fn camera(direction: Direction) -> Camera {
    let eye = DVec3::new(0.0, 90.0, 0.0) + direction.towards_eye() * FAR;
    Camera { direction, eye, field: Angle::radians(2.0 * (130.0 / FAR).atan()), size: (520, 520) }
}

/// Which paint a pixel has.
fn paint_of([red, green, blue, _]: [u8; 4]) -> Option<usize> {
    let spread = red.max(green).max(blue) - red.min(green).min(blue);
    // Most pixels are pale or grey; they need no further look.
    if 4 * u16::from(spread) <= u16::from(red.max(green).max(blue)) {
        return None;
    }
    let channels = [red, green, blue].map(f64::from);
    let (least, most) = (channels.into_iter().fold(255.0, f64::min), channels.into_iter().fold(0.0, f64::max));
    let share = channels.map(|channel| (channel - least) / (most - least).max(1.0));
    let pure = PAINTS.map(|paint| {
        let own = [paint.red, paint.green, paint.blue].map(|channel| if channel > 100 { 1.0 } else { 0.0 });
        own.iter().zip(share).map(|(own, share): (&f64, f64)| (own - share).abs()).sum::<f64>()
    });
    let (paint, off) = pure.into_iter().enumerate().min_by(|a, b| a.1.total_cmp(&b.1))?;
    (most - least > 0.25 * most && off < 0.7).then_some(paint)
}

/// Rows of a picture in which each paint shows.
fn rows(picture: &Picture) -> [usize; PAINTS.len()] {
    let mut rows = [0; PAINTS.len()];
    for y in 0..picture.height {
        let mut here = [false; PAINTS.len()];
        for paint in (0..picture.width).filter_map(|x| paint_of(picture.pixel(x, y).unwrap())) {
            here[paint] = true;
        }
        for (count, here) in rows.iter_mut().zip(here) {
            *count += usize::from(here);
        }
    }
    rows
}

#[test]
fn as_much_of_a_seam_is_seen_in_pictures_as_was_cast() {
    let mut wrong = Vec::new();
    for case in cases() {
        let cake = resolved(&case);
        let onlookers = Onlookers::new(&cake);
        let mut all = bodies(&cake).unwrap();
        all.extend(wraps::bodies(&cake, &wraps::plan(&cake).0, 16));
        let painted: Vec<_> = case.seams.iter().zip(PAINTS).map(|(&seam, paint)| ribbon(&cake, seam, paint)).collect();
        all.extend(painted.iter().map(|(body, _)| body.clone()));
        let cameras: Vec<Camera> = directions(&cake).into_iter().map(camera).collect();
        let stage = Stage { bodies: all, floor: -cake.board.thickness.as_mm(), backdrop: Stage::BACKDROP };
        let pictures = take_in_turn(&stage, &cameras, Quality::Draft);
        let mut seen = vec![0.0; painted.len()];
        for (camera, picture) in cameras.iter().zip(&pictures) {
            for (number, (sum, rows)) in seen.iter_mut().zip(rows(picture)).enumerate() {
                let [foot, head] = painted[number].1.map(|end| camera.pixel(end).unwrap().y);
                *sum += (rows as f64 / (foot - head)).min(1.0) / f64::from(LOOKS);
            }
        }
        for (&(tier, along), seen) in case.seams.iter().zip(seen) {
            let cast = onlookers.course(tier, 0).unwrap().exposure(along);
            println!("{}, tier {tier}, {along:.0}: {cast:.3} cast, {seen:.3} seen", case.name);
            if (cast - seen).abs() > AGREE {
                wrong.push(format!("{}, tier {tier}, {along:.0}: {cast:.3} cast, {seen:.3} seen", case.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
