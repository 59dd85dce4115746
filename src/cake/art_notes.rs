//! What of the design's art is not cut, or not printed, as it was drawn.

use std::collections::BTreeSet;

use crate::art::{Art, Remark, Shelf};
use crate::design::Design;
use crate::design::model::Form;
use crate::findings::{Code, Finding, Place};

/// A figure that takes this much of its page is taken for the page itself.
const WHOLE_PAGE: f64 = 0.995;

/// Everything that is to be said of the art of a design.
pub(super) fn art_notes(design: &Design, shelf: &Shelf) -> Vec<Finding> {
    let pieces = design.pieces.iter().filter(|piece| !piece.hidden);
    let cut: BTreeSet<&str> = pieces
        .filter_map(|piece| match &piece.form {
            Form::Topper(topper) => Some(topper.art.as_str()),
            _ => None,
        })
        .collect();
    let art = design.art_paths().into_iter().filter_map(|path| Some((path, shelf.get(path)?)));
    art.flat_map(|(path, art)| {
        let notes = art.remarks().iter().filter_map(|remark| note(remark, cut.contains(path)));
        let page = cut.contains(path).then(|| whole_page(art)).flatten();
        let placed = |note: (Code, String, &str)| Finding::new(note.0, Place::Art(path.to_owned()), note.1, note.2);
        notes.chain(page).map(placed).collect::<Vec<_>>()
    })
    .collect()
}

fn note(remark: &Remark, is_cut: bool) -> Option<(Code, String, &'static str)> {
    const TO_PATHS: &str = "in the drawing program, turn the text into paths and save again";
    match remark {
        Remark::OtherTypeface(names) => {
            let asked = names.iter().map(|name| format!("“{name}”")).collect::<Vec<_>>().join(", ");
            let sentence =
                format!("its text asks for the typeface {asked}, which is not here, and is set in Inter instead");
            Some((Code::ArtTextSetAnew, sentence, TO_PATHS))
        }
        Remark::NoSign(signs) => {
            let lacking = signs.iter().map(|sign| format!("“{sign}”")).collect::<Vec<_>>().join(", ");
            let sentence =
                format!("the bundled typefaces have no sign for {lacking} in its text, and a box stands there");
            Some((Code::ArtTextSetAnew, sentence, TO_PATHS))
        }
        Remark::Effect => is_cut.then(|| {
            let sentence = "it has a shadow, a blur or another effect, along which nothing is cut".to_owned();
            (Code::ArtPartNotCut, sentence, "take the effect out, or draw what should be cut as a shape")
        }),
        Remark::ForeignObject => {
            let sentence = "it holds rich text or a web page (foreignObject), which is left out".to_owned();
            Some((Code::ArtPartNotCut, sentence, TO_PATHS))
        }
    }
}

/// A topper that is its whole page is most often a drawing with a background.
fn whole_page(art: &Art) -> Option<(Code, String, &'static str)> {
    let (width, height) = art.size();
    let fills = art.outline().is_ok_and(|outline| outline.area() >= WHOLE_PAGE * width * height);
    let sentence = "its outline is its whole page, a plain rectangle".to_owned();
    fills.then_some((
        Code::ArtFillsPage,
        sentence,
        "if it has a background, take that out; if it is a picture to be cut square, leave it",
    ))
}
