//! `edit --frames`: how long the editor's frames take on this machine, without a window.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use super::CommandError;
use super::load::load;
use super::output::say;
use crate::design::model::At;
use crate::edits::bench::Workbench;
use crate::edits::{Edit, PieceEdit};
use crate::measure::{Length, PlanPoint, TapePoint};
use crate::scene::{FrameTimes, frame_times};
use crate::window::Followed;

/// Measures walking round the cake, and dragging its first piece that is not locked.
pub(super) fn run(design: &Path, size: (u32, u32), count: u32) -> Result<(), CommandError> {
    let loaded = load(design)?;
    let mut bench = Workbench::new(loaded.design, loaded.shelf)?;
    if let Some(job) = bench.job() {
        bench.take(job.run());
    }
    let mut shown = Followed::default();
    shown.follow(&bench)?;
    let still = Arc::clone(&shown.stage);
    let walk = frame_times(&mut |_| Arc::clone(&still), size, count)?;
    say(&format!("{}\n{} bodies, {} x {} px, {count} frames", walk.device, still.bodies.len(), size.0, size.1))?;
    tell("walking round", &walk)?;
    let piece = bench.design().pieces.iter().find(|piece| !piece.locked && !piece.hidden).cloned();
    let Some(piece) = piece else { return Ok(()) };
    let drag = frame_times(
        &mut |number| {
            let by = Length::mm(f64::from(number % 20));
            let at = match piece.at {
                At::Plan(at) => At::Plan(PlanPoint { x: at.x + by, z: at.z }),
                At::Tape(at) => At::Tape(TapePoint { along: at.along + by, up: at.up }),
            };
            let edit = Edit::piece(&piece.name, PieceEdit::Move(piece.seat.clone(), at));
            // A place that is refused shows what was there: the frame is drawn all the same.
            let _ = bench.hold(&edit).map(|()| shown.follow(&bench));
            Arc::clone(&shown.stage)
        },
        size,
        count,
    )?;
    tell(&format!("dragging “{}”", piece.name), &drag)
}

fn tell(what: &str, times: &FrameTimes) -> Result<(), CommandError> {
    let ms = |time: Duration| time.as_secs_f64() * 1e3;
    let (half, most, all) = (times.within(50), times.within(95), times.within(100));
    say(&format!(
        "{what}: half within {:.2} ms, 95 % within {:.2} ms, all within {:.2} ms, drawn {} x {} px",
        ms(half),
        ms(most),
        ms(all),
        times.size.0,
        times.size.1
    ))
}
