//! The bodies of a cake that changes a little at a time: what stays as it was is not built again.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::bodies::{board_body, piece_bodies, tier_bodies};
use super::body::{Body, Owner};
use super::pieces::Stock;
use super::{Cake, CakeError, CakePiece, CakeTier};

/// Bodies of the cake that was shown last.
///
/// A body that is kept has the same mesh (the same [`Arc`]) as before, so whoever follows the bodies sees by its place in memory
/// that nothing changed.
#[derive(Debug, Default)]
pub struct Keep {
    last: Option<Last>,
}

#[derive(Debug)]
struct Last {
    cake: Arc<Cake>,
    board: Body,
    /// From the board up: each tier with its courses.
    tiers: Vec<Vec<Body>>,
    /// By name.
    pieces: BTreeMap<String, (CakePiece, Vec<Body>)>,
}

impl Keep {
    /// Every solid of the cake but its printed wraps, as [`super::bodies`] makes them, in the same order.
    ///
    /// # Errors
    /// A piece whose art can't be cut.
    pub fn bodies(&mut self, cake: &Arc<Cake>) -> Result<Vec<Body>, CakeError> {
        let last = self.last.take().filter(|last| has_same_makings(&last.cake, cake));
        let mut stock = Stock::default();
        let tiers = cake.tiers.iter().enumerate().map(|(index, tier)| tier_again(last.as_ref(), cake, (index, tier)));
        let tiers: Vec<Vec<Body>> = tiers.collect();
        let mut pieces = BTreeMap::new();
        let mut order = Vec::with_capacity(cake.pieces.len());
        for placed in &cake.pieces {
            let Some(name) = cake.designed(placed).map(|piece| piece.name.clone()) else { continue };
            let bodies = piece_again(last.as_ref(), cake, (&name, placed), &mut stock)?;
            order.push(bodies.clone());
            pieces.insert(name, (placed.clone(), bodies));
        }
        let fresh = board_body(cake);
        let board = match &last {
            Some(last) => alike(vec![fresh.clone()], std::slice::from_ref(&last.board)).pop().unwrap_or(fresh),
            None => fresh,
        };
        let all = [board.clone()].into_iter().chain(tiers.iter().flatten().cloned()).chain(order.into_iter().flatten());
        let all = all.collect();
        self.last = Some(Last { cake: Arc::clone(cake), board, tiers, pieces });
        Ok(all)
    }
}

/// Whether two cakes are made from the same art in the same colours.
fn has_same_makings(one: &Cake, other: &Cake) -> bool {
    Arc::ptr_eq(&one.shelf, &other.shelf) && one.design.finishes == other.design.finishes
}

/// Whether the tier of this number is the same and stands where it stood.
fn is_same_tier(last: &Cake, cake: &Cake, index: usize) -> bool {
    let designed = last.design.tiers.get(index) == cake.design.tiers.get(index);
    let stands = |cake: &Cake| cake.tiers.get(index).map(CakeTier::pose);
    designed && stands(last) == stands(cake)
}

fn tier_again(last: Option<&Last>, cake: &Cake, (index, tier): (usize, &CakeTier)) -> Vec<Body> {
    let before = last.and_then(|last| Some((last, last.tiers.get(index)?)));
    match before {
        Some((last, bodies)) if is_same_tier(&last.cake, cake, index) => bodies.clone(),
        Some((_, bodies)) => alike(tier_bodies(cake, (index, tier)), bodies),
        None => tier_bodies(cake, (index, tier)),
    }
}

fn piece_again(
    last: Option<&Last>,
    cake: &Cake,
    (name, placed): (&str, &CakePiece),
    stock: &mut Stock,
) -> Result<Vec<Body>, CakeError> {
    let Some((last, (was, bodies))) = last.and_then(|last| Some((last, last.pieces.get(name)?))) else {
        return piece_bodies(cake, placed, stock);
    };
    let stands = was.pose == placed.pose && was.tilt == placed.tilt && was.side == placed.side;
    let side = placed.side.is_none_or(|side| is_same_tier(&last.cake, cake, side.tier));
    let is_same = stands && side && was.measure == placed.measure;
    if is_same && last.cake.designed(was) == cake.designed(placed) {
        let owner = Owner::Piece(placed.index);
        return Ok(bodies.iter().map(|body| Body { owner, ..body.clone() }).collect());
    }
    Ok(alike(piece_bodies(cake, placed, stock)?, bodies))
}

/// The same bodies, those with a mesh like an earlier one's with that very mesh.
fn alike(mut bodies: Vec<Body>, before: &[Body]) -> Vec<Body> {
    for body in &mut bodies {
        if let Some(was) = before.iter().find(|was| was.name == body.name && was.mesh == body.mesh) {
            body.mesh = Arc::clone(&was.mesh);
        }
    }
    bodies
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Shelf;
    use crate::cake::{bodies, resolve};
    use crate::design::read_design;

    fn cake(ball: &str, height: &str) -> Arc<Cake> {
        let text = format!(
            "unit = 'mm'\n[[tier]]\nname = 'low'\nsize = 200\nheight = {height}\n\
             course = [{{ name = 'foot', kind = 'rope', size = 8, finish = 'red' }}]\n\
             [[tier]]\nname = 'high'\nsize = 120\nheight = 80\n\
             [[piece]]\nname = 'bow'\nkind = 'bow'\nribbon = 20\nloops = 2\nloop = 30\ntails = 2\ntail = 40\ncut = 'slant'\n\
             thickness = 2\nfinish = 'red'\nseat = {{ on = 'low', surface = 'side' }}\nat = {{ along = 0, up = 50 }}\n\
             [[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 20\nfinish = 'red'\nseat = {{ on = 'high', surface = 'top' }}\n\
             at = {ball}\n"
        );
        let design = Arc::new(read_design(&text, "cake.toml").unwrap());
        Arc::new(resolve(&design, &SHELF.with(Arc::clone)).unwrap())
    }

    thread_local! {
        static SHELF: Arc<Shelf> = Arc::default();
    }

    /// Names of the bodies whose mesh is another than before.
    fn anew(before: &[Body], after: &[Body]) -> Vec<String> {
        let kept = |body: &&Body| before.iter().any(|was| Arc::ptr_eq(&was.mesh, &body.mesh));
        after.iter().filter(|body| !kept(body)).map(|body| body.name.clone()).collect()
    }

    #[test]
    fn only_what_changed_is_built_anew_and_all_of_it_is_right() {
        let mut keep = Keep::default();
        let first = keep.bodies(&cake("{ x = 0, z = 0 }", "100")).unwrap();
        let moved_cake = cake("{ x = 10, z = 5 }", "100");
        let moved = keep.bodies(&moved_cake).unwrap();
        assert_eq!(anew(&first, &moved), Vec::<String>::new());
        let higher_cake = cake("{ x = 10, z = 5 }", "110");
        let higher = keep.bodies(&higher_cake).unwrap();
        assert_eq!(anew(&moved, &higher), ["low"]);
        for (kept, cake) in [(moved, moved_cake), (higher, higher_cake)] {
            let built = bodies(&cake).unwrap();
            assert_eq!(kept.len(), built.len());
            for (kept, built) in kept.iter().zip(&built) {
                assert_eq!((&kept.name, &kept.pose, kept.owner), (&built.name, &built.pose, built.owner));
                assert_eq!(kept.mesh, built.mesh, "{}", kept.name);
            }
        }
    }
}
