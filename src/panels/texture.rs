//! Pictures on the graphics device.

use egui::{ColorImage, Context, TextureHandle, TextureOptions};

use crate::art::Picture;

/// Puts a picture on the device, in fewer pixels where it takes no side so long.
pub fn texture(context: &Context, name: &str, (picture, options): (&Picture, TextureOptions)) -> TextureHandle {
    let most = context.input(|input| input.max_texture_side);
    let picture = picture.at_most(u32::try_from(most).unwrap_or(u32::MAX));
    let size = [picture.width as usize, picture.height as usize];
    context.load_texture(name, ColorImage::from_rgba_unmultiplied(size, &picture.rgba), options)
}
