//! The proof pack: everything the customer gets to agree the look, made in memory.
//!
//! In: the measurements, the design (for its order and its words), the shots and the bodies. Out: file names and bytes.
//! `proof.pdf` is the approval sheet; its sections stand one a file here, in the order in which they are read.

mod approval;
mod care;
mod cover;
mod decorations;
mod drawings;
mod joins;
mod portions;
mod sizes;

use super::pdf::{Flow, paper_of};
use super::{PackError, PackFile, measurements, write_glb};
use crate::art::encode_png;
use crate::cake::{Body, CakeTier};
use crate::design::Design;
use crate::proof::facts::Facts;
use crate::proof::shot::Shot;

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
}

/// The whole pack: `proof.pdf`, a PNG a shot (`hero.png` for the customer's view), `cake.glb`, `measurements.json`.
///
/// # Errors
/// Whatever stops one of the files; then there is no pack.
pub fn proof_pack(input: &ProofInput) -> Result<Vec<PackFile>, PackError> {
    let mut files = vec![("proof.pdf".to_owned(), proof_pdf(input)?)];
    for shot in input.shots {
        let name = if shot.view == "customer" { "hero.png".to_owned() } else { format!("{}.png", shot.view) };
        let png = encode_png(&shot.picture)
            .map_err(|error| PackError::Writer { file: "a picture of the proof", reason: error.to_string() })?;
        files.push((name, png));
    }
    files.push(("cake.glb".to_owned(), write_glb(input.bodies, &input.facts.title, &input.facts.revision)?));
    files.push(measurements(input.facts)?);
    Ok(files)
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
    sizes::set(&mut flow, input);
    decorations::set(&mut flow, input);
    joins::set(&mut flow, input);
    portions::set(&mut flow, input);
    care::set(&mut flow, input);
    approval::set(&mut flow, input);
    flow.finish()
}

#[cfg(test)]
mod tests;
