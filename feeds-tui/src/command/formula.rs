//! `feeds formula`: one registered formula alone, or the list of them.

mod edge_force;

use super::pairs::pair;
use crate::answer::{Answer, Failure};
use crate::arguments::{Example, Look, TEMPLATE, examples, shown};
use crate::words::in_units;
use clap::Args;
use feeds_core::error::EntryError;
use feeds_core::formula::recipe::{self, Recipe, RecipeField, RecipeValue, recipe, recipes};
use feeds_core::notebook::Recorded;
use feeds_core::quantity::Amount;
use feeds_core::symbol::{SYMBOLS, System};
use serde_json::{Value, json};
use std::fmt::Write as _;

const EXAMPLES: &[Example] = examples! {
    "feeds formula" => "every formula with its entries";
    "feeds formula feed-per-tooth v_f=300mm/min z=4 n=4400rpm --working" =>
        "what a feed means for each edge, step by step";
    "feeds formula chip-thickness f_z=0.02mm D=6mm a_e=0.3mm --json" =>
        "the chip of a light side cut, for a script";
    "feeds formula spindle-speed v_c=60m/min D=5mm --units inch" => "the answer in inches and feet";
};

/// What `feeds formula` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The formula; if left out, the list of all
    pub name: Option<String>,
    /// Its entries, with their units, such as D=6mm
    #[arg(value_name = "ENTRY=VALUE", requires = "name")]
    pub entries: Vec<String>,
    /// Show the likely range; `edge-force` always does
    #[arg(long)]
    pub band: bool,
}

/// The formula's results, or the list.
///
/// # Errors
/// If there is no such formula, or an entry is missing, unknown, unreadable or out of range.
pub fn answer(flags: &Flags, look: Look) -> Result<Answer, Failure> {
    match &flags.name {
        None => list(look),
        Some(name) if name == edge_force::NAME => {
            let entries = flags.entries.iter().map(|entry| pair(entry, "h=0.02mm"));
            let entries =
                entries
                    .collect::<Result<Vec<_>, _>>()
                    .map_err(|error| Failure::Entry {
                        error,
                        advice: edge_force::takes(),
                    })?;
            edge_force::answer(&entries, look)
        }
        Some(name) => {
            let recipe = recipe(name)?;
            one(recipe, &flags.entries, look).map_err(|error| Failure::Entry {
                error,
                advice: takes(recipe),
            })
        }
    }
}

fn one(recipe: &Recipe, entries: &[String], look: Look) -> Result<Answer, EntryError> {
    let entries = entries.iter().map(|entry| pair(entry, "D=6mm"));
    let entries = entries.collect::<Result<Vec<(&str, &str)>, _>>()?;
    let mut notes = Recorded::default();
    let results = recipe::run(recipe.name, &entries, &mut notes)?;
    if look.json {
        return Answer::document(&recipe::ResultDocument::new(
            recipe.name,
            &results,
            &notes.steps,
        ));
    }
    let mut text = String::new();
    for (key, outcome) in &results.entries {
        let _ = writeln!(text, "{key} = {}", outcome_text(outcome, look.system));
    }
    if look.working {
        for step in &notes.steps {
            let _ = write!(text, "\n{}", step.text(look.system));
        }
    }
    Ok(Answer::plain(text))
}

fn outcome_text(outcome: &RecipeValue, system: System) -> String {
    match outcome {
        RecipeValue::One(amount) => in_system(*amount, system).to_string(),
        RecipeValue::List(amounts) => {
            let shown: Vec<String> = amounts
                .iter()
                .map(|a| in_system(*a, system).to_string())
                .collect();
            shown.join(", ")
        }
    }
}

/// The amount in the unit people of that system read such amounts in.
fn in_system(amount: Amount, system: System) -> Amount {
    let like = SYMBOLS.iter().find(|s| s.unit == amount.unit);
    match (system, like) {
        (System::Inch, Some(symbol)) => amount.shown_in(symbol.inch.0),
        _ => amount,
    }
}

/// What a formula takes, a line an entry.
fn takes(recipe: &Recipe) -> String {
    let mut text = format!("{} takes:", recipe.name);
    for field in recipe.fields {
        let RecipeField {
            key, name, example, ..
        } = field;
        let optional = if field.required { "" } else { " (optional)" };
        let _ = write!(
            text,
            "\n  {key}={example}{optional}: {name}, {}",
            field.takes()
        );
    }
    text
}

fn list(look: Look) -> Result<Answer, Failure> {
    if look.json {
        let formulas = recipes().map(listed);
        let formulas: Vec<Value> = formulas.chain([edge_force::listed()]).collect();
        return Ok(Answer::json(&json!({ "formulas": formulas }))?);
    }
    let mut text = String::new();
    for recipe in recipes() {
        let _ = writeln!(text, "{}: {}", recipe.name, recipe.about);
        let (example, more) = example(recipe);
        let mut line = format!("  feeds formula {} {}", recipe.name, entries(&example));
        for field in more {
            let _ = write!(line, " [{}]", entries(&[field]));
        }
        let _ = writeln!(text, "{line}");
        let _ = writeln!(text, "  gives {}", recipe.gives.join(", "));
    }
    let _ = writeln!(text, "{}: {}", edge_force::NAME, edge_force::ABOUT);
    let _ = writeln!(
        text,
        "  feeds formula {} {}",
        edge_force::NAME,
        edge_force::EXAMPLE
    );
    let _ = writeln!(text, "  gives {}", edge_force::GIVES.join(", "));
    Ok(Answer::plain(in_units(&text, look.system)))
}

fn entries(fields: &[&RecipeField]) -> String {
    let entries = fields.iter().map(|f| format!("{}={}", f.key, f.example));
    entries.collect::<Vec<_>>().join(" ")
}

/// Entries that can be run as they stand, with those of the others that can all go with them. The
/// rest are alternatives, or for another kind of the same thing; they stand in what it takes.
fn example(recipe: &Recipe) -> (Vec<&RecipeField>, Vec<&RecipeField>) {
    let runs = |fields: &[&RecipeField]| {
        let entries: Vec<_> = fields.iter().map(|f| (f.key, f.example)).collect();
        recipe::run(recipe.name, &entries, &mut Recorded::default()).is_ok()
    };
    let fields = recipe.fields.iter();
    let (mut example, others): (Vec<_>, Vec<_>) = fields.partition(|f| f.required);
    let mut others = others.into_iter();
    while !runs(&example) {
        let Some(field) = others.next() else { break };
        example.push(field);
    }
    let mut all = example.clone();
    let more = others.filter(|field| {
        all.push(*field);
        let fits = runs(&all);
        if !fits {
            all.pop();
        }
        fits
    });
    let more = more.collect();
    (example, more)
}

/// A formula of the register as scripts get it.
fn listed(recipe: &Recipe) -> Value {
    let entry = |field: &RecipeField| {
        json!({
            "key": field.key,
            "name": field.name,
            "takes": field.takes(),
            "required": field.required,
            "example": field.example,
        })
    };
    json!({
        "name": recipe.name,
        "about": recipe.about,
        "entries": recipe.fields.iter().map(entry).collect::<Vec<_>>(),
        "gives": recipe.gives,
    })
}
