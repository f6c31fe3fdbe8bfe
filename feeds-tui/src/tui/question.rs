//! A question with two answers, over a view. Either answer is safe: nothing is lost by it.

use super::edit;
use super::effect::Effect;
use super::message::{Action, Message};
use super::state::{Over, State};
use super::words;
use crate::store::job::Job;

/// A question over a view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is asked.
    pub title: String,
    /// What there is to know before it is answered.
    pub about: String,
    /// The two answers.
    pub answers: [&'static str; 2],
    /// The marked one.
    pub at: usize,
    /// The draft the question is about.
    draft: Box<Job>,
}

impl Question {
    /// Whether a draft that an earlier run left is taken up.
    pub fn of_draft(draft: Job, now: &Job) -> Self {
        Self {
            title: words::DRAFT_FOUND.to_owned(),
            about: words::draft_differs(&draft, now),
            answers: [words::TAKE_DRAFT, words::LEAVE_DRAFT],
            at: 0,
            draft: Box::new(draft),
        }
    }
}

/// Takes a message while a question is open. Leaving it is the second answer.
pub(super) fn answering(state: &mut State, mut question: Question, message: &Message) -> Effect {
    match message {
        Message::Act(Action::Commit) if question.at == 0 => {
            edit::change(state, |job| *job = *question.draft);
            state.say(words::DRAFT_TAKEN);
            return Effect::Draw;
        }
        Message::Act(Action::Commit | Action::GiveUp) => {
            return Effect::PutAside(question.draft);
        }
        Message::Act(Action::Down | Action::Last | Action::PageDown) => question.at = 1,
        Message::Act(Action::Up | Action::First | Action::PageUp) => question.at = 0,
        _ => {}
    }
    state.over = Some(Over::Question(question));
    Effect::Draw
}
