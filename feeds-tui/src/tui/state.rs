//! Everything the screens show, and nothing else.

use super::ask::{Ask, Purpose};
use super::audit::Audit;
use super::lessons::Reading;
use super::line::Line;
use super::live::Live;
use super::message::Action;
use super::practice::Practice;
use super::shop::Shop;
use super::theme::Theme;
use super::vary::Vary;
use crate::demo::NamedPass;
use crate::pass::effect::{InEffect, in_effect};
use crate::pass::field::{FIELDS, Field, Station};
use feeds_core::symbol::System;
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
    /// A programme beside the plan.
    Audit,
    /// One entry varied.
    Vary,
    /// Questions that are marked.
    Practice,
    /// The short lessons.
    Lessons,
}

/// What lies over the view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Over {
    /// An entry while it is typed.
    Entry(Line),
    /// A list to pick an entry from.
    Pick(Pick),
    /// What can be done here.
    Help(Help),
    /// A text that is asked for.
    Ask(Ask),
}

/// A list to pick from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pick {
    /// All there is.
    pub names: Vec<String>,
    /// What was typed to find some.
    pub wanted: Line,
    /// The marked one of those found.
    pub at: usize,
}

impl Pick {
    /// The names in which every typed part occurs.
    pub fn found(&self) -> Vec<&str> {
        let names = self.names.iter().map(String::as_str);
        names.filter(|n| has(n, self.wanted.text())).collect()
    }

    /// The marked name.
    pub fn marked(&self) -> Option<&str> {
        self.found().get(self.at).copied()
    }
}

/// Help: the actions of the view below.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Help {
    /// What was typed to find some.
    pub wanted: Line,
    /// The marked one of those found.
    pub at: usize,
}

/// Whether every part of `wanted` occurs in `text`, in any letter case; «4mm» finds «4 mm».
pub fn has(text: &str, wanted: &str) -> bool {
    let text = text.to_lowercase();
    let joined = text.replace(' ', "");
    let wanted = wanted.to_lowercase();
    let mut parts = wanted.split_whitespace();
    parts.all(|part| text.contains(part) || joined.contains(part))
}

/// What undo brings back.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    pub(super) passes: Vec<NamedPass>,
    pub(super) at: usize,
    pub(super) system: System,
    pub(super) station: Station,
    pub(super) rows: [usize; 5],
}

/// Everything the screens show.
#[derive(Clone, Debug)]
pub struct State {
    /// The passes, in order.
    pub passes: Vec<NamedPass>,
    /// The pass that is open.
    pub at: usize,
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
    pub note: Option<&'static str>,
    /// The answer to what is typed.
    pub live: Live,
    /// The programme that is open.
    pub audit: Option<Audit>,
    pub(super) shop: Rc<dyn Shop>,
    pub(super) past: Vec<Kept>,
    pub(super) future: Vec<Kept>,
}

impl State {
    /// The walk on the first of some passes.
    pub fn new(passes: Vec<NamedPass>, shop: Rc<dyn Shop>, system: System, theme: Theme) -> Self {
        let passes = if passes.is_empty() {
            vec![NamedPass::default()]
        } else {
            passes
        };
        let mut state = Self {
            passes,
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
            shop,
            past: Vec::new(),
            future: Vec::new(),
        };
        state.work_out();
        state
    }

    /// The pass that is open.
    pub fn pass(&self) -> &NamedPass {
        &self.passes[self.at]
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
            Some(Over::Help(_) | Over::Ask(_)) | None => return self.vary.as_ref()?.draft(),
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
        self.live.error(field)
    }

    /// The scope keys are looked up in.
    pub fn scope(&self) -> super::keys::Scope {
        use super::keys::Scope;
        match (&self.over, self.view) {
            (Some(Over::Entry(_) | Over::Ask(_)), _) => Scope::Entry,
            (Some(Over::Pick(_) | Over::Help(_)), _) => Scope::List,
            (None, _) => self.scope_below(),
        }
    }

    /// The scope below a list or help.
    pub fn scope_below(&self) -> super::keys::Scope {
        use super::keys::Scope;
        match self.view {
            View::Walk => Scope::Walk,
            View::Audit => Scope::Audit,
            View::Vary => Scope::Vary,
            View::Practice => Scope::Practice,
            View::Lessons => Scope::Lessons,
            _ => Scope::View,
        }
    }

    /// The actions help shows: those whose words or keys have what was typed.
    pub fn helped(&self, help: &Help) -> Vec<&'static super::keys::Key> {
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
        self.over = Some(Over::Ask(Ask::new(title, purpose, text)));
    }

    /// Puts the cursor on an entry.
    pub(super) fn go_to(&mut self, key: &str) {
        let Some(field) = crate::pass::field::field(key) else {
            return;
        };
        self.view = View::Walk;
        self.station = field.station;
        let row = self.fields().iter().position(|f| f.key == key);
        self.rows[self.station as usize] = row.unwrap_or(0);
    }

    /// Works the pass out as it is typed.
    pub(super) fn work_out(&mut self) {
        let mut typed = self.pass().typed.clone();
        if let Some((key, text)) = self.draft() {
            // The key is of the register.
            let _ = typed.set(key, text);
        }
        self.live.work_out(&typed, &self.shop, self.moment);
    }
}

/// The entries of a station, in the order they are asked.
pub fn fields_of(station: Station) -> Vec<&'static Field> {
    FIELDS.iter().filter(|f| f.station == station).collect()
}
