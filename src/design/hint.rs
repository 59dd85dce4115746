//! The nearest of the known words, for a word that was mistyped.

use strsim::damerau_levenshtein;

/// The known word that a mistyped one was most likely meant to be: at most a third of it may differ.
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = word.chars().count();
    if length > 100 {
        return None;
    }
    let word = word.to_lowercase();
    let distances = known.into_iter().map(|known| (damerau_levenshtein(&word, &known.to_lowercase()), known));
    let (distance, known) = distances.min()?;
    (distance <= 1.max(length.max(known.chars().count()) / 3)).then_some(known)
}

/// Words as a list for a sentence: `“a”, “b” or “c”`.
pub(crate) fn choice<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let quoted: Vec<_> = words.into_iter().map(|word| format!("“{word}”")).collect();
    match quoted.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => "nothing".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{choice, nearest};

    #[test]
    fn a_mistyped_word_finds_its_neighbour() {
        let known = ["height", "size", "color", "tier"];
        assert_eq!(nearest("heigth", known), Some("height"));
        assert_eq!(nearest("colour", known), Some("color"));
        assert_eq!(nearest("Size", known), Some("size"));
        assert_eq!(nearest("tiers", known), Some("tier"));
        assert_eq!(nearest("banana", known), None);
        assert_eq!(nearest(&"height".repeat(100), known), None);
    }

    #[test]
    fn words_are_listed() {
        assert_eq!(choice(["a", "b", "c"]), "“a”, “b” or “c”");
        assert_eq!(choice(["a"]), "“a”");
    }
}
