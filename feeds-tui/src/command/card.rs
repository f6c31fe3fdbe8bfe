//! `feeds card`: a card for a test of the machine, and what its readings come to.

use super::files::{Files, told};
use super::shop::edited;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::card::worked::{CardResult, worked};
use crate::card::{CARDS, CardText, Test, print};
use crate::pass::field::{Shelf, field};
use crate::pass::text::line;
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use serde_json::json;
use std::fmt::Write as _;

const EXAMPLES: &[Example] = examples! {
    "feeds card" => "the cards there are";
    "feeds card stiffness" => "what to do, with blanks to fill in; --html for a page to print";
    "feeds card stiffness 25N:4um 50N:8um 75N:13um 100N:17um" =>
        "what four readings come to; --keep 'the mill' puts it on that machine of the shop";
};

/// What `feeds card` takes.
#[derive(Args, Clone, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Which card; if left out, the list
    #[arg(value_name = "CARD")]
    pub card: Option<String>,
    /// Readings, such as 25N:4um; without any, the card
    #[arg(value_name = "READING", requires = "card")]
    pub readings: Vec<String>,
    /// Keep it in this machine, or cutter, of the shop
    #[arg(long, value_name = "NAME", requires = "readings")]
    pub keep: Option<String>,
    /// The card as a page to print
    #[arg(long, conflicts_with = "readings", requires = "card")]
    pub html: bool,
}

/// The cards, one of them, or what its readings come to.
///
/// # Errors
/// When the card is unknown, a reading cannot be read, or the shop cannot be saved.
pub fn answer(flags: &Flags, look: Look, files: &Files<'_>) -> Result<Answer, Failure> {
    let Some(word) = &flags.card else {
        return list(look);
    };
    let test = Test::of_word(word).ok_or_else(|| {
        EntryError::NotAChoice {
            text: word.clone(),
            choices: CARDS.each_ref().map(|c| c.word).join(", "),
        }
        .of("card")
    })?;
    let card = test.card();
    if flags.readings.is_empty() {
        if look.json {
            return Ok(Answer::json(&document(card))?);
        }
        return Ok(if flags.html {
            Answer::exact(print::html(card, look.system))
        } else {
            Answer::plain(print::text(card, look.system))
        });
    }
    let result = worked(test, &flags.readings)?;
    if let Some(field) = test.key().and_then(|key| field(key.text())) {
        // What no pass would take is a slip of a unit.
        field.read(&result.kept)?;
    }
    let kept = flags
        .keep
        .as_ref()
        .map(|name| keep(test, &result, name, files));
    let kept = kept.transpose()?;
    let answer = if look.json {
        Answer::json(&json!({
            "card": card.word,
            "value": result.symbol.amount(result.measured.value),
            "deviation": result.symbol.amount(result.measured.deviation),
            "readings": result.count,
            "kept": kept.as_ref().map(|(said, _)| said),
        }))?
    } else {
        let mut text = String::new();
        let said = format!("{}: {}", card.title, result.show(look.system));
        line(&mut text, "", &said);
        line(&mut text, "enters: ", card.enters);
        match (&kept, test.key()) {
            (Some((said, _)), _) => {
                line(&mut text, "", said);
            }
            (None, Some(key)) => {
                let said = format!(
                    "keep it: add --keep NAME, or type --{} '{}' with a pass",
                    key.text(),
                    result.kept
                );
                line(&mut text, "", &said);
            }
            (None, None) => {}
        }
        Answer::plain(text)
    };
    let notices = kept.map_or_else(Vec::new, |(_, notices)| notices);
    Ok(answer.telling(notices))
}

/// Puts the value on a machine or cutter of the shop.
fn keep(
    test: Test,
    result: &CardResult,
    name: &str,
    files: &Files<'_>,
) -> Result<(String, Vec<String>), Failure> {
    let Some(key) = test.key() else {
        let text = "watts belong to a pass, not to a machine: see feeds measure and feeds log";
        return Err(EntryError::because(Cause::Idle, text).of("keep").into());
    };
    let shelf = match test {
        Test::EdgeRadius => Shelf::Cutters,
        _ => Shelf::Machines,
    };
    let (file, whole) = edited(files, |shop| {
        let at = shop.position(Some(shelf), name)?;
        let mut item = shop.items[at].clone();
        item.set(key.text(), &result.kept)?;
        let whole = item.name.clone();
        shop.change(at, item)?;
        Ok(whole)
    })?;
    let said = format!(
        "{} «{whole}» now has {} {}",
        shelf.word(),
        key.text(),
        result.kept
    );
    let notices = told(Answer::plain(String::new()), &file).told;
    Ok((said, notices))
}

fn list(look: Look) -> Result<Answer, Failure> {
    if look.json {
        let cards: Vec<_> = CARDS.iter().map(document).collect();
        return Ok(Answer::json(&json!({ "cards": cards }))?);
    }
    let mut text = String::from("cards for tests of your machine\n\n");
    for card in &CARDS {
        let _ = writeln!(text, "  {:<14} {}", card.word, card.title);
    }
    text.push_str("\nfeeds card NAME prints one; with readings behind it they are worked out\n");
    Ok(Answer::plain(text))
}

fn document(card: &CardText) -> serde_json::Value {
    json!({
        "card": card.word,
        "title": card.title,
        "tools": card.tools,
        "steps": card.steps,
        "columns": card.columns,
        "formula": card.formula,
        "spread": card.spread,
        "enters": card.enters,
        "type": card.type_in,
    })
}
