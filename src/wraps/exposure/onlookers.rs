//! Everyone who looks at a cake, and what they see of each of its courses.

use std::sync::OnceLock;

use glam::{DVec2, DVec3};

use super::comb::Comb;
use super::curtain::Curtain;
use super::eyes::Eyes;
use super::seam_line::{OuterFace, SeamLine};
use super::solids::{Solids, Thing};
use super::together::together;
use crate::cake::{Cake, CakeCourse, Owner};
use crate::shapes::bearing;

/// A course that stands out by no more than this above another hides nothing of it, mm.
const FLUSH: f64 = 0.01;
/// So few places are looked at one by one.
const FEW: usize = 8;

/// All onlookers of one cake: made once, asked for every course.
#[derive(Debug)]
pub struct Onlookers<'a> {
    cake: &'a Cake,
    eyes: Eyes,
    /// Made when first asked.
    solids: OnceLock<Solids>,
}

impl<'a> Onlookers<'a> {
    /// The onlookers of a cake. A piece that can't be made hides nothing.
    #[must_use]
    pub fn new(cake: &'a Cake) -> Self {
        Self { cake, eyes: Eyes::new(&cake.design.viewing), solids: OnceLock::new() }
    }

    /// What they see of a course: `course` counts from the foot of the tier, `tier` from the board. `None` where there is no
    /// such course.
    #[must_use]
    pub fn course(&self, tier: usize, course: usize) -> Option<CourseSight<'_>> {
        let standing = self.cake.tiers.get(tier)?;
        let laid = standing.courses.get(course)?;
        let whole = standing.outline.is_convex();
        let hides = |other: &CakeCourse| !whole || other.outer > laid.outer + FLUSH;
        Some(CourseSight {
            onlookers: self,
            face: OuterFace::new(standing, laid),
            heights: (standing.foot.as_mm() + laid.bottom, standing.foot.as_mm() + laid.top),
            around: standing.outline.perimeter(),
            tier,
            tier_may_hide: !whole,
            courses_may_hide: standing.courses.iter().map(hides).collect(),
        })
    }
}

/// What the onlookers see of one course.
#[derive(Debug)]
pub struct CourseSight<'a> {
    onlookers: &'a Onlookers<'a>,
    face: OuterFace<'a>,
    /// Foot and head of a seam, mm above the board.
    heights: (f64, f64),
    around: f64,
    tier: usize,
    /// A convex tier hides nothing of its own side that faces the eye, and neither does what lies flush with the course.
    tier_may_hide: bool,
    courses_may_hide: Vec<bool>,
}

impl CourseSight<'_> {
    /// The exposure of a seam at a tape reading (mm): 0 where no sight line reaches it, 1 where all do.
    #[must_use]
    pub fn exposure(&self, along: f64) -> f64 {
        let eyes = &self.onlookers.eyes;
        let seam = self.face.seam(along);
        let mut near = self.solids().near(|low, high| self.may_stand_before(&seam, (low, high)));
        near.retain(|thing| self.may_be_hidden_by(thing));
        let seen = eyes.glances(&seam.normals).into_iter().map(|glance| {
            let curtain = Curtain::new((seam.at, self.heights), glance.towards, &eyes.slopes);
            glance.weight * self.left_by(&near, &curtain)
        });
        // A sum of nothing is -0.0.
        seen.sum::<f64>() + 0.0
    }

    /// The exposures at many tape readings (mm), the same as one by one: all places are looked at
    /// together along each azimuth, the azimuths shared out among the processors.
    #[must_use]
    pub fn exposures(&self, along: &[f64]) -> Vec<f64> {
        if along.len() <= FEW {
            return along.iter().map(|&along| self.exposure(along)).collect();
        }
        let seams: Vec<SeamLine> = along.iter().map(|&along| self.face.seam(along)).collect();
        together(self, &seams)
    }

    /// Everything that stands round the cake, made when first asked.
    pub(super) fn solids(&self) -> &Solids {
        self.onlookers.solids.get_or_init(|| Solids::new(self.onlookers.cake))
    }

    /// All who look at it.
    pub(super) const fn eyes(&self) -> &Eyes {
        &self.onlookers.eyes
    }

    /// Foot and head of a seam, mm above the board.
    pub(super) const fn heights(&self) -> (f64, f64) {
        self.heights
    }

    /// May a solid hide anything of this course?
    pub(super) fn may_be_hidden_by(&self, thing: &Thing) -> bool {
        thing.standing.high.y >= self.heights.0 && self.may_hide(thing.owner)
    }

    /// What is left in sight of the seam in a curtain.
    pub(super) fn left(&self, curtain: &Curtain<'_>) -> f64 {
        let mut near = self.solids().near(|low, high| curtain.reaches(low, high));
        near.retain(|thing| self.may_be_hidden_by(thing));
        self.left_by(&near, curtain)
    }

    /// The same where these solids are all that stand before it.
    fn left_by(&self, near: &[&Thing], curtain: &Curtain<'_>) -> f64 {
        let mut comb = Comb::new(self.heights);
        for thing in near {
            if comb.is_hidden() {
                break;
            }
            thing.shade(&mut comb, curtain);
        }
        comb.seen()
    }

    /// May something in a box stand before a seam, for anyone whom the seam faces?
    fn may_stand_before(&self, seam: &SeamLine, (low, high): (DVec3, DVec3)) -> bool {
        let (middle, half) = ((low + high) / 2.0, (high - low) / 2.0);
        let (middle, half) = (DVec2::new(middle.x, middle.z) - seam.at, DVec2::new(half.x, half.z));
        seam.normals.iter().map(|&normal| bearing(normal)).any(|out| middle.dot(out) + half.dot(out.abs()) > 0.0)
    }

    /// The exposure all round, from the back over the left, the front and the right to the back again: pairs of reading and
    /// exposure, no further apart than `step` mm.
    #[must_use]
    pub fn curve(&self, step: f64) -> Vec<(f64, f64)> {
        let count = (self.around / step.max(0.1)).ceil().max(1.0) as u32;
        let reading = |number: u32| self.around * (f64::from(number) / f64::from(count) - 0.5);
        let readings: Vec<f64> = (0..=count).map(reading).collect();
        let exposures = self.exposures(&readings);
        readings.into_iter().zip(exposures).collect()
    }

    fn may_hide(&self, owner: Owner) -> bool {
        match owner {
            Owner::Tier(tier) if tier == self.tier => self.tier_may_hide,
            Owner::Course(tier, course) if tier == self.tier => {
                self.courses_may_hide.get(course).is_none_or(|may| *may)
            }
            _ => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::art::Shelf;
    use crate::cake::resolve;
    use crate::design::read_design;

    const WRAP: &str = "[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 80\nart = \"a.svg\"\nsheet = \"a4\"\n\
                        [[tier.course]]\nname = \"rest\"\nkind = \"bare\"\nheight = \"fill\"\n";

    fn tier(name: &str, shape: &str, size: &str, more: &str) -> String {
        format!("[[tier]]\nname = \"{name}\"\nshape = \"{shape}\"\nsize = {size}\nheight = 100\n{more}\n{WRAP}")
    }

    fn cake(text: &str) -> Cake {
        let text = format!("title = \"t\"\nunit = \"mm\"\n[board]\nsize = 400\n{text}");
        let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        resolve(&Arc::new(design), &Arc::new(Shelf::default())).unwrap()
    }

    /// Exposure of the lowest tier's print at some readings.
    fn seen<const N: usize>(text: &str, along: [f64; N]) -> [f64; N] {
        let cake = cake(text);
        let onlookers = Onlookers::new(&cake);
        let course = onlookers.course(0, 0).unwrap();
        along.map(|along| course.exposure(along))
    }

    fn block(at: &str, size: &str, height: f64) -> String {
        format!(
            "[[piece]]\nname = \"block\"\nkind = \"plaque\"\nseat = {{ on = \"board\", surface = \"board\" }}\nat = {{ {at} }}\nsize = {size}\n\
             thickness = {height}\n"
        )
    }

    #[test]
    fn a_lone_round_tier_is_seen_by_the_cosine() {
        // ∫ cos a da over |a| ≤ 70°, |a − φ| < 90°, over all of it: a quarter round it is one half.
        let round = 200.0 * std::f64::consts::PI;
        let angles = [0.0, 15.0, 40.0, 90.0, -90.0, 130.0, 160.0, 180.0_f64];
        let found = seen(&tier("base", "round", "200", ""), angles.map(|angle| angle / 360.0 * round));
        let spread = 70.0_f64.to_radians();
        for (angle, found) in angles.into_iter().zip(found) {
            let low = (angle.abs().to_radians() - std::f64::consts::FRAC_PI_2).clamp(-spread, spread);
            let expected = (spread.sin() - low.sin()) / (2.0 * spread.sin());
            assert!((found - expected).abs() < 1e-5, "{angle}: {found} {expected}");
        }
    }

    #[test]
    fn flat_sides_are_seen_as_they_face() {
        // The right side of a square faces a quarter turn away: one half; the back: nothing; a corner: either side.
        let found = seen(&tier("base", "square", "160", ""), [0.0, 70.0, 90.0, 150.0, 320.0, 80.0, 240.0]);
        for (found, expected) in found.into_iter().zip([1.0, 1.0, 0.5, 0.5, 0.0, 1.0, 0.5]) {
            assert!((found - expected).abs() < 1e-6, "{found} {expected}");
        }
    }

    #[test]
    fn what_stands_before_a_seam_hides_it() {
        let base = tier("base", "round", "200", "");
        let [open] = seen(&base, [0.0]);
        let [low] = seen(&(base.clone() + &block("z = 130", "[30, 10]", 40.0)), [0.0]);
        let [wide] = seen(&(base.clone() + &block("z = 130", "[90, 10]", 40.0)), [0.0]);
        let [wall, side, back] = seen(&(base + &block("z = 130", "[400, 10]", 130.0)), [0.0, 157.0, 314.0]);
        assert!((open - 1.0).abs() < 1e-9 && low < 0.95 && wide < low && wide > 0.3, "{open} {low} {wide}");
        assert!(wall < 0.02 && side > 0.1 && back == 0.0, "{wall} {side} {back}");
    }

    #[test]
    fn a_wall_hides_what_plain_geometry_says() {
        // A long wall 25 mm before a flat side: from each eye level it hides all below its height less 25·tan(level)/cos(azimuth).
        let base = tier("base", "square", "200", "");
        let [found] = seen(&(base + &block("z = 130", "[2000, 10]", 60.0)), [0.0]);
        let (mut sum, mut weight) = (0.0, 0.0);
        for azimuth in -699..700 {
            let azimuth = f64::from(azimuth) / 10.0;
            for level in 0..50 {
                let rise = (10.0 + 25.0 * (f64::from(level) + 0.5) / 50.0).to_radians().tan();
                // The wall's far edge, 35 mm off, hides most.
                let shadow = 60.0 - 25.0_f64 * rise / azimuth.to_radians().cos();
                sum += azimuth.to_radians().cos() * (1.0 - (shadow / 80.0).clamp(0.0, 1.0));
                weight += azimuth.to_radians().cos();
            }
        }
        assert!((found - sum / weight).abs() < 0.01, "{found} {}", sum / weight);
    }

    #[test]
    fn cake_and_onlookers_may_turn_together() {
        let scene = |turn: f64| {
            let at = glam::DVec2::from_angle(-turn.to_radians()).rotate(glam::DVec2::new(60.0, 130.0));
            format!(
                "{}{}turn = {turn}\n[viewing]\nfront = {turn}\n",
                tier("base", "heart", "200", &format!("turn = {turn}\npaste = 3")),
                block(&format!("x = {}, z = {}", at.x, at.y), "[50, 20]", 60.0)
            )
        };
        let places = [0.0, 30.0, 90.0, -100.0, 200.0, 300.0, -300.0];
        let still = seen(&scene(0.0), places);
        for turn in [30.0, 137.0, 180.0, -75.0] {
            for (still, turned) in still.iter().zip(seen(&scene(turn), places)) {
                assert!((still - turned).abs() < 1e-6, "{turn}: {still} {turned}");
            }
        }
    }

    #[test]
    fn a_heart_hides_its_own_cleft() {
        let cake = cake(&(tier("base", "heart", "200", "paste = 3") + "[viewing]\nfront = 180\n"));
        let onlookers = Onlookers::new(&cake);
        let course = onlookers.course(0, 0).unwrap();
        let half = cake.tiers[0].outline.perimeter() / 2.0;
        let curve = course.curve(1.0);
        // Looked at from behind: the cleft is seen only between its lobes, their crowns by everyone.
        let cleft = course.exposure(half);
        assert!(cleft > 0.3 && cleft < 0.95, "{cleft}");
        let crown =
            curve.iter().filter(|(along, _)| along.abs() > half / 2.0).map(|(_, seen)| *seen).fold(0.0, f64::max);
        assert!((crown - 1.0).abs() < 1e-9, "{crown}");
        assert!(course.exposure(0.0) < 1e-9);
    }

    #[test]
    fn a_course_that_stands_proud_hides_the_edge_below_it() {
        let side = |size: f64| {
            format!(
                "[[tier]]\nname = \"base\"\nsize = 200\nheight = 100\n[[tier.course]]\nname = \"print\"\nkind = \"wrap\"\nheight = 40\nart = \"a.svg\"\n\
                 [[tier.course]]\nname = \"band\"\nkind = \"band\"\nheight = \"fill\"\nsize = {size}\n"
            )
        };
        let [flush] = seen(&side(0.3), [0.0]);
        let [thin] = seen(&side(3.3), [0.0]);
        let [thick] = seen(&side(10.3), [0.0]);
        // Straight on, 3 mm hide 3·tan 22.5° of 40 mm, more from the sides.
        assert_eq!(flush, 1.0);
        assert!((0.93..0.97).contains(&thin) && thick < thin, "{thin} {thick}");
        // The same tier higher up, on a wider one, is seen as it is on the board.
        let high = "[[tier]]\nname = \"low\"\nsize = 260\nheight = 70\n".to_owned() + &side(10.3);
        let cake = cake(&high);
        let raised = Onlookers::new(&cake).course(1, 0).unwrap().exposure(0.0);
        assert!((raised - thick).abs() < 1e-3, "{raised} {thick}");
    }
}
