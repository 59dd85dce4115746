//! What is printed for a piece: which part of which art, and how large, on which of its parts.
//!
//! Flat faces only: a topper whose art is printed, a plaque with art, a sign with a picture; and any of their faces whose
//! finish looks like a printed sheet.

use glam::DVec2;

use super::likeness::{Likeness, covering, find};
use super::sign::face_length;
use super::{Makings, PieceError};
use crate::art::{Colour, Part, Region};
use crate::design::Look;
use crate::design::model::Form;
use crate::design::model::pieces::{Plaque, ReferenceSide, Sign, Topper};

/// A print that a piece needs.
#[derive(Clone, Debug, PartialEq)]
pub struct PiecePrint {
    /// The part that takes it: `front`, `plate`, `face`.
    pub what: &'static str,
    /// Width and height of what is cut, upright, mm.
    pub size: DVec2,
    /// What is printed on it.
    pub ink: Ink,
    /// The outline that it is cut along, its middle at the origin, mm, y up; `None` where it is cut square.
    pub outline: Option<Region>,
}

/// What is printed.
#[derive(Clone, Debug, PartialEq)]
pub enum Ink {
    /// A part of the art at a path.
    Art(String, Part),
    /// One colour.
    Plain(Colour),
}

/// The print of a piece, if it needs one.
///
/// # Errors
/// Art that can't be used.
pub fn print(form: &Form, makings: Makings) -> Result<Option<PiecePrint>, PieceError> {
    match form {
        Form::Topper(topper) => of_topper(topper, makings),
        Form::Plaque(plaque) => of_plaque(plaque, makings),
        Form::Sign(sign) => of_sign(sign, makings),
        _ => Ok(None),
    }
}

/// The colour of a finish that looks like a printed sheet.
fn plain(finish: &str, makings: Makings) -> Option<Ink> {
    let finish = makings.design.finish(finish);
    (finish.look == Look::Print).then_some(Ink::Plain(finish.colour))
}

fn of_topper(topper: &Topper, makings: Makings) -> Result<Option<PiecePrint>, PieceError> {
    let colour = plain(&topper.finish, makings);
    if !topper.print && colour.is_none() {
        return Ok(None);
    }
    let likeness = Likeness::cut(makings, &topper.art, topper.size)?;
    let art = Ink::Art(topper.art.clone(), likeness.part());
    let ink = colour.filter(|_| !topper.print).unwrap_or(art);
    Ok(Some(PiecePrint { what: "front", size: likeness.size(), ink, outline: Some(likeness.figure.front.clone()) }))
}

fn of_plaque(plaque: &Plaque, makings: Makings) -> Result<Option<PiecePrint>, PieceError> {
    if let Some(path) = &plaque.art {
        let likeness = Likeness::cut(makings, path, plaque.size)?;
        let ink = Ink::Art(path.clone(), likeness.part());
        let outline = Some(likeness.figure.front.clone());
        return Ok(Some(PiecePrint { what: "plate", size: likeness.size(), ink, outline }));
    }
    let size = match plaque.size {
        ReferenceSide::Width(side) | ReferenceSide::Height(side) => DVec2::splat(side.as_mm()),
        ReferenceSide::Both(width, height) => DVec2::new(width.as_mm(), height.as_mm()),
    };
    Ok(plain(&plaque.finish, makings).map(|ink| PiecePrint { what: "plate", size, ink, outline: None }))
}

/// A sign is cut as long as its wave is, and its picture is printed as long.
fn of_sign(sign: &Sign, makings: Makings) -> Result<Option<PiecePrint>, PieceError> {
    let [_, height] = sign.size.map(crate::measure::Length::as_mm);
    let size = DVec2::new(face_length(sign), height);
    let ink = match &sign.art {
        Some(path) => Some(Ink::Art(path.clone(), covering(find(makings, path)?, size))),
        None => plain(&sign.finish, makings),
    };
    Ok(ink.map(|ink| PiecePrint { what: "face", size, ink, outline: None }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::art::Shelf;
    use crate::cake::pieces::trial;
    use crate::design::Design;
    use crate::design::model::Finish;
    use crate::design::model::pieces::Letters;
    use crate::measure::Length;

    fn topper(print: bool, finish: &str) -> Form {
        Form::Topper(Topper {
            art: "flag.svg".into(),
            size: ReferenceSide::Height(Length::mm(90.0)),
            thickness: Length::mm(3.0),
            finish: finish.into(),
            print,
            backing: None,
            picks: None,
        })
    }

    #[test]
    fn a_topper_is_printed_only_when_it_should_be() {
        let (shelf, mut design) = (trial::shelf(), Design::default());
        let sheet = Finish { colour: Colour::new(9, 8, 7), look: Look::Print, paste: None };
        design.finishes.insert("sheet".into(), sheet);
        let makings = Makings { shelf: &shelf, design: &design };
        assert_eq!(print(&topper(false, "white"), makings), Ok(None));
        let printed = print(&topper(true, "sheet"), makings).unwrap().unwrap();
        assert!((printed.size.y - 90.0).abs() < 1e-9 && printed.outline.is_some());
        assert!(matches!(printed.ink, Ink::Art(path, part) if path == "flag.svg" && part.height > 0.5));
        let plain = print(&topper(false, "sheet"), makings).unwrap().unwrap();
        assert_eq!(plain.ink, Ink::Plain(Colour::new(9, 8, 7)));
    }

    #[test]
    fn a_wavy_sign_is_printed_as_long_as_it_is_cut() {
        let (shelf, design) = (trial::shelf(), Design::default());
        let makings = Makings { shelf: &shelf, design: &design };
        let sign = Sign {
            text: String::new(),
            letters: Letters { height: Length::mm(10.0), colour: Colour::new(0, 0, 0), font: None },
            art: Some("flag.svg".into()),
            size: [Length::mm(114.0), Length::mm(32.0)],
            thickness: Length::mm(3.0),
            border: Length::ZERO,
            finish: "white".into(),
            border_finish: None,
            wave: Length::mm(6.0),
            curl: Length::ZERO,
            stiff: false,
        };
        let printed = print(&Form::Sign(sign.clone()), makings).unwrap().unwrap();
        assert!(printed.size.x > 115.0 && printed.size.y == 32.0 && printed.outline.is_none());
        let unread = Makings { shelf: &Shelf::default(), design: &design };
        assert!(print(&Form::Sign(sign), unread).is_err());
    }
}
