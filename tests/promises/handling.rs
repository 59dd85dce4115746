//! Choosing, dragging and snapping on real bodies, as a pointer does it.

use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};
use tierproof::art::{Art, Shelf};
use tierproof::cake::{Body, Cake, Owner, bodies, resolve};
use tierproof::design::model::{At, CourseKind, Design, SeamPlace, Surface, Target};
use tierproof::design::read_design;
use tierproof::edits::choose::{
    Choice, Grip, Ray, Thing, Touch, choose, handle_on_tape, handle_under, handles, on_tape,
};
use tierproof::edits::drag::{Drag, Manner, Pointer, Step, World};
use tierproof::edits::snap::{Direction, nudge, readout};
use tierproof::edits::{CourseEdit, CourseName, Edit, History, PieceEdit, TierEdit, apply, nudge_step};
use tierproof::measure::{Length, TapePoint};
use tierproof::wraps::{self, WrapPlan};

use super::dice::Dice;

/// A square of 200 mm on a round of 300 mm on a board of 400 mm; sizes that are known without computing.
const TEXT: &str = r#"
unit = "mm"
board = { size = 400 }
[[tier]]
name = "base"
size = 300
height = 100
[[tier.course]]
name = "waves"
kind = "wrap"
height = 80
art = "a.svg"
fit = "cover"
[[tier.course]]
name = "rim"
kind = "band"
height = 20
size = 3
[[tier]]
name = "top"
shape = "square"
size = 200
height = 80
[[piece]]
name = "sign"
kind = "sign"
seat = { on = "top", surface = "side" }
at = { along = 0, up = 40 }
size = [80, 20]
text = "Ahoy"
letters = { height = 8 }
[[piece]]
name = "ball"
kind = "ball"
size = 20
seat = { on = "top", surface = "top" }
at = { x = 30, z = 40 }
[[piece]]
name = "bead"
kind = "ball"
size = 10
seat = { on = "base", surface = "side" }
at = { along = 100, up = 50 }
[[piece]]
name = "pearl"
kind = "ball"
size = 10
seat = { on = "base", surface = "side" }
at = { along = -100, up = 30 }
"#;

struct Bench {
    cake: Cake,
    plans: Vec<WrapPlan>,
    bodies: Vec<Body>,
    touch: Touch,
}

impl Bench {
    fn of(design: Design) -> Self {
        let mut shelf = Shelf::default();
        let art = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 3'><rect width='10' height='3'/></svg>";
        shelf.insert("a.svg", Arc::new(Art::read(art.as_bytes(), "a.svg").unwrap()));
        let cake = resolve(&Arc::new(design), &Arc::new(shelf)).unwrap();
        let (plans, _) = wraps::plan(&cake);
        let mut all = bodies(&cake).unwrap();
        all.extend(wraps::bodies(&cake, &plans, 64));
        let touch = Touch::new(&all);
        Self { cake, plans, bodies: all, touch }
    }

    fn new() -> Self {
        Self::of(read_design(TEXT, "cake.toml").unwrap_or_else(|problems| panic!("{problems}")))
    }

    fn world(&self) -> World<'_> {
        World { cake: &self.cake, plans: &self.plans, touch: &self.touch }
    }

    fn choose(&self, ray: Ray) -> Choice {
        choose(&self.cake, &self.plans, &self.touch, (ray, Length::mm(4.0))).expect("something")
    }
}

/// From a customer's eye to a place on the cake.
fn look(at: DVec3) -> Ray {
    let eye = DVec3::new(60.0, 500.0, 1200.0);
    Ray { from: eye, toward: at - eye }
}

fn above(x: f64, z: f64) -> Ray {
    Ray { from: DVec3::new(x, 1000.0, z), toward: DVec3::NEG_Y }
}

const FREE: Manner = Manner { strength: Length::ZERO, is_fine: false };

fn tape_of(step: &Step) -> (f64, f64) {
    match &step.edit {
        Edit::Piece(_, PieceEdit::Move(_, At::Tape(at))) => (at.along.as_mm(), at.up.as_mm()),
        other => panic!("{other:?}"),
    }
}

fn plan_of(step: &Step) -> (f64, f64) {
    match &step.edit {
        Edit::Piece(_, PieceEdit::Move(_, At::Plan(at))) => (at.x.as_mm(), at.z.as_mm()),
        other => panic!("{other:?}"),
    }
}

fn seat_of(step: &Step) -> (Target, Surface) {
    match &step.edit {
        Edit::Piece(_, PieceEdit::Move(seat, _)) => (seat.on.clone(), seat.surface),
        other => panic!("{other:?}"),
    }
}

fn near(found: (f64, f64), wanted: (f64, f64), slack: f64) {
    let away = DVec2::new(found.0 - wanted.0, found.1 - wanted.1).length();
    assert!(away <= slack, "{found:?} instead of {wanted:?}");
}

#[test]
fn what_is_under_the_pointer_is_told_with_its_place() {
    let bench = Bench::new();
    let board = bench.choose(above(190.0, 10.0));
    assert_eq!(board.thing, Thing::Board);
    let At::Plan(at) = board.place.at else { panic!() };
    near((at.x.as_mm(), at.z.as_mm()), (190.0, 10.0), 1e-9);
    assert!(board.normal.distance(DVec3::Y) < 1e-9);

    let top = bench.choose(above(-20.0, 15.0));
    assert_eq!(top.thing, Thing::Tier("top".into()));
    assert!((top.at.y - 180.0).abs() < 1e-9);
    assert_eq!(top.place.seat.surface, Surface::Top);

    // The right side of the square: its middle is a quarter of the way round.
    let from_right = Ray { from: DVec3::new(900.0, 150.0, 10.0), toward: DVec3::NEG_X };
    let side = bench.choose(from_right);
    let At::Tape(at) = side.place.at else { panic!() };
    near((at.along.as_mm(), at.up.as_mm()), (190.0, 50.0), 1e-9);
    assert!(side.normal.distance(DVec3::X) < 1e-9);

    assert_eq!(bench.choose(above(30.0, 40.0)).thing, Thing::Piece("ball".into()));
    let front = |x, y| Ray { from: DVec3::new(x, y, 900.0), toward: DVec3::NEG_Z };
    assert_eq!(bench.choose(front(0.0, 140.0)).thing, Thing::Piece("sign".into()));
    assert_eq!(bench.choose(front(-80.0, 40.0)).thing, Thing::Course(CourseName::new("base", "waves")));
    // The band's ends meet at the back.
    let back = Ray { from: DVec3::new(2.0, 90.0, -900.0), toward: DVec3::Z };
    assert!(matches!(bench.choose(back).thing, Thing::Seam(name, _) if name.course == "rim"));
    assert!(choose(&bench.cake, &bench.plans, &bench.touch, (above(900.0, 0.0), Length::ZERO)).is_none());
}

#[test]
fn the_tree_finds_what_every_triangle_asked_would_find() {
    let bench = Bench::new();
    let mut dice = Dice::new(5);
    for _ in 0..400 {
        let mut at = || DVec3::new(dice.share() - 0.5, dice.share() - 0.3, dice.share() - 0.5) * 500.0;
        let (from, to) = (at() * 4.0, at());
        let toward = (to - from).normalize();
        let hit = bench.touch.cast(Ray { from, toward }, |_| true);
        let mut nearest = f64::INFINITY;
        for body in &bench.bodies {
            for face in &body.mesh.triangles {
                let [a, b, c] = face.map(|corner| body.pose.transform_point3(body.mesh.positions[corner as usize]));
                nearest = nearest.min(meets(from, toward, [a, b, c]));
            }
        }
        match hit {
            Some(hit) => assert!((hit.distance - nearest).abs() < 1e-6, "{} and {nearest}", hit.distance),
            None => assert!(nearest.is_infinite(), "missed what lies {nearest} away"),
        }
    }
}

/// Möller and Trumbore 1997.
fn meets(from: DVec3, toward: DVec3, [a, b, c]: [DVec3; 3]) -> f64 {
    let (ab, ac) = (b - a, c - a);
    let across = toward.cross(ac);
    let volume = ab.dot(across);
    if volume.abs() < 1e-12 {
        return f64::INFINITY;
    }
    let away = from - a;
    let (u, around) = (away.dot(across) / volume, away.cross(ab));
    let (v, way) = (toward.dot(around) / volume, ac.dot(around) / volume);
    if u < 0.0 || v < 0.0 || u + v > 1.0 || way < 0.0 { f64::INFINITY } else { way }
}

#[test]
fn a_piece_goes_round_the_side_over_a_corner_and_onto_the_top() {
    let bench = Bench::new();
    let grabbed = DVec3::new(5.0, 143.0, 103.0);
    let pointer = Pointer::Ray(look(grabbed));
    let choice = bench.choose(look(grabbed));
    assert_eq!(choice.thing, Thing::Piece("sign".into()));
    let mut drag = Drag::grab(bench.world(), &choice, Grip::Move, &pointer).unwrap();
    // Without a move of the pointer the piece stays where it is, wherever it was grabbed.
    let still = drag.to(bench.world(), &pointer, FREE).unwrap();
    near(tape_of(&still), (0.0, 40.0), 0.2);
    // The pointer goes 60 mm to the right: so does the piece, though it was grabbed off its middle.
    let moved = choice.at + DVec3::X * 60.0;
    let step = drag.to(bench.world(), &Pointer::Ray(look(moved)), FREE).unwrap();
    near(tape_of(&step), (60.0, 40.0), 0.5);
    // Round the corner of the square, 100 mm from front centre.
    let right = Ray { from: DVec3::new(1200.0, 500.0, 60.0), toward: DVec3::new(-1097.0, -357.0, -30.0) };
    let step = drag.to(bench.world(), &Pointer::Ray(right), FREE).unwrap();
    assert_eq!(seat_of(&step), (Target::Tier("top".into()), Surface::Side));
    assert!((100.0..300.0).contains(&tape_of(&step).0), "{step:?}");
    // Onto the top.
    let step = drag.to(bench.world(), &Pointer::Ray(look(DVec3::new(-40.0, 183.0, 0.0))), FREE).unwrap();
    assert_eq!(seat_of(&step), (Target::Tier("top".into()), Surface::Top));
    // And to the board, before the cake.
    let step = drag.to(bench.world(), &Pointer::Ray(look(DVec3::new(0.0, 3.0, 180.0))), FREE).unwrap();
    assert_eq!(seat_of(&step), (Target::Board, Surface::Board));
    // Every step is one that can be carried out, also in one gesture that is then given up.
    let mut history = History::new(Arc::clone(&bench.cake.design));
    history.hold(&step.edit).unwrap();
    assert_ne!(*history.now(), bench.cake.design);
    history.cancel_gesture();
    assert_eq!(*history.now(), bench.cake.design);
    history.hold(&step.edit).unwrap();
    history.drop_gesture();
    assert_eq!(history.undo_label(), Some("move “sign”"));
    assert_eq!(history.steps(), (1, 0));
}

#[test]
fn a_piece_on_a_top_follows_the_pointer_exactly() {
    let bench = Bench::new();
    // Grabbed on its upper half, 12 mm above the top it stands on.
    let choice = bench.choose(look(DVec3::new(33.0, 192.0, 46.0)));
    assert_eq!(choice.thing, Thing::Piece("ball".into()));
    let pointer = Pointer::Ray(look(choice.at));
    let mut drag = Drag::grab(bench.world(), &choice, Grip::Move, &pointer).unwrap();
    let to = choice.at + DVec3::new(-50.0, 0.0, -30.0);
    let step = drag.to(bench.world(), &Pointer::Ray(look(to)), FREE).unwrap();
    near(plan_of(&step), (-20.0, 10.0), 0.5);
    // A quarter of the way when it goes finely.
    let fine = Manner { is_fine: true, ..FREE };
    let step = drag.to(bench.world(), &Pointer::Ray(look(to + DVec3::X * 40.0)), fine).unwrap();
    near(plan_of(&step), (-10.0, 10.0), 0.5);
    // Near the middle it snaps to it.
    let strong = Manner { strength: Length::mm(6.0), ..FREE };
    let mut drag = Drag::grab(bench.world(), &choice, Grip::Move, &pointer).unwrap();
    let step = drag.to(bench.world(), &Pointer::Ray(look(choice.at + DVec3::new(-33.0, 0.0, -7.0))), strong).unwrap();
    assert_eq!(plan_of(&step).0, 0.0);
    assert_eq!(step.snapped, ["centre"]);
    assert_eq!(plan_of(&step).1 % 5.0, 0.0, "what snaps to nothing goes to the marks of the ruler");
}

#[test]
fn pieces_are_dragged_on_the_tape_too() {
    let bench = Bench::new();
    let at = |along: f64, up: f64| TapePoint { along: Length::mm(along), up: Length::mm(up) };
    let choice = on_tape(&bench.cake, &bench.plans, ("base", at(102.0, 51.0)), Length::mm(2.0)).unwrap();
    assert_eq!(choice.thing, Thing::Piece("bead".into()));
    let strong = Manner { strength: Length::mm(5.0), ..FREE };
    let mut drag =
        Drag::grab(bench.world(), &choice, Grip::Move, &Pointer::Tape("base".into(), at(102.0, 51.0))).unwrap();
    let mut to = |along, up| drag.to(bench.world(), &Pointer::Tape("base".into(), at(along, up)), strong).unwrap();
    // 2 mm off its middle as it was grabbed; then level with the other one, and in front.
    let step = to(3.0, 33.0);
    assert_eq!(tape_of(&step), (0.0, 30.0));
    assert_eq!(step.snapped, ["front centre", "level with “pearl”"]);
    let step = to(-96.0, 90.0);
    assert_eq!(step.snapped[0], "in line with “pearl”");
    // Over the back it comes out on the other side.
    let half = bench.cake.tiers[0].outline.perimeter() / 2.0;
    let (along, _) = tape_of(&to(half + 42.0, 60.0));
    assert!((along - (40.0 - half)).abs() < 3.0, "{along}");
    // What is not on this tape is not dragged over it.
    assert_eq!(on_tape(&bench.cake, &bench.plans, ("base", at(50.0, 40.0)), Length::mm(2.0)).unwrap().thing, {
        Thing::Course(CourseName::new("base", "waves"))
    });
}

#[test]
fn a_seam_is_dragged_and_pinned_where_it_is_dropped() {
    let bench = Bench::new();
    let seam = bench.plans[0].seams.iter().map(|seam| seam.along).fold(0.0, f64::max);
    let at = |along: f64| TapePoint { along: Length::mm(along), up: Length::mm(40.0) };
    let choice = on_tape(&bench.cake, &bench.plans, ("base", at(seam + 1.0)), Length::mm(3.0)).unwrap();
    let Thing::Seam(name, along) = &choice.thing else { panic!("{choice:?}") };
    assert_eq!((name.course.as_str(), along.as_mm()), ("waves", seam));
    let pointer = |along| Pointer::Tape("base".into(), at(along));
    let mut drag = Drag::grab(bench.world(), &choice, Grip::Move, &pointer(seam + 1.0)).unwrap();
    let strong = Manner { strength: Length::mm(5.0), ..FREE };
    let step = drag.to(bench.world(), &pointer(104.0), strong).unwrap();
    assert_eq!(step.snapped, ["behind “bead”"]);
    let pinned = apply(&bench.cake.design, &step.edit).unwrap();
    let CourseKind::Wrap(wrap) = &pinned.tiers[0].courses[0].kind else { panic!() };
    assert_eq!(wrap.pins, [Length::mm(100.0)]);
    // Dragged again, the same pin moves; let go, it is gone.
    let name = CourseName::new("base", "waves");
    let again = Edit::Course(name.clone(), CourseEdit::MoveSeam(Length::mm(100.0), Length::mm(60.0)));
    let moved = apply(&pinned, &again).unwrap();
    let let_go = apply(&moved, &Edit::Course(name, CourseEdit::Unpin(Length::mm(60.0)))).unwrap();
    assert_eq!(let_go, *bench.cake.design);
    // The ends of a band.
    let rim = TapePoint { along: Length::mm(470.0), up: Length::mm(90.0) };
    let choice = on_tape(&bench.cake, &bench.plans, ("base", rim), Length::mm(9.0)).unwrap();
    let mut drag = Drag::grab(bench.world(), &choice, Grip::Move, &Pointer::Tape("base".into(), rim)).unwrap();
    let step = drag.to(bench.world(), &Pointer::Tape("base".into(), TapePoint { along: Length::ZERO, ..rim }), FREE);
    assert!(matches!(step.unwrap().edit, Edit::Course(_, CourseEdit::Seam(SeamPlace::Along(_)))));
}

#[test]
fn handles_turn_and_resize() {
    let bench = Bench::new();
    let all = handles(&bench.cake, "sign");
    let handle = |grip| *all.iter().find(|handle| handle.grip == grip).unwrap();
    let width = handle(Grip::Width);
    let on = width.on_tape.unwrap();
    near((on.along.as_mm(), on.up.as_mm()), (40.0, 40.0), 1e-6);
    assert_eq!(handle_on_tape(&all, on, Length::mm(3.0)), Some(width));
    assert_eq!(handle_under(&all, look(width.at + DVec3::Y), Length::mm(3.0)), Some(width));
    assert_eq!(handle_under(&all, look(width.at - DVec3::Y * 9.0), Length::mm(3.0)), None);
    let pointer = |at: DVec3| Pointer::Ray(Ray { from: at + DVec3::Z * 500.0, toward: DVec3::NEG_Z });
    let grab = |grip| {
        let choice = bench.choose(Ray { from: DVec3::new(0.0, 140.0, 900.0), toward: DVec3::NEG_Z });
        Drag::grab(bench.world(), &choice, grip, &pointer(handle(grip).at)).unwrap()
    };
    let edited = |step: Step| apply(&bench.cake.design, &step.edit).unwrap().pieces[0].clone();
    let size = |piece: &tierproof::design::model::Piece| {
        let tierproof::design::model::Form::Sign(sign) = &piece.form else { panic!() };
        sign.size.map(|side| side.as_mm().round())
    };
    // Twice as far from the middle, twice as wide, and no higher.
    let wide = grab(Grip::Width).to(bench.world(), &pointer(width.at + DVec3::X * 40.0), FREE).unwrap();
    assert_eq!(size(&edited(wide)), [160.0, 20.0]);
    let scale = handle(Grip::Scale);
    let away = (scale.at - DVec3::new(0.0, 140.0, scale.at.z)) / 2.0;
    let scaled = grab(Grip::Scale).to(bench.world(), &pointer(scale.at + away), FREE).unwrap();
    assert_eq!(size(&edited(scaled)), [120.0, 30.0]);
    // Lifted at its right end it turns counter-clockwise, and snaps to 15 degrees.
    let arm = handle(Grip::Turn).at.x;
    let raised =
        DVec3::new(0.0, 140.0, 0.0) + DVec3::new(29.0_f64.to_radians().cos(), 29.0_f64.to_radians().sin(), 0.0) * arm;
    let strong = Manner { strength: Length::mm(5.0), ..FREE };
    let turned = grab(Grip::Turn).to(bench.world(), &pointer(raised), strong).unwrap();
    assert_eq!(edited(turned.clone()).turn.as_degrees(), 30.0);
    assert_eq!(turned.snapped, ["turned 30°"]);
}

#[test]
fn a_locked_piece_is_not_dragged() {
    let locked = apply(&Bench::new().cake.design, &Edit::piece("ball", PieceEdit::Lock(true))).unwrap();
    let bench = Bench::of(locked);
    let choice = bench.choose(above(30.0, 40.0));
    let refusal = Drag::grab(bench.world(), &choice, Grip::Move, &Pointer::Ray(above(30.0, 40.0))).unwrap_err();
    assert_eq!(refusal.to_string(), "piece “ball” is locked");
    assert!(handles(&bench.cake, "ball").is_empty());
}

#[test]
fn the_readout_tells_places_and_gaps() {
    let bench = Bench::new();
    let told = readout(&bench.cake, "bead").unwrap();
    assert_eq!(told.to_string(), "50 mm up · 100 mm right");
    let near =
        apply(&bench.cake.design, &nudge(&bench.cake.design, "pearl", (Direction::Right, Length::mm(150.0))).unwrap());
    let bench = Bench::of(near.unwrap());
    let told = readout(&bench.cake, "bead").unwrap();
    assert_eq!(told.gaps[0].to, "pearl");
    // Middles 50 and 20 mm apart, and two radii of 5 mm: √2900 − 10, the circles told as polygons round them.
    assert!((told.gaps[0].by.as_mm() - (2900.0_f64.sqrt() - 10.0)).abs() < 0.3, "{told}");
    let up = nudge(&bench.cake.design, "ball", (Direction::Up, nudge_step(bench.cake.design.unit))).unwrap();
    let Edit::Piece(_, PieceEdit::Move(_, At::Plan(at))) = up else { panic!() };
    assert_eq!((at.x.as_mm(), at.z.as_mm()), (30.0, 39.0));
}

#[test]
fn only_new_bodies_are_prepared_again() {
    let mut bench = Bench::new();
    let ray = above(30.0, 40.0);
    assert!(matches!(bench.touch.cast(ray, |_| true).unwrap().owner, Owner::Piece(1)));
    let without: Vec<Body> = bench.bodies.iter().filter(|body| body.owner != Owner::Piece(1)).cloned().collect();
    bench.touch.follow(&without);
    assert!(matches!(bench.touch.cast(ray, |_| true).unwrap().owner, Owner::Tier(1)));
    bench.touch.follow(&bench.bodies);
    assert!(matches!(bench.touch.cast(ray, |owner| owner != Owner::Piece(1)).unwrap().owner, Owner::Tier(1)));
}

#[test]
fn a_body_that_goes_elsewhere_is_touched_there_as_among_bodies_taken_anew() {
    let mut bench = Bench::new();
    for step in 1..=12 {
        for body in bench.bodies.iter_mut().filter(|body| matches!(body.owner, Owner::Piece(_))) {
            let by = DVec3::new(f64::from(step) * 1.7, 0.3, -f64::from(step));
            body.pose = DAffine3::from_translation(by) * body.pose;
        }
        bench.touch.follow(&bench.bodies);
    }
    let anew = Touch::new(&bench.bodies);
    let mut pieces = 0;
    for number in 0..60_u32 * 60 {
        let ray = above(f64::from(number % 60) * 5.1 - 150.0, f64::from(number / 60) * 5.1 - 150.0);
        let [moved, fresh] = [&bench.touch, &anew].map(|touch| touch.cast(ray, |_| true));
        assert_eq!(moved, fresh);
        pieces += usize::from(fresh.is_some_and(|hit| matches!(hit.owner, Owner::Piece(_))));
    }
    assert!(pieces > 8, "{pieces}");
}

#[test]
fn a_measured_cake_says_what_changes_and_what_is_printed_again() {
    use tierproof::design::model::Measured;
    use tierproof::edits::measured::{Planned, changes};
    let bench = Bench::new();
    let read = Measured { around: Some(Length::mm(954.0)), height: Some(Length::mm(103.0)), across: None };
    let after = Bench::of(apply(&bench.cake.design, &Edit::tier("base", TierEdit::Measured(read))).unwrap());
    let planned = |bench: &Bench| (bench.cake.clone(), bench.plans.clone());
    let ((old, old_plans), (new, new_plans)) = (planned(&bench), planned(&after));
    let found = changes(Planned { cake: &old, plans: &old_plans }, Planned { cake: &new, plans: &new_plans });
    let told: Vec<&str> = found.sizes.iter().map(|size| size.words.as_str()).collect();
    assert_eq!(told[0], "“base”, around: 942.5 mm → 954 mm");
    assert!(told.contains(&"“base”, high: 100 mm → 103 mm"), "{told:?}");
    assert!(!told.iter().any(|words| words.starts_with("“top”") || words.starts_with("“sign”")), "{told:?}");
    assert_eq!(found.reprints.iter().map(|reprint| reprint.what.as_str()).collect::<Vec<_>>(), ["“waves” of “base”"]);
    let same = changes(Planned { cake: &new, plans: &new_plans }, Planned { cake: &new, plans: &new_plans });
    assert!(same.sizes.is_empty() && same.reprints.is_empty());
}

#[test]
fn a_dropped_picture_becomes_what_it_was_dropped_on() {
    use tierproof::edits::dropped;
    let bench = Bench::new();
    let drop = |ray: Ray| apply(&bench.cake.design, &dropped(&bench.cake.design, &bench.choose(ray), "b.svg").unwrap());
    let front = |x, y| Ray { from: DVec3::new(x, y, 900.0), toward: DVec3::NEG_Z };
    let on_wrap = drop(front(-80.0, 40.0)).unwrap();
    assert!(on_wrap.art_paths().contains(&"b.svg") && on_wrap.tiers[0].courses.len() == 2);
    let on_top = drop(above(-20.0, 15.0)).unwrap();
    let topper = on_top.pieces.last().unwrap();
    assert_eq!((topper.form.kind(), topper.form.art()), ("topper", Some("b.svg")));
    let At::Plan(at) = topper.at else { panic!() };
    near((at.x.as_mm(), at.z.as_mm()), (-20.0, 15.0), 1e-6);
    let on_side = drop(front(-80.0, 150.0)).unwrap();
    assert_eq!(on_side.tiers[1].courses[0].kind.word(), "wrap");
    let on_band = drop(front(-80.0, 90.0)).unwrap();
    assert_eq!(on_band.tiers[0].courses.len(), 3);
    let on_sign = drop(front(0.0, 140.0)).unwrap();
    assert_eq!(on_sign.pieces[0].form.art(), Some("b.svg"));
    let refusal = drop(above(30.0, 40.0)).unwrap_err();
    assert_eq!(refusal.to_string(), "the ball “ball” has no picture");
}
