//! Pairs of solids thrown at each other: how deep we say they run in, and the meshes for others to judge.

use std::f64::consts::TAU;
use std::sync::Arc;

use glam::{DAffine3, DQuat, DVec2, DVec3};
use serde_json::{Value, json};
use tierproof::art::Region;
use tierproof::shapes::build::{Cutout, lathe, prism, sphere, tube_round};
use tierproof::shapes::solid::{Block, Solid, Standing, overlap};
use tierproof::shapes::{Mesh, block, forms};

use super::{folder, save, save_bytes};

/// Overlaps below this are not asked for, mm.
const LEAST: f64 = 0.3;
/// Pairs thrown.
const PAIRS: u32 = 160;

/// A solid as we ask it and as a mesh.
struct Shape {
    name: &'static str,
    solid: Arc<Solid>,
    mesh: Arc<Mesh>,
}

fn skin(name: &'static str, mesh: Mesh) -> Shape {
    let mesh = Arc::new(mesh);
    Shape { name, solid: Arc::new(Solid::skin(mesh.clone()).expect("a mesh")), mesh }
}

fn shapes() -> Vec<Shape> {
    let ring: Vec<DVec3> =
        (0..48_u32).map(|n| DQuat::from_rotation_y(f64::from(n) / 48.0 * TAU) * (DVec3::X * 22.0)).collect();
    // A letter L, and a plate with a hole: no convex things.
    let corners = [[0.0, 0.0], [30.0, 0.0], [30.0, 9.0], [10.0, 9.0], [10.0, 34.0], [0.0, 34.0]];
    let bent = Region { rings: vec![corners.map(DVec2::from).to_vec()] };
    let hole: Vec<DVec2> = (0..40).rev().map(|n| DVec2::from_angle(f64::from(n) / 40.0 * TAU) * 11.0).collect();
    let mut plate = Region::rectangle(46.0, 38.0, 6.0);
    plate.rings.push(hole);
    let cut = |region: &Region, thickness: f64| {
        let picture = [DVec2::splat(-30.0), DVec2::splat(30.0)];
        prism(&Cutout { region, thickness, soft: 0.5, picture, facet: f64::INFINITY }).expect("a cut-out")
    };
    let tier = forms::regular(6, 40.0, 0.0);
    let upright = Block { outline: tier.clone(), out: 0.0, foot: -15.0, top: 15.0, edge: 3.0 };
    let ball = sphere(14.0);
    vec![
        Shape { name: "ball", solid: Arc::new(Solid::Ball(14.0)), mesh: Arc::new(ball.clone()) },
        skin("meshed ball", ball),
        skin("brick", block(&forms::rectangle(36.0, 24.0, 0.0), (-9.0, 9.0), 0.0)),
        skin("stick", block(&forms::round(3.0), (-40.0, 40.0), 0.0)),
        skin("cone", lathe(&[DVec2::new(0.0, -20.0), DVec2::new(16.0, -20.0), DVec2::new(0.0, 22.0)])),
        skin("ring", tube_round(&ring, 6.0)),
        skin("letter L", cut(&bent, 8.0)),
        skin("plate with a hole", cut(&plate, 5.0)),
        Shape {
            name: "tier",
            solid: Arc::new(Solid::Block(upright)),
            mesh: Arc::new(block(&tier, (-15.0, 15.0), 3.0)),
        },
    ]
}

/// Even numbers in 0..1 that fill space evenly (an additive recurrence with irrational steps).
fn share(pair: u32, which: u32) -> f64 {
    const STEPS: [f64; 7] = [0.618_034, 0.414_214, 0.732_051, 0.236_068, 0.645_751, 0.316_625, 0.872_983];
    (f64::from(pair + 1) * STEPS[which as usize]).fract()
}

fn pose(pair: u32, apart: f64) -> DAffine3 {
    let (tilt, round) = ((2.0 * share(pair, 1) - 1.0).acos(), TAU * share(pair, 2));
    let way = DVec3::new(tilt.sin() * round.cos(), tilt.cos(), tilt.sin() * round.sin());
    let axis = DVec3::new(share(pair, 3) - 0.5, share(pair, 4) - 0.5, share(pair, 5) - 0.5).normalize();
    // Every fifth pair keeps square, face to face.
    let turn =
        if pair.is_multiple_of(5) { DQuat::IDENTITY } else { DQuat::from_axis_angle(axis, TAU * share(pair, 6)) };
    DAffine3::from_rotation_translation(turn, way * apart)
}

#[test]
fn overlaps() {
    let (shapes, folder) = (shapes(), folder("overlaps"));
    let mut heap = Vec::new();
    let mut store = |mesh: &Mesh, pose: &DAffine3| {
        let positions = heap.len();
        let placed = mesh.positions.iter().flat_map(|&at| pose.transform_point3(at).to_array());
        heap.extend(placed.flat_map(f64::to_le_bytes));
        let triangles = heap.len();
        heap.extend(mesh.triangles.iter().flatten().flat_map(|corner| corner.to_le_bytes()));
        json!({"positions": [positions, mesh.positions.len()], "triangles": [triangles, mesh.triangles.len()]})
    };
    let pairs: Vec<Value> = (0..PAIRS)
        .map(|pair| {
            let count = u32::try_from(shapes.len()).expect("few");
            let (a, b) = (&shapes[(pair % count) as usize], &shapes[(pair / count * 5 + pair) as usize % shapes.len()]);
            let to = pose(pair, 42.0 * share(pair, 0));
            let [one, other] =
                [(a, DAffine3::IDENTITY), (b, to)].map(|(shape, pose)| Standing::new(shape.solid.clone(), pose));
            json!({
                "name": format!("{pair}: {} in {}", b.name, a.name),
                "depth": overlap(&one, &other, LEAST).map(|found| found.depth),
                "meshes": [store(&a.mesh, &DAffine3::IDENTITY), store(&b.mesh, &to)],
            })
        })
        .collect();
    save(&folder, "overlaps.json", &json!({"least": LEAST, "pairs": pairs}));
    save_bytes(&folder, "overlaps.bin", &heap);
}
