//! What does not fit, as findings.

use super::Lean;
use super::pieces::Shortfall;
use super::resolve::Cake;
use crate::design::model::Piece;
use crate::design::model::pieces::Rod;
use crate::findings::{Code, Finding};
use crate::measure::{Length, show_length};

/// A rod that ends before what it should rest on.
pub(super) fn too_short(cake: &Cake, piece: &Piece, (rod, lean, length): (&Rod, &Lean, Length)) -> Option<Finding> {
    let lacking = lean.contact - length;
    let says = |length| show_length(length, cake.design.unit);
    let on = rod.leans_on.as_deref().unwrap_or_default();
    let sentence =
        format!("it is {} long and would touch the edge of '{on}' only at {}", says(length), says(lean.contact));
    let mend = format!("make it {} longer, or set its foot nearer to the tier", says(lacking));
    let finding = Finding::new(Code::RodDoesNotReach, place(piece), sentence, mend);
    (lacking > Length::ZERO).then(|| finding.by(lacking))
}

/// What a piece itself has no room for.
pub(super) fn shortfall(cake: &Cake, piece: &Piece, lacking: &Shortfall) -> Finding {
    let says = |length| show_length(length, cake.design.unit);
    match lacking {
        Shortfall::Text { needs: [long, high], room: [wide, tall] } => {
            let by = (*long - *wide).max(*high - *tall);
            let sentence = format!(
                "its lettering is {} long and {} high, its face has room for {} by {}",
                says(*long),
                says(*high),
                says(*wide),
                says(*tall)
            );
            let mend = "smaller letters, fewer words, or a larger sign";
            Finding::new(Code::TextTooLong, place(piece), sentence, mend).by(by)
        }
        Shortfall::Crowded { asked, placed } => {
            let sentence = format!("only {placed} of {asked} balls find a free place");
            Finding::new(Code::ScatterCrowded, place(piece), sentence, "a larger stretch, fewer balls, or smaller ones")
        }
        Shortfall::NoEdge => {
            let sentence = "there is no edge for it to follow there";
            let mend = "a smaller edge = …, or seat it on a tier, the board or a flat piece";
            Finding::new(Code::NoEdgeToFollow, place(piece), sentence, mend)
        }
    }
}

fn place(piece: &Piece) -> String {
    format!("piece '{}'", piece.name)
}
