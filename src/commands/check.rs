//! `check`: everything that is wrong with a design, the gravest first.

use super::load::load;
use super::output::{say, say_json};
use super::work::work;
use super::{CommandError, DesignPath};

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// Print one JSON document
    #[arg(long)]
    json: bool,
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let work = work(&load(&words.design.path)?)?;
    if words.json {
        say_json(&work.facts.findings)?;
        return Ok(work.code());
    }
    for finding in &work.findings {
        let (severity, code) = (finding.severity.word(), finding.code.word());
        say(&format!(
            "{severity:4}  {code}  {}\n      {}\n      mend: {}",
            finding.place, finding.sentence, finding.mend
        ))?;
    }
    if work.findings.is_empty() {
        say("nothing found")?;
    }
    Ok(work.code())
}
