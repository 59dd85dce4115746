//! The one mend of a finding, where there is one: an edit that a button can offer.

use super::bench::Workbench;
use super::choose::{Thing, placed};
use super::first::{first_picks, first_stick};
use super::{CourseEdit, CourseName, Edit, PieceEdit, TierEdit, WholeEdit};
use crate::cake::Cake;
use crate::design::Design;
use crate::design::model::{CourseKind, Dowels, Fit, Form, Piece, SeamPlace, Tier, Wrap};
use crate::findings::{Code, Finding, Threshold};
use crate::measure::{Length, Unit, show_length};

/// A mend that needs no choice of the person's.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What the button says.
    pub words: String,
    /// What it does.
    pub edit: Edit,
}

/// The mend of a finding about the design on the bench; `None` where there are several ways, or none that we know.
#[must_use]
pub fn mend(bench: &Workbench, finding: &Finding) -> Option<Mend> {
    let design = bench.design();
    match Thing::of_place(design, &finding.place)? {
        Thing::Board => board(design, finding),
        Thing::Piece(name) => {
            let piece = design.pieces.iter().find(|piece| piece.name == name).filter(|piece| !piece.locked)?;
            let (words, form) = piece_mend((bench.cake(), design), piece, finding)?;
            Some(Mend { words, edit: Edit::piece(name, PieceEdit::Form(Box::new(form))) })
        }
        Thing::Tier(name) => tier(design.tiers.iter().find(|tier| tier.name == name)?, finding),
        Thing::Course(name) | Thing::Seam(name, _) => course(bench, &name, finding),
    }
}

/// A length that a ruler shows, and not less.
fn up_to_ruler(length: Length, unit: Unit) -> Length {
    let step = if unit == Unit::Inch { Length::inches(0.125) } else { Length::mm(5.0) };
    step * (length / step - 1e-6).ceil()
}

fn board(design: &Design, finding: &Finding) -> Option<Mend> {
    let by = finding.by?;
    let more = match finding.code {
        Code::BoardTooSmall => by,
        Code::BoardNarrow => by * 2.0,
        _ => return None,
    };
    let larger = |length: Length| up_to_ruler(length + more, design.unit);
    let mut board = design.board.clone();
    board.size.width = larger(board.size.width);
    board.size.depth = board.size.depth.map(larger);
    let words = format!("Make the board {} across", show_length(board.size.width, design.unit));
    Some(Mend { words, edit: Edit::Whole(WholeEdit::Board(board)) })
}

fn piece_mend((cake, design): (&Cake, &Design), piece: &Piece, finding: &Finding) -> Option<(String, Form)> {
    let mut form = piece.form.clone();
    let words = match (&mut form, finding.code) {
        (Form::Ball(ball), Code::BallWithoutPin) => {
            ball.pin = true;
            "Give it a pin".to_owned()
        }
        (Form::Topper(topper), Code::TopperWithoutPick) => {
            topper.picks = Some(first_picks(design, piece)?);
            "Give it a stick".to_owned()
        }
        (Form::Rod(rod), Code::RodWithoutStick) => {
            rod.stick = Some(first_stick(design, piece)?);
            "Give it a stick".to_owned()
        }
        (Form::Rod(rod), Code::RodDoesNotReach) => {
            let last = rod.parts.last_mut()?;
            last.length = up_to_ruler(last.length + finding.by?, design.unit);
            format!("Make its last part {} long", show_length(last.length, design.unit))
        }
        (Form::Topper(topper), Code::PickTooShort) => {
            let picks = topper.picks.as_mut()?;
            let height = placed(cake, &piece.name)?.measure.size.height;
            let needs = |threshold: Threshold| up_to_ruler(height * threshold.value(), design.unit);
            picks.into_cake = picks.into_cake.max(needs(Threshold::PickInCake));
            picks.into_piece = picks.into_piece.max(needs(Threshold::PickInPiece));
            let [cake, piece] = [picks.into_cake, picks.into_piece].map(|length| show_length(length, design.unit));
            format!("Stick {cake} into the cake, {piece} into the piece")
        }
        _ => return None,
    };
    Some((words, form))
}

fn tier(tier: &Tier, finding: &Finding) -> Option<Mend> {
    (finding.code == Code::TierNotSupported && tier.dowels != Dowels::default() && !tier.locked).then(|| {
        let set = Tier { dowels: Dowels::default(), ..tier.clone() };
        let edit = Edit::tier(&tier.name, TierEdit::Set(Box::new(set)));
        Mend { words: "Plan its dowels as handbooks say".to_owned(), edit }
    })
}

fn course(bench: &Workbench, name: &CourseName, finding: &Finding) -> Option<Mend> {
    let design = bench.design();
    let tier = design.tiers.iter().find(|tier| tier.name == name.tier)?;
    let course = tier.courses.iter().find(|course| course.name == name.course).filter(|course| !course.locked)?;
    let edit = |edit| Edit::Course(name.clone(), edit);
    match (&course.kind, finding.code) {
        (CourseKind::Wrap(wrap), Code::RepeatStretched) => {
            let Fit::Repeat { shift, .. } = wrap.fit else { return None };
            let width = Length::mm(bench.plan_of(name)?.repeat?.width);
            let kind = CourseKind::Wrap(Box::new(Wrap { fit: Fit::Repeat { width, shift }, ..(**wrap).clone() }));
            let words = format!("Ask for a repeat of {}", show_length(width, design.unit));
            Some(Mend { words, edit: edit(CourseEdit::Set(Box::new(kind))) })
        }
        (CourseKind::Wrap(_), Code::SeamInSight) => {
            let seen = |seam: &&crate::wraps::Seam| seam.pinned && seam.exposure > Threshold::SeamInSight.value();
            let seams = bench.plan_of(name)?.seams.iter().filter(seen);
            let edits: Vec<Edit> = seams.map(|seam| edit(CourseEdit::Unpin(Length::mm(seam.along)))).collect();
            (!edits.is_empty()).then(|| Mend { words: "Let the pinned seam go".to_owned(), edit: Edit::Several(edits) })
        }
        (CourseKind::Rope { seam, .. } | CourseKind::Band { seam, .. }, Code::SeamInSight)
            if *seam != SeamPlace::Back =>
        {
            Some(Mend {
                words: "Let its ends meet at the back".to_owned(),
                edit: edit(CourseEdit::Seam(SeamPlace::Back)),
            })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::time::Duration;

    use super::*;
    use crate::design::read_design;
    use crate::findings::Place;

    const DECKED: &str = "unit = 'in'\n[board]\nsize = 7\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n\
        [[tier.course]]\nname = 'rope'\nkind = 'rope'\nsize = '1/4'\nseam = 'front'\n\
        [[tier.course]]\nname = 'lid'\nkind = 'bare'\nheight = 'fill'\n\
        [[tier]]\nname = 'top'\nsize = 5\nheight = 4\ndowels = { count = 0 }\n\
        [[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 1\nat = { along = 3, up = 2 }\n\
        seat = { on = 'base', surface = 'side' }\n";

    const PLAIN: &str = "unit = 'in'\n[board]\nsize = 20\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n\
        [[piece]]\nname = 'oar'\nkind = 'rod'\nat = { x = 0, z = 6 }\nleans_on = 'base'\n\
        seat = { on = 'board', surface = 'board' }\nparts = [{ length = 2, from = '1/4', to = '1/4' }]\n";

    /// Mends what has a mend, one after the other; gives the codes that were mended.
    fn mended(text: &str) -> Vec<Code> {
        let mut bench = Workbench::new(Arc::new(read_design(text, "").unwrap()), Arc::default()).unwrap();
        let mut mended: Vec<(Code, Place)> = Vec::new();
        // A larger board gets a narrow rim first: every round mends the first finding that has a mend.
        for _ in 0..12 {
            let done = bench.job().unwrap().run();
            bench.take(done);
            let found = bench.work().unwrap().findings.clone();
            if let Some((code, place)) = mended.last() {
                let still = found.iter().any(|other| other.code == *code && other.place == *place);
                assert!(!still, "{code:?} of {place} after its mend");
            }
            let Some((finding, mend)) = found.iter().find_map(|finding| Some((finding, mend(&bench, finding)?))) else {
                break;
            };
            assert!(!mend.words.is_empty());
            bench.edit(&mend.edit, Duration::ZERO).unwrap();
            mended.push((finding.code, finding.place.clone()));
        }
        mended.into_iter().map(|(code, _)| code).collect()
    }

    #[test]
    fn every_mend_mends_its_finding() {
        let decked = mended(DECKED);
        for code in [Code::BallWithoutPin, Code::BoardTooSmall, Code::TierNotSupported, Code::SeamInSight] {
            assert!(decked.contains(&code), "{code:?} in {decked:?}");
        }
        let plain = mended(PLAIN);
        for code in [Code::RodWithoutStick, Code::RodDoesNotReach] {
            assert!(plain.contains(&code), "{code:?} in {plain:?}");
        }
    }
}
