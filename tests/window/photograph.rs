//! A design with test art, resolved and photographed.

use std::sync::{Arc, Mutex, MutexGuard};

use glam::{DVec2, DVec3};
use tierproof::art::{Art, Picture, Shelf, encode_png};
use tierproof::cake::{Body, Cake, bodies, resolve};
use tierproof::design::read_design;
use tierproof::proof::shot::Shot;
use tierproof::proof::view::{Camera, Direction};
use tierproof::scene::still::take_many;
use tierproof::scene::{Quality, Stage};
use tierproof::wraps;

use super::marks::dots;

/// One engine at a time: two would only take turns on the processor.
static STUDIO: Mutex<()> = Mutex::new(());

/// Marks on the print: shares of its length from its left end, and of its height from its top.
const PLACES: [(f64, f64); 16] = [
    (0.03, 0.5),
    (0.10, 0.2),
    (0.16, 0.8),
    (0.22, 0.5),
    (0.28, 0.25),
    (0.34, 0.7),
    (0.41, 0.5),
    (0.47, 0.2),
    (0.53, 0.75),
    (0.58, 0.45),
    (0.65, 0.2),
    (0.72, 0.8),
    (0.78, 0.5),
    (0.84, 0.3),
    (0.91, 0.7),
    (0.97, 0.4),
];

pub struct Scene {
    cake: Cake,
    bodies: Vec<Body>,
}

/// A mark on the side.
pub struct TapeMark {
    pub along: f64,
    pub at: DVec3,
    pub outward: DVec3,
}

impl Scene {
    pub fn of(text: &str) -> Self {
        let text = format!("title = \"t\"\nunit = \"mm\"\n[board]\nsize = 320\n{text}");
        let design = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"));
        let mut shelf = Shelf::default();
        for path in design.art_paths() {
            // The print's proportion is that of its face, so that all of it is seen; the card is 90 × 60.
            let picture = if path == "card" {
                card()
            } else {
                let bare = resolve(&Arc::new(design.clone()), &Arc::new(Shelf::default())).unwrap();
                let (plans, _) = wraps::plan(&bare);
                let face = plans[0].face.size;
                dots(6000, (6000.0 * face.y / face.x).round() as u32, &PLACES, 30.0)
            };
            shelf.insert(path, art(&picture));
        }
        let cake = resolve(&Arc::new(design), &Arc::new(shelf)).unwrap();
        let (plans, _) = wraps::plan(&cake);
        let mut all = bodies(&cake).unwrap();
        all.extend(wraps::bodies(&cake, &plans, 6000));
        Self { cake, bodies: all }
    }

    /// Where the marks of the print lie on the cake, from the tape alone.
    pub fn tape_marks(&self) -> Vec<TapeMark> {
        let tier = &self.cake.tiers[0];
        let course = &tier.courses[0];
        let around = tier.outline.perimeter();
        let mark = |&(across, down): &(f64, f64)| {
            let along = (across - 0.5) * around;
            let spot = tier.outline.at(along);
            let outward = DVec3::new(spot.outward.x, 0.0, spot.outward.y);
            let up = course.top - down * course.height();
            let at = DVec3::new(spot.point.x, up, spot.point.y) + outward * course.outer;
            TapeMark { along, at, outward }
        };
        PLACES.iter().map(mark).collect()
    }

    /// How far the front of a standing flat body lies before the piece's place, mm.
    pub fn front_of(&self, name: &str) -> f64 {
        let body = self.bodies.iter().find(|body| &*body.name == name).unwrap();
        let piece = self.cake.pieces[0].pose.inverse();
        let places = body.mesh.positions.iter().map(|&at| piece.transform_point3(body.pose.transform_point3(at)).z);
        places.fold(f64::NEG_INFINITY, f64::max)
    }
}

/// A card with three marks; a clear edge, so that its outline is traced from it.
fn card() -> Picture {
    let mut card = dots(1800, 1200, &[(1.0 / 6.0, 0.25), (5.0 / 6.0, 0.25), (1.0 / 6.0, 0.75)], 60.0);
    for (index, pixel) in card.rgba.chunks_exact_mut(4).enumerate() {
        let (x, y) = (index % 1800, index / 1800);
        if x < 2 || y < 2 || x >= 1798 || y >= 1198 {
            pixel.fill(0);
        }
    }
    card
}

fn art(picture: &Picture) -> Arc<Art> {
    Arc::new(Art::read(&encode_png(picture).unwrap(), "test.png").unwrap())
}

/// Pictures of a scene, 1000 × 750 px, good.
pub fn photograph(scene: &Scene, directions: &[Direction]) -> Vec<Shot> {
    let corners: Vec<DVec3> = scene
        .bodies
        .iter()
        .flat_map(|body| body.mesh.positions.iter().map(|&at| body.pose.transform_point3(at)))
        .collect();
    let cameras: Vec<Camera> =
        directions.iter().map(|&direction| Camera::framing(direction, &corners, (1000, 750), 0.05)).collect();
    let floor = -scene.cake.board.thickness.as_mm();
    let stage = Stage { bodies: scene.bodies.clone(), floor, backdrop: Stage::BACKDROP };
    let pictures = take_in_turn(&stage, &cameras, Quality::Good);
    let shots = cameras.into_iter().zip(pictures).zip(directions);
    shots.map(|((camera, picture), direction)| Shot { view: format!("{direction:?}"), camera, picture }).collect()
}

/// Held while an engine runs.
pub fn no_other_engine() -> MutexGuard<'static, ()> {
    STUDIO.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// Pictures of a stage, while no other test takes any.
pub fn take_in_turn(stage: &Stage, cameras: &[Camera], quality: Quality) -> Vec<Picture> {
    let _turn = no_other_engine();
    take_many(stage, cameras, quality, &mut |_| std::ops::ControlFlow::Continue(())).unwrap()
}

/// The size of a picture as a vector.
pub fn size(picture: &Picture) -> DVec2 {
    DVec2::new(f64::from(picture.width), f64::from(picture.height))
}
