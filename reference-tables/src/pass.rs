//! A pass put together from names: what the tables have of a stock, a cutter, a machine and a
//! hold, and what is usual for what nobody gave.
//!
//! [`Tables::pass`] begins one; [`PassBuilder::setup`] gives what `feeds_core::plan` works out, and
//! [`PassBuilder::ready`] also tells which rows were used, what to mind and what was guessed. A
//! program that has its entries elsewhere implements [`Entries`] and calls [`Tables::ready`].
//!
//! ```
//! use feeds_core::cut::Path;
//! use feeds_core::notebook::Silent;
//! use feeds_core::plan::Planner;
//! use feeds_core::quantity::{in_mm, mm};
//!
//! let tables = reference_tables::tables()?;
//! let setup = tables
//!     .pass()
//!     .stock("1095")
//!     .condition("annealed")
//!     .cutter("6 mm square, 4 edges, AlTiN carbide")
//!     .machine("bench-5000")
//!     .path(Path::Slot)
//!     .depth(mm(1.0))
//!     .setup()?;
//! let plan = Planner::new(&setup).work_out(&setup, &mut Silent)?;
//! assert_eq!(in_mm(setup.cutter.diameter).round(), 6.0);
//! assert!(plan.loads.is_some());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod caution;
mod cut;
mod cutter;
mod doubt;
mod entries;
mod error;
mod force;
mod guess;
mod guides;
mod machine;
mod ordinary;
mod room;
mod row;
mod source;
mod stock;
pub mod usual;
mod wear;

pub use caution::{Caution, Chosen, What};
pub use doubt::{Doubt, doubt_alone};
pub use entries::{EdgeWear, Entries, Known, WayIn};
pub use error::{Faults, PassError};
pub use guess::Guess;
pub use room::Ready;
pub use row::RowValues;
pub use source::{Gave, SourceLine};

use crate::cutter::CutterRow;
use crate::error::NotFound;
use crate::hardness::Hardness;
use crate::hold::HoldRow;
use crate::machine::MachineRow;
use crate::material::Material;
use crate::sourced::Sourced;
use crate::tables::Tables;
use crate::wear::Wear;
use feeds_core::cut::{Direction, Path, Wall, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::notebook::Origin;
use feeds_core::plan::setup::{Intent, Setup};
use feeds_core::quantity::{Length, Quantity, SpindleSpeed, Velocity};
use feeds_core::symbol::{self as s, Symbol, System};

/// A pass as it is described: by names of the tables, and by values that go before them.
#[derive(Clone, Debug)]
pub struct PassBuilder<'t> {
    tables: &'t Tables,
    errors: Vec<PassError>,
    values: Vec<(&'static Symbol, f64)>,
    material: Option<&'t Material>,
    condition: Option<String>,
    hardness: Option<Hardness>,
    cutter: Option<&'t Sourced<CutterRow>>,
    machine: Option<&'t Sourced<MachineRow>>,
    hold: Option<&'t HoldRow>,
    end: Option<End>,
    cutter_material: Option<CutterMaterial>,
    coating: Option<Coating>,
    centre_cutting: Option<bool>,
    wear: Option<EdgeWear>,
    path: Option<Path>,
    direction: Option<Direction>,
    wall_side: Option<WallSide>,
    corner: Option<bool>,
    way_in: Option<WayIn>,
    intent: Option<Intent>,
    typed_in: System,
}

/// Sets what is known to one value.
macro_rules! set {
    ($($(#[$doc:meta])* $name:ident: $kind:ty;)+) => {
        $($(#[$doc])*
        #[must_use]
        pub fn $name(mut self, $name: $kind) -> Self {
            self.$name = Some($name);
            self
        })+
    };
}

/// Sets quantities that have a symbol.
macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident: $kind:ty = $symbol:ident;)+) => {
        $($(#[$doc])*
        #[must_use]
        pub fn $name(self, $name: $kind) -> Self {
            self.with(&s::$symbol, $name)
        })+
    };
}

impl Tables {
    /// A pass of which nothing is known yet.
    pub fn pass(&self) -> PassBuilder<'_> {
        PassBuilder {
            tables: self,
            errors: Vec::new(),
            values: Vec::new(),
            material: None,
            condition: None,
            hardness: None,
            cutter: None,
            machine: None,
            hold: None,
            end: None,
            cutter_material: None,
            coating: None,
            centre_cutting: None,
            wear: None,
            path: None,
            direction: None,
            wall_side: None,
            corner: None,
            way_in: None,
            intent: None,
            typed_in: System::Metric,
        }
    }
}

impl PassBuilder<'_> {
    /// A name that calls nothing is an error of [`PassBuilder::ready`].
    fn found<T>(&mut self, found: Result<T, NotFound>) -> Option<T> {
        found.map_err(|e| self.errors.push(e.into())).ok()
    }

    /// The stock, as [`Tables::material`] finds it.
    #[must_use]
    pub fn stock(mut self, name: &str) -> Self {
        self.material = self.found(self.tables.material(name));
        self
    }

    /// The cutter, as [`Tables::cutter`] finds it.
    #[must_use]
    pub fn cutter(mut self, name: &str) -> Self {
        self.cutter = self.found(self.tables.cutter(name));
        self
    }

    /// The machine, as [`Tables::machine`] finds it.
    #[must_use]
    pub fn machine(mut self, name: &str) -> Self {
        self.machine = self.found(self.tables.machine(name));
        self
    }

    /// The hold, as [`Tables::hold`] finds it.
    #[must_use]
    pub fn hold(mut self, name: &str) -> Self {
        self.hold = self.found(self.tables.hold(name));
        self
    }

    /// The condition of the stock: `annealed`.
    #[must_use]
    pub fn condition(mut self, name: &str) -> Self {
        self.condition = Some(name.to_owned());
        self
    }

    set! {
        /// A measured hardness; it counts before the condition.
        hardness: Hardness;
        /// The shape of the end.
        end: End;
        /// What the cutter is made of.
        cutter_material: CutterMaterial;
        /// What covers its edges.
        coating: Coating;
        /// Whether an edge reaches the centre.
        centre_cutting: bool;
        /// The path; along a side where nobody says.
        path: Path;
        /// Climb or conventional; the careful one where nobody says.
        direction: Direction;
        /// Whether the path runs into a sharp inside corner.
        corner: bool;
        /// How the cutter goes in to depth.
        way_in: WayIn;
        /// Cautious or production; cautious where nobody says.
        intent: Intent;
    }

    quantities! {
        /// Depth of cut.
        depth: Length = A_P;
        /// Width of cut; only a slot has its own.
        width: Length = A_E;
        /// Cutting diameter.
        diameter: Length = D;
        /// Stick-out.
        stick_out: Length = STICK_OUT;
        /// Spindle speed; worked out where nobody says.
        spindle: SpindleSpeed = N;
        /// Cutting speed; worked out where nobody says.
        cutting_speed: Velocity = V_C;
        /// Feed per tooth; worked out where nobody says.
        feed_per_tooth: Length = F_Z;
        /// Feed speed; worked out where nobody says.
        feed: Velocity = V_F;
    }

    /// The number of edges.
    #[must_use]
    pub fn edges(self, edges: u32) -> Self {
        self.with(&s::Z, f64::from(edges))
    }

    /// A curved wall.
    #[must_use]
    pub fn wall(mut self, wall: Wall) -> Self {
        self.wall_side = Some(wall.side);
        self.with(&s::WALL_R, wall.radius)
    }

    /// How worn the edge is, in a word.
    #[must_use]
    pub fn wear(mut self, wear: Wear) -> Self {
        self.wear = Some(EdgeWear::Word(wear));
        self
    }

    /// The system that is typed at the machine.
    #[must_use]
    pub fn typed_in(mut self, system: System) -> Self {
        self.typed_in = system;
        self
    }

    /// Any other quantity of a pass, by its symbol; it goes before what a row of the tables has.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::mm;
    /// use feeds_core::symbol as s;
    /// let tables = reference_tables::tables().unwrap();
    /// let pass = tables.pass().cutter("6 mm ball").depth(mm(0.2)).width(mm(0.2));
    /// let setup = pass.with(&s::STICK_OUT, mm(15.0)).setup().unwrap();
    /// assert_eq!(setup.cutter.stick_out, mm(15.0)); // and not the 22 mm of the table
    /// ```
    #[must_use]
    pub fn with<Q: Quantity>(mut self, symbol: &'static Symbol, value: Q) -> Self {
        self.values.retain(|(of, _)| *of != symbol);
        self.values.push((symbol, value.si()));
        self
    }

    /// The setup.
    ///
    /// # Errors
    /// Everything that is missing or cannot be so.
    ///
    /// # Example
    /// ```
    /// use reference_tables::pass::PassError;
    /// let tables = reference_tables::tables().unwrap();
    /// let faults = tables.pass().stock("unobtainium").setup().unwrap_err().0;
    /// assert!(matches!(faults[0], PassError::NotFound(_)));
    /// assert!(faults.contains(&PassError::Missing(&feeds_core::symbol::A_P)));
    /// ```
    pub fn setup(self) -> Result<Setup, Faults> {
        self.ready().map(|ready| ready.setup)
    }

    /// The setup with the rows that were used, what to mind and what was guessed.
    ///
    /// # Errors
    /// As [`PassBuilder::setup`].
    pub fn ready(mut self) -> Result<Ready, Faults> {
        let lost = std::mem::take(&mut self.errors);
        match self.tables.ready(&mut self) {
            Ok(ready) if lost.is_empty() => Ok(ready),
            Ok(_) => Err(Faults(lost)),
            Err(more) => Err(Faults([lost, more].concat())),
        }
    }
}

impl<'t> Entries<'t> for PassBuilder<'t> {
    fn has(&self, symbol: &'static Symbol) -> bool {
        self.values.iter().any(|(of, _)| *of == symbol)
    }

    fn quantity(&mut self, symbol: &'static Symbol) -> Option<Known> {
        let (_, si) = self.values.iter().find(|(of, _)| *of == symbol)?;
        let text = symbol.show(*si, self.typed_in);
        let from = Origin::Typed {
            text: text.clone(),
            field: symbol.name.to_owned(),
        };
        Some(Known {
            si: *si,
            text,
            from,
        })
    }

    fn cutter(&self) -> Option<&'t Sourced<CutterRow>> {
        self.cutter
    }

    fn machine(&self) -> Option<&'t Sourced<MachineRow>> {
        self.machine
    }

    fn hold(&self) -> Option<&'t HoldRow> {
        self.hold
    }

    fn material(&mut self) -> Option<&'t Material> {
        self.material
    }

    fn condition(&mut self) -> Option<String> {
        self.condition.clone()
    }

    fn hardness(&mut self) -> Option<(Hardness, Origin)> {
        let hardness = self.hardness?;
        let from = Origin::Typed {
            text: hardness.to_string(),
            field: "hardness".to_owned(),
        };
        Some((hardness, from))
    }

    fn end(&mut self) -> Option<End> {
        self.end
    }

    fn cutter_material(&mut self) -> Option<CutterMaterial> {
        self.cutter_material
    }

    fn coating(&mut self) -> Option<Coating> {
        self.coating
    }

    fn centre_cutting(&mut self) -> Option<bool> {
        self.centre_cutting
    }

    fn wear(&mut self) -> Option<EdgeWear> {
        self.wear.clone()
    }

    fn path(&mut self) -> Option<Path> {
        self.path
    }

    fn direction(&mut self) -> Option<Direction> {
        self.direction
    }

    fn wall_side(&mut self) -> Option<WallSide> {
        self.wall_side
    }

    fn corner(&mut self) -> Option<bool> {
        self.corner
    }

    fn way_in(&mut self) -> Option<WayIn> {
        self.way_in
    }

    fn intent(&mut self) -> Option<Intent> {
        self.intent
    }

    fn typed_in(&self) -> System {
        self.typed_in
    }
}
