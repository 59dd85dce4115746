//! Every label once: what things are called in the window.

use super::{Pack, Scheme};
use crate::edits::Refusal;
use crate::proof::view::{Direction, NAMED};

/// What the program is called.
pub const PROGRAM: &str = "Tierproof";
/// Over the list of everything there is.
pub const STACK: &str = "The cake, from the top down";
/// The unrolled side, for those who hear the window.
pub const TAPE: &str = "Tape: the side unrolled";
/// Over the sheet of keys.
pub const KEYS: &str = "Keys";
/// A design without a title.
pub const UNTITLED: &str = "Untitled";
/// In a field where nothing is given.
pub const NONE_GIVEN: &str = "not given";
/// Sizes of the person's own, beside named ones.
pub const OWN: &str = "own sizes";
/// Where a picture would be named.
pub const NO_PICTURE: &str = "no picture";
/// Under the start page's title.
pub const DROP_A_FOLDER: &str = "Or drop a design’s folder here.";
/// Over the starters.
pub const BEGIN: &str = "Begin with a starter cake";
/// Over the designs that were open lately.
pub const GO_ON: &str = "Go on with";
/// Where what is typed fits no design.
pub const UNFIT: &str = "the design can’t be so";

/// The key of each named view, as on the number row.
pub const VIEW_KEYS: [(char, &str, &str); 6] = [
    ('1', "front", "Front"),
    ('2', "right", "Right"),
    ('3', "back", "Back"),
    ('4', "left", "Left"),
    ('5', "top", "Above"),
    ('0', "customer", "Customer’s view"),
];

/// Where a named view looks from.
#[must_use]
pub fn view(name: &str) -> Option<Direction> {
    NAMED.iter().find(|(known, _)| *known == name).map(|(_, direction)| *direction)
}

impl Pack {
    /// What it is called.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Proof => "Proof pack",
            Self::Kitchen => "Kitchen pack",
        }
    }
}

impl Scheme {
    /// What it is called.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Light => "Light",
            Self::Dark => "Dark",
        }
    }
}

/// Why something was refused, and what would mend it, in one line.
pub(super) fn refused(refusal: &Refusal) -> String {
    format!("{refusal}; {}", refusal.mend())
}

/// What a starter is called: `two round`.
pub(super) fn starter(name: &str) -> String {
    capital(&name.replace('-', " "))
}

/// Labels that say more than the document's own key; shape, key, label.
const LABELS: [(&str, &str, &str); 46] = [
    ("tier", "size", "Pan"),
    ("tier", "height", "Height as it stands"),
    ("tier", "paste", "Covering paste"),
    ("tier", "edge", "Top edge rounded by"),
    ("tier", "at", "Off the middle"),
    ("tier", "gap", "Raised by"),
    ("tier", "corner", "Pan’s corners rounded by"),
    ("board", "size", "Across"),
    ("piece", "at", "Place"),
    ("piece", "dry", "Dries for"),
    ("piece", "tilt", "Leans by"),
    ("piece", "over", "Spread over"),
    ("piece", "clear_of_seams", "Away from seams by"),
    ("piece", "loop", "Loop, knot to end"),
    ("piece", "tail", "Tail, knot to end"),
    ("piece", "cut", "Tails cut"),
    ("piece", "print", "Printed in the picture’s colours"),
    ("piece", "ring", "Ring across"),
    ("piece", "band", "Flat band, wide"),
    ("piece", "edge", "Along the edge, inside by"),
    ("piece", "curl", "Ends curl up by"),
    ("piece", "wave", "Waves as high as"),
    ("piece", "sunk", "Pressed in by"),
    ("piece", "stiff", "Dried flat first"),
    ("piece", "pin", "Held by a pin"),
    ("piece", "form", "Stands for"),
    ("at", "x", "Right of centre"),
    ("at", "z", "Towards the front"),
    ("at", "along", "Along, right of front centre"),
    ("at", "up", "Up from the foot"),
    ("over", "x", "Left to right"),
    ("over", "z", "Back to front"),
    ("course", "seam", "Ends meet at"),
    ("course", "size", "Thickness"),
    ("course", "repeat", "One repeat, wide"),
    ("course", "join_free", "stretch without a join"),
    ("course", "under", "paste beneath"),
    ("course", "from", "Only from"),
    ("course", "to", "Only to"),
    ("course", "pins", "Pinned seams"),
    ("course", "forbid", "No seam from, to"),
    ("order", "for", "For"),
    ("order", "handover", "Hand-over"),
    ("transport", "box", "Box inside"),
    ("viewing", "down", "Looked down on by"),
    ("design", "unit", "Measured in"),
];

/// Keys that few cakes need; they stand behind a fold.
const RARE: [(&str, &[&str]); 4] = [
    ("tier", &["corner", "layers", "edge", "at", "turn", "gap", "dowels"]),
    (
        "course",
        &[
            "weight",
            "least",
            "focus",
            "focus_along",
            "shift",
            "overlap",
            "thickness",
            "from",
            "to",
            "pins",
            "forbid",
            "least_strip",
        ],
    ),
    ("piece", &["dry", "tilt"]),
    ("sheet", &["ppi", "gap", "bleed", "turn"]),
];

/// What a key of a table is called.
pub(super) fn label(shape: &str, key: &str) -> String {
    let known = LABELS.iter().find(|(of, known, _)| *of == shape && *known == key);
    known.map_or_else(|| capital(&key.replace('_', " ")), |(_, _, label)| capital(label))
}

/// Whether a key stands behind the fold.
pub(super) fn is_rare(shape: &str, key: &str) -> bool {
    RARE.iter().any(|(of, keys)| *of == shape && keys.contains(&key))
}

/// What the fold is called.
pub(super) const MORE: &str = "More";

/// Whether a table holds keys of two kinds, of which one is given.
pub(super) fn is_either(shape: &str) -> bool {
    matches!(shape, "at" | "over")
}

/// A word of the document, as a person says it.
pub(super) fn word(word: &str) -> &str {
    match word {
        "in" => "inches",
        "mm" => "millimetres",
        "cm" => "centimetres",
        "fill" => "what is left",
        "repeat" => "side by side, closed",
        "cover" => "one picture, filling",
        "contain" => "one picture, whole",
        "back" => "the back",
        "front" => "the front",
        other => other,
    }
}

/// The two values of a pair.
pub(super) const fn part_of_pair(number: usize) -> &'static str {
    if number == 0 { "first" } else { "second" }
}

/// A section of the whole design's card.
pub(super) fn own(key: &str) -> &'static str {
    match key {
        "finish" => "Own finishes",
        "paste" => "Own pastes",
        "sheet" => "Own printing sheets",
        "order" => "The order",
        "viewing" => "From where it is looked at",
        "transport" => "What it must go into",
        "kitchen" => "Your kitchen",
        "proof" => "The proof",
        _ => "More",
    }
}

/// What such a section is about.
pub(super) fn own_meaning(key: &str) -> &'static str {
    match key {
        "finish" => "A colour and how it takes the light; every part of the cake may have it.",
        "paste" => "What a finish is mixed from, for the list of pastes.",
        _ => "Sheets of a size that your printer takes.",
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{shape_of, shape_of_all, shape_of_course};

    #[test]
    fn every_label_is_of_a_key_that_there_is() {
        let has = |shape: &str, key: &str| {
            let found = match shape {
                "course" => shape_of_course(),
                "design" => Some(shape_of_all()),
                // Tables inside of others are looked at where they stand.
                "at" | "over" => return true,
                other => shape_of(other),
            };
            found.is_some_and(|shape| {
                let variants = shape.kinds.iter().flat_map(|variant| variant.fields);
                shape.fields.iter().chain(variants).any(|field| field.key == key)
            })
        };
        for (shape, key, _) in LABELS {
            assert!(has(shape, key), "{shape}, {key}");
        }
        for (shape, keys) in RARE {
            assert!(keys.iter().all(|key| has(shape, key)), "{shape}");
        }
    }
}
