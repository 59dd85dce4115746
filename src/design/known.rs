//! What every design may name without saying what it is: plain finishes, printing sheets, and the usual paste.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::hint::nearest;
use super::model::{CourseKind, Design, Finish, Look, Paste, Sheet};
use super::tree::{Leaf, Value};
use crate::art::Colour;
use crate::measure::table::{Row, read_table};
use crate::measure::{Length, Unit, read_length};

static FINISHES: LazyLock<BTreeMap<String, Finish>> =
    LazyLock::new(|| named(include_str!("../../assets/tables/finishes.csv"), finish));

static SHEETS: LazyLock<BTreeMap<String, Sheet>> =
    LazyLock::new(|| named(include_str!("../../assets/tables/sheets.csv"), sheet));

static USUAL: LazyLock<BTreeMap<String, Paste>> =
    LazyLock::new(|| named(include_str!("../../assets/tables/pastes.csv"), paste));

/// The known finishes by name.
#[must_use]
pub fn known_finishes() -> &'static BTreeMap<String, Finish> {
    &FINISHES
}

/// The known printing sheets by name.
#[must_use]
pub fn known_sheets() -> &'static BTreeMap<String, Sheet> {
    &SHEETS
}

impl Design {
    /// The finish of a name: the design's own, else a known one. White paste for a name that no loaded design has.
    #[must_use]
    pub fn finish(&self, name: &str) -> Finish {
        let white = || Finish { colour: Colour::new(255, 255, 255), look: Look::Paste, paste: None };
        self.finishes.get(name).or_else(|| FINISHES.get(name)).cloned().unwrap_or_else(white)
    }

    /// The printing sheet of a name, or the usual one of the design's unit: Letter for inches, else A4.
    #[must_use]
    pub fn sheet(&self, name: Option<&str>) -> Sheet {
        let found = |name: &str| self.sheets.get(name).or_else(|| SHEETS.get(name)).copied();
        name.and_then(found).or_else(|| found(self.usual_sheet())).unwrap_or(A4)
    }

    /// The name of the sheet that pieces are printed on: the person's habit, else as the first wrap, else the usual one.
    #[must_use]
    pub fn sheet_of_pieces(&self) -> &str {
        let courses = self.tiers.iter().flat_map(|tier| &tier.courses);
        let mut wraps =
            courses.filter_map(|course| if let CourseKind::Wrap(wrap) = &course.kind { Some(wrap) } else { None });
        let as_wrap = || wraps.next().and_then(|wrap| wrap.sheet.as_deref());
        self.kitchen.sheet.as_deref().or_else(as_wrap).unwrap_or_else(|| self.usual_sheet())
    }

    /// The same design with everything printed on one kind of sheet; `None` where there is none of that name, with the
    /// nearest name there is.
    ///
    /// # Errors
    /// The name of the sheet that was most likely meant, if any.
    pub fn printed_on(&self, sheet: &str) -> Result<Self, Option<String>> {
        let mut names = self.sheets.keys().chain(SHEETS.keys()).map(String::as_str);
        if !names.clone().any(|name| name == sheet) {
            return Err(nearest(sheet, &mut names).map(str::to_owned));
        }
        let mut design = self.clone();
        design.kitchen.sheet = Some(sheet.to_owned());
        for course in design.tiers.iter_mut().flat_map(|tier| &mut tier.courses) {
            if let CourseKind::Wrap(wrap) = &mut course.kind {
                wrap.sheet = Some(sheet.to_owned());
            }
        }
        Ok(design)
    }

    /// The name of the usual sheet of the design's unit.
    #[must_use]
    pub const fn usual_sheet(&self) -> &'static str {
        match self.unit {
            Unit::Inch => "letter",
            Unit::Millimetre | Unit::Centimetre => "a4",
        }
    }

    /// The name and the paste that a finish is made from.
    ///
    /// The paste that the finish names; else one of the finish's own name; else the usual paste in the finish's colour.
    #[must_use]
    pub fn paste_of(&self, finish_name: &str) -> (String, Paste) {
        let finish = self.finish(finish_name);
        let name = finish.paste.as_deref().unwrap_or(finish_name);
        let usual = || {
            let colour = if name == finish_name { finish.colour } else { self.finish(name).colour };
            let usual = USUAL.get("usual").unwrap_or(&USUAL_PASTE);
            Paste { colour, ..usual.clone() }
        };
        (name.to_owned(), self.pastes.get(name).cloned().unwrap_or_else(usual))
    }
}

/// ISO 216 A4 with margins of 5 mm; what the table says too.
const A4: Sheet = Sheet::plain([Length::mm(210.0), Length::mm(297.0)], [Length::mm(200.0), Length::mm(287.0)]);

/// What the table says too.
const USUAL_PASTE: Paste = Paste { colour: Colour::new(255, 255, 255), density: 1.4, waste: 0.15 };

/// The rows of a bundled table by name. A test reads every table, so a row that can't be read never ships.
fn named<T>(text: &str, read: fn(&Row) -> Option<T>) -> BTreeMap<String, T> {
    let rows = read_table(text).unwrap_or_default();
    rows.iter().filter_map(|row| Some((row.text("name").ok()?.to_owned(), read(row)?))).collect()
}

fn finish(row: &Row) -> Option<Finish> {
    let look = Look::from_value(&Value::Text(row.text("look").ok()?.to_owned()))?;
    let paste = row.maybe("paste").map(str::to_owned);
    Some(Finish { colour: Colour::read(row.text("color").ok()?)?, look, paste })
}

fn sheet(row: &Row) -> Option<Sheet> {
    let length = |column| read_length(row.text(column).ok()?, Unit::Millimetre).ok();
    let size = [length("width")?, length("height")?];
    Some(Sheet::plain(size, [length("printable_width")?, length("printable_height")?]))
}

fn paste(row: &Row) -> Option<Paste> {
    let figure = |column| row.figure(column).ok();
    Some(Paste { colour: USUAL_PASTE.colour, density: figure("density_g_cm3")?, waste: figure("waste")? })
}

#[cfg(test)]
mod tests {
    use super::{A4, Design, FINISHES, Finish, Look, Paste, SHEETS, USUAL, USUAL_PASTE};
    use crate::art::Colour;
    use crate::measure::table::read_table;
    use crate::measure::{Length, Unit};

    #[test]
    fn every_row_of_the_tables_is_read() {
        let rows = |text| read_table(text).expect("table").len();
        assert_eq!(rows(include_str!("../../assets/tables/finishes.csv")), FINISHES.len());
        assert_eq!(rows(include_str!("../../assets/tables/sheets.csv")), SHEETS.len());
        assert_eq!(rows(include_str!("../../assets/tables/pastes.csv")), USUAL.len());
        assert_eq!(SHEETS["a4"], A4);
        assert_eq!(USUAL["usual"], USUAL_PASTE);
        for finish in FINISHES.values() {
            assert!(finish.paste.as_ref().is_none_or(|paste| FINISHES.contains_key(paste)));
        }
    }

    #[test]
    fn a_design_goes_before_what_is_known() {
        let mut design = Design::default();
        assert_eq!(design.finish("gold").look, Look::Metal);
        assert_eq!(design.paste_of("gold").0, "yellow");
        assert_eq!(design.paste_of("gold").1.colour, design.finish("yellow").colour);
        let sea = Finish { colour: Colour::new(79, 154, 168), look: Look::Satin, paste: Some("blue".to_owned()) };
        design.finishes.insert("sea".to_owned(), sea);
        assert_eq!(design.paste_of("sea").1.colour, design.finish("blue").colour);
        design.pastes.insert("blue".to_owned(), Paste { density: 1.3, ..USUAL_PASTE });
        assert!((design.paste_of("sea").1.density - 1.3).abs() < 1e-12);
    }

    #[test]
    fn the_usual_sheet_follows_the_unit() {
        let mut design = Design::default();
        // 8.5 in × 11 in (ANSI A).
        assert_eq!(design.sheet(None).size, [Length::inches(8.5), Length::inches(11.0)]);
        design.unit = Unit::Millimetre;
        assert_eq!(design.sheet(None), A4);
        assert_eq!(design.sheet(Some("letter")).printable, [Length::inches(8.0), Length::inches(10.5)]);
    }
}
