//! The bodies of a cake that changes a little at a time: what stays as it was is not built again.

use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::bodies::{board_body, bodies_of, own_parts, tier_bodies};
use super::body::{Body, Owner};
use super::pieces::{Part, Posture, Stock};
use super::{Cake, CakeError, CakePiece, CakeTier};
use crate::design::model::Piece;

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
    /// As the cake's pieces.
    pieces: Vec<Kept>,
}

/// A piece as it was shown last.
#[derive(Debug, Default)]
struct Kept {
    /// In its own frame: they stay while it is only moved.
    parts: Vec<Part>,
    bodies: Vec<Body>,
}

impl Keep {
    /// Every solid of the cake but its printed wraps, as [`super::bodies`] makes them, in the same order.
    ///
    /// # Errors
    /// A piece whose art can't be cut.
    pub fn bodies(&mut self, cake: &Arc<Cake>) -> Result<Vec<Body>, CakeError> {
        let mut last = self.last.take().filter(|last| has_same_makings(&last.cake, cake));
        let mut stock = Stock::default();
        let stays: Vec<bool> = (0..cake.tiers.len())
            .map(|index| last.as_ref().is_some_and(|last| is_same_tier(&last.cake, cake, index)))
            .collect();
        let tiers = cake.tiers.iter().enumerate().map(|at| tier_again(last.as_ref(), cake, at, &stays));
        let tiers: Vec<Vec<Body>> = tiers.collect();
        let mut before = last.as_mut().map(|last| std::mem::take(&mut last.pieces)).unwrap_or_default();
        let numbers = Numbers::default();
        let mut pieces = Vec::with_capacity(cake.pieces.len());
        for (number, placed) in cake.pieces.iter().enumerate() {
            let was = last.as_ref().and_then(|last| {
                let number = numbers.find(&last.cake, (number, &cake.designed(placed)?.name))?;
                Some((&*last.cake, last.cake.pieces.get(number)?, std::mem::take(before.get_mut(number)?)))
            });
            pieces.push(piece_again(was, (cake, placed, &stays), &mut stock)?);
        }
        let fresh = board_body(cake);
        let board = match &last {
            Some(last) => alike(vec![fresh.clone()], std::slice::from_ref(&last.board)).pop().unwrap_or(fresh),
            None => fresh,
        };
        let of_pieces = pieces.iter().flat_map(|kept| &kept.bodies);
        let all = [&board].into_iter().chain(tiers.iter().flatten()).chain(of_pieces).cloned().collect();
        self.last = Some(Last { cake: Arc::clone(cake), board, tiers, pieces });
        Ok(all)
    }
}

/// Where the pieces of an earlier cake stood among its pieces.
#[derive(Default)]
struct Numbers {
    by_name: OnceCell<BTreeMap<String, usize>>,
}

impl Numbers {
    /// Where the piece of this name stood: mostly where it stands now, else its name is looked for.
    fn find(&self, last: &Cake, (number, name): (usize, &str)) -> Option<usize> {
        let name_of = |placed| last.designed(placed).map(|piece| piece.name.as_str());
        if last.pieces.get(number).and_then(name_of) == Some(name) {
            return Some(number);
        }
        let all = || {
            let named = |(number, placed)| Some((name_of(placed)?.to_owned(), number));
            last.pieces.iter().enumerate().filter_map(named).collect()
        };
        self.by_name.get_or_init(all).get(name).copied()
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

fn tier_again(last: Option<&Last>, cake: &Cake, (index, tier): (usize, &CakeTier), stays: &[bool]) -> Vec<Body> {
    match last.and_then(|last| last.tiers.get(index)) {
        Some(bodies) if stays.get(index) == Some(&true) => bodies.clone(),
        Some(bodies) => alike(tier_bodies(cake, (index, tier)), bodies),
        None => tier_bodies(cake, (index, tier)),
    }
}

fn piece_again(
    was: Option<(&Cake, &CakePiece, Kept)>,
    (cake, placed, stays): (&Cake, &CakePiece, &[bool]),
    stock: &mut Stock,
) -> Result<Kept, CakeError> {
    let anew = |parts: Vec<Part>| Kept { bodies: bodies_of(cake, placed, &parts), parts };
    let Some((last, stood, mut was)) = was else { return Ok(anew(own_parts(cake, placed, stock)?)) };
    let same_parts = has_same_parts((last, stood), (cake, placed));
    if same_parts && stands_as_before(stood, placed, stays) {
        was.bodies.iter_mut().for_each(|body| body.owner = Owner::Piece(placed.index));
        return Ok(was);
    }
    let parts = if same_parts { was.parts } else { own_parts(cake, placed, stock)? };
    let kept = anew(parts);
    Ok(Kept { bodies: alike(kept.bodies, &was.bodies), ..kept })
}

/// Whether a piece has the same parts in its own frame as before, wherever it sits.
fn has_same_parts((last, was): (&Cake, &CakePiece), (cake, placed): (&Cake, &CakePiece)) -> bool {
    let (Some(before), Some(now)) = (last.designed(was), cake.designed(placed)) else { return false };
    let posture = |piece: &Piece| Posture::from(piece.seat.surface);
    let same_measure = Arc::ptr_eq(&was.measure, &placed.measure) || was.measure == placed.measure;
    before.form == now.form && posture(before) == posture(now) && same_measure
}

/// Whether a piece stands just where it stood, on the same: `stays` says which tiers do.
fn stands_as_before(was: &CakePiece, placed: &CakePiece, stays: &[bool]) -> bool {
    let stands = was.pose == placed.pose && was.tilt == placed.tilt && was.side == placed.side;
    stands && placed.side.is_none_or(|side| stays.get(side.tier) == Some(&true))
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
    use crate::cake::pieces::trial;
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
        static FLAG: Arc<Shelf> = Arc::new(trial::shelf());
    }

    #[test]
    fn a_piece_that_is_moved_keeps_its_own_meshes_and_pictures() {
        let at = |x: u32| {
            let text = format!(
                "unit = 'mm'\n[[tier]]\nname = 'low'\nsize = 200\nheight = 100\n\
                 [[piece]]\nname = 'flag'\nkind = 'topper'\nart = 'flag.svg'\nheight = 60\nthickness = 3\nfinish = 'white'\n\
                 print = true\nseat = {{ on = 'low', surface = 'top' }}\nat = {{ x = {x}, z = 0 }}\n"
            );
            let design = Arc::new(read_design(&text, "cake.toml").unwrap());
            Arc::new(resolve(&design, &FLAG.with(Arc::clone)).unwrap())
        };
        let mut keep = Keep::default();
        let face = |bodies: Vec<Body>| bodies.into_iter().find(|body| &*body.name == "flag · front").unwrap();
        let before = face(keep.bodies(&at(0)).unwrap());
        let after = face(keep.bodies(&at(20)).unwrap());
        assert!((after.pose.translation.x - before.pose.translation.x - 20.0).abs() < 1e-9);
        assert!(Arc::ptr_eq(&before.mesh, &after.mesh));
        assert!(Arc::ptr_eq(&before.surface.picture.unwrap(), &after.surface.picture.unwrap()));
    }

    /// Names of the bodies whose mesh is another than before.
    fn anew(before: &[Body], after: &[Body]) -> Vec<String> {
        let kept = |body: &&Body| before.iter().any(|was| Arc::ptr_eq(&was.mesh, &body.mesh));
        after.iter().filter(|body| !kept(body)).map(|body| body.name.to_string()).collect()
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
