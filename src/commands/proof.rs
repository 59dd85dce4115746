//! `proof`: the proof pack for the customer.

use std::path::PathBuf;

use super::load::load;
use super::output::{Force, overwrite, room_for_pack, say, write_pack};
use super::work::{code, work};
use super::{CommandError, DesignPath};
use crate::packs::PROOF_FILES;

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// Folder to write the pack into
    #[arg(short, long, value_name = "FOLDER")]
    output: PathBuf,
    #[command(flatten)]
    force: Force,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let overwrite = overwrite(&words.force);
    room_for_pack(&words.output, &PROOF_FILES, overwrite)?;
    let work = work(&load(&words.design.path)?)?;
    let files = made(&work)?;
    write_pack(&words.output, &files, overwrite)?;
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    say(&format!("{}: {}", words.output.display(), names.join(", ")))?;
    Ok(code(&work))
}

#[cfg(not(feature = "view"))]
fn made(_work: &super::work::Work) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    Err(CommandError::NoPictures)
}

#[cfg(feature = "view")]
fn made(work: &super::work::Work) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    super::studio::with_progress(|tell| pack(work, tell))
}

/// The files of the pack by name; `tell` is told after every frame of a picture, and may call it off.
#[cfg(feature = "view")]
pub(super) fn pack(
    work: &super::work::Work,
    tell: super::studio::Tell,
) -> Result<Vec<(String, Vec<u8>)>, CommandError> {
    use super::studio::{MARGIN, bodies, corners, photograph, stage, turned};
    use crate::packs::{ProofInput, proof_pack};
    use crate::proof::shot::Shot;
    use crate::proof::turntable::cameras;
    use crate::proof::view::{Camera, NAMED};
    use crate::scene::Quality;

    /// The large picture is printed about 180 mm wide: 1600 px there are over 220 to the inch.
    const LARGE: (u32, u32) = (1600, 1200);
    const SMALL: (u32, u32) = (900, 900);

    let bodies = bodies(work, LARGE)?;
    let corners = corners(&bodies);
    let named = NAMED.map(|(name, direction)| {
        let (size, quality) = if name == "customer" { (LARGE, Quality::Good) } else { (SMALL, Quality::Small) };
        (Camera::framing(direction, &corners, size, MARGIN), quality)
    });
    let turning = cameras(&corners).into_iter().map(|camera| (camera, Quality::Turning));
    let cameras: Vec<(Camera, Quality)> = named.into_iter().chain(turning).collect();
    let pictures = photograph(&stage(&work.cake, bodies.clone()), &cameras, tell)?;
    let mut shots: Vec<Shot> = cameras
        .iter()
        .zip(pictures)
        .enumerate()
        .map(|(number, (&(camera, _), picture))| {
            let view = NAMED.get(number).map_or("turned", |(name, _)| *name).to_owned();
            Shot { view, camera, picture }
        })
        .collect();
    let turned = turned(work, &bodies, shots.split_off(NAMED.len()));
    let cake = &work.cake;
    let (facts, design, tiers) = (&work.facts, &cake.design, &cake.tiers);
    Ok(proof_pack(&ProofInput { facts, design, shots: &shots, bodies: &bodies, tiers, turned: &turned })?)
}
