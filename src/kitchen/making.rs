//! The list of what is made: every cut, ball, rope and covering, with its sizes and what it is made of.
//!
//! In: the resolved cake and its patterns. Out: lines in the order of the work: board, tiers and their courses from the board up,
//! pieces as the design has them. What is cut along an outline is told by its patterns; what is rolled or turned by the cuts of
//! its piece.

use super::patterns::Pattern;
use super::{covering, rolled_out};
use crate::cake::pieces::{Cut, Paint, PickMeasure};
use crate::cake::{Cake, CakeCourse, CakePiece, CakeTier, pearl_count};
use crate::design::Design;
use crate::design::model::pieces::SolidForm;
use crate::design::model::{CourseKind, Form, TierShape};
use crate::measure::Length;

/// One line of the list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Make {
    /// The board, a tier with its course, a piece; several pieces where they are alike.
    pub of: String,
    /// Which part: `covering`, `rope`, `front`, `ball`.
    pub part: String,
    /// How many.
    pub count: u32,
    /// Length and width as cut; one size only: across.
    pub sizes: Vec<Length>,
    /// As rolled.
    pub thickness: Option<Length>,
    /// Name of the finish.
    pub finish: String,
    /// Name of the paste it is made from; empty where it is none.
    pub paste: String,
    /// Paste on the cake and paste to roll out, g, where a covering tells them apart.
    pub rolled: Option<[f64; 2]>,
    /// Sticks and pins: what, across, length.
    pub picks: Vec<(&'static str, Length, Length)>,
}

impl Make {
    fn of(design: &Design, (of, part): (&str, &str), finish: &str) -> Self {
        Self {
            of: of.to_owned(),
            part: part.to_owned(),
            count: 1,
            finish: finish.to_owned(),
            paste: design.paste_of(finish).0,
            ..Self::default()
        }
    }
}

/// Everything that is made.
#[must_use]
pub fn making(cake: &Cake, patterns: &[Pattern]) -> Vec<Make> {
    let board = &cake.board;
    let (low, high) = board.outline.bounds();
    let mut list = vec![Make {
        sizes: (high - low).to_array().map(Length::mm).to_vec(),
        thickness: Some(board.thickness),
        paste: String::new(),
        ..Make::of(&cake.design, ("board", "board"), &board.finish)
    }];
    for tier in &cake.tiers {
        list.extend((tier.paste > Length::ZERO).then(|| covered(&cake.design, tier)));
        list.extend(tier.courses.iter().filter_map(|course| coursed(cake, tier, course)));
    }
    list.extend(patterns.iter().map(|pattern| cut(cake, pattern)));
    for placed in &cake.pieces {
        list.extend(shaped(cake, placed));
    }
    list
}

fn covered(design: &Design, tier: &CakeTier) -> Make {
    let (low, high) = rolled_out(tier).bounds();
    let size = (high - low).to_array().map(Length::mm);
    let weighs = covering(design, tier);
    Make {
        sizes: if tier.shape == TierShape::Round { vec![size[0]] } else { size.to_vec() },
        thickness: Some(tier.paste),
        rolled: Some([weighs.on_cake, weighs.rolled]),
        ..Make::of(design, (&tier.name, "covering, rolled out"), &tier.finish)
    }
}

/// A rope or a row of pearls round a tier; bands and strips beneath prints have patterns, prints have sheets.
fn coursed(cake: &Cake, tier: &CakeTier, course: &CakeCourse) -> Option<Make> {
    let of = format!("{} · {}", tier.name, course.name);
    match &course.kind {
        CourseKind::Rope { diameter, finish, .. } => {
            Some(Make { sizes: vec![course.length, *diameter], ..Make::of(&cake.design, (&of, "rope"), finish) })
        }
        CourseKind::Pearls { diameter, finish, .. } => Some(Make {
            count: pearl_count(diameter.as_mm(), &tier.outline),
            sizes: vec![*diameter],
            ..Make::of(&cake.design, (&of, "pearl"), finish)
        }),
        CourseKind::Band { .. } | CourseKind::Wrap(_) | CourseKind::Bare { .. } => None,
    }
}

/// What is cut by a pattern.
fn cut(cake: &Cake, pattern: &Pattern) -> Make {
    let template = &pattern.template;
    let of = pattern.of.join(", ");
    let finish = match &template.paint {
        Paint::Finish(finish) => finish.clone(),
        Paint::Plain(colour, _) => colour.to_string(),
    };
    let paste = match &template.paint {
        Paint::Finish(finish) => cake.design.paste_of(finish).0,
        Paint::Plain(..) => String::new(),
    };
    Make {
        of,
        part: template.what.clone().into_owned(),
        count: template.count,
        sizes: template.size().to_array().map(Length::mm).to_vec(),
        thickness: Some(template.thickness),
        finish,
        paste,
        ..Make::default()
    }
}

/// What is shaped by hand for a piece, and its sticks.
fn shaped(cake: &Cake, placed: &CakePiece) -> Vec<Make> {
    let Some(piece) = cake.designed(placed) else { return Vec::new() };
    let measure = &placed.measure;
    let line = |part: &str, finish: &str| Make::of(&cake.design, (&piece.name, part), finish);
    let mut list: Vec<Make> = match &piece.form {
        Form::Ball(ball) => vec![Make { sizes: vec![ball.size], ..line("ball", &ball.finish) }],
        Form::Scatter(scatter) => {
            let count =
                |size: Length| measure.balls.iter().filter(|ball| (ball.across - size.as_mm()).abs() < 1e-6).count();
            let size = |&(size, _): &(Length, u32)| Make {
                count: u32::try_from(count(size)).unwrap_or(u32::MAX),
                sizes: vec![size],
                ..line("ball", &scatter.finish)
            };
            scatter.sizes.iter().map(size).collect()
        }
        Form::Rope(_) | Form::Rod(_) => {
            measure.cuts.iter().map(|cut| rolled(line(&cut.what, &cut.finish), cut)).collect()
        }
        Form::Solid(solid) => {
            let what = match solid.form {
                SolidForm::Candle => "candle",
                SolidForm::Figure => "figure",
                SolidForm::Flowers => "flowers",
            };
            let paste =
                if solid.form == SolidForm::Figure { cake.design.paste_of(&solid.finish).0 } else { String::new() };
            vec![Make { sizes: vec![solid.across, solid.height], paste, ..line(what, &solid.finish) }]
        }
        Form::Topper(_) | Form::Plaque(_) | Form::Sign(_) | Form::Bow(_) => Vec::new(),
    };
    if measure.picks.is_empty() {
        return list;
    }
    let picks = measure.picks.iter().map(|pick: &PickMeasure| (pick.kind.word(), pick.diameter, pick.length)).collect();
    match list.first_mut() {
        Some(first) => first.picks = picks,
        None => list.push(Make { of: piece.name.clone(), part: "its sticks".to_owned(), picks, ..Make::default() }),
    }
    list
}

fn rolled(line: Make, cut: &Cut) -> Make {
    let sizes = if cut.length == cut.width { vec![cut.length] } else { vec![cut.length, cut.width] };
    let flat = cut.thickness != cut.width;
    Make { count: cut.count, sizes, thickness: flat.then_some(cut.thickness), ..line }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;
    use crate::kitchen::patterns;

    #[test]
    fn every_thing_has_its_line() {
        let text = "title = \"t\"\nunit = \"mm\"\n[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\npaste = 3\n\
            [[tier.course]]\nname = \"foot\"\nkind = \"rope\"\nsize = 6\nfinish = \"white\"\n\
            [[tier.course]]\nname = \"rim\"\nkind = \"band\"\nheight = \"fill\"\nsize = 3\nfinish = \"white\"\n\
            [[piece]]\nname = \"buoy\"\nkind = \"ball\"\nseat = { on = \"base\", surface = \"top\" }\nsize = 25\npin = true\n\
            finish = \"white\"\n\
            [[piece]]\nname = \"plate\"\nkind = \"plaque\"\nseat = { on = \"board\", surface = \"board\" }\nsize = [50, 40]\n\
            thickness = 5\nfinish = \"white\"\n";
        let cake = resolve(&Arc::new(read_design(text, "cake.toml").unwrap()), &Arc::new(Shelf::default())).unwrap();
        let (patterns, _) = patterns(&cake, &[]).unwrap();
        let list = making(&cake, &patterns);
        let told: Vec<(&str, &str)> = list.iter().map(|make| (&*make.of, &*make.part)).collect();
        let expected = [
            ("board", "board"),
            ("base", "covering, rolled out"),
            ("base · foot", "rope"),
            ("plate", "plate"),
            ("base · rim", "band"),
            ("buoy", "ball"),
        ];
        assert_eq!(told, expected);
        // 200 mm of cake, 100 mm down both sides, half an inch beyond both.
        assert!((list[1].sizes[0].as_mm() - 425.4).abs() < 0.01, "{:?}", list[1]);
        assert!((list[2].sizes[0].as_mm() - std::f64::consts::PI * 212.0).abs() < 0.01, "{:?}", list[2]);
        assert_eq!(list[5].picks.len(), 1);
    }
}
