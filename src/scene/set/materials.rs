//! How surfaces take the light: one material for everything on the stage, one for the table.

use bevy::asset::{Asset, Assets, Handle, uuid_handle};
use bevy::image::Image;
use bevy::math::{Vec3, Vec4};
use bevy::mesh::MeshVertexBufferLayoutRef;
use bevy::pbr::{Material, MaterialPipeline, MaterialPipelineKey};
use bevy::reflect::TypePath;
use bevy::render::render_resource::{
    AsBindGroup, Face, RenderPipelineDescriptor, ShaderType, SpecializedMeshPipelineError,
};
use bevy::shader::{Shader, ShaderRef};

use crate::art::Colour;
use crate::design::Look;

const STUDIO_SHADER: Handle<Shader> = uuid_handle!("5f0d0f9e-2f0b-4a53-9a63-0d6f1f5f7a01");
const FINISH_SHADER: Handle<Shader> = uuid_handle!("5f0d0f9e-2f0b-4a53-9a63-0d6f1f5f7a02");
const TABLE_SHADER: Handle<Shader> = uuid_handle!("5f0d0f9e-2f0b-4a53-9a63-0d6f1f5f7a03");

/// Hands the shaders to the engine.
pub(in crate::scene) fn add_shaders(shaders: &mut Assets<Shader>) {
    let sources = [
        (STUDIO_SHADER, include_str!("shaders/studio.wgsl"), "studio.wgsl"),
        (FINISH_SHADER, include_str!("shaders/finish.wgsl"), "finish.wgsl"),
        (TABLE_SHADER, include_str!("shaders/table.wgsl"), "table.wgsl"),
    ];
    for (handle, source, name) in sources {
        // A fixed handle can't be stale, which is the only way this insertion fails.
        let _ = shaders.insert(&handle, Shader::from_wgsl(source, name));
    }
}

/// The surface of a body.
#[derive(Asset, TypePath, AsBindGroup, Clone, Debug)]
pub(in crate::scene) struct Finish {
    #[uniform(0)]
    values: FinishValues,
    #[texture(1)]
    #[sampler(2)]
    picture: Option<Handle<Image>>,
}

/// What the shader needs to know of a look.
#[derive(ShaderType, Clone, Copy, Debug, PartialEq)]
struct FinishValues {
    /// Linear light that it throws back; multiplied with the picture.
    colour: Vec3,
    /// Share of the studio it mirrors straight on.
    mirror: f32,
    /// Share of the studio it mirrors at a slant.
    edge: f32,
    /// 0: mirrors sharply, 1: not at all.
    roughness: f32,
    /// 1: mirrors in its own colour.
    metal: f32,
    /// Depth of the brush's strokes.
    brush: f32,
    /// How much it shifts between rose and green with the angle.
    lustre: f32,
    /// How much it sparkles.
    sparkle: f32,
    /// How much of the light swallowed in a crease comes back, coloured.
    glow: f32,
}

impl Finish {
    /// The finish of a colour or of a picture (which has the colour laid under it already).
    pub(super) fn new(colour: Colour, look: Look, picture: Option<Handle<Image>>) -> Self {
        let [red, green, blue] = colour.linear().map(|channel| channel as f32);
        let colour = if picture.is_some() { Vec3::ONE } else { Vec3::new(red, green, blue) };
        Self { values: FinishValues { colour, ..FinishValues::of(look) }, picture }
    }
}

impl FinishValues {
    fn of(look: Look) -> Self {
        let matte = Self {
            colour: Vec3::ONE,
            mirror: 0.0,
            edge: 0.04,
            roughness: 0.8,
            metal: 0.0,
            brush: 0.0,
            lustre: 0.0,
            sparkle: 0.0,
            glow: 0.45,
        };
        match look {
            Look::Paste => matte,
            Look::Print => Self { edge: 0.0, glow: 0.3, ..matte },
            Look::Satin => Self { mirror: 0.05, edge: 0.25, roughness: 0.42, ..matte },
            Look::Pearl => Self { mirror: 0.13, edge: 0.5, roughness: 0.3, lustre: 1.0, ..matte },
            Look::Metal => {
                Self { mirror: 0.85, edge: 0.95, roughness: 0.36, metal: 1.0, brush: 1.0, glow: 0.2, ..matte }
            }
            Look::Glitter => Self { mirror: 0.04, edge: 0.2, roughness: 0.5, sparkle: 1.0, ..matte },
        }
    }
}

impl Material for Finish {
    fn fragment_shader() -> ShaderRef {
        FINISH_SHADER.into()
    }

    fn enable_prepass() -> bool {
        true
    }

    /// Bodies are closed: what turns away from a lamp lies behind what faces it, and need not be drawn into its shadow map.
    fn specialize(
        _: &MaterialPipeline,
        descriptor: &mut RenderPipelineDescriptor,
        _: &MeshVertexBufferLayoutRef,
        _: MaterialPipelineKey<Self>,
    ) -> Result<(), SpecializedMeshPipelineError> {
        descriptor.primitive.cull_mode = Some(Face::Back);
        Ok(())
    }
}

/// The table: shows nothing but the shadow on it.
#[derive(Asset, TypePath, AsBindGroup, Clone, Debug)]
pub(in crate::scene) struct Table {
    /// Where the shadow begins to fade and where it has ended (scene units from the middle); light without a shadow.
    #[uniform(0)]
    pub values: Vec4,
}

impl Material for Table {
    fn fragment_shader() -> ShaderRef {
        TABLE_SHADER.into()
    }

    fn enable_prepass() -> bool {
        false
    }

    fn enable_shadows() -> bool {
        false
    }
}
