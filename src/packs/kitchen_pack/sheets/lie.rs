//! How something lies on a page: a frame of its own, upright, and from it to the page. Millimetres, y down.

use glam::DVec2;

use crate::packs::pdf::{Facing, Page, Pen, Words};
use crate::sheets::{LEGEND, Legend, Placed, PrintedSheet};

/// As it is seen, or as in a mirror.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::packs::kitchen_pack) enum Hand {
    /// As it is seen.
    Right,
    /// Left and right change places; words don't.
    Mirrored,
}

/// A thing on a page, mirrored or not.
#[derive(Clone, Copy, Debug)]
pub(in crate::packs::kitchen_pack) struct Lie {
    /// Upper left corner on the page.
    pub at: DVec2,
    /// Width and height on the page.
    pub size: DVec2,
    /// Where its upper edge points.
    pub facing: Facing,
    pub hand: Hand,
}

impl Lie {
    /// A print in its place.
    pub fn of(sheet: &PrintedSheet, placed: &Placed, hand: Hand) -> Self {
        Self::new((placed.at, placed.size, placed.turned), sheet.size().x, hand)
    }

    fn new((at, size, turned): (DVec2, DVec2, bool), width: f64, hand: Hand) -> Self {
        match hand {
            Hand::Right => Self { at, size, facing: if turned { Facing::Right } else { Facing::Up }, hand },
            // Turned clockwise, seen in a mirror, is turned the other way.
            Hand::Mirrored => {
                let at = DVec2::new(width - at.x - size.x, at.y);
                Self { at, size, facing: if turned { Facing::Left } else { Facing::Up }, hand }
            }
        }
    }

    /// Width and height, upright.
    pub fn upright(&self) -> DVec2 {
        if self.facing == Facing::Up { self.size } else { DVec2::new(self.size.y, self.size.x) }
    }

    /// From its own frame, upright, origin at its upper left, to the page.
    pub fn on_page(&self, own: DVec2) -> DVec2 {
        match self.facing {
            Facing::Up => self.at + own,
            Facing::Right => self.at + DVec2::new(self.size.x - own.y, own.x),
            Facing::Left => self.at + DVec2::new(own.y, self.size.y - own.x),
        }
    }

    pub fn line(&self, page: &mut Page, [from, to]: [DVec2; 2], pen: Pen) {
        page.line(self.on_page(from), self.on_page(to), pen);
    }

    pub fn text(&self, page: &mut Page, at: DVec2, words: Words) {
        page.text_facing(self.on_page(at), (words, crate::packs::pdf::INK), self.facing);
    }

    /// The rectangle on the page of one in its own frame: least and greatest corner.
    pub fn area(&self, [low, high]: [DVec2; 2]) -> [DVec2; 2] {
        let (a, b) = (self.on_page(low), self.on_page(high));
        [a.min(b), a.max(b)]
    }
}

/// How a legend lies.
pub(super) fn legend(sheet: &PrintedSheet, place: Legend, hand: Hand) -> Lie {
    let size = if place.turned { DVec2::new(LEGEND.y, LEGEND.x) } else { LEGEND };
    Lie::new((place.at, size, place.turned), sheet.size().x, hand)
}
