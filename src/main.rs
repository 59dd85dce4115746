//! The program: words in, exit code out.

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use tierproof::commands::{UNUSABLE, Words, run};

fn main() -> ExitCode {
    let code = run(Words::parse()).unwrap_or_else(|error| {
        // Nothing is left to be done when not even the error can be told.
        let _ = writeln!(std::io::stderr(), "{error}");
        UNUSABLE
    });
    ExitCode::from(code)
}
