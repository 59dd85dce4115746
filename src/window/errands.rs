//! What a wish asks of the window itself: files, views, packs, messages.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::folders::reveal;
use super::likes;
use super::maker::{Maker, Order as MakerOrder};
use super::open::{Open, may_be_design};
use super::room::Room;
use super::saver::Order;
use crate::design::model::{At, Seat, Surface, Target};
use crate::edits::choose::{Choice, Place, Thing};
use crate::edits::{CourseEdit, Edit, NewCourse, NewKind, NewPiece, PieceEdit, TierEdit, WholeEdit, bring_in, dropped};
use crate::measure::{Length, PlanPoint};
use crate::panels::{ForArt, Pack, Said, Wish, serve};
use crate::proof::view::Direction;
use crate::scene::Rig;

impl Room {
    /// Takes what the threads brought.
    pub(super) fn listen(&mut self) {
        let Self { open, said, .. } = self;
        if let Some(open) = open {
            open.keep_up(said);
        }
        let Some(end) = self.maker.as_mut().and_then(Maker::listen) else { return };
        let Some(maker) = self.maker.take() else { return };
        let what = maker.order.pack.word();
        match end {
            Ok(()) => {
                let words = format!("{what} made: {}", maker.order.folder.display());
                self.said.push(Said { words, mend: String::new(), folder: Some(maker.order.folder) });
            }
            Err(_) if maker.is_called_off() => self.say(format!("{what} stopped; nothing was written"), ""),
            Err(reason) => self.say(format!("{what} not made: {reason}"), ""),
        }
    }

    /// Does what is wished; says why when it can't be done.
    pub(super) fn grant(&mut self, wish: Wish) {
        let changes = matches!(wish, Wish::Edit(_) | Wish::Hold(_) | Wish::Undo | Wish::Redo | Wish::BringIn(..));
        if changes && self.open.as_ref().is_some_and(Open::is_read_only) {
            return self.say("this design can only be looked at here", "close the other window to change it here");
        }
        let rest = match &mut self.open {
            Some(open) => {
                let now = open.now();
                serve(&mut open.bench, wish, now)
            }
            None => Ok(Some(wish)),
        };
        match rest {
            Ok(None) => {}
            Ok(Some(wish)) => self.run(wish),
            Err(refusal) => self.say(refusal.to_string(), refusal.mend()),
        }
    }

    /// Does what the bench can't.
    fn run(&mut self, wish: Wish) {
        match wish {
            Wish::Open(path) => {
                let opened = self.open(&path);
                self.tell(opened);
            }
            Wish::Begin(starter, folder) => {
                let begun = self.begin(starter, &folder);
                self.tell(begun);
            }
            Wish::SaveAs(folder) => {
                let saved = self.save_as(&folder);
                self.tell(saved);
            }
            Wish::Reveal(folder) => self.tell(reveal(&folder)),
            Wish::Leave => self.leave(),
            Wish::Set(settings) => {
                self.settings = settings;
                likes::keep(self.setting.refuge.as_deref(), settings);
            }
            Wish::Dismiss(number) if number < self.said.len() => {
                self.said.remove(number);
            }
            Wish::StopMaking => {
                if let Some(maker) = &self.maker {
                    maker.call_off();
                }
            }
            Wish::Make(pack, folder) => self.make(pack, folder),
            Wish::BringIn(picture, purpose) => self.bring(&picture, purpose),
            wish => self.run_on_open(wish),
        }
    }

    fn run_on_open(&mut self, wish: Wish) {
        let Some(open) = &mut self.open else { return };
        match wish {
            Wish::View(direction) => open.rig = Rig::whole(direction),
            Wish::GoTo(thing) => open.go_to(&thing),
            Wish::Save => {
                open.bench.drop_gesture();
                open.ask_saver(Order::Save);
            }
            Wish::TakeTheirs => open.ask_saver(Order::TakeTheirs),
            Wish::KeepMine => open.ask_saver(Order::KeepMine(Arc::clone(open.bench.design()))),
            _ => {}
        }
    }

    fn tell(&mut self, outcome: Result<(), String>) {
        if let Err(words) = outcome {
            self.say(words, "nothing was changed");
        }
    }

    fn make(&mut self, pack: Pack, folder: PathBuf) {
        let Some(open) = &self.open else { return };
        let Some(work) = open.bench.work().filter(|_| !open.bench.is_behind()).cloned() else {
            return self.say("the sizes are still being worked out", "ask again in a moment");
        };
        if self.maker.is_some() {
            return self.say("another pack is being made", "wait for it, or stop it first");
        }
        let order = MakerOrder { pack, work, folder };
        match Maker::start(order, self.setting.make, self.waker.clone()) {
            Ok(maker) => self.maker = Some(maker),
            Err(error) => self.say(format!("the system gives no more threads ({error})"), "close other programs"),
        }
    }

    /// Copies a picture into the design's folder and uses it.
    fn bring(&mut self, picture: &Path, purpose: ForArt) {
        let Some(open) = &mut self.open else { return };
        match bring_in(open.folder(), picture) {
            Ok(path) => {
                self.grant(Wish::Edit(use_art(path, purpose)));
            }
            Err(refusal) => self.say(refusal.to_string(), refusal.mend()),
        }
    }

    /// What a file or folder that is dropped on the window means.
    pub(super) fn receive(&mut self, path: &Path) -> Option<Wish> {
        if may_be_design(path) {
            return Some(Wish::Open(path.to_owned()));
        }
        if self.open.as_ref()?.is_read_only() {
            self.say("this design can only be looked at here", "close the other window to change it here");
            return None;
        }
        let open = self.open.as_ref()?;
        let choice = open.pointed.clone().or_else(|| open.top())?;
        match bring_in(open.folder(), path).and_then(|path| dropped(open.bench.design(), &choice, &path)) {
            Ok(edit) => Some(Wish::Edit(edit)),
            Err(refusal) => {
                self.say(refusal.to_string(), refusal.mend());
                None
            }
        }
    }
}

/// The edit that uses a picture of the design's folder.
fn use_art(path: String, purpose: ForArt) -> Edit {
    let on_top = |kind: NewKind, tier: String| {
        let seat = Seat { on: Target::Tier(tier), surface: Surface::Top };
        Edit::Whole(WholeEdit::AddPiece(NewPiece { kind, seat, at: None }))
    };
    match purpose {
        ForArt::Piece(name) => Edit::piece(name, PieceEdit::Art(path)),
        ForArt::Course(name) => Edit::Course(name, CourseEdit::Art(path)),
        ForArt::NewWrap(tier) => Edit::tier(tier, TierEdit::AddCourse(NewCourse::Wrap(path), usize::MAX)),
        ForArt::NewTopper(tier) => on_top(NewKind::Topper(path), tier),
        ForArt::NewPlaque(tier) => on_top(NewKind::Plaque(Some(path)), tier),
    }
}

impl Open {
    /// The middle of the uppermost top: where a picture goes that is dropped nobody knows where.
    fn top(&self) -> Option<Choice> {
        let tier = self.bench.cake().tiers.last()?;
        let seat = Seat { on: Target::Tier(tier.name.clone()), surface: Surface::Top };
        let middle = PlanPoint { x: Length::ZERO, z: Length::ZERO };
        let at = tier.pose().transform_point3(glam::DVec3::Y * tier.height.as_mm());
        let place = Place { seat, at: At::Plan(middle) };
        Some(Choice { thing: Thing::Tier(tier.name.clone()), at, normal: glam::DVec3::Y, place })
    }

    /// Turns the view to something.
    fn go_to(&mut self, thing: &Thing) {
        let cake = self.bench.cake();
        let middle = match thing {
            Thing::Piece(name) => {
                let placed = cake.pieces.iter().find(|placed| cake.designed(placed).is_some_and(|it| it.name == *name));
                placed.map(|placed| placed.pose.translation)
            }
            Thing::Seam(name, along) => cake.tier(&name.tier).map(|tier| {
                let spot = tier.outline.at(along.as_mm());
                tier.pose().transform_point3(glam::DVec3::new(spot.point.x, 0.0, spot.point.y))
            }),
            Thing::Board | Thing::Tier(_) | Thing::Course(_) => None,
        };
        let elevation = Direction::new(0.0, 16.0).elevation;
        if let Some(at) = middle.filter(|at| at.x.hypot(at.z) > 1.0) {
            let azimuth = crate::measure::Angle::degrees(at.x.atan2(at.z).to_degrees());
            self.rig = Rig::whole(Direction { azimuth, elevation });
        }
    }
}
