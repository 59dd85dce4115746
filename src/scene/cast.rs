//! Puts the bodies, the table and the lamps on the engine's stage.

use std::collections::HashMap;
use std::sync::Arc;

use bevy::asset::{Assets, Handle};
use bevy::camera::visibility::NoFrustumCulling;
use bevy::ecs::entity::Entity;
use bevy::ecs::world::World;
use bevy::image::Image;
use bevy::light::NotShadowCaster;
use bevy::math::{Mat4, Vec4};
use bevy::mesh::{Mesh as EngineMesh, Mesh3d};
use bevy::pbr::MeshMaterial3d;
use bevy::transform::components::Transform;
use glam::{DAffine3, DVec2, DVec3};

use crate::art::{Colour, Picture};
use crate::cake::{Body, Surface};
use crate::design::Look;
use crate::shapes::Mesh;

use super::Stage;
use super::lens::{SCENE_PER_MM, place};
use super::materials::{Finish, Table};
use super::mesh::engine_mesh;
use super::texture::engine_image;

/// What equal surfaces share.
type SurfaceKey = (Colour, Look, Option<usize>);

/// Everything that was put on the stage, by equality.
#[derive(Default)]
pub(super) struct Cast {
    meshes: HashMap<usize, Option<Handle<EngineMesh>>>,
    images: HashMap<(usize, Colour), Option<Handle<Image>>>,
    finishes: HashMap<SurfaceKey, Handle<Finish>>,
    /// Longest side of a picture on the device, px.
    most: u32,
}

impl Cast {
    /// Puts all bodies on the stage; no picture gets a side longer than `most` px.
    pub(super) fn of(stage: &Stage, world: &mut World, most: u32) -> Self {
        let mut cast = Self { most, ..Self::default() };
        for body in &stage.bodies {
            cast.enter(body, world);
        }
        cast
    }

    fn enter(&mut self, body: &Body, world: &mut World) {
        let Some(mesh) = self.mesh(&body.mesh, world) else { return };
        let finish = self.finish(&body.surface, world);
        world.spawn((Mesh3d(mesh), MeshMaterial3d(finish), transform(&body.pose)));
    }

    fn mesh(&mut self, mesh: &Arc<Mesh>, world: &mut World) -> Option<Handle<EngineMesh>> {
        let made = || engine_mesh(mesh).map(|made| world.resource_mut::<Assets<EngineMesh>>().add(made));
        self.meshes.entry(Arc::as_ptr(mesh).addr()).or_insert_with(made).clone()
    }

    fn finish(&mut self, surface: &Surface, world: &mut World) -> Handle<Finish> {
        let print = surface.picture.as_ref();
        let picture = print.and_then(|print| self.image(print, surface.colour, world));
        let key = (surface.colour, surface.look, print.map(|print| Arc::as_ptr(print).addr()));
        let made = || world.resource_mut::<Assets<Finish>>().add(Finish::new(surface.colour, surface.look, picture));
        self.finishes.entry(key).or_insert_with(made).clone()
    }

    fn image(&mut self, print: &Arc<Picture>, under: Colour, world: &mut World) -> Option<Handle<Image>> {
        let made = || engine_image(print, under, self.most).map(|made| world.resource_mut::<Assets<Image>>().add(made));
        self.images.entry((Arc::as_ptr(print).addr(), under)).or_insert_with(made).clone()
    }

    /// The meshes that must be drawn.
    pub(super) fn meshes(&self) -> impl Iterator<Item = &Handle<EngineMesh>> {
        self.meshes.values().flatten()
    }

    /// The pictures that must be drawn.
    pub(super) fn images(&self) -> impl Iterator<Item = &Handle<Image>> {
        self.images.values().flatten()
    }

    /// The finishes that must be drawn.
    pub(super) fn finishes(&self) -> impl Iterator<Item = &Handle<Finish>> {
        self.finishes.values()
    }
}

/// The table: a square that reaches to where its shadow has faded.
pub(super) fn lay_table(world: &mut World) -> (Handle<Table>, Entity) {
    let mut square = Mesh::default();
    let corners = [(-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)]
        .map(|(x, z)| square.corner(DVec3::new(x, 0.0, z) / SCENE_PER_MM, DVec3::Y, DVec2::ZERO));
    square.patch(corners);
    let mesh = engine_mesh(&square).map(|made| world.resource_mut::<Assets<EngineMesh>>().add(made));
    let table = world.resource_mut::<Assets<Table>>().add(Table { values: Vec4::ONE });
    let body = (Mesh3d(mesh.unwrap_or_default()), MeshMaterial3d(table.clone()), Transform::IDENTITY);
    (table, world.spawn((body, NotShadowCaster, NoFrustumCulling)).id())
}

/// A body's pose (mm) in scene units.
fn transform(pose: &DAffine3) -> Transform {
    let turn = pose.matrix3.as_mat3();
    Transform::from_matrix(Mat4::from_mat3_translation(turn, place(pose.translation)))
}
