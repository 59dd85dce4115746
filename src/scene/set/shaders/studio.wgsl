// The light of the studio, for every surface in it. See studio.rs.
#define_import_path tierproof::studio

#import bevy_pbr::{
    mesh_view_bindings::{directional_shadow_textures, lights, view},
    shadows::world_to_directional_light_local,
}

// Light on a surface: what its lamps would give, what of it arrives, and what the table throws up.
struct Light {
    open: f32,
    arrived: f32,
    bounce: f32,
}

// Shadow maps are read this many of their pixels off the surface, so that it doesn't shade itself: as far as the reading
// reaches (a plane needs that times the sine of the light's slant), and a little.
#ifdef SHADOW_FILTER_METHOD_GAUSSIAN
const OFF_THE_SURFACE: f32 = 1.5;
#else
const OFF_THE_SURFACE: f32 = 0.9;
#endif

// Whether a place (pixels of a lamp's map, depth) is lit. Pixels are read one by one: a processor that imitates a graphics card
// takes far longer for a comparing sampler, which reads and blends four each time.
fn lit(place: vec3<f32>, map: i32) -> f32 {
#ifdef SHADOW_FILTER_METHOD_GAUSSIAN
    // Few frames: blurred between the four nearest.
    let corner = floor(place.xy - 0.5);
    let share = place.xy - 0.5 - corner;
    let upper = mix(lit_at(corner, place.z, map), lit_at(corner + vec2(1.0, 0.0), place.z, map), share.x);
    let lower = mix(lit_at(corner + vec2(0.0, 1.0), place.z, map), lit_at(corner + vec2(1.0), place.z, map), share.x);
    return mix(upper, lower, share.y);
#else
    // The lamps of many frames blur it.
    return lit_at(floor(place.xy), place.z, map);
#endif
}

fn lit_at(pixel: vec2<f32>, depth: f32, map: i32) -> f32 {
    return step(textureLoad(directional_shadow_textures, vec2<i32>(pixel), map, 0), depth);
}

fn light_on(position: vec3<f32>, normal: vec3<f32>) -> Light {
    var light = Light(0.0, 0.0, 0.0);
    for (var i = 0u; i < lights.n_directional_lights; i++) {
        let lamp = &lights.directional_lights[i];
        let towards = (*lamp).direction_to_light.xyz;
        let slant = dot(normal, towards);
        if slant <= 0.0 {
            continue;
        }
        let power = slant * (*lamp).color.r;
        light.open += power;
        let texel = (*lamp).cascades[0].texel_size;
        let off = texel * OFF_THE_SURFACE * sqrt(1.0 - slant * slant) + 0.002;
        let local = world_to_directional_light_local(i, 0u, vec4(position + normal * off, 1.0));
        if local.w == 0.0 {
            light.arrived += power;
            continue;
        }
        let place = vec3(local.xy * vec2<f32>(textureDimensions(directional_shadow_textures)), local.z);
        light.arrived += power * lit(place, i32((*lamp).depth_texture_base_index));
    }
    let seen = select(0.5, light.arrived / max(light.open, 0.001), light.open > 0.001);
    light.bounce = lights.ambient_color.r * (0.5 - 0.5 * normal.y) * mix(0.35, 1.0, seen);
    return light;
}

// A rectangle of light far away, seen in a direction; `soft` blurs its edges.
fn panel(direction: vec3<f32>, middle: vec3<f32>, half_size: vec2<f32>, soft: f32) -> f32 {
    let ahead = dot(direction, middle);
    let right = normalize(cross(vec3(0.0, 1.0, 0.0), middle));
    let up = cross(middle, right);
    let place = abs(vec2(dot(direction, right), dot(direction, up))) / max(ahead, 0.05);
    let inside = smoothstep(half_size + soft, half_size - soft, place);
    // A blurred panel is as much dimmer as it is larger.
    let spread = half_size.x * half_size.y / ((half_size.x + soft * 0.35) * (half_size.y + soft * 0.35));
    return select(0.0, inside.x * inside.y * spread, ahead > 0.05);
}

// How bright the studio is in a direction of the cake's frame, blurred for a surface of this roughness.
fn mirrored(direction: vec3<f32>, roughness: f32) -> f32 {
    // The photographer's frame: the camera's right is level.
    let right = view.world_from_view[0].xyz;
    let front = cross(right, vec3(0.0, 1.0, 0.0));
    let d = vec3(dot(direction, right), direction.y, dot(direction, front));
    let soft = 0.08 + 0.9 * roughness;
    // The room: a light backdrop behind the cake, a darker room behind the camera, a bright table.
    let height = smoothstep(-soft, soft, d.y);
    let table = 0.62 - 0.12 * d.z;
    let wall = 0.62 - 0.30 * d.z + 0.10 * d.y;
    let room = mix(table, wall, height);
    let key = panel(d, vec3(-0.452, 0.588, 0.671), vec2(0.55, 0.42), soft);
    let fill = panel(d, vec3(0.811, 0.139, 0.568), vec2(0.20, 0.75), soft);
    let back = panel(d, vec3(-0.917, 0.259, -0.302), vec2(0.16, 0.70), soft);
    return room + 1.25 * key + 0.55 * fill + 0.4 * back;
}
