//! Reads a frame back from the device.

use bevy::app::App;
use bevy::asset::Handle;
use bevy::image::Image;
use bevy::render::RenderApp;
use bevy::render::render_asset::RenderAssets;
use bevy::render::render_resource::{
    Buffer, BufferDescriptor, BufferUsages, CommandEncoderDescriptor, MapMode, PollType, TexelCopyBufferInfo,
    TexelCopyBufferLayout,
};
use bevy::render::renderer::{RenderDevice, RenderQueue};
use bevy::render::texture::GpuImage;
use std::sync::mpsc::channel;

use super::average::Sum;
use crate::scene::error::StillError;

/// Bytes of a pixel of half floats.
const PIXEL: u32 = 8;

/// A buffer that a frame of one size is read through.
pub(super) struct Tray {
    buffer: Buffer,
    /// Bytes of a row, padding included.
    stride: u32,
}

impl Tray {
    pub(super) fn new(app: &App, width: u32, height: u32) -> Self {
        let stride = RenderDevice::align_copy_bytes_per_row((width * PIXEL) as usize) as u32;
        let buffer = app.world().resource::<RenderDevice>().create_buffer(&BufferDescriptor {
            label: Some("still"),
            size: u64::from(stride) * u64::from(height),
            usage: BufferUsages::MAP_READ | BufferUsages::COPY_DST,
            mapped_at_creation: false,
        });
        Self { buffer, stride }
    }

    /// Adds what was drawn into `target` last to `sum`; waits until the device has finished it.
    pub(super) fn fetch(&self, app: &App, target: &Handle<Image>, sum: &mut Sum) -> Result<(), StillError> {
        let world = app.sub_app(RenderApp).world();
        let device = world.resource::<RenderDevice>();
        let drawn = world.resource::<RenderAssets<GpuImage>>().get(target);
        let texture = &drawn.ok_or_else(|| StillError::lost(&"the picture was never made"))?.texture;
        let mut copy = device.create_command_encoder(&CommandEncoderDescriptor::default());
        let layout = TexelCopyBufferLayout { offset: 0, bytes_per_row: Some(self.stride), rows_per_image: None };
        let into = TexelCopyBufferInfo { buffer: &self.buffer, layout };
        copy.copy_texture_to_buffer(texture.as_image_copy(), into, texture.size());
        world.resource::<RenderQueue>().submit([copy.finish()]);
        let slice = self.buffer.slice(..);
        let (sender, receiver) = channel();
        device.map_buffer(&slice, MapMode::Read, move |outcome| {
            // The receiver waits below; it can't be gone.
            let _ = sender.send(outcome);
        });
        device.poll(PollType::wait_indefinitely()).map_err(|error| StillError::lost(&error))?;
        receiver.recv().map_err(|error| StillError::lost(&error))?.map_err(|error| StillError::lost(&error))?;
        sum.add(&slice.get_mapped_range(), self.stride as usize);
        self.buffer.unmap();
        Ok(())
    }
}
