//! SVGs for cutting machines: one file a piece or course, in mm, one group a cut, closed paths only.

use std::collections::BTreeMap;
use std::fmt::Write;

use glam::DVec2;

use super::words;
use crate::kitchen::Pattern;
use crate::packs::PackFile;
use crate::packs::kitchen_pack::KitchenInput;
use crate::packs::svg::{escaped, number, path};

/// Free round and between cuts, mm.
const GAP: f64 = 5.0;
/// The line, mm: a hairline, as cutting programs expect.
const LINE: f64 = 0.1;
/// Letters of a name in a file's name.
const MOST_LETTERS: usize = 40;

/// All drawings, in the order of the patterns.
pub(super) fn files(input: &KitchenInput) -> Vec<PackFile> {
    let mut of: Vec<(&str, Vec<&Pattern>)> = Vec::new();
    for pattern in input.patterns.0 {
        let owner = pattern.of.first().map_or("", String::as_str);
        match of.iter_mut().find(|(name, _)| *name == owner) {
            Some((_, patterns)) => patterns.push(pattern),
            None => of.push((owner, vec![pattern])),
        }
    }
    let file = |((owner, patterns), number): (&(&str, Vec<&Pattern>), usize)| {
        (format!("templates/{number:02}-{}.svg", plain(owner)), drawing(input, owner, patterns).into_bytes())
    };
    of.iter().zip(1..).map(file).collect()
}

/// A name with nothing in it that a file system minds.
fn plain(name: &str) -> String {
    let mut out = String::new();
    for character in name.chars().take(MOST_LETTERS) {
        match character {
            letter if letter.is_ascii_alphanumeric() => out.push(letter.to_ascii_lowercase()),
            _ if out.ends_with('-') || out.is_empty() => {}
            _ => out.push('-'),
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "piece".to_owned() } else { out.to_owned() }
}

fn drawing(input: &KitchenInput, owner: &str, patterns: &[&Pattern]) -> String {
    let sizes: Vec<DVec2> = patterns.iter().map(|pattern| pattern.template.size()).collect();
    let width = sizes.iter().map(|size| size.x + GAP).sum::<f64>() + GAP;
    let height = sizes.iter().map(|size| size.y).fold(0.0, f64::max) + 2.0 * GAP;
    let [wide, tall] = [width, height].map(number);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{tall}mm\" viewBox=\"0 0 {wide} {tall}\">\n\
         <title>{}</title>\n<desc>{} · true size in mm</desc>\n",
        escaped(&format!("{} · {owner}", input.facts.title)),
        escaped(&words::revision(input))
    );
    let mut left = GAP;
    let mut used: BTreeMap<String, u32> = BTreeMap::new();
    for (pattern, size) in patterns.iter().zip(sizes) {
        let again = used.entry(plain(&pattern.template.what)).or_default();
        *again += 1;
        let id = if *again > 1 {
            format!("{}-{again}", plain(&pattern.template.what))
        } else {
            plain(&pattern.template.what)
        };
        let told = format!("{}: {}", words::name(pattern), words::details(pattern, input));
        let low = pattern.template.region.bounds().map_or(DVec2::ZERO, |(low, _)| low);
        let place = |at: &DVec2| DVec2::new(left + at.x - low.x, GAP + size.y - (at.y - low.y));
        let lines: String = pattern
            .template
            .region
            .rings
            .iter()
            .map(|ring| path(&ring.iter().map(place).collect::<Vec<_>>()) + "Z")
            .collect();
        let line = number(LINE);
        let _ = writeln!(
            out,
            "<g id=\"{id}\">\n<title>{}</title>\n<path d=\"{lines}\" fill=\"none\" fill-rule=\"evenodd\" stroke=\"#000000\" \
             stroke-width=\"{line}\"/>\n</g>",
            escaped(&told)
        );
        left += size.x + GAP;
    }
    out + "</svg>\n"
}
