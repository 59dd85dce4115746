//! A plaque: a plate from a rectangle or from art, lying on a top or bent to a side, with cells let into its face.
//!
//! A plate with cells is two layers: a base, and a frame with the cells cut out. Each cell is filled with a tile of its own
//! finish up to its inset.
//!
//! ```text
//!    ____      ____      ____     face
//!   |    |____|    |____|    |    inset
//!   |____|tile|____|tile|____|    tiles
//!   |________________________|    base
//! ```

use std::f64::consts::PI;

use glam::{DAffine3, DVec2, DVec3};

use super::likeness::{Likeness, Print};
use super::measures::{FINE, add, hull};
use super::template::Template;
use super::topper::{SOFT, cut};
use super::{Hold, Makings, Part, PieceError, PieceMeasure, PieceSize, Posture, Shortfall};
use crate::art::Region;
use crate::design::model::pieces::{Cells, Plaque, ReferenceSide};
use crate::measure::Length;
use crate::shapes::build::{Cutout, prism, tidy};

/// Thickness of a tile, mm, where the plate leaves room for it.
const TILE: f64 = 1.2;

/// Gap between a tile and its frame, mm, so that the two walls don't lie in one place.
const LOOSE: f64 = 0.03;

/// A plaque laid out, mm.
struct Plan<'a> {
    plaque: &'a Plaque,
    size: DVec2,
    likeness: Option<Likeness<'a>>,
    cells: Vec<Cell<'a>>,
}

/// One cell of a plaque.
struct Cell<'a> {
    low: DVec2,
    high: DVec2,
    finish: &'a str,
}

impl<'a> Plan<'a> {
    fn of(plaque: &'a Plaque, makings: Makings<'a>) -> Result<Self, PieceError> {
        let likeness = plaque.art.as_ref().map(|path| Likeness::cut(makings, path, plaque.size)).transpose()?;
        let size = likeness.as_ref().map_or_else(|| rectangle_size(plaque.size), Likeness::size);
        let mut plan = Self { plaque, size, likeness, cells: Vec::new() };
        if let Some(cells) = &plaque.cells {
            let outline = plan.outline();
            plan.cells = dealt(cells, size).into_iter().filter(|cell| cell.lies_in(&outline)).collect();
        }
        Ok(plan)
    }

    /// Cells that are asked for and lie over the edge, or have no room.
    fn left_out(&self) -> Option<Shortfall> {
        let asked = self.plaque.cells.as_ref().map_or(0, |cells| cells.rows.saturating_mul(cells.columns));
        let cut = u32::try_from(self.cells.len()).unwrap_or(u32::MAX);
        (cut < asked).then_some(Shortfall::Cells { asked, cut })
    }

    fn outline(&self) -> Region {
        let corner = self.plaque.corner.as_mm();
        let plain = || Region::rectangle(self.size.x, self.size.y, corner);
        self.likeness.as_ref().map_or_else(plain, |likeness| likeness.figure.front.clone())
    }

    /// The outline with the cells cut out.
    fn frame(&self) -> Region {
        let mut frame = self.outline();
        let holes = self.cells.iter().flat_map(|cell| cell.region(0.0).rings);
        frame.rings.extend(holes.map(|ring| ring.into_iter().rev().collect()));
        frame
    }

    fn area(&self) -> f64 {
        let corner = self.plaque.corner.as_mm().min(self.size.min_element() / 2.0);
        let plain = self.size.x * self.size.y - (4.0 - PI) * corner * corner;
        self.likeness.as_ref().map_or(plain, |likeness| likeness.figure.front.area())
    }

    fn thickness(&self) -> f64 {
        self.plaque.thickness.as_mm()
    }

    /// Heights of the base's top and of the tiles' top.
    fn levels(&self) -> [f64; 2] {
        let inset = self.plaque.cells.as_ref().map_or(0.0, |cells| cells.inset.as_mm());
        let tiles = (self.thickness() - inset).max(0.2 * self.thickness());
        [tiles - TILE.min(tiles / 2.0), tiles]
    }
}

impl Cell<'_> {
    fn area(&self) -> f64 {
        (self.high - self.low).element_product()
    }

    /// Its outline, smaller by `gap` all round.
    fn region(&self, gap: f64) -> Region {
        let size = self.high - self.low - 2.0 * gap;
        let corner = (0.12 * size.min_element()).min(1.0);
        Region::rectangle(size.x, size.y, corner).moved((self.low + self.high) / 2.0)
    }

    fn lies_in(&self, outline: &Region) -> bool {
        let whole = self.region(0.0);
        whole.common(outline).area() > 0.999 * whole.area() && !whole.is_empty()
    }
}

/// Width and height of a plain rectangle; a side that is not given is like the other.
fn rectangle_size(size: ReferenceSide) -> DVec2 {
    match size {
        ReferenceSide::Width(side) | ReferenceSide::Height(side) => DVec2::splat(side.as_mm()),
        ReferenceSide::Both(width, height) => DVec2::new(width.as_mm(), height.as_mm()),
    }
}

/// Cells from the upper left, row by row, their finishes dealt over and over.
fn dealt(cells: &Cells, size: DVec2) -> Vec<Cell<'_>> {
    let gap = cells.gap.as_mm();
    let counts = DVec2::new(f64::from(cells.columns), f64::from(cells.rows));
    let cell = (size - gap * (counts + 1.0)) / counts.max(DVec2::ONE);
    if cells.finishes.is_empty() || cell.min_element() <= 0.5 {
        return Vec::new();
    }
    let places = (0..cells.rows).flat_map(|row| (0..cells.columns).map(move |column| (row, column)));
    places
        .zip(cells.finishes.iter().cycle())
        .map(|((row, column), finish)| {
            let step = (cell + gap) * DVec2::new(f64::from(column), f64::from(row)) + gap;
            let low = DVec2::new(-size.x / 2.0 + step.x, size.y / 2.0 - step.y - cell.y);
            Cell { low, high: low + cell, finish }
        })
        .collect()
}

pub(super) fn measure(plaque: &Plaque, posture: Posture, makings: Makings) -> Result<PieceMeasure, PieceError> {
    let plan = Plan::of(plaque, makings)?;
    let [base, tiles] = plan.levels();
    let open: f64 = plan.cells.iter().map(Cell::area).sum();
    let mut volumes = Vec::new();
    let frame = plan.thickness() - if plan.cells.is_empty() { plan.thickness() } else { base };
    let plate = plan.area() * (plan.thickness() - frame) + (plan.area() - open) * frame;
    add(&mut volumes, &plaque.finish, plate);
    for cell in &plan.cells {
        add(&mut volumes, cell.finish, cell.area() * (tiles - base));
    }
    let [width, tall] = plan.size.to_array().map(Length::mm);
    let footprint = match &plan.likeness {
        Some(likeness) => hull(likeness.figure.front.rings.iter().flatten().map(|&at| posture.on_seat(at)).collect()),
        None => hull(tidy(&plan.outline().rings.concat(), FINE)),
    };
    Ok(PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width, height: plaque.thickness, depth: tall },
            Posture::OnSide => PieceSize { width, height: tall, depth: plaque.thickness },
        },
        reach: plaque.thickness,
        neutral: plan.thickness() / 2.0,
        volumes,
        footprint,
        cuts: vec![cut("plate", plan.size, plaque.thickness, &plaque.finish)],
        shortfalls: plan.left_out().into_iter().collect(),
        ..PieceMeasure::default()
    })
}

/// The plate; or its base, its frame and its tiles, those of a finish together.
pub(super) fn templates(plaque: &Plaque, makings: Makings) -> Result<Vec<Template>, PieceError> {
    let plan = Plan::of(plaque, makings)?;
    if plan.cells.is_empty() {
        return Ok(vec![Template::new("plate", plan.outline(), (plaque.thickness, &plaque.finish))]);
    }
    let [base, tiles] = plan.levels();
    let layer = |what: &'static str, region: Region, thick: f64| {
        Template::new(what, region, (Length::mm(thick), &plaque.finish))
    };
    let mut templates =
        vec![layer("base", plan.outline(), base), layer("frame", plan.frame(), plan.thickness() - base)];
    let mut seen: Vec<&str> = Vec::new();
    for cell in &plan.cells {
        if seen.contains(&cell.finish) {
            continue;
        }
        seen.push(cell.finish);
        let region = cell.region(LOOSE).moved(-(cell.low + cell.high) / 2.0);
        let count = plan.cells.iter().filter(|other| other.finish == cell.finish).count();
        let tile = Template::new("cell", region, (Length::mm(tiles - base), cell.finish));
        templates.push(Template { count: u32::try_from(count).unwrap_or(u32::MAX), ..tile });
    }
    Ok(templates)
}

pub(super) fn parts(plaque: &Plaque, posture: Posture, makings: Makings) -> Result<Vec<Part>, PieceError> {
    let plan = Plan::of(plaque, makings)?;
    let print = plan.likeness.as_ref().map(Likeness::print);
    let half = plan.size / 2.0;
    let lies = print.as_ref().map_or([-half, half], |print| print.lies);
    let facet = if plaque.stiff { f64::INFINITY } else { Cutout::SOFT_FACET };
    let body = |region: &Region, [from, to]: [f64; 2], soft: f64| -> Result<_, PieceError> {
        let mesh = prism(&Cutout { region, thickness: to - from, soft, picture: lies, facet });
        let mesh = mesh.ok_or_else(|| PieceError::Outline { path: plaque.art.clone().unwrap_or_default() })?;
        Ok((mesh, posture.laid() * DAffine3::from_translation(DVec3::Z * from)))
    };
    let outline = plan.outline();
    let [base, tiles] = plan.levels();
    let mut parts = Vec::new();
    let mut face = if plan.cells.is_empty() {
        let (mesh, pose) = body(&outline, [0.0, plan.thickness()], SOFT)?;
        Part::new("plate", mesh, &plaque.finish).at(pose)
    } else {
        let (mesh, pose) = body(&outline, [0.0, base], 0.0)?;
        parts.push(Part::new("base", mesh, &plaque.finish).at(pose));
        let (mesh, pose) = body(&plan.frame(), [base, plan.thickness()], SOFT)?;
        Part::new("frame", mesh, &plaque.finish).at(pose)
    };
    face.picture = print.map(|Print { picture, .. }| picture);
    parts.push(face);
    for (cell, number) in plan.cells.iter().zip(1..) {
        let (mesh, pose) = body(&cell.region(LOOSE), [base, tiles], SOFT / 2.0)?;
        parts.push(Part::new(format!("cell {number}"), mesh, cell.finish).at(pose));
    }
    Ok(parts.into_iter().map(|part| part.held(Hold::Soft)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;
    use crate::design::Design;

    fn plaque() -> Plaque {
        let cells = Cells {
            rows: 2,
            columns: 3,
            gap: Length::mm(3.0),
            inset: Length::mm(1.5),
            finishes: vec!["sea".into(), "white".into()],
        };
        Plaque {
            size: ReferenceSide::Both(Length::mm(64.0), Length::mm(38.0)),
            art: None,
            corner: Length::mm(4.0),
            cells: Some(cells),
            thickness: Length::mm(6.0),
            stiff: false,
            finish: "ink".into(),
        }
    }

    #[test]
    fn cells_are_dealt_over_and_over_and_lie_below_the_face() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        for posture in [Posture::OnTop, Posture::OnSide] {
            let measured = measure(&plaque(), posture, makings).unwrap();
            let parts = parts(&plaque(), posture, makings).unwrap();
            trial::agree(&measured, &parts, 0.03);
            assert_eq!(parts.len(), 8);
            let (_, face) = trial::bounds(&parts[..2]);
            let (_, tiles) = trial::bounds(&parts[2..]);
            assert!((face.dot(posture.out()) - 6.0).abs() < 1e-9 && (tiles.dot(posture.out()) - 4.5).abs() < 1e-9);
        }
    }

    #[test]
    fn art_gives_the_outline_and_is_painted_on_it() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let plaque = Plaque { art: Some("flag.png".into()), size: ReferenceSide::Width(Length::mm(80.0)), ..plaque() };
        let measured = measure(&plaque, Posture::OnTop, makings).unwrap();
        let parts = parts(&plaque, Posture::OnTop, makings).unwrap();
        trial::agree(&measured, &parts, 0.03);
        // Five of the six cells: the hole of the flag takes none away, but its rim crosses the upper left ones.
        assert!(parts.len() < 8, "{}", parts.len());
        assert_eq!(trial::seen(&parts[1], DVec2::new(39.0, 0.0)), Some([0, 0, 255, 255]));
    }
}
