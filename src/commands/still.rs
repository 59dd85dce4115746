//! `still`: one picture.

use std::path::PathBuf;

use clap::ValueEnum;

use super::load::load;
use super::output::{Force, overwrite, say};
use super::work::{code, work};
use super::{CommandError, DesignPath};
use crate::files::{free_to_write, write_whole};
use crate::proof::view::{Camera, Direction, NAMED};

#[derive(Debug, clap::Args)]
pub(super) struct Words {
    #[command(flatten)]
    design: DesignPath,
    /// The picture to write (PNG)
    #[arg(short, long, value_name = "OUT.png")]
    output: PathBuf,
    /// customer, front, right, back, left, top, or azimuth and elevation in degrees
    #[arg(long, value_name = "NAME|AZ,EL", default_value = "customer", value_parser = direction, allow_hyphen_values = true)]
    view: Direction,
    /// Width and height in pixels, at most 8192 each
    #[arg(long, value_name = "WxH", default_value = "1600x1200", value_parser = size)]
    size: (u32, u32),
    /// Also write where the camera stood (JSON), for whoever draws over the picture
    #[arg(long, value_name = "CAMERA.json")]
    camera: Option<PathBuf>,
    /// How much work the picture is worth
    #[arg(long, value_enum, default_value_t = QualityWord::Good)]
    quality: QualityWord,
    /// Draw the seams, with their places and how well each is hidden
    #[arg(long)]
    seams: bool,
    /// Draw the sizes that matter
    #[arg(long)]
    sizes: bool,
    #[command(flatten)]
    force: Force,
}

/// How much work a picture is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum QualityWord {
    /// One frame
    Draft,
    /// Smooth edges, soft shadows
    Good,
    /// The average of many frames
    Best,
}

fn direction(word: &str) -> Result<Direction, String> {
    if let Some((_, direction)) = NAMED.iter().find(|(name, _)| *name == word) {
        return Ok(*direction);
    }
    let names = NAMED.map(|(name, _)| name).join(", ");
    let wrong = || format!("expected {names}, or two numbers of degrees such as 30,15");
    let (azimuth, elevation) = word.split_once(',').ok_or_else(wrong)?;
    let azimuth: f64 = azimuth.trim().parse().map_err(|_| wrong())?;
    let elevation: f64 = elevation.trim().parse().map_err(|_| wrong())?;
    if !azimuth.is_finite() || azimuth.abs() > 3600.0 {
        return Err(wrong());
    }
    if !(0.0..=90.0).contains(&elevation) {
        return Err("the elevation is 0 (level) to 90 (straight from above)".to_owned());
    }
    Ok(Direction::new(azimuth, elevation))
}

/// Width and height of a picture, px.
pub(super) fn size(word: &str) -> Result<(u32, u32), String> {
    let wrong = || "expected width x height in pixels, such as 1600x1200, each from 16 to 8192".to_owned();
    let (width, height) = word.split_once(['x', 'X', '×']).ok_or_else(wrong)?;
    let side = |text: &str| text.trim().parse().ok().filter(|side| (16..=8192).contains(side)).ok_or_else(wrong);
    Ok((side(width)?, side(height)?))
}

pub(super) fn run(words: &Words) -> Result<u8, CommandError> {
    let overwrite = overwrite(&words.force);
    for path in words.camera.iter().chain([&words.output]) {
        free_to_write(path, overwrite)?;
    }
    let work = work(&load(&words.design.path)?)?;
    let (png, camera) = picture(words, &work)?;
    if let Some(path) = &words.camera {
        write_whole(path, format!("{:#}\n", stand(&camera)).as_bytes(), overwrite)?;
    }
    write_whole(&words.output, &png, overwrite)?;
    say(&words.output.display().to_string())?;
    Ok(code(&work))
}

/// Where the camera stood: mm and unit vectors in the cake's frame, degrees, pixels.
fn stand(camera: &Camera) -> serde_json::Value {
    let (right, up) = camera.direction.axes();
    serde_json::json!({
        "eye": camera.eye.to_array(),
        "right": right.to_array(),
        "up": up.to_array(),
        "towards_eye": camera.direction.towards_eye().to_array(),
        "vertical_field": camera.field.as_degrees(),
        "size": [camera.size.0, camera.size.1],
    })
}

#[cfg(feature = "view")]
fn picture(words: &Words, work: &super::work::Work) -> Result<(Vec<u8>, Camera), CommandError> {
    use super::studio::{MARGIN, MARGIN_FOR_MARKS, bodies, corners, photograph, stage, with_progress};
    use crate::art::encode_png;
    use crate::proof::marks::{seam_marks, size_marks};
    use crate::proof::overlay::{Ground, overlay};
    use crate::proof::sight::Sight;
    use crate::scene::Quality;

    let quality = match words.quality {
        QualityWord::Draft => Quality::Draft,
        QualityWord::Good => Quality::Good,
        QualityWord::Best => Quality::Best,
    };
    let bodies = bodies(work, words.size)?;
    let corners = corners(&bodies);
    let margin = if words.seams || words.sizes { MARGIN_FOR_MARKS } else { MARGIN };
    let camera = Camera::framing(words.view, &corners, words.size, margin);
    let mut marks = Vec::new();
    let sight = Sight::new(if words.seams || words.sizes { &bodies } else { &[] }, &camera);
    if words.seams {
        marks.extend(seam_marks(&work.cake, (&work.plans, &work.ends), &sight));
    }
    if words.sizes {
        marks.extend(size_marks(&work.cake, &camera));
    }
    let ground = Ground { cake: &corners, sight: &sight };
    let stage = stage(&work.cake, bodies);
    let pictures = with_progress(|tell| photograph(&stage, &[(camera, quality)], tell))?;
    let pictures = pictures.iter().map(|picture| overlay(picture, &camera, &ground, &marks));
    let picture = pictures.into_iter().next().unwrap_or_default();
    let png = encode_png(&picture).map_err(|error| CommandError::Words(error.to_string()))?;
    Ok((png, camera))
}

#[cfg(not(feature = "view"))]
fn picture(words: &Words, _work: &super::work::Work) -> Result<(Vec<u8>, Camera), CommandError> {
    let _ = (&words.view, words.size, words.quality, words.seams, words.sizes);
    Err(CommandError::NoPictures)
}
