//! Keeps the paths that a design names inside its folder.

use std::path::{Component, Path, PathBuf};

use super::FileError;

/// Characters in the longest path that is looked at.
const MOST_CHARACTERS: usize = 500;

/// The real place of a path that a design names, which must be there and lie inside `folder`.
///
/// # Errors
/// When the path is absolute, climbs out of the folder, leads out of it through a link, or names nothing.
pub fn inside(folder: &Path, relative: &str) -> Result<PathBuf, FileError> {
    stays_inside(relative)?;
    let real = |path: &Path| path.canonicalize().map_err(|reason| FileError::reading(path, reason));
    let (folder, path) = (real(folder)?, real(&folder.join(relative))?);
    if path.starts_with(&folder) { Ok(path) } else { Err(outside(relative, "it leads out of the folder by a link")) }
}

/// Looks at the text of a path only, not at any folder.
///
/// # Errors
/// When the path is absolute, climbs, or means something else on another system.
pub fn stays_inside(relative: &str) -> Result<(), FileError> {
    leaves(relative).map_or(Ok(()), |why| Err(outside(relative, why)))
}

/// Why a path would leave its folder, as far as its text shows.
fn leaves(relative: &str) -> Option<&'static str> {
    if relative.trim().is_empty() {
        return Some("the path is empty");
    }
    if relative.chars().count() > MOST_CHARACTERS {
        return Some("the path is too long");
    }
    if relative.chars().any(char::is_control) {
        return Some("the path holds a control character");
    }
    // Backslashes and drives mean something on one system and nothing on another.
    if relative.contains(['\\', ':']) {
        return Some("the path holds a backslash or colon");
    }
    let mut names = 0;
    for part in Path::new(relative).components() {
        match part {
            Component::Normal(_) => names += 1,
            Component::CurDir => {}
            Component::ParentDir => return Some("the path climbs with .."),
            Component::RootDir | Component::Prefix(_) => return Some("the path is absolute"),
        }
    }
    (names == 0).then_some("the path names the folder itself")
}

fn outside(path: &str, why: &'static str) -> FileError {
    FileError::Outside { path: path.chars().take(MOST_CHARACTERS).filter(|c| !c.is_control()).collect(), why }
}

#[cfg(test)]
mod tests {
    use super::super::{FileError, Overwrite, write_whole};
    use super::inside;

    #[test]
    fn a_path_stays_inside_or_is_refused() {
        let folder = tempfile::tempdir().expect("folder");
        let design = folder.path().join("design");
        write_whole(&design.join("art/waves.svg"), b"", Overwrite::Ours).expect("written");
        write_whole(&folder.path().join("secret"), b"", Overwrite::Ours).expect("written");
        assert!(inside(&design, "art/waves.svg").expect("inside").ends_with("art/waves.svg"));
        assert!(inside(&design, "./art//waves.svg").is_ok());
        let climbing =
            ["../secret", "art/../art/waves.svg", "/etc/passwd", "", " ", ".", "art/..", "..\\secret", "C:/x", "a\0b"];
        for path in climbing {
            assert!(matches!(inside(&design, path), Err(FileError::Outside { .. })), "{path:?}");
        }
        assert!(matches!(inside(&design, &"a/".repeat(1000)), Err(FileError::Outside { .. })));
        assert!(matches!(inside(&design, "art/none.svg"), Err(FileError::Missing { .. })));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_that_leads_outside_is_refused() {
        let folder = tempfile::tempdir().expect("folder");
        let design = folder.path().join("design");
        write_whole(&design.join("waves.svg"), b"", Overwrite::Ours).expect("written");
        write_whole(&folder.path().join("secret"), b"", Overwrite::Ours).expect("written");
        std::os::unix::fs::symlink("../secret", design.join("out")).expect("link");
        std::os::unix::fs::symlink("waves.svg", design.join("in")).expect("link");
        assert!(matches!(inside(&design, "out"), Err(FileError::Outside { .. })));
        assert!(inside(&design, "in").is_ok());
    }
}
