//! A line of text that is asked for over a view: a name, a file, a range, an answer.

use super::effect::Effect;
use super::line::EditLine;
use super::message::{Action, Message};
use super::state::{Over, ScreenState};
use super::{audit, edit, features, job, rehearsal, shelves, vary, words};

/// What a text is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// The name of the open pass.
    PassName,
    /// The file of a programme to audit.
    Programme,
    /// The range an entry is varied over.
    Range,
    /// The file to save the job in.
    SaveAs,
    /// The name of a new pass.
    NewPass,
    /// The name of a copy of the open pass.
    CopyOfPass,
    /// The text of the open pass under this key.
    OfPass(&'static str),
    /// A part of the names to find on the shelf.
    FindThing,
    /// The name of a new thing on the shelf.
    NewThing,
    /// Another name of the marked thing.
    ThingName,
    /// The text of the marked thing under this key.
    OfThing(&'static str),
    /// The stock of a stand-in.
    StandIn,
    /// Its condition.
    StandInCondition,
    /// The spindle and feed override.
    Dial,
    /// The wall error measured on the stand-in.
    Measured,
    /// A new feature.
    NewFeature,
    /// The feature at a place, changed.
    ChangedFeature(usize),
}

impl Purpose {
    /// Whether what stands there is gone on with rather than typed anew: a name, or prose.
    fn goes_on(&self) -> bool {
        matches!(
            self,
            Self::PassName
                | Self::CopyOfPass
                | Self::ChangedFeature(_)
                | Self::ThingName
                | Self::OfPass("note" | "happened")
                | Self::OfThing("note")
        )
    }
}

/// A question over a view, with what was typed so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prompt {
    /// What is asked, in words.
    pub title: String,
    /// What it is for.
    pub purpose: Purpose,
    /// What was typed.
    pub line: EditLine,
    /// Why the last text was not taken.
    pub error: Option<String>,
}

impl Prompt {
    /// A question; typing takes the place of the `text` that stands there, or goes on with a name.
    pub fn new(title: impl Into<String>, purpose: Purpose, text: &str) -> Self {
        let mut line = EditLine::of(text);
        if !purpose.goes_on() {
            line.select();
        }
        Self {
            title: title.into(),
            purpose,
            line,
            error: None,
        }
    }
}

/// Takes a message while a text is asked for.
pub(super) fn asking(state: &mut ScreenState, mut ask: Prompt, message: &Message) -> Effect {
    match message {
        Message::Act(Action::GiveUp) => return Effect::Draw,
        Message::Act(Action::Commit) => match taken(state, &ask) {
            Ok(effect) => return effect,
            Err(wrong) => ask.error = Some(wrong),
        },
        message => {
            ask.line.edit(message);
            ask.error = None;
        }
    }
    state.over = Some(Over::Ask(ask));
    Effect::Draw
}

/// What a text does; the reason if it is not taken, which is shown below the text.
fn taken(state: &mut ScreenState, prompt: &Prompt) -> Result<Effect, String> {
    let (purpose, text) = (&prompt.purpose, prompt.line.text().trim());
    match purpose {
        Purpose::Range => vary::ranged(state, text),
        Purpose::PassName => {
            if text.is_empty() {
                return Err(words::NAME_NEEDED.to_owned());
            }
            edit::rename(state, text);
            Ok(Effect::Draw)
        }
        Purpose::Programme => {
            audit::named(state, text)?;
            Ok(Effect::Draw)
        }
        Purpose::SaveAs if text.is_empty() => Err(words::FILE_NEEDED.to_owned()),
        Purpose::SaveAs => Ok(Effect::SaveAs(text.into())),
        Purpose::NewPass | Purpose::CopyOfPass | Purpose::OfPass(_) => {
            job::taken(state, purpose, text)?;
            Ok(Effect::Draw)
        }
        Purpose::FindThing | Purpose::NewThing | Purpose::ThingName | Purpose::OfThing(_) => {
            shelves::taken(state, purpose, text)
        }
        Purpose::NewFeature | Purpose::ChangedFeature(_) => features::taken(state, prompt),
        Purpose::StandIn | Purpose::StandInCondition | Purpose::Dial | Purpose::Measured => {
            rehearsal::taken(state, purpose, text)?;
            Ok(Effect::Draw)
        }
    }
}
