//! Templates: what is cut for a piece, each with the outline that its body is made from.
//!
//! Lengths in mm, x to the right, y up, as the cut lies flat with its front up. What is turned rather than cut (balls, ropes,
//! rods) has none.

use std::borrow::Cow;

use glam::DVec2;

use super::{Cut, CutEnd, Makings, Paint, PieceError, Posture, bow, plaque, sign, topper};
use crate::art::{Region, Ring};
use crate::design::model::Form;
use crate::measure::Length;

/// One thing to cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// Which part it becomes.
    pub what: Cow<'static, str>,
    /// Along what it is cut.
    pub region: Region,
    /// As rolled.
    pub thickness: Length,
    /// How many.
    pub count: u32,
    /// What it is made in.
    pub paint: Paint,
    /// What is drawn on it and not cut.
    pub guides: Vec<Guide>,
    /// It goes on face down, or its art is transferred: a copy as in a mirror helps.
    pub mirrored: Mirrored,
}

/// Whether a copy as in a mirror helps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirrored {
    /// It does.
    Wanted,
    /// It is no use.
    Needless,
}

/// Something drawn on a template that is not cut.
#[derive(Clone, Debug, PartialEq)]
pub enum Guide {
    /// Where a stick or pin lies, from its end in the seat on.
    Pick([DVec2; 2]),
    /// The outline of what lies on it.
    Figure(Vec<Ring>),
}

impl Template {
    /// One cut in a finish of the design.
    pub(super) fn new(what: impl Into<Cow<'static, str>>, region: Region, (thickness, finish): (Length, &str)) -> Self {
        Self {
            what: what.into(),
            region,
            thickness,
            count: 1,
            paint: Paint::Finish(finish.to_owned()),
            guides: Vec::new(),
            mirrored: Mirrored::Needless,
        }
    }

    /// A strip with square ends, as a cut says.
    pub(super) fn strip(cut: &Cut) -> Self {
        let region = Region::rectangle(cut.length.as_mm(), cut.width.as_mm(), 0.0);
        Self { count: cut.count, ..Self::new(cut.what.clone(), region, (cut.thickness, &cut.finish)) }
    }

    /// The same, with a copy as in a mirror.
    pub(super) fn with_mirrored(self) -> Self {
        Self { mirrored: Mirrored::Wanted, ..self }
    }

    /// Width and height, mm.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        self.region.bounds().map_or(DVec2::ZERO, |(low, high)| high - low)
    }
}

/// Everything that is cut for a piece.
///
/// # Errors
/// Art that can't be used.
pub fn templates(form: &Form, posture: Posture, makings: Makings) -> Result<Vec<Template>, PieceError> {
    Ok(match form {
        Form::Topper(topper) => topper::templates(topper, posture, makings)?,
        Form::Plaque(plaque) => plaque::templates(plaque, makings)?,
        Form::Sign(sign) => sign::templates(sign, makings)?,
        Form::Bow(bow) => bow::templates(bow),
        Form::Ball(_) | Form::Scatter(_) | Form::Rope(_) | Form::Rod(_) | Form::Solid(_) => Vec::new(),
    })
}

/// A strip whose right end is cut as its cut says, so deep (mm).
pub(super) fn ended(cut: &Cut, deep: f64) -> Template {
    let half = DVec2::new(cut.length.as_mm(), cut.width.as_mm()) / 2.0;
    let square = vec![-half, DVec2::new(half.x, -half.y), half, DVec2::new(-half.x, half.y)];
    let ring = match cut.end {
        CutEnd::Square => square,
        CutEnd::Slant => vec![-half, DVec2::new(half.x - deep, -half.y), half, DVec2::new(-half.x, half.y)],
        CutEnd::Notch => {
            let notch = DVec2::new(half.x - deep, 0.0);
            vec![-half, DVec2::new(half.x, -half.y), notch, half, DVec2::new(-half.x, half.y)]
        }
    };
    Template { region: Region { rings: vec![ring] }, ..Template::strip(cut) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::Endless;
    use crate::cake::pieces::{measure, trial};
    use crate::design::model::pieces::{
        Backing, Bow, Cells, Letters, Picks, Plaque, ReferenceSide, Sign, TailCut, Topper,
    };
    use crate::design::{Design, model::Surface};

    fn forms() -> Vec<Form> {
        let mm = Length::mm;
        let picks = Picks { count: 2, diameter: mm(3.0), into_piece: mm(30.0), into_cake: mm(60.0), side_pins: None };
        let backing = Backing { border: mm(5.0), thickness: mm(6.0), finish: "white".into() };
        let finishes = vec!["sea".into(), "white".into()];
        let cells = Cells { rows: 2, columns: 3, gap: mm(3.0), inset: mm(1.5), finishes };
        vec![
            Form::Topper(Topper {
                art: "flag.svg".into(),
                size: ReferenceSide::Height(mm(90.0)),
                thickness: mm(3.0),
                finish: "gold".into(),
                print: false,
                backing: Some(backing),
                picks: Some(picks),
            }),
            Form::Plaque(Plaque {
                size: ReferenceSide::Both(mm(64.0), mm(38.0)),
                art: None,
                corner: mm(4.0),
                cells: Some(cells),
                thickness: mm(6.0),
                stiff: false,
                finish: "ink".into(),
            }),
            Form::Sign(Sign {
                text: "Seven bells".into(),
                letters: Letters { height: mm(14.0), colour: crate::art::Colour::new(20, 58, 82), font: None },
                art: None,
                size: [mm(114.0), mm(32.0)],
                thickness: mm(3.0),
                border: mm(3.0),
                finish: "white".into(),
                border_finish: Some("sea".into()),
                wave: mm(6.0),
                curl: Length::ZERO,
                stiff: false,
            }),
            Form::Bow(Bow {
                ribbon: mm(25.0),
                loops: 2,
                loop_length: mm(48.0),
                tails: 2,
                tail_length: mm(60.0),
                cut: TailCut::Notch,
                mirror: false,
                thickness: mm(2.5),
                finish: "sea".into(),
            }),
        ]
    }

    #[test]
    fn a_template_is_as_large_as_its_cut_and_holds_the_paste_of_its_piece() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        for form in forms() {
            let posture = Posture::from(Surface::Top);
            let measured = measure(&form, (posture, &Endless(posture)), makings).unwrap();
            let templates = templates(&form, posture, makings).unwrap();
            for cut in measured.cuts.iter().filter(|cut| cut.what != "plate") {
                let template = templates.iter().find(|template| template.what == cut.what).unwrap();
                let wanted = DVec2::new(cut.length.as_mm(), cut.width.as_mm());
                assert!(template.size().distance(wanted) < 0.01, "{} {} {wanted}", cut.what, template.size());
                assert_eq!((template.count, template.thickness), (cut.count, cut.thickness));
            }
            // Lettering is rolled from scraps and not weighed.
            let rolled = templates.iter().filter(|template| matches!(template.paint, Paint::Finish(_)));
            let volume: f64 = rolled.map(|one| one.region.area() * one.thickness.as_mm() * f64::from(one.count)).sum();
            let paste: f64 = measured.volumes.iter().map(|(_, volume)| volume).sum();
            assert!((volume / paste - 1.0).abs() < 0.05, "{form:?}: {volume} {paste}");
        }
    }

    #[test]
    fn a_topper_shows_where_its_sticks_lie_and_comes_mirrored() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let [front, backing] = &templates(&forms()[0], Posture::OnTop, makings).unwrap()[..] else { panic!("two") };
        assert_eq!((front.mirrored, front.guides.len(), backing.guides.len()), (Mirrored::Wanted, 0, 2));
        for guide in &backing.guides {
            let Guide::Pick([foot, end]) = guide else { panic!("{guide:?}") };
            // 30 mm up into the backing, from its foot.
            assert!((end.y - foot.y - 30.0).abs() < 1e-6 && (foot.y + 50.0).abs() < 0.5, "{guide:?}");
        }
    }

    #[test]
    fn a_notched_tail_lacks_its_notch() {
        let templates = bow::templates(match &forms()[3] {
            Form::Bow(bow) => bow,
            _ => panic!("a bow"),
        });
        let tail = templates.iter().find(|template| template.what == "tail").unwrap();
        let size = tail.size();
        assert!((size.element_product() - tail.region.area() - 25.0 * 12.5 / 2.0).abs() < 0.1, "{tail:?}");
    }
}
