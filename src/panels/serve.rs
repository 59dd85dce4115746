//! Wishes that need nothing but the bench.

use std::time::Duration;

use super::Wish;
use crate::edits::Refusal;
use crate::edits::bench::Workbench;

/// Carries a wish out on the bench; gives it back when it is the window's. `now` is the time since the program began.
///
/// # Errors
/// When an edit is refused; nothing changed then.
pub fn serve(bench: &mut Workbench, wish: Wish, now: Duration) -> Result<Option<Wish>, Refusal> {
    match wish {
        Wish::Edit(edit) => bench.edit(&edit, now)?,
        Wish::Hold(edit) => bench.hold(&edit)?,
        Wish::Drop => bench.drop_gesture(),
        Wish::Cancel => bench.cancel_gesture(),
        Wish::Undo => {
            bench.undo();
        }
        Wish::Redo => {
            bench.redo();
        }
        Wish::Choose(thing) => bench.choose(thing),
        Wish::GoTo(thing) => {
            bench.choose(Some(thing.clone()));
            return Ok(Some(Wish::GoTo(thing)));
        }
        other => return Ok(Some(other)),
    }
    Ok(None)
}
