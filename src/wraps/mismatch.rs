//! How ill the art meets itself across a seam, and the shift of a repeat at which it shows least.
//!
//! The two strips at a seam are never laid perfectly: what shows is how much the art changes over the little that they miss
//! one another by. So the mismatch at a place is the difference between the colours half a slip to its left and half a slip
//! to its right, the right strip lying level, a slip too high and a slip too low, averaged over the height:
//!
//! ```text
//!          left strip | right strip                  .---.
//!     o ------------- | --- o  too high         --- ( boat ) ---   cut through the boat: its outline steps, much shows
//!     o ------------- | --- o  level             seam '---'
//!     o ------------- | --- o  too low          ~~~~~~ | ~~~~~~   plain sea: nothing shows
//! ```
//!
//! In ΔE00 (CIEDE2000): 0 cannot be seen, about 1 by a practised eye only, from about [`PLAIN`] on by everybody.

use std::sync::Arc;

use glam::DVec2;

use super::face::{Face, Layout, colour_at};
use crate::art::{Art, Lab, Picture};
use crate::design::model::{Fit, Shift};
use crate::findings::{Code, Finding, Place};
use crate::measure::{Unit, tape_words};

/// How far two strips miss one another, mm (common practice, no source: a craft knife and a steady hand place to 1 mm).
const SLIP: f64 = 1.0;
/// A mismatch that is plainly seen at arm's length, ΔE00 (common practice, no source: twice the tolerance of good printing).
const PLAIN: f64 = 5.0;
/// Rows that are looked at lie about so far apart, mm.
const ROWS_APART: f64 = 0.5;
const MOST_ROWS: f64 = 200.0;
/// Shifts that are tried lie about so far apart, mm.
const STEP: f64 = 0.5;
const MOST_STEPS: f64 = 2_000.0;
/// Mismatches a seam that differ by less than this look alike, ΔE00; among them the seams get room.
const ALIKE: f64 = 0.1;
/// The room that a seam should have to both sides, mm.
const ROOM: f64 = 4.0;

/// The art on a face, to be asked how it looks there.
struct Print<'a> {
    picture: Arc<Picture>,
    layout: &'a Layout,
    face: &'a Face,
}

impl<'a> Print<'a> {
    fn new(art: &Art, layout: &'a Layout, face: &'a Face) -> Self {
        Self { picture: art.small(), layout, face }
    }

    /// The mismatch of a seam at `x` mm from the face's left end, ΔE00.
    fn mismatch(&self, x: f64) -> f64 {
        let height = self.face.size.y;
        let rows = (height / ROWS_APART).ceil().clamp(1.0, MOST_ROWS);
        let lab = |x: f64, y: f64| {
            // On a stretch the art ends where the face does.
            let x = if self.face.closed { x } else { x.clamp(0.0, self.face.size.x) };
            Lab::from(colour_at(&self.picture, self.layout, DVec2::new(x, y.clamp(0.0, height))))
        };
        let row = |n: u32| {
            let y = (f64::from(n) + 0.5) / rows * height;
            let left = lab(x - SLIP / 2.0, y);
            [-SLIP, 0.0, SLIP].map(|slip| left.difference(lab(x + SLIP / 2.0, y + slip))).iter().sum::<f64>() / 3.0
        };
        (0..rows as u32).map(row).sum::<f64>() / rows
    }

    /// The shift of a repeat, at most half its width either way, at which the seams (mm from the face's left end) show
    /// least together: least mismatch, then most room round the seams, then the smallest shift.
    fn best_shift(&self, seams: &[f64]) -> f64 {
        let period = self.layout.pitch.x;
        let count = (period / STEP).ceil().clamp(1.0, MOST_STEPS) as usize;
        let step = period / count as f64;
        let curve: Vec<f64> = (0..count).map(|n| self.mismatch(self.layout.at.x + n as f64 * step)).collect();
        let roomy = blurred(&curve, (ROOM / step).ceil() as usize);
        // The pattern moved by n steps: where a seam lies in it now lay n steps further left before.
        let sum = |curve: &[f64], n: usize| -> f64 {
            seams.iter().map(|seam| between(curve, (seam - self.layout.at.x) / step - n as f64)).sum()
        };
        let sums: Vec<f64> = (0..count).map(|n| sum(&curve, n)).collect();
        let near = sums.iter().copied().fold(f64::INFINITY, f64::min) + ALIKE * seams.len() as f64;
        let moved = |n: usize| if n * 2 > count { n as f64 - count as f64 } else { n as f64 } * step;
        let near = (0..count).filter(|&n| sums.get(n).is_some_and(|&sum| sum <= near));
        // A tenth of a ΔE00 more room is no reason to move the pattern further.
        let ranked = near.map(|n| ((sum(&roomy, n) / ALIKE).round(), moved(n)));
        let best = ranked.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.abs().total_cmp(&b.1.abs())));
        best.map_or(0.0, |(_, shift)| shift)
    }
}

/// Each value of a closed curve averaged with `reach` neighbours to both sides.
fn blurred(curve: &[f64], reach: usize) -> Vec<f64> {
    let reach = reach.min(curve.len() / 2);
    let wide = 2 * reach + 1;
    let from = |n: usize| curve.iter().cycle().skip(n + curve.len() - reach).take(wide).sum::<f64>();
    (0..curve.len()).map(|n| from(n) / wide as f64).collect()
}

/// The value of a closed curve at a place between its steps.
fn between(curve: &[f64], at: f64) -> f64 {
    let count = curve.len() as f64;
    let at = at.rem_euclid(count);
    let value = |n: f64| curve.get(n.rem_euclid(count) as usize).copied().unwrap_or_default();
    value(at.floor()) * (1.0 - at.fract()) + value(at.floor() + 1.0) * at.fract()
}

/// Art settled on a face whose seams are known.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Settled {
    /// Where it lies now.
    pub layout: Layout,
    /// How far a repeat was moved to the right, mm.
    pub shift: f64,
    /// Of each seam, ΔE00.
    pub mismatches: Vec<f64>,
    /// Where the two ends of a single picture meet (mm from the face's left end), and their mismatch.
    pub ends: Option<(f64, f64)>,
}

/// Settles art on a face: a repeat moved as the design asks, a single picture as it lies. `seams` in mm from the face's
/// left end.
pub(super) fn settle(art: &Art, fit: Fit, (layout, face): (Layout, &Face), seams: &[f64]) -> Settled {
    let shift = match fit {
        Fit::Repeat { shift: Shift::By(length), .. } => length.as_mm(),
        Fit::Repeat { shift: Shift::Best, .. } => Print::new(art, &layout, face).best_shift(seams),
        Fit::Cover | Fit::Contain => 0.0,
    };
    let layout = Layout { at: layout.at + DVec2::X * shift, ..layout };
    let print = Print::new(art, &layout, face);
    let mismatches = seams.iter().map(|&seam| print.mismatch(seam)).collect();
    let once = !matches!(fit, Fit::Repeat { .. }) && face.closed && layout.pitch.x <= layout.size.x + 1e-9;
    let ends = once.then(|| layout.at.x.rem_euclid(face.size.x)).map(|x| (x, print.mismatch(x)));
    Settled { layout, shift, mismatches, ends }
}

/// Says that the two ends of a single picture don't run on into one another, and where (tape reading, mm).
pub(super) fn ends_differ((along, mismatch): (f64, f64), around: f64, place: &Place, unit: Unit) -> Option<Finding> {
    let sentence = format!(
        "the picture's left and right ends meet {} and differ by {mismatch:.0} ΔE00: plainly seen (from {PLAIN:.0} on)",
        tape_words(along, around, unit)
    );
    let mend =
        "draw the picture so that its right end runs on into its left, or pin a seam there and hide it behind a piece";
    (mismatch >= PLAIN).then(|| Finding::new(Code::PictureEndsDiffer, place, sentence, mend))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Part;
    use crate::measure::Length;

    /// A boat 16 of 40 wide, standing off the middle of a plain sea.
    const BOAT: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><path fill="#bcd" d="M0 0H40V20H0Z"/>
        <path fill="#a22" d="M4 4H20V16H4Z"/></svg>"##;
    /// Dark at its left, light at its right.
    const DUSK: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="400" height="20"><linearGradient id="a">
        <stop offset="0" stop-color="#123"/><stop offset="1" stop-color="#fec"/></linearGradient>
        <path fill="url(#a)" d="M0 0H400V20H0Z"/></svg>"##;

    fn art(text: &str) -> Art {
        Art::read(text.as_bytes(), "a.svg").unwrap()
    }

    /// Repeats of 40 mm round a face of `length` mm, the first with its left end at 0.
    fn repeats(length: f64) -> (Layout, Face) {
        let size = DVec2::new(40.0, 20.0);
        let layout = Layout { at: DVec2::ZERO, size, part: Part::WHOLE, pitch: size, whole: size };
        (layout, Face { size: DVec2::new(length, 20.0), focus_x: 0.0, closed: true })
    }

    fn fit(shift: Shift) -> Fit {
        Fit::Repeat { width: Length::mm(40.0), shift }
    }

    #[test]
    fn a_seam_through_a_motif_shows_and_one_beside_it_does_not() {
        let (layout, face) = repeats(240.0);
        let seams = [2.0, 12.0, 4.0, 30.0];
        let found = settle(&art(BOAT), fit(Shift::By(Length::ZERO)), (layout, &face), &seams).mismatches;
        // Through the middle of the boat only its upper and lower edge step; along its side all of it does.
        assert!(found[0] < 1e-9 && found[3] < 1e-9, "{found:?}");
        assert!(found[1] > 1.0 && found[1] < found[2] / 3.0 && found[2] > 10.0, "{found:?}");
    }

    #[test]
    fn a_repeat_moves_so_that_no_seam_cuts_a_motif_and_no_further_than_it_must() {
        let (layout, face) = repeats(240.0);
        // 80 mm apart: two whole repeats, so all seams lie at one place of the pattern: the boat's middle.
        let seams = [12.0, 92.0, 172.0];
        let settled = settle(&art(BOAT), fit(Shift::Best), (layout, &face), &seams);
        assert!(settled.mismatches.iter().all(|&mismatch| mismatch < 1e-9), "{settled:?}");
        // The boat lies from 4 to 20; the nearest way out is 8 mm, and then the room and half a slip.
        assert!((12.0..=13.5).contains(&settled.shift.abs()), "{}", settled.shift);
        assert_eq!(settled.layout.at.x, settled.shift);
    }

    #[test]
    fn seams_at_several_places_of_the_pattern_show_least_together() {
        let (layout, face) = repeats(240.0);
        let picture = art(BOAT);
        for seams in [vec![0.0, 71.0], vec![5.0, 65.0, 133.0], vec![33.0, 90.0, 127.0, 201.0]] {
            let total = |shift: f64| -> f64 {
                let by = fit(Shift::By(Length::mm(shift)));
                settle(&picture, by, (layout, &face), &seams).mismatches.iter().sum()
            };
            let best = settle(&picture, fit(Shift::Best), (layout, &face), &seams);
            let least = (-80..80).map(|half| total(f64::from(half) / 4.0)).fold(f64::INFINITY, f64::min);
            let found: f64 = best.mismatches.iter().sum();
            assert!(found <= least + 0.15 * seams.len() as f64, "{seams:?}: {found} where {least} can be had");
        }
    }

    #[test]
    fn the_ends_of_a_picture_that_runs_all_round_are_judged_where_they_meet() {
        let (layout, face) = repeats(400.0);
        let once =
            Layout { at: DVec2::new(-100.0, 0.0), size: face.size, pitch: DVec2::new(400.0, f64::INFINITY), ..layout };
        let dusk = settle(&art(DUSK), Fit::Cover, (once, &face), &[100.0]);
        let (at, mismatch) = dusk.ends.unwrap();
        assert!((at - 300.0).abs() < 1e-9 && mismatch > 50.0, "{dusk:?}");
        assert!(dusk.mismatches[0] < 1.0 && dusk.shift == 0.0, "{dusk:?}");
        let finding = ends_differ((100.0, mismatch), 400.0, &"here".into(), Unit::Millimetre).unwrap();
        assert!(finding.sentence.contains("100 mm to the right of front centre"), "{}", finding.sentence);
        let plain = settle(&art(BOAT), Fit::Cover, (once, &face), &[]);
        assert!(plain.ends.unwrap().1 < 1e-9);
        let open = Face { closed: false, ..face };
        assert_eq!(settle(&art(DUSK), Fit::Cover, (once, &open), &[]).ends, None);
    }
}
