//! `tape`: the sides of the cake unrolled, to scale.

use std::path::{Path, PathBuf};

use super::load::load;
use super::output::{Force, overwrite, say};
use super::work::{Work, code, work};
use super::{CommandError, DesignPath};
use crate::art::encode_png;
use crate::cake::bodies;
use crate::files::{free_to_write, write_whole};
use crate::packs::svg;
use crate::proof::chart::Chart;
use crate::proof::tape::{TapeInput, tape};
use crate::wraps::Onlookers;

/// Pixels to the millimetre: 300 to the inch, as printers have them.
const FINE: f64 = 300.0 / 25.4;

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// The drawing to write: PNG, or SVG in true millimetres
    #[arg(short, long, value_name = "OUT.png|OUT.svg", value_parser = drawing)]
    output: PathBuf,
    /// Only the side of this tier; all of them when left out
    #[arg(long, value_name = "NAME")]
    tier: Option<String>,
    #[command(flatten)]
    force: Force,
}

/// What a file's ending asks for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Ending {
    Png,
    Svg,
}

fn ending(path: &Path) -> Option<Ending> {
    let ending = path.extension()?.to_str()?;
    let is = |word: &str| ending.eq_ignore_ascii_case(word);
    if is("png") { Some(Ending::Png) } else { is("svg").then_some(Ending::Svg) }
}

fn drawing(word: &str) -> Result<PathBuf, String> {
    let path = PathBuf::from(word);
    ending(&path).map(|_| path).ok_or_else(|| "expected a file that ends in .png or .svg".to_owned())
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let overwrite = overwrite(&words.force);
    free_to_write(&words.output, overwrite)?;
    let work = work(&load(&words.design.path)?)?;
    let chart = unrolled(&work, words.tier.as_deref())?;
    let bytes = match ending(&words.output) {
        Some(Ending::Svg) => svg(&chart)?.into_bytes(),
        _ => encode_png(&chart.paint(FINE)).map_err(|error| CommandError::Words(error.to_string()))?,
    };
    write_whole(&words.output, &bytes, overwrite)?;
    say(&words.output.display().to_string())?;
    Ok(code(&work))
}

fn unrolled(work: &Work, tier: Option<&str>) -> Result<Chart, CommandError> {
    let cake = &work.cake;
    let named = |name: &str| cake.tiers.iter().position(|tier| tier.name == name);
    let tiers: Vec<usize> = match tier {
        None => (0..cake.tiers.len()).collect(),
        Some(name) => vec![named(name).ok_or_else(|| unknown(work, name))?],
    };
    let bodies = bodies(cake)?;
    let onlookers = Onlookers::new(cake);
    let revision = &work.facts.revision;
    let (plans, ends) = (&work.plans, &work.ends);
    let input = TapeInput { cake, plans, ends, bodies: &bodies, onlookers: &onlookers, revision };
    Ok(tape(&input, &tiers))
}

fn unknown(work: &Work, name: &str) -> CommandError {
    let names: Vec<String> = work.cake.tiers.iter().map(|tier| format!("'{}'", tier.name)).collect();
    CommandError::Words(format!("--tier: there is no tier '{name}'; the design has {}", names.join(", ")))
}
