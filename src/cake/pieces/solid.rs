//! Simple solids, for the space they take: a candle, a figure, a cluster of flowers.

mod flowers;

use std::f64::consts::{FRAC_PI_2, PI};

use glam::{DAffine3, DVec2, DVec3};

use super::ball;
use super::measures::{circle, rectangle};
use super::{Part, PieceMeasure, PieceSize, Posture, Stock};
use crate::art::Colour;
use crate::design::model::pieces::{Solid, SolidForm};
use crate::shapes::build::{dome, lathe, tube};

/// Colour of a wick.
const WICK: Colour = Colour::new(0x3b, 0x32, 0x2c);

pub(super) fn measure(solid: &Solid, posture: Posture) -> PieceMeasure {
    let (across, tall) = (solid.across, solid.height);
    let volumes = match solid.form {
        SolidForm::Figure => vec![(solid.finish.clone(), Figure::of(solid).volume())],
        // Wax and flowers are no paste.
        SolidForm::Candle | SolidForm::Flowers => Vec::new(),
    };
    let half = DVec2::new(across.as_mm(), tall.as_mm()) / 2.0;
    let standing = PieceMeasure {
        size: PieceSize { width: across, height: tall, depth: across },
        reach: tall,
        volumes,
        footprint: circle(half.x),
        ..PieceMeasure::default()
    };
    match (posture, solid.form) {
        (Posture::OnTop, _) => standing,
        // Flowers look out of a side; what stands stays upright.
        (Posture::OnSide, SolidForm::Flowers) => {
            PieceMeasure { size: PieceSize { width: across, height: across, depth: tall }, ..standing }
        }
        (Posture::OnSide, _) => PieceMeasure { reach: across, footprint: rectangle(-half, half), ..standing },
    }
}

pub(super) fn parts(solid: &Solid, posture: Posture, stock: &mut Stock) -> Vec<Part> {
    let parts = match solid.form {
        SolidForm::Candle => candle(solid),
        SolidForm::Figure => Figure::of(solid).parts(&solid.finish, stock),
        SolidForm::Flowers => flowers::parts(solid),
    };
    let frame = match solid.form {
        SolidForm::Flowers => posture.raised(),
        _ => posture.upright(solid.across.as_mm() / 2.0, solid.height.as_mm()),
    };
    parts.into_iter().map(|part| Part { pose: frame * part.pose, ..part }).collect()
}

/// A round candle with a hollow round its wick.
fn candle(solid: &Solid) -> Vec<Part> {
    let (radius, tall) = (solid.across.as_mm() / 2.0, solid.height.as_mm());
    let wick = (0.12 * tall).min(7.0);
    let top = tall - wick;
    let soft = (0.25 * radius).min(0.2 * top);
    let edge = (0..=5).map(|step| {
        DVec2::new(radius - soft, top - soft) + DVec2::from_angle(FRAC_PI_2 * f64::from(step) / 5.0) * soft
    });
    let hollow = [DVec2::new(0.4 * radius, top - 0.35 * soft), DVec2::new(0.0, top - 0.5 * soft)];
    let profile: Vec<DVec2> = [DVec2::ZERO, DVec2::new(radius, 0.0)].into_iter().chain(edge).chain(hollow).collect();
    let thick = (0.1 * radius).clamp(0.4, 0.8);
    let line = [DVec3::Y * (top - soft), DVec3::Y * top, DVec3::new(0.4 * thick, tall - thick, 0.0)];
    vec![Part::new("candle", lathe(&profile), &solid.finish), Part::new("wick", tube(&line, thick), "").painted(WICK)]
}

/// A figure as a skittle: a body that narrows to the neck, a head, two arms.
struct Figure {
    radius: f64,
    shoulder: f64,
    head: f64,
    tall: f64,
}

impl Figure {
    fn of(solid: &Solid) -> Self {
        let (radius, tall) = (solid.across.as_mm() / 2.0, solid.height.as_mm());
        let head = (0.42 * tall).min(1.6 * radius);
        Self { radius, shoulder: tall - 0.92 * head, head, tall }
    }

    /// The body's profile: a foot with a soft edge, then an upright half egg cut at the neck.
    fn profile(&self) -> Vec<DVec2> {
        let soft = (0.12 * self.radius).min(0.3 * self.shoulder);
        let foot = (0..4).map(|step| {
            let angle = FRAC_PI_2 * (f64::from(step) / 4.0 - 1.0);
            DVec2::new(self.radius - soft, soft) + DVec2::from_angle(angle) * soft
        });
        let egg = dome(self.radius, self.shoulder - soft, 0.0).into_iter().map(|at| at + DVec2::Y * soft);
        foot.chain(egg).collect()
    }

    /// Sum of the frusta of the profile and of the head, mm³; the arms are within the rounding.
    fn volume(&self) -> f64 {
        let profile = self.profile();
        let frusta = profile.iter().zip(profile.iter().skip(1));
        let body: f64 = frusta.map(|(a, b)| PI * (b.y - a.y) * (a.x * a.x + a.x * b.x + b.x * b.x) / 3.0).sum();
        body + ball::volume(self.head)
            + 2.0 * PI * self.arm().powi(2) * self.arm_line(1.0).map_or(0.0, |line| line_length(&line))
    }

    fn arm(&self) -> f64 {
        (0.15 * self.radius).min(0.25 * self.shoulder)
    }

    /// The middle line of an arm on one side (1 right, -1 left), lying on the body.
    fn arm_line(&self, side: f64) -> Option<Vec<DVec3>> {
        let on_body = |share: f64, angle: f64| {
            let up = share * self.shoulder;
            let lying = self.radius * (1.0 - share * share).max(0.0).sqrt() + 0.2 * self.arm();
            // Its hands stand out no further than its foot.
            let wide = lying.min(self.radius - self.arm());
            DVec3::new(side * wide * angle.cos(), up, wide * angle.sin())
        };
        let line = (0..=8).map(|step| {
            let along = f64::from(step) / 8.0;
            on_body(0.82 - 0.4 * along, 0.1 + 1.0 * along)
        });
        (self.shoulder > 0.0).then(|| line.collect())
    }

    fn parts(&self, finish: &str, stock: &mut Stock) -> Vec<Part> {
        let head = DAffine3::from_translation(DVec3::Y * (self.tall - self.head / 2.0));
        let arms = [("right arm", 1.0), ("left arm", -1.0)].into_iter().filter_map(|(name, side)| {
            let line = self.arm_line(side)?;
            Some(Part::new(name, tube(&line, self.arm()), finish))
        });
        let body = Part::new("body", lathe(&self.profile()), finish);
        [body, Part::ball("head", self.head, finish, stock).at(head)].into_iter().chain(arms).collect()
    }
}

fn line_length(line: &[DVec3]) -> f64 {
    line.iter().zip(line.iter().skip(1)).map(|(a, b)| a.distance(*b)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cake::pieces::trial;
    use crate::measure::Length;

    #[test]
    fn solids_are_closed_and_fill_the_space_they_are_given() {
        for form in [SolidForm::Candle, SolidForm::Figure, SolidForm::Flowers] {
            for (across, tall) in [(28.0, 56.0), (57.0, 38.0), (20.0, 18.0)] {
                let solid =
                    Solid { form, across: Length::mm(across), height: Length::mm(tall), finish: "blush".into() };
                for posture in [Posture::OnTop, Posture::OnSide] {
                    let measured = measure(&solid, posture);
                    let parts = parts(&solid, posture, &mut Stock::default());
                    trial::agree(&measured, &parts, 0.05);
                    let (low, high) = trial::bounds(&parts);
                    assert!(low.dot(posture.out()) > -0.1, "{form:?} {low}");
                    let size = high - low;
                    let out = measured.reach.as_mm();
                    assert!((size.dot(posture.out()) / out - 1.0).abs() < 0.2, "{form:?} {size} {out}");
                    assert!(size.x <= 1.06 * across && size.x > 0.8 * across, "{form:?} {size} {across}");
                }
            }
        }
    }
}
