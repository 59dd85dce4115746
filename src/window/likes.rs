//! How the person likes the window, kept from one start to the next in a folder of the program's own.

use std::path::{Path, PathBuf};

use toml_edit::{DocumentMut, value};

use crate::files::{Overwrite, read_bounded, write_whole};
use crate::panels::{Motion, SCALES, Scheme, Settings};

/// The file, and how much of one is read at most, bytes.
const FILE: &str = "window.toml";
const LARGEST: u64 = 4 << 10;

/// Reads what was kept. What is missing or makes no sense is as at the first start.
pub(super) fn read(refuge: Option<&Path>) -> Settings {
    let bytes = refuge.and_then(|refuge| read_bounded(&file(refuge), LARGEST).ok()).unwrap_or_default();
    let text = String::from_utf8(bytes).unwrap_or_default();
    let kept = text.parse::<DocumentMut>().unwrap_or_default();
    let first = Settings::default();
    let is = |key: &str| kept.get(key).and_then(toml_edit::Item::as_bool);
    let letters = kept.get("letters").and_then(toml_edit::Item::as_integer).and_then(|scale| u16::try_from(scale).ok());
    Settings {
        scheme: is("dark").map_or(first.scheme, |is_dark| if is_dark { Scheme::Dark } else { Scheme::Light }),
        scale: letters.map_or(first.scale, |scale| scale.clamp(SCALES.0, SCALES.1)),
        motion: is("glides").map_or(first.motion, |glides| if glides { Motion::Full } else { Motion::Reduced }),
    }
}

/// Keeps it for the next start.
pub(super) fn keep(refuge: Option<&Path>, settings: Settings) {
    let mut kept = DocumentMut::new();
    kept["dark"] = value(settings.scheme == Scheme::Dark);
    kept["letters"] = value(i64::from(settings.scale));
    kept["glides"] = value(settings.motion == Motion::Full);
    if let Some(refuge) = refuge {
        // What can't be kept is chosen again the next time: no design is lost by it.
        let _ = write_whole(&file(refuge), kept.to_string().as_bytes(), Overwrite::Document);
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
        for (text, scale) in [("letters = 9000\ndark = 'so'", 200), ("letters = -3", 100), ("\u{0}[[", 100)] {
            std::fs::write(file(home.path()), text).unwrap();
            assert_eq!(read(refuge), Settings { scale, ..Settings::default() }, "{text}");
        }
        std::fs::write(file(home.path()), [0xff, 0xfe]).unwrap();
        assert_eq!(read(refuge), Settings::default());
        assert_eq!(read(None), Settings::default());
        keep(None, settings);
    }
}
