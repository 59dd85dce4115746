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

use glam::{DAffine3, DVec2, DVec3};

use super::likeness::Likeness;
use super::measures::{add, hull, rectangle};
use super::{Cut, CutEnd, Makings, Part, PickKind, PickMeasure, PieceError, PieceMeasure, PieceSize, Posture, Stock};
use crate::art::Region;
use crate::design::model::pieces::{Picks, SidePins, Topper};
use crate::measure::Length;
use crate::shapes::build::{Cutout, prism};

/// Radius of the front edge of rolled paste, mm.
pub(super) const SOFT: f64 = 0.5;

/// Picks of one topper stand apart by this share of its width in all (common practice, no source).
const PICKS_APART: f64 = 0.5;
/// Its side pins, nearer to its edges.
const SIDE_PINS_APART: f64 = 0.7;

/// A topper laid out: figures in the plane of its front, mm.
struct Layout<'a> {
    topper: &'a Topper,
    likeness: Likeness<'a>,
    backing: Option<Region>,
    /// From the figure's middle to where it lies in the piece's frame.
    shift: DVec2,
    /// The back of each layer, from the seat or from the middle: front, backing.
    depths: [f64; 2],
}

impl<'a> Layout<'a> {
    fn of(topper: &'a Topper, posture: Posture, makings: Makings<'a>) -> Result<Self, PieceError> {
        let likeness = Likeness::cut(makings, &topper.art, topper.size)?;
        let backing = topper.backing.as_ref().map(|backing| likeness.with_border(backing.border.as_mm()));
        let [front, behind] = thicknesses(topper);
        let [low, _] = likeness.bounds;
        let (shift, back) = match posture {
            Posture::OnTop => (DVec2::Y * (border(topper) - low.y), -(front + behind) / 2.0),
            Posture::OnSide => (DVec2::ZERO, 0.0),
        };
        Ok(Self { topper, likeness, backing, shift, depths: [back + behind, back] })
    }

    /// The figure that reaches farthest down, and so stands on the picks.
    fn widest(&self) -> &Region {
        self.backing.as_ref().unwrap_or(&self.likeness.region)
    }

    fn picks(&self, posture: Posture) -> Vec<PickMeasure> {
        let Some(picks) = self.topper.picks else { return Vec::new() };
        let centre = self.widest().centroid().unwrap_or_default() + self.shift;
        let [front, behind] = thicknesses(self.topper);
        let middle = if behind > 0.0 { self.depths[1] + behind / 2.0 } else { self.depths[0] + front / 2.0 };
        let sides = picks.side_pins.map(|pins| Set::of_side_pins(&pins));
        let sets = [(Set::of_sticks(&picks), PICKS_APART)].into_iter().chain(sides.map(|set| (set, SIDE_PINS_APART)));
        let place = |set: &Set, share: f64, number: u32| match set.count {
            0 | 1 => centre.x,
            count => centre.x + self.likeness.size().x * share * (f64::from(number) / f64::from(count - 1) - 0.5),
        };
        sets.flat_map(|(set, share)| (0..set.count).map(move |number| (set, share, number)))
            .map(|(set, share, number)| {
                let x = place(&set, share, number);
                let (entry, gap) = match posture {
                    Posture::OnTop => (DVec3::new(x, 0.0, middle), self.foot(x)),
                    Posture::OnSide => (DVec3::new(x, centre.y, 0.0), 0.0),
                };
                set.pick([entry, -posture.out()], gap)
            })
            .collect()
    }

    /// How high the figure's lower edge lies above the seat at `x`.
    fn foot(&self, x: f64) -> f64 {
        let at = x - self.shift.x;
        let crossing = |(from, to): (DVec2, DVec2)| {
            let spans = (from.x > at) != (to.x > at);
            spans.then(|| from.y + (to.y - from.y) * (at - from.x) / (to.x - from.x))
        };
        let lowest = self.widest().edges().filter_map(crossing).fold(f64::MAX, f64::min);
        if lowest < f64::MAX { (lowest + self.shift.y).max(0.0) } else { 0.0 }
    }
}

/// Equal picks of one piece.
#[derive(Clone, Copy, Debug)]
struct Set {
    kind: PickKind,
    count: u32,
    diameter: Length,
    into_piece: Length,
    into_cake: Length,
}

impl Set {
    fn of_sticks(picks: &Picks) -> Self {
        let Picks { count, diameter, into_piece, into_cake, .. } = *picks;
        Self { kind: PickKind::Stick, count, diameter, into_piece, into_cake }
    }

    fn of_side_pins(pins: &SidePins) -> Self {
        let SidePins { count, diameter, into_piece, into_cake } = *pins;
        Self { kind: PickKind::SidePin, count, diameter, into_piece, into_cake }
    }

    /// One that enters the seat there, in that direction, and the piece beyond a gap.
    fn pick(&self, [entry, toward]: [DVec3; 2], gap: f64) -> PickMeasure {
        PickMeasure {
            kind: self.kind,
            diameter: self.diameter,
            length: self.into_cake + Length::mm(gap) + self.into_piece,
            into_piece: self.into_piece,
            into_cake: self.into_cake,
            entry,
            toward,
        }
    }
}

fn border(topper: &Topper) -> f64 {
    topper.backing.as_ref().map_or(0.0, |backing| backing.border.as_mm())
}

/// Thickness of the front and of the backing, mm.
fn thicknesses(topper: &Topper) -> [f64; 2] {
    [topper.thickness.as_mm(), topper.backing.as_ref().map_or(0.0, |backing| backing.thickness.as_mm())]
}

pub(super) fn measure(topper: &Topper, posture: Posture, makings: Makings) -> Result<PieceMeasure, PieceError> {
    let layout = Layout::of(topper, posture, makings)?;
    let [front, behind] = thicknesses(topper);
    let size = layout.likeness.size() + 2.0 * border(topper);
    let [width, height] = size.to_array().map(Length::mm);
    let depth = Length::mm(front + behind);
    let mut volumes = Vec::new();
    add(&mut volumes, &topper.finish, layout.likeness.region.area() * front);
    let mut cuts = vec![cut("front", layout.likeness.size(), topper.thickness, &topper.finish)];
    if let Some((backing, region)) = topper.backing.as_ref().zip(layout.backing.as_ref()) {
        add(&mut volumes, &backing.finish, region.area() * behind);
        cuts.push(cut("backing", size, backing.thickness, &backing.finish));
    }
    let footprint = match posture {
        Posture::OnTop => {
            let half = DVec2::new(size.x, front + behind) / 2.0;
            rectangle(-half, half)
        }
        Posture::OnSide => hull(layout.widest().rings.concat()),
    };
    Ok(PieceMeasure {
        size: PieceSize { width, height, depth },
        reach: if posture == Posture::OnTop { height } else { depth },
        volumes,
        picks: layout.picks(posture),
        footprint,
        cuts,
        ..PieceMeasure::default()
    })
}

pub(super) fn cut(what: &'static str, size: DVec2, thickness: Length, finish: &str) -> Cut {
    let [length, width] = size.to_array().map(Length::mm);
    Cut { what: what.into(), length, width, thickness, count: 1, finish: finish.to_owned(), end: CutEnd::Square }
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
    let lies = print.as_ref().map_or(layout.likeness.bounds, |print| print.lies);
    let cutout = |region, thickness| Cutout { region, thickness, soft: SOFT, picture: lies, facet: f64::INFINITY };
    let pose = |depth: f64| DAffine3::from_translation(layout.shift.extend(depth));
    let mesh = prism(&cutout(&layout.likeness.region, front)).ok_or_else(failed)?;
    let mut face = Part::new("front", mesh, &topper.finish).at(pose(layout.depths[0]));
    face.picture = print.map(|print| print.picture);
    let mut parts = vec![face];
    if let Some((backing, region)) = topper.backing.as_ref().zip(layout.backing.as_ref()) {
        let mesh = prism(&cutout(region, behind)).ok_or_else(failed)?;
        parts.push(Part::new("backing", mesh, &backing.finish).at(pose(layout.depths[1])));
    }
    let picks = layout.picks(posture);
    parts
        .extend(picks.iter().zip(1..).map(|(pick, number)| stock.pick(format!("{} {number}", pick.kind.word()), pick)));
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;
    use crate::design::Design;
    use crate::design::model::pieces::{Backing, ReferenceSide};

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
            assert_eq!(trial::seen(&parts[0], DVec2::new(-50.0, 30.0)), Some([255, 0, 0, 255]));
            assert_eq!(trial::seen(&parts[0], DVec2::new(50.0, -30.0)), Some([0, 0, 255, 255]));
            let [left, right] = &measured.picks[..] else { panic!("two picks") };
            assert!((right.entry.x - left.entry.x - 60.0).abs() < 0.5 && left.entry.y == 0.0);
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
    }

    #[test]
    fn art_that_is_not_there_is_named() {
        let (shelf, design) = (Shelf::default(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let error = measure(&topper("art/none.svg"), Posture::OnTop, makings).unwrap_err();
        assert!(error.to_string().starts_with("art/none.svg: the art was not found"), "{error}");
    }

    use crate::art::Shelf;
}
