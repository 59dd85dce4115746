//! What doesn't fit or hold on a piece, as a finding in figures.

use glam::DVec2;

use super::Lean;
use super::pieces::{Bend, PickKind, Shortfall};
use super::resolve::Cake;
use crate::art::Neck;
use crate::design::model::Piece;
use crate::design::model::pieces::Rod;
use crate::findings::{Code, Finding, Place};
use crate::measure::{Length, Unit, show_length};

/// A rod that ends before what it should rest on.
pub(super) fn too_short(cake: &Cake, piece: &Piece, (rod, lean, length): (&Rod, &Lean, Length)) -> Option<Finding> {
    let lacking = lean.contact - length;
    let says = |length| show_length(length, cake.design.unit);
    let tier = rod.leans_on.as_deref().unwrap_or_default();
    let sentence =
        format!("it is {} long and would touch the edge of '{tier}' only at {}", says(length), says(lean.contact));
    let mend = format!("make it {} longer, or set its foot nearer to the tier", says(lacking));
    let finding = Finding::new(Code::RodDoesNotReach, on(piece), sentence, mend);
    (lacking > Length::ZERO).then(|| finding.by(lacking))
}

/// The finding for something that a piece lacks.
pub(super) fn shortfall(cake: &Cake, piece: &Piece, lacking: &Shortfall) -> Finding {
    let unit = cake.design.unit;
    let of_code = |code, (sentence, mend): (String, String)| Finding::new(code, on(piece), sentence, mend);
    match *lacking {
        Shortfall::Blank => of_code(
            Code::SignIsBlank,
            ("it has neither lettering nor a picture".to_owned(), "give it a text, or art".to_owned()),
        ),
        Shortfall::Cells { asked, cut } => of_code(
            Code::CellsLeftOut,
            (
                format!("only {cut} of its {asked} cells lie within it, and the others are left out"),
                "smaller gaps, fewer rows or columns, or a larger plaque".to_owned(),
            ),
        ),
        Shortfall::NoSign { ref signs, count } => of_code(Code::CharactersMissing, no_sign(signs, count)),
        Shortfall::Text { needs: [long, high], room: [wide, tall] } => {
            of_code(Code::TextTooLong, text([long, high], [wide, tall], unit)).by((long - wide).max(high - tall))
        }
        Shortfall::Crowded { asked, placed } => of_code(
            Code::ScatterCrowded,
            (
                format!("only {placed} of {asked} balls find a free place"),
                "a larger stretch, fewer balls, or smaller ones".to_owned(),
            ),
        ),
        Shortfall::Bend { what, asked, drawn, wide } => {
            let off = if asked > drawn { asked - drawn } else { drawn - asked };
            of_code(Code::BendsTooTightly, bends(what, [asked, drawn, wide].map(|length| show_length(length, unit))))
                .by(off)
        }
        Shortfall::NoEdge => of_code(
            Code::NoEdgeToFollow,
            (
                "there is no edge for it to follow there".to_owned(),
                "a smaller edge = …, or seat it on a tier, the board or a flat piece".to_owned(),
            ),
        ),
        Shortfall::PickRoom { kind, asked, room, at } => {
            of_code(Code::PickHasNoRoom, no_room(kind, [asked, room], (at, unit))).by(asked - room)
        }
        Shortfall::OffBalance { right } => {
            of_code(Code::PickOffBalance, off_balance(right, unit)).by(right.max(Length::ZERO - right))
        }
        Shortfall::InParts { parts } => of_code(
            Code::PieceInParts,
            (
                format!("it falls into {parts} parts which nothing joins"),
                "give it a backing whose border is wide enough to join them, or draw it as one shape".to_owned(),
            ),
        ),
        Shortfall::Narrow { least, neck, places } => {
            of_code(Code::NeckTooThin, narrow((&neck, places), least, unit)).by(least - Length::mm(neck.width()))
        }
    }
}

fn on(piece: &Piece) -> Place {
    Place::piece(&piece.name)
}

fn text([long, high]: [Length; 2], [wide, tall]: [Length; 2], unit: Unit) -> (String, String) {
    let [long, high, wide, tall] = [long, high, wide, tall].map(|length| show_length(length, unit));
    let sentence = format!("its lettering is {long} long and {high} high, its face has room for {wide} by {tall}");
    (sentence, "smaller letters, fewer words, or a larger sign".to_owned())
}

fn bends(what: Bend, [asked, drawn, wide]: [String; 3]) -> (String, String) {
    let (sentence, mend) = match what {
        Bend::Sag => (
            format!("it should sag {asked}; {wide} wide, it bends no further than {drawn}"),
            "a smaller sag, a longer line, or a thinner rope",
        ),
        Bend::Ring => (
            format!("its ring should be {asked} across; {wide} thick, it closes at {drawn}"),
            "a wider ring, or a thinner rope",
        ),
        Bend::Wave => (
            format!("its waves should rise {asked}; {wide} thick, they rise {drawn} and no more"),
            "lower waves, or thinner paste",
        ),
        Bend::Curl => (
            format!("its ends should roll up {asked} high; {wide} thick on a sign so long, they roll {drawn} high"),
            "another height of the curl, thinner paste, or a longer sign",
        ),
        Bend::Loop => (
            format!(
                "its loops should be {asked} long; of a ribbon so wide and {wide} thick, they are drawn {drawn} long"
            ),
            "longer loops, a narrower ribbon, or thinner paste",
        ),
        Bend::Ribbon => (
            format!("its ribbon should be {asked} wide and {wide} thick; so thick, it is drawn {drawn} wide"),
            "a wider ribbon, or thinner paste",
        ),
    };
    (sentence, mend.to_owned())
}

fn no_sign(signs: &str, count: usize) -> (String, String) {
    let named = signs.chars().map(|sign| format!("“{sign}”")).collect::<Vec<_>>().join(", ");
    let rest = count - signs.chars().count().min(count);
    let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
    let sentence = format!("its font has no sign that can be cut for {named}{more}, and a box or a gap stands there");
    (sentence, "other words, a font file that has it (letters = { font = … }), or a picture of it as art".to_owned())
}

fn no_room(kind: PickKind, lengths: [Length; 2], (at, unit): (DVec2, Unit)) -> (String, String) {
    let [asked, room] = lengths.map(|length| show_length(length, unit));
    let what = kind.word();
    let holds = if lengths[1] > Length::ZERO { format!("{room} deep") } else { "nowhere".to_owned() };
    let sentence = format!("a {what} should go {asked} into it and finds room for {holds}, {}", across(at.x, unit));
    (sentence, format!("a shorter or thinner {what}, a backing behind it, or art with more to it above its foot"))
}

fn off_balance(right: Length, unit: Unit) -> (String, String) {
    let off = show_length(right.max(Length::ZERO - right), unit);
    let side = if right > Length::ZERO { "right" } else { "left" };
    let sentence =
        format!("its sticks stand {off} to the {side} of the middle of its weight, where it has room for them");
    (sentence, "side pins, a second stick, or shorter sticks that find room under the middle".to_owned())
}

fn narrow((neck, places): (&Neck, usize), least: Length, unit: Unit) -> (String, String) {
    let [width, least] = [Length::mm(neck.width()), least].map(|length| show_length(length, unit));
    let more = match places {
        0 | 1 => String::new(),
        2 => "; one more place is too narrow".to_owned(),
        many => format!("; {} more places are too narrow", many - 1),
    };
    let sentence =
        format!("it is only {width} wide {}, and paste so thick should have {least}{more}", place(neck.middle(), unit));
    (sentence, "make it larger or thicker, give it a backing, or widen the art there".to_owned())
}

/// A place on a piece: `2 1/4 in up, 1/2 in left of its middle`.
fn place(at: DVec2, unit: Unit) -> String {
    let up = show_length(Length::mm(at.y.abs()), unit);
    format!("{up} {}, {}", if at.y < 0.0 { "below its middle" } else { "up" }, across(at.x, unit))
}

/// A place across a piece: `1/2 in left of its middle`.
fn across(x: f64, unit: Unit) -> String {
    // Within 1/16 in: nobody measures finer on paste.
    const NEAR: f64 = 25.4 / 16.0;
    if x.abs() < NEAR {
        return "at its middle".to_owned();
    }
    format!("{} {} of its middle", show_length(Length::mm(x.abs()), unit), if x > 0.0 { "right" } else { "left" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_told_in_the_measures_of_the_piece() {
        let told = |x: f64, y: f64| place(DVec2::new(x, y) * 25.4, Unit::Inch);
        assert_eq!(told(-0.5, 2.25), "2 1/4 in up, 1/2 in left of its middle");
        assert_eq!(told(0.02, 1.0), "1 in up, at its middle");
        assert_eq!(told(1.0, -0.5), "1/2 in below its middle, 1 in right of its middle");
    }

    /// What resolving says of one piece, in mm.
    fn said(piece: &str) -> Vec<Finding> {
        let text = format!(
            "title = 't'\nunit = 'mm'\n[board]\nsize = 400\n[[tier]]\nname = 'a'\nsize = 200\nheight = 100\n[[piece]]\nname = 'p'\n{piece}\n"
        );
        let design = crate::design::read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        crate::cake::resolve(&std::sync::Arc::new(design), &std::sync::Arc::default()).unwrap().findings
    }

    /// By how much a piece with this finding is off, mm.
    fn off_by(piece: &str, code: Code) -> f64 {
        let found = said(piece);
        let [finding] = &found[..] else { panic!("{piece}: {found:?}") };
        assert_eq!((finding.code, &finding.place), (code, &Place::piece("p")), "{finding:?}");
        finding.by.unwrap().as_mm()
    }

    #[test]
    fn paste_that_should_bend_too_far_says_so_by_how_much() {
        let top = "seat = { on = 'a', surface = 'top' }\n";
        let off = |keys: &str| off_by(&format!("{top}{keys}"), Code::BendsTooTightly);
        // A ring of 6 mm rope has its middle line at least 1.1 times 3 mm from its centre.
        assert!((off("kind = 'rope'\nsize = 6\nring = 4") - 2.6).abs() < 1e-9);
        // At its lowest place a sag of h over a span of 2a has the radius a²/2h: 20²/2h = 3.3.
        assert!((off("kind = 'rope'\nsize = 6\nlength = 40\nsag = 80") - (80.0 - 400.0 / 6.6)).abs() < 1e-9);
        assert!(
            (off("kind = 'rope'\nsize = 2\nlength = 40\nsag = 30\nband = 20") - (30.0 - 400.0 / 22.0)).abs() < 1e-9
        );
        // Loops of 3 mm paste are at least 21 mm long; a ribbon at least four times as wide as it is thick.
        let bow = |ribbon: u32, length: u32, thick: u32| {
            off(&format!("kind = 'bow'\nribbon = {ribbon}\nloops = 2\nloop = {length}\ntails = 0\nthickness = {thick}"))
        };
        assert!((bow(20, 15, 3) - 6.0).abs() < 1e-9 && (bow(10, 30, 4) - 6.0).abs() < 1e-9);
        let sign = |keys: &str| {
            off(&format!(
                "kind = 'sign'\ntext = 'i'\nletters = {{ height = 5 }}\nsize = [60, 20]\nthickness = 4\n{keys}"
            ))
        };
        assert!(sign("wave = 40") > 10.0 && sign("curl = 90") > 10.0);
        assert_eq!(said(&format!("{top}kind = 'rope'\nsize = 6\nring = 40")), []);
    }

    #[test]
    fn a_rod_that_cannot_reach_says_how_much_it_lacks() {
        let rod = |length: f64| {
            format!(
                "kind = 'rod'\nseat = {{ on = 'board', surface = 'board' }}\nat = {{ x = 0, z = 175 }}\nleans_on = 'a'\n\
                 parts = [{{ length = {length}, from = 6, to = 6 }}]\nstick = {{ diameter = 2, into_board = 8 }}"
            )
        };
        // 75 mm before an edge 100 mm high, its axis 3 mm off the edge: √(75² + 100² − 3²) = 124.96.
        assert!((off_by(&rod(100.0), Code::RodDoesNotReach) - 24.964).abs() < 0.01);
        assert_eq!(said(&rod(130.0)), []);
    }

    #[test]
    fn a_crowded_scatter_says_how_many_find_a_place() {
        let found = said(
            "kind = 'scatter'\nseat = { on = 'a', surface = 'side' }\nover = { along = [-20, 20], up = [0, 40] }\nsizes = [[12, 90]]\nseed = 3",
        );
        let [finding] = &found[..] else { panic!("{found:?}") };
        assert_eq!(finding.code, Code::ScatterCrowded);
        let placed: u32 = finding.sentence.split(' ').filter_map(|word| word.parse().ok()).next().unwrap();
        // Twelve-millimetre balls in 40 × 40 mm: nine in rows, thrown as they come somewhat fewer.
        assert!((5..=9).contains(&placed) && finding.sentence.contains("of 90 balls"), "{finding:?}");
    }
}
