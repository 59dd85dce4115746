//! What is painted where the cake is: the backdrop, the moving picture over it, and the still once it is there.

use std::sync::Arc;

use bevy::asset::Handle;
use bevy::image::Image;
use bevy_egui::{EguiTextureHandle, EguiUserTextures};
use egui::{Color32, Rect, TextureHandle, TextureId, TextureOptions, Ui, pos2};

use super::hand::Hand;
use super::open::Open;
use super::view::Seen;
use crate::panels::texture;
use crate::proof::view::Camera;
use crate::scene::{Backdrop, Darkroom, Live, Stage};

/// What was shown last, and what is to be shown when nothing moves.
#[derive(Default)]
pub(super) struct Album {
    backdrop: Option<((u32, u32), TextureHandle)>,
    still: Option<(Shown, TextureHandle)>,
    /// What was shown in the frame before.
    last: Option<Shown>,
    /// The still that was asked for.
    asked: Option<(u64, Shown)>,
    /// Where the moving picture was drawn last.
    live: Option<Handle<Image>>,
    darkroom: Option<Darkroom>,
    /// Whether this frame showed something else than the one before.
    has_moved: bool,
    /// Why no still could be taken; told once.
    pub trouble: Option<String>,
}

/// What a picture shows, to be compared.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Shown {
    /// Which design, and the how-manieth state of it.
    stage: (u32, u64),
    camera: Camera,
}

impl Album {
    pub(super) fn with(darkroom: Option<Darkroom>) -> Self {
        Self { darkroom, ..Self::default() }
    }

    /// Whether what is shown may not be at rest yet.
    pub(super) const fn is_moving(&self) -> bool {
        self.has_moved
    }
}

/// The pictures with what draws them.
pub(super) struct Pictures<'a> {
    pub album: &'a mut Album,
    pub live: &'a mut Live,
    pub textures: &'a mut EguiUserTextures,
}

impl Pictures<'_> {
    /// Paints the cake: its still when there is one of just this, else the moving picture.
    pub(super) fn show(&mut self, ui: &Ui, open: &Open, seen: &Seen) {
        let now = Shown { stage: (open.number, open.followed.number), camera: seen.camera };
        let was = self.album.last.replace(now);
        self.album.has_moved = was != Some(now);
        if was.is_none_or(|was| was.stage != now.stage) {
            self.live.show(Arc::clone(&open.followed.stage));
        }
        self.take_still(ui);
        let is_still = self.album.still.as_ref().is_some_and(|(shown, _)| *shown == now);
        if let Some((_, still)) = self.album.still.as_ref().filter(|_| is_still) {
            paint(ui, still.id(), seen.rect);
            return;
        }
        self.album.still = None;
        self.live.look(seen.camera);
        self.paint_moving(ui, seen);
        let is_at_rest = was == Some(now) && matches!(open.hand, Hand::Free | Hand::Lost);
        self.ask(is_at_rest.then_some(now), open);
    }

    /// Asks for the still of what is at rest, once; calls off that of anything else.
    fn ask(&mut self, wanted: Option<Shown>, open: &Open) {
        let Some(darkroom) = &self.album.darkroom else { return };
        match (wanted, self.album.asked) {
            (Some(wanted), asked) if asked.is_none_or(|(_, asked)| asked != wanted) => {
                let number = darkroom.ask(&open.followed.stage, wanted.camera);
                self.album.asked = Some((number, wanted));
            }
            (None, Some(_)) => {
                darkroom.call_off();
                self.album.asked = None;
            }
            _ => {}
        }
    }

    fn take_still(&mut self, ui: &Ui) {
        let Some(photo) = self.album.darkroom.as_ref().and_then(Darkroom::take) else { return };
        let asked = self.album.asked.filter(|(number, _)| *number == photo.number);
        match (photo.picture, asked) {
            (Ok(picture), Some((_, shown))) => {
                let texture = texture(ui.ctx(), "still", (&picture, TextureOptions::NEAREST));
                self.album.still = Some((shown, texture));
            }
            (Err(error), _) => {
                // Without stills the moving picture stays; another try would fail alike.
                self.album.darkroom = None;
                self.album.trouble = Some(error.to_string());
            }
            (Ok(_), None) => {}
        }
    }

    fn paint_moving(&mut self, ui: &Ui, seen: &Seen) {
        let size = seen.camera.size;
        if self.album.backdrop.as_ref().is_none_or(|(of, _)| *of != size) {
            let picture = Backdrop::new(Stage::BACKDROP, size).picture();
            let texture = texture(ui.ctx(), "backdrop", (&picture, TextureOptions::NEAREST));
            self.album.backdrop = Some((size, texture));
        }
        if let Some((_, backdrop)) = &self.album.backdrop {
            paint(ui, backdrop.id(), seen.rect);
        }
        let picture = self.live.picture().clone();
        if let Some(old) = self.album.live.replace(picture.clone()).filter(|old| *old != picture) {
            self.textures.remove_image(&old);
        }
        let id = self.textures.image_id(&picture);
        let id = id.unwrap_or_else(|| self.textures.add_image(EguiTextureHandle::Strong(picture)));
        paint(ui, id, seen.rect);
    }
}

fn paint(ui: &Ui, texture: TextureId, rect: Rect) {
    let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    ui.painter().image(texture, rect, whole, Color32::WHITE);
}
