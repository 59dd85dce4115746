//! Every size of a cake that something is made to.

use super::{Made, Planned};
use crate::cake::extent::board_needed;
use crate::cake::{CakePiece, CakeTier};
use crate::design::model::{CourseKind, Form, Piece};
use crate::kitchen::supports;
use crate::measure::Length;
use crate::wraps::WrapPlan;

/// One size of the cake; of what is printed or cut, with that.
#[derive(Clone, Debug)]
pub(super) struct Figure {
    pub name: String,
    pub size: Length,
    pub made: Option<(Made, String)>,
}

/// The list being filled.
#[derive(Default)]
struct Figures(Vec<Figure>);

impl Figures {
    fn note(&mut self, name: String, size: Length, made: Option<(Made, &str)>) {
        self.0.push(Figure { name, size, made: made.map(|(made, what)| (made, what.to_owned())) });
    }
}

/// All of them, from the board up, then the pieces, then the board.
pub(super) fn figures(of: Planned<'_>) -> Vec<Figure> {
    let mut figures = Figures::default();
    for (number, tier) in of.cake.tiers.iter().enumerate() {
        figures.note(format!("“{}”, around", tier.name), tier.around(), None);
        figures.note(format!("“{}”, across", tier.name), tier.across(), None);
        figures.note(format!("“{}”, high", tier.name), tier.height, None);
        courses(&mut figures, tier, |course| of.plans.iter().find(|plan| (plan.tier, plan.course) == (number, course)));
    }
    for support in supports(of.cake) {
        let under = of.cake.tiers.get(support.under).map(|tier| tier.name.as_str()).unwrap_or_default();
        let dowels = format!("the dowels under “{under}”");
        figures.note(format!("{dowels}, long"), support.length, Some((Made::Cut, &dowels)));
        figures.note(format!("{dowels}, thick"), support.diameter, Some((Made::Cut, &dowels)));
    }
    for placed in &of.cake.pieces {
        if let Some(piece) = of.cake.designed(placed) {
            piece_figures(&mut figures, piece, placed);
        }
    }
    figures.note("the board, at least".to_owned(), board_needed(of.cake), None);
    figures.0
}

fn courses<'a>(figures: &mut Figures, tier: &CakeTier, plan: impl Fn(usize) -> Option<&'a WrapPlan>) {
    for (number, course) in tier.courses.iter().enumerate() {
        let name = course_name(&tier.name, &course.name);
        let Some(plan) = plan(number) else {
            let cut = (!matches!(course.kind, CourseKind::Bare { .. })).then_some((Made::Cut, name.as_str()));
            figures.note(format!("{name}, high"), Length::mm(course.height()), cut);
            figures.note(format!("{name}, long"), course.length, cut);
            continue;
        };
        let print = Some((Made::Printed, name.as_str()));
        figures.note(format!("{name}, high"), Length::mm(plan.height), print);
        figures.note(format!("{name}, long"), Length::mm(plan.length), print);
        for (number, strip) in plan.strips.iter().enumerate() {
            figures.note(format!("{name}, strip {} wide", number + 1), Length::mm(strip.width), print);
        }
        if let Some(under) = plan.under {
            let strip = format!("{name}, strip of paste beneath");
            figures.note(format!("{strip}, long"), Length::mm(under.length), Some((Made::Cut, &strip)));
        }
    }
}

fn piece_figures(figures: &mut Figures, piece: &Piece, placed: &CakePiece) {
    let name = format!("“{}”", piece.name);
    let made = Some((if is_printed(piece) { Made::Printed } else { Made::Cut }, name.as_str()));
    figures.note(format!("{name}, wide"), placed.measure.size.width, made);
    figures.note(format!("{name}, high"), placed.measure.size.height, made);
    for cut in &placed.measure.cuts {
        let own = Some((Made::Cut, name.as_str()));
        for (side, size) in [("long", cut.length), ("wide", cut.width), ("thick", cut.thickness)] {
            figures.note(format!("{name}, {} {side}", cut.what), size, own);
        }
    }
    for pick in &placed.measure.picks {
        let sticks = format!("{name}, {}", pick.kind.word());
        if !figures.0.iter().any(|known| known.made.as_ref().is_some_and(|(_, what)| *what == sticks)) {
            figures.note(format!("{sticks} long"), pick.length, Some((Made::Cut, &sticks)));
        }
    }
}

/// What a course is called here.
pub(super) fn course_name(tier: &str, course: &str) -> String {
    format!("“{course}” of “{tier}”")
}

/// Whether a print lies on the piece.
pub(super) fn is_printed(piece: &Piece) -> bool {
    match &piece.form {
        Form::Topper(topper) => topper.print,
        Form::Plaque(plaque) => plaque.art.is_some(),
        Form::Sign(sign) => sign.art.is_some(),
        _ => false,
    }
}
