//! The turntable's pictures and what is drawn over them, as data in the page.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;

use crate::art::{Picture, encode_jpeg};
use crate::packs::PackError;
use crate::packs::svg::svg_marks;
use crate::proof::each::each;
use crate::proof::turntable::Turned;

/// Quality of a picture on the turntable, of 100: no block shows at arm's length, and the page stays small.
const TURNED: u8 = 80;
/// Quality of a picture that stands still.
const STILL: u8 = 86;

/// Everything that the page's script needs of the turntable.
#[derive(Serialize)]
struct Frames {
    /// Width and height of every picture, px.
    size: [u32; 2],
    /// Degrees above the horizon, one a row.
    elevations: Vec<i64>,
    /// Pictures in a row.
    steps: usize,
    /// Row after row.
    frames: Vec<Frame>,
}

#[derive(Serialize)]
struct Frame {
    jpeg: String,
    seams: String,
    sizes: String,
}

/// The turntable as JSON that can stand inside a `<script>`.
pub(super) fn frames(turned: &[Turned]) -> Result<String, PackError> {
    let elevation = |turned: &Turned| turned.shot.camera.direction.elevation.as_degrees().round() as i64;
    let mut elevations: Vec<i64> = turned.iter().map(elevation).collect();
    elevations.dedup();
    let frames = each(turned, frame).into_iter().collect::<Result<Vec<_>, _>>()?;
    let size = turned.first().map_or([1, 1], |turned| [turned.shot.picture.width, turned.shot.picture.height]);
    let steps = turned.len() / elevations.len().max(1);
    let json = serde_json::to_string(&Frames { size, elevations, steps, frames })
        .map_err(|error| PackError::Writer { file: "proof.html", reason: error.to_string() })?;
    // A `</script>` in a text would end the script; JSON may spell any character as a number.
    Ok(json.replace('<', "\\u003c"))
}

fn frame(turned: &Turned) -> Result<Frame, PackError> {
    Ok(Frame {
        jpeg: STANDARD.encode(jpeg(&turned.shot.picture, TURNED)?),
        seams: svg_marks(&turned.seams)?,
        sizes: svg_marks(&turned.sizes)?,
    })
}

/// A picture as the address of an image.
pub(super) fn still(picture: &Picture) -> Result<String, PackError> {
    Ok(format!("data:image/jpeg;base64,{}", STANDARD.encode(jpeg(picture, STILL)?)))
}

fn jpeg(picture: &Picture, quality: u8) -> Result<Vec<u8>, PackError> {
    encode_jpeg(picture, quality).map_err(|error| PackError::Writer { file: "proof.html", reason: error.to_string() })
}
