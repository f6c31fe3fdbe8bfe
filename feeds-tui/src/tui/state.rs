//! Everything the screens show, and nothing else.

use super::ask::{Prompt, Purpose};
use super::audit::AuditView;
use super::begin::Begin;
use super::features::FeatureView;
use super::job::PassOrder;
use super::lessons::Reading;
use super::line::EditLine;
use super::live::Live;
use super::message::Action;
use super::pick::{Pick, has};
use super::planning::Planning;
use super::practice::Practice;
use super::question::Asking;
use super::rehearsal::Rehearsal;
use super::shelves::ShelfView;
use super::shop::Workshop;
use super::theme::Theme;
use super::vary::Vary;
use crate::demo::NamedPass;
use crate::job::description_of;
use crate::pass::description::Description;
use crate::pass::effect::{InEffect, in_effect};
use crate::pass::field::Shelf;
use crate::pass::field::{FIELDS, Field, Key, Station};
use crate::pass::overrides::Overrides;
use crate::pass::resolve::Idle;
use crate::store::job::{Job, KeptChange, Pass, PlannedShelves};
use crate::store::shop::Shop as ShopFile;
use crate::words::said_in;
use feeds_core::symbol::System;
use std::path::PathBuf;
use std::rc::Rc;

/// The view that is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum View {
    /// A station of the walk.
    Walk,
    /// Every check and caution.
    Checks,
    /// Engagement, chip, force, margins.
    Pictures,
    /// The moments.
    Moments,
    /// The working.
    Working,
    /// The sources.
    Sources,
    /// What is heard and seen, and what it is on this pass.
    Listen,
    /// A programme beside the plan.
    Audit,
    /// One entry varied.
    Vary,
    /// Questions that are marked.
    Practice,
    /// The short lessons.
    Lessons,
    /// What turning the overrides does.
    Overrides,
    /// S and F in block letters.
    Big,
    /// The passes in order.
    Job,
    /// The features, with their plans.
    Features,
    /// The shelves of the shop.
    Shop,
    /// The pass beside a stand-in.
    Rehearsal,
}

/// What lies over the view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Over {
    /// An entry while it is typed.
    Entry(EditLine),
    /// A list to pick an entry from.
    Pick(Pick),
    /// What can be done here.
    Help(Help),
    /// A text that is asked for.
    Ask(Prompt),
    /// A question with a few answers.
    Question(Asking),
    /// The questions a job of one's own begins with.
    Begin(Begin),
}

/// Help: the actions of the view below.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Help {
    /// What was typed to find some.
    pub wanted: EditLine,
    /// The marked one of those found.
    pub at: usize,
}

/// Where the job is kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filed {
    /// Its file; a job that has none yet is asked for a name when it is saved.
    pub file: Option<PathBuf>,
    /// What stands there.
    pub saved: Job,
}

/// Where the text of an entry stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// In the pass.
    Here,
    /// In the job, for every pass.
    InJob,
    /// It follows from the cutter of an earlier pass.
    Left(usize),
}

/// What undo brings back.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapshot {
    pub(super) job: Job,
    pub(super) at: usize,
    pub(super) system: System,
    pub(super) station: Station,
    pub(super) rows: [usize; 5],
    pub(super) shelves: Rc<ShopFile>,
}

/// Everything the screens show.
#[derive(Clone, Debug)]
pub struct ScreenState {
    /// The job: its passes in order. It has one at least.
    pub job: Job,
    /// The pass that is open.
    pub at: usize,
    /// Where the job is kept.
    pub filed: Filed,
    /// The station that is open.
    pub station: Station,
    /// The line of each station the cursor is on.
    pub rows: [usize; 5],
    /// The view that is open.
    pub view: View,
    /// The line of the view the cursor is on.
    pub line: usize,
    /// The moment that is drawn.
    pub moment: usize,
    /// What lies over the view.
    pub over: Option<Over>,
    /// The entry that is varied.
    pub vary: Option<Vary>,
    /// The practice.
    pub practice: Practice,
    /// The lesson that is open.
    pub lesson: Reading,
    /// The units people read.
    pub system: System,
    /// What the terminal shows.
    pub theme: Theme,
    /// A word about the last key, until the next.
    pub note: Option<String>,
    /// The answer to what is typed.
    pub live: Live,
    /// The programme that is open.
    pub audit: Option<AuditView>,
    /// The passes in order; worked out while they are shown.
    pub order: PassOrder,
    /// The features; planned while they are shown.
    pub features: FeatureView,
    /// What of them is being planned.
    pub planning: Planning,
    /// What turning the overrides does; worked out while it is shown.
    pub overrides: Option<Overrides>,
    /// The shelves of the shop.
    pub shelf: ShelfView,
    /// The rehearsal.
    pub rehearsal: Rehearsal,
    /// The shelves as the job sees them, made anew when the job or the shop is another.
    planned: Rc<PlannedShelves<Rc<dyn Workshop>>>,
    /// The same, for those who only look things up.
    pub(super) shop: Rc<dyn Workshop>,
    /// The open pass with all it is described with, those of the job and of passes before included.
    opened: NamedPass,
    /// The earlier pass whose corners the open one meets.
    left_by: Option<usize>,
    pub(super) past: Vec<Snapshot>,
    pub(super) future: Vec<Snapshot>,
}

impl ScreenState {
    /// The walk on the first of some passes that are kept nowhere yet.
    pub fn new(
        passes: Vec<NamedPass>,
        shop: Rc<dyn Workshop>,
        system: System,
        theme: Theme,
    ) -> Self {
        let mut job = Job::default();
        let passes = passes.into_iter();
        job.passes = passes.map(|p| Pass::new(&p.name, p.typed)).collect();
        Self::of_job(job, shop, system, theme)
    }

    /// The walk on the first pass of a job.
    pub fn of_job(mut job: Job, shop: Rc<dyn Workshop>, system: System, theme: Theme) -> Self {
        if job.passes.is_empty() {
            job.passes.push(Pass::default());
        }
        let planned = Rc::new(job.planned(shop));
        let mut state = Self {
            filed: Filed {
                file: None,
                saved: job.clone(),
            },
            job,
            at: 0,
            station: Station::Cutter,
            rows: [0; 5],
            view: View::Walk,
            line: 0,
            moment: 0,
            over: None,
            vary: None,
            practice: Practice::default(),
            lesson: Reading::default(),
            system,
            theme,
            note: None,
            live: Live::default(),
            audit: None,
            order: PassOrder::default(),
            features: FeatureView::default(),
            planning: Planning::default(),
            overrides: None,
            shelf: ShelfView::of(ShopFile::default()),
            rehearsal: Rehearsal::default(),
            shop: Rc::<PlannedShelves<Rc<dyn Workshop>>>::clone(&planned),
            planned,
            opened: NamedPass::default(),
            left_by: None,
            past: Vec::new(),
            future: Vec::new(),
        };
        state.work_out();
        state
    }

    /// The pass that is open, with everything it is described with.
    pub fn pass(&self) -> &NamedPass {
        &self.opened
    }

    /// Where the text of an entry of the open pass stands.
    pub fn stands(&self, field: &Field) -> Stands {
        let own = |texts: &Description| texts.get(field.key).is_some();
        if own(&self.job.passes[self.at].texts) || self.draft().is_some_and(|d| d.0 == field.key) {
            Stands::Here
        } else if own(&self.job.common) {
            Stands::InJob
        } else {
            Stands::Left(self.left_by.unwrap_or_default())
        }
    }

    /// The entry, if it has a text and no part in the open pass.
    pub fn idle(&self, field: &Field) -> Option<&Idle> {
        let answer = self.live.answer.as_ref()?;
        let mut idle = answer.resolved.idle.iter();
        idle.find(|idle| idle.entry == field.key)
    }

    /// Whether there are changes that no file has.
    pub fn is_unsaved(&self) -> bool {
        self.filed.saved != self.job
    }

    /// The shelves of the shop, without what the job was planned with.
    pub(super) fn shelves(&self) -> Rc<dyn Workshop> {
        Rc::clone(&self.planned.shop)
    }

    /// Puts other shelves in the place of these.
    pub(super) fn set_shelves(&mut self, shop: Rc<dyn Workshop>) {
        self.planned = Rc::new(self.job.planned(shop));
        self.shop = Rc::<PlannedShelves<Rc<dyn Workshop>>>::clone(&self.planned);
        self.live.forget_parts();
        self.rehearsal.forget();
    }

    /// What became of a thing that the open pass was planned with.
    pub fn change(&self, shelf: Shelf) -> Option<KeptChange> {
        let name = self.opened.typed.get(shelf.word())?;
        self.planned.change(shelf, name)
    }

    /// Says a word about the last key.
    pub fn say(&mut self, text: impl Into<String>) {
        self.note = Some(text.into());
    }

    /// The entries of the open station.
    pub fn fields(&self) -> Vec<&'static Field> {
        fields_of(self.station)
    }

    /// The entry the cursor is on.
    pub fn field(&self) -> &'static Field {
        let fields = self.fields();
        fields[self.row().min(fields.len() - 1)]
    }

    /// The line of the open station the cursor is on.
    pub fn row(&self) -> usize {
        self.rows[self.station as usize]
    }

    /// The text of an entry as typed, the one being typed included.
    pub fn typed(&self, field: &Field) -> Option<&str> {
        match self.draft() {
            Some((key, text)) if key == field.key => Some(text),
            _ => self.pass().typed.get(field.key),
        }
    }

    /// The entry being typed or picked: its key and its text so far.
    pub fn draft(&self) -> Option<(&'static str, &str)> {
        let text = match &self.over {
            Some(Over::Entry(line)) => line.text(),
            Some(Over::Pick(pick)) => pick.marked()?,
            Some(Over::Help(_) | Over::Ask(_) | Over::Question(_) | Over::Begin(_)) | None => {
                return self.vary.as_ref()?.draft();
            }
        };
        Some((self.field().key, text))
    }

    /// The value in effect of an entry nobody typed.
    pub fn in_effect(&self, field: &Field) -> Option<InEffect> {
        let answer = self.live.answer.as_ref();
        in_effect(field, &self.live.parts, answer, self.system)
    }

    /// What is wrong with an entry.
    pub fn error(&self, field: &Field) -> Option<String> {
        let error = self.live.error(field);
        error.map(|error| said_in(&error, self.system))
    }

    /// The scope keys are looked up in.
    pub fn scope(&self) -> super::keys::KeyScope {
        use super::keys::KeyScope;
        match (&self.over, self.view) {
            (Some(Over::Entry(_) | Over::Ask(_)), _) => KeyScope::Entry,
            (Some(Over::Pick(_) | Over::Help(_) | Over::Question(_) | Over::Begin(_)), _) => {
                KeyScope::List
            }
            (None, _) => self.scope_below(),
        }
    }

    /// The scope below a list or help.
    pub fn scope_below(&self) -> super::keys::KeyScope {
        use super::keys::KeyScope;
        match self.view {
            View::Walk => KeyScope::Walk,
            View::Audit => KeyScope::Audit,
            View::Vary => KeyScope::Vary,
            View::Practice => KeyScope::Practice,
            View::Lessons => KeyScope::Lessons,
            View::Job => KeyScope::Job,
            View::Features => KeyScope::Features,
            View::Shop => KeyScope::Shop,
            View::Rehearsal => KeyScope::Rehearsal,
            _ => KeyScope::View,
        }
    }

    /// The actions help shows: those whose words or keys have what was typed.
    pub fn helped(&self, help: &Help) -> Vec<&'static super::keys::KeyRow> {
        super::keys::of(self.scope_below())
            .filter(|k| k.action != Action::Help)
            .filter(|k| {
                let names: Vec<String> = k.presses.iter().map(|p| p.name()).collect();
                has(
                    &format!("{} {}", names.join(" "), k.words),
                    help.wanted.text(),
                )
            })
            .collect()
    }

    /// Asks for a text over the view; `text` stands there to be changed.
    pub(super) fn ask(&mut self, title: impl Into<String>, purpose: Purpose, text: &str) {
        self.over = Some(Over::Ask(Prompt::new(title, purpose, text)));
    }

    /// Puts the cursor on an entry.
    pub(super) fn go_to(&mut self, key: Key) {
        let field = key.field();
        self.view = View::Walk;
        self.station = field.station;
        let row = self.fields().iter().position(|f| f.id == key);
        if let Some(row) = row {
            self.rows[self.station as usize] = row;
        }
    }

    /// Works the pass out as it is typed.
    /// Speeds and feeds are typed in the shown system from now on.
    pub(super) fn plan_in_system(&mut self) {
        let shelves = self.shelves().in_system(self.system);
        self.set_shelves(shelves);
    }

    pub(super) fn work_out(&mut self) {
        if self.planned.kept() != self.job.kept() {
            self.set_shelves(self.shelves());
        }
        let (typed, left_by) = description_of(&self.job, self.at, &self.shop);
        let name = self.job.passes[self.at].name.clone();
        self.opened = NamedPass { name, typed };
        self.left_by = left_by;
        let Some((key, text)) = self.draft() else {
            let typed = &self.opened.typed;
            self.live.work_out(typed, &self.shop, self.moment);
            match self.view {
                View::Job => self.order = PassOrder::of(&self.job, &self.shop, self.system),
                View::Features => super::features::work_out(self),
                View::Overrides | View::Big => self.overrides = self.live.overrides(),
                _ => {}
            }
            return;
        };
        // What an earlier cutter left depends on the entry too.
        let mut job = self.job.clone();
        // The key is of the register.
        let _ = job.passes[self.at].texts.set(key, text);
        let (typed, _) = description_of(&job, self.at, &self.shop);
        self.live.work_out(&typed, &self.shop, self.moment);
    }
}

/// The entries of a station, in the order they are asked.
pub fn fields_of(station: Station) -> Vec<&'static Field> {
    FIELDS.iter().filter(|f| f.station == station).collect()
}
