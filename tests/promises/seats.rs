//! Every kind of piece on every seat of every shape of tier: its bodies are closed, touch what they sit on, don't sink into it,
//! and are not mirrored.

use std::fmt::Write;
use std::sync::Arc;

use glam::{DVec2, DVec3};
use tierproof::art::{Art, Shelf};
use tierproof::cake::solids::{SolidStock, board_solid, tier_solid};
use tierproof::cake::{Body, Cake, Owner, bodies, resolve};
use tierproof::design::read_design;
use tierproof::shapes::build::laws;
use tierproof::shapes::solid::Standing;

/// The eight shapes of a tier, with what each needs besides; corners sharp, as pans have them.
const SHAPES: [(&str, &str); 8] = [
    ("round", "size = 180"),
    ("square", "size = 170"),
    ("rectangle", "size = [210, 150]"),
    ("hexagon", "size = 200"),
    ("octagon", "size = 200"),
    ("oval", "size = [210, 150]"),
    ("heart", "size = 200"),
    ("petal", "size = 200\npetals = 6"),
];

/// Art that is upright and unlike its mirror image: an L, red at its foot.
const ART: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 60">
  <path fill="#00f" d="M5 5H18V42H5Z"/><path fill="#f00" d="M5 42H35V55H5Z"/>
</svg>"##;

/// How far a piece may stand off its seat, mm: facets of 24 sides round a rope, two hundredths of a soft strip, a bow's wavy tails.
const FLOATS: f64 = 0.25;
/// How far its corners may lie in its seat, mm: what nobody can see or feel in paste.
const SINKS: f64 = 0.25;

/// So many places of a body are looked at, evenly picked.
const MOST_PLACES: usize = 1500;

/// Every kind, by name: keys that hold on any seat.
const KINDS: [(&str, &str); 18] = [
    ("topper", "kind = 'topper'\nart = 'l.svg'\nheight = 40\nthickness = 3\nprint = true"),
    (
        "backed topper",
        "kind = 'topper'\nart = 'l.svg'\nheight = 40\nthickness = 3\nbacking = { border = 4, thickness = 4, finish = 'gold' }\n\
         picks = { count = 1, diameter = 2, into_piece = 15, into_cake = 30 }",
    ),
    ("plaque", "kind = 'plaque'\nsize = [44, 30]\nthickness = 4\ncorner = 3"),
    ("stiff plaque", "kind = 'plaque'\nsize = [36, 24]\nthickness = 4\nstiff = true"),
    (
        "celled plaque",
        "kind = 'plaque'\nsize = [44, 30]\nthickness = 5\n\
         cells = { rows = 2, columns = 3, gap = 3, inset = 1, finishes = ['blue', 'gold'] }",
    ),
    ("printed plaque", "kind = 'plaque'\nart = 'l.svg'\nheight = 36\nthickness = 3"),
    ("ball", "kind = 'ball'\nsize = 22\npin = true"),
    ("rope", "kind = 'rope'\nsize = 6\nlength = 60\nsag = 12"),
    ("flat band", "kind = 'rope'\nsize = 3\nlength = 60\nband = 9"),
    ("ring", "kind = 'rope'\nsize = 6\nring = 34"),
    ("ring of pearls", "kind = 'rope'\nsize = 7\nring = 34\npearls = true"),
    ("edge", "kind = 'rope'\nsize = 5\nedge = 6"),
    ("bow", "kind = 'bow'\nribbon = 18\nloops = 2\nloop = 32\ntails = 2\ntail = 40\nthickness = 2\ncut = 'slant'"),
    ("sign", "kind = 'sign'\ntext = 'L'\nletters = { height = 16 }\nsize = [44, 24]\nthickness = 2.5\nborder = 3"),
    ("waved sign", "kind = 'sign'\nart = 'l.svg'\nsize = [60, 24]\nthickness = 2.5\nwave = 5"),
    (
        "rod",
        "kind = 'rod'\nparts = [{ length = 40, from = 8, to = 8 }, { length = 9, from = 10, to = 16 }]\nstick = { diameter = 3, into_board = 5 }",
    ),
    ("figure", "kind = 'solid'\nform = 'figure'\nsize = [22, 45]"),
    ("flowers", "kind = 'solid'\nform = 'flowers'\nsize = [36, 24]"),
];

fn shelf() -> Arc<Shelf> {
    let mut shelf = Shelf::default();
    shelf.insert("l.svg", Arc::new(Art::read(ART.as_bytes(), "l.svg").expect("art")));
    Arc::new(shelf)
}

/// A seat of the cake: what it is on, which surface, its place there, and what else lies there.
struct Seat {
    told: String,
    keys: String,
    solids: Vec<Standing>,
    surface: &'static str,
    /// Whether it is on another piece.
    carried: bool,
}

/// A plate on the top and a shield on the side, for pieces to sit on.
const CARRIERS: &str = "[[piece]]\nname = 'plate'\nkind = 'plaque'\nseat = { on = 'a', surface = 'top' }\nat = { x = 0, z = 10 }\n\
    size = [90, 80]\nthickness = 6\n[[piece]]\nname = 'shield'\nkind = 'plaque'\nseat = { on = 'a', surface = 'side' }\n\
    at = { along = 0, up = 65 }\nsize = [90, 90]\nthickness = 5\n";

/// A cake of one shape with these pieces.
fn cake((shape, size): (&str, &str), pieces: &str) -> Result<Cake, String> {
    let text = format!(
        "title = 't'\nunit = 'mm'\n[board]\nsize = 420\n[[tier]]\nname = 'a'\nshape = '{shape}'\n{size}\nheight = 130\npaste = 3\n{pieces}"
    );
    let design = read_design(&text, "cake.toml").map_err(|problems| problems.to_string())?;
    resolve(&Arc::new(design), &shelf()).map_err(|error| error.to_string())
}

/// The seats of a shape: its top, its front, between, a corner, a cleft; with the round one also the back, the board, a plate
/// and a shield.
fn seats(shape: (&str, &str)) -> Vec<Seat> {
    let cake = cake(shape, CARRIERS).expect("a cake");
    let tier = &cake.tiers[0];
    let mut stock = SolidStock::default();
    let [plate, shield] = [0, 1].map(|number: usize| stock.piece(&cake, &cake.pieces[number]));
    let solid = || vec![tier_solid(tier)];
    let around = tier.outline.perimeter();
    let corners = tier.outline.draped_corners(0.3, 12.0);
    let faces_in = |along: &f64| {
        let [left, right] = [-1.0, 1.0].map(|way| tier.outline.at(along + way).outward);
        left.perp_dot(right) > 0.0
    };
    let (clefts, corners): (Vec<f64>, Vec<f64>) = corners.into_iter().partition(faces_in);
    let plain = shape.0 == "round";
    let more = if plain { vec![around / 2.0] } else { Vec::new() };
    let alongs = [0.0, around * 0.31]
        .into_iter()
        .chain(more)
        .chain(corners.into_iter().take(1))
        .chain(clefts.into_iter().take(1));
    let on_side = alongs.map(|along| Seat {
        told: format!("side at {along:.1} of {around:.1}"),
        keys: format!("seat = {{ on = 'a', surface = 'side' }}\nat = {{ along = {along:.3}, up = 64 }}"),
        solids: solid(),
        surface: "side",
        carried: false,
    });
    let seat = |told: &str, keys: &str, solids: Vec<Standing>, surface: &'static str| Seat {
        told: told.to_owned(),
        keys: keys.to_owned(),
        solids,
        surface,
        carried: !keys.contains("'a'") && surface != "board",
    };
    let mut seats: Vec<Seat> = on_side.collect();
    seats.push(seat("top", "seat = { on = 'a', surface = 'top' }\nat = { x = 6, z = -8 }", solid(), "top"));
    if !plain {
        return seats;
    }
    seats.extend([
        seat(
            "board",
            "seat = { on = 'board', surface = 'board' }\nat = { x = 150, z = 60 }",
            vec![board_solid(&cake)],
            "board",
        ),
        seat("plate's top", "seat = { on = 'plate', surface = 'top' }\nat = { x = 4, z = 3 }", plate, "top"),
        seat(
            "shield's front",
            "seat = { on = 'shield', surface = 'side' }\nat = { along = 3, up = 2 }",
            shield,
            "side",
        ),
    ]);
    seats
}

/// A scatter needs its stretch where other kinds need a place.
fn scatter(seat: &Seat) -> Option<String> {
    let (on, at) = seat.keys.split_once('\n')?;
    let figures: Vec<f64> =
        at.split(|c: char| !(c.is_ascii_digit() || "-.".contains(c))).filter_map(|word| word.parse().ok()).collect();
    let [x, y] = figures[..] else { return None };
    let stretch = |at: f64, half: f64| format!("[{}, {}]", at - half, at + half);
    let (across, away) = if seat.surface == "side" { ("along", "up") } else { ("x", "z") };
    Some(format!(
        "kind = 'scatter'\n{on}\nover = {{ {across} = {}, {away} = {} }}\nsizes = [[9, 3], [6, 6]]\nseed = 5",
        stretch(x, 24.0),
        stretch(y, 24.0)
    ))
}

/// The bodies of the last piece, without sticks and pins.
fn last_piece(cake: &Cake) -> Vec<Body> {
    let owner = Owner::Piece(cake.design.pieces.len() - 1);
    let stick =
        |name: &str| name.rsplit(" · ").next().is_some_and(|part| part.contains("stick") || part.contains("pin"));
    let bodies = bodies(cake).expect("bodies");
    bodies.into_iter().filter(|body| body.owner == owner && !stick(&body.name)).collect()
}

/// Places all over the surface of a body, in the cake's frame: corners, middles of edges and of faces.
fn places(body: &Body) -> Vec<DVec3> {
    let faces = body.mesh.faces().map(|face| face.map(|at| body.pose.transform_point3(at)));
    let all: Vec<DVec3> = faces.flat_map(|[a, b, c]| [a, (a + b) / 2.0, (b + c) / 2.0, (a + b + c) / 3.0]).collect();
    let share = MOST_PLACES as f64 / all.len().max(1) as f64;
    // By the golden ratio: a plain step would pick the same place of every ring.
    all.into_iter()
        .enumerate()
        .filter(|(number, _)| (*number as f64 * 0.618_033_988_749_895).fract() < share)
        .map(|(_, at)| at)
        .collect()
}

fn deepest(places: impl Iterator<Item = DVec3>, solids: &[Standing]) -> f64 {
    let depth = |at: DVec3| solids.iter().map(|solid| solid.depth(at).inside).fold(f64::NEG_INFINITY, f64::max);
    places.map(depth).fold(f64::NEG_INFINITY, f64::max)
}

/// What is wrong with a piece on its seat, if anything.
fn wrong(cake: &Cake, (kind, seat): (&str, &Seat)) -> Result<(), String> {
    let bodies = last_piece(cake);
    if bodies.is_empty() {
        return Err("it has no bodies".to_owned());
    }
    for body in &bodies {
        laws::keep(&body.mesh).map_err(|breach| format!("{}: {breach}", body.name))?;
        let straight = (body.pose.matrix3.determinant() - 1.0).abs() < 1e-9;
        let finite = body.pose.is_finite() && body.mesh.positions.iter().all(|at| at.is_finite());
        if !straight || !finite {
            return Err(format!("{}: mirrored, stretched or nowhere", body.name));
        }
        is_not_mirrored(body)?;
    }
    // Balls lie each by itself, everything else as one.
    let each = kind == "scatter";
    let groups: Vec<&[Body]> = if each { bodies.chunks(1).collect() } else { vec![&bodies] };
    for group in groups {
        let depth = deepest(group.iter().flat_map(places), &seat.solids);
        let name = &group[0].name;
        if depth < -FLOATS {
            return Err(format!("{name}: it floats {:.2} mm", -depth));
        }
        if depth > SINKS {
            return Err(format!("{name}: it sinks {depth:.2} mm"));
        }
    }
    reads_right(cake, &bodies)
}

/// A picture is laid on so that what is right of it lies to the right of whoever looks at it, and its top is up.
fn is_not_mirrored(body: &Body) -> Result<(), String> {
    if body.surface.picture.is_none() {
        return Ok(());
    }
    let uv = |corner: u32| body.mesh.uvs[corner as usize];
    let turned = |&[a, b, c]: &[u32; 3]| (uv(b) - uv(a)).perp_dot(uv(c) - uv(a));
    // Counter-clockwise from outside; v runs down, so that an upright picture runs clockwise.
    let (right, mirrored): (Vec<f64>, Vec<f64>) =
        body.mesh.triangles.iter().map(turned).filter(|turn| turn.abs() > 1e-9).partition(|turn| *turn < 0.0);
    let back: f64 = mirrored.iter().sum();
    let front: f64 = right.iter().map(|turn| -turn).sum();
    if front > 0.5 && back < 0.05 {
        Ok(())
    } else {
        Err(format!("{}: mirrored: {front:.2} against {back:.2}", body.name))
    }
}

/// An L reads as an L for whoever stands before it, or looks at it from above with the customer's eyes: its upper part is on
/// the left.
fn reads_right(cake: &Cake, bodies: &[Body]) -> Result<(), String> {
    let Some(letters) = bodies.iter().find(|body| body.name.ends_with("letters")) else { return Ok(()) };
    let placed = cake.pieces.last().expect("a piece");
    let lies = placed.side.is_none() && placed.pose.matrix3.y_axis.y > 0.9 && {
        let piece = cake.designed(placed).expect("designed");
        piece.seat.surface != tierproof::design::model::Surface::Side
    };
    let (right, up) = if lies {
        (placed.pose.matrix3.x_axis, -placed.pose.matrix3.z_axis)
    } else {
        (placed.pose.matrix3.x_axis, placed.pose.matrix3.y_axis)
    };
    let flat: Vec<DVec2> = places(letters).into_iter().map(|at| DVec2::new(at.dot(right), at.dot(up))).collect();
    let low = flat.iter().copied().fold(DVec2::INFINITY, DVec2::min);
    let high = flat.iter().copied().fold(DVec2::NEG_INFINITY, DVec2::max);
    let middle = (low + high) / 2.0;
    let stem = flat.iter().filter(|at| at.y > low.y + 0.6 * (high.y - low.y));
    if stem.clone().count() > 0 && stem.clone().all(|at| at.x < middle.x) {
        Ok(())
    } else {
        Err("its L is mirrored or upside down".to_owned())
    }
}

#[test]
fn every_kind_sits_on_every_seat() {
    let (mut told, mut tried, mut refused) = (String::new(), 0, Vec::new());
    for shape in SHAPES {
        for seat in seats(shape) {
            let placed = KINDS.iter().map(|(kind, keys)| (*kind, format!("{}\n{keys}", seat.keys)));
            let pieces = placed.chain(scatter(&seat).map(|keys| ("scatter", keys)));
            for (kind, keys) in pieces {
                // What follows an edge takes its place from it.
                let keys = if kind == "edge" {
                    keys.lines().filter(|line| !line.starts_with("at")).collect::<Vec<_>>().join("\n")
                } else {
                    keys
                };
                let carriers = if seat.carried { CARRIERS } else { "" };
                match cake(shape, &format!("{carriers}[[piece]]\nname = 'p'\n{keys}\n")) {
                    Err(why) => refused.push(format!("{} {} {kind}: {why}", shape.0, seat.told)),
                    Ok(cake) => {
                        tried += 1;
                        if let Err(why) = wrong(&cake, (kind, &seat)) {
                            let _ = writeln!(told, "{} · {} · {kind}: {why}", shape.0, seat.told);
                        }
                    }
                }
            }
        }
    }
    assert!(told.is_empty(), "of {tried}:\n{told}");
    assert!(refused.is_empty(), "{}", refused.join("\n"));
    assert!(tried > 600, "{tried}");
}
