//! One file a command. The only place that prints, reads the clock of progress bars, and joins `scene` to `packs`.
//!
//! `load` turns a DESIGN into a design with its art; `work` turns that into everything that is shown.

mod approve;
mod bar;
mod bundle;
mod check;
mod diff;
mod edit;
mod error;
#[cfg(feature = "view")]
mod frames;
mod kitchen;
mod load;
mod measure;
mod new;
mod output;
mod proof;
mod schema;
mod still;
#[cfg(feature = "view")]
mod studio;
mod tape;
mod work;

use std::path::PathBuf;

use clap::{Parser, Subcommand};

pub use error::CommandError;

/// What the program leaves with when nothing is wrong.
pub const FINE: u8 = 0;
/// Done, but a `stop` finding stands.
pub const STOPPED: u8 = 1;
/// The input could not be used.
pub const UNUSABLE: u8 = 2;

/// Plan, show and prepare a decorated celebration cake, true to size.
#[derive(Debug, Parser)]
#[command(name = "tierproof", version)]
pub struct Words {
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Open the editor; also without any word
    Edit(edit::Words),
    /// Make a new design folder from a starter cake
    New(new::Words),
    /// List everything that is wrong with a design, with what would fix it
    Check(Asked),
    /// List every size, strip, seam, mass and count
    Measure(Asked),
    /// Take one picture
    Still(still::Words),
    /// Draw the sides unrolled, to scale, with strips, seams and pieces
    Tape(tape::Words),
    /// Make the proof pack for the customer
    Proof(proof::Words),
    /// Make the kitchen pack for the decorator
    Kitchen(kitchen::Words),
    /// Write down who approved this revision, and keep a copy of it
    Approve(approve::Words),
    /// Tell what changed between two designs, and what must be made again
    Diff(diff::Words),
    /// Put a design with all its art into one file
    Bundle(bundle::Words),
    /// Make a design folder from such a file
    Unbundle(bundle::Back),
    /// Print the JSON Schema of the design document
    Schema,
}

/// A design to work on.
#[derive(Debug, clap::Args)]
struct DesignPath {
    /// Folder that holds cake.toml and its art, or the path of that file
    #[arg(value_name = "DESIGN")]
    path: PathBuf,
}

/// The day, which the program never looks up by itself.
#[derive(Debug, clap::Args)]
struct Today {
    /// The day on which work can begin, as 2026-12-01; that of the design when left out
    #[arg(long, value_name = "DATE")]
    today: Option<jiff::civil::Date>,
}

/// A design that something is asked of.
#[derive(Debug, clap::Args)]
struct Asked {
    #[command(flatten)]
    design: DesignPath,
    #[command(flatten)]
    today: Today,
    /// Print one JSON document: lengths in mm, angles in degrees, masses in g
    #[arg(long)]
    json: bool,
}

/// Does what the words say; the exit code says how it went.
///
/// # Errors
/// Input that can't be used, or output that can't be written.
pub fn run(words: Words) -> Result<u8, CommandError> {
    match words.command.unwrap_or_else(|| Command::Edit(edit::Words::default())) {
        Command::Edit(words) => edit::run(&words),
        Command::New(words) => new::run(&words),
        Command::Check(words) => check::run(&words),
        Command::Measure(words) => measure::run(&words),
        Command::Still(words) => still::run(&words),
        Command::Tape(words) => tape::run(&words),
        Command::Proof(words) => proof::run(&words),
        Command::Kitchen(words) => kitchen::run(&words),
        Command::Approve(words) => approve::run(&words),
        Command::Diff(words) => diff::run(&words),
        Command::Bundle(words) => bundle::run(&words),
        Command::Unbundle(words) => bundle::back(&words),
        Command::Schema => schema::run(),
    }
}
