//! The proof pack: everything the customer gets to agree the look, made in memory.
//!
//! In: the measurements, the design (for its order and its words), the shots and the bodies. Out: file names and bytes.
//! `proof.pdf` is the approval sheet, `proof.html` the same to open on a phone ([`page`]); their sections stand one a file here, in
//! the order in which they are read.

mod approval;
mod care;
mod cover;
mod decorations;
mod drawings;
mod joins;
mod page;
mod portions;
mod section;
mod sizes;

use super::pdf::{Flow, paper_of};
use super::{PackError, PackFile, measurements, write_glb};
use crate::art::encode_png;
use crate::cake::{Body, CakeTier};
use crate::design::Design;
use crate::proof::each::each;
use crate::proof::facts::Facts;
use crate::proof::shot::Shot;
use crate::proof::turntable::Turned;
use crate::proof::working::PriceFacts;
use section::Section;

/// What a proof is made from.
#[derive(Clone, Copy, Debug)]
pub struct ProofInput<'a> {
    /// The measurements.
    pub facts: &'a Facts,
    /// The design that they were made from.
    pub design: &'a Design,
    /// Pictures of the named views; `customer` is the large one.
    pub shots: &'a [Shot],
    /// Every solid of the cake.
    pub bodies: &'a [Body],
    /// The resolved tiers, for the sizes in the drawings.
    pub tiers: &'a [CakeTier],
    /// Pictures from all round, for the page that turns the cake; without any it shows the shots alone.
    pub turned: &'a [Turned],
}

/// Names of the pack's files, in the order in which they are made.
pub const PROOF_FILES: [&str; 10] = [
    "proof.pdf",
    "proof.html",
    "hero.png",
    "front.png",
    "right.png",
    "back.png",
    "left.png",
    "top.png",
    "cake.glb",
    "measurements.json",
];

/// Makes some of the files.
type Part = fn(&ProofInput) -> Result<Vec<PackFile>, PackError>;

/// The whole pack: `proof.pdf`, `proof.html`, a PNG a shot (`hero.png` for the customer's view), `cake.glb`, `measurements.json`.
///
/// # Errors
/// Whatever stops one of the files; then there is no pack.
pub fn proof_pack(input: &ProofInput) -> Result<Vec<PackFile>, PackError> {
    let parts: [Part; 4] = [
        |input| Ok(vec![("proof.pdf".to_owned(), proof_pdf(input)?)]),
        |input| Ok(vec![("proof.html".to_owned(), page::page(input)?)]),
        pictures,
        |input| Ok(vec![body(input)?, measurements(&for_customer(input))?]),
    ];
    Ok(each(&parts, |part| part(input)).into_iter().collect::<Result<Vec<_>, _>>()?.concat())
}

/// A file a shot.
fn pictures(input: &ProofInput) -> Result<Vec<PackFile>, PackError> {
    let picture = |shot: &Shot| {
        let name = if shot.view == "customer" { "hero.png".to_owned() } else { format!("{}.png", shot.view) };
        let png = encode_png(&shot.picture)
            .map_err(|error| PackError::Writer { file: "a picture of the proof", reason: error.to_string() })?;
        Ok((name, png))
    };
    input.shots.iter().map(picture).collect()
}

fn body(input: &ProofInput) -> Result<PackFile, PackError> {
    Ok(("cake.glb".to_owned(), write_glb(input.bodies, &input.facts.title, &input.facts.revision)?))
}

/// The measurements as the customer gets them: without how the price is reckoned and when the decorator works.
fn for_customer(input: &ProofInput) -> Facts {
    let price = &input.facts.price;
    let named = PriceFacts { currency: price.currency.clone(), total: price.total, ..PriceFacts::default() };
    let asked = input.design.proof.price == Some(true);
    let price = if asked { named } else { PriceFacts::default() };
    Facts { price, schedule: Vec::new(), ..input.facts.clone() }
}

/// The approval sheet.
///
/// # Errors
/// [`PackError::Writer`] with the words of the PDF writer or the picture encoder.
pub fn proof_pdf(input: &ProofInput) -> Result<Vec<u8>, PackError> {
    let title = format!("{} · cake proof", input.facts.title);
    let mut flow = Flow::new(&title, &input.facts.revision, paper_of(input.design));
    cover::set(&mut flow, input)?;
    flow.turn();
    drawings::set(&mut flow, input);
    for section in sections(input) {
        section.set(&mut flow);
    }
    approval::set(&mut flow, input);
    flow.finish()
}

/// Every section of facts, in the order in which they are read.
fn sections(input: &ProofInput) -> Vec<Section> {
    let mut sections = sizes::sections(input);
    sections.extend(decorations::section(input));
    sections.extend(joins::section(input));
    sections.extend(portions::sections(input));
    sections.extend(care::sections(input));
    sections
}

#[cfg(test)]
mod tests;
