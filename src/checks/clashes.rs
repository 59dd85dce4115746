//! What is seen at once while a piece is dragged, before anything is planned: what runs into what, what stands out over an edge.

use std::collections::{BTreeMap, BTreeSet};

use super::{edge, overlap};
use crate::cake::{Cake, Owner};
use crate::findings::Finding;

/// A piece that is where it can't be.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// All of the design's pieces that it is about, by number: the two that run into each other, the one over its edge.
    pub pieces: Vec<usize>,
    /// What is to be said of it.
    pub finding: Finding,
}

/// The clashes of these pieces of the design, by number; the other pieces are looked at only as far as these run into them.
#[must_use]
pub fn clashes(cake: &Cake, pieces: &BTreeSet<usize>) -> Vec<Clash> {
    let counts = |piece: usize| pieces.contains(&piece);
    let meetings = overlap::meetings(cake, counts).into_iter().flat_map(|(pair, depth)| {
        let pieces: Vec<usize> = [pair.0, pair.1].into_iter().filter_map(number).collect();
        let findings = overlap::findings(cake, &BTreeMap::from([(pair, depth)]));
        findings.into_iter().map(move |finding| Clash { pieces: pieces.clone(), finding })
    });
    let over = edge::over(cake, counts).into_iter().map(|(piece, finding)| Clash { pieces: vec![piece], finding });
    meetings.chain(over).collect()
}

const fn number(owner: Owner) -> Option<usize> {
    match owner {
        Owner::Piece(piece) => Some(piece),
        Owner::Board | Owner::Tier(_) | Owner::Course(..) => None,
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::sync::Arc;

    use super::clashes;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::checks::all;
    use crate::design::read_design;
    use crate::findings::Code;

    const TEXT: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n\
        [[piece]]\nname = 'one'\nkind = 'ball'\nsize = 1\nseat = { on = 'base', surface = 'top' }\n\
        [[piece]]\nname = 'two'\nkind = 'ball'\nsize = 1\nat = { x = '1/2' }\nseat = { on = 'base', surface = 'top' }\n\
        [[piece]]\nname = 'out'\nkind = 'ball'\nsize = 1\nat = { x = 4 }\nseat = { on = 'base', surface = 'top' }\n";

    #[test]
    fn only_the_pieces_asked_for_are_judged_and_both_of_a_pair_are_named() {
        let design = Arc::new(read_design(TEXT, "").unwrap());
        let cake = resolve(&design, &Arc::new(Shelf::default())).unwrap();
        let of = |pieces: &[usize]| clashes(&cake, &pieces.iter().copied().collect::<BTreeSet<_>>());
        let one = of(&[0]);
        assert_eq!((one.len(), &one[0].pieces), (1, &vec![0, 1]));
        assert_eq!(one[0].finding.code, Code::PiecesOverlap);
        assert_eq!(of(&[1])[0].pieces, [0, 1]);
        let out = of(&[2]);
        assert_eq!((out.len(), &out[0].pieces, out[0].finding.code), (1, &vec![2], Code::PieceOverEdge));
        assert!(of(&[]).is_empty());
        // What the whole list says of these rules is said here too.
        let every = all(&cake, Vec::new());
        for clash in of(&[0, 1, 2]) {
            assert!(every.contains(&clash.finding), "{:?}", clash.finding);
        }
    }
}
