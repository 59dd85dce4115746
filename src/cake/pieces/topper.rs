//! A topper: flat art standing up, its front layer before a larger backing, on picks.
//!
//! ```text
//!   from the right        from the front
//!     back  front            ______
//!      |==|=|              / front \      the backing stands out all round by its border;
//!      |==|=|             |  o  o   |     the lower of the two touches the seat
//!      |==|                \_______/
//!   ---|--|---- seat       ----|------
//!       ||  pick               |
//! ```

mod columns;
mod habits;
mod picks;

use glam::{DAffine3, DVec2, DVec3};

use habits::{HABITS, narrowest_neck};
use picks::Held;

use super::likeness::Likeness;
use super::measures::{add, hull};
use super::template::{Guide, Template};
use super::{Cut, CutEnd, Makings, Part, PickMeasure, PieceError, PieceMeasure, PieceSize, Posture, Shortfall, Stock};
use crate::art::{BackingOrder, Neck, Region};
use crate::design::model::pieces::Topper;
use crate::measure::Length;
use crate::shapes::build::{Cutout, prism};

/// Radius of the front edge of rolled paste, mm.
pub(super) const SOFT: f64 = 0.5;

/// A topper laid out: figures in the plane of its front, mm.
struct Layout<'a> {
    topper: &'a Topper,
    posture: Posture,
    likeness: Likeness<'a>,
    /// From the figure's middle to where it lies in the piece's frame.
    shift: DVec2,
    /// The back of each layer, from the seat or from the middle: front, backing.
    depths: [f64; 2],
}

impl<'a> Layout<'a> {
    fn of(topper: &'a Topper, posture: Posture, makings: Makings<'a>) -> Result<Self, PieceError> {
        let border = border(topper);
        let order = topper.backing.as_ref().map(|_| BackingOrder { border, closed_hole: HABITS.closed_hole });
        let likeness = Likeness::layered(makings, &topper.art, topper.size, (order, least_neck(topper)))?;
        let [front, behind] = thicknesses(topper);
        let [low, _] = likeness.figure.bounds;
        let (shift, back) = match posture {
            Posture::OnTop => (DVec2::Y * (border - low.y), -(front + behind) / 2.0),
            Posture::OnSide => (DVec2::ZERO, 0.0),
        };
        Ok(Self { topper, posture, likeness, shift, depths: [back + behind, back] })
    }

    /// Each layer and how thick it is: the front, then the backing.
    fn layers(&self) -> impl Iterator<Item = (&Region, f64)> {
        let figure = &self.likeness.figure;
        std::iter::once(&figure.front).chain(&figure.backing).zip(thicknesses(self.topper))
    }

    /// The middle of its weight, about the figure's middle.
    fn balance(&self) -> DVec2 {
        let moments = self.layers().filter_map(|(region, thick)| Some((region.centroid()?, region.area() * thick)));
        let (moment, volume) =
            moments.fold((DVec2::ZERO, 0.0), |(moment, volume), (at, part)| (moment + at * part, volume + part));
        if volume > 0.0 { moment / volume } else { DVec2::ZERO }
    }

    /// Its picks, and what has no room.
    fn picks(&self) -> (Vec<PickMeasure>, Vec<Shortfall>) {
        let Some(picks) = self.topper.picks else { return Default::default() };
        let [front, behind] = thicknesses(self.topper);
        let carrier = if behind > 0.0 { self.depths[1] + behind / 2.0 } else { self.depths[0] + front / 2.0 };
        let held = Held {
            region: self.likeness.figure.widest(),
            shift: self.shift,
            balance: self.balance(),
            thickness: front + behind,
            depth: carrier,
        };
        picks::place(&picks, &held, self.posture)
    }

    /// Where it is too narrow, in the piece's frame.
    fn necks(&self) -> Vec<Neck> {
        let placed = |neck: &Neck| Neck { sides: neck.sides.map(|at| at + self.shift), ..*neck };
        self.likeness.figure.necks.iter().map(placed).collect()
    }

    /// Parts that nothing joins, and necks that nothing backs.
    fn weak(&self, necks: &[Neck]) -> Vec<Shortfall> {
        let parts = self.likeness.figure.parts;
        let apart = (parts > 1).then_some(Shortfall::InParts { parts });
        let least = Length::mm(least_neck(self.topper));
        let narrow = necks.first().map(|&neck| Shortfall::Narrow { least, neck, places: necks.len() });
        apart.into_iter().chain(narrow).collect()
    }
}

fn border(topper: &Topper) -> f64 {
    topper.backing.as_ref().map_or(0.0, |backing| backing.border.as_mm())
}

/// Thickness of the front and of the backing, mm.
fn thicknesses(topper: &Topper) -> [f64; 2] {
    [topper.thickness.as_mm(), topper.backing.as_ref().map_or(0.0, |backing| backing.thickness.as_mm())]
}

/// The least width of a neck in the layer that carries it, mm.
fn least_neck(topper: &Topper) -> f64 {
    let [front, behind] = thicknesses(topper);
    narrowest_neck(if behind > 0.0 { behind } else { front })
}

pub(super) fn measure(topper: &Topper, posture: Posture, makings: Makings) -> Result<PieceMeasure, PieceError> {
    let layout = Layout::of(topper, posture, makings)?;
    let [front, behind] = thicknesses(topper);
    let size = layout.likeness.size() + 2.0 * border(topper);
    let [width, height] = size.to_array().map(Length::mm);
    let depth = Length::mm(front + behind);
    let mut volumes = Vec::new();
    let figure = &layout.likeness.figure;
    add(&mut volumes, &topper.finish, figure.front.area() * front);
    let mut cuts = vec![cut("front", layout.likeness.size(), topper.thickness, &topper.finish)];
    if let Some((backing, region)) = topper.backing.as_ref().zip(figure.backing.as_ref()) {
        add(&mut volumes, &backing.finish, region.area() * behind);
        cuts.push(cut("backing", size, backing.thickness, &backing.finish));
    }
    let footprint = match posture {
        Posture::OnTop => {
            // Seen from above: the front before its wider backing.
            let (half, cut) = ((front + behind) / 2.0, front - (front + behind) / 2.0);
            let row = |wide: f64, z: f64| [DVec2::new(-wide / 2.0, z), DVec2::new(wide / 2.0, z)];
            hull([row(size.x, -half), row(size.x, -cut), row(layout.likeness.size().x, half)].concat())
        }
        Posture::OnSide => hull(figure.widest().rings.concat()),
    };
    let (picks, mut shortfalls) = layout.picks();
    let necks = layout.necks();
    shortfalls.extend(layout.weak(&necks));
    Ok(PieceMeasure {
        size: PieceSize { width, height, depth },
        reach: if posture == Posture::OnTop { height } else { depth },
        volumes,
        picks,
        footprint,
        cuts,
        necks,
        shortfalls,
        ..PieceMeasure::default()
    })
}

pub(super) fn cut(what: &'static str, size: DVec2, thickness: Length, finish: &str) -> Cut {
    let [length, width] = size.to_array().map(Length::mm);
    Cut { what: what.into(), length, width, thickness, count: 1, finish: finish.to_owned(), end: CutEnd::Square }
}

/// Front and backing as they are cut; the layer that carries the piece shows where its sticks lie.
pub(super) fn templates(topper: &Topper, posture: Posture, makings: Makings) -> Result<Vec<Template>, PieceError> {
    let layout = Layout::of(topper, posture, makings)?;
    let figure = &layout.likeness.figure;
    let front = Template::new("front", figure.front.clone(), (topper.thickness, &topper.finish)).with_mirrored();
    let backing = topper.backing.as_ref().zip(figure.backing.as_ref());
    let backing =
        backing.map(|(backing, region)| Template::new("backing", region.clone(), (backing.thickness, &backing.finish)));
    let mut templates: Vec<Template> = std::iter::once(front).chain(backing).collect();
    if let Some(carrier) = templates.last_mut() {
        let flat = |at: DVec3| at.truncate() - layout.shift;
        let lies = |pick: &PickMeasure| {
            let foot = pick.enters_piece();
            Guide::Pick([flat(foot), flat(foot - pick.toward * pick.into_piece.as_mm())])
        };
        carrier.guides = layout.picks().0.iter().map(lies).collect();
    }
    Ok(templates)
}

pub(super) fn parts(
    topper: &Topper,
    posture: Posture,
    makings: Makings,
    stock: &mut Stock,
) -> Result<Vec<Part>, PieceError> {
    let layout = Layout::of(topper, posture, makings)?;
    let failed = || PieceError::Outline { path: topper.art.clone() };
    let print = topper.print.then(|| layout.likeness.print());
    let [front, behind] = thicknesses(topper);
    let figure = &layout.likeness.figure;
    let lies = print.as_ref().map_or(figure.bounds, |print| print.lies);
    let cutout = |region, thickness| Cutout { region, thickness, soft: SOFT, picture: lies, facet: f64::INFINITY };
    let pose = |depth: f64| DAffine3::from_translation(layout.shift.extend(depth));
    let mesh = prism(&cutout(&figure.front, front)).ok_or_else(failed)?;
    let mut face = Part::new("front", mesh, &topper.finish).at(pose(layout.depths[0]));
    face.picture = print.map(|print| print.picture);
    let mut parts = vec![face];
    if let Some((backing, region)) = topper.backing.as_ref().zip(figure.backing.as_ref()) {
        let mesh = prism(&cutout(region, behind)).ok_or_else(failed)?;
        parts.push(Part::new("backing", mesh, &backing.finish).at(pose(layout.depths[1])));
    }
    let (picks, _) = layout.picks();
    parts
        .extend(picks.iter().zip(1..).map(|(pick, number)| stock.pick(format!("{} {number}", pick.kind.word()), pick)));
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::{Art, Shelf};
    use crate::cake::pieces::trial;
    use crate::design::Design;
    use crate::design::model::pieces::{Backing, Picks, ReferenceSide};

    fn topper(art: &str) -> Topper {
        Topper {
            art: art.into(),
            size: ReferenceSide::Height(Length::mm(90.0)),
            thickness: Length::mm(3.0),
            finish: "gold".into(),
            print: true,
            backing: Some(Backing { border: Length::mm(5.0), thickness: Length::mm(6.0), finish: "white".into() }),
            picks: Some(Picks {
                count: 2,
                diameter: Length::mm(3.0),
                into_piece: Length::mm(30.0),
                into_cake: Length::mm(60.0),
                side_pins: None,
            }),
        }
    }

    #[test]
    fn a_topper_stands_on_its_backing_with_its_art_upright() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        for art in ["flag.svg", "flag.png"] {
            let topper = topper(art);
            let measured = measure(&topper, Posture::OnTop, makings).unwrap();
            assert!((measured.size.height.as_mm() - 100.0).abs() < 1e-6);
            // The flag is 40 wide and 30 high.
            assert!((measured.size.width.as_mm() - 130.0).abs() < 1.0, "{:?}", measured.size);
            let parts = parts(&topper, Posture::OnTop, makings, &mut Stock::default()).unwrap();
            trial::agree(&measured, &parts, 0.02);
            let (low, high) = trial::bounds(&parts[..2]);
            assert!(
                low.y.abs() < 0.02
                    && (high.y - 100.0).abs() < 0.1
                    && (high.z - 4.5).abs() < 1e-9
                    && (low.z + 4.5).abs() < 1e-9
            );
            // What it takes of the seat, its size and its bodies are one thing.
            let (left, right) = measured
                .footprint
                .iter()
                .fold((DVec2::MAX, DVec2::MIN), |(left, right), at| (left.min(*at), right.max(*at)));
            assert!(left.distance(DVec2::new(low.x, low.z)) < 0.1 && right.distance(DVec2::new(high.x, high.z)) < 0.1);
            assert!(
                (high.x - low.x - measured.size.width.as_mm()).abs() < 0.1
                    && (measured.size.depth.as_mm() - 9.0).abs() < 1e-9
            );
            assert_eq!(trial::seen(&parts[0], DVec2::new(-50.0, 30.0)), Some([255, 0, 0, 255]));
            assert_eq!(trial::seen(&parts[0], DVec2::new(50.0, -30.0)), Some([0, 0, 255, 255]));
            let [left, right] = &measured.picks[..] else { panic!("two picks") };
            assert!((right.entry.x - left.entry.x - 65.0).abs() < 0.5 && left.entry.y == 0.0);
            assert!((trial::bounds(&parts[2..]).0.y + 60.0).abs() < 1e-6);
        }
    }

    #[test]
    fn on_a_side_it_lies_flat_and_is_pinned_through_its_middle() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let mut topper = topper("flag.svg");
        topper.picks = topper.picks.map(|picks| Picks { count: 1, ..picks });
        let measured = measure(&topper, Posture::OnSide, makings).unwrap();
        let parts = parts(&topper, Posture::OnSide, makings, &mut Stock::default()).unwrap();
        trial::agree(&measured, &parts, 0.02);
        let (low, high) = trial::bounds(&parts[..2]);
        assert!(low.z == 0.0 && (high.z - 9.0).abs() < 1e-9 && (low.y + high.y).abs() < 0.05);
        assert_eq!(measured.picks[0].toward, -DVec3::Z);
        // The ring round it holds every place of its bodies, and touches them on all four sides.
        let ring = crate::art::Region::from_paths_non_zero(std::slice::from_ref(&measured.footprint));
        assert!(
            ring.bounds().unwrap().0.distance(low.truncate()) < 0.1
                && ring.bounds().unwrap().1.distance(high.truncate()) < 0.1
        );
        let wider = ring.offset(0.05, crate::art::Join::Round);
        assert!(parts[..2].iter().all(|part| {
            part.mesh.positions.iter().all(|at| wider.contains(part.pose.transform_point3(*at).truncate()))
        }));
    }

    #[test]
    fn a_thin_waist_is_told_where_it_is_unless_a_backing_widens_it() {
        let mut shelf = Shelf::default();
        let waist = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M20 0H80L53 50L80 100H20L47 50Z"/></svg>"#;
        shelf.insert("waist.svg", Arc::new(Art::read(waist.as_bytes(), "waist.svg").unwrap()));
        let design = Design::default();
        let makings = Makings { shelf: &shelf, design: &design };
        let mut topper = topper("waist.svg");
        topper.size = ReferenceSide::Height(Length::mm(50.0));
        assert_eq!(measure(&topper, Posture::OnTop, makings).unwrap().necks, []);
        topper.backing = None;
        let measured = measure(&topper, Posture::OnTop, makings).unwrap();
        let [neck] = measured.necks[..] else { panic!("{:?}", measured.necks) };
        // Its sides lean 28° outward, so that the nearest places of both are not at one height: 3 mm is the waist itself.
        assert!((2.5..3.1).contains(&neck.width()) && neck.middle().distance(DVec2::new(0.0, 25.0)) < 1.5, "{neck:?}");
        let narrow = measured.shortfalls.iter().any(|lacking| matches!(lacking, Shortfall::Narrow { places: 1, .. }));
        // A stick as thick as the waist doesn't pass it.
        let room = measured.shortfalls.iter().find_map(|lacking| match lacking {
            Shortfall::PickRoom { room, .. } => Some(room.as_mm()),
            _ => None,
        });
        assert!(narrow && room.is_some_and(|room| room < 26.0), "{:?}", measured.shortfalls);
    }

    #[test]
    fn parts_that_nothing_joins_are_told() {
        let mut shelf = Shelf::default();
        let dots = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><path d="M0 0H40V100H0Z M50 0H100V100H50Z"/></svg>"#;
        shelf.insert("parts.svg", Arc::new(Art::read(dots.as_bytes(), "parts.svg").unwrap()));
        let design = Design::default();
        let makings = Makings { shelf: &shelf, design: &design };
        let apart = |topper: &Topper| {
            let measured = measure(topper, Posture::OnTop, makings).unwrap();
            measured.shortfalls.iter().any(|lacking| matches!(lacking, Shortfall::InParts { parts: 2 }))
        };
        let mut topper = topper("parts.svg");
        // A gap of 9 mm: a border of 5 mm closes it, one of 4 mm doesn't.
        assert!(!apart(&topper));
        topper.backing = topper.backing.map(|backing| Backing { border: Length::mm(4.0), ..backing });
        assert!(apart(&topper));
        topper.backing = None;
        assert!(apart(&topper));
    }

    #[test]
    fn art_that_is_not_there_is_named() {
        let (shelf, design) = (Shelf::default(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let error = measure(&topper("art/none.svg"), Posture::OnTop, makings).unwrap_err();
        assert!(error.to_string().starts_with("art/none.svg: the art was not found"), "{error}");
    }
}
