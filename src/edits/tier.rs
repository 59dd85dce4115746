//! Edits of a tier.

use super::Refusal;
use super::course::mirrored_course;
use super::delete::delete_tier;
use super::first::{NewCourse, first_course};
use super::names::{free_among, free_name, put, tier_index, tier_mut};
use super::piece::mirror_riders;
use crate::design::model::{Measured, Target, Tier};
use crate::design::{Design, Names, renamed};
use crate::measure::{Angle, PlanPoint};

/// An edit of a tier.
#[derive(Clone, Debug, PartialEq)]
pub enum TierEdit {
    /// Its shape, sizes, covering and place; name, courses and lock stay as they are.
    Set(Box<Tier>),
    /// Its place on what carries it.
    Move(PlanPoint),
    /// How it is turned, seen from above.
    Turn(Angle),
    /// What the tape read on it (*Measured it?*).
    Measured(Measured),
    /// Another name; everything that sits on it follows.
    Rename(String),
    /// Keeps it as it is, or lets it go.
    Lock(bool),
    /// Its place among the tiers, from the board up.
    Order(usize),
    /// A copy of it with its courses, right above it; pieces are not copied.
    Duplicate,
    /// Left and right exchanged, with its courses and what sits on it.
    Mirror,
    /// Takes it away; see [`super::consequences`] for what becomes of the pieces on it.
    Delete,
    /// A course with first sizes for this tier, at this place from the foot up; uppermost when there is none such.
    AddCourse(NewCourse, usize),
}

impl TierEdit {
    /// Changes the tier alone: no piece, and no name that one may mention.
    pub(super) const fn leaves_pieces(&self) -> bool {
        match self {
            Self::Set(_) | Self::Move(_) | Self::Turn(_) | Self::Measured(_) | Self::Lock(_) | Self::AddCourse(..) => {
                true
            }
            Self::Rename(_) | Self::Order(_) | Self::Duplicate | Self::Mirror | Self::Delete => false,
        }
    }
}

pub(super) fn carry_out(design: &mut Design, name: &str, edit: &TierEdit) -> Result<(), Refusal> {
    let tier = tier_mut(design, name)?;
    if tier.locked && !matches!(edit, TierEdit::Lock(_) | TierEdit::Order(_) | TierEdit::Duplicate) {
        return Err(Refusal::locked("tier", name));
    }
    match edit {
        TierEdit::Set(set) => {
            let (name, courses) = (tier.name.clone(), std::mem::take(&mut tier.courses));
            *tier = Tier { name, courses, locked: false, ..(**set).clone() };
        }
        TierEdit::Move(at) => tier.at = *at,
        TierEdit::Turn(turn) => tier.turn = *turn,
        TierEdit::Measured(measured) => tier.measured = *measured,
        TierEdit::Rename(to) => return rename(design, (name, to)),
        TierEdit::Lock(locked) => tier.locked = *locked,
        TierEdit::Order(to) => {
            let from = tier_index(design, name)?;
            put(&mut design.tiers, from, *to);
        }
        TierEdit::Duplicate => {
            let index = tier_index(design, name)?;
            let copy = tier_mut(design, name)?.clone();
            let copy = Tier { name: free_name(design, name), locked: false, ..copy };
            design.tiers.insert(index + 1, copy);
        }
        TierEdit::Mirror => {
            mirror(tier);
            mirror_riders(design, &Target::Tier(name.to_owned()));
        }
        TierEdit::Delete => return delete_tier(design, name),
        TierEdit::AddCourse(new, place) => {
            let mut course = first_course(design, (name, new))?;
            let tier = tier_mut(design, name)?;
            let taken: Vec<&str> = tier.courses.iter().map(|course| course.name.as_str()).collect();
            course.name = free_among(&taken, &course.name);
            tier.courses.insert((*place).min(tier.courses.len()), course);
        }
    }
    Ok(())
}

fn rename(design: &mut Design, (from, to): (&str, &str)) -> Result<(), Refusal> {
    tier_mut(design, from)?.name = to.to_owned();
    let follow = renamed(design, &[Names::Tier, Names::Seat], (from, to));
    *design = follow.ok_or_else(|| Refusal::missing("tier", from))?;
    Ok(())
}

fn mirror(tier: &mut Tier) {
    tier.at.x = -tier.at.x;
    tier.turn = Angle::degrees(-tier.turn.as_degrees());
    tier.courses.iter_mut().for_each(|course| mirrored_course(&mut course.kind));
}
