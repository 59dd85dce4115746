//! The marker: which files of a folder this program wrote, and what it wrote.
//!
//! A text of lines, `sha256 in hexadecimal`, two spaces, `name`, in the order of the names: what `sha256sum` prints. A
//! file is this program's own when it is listed and still has the bytes that were written; so a file that somebody made
//! or changed by hand is never taken for one of ours, whatever it is called and whatever format it has.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use sha2::{Digest, Sha256};

use super::read::read_bounded;

/// Name of the marker.
pub const MARKER: &str = ".tierproof";

/// A marker larger than this is not one.
const LARGEST: u64 = 1 << 20;

/// What the marker of a folder says: name → digest. A marker that can't be read says nothing, so nothing is overwritten.
pub(super) fn listed(folder: &Path) -> BTreeMap<String, String> {
    let bytes = read_bounded(&folder.join(MARKER), LARGEST).unwrap_or_default();
    let text = String::from_utf8(bytes).unwrap_or_default();
    let lines = text.lines().filter_map(|line| line.split_once("  "));
    lines.map(|(digest, name)| (name.to_owned(), digest.to_owned())).collect()
}

/// Names of the files of a folder that this program wrote, as its marker lists them; in order.
#[must_use]
pub fn ours(folder: &Path) -> Vec<String> {
    listed(folder).into_keys().filter(|name| !name.contains(['/', '\\'])).collect()
}

/// The text of a marker.
pub(super) fn text(listed: &BTreeMap<String, String>) -> String {
    listed.iter().map(|(name, digest)| format!("{digest}  {name}\n")).collect()
}

/// The digest of bytes: SHA-256 in hexadecimal.
#[must_use]
pub fn digest(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// The digest of a file of any size.
pub(super) fn digest_of_file(path: &Path) -> io::Result<String> {
    let mut file = File::open(path)?;
    let mut sum = Sha256::new();
    let mut part = vec![0; 1 << 16];
    loop {
        let count = file.read(&mut part)?;
        match part.get(..count) {
            Some(bytes) if count > 0 => sum.update(bytes),
            _ => return Ok(hexadecimal(&sum.finalize())),
        }
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
