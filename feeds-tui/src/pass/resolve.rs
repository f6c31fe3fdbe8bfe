//! From texts to a setup: names are looked up, every text is read as it is asked for, and the
//! tables' own room puts the pass together.

pub mod around;
mod entries;
mod idle;
mod known;
mod refused;

pub use idle::Idle;
pub use known::KnownAs;
pub use reference_tables::pass::{Doubt, Gave, Guess, SourceLine};
pub(super) use refused::{impossible, not_found};

use super::description::Description;
use super::field::{Field, Key, Shelf, Station};
use super::modes;
use super::part::Part;
use crate::own::{CutterLife, Learnt, OwnBeside};
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::plan::chatter::TipModes;
use feeds_core::plan::setup::Setup;
use feeds_core::symbol::System;
use reference_tables::cutter::CutterRow;
use reference_tables::hold::HoldRow;
use reference_tables::machine::MachineRow;
use reference_tables::pass::{Caution, PassError, What};
use reference_tables::sourced::Sourced;
use reference_tables::{NotFound, Tables, Unknown, tables};
use refused::refused;

/// A pass that can be worked out.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// The setup.
    pub setup: Setup,
    /// What the tables call the stock.
    pub stock_row: Option<String>,
    /// What would have to be known of the stock, where its state is not.
    pub unknown_state: Option<Unknown>,
    /// The table rows that were used, with their sources.
    pub sources: Vec<SourceLine>,
    /// What to mind, beside the checks.
    pub cautions: Vec<String>,
    /// What nobody gave and decides it.
    pub guesses: Vec<Guess>,
    /// What was typed and has no part in the pass.
    pub idle: Vec<Idle>,
    /// What was typed and is out of the ordinary.
    pub doubts: Vec<Doubt>,
    /// What own cuts of it are known by.
    pub known: KnownAs,
    /// The own cuts that the setup is moved by, if there are any.
    pub own: Option<OwnBeside>,
}

/// Looks up parts by name: the shop's own first, the tables after.
pub trait Shelves {
    /// A thing of the shop, or `None` to ask the tables.
    ///
    /// # Errors
    /// When more than one thing of the shop can be meant.
    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError>;

    /// The names of the shop's cutters.
    fn cutters(&self) -> Vec<String> {
        Vec::new()
    }

    /// The system that speeds and feeds are typed in at the machine.
    fn typed_in(&self) -> System {
        System::Metric
    }

    /// What the shop's own cuts say; `None` where there are none, or the book alone is asked.
    fn learnt(&self) -> Option<&Learnt> {
        None
    }
}

impl<S: Shelves> Shelves for &S {
    fn find(&self, shelf: Shelf, name: &str) -> Result<Option<Part>, EntryError> {
        (**self).find(shelf, name)
    }

    fn cutters(&self) -> Vec<String> {
        (**self).cutters()
    }

    fn typed_in(&self) -> System {
        (**self).typed_in()
    }

    fn learnt(&self) -> Option<&Learnt> {
        (**self).learnt()
    }
}

/// No shop: only the tables, on a machine that is typed in mm.
#[derive(Clone, Copy, Debug, Default)]
pub struct TablesOnly;

/// No shop: only the tables, on a machine that is typed in a system.
#[derive(Clone, Copy, Debug)]
pub struct TablesIn(pub System);

impl Shelves for TablesIn {
    fn find(&self, _: super::field::Shelf, _: &str) -> Result<Option<Part>, EntryError> {
        Ok(None)
    }

    fn typed_in(&self) -> System {
        self.0
    }
}

impl Shelves for TablesOnly {
    fn find(&self, _: super::field::Shelf, _: &str) -> Result<Option<Part>, EntryError> {
        Ok(None)
    }
}

/// Reads a description.
///
/// # Errors
/// Every entry that is wrong or missing, each said of its field.
pub fn resolve(pass: &Description, shelves: &impl Shelves) -> Result<Resolved, Vec<EntryError>> {
    let mut r = Reader::of(pass, shelves)?;
    let (_, wrong) = r.around();
    r.errors.extend(wrong);
    let ready = r.tables.ready(&mut r);
    r.unread();
    let modes = r.modes();
    let idle = r.idle();
    let ready = match ready {
        Ok(ready) if r.errors.is_empty() => ready,
        Ok(_) => return Err(r.errors),
        Err(faults) => {
            r.refuse(&faults);
            return Err(r.errors);
        }
    };
    let unknown_state = ready.cautions.iter().find_map(|caution| match caution {
        Caution::NotKnown(What::Stock, unknown) => Some(unknown.clone()),
        _ => None,
    });
    let said = ready.cautions.iter().map(ToString::to_string);
    let book = Setup {
        modes,
        ..ready.setup
    };
    let known = r.known(&book);
    let learnt = shelves.learnt();
    let own = learnt.and_then(|learnt| learnt.beside(&known, &book));
    let (setup, own) = match own {
        Some((setup, own)) => (setup, Some(own)),
        None => (book, None),
    };
    Ok(Resolved {
        setup,
        known,
        own,
        stock_row: r.stock_row,
        unknown_state,
        sources: ready.sources,
        cautions: r.wear_factor.into_iter().chain(said).collect(),
        guesses: ready.guesses,
        idle,
        doubts: ready.doubts,
    })
}

/// Reads texts as they are asked for, and collects what is wrong with them.
struct Reader<'a> {
    pass: &'a Description,
    /// The system that is typed at the machine.
    typed_in: System,
    tables: &'static Tables,
    /// Things of the shop that the pass names.
    parts: Vec<Part>,
    /// What they are called on their shelves.
    called: Vec<(Shelf, String)>,
    /// What the log says of the cutter, where it was logged.
    life: Option<CutterLife>,
    /// Rows of the tables that it names.
    cutter: Option<&'static Sourced<CutterRow>>,
    machine: Option<&'static Sourced<MachineRow>>,
    hold: Option<&'static HoldRow>,
    /// What the tables call the stock.
    stock_row: Option<String>,
    /// What an older file's factor of wear is read as.
    wear_factor: Option<String>,
    errors: Vec<EntryError>,
    /// Entries whose text was asked for.
    asked: Vec<Key>,
    /// Shelves on which a name was not found: what it would have given is not asked for.
    lost: Vec<Shelf>,
}

impl<'a> Reader<'a> {
    /// A reader that has looked up what is called by a name.
    fn of(pass: &'a Description, shelves: &impl Shelves) -> Result<Self, Vec<EntryError>> {
        let tables =
            tables().map_err(|e| vec![EntryError::because(Cause::NoFile, e.to_string())])?;
        let mut reader = Self {
            pass,
            typed_in: shelves.typed_in(),
            tables,
            parts: Vec::new(),
            called: Vec::new(),
            life: None,
            cutter: None,
            machine: None,
            hold: None,
            stock_row: None,
            wear_factor: None,
            errors: Vec::new(),
            // Names, which are looked up here.
            asked: vec![Key::Cutter, Key::Stock, Key::Machine, Key::Hold],
            lost: Vec::new(),
        };
        reader.cutter = reader.fetch(shelves, Shelf::Cutters, |name| tables.cutter(name));
        reader.machine = reader.fetch(shelves, Shelf::Machines, |name| tables.machine(name));
        reader.hold = reader.fetch(shelves, Shelf::Holds, |name| tables.hold(name));
        reader.fetch_stock(shelves);
        reader.life = shelves
            .learnt()
            .and_then(|l| l.life(&reader.cutter_called()).cloned());
        Ok(reader)
    }

    /// Looks up what is called by a name: a thing of the shop becomes a part, any other is a row.
    fn fetch<T>(
        &mut self,
        shelves: &impl Shelves,
        shelf: Shelf,
        row: impl Fn(&str) -> Result<T, NotFound>,
    ) -> Option<T> {
        let name = self.pass.get(shelf.word())?;
        let found = shelves.find(shelf, name).and_then(|own| match own {
            Some(part) => {
                self.called.push((shelf, part.name.clone()));
                self.parts.push(part);
                Ok(None)
            }
            None => row(name).map(Some).map_err(|e| not_found(&e, shelf.word())),
        });
        if found.is_err() {
            self.lost.push(shelf);
        }
        self.kept(found).flatten()
    }

    /// Looks up the stock: one of the shop names its row of the tables.
    fn fetch_stock(&mut self, shelves: &impl Shelves) {
        let stock = self.pass.get(Key::Stock);
        let own = stock.map_or(Ok(None), |name| shelves.find(Shelf::Stocks, name));
        match own {
            Ok(Some(part)) => {
                self.stock_row = part.get("stock").map(|(row, _)| row.to_owned());
                self.called.push((Shelf::Stocks, part.name.clone()));
                self.parts.push(part);
            }
            Ok(None) => self.stock_row = stock.map(str::to_owned),
            Err(error) => self.errors.push(error),
        }
    }
}

impl Reader<'_> {
    /// What was read; what is wrong with it is kept, once for each entry.
    fn kept<T>(&mut self, read: Result<T, EntryError>) -> Option<T> {
        read.map_err(|error| {
            if !self.is_wrong(error.field()) {
                self.errors.push(error);
            }
        })
        .ok()
    }

    fn is_wrong(&self, field: Option<&str>) -> bool {
        field.is_some() && self.errors.iter().any(|e| e.field() == field)
    }

    /// Reads what was typed but not asked for, because something before it was wrong.
    fn unread(&mut self) {
        for (field, text) in self.pass.iter() {
            if !self.is_wrong(Some(field.key)) {
                let _ = self.kept(field.read(text));
            }
        }
    }

    /// Collects what the room refuses, but for entries that are wrong already or would have come
    /// from a shelf on which their name was not found.
    fn refuse(&mut self, faults: &[PassError]) {
        for fault in faults {
            let lost = matches!(fault, PassError::Missing(symbol)
                if refused::field_of(symbol).is_some_and(|field| self.is_lost(field)));
            if !lost {
                let _ = self.kept::<()>(Err(refused(fault)));
            }
        }
    }

    /// The text of an entry with its origin: typed, or of a part from the shelf.
    fn text(&mut self, key: Key) -> Option<(String, Origin)> {
        self.asked.push(key);
        if let Some(text) = self.pass.get(key) {
            let origin = Origin::Typed {
                text: text.to_owned(),
                field: key.text().to_owned(),
            };
            return Some((text.to_owned(), origin));
        }
        self.parts
            .iter()
            .find_map(|p| p.get(key.text()))
            .map(|(text, origin)| (text.to_owned(), origin.clone()))
    }

    /// Whether the entry would have come from a shelf on which its name was not found.
    fn is_lost(&self, field: &Field) -> bool {
        self.lost.iter().any(|shelf| match shelf {
            Shelf::Cutters => field.station == Station::Cutter,
            Shelf::Machines | Shelf::Holds => field.station == Station::Machine,
            Shelf::Stocks => field.station == Station::Stock,
        })
    }

    /// A word out of a list, if it is there and can be read.
    fn word<T>(&mut self, key: Key, of_word: fn(&str) -> Option<T>) -> Option<T> {
        let (text, _) = self.text(key)?;
        let wrong = || {
            let error = key.field().read(&text).err();
            error.unwrap_or_else(|| {
                EntryError::because(Cause::Idle, format!("«{text}» does not work here"))
                    .of(key.text())
            })
        };
        self.kept(of_word(&text).ok_or_else(wrong))
    }

    /// How the tip swings, if it was typed.
    fn modes(&mut self) -> Option<TipModes> {
        let (text, _) = self.text(Key::Modes)?;
        self.kept(modes::read(&text).map_err(|e| e.of(Key::Modes.text())))
    }

    fn yes(&mut self, key: Key) -> Option<bool> {
        let (text, _) = self.text(key)?;
        self.kept(super::field::yes(&text).map_err(|e| e.of(key.text())))
    }
}
