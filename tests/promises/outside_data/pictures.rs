//! Pictures of every make, as we read them: width and height (little-endian), then straight RGBA.

use std::fs;
use std::path::Path;

use tierproof::art::read_raster;

use super::{folder, save_bytes};

#[test]
fn pictures_of_every_make() {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/promises/pictures");
    let written = folder("pictures");
    for path in fs::read_dir(fixtures).expect("fixtures").map(|entry| entry.expect("entry").path()) {
        let name = path.file_name().expect("name").to_string_lossy().into_owned();
        if let Ok(picture) = read_raster(&fs::read(&path).expect("bytes"), &name) {
            let size = [picture.width, picture.height].map(u32::to_le_bytes).concat();
            save_bytes(&written, &format!("{name}.rgba"), &[size, picture.rgba].concat());
        }
    }
}
