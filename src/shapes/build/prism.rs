//! A thick cut-out: rolled paste cut along an outline.

use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3};

use super::cap::twice_area;
use super::shell::{Corner, Shell};
use super::slabs::Slabs;
use crate::art::{Join, Region};
use crate::shapes::Mesh;

/// A cut-out's outline is drawn so near (mm) to the figure's.
const PLAIN: f64 = 0.015;

/// Steps of the rounding of the front edge.
const SOFT_STEPS: usize = 3;

/// A flat figure and how thick it is cut.
#[derive(Clone, Copy, Debug)]
pub struct Cutout<'a> {
    /// The figure, mm, y up.
    pub region: &'a Region,
    /// From its back at z = 0 to its front, mm.
    pub thickness: f64,
    /// Radius of the rounded front edge, mm; smaller where the figure is too narrow for it.
    pub soft: f64,
    /// Least and greatest corner of the picture on its front, mm.
    pub picture: [DVec2; 2],
    /// Greatest width of a front's or back's triangle along x, mm, for a body that will be bent; infinite for a rigid one.
    pub facet: f64,
}

impl Cutout<'_> {
    /// A facet for what is laid round a side or in waves, mm: about as wide as the straight pieces in which those are followed.
    pub const SOFT_FACET: f64 = 3.2;
}

/// The body of a cut-out, from z = 0 up to its thickness; `None` where nothing is left to cut.
///
/// The picture lies on the front; back and sides have the picture's top left corner, which should be empty. Where the
/// outline touches itself, a hair is taken off all round, so that every edge of the body has one wall only.
#[must_use]
pub fn prism(cutout: &Cutout) -> Option<Mesh> {
    let whole = body(cutout, cutout.region);
    let shaved = || HAIRS.iter().find_map(|&hair| body(cutout, &cutout.region.offset(-hair, Join::Mitre)));
    Some(whole.or_else(shaved)?.mesh())
}

/// What is taken off an outline that touches itself, mm.
const HAIRS: [f64; 3] = [0.02, 0.05, 0.12];

/// Parts of a figure smaller than this are crumbs and left out, mm².
const CRUMB: f64 = 0.05;

/// The body of a figure; `None` where its outline touches itself, or nothing is left.
fn body(cutout: &Cutout, region: &Region) -> Option<Shell> {
    let mut shell = Shell::default();
    let mut taken = BTreeSet::new();
    for part in region.faces() {
        let rings = std::iter::once(&part.outer).chain(&part.holes).map(|ring| tidy(ring, PLAIN));
        let rings: Vec<Vec<DVec2>> = rings.filter(|ring| twice_area(ring) != 0.0).collect();
        if rings.first().is_none_or(|outer| twice_area(outer) < 2.0 * CRUMB) {
            continue;
        }
        let mut places = rings.iter().flatten().map(|at| at.to_array().map(|value| (value + 0.0).to_bits()));
        if !places.all(|at| taken.insert(at)) {
            return None;
        }
        add_part(&mut shell, cutout, &rings)?;
    }
    (!shell.faces.is_empty()).then_some(shell)
}

/// Adds one part: walls, back and front, with as round a front edge as it bears.
fn add_part(shell: &mut Shell, cutout: &Cutout, rings: &[Vec<DVec2>]) -> Option<()> {
    let slabs = Slabs::of(rings, cutout.facet);
    let outer = slabs.stopped(rings);
    let back = slabs.fill(&outer)?;
    let soft = cutout.soft.min(cutout.thickness / 2.0);
    let tries = [soft, soft / 2.0, soft / 4.0, 0.0];
    let (soft, inner, front) = tries.into_iter().find_map(|soft| {
        let inner: Vec<Vec<DVec2>> = rings.iter().map(|ring| inset(ring, soft)).collect();
        let inner = slabs.stopped(&inner);
        let front = slabs.fill(&inner)?;
        Some((soft, inner, front))
    })?;
    let levels = levels(cutout.thickness, soft);
    let rows = levels.iter().map(|&(share, z)| row(shell, [&outer, &inner], share, z)).collect::<Vec<_>>();
    close(shell, cutout, &rows, [&back, &front]);
    Some(())
}

/// The ring with as few places as keep it `within` (mm) of where it was.
#[must_use]
pub fn tidy(ring: &[DVec2], within: f64) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::new();
    let mut skipped: Vec<DVec2> = Vec::new();
    for &at in ring.iter().chain(ring.first()) {
        let Some(&anchor) = kept.last() else {
            kept.push(at);
            continue;
        };
        let far = |between: &DVec2| off_line(*between, anchor, at) > within;
        if skipped.iter().any(far) {
            kept.extend(skipped.pop());
            skipped.clear();
        }
        skipped.push(at);
    }
    kept
}

/// How far a place lies from the line between two others.
fn off_line(at: DVec2, from: DVec2, to: DVec2) -> f64 {
    let along = to - from;
    let share = ((at - from).dot(along) / along.length_squared().max(1e-18)).clamp(0.0, 1.0);
    at.distance(from + along * share)
}

/// The ring moved into the figure by at most `depth`, less where an edge would turn round.
fn inset(ring: &[DVec2], depth: f64) -> Vec<DVec2> {
    let count = ring.len();
    let edges: Vec<DVec2> = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| *b - *a).collect();
    let before = edges.iter().cycle().skip(count.saturating_sub(1));
    let mitres: Vec<DVec2> = before.zip(&edges).map(|(before, after)| mitre(*before, *after)).collect();
    let mut depths = vec![depth; count];
    for _ in 0..12 {
        let moved: Vec<DVec2> =
            ring.iter().zip(&mitres).zip(&depths).map(|((at, by), depth)| *at + *by * *depth).collect();
        let ends = moved.iter().zip(moved.iter().cycle().skip(1));
        let turned: Vec<bool> =
            ends.zip(&edges).map(|((a, b), edge)| (*b - *a).dot(*edge) < 0.3 * edge.length_squared()).collect();
        if !turned.contains(&true) {
            return moved;
        }
        let around = turned.iter().cycle().skip(count.saturating_sub(1));
        for ((depth, here), before) in depths.iter_mut().zip(&turned).zip(around) {
            if *here || *before {
                *depth /= 2.0;
            }
        }
    }
    ring.to_vec()
}

/// Where a corner between two edges goes when both move into the figure (to their left) by 1; at most 2 far.
fn mitre(before: DVec2, after: DVec2) -> DVec2 {
    let (a, b) = (before.perp().normalize_or_zero(), after.perp().normalize_or_zero());
    ((a + b) / (1.0 + a.dot(b)).max(1e-6)).clamp_length_max(2.0)
}

/// Share of the inset and height of each row of places, from the back to the front.
fn levels(thickness: f64, soft: f64) -> Vec<(f64, f64)> {
    let rounded = (0..=SOFT_STEPS).map(|step| {
        let (sin, cos) = (FRAC_PI_2 * step as f64 / SOFT_STEPS as f64).sin_cos();
        (1.0 - cos, thickness - soft + soft * sin)
    });
    let flat = [(0.0, thickness)].into_iter();
    let back = std::iter::once((0.0, 0.0));
    if soft > 0.0 { back.chain(rounded).collect() } else { back.chain(flat).collect() }
}

/// Places of all rings at one level.
fn row(shell: &mut Shell, [rings, inner]: [&[Vec<DVec2>]; 2], share: f64, z: f64) -> Vec<Vec<u32>> {
    let ring = |(ring, inner): (&Vec<DVec2>, &Vec<DVec2>)| {
        let between = ring.iter().zip(inner).map(|(at, inner)| at.lerp(*inner, share).extend(z));
        between.collect::<Vec<DVec3>>()
    };
    rings.iter().zip(inner).map(ring).map(|ring| ring.into_iter().map(|at| shell.place(at)).collect()).collect()
}

/// Walls between the rows, back and front.
fn close(shell: &mut Shell, cutout: &Cutout, rows: &[Vec<Vec<u32>>], [back, front]: [&[[u32; 3]]; 2]) {
    let plain = |place: u32| Corner { place, uv: DVec2::ZERO };
    let [low, high] = cutout.picture;
    let size = (high - low).max(DVec2::splat(1e-9));
    let printed = |shell: &Shell, place: u32| {
        let at = shell.at(place);
        Corner { place, uv: DVec2::new((at.x - low.x) / size.x, (high.y - at.y) / size.y) }
    };
    for (level, pair) in rows.windows(2).enumerate() {
        let [below, above] = pair else { continue };
        for (below, above) in below.iter().zip(above) {
            let lower = below.iter().zip(below.iter().cycle().skip(1));
            let upper = above.iter().zip(above.iter().cycle().skip(1));
            for ((&a, &b), (&d, &c)) in lower.zip(upper) {
                let patch = [a, b, c, d];
                let patch = if level == 0 { patch.map(plain) } else { patch.map(|place| printed(shell, place)) };
                shell.patch(patch);
            }
        }
    }
    let numbers = |row: Option<&Vec<Vec<u32>>>| row.into_iter().flatten().flatten().copied().collect::<Vec<u32>>();
    let (first, last) = (numbers(rows.first()), numbers(rows.last()));
    let place = |row: &[u32], number: u32| row.get(number as usize).copied().unwrap_or_default();
    for &[a, b, c] in back {
        shell.face([c, b, a].map(|number| plain(place(&first, number))));
    }
    for triangle in front {
        let face = triangle.map(|number| printed(shell, place(&last, number)));
        shell.face(face);
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::shapes::build::{bend, laws};

    fn cutout(region: &Region) -> Cutout<'_> {
        let (low, high) = region.bounds().unwrap();
        Cutout { region, thickness: 4.0, soft: 0.5, picture: [low, high], facet: f64::INFINITY }
    }

    fn star() -> Region {
        let point = |n: u32| DVec2::from_angle(f64::from(n) * PI / 5.0) * if n.is_multiple_of(2) { 40.0 } else { 15.0 };
        let hole = Region::disc(6.0).rings.concat();
        Region::from_paths_even_odd(&[(0..10).map(point).collect(), hole])
    }

    #[test]
    fn a_star_with_a_hole_is_closed_and_as_thick_as_asked() {
        let star = star();
        let mesh = prism(&cutout(&star)).unwrap();
        laws::keep(&mesh).unwrap();
        assert!((mesh.volume() / (star.area() * 4.0) - 1.0).abs() < 0.02, "{}", mesh.volume() / star.area());
        let sharp = prism(&Cutout { soft: 0.0, ..cutout(&star) }).unwrap();
        laws::keep(&sharp).unwrap();
        assert!((sharp.volume() / (star.area() * 4.0) - 1.0).abs() < 0.001);
        assert_eq!(sharp.bounds().unwrap().1.z, 4.0);
    }

    #[test]
    fn the_picture_is_upright_and_not_mirrored() {
        let star = star();
        let mesh = prism(&cutout(&star)).unwrap();
        let (low, high) = star.bounds().unwrap();
        let front = mesh.positions.iter().zip(&mesh.uvs).filter(|(at, _)| at.z == 4.0);
        for (at, uv) in front {
            let (right, down) = ((at.x - low.x) / (high.x - low.x), (high.y - at.y) / (high.y - low.y));
            assert!(uv.distance(DVec2::new(right, down)) < 1e-9);
        }
    }

    #[test]
    fn a_soft_plate_bends_round_a_side_and_stays_closed() {
        let plate = Region::rectangle(90.0, 30.0, 6.0);
        let mesh = prism(&Cutout { facet: 3.0, ..cutout(&plate) }).unwrap();
        laws::keep(&mesh).unwrap();
        let bent = bend(&mesh, &glam::DAffine3::IDENTITY, &[], |at| {
            let angle = at.x / 60.0;
            DVec3::new((60.0 + at.z) * angle.sin(), at.y, (60.0 + at.z) * angle.cos())
        });
        laws::keep(&bent).unwrap();
        // The neutral line keeps its length at the back, so that the plate's mean width grows by half its thickness (Pappus).
        let longer = 1.0 + 2.0 / 60.0;
        assert!((bent.volume() / (plate.area() * 4.0 * longer) - 1.0).abs() < 0.01);
    }

    #[test]
    fn an_outline_that_touches_itself_is_shaved_and_closes() {
        let square = |x: f64, y: f64| {
            [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)].map(|(right, up)| DVec2::new(x + right, y + up)).to_vec()
        };
        let board = Region::from_paths_even_odd(&[square(0.0, 0.0), square(9.0, 9.0), square(18.0, 0.0)]);
        let mesh = prism(&cutout(&board)).unwrap();
        laws::keep(&mesh).unwrap();
        assert!((mesh.volume() / (3.0 * 81.0 * 4.0) - 1.0).abs() < 0.03, "{}", mesh.volume());
    }

    #[test]
    fn necks_thinner_than_the_rounding_still_close() {
        let dumbbell = [
            (-20.0, -5.0),
            (-5.0, -0.2),
            (5.0, -0.2),
            (20.0, -5.0),
            (20.0, 5.0),
            (5.0, 0.2),
            (-5.0, 0.2),
            (-20.0, 5.0),
        ];
        let region = Region::from_paths_even_odd(&[dumbbell.map(|(x, y)| DVec2::new(x, y)).to_vec()]);
        laws::keep(&prism(&cutout(&region)).unwrap()).unwrap();
    }
}
