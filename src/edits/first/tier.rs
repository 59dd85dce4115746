//! A new tier, and a new course of every kind.

use super::room::Room;
use crate::design::model::{Course, CourseHeight, CourseKind, Measured, Size, Tier};
use crate::design::{Design, Table, Value, new_course};
use crate::edits::names::tier_index;
use crate::edits::{Refusal, free_name};
use crate::measure::{Angle, Length, PlanPoint, Unit};

/// What a new course is to be.
#[derive(Clone, Debug, PartialEq)]
pub enum NewCourse {
    /// A rope.
    Rope,
    /// A row of pearls.
    Pearls,
    /// A band.
    Band,
    /// A wrap with this art (a path in the design's folder): side by side when it is a pattern, else one picture.
    Wrap(String),
    /// The covering, left as it is.
    Bare,
}

/// A new tier at a place from the board up.
pub(in crate::edits) fn first_tier(design: &Design, place: usize) -> Tier {
    let model = place.checked_sub(1).and_then(|below| design.tiers.get(below)).or(design.tiers.first());
    let model = model.cloned().unwrap_or_default();
    let unit = design.unit;
    let smaller = |length: Length| {
        let room = Room { width: length, height: length, unit };
        if place == 0 { length } else { room.first("tier", "size").map_or(length, |size| size.min(length)) }
    };
    let size = Size { width: smaller(model.size.width), depth: model.size.depth.map(smaller) };
    let lid = Course {
        name: "covering".to_owned(),
        kind: CourseKind::Bare { height: CourseHeight::Fill { weight: 1.0, least: Length::ZERO } },
        locked: false,
    };
    Tier {
        name: free_name(design, if place == 0 { "lower tier" } else { "upper tier" }),
        size,
        courses: vec![lid],
        at: PlanPoint::default(),
        turn: Angle::ZERO,
        gap: Length::ZERO,
        measured: Measured::default(),
        locked: false,
        ..model
    }
}

/// A new course for a tier: it fills what is left unless another course does already.
pub(in crate::edits) fn first_course(design: &Design, (tier, new): (&str, &NewCourse)) -> Result<Course, Refusal> {
    let index = tier_index(design, tier)?;
    let tier = design.tiers.get(index).ok_or_else(|| Refusal::missing("tier", tier))?;
    let senseless = || Refusal::senseless("this course can't be added", "choose another kind");
    new.keys(tier, design.unit).and_then(new_course).ok_or_else(senseless)
}

impl NewCourse {
    /// The keys of a design file that are not left at their defaults.
    fn keys(&self, tier: &Tier, unit: Unit) -> Option<Table> {
        let room = Room::of_tier(tier, unit);
        let is_filled = tier.courses.iter().any(|course| fills(&course.kind));
        let kind = match self {
            Self::Rope => "rope",
            Self::Pearls => "pearls",
            Self::Band => "band",
            Self::Wrap(_) => "wrap",
            Self::Bare => "bare",
        };
        let first = |figure: &str| room.first(&format!("{kind} course"), figure).map(Value::Length);
        let mut keys = Table::default();
        keys.set("kind", Value::Text(kind.to_owned()));
        keys.set("name", Value::Text(kind.to_owned()));
        if let Self::Wrap(art) = self {
            keys.set("art", Value::Text(art.clone()));
        }
        if let Self::Rope | Self::Pearls | Self::Band = self {
            keys.set("size", first("size")?);
        }
        match self {
            Self::Rope | Self::Pearls => {}
            Self::Wrap(_) | Self::Bare if !is_filled => keys.set("height", Value::Text("fill".to_owned())),
            Self::Band | Self::Wrap(_) | Self::Bare => keys.set("height", first("height")?),
        }
        Some(keys)
    }
}

fn fills(kind: &CourseKind) -> bool {
    let height = match kind {
        CourseKind::Band { height, .. } | CourseKind::Bare { height } => *height,
        CourseKind::Wrap(wrap) => wrap.height,
        CourseKind::Rope { .. } | CourseKind::Pearls { .. } => return false,
    };
    matches!(height, CourseHeight::Fill { .. })
}
