//! Pictures in the making: frames come off the device in the order they were drawn, one behind, and are added up to pictures.
//!
//! So the device draws a frame while the one before is fetched and added, and the next prepared.

use std::collections::VecDeque;

use bevy::app::App;
use bevy::asset::Handle;
use bevy::image::Image;

use super::average::{Sum, over};
use super::backdrop::Backdrop;
use super::error::StillError;
use super::grab::{Coming, Tray};
use super::stage::Stage;
use super::tiles::Tile;
use crate::art::Picture;
use crate::proof::view::Camera;

/// Frames that the device may be given before the first of them is fetched.
const AHEAD: usize = 2;

/// Pictures in the making.
#[derive(Default)]
pub(super) struct Line {
    pictures: Vec<(Picture, Backdrop)>,
    coming: VecDeque<Frame>,
    /// The frames of a tile that have come.
    sum: Option<Sum>,
    trays: Vec<Tray>,
}

/// A frame that is asked for: of which picture, of which tile, and whether it is the tile's last.
struct Frame {
    picture: usize,
    tile: Tile,
    is_last: bool,
    coming: Coming,
}

impl Line {
    /// Begins another picture, empty yet.
    pub fn begin(&mut self, stage: &Stage, camera: &Camera) {
        let picture = Picture::filled(camera.size.0, camera.size.1, [0, 0, 0, 255]);
        self.pictures.push((picture, Backdrop::new(stage.backdrop, camera.size)));
    }

    /// Takes what was just drawn as the next frame of the picture begun last.
    pub fn add(&mut self, app: &App, target: &Handle<Image>, (tile, is_last): (Tile, bool)) -> Result<(), StillError> {
        let size = (tile.width, tile.height);
        self.trays.retain(|tray| tray.size() == size);
        let tray = self.trays.pop().unwrap_or_else(|| Tray::new(app, size));
        let picture = self.pictures.len().saturating_sub(1);
        self.coming.push_back(Frame { picture, tile, is_last, coming: tray.ask(app, target)? });
        if self.coming.len() < AHEAD { Ok(()) } else { self.fetch(app) }
    }

    /// Every picture, once the last frame has come.
    pub fn finish(mut self, app: &App) -> Result<Vec<Picture>, StillError> {
        while !self.coming.is_empty() {
            self.fetch(app)?;
        }
        Ok(self.pictures.into_iter().map(|(picture, _)| picture).collect())
    }

    fn fetch(&mut self, app: &App) -> Result<(), StillError> {
        let Some(Frame { picture, tile, is_last, coming }) = self.coming.pop_front() else { return Ok(()) };
        let mut sum = self.sum.take().unwrap_or_else(|| Sum::new(tile.width, tile.height));
        self.trays.push(coming.receive(app, &mut sum)?);
        if !is_last {
            self.sum = Some(sum);
        } else if let Some((picture, backdrop)) = self.pictures.get_mut(picture) {
            paste(picture, &sum, tile, backdrop);
        }
        Ok(())
    }
}

/// Puts a finished tile into the picture.
fn paste(picture: &mut Picture, sum: &Sum, tile: Tile, backdrop: &Backdrop) {
    let stride = picture.width as usize * 4;
    for (row, line) in
        picture.rgba.chunks_exact_mut(stride).enumerate().skip(tile.y as usize).take(tile.height as usize)
    {
        let y = row as u32;
        let pixels = line.as_chunks_mut::<4>().0.iter_mut().skip(tile.x as usize);
        for ((x, pixel), mean) in (tile.x..).zip(pixels).zip(sum.row(y - tile.y)) {
            *pixel = over(mean, backdrop.at(x, y), (x, y));
        }
    }
}
