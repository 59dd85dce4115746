//! Tables: a head repeated on every page, ruled rows on alternating ground.

use glam::DVec2;

use super::flow::Flow;
use super::page::{Frame, Pen, Trace};
use super::tags::{Heads, Place, Role};
use super::typeset::{Style, Words, break_lines};
use crate::art::Colour;
use crate::proof::ink::{INK, RULE, TONE};

/// Free above and below the text of a row, mm.
const PAD: f64 = 0.9;
/// Free at the left and right of a cell, mm.
const GAP: f64 = 1.6;
/// Across a colour's dot, with the room behind it, mm.
const DOT: (f64, f64) = (2.5, 3.6);

/// At which side of its column a text stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    /// Words.
    #[default]
    Left,
    /// Figures.
    Right,
}

/// One column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Its head.
    pub title: String,
    /// Its width against the other columns'.
    pub share: f64,
    /// Where its text stands.
    pub align: Align,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn words(title: &str, share: f64) -> Self {
        Self { title: title.to_owned(), share, align: Align::Left }
    }

    /// A column of figures.
    #[must_use]
    pub fn figures(title: &str, share: f64) -> Self {
        Self { align: Align::Right, ..Self::words(title, share) }
    }
}

/// One cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cell {
    /// What it says.
    pub text: String,
    /// Dots of colour before the text.
    pub dots: Vec<Colour>,
}

impl<T: Into<String>> From<T> for Cell {
    fn from(text: T) -> Self {
        Self { text: text.into(), dots: Vec::new() }
    }
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub enum Row {
    /// A heading inside the table.
    Group(String),
    /// A cell a column.
    Cells(Vec<Cell>),
}

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// From left to right.
    pub columns: Vec<Column>,
    /// From the top down.
    pub rows: Vec<Row>,
}

/// A cell made ready: its lines and dots, where its column lies, how it stands there.
struct Set<'a> {
    lines: Vec<Words>,
    dots: &'a [Colour],
    column: Frame,
    align: Align,
}

impl Flow {
    /// Sets a table in `area`'s width, from the cursor down.
    pub fn table(&mut self, table: &Table, area: Frame) {
        let columns = columns(table, area);
        let number = self.number();
        self.head((table, &columns), Some(number));
        let mut odd = false;
        for (row, count) in table.rows.iter().zip(1..) {
            let place = Place { table: number, row: count, column: 0, heads: Heads::Row };
            match row {
                Row::Group(title) => {
                    let cells =
                        [Set { lines: vec![Style::STRONG.line(title)], dots: &[], column: area, align: Align::Left }];
                    // A group's heading stays with the row after it.
                    if self.need(3.0 * (Style::STRONG.step() + 2.0 * PAD)) {
                        self.head((table, &columns), None);
                    }
                    let heads = Heads::Rows(columns.len() as u32);
                    self.row(&cells, (Style::STRONG, None), Some(Place { heads, ..place }));
                    odd = false;
                }
                Row::Cells(cells) => {
                    let cells = set(cells, table, &columns);
                    if self.need(height(&cells, Style::BODY)) {
                        self.head((table, &columns), None);
                    }
                    self.row(&cells, (Style::BODY, odd.then_some((area, TONE))), Some(place));
                    odd = !odd;
                }
            }
        }
        self.space(2.0);
    }

    /// The head; one that is repeated on the next page belongs to the page.
    fn head(&mut self, (table, columns): (&Table, &[Frame]), number: Option<u32>) {
        let heads: Vec<Cell> = table.columns.iter().map(|column| column.title.as_str().into()).collect();
        let place = number.map(|table| Place { table, row: 0, column: 0, heads: Heads::Column });
        self.row(&set_in(&heads, (table, columns), Style::LABEL), (Style::LABEL, None), place);
    }

    /// Draws one row at the cursor and moves below it.
    fn row(&mut self, cells: &[Set], (style, ground): (Style, Option<(Frame, Colour)>), place: Option<Place>) {
        let (y, tall) = (self.rest().y, height(cells, style));
        if let Some((area, colour)) = ground {
            self.page().block(Frame { y, height: tall, ..area }, colour);
        }
        for (cell, column) in cells.iter().zip(0..) {
            let from = self.page().marks.len();
            self.cell(cell, style, y + PAD);
            let role = place.map_or(Role::Furniture, |place| Role::Cell(place.in_column(column)));
            self.page().tell(from, role);
        }
        let ends =
            cells.first().zip(cells.last()).map(|(first, last)| (first.column.x, last.column.x + last.column.width));
        if let Some((left, right)) = ends {
            let foot = y + tall;
            let pen = if style == Style::LABEL { Pen::solid(0.25, INK) } else { Pen::solid(0.15, RULE) };
            self.page().line(DVec2::new(left, foot), DVec2::new(right, foot), pen);
        }
        self.space(tall);
    }

    fn cell(&mut self, cell: &Set, style: Style, top: f64) {
        let mut left = cell.column.x + GAP;
        for &dot in cell.dots {
            let centre = DVec2::new(left + DOT.0 / 2.0, top + style.step() / 2.0);
            self.page().area(vec![disc(centre, DOT.0 / 2.0)], dot);
            self.page().trace(disc(centre, DOT.0 / 2.0), Pen::solid(0.15, INK));
            left += DOT.1;
        }
        let mut baseline = top + style.rise();
        for line in &cell.lines {
            let x = match cell.align {
                Align::Left => left,
                Align::Right => cell.column.x + cell.column.width - GAP - line.width,
            };
            self.page().text(DVec2::new(x, baseline), line.clone(), style.colour);
            baseline += style.step();
        }
    }
}

/// Where each column lies in the area.
fn columns(table: &Table, area: Frame) -> Vec<Frame> {
    let whole: f64 = table.columns.iter().map(|column| column.share).sum();
    let mut x = area.x;
    let place = |column: &Column| {
        let width = area.width * column.share / whole;
        x += width;
        Frame { x: x - width, width, ..area }
    };
    table.columns.iter().map(place).collect()
}

fn set<'a>(cells: &'a [Cell], table: &Table, columns: &[Frame]) -> Vec<Set<'a>> {
    set_in(cells, (table, columns), Style::BODY)
}

fn set_in<'a>(cells: &'a [Cell], (table, columns): (&Table, &[Frame]), style: Style) -> Vec<Set<'a>> {
    let one = |((cell, column), &frame): ((&'a Cell, &Column), &Frame)| {
        let free = frame.width - 2.0 * GAP - cell.dots.len() as f64 * DOT.1;
        Set { lines: break_lines(&cell.text, style, free), dots: &cell.dots, column: frame, align: column.align }
    };
    cells.iter().zip(&table.columns).zip(columns).map(one).collect()
}

fn height(cells: &[Set], style: Style) -> f64 {
    let lines = cells.iter().map(|cell| cell.lines.len()).max().unwrap_or(0).max(1);
    lines as f64 * style.step() + 2.0 * PAD
}

/// A disc as a 24-sided outline: at this size no eye tells them apart.
fn disc(centre: DVec2, radius: f64) -> Trace {
    let points =
        (0..24).map(|step| centre + DVec2::from_angle(f64::from(step) * std::f64::consts::TAU / 24.0) * radius);
    Trace { points: points.collect(), closed: true }
}
