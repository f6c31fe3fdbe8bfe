//! Asks the entries, then the tables, and keeps what is learnt on the way.

use super::caution::Caution;
use super::doubt::{Doubt, Typed, doubts};
use super::entries::{Entries, Known};
use super::error::PassError;
use super::guess::Guess;
use super::row::RowValues;
use super::source::{Gave, SourceLine};
use super::usual::Usual;
use crate::choice::Choice;
use crate::tables::Tables;
use feeds_core::notebook::Origin;
use feeds_core::plan::setup::{Given, Intent, Setup};
use feeds_core::quantity::{Length, Quantity};
use feeds_core::symbol::{self as s, Symbol, System};

/// A pass that can be worked out.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The setup.
    pub setup: Setup,
    /// The table rows that were used, with their sources.
    pub sources: Vec<SourceLine>,
    /// What to mind, beside the checks.
    pub cautions: Vec<Caution>,
    /// What nobody gave and decides it.
    pub guesses: Vec<Guess>,
    /// What was typed and is out of the ordinary.
    pub doubts: Vec<Doubt>,
}

/// What is asked, and what was learnt.
pub(super) struct Room<'t, 'e, E> {
    pub(super) tables: &'t Tables,
    pub(super) entries: &'e mut E,
    /// The values of the rows of the tables that cutter, machine and hold are.
    rows: Vec<(&'static str, RowValues)>,
    pub(super) origins: Vec<(&'static Symbol, Origin)>,
    /// Values that were typed, each once.
    typed: Vec<Typed>,
    sources: Vec<SourceLine>,
    pub(super) cautions: Vec<Caution>,
    pub(super) guesses: Vec<Guess>,
    pub(super) errors: Vec<PassError>,
    /// Whether nobody said climb or conventional.
    pub(super) direction_open: bool,
    /// The wear land of the edge.
    pub(super) land: Length,
}

impl Tables {
    /// Puts a pass together from what is known of it and from the tables.
    ///
    /// # Errors
    /// Everything that is missing or cannot be so.
    pub fn ready<'t>(&'t self, entries: &mut impl Entries<'t>) -> Result<Ready, Vec<PassError>> {
        Room::new(self, entries).ready()
    }
}

impl<'t, 'e, E: Entries<'t>> Room<'t, 'e, E> {
    fn new(tables: &'t Tables, entries: &'e mut E) -> Self {
        let mut rows = Vec::new();
        if let Some(row) = entries.cutter() {
            rows.push(("cutter", row.values(tables)));
        }
        if let Some(row) = entries.machine() {
            rows.push(("hold and machine", row.values(tables)));
        }
        if let Some(row) = entries.hold() {
            rows.push(("hold and machine", row.values(tables)));
        }
        Self {
            tables,
            entries,
            rows,
            origins: Vec::new(),
            typed: Vec::new(),
            sources: Vec::new(),
            cautions: Vec::new(),
            guesses: Vec::new(),
            errors: Vec::new(),
            direction_open: false,
            land: nothing(),
        }
    }

    fn ready(mut self) -> Result<Ready, Vec<PassError>> {
        let cutter = self.cutter();
        let machine = self.machine();
        let hold = self.hold();
        let cut = self.cut(cutter.as_ref(), machine.as_ref());
        let light = machine.as_ref().is_none_or(|m| m.light);
        let stock = cutter
            .as_ref()
            .zip(cut.as_ref())
            .map(|(cutter, cut)| self.stock(cutter, cut));
        if stock.is_none() {
            // What is wrong with the stock is told even so.
            let _ = self.state();
        }
        let given = Given {
            n: self.quantity(&s::N),
            v_c: self.quantity(&s::V_C),
            f_z: self.quantity(&s::F_Z),
            v_f: self.quantity(&s::V_F),
        };
        let intent = self.entries.intent().unwrap_or(Intent::Cautious);
        let (Some(cutter), Some(stock), Some(cut)) = (cutter, stock, cut) else {
            return Err(self.errors);
        };
        let guides = self.guides(&cutter, &cut, light);
        let setup = Setup {
            cutter,
            stock,
            machine,
            hold,
            cut,
            given,
            intent,
            typed_in: self.entries.typed_in(),
            guides,
            modes: None,
            own: None,
            origins: std::mem::take(&mut self.origins),
        };
        let setup = self.settled(setup);
        let slender = setup.cutter.slenderness();
        if guides.stick_out.is_none_or(|usual| slender > usual) {
            self.cautions.push(Caution::Long);
        }
        let faults = setup.faults().into_iter().map(PassError::Setup);
        self.errors.extend(faults);
        if !self.errors.is_empty() {
            return Err(self.errors);
        }
        let doubts = doubts(&setup, &self.typed);
        Ok(Ready {
            setup,
            doubts,
            sources: self.sources,
            cautions: self.cautions,
            guesses: self.guesses,
        })
    }

    fn row(&self, of: &'static Symbol) -> Option<(&'static str, &Known)> {
        self.rows.iter().find_map(|(what, values)| {
            let (_, known) = values.iter().find(|(symbol, _)| *symbol == of)?;
            Some((*what, known))
        })
    }

    /// Whether a quantity is known, by entry or row.
    pub(super) fn has(&self, of: &'static Symbol) -> bool {
        self.entries.has(of) || self.row(of).is_some()
    }

    /// Whether a quantity is one of a row of the tables.
    pub(super) fn of_row(&self, of: &'static Symbol) -> bool {
        let row = self.row(of);
        let printed = row.is_some_and(|(_, known)| matches!(known.from, Origin::Row { .. }));
        printed && !self.entries.has(of)
    }

    /// A quantity, if it is known.
    pub(super) fn quantity<Q: Quantity>(&mut self, of: &'static Symbol) -> Option<Q> {
        if self.entries.has(of) {
            let known = self.entries.quantity(of)?;
            self.keep_typed(of, &known);
            self.origins.push((of, known.from));
            return Some(Q::from_si(known.si));
        }
        let (what, known) = self.row(of).map(|(what, known)| (what, known.clone()))?;
        self.cite_value(what, of, &known);
        self.origins.push((of, known.from));
        Some(Q::from_si(known.si))
    }

    /// Keeps what was typed, to be asked about where it is out of the ordinary.
    fn keep_typed(&mut self, of: &'static Symbol, known: &Known) {
        let again = self.typed.iter().any(|typed| typed.symbol == of);
        if !again && matches!(known.from, Origin::Typed { .. }) {
            self.typed.push(Typed {
                symbol: of,
                called: self.entries.called(of),
                si: known.si,
                text: known.text.clone(),
                printed: self.row(of).map(|(_, known)| known.si),
            });
        }
    }

    /// A quantity, or what is usual, which is told.
    pub(super) fn quantity_or<Q: Quantity>(
        &mut self,
        of: &'static Symbol,
        usual: &Usual,
        value: Q,
    ) -> Q {
        if self.has(of) {
            return self.quantity(of).unwrap_or(value);
        }
        self.told(of, &usual.reason());
        let shown = of.show(value.si(), self.entries.typed_in());
        self.sources.push(SourceLine {
            what: self.entries.called(of).to_owned(),
            value: format!("{}, not given", of.show(value.si(), System::Metric)),
            read: Some(format!("{shown}, not given")),
            source: usual.why.to_owned(),
            basis: usual.basis.word().to_owned(),
            weak: true,
            extrapolated: false,
            why: String::new(),
            gave: Gave::Other,
        });
        value
    }

    /// A quantity, or a value that needs no source, which is told.
    pub(super) fn quantity_else<Q: Quantity>(
        &mut self,
        of: &'static Symbol,
        value: Q,
        why: &str,
    ) -> Q {
        if self.has(of) {
            return self.quantity(of).unwrap_or(value);
        }
        self.told(of, why);
        value
    }

    /// A quantity that has to be there.
    pub(super) fn need<Q: Quantity>(&mut self, of: &'static Symbol) -> Option<Q> {
        if !self.has(of) {
            self.errors.push(PassError::Missing(of));
            return None;
        }
        self.quantity(of)
    }

    /// Says why a value is what it is.
    pub(super) fn told(&mut self, of: &'static Symbol, why: &str) {
        let why = why.to_owned();
        self.origins.push((of, Origin::Default { why }));
    }

    /// Cites the row of a machine, a hold or a cutter that a value is of. Values of one row share a
    /// line.
    fn cite_value(&mut self, what: &'static str, of: &'static Symbol, known: &Known) {
        let Origin::Row {
            source,
            basis,
            weak,
            ..
        } = &known.from
        else {
            return;
        };
        let value = format!("{} {}", self.entries.called(of), known.text);
        let same = |s: &&mut SourceLine| {
            s.what == what && s.source == *source && s.basis == *basis && s.weak == *weak
        };
        if let Some(line) = self.sources.iter_mut().find(same) {
            if !line.value.contains(&value) {
                line.value = format!("{}, {value}", line.value);
            }
            return;
        }
        self.sources.push(SourceLine {
            what: what.to_owned(),
            value,
            read: None,
            source: source.clone(),
            basis: basis.clone(),
            weak: *weak,
            extrapolated: false,
            why: String::new(),
            gave: Gave::Other,
        });
    }

    pub(super) fn origin<T>(&self, choice: &Choice<T>) -> Origin {
        let mut row = choice.row.origin.clone();
        row.weak |= choice.weak;
        let said = format!("{}: {}", choice.row.subject, choice.row.printed);
        self.tables.origin(&said, &row)
    }

    /// Cites a row, and tells the notebook which symbols come from it.
    pub(super) fn chosen<T>(
        &mut self,
        what: &str,
        symbols: &[&'static Symbol],
        choice: &Choice<T>,
    ) {
        self.cite(what, choice);
        for symbol in symbols {
            let origin = self.origin(choice);
            self.origins.push((symbol, origin));
        }
    }

    pub(super) fn cite<T>(&mut self, what: &str, choice: &Choice<T>) {
        let gave = if choice.capped {
            Gave::Capped
        } else {
            Gave::Other
        };
        self.cite_as(what, gave, choice);
    }

    /// Cites a row of which more hangs than its line.
    pub(super) fn cite_as<T>(&mut self, what: &str, gave: Gave, choice: &Choice<T>) {
        if let Origin::Row {
            row,
            source,
            basis,
            weak,
            ..
        } = self.origin(choice)
        {
            self.sources.push(SourceLine {
                extrapolated: false,
                what: what.to_owned(),
                value: row,
                read: None,
                source,
                basis,
                weak,
                why: choice.why.clone(),
                gave,
            });
        }
    }
}

/// No length.
pub(super) fn nothing() -> Length {
    Length::from_si(0.0)
}
