//! The solids of a cake where they stand, for rules about the space they take. Sticks are left out: they are meant to go in.

use std::collections::BTreeMap;
use std::sync::Arc;

use glam::{DAffine3, DVec3};

use super::bodies::{BOARD_EDGE, pearls, placed_parts};
use super::pieces::{Bulk, Part, Stock};
use super::{Cake, CakeCourse, CakePiece, CakeTier};
use crate::design::model::CourseKind;
use crate::shapes::Mesh;
use crate::shapes::solid::{Block, Rope, Solid, Standing};

/// Solids by what they are made from, so that equal ones are made once.
#[derive(Debug, Default)]
pub struct SolidStock {
    stock: Stock,
    balls: BTreeMap<u64, Arc<Solid>>,
    /// By the place of the mesh in memory; the mesh is kept, so that no other takes its place.
    skins: BTreeMap<usize, (Arc<Mesh>, Arc<Solid>)>,
}

impl SolidStock {
    fn ball(&mut self, radius: f64) -> Arc<Solid> {
        self.balls.entry(radius.to_bits()).or_insert_with(|| Arc::new(Solid::Ball(radius))).clone()
    }

    fn skin(&mut self, mesh: &Arc<Mesh>) -> Option<Arc<Solid>> {
        let place = Arc::as_ptr(mesh).addr();
        if let Some((_, known)) = self.skins.get(&place) {
            return Some(known.clone());
        }
        let made = Arc::new(Solid::skin(mesh.clone())?);
        self.skins.insert(place, (mesh.clone(), made.clone()));
        Some(made)
    }

    fn standing(&mut self, part: &Part) -> Option<Standing> {
        let solid = match part.bulk {
            Bulk::Stick => return None,
            Bulk::Ball(radius) => self.ball(radius),
            Bulk::Body => self.skin(&part.mesh)?,
        };
        Some(Standing::new(solid, part.pose))
    }

    /// The solids of a piece; none for one whose art can't be cut, which is said elsewhere.
    #[must_use]
    pub fn piece(&mut self, cake: &Cake, placed: &CakePiece) -> Vec<Standing> {
        let parts = placed_parts(cake, placed, &mut self.stock).unwrap_or_default();
        parts.iter().filter_map(|part| self.standing(part)).collect()
    }

    /// The solids of a tier and of its courses.
    #[must_use]
    pub fn tier(&mut self, tier: &CakeTier) -> Vec<Standing> {
        let mut solids = vec![tier_solid(tier)];
        for course in &tier.courses {
            solids.extend(self.course(tier, course));
        }
        solids
    }

    /// The solids of a course.
    #[must_use]
    pub fn course(&mut self, tier: &CakeTier, course: &CakeCourse) -> Vec<Standing> {
        if course.height() <= 0.0 {
            return Vec::new();
        }
        let one = |solid: Solid| vec![Standing::new(Arc::new(solid), tier.pose())];
        match &course.kind {
            CourseKind::Rope { diameter, .. } => {
                let radius = diameter.as_mm() / 2.0;
                one(Solid::Rope(Rope { outline: tier.outline.clone(), radius, up: course.bottom + radius }))
            }
            CourseKind::Pearls { diameter, .. } => {
                let ball = self.ball(diameter.as_mm() / 2.0);
                let places = pearls(tier, course, diameter.as_mm()).into_iter();
                let pose = |at: DVec3| tier.pose() * DAffine3::from_translation(at);
                places.map(|at| Standing::new(ball.clone(), pose(at))).collect()
            }
            // A print on part of the side is thinner than any tolerance: it needs no solid of its own.
            CourseKind::Wrap(wrap) if wrap.stretch.is_some() => Vec::new(),
            CourseKind::Band { .. } | CourseKind::Wrap(_) => {
                one(block(tier, course.outer, (course.bottom, course.top), 0.0))
            }
            CourseKind::Bare { .. } => Vec::new(),
        }
    }
}

/// The solid of a tier, without its courses.
#[must_use]
pub fn tier_solid(tier: &CakeTier) -> Standing {
    let block = block(tier, 0.0, (0.0, tier.height.as_mm()), tier.edge.as_mm());
    Standing::new(Arc::new(block), tier.pose())
}

/// The solid of the board.
#[must_use]
pub fn board_solid(cake: &Cake) -> Standing {
    let board = &cake.board;
    let block =
        Block { outline: board.outline.clone(), out: 0.0, foot: -board.thickness.as_mm(), top: 0.0, edge: BOARD_EDGE };
    Standing::new(Arc::new(Solid::Block(block)), DAffine3::IDENTITY)
}

fn block(tier: &CakeTier, out: f64, (foot, top): (f64, f64), edge: f64) -> Solid {
    Solid::Block(Block { outline: tier.outline.clone(), out, foot, top, edge })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;
    use crate::shapes::solid::overlap;

    /// Petals are thinner than a millimetre: how deep they reach into a tier must be seen all the same.
    #[test]
    fn thin_petals_are_felt_as_deep_as_they_reach() {
        for (x, size) in [(70.0, 60.0), (68.0, 24.0), (82.0, 60.0)] {
            let text = format!(
                "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"low\"\nsize = 240\nheight = 100\n[[tier]]\nname = \"high\"\n\
                 size = 120\nheight = 90\n[[piece]]\nname = \"f\"\nkind = \"solid\"\nform = \"flowers\"\n\
                 seat = {{ on = \"low\", surface = \"top\" }}\nat = {{ x = {x}, z = 10 }}\nsize = [{size}, 30]\nfinish = \"red\"\n"
            );
            let design = Arc::new(read_design(&text, "cake.toml").unwrap());
            let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
            let mut stock = SolidStock::default();
            let tier = stock.tier(&cake.tiers[1]);
            let flowers = stock.piece(&cake, &cake.pieces[0]);
            let found = flowers.iter().filter_map(|part| overlap(&tier[0], part, 0.5)).map(|found| found.depth);
            let parts = placed_parts(&cake, &cake.pieces[0], &mut Stock::default()).unwrap();
            let corners = parts.iter().flat_map(Part::places);
            let deepest = corners.map(|at| tier[0].depth(at).inside).fold(0.0, f64::max);
            let found = found.fold(0.0, f64::max);
            assert!(deepest > 2.0 && found > deepest - 0.2 && found < deepest + 2.0, "{x} {size}: {found} {deepest}");
        }
    }

    /// Kinds of piece with what they must say.
    const KINDS: [&str; 10] = [
        "kind = 'topper'\nart = 'flag.svg'\nheight = 40\nthickness = 5\n\
         picks = { count = 1, diameter = 2, into_piece = 9, into_cake = 20 }",
        "kind = 'plaque'\nsize = [50, 30]\nthickness = 4",
        "kind = 'rope'\nsize = 6\nlength = 60",
        "kind = 'rope'\nsize = 6\nring = 40",
        "kind = 'bow'\nribbon = 20\nloops = 3\nloop = 35\ntails = 2\ntail = 50\ncut = 'slant'\nthickness = 2.5",
        "kind = 'sign'\ntext = 'hi'\nletters = { height = 10 }\nsize = [60, 20]\nthickness = 3\nborder = 3\nwave = 6",
        "kind = 'rod'\nparts = [{ length = 60, from = 6, to = 6, finish = 'red' }, \
         { length = 10, from = 6, to = 30, finish = 'red' }]",
        "kind = 'solid'\nform = 'candle'\nsize = [8, 60]",
        "kind = 'solid'\nform = 'figure'\nsize = [25, 50]",
        "kind = 'solid'\nform = 'flowers'\nsize = [50, 35]",
    ];
    const SEATS: [&str; 6] = [
        "seat = { on = 'a', surface = 'top' }\nat = { x = 20, z = 30 }",
        "seat = { on = 'a', surface = 'side' }\nat = { along = 70, up = 50 }",
        "seat = { on = 'a', surface = 'side' }\nat = { along = 300, up = 50 }",
        "seat = { on = 'board', surface = 'board' }\nat = { x = 130, z = 10 }",
        "seat = { on = 'under', surface = 'top' }\nat = { x = 5, z = 0 }",
        "seat = { on = 'under', surface = 'side' }\nat = { along = 5, up = 0 }",
    ];

    /// A cake of a shape with a plate on it, and a second piece; `None` for what the reader refuses.
    fn with_piece(shape: &str, piece: &str) -> Option<Cake> {
        let text = format!(
            "title = 't'\nunit = 'mm'\n[board]\nsize = 320\n[[tier]]\nname = 'a'\nshape = '{shape}'\nsize = 200\nheight = 100\n\
             [[piece]]\nname = 'under'\nkind = 'plaque'\nseat = {{ on = 'a', surface = 'top' }}\nat = {{ x = -20, z = 0 }}\n\
             size = [60, 50]\nthickness = 5\nfinish = 'red'\n[[piece]]\nname = 'p'\n{piece}\n"
        );
        let design = read_design(&text, "cake.toml").ok()?;
        Some(resolve(&Arc::new(design), &Arc::new(crate::cake::pieces::trial::shelf())).unwrap())
    }

    /// What a piece's box says is free must be free, whatever it is and wherever it sits.
    #[test]
    fn no_solid_reaches_out_of_its_box() {
        let mut tried = 0;
        for (shape, lean) in ["round", "square", "heart"]
            .iter()
            .flat_map(|shape| [(shape, "turn = 20"), (shape, "turn = -35\ntilt = 25")])
        {
            for (kind, seat) in KINDS.iter().flat_map(|kind| SEATS.iter().map(move |seat| (kind, seat))) {
                let finish = if kind.contains("rod") { "" } else { "finish = 'red'" };
                let text = format!("{kind}\n{seat}\n{lean}\n{finish}");
                let Some(cake) = with_piece(shape, &text) else { continue };
                let (low, high) = crate::cake::extent::piece_box(&cake, &cake.pieces[1]);
                for at in SolidStock::default().piece(&cake, &cake.pieces[1]).iter().flat_map(Standing::corners) {
                    assert!(at.cmpge(low).all() && at.cmple(high).all(), "{shape}: {at} {low} {high}\n{text}");
                }
                tried += 1;
            }
        }
        assert!(tried > 150, "{tried}");
    }
}
