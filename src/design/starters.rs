//! Starter cakes: whole designs to begin from, carried inside the program.

use std::path::Path;

use super::hint::nearest;
use crate::files::{FileError, write_new_folder};

/// A starter cake.
#[derive(Clone, Copy, Debug)]
pub struct Starter {
    /// What it is asked for by.
    pub name: &'static str,
    /// What it is, in a line.
    pub meaning: &'static str,
    /// How it looks, as a JPEG: a still of it, 360 pixels square.
    pub picture: &'static [u8],
    files: &'static [(&'static str, &'static [u8])],
}

/// The files of one starter, from its folder in `assets/starters/`.
macro_rules! starter {
    ($name:literal, $meaning:literal, [$($file:literal),+]) => {
        Starter {
            name: $name,
            meaning: $meaning,
            picture: include_bytes!(concat!("../../assets/pictures/starters/", $name, ".jpg")),
            files: &[$(($file, include_bytes!(concat!("../../assets/starters/", $name, "/", $file)))),+],
        }
    };
}

static STARTERS: [Starter; 7] = [
    starter!("one-round", "One round cake with a spotted wrap between two ropes.", ["cake.toml", "art/spots.svg"]),
    starter!(
        "two-round",
        "Two round tiers: a sprigged wrap below, a plain tier with a sash and flowers above.",
        ["cake.toml", "art/sprigs.svg"]
    ),
    starter!("square-picture", "A square cake with one long picture all round it.", ["cake.toml", "art/rainbow.svg"]),
    starter!(
        "oval-band",
        "An oval with a wide sash, a bow and a name sign; nothing to print but the name.",
        ["cake.toml"]
    ),
    starter!(
        "octagon",
        "An octagon in dark green with a gold fan pattern and gold ropes.",
        ["cake.toml", "art/fans.svg"]
    ),
    starter!("heart", "A heart with a small all-over print and a ruby rope.", ["cake.toml", "art/hearts.svg"]),
    starter!(
        "petal",
        "A petal cake with pearls round its foot and rim and a gold star on top.",
        ["cake.toml", "art/star.svg"]
    ),
];

/// Every starter, the plainest first.
#[must_use]
pub const fn list() -> &'static [Starter] {
    &STARTERS
}

/// The starter of a name.
///
/// # Errors
/// Gives the name that was most likely meant, if there is one.
pub fn find(name: &str) -> Result<&'static Starter, Option<&'static str>> {
    STARTERS
        .iter()
        .find(|starter| starter.name == name)
        .ok_or_else(|| nearest(name, STARTERS.iter().map(|starter| starter.name)))
}

impl Starter {
    /// Writes the starter as a new design folder.
    ///
    /// # Errors
    /// When there is already something at the path, or the system refuses. Then nothing was changed.
    pub fn copy_to(&self, folder: &Path) -> Result<(), FileError> {
        write_new_folder(folder, self.files)
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_design;
    use super::{find, list};
    use crate::files::inside;

    #[test]
    fn every_starter_reads_and_has_its_art() {
        let place = tempfile::tempdir().expect("folder");
        for starter in list() {
            let folder = place.path().join(starter.name);
            starter.copy_to(&folder).expect("copied");
            let text = std::fs::read_to_string(folder.join("cake.toml")).expect("design");
            let design =
                read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{}\n{problems}", starter.name));
            for art in design.art_paths() {
                assert!(inside(&folder, art).is_ok(), "{}: {art}", starter.name);
            }
            assert!(text.starts_with(&format!("# {}\n", starter.meaning)), "{}", starter.name);
            let picture = crate::art::read_raster(starter.picture, starter.name).expect("picture");
            assert_eq!((picture.width, picture.height), (360, 360), "{}", starter.name);
        }
    }

    #[test]
    fn every_starter_folder_is_listed() {
        let folders = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/starters");
        let entries = std::fs::read_dir(folders).expect("starters").filter_map(Result::ok);
        let mut found: Vec<_> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        let mut listed: Vec<_> = list().iter().map(|starter| starter.name.to_owned()).collect();
        found.sort();
        listed.sort();
        assert_eq!(found, listed);
    }

    #[test]
    fn a_starter_is_found_by_name() {
        assert_eq!(find("heart").map(|starter| starter.name), Ok("heart"));
        assert_eq!(find("one-rond").map(|starter| starter.name), Err(Some("one-round")));
        assert_eq!(find("zebra").map(|starter| starter.name), Err(None));
    }
}
