//! The binary part of a GLB and its container (glTF 2.0 specification, 4.4 "Binary glTF Layout").

use gltf_json::buffer::{Target, View};
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Buffer, Index, Root};

use crate::packs::PackError;

const FILE: &str = "cake.glb";
const TOO_LARGE: PackError = PackError::TooLarge { file: FILE, limit: "4 GiB" };

/// The one buffer of the file; every view in it starts on a multiple of four.
#[derive(Default)]
pub(super) struct Store {
    bytes: Vec<u8>,
}

impl Store {
    /// Adds bytes and gives the view of them. Vertex data and indices say so by `target`; pictures have none.
    pub(super) fn view(&mut self, root: &mut Root, bytes: &[u8], target: Option<Target>) -> Index<View> {
        pad(&mut self.bytes, 0);
        let start = self.bytes.len();
        self.bytes.extend_from_slice(bytes);
        root.push(View {
            buffer: Index::new(0),
            byte_length: USize64::from(bytes.len()),
            byte_offset: Some(USize64::from(start)),
            byte_stride: None,
            name: None,
            target: target.map(Checked::Valid),
            extensions: None,
            extras: None,
        })
    }

    /// Header, JSON chunk padded with spaces, binary chunk padded with zeros; lengths little-endian.
    pub(super) fn into_glb(mut self, mut root: Root) -> Result<Vec<u8>, PackError> {
        pad(&mut self.bytes, 0);
        if !self.bytes.is_empty() {
            root.buffers.push(Buffer {
                byte_length: USize64::from(self.bytes.len()),
                name: None,
                uri: None,
                extensions: None,
                extras: None,
            });
        }
        let mut json = root.to_vec().map_err(|error| PackError::Writer { file: FILE, reason: error.to_string() })?;
        pad(&mut json, b' ');
        let mut chunks = chunk(b"JSON", &json)?;
        if !self.bytes.is_empty() {
            chunks.extend(chunk(b"BIN\0", &self.bytes)?);
        }
        let length = u32::try_from(chunks.len() + 12).map_err(|_| TOO_LARGE)?;
        let mut file = b"glTF\x02\0\0\0".to_vec();
        file.extend(length.to_le_bytes());
        file.append(&mut chunks);
        Ok(file)
    }
}

fn pad(bytes: &mut Vec<u8>, with: u8) {
    bytes.resize(bytes.len().next_multiple_of(4), with);
}

fn chunk(kind: &[u8; 4], bytes: &[u8]) -> Result<Vec<u8>, PackError> {
    let length = u32::try_from(bytes.len()).map_err(|_| TOO_LARGE)?;
    Ok([&length.to_le_bytes()[..], kind, bytes].concat())
}
