//! `edit`: the editor's window.

#[cfg(feature = "view")]
use std::ops::ControlFlow;
use std::path::PathBuf;
#[cfg(feature = "view")]
use std::time::Instant;

use super::CommandError;

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    /// Folder that holds cake.toml and its art, or the path of that file; the start page when left out
    #[arg(value_name = "DESIGN")]
    design: Option<PathBuf>,
    /// Measure so many frames without a window, and say how long they took
    #[arg(long, value_name = "COUNT", hide = true, requires = "design", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    frames: Option<u32>,
    /// Size of those frames in pixels
    #[arg(long, value_name = "WxH", default_value = "1920x1080", hide = true, value_parser = super::still::size)]
    size: (u32, u32),
}

impl Default for Words {
    /// The start page.
    fn default() -> Self {
        Self { design: None, frames: None, size: (1920, 1080) }
    }
}

#[cfg(feature = "view")]
pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    use crate::window::{Setting, open};

    if let (Some(design), Some(count)) = (&words.design, words.frames) {
        super::frames::run(design, words.size, count)?;
        return Ok(super::FINE);
    }
    let setting = Setting { design: words.design.clone(), refuge: refuge(), began: Instant::now(), make };
    open(setting)?;
    Ok(super::FINE)
}

#[cfg(not(feature = "view"))]
pub(super) fn run(_words: &Words) -> Result<u8, CommandError> {
    Err(CommandError::NoPictures)
}

/// A folder of the program's own, where systems keep such things (XDG Base Directory Specification 0.8; on other systems what
/// they say themselves).
#[cfg(feature = "view")]
fn refuge() -> Option<PathBuf> {
    let from = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let base = if cfg!(windows) {
        from("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        from("HOME").map(|home| home.join("Library/Application Support"))
    } else {
        from("XDG_STATE_HOME").or_else(|| from("HOME").map(|home| home.join(".local/state")))
    };
    let folder = base.filter(|base| base.is_absolute())?.join("tierproof");
    std::fs::create_dir_all(&folder).ok().map(|()| folder)
}

/// Makes a pack and writes it.
#[cfg(feature = "view")]
fn make(order: &crate::window::Order, tell: &mut dyn FnMut(u64, u64) -> ControlFlow<()>) -> Result<(), String> {
    use super::output::staged;
    use crate::files::{Overwrite, Staged};
    use crate::panels::Pack;

    let (folder, work) = (&order.folder, &order.work);
    let mut is_off = false;
    let mut made = || -> Result<Staged, CommandError> {
        match order.pack {
            Pack::Proof => staged(folder, &super::proof::pack(work, tell)?, Overwrite::Ours),
            Pack::Kitchen => {
                let mut staged = Staged::new(folder, Overwrite::Ours)?;
                super::kitchen::pack(work, &mut staged, &mut |done, of| is_off |= tell(done, of).is_break())?;
                Ok(staged)
            }
        }
    };
    let pack = made().map_err(|error| error.to_string())?;
    if is_off || tell(1, 1).is_break() {
        return Err("it was stopped".to_owned());
    }
    let written = match order.pack {
        Pack::Proof => pack.put().map_err(CommandError::from),
        Pack::Kitchen => super::kitchen::write(folder, pack),
    };
    written.map_err(|error| error.to_string())
}
