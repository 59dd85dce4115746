//! Reads frames back from the device, while it draws the next.

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
use std::sync::mpsc::{Receiver, channel};
use wgpu::{BufferAsyncError, SubmissionIndex};

use super::average::Sum;
use super::error::StillError;

/// Bytes of a pixel of half floats.
const PIXEL: u32 = 8;

/// A buffer that a frame of one size is read through.
pub(super) struct Tray {
    buffer: Buffer,
    /// Bytes of a row, padding included.
    stride: u32,
    size: (u32, u32),
}

/// A frame on its way into its tray.
pub(super) struct Coming {
    tray: Tray,
    submission: SubmissionIndex,
    mapped: Receiver<Result<(), BufferAsyncError>>,
}

impl Tray {
    pub(super) fn new(app: &App, (width, height): (u32, u32)) -> Self {
        let stride = RenderDevice::align_copy_bytes_per_row((width * PIXEL) as usize) as u32;
        let buffer = app.world().resource::<RenderDevice>().create_buffer(&BufferDescriptor {
            label: Some("still"),
            size: u64::from(stride) * u64::from(height),
            usage: BufferUsages::MAP_READ | BufferUsages::COPY_DST,
            mapped_at_creation: false,
        });
        Self { buffer, stride, size: (width, height) }
    }

    /// The size of the frames that it holds, px.
    pub(super) const fn size(&self) -> (u32, u32) {
        self.size
    }

    /// Asks for what was drawn into `target` last. The device is not waited for: it may be given the next frame meanwhile.
    pub(super) fn ask(self, app: &App, target: &Handle<Image>) -> Result<Coming, StillError> {
        let world = app.sub_app(RenderApp).world();
        let device = world.resource::<RenderDevice>();
        let drawn = world.resource::<RenderAssets<GpuImage>>().get(target);
        let texture = &drawn.ok_or_else(|| StillError::lost(&"the picture was never made"))?.texture;
        let mut copy = device.create_command_encoder(&CommandEncoderDescriptor::default());
        let layout = TexelCopyBufferLayout { offset: 0, bytes_per_row: Some(self.stride), rows_per_image: None };
        let into = TexelCopyBufferInfo { buffer: &self.buffer, layout };
        copy.copy_texture_to_buffer(texture.as_image_copy(), into, texture.size());
        let submission = world.resource::<RenderQueue>().submit([copy.finish()]);
        let (sender, mapped) = channel();
        device.map_buffer(&self.buffer.slice(..), MapMode::Read, move |outcome| {
            // Whoever called the picture off is not there to hear of it.
            let _ = sender.send(outcome);
        });
        Ok(Coming { tray: self, submission, mapped })
    }
}

impl Coming {
    /// Adds the frame to `sum`, and gives its tray back; waits until the device has finished it.
    pub(super) fn receive(self, app: &App, sum: &mut Sum) -> Result<Tray, StillError> {
        let Self { tray, submission, mapped } = self;
        let device = app.sub_app(RenderApp).world().resource::<RenderDevice>();
        let until = PollType::Wait { submission_index: Some(submission), timeout: None };
        device.poll(until).map_err(|error| StillError::lost(&error))?;
        mapped.recv().map_err(|error| StillError::lost(&error))?.map_err(|error| StillError::lost(&error))?;
        sum.add(&tray.buffer.slice(..).get_mapped_range(), tray.stride as usize);
        tray.buffer.unmap();
        Ok(tray)
    }
}
