//! `bundle` and `unbundle`: a design with all its art and its approvals as one file, and back.

use std::path::PathBuf;

use super::load::{FILE, LARGEST_ART, Loaded, load};
use super::output::{Force, overwrite, say};
use super::{CommandError, DesignPath, FINE};
use crate::art::Art;
use crate::design::{LARGEST_FILE, read_design};
use crate::files::{free_to_write, read_bounded, stays_inside, write_new_folder, write_whole};
use crate::packs::{Bundle, BundleError, LARGEST_BUNDLE, PackFile, bundle};
use crate::proof::approval::{LARGEST_RECORD, RECORD, Record};

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// The file to write
    #[arg(short, long, value_name = "FILE.zip")]
    output: PathBuf,
    #[command(flatten)]
    force: Force,
}

#[derive(Debug, clap::Args)]
pub(super) struct Back {
    /// The bundle
    #[arg(value_name = "FILE.zip")]
    bundle: PathBuf,
    /// Folder to make
    #[arg(short, long, value_name = "FOLDER")]
    output: PathBuf,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let overwrite = overwrite(&words.force);
    free_to_write(&words.output, overwrite)?;
    let files = everything(&load(&words.design.path)?)?;
    write_whole(&words.output, &bundle(&files)?, overwrite)?;
    say(&format!("{}: {} files", words.output.display(), files.len()))?;
    Ok(FINE)
}

/// Every file of a design, with the record of its approvals and the designs that were approved, as far as they are still there.
fn everything(loaded: &Loaded) -> Result<Vec<PackFile>, CommandError> {
    let mut files = loaded.files()?;
    if loaded.record.last().is_some() {
        files.push((RECORD.to_owned(), loaded.record.text().into_bytes()));
    }
    for folder in loaded.record.folders() {
        if let Ok(kept) = load(&loaded.folder().join(&folder)) {
            files.extend(kept.files()?.into_iter().map(|(name, bytes)| (format!("{folder}/{name}"), bytes)));
        }
    }
    Ok(files)
}

pub(super) fn back(words: &Back) -> Result<u8, CommandError> {
    let shown = words.bundle.display().to_string();
    let bytes = read_bounded(&words.bundle, LARGEST_BUNDLE)?;
    let told = |error: BundleError| CommandError::Words(format!("{shown}: {error}"));
    let mut opened = Bundle::open(&bytes, FILE).map_err(told)?;
    let mut files = design_in(&mut opened, (&shown, ""))?;
    if let Some(text) = opened.take(RECORD, LARGEST_RECORD).map_err(told)? {
        let record = Record::read(&String::from_utf8_lossy(&text), &format!("{RECORD} in {shown}"))?;
        files.push((RECORD.to_owned(), text));
        for folder in record.folders() {
            let prefix = format!("{folder}/");
            if opened.holds(&format!("{prefix}{FILE}")) {
                files.extend(design_in(&mut opened, (&shown, &prefix))?);
            }
        }
    }
    let borrowed: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    write_new_folder(&words.output, &borrowed)?;
    say(&format!("{}: {} files", words.output.display(), files.len()))?;
    Ok(FINE)
}

/// One design out of a bundle, with the art that it names and nothing else; all of it can be used.
fn design_in(bundle: &mut Bundle<'_>, (shown, prefix): (&str, &str)) -> Result<Vec<PackFile>, CommandError> {
    let told = |error: BundleError| CommandError::Words(format!("{shown}: {error}"));
    let wrong = |name: &str, reason: &str| CommandError::Words(format!("{shown}: “{prefix}{name}” in it {reason}"));
    let text = bundle.take(&format!("{prefix}{FILE}"), LARGEST_FILE).map_err(told)?;
    let text = text.ok_or(BundleError::NoDesign).map_err(told)?;
    let words = std::str::from_utf8(&text).map_err(|_| wrong(FILE, "is not text (UTF-8)"))?;
    let design = read_design(words, &format!("{prefix}{FILE} in {shown}"))?;
    let mut files = Vec::new();
    for path in design.art_paths() {
        stays_inside(path)?;
        let art = bundle.take(&format!("{prefix}{path}"), LARGEST_ART).map_err(told)?;
        let art = art.ok_or_else(|| wrong(path, "is missing, and the design names it; bundle the design again"))?;
        Art::read(&art, path).map_err(|error| wrong(path, &format!("can't be used: {error}")))?;
        files.push((format!("{prefix}{path}"), art));
    }
    files.insert(0, (format!("{prefix}{FILE}"), text));
    Ok(files)
}
