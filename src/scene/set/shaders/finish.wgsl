// The surface of a body. See materials.rs.
#import bevy_pbr::{forward_io::VertexOutput, mesh_view_bindings::view}
#import tierproof::studio::{light_on, mirrored}

struct Finish {
    colour: vec3<f32>,
    mirror: f32,
    edge: f32,
    roughness: f32,
    metal: f32,
    brush: f32,
    lustre: f32,
    sparkle: f32,
    glow: f32,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> finish: Finish;
@group(#{MATERIAL_BIND_GROUP}) @binding(1) var picture: texture_2d<f32>;
@group(#{MATERIAL_BIND_GROUP}) @binding(2) var picture_sampler: sampler;

fn hash(cell: vec3<i32>) -> vec3<f32> {
    var v = vec3<u32>(cell) * 1664525u + 1013904223u;
    v.x += v.y * v.z; v.y += v.z * v.x; v.z += v.x * v.y;
    v ^= v >> vec3(16u);
    v.x += v.y * v.z; v.y += v.z * v.x; v.z += v.x * v.y;
    return vec3<f32>(v >> vec3(8u)) / 16777216.0;
}

// Smooth noise, -1..1.
fn noise(at: vec3<f32>) -> f32 {
    let cell = vec3<i32>(floor(at));
    let part = fract(at);
    let w = part * part * (3.0 - 2.0 * part);
    var sum = 0.0;
    for (var i = 0; i < 8; i++) {
        let corner = vec3(i & 1, (i >> 1) & 1, i >> 2);
        let share = mix(1.0 - w, w, vec3<f32>(corner));
        sum += hash(cell + corner).x * share.x * share.y * share.z;
    }
    return 2.0 * sum - 1.0;
}

// Strokes of a brush led round the cake: fine across, long along. Finer than a pixel they fade.
fn brushed(normal: vec3<f32>, position: vec3<f32>, pixel: f32) -> vec3<f32> {
    let fine = 45.0;
    let seen = 1.0 - smoothstep(0.25, 1.0, pixel * fine);
    let coarse = 14.0;
    let across = normalize(vec3(0.0, 1.0, 0.0) - normal * normal.y + vec3(0.001, 0.0, 0.001));
    let strokes = noise(position * vec3(1.6, fine, 1.6)) * seen + noise(position * vec3(0.9, coarse, 0.9)) * 0.7;
    let dabs = noise(position * vec3(5.0, 7.0, 5.0));
    return normalize(normal + across * (0.11 * strokes + 0.05 * dabs));
}

// Flakes that catch a light: each cell of half a millimetre holds one, turned at random.
fn sparkles(normal: vec3<f32>, position: vec3<f32>, eye: vec3<f32>, pixel: f32) -> f32 {
    let size = max(0.006, pixel * 1.2);
    let flake = hash(vec3<i32>(floor(position / size)));
    let turned = normalize(normal + (flake * 2.0 - 1.0) * 0.75);
    let light = mirrored(reflect(-eye, turned), 0.05);
    return smoothstep(1.1, 1.8, light) * step(0.45, flake.x);
}

@fragment
fn fragment(in: VertexOutput) -> @location(0) vec4<f32> {
    let position = in.world_position.xyz;
    let eye = normalize(view.world_position - position);
    let pixel = length(fwidth(position));
#ifdef VERTEX_UVS_A
    let print = textureSample(picture, picture_sampler, in.uv).rgb;
#else
    let print = vec3(1.0);
#endif
    let colour = finish.colour * print;
    let smooth_normal = normalize(in.world_normal);
    var normal = smooth_normal;
    if finish.brush > 0.0 {
        normal = brushed(smooth_normal, position, pixel);
    }

    let light = light_on(position, smooth_normal);
    let seen = select(0.5, light.arrived / max(light.open, 0.001), light.open > 0.001);
    let swallowed = light.open - light.arrived;
    let matte = colour * (light.arrived + light.bounce + finish.glow * colour * swallowed);

    let facing = clamp(dot(normal, eye), 0.0, 1.0);
    let rim = pow(1.0 - facing, 4.0);
    let share = finish.mirror + (finish.edge - finish.mirror) * rim;
    let studio = mirrored(reflect(-eye, normal), finish.roughness) * mix(0.35, 1.0, seen);
    let shift = finish.lustre * (0.5 - facing);
    let tint = mix(vec3(1.0), colour, finish.metal) * (1.0 + shift * vec3(-0.10, 0.10, 0.12));
    var seen_colour = matte * (1.0 - share) + tint * studio * share;
    if finish.sparkle > 0.0 {
        let flakes = sparkles(smooth_normal, position, eye, pixel) * finish.sparkle * mix(0.3, 1.0, seen);
        seen_colour += (0.25 + 0.75 * colour) * flakes * 0.9;
    }
    return vec4(seen_colour, 1.0);
}
