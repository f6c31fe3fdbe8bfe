//! Failures as scripts read them: one document, whatever went wrong.

use super::{Answer, Failure};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use feeds_core::error::{Cause, EntryError};
use serde::Serialize;
use serde_json::json;

/// One thing that is wrong.
#[derive(Debug, Default, Serialize)]
struct Wrong {
    /// The entry, flag or file; none where it is of the whole line.
    field: Option<String>,
    /// What is wrong.
    text: String,
    /// What would be right, where it can be said in a few words.
    would_be_right: Option<String>,
    /// Why, in one of a few words; none where it is not an entry that is wrong.
    cause: Option<&'static str>,
}

impl Failure {
    /// The failure as JSON: the first error, then all of them.
    ///
    /// # Errors
    /// As [`Answer::json`].
    pub fn json(&self) -> Result<Answer, EntryError> {
        let mut errors = match self {
            Self::Usage(error) => vec![usage(error)],
            Self::Entry { error, advice } => {
                let advice = advice.trim();
                let mut wrong = of_entry(error);
                let advice = (!advice.is_empty()).then(|| advice.to_owned());
                let right = wrong.would_be_right.take().into_iter().chain(advice);
                let right: Vec<String> = right.collect();
                wrong.would_be_right = (!right.is_empty()).then(|| right.join("\n"));
                vec![wrong]
            }
            Self::Entries(errors) => errors.iter().map(of_entry).collect(),
            Self::File { path, error } => vec![Wrong {
                field: Some(path.display().to_string()),
                text: error.to_string(),
                would_be_right: None,
                cause: Some(Cause::NoFile.word()),
            }],
            Self::Terminal(error) => vec![Wrong {
                text: format!("the terminal cannot be used: {error}"),
                ..Wrong::default()
            }],
        };
        if errors.is_empty() {
            errors.push(Wrong::default());
        }
        let answer = Answer::json(&json!({ "error": errors[0], "errors": errors }))?;
        Ok(answer.ending(self.exit()))
    }
}

fn of_entry(error: &EntryError) -> Wrong {
    Wrong {
        field: error.field().map(str::to_owned),
        text: error.what(),
        would_be_right: error.would_be_right(),
        cause: Some(error.cause().word()),
    }
}

/// What the reader of arguments says: its first sentence, without the lines on help.
fn usage(error: &clap::Error) -> Wrong {
    let words = |kind| {
        error.get(kind).and_then(|value| match value {
            ContextValue::String(text) => Some(text.clone()),
            ContextValue::Strings(texts) => Some(texts.join(", ")),
            _ => None,
        })
    };
    let said = error.render().to_string();
    let said = said.strip_prefix("error: ").unwrap_or(&said);
    let end = said.find("\n\n").unwrap_or(said.len());
    let lines = said[..end].lines().map(str::trim);
    let text = lines.collect::<Vec<_>>().join(" ");
    let field = [ContextKind::InvalidArg, ContextKind::InvalidSubcommand];
    let right = [
        ContextKind::SuggestedArg,
        ContextKind::SuggestedSubcommand,
        ContextKind::SuggestedValue,
        ContextKind::ValidValue,
        ContextKind::ValidSubcommand,
    ];
    // A flag is named with the value it takes behind it.
    let flag = |text: String| text.split(' ').next().map(str::to_owned);
    let usage = || {
        error
            .get(ContextKind::Usage)
            .map(|usage| usage.to_string().trim().to_owned())
    };
    let filled = |text: &String| !text.is_empty();
    Wrong {
        field: field.into_iter().find_map(words).and_then(flag),
        text: text.trim().to_owned(),
        would_be_right: right
            .into_iter()
            .find_map(|k| words(k).filter(filled))
            .or_else(usage),
        cause: Some(of_usage(error.kind()).word()),
    }
}

/// Why arguments cannot be used.
fn of_usage(kind: ErrorKind) -> Cause {
    match kind {
        ErrorKind::UnknownArgument
        | ErrorKind::InvalidSubcommand
        | ErrorKind::InvalidValue
        | ErrorKind::ValueValidation => Cause::Unknown,
        ErrorKind::MissingRequiredArgument | ErrorKind::MissingSubcommand => Cause::Wanting,
        ErrorKind::ArgumentConflict => Cause::Clash,
        _ => Cause::Form,
    }
}
