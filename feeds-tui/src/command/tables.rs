//! `feeds tables`: rows of the reference tables with their sources.

use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use clap::Args;
use feeds_core::error::{Cause, EntryError};
use reference_tables::listing::Listed;
use reference_tables::source::Source;
use reference_tables::{Tables, tables};
use serde_json::{Value, json};
use std::fmt::Write as _;

const EXAMPLES: &[Example] = examples! {
    "feeds tables 1095" => "every figure that names a steel, weak ones marked";
    "feeds tables kienzle titanium printed" => "printed force rows of titanium";
    "feeds tables speed 440C --json" => "cutting speeds of a steel, for a script";
    "feeds tables --sources handbook" => "sources, here those with a word in their title";
};

/// What `feeds tables` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// Words a row must all have: table, steel, quantity, source, printed, weak
    #[arg(value_name = "WORD")]
    pub words: Vec<String>,
    /// List the sources instead of the rows
    #[arg(long)]
    pub sources: bool,
}

/// The rows, or the sources.
///
/// # Errors
/// If none holds all the words.
pub fn answer(flags: &Flags, look: Look) -> Result<Answer, Failure> {
    let tables = all()?;
    let words = flags.words.join(" ");
    let rows: Vec<Listed> = if flags.sources {
        Vec::new()
    } else {
        tables.listing().filter(|r| r.has(&words)).collect()
    };
    let sources: Vec<&Source> = if flags.sources {
        tables.sources.iter().filter(|s| has(s, &words)).collect()
    } else {
        tables
            .sources
            .iter()
            .filter(|s| rows.iter().any(|r| r.source == s.id))
            .collect()
    };
    if sources.is_empty() {
        let sentence = format!("nothing found for «{words}»: try fewer words");
        return Err(EntryError::because(Cause::Unknown, sentence).into());
    }
    if look.json {
        return Ok(Answer::json(&document(&rows, &sources))?);
    }
    let mut text = rows_text(&rows);
    if !rows.is_empty() {
        text.push_str("\nSources\n");
    }
    for source in sources {
        let read = if source.read { "" } else { " [not read]" };
        let _ = writeln!(text, "  {}: {source}{read}", source.id);
    }
    Ok(Answer::plain(text))
}

/// The tables built in.
///
/// # Errors
/// If a data file is broken.
pub fn all() -> Result<&'static Tables, EntryError> {
    tables().map_err(|error| EntryError::because(Cause::NoFile, error.to_string()))
}

fn has(source: &Source, words: &str) -> bool {
    let all = format!("{} {source}", source.id).to_lowercase();
    words
        .split_whitespace()
        .all(|word| all.contains(&word.to_lowercase()))
}

/// A heading for each subject, then a line a figure.
fn rows_text(rows: &[Listed]) -> String {
    let mut text = String::new();
    let mut before = None;
    for row in rows {
        let about = (row.table, &row.subject, &row.condition);
        if before != Some(about) {
            let gap = if before.is_some() { "\n" } else { "" };
            let _ = write!(text, "{gap}{}: {}", row.table, row.subject);
            if !row.condition.is_empty() {
                let _ = write!(text, "; {}", row.condition);
            }
            text.push('\n');
            before = Some(about);
        }
        let weak = if row.weak { ", weak" } else { "" };
        let _ = write!(
            text,
            "  {}: {} [{}, {}{weak}]",
            row.quantity, row.value, row.source, row.basis
        );
        if !row.note.is_empty() {
            let _ = write!(text, " {}", row.note);
        }
        text.push('\n');
    }
    text
}

fn document<'a>(rows: &'a [Listed], sources: &[&'a Source]) -> Value {
    let row = |r: &'a Listed| {
        json!({
            "table": r.table,
            "subject": &r.subject,
            "condition": &r.condition,
            "quantity": r.quantity,
            "text": &r.value,
            "least": { "value": r.range.0, "unit": &r.unit },
            "most": { "value": r.range.1, "unit": &r.unit },
            "source": &r.source,
            "basis": r.basis.word(),
            "weak": r.weak,
            "note": &r.note,
        })
    };
    let source = |s: &&'a Source| {
        json!({
            "id": &s.id,
            "title": &s.title,
            "page": s.page.as_deref(),
            "year": s.year,
            "read": s.read,
        })
    };
    json!({
        "version": reference_tables::version(),
        "rows": rows.iter().map(row).collect::<Vec<_>>(),
        "sources": sources.iter().map(source).collect::<Vec<_>>(),
    })
}
