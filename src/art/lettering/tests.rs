//! Lettering, tried against what a typesetter would expect.

use super::*;

#[test]
fn a_capital_is_as_high_as_asked() {
    for typeface in [Typeface::Text, Typeface::Strong, Typeface::Slanted] {
        let line = shape("H", typeface, typeface.size_for_capitals(19.05));
        let (low, high) = line.outline().bounds().unwrap();
        assert!((line.cap_height - 19.05).abs() < 1e-9);
        assert!(low.y.abs() < 1e-3 && (high.y - 19.05).abs() < 1e-3, "{low} {high}");
    }
}

#[test]
fn letters_read_from_left_to_right_and_stand_upright() {
    // An L: more of it lies left of its middle, and below it.
    let region = shape("L", Typeface::Strong, 100.0).outline();
    let ((low, high), centre) = (region.bounds().unwrap(), region.centroid().unwrap());
    assert!(centre.x < (low.x + high.x) / 2.0 && centre.y < (low.y + high.y) / 2.0);
}

#[test]
fn counters_are_holes_and_letters_stand_apart() {
    let faces = shape("Bo i", Typeface::Text, 20.0).outline().faces();
    let mut holes: Vec<usize> = faces.iter().map(|face| face.holes.len()).collect();
    holes.sort_unstable();
    assert_eq!(holes, [0, 0, 1, 2]);
}

#[test]
fn kerning_pulls_letters_together() {
    let width = |text| shape(text, Typeface::Text, 10.0).width;
    assert!(width("AV") < width("A") + width("V") - 0.1);
    assert!((width("HH") - 2.0 * width("H")).abs() < 0.05);
}

#[test]
fn a_missing_character_comes_from_the_other_font() {
    let line = shape("a ⌀ b", Typeface::Text, 10.0);
    let fonts: Vec<FontFile> = line.runs.iter().map(|run| run.font).collect();
    assert_eq!(fonts, [FontFile::Regular, FontFile::Fallback, FontFile::Regular]);
    assert!(line.runs.iter().flat_map(|run| &run.glyphs).all(|glyph| glyph.id != 0));
    for character in "½¼¾⅛″′×Ø⌀°µ←→↑↓☐☑✓−√≈≤≥éßłğ".chars() {
        let line = shape(&character.to_string(), Typeface::Strong, 10.0);
        assert!(line.runs[0].glyphs[0].id != 0 && !line.outline().is_empty(), "{character}");
    }
}

#[test]
fn clusters_cover_the_text() {
    let text = "fio né\u{301}! שלום";
    let line = shape(text, Typeface::Text, 10.0);
    let mut clusters: Vec<Range<usize>> =
        line.runs.iter().flat_map(|run| &run.glyphs).map(|glyph| glyph.cluster.clone()).collect();
    clusters.sort_by_key(|cluster| cluster.start);
    clusters.dedup();
    assert_eq!((clusters[0].start, clusters.last().unwrap().end), (0, text.len()));
    assert!(clusters.windows(2).all(|pair| pair[0].end == pair[1].start));
}

#[test]
fn empty_and_endless_text_are_bounded() {
    assert_eq!(shape("", Typeface::Text, 10.0).width, 0.0);
    assert!(shape("\n", Typeface::Text, 10.0).outline().is_empty());
    let long = "ab".repeat(MAX_CHARACTERS);
    assert_eq!(shape(&long, Typeface::Text, 1.0).runs[0].glyphs.len(), MAX_CHARACTERS);
}

/// Where each letter of a text stands, from the left.
fn order_of(text: &str) -> Vec<char> {
    let line = shape(text, Typeface::Text, 10.0);
    let mut glyphs: Vec<&Glyph> = line.runs.iter().flat_map(|run| &run.glyphs).collect();
    assert!(glyphs.windows(2).all(|pair| pair[0].x <= pair[1].x + 1e-9), "{text}");
    glyphs.retain(|glyph| glyph.advance > 0.0);
    glyphs.iter().filter_map(|glyph| text[glyph.cluster.clone()].chars().next()).collect()
}

/// The expected orders follow from UAX #9 by hand: numbers stay left to right, brackets are mirrored in place.
#[test]
fn right_to_left_text_stands_in_its_order() {
    let order = |text: &str| order_of(text).into_iter().collect::<String>();
    assert_eq!(order("שלום"), "םולש");
    // First letter from the right: the whole line runs leftward, and so do its words.
    assert_eq!(order("שלום דנה"), "הנד םולש");
    assert_eq!(order("דנה 12"), "12 הנד");
    // First letter from the left: the Hebrew word runs leftward where it stands.
    assert_eq!(order("Dana דנה 7"), "Dana 7 הנד");
    // Inter first, then the other font: each word in its place on a leftward line.
    assert_eq!(order("דנה and Lia"), "and Lia הנד");
}

#[test]
fn arabic_letters_are_joined() {
    // Four times the same letter alone is wider than the word of it, whose inner forms are narrower.
    let width = |text| shape(text, Typeface::Text, 10.0).width;
    assert!(width("بببب") < 0.9 * 4.0 * width("ب"), "{} {}", width("بببب"), width("ب"));
    assert!(shape("سلام", Typeface::Text, 10.0).missing.is_empty());
}

#[test]
fn a_mark_joins_its_letter() {
    let [apart, one] = ["e\u{301}", "é"].map(|text| shape(text, Typeface::Strong, 10.0));
    assert!((apart.width - one.width).abs() < 1e-9 && apart.missing.is_empty());
    let (marked, letter) = (shape("x\u{323}", Typeface::Strong, 10.0), shape("x", Typeface::Strong, 10.0));
    assert!((marked.width - letter.width).abs() < 1e-6, "{} {}", marked.width, letter.width);
    assert!(marked.outline().bounds().unwrap().0.y < letter.outline().bounds().unwrap().0.y - 0.2);
}

#[test]
fn characters_without_a_sign_are_named_once_in_order() {
    let line = shape("🎂 for 字 and 🎂\u{fe0f}", Typeface::Strong, 10.0);
    assert_eq!(line.missing, ['🎂', '字']);
    assert!(shape("Dana & Lia, ½ ⌀ \u{200b}\u{a0}", Typeface::Strong, 10.0).missing.is_empty());
}

#[test]
fn every_ascii_character_has_a_sign() {
    let ascii: String = (0..128_u8).map(char::from).collect();
    assert_eq!(shape(&ascii, Typeface::Text, 1.0).missing, missing(&ascii));
}

#[test]
fn a_font_of_ones_own_is_read_and_what_it_lacks_comes_from_ours() {
    let own = OwnFont::read(FontFile::Fallback.bytes()).unwrap();
    let line = letter("Lia 字", Some(&own), 12.0);
    assert!((line.cap_height - 12.0).abs() < 1e-9);
    assert!(matches!(line.runs[0].font, SignFont::Own(_)) && line.missing == ['字']);
    let ours = letter("Lia", None, 12.0);
    assert!((ours.outline().bounds().unwrap().1.y - line.outline().bounds().unwrap().1.y).abs() < 0.7);
    assert_ne!(ours.width, line.width);
}

#[test]
fn what_is_no_font_is_refused() {
    let says = |bytes: &[u8]| OwnFont::read(bytes).unwrap_err().to_string();
    let whole = FontFile::Fallback.bytes();
    assert!(says(b"plain words").contains("damaged"));
    assert!(says(&whole[..200]).contains("get the font file again"));
    let empty: Vec<u8> = [b"\0\x01\0\0", &[0_u8; 8][..]].concat();
    assert!(OwnFont::looks_like_one(&empty) && says(&empty).contains("damaged"));
    let large = vec![0; (48 << 20) + 1];
    assert!(says(&large).contains("at most 48 MB"));
}

/// A font with wrong bytes in it is refused or sets something, in time and without a panic.
#[test]
fn damaged_fonts_do_no_harm() {
    let whole = FontFile::Regular.bytes();
    let mut seed = 7_u64;
    let mut roll = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    for _ in 0..60 {
        let mut bytes = whole.to_vec();
        for _ in 0..24 {
            // Most of what steers a reader stands at the beginning.
            let reach = if roll(2) == 0 { 4000 } else { bytes.len() };
            let at = roll(reach);
            bytes[at] = roll(256) as u8;
        }
        bytes.truncate(whole.len() - if roll(3) == 0 { roll(whole.len()) } else { 0 });
        if let Ok(own) = OwnFont::read(&bytes) {
            let line = letter("Seven bells שלום é", Some(&own), 10.0);
            assert!(line.width.is_finite() && line.outline().rings.iter().flatten().all(|at| at.is_finite()));
        }
    }
}
