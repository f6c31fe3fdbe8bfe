//! A question with a few answers, over a view. Leaving it loses nothing.

use super::ask::Purpose;
use super::begin;
use super::edit;
use super::effect::Effect;
use super::message::{Action, Message};
use super::shelves;
use super::state::{Over, ScreenState};
use super::update::{moved, open};
use super::words;
use crate::pass::field::{Shelf, field};
use crate::store::job::{Job, KeptChange, Take};

/// What a question is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Matter {
    /// A draft that an earlier run left.
    Draft(Box<Job>),
    /// A thing of the shop that is not what the job was planned with.
    Changed(KeptChange),
    /// A thing that is to be taken off its shelf.
    OffShelf,
    /// The example, which is to be saved.
    Example,
}

/// An answer, and what it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reply {
    /// The draft is taken up.
    TakeDraft,
    /// The draft is put aside.
    LeaveDraft,
    /// The thing as it was, or as it is.
    Take(Take),
    /// Another thing.
    Another,
    /// It stays on the shelf.
    Stay,
    /// It goes off the shelf.
    Remove,
    /// A job of one's own is begun.
    Begin,
    /// The example is saved as a file.
    SaveExample,
}

impl Reply {
    /// What the answer says.
    pub fn text(self) -> &'static str {
        match self {
            Self::TakeDraft => words::TAKE_DRAFT,
            Self::LeaveDraft => words::LEAVE_DRAFT,
            Self::Take(Take::Was) => words::TAKE_WAS,
            Self::Take(Take::Now) => words::TAKE_NOW,
            Self::Another => words::TAKE_ANOTHER,
            Self::Stay => words::STAY_ON_SHELF,
            Self::Remove => words::TAKE_OFF_SHELF,
            Self::Begin => words::BEGIN_OWN,
            Self::SaveExample => words::SAVE_EXAMPLE,
        }
    }
}

/// A question over a view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// What is asked.
    pub title: String,
    /// What there is to know before it is answered.
    pub about: String,
    /// The answers; the first changes least.
    pub answers: Vec<Reply>,
    /// The marked one.
    pub at: usize,
    /// What it is about.
    matter: Matter,
}

impl Asking {
    fn new(title: &str, about: String, answers: &[Reply], matter: Matter) -> Self {
        Self {
            title: title.to_owned(),
            about,
            answers: answers.to_vec(),
            at: 0,
            matter,
        }
    }

    /// Whether a draft that an earlier run left is taken up.
    pub fn of_draft(draft: Job, now: &Job) -> Self {
        let about = words::draft_differs(&draft, now);
        let answers = [Reply::TakeDraft, Reply::LeaveDraft];
        Self::new(
            words::DRAFT_FOUND,
            about,
            &answers,
            Matter::Draft(Box::new(draft)),
        )
    }

    /// Which of two a job takes: the thing it was planned with, or what became of it.
    pub fn of_change(change: KeptChange) -> Self {
        let (was, now) = (Reply::Take(Take::Was), Reply::Take(Take::Now));
        let answers = if change.gone {
            vec![was, Reply::Another]
        } else {
            vec![was, now, Reply::Another]
        };
        let about = change.to_string();
        Self::new(words::WHICH_TAKEN, about, &answers, Matter::Changed(change))
    }

    /// Whether a thing is taken off its shelf.
    pub fn of_shelf(shelf: Shelf, name: &str, passes: &[&str]) -> Self {
        let title = words::off_the_shelf(shelf, name);
        let about = words::used_in(passes);
        let answers = [Reply::Stay, Reply::Remove];
        Self::new(&title, about, &answers, Matter::OffShelf)
    }

    /// What is meant by saving the example.
    pub fn of_example() -> Self {
        let about = words::ABOUT_EXAMPLE.to_owned();
        let answers = [Reply::Begin, Reply::SaveExample];
        Self::new(words::EXAMPLE_SAVED, about, &answers, Matter::Example)
    }
}

/// Asks which is taken, if a thing of the open pass is not what the job was planned with.
pub(super) fn ask_of_changes(state: &mut ScreenState) {
    if state.over.is_some() {
        return;
    }
    let changes = Shelf::ALL.into_iter().filter_map(|s| state.change(s));
    let first = changes.into_iter().next();
    state.over = first.map(|change| Over::Question(Asking::of_change(change)));
}

/// Takes a message while a question is open.
pub(super) fn answering(
    state: &mut ScreenState,
    mut question: Asking,
    message: &Message,
) -> Effect {
    match message {
        Message::Act(Action::Commit) => {
            let reply = question.answers.get(question.at).copied();
            return match reply {
                Some(reply) => answered(state, question.matter, reply),
                None => Effect::Draw,
            };
        }
        Message::Act(Action::GiveUp) => {
            return match question.matter {
                Matter::Draft(draft) => Effect::PutAside(draft),
                _ => Effect::Draw,
            };
        }
        Message::Act(action) => question.at = moved(question.at, question.answers.len(), *action),
        Message::Text(_) => {}
    }
    state.over = Some(Over::Question(question));
    Effect::Draw
}

fn answered(state: &mut ScreenState, matter: Matter, reply: Reply) -> Effect {
    match (matter, reply) {
        (Matter::Draft(draft), Reply::TakeDraft) => {
            edit::change(state, |job| *job = *draft);
            state.say(words::DRAFT_TAKEN);
        }
        (Matter::Draft(draft), _) => return Effect::PutAside(draft),
        (Matter::Changed(change), Reply::Take(which)) => {
            let shop = state.shelves();
            let mut taken = Ok(());
            edit::change(state, |job| {
                taken = job.take(change.shelf, &change.name, which, &shop);
            });
            state.say(match (taken, which) {
                (Err(wrong), _) => wrong.to_string(),
                (Ok(()), Take::Was) => words::TAKEN_WAS.to_owned(),
                (Ok(()), Take::Now) => words::TAKEN_NOW.to_owned(),
            });
            ask_of_changes(state);
        }
        (Matter::Changed(change), _) => {
            if let Some(field) = field(change.shelf.word()) {
                state.go_to(field.id);
                open(state);
            }
        }
        (Matter::OffShelf, Reply::Remove) => return shelves::remove(state),
        (Matter::Example, Reply::Begin) => begin::open(state),
        (Matter::Example, Reply::SaveExample) => {
            state.ask(words::FILE_ASKED, Purpose::SaveAs, words::EXAMPLE_FILE);
        }
        (Matter::OffShelf | Matter::Example, _) => {}
    }
    Effect::Draw
}
