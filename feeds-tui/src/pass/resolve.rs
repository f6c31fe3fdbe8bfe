//! From texts to a setup: names are looked up, every text is read, defaults are told.

pub mod around;
pub(super) mod cut;
mod cutter;
mod force;
mod guess;
mod guides;
mod idle;
mod machine;
mod source;
mod stock;
mod wear;

pub(crate) use cutter::kind;
pub use guess::Guess;
pub use idle::Idle;
pub use source::{Gave, SourceLine};

use super::description::Description;
use super::field::{FIELDS, Field, Key, Shelf, Station};
use super::part::{self, Part};
use feeds_core::cutter::CutterMaterial;
use feeds_core::error::{Cause, EntryError};
use feeds_core::notebook::Origin;
use feeds_core::plan::setup::{Given, Intent, Setup, SetupError};
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{Symbol, System};
use reference_tables::{Tables, Unknown, tables};

/// A pass that can be worked out.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// The setup.
    pub setup: Setup,
    /// What the tables call the stock.
    pub stock_row: Option<String>,
    /// What is not known of the condition of the stock.
    pub unknown_state: Option<Unknown>,
    /// The table rows that were used, with their sources.
    pub sources: Vec<SourceLine>,
    /// What to mind, beside the checks.
    pub cautions: Vec<String>,
    /// What nobody gave and decides it.
    pub guesses: Vec<Guess>,
    /// What was typed and has no part in the pass.
    pub idle: Vec<Idle>,
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
    let cutter = r.cutter();
    let machine = r.machine();
    let hold = r.hold();
    let cut = r.cut(cutter.as_ref(), machine.as_ref());
    let light = machine.as_ref().is_none_or(|m| m.light);
    let stock = cutter
        .as_ref()
        .zip(cut.as_ref())
        .map(|(cutter, cut)| r.stock(cutter, cut));
    if stock.is_none() {
        // What is wrong with the stock is told even so.
        let _ = r.state();
    }
    let given = Given {
        n: r.quantity("spindle"),
        v_c: r.quantity("cutting-speed"),
        f_z: r.quantity("feed-per-tooth"),
        v_f: r.quantity("feed"),
    };
    let intent = r
        .word("intent", Intent::of_word)
        .unwrap_or(Intent::Cautious);
    r.unread();
    let (Some(cutter), Some(stock), Some(cut)) = (cutter, stock, cut) else {
        return Err(r.errors);
    };
    let guides = r.guides(&cutter, &cut, light);
    let setup = Setup {
        cutter,
        stock,
        machine,
        hold,
        cut,
        given,
        intent,
        typed_in: shelves.typed_in(),
        guides,
        origins: std::mem::take(&mut r.origins),
    };
    let setup = r.settled(setup);
    let slender = setup.cutter.slenderness();
    if guides.stick_out.is_none_or(|usual| slender > usual) {
        r.cautions.push(crate::words::LONG.to_owned());
    }
    r.impossible(&setup);
    let idle = r.idle();
    if !r.errors.is_empty() {
        return Err(r.errors);
    }
    Ok(Resolved {
        setup,
        stock_row: r.stock_row,
        unknown_state: r.unknown_state,
        sources: r.sources,
        cautions: r.cautions,
        guesses: r.guesses,
        idle,
    })
}

/// What no cut can have, said of the entry that has it.
pub(super) fn impossible(error: &SetupError) -> EntryError {
    let key = match error {
        SetupError::Outside { symbol, .. } => FIELDS
            .iter()
            .find(|f| f.symbol() == Some(symbol))
            .map_or_else(|| error.field(), |f| f.key.to_owned()),
        _ => error.field(),
    };
    EntryError::NoCut(error.clone()).of(&key)
}

/// Reads texts, and collects what it learns on the way.
struct Reader<'a> {
    pass: &'a Description,
    /// The system that is typed at the machine.
    typed_in: System,
    tables: &'a Tables,
    parts: Vec<Part>,
    /// What the tables call the stock.
    stock_row: Option<String>,
    /// What is not known of its condition.
    unknown_state: Option<Unknown>,
    origins: Vec<(&'static Symbol, Origin)>,
    sources: Vec<SourceLine>,
    cautions: Vec<String>,
    guesses: Vec<Guess>,
    errors: Vec<EntryError>,
    /// Entries whose text was asked for.
    asked: Vec<&'static str>,
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
            stock_row: None,
            unknown_state: None,
            origins: Vec::new(),
            sources: Vec::new(),
            cautions: Vec::new(),
            guesses: Vec::new(),
            errors: Vec::new(),
            // Names, which `fetch` looks up.
            asked: vec!["cutter", "stock", "machine", "hold"],
            lost: Vec::new(),
        };
        reader.fetch(shelves);
        Ok(reader)
    }
}

impl Reader<'_> {
    /// Reads what was typed but not asked for, because something before it was wrong.
    fn unread(&mut self) {
        for (field, text) in self.pass.iter() {
            let told = self.errors.iter().any(|e| e.field() == Some(field.key));
            if let (false, Err(error)) = (told, field.read(text)) {
                self.errors.push(error);
            }
        }
    }

    /// Collects what no cut can have, but for entries that are wrong already.
    fn impossible(&mut self, setup: &Setup) {
        for error in setup.faults().iter().map(impossible) {
            if !self.errors.iter().any(|e| e.field() == error.field()) {
                self.errors.push(error);
            }
        }
    }

    /// Looks up what is called by a name.
    fn fetch(&mut self, shelves: &impl Shelves) {
        type Find<'f> = &'f dyn Fn(&Tables, &str) -> Result<Part, EntryError>;
        let tested = self.pass.get("clamp-force").is_some();
        let hold = |tables: &Tables, name: &str| part::hold(tables, name, tested);
        let of_tables: [(&str, Shelf, Find<'_>); 3] = [
            ("cutter", Shelf::Cutters, &part::cutter),
            ("machine", Shelf::Machines, &part::machine),
            ("hold", Shelf::Holds, &hold),
        ];
        for (key, shelf, find) in of_tables {
            let Some(name) = self.pass.get(key) else {
                continue;
            };
            let found = shelves.find(shelf, name);
            match found.and_then(|own| own.map_or_else(|| find(self.tables, name), Ok)) {
                Ok(part) => self.parts.push(part),
                Err(error) => {
                    self.errors.push(error);
                    self.lost.push(shelf);
                }
            }
        }
        let stock = self.pass.get("stock");
        match stock.map_or(Ok(None), |name| shelves.find(Shelf::Stocks, name)) {
            Ok(Some(part)) => {
                self.stock_row = part.get("stock").map(|(row, _)| row.to_owned());
                self.parts.push(part);
            }
            Ok(None) => self.stock_row = stock.map(str::to_owned),
            Err(error) => self.errors.push(error),
        }
    }

    /// The text of an entry with its origin: typed, or of a part from the shelf.
    fn text(&mut self, key: &'static str) -> Option<(String, Origin)> {
        self.asked.push(key);
        if let Some(text) = self.pass.get(key) {
            let origin = Origin::Typed {
                text: text.to_owned(),
                field: key.to_owned(),
            };
            return Some((text.to_owned(), origin));
        }
        self.parts
            .iter()
            .find_map(|p| p.get(key))
            .map(|(text, origin)| (text.to_owned(), origin.clone()))
    }

    fn has(&self, key: &'static str) -> bool {
        self.pass.get(key).is_some() || self.parts.iter().any(|p| p.get(key).is_some())
    }

    fn field(key: &'static str) -> &'static Field {
        Key::named(key).field()
    }

    /// A quantity, if it is there and can be read.
    fn quantity<Q: Quantity>(&mut self, key: &'static str) -> Option<Q> {
        let (text, origin) = self.text(key)?;
        let field = Self::field(key);
        match field.read(&text) {
            Ok(si) => {
                self.taken(field, &text, &origin);
                if let Some(symbol) = field.symbol() {
                    self.origins.push((symbol, origin));
                }
                si.map(Q::from_si)
            }
            Err(error) => {
                self.errors.push(error);
                None
            }
        }
    }

    /// A quantity, or a default that is told.
    fn quantity_or<Q: Quantity>(&mut self, key: &'static str, default: Q, why: &str) -> Q {
        if self.has(key) {
            return self.quantity(key).unwrap_or(default);
        }
        if let Some(symbol) = Self::field(key).symbol() {
            self.told(symbol, why);
            self.assumed(key, symbol, default.si(), why);
        }
        default
    }

    /// A quantity that has to be there.
    fn need<Q: Quantity>(&mut self, key: &'static str) -> Option<Q> {
        if !self.has(key) {
            let field = Self::field(key);
            if self.is_lost(field) {
                return None;
            }
            self.errors.push(
                EntryError::Missing {
                    example: field.example,
                }
                .of(key),
            );
        }
        self.quantity(key)
    }

    /// Whether the entry would have come from a shelf on which its name was not found.
    fn is_lost(&self, field: &Field) -> bool {
        self.lost.iter().any(|shelf| match shelf {
            Shelf::Cutters => field.station == Station::Cutter,
            Shelf::Machines | Shelf::Holds => field.station == Station::Machine,
            Shelf::Stocks => field.station == Station::Stock,
        })
    }

    fn told(&mut self, symbol: &'static Symbol, why: &str) {
        let why = why.to_owned();
        self.origins.push((symbol, Origin::Default { why }));
    }

    /// A word out of a list, if it is there and can be read.
    fn word<T>(&mut self, key: &'static str, of_word: fn(&str) -> Option<T>) -> Option<T> {
        let (text, _) = self.text(key)?;
        let choice = of_word(&text);
        if choice.is_none() {
            let error = Self::field(key).read(&text).err().unwrap_or_else(|| {
                EntryError::because(Cause::Idle, format!("«{text}» does not work here")).of(key)
            });
            self.errors.push(error);
        }
        choice
    }

    fn yes(&mut self, key: &'static str) -> Option<bool> {
        let (text, _) = self.text(key)?;
        super::field::yes(&text)
            .map_err(|e| self.errors.push(e.of(key)))
            .ok()
    }
}

/// The tables' word for a cutter material.
fn table_material(material: CutterMaterial) -> reference_tables::kind::CutterMaterial {
    match material {
        CutterMaterial::Carbide => reference_tables::kind::CutterMaterial::Carbide,
        CutterMaterial::Hss => reference_tables::kind::CutterMaterial::Hss,
    }
}
