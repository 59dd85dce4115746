//! A sign: a soft strip with raised letters or a picture, before a border strip, laid flat or in a wave.

use std::f64::consts::{PI, TAU};

use glam::{DAffine3, DVec2, DVec3};

use super::likeness::{Print, find};
use super::measures::{add, rectangle};
use super::topper::{SOFT, cut};
use super::{Hold, Makings, Part, PieceError, PieceMeasure, PieceSize, Posture, Shortfall};
use crate::art::{Line, Region, Typeface, shape};
use crate::design::model::pieces::Sign;
use crate::measure::Length;
use crate::shapes::Mesh;
use crate::shapes::build::{Cutout, bend, prism};

/// Letters are cut so thick, mm, and lie so deep in the face that no light comes between.
const LETTERS: f64 = 0.7;
const LETTERS_SUNK: f64 = 0.2;

/// Greatest width of a face of a strip, mm.
const FACET: f64 = 2.5;

/// One wave is about so long, mm.
const WAVE: f64 = 55.0;

/// A wave rises by at most this share of its length: steeper paste falls over.
const STEEPEST: f64 = 0.3;

/// A sign's strips, mm.
struct Plan<'a> {
    sign: &'a Sign,
    /// Width and height of the face.
    face: DVec2,
    border: f64,
    thickness: f64,
    wave: f64,
}

impl<'a> Plan<'a> {
    fn of(sign: &'a Sign) -> Self {
        let [width, height] = sign.size.map(Length::as_mm);
        let (border, thickness) = (sign.border.as_mm(), sign.thickness.as_mm());
        let mut plan = Self { sign, face: DVec2::new(width, height), border, thickness, wave: 0.0 };
        plan.wave = sign.wave.as_mm().min(STEEPEST * plan.period());
        plan
    }

    /// Width and height with the border.
    fn size(&self) -> DVec2 {
        self.face + 2.0 * self.border
    }

    /// The strip with this much border, its corners rounded.
    fn strip(&self, border: f64) -> Region {
        let size = self.face + 2.0 * border;
        Region::rectangle(size.x, size.y, self.corner() + border)
    }

    fn corner(&self) -> f64 {
        0.2 * self.face.min_element()
    }

    /// Area of the strip with this much border, mm²: what the round corners lack is (4 - π) r².
    fn area(&self, border: f64) -> f64 {
        let size = self.face + 2.0 * border;
        size.x * size.y - (4.0 - PI) * (self.corner() + border).powi(2)
    }

    /// The back of the face.
    fn face_back(&self) -> f64 {
        if self.border > 0.0 { self.thickness } else { 0.0 }
    }

    /// Length of one of the whole waves that the strip is laid in.
    fn period(&self) -> f64 {
        self.size().x / (self.size().x / WAVE).round().max(1.0)
    }

    /// How far the strip is lifted at `x`: down at both ends.
    fn lift(&self, x: f64) -> f64 {
        self.wave / 2.0 * (1.0 - (TAU * (x + self.size().x / 2.0) / self.period()).cos())
    }

    /// Length of a strip as wide as this, along its wave.
    fn length(&self, width: f64) -> Length {
        let at = |step: u32| {
            let x = width * (f64::from(step) / 400.0 - 0.5);
            DVec2::new(x, self.lift(x))
        };
        Length::mm((0..400).map(|step| at(step).distance(at(step + 1))).sum())
    }

    fn line(&self) -> Line {
        let capitals = self.sign.letters.height.as_mm();
        shape(&self.sign.text, Typeface::Strong, Typeface::Strong.size_for_capitals(capitals))
    }

    /// A cut-out of the strip with its back at `back`, laid in the wave.
    fn wavy(&self, cutout: &Cutout, back: f64) -> Option<Mesh> {
        let flat = prism(cutout)?;
        Some(bend(&flat, &DAffine3::IDENTITY, &[], |at| at + DVec3::Z * (back + self.lift(at.x))))
    }
}

/// Length of a sign's face along its wave, mm.
pub(super) fn face_length(sign: &Sign) -> f64 {
    let plan = Plan::of(sign);
    plan.length(plan.face.x).as_mm()
}

pub(super) fn measure(sign: &Sign, posture: Posture) -> PieceMeasure {
    let plan = Plan::of(sign);
    let size = plan.size();
    let out = Length::mm(plan.face_back() + plan.thickness + plan.wave);
    let [width, tall] = size.to_array().map(Length::mm);
    let mut volumes = Vec::new();
    add(&mut volumes, &sign.finish, plan.area(0.0) * plan.thickness);
    let mut cuts = vec![cut("face", plan.face, sign.thickness, &sign.finish)];
    if plan.border > 0.0 {
        add(&mut volumes, border_finish(sign), plan.area(plan.border) * plan.thickness);
        cuts.push(cut("border", size, sign.thickness, border_finish(sign)));
    }
    for cut in &mut cuts {
        cut.length = plan.length(cut.length.as_mm());
    }
    PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width, height: out, depth: tall },
            Posture::OnSide => PieceSize { width, height: tall, depth: out },
        },
        reach: out,
        neutral: (plan.face_back() + plan.thickness) / 2.0,
        volumes,
        footprint: rectangle(-size / 2.0, size / 2.0),
        cuts,
        shortfalls: shortfall(&plan).into_iter().collect(),
        ..PieceMeasure::default()
    }
}

fn border_finish(sign: &Sign) -> &str {
    sign.border_finish.as_deref().unwrap_or(&sign.finish)
}

/// Lettering that is longer or higher than its face.
fn shortfall(plan: &Plan) -> Option<Shortfall> {
    if plan.sign.text.trim().is_empty() {
        return None;
    }
    let needs = [Length::mm(plan.line().width), plan.sign.letters.height];
    let room = plan.sign.size;
    let short = needs.iter().zip(&room).any(|(needs, room)| needs > room);
    short.then_some(Shortfall::Text { needs, room })
}

pub(super) fn parts(sign: &Sign, posture: Posture, makings: Makings) -> Result<Vec<Part>, PieceError> {
    let plan = Plan::of(sign);
    let print = sign.art.as_ref().map(|path| find(makings, path)).transpose()?;
    let bounds = [-plan.face / 2.0, plan.face / 2.0];
    let print = print.map(|art| Print::covering(art, bounds));
    let lies = print.as_ref().map_or(bounds, |print| print.lies);
    let facet = FACET.min(plan.period() / 12.0);
    let cut = |region: &Region, [thickness, back]: [f64; 2], soft: f64| {
        plan.wavy(&Cutout { region, thickness, soft, picture: lies, facet }, back)
    };
    let border = (plan.border > 0.0).then(|| cut(&plan.strip(plan.border), [plan.thickness, 0.0], SOFT)).flatten();
    let border = border.map(|mesh| Part::new("border", mesh, border_finish(sign)));
    let face = cut(&plan.strip(0.0), [plan.thickness, plan.face_back()], SOFT);
    let picture = print.map(|print| print.picture);
    let face = face.map(|mesh| Part { picture, ..Part::new("face", mesh, &sign.finish) });
    let letters = cut(&letters(&plan), [LETTERS, plan.face_back() + plan.thickness - LETTERS_SUNK], SOFT / 4.0);
    let letters = letters.map(|mesh| Part::new("letters", mesh, "").painted(sign.letters.colour));
    let parts = [border, face, letters].into_iter().flatten();
    Ok(parts.map(|part| part.at(posture.laid()).held(Hold::Soft)).collect())
}

/// The letters as a figure, in the middle of the face: half a capital below and above it.
fn letters(plan: &Plan) -> Region {
    let line = plan.line();
    let middle = DVec2::new(line.width, line.cap_height) / 2.0;
    line.outline().moved(-middle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Colour;
    use crate::cake::pieces::trial;
    use crate::design::Design;
    use crate::design::model::pieces::Letters;

    fn sign() -> Sign {
        Sign {
            text: "Seven bells".into(),
            letters: Letters { height: Length::mm(14.0), colour: Colour::new(20, 58, 82) },
            art: None,
            size: [Length::mm(114.0), Length::mm(32.0)],
            thickness: Length::mm(3.0),
            border: Length::mm(3.0),
            finish: "white".into(),
            border_finish: Some("sea".into()),
            wave: Length::mm(6.0),
            curl: Length::ZERO,
            stiff: false,
        }
    }

    #[test]
    fn a_wavy_sign_is_cut_longer_and_its_letters_stand_on_its_face() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let measured = measure(&sign(), Posture::OnSide);
        let parts = parts(&sign(), Posture::OnSide, makings).unwrap();
        trial::agree(&measured, &parts, 0.03);
        assert!(measured.shortfalls.is_empty());
        let (low, high) = trial::bounds(&parts);
        assert!(low.z.abs() < 1e-9 && (high.z - measured.reach.as_mm()).abs() < 0.7);
        assert!((high.x - 60.0).abs() < 0.05 && (high.y - 19.0).abs() < 0.05);
        let face = &measured.cuts[0].length.as_mm();
        assert!((115.0..120.0).contains(face), "{face}");
        let [letters, under] = [2, 1].map(|number: usize| trial::bounds(&parts[number..=number]));
        assert!(letters.0.x > under.0.x && letters.1.x < under.1.x && letters.1.z > under.1.z);
        let flat = Sign { wave: Length::ZERO, ..sign() };
        assert!((measure(&flat, Posture::OnTop).cuts[0].length.as_mm() - 114.0).abs() < 1e-9);
    }

    #[test]
    fn long_text_falls_short_by_figures() {
        let long = Sign { text: "Seven bells and all is well".into(), ..sign() };
        let [Shortfall::Text { needs, room }] = measure(&long, Posture::OnSide).shortfalls[..] else {
            panic!("too long")
        };
        assert!(needs[0] > room[0] && room[0] == Length::mm(114.0));
    }

    #[test]
    fn a_picture_covers_the_face_upright() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let sign = Sign { art: Some("flag.svg".into()), text: String::new(), wave: Length::ZERO, ..sign() };
        let parts = parts(&sign, Posture::OnSide, makings).unwrap();
        trial::agree(&measure(&sign, Posture::OnSide), &parts, 0.03);
        assert_eq!(trial::seen(&parts[1], DVec2::new(20.0, 0.0)), Some([0, 0, 255, 255]));
    }
}
