//! Notebooks: the same calculation, silent at no cost or with every step kept.

pub mod weighed;

use crate::formula::{Card, Formula};
use crate::limit::Check;
use crate::quantity::Quantity;
use crate::symbol::{Symbol, System};
use serde::Serialize;
use serde::ser::{SerializeStruct, Serializer};
use std::fmt::Write as _;
use weighed::Weighed;

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "from", rename_all = "snake_case")]
pub enum Origin {
    /// The user typed it.
    Typed {
        /// The text as typed.
        text: String,
        /// The field it was typed into.
        field: String,
    },
    /// A row of a table.
    Row {
        /// What the row says, such as «Kienzle pair, 1095 annealed».
        row: String,
        /// The source and its page.
        source: String,
        /// `printed`, `memory` or `common practice`.
        basis: String,
        /// Not to be presented as data.
        weak: bool,
        /// Used beyond what it was measured for.
        extrapolated: bool,
    },
    /// A default of the house, common practice unless it names a source.
    Default {
        /// Why this value.
        why: String,
    },
    /// Chosen by the program inside what is allowed.
    Chosen {
        /// By which rule.
        why: String,
    },
    /// The result of an earlier step, counted from 1.
    Step {
        /// Which.
        number: usize,
    },
}

impl Origin {
    /// One short phrase.
    pub fn phrase(&self) -> String {
        match self {
            Self::Typed { text, field } => format!("{field}, typed {text}"),
            Self::Row {
                row,
                source,
                basis,
                weak,
                extrapolated,
            } => {
                let weak = if *weak { ", weak" } else { "" };
                let beyond = if *extrapolated { ", extrapolated" } else { "" };
                format!("{row}: {source} [{basis}{weak}{beyond}]")
            }
            Self::Default { why } => format!("default: {why}"),
            Self::Chosen { why } => format!("chosen: {why}"),
            Self::Step { number } => format!("step {number}"),
        }
    }

    /// Whether the number is not to be presented as data.
    pub fn weak(&self) -> bool {
        matches!(self, Self::Row { weak: true, .. } | Self::Default { .. })
    }
}

/// An input of a step.
#[derive(Clone, Debug)]
pub struct StepInput {
    /// Its symbol.
    pub symbol: &'static Symbol,
    /// Its value in SI base units.
    pub si: f64,
    /// Where it comes from, if the notebook was told.
    pub origin: Option<Origin>,
}

impl Serialize for StepInput {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut input = serializer.serialize_struct("StepInput", 4)?;
        input.serialize_field("symbol", self.symbol.text)?;
        input.serialize_field("name", self.symbol.name)?;
        input.serialize_field("value", &self.symbol.amount(self.si))?;
        input.serialize_field("origin", &self.origin)?;
        input.end()
    }
}

/// One step of the working: a formula, its inputs and its result.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its place, counted from 1.
    pub number: usize,
    /// The formula.
    pub card: Card,
    /// The inputs.
    pub inputs: Vec<StepInput>,
    /// The result in SI base units.
    pub si: f64,
    /// Further results of a sum or a root, in SI base units.
    pub also: Vec<(&'static Symbol, f64)>,
}

impl Step {
    /// Four lines: symbols, numbers with units, result, why and source.
    pub fn text(&self, system: System) -> String {
        let symbol = self.card.symbol;
        let mut out = format!("{}. {}\n", self.number, self.card.name);
        let _ = writeln!(out, "   {} = {}", symbol.text, self.card.text);
        if self.card.prose {
            let _ = writeln!(out, "   with {}", self.numbers(system));
        } else {
            let _ = writeln!(out, "   {} = {}", symbol.text, self.numbers(system));
        }
        let _ = writeln!(
            out,
            "   {} = {}",
            symbol.text,
            symbol.in_formula(self.si, system)
        );
        for (symbol, si) in &self.also {
            let _ = writeln!(
                out,
                "   {} = {}",
                symbol.text,
                symbol.in_formula(*si, system)
            );
        }
        for input in &self.inputs {
            if let Some(origin) = &input.origin {
                let name = input.symbol.name;
                let _ = writeln!(
                    out,
                    "     {}, {name}: {}",
                    input.symbol.text,
                    origin.phrase()
                );
            }
        }
        let _ = writeln!(out, "   why: {}", self.card.why);
        let _ = writeln!(out, "   source: {}", self.card.source);
        out
    }

    /// The formula with each symbol replaced by its value and unit; of a calculation told in
    /// words, its inputs.
    pub fn numbers(&self, system: System) -> String {
        if self.card.prose {
            let each = |i: &StepInput| {
                let symbol = i.symbol;
                format!("{} = {}", symbol.text, symbol.in_formula(i.si, system))
            };
            return self.inputs.iter().map(each).collect::<Vec<_>>().join(", ");
        }
        let mut order: Vec<&StepInput> = self.inputs.iter().collect();
        order.sort_by_key(|i| std::cmp::Reverse(i.symbol.text.len()));
        let mut out = String::new();
        let mut rest = self.card.text;
        while let Some(first) = rest.chars().next() {
            let starts_word = !out.ends_with(is_symbol_part);
            let hit = order.iter().find(|i| {
                starts_word
                    && rest
                        .strip_prefix(i.symbol.text)
                        .is_some_and(|r| !goes_on(r))
            });
            if let Some(input) = hit {
                let shown = input.symbol.in_formula(input.si, system);
                rest = &rest[input.symbol.text.len()..];
                // A power is of the value with its unit, not of the unit alone.
                if rest.starts_with('^') && shown.contains(' ') {
                    let _ = write!(out, "({shown})");
                } else {
                    out.push_str(&shown);
                }
                continue;
            }
            out.push(first);
            rest = &rest[first.len_utf8()..];
        }
        out
    }
}

/// A further result, as scripts see it.
struct Further {
    symbol: &'static Symbol,
    si: f64,
}

impl Serialize for Further {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut further = serializer.serialize_struct("Further", 3)?;
        further.serialize_field("symbol", self.symbol.text)?;
        further.serialize_field("name", self.symbol.name)?;
        further.serialize_field("value", &self.symbol.amount(self.si))?;
        further.end()
    }
}

impl Serialize for Step {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let symbol = self.card.symbol;
        let mut step = serializer.serialize_struct("Step", 10)?;
        step.serialize_field("number", &self.number)?;
        step.serialize_field("name", self.card.name)?;
        step.serialize_field("symbol", symbol.text)?;
        step.serialize_field("formula", self.card.text)?;
        step.serialize_field("numbers", &self.numbers(System::Metric))?;
        step.serialize_field("result", &symbol.amount(self.si))?;
        let also: Vec<_> = self
            .also
            .iter()
            .map(|&(symbol, si)| Further { symbol, si })
            .collect();
        step.serialize_field("also", &also)?;
        step.serialize_field("inputs", &self.inputs)?;
        step.serialize_field("why", self.card.why)?;
        step.serialize_field("source", self.card.source)?;
        step.end()
    }
}

fn is_symbol_part(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Whether a symbol goes on with `rest`: `v_f` does in `v_f,c`, and does not in `min(v_f, ...`.
fn goes_on(rest: &str) -> bool {
    let tail = rest.strip_prefix([',', '.']).unwrap_or(rest);
    tail.starts_with(is_symbol_part)
}

/// Symbols with their values in SI base units.
pub type Values = Vec<(&'static Symbol, f64)>;

/// Takes formulas: computes them, and keeps a step of each or not.
pub trait Notebook {
    /// Whether it keeps anything: what is only written down is not done for one that does not.
    const KEEPS: bool;
    /// Computes the formula.
    fn take<F: Formula>(&mut self, formula: F) -> F::Out;
    /// Keeps one step of a calculation told in words: a sum or a root, computed elsewhere. The
    /// first result is the one the card names.
    fn summed(
        &mut self,
        card: Card,
        inputs: impl FnOnce() -> Values,
        results: impl FnOnce() -> Values,
    );
    /// Tells where the value of a symbol comes from; silent notebooks never ask for it.
    fn told(&mut self, symbol: &'static Symbol, origin: impl FnOnce() -> Origin);
    /// Notes a check: the latest values of its symbol and of its bound's are the two it weighs.
    fn weighed(&mut self, check: &Check);
}

/// Computes and keeps nothing: compiles to the formula's plain arithmetic.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Notebook for Silent {
    const KEEPS: bool = false;

    #[inline]
    fn take<F: Formula>(&mut self, formula: F) -> F::Out {
        formula.value()
    }
    #[inline]
    fn summed(&mut self, _: Card, _: impl FnOnce() -> Values, _: impl FnOnce() -> Values) {}
    #[inline]
    fn told(&mut self, _: &'static Symbol, _: impl FnOnce() -> Origin) {}
    #[inline]
    fn weighed(&mut self, _: &Check) {}
}

/// Keeps a step of every formula taken.
///
/// # Example
/// ```
/// use feeds_core::formula::speed::CuttingSpeed;
/// use feeds_core::notebook::{Notebook, Recorded};
/// use feeds_core::quantity::{SpindleSpeed, mm};
/// use feeds_core::symbol::System;
/// let mut notes = Recorded::default();
/// notes.take(CuttingSpeed { d_eff: mm(10.0), n: SpindleSpeed::per_minute(4400.0) });
/// assert!(notes.steps[0].text(System::Metric).contains("π · 10.000 mm · 4400 1/min"));
/// assert!(notes.steps[0].text(System::Metric).contains("v_c = 138.2 m/min"));
/// ```
#[derive(Clone, Debug, Default)]
pub struct Recorded {
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// The checks, with where their numbers come from.
    pub weighed: Vec<Weighed>,
    /// Where the latest value of each symbol comes from.
    origins: Vec<(&'static Symbol, Origin)>,
}

impl Recorded {
    fn keep(&mut self, card: Card, inputs: Values, si: f64, also: Values) {
        let number = self.steps.len() + 1;
        let inputs = inputs
            .into_iter()
            .map(|(symbol, si)| StepInput {
                symbol,
                si,
                origin: self.origin(symbol),
            })
            .collect();
        for symbol in also.iter().map(|(symbol, _)| *symbol).chain([card.symbol]) {
            self.origins.push((symbol, Origin::Step { number }));
        }
        self.steps.push(Step {
            number,
            card,
            inputs,
            si,
            also,
        });
    }

    fn origin(&self, symbol: &Symbol) -> Option<Origin> {
        self.origins
            .iter()
            .rev()
            .find(|(s, _)| *s == symbol)
            .map(|(_, o)| o.clone())
    }
}

impl Notebook for Recorded {
    const KEEPS: bool = true;

    fn take<F: Formula>(&mut self, formula: F) -> F::Out {
        let value = formula.value();
        let inputs = F::SYMBOLS.iter().copied().zip(formula.inputs());
        self.keep(F::CARD, inputs.collect(), value.si(), Vec::new());
        value
    }

    fn summed(
        &mut self,
        card: Card,
        inputs: impl FnOnce() -> Values,
        results: impl FnOnce() -> Values,
    ) {
        let mut results = results().into_iter();
        if let Some((_, si)) = results.next() {
            self.keep(card, inputs(), si, results.collect());
        }
    }

    fn told(&mut self, symbol: &'static Symbol, origin: impl FnOnce() -> Origin) {
        self.origins.push((symbol, origin()));
    }

    fn weighed(&mut self, check: &Check) {
        self.weighed.push(Weighed {
            check: *check,
            value: self.origin(check.limit.symbol),
            bound: self.origin(check.limit.bound),
        });
    }
}
