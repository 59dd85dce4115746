//! The plan of all sheets, as plain values.

use glam::DVec2;

use super::prints::Print;
use crate::design::model::Sheet;
use crate::measure::Length;

/// Height of the line of words beside a print, mm.
pub const LABEL: f64 = 4.0;
/// Width and height of the legend: what sheet this is, and a rule of 100 mm and one of 4 in.
pub const LEGEND: DVec2 = DVec2::new(106.0, 15.0);

/// Most sheets that are laid out for one cake; more means a mistake in a size.
pub const MOST_SHEETS: usize = 40;
/// Most prints that are laid out.
pub(super) const MOST_PRINTS: usize = 2_000;

/// All sheets of a cake.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetPlan {
    /// Everything printed.
    pub prints: Vec<Print>,
    /// In order of printing.
    pub sheets: Vec<PrintedSheet>,
}

/// One sheet. Lengths from its upper left, y down, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedSheet {
    /// Name of its kind.
    pub kind: String,
    /// Its size and margins.
    pub sheet: Sheet,
    /// What lies on it.
    pub placed: Vec<Placed>,
    /// Where its legend has room.
    pub legend: Option<Legend>,
}

/// A print in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which print.
    pub print: usize,
    /// Upper left of what is cut.
    pub at: DVec2,
    /// Width and height as it lies.
    pub size: DVec2,
    /// Turned by a quarter, clockwise: its upper edge is at the right.
    pub turned: bool,
    /// Where its words have room.
    pub label: Option<Label>,
}

/// On which side of a print its words stand, the print seen upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Label {
    /// Below it.
    Foot,
    /// Above it.
    Head,
}

/// Where a legend stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legend {
    /// Upper left.
    pub at: DVec2,
    /// Turned by a quarter, clockwise.
    pub turned: bool,
}

impl PrintedSheet {
    /// Width and height of the sheet, mm.
    #[must_use]
    pub fn size(&self) -> DVec2 {
        DVec2::from_array(self.sheet.size.map(Length::as_mm))
    }

    /// Upper left corner and size of what the printer reaches: the middle of the sheet.
    #[must_use]
    pub fn printable(&self) -> (DVec2, DVec2) {
        let size = DVec2::from_array(self.sheet.printable.map(Length::as_mm));
        ((self.size() - size) / 2.0, size)
    }

    /// The share of what the printer reaches that is cut out and used.
    #[must_use]
    pub fn used(&self) -> f64 {
        let cut: f64 = self.placed.iter().map(|placed| placed.size.element_product()).sum();
        cut / self.printable().1.element_product()
    }
}

impl SheetPlan {
    /// The print of a strip of a planned wrap.
    #[must_use]
    pub fn of_strip(&self, plan: usize, strip: usize) -> Option<&Print> {
        self.ranked((false, plan, strip))
    }

    /// What is printed for a piece of the cake.
    #[must_use]
    pub fn of_piece(&self, piece: usize) -> Option<&Print> {
        self.ranked((true, piece, 0))
    }

    fn ranked(&self, rank: (bool, usize, usize)) -> Option<&Print> {
        let found = self.prints.binary_search_by_key(&rank, Print::rank).ok()?;
        self.prints.get(found)
    }
}
