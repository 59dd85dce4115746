//! Puts the bodies, the table and the lamps on the engine's stage.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use bevy::asset::{Assets, Handle};
use bevy::camera::primitives::Aabb;
use bevy::camera::visibility::{NoFrustumCulling, RenderLayers};
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

use super::coarse::{Grain, Print, coarser};
use super::lens::{SCENE_PER_MM, place};
use super::materials::{Finish, Table};
use super::mesh::engine_mesh;
use super::texture::engine_image;

/// Sides of the table, which is round.
const TABLE_SIDES: u32 = 64;

/// What equal surfaces share.
type SurfaceKey = (Colour, Look, Option<usize>);

/// Something of the cake with what the engine made of it.
type Shared<T, E> = (Arc<T>, Option<Handle<E>>);

/// Everything that is on the stage, by equality.
///
/// What is shared is told by its place in memory; its owner is kept with it, so that nothing else takes that place meanwhile.
#[derive(Default)]
pub(in crate::scene) struct Cast {
    actors: Vec<Actor>,
    /// How finely bodies are seen, and how finely they throw shadows.
    grains: (Grain, Grain),
    meshes: HashMap<(usize, Print, Grain), Shared<Mesh, EngineMesh>>,
    images: HashMap<(usize, Colour), Shared<Picture, Image>>,
    finishes: HashMap<SurfaceKey, Handle<Finish>>,
    /// Longest side of a picture on the device, px.
    most: u32,
}

/// A body on the stage.
struct Actor {
    /// What is seen.
    entity: Entity,
    /// What throws its shadow, where that is something else.
    double: Option<Entity>,
    mesh: usize,
    finish: SurfaceKey,
    pose: DAffine3,
}

impl Cast {
    /// An empty stage; no picture gets a side longer than `most` px.
    pub(super) fn new(most: u32) -> Self {
        Self { most, ..Self::default() }
    }

    /// Puts these bodies on the stage instead of those there, seen and throwing shadows in these grains: what is as it was stays
    /// untouched.
    pub(super) fn follow(&mut self, bodies: &[Body], grains: (Grain, Grain), world: &mut World) {
        if self.grains != grains {
            self.grains = grains;
            self.meshes.clear();
            self.actors.drain(..).for_each(|gone| gone.leave(world));
        }
        let mut count = 0;
        let mut are_same = true;
        for body in bodies {
            let key = (Arc::as_ptr(&body.mesh).addr(), surface_key(&body.surface));
            if let Some(actor) = self.actors.get_mut(count).filter(|actor| (actor.mesh, actor.finish) == key) {
                actor.stand(body.pose, world);
                count += 1;
                continue;
            }
            are_same = false;
            let Some(form) = self.form(body, world) else { continue };
            let finish = self.finish(&body.surface, world);
            let look = ((key.0, form), (key.1, finish));
            match self.actors.get_mut(count) {
                Some(actor) => actor.play(body, look, world),
                None => self.actors.push(Actor::enter(body, look, world)),
            }
            count += 1;
        }
        for gone in self.actors.drain(count.min(self.actors.len())..) {
            are_same = false;
            gone.leave(world);
        }
        if !are_same {
            self.forget();
        }
    }

    /// Lets go of what no body needs any more.
    fn forget(&mut self) {
        let meshes: HashSet<usize> = self.actors.iter().map(|actor| actor.mesh).collect();
        let finishes: HashSet<SurfaceKey> = self.actors.iter().map(|actor| actor.finish).collect();
        let images: HashSet<(usize, Colour)> =
            finishes.iter().filter_map(|&(colour, _, picture)| Some((picture?, colour))).collect();
        self.meshes.retain(|(key, ..), _| meshes.contains(key));
        self.finishes.retain(|key, _| finishes.contains(key));
        self.images.retain(|key, _| images.contains(key));
    }

    fn form(&mut self, body: &Body, world: &mut World) -> Option<Form> {
        let (seen, thrown) = self.grains;
        let print = if body.surface.picture.is_some() { Print::Lies } else { Print::None };
        // A shadow shows nothing of a print.
        let throws = if seen == thrown { None } else { Some(self.mesh(&body.mesh, (Print::None, thrown), world)?) };
        Some(Form { seen: self.mesh(&body.mesh, (print, seen), world)?, throws })
    }

    fn mesh(
        &mut self,
        mesh: &Arc<Mesh>,
        (print, grain): (Print, Grain),
        world: &mut World,
    ) -> Option<Handle<EngineMesh>> {
        let made = || {
            let coarser = coarser(mesh, print, grain);
            let made = engine_mesh(coarser.as_ref().unwrap_or(mesh));
            (Arc::clone(mesh), made.map(|made| world.resource_mut::<Assets<EngineMesh>>().add(made)))
        };
        self.meshes.entry((Arc::as_ptr(mesh).addr(), print, grain)).or_insert_with(made).1.clone()
    }

    fn finish(&mut self, surface: &Surface, world: &mut World) -> Handle<Finish> {
        if let Some(known) = self.finishes.get(&surface_key(surface)) {
            return known.clone();
        }
        let print = surface.picture.as_ref();
        let picture = print.and_then(|print| self.image(print, surface.colour, world));
        let made = world.resource_mut::<Assets<Finish>>().add(Finish::new(surface.colour, surface.look, picture));
        self.finishes.insert(surface_key(surface), made.clone());
        made
    }

    fn image(&mut self, print: &Arc<Picture>, under: Colour, world: &mut World) -> Option<Handle<Image>> {
        let made = || {
            let made = engine_image(print, under, self.most);
            (Arc::clone(print), made.map(|made| world.resource_mut::<Assets<Image>>().add(made)))
        };
        self.images.entry((Arc::as_ptr(print).addr(), under)).or_insert_with(made).1.clone()
    }

    /// The meshes that must be drawn.
    pub(in crate::scene) fn meshes(&self) -> impl Iterator<Item = &Handle<EngineMesh>> {
        self.meshes.values().filter_map(|(_, made)| made.as_ref())
    }

    /// The pictures that must be drawn.
    pub(in crate::scene) fn images(&self) -> impl Iterator<Item = &Handle<Image>> {
        self.images.values().filter_map(|(_, made)| made.as_ref())
    }

    /// The finishes that must be drawn.
    pub(in crate::scene) fn finishes(&self) -> impl Iterator<Item = &Handle<Finish>> {
        self.finishes.values()
    }
}

/// The layer of what only throws shadows; what is seen is on the engine's own first one.
pub(super) const SHADOWS_ONLY: usize = 1;

/// The triangles of a body: those that are seen, and those that throw its shadow where they are others.
struct Form {
    seen: Handle<EngineMesh>,
    throws: Option<Handle<EngineMesh>>,
}

/// A form and a finish, each with what it is told by.
type Appearance = ((usize, Form), (SurfaceKey, Handle<Finish>));

impl Actor {
    /// New entities for a body.
    fn enter(body: &Body, ((mesh, form), (finish, paint)): Appearance, world: &mut World) -> Self {
        let stand = transform(&body.pose);
        let entity = world.spawn((Mesh3d(form.seen), MeshMaterial3d(paint.clone()), stand)).id();
        let double = form.throws.map(|throws| {
            world.entity_mut(entity).insert(NotShadowCaster);
            world.spawn((Mesh3d(throws), MeshMaterial3d(paint), stand, RenderLayers::layer(SHADOWS_ONLY))).id()
        });
        Self { entity, double, mesh, finish, pose: body.pose }
    }

    /// The same entities as another body.
    fn play(&mut self, body: &Body, ((mesh, form), (finish, paint)): Appearance, world: &mut World) {
        for (entity, form) in [(Some(self.entity), Some(form.seen)), (self.double, form.throws)] {
            let Some(mut entity) = entity.map(|entity| world.entity_mut(entity)) else { continue };
            if let Some(form) = form.filter(|_| self.mesh != mesh) {
                // The box round the old form would hide the new one where it reaches beyond.
                entity.remove::<Aabb>().insert(Mesh3d(form));
            }
            if self.finish != finish {
                entity.insert(MeshMaterial3d(paint.clone()));
            }
        }
        (self.mesh, self.finish) = (mesh, finish);
        self.stand(body.pose, world);
    }

    /// The same body elsewhere.
    fn stand(&mut self, pose: DAffine3, world: &mut World) {
        if self.pose != pose {
            self.pose = pose;
            self.entities().for_each(|entity| {
                world.entity_mut(entity).insert(transform(&pose));
            });
        }
    }

    /// Off the stage.
    fn leave(self, world: &mut World) {
        self.entities().for_each(|entity| {
            world.despawn(entity);
        });
    }

    fn entities(&self) -> impl Iterator<Item = Entity> + use<> {
        [Some(self.entity), self.double].into_iter().flatten()
    }
}

fn surface_key(surface: &Surface) -> SurfaceKey {
    (surface.colour, surface.look, surface.picture.as_ref().map(|print| Arc::as_ptr(print).addr()))
}

/// The table: a round one that reaches to where its shadow has faded.
pub(super) fn lay_table(world: &mut World) -> (Handle<Table>, Entity) {
    let mut disc = Mesh::default();
    let mut corner = |at: DVec3| disc.corner(at / SCENE_PER_MM, DVec3::Y, DVec2::ZERO);
    let middle = corner(DVec3::ZERO);
    let rim: Vec<u32> = (0..TABLE_SIDES)
        .map(|number| {
            let (sin, cos) = (f64::from(number) * std::f64::consts::TAU / f64::from(TABLE_SIDES)).sin_cos();
            corner(DVec3::new(sin, 0.0, cos))
        })
        .collect();
    for (&from, &to) in rim.iter().zip(rim.iter().cycle().skip(1)) {
        disc.triangle(middle, from, to);
    }
    let mesh = engine_mesh(&disc).map(|made| world.resource_mut::<Assets<EngineMesh>>().add(made));
    let table = world.resource_mut::<Assets<Table>>().add(Table { values: Vec4::ONE });
    let body = (Mesh3d(mesh.unwrap_or_default()), MeshMaterial3d(table.clone()), Transform::IDENTITY);
    (table, world.spawn((body, NotShadowCaster, NoFrustumCulling)).id())
}

/// A body's pose (mm) in scene units.
fn transform(pose: &DAffine3) -> Transform {
    let turn = pose.matrix3.as_mat3();
    Transform::from_matrix(Mat4::from_mat3_translation(turn, place(pose.translation)))
}
