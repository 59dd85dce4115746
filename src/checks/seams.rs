//! `ball-on-seam`: a ball that should keep clear of seams lies on one. A scatter keeps clear of seams whose place is fixed by
//! itself; of those that are planned, and of where a single ball lies, it is said here.

use glam::DVec2;

use crate::cake::{Cake, CakePiece};
use crate::design::model::{Form, Surface};
use crate::findings::{Code, Finding, Place};
use crate::measure::{Length, show_length};
use crate::wraps::{End, WrapPlan};

/// A seam on a tier's side: its reading, and the heights from and to, mm.
struct Seam {
    tier: usize,
    along: f64,
    heights: [f64; 2],
}

/// What lies on a planned seam, or on where a band or rope ends, and should not.
#[must_use]
pub fn on_seams(cake: &Cake, plans: &[WrapPlan], ends: &[End]) -> Vec<Finding> {
    let planned = plans.iter().flat_map(|plan| plan.seams.iter().map(move |seam| (plan.tier, plan.course, seam.along)));
    let laid = ends.iter().map(|end| (end.tier, end.course, end.along));
    let seams: Vec<Seam> = planned
        .chain(laid)
        .filter_map(|(tier, course, along)| {
            let course = cake.tiers.get(tier)?.courses.get(course)?;
            Some(Seam { tier, along, heights: [course.bottom, course.top] })
        })
        .collect();
    cake.pieces.iter().filter_map(|placed| judge(cake, placed, &seams)).collect()
}

fn judge(cake: &Cake, placed: &CakePiece, seams: &[Seam]) -> Option<Finding> {
    let piece = cake.designed(placed)?;
    if piece.seat.surface != Surface::Side {
        return None;
    }
    let Kept { tier, balls, clear } = Kept::of(cake, placed)?;
    let outline = &cake.tiers.get(tier)?.outline;
    let lacking = |&(at, radius): &(DVec2, f64)| {
        let reach = radius + clear.as_mm();
        let near = seams.iter().filter(|seam| {
            let [bottom, top] = seam.heights;
            seam.tier == tier && at.y + reach > bottom && at.y - reach < top
        });
        near.map(|seam| reach - outline.reading(at.x - seam.along).abs()).fold(0.0, f64::max)
    };
    let near: Vec<f64> = balls.iter().map(lacking).filter(|by| *by > 1e-6).collect();
    let by = Length::mm(near.iter().copied().fold(0.0, f64::max));
    let says = show_length(by, cake.design.unit);
    let (what, mend) = match near.len() {
        0 => return None,
        _ if balls.len() == 1 => {
            ("it lies".to_owned(), format!("move it {says} along the side, or pin the seam elsewhere"))
        }
        1 => ("one of its balls lies".to_owned(), "another seed, or pin the seam elsewhere".to_owned()),
        many => (format!("{many} of its balls lie"), "another stretch, or pin the seams elsewhere".to_owned()),
    };
    let sentence = format!("{what} {says} too near to a seam");
    Some(Finding::new(Code::BallOnSeam, Place::piece(&piece.name), sentence, mend).by(by))
}

/// Balls that keep clear of seams.
struct Kept {
    tier: usize,
    /// Middle on the tape, and radius, mm.
    balls: Vec<(DVec2, f64)>,
    clear: Length,
}

impl Kept {
    fn of(cake: &Cake, placed: &CakePiece) -> Option<Self> {
        let piece = cake.designed(placed)?;
        match &piece.form {
            Form::Ball(ball) => {
                let side = placed.side?;
                let balls = vec![(DVec2::new(side.along, side.up), ball.size.as_mm() / 2.0)];
                Some(Self { tier: side.tier, balls, clear: ball.clear_of_seams? })
            }
            Form::Scatter(scatter) => {
                let tier = cake.tiers.iter().position(|tier| tier.name == piece.seat.on.word())?;
                let balls = placed.measure.balls.iter().map(|ball| (ball.at, ball.across / 2.0)).collect();
                Some(Self { tier, balls, clear: scatter.clear_of_seams? })
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::trial::cake;
    use crate::wraps::{Onlookers, ends, plan_before};

    fn found(piece: &str) -> Vec<Finding> {
        let tier = "[[tier]]\nname = \"a\"\nsize = 150\nheight = 100\n[[tier.course]]\nname = \"band\"\nkind = \"band\"\n\
                    height = 60\nsize = 3\nseam = 20\n[[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n";
        let cake =
            cake(&format!("{tier}[[piece]]\nname = \"p\"\nseat = {{ on = \"a\", surface = \"side\" }}\n{piece}\n"));
        let onlookers = Onlookers::new(&cake);
        let (plans, _) = plan_before(&cake, &onlookers);
        on_seams(&cake, &plans, &ends(&cake, &onlookers))
    }

    #[test]
    fn a_ball_keeps_clear_of_a_seam_where_asked() {
        let ball = |along: f64, up: f64, clear: &str| {
            let at = format!("at = {{ along = {along}, up = {up} }}");
            found(&format!("kind = \"ball\"\n{at}\nsize = 20\npin = true\nfinish = \"gold\"\n{clear}"))
        };
        // The band is joined at 20 mm: 10 mm of ball and 5 mm of room reach from 5 to 35.
        let near = ball(28.0, 30.0, "clear_of_seams = 5");
        assert_eq!(near.iter().map(|finding| finding.code).collect::<Vec<_>>(), [Code::BallOnSeam]);
        assert!((near[0].by.unwrap().as_mm() - 7.0).abs() < 1e-6, "{near:?}");
        assert_eq!(ball(36.0, 30.0, "clear_of_seams = 5"), []);
        assert_eq!(ball(28.0, 85.0, "clear_of_seams = 5"), []);
        assert_eq!(ball(28.0, 30.0, ""), []);
    }

    #[test]
    fn a_scatter_keeps_clear_by_itself() {
        let scatter = |clear: &str| {
            found(&format!(
                "kind = \"scatter\"\nover = {{ along = [0, 40], up = [0, 60] }}\nsizes = [[8, 12]]\nseed = 3\nfinish = \"gold\"\n{clear}"
            ))
        };
        assert_eq!(scatter("clear_of_seams = 1"), []);
        assert_eq!(scatter(""), []);
    }
}
