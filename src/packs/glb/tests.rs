use super::*;
use glam::DVec2;

use crate::art::{Colour, Picture};
use crate::cake::{Owner, Surface};
use crate::design::Look;

/// A box of w × h × d mm standing on the origin, with picture places on every side.
fn block(w: f64, h: f64, d: f64) -> Arc<crate::shapes::Mesh> {
    let mut mesh = crate::shapes::Mesh::default();
    let sides =
        [(DVec3::X, DVec3::NEG_Z), (DVec3::Z, DVec3::X), (DVec3::NEG_X, DVec3::Z), (DVec3::NEG_Z, DVec3::NEG_X)];
    let lids = [(DVec3::Y, DVec3::X), (DVec3::NEG_Y, DVec3::X)];
    for (out, right) in sides.into_iter().chain(lids) {
        let up = out.cross(right);
        let place =
            |across: f64, upward: f64| (out + right * across + up * upward + DVec3::Y) * DVec3::new(w, h, d) / 2.0;
        let corner = |a: f64, u: f64| (place(a, u), out, DVec2::new((a + 1.0) / 2.0, (1.0 - u) / 2.0));
        let corners = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)]
            .map(|(at, normal, uv)| mesh.corner(at, normal, uv));
        mesh.patch(corners);
    }
    Arc::new(mesh)
}

fn body(name: &str, mesh: &Arc<crate::shapes::Mesh>, at: DVec3, picture: Option<&Arc<Picture>>) -> Body {
    let surface = Surface { colour: Colour::new(201, 162, 39), look: Look::Metal, picture: picture.map(Arc::clone) };
    let pose = DAffine3::from_rotation_translation(DQuat::from_rotation_y(0.4), at);
    Body { name: name.into(), mesh: Arc::clone(mesh), pose, surface, owner: Owner::Board }
}

fn sample() -> Vec<u8> {
    let picture = Arc::new(Picture::filled(2, 3, [20, 60, 90, 128]));
    let (tier, ball) = (block(200.0, 100.0, 150.0), block(20.0, 20.0, 20.0));
    let bodies = [
        body("base · waves", &tier, DVec3::ZERO, Some(&picture)),
        body("ball 1", &ball, DVec3::new(0.0, 100.0, 30.0), None),
        body("ball 2", &ball, DVec3::new(40.0, 100.0, 30.0), None),
    ];
    write_glb(&bodies, "Harbour birthday", "0a1b2c3d").unwrap()
}

/// The JSON chunk, found by the container's own rules.
fn json(glb: &[u8]) -> serde_json::Value {
    let number = |at: usize| u32::from_le_bytes(glb[at..at + 4].try_into().unwrap()) as usize;
    assert_eq!((&glb[..4], number(4), number(8), &glb[16..20]), (&b"glTF"[..], 2, glb.len(), &b"JSON"[..]));
    serde_json::from_slice(&glb[20..20 + number(12)]).unwrap()
}

#[test]
fn one_named_node_a_body_and_equal_bodies_share() {
    let root = json(&sample());
    let names: Vec<_> = root["nodes"].as_array().unwrap().iter().map(|node| node["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["base · waves", "ball 1", "ball 2"]);
    assert_eq!(root["nodes"][1]["mesh"], root["nodes"][2]["mesh"]);
    assert_eq!((root["meshes"].as_array().unwrap().len(), root["materials"].as_array().unwrap().len()), (2, 2));
    assert_eq!(root["scenes"][0]["name"], "Harbour birthday · revision 0a1b2c3d");
}

#[test]
fn true_size_in_metres() {
    let root = json(&sample());
    let positions =
        &root["accessors"][root["meshes"][0]["primitives"][0]["attributes"]["POSITION"].as_u64().unwrap() as usize];
    let high: Vec<f64> = positions["max"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    assert!(high.iter().zip([0.1, 0.1, 0.075]).all(|(high, metres)| (high - metres).abs() < 1e-7), "{high:?}");
    assert!((root["nodes"][2]["translation"][0].as_f64().unwrap() - 0.04).abs() < 1e-7);
}

#[test]
fn only_a_picture_brings_picture_places() {
    let root = json(&sample());
    let attributes = |mesh: usize| root["meshes"][mesh]["primitives"][0]["attributes"].as_object().unwrap().len();
    assert_eq!((attributes(0), attributes(1)), (3, 2));
}

#[test]
fn the_same_cake_gives_the_same_bytes() {
    assert_eq!(sample(), sample());
}

#[test]
fn a_place_that_is_no_number_is_an_error() {
    let ball = block(20.0, 20.0, f64::NAN);
    let failed = write_glb(&[body("ball 1", &ball, DVec3::ZERO, None)], "x", "y").unwrap_err();
    assert!(failed.to_string().starts_with("ball 1"));
}

#[test]
fn missing_normals_come_from_the_faces() {
    let mut mesh = (*block(10.0, 10.0, 10.0)).clone();
    mesh.normals = vec![DVec3::ZERO; mesh.positions.len()];
    mesh.triangles.push([0, 0, 1]);
    let glb = write_glb(&[body("ball 1", &Arc::new(mesh), DVec3::ZERO, None)], "x", "y").unwrap();
    let reference = write_glb(&[body("ball 1", &block(10.0, 10.0, 10.0), DVec3::ZERO, None)], "x", "y").unwrap();
    assert_eq!(glb, reference);
}

#[test]
fn a_transparent_picture_shows_the_colour_beneath() {
    let over = material::laid_over(&Picture::filled(1, 1, [0, 0, 0, 0]), Colour::new(1, 2, 3));
    assert_eq!(over.rgba, [1, 2, 3, 255]);
}

/// An edge of a mesh in single precision that is not used once each way, if there is one.
fn open_edge(mesh: &crate::shapes::Mesh) -> Option<[glam::Vec3; 2]> {
    let (places, triangles) = geometry::single(mesh);
    let bits = |corner: u32| places[corner as usize].to_array().map(|value| (value + 0.0).to_bits());
    let mut edges = std::collections::BTreeMap::new();
    for triangle in triangles.chunks(3) {
        for (from, to) in [(0, 1), (1, 2), (2, 0)] {
            *edges.entry((bits(triangle[from]), bits(triangle[to]))).or_insert(0) += 1;
        }
    }
    let open = |(&(from, to), &count): (&([u32; 3], [u32; 3]), &i32)| count != 1 || edges.get(&(to, from)) != Some(&1);
    let (&(from, to), _) = edges.iter().find(|edge| open((edge.0, edge.1)))?;
    Some([from, to].map(|end| glam::Vec3::from_array(end.map(f32::from_bits))))
}

/// Cells let into a plate bent round a side, and ropes round plates narrower than they are thick: faces as thin as slivers.
#[test]
fn bent_and_narrow_bodies_stay_closed_in_single_precision() {
    let head = "title = 't'\nunit = 'mm'\n[[tier]]\nname = 'a'\nsize = 220\nheight = 130\npaste = 3\nedge = 4\n";
    let plate = |along: f64, gap: f64| {
        format!(
            "[[piece]]\nname = 'p {along} {gap}'\nkind = 'plaque'\nseat = {{ on = 'a', surface = 'side' }}\nat = {{ along = {along}, up = 70 }}\n\
             size = [50, 40]\nthickness = 4\ncorner = 3\ncells = {{ rows = 2, columns = 3, gap = {gap}, inset = 1, finishes = ['blue', 'red'] }}\n"
        )
    };
    let rope = |wide: f64, inside: f64| {
        format!(
            "[[piece]]\nname = 'q {wide} {inside}'\nkind = 'plaque'\nseat = {{ on = 'a', surface = 'top' }}\nsize = [40, {wide}]\nthickness = 4\n\
             [[piece]]\nname = 'r {wide} {inside}'\nkind = 'rope'\nseat = {{ on = 'q {wide} {inside}', surface = 'top' }}\nsize = 6\nedge = {inside}\n"
        )
    };
    let plates = (0..24).flat_map(|step| [3.0, 4.0].map(|gap| plate(-100.0 + 0.5 * f64::from(step), gap)));
    let ropes = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 9.0].into_iter();
    let ropes = ropes.flat_map(|wide| [-3.0, -2.0, -4.5, -5.0, 0.0, 1.0].map(|inside| rope(wide, inside)));
    let text = [head.to_owned()].into_iter().chain(plates).chain(ropes).collect::<String>();
    let design = crate::design::read_design(&text, "cake.toml").unwrap();
    let cake = crate::cake::resolve(&Arc::new(design), &Arc::default()).unwrap();
    let open =
        crate::cake::bodies(&cake).unwrap().into_iter().filter_map(|body| Some((body.name, open_edge(&body.mesh)?)));
    let open: Vec<_> = open.collect();
    assert!(open.is_empty(), "{open:?}");
}
