//! A bar on standard error that shows how far long work is; only on a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Does work that tells how many of how many steps are done.
pub(super) fn with_bar<T>(work: impl FnOnce(&mut dyn FnMut(u64, u64)) -> T) -> T {
    let bar = ProgressBar::new(0).with_style(ProgressStyle::default_bar());
    bar.set_draw_target(ProgressDrawTarget::stderr());
    let done = work(&mut |done, of| {
        bar.set_length(of);
        bar.set_position(done);
    });
    bar.finish_and_clear();
    done
}
