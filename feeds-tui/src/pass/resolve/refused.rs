//! What the tables' room for a pass refuses, said of the entry it comes of.

use crate::pass::field::{FIELDS, Field};
use crate::pass::law::LINEAR;
use feeds_core::error::{Cause, EntryError};
use feeds_core::plan::setup::SetupError;
use feeds_core::symbol::{self as s, Symbol};
use reference_tables::NotFound;
use reference_tables::pass::PassError;

/// What no cut can have, said of the entry that has it.
pub(in crate::pass) fn impossible(error: &SetupError) -> EntryError {
    let key = match error {
        SetupError::Outside { symbol, .. } => key_of(symbol).to_owned(),
        _ => error.field(),
    };
    EntryError::NoCut(error.clone()).of(&key)
}

/// A name that calls nothing, said of its entry.
pub(in crate::pass) fn not_found(error: &NotFound, key: &str) -> EntryError {
    let wrong = EntryError::NotCalled {
        sentence: error.sentence(),
        offers: error.offers.clone(),
    };
    wrong.of(key)
}

/// The entry of a quantity.
pub(super) fn field_of(symbol: &Symbol) -> Option<&'static Field> {
    FIELDS.iter().find(|f| f.symbol() == Some(symbol))
}

/// The key of the entry of a quantity.
fn key_of(symbol: &Symbol) -> &'static str {
    field_of(symbol).map_or("", |f| f.key)
}

/// An error of the room as one of an entry.
pub(super) fn refused(error: &PassError) -> EntryError {
    let said = |cause| EntryError::because(cause, error.to_string());
    match error {
        PassError::NotFound(lost) => not_found(lost, lost.kind),
        PassError::Missing(symbol) => missing(symbol),
        PassError::NoWallSide => EntryError::Missing {
            example: "inside for a concave wall, outside for a convex one",
        }
        .of("wall"),
        PassError::Setup(error) => impossible(error),
        PassError::Condition(_) => said(Cause::Unknown).of("condition"),
        PassError::Hardness(_) => said(Cause::Clash).of("hardness"),
        PassError::Untested { .. } => said(Cause::Unknown).of("hold"),
        PassError::WidthTwice => said(Cause::Clash).of("engagement-angle"),
        PassError::ConvexBore => said(Cause::Clash).of("wall"),
        PassError::NotABall(_) => said(Cause::Clash).of("path"),
        PassError::TwoLaws(kienzle, linear) => {
            let (kienzle, linear) = (key_of(kienzle), key_of(linear));
            let text = format!(
                "{kienzle} and {linear} are of two force laws, and a stock has one: keep kc11 \
                 with mc, or keep {} and clear {kienzle}",
                LINEAR.join(", ")
            );
            EntryError::because(Cause::Clash, text).of(linear)
        }
        PassError::Lacks(symbols) => {
            let keys: Vec<&str> = symbols.iter().map(|symbol| key_of(symbol)).collect();
            let text = format!(
                "{} {} missing: the six linear edge coefficients belong together, from one \
                 source; one that it does not have is 0 N/mm2, an edge one 0 N/mm; ktc is never 0",
                keys.join(", "),
                if keys.len() == 1 { "is" } else { "are" },
            );
            EntryError::because(Cause::Wanting, text).of(keys.first().copied().unwrap_or_default())
        }
        PassError::HalfAPair => said(Cause::Wanting).of("kc11"),
        // What a later version of the tables refuses.
        _ => said(Cause::NoResult),
    }
}

fn missing(symbol: &'static Symbol) -> EntryError {
    let field = field_of(symbol);
    let example = match field {
        _ if symbol == &s::A_E => "0.5 mm; only a slot has a width of its own",
        _ if symbol == &s::WALL_R => "4 mm; a curved wall has a radius",
        Some(field) => field.example,
        None => symbol.name,
    };
    EntryError::Missing { example }.of(field.map_or(symbol.name, |f| f.key))
}
