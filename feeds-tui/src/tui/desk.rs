//! The desk the screens work at: the job's file, its draft, and the shop's file.
//!
//! Everything the screens keep goes through here. What fails is told on the screen and changes
//! nothing: the draft stays, the old file stays, the screens go on.

use super::ask::{Prompt, Purpose};
use super::begin;
use super::edit;
use super::effect::Effect;
use super::message::Message;
use super::planning::plan_on;
use super::question::{self, Asking};
use super::shelves::ShelfView;
use super::state::{Filed, Over, ScreenState};
use super::terminal::Rest;
use super::theme::Theme;
use super::update::update;
use super::words;
use crate::answer::Failure;
use crate::arguments::Look;
use crate::command::files::Files;
use crate::demo;
use crate::job::worked;
use crate::journal::{self, Journal, JournalFound};
use crate::sheet::{Sheet, html};
use crate::store::disk::Disk;
use crate::store::file::{self, Document, FileError, Opened};
use crate::store::fresh::Fresh;
use crate::store::job::{Job, Pass};
use crate::store::save::SaveError;
use crate::store::shop::Shop;
use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// The files of the screens.
pub struct Desk {
    disk: &'static dyn Disk,
    drafts: Option<PathBuf>,
    shop: Opened<Shop>,
    /// The job's file, once it has a name.
    job: Option<Opened<Job>>,
    /// `None` where drafts cannot be kept, or another copy keeps them.
    journal: Option<Journal>,
    /// The job as the draft, or the file if there is no draft, has it.
    drafted: Job,
}

impl Desk {
    /// Opens a job, or the demo without one; gives the desk and what the screens show first.
    ///
    /// # Errors
    /// If the job or the shop that was asked for cannot be read.
    pub fn open(
        files: &Files<'_>,
        path: Option<&Path>,
        look: Look,
    ) -> Result<(Self, ScreenState), Failure> {
        let mut told = Vec::new();
        let shop = shop(files, &mut told)?;
        told.extend(first(&shop));
        let job = path.map(|p| job(files.disk, p)).transpose()?;
        told.extend(job.as_ref().and_then(first));
        let theme = Theme {
            colour: look.colour,
            ascii: look.ascii,
        };
        let shelves = Rc::new(shop.content.clone());
        let mut state = match &job {
            None => ScreenState::of_job(demo::job(), shelves, look.system, theme),
            Some(job) => {
                let content = job.content.clone();
                let mut state = ScreenState::of_job(content, shelves, look.system, theme);
                state.filed.file = Some(job.path.clone());
                state
            }
        };
        state.shelf = ShelfView::of(shop.content.clone());
        let mut desk = Self {
            disk: files.disk,
            drafts: files.folders.drafts(),
            shop,
            job,
            journal: None,
            drafted: state.job.clone(),
        };
        desk.open_journal(&mut state, &mut told);
        if told.is_empty() && state.job.example && !desk.shop.path.exists() {
            told.push(words::FIRST_START.to_owned());
        } else if told.is_empty() && begin::is_empty(&state.job) {
            told.push(words::EMPTY_JOB.to_owned());
        }
        question::ask_of_changes(&mut state);
        if !told.is_empty() {
            state.say(told.join(" "));
        }
        Ok((desk, state))
    }

    fn open_journal(&mut self, state: &mut ScreenState, told: &mut Vec<String>) {
        let Some(drafts) = &self.drafts else {
            told.push(words::NO_DRAFTS.to_owned());
            return;
        };
        let path = state.filed.file.as_deref();
        match Journal::open(self.disk, drafts, path) {
            Err(error) => told.push(words::not_drafted(&error)),
            Ok(JournalFound::Elsewhere) => told.push(words::OPEN_ELSEWHERE.to_owned()),
            Ok(JournalFound::Ours(journal, left)) => {
                let left = left.and_then(|d| Job::read(&d.text).ok());
                if let Some((draft, _)) = left.filter(|(draft, _)| *draft != state.job) {
                    state.over = Some(Over::Question(Asking::of_draft(draft, &state.job)));
                } else if let Err(error) = journal.drop_draft(self.disk) {
                    told.push(words::not_drafted(&error));
                }
                self.journal = Some(journal);
            }
        }
        if path.is_none() {
            let mut others = journal::left(self.disk, drafts).into_iter();
            let other = others.find_map(|d| d.file);
            told.extend(other.map(|file| words::draft_waits(&file)));
        }
    }

    /// Takes a message, keeps a draft of what it changed, and does what it asks for; gives what
    /// only the terminal can do.
    pub fn take(&mut self, state: &mut ScreenState, message: Message) -> Effect {
        let effect = update(state, message);
        // Before anything else: what was just typed is not lost by what follows.
        self.follow(state);
        match effect {
            Effect::Save => self.save(state),
            Effect::Print => self.print(state),
            Effect::SaveAs(path) => self.save_as(state, &path),
            Effect::KeepShop => self.keep_shop(state),
            Effect::PutAside(draft) => self.put_aside(state, *draft),
            effect => return effect,
        }
        Effect::Draw
    }

    /// Plans a little further, and keeps a draft of what that changed.
    pub fn plan_on(&mut self, state: &mut ScreenState) -> Rest {
        let rest = plan_on(state);
        if rest == Rest::Done {
            self.follow(state);
        }
        rest
    }

    /// Keeps a draft of what was changed by the last message.
    fn follow(&mut self, state: &mut ScreenState) {
        if self.drafted == state.job {
            return;
        }
        let Some(journal) = &self.journal else {
            return;
        };
        let kept = if state.is_unsaved() {
            let kept = journal.keep(self.disk, &state.job.written());
            kept.map_err(|e| words::not_drafted(&e))
        } else {
            let dropped = journal.drop_draft(self.disk);
            dropped.map_err(|e| words::not_drafted(&e))
        };
        match kept {
            Ok(()) => self.drafted = state.job.clone(),
            Err(told) => state.say(told),
        }
    }

    /// Saves the job in its file.
    fn save(&mut self, state: &mut ScreenState) {
        let Some(file) = &mut self.job else {
            return;
        };
        state.job.keep(&state.shelves());
        file.content = state.job.clone();
        // The draft has it already, where there is one.
        let keep = self.drafts.as_deref().filter(|_| self.journal.is_none());
        match file.save(self.disk, keep) {
            Ok(()) => state.say(words::saved(&file.path)),
            Err(error @ FileError::NotSaved(_, SaveError::Unsure(_), _)) => {
                state.say(words::not_saved(&error));
            }
            Err(error @ FileError::NotSaved(_, SaveError::Changed, _)) => {
                let path = file.path.display().to_string();
                ask_again(state, &path, words::not_saved(&error));
                return;
            }
            Err(error) => {
                state.say(words::not_saved(&error));
                return;
            }
        }
        state.filed.saved = state.job.clone();
        self.drop_draft(state);
    }

    /// Writes the setup sheet beside the job's file, over an earlier sheet but no other file.
    fn print(&self, state: &mut ScreenState) {
        let file = state.filed.file.as_ref();
        let offered = || PathBuf::from(words::SHEET_OFFERED);
        let path = file.map_or_else(offered, |file| file.with_extension("html"));
        let worked = worked(&state.job, &self.shop.content);
        let page = html::text(&Sheet::of(&worked, state.system), "");
        let written = match self.disk.read(&path) {
            Ok(there) if !String::from_utf8_lossy(&there).contains(html::OURS) => {
                Err(io::Error::other(words::SHEET_NOT_OURS))
            }
            Ok(_) => self.disk.remove(&path).and_then(|()| fresh(&path, &page)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => fresh(&path, &page),
            Err(error) => Err(error),
        };
        state.say(match written {
            Ok(()) => words::sheet_written(&path),
            Err(error) => words::sheet_not_written(&path, &error),
        });
    }

    /// Saves the job under a name that no file has yet.
    fn save_as(&mut self, state: &mut ScreenState, path: &Path) {
        let typed = path.display().to_string();
        if path.exists() {
            ask_again(state, &typed, words::FILE_IS_THERE.to_owned());
            return;
        }
        let journal = self.drafts.as_ref().map(|drafts| {
            let found = Journal::open(self.disk, drafts, Some(path))?;
            match found {
                JournalFound::Ours(journal, _) => Ok(journal),
                JournalFound::Elsewhere => Err(io::Error::other(words::OPEN_ELSEWHERE)),
            }
        });
        state.job.keep(&state.shelves());
        let mut file = Opened::new(path, state.job.clone());
        let keep = self.drafts.as_deref().filter(|_| self.journal.is_none());
        match file.save(self.disk, keep) {
            Ok(()) => state.say(words::saved(path)),
            Err(error @ FileError::NotSaved(_, SaveError::Unsure(_), _)) => {
                state.say(words::not_saved(&error));
            }
            Err(error) => {
                ask_again(state, &typed, words::not_saved(&error));
                return;
            }
        }
        self.job = Some(file);
        state.filed = Filed {
            file: Some(path.to_owned()),
            saved: state.job.clone(),
        };
        self.drop_draft(state);
        if let Some(before) = self.journal.take() {
            before.close(self.disk);
        }
        match journal {
            None => {}
            Some(Ok(journal)) => self.journal = Some(journal),
            Some(Err(error)) => state.say(words::not_drafted(&error)),
        }
    }

    fn drop_draft(&mut self, state: &mut ScreenState) {
        self.drafted = state.job.clone();
        let dropped = self.journal.as_ref().map(|j| j.drop_draft(self.disk));
        if let Some(Err(error)) = dropped {
            state.say(words::not_drafted(&error));
        }
    }

    /// Saves the shop; one that someone else has changed is read again.
    fn keep_shop(&mut self, state: &mut ScreenState) {
        self.shop.content = state.shelf.shop().clone();
        match self.shop.save(self.disk, self.drafts.as_deref()) {
            Ok(()) => {}
            Err(error @ FileError::NotSaved(_, SaveError::Changed, _)) => {
                state.say(words::not_saved(&error));
                if let Ok(theirs) = Opened::<Shop>::open(self.disk, &self.shop.path) {
                    state.shelf.read_again(theirs.content.clone());
                    edit::forget_shelves(state);
                    state.see_shop();
                    self.shop = theirs;
                    state.say(words::SHOP_READ_AGAIN);
                }
            }
            Err(error) => state.say(words::not_saved(&error)),
        }
    }

    /// Puts a draft aside that is not wanted now; it can be opened as a job of its own.
    fn put_aside(&mut self, state: &mut ScreenState, draft: Job) {
        let name = state.filed.file.clone();
        let name = name.unwrap_or_else(|| PathBuf::from(words::FILE_OFFERED));
        let text = draft.written();
        let drafts = self.drafts.as_deref();
        if let Some(kept) = drafts.and_then(|to| file::keep(self.disk, to, &name, text.as_bytes()))
        {
            self.drop_draft(state);
            state.say(words::put_aside(&kept));
        } else {
            // It stays where it is until it can be put aside.
            let question = Asking::of_draft(draft, &state.job);
            state.over = Some(Over::Question(question));
            state.say(words::NOT_PUT_ASIDE);
        }
    }

    /// Ends the work; says what is left to know.
    pub fn close(self, state: &ScreenState) -> Option<String> {
        let journal = self.journal?;
        let asked = matches!(state.over, Some(Over::Question(_)));
        if !state.is_unsaved() && !asked {
            // One that stays is the same as the file and is dropped at the next start.
            let _ = journal.drop_draft(self.disk);
        }
        journal.close(self.disk);
        let left = state.is_unsaved() || asked;
        left.then(|| words::draft_left(state.filed.file.as_deref()))
    }
}

/// The shop; one that is not asked for and cannot be read is told and never overwritten.
fn shop(files: &Files<'_>, told: &mut Vec<String>) -> Result<Opened<Shop>, Failure> {
    match files.shop() {
        Err(failure) if files.shop.is_none() => {
            told.push(failure.text(false).trim_end().to_owned());
            let path = files.shop_path().unwrap_or_default();
            Ok(Opened::new(&path, Shop::default()))
        }
        other => other,
    }
}

/// A job from its file; one that is not there yet begins with an empty pass.
fn job(disk: &dyn Disk, path: &Path) -> Result<Opened<Job>, Failure> {
    match Opened::open(disk, path) {
        Err(FileError::NoFile(path, error)) if error.kind() == io::ErrorKind::NotFound => {
            let name = path.file_stem().unwrap_or_default().to_string_lossy();
            let mut job = Job::new(&name, crate::pass::description::Description::default());
            job.passes
                .push(Pass::new(words::FIRST_PASS, job.common.clone()));
            Ok(Opened::new(&path, job))
        }
        other => Ok(other?),
    }
}

/// The first thing of a file that cannot be used.
fn first<T>(file: &Opened<T>) -> Option<String> {
    let first = file.notices.first()?;
    Some(words::not_used(&file.path, first, file.notices.len()))
}

fn ask_again(state: &mut ScreenState, typed: &str, wrong: String) {
    let mut ask = Prompt::new(words::FILE_ASKED, Purpose::SaveAs, typed);
    ask.error = Some(wrong);
    state.over = Some(Over::Ask(ask));
}

/// Writes a file that is not there yet, whole or not at all.
fn fresh(path: &Path, text: &str) -> io::Result<()> {
    let mut file = Fresh::begin(path)?;
    file.write(text.as_bytes())?;
    file.finish()
}
