//! `characters-missing`: a text that can't be printed as it was typed, because no bundled font has its characters.

use crate::art::missing;
use crate::cake::Cake;
use crate::findings::{Code, Finding, Place};

pub(super) fn check(cake: &Cake) -> Vec<Finding> {
    let (design, order) = (&cake.design, &cake.design.order);
    let mut found: Vec<Option<Finding>> = vec![
        finding("design".into(), "the title", &design.title),
        finding("order".into(), "the customer's name", &order.customer),
        finding("order".into(), "the event", &order.event),
        finding("order".into(), "the notes", &order.notes),
        finding("order".into(), "the list of allergens", &order.allergens.join(" ")),
    ];
    for tier in &design.tiers {
        found.push(finding(Place::tier(&tier.name), "its name", &tier.name));
        let place = |course: &str| Place::course(&tier.name, course);
        found.extend(tier.courses.iter().map(|course| finding(place(&course.name), "its name", &course.name)));
    }
    for piece in &design.pieces {
        found.push(finding(Place::piece(&piece.name), "its name", &piece.name));
    }
    found.into_iter().flatten().collect()
}

fn finding(place: Place, what: &str, text: &str) -> Option<Finding> {
    const MOST_NAMED: usize = 12;
    let missing = missing(text);
    let named: Vec<String> = missing.iter().take(MOST_NAMED).map(char::to_string).collect();
    let more = if missing.len() > MOST_NAMED { " and others" } else { "" };
    let sentence = format!("{what} has characters that no font here can print: {}{more}", named.join(" "));
    let mend = "write it in letters that can be printed (Latin, Greek, Cyrillic, Hebrew, Arabic, Georgian, Armenian)";
    (!missing.is_empty()).then(|| Finding::new(Code::CharactersMissing, place, sentence, mend))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{cake, found};
    use super::*;

    #[test]
    fn characters_that_cannot_be_printed_are_named_with_their_place() {
        let tables = "[order]\nfor = \"日本 Ann\"\n[[tier]]\nname = \"große Torte\"\nsize = 180\nheight = 100\n[[piece]]\nname = \"sign\"\n\
                      kind = \"sign\"\nseat = { on = \"große Torte\", surface = \"side\" }\ntext = \"한\"\nsize = [80, 20]\n";
        let told: Vec<(String, String)> = found(&check(&cake(tables)), Code::CharactersMissing)
            .into_iter()
            .map(|finding| (finding.place.to_string(), finding.sentence))
            .collect();
        let says = |what: &str, which: &str| format!("{what} has characters that no font here can print: {which}");
        // What a sign can't be lettered with is found where it is cut.
        assert_eq!(told, [("order".to_owned(), says("the customer's name", "日 本"))]);
        assert!(check(&cake("[[tier]]\nname = \"base\"\nsize = 180\nheight = 100\n")).is_empty());
    }
}
