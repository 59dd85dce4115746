//! How the person likes the window, kept from one start to the next in a folder of the program's own.

use std::path::{Path, PathBuf};

use crate::files::{Overwrite, read_bounded, write_whole};
use crate::panels::{Motion, SCALES, Scheme, Settings};

/// The file, and how much of one is read at most, bytes.
const FILE: &str = "likes";
const LARGEST: u64 = 4 << 10;

/// What its lines say.
const DARK: &str = "dark";
const LETTERS: &str = "letters ";
const STILL: &str = "nothing glides";

/// Reads what was kept. What is missing or makes no sense is as at the first start.
pub(super) fn read(refuge: Option<&Path>) -> Settings {
    let bytes = refuge.and_then(|refuge| read_bounded(&file(refuge), LARGEST).ok()).unwrap_or_default();
    let mut settings = Settings::default();
    for line in String::from_utf8(bytes).unwrap_or_default().lines() {
        match line {
            DARK => settings.scheme = Scheme::Dark,
            STILL => settings.motion = Motion::Reduced,
            line => {
                let scale = line.strip_prefix(LETTERS).and_then(|scale| scale.parse::<u16>().ok());
                settings.scale = scale.map_or(settings.scale, |scale| scale.clamp(SCALES.0, SCALES.1));
            }
        }
    }
    settings
}

/// Keeps it for the next start.
pub(super) fn keep(refuge: Option<&Path>, settings: Settings) {
    let mut lines = format!("{LETTERS}{}\n", settings.scale);
    for (is_liked, line) in [(settings.scheme == Scheme::Dark, DARK), (settings.motion == Motion::Reduced, STILL)] {
        lines.extend(is_liked.then(|| format!("{line}\n")));
    }
    if let Some(refuge) = refuge {
        // What can't be kept is chosen again the next time: no design is lost by it.
        let _ = write_whole(&file(refuge), lines.as_bytes(), Overwrite::Document);
    }
}

fn file(refuge: &Path) -> PathBuf {
    refuge.join(FILE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn likings_are_kept_and_nonsense_is_as_at_the_first_start() {
        let home = tempfile::tempdir().unwrap();
        let refuge = Some(home.path());
        assert_eq!(read(refuge), Settings::default());
        let settings = Settings { scheme: Scheme::Dark, scale: 140, motion: Motion::Reduced };
        keep(refuge, settings);
        assert_eq!(read(refuge), settings);
        for (text, scale) in [("letters 9000\ndarkly", 200), ("letters -3\nletters", 100), ("\u{0}[[", 100)] {
            write_whole(&file(home.path()), text.as_bytes(), Overwrite::Document).unwrap();
            assert_eq!(read(refuge), Settings { scale, ..Settings::default() }, "{text}");
        }
        write_whole(&file(home.path()), &[0xff, 0xfe], Overwrite::Document).unwrap();
        assert_eq!(read(refuge), Settings::default());
        assert_eq!(read(None), Settings::default());
        keep(None, settings);
    }
}
