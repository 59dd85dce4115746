//! A sign: a soft strip with raised letters or a picture, before a border strip, laid flat, in a wave, or with its ends curled up.

mod lay;

use std::f64::consts::FRAC_PI_2;

use glam::{DAffine3, DVec2, DVec3};

use self::lay::{Lay, Manner};
use super::likeness::{Print, find, find_font};
use super::measures::{add, hull};
use super::template::{Guide, Template};
use super::topper::{SOFT, cut};
use super::{Bend, Hold, Makings, Paint, Part, PieceError, PieceMeasure, PieceSize, Posture, Shortfall};
use crate::art::{Line, OwnFont, Region, SignFont, letter};
use crate::design::Look;
use crate::design::model::pieces::Sign;
use crate::measure::Length;
use crate::shapes::Mesh;
use crate::shapes::build::{Cutout, bend, prism};

/// Letters are cut so thick, mm, and lie so deep in the face that no light comes between.
const LETTERS: f64 = 0.7;
const LETTERS_SUNK: f64 = 0.2;

/// Steps round a strip's corner where its height is asked for.
const CORNER_STEPS: u32 = 16;

/// So many characters without a sign are named.
const MOST_NAMED: usize = 8;

/// A sign's strips, mm.
struct Plan<'a> {
    sign: &'a Sign,
    font: Option<&'a OwnFont>,
    /// Width and height of the face as it is cut.
    face: DVec2,
    border: f64,
    thickness: f64,
    lay: Lay,
}

impl<'a> Plan<'a> {
    fn of(sign: &'a Sign) -> Self {
        let [width, height] = sign.size.map(Length::as_mm);
        let (border, thickness) = (sign.border.as_mm(), sign.thickness.as_mm());
        let layers = if border > 0.0 { 2.0 } else { 1.0 };
        let lay = Lay::of(&Manner {
            width: width + 2.0 * border,
            wave: sign.wave.as_mm(),
            curl: sign.curl.as_mm(),
            thickness: layers * thickness,
        });
        let face = DVec2::new((lay.length() - 2.0 * border).max(0.1), height);
        Self { sign, font: None, face, border, thickness, lay }
    }

    /// The same with the font that the sign asks for.
    fn lettered(sign: &'a Sign, makings: Makings<'a>) -> Result<Self, PieceError> {
        let font = sign.letters.font.as_ref().map(|path| find_font(makings, path)).transpose()?;
        Ok(Self { font, ..Self::of(sign) })
    }

    /// Width and height with the border, as it is seen.
    fn size(&self) -> DVec2 {
        DVec2::from(self.sign.size.map(Length::as_mm)) + 2.0 * self.border
    }

    /// The strip with this much border, its corners rounded, as it is cut.
    fn strip(&self, border: f64) -> Region {
        let size = self.face + 2.0 * border;
        Region::rectangle(size.x, size.y, self.corner() + border)
    }

    /// Readings along the strip with this much border, and half its height at each: at every bend and round its corners.
    fn stations(&self, border: f64) -> Vec<DVec2> {
        let (half, corner) = (self.face / 2.0 + border, self.corner() + border);
        let round = (0..=CORNER_STEPS)
            .map(|step| half.x - corner * (1.0 - (f64::from(step) / f64::from(CORNER_STEPS) * FRAC_PI_2).sin()));
        let round = round.flat_map(|along| [along, -along]);
        let mut along: Vec<f64> = self.lay.folds().into_iter().filter(|at| at.abs() < half.x).chain(round).collect();
        along.sort_by(f64::total_cmp);
        let tall = |along: f64| {
            let beyond = (along.abs() - half.x + corner).clamp(0.0, corner);
            half.y - corner + (corner * corner - beyond * beyond).sqrt()
        };
        along.into_iter().map(|along| DVec2::new(along, tall(along))).collect()
    }

    /// A ring round what is seen of it from in front.
    fn seen(&self) -> Vec<DVec2> {
        let strip = |(border, back): (f64, f64)| {
            let at = move |station: DVec2| {
                [back, back + self.thickness].map(|out| self.lay.place(station.extend(out)).truncate())
            };
            self.stations(border).into_iter().flat_map(at)
        };
        let upper = [(self.border, 0.0), (0.0, self.face_back())].into_iter().flat_map(strip);
        hull(upper.flat_map(|at| [at, DVec2::new(at.x, -at.y)]).collect())
    }

    fn corner(&self) -> f64 {
        0.2 * self.face.min_element()
    }

    /// The back of the face.
    fn face_back(&self) -> f64 {
        if self.border > 0.0 { self.thickness } else { 0.0 }
    }

    /// Length of the strip with this much border on its own middle line: that of the face or of the border behind it.
    fn length(&self, border: f64) -> f64 {
        let half = self.face.x / 2.0 + border;
        self.lay.run(self.middle(border), (-half, half))
    }

    /// How far out of the sign's back the middle line of the strip with this much border lies.
    fn middle(&self, border: f64) -> f64 {
        self.thickness / 2.0 + if border > 0.0 { 0.0 } else { self.face_back() }
    }

    /// Volume of the strip with this much border, mm³: its height along its own middle line (Pappus).
    fn volume(&self, border: f64) -> f64 {
        let places: Vec<(DVec3, f64)> = self
            .stations(border)
            .into_iter()
            .map(|at| (self.lay.place(DVec3::new(at.x, 0.0, self.middle(border))), at.y))
            .collect();
        let steps = places.iter().zip(places.iter().skip(1));
        steps.map(|((from, low), (to, high))| from.distance(*to) * (low + high)).sum::<f64>() * self.thickness
    }

    fn line(&self) -> Line<SignFont<'a>> {
        letter(self.sign.text.trim(), self.font, self.sign.letters.height.as_mm())
    }

    /// A cut-out of the strip with its back at `back`, laid as the sign lies.
    fn laid(&self, cutout: &Cutout, back: f64) -> Option<Mesh> {
        let lifted = DAffine3::from_translation(DVec3::Z * back);
        Some(bend(&prism(cutout)?, &lifted, &self.lay.folds(), |at| self.lay.place(at)))
    }
}

/// Length of a sign's face as it is printed and cut, mm.
pub(super) fn face_length(sign: &Sign) -> f64 {
    Plan::of(sign).face.x
}

pub(super) fn measure(sign: &Sign, posture: Posture, makings: Makings) -> Result<PieceMeasure, PieceError> {
    let plan = Plan::lettered(sign, makings)?;
    let size = plan.size();
    let thickness = plan.face_back() + plan.thickness;
    let raised = if plan.line().runs.is_empty() { 0.0 } else { LETTERS - LETTERS_SUNK };
    let out = Length::mm(plan.lay.reach(thickness + raised));
    let [width, tall] = size.to_array().map(Length::mm);
    let mut volumes = Vec::new();
    let mut cuts = Vec::new();
    let mut strip = |what: &'static str, (border, finish): (f64, &str)| {
        add(&mut volumes, finish, plan.volume(border));
        let cut_size = DVec2::new(plan.length(border), plan.face.y + 2.0 * border);
        cuts.push(cut(what, cut_size, sign.thickness, finish));
    };
    strip("face", (0.0, &sign.finish));
    if plan.border > 0.0 {
        strip("border", (plan.border, border_finish(sign)));
    }
    Ok(PieceMeasure {
        size: match posture {
            Posture::OnTop => PieceSize { width, height: out, depth: tall },
            Posture::OnSide => PieceSize { width, height: tall, depth: out },
        },
        reach: out,
        neutral: thickness / 2.0,
        volumes,
        footprint: plan.seen(),
        cuts,
        shortfalls: shortfalls(&plan),
        ..PieceMeasure::default()
    })
}

fn border_finish(sign: &Sign) -> &str {
    sign.border_finish.as_deref().unwrap_or(&sign.finish)
}

/// A face with nothing on it; lettering that is longer or higher than its face, or has no sign for a character.
fn shortfalls(plan: &Plan) -> Vec<Shortfall> {
    let bends = [Bend::Wave, Bend::Curl].into_iter().zip(plan.lay.eased).filter_map(|(what, eased)| {
        let [asked, drawn] = eased?.map(Length::mm);
        Some(Shortfall::Bend { what, asked, drawn, wide: Length::mm(plan.face_back() + plan.thickness) })
    });
    let line = plan.line();
    if line.runs.is_empty() {
        let blank = plan.sign.art.is_none().then_some(Shortfall::Blank);
        return bends.chain(blank).collect();
    }
    let signs: String = line.missing.iter().take(MOST_NAMED).collect();
    let lacking = Some(signs).filter(|signs| !signs.is_empty());
    let lacking = lacking.map(|signs| Shortfall::NoSign { signs, count: line.missing.len() });
    let needs = [Length::mm(line.width), plan.sign.letters.height];
    let [width, height] = plan.sign.size;
    let room = [width - Length::mm(plan.lay.rolled()), height];
    let short = needs.iter().zip(&room).any(|(needs, room)| needs > room);
    bends.chain(short.then_some(Shortfall::Text { needs, room })).chain(lacking).collect()
}

/// Face, border and letters as they are cut, the strips as long as their own middle lines.
pub(super) fn templates(sign: &Sign, makings: Makings) -> Result<Vec<Template>, PieceError> {
    let plan = Plan::lettered(sign, makings)?;
    let strip = |what: &'static str, (border, finish): (f64, &str)| {
        let region = Region::rectangle(plan.length(border), plan.face.y + 2.0 * border, plan.corner() + border);
        Template::new(what, region, (sign.thickness, finish))
    };
    let mut face = strip("face", (0.0, &sign.finish));
    let border = (plan.border > 0.0).then(|| strip("border", (plan.border, border_finish(sign))));
    let figure = letters(&plan);
    let letters = (!figure.is_empty()).then(|| {
        face.guides.push(Guide::Figure(figure.rings.clone()));
        let letters = Template::new("letters", figure, (Length::mm(LETTERS), "")).with_mirrored();
        Template { paint: Paint::Plain(sign.letters.colour, Look::Paste), ..letters }
    });
    Ok(std::iter::once(face).chain(border).chain(letters).collect())
}

pub(super) fn parts(sign: &Sign, posture: Posture, makings: Makings) -> Result<Vec<Part>, PieceError> {
    let plan = Plan::lettered(sign, makings)?;
    let print = sign.art.as_ref().map(|path| find(makings, path)).transpose()?;
    let bounds = [-plan.face / 2.0, plan.face / 2.0];
    let print = print.map(|art| Print::covering(art, bounds));
    let lies = print.as_ref().map_or(bounds, |print| print.lies);
    let cut = |region: &Region, [thickness, back]: [f64; 2], soft: f64| {
        plan.laid(&Cutout { region, thickness, soft, picture: lies, facet: Cutout::SOFT_FACET }, back)
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
            letters: Letters { height: Length::mm(14.0), colour: Colour::new(20, 58, 82), font: None },
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
        let measured = measure(&sign(), Posture::OnSide, makings).unwrap();
        let parts = parts(&sign(), Posture::OnSide, makings).unwrap();
        trial::agree(&measured, &parts, 0.03);
        assert!(measured.shortfalls.is_empty());
        let (low, high) = trial::bounds(&parts);
        // Its straight pieces pass the wave's foot by a hair.
        assert!(low.z.abs() < 0.02 && (high.z - measured.reach.as_mm()).abs() < 0.7, "{low} {high}");
        assert!((high.x - 60.0).abs() < 0.05 && (high.y - 19.0).abs() < 0.05);
        let face = &measured.cuts[0].length.as_mm();
        assert!((115.0..120.0).contains(face), "{face}");
        let [letters, under] = [2, 1].map(|number: usize| trial::bounds(&parts[number..=number]));
        assert!(letters.0.x > under.0.x && letters.1.x < under.1.x && letters.1.z > under.1.z);
        let flat = Sign { wave: Length::ZERO, ..sign() };
        assert!((measure(&flat, Posture::OnTop, makings).unwrap().cuts[0].length.as_mm() - 114.0).abs() < 1e-9);
    }

    #[test]
    fn long_text_falls_short_by_figures() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let long = Sign { text: "Seven bells and all is well".into(), ..sign() };
        let [Shortfall::Text { needs, room }] = measure(&long, Posture::OnSide, makings).unwrap().shortfalls[..] else {
            panic!("too long")
        };
        assert!(needs[0] > room[0] && room[0] == Length::mm(114.0));
    }

    /// What a sign of this text falls short of, and its bodies.
    fn lettered(text: &str, font: Option<&str>) -> Result<(Vec<Shortfall>, Vec<Part>), PieceError> {
        let (mut shelf, design) = (trial::shelf(), Design::default());
        let font_file = crate::art::FontFile::Fallback.bytes();
        shelf.insert("own.ttf", std::sync::Arc::new(crate::art::Art::read(font_file, "own.ttf")?));
        let makings = Makings { shelf: &shelf, design: &design };
        let letters = Letters { font: font.map(str::to_owned), ..sign().letters };
        let sign = Sign { text: text.into(), letters, ..sign() };
        let measured = measure(&sign, Posture::OnTop, makings)?;
        Ok((measured.shortfalls, parts(&sign, Posture::OnTop, makings)?))
    }

    #[test]
    fn every_text_has_its_outcome() {
        let plain = |text: &str| lettered(text, None).unwrap();
        for text in ["Lia \u{1f382}", "\u{1f382}\u{1f382}"] {
            let signs = "\u{1f382}".to_owned();
            assert_eq!(plain(text).0, [Shortfall::NoSign { signs, count: 1 }], "{text}");
        }
        for text in ["שלום", "Ze\u{301}lie", "مرحبا"] {
            let (shortfalls, parts) = plain(text);
            assert!(shortfalls.is_empty() && parts.len() == 3, "{text}: {shortfalls:?}");
        }
        for text in ["", "  \u{a0}"] {
            let (shortfalls, parts) = plain(text);
            assert!(shortfalls == [Shortfall::Blank] && parts.len() == 2, "{text:?}: {shortfalls:?}");
        }
        let (shortfalls, parts) = plain(&"Seven bells ".repeat(160));
        assert!(matches!(shortfalls[..], [Shortfall::Text { .. }]) && parts.len() == 3);
    }

    #[test]
    fn a_sign_may_bring_its_own_font() {
        let width = |parts: &[Part]| trial::bounds(&parts[2..]).1.x;
        let (ours, own) = (lettered("Lia", None).unwrap().1, lettered("Lia", Some("own.ttf")).unwrap().1);
        assert!((width(&ours) - width(&own)).abs() > 0.1);
        let says = |font: &str| lettered("Lia", Some(font)).unwrap_err().to_string();
        assert!(says("flag.png").contains("flag.png: this is a picture and not a font"));
        assert!(says("none.ttf").contains("none.ttf"));
    }

    #[test]
    fn a_picture_covers_the_face_upright() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let sign = Sign { art: Some("flag.svg".into()), text: String::new(), wave: Length::ZERO, ..sign() };
        let parts = parts(&sign, Posture::OnSide, makings).unwrap();
        trial::agree(&measure(&sign, Posture::OnSide, makings).unwrap(), &parts, 0.03);
        assert_eq!(trial::seen(&parts[1], DVec2::new(20.0, 0.0)), Some([0, 0, 255, 255]));
    }
}
