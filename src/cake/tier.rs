//! A tier as it stands: pan, icing, paste, and what the tape measure read.

use glam::{DAffine3, DMat3, DVec2, DVec3};

use super::course::{CakeCourse, stack_courses};
use crate::art::Join;
use crate::design::model::{Tier, TierShape};
use crate::findings::{Code, Finding, Place};
use crate::measure::{Angle, Length, Unit, show_length};
use crate::shapes::{Outline, forms};

/// A difference between tape and computation below this is not worth saying.
const TAPE_TOLERANCE: Length = Length::mm(0.5);

/// One tier, resolved.
#[derive(Clone, Debug)]
pub struct CakeTier {
    /// Its name.
    pub name: String,
    /// Its shape.
    pub shape: TierShape,
    /// The pan.
    pub pan: Outline,
    /// Over the icing: corners mitred.
    pub iced: Outline,
    /// Over the covering: the finished outline, which a tape measure reads.
    pub outline: Outline,
    /// Foot to top, finished.
    pub height: Length,
    /// Thickness of the covering paste.
    pub paste: Length,
    /// Radius of the top edge.
    pub edge: Length,
    /// Name of the finish.
    pub finish: String,
    /// Its centre in the cake's plan, mm.
    pub at: DVec2,
    /// Height of its foot above the board's top face.
    pub foot: Length,
    /// Seen from above; everything stuck on the tier turns with it.
    pub turn: Angle,
    /// From the foot up.
    pub courses: Vec<CakeCourse>,
}

impl CakeTier {
    /// From the tier's frame (origin: centre of its foot) to the cake's.
    #[must_use]
    pub fn pose(&self) -> DAffine3 {
        DAffine3 {
            matrix3: DMat3::from_rotation_y(self.turn.as_radians()),
            translation: DVec3::new(self.at.x, self.foot.as_mm(), self.at.y),
        }
    }

    /// Across, as the shape's size is meant.
    #[must_use]
    pub fn across(&self) -> Length {
        across(self.shape, &self.outline)
    }

    /// Front to back.
    #[must_use]
    pub fn depth(&self) -> Length {
        let (low, high) = self.outline.bounds();
        Length::mm(high.y - low.y)
    }

    /// Once round the side.
    #[must_use]
    pub fn around(&self) -> Length {
        Length::mm(self.outline.perimeter())
    }

    /// How far what lies on the side stands out at a height (mm above the foot): the courses that a thing `half` mm up and
    /// down from there would touch.
    #[must_use]
    pub fn surface_out(&self, up: f64, half: f64) -> f64 {
        let touched = self.courses.iter().filter(|course| course.bottom < up + half && course.top > up - half);
        touched.map(|course| course.outer).fold(0.0, f64::max)
    }

    /// The volume of its covering paste, mm³: round the side and over the top.
    #[must_use]
    pub fn paste_volume(&self) -> f64 {
        let paste = self.paste.as_mm();
        let side = (self.outline.area() - self.iced.area()) * (self.height.as_mm() - paste).max(0.0);
        side + self.outline.area() * paste
    }
}

/// Across an outline, as a shape's size is meant: corner to corner for polygons, over the lobes for a petal.
fn across(shape: TierShape, outline: &Outline) -> Length {
    match shape {
        TierShape::Hexagon | TierShape::Octagon | TierShape::Petal => Length::mm(2.0 * outline.reach()),
        _ => {
            let (low, high) = outline.bounds();
            Length::mm(high.x - low.x)
        }
    }
}

/// The outline of a pan.
fn pan(tier: &Tier) -> Outline {
    let (width, depth, corner) = (tier.size.width.as_mm(), tier.size.depth().as_mm(), tier.corner.as_mm());
    match tier.shape {
        TierShape::Round => forms::round(width),
        TierShape::Square => forms::rectangle(width, width, corner),
        TierShape::Rectangle => forms::rectangle(width, depth, corner),
        TierShape::Hexagon => forms::regular(6, width, corner),
        TierShape::Octagon => forms::regular(8, width, corner),
        TierShape::Oval => forms::oval(width, depth),
        TierShape::Heart => forms::heart(width),
        TierShape::Petal => forms::petal(tier.petals, width),
    }
}

/// What carries a tier: its centre, the height of its top, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carrier {
    pub at: DVec2,
    pub top: f64,
}

/// Resolves one tier on what carries it.
pub(super) fn stand(tier: &Tier, carrier: Carrier, unit: Unit, findings: &mut Vec<Finding>) -> CakeTier {
    let pan = pan(tier);
    // Icing is scraped with sharp corners; paste drapes round them.
    let iced = pan.offset(tier.icing.as_mm(), Join::Mitre);
    let covered = iced.offset(tier.paste.as_mm(), Join::Round);
    let scale = measured_scale(tier, &covered);
    let height = tier.measured.height.unwrap_or(tier.height);
    if scale != 1.0 || height != tier.height {
        findings.extend(tape_differs(tier, &covered, unit));
    }
    let iced = if scale == 1.0 { iced } else { iced.scaled(scale) };
    let outline = if scale == 1.0 { covered } else { covered.scaled(scale) };
    let courses = stack_courses(&tier.courses, &outline, (height, unit, &tier.name), findings);
    CakeTier {
        name: tier.name.clone(),
        shape: tier.shape,
        pan,
        iced,
        outline,
        height,
        paste: tier.paste,
        edge: tier.edge,
        finish: tier.finish.clone(),
        at: carrier.at + DVec2::new(tier.at.x.as_mm(), tier.at.z.as_mm()),
        foot: Length::mm(carrier.top) + tier.gap,
        turn: tier.turn,
        courses,
    }
}

/// What the tape says the outline must be scaled by: once round where it was read (the surer reading), else across.
fn measured_scale(tier: &Tier, covered: &Outline) -> f64 {
    match (tier.measured.around, tier.measured.across) {
        (Some(around), _) => around.as_mm() / covered.perimeter(),
        (None, Some(read)) => read / across(tier.shape, covered),
        (None, None) => 1.0,
    }
}

/// Says how the tape differs from the pan and its covering, reading by reading.
fn tape_differs(tier: &Tier, covered: &Outline, unit: Unit) -> Vec<Finding> {
    let readings = [
        ("round", tier.measured.around, Length::mm(covered.perimeter())),
        ("across", tier.measured.across, across(tier.shape, covered)),
        ("high", tier.measured.height, tier.height),
    ];
    let differing = readings.into_iter().filter_map(|(word, read, computed)| {
        let read = read?;
        let by = read - computed;
        (by.abs() > TAPE_TOLERANCE).then(|| {
            let sentence = format!(
                "the tape read {} {word}, the pan and its covering give {}: every size on this tier follows the tape",
                show_length(read, unit),
                show_length(computed, unit)
            );
            let mend = "nothing to do if the reading is right; else measure again".to_owned();
            Finding::new(Code::MeasuredDiffers, Place::tier(&tier.name), sentence, mend).by(by)
        })
    });
    differing.collect()
}
