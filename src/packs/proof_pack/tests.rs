use std::sync::Arc;

use glam::{DAffine3, DVec2, DVec3};

use super::*;
use crate::art::{Colour, Picture};
use crate::cake::{Owner, Surface};
use crate::design::Look;
use crate::design::model::pieces::{Ball, Solid, SolidForm};
use crate::design::model::{
    At, Course, CourseHeight, CourseKind, Finish, Form, Order, Piece, SeamPlace, Seat, Surface as SeatSurface, Target,
    Tier,
};
use crate::measure::{Angle, Length, PlanPoint};
use crate::proof::carrying::BoxFacts;
use crate::proof::facts::{
    BoardFacts, CourseFacts, FinishedFacts, OverallFacts, PickFacts, PieceFacts, PlaceFacts, SCHEMA, SeatFacts,
    ServingFacts, SizeFacts, TierFacts,
};
use crate::proof::view::{Camera, Direction, NAMED};
use crate::proof::working::{PriceFacts, PriceLineFacts};
use crate::shapes::Mesh;

fn design() -> Design {
    let rope = CourseKind::Rope {
        diameter: Length::inches(0.25),
        finish: "gold".into(),
        seam: SeamPlace::Back,
        stuck_with: None,
    };
    let lid = CourseKind::Band {
        height: CourseHeight::Fill { weight: 1.0, least: Length::ZERO },
        thickness: Length::inches(0.125),
        finish: "white".into(),
        seam: SeamPlace::Along(Length::inches(2.5)),
        stuck_with: None,
    };
    let courses =
        [("foot rope", rope), ("lid", lid)].map(|(name, kind)| Course { name: name.into(), kind, locked: false });
    let tier = Tier { name: "base".into(), courses: courses.to_vec(), ..Tier::default() };
    let ball =
        Ball { size: Length::inches(1.0), sunk: Length::ZERO, pin: true, clear_of_seams: None, finish: "gold".into() };
    let flowers = Solid {
        form: SolidForm::Flowers,
        across: Length::inches(2.0),
        height: Length::inches(1.5),
        finish: "rose".into(),
    };
    let gold = Finish { colour: Colour::new(201, 162, 39), look: Look::Metal, paste: None };
    Design {
        title: "Harbour birthday".into(),
        order: Order {
            customer: "M. Example".into(),
            event: "Harbour party".into(),
            handover: Some(jiff::civil::date(2026, 12, 12).at(10, 0, 0, 0)),
            portions: Some(18),
            allergens: ["milk", "eggs", "wheat"].map(String::from).to_vec(),
            ..Order::default()
        },
        tiers: vec![tier],
        pieces: vec![piece("ball by the door", Form::Ball(ball)), piece("roses", Form::Solid(flowers))],
        finishes: [("gold".to_owned(), gold)].into(),
        ..Design::default()
    }
}

fn piece(name: &str, form: Form) -> Piece {
    Piece {
        name: name.into(),
        seat: Seat { on: Target::Tier("base".into()), surface: SeatSurface::Top },
        at: At::Plan(PlanPoint::default()),
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        form,
        dry_hours: None,
        stuck_with: None,
        hidden: false,
        locked: false,
    }
}

/// The one tier of the facts.
fn base(servings: ServingFacts) -> TierFacts {
    let inch = |value: f64| value * 25.4;
    let course = |name: &str, kind: &str, bottom: f64, top: f64| CourseFacts {
        name: name.into(),
        kind: kind.into(),
        bottom: inch(bottom),
        top: inch(top),
        length: inch(24.75),
        seam: None,
    };
    TierFacts {
        name: "base".into(),
        shape: "round".into(),
        finished: FinishedFacts {
            across: inch(7.75),
            depth: inch(7.75),
            height: inch(5.5),
            around: inch(24.35),
            top_area: 30_000.0,
        },
        courses: vec![course("foot rope", "rope", 0.0, 0.25), course("lid", "band", 0.25, 5.5)],
        mass: 1500.0,
        servings,
    }
}

fn facts(design: &Design) -> Facts {
    let inch = |value: f64| value * 25.4;
    let servings = ServingFacts { party: 16, wedding: 24, ordered: 16, ordered_by_volume: 16 };
    let pieces = design.pieces.iter().map(|piece| PieceFacts {
        name: piece.name.clone(),
        kind: piece.form.kind().into(),
        seat: SeatFacts { on: "base".into(), surface: "top".into() },
        at: PlaceFacts::default(),
        size: SizeFacts { width: inch(1.0), height: inch(1.0), depth: inch(1.0) },
        finishes: vec!["gold".into()],
        mass: 12.0,
        prints: Vec::new(),
        cuts: Vec::new(),
        picks: matches!(piece.form, Form::Ball(_))
            .then_some(PickFacts {
                what: "pin",
                diameter: 1.5,
                length: inch(1.5),
                into_piece: 20.0,
                into_cake: 18.0,
                x: 0.0,
                up: 0.0,
            })
            .into_iter()
            .collect(),
        necks: Vec::new(),
    });
    Facts {
        schema: SCHEMA,
        title: design.title.clone(),
        revision: "3fa9c1d0".into(),
        approval: None,
        unit: "in".into(),
        tiers: vec![base(servings)],
        wraps: Vec::new(),
        pieces: pieces.collect(),
        sheets: Vec::new(),
        pastes: Vec::new(),
        supports: Vec::new(),
        sticks: Vec::new(),
        board: BoardFacts { across: inch(12.0), needed: inch(9.0) },
        overall: OverallFacts {
            width: inch(12.0),
            depth: inch(12.0),
            height: inch(8.0),
            mass: 1512.0,
            carton: BoxFacts::round(DVec3::new(inch(12.0), inch(8.0), inch(12.0))),
        },
        servings,
        schedule: Vec::new(),
        price: PriceFacts::default(),
        findings: Vec::new(),
        cautions: Vec::new(),
    }
}

fn shots() -> Vec<Shot> {
    let shot = |&(view, direction): &(&str, Direction)| Shot {
        view: view.into(),
        camera: Camera::framing(direction, &[DVec3::ZERO, DVec3::Y * 100.0], (80, 60), 0.1),
        picture: Picture::filled(80, 60, [120, 150, 160, 255]),
    };
    NAMED.iter().map(shot).collect()
}

fn body() -> Body {
    let mut mesh = Mesh::default();
    let corners = [DVec3::ZERO, DVec3::X, DVec3::Y].map(|at| mesh.corner(at, DVec3::Z, DVec2::ZERO));
    mesh.triangle(corners[0], corners[1], corners[2]);
    let surface = Surface { colour: Colour::default(), look: Look::Paste, picture: None };
    Body { name: "base".into(), mesh: Arc::new(mesh), pose: DAffine3::IDENTITY, surface, owner: Owner::Board }
}

/// Everything that a proof is made from.
pub(super) struct Given {
    facts: Facts,
    design: Design,
    shots: Vec<Shot>,
    bodies: Vec<Body>,
}

impl Given {
    pub(super) fn input(&self) -> ProofInput<'_> {
        let Self { facts, design, shots, bodies } = self;
        ProofInput { facts, design, shots, bodies, tiers: &[], turned: &[] }
    }
}

/// The design above, changed.
pub(super) fn given(change: impl FnOnce(&mut Design)) -> Given {
    let mut design = design();
    change(&mut design);
    Given { facts: facts(&design), design, shots: shots(), bodies: vec![body()] }
}

#[test]
fn the_pack_holds_every_file_and_repeats_itself() {
    let given = given(|_| {});
    let input = given.input();
    let pack = proof_pack(&input).unwrap();
    let names: Vec<&str> = pack.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, PROOF_FILES);
    assert_eq!(pack, proof_pack(&input).unwrap());
    assert!(pack[0].1.starts_with(b"%PDF-") && pack[2].1.starts_with(b"\x89PNG"));
    let read: serde_json::Value = serde_json::from_slice(&pack[9].1).unwrap();
    assert_eq!(read["revision"], "3fa9c1d0");
}

#[test]
fn the_price_is_named_where_it_is_asked_for_and_its_reckoning_never() {
    let with = |asked: Option<bool>, total: Option<f64>| {
        let mut given = given(|design| design.proof.price = asked);
        let line = PriceLineFacts { what: "work".into(), how: "4 h at 20".into(), amount: 80.0 };
        let currency = Some("EUR".to_owned());
        given.facts.price = PriceFacts { currency, lines: vec![line], cost: 80.0, total, ..PriceFacts::default() };
        given
    };
    let said = |given: &Given| {
        let html = proof_pack(&given.input()).unwrap().swap_remove(1).1;
        let told = for_customer(&given.input()).price;
        assert!(told.lines.is_empty() && told.cost == 0.0);
        (String::from_utf8(html).unwrap(), told.total)
    };
    let (html, told) = said(&with(Some(true), Some(120.5)));
    assert!(html.contains("120.50 EUR, for the cake") && !html.contains("80.00") && told == Some(120.5));
    assert!(said(&with(Some(true), None)).0.contains("The decorator has not set it yet."));
    for asked in [None, Some(false)] {
        let (html, told) = said(&with(asked, Some(120.5)));
        assert!(!html.contains("120.50") && told.is_none());
    }
}
