//! `check`: everything that is wrong with a design, the gravest first.

use super::load::load;
use super::output::{say, say_json};
use super::work::{code, work};
use super::{Asked, CommandError};

pub(super) fn run(asked: &Asked) -> Result<u8, CommandError> {
    let work = work(&load(&asked.design.path)?.on(&asked.today))?;
    if asked.json {
        say_json(&work.facts.findings)?;
        return Ok(code(&work));
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
    for caution in &work.facts.cautions {
        say(&format!("mind  {}", caution.text))?;
    }
    say("      Where local food rules say more or otherwise, they hold.")?;
    Ok(code(&work))
}
