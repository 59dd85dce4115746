//! The workbench.

use std::sync::Arc;
use std::time::Duration;

use super::follow::{added, chosen_after, moved, plans_that_hold};
use super::{Done, Job};
use crate::art::Shelf;
use crate::cake::{Cake, CakeError, resolve, resolve_after};
use crate::checks::{Clash, clashes};
use crate::design::Design;
use crate::edits::choose::Thing;
use crate::edits::{CourseName, Edit, History, Refusal};
use crate::findings::{Finding, Severity};
use crate::proof::approval::Approval;
use crate::proof::work::Work;
use crate::wraps::WrapPlan;

/// How often each part of a bench changed: who follows it compares these with those seen last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Versions {
    /// The design as it is shown, also in the middle of a gesture.
    pub design: u64,
    /// The design without a gesture that is under way: what is to be saved.
    pub settled: u64,
    /// The cake that is shown.
    pub cake: u64,
    /// The plans that are shown of its wraps, and what was worked out.
    pub work: u64,
    /// What is chosen.
    pub choice: u64,
}

/// A design being worked on, with everything that follows from it.
#[derive(Clone, Debug)]
pub struct Workbench {
    history: History,
    shelf: Arc<Shelf>,
    /// The approval that was written down last.
    approval: Option<Arc<Approval>>,
    cake: Arc<Cake>,
    /// Why the design as it is can't be shown; the cake is that of the last state that could.
    trouble: Option<CakeError>,
    clashes: Vec<Clash>,
    plans: Arc<Vec<WrapPlan>>,
    work: Option<Done>,
    /// How grave each finding of it is, and about what.
    severities: Vec<(Thing, Severity)>,
    chosen: Option<Thing>,
    /// What was chosen when the gesture under way began: each edit of a gesture starts from there.
    chosen_before: Option<Thing>,
    versions: Versions,
}

impl Workbench {
    /// A bench with a design and its art.
    ///
    /// # Errors
    /// A piece whose art can't be cut.
    pub fn new(design: Arc<Design>, shelf: Arc<Shelf>) -> Result<Self, CakeError> {
        let cake = Arc::new(resolve(&design, &shelf)?);
        Ok(Self {
            history: History::new(design),
            shelf,
            approval: None,
            cake,
            trouble: None,
            clashes: Vec::new(),
            plans: Arc::default(),
            work: None,
            severities: Vec::new(),
            chosen: None,
            chosen_before: None,
            versions: Versions::default(),
        })
    }

    /// The design as it is shown, also in the middle of a gesture.
    #[must_use]
    pub const fn design(&self) -> &Arc<Design> {
        self.history.now()
    }

    /// The design without a gesture that is under way.
    #[must_use]
    pub fn settled(&self) -> &Arc<Design> {
        self.history.settled()
    }

    /// What was done and can be undone.
    #[must_use]
    pub const fn history(&self) -> &History {
        &self.history
    }

    /// The art.
    #[must_use]
    pub const fn shelf(&self) -> &Arc<Shelf> {
        &self.shelf
    }

    /// The cake that is shown: of the design as it is, unless [`Workbench::trouble`] says why not.
    #[must_use]
    pub const fn cake(&self) -> &Arc<Cake> {
        &self.cake
    }

    /// Why the design as it is can't be shown.
    #[must_use]
    pub const fn trouble(&self) -> Option<&CakeError> {
        self.trouble.as_ref()
    }

    /// The plans of the wraps that are shown; those of wraps that changed since are missing until they are planned anew.
    #[must_use]
    pub const fn plans(&self) -> &Arc<Vec<WrapPlan>> {
        &self.plans
    }

    /// The plan of a wrap that is shown.
    #[must_use]
    pub fn plan_of(&self, name: &CourseName) -> Option<&WrapPlan> {
        let tier = self.cake.tiers.iter().position(|tier| tier.name == name.tier)?;
        let course = self.cake.tiers.get(tier)?.courses.iter().position(|course| course.name == name.course)?;
        self.plans.iter().find(|plan| plan.tier == tier && plan.course == course)
    }

    /// What runs into what, and what stands over an edge, of the pieces that the last edit or gesture moved.
    #[must_use]
    pub fn clashes(&self) -> &[Clash] {
        &self.clashes
    }

    /// What was worked out last; may be of an earlier state of the design, see [`Workbench::is_behind`].
    #[must_use]
    pub fn work(&self) -> Option<&Arc<Work>> {
        self.work.as_ref()?.outcome.as_ref().ok()
    }

    /// Whether what was worked out is not of the design as it is.
    #[must_use]
    pub fn is_behind(&self) -> bool {
        self.history.is_held() || self.job().is_some()
    }

    /// How grave the gravest finding about a thing is; `None` while there is none.
    #[must_use]
    pub fn severity_of(&self, thing: &Thing) -> Option<Severity> {
        self.severities.iter().filter(|(of, _)| of == thing).map(|(_, severity)| *severity).max()
    }

    /// What is chosen.
    #[must_use]
    pub const fn chosen(&self) -> Option<&Thing> {
        self.chosen.as_ref()
    }

    /// How often each part changed.
    #[must_use]
    pub const fn versions(&self) -> Versions {
        self.versions
    }

    /// Chooses something, or nothing.
    pub fn choose(&mut self, thing: Option<Thing>) {
        let thing = thing.filter(|thing| thing.is_in_design(self.design()));
        if self.chosen != thing {
            self.chosen = thing;
            self.versions.choice += 1;
        }
    }

    /// Carries out an edit as one step; see [`History::edit`]. What it adds is chosen.
    ///
    /// # Errors
    /// When the edit is refused; nothing changed then.
    pub fn edit(&mut self, edit: &Edit, at: Duration) -> Result<(), Refusal> {
        let before = Arc::clone(self.design());
        self.history.edit(edit, at)?;
        let chosen = chosen_after(self.chosen.clone(), edit, (&before, self.design()));
        self.follow();
        self.choose(chosen);
        Ok(())
    }

    /// Shows what an edit would do, in the middle of a gesture; see [`History::hold`].
    ///
    /// # Errors
    /// When the edit is refused; what the gesture showed last stays.
    pub fn hold(&mut self, edit: &Edit) -> Result<(), Refusal> {
        let is_first = !self.history.is_held();
        self.history.hold(edit)?;
        if is_first {
            self.chosen_before.clone_from(&self.chosen);
        }
        let chosen = chosen_after(self.chosen_before.clone(), edit, (&Arc::clone(self.settled()), self.design()));
        self.follow();
        self.choose(chosen);
        Ok(())
    }

    /// Ends a gesture: what it shows becomes one step.
    pub fn drop_gesture(&mut self) {
        if self.history.is_held() {
            self.history.drop_gesture();
            self.versions.settled += 1;
        }
    }

    /// Gives a gesture up.
    pub fn cancel_gesture(&mut self) {
        if self.history.is_held() {
            self.history.cancel_gesture();
            self.follow();
            self.choose(self.chosen_before.clone());
        }
    }

    /// Goes back one step and says which. What comes back is chosen.
    pub fn undo(&mut self) -> Option<String> {
        self.step(History::undo)
    }

    /// Goes forward one step again and says which. What comes back is chosen.
    pub fn redo(&mut self) -> Option<String> {
        self.cancel_gesture();
        self.step(History::redo)
    }

    fn step(&mut self, step: impl Fn(&mut History) -> Option<String>) -> Option<String> {
        let before = Arc::clone(self.design());
        let label = step(&mut self.history)?;
        let back = added(&before, self.design());
        self.follow();
        if back.is_some() {
            self.choose(back);
        }
        Some(label)
    }

    /// Takes art that was read anew: brought in, or changed on the disk.
    pub fn restock(&mut self, shelf: Arc<Shelf>) {
        self.shelf = shelf;
        self.follow();
    }

    /// What is to be worked out for the design as it is; `None` in the middle of a gesture, and when that is done.
    #[must_use]
    pub fn job(&self) -> Option<Job> {
        let (design, shelf) = (Arc::clone(self.history.now()), Arc::clone(&self.shelf));
        let job = Job { design, shelf, approval: self.approval.clone() };
        let is_done = self.work.as_ref().is_some_and(|done| done.job.is(&job));
        (!is_done && !self.history.is_held() && self.trouble.is_none()).then_some(job)
    }

    /// Takes the approval that was written down last, to be told when the design has moved on since.
    pub fn approve(&mut self, approval: Option<Approval>) {
        if self.approval.as_deref() != approval.as_ref() {
            self.approval = approval.map(Arc::new);
            self.versions.settled += 1;
        }
    }

    /// Takes over what was worked out. What is of an earlier state is taken too: it is nearer than what was there before.
    pub fn take(&mut self, done: Done) {
        self.work = Some(done);
        let findings = self.work().map(|work| work.findings.as_slice()).unwrap_or_default();
        let design = self.design();
        let severity = |finding: &Finding| Some((Thing::of_place(design, &finding.place)?, finding.severity));
        self.severities = findings.iter().filter_map(severity).collect();
        self.match_plans();
        self.versions.work += 1;
    }

    /// Resolves the design as it is; keeps the last good cake where that can't be done.
    fn follow(&mut self) {
        self.versions.design += 1;
        if !self.history.is_held() {
            self.versions.settled += 1;
        }
        match resolve_after(Some(&self.cake), self.history.now(), &self.shelf) {
            Ok(cake) => {
                self.clashes = clashes(&cake, &moved(&self.cake, &cake));
                self.cake = Arc::new(cake);
                self.trouble = None;
                self.versions.cake += 1;
                self.match_plans();
            }
            Err(error) => self.trouble = Some(error),
        }
        self.choose(self.chosen.clone());
    }

    fn match_plans(&mut self) {
        let Some(work) = self.work() else { return };
        let plans = plans_that_hold(&work.plans, (&work.cake, &self.cake));
        if *self.plans != plans {
            self.plans = Arc::new(plans);
            self.versions.work += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::read_design;
    use crate::edits::{PieceEdit, Resize, TierEdit};
    use crate::measure::{Angle, Length};

    const TEXT: &str = "unit = 'in'\n[[tier]]\nname = 'base'\nsize = 8\nheight = 4\n\
        [[tier.course]]\nname = 'print'\nkind = 'wrap'\nheight = 'fill'\nart = 'a.svg'\n\
        [[piece]]\nname = 'one'\nkind = 'ball'\nsize = 1\nseat = { on = 'base', surface = 'top' }\n\
        [[piece]]\nname = 'two'\nkind = 'ball'\nsize = 1\nat = { x = 2 }\nseat = { on = 'base', surface = 'top' }\n";
    const NOW: Duration = Duration::ZERO;

    fn bench() -> Workbench {
        Workbench::new(Arc::new(read_design(TEXT, "").unwrap()), Arc::default()).unwrap()
    }

    fn wide(inches: f64) -> Edit {
        Edit::piece("one", PieceEdit::Resize(Resize::Width(Length::inches(inches))))
    }

    #[test]
    fn a_gesture_shows_at_once_and_is_worked_out_when_it_ends() {
        let mut bench = bench();
        let done = bench.job().unwrap().run();
        bench.take(done);
        assert!(!bench.is_behind() && bench.plans().len() == 1);
        let before = bench.versions();
        bench.hold(&wide(5.0)).unwrap();
        assert_eq!(bench.clashes()[0].pieces, [0, 1]);
        assert!(bench.is_behind() && bench.job().is_none());
        let held = bench.versions();
        assert!(held.cake > before.cake && held.design > before.design && held.settled == before.settled);
        // Where the strips lie is no affair of the ball's.
        assert_eq!((bench.plans().len(), held.work), (1, before.work));
        bench.cancel_gesture();
        assert!(!bench.is_behind() && bench.clashes().is_empty(), "{:?}", bench.clashes());
        bench.hold(&wide(5.0)).unwrap();
        bench.drop_gesture();
        assert_ne!(bench.versions().settled, before.settled);
        let done = bench.job().unwrap().run();
        bench.take(done);
        assert_eq!(bench.work().unwrap().cake.design, *bench.design());
        assert_eq!(bench.undo().as_deref(), Some("resize “one”"));
        assert!(bench.job().is_some());
    }

    #[test]
    fn plans_follow_their_wraps_by_name_and_go_when_those_change() {
        let mut bench = bench();
        let done = bench.job().unwrap().run();
        bench.take(done);
        bench.edit(&Edit::Whole(crate::edits::WholeEdit::AddTier(0)), NOW).unwrap();
        assert_eq!((bench.plans().len(), bench.plans()[0].tier), (1, 1));
        let measured = crate::design::model::Measured { height: Some(Length::inches(4.25)), ..Default::default() };
        bench.edit(&Edit::tier("base", TierEdit::Measured(measured)), NOW).unwrap();
        assert!(bench.plans().is_empty());
        bench.undo().unwrap();
        assert_eq!(bench.plans().len(), 1);
    }

    #[test]
    fn the_choice_follows_names_and_additions_and_goes_with_what_is_deleted() {
        let mut bench = bench();
        let chosen = |bench: &Workbench| bench.chosen().cloned();
        bench.choose(Some(Thing::Piece("one".to_owned())));
        bench.edit(&Edit::piece("one", PieceEdit::Rename("uno".to_owned())), NOW).unwrap();
        assert_eq!(chosen(&bench), Some(Thing::Piece("uno".to_owned())));
        bench.edit(&Edit::piece("uno", PieceEdit::Duplicate(crate::edits::Copy::Beside)), NOW).unwrap();
        assert_eq!(chosen(&bench), Some(Thing::Piece("uno 2".to_owned())));
        bench.edit(&Edit::piece("uno 2", PieceEdit::Delete), NOW).unwrap();
        assert_eq!(chosen(&bench), None);
        bench.undo().unwrap();
        assert_eq!(chosen(&bench), Some(Thing::Piece("uno 2".to_owned())));
        bench.redo().unwrap();
        assert_eq!(chosen(&bench), None);
        bench.choose(Some(Thing::Course(CourseName::new("base", "print"))));
        bench.edit(&Edit::tier("base", TierEdit::Rename("foot".to_owned())), NOW).unwrap();
        assert_eq!(chosen(&bench), Some(Thing::Course(CourseName::new("foot", "print"))));
        bench.choose(Some(Thing::Piece("nobody".to_owned())));
        assert_eq!(chosen(&bench), None);
    }

    #[test]
    fn what_was_approved_is_told_and_when_it_has_moved_on() {
        let mut bench = bench();
        let done = bench.job().unwrap().run();
        bench.take(done);
        assert!(bench.work().unwrap().facts.approval.is_none());
        let revision = crate::design::revision(bench.design(), &bench.shelf().digests()).in_full();
        bench.approve(Some(Approval::new("M. Example", "2026-11-28".parse().unwrap(), &revision).unwrap()));
        let work = |bench: &mut Workbench| {
            let done = bench.job().unwrap().run();
            bench.take(done);
            assert!(bench.job().is_none());
            let approval = bench.work().unwrap().facts.approval.clone().unwrap();
            (approval.stands, bench.work().unwrap().findings.iter().any(|finding| finding.code.word() == "moved-on"))
        };
        assert_eq!(work(&mut bench), (true, false));
        bench.edit(&Edit::piece("one", PieceEdit::Turn(Angle::degrees(10.0))), NOW).unwrap();
        assert_eq!(work(&mut bench), (false, true));
    }

    #[test]
    fn a_seam_that_is_dragged_stays_chosen_wherever_it_goes() {
        let mut bench = bench();
        let done = bench.job().unwrap().run();
        bench.take(done);
        let from = Length::mm(bench.plans()[0].seams[0].along);
        let name = CourseName::new("base", "print");
        let seam = |along| Some(Thing::Seam(name.clone(), along));
        let drag = |to| Edit::Course(name.clone(), crate::edits::CourseEdit::MoveSeam(from, to));
        bench.choose(seam(from));
        for inches in [1.0, 2.0, 3.0] {
            bench.hold(&drag(Length::inches(inches))).unwrap();
            assert_eq!(bench.chosen().cloned(), seam(Length::inches(inches)));
        }
        bench.cancel_gesture();
        assert_eq!(bench.chosen().cloned(), seam(from));
        bench.hold(&drag(Length::inches(2.0))).unwrap();
        bench.drop_gesture();
        assert_eq!(bench.chosen().cloned(), seam(Length::inches(2.0)));
    }

    #[test]
    fn a_refusal_changes_nothing_and_art_that_is_missing_leaves_the_last_cake() {
        let mut bench = bench();
        let before = bench.versions();
        assert!(bench.edit(&Edit::piece("none", PieceEdit::Turn(Angle::ZERO)), NOW).is_err());
        assert!(bench.hold(&wide(1e9)).is_err());
        assert_eq!(bench.versions(), before);
        let kind = crate::edits::NewKind::Topper("art/none.svg".to_owned());
        let seat = bench.design().pieces[0].seat.clone();
        let topper = Edit::Whole(crate::edits::WholeEdit::AddPiece(crate::edits::NewPiece { kind, seat, at: None }));
        bench.edit(&topper, NOW).unwrap();
        assert!(bench.trouble().unwrap().to_string().contains("art/none.svg"));
        assert_eq!((bench.cake().pieces.len(), bench.versions().cake), (2, before.cake));
        bench.undo().unwrap();
        assert!(bench.trouble().is_none());
    }
}
