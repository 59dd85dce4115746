// The table takes the backdrop's colour; only the shadow on it is drawn, as cover without light. See materials.rs.
#import bevy_pbr::forward_io::VertexOutput
#import tierproof::studio::light_on

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> table: vec4<f32>;

@fragment
fn fragment(in: VertexOutput) -> @location(0) vec4<f32> {
    let position = in.world_position.xyz;
    let light = light_on(position, vec3(0.0, 1.0, 0.0));
    let fade = 1.0 - smoothstep(table.x, table.y, length(position.xz));
    let shadow = (1.0 - light.arrived / table.z) * fade;
    return vec4(0.0, 0.0, 0.0, shadow);
}
