//! `schema`: the JSON Schema of the design document.

use super::output::say_json;
use super::{CommandError, FINE};
use crate::design::schema;

pub(super) fn run() -> Result<u8, CommandError> {
    say_json(&schema())?;
    Ok(FINE)
}
