//! Mesh, mass, footprint and box of every kind of piece agree, whatever its proportions and wherever it sits.

use std::sync::Arc;

use glam::{DVec2, DVec3};
use proptest::prelude::{ProptestConfig, Strategy, prop, proptest};

use super::bodies::placed_parts;
use super::extent::piece_box;
use super::pieces::any::{KINDS, LENGTHS, piece};
use super::pieces::{Endless, Makings, Paint, Part, PieceMeasure, Posture, Stock, hull, measure, parts, trial};
use super::{Cake, resolve};
use crate::design::model::{Form, Piece, Surface};
use crate::design::read_design;

/// Facets take this much off what is round: a tube of 24 sides 1.2 %, a bar of 20 to 48 sides 1.6 to 0.3 %, a half ball of six
/// steps 2.8 %; a bow's bent rims up to 5 %.
const FACETS: f64 = 0.03;
const BOW: f64 = 0.06;

/// Sharp edges are rounded by up to 0.8 mm, which takes (1 − π/4) r² off each millimetre of edge.
const EDGE: f64 = 0.14;

/// A polygon of 16 sides round a circle stands out by 2 % of its radius, one of 24 sides within it falls short by 1 %.
const POLYGON: f64 = 0.03;

/// Places are told to so many mm.
const FINE: f64 = 0.05;

/// Lengths of a piece in any proportion to one another, mm: from less than paste can be rolled to more than a cake is wide.
fn lengths() -> impl Strategy<Value = [f64; LENGTHS]> {
    prop::array::uniform5((0.0..1.0_f64).prop_map(|share| 0.5 * 800.0_f64.powf(share)))
}

/// The bodies of a piece without its sticks, in its own frame.
struct Built {
    piece: Piece,
    posture: Posture,
    measured: PieceMeasure,
    parts: Vec<Part>,
}

impl Built {
    fn of(keys: &str, surface: Surface) -> Option<Self> {
        let (design, piece) = piece(keys, surface)?;
        let shelf = trial::shelf();
        let (posture, makings) = (Posture::from(surface), Makings { shelf: &shelf, design: &design });
        let measured = measure(&piece.form, (posture, &Endless(posture)), makings).ok()?;
        let mut parts = parts(&piece.form, (posture, &measured), makings, &mut Stock::default()).ok()?;
        parts.retain(|part| !part.is_stick());
        (!parts.is_empty()).then_some(Self { piece, posture, measured, parts })
    }

    fn places(&self) -> impl Iterator<Item = DVec3> {
        self.parts.iter().flat_map(Part::places)
    }

    /// Paste as measured is paste as built, finish by finish.
    fn weighs_what_it_is(&self) -> Result<(), String> {
        let share = if matches!(self.piece.form, Form::Bow(_)) { BOW } else { FACETS };
        for (finish, told) in &self.measured.volumes {
            let own = || self.parts.iter().filter(|part| part.paint == Paint::Finish(finish.clone()));
            let built: f64 = own().map(|part| part.mesh.volume()).sum();
            let rounded: f64 = own().map(|part| EDGE * edges(part)).sum();
            if (built - told).abs() > share * told + rounded {
                return Err(format!("{finish}: measured {told:.2} mm³, built {built:.2}, edges {rounded:.2}"));
            }
        }
        Ok(())
    }

    /// It is as large as told, and starts at its seat.
    fn is_as_large_as_told(&self) -> Result<(), String> {
        let (low, high) = trial::bounds(&self.parts);
        let size = self.measured.size;
        let told = [size.width, size.height, size.depth].map(crate::measure::Length::as_mm);
        // A scatter has the size of its stretch, a leaning rod's foot is cut on the cake.
        let near = |a: f64, b: f64| (a - b).abs() < FINE + POLYGON * (high - low).max_element();
        let sunk = if let Form::Ball(ball) = &self.piece.form { ball.sunk.as_mm() } else { 0.0 };
        let (foot, top) = (low.dot(self.posture.out()), high.dot(self.posture.out()));
        let fits = told.into_iter().zip((high - low).to_array()).all(|(told, built)| near(told, built));
        let stands = near(foot, -sunk) && near(top, self.measured.reach.as_mm());
        if fits && stands { Ok(()) } else { Err(format!("told {told:?}, built {low} to {high}, sunk {sunk}")) }
    }

    /// Its footprint is the shadow of its bodies on the seat, or of what stands on it.
    fn covers_what_it_stands_over(&self) -> Result<(), String> {
        let flat = |at: DVec3| match self.posture {
            Posture::OnTop => DVec2::new(at.x, at.z),
            Posture::OnSide => at.truncate(),
        };
        // A rod's footprint is that of its foot, up to the rounding of its edge.
        let foot = matches!(self.piece.form, Form::Rod(_)) && self.posture == Posture::OnTop;
        let within = |at: &DVec3| !foot || at.y < 0.01;
        let shadow = hull(self.places().filter(within).map(flat).collect());
        let ring = hull(self.measured.footprint.clone());
        let wide = shadow.iter().fold(0.0_f64, |most, at| most.max(at.length()));
        let (out, spare) = (beyond(&ring, &shadow), beyond(&shadow, &ring));
        let slack = FINE + POLYGON * wide + if foot { 0.9 } else { 0.0 };
        // Petals, folds and rims run inside the ring round them: that it is not much too wide is asked of its ends.
        if out < 0.2 + 0.5 * POLYGON * wide && spare < slack + self.loose(wide) {
            Ok(())
        } else {
            Err(format!("{out:.3} mm of it stand beyond its footprint, which is {spare:.3} mm too wide of {wide:.1}"))
        }
    }

    /// How much wider than its bodies a footprint may be, mm, for what has no plain edge.
    fn loose(&self, wide: f64) -> f64 {
        match self.piece.form {
            Form::Bow(_) => 0.06 * wide + self.measured.reach.as_mm() * 0.1,
            Form::Solid(_) => 0.3 * wide,
            _ => 0.0,
        }
    }
}

/// Length of the sharp edges of a part, at least: twice round its two widest sides.
fn edges(part: &Part) -> f64 {
    let (low, high) = part.mesh.bounds().unwrap_or_default();
    let size = high - low;
    4.0 * (size.element_sum() - size.min_element())
}

/// Furthest that any of some places lies outside a convex ring (counter-clockwise), mm.
fn beyond(ring: &[DVec2], places: &[DVec2]) -> f64 {
    let edges = || ring.iter().zip(ring.iter().cycle().skip(1));
    let out = |at: &DVec2| {
        let off = edges().filter_map(|(from, to)| Some(-(*to - *from).perp().try_normalize()?.dot(*at - *from)));
        off.fold(f64::NEG_INFINITY, f64::max)
    };
    places.iter().map(out).fold(f64::NEG_INFINITY, f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2))]

    #[test]
    fn figures_and_bodies_agree_in_every_proportion(lengths in lengths()) {
        let mut wrong = Vec::new();
        for (kind, surface) in KINDS.iter().flat_map(|kind| [(kind, Surface::Top), (kind, Surface::Side)]) {
            let keys = kind(&lengths);
            let Some(built) = Built::of(&keys, surface) else { continue };
            let judged = [built.weighs_what_it_is(), built.is_as_large_as_told(), built.covers_what_it_stands_over()];
            wrong.extend(judged.into_iter().filter_map(Result::err).map(|told| format!("{surface:?} {keys:?}: {told}")));
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }
}

/// Where a piece may sit: on a top, on a side, round a corner, in a cleft, on the board, on another piece.
const SEATS: [&str; 7] = [
    "seat = { on = 'a', surface = 'top' }\nat = { x = 10, z = 20 }",
    "seat = { on = 'a', surface = 'side' }\nat = { along = 30, up = 60 }",
    "seat = { on = 'a', surface = 'side' }\nat = { along = 100, up = 60 }",
    "seat = { on = 'a', surface = 'side' }\nat = { along = -320, up = 60 }",
    "seat = { on = 'board', surface = 'board' }\nat = { x = 150, z = 30 }",
    "seat = { on = 'under', surface = 'top' }\nat = { x = 5, z = 0 }",
    "seat = { on = 'under', surface = 'side' }\nat = { along = 5, up = 0 }",
];

fn seated(shape: &str, keys: &str, seat: &str) -> Option<Cake> {
    let text = format!(
        "title = 't'\nunit = 'mm'\n[board]\nsize = 400\n[[tier]]\nname = 'a'\nshape = '{shape}'\nsize = 200\nheight = 120\npaste = 3\n\
         [[piece]]\nname = 'under'\nkind = 'plaque'\nseat = {{ on = 'a', surface = 'top' }}\nat = {{ x = -20, z = 0 }}\n\
         size = [90, 60]\nthickness = 5\n[[piece]]\nname = 'p'\n{keys}\n{seat}\nturn = 25\n"
    );
    let design = read_design(&text, "cake.toml").ok()?;
    resolve(&Arc::new(design), &Arc::new(trial::shelf())).ok()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1))]

    #[test]
    fn a_seated_piece_lies_in_its_box(lengths in lengths()) {
        // As large as pieces are that go on a cake.
        let lengths = lengths.map(|length| length.clamp(2.0, 60.0));
        let mut wrong = Vec::new();
        for shape in ["square", "heart"] {
            for (keys, seat) in KINDS.iter().map(|kind| kind(&lengths)).flat_map(|keys| SEATS.map(|seat| (keys.clone(), seat))) {
                let Some(cake) = seated(shape, &keys, seat) else { continue };
                let placed = &cake.pieces[1];
                let (low, high) = piece_box(&cake, placed);
                let Ok(parts) = placed_parts(&cake, placed, &mut Stock::default()) else { continue };
                let bodies = parts.iter().filter(|part| !part.is_stick());
                let mut places =
                    bodies.flat_map(Part::places);
                if let Some(out) = places.find(|at| !(at.cmpge(low).all() && at.cmple(high).all())) {
                    wrong.push(format!("{shape} {keys:?} {seat:?}: {out} lies outside {low} to {high}"));
                }
            }
        }
        assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    }
}
