//! Any sequence of edits can be undone and redone, keeps the document one that the reader accepts, and never panics.

use std::sync::Arc;
use std::time::Duration;

use tierproof::art::{Art, Shelf};
use tierproof::cake::{Cake, resolve, resolve_after};
use tierproof::design::model::pieces::SolidForm;
use tierproof::design::model::{
    At, CourseHeight, CourseKind, Design, Finish, Form, Measured, Paste, SeamPlace, Seat, Surface, Target,
};
use tierproof::design::{read_design, write_design};
use tierproof::edits::{
    Copy, CourseEdit, CourseName, Edit, History, NamedEdit, NewCourse, NewKind, NewPiece, PieceEdit, Resize, TierEdit,
    WholeEdit, apply, consequences, label,
};
use tierproof::measure::{Angle, Length, PlanPoint, TapePoint, Unit};

use super::dice::Dice;

const ART: [&str; 2] = ["art/star.svg", "art/spots.svg"];

fn shelf() -> Arc<Shelf> {
    let mut shelf = Shelf::default();
    let star = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><path d='M5 0 L10 10 L0 10 Z'/></svg>";
    for path in ART {
        shelf.insert(path, Arc::new(Art::read(star.as_bytes(), path).unwrap()));
    }
    Arc::new(shelf)
}

fn first_design() -> Design {
    let text = std::fs::read_to_string("assets/starters/two-round/cake.toml").unwrap();
    let mut design = read_design(&text, "cake.toml").unwrap();
    let paths: Vec<String> = design.art_paths().into_iter().map(str::to_owned).collect();
    for tier in &mut design.tiers {
        for course in &mut tier.courses {
            if let CourseKind::Wrap(wrap) = &mut course.kind {
                wrap.art = ART[1].to_owned();
            }
        }
    }
    assert!(!paths.is_empty());
    design
}

/// Random edits of a design as it is now, sensible and senseless.
struct Hand {
    dice: Dice,
}

impl Hand {
    fn length(&mut self) -> Length {
        match self.dice.below(12) {
            0 => Length::mm(-5.0),
            1 => Length::ZERO,
            2 => Length::mm(f64::NAN),
            3 => Length::mm(4000.0),
            _ => Length::mm(self.dice.share() * 60.0 + 1.0),
        }
    }

    fn place(&mut self) -> Length {
        Length::mm(self.dice.share() * 200.0 - 100.0)
    }

    fn name_of(&mut self, design: &Design) -> String {
        let pieces: Vec<String> = design.pieces.iter().map(|piece| piece.name.clone()).collect();
        if pieces.is_empty() || self.dice.below(30) == 0 { "nobody".to_owned() } else { self.dice.pick(&pieces) }
    }

    fn tier_of(&mut self, design: &Design) -> String {
        let tiers: Vec<String> = design.tiers.iter().map(|tier| tier.name.clone()).collect();
        self.dice.pick(&tiers)
    }

    fn new_name(&mut self, design: &Design) -> String {
        let taken = self.tier_of(design);
        self.dice.pick(&["", "bow", "a new name", "board", "süß", &taken, "x\ny"].map(str::to_owned))
    }

    fn finish(&mut self, design: &Design) -> String {
        let own: Vec<String> =
            design.finishes.keys().cloned().chain(["gold", "white", "none such"].map(str::to_owned)).collect();
        self.dice.pick(&own)
    }

    fn seat(&mut self, design: &Design) -> Seat {
        let on = match self.dice.below(4) {
            0 => Target::Board,
            1 => Target::Piece(self.name_of(design)),
            _ => Target::Tier(self.tier_of(design)),
        };
        let surface = if on == Target::Board && self.dice.below(9) > 0 {
            Surface::Board
        } else {
            self.dice.pick(&[Surface::Top, Surface::Side])
        };
        Seat { on, surface }
    }

    fn at(&mut self, surface: Surface) -> At {
        let (first, second) = (self.place(), self.place());
        let side = (surface == Surface::Side) != (self.dice.below(20) == 0);
        if side {
            At::Tape(TapePoint { along: first, up: second.abs() })
        } else {
            At::Plan(PlanPoint { x: first, z: second })
        }
    }

    fn piece_edit(&mut self, design: &Design) -> PieceEdit {
        let seat = self.seat(design);
        match self.dice.below(16) {
            0..=3 => PieceEdit::Move(seat.clone(), self.at(seat.surface)),
            4 if self.dice.flip() => PieceEdit::Tilt(Angle::degrees(self.dice.share() * 120.0 - 60.0)),
            4 => PieceEdit::Turn(Angle::degrees(self.dice.share() * 8000.0 - 4000.0)),
            5 => {
                let length = self.length();
                let factor = self.dice.pick(&[0.5, 1.1, 2.0, 0.0, -1.0, f64::NAN]);
                PieceEdit::Resize(self.dice.pick(&[Resize::By(factor), Resize::Width(length), Resize::Height(length)]))
            }
            6 => PieceEdit::Finish(self.finish(design)),
            7 => PieceEdit::Art(self.dice.pick(&ART).to_owned()),
            8 => PieceEdit::Dry(self.dice.pick(&[None, Some(48.0), Some(-1.0)])),
            9 => PieceEdit::Rename(self.new_name(design)),
            10 => PieceEdit::Hide(self.dice.flip()),
            11 => PieceEdit::Lock(self.dice.below(3) == 0),
            12 => PieceEdit::Order(self.dice.below(9) as usize),
            13 => PieceEdit::Duplicate(self.dice.pick(&[Copy::Beside, Copy::Mirrored])),
            14 => PieceEdit::Mirror,
            _ => PieceEdit::Delete,
        }
    }

    fn tier_edit(&mut self, design: &Design) -> TierEdit {
        let (one, two) = (self.length(), self.length());
        match self.dice.below(13) {
            0 => {
                let mut tier = self.dice.pick(&design.tiers);
                tier.height = one;
                tier.edge = two;
                TierEdit::Set(Box::new(tier))
            }
            1 => TierEdit::Move(PlanPoint { x: self.place(), z: self.place() }),
            2 => TierEdit::Turn(Angle::degrees(self.dice.share() * 360.0)),
            3 => TierEdit::Measured(Measured {
                around: self.dice.maybe(|_| one * 10.0),
                across: None,
                height: self.dice.maybe(|_| two),
            }),
            4 => TierEdit::Rename(self.new_name(design)),
            5 => TierEdit::Lock(self.dice.below(3) == 0),
            6 => TierEdit::Order(self.dice.below(5) as usize),
            7 => TierEdit::Duplicate,
            8 => TierEdit::Mirror,
            9 => TierEdit::Delete,
            _ => {
                let art = ART[0].to_owned();
                let new = self.dice.pick(&[
                    NewCourse::Rope,
                    NewCourse::Pearls,
                    NewCourse::Band,
                    NewCourse::Wrap(art),
                    NewCourse::Bare,
                ]);
                TierEdit::AddCourse(new, self.dice.below(6) as usize)
            }
        }
    }

    fn course_edit(&mut self, design: &Design, name: &CourseName) -> CourseEdit {
        let (length, place) = (self.length(), self.place());
        match self.dice.below(14) {
            0 => {
                let courses: Vec<_> = design.tiers.iter().flat_map(|tier| &tier.courses).cloned().collect();
                CourseEdit::Set(Box::new(self.dice.pick(&courses).kind))
            }
            1 => {
                let fill = CourseHeight::Fill { weight: self.dice.share() * 3.0, least: length };
                CourseEdit::Height(self.dice.pick(&[CourseHeight::Fixed(length), fill]))
            }
            2 => CourseEdit::Finish(self.finish(design)),
            3 => CourseEdit::Art(self.dice.pick(&ART).to_owned()),
            4 => CourseEdit::Seam(self.dice.pick(&[SeamPlace::Back, SeamPlace::Along(place)])),
            5 | 6 => CourseEdit::Pin(place),
            7 => CourseEdit::MoveSeam(place, self.place()),
            8 => CourseEdit::Unpin(place),
            9 => CourseEdit::Rename(self.dice.pick(&["rim".to_owned(), String::new(), name.course.clone()])),
            10 => CourseEdit::Order(self.dice.below(6) as usize),
            11 => CourseEdit::Duplicate,
            12 => CourseEdit::Mirror,
            _ => CourseEdit::Delete,
        }
    }

    fn whole_edit(&mut self, design: &Design) -> WholeEdit {
        let seat = self.seat(design);
        match self.dice.below(12) {
            0 => WholeEdit::Title(self.dice.text()),
            1 => WholeEdit::Unit(self.dice.pick(&[Unit::Inch, Unit::Millimetre, Unit::Centimetre])),
            2 => {
                let mut board = design.board.clone();
                board.size.width = self.length() * 6.0;
                WholeEdit::Board(board)
            }
            3 => {
                let mut order = design.order.clone();
                order.portions = Some(self.dice.below(40));
                WholeEdit::Order(order)
            }
            4 => WholeEdit::AddTier(self.dice.below(4) as usize),
            _ => {
                let kinds = [
                    NewKind::Topper(ART[0].to_owned()),
                    NewKind::Plaque(None),
                    NewKind::Plaque(Some(ART[0].to_owned())),
                    NewKind::Ball,
                    NewKind::Scatter,
                    NewKind::Rope,
                    NewKind::Pearls,
                    NewKind::Bow,
                    NewKind::Sign("Seven bells".to_owned()),
                    NewKind::Rod,
                    NewKind::Solid(SolidForm::Candle),
                    NewKind::Solid(SolidForm::Flowers),
                ];
                let at = self.dice.flip().then(|| self.at(seat.surface));
                WholeEdit::AddPiece(NewPiece { kind: self.dice.pick(&kinds), seat, at })
            }
        }
    }

    fn edit(&mut self, design: &Design) -> Edit {
        match self.dice.below(20) {
            0..=8 => Edit::Piece(self.name_of(design), self.piece_edit(design)),
            9..=11 => Edit::Tier(self.tier_of(design), self.tier_edit(design)),
            12..=14 => {
                let tier = self.tier_of(design);
                let courses: Vec<String> = design
                    .tiers
                    .iter()
                    .filter(|found| found.name == tier)
                    .flat_map(|tier| tier.courses.iter().map(|course| course.name.clone()))
                    .chain(["none".to_owned()])
                    .collect();
                let name = CourseName::new(tier, self.dice.pick(&courses));
                let edit = self.course_edit(design, &name);
                Edit::Course(name, edit)
            }
            15 | 16 => {
                let name = self.finish(design);
                let finish = Finish { colour: self.dice.colour(), ..Finish::default() };
                let other = self.finish(design);
                let rename = NamedEdit::Rename(self.new_name(design));
                Edit::Finish(
                    name,
                    self.dice.pick(&[NamedEdit::Set(finish), rename, NamedEdit::Replace(other), NamedEdit::Delete]),
                )
            }
            17 => {
                let paste = Paste { colour: self.dice.colour(), density: 1.0 + self.dice.share(), waste: 0.1 };
                Edit::Paste("blue".to_owned(), self.dice.pick(&[NamedEdit::Set(paste), NamedEdit::Delete]))
            }
            _ => Edit::Whole(self.whole_edit(design)),
        }
    }
}

/// Keeps the cake within what a test can work through; a person's edits have no such bound.
fn is_small(design: &Design) -> bool {
    design.pieces.len() < 40 && design.tiers.len() < 6 && design.tiers.iter().all(|tier| tier.courses.len() < 9)
}

#[test]
fn a_thousand_edits_are_undone_and_redone() {
    let shelf = shelf();
    let first = Arc::new(first_design());
    let mut history = History::new(Arc::clone(&first));
    let mut hand = Hand { dice: Dice::new(3) };
    let (mut done, mut refused, mut asked) = (0, 0, 0_u64);
    let mut states = vec![Arc::clone(&first)];
    let mut cake = None;
    while done < 1000 {
        asked += 1;
        assert!(asked < 20_000, "edits are refused too often");
        let edit = hand.edit(history.now());
        let before = Arc::clone(history.now());
        let outcome = apply(&before, &edit);
        if outcome.as_ref().is_ok_and(|next| !is_small(next) || *next == *before) {
            continue;
        }
        // Far enough apart that no two make one step.
        let answer = history.edit(&edit, Duration::from_secs(asked * 10));
        assert_eq!(answer.is_ok(), outcome.is_ok());
        match answer {
            Ok(()) => {
                done += 1;
                let resolved = check(history.now(), cake.as_ref(), &shelf, &label(&before, &edit));
                if done % 4 == 0 {
                    let alone = resolve(history.now(), &shelf).unwrap();
                    let is_same = alone.pieces == resolved.pieces && alone.findings == resolved.findings;
                    assert!(is_same, "after {}", label(&before, &edit));
                }
                cake = Some(resolved);
                states.push(Arc::clone(history.now()));
            }
            Err(refusal) => {
                refused += 1;
                assert!(!refusal.to_string().is_empty() && !refusal.mend().is_empty());
                assert_eq!(*history.now(), before, "a refused edit changes nothing");
            }
        }
    }
    assert_eq!(history.steps(), (1000, 0));
    assert!(refused > 20, "some of the edits were senseless: {refused}");
    let last = Arc::clone(history.now());
    for state in states.iter().rev().skip(1) {
        assert!(history.undo().is_some());
        assert_eq!(**history.now(), **state);
    }
    assert!(history.undo().is_none());
    assert_eq!(**history.now(), *first);
    while history.redo().is_some() {}
    assert_eq!(**history.now(), *last);
}

/// Every state is one that a file holds, and one that resolves after the one before.
fn check(design: &Arc<Design>, before: Option<&Cake>, shelf: &Arc<Shelf>, by: &str) -> Cake {
    let text = write_design(design, None);
    let read = read_design(&text, "cake.toml").unwrap_or_else(|problems| panic!("after {by}:\n{problems}\n{text}"));
    assert_eq!(read, **design, "after {by}");
    resolve_after(before, design, shelf).unwrap_or_else(|error| panic!("after {by}: {error}"))
}

fn two_tiers() -> Design {
    let text = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n[[tier]]\nname = 'top'\nsize = 6\nheight = 4\n\
        [[piece]]\nname = 'plate'\nkind = 'plaque'\nsize = [2, 2]\nseat = { on = 'top', surface = 'top' }\n\
        [[piece]]\nname = 'ball'\nkind = 'ball'\nsize = 1\nseat = { on = 'plate', surface = 'top' }\n\
        [[piece]]\nname = 'bow'\nkind = 'bow'\nribbon = 1\nloop = 2\nseat = { on = 'top', surface = 'side' }\n\
        [[piece]]\nname = 'oar'\nkind = 'rod'\nseat = { on = 'board', surface = 'board' }\nleans_on = 'top'\n\
        parts = [{ length = 9, from = 0.5, to = 0.5 }]\n";
    read_design(text, "cake.toml").unwrap_or_else(|problems| panic!("{problems}"))
}

#[test]
fn what_sits_on_something_deleted_goes_down_or_goes_along_and_is_told() {
    let design = two_tiers();
    let without = apply(&design, &Edit::tier("top", TierEdit::Delete)).unwrap();
    let names: Vec<&str> = without.pieces.iter().map(|piece| piece.name.as_str()).collect();
    assert_eq!(names, ["plate", "ball", "oar"]);
    assert_eq!(consequences(&design, &without), ["“bow” went with “top”", "“plate” is now on the top of “base”"]);
    let Form::Rod(rod) = &without.pieces[2].form else { panic!() };
    assert_eq!(rod.leans_on, None);
    let without = apply(&design, &Edit::piece("plate", PieceEdit::Delete)).unwrap();
    assert_eq!(consequences(&design, &without), ["“ball” is now on the top of “top”"]);
    let refusal = apply(&read_design(MINIMAL, "").unwrap(), &Edit::tier("base", TierEdit::Delete)).unwrap_err();
    assert_eq!(refusal.to_string(), "a cake has at least one tier");
}

const MINIMAL: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n";

#[test]
fn names_are_followed_and_stay_unique() {
    let design = two_tiers();
    let renamed = apply(&design, &Edit::tier("top", TierEdit::Rename("crown".into()))).unwrap();
    assert_eq!(renamed.pieces[0].seat.on, Target::Tier("crown".into()));
    let renamed = apply(&renamed, &Edit::piece("plate", PieceEdit::Rename("dish".into()))).unwrap();
    assert_eq!(renamed.pieces[1].seat.on, Target::Piece("dish".into()));
    for taken in ["ball", "crown", "board", "", " "] {
        let refusal = apply(&renamed, &Edit::piece("dish", PieceEdit::Rename(taken.into()))).unwrap_err();
        assert!(!refusal.mend().is_empty(), "{taken}: {refusal}");
    }
    let gold = Edit::piece("ball", PieceEdit::Finish("gold".into()));
    let sea = Edit::Finish("sea".into(), NamedEdit::Set(Finish::default()));
    let both = apply(&renamed, &Edit::Several(vec![sea, gold])).unwrap();
    let used = apply(&both, &Edit::piece("dish", PieceEdit::Finish("sea".into()))).unwrap();
    let refusal = apply(&used, &Edit::Finish("sea".into(), NamedEdit::Delete)).unwrap_err();
    assert_eq!(refusal.to_string(), "the finish “sea” is used: piece “dish”, finish");
    let ocean = apply(&used, &Edit::Finish("sea".into(), NamedEdit::Rename("ocean".into()))).unwrap();
    assert!(matches!(&ocean.pieces[0].form, Form::Plaque(plaque) if plaque.finish == "ocean"));
    let replaced = apply(&ocean, &Edit::Finish("ocean".into(), NamedEdit::Replace("gold".into()))).unwrap();
    assert!(replaced.finishes.is_empty());
}

#[test]
fn a_value_that_no_design_can_have_is_told_with_its_place() {
    let design = two_tiers();
    let Form::Bow(bow) = &design.pieces[2].form else { panic!() };
    let mut wrong = bow.clone();
    wrong.ribbon = Length::mm(-3.0);
    let refusal = apply(&design, &Edit::piece("bow", PieceEdit::Form(Box::new(Form::Bow(wrong))))).unwrap_err();
    assert!(refusal.to_string().starts_with("piece “bow”, ribbon: "), "{refusal}");
    let mut right = bow.clone();
    right.ribbon = Length::mm(30.0);
    let edit = Edit::piece("bow", PieceEdit::Form(Box::new(Form::Bow(right))));
    assert_eq!(label(&design, &edit), "change “bow”: ribbon");
    assert!(apply(&design, &edit).is_ok());
}

#[test]
fn a_gesture_and_a_held_key_are_one_step_each() {
    let mut history = History::new(Arc::new(two_tiers()));
    let turn = |degrees: f64| Edit::piece("bow", PieceEdit::Turn(Angle::degrees(degrees)));
    for degrees in 1..9 {
        history.hold(&turn(f64::from(degrees))).unwrap();
    }
    assert!(history.hold(&turn(f64::NAN)).is_err());
    assert_eq!((history.steps(), history.undo_label()), ((0, 0), Some("turn “bow”")));
    assert_eq!(history.settled().pieces[2].turn, Angle::ZERO);
    history.drop_gesture();
    assert_eq!((history.steps(), history.now().pieces[2].turn), ((1, 0), Angle::degrees(8.0)));
    for step in 0..5 {
        history.edit(&turn(20.0 + f64::from(step)), Duration::from_millis(100 * step as u64)).unwrap();
    }
    assert_eq!(history.steps(), (2, 0));
    assert_eq!(history.undo().as_deref(), Some("turn “bow”"));
    assert_eq!(history.now().pieces[2].turn, Angle::degrees(8.0));
    // What changes nothing is no step; what is done after an undo ends what could be redone.
    history.edit(&turn(8.0), Duration::from_secs(9)).unwrap();
    assert_eq!(history.steps(), (1, 1));
    history.edit(&turn(9.0), Duration::from_secs(19)).unwrap();
    assert_eq!(history.steps(), (2, 0));
}

#[test]
fn every_kind_is_added_with_sizes_that_suit_this_cake() {
    for (unit, across) in [("in", "4"), ("in", "14"), ("mm", "150")] {
        let text = format!("unit = '{unit}'\n[[tier]]\nname = 'base'\nsize = {across}\nheight = '100 mm'\n");
        let mut design = read_design(&text, "").unwrap();
        let kinds = [
            NewKind::Topper(ART[0].to_owned()),
            NewKind::Plaque(None),
            NewKind::Ball,
            NewKind::Scatter,
            NewKind::Rope,
            NewKind::Pearls,
            NewKind::Bow,
            NewKind::Sign("Ahoy".to_owned()),
            NewKind::Rod,
            NewKind::Solid(SolidForm::Figure),
        ];
        for kind in kinds {
            for surface in [Surface::Top, Surface::Side, Surface::Board] {
                let on = if surface == Surface::Board { Target::Board } else { Target::Tier("base".into()) };
                let new = NewPiece { kind: kind.clone(), seat: Seat { on, surface }, at: None };
                design = apply(&design, &Edit::Whole(WholeEdit::AddPiece(new))).unwrap();
            }
        }
        for new in
            [NewCourse::Rope, NewCourse::Pearls, NewCourse::Wrap(ART[0].into()), NewCourse::Band, NewCourse::Bare]
        {
            design = apply(&design, &Edit::tier("base", TierEdit::AddCourse(new, 9))).unwrap();
        }
        assert_eq!(design.pieces.len(), 30);
        let cake = resolve(&Arc::new(design), &shelf()).unwrap();
        let width = cake.tiers[0].across();
        for placed in &cake.pieces {
            let (size, name) = (placed.measure.size, &cake.designed(placed).unwrap().name);
            assert!(size.width < width * 1.1 && size.width > Length::mm(3.0), "{name} is {size:?} on {width:?}");
        }
    }
}

#[test]
fn mirrored_twice_is_as_before_and_copies_are_free_of_the_first() {
    let mut design = two_tiers();
    for (number, piece) in design.pieces.iter_mut().enumerate() {
        piece.turn = Angle::degrees(10.0 * number as f64);
        if let At::Plan(at) = &mut piece.at {
            at.x = Length::inches(0.5 + number as f64);
        }
    }
    for edit in [Edit::tier("top", TierEdit::Mirror), Edit::piece("plate", PieceEdit::Mirror)] {
        let once = apply(&design, &edit).unwrap();
        // What sits on a plate goes to its other side with it.
        for (before, after) in design.pieces.iter().zip(&once.pieces).take(2) {
            let (At::Plan(before), At::Plan(after)) = (before.at, after.at) else { panic!() };
            assert_eq!(after.x, -before.x);
        }
        assert_eq!(apply(&once, &edit).unwrap(), design);
    }
    let copied = apply(&design, &Edit::piece("bow", PieceEdit::Duplicate(Copy::Mirrored))).unwrap();
    assert_eq!((copied.pieces[3].name.as_str(), copied.pieces[3].turn), ("bow 2", Angle::degrees(-20.0)));
    let hidden = apply(&copied, &Edit::piece("plate", PieceEdit::Hide(true))).unwrap();
    assert!(hidden.pieces[0].hidden && hidden.pieces[1].hidden, "what sits on it is hidden with it");
    let shown = apply(&hidden, &Edit::piece("ball", PieceEdit::Hide(false))).unwrap();
    assert_eq!(shown, copied);
}
