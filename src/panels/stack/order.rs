//! The lines of the stack, from the top of the cake down.

use crate::design::Design;
use crate::design::model::{Piece, Surface, Target};
use crate::edits::CourseName;
use crate::edits::choose::Thing;

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub thing: Thing,
    pub name: String,
    pub kind: Kind,
    /// How far it is indented.
    pub depth: usize,
    pub locked: bool,
}

/// What a line is about.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Kind {
    Piece {
        word: &'static str,
        hidden: bool,
    },
    Tier {
        shape: &'static str,
        number: usize,
    },
    /// Its place from the foot up.
    Course {
        word: &'static str,
        number: usize,
    },
    Board,
}

impl Kind {
    pub fn word(&self) -> &'static str {
        match self {
            Self::Piece { word, .. } | Self::Course { word, .. } => word,
            Self::Tier { shape, .. } => shape,
            Self::Board => "board",
        }
    }
}

/// Everything there is, from the top of the cake down.
pub(super) fn lines(design: &Design) -> Vec<Line> {
    let mut lines = Vec::new();
    let riders = Riders::of(design);
    for (number, tier) in design.tiers.iter().enumerate().rev() {
        riders.lines(&mut lines, (&tier.name, Surface::Top), 0);
        lines.push(Line {
            thing: Thing::Tier(tier.name.clone()),
            name: tier.name.clone(),
            kind: Kind::Tier { shape: tier.shape.word(), number },
            depth: 0,
            locked: tier.locked,
        });
        riders.lines(&mut lines, (&tier.name, Surface::Side), 1);
        for (number, course) in tier.courses.iter().enumerate().rev() {
            lines.push(Line {
                thing: Thing::Course(CourseName::new(&tier.name, &course.name)),
                name: course.name.clone(),
                kind: Kind::Course { word: course.kind.word(), number },
                depth: 1,
                locked: course.locked,
            });
        }
    }
    riders.lines(&mut lines, ("board", Surface::Board), 0);
    let board = "Board".to_owned();
    lines.push(Line { thing: Thing::Board, name: board, kind: Kind::Board, depth: 0, locked: false });
    lines
}

/// Which pieces sit where, found once for all lines.
struct Riders<'a> {
    by_seat: std::collections::BTreeMap<(&'a str, &'static str), Vec<&'a Piece>>,
}

impl<'a> Riders<'a> {
    fn of(design: &'a Design) -> Self {
        let mut by_seat: std::collections::BTreeMap<_, Vec<&Piece>> = std::collections::BTreeMap::new();
        for piece in &design.pieces {
            let on = match &piece.seat.on {
                Target::Board => "board",
                Target::Tier(name) | Target::Piece(name) => name.as_str(),
            };
            by_seat.entry((on, piece.seat.surface.word())).or_default().push(piece);
        }
        Self { by_seat }
    }

    /// The pieces of a seat, what was made last first, each after what sits on it.
    fn lines(&self, lines: &mut Vec<Line>, (on, surface): (&str, Surface), depth: usize) {
        for piece in self.by_seat.get(&(on, surface.word())).into_iter().flatten().rev() {
            self.lines(lines, (&piece.name, Surface::Top), depth + 1);
            lines.push(Line {
                thing: Thing::Piece(piece.name.clone()),
                name: piece.name.clone(),
                kind: Kind::Piece { word: piece.form.kind(), hidden: piece.hidden },
                depth,
                locked: piece.locked,
            });
            self.lines(lines, (&piece.name, Surface::Side), depth + 1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::read_design;

    #[test]
    fn the_stack_stands_as_the_cake_stands() {
        let ball = |name: &str, on: &str, surface: &str| {
            let seat = format!("seat = {{ on = '{on}', surface = '{surface}' }}");
            format!("[[piece]]\nname = '{name}'\nkind = 'ball'\nsize = 1\n{seat}\n")
        };
        let tier = |name: &str| {
            format!(
                "[[tier]]\nname = '{name}'\nsize = 6\nheight = 4\n[[tier.course]]\nname = 'rope'\nkind = 'rope'\nsize = 0.25\n\
                 [[tier.course]]\nname = 'lid'\nkind = 'bare'\nheight = 'fill'\n"
            )
        };
        let text = format!(
            "unit = 'in'\n{}{}{}{}{}{}",
            tier("base"),
            tier("top"),
            ball("foot", "board", "board"),
            ball("crown", "top", "top"),
            ball("hat", "crown", "top"),
            ball("belt", "base", "side"),
        );
        let design = read_design(&text, "").unwrap();
        let names: Vec<String> = lines(&design).into_iter().map(|line| line.name).collect();
        assert_eq!(names, ["hat", "crown", "top", "lid", "rope", "base", "belt", "lid", "rope", "foot", "Board"]);
    }
}
