//! Art that is dropped in or chosen: looked at, and copied into the design's folder.

use std::path::{Path, PathBuf};

use super::Refusal;
use crate::art::{Art, LARGEST_ART};
use crate::files::{FileError, Overwrite, read_bounded, write_whole};

/// Folder for art, inside the design's.
const FOLDER: &str = "art";

/// Characters of a name that are kept.
const MOST_CHARACTERS: usize = 60;

/// Brings a picture into a design's folder and gives its path there, for [`super::PieceEdit::Art`] and the like. A picture that
/// lies in the folder already stays where it is; one that was brought in before is not brought in twice.
///
/// # Errors
/// When it can't be read, is no PNG, JPEG or SVG, or the folder can't be written. Nothing was changed then.
pub fn bring_in(folder: &Path, picture: &Path) -> Result<String, Refusal> {
    let refuse = |error: FileError| Refusal::senseless(error.to_string(), "choose another file, or mend what is said");
    let bytes = read_bounded(picture, LARGEST_ART).map_err(refuse)?;
    let shown = picture.file_name().unwrap_or_default().to_string_lossy().into_owned();
    if let Err(error) = Art::read(&bytes, &shown) {
        return Err(Refusal::senseless(error.to_string(), "choose a PNG, JPEG or SVG file"));
    }
    if let Some(inside) = path_inside(folder, picture) {
        return Ok(inside);
    }
    for number in 1..10_000 {
        let path = format!("{FOLDER}/{}", file_name(picture, number));
        let place = folder.join(&path);
        match read_bounded(&place, LARGEST_ART) {
            Ok(there) if there == bytes => return Ok(path),
            Err(FileError::Missing { .. }) => {
                write_whole(&place, &bytes, Overwrite::Document).map_err(refuse)?;
                return Ok(path);
            }
            _ => {}
        }
    }
    Err(Refusal::senseless(format!("{shown} can't be given a free name"), "rename the picture"))
}

/// The path of a picture that lies in the folder already, as a design names it.
fn path_inside(folder: &Path, picture: &Path) -> Option<String> {
    let (folder, picture) = (folder.canonicalize().ok()?, picture.canonicalize().ok()?);
    let relative: PathBuf = picture.strip_prefix(folder).ok()?.to_owned();
    let parts: Option<Vec<&str>> = relative.components().map(|part| part.as_os_str().to_str()).collect();
    let path = parts?.join("/");
    crate::files::stays_inside(&path).ok().map(|()| path)
}

/// A plain name that every system can hold: letters, figures, hyphens and one ending.
fn file_name(picture: &Path, number: u32) -> String {
    let plain = |text: &str| -> String {
        let letters = text.chars().map(|c| if c.is_alphanumeric() || c == '_' { c } else { '-' });
        letters.take(MOST_CHARACTERS).collect()
    };
    let stem = plain(&picture.file_stem().unwrap_or_default().to_string_lossy());
    let stem = if stem.trim_matches('-').is_empty() { "picture" } else { stem.trim_matches('-') };
    let ending = plain(&picture.extension().unwrap_or_default().to_string_lossy()).to_lowercase();
    let again = if number > 1 { format!("-{number}") } else { String::new() };
    format!("{stem}{again}.{ending}")
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::bring_in;
    use crate::files::{Overwrite, write_whole};

    const DRAWING: &str = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 1 1'><path d='M0 0L1 0L0 1Z'/></svg>";

    #[test]
    fn a_picture_is_copied_once_under_a_plain_free_name() {
        let (design, elsewhere) = (tempfile::tempdir().expect("folder"), tempfile::tempdir().expect("folder"));
        let picture = elsewhere.path().join("My star: 1 (copy).SVG");
        write_whole(&picture, DRAWING.as_bytes(), Overwrite::Document).expect("drawn");
        let path = bring_in(design.path(), &picture).expect("brought in");
        assert_eq!(path, "art/My-star--1--copy.svg");
        assert_eq!(bring_in(design.path(), &picture).expect("again"), path);
        write_whole(&picture, DRAWING.replace("0 0 1 1", "0 0 2 2").as_bytes(), Overwrite::Document).expect("changed");
        assert_eq!(bring_in(design.path(), &picture).expect("another"), "art/My-star--1--copy-2.svg");
        assert_eq!(bring_in(design.path(), &design.path().join(&path)).expect("there already"), path);
        let foreign = elsewhere.path().join("notes.txt");
        write_whole(&foreign, "no picture".as_bytes(), Overwrite::Document).expect("written");
        for wrong in [foreign, elsewhere.path().join("none.png"), elsewhere.path().to_owned()] {
            let refusal = bring_in(design.path(), &wrong).expect_err("no picture");
            assert!(!refusal.to_string().is_empty() && !refusal.mend().is_empty());
        }
        assert_eq!(fs::read_dir(design.path().join("art")).expect("art").count(), 2);
    }
}
