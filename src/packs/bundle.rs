//! One file with a design and all its art: a ZIP archive (PKWARE's APPNOTE), for mail and for keeping.
//!
//! Out: the same files give the same bytes; entries carry no time of their own. In: nothing is believed. How many entries there
//! are, how large each becomes and how large all become is bounded before anything is unpacked, and only files that are asked for
//! by name are unpacked at all.

use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};

use zip::result::ZipError;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

use super::{PackError, PackFile};

/// Largest bundle that is read, bytes.
pub const LARGEST_BUNDLE: u64 = 1 << 30;
/// Entries that a bundle may have.
const MOST_ENTRIES: usize = 5_000;
/// Bytes that all unpacked files may have together.
const MOST_UNPACKED: u64 = 2 << 30;
/// What an entry of the archive's list begins with.
const ENTRY: &[u8] = b"PK\x01\x02";

/// Why a bundle can't be used.
#[derive(Debug, thiserror::Error)]
pub enum BundleError {
    /// Something else, or damaged.
    #[error("{reason}; take the file again from where it came")]
    Damaged {
        /// What is wrong.
        reason: String,
    },
    /// More than is taken.
    #[error("{what}; a bundle of one cake is smaller")]
    TooMuch {
        /// What there is too much of.
        what: String,
    },
    /// Without a design.
    #[error("there is no cake.toml in it; make the bundle with `tierproof bundle`")]
    NoDesign,
}

/// The bytes of a bundle of these files.
///
/// # Errors
/// [`PackError::Writer`] with the ZIP writer's own words.
pub fn bundle(files: &[PackFile]) -> Result<Vec<u8>, PackError> {
    let failed = |reason: String| PackError::Writer { file: "a bundle", reason };
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::DEFAULT)
        .unix_permissions(0o644);
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        archive.start_file(name.as_str(), options).map_err(|error| failed(error.to_string()))?;
        archive.write_all(bytes).map_err(|error| failed(error.to_string()))?;
    }
    Ok(archive.finish().map_err(|error| failed(error.to_string()))?.into_inner())
}

/// An opened bundle.
#[derive(Debug)]
pub struct Bundle<'a> {
    archive: ZipArchive<Cursor<&'a [u8]>>,
    /// Names as the design knows them, and which entry each is.
    names: BTreeMap<String, usize>,
    /// Bytes unpacked so far.
    unpacked: u64,
}

impl<'a> Bundle<'a> {
    /// Opens a bundle and looks at its list. A folder round everything, as an archiver makes it, is looked through.
    ///
    /// # Errors
    /// What is no such archive, has too many entries or two of one name, or holds no design.
    pub fn open(bytes: &'a [u8], design: &str) -> Result<Self, BundleError> {
        if bytes.windows(ENTRY.len()).filter(|four| *four == ENTRY).take(MOST_ENTRIES + 1).count() > MOST_ENTRIES {
            return Err(BundleError::TooMuch { what: format!("it has more than {MOST_ENTRIES} entries") });
        }
        let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
        if archive.has_duplicate_names() {
            return Err(BundleError::Damaged { reason: "two of its entries have one name".to_owned() });
        }
        let mut names = BTreeMap::new();
        for number in 0..archive.len() {
            if let Some(Ok(name)) = archive.name_for_index(number) {
                names.insert(name.into_owned(), number);
            }
        }
        let root = root(&names, design).ok_or(BundleError::NoDesign)?;
        let below = |(name, number): (String, usize)| Some((name.strip_prefix(&root)?.to_owned(), number));
        Ok(Self { archive, names: names.into_iter().filter_map(below).collect(), unpacked: 0 })
    }

    /// Whether there is a file of that name.
    #[must_use]
    pub fn holds(&self, name: &str) -> bool {
        self.names.contains_key(name)
    }

    /// Unpacks one file; `None` where there is none of that name. No more than `limit` bytes are unpacked.
    ///
    /// # Errors
    /// A damaged or encrypted entry, one that is no file, or one larger than `limit`.
    pub fn take(&mut self, name: &str, limit: u64) -> Result<Option<Vec<u8>>, BundleError> {
        let Some(&number) = self.names.get(name) else { return Ok(None) };
        let wrong = |reason: String| BundleError::Damaged { reason: format!("“{name}” in it {reason}") };
        let entry = self.archive.by_index(number).map_err(|error| wrong(format!("can't be read: {error}")))?;
        if !entry.is_file() {
            return Err(wrong("is no file".to_owned()));
        }
        let limit = limit.min(MOST_UNPACKED.saturating_sub(self.unpacked));
        let mut bytes = Vec::new();
        entry.take(limit + 1).read_to_end(&mut bytes).map_err(|error| wrong(format!("can't be unpacked: {error}")))?;
        if bytes.len() as u64 > limit {
            return Err(BundleError::TooMuch {
                what: format!("“{name}” in it unpacks to more than {limit} bytes")
            });
        }
        self.unpacked += bytes.len() as u64;
        Ok(Some(bytes))
    }
}

fn damaged(error: &ZipError) -> BundleError {
    BundleError::Damaged { reason: format!("it is no bundle, or a damaged one: {error}") }
}

/// What stands before every name: nothing, or the one folder that holds the design.
fn root(names: &BTreeMap<String, usize>, design: &str) -> Option<String> {
    if names.contains_key(design) {
        return Some(String::new());
    }
    let end = format!("/{design}");
    let folder = |name: &str| name.strip_suffix(&end).filter(|folder| !folder.contains('/')).map(|it| format!("{it}/"));
    let mut found = names.keys().filter_map(|name| folder(name));
    found.next().filter(|_| found.next().is_none())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files() -> Vec<PackFile> {
        [("cake.toml", "title = 'a'"), ("art/waves.svg", "<svg/>")].map(|(a, b)| (a.to_owned(), b.into())).to_vec()
    }

    #[test]
    fn what_goes_in_comes_out_and_repeats_itself() {
        let bytes = bundle(&files()).unwrap();
        assert_eq!(bytes, bundle(&files()).unwrap());
        let mut opened = Bundle::open(&bytes, "cake.toml").unwrap();
        for (name, content) in files() {
            assert_eq!(opened.take(&name, 100).unwrap(), Some(content));
        }
        assert_eq!(opened.take("art/none.svg", 100).unwrap(), None);
    }

    #[test]
    fn a_folder_round_everything_is_looked_through() {
        let wrapped: Vec<PackFile> =
            files().into_iter().map(|(name, bytes)| (format!("my cake/{name}"), bytes)).collect();
        let bytes = bundle(&wrapped).unwrap();
        let mut opened = Bundle::open(&bytes, "cake.toml").unwrap();
        assert!(opened.take("art/waves.svg", 100).unwrap().is_some());
        let deeper: Vec<PackFile> = files().into_iter().map(|(name, bytes)| (format!("a/b/{name}"), bytes)).collect();
        assert!(matches!(Bundle::open(&bundle(&deeper).unwrap(), "cake.toml"), Err(BundleError::NoDesign)));
    }

    #[test]
    fn bombs_and_wrecks_are_refused() {
        let large = vec![("cake.toml".to_owned(), vec![0; 4 << 20])];
        let bytes = bundle(&large).unwrap();
        assert!(bytes.len() < 1 << 14);
        let mut opened = Bundle::open(&bytes, "cake.toml").unwrap();
        let said = opened.take("cake.toml", 1 << 20).unwrap_err().to_string();
        assert!(said.contains("more than 1048576 bytes"), "{said}");
        let many: Vec<PackFile> = (0..=MOST_ENTRIES).map(|number| (format!("{number}"), Vec::new())).collect();
        assert!(matches!(Bundle::open(&bundle(&many).unwrap(), "cake.toml"), Err(BundleError::TooMuch { .. })));
        let good = bundle(&files()).unwrap();
        for length in 0..good.len() {
            assert!(Bundle::open(&good[..length], "cake.toml").is_err(), "{length}");
        }
        for place in 0..good.len() {
            // Whatever a broken byte does, it is told or harmless, and never a panic.
            let mut broken = good.clone();
            broken[place] ^= 0x5a;
            if let Ok(mut opened) = Bundle::open(&broken, "cake.toml") {
                let _ = opened.take("cake.toml", 100);
            }
        }
    }
}
