//! What is known of a pass before the tables are asked.

use crate::cutter::CutterRow;
use crate::hardness::Hardness;
use crate::hold::HoldRow;
use crate::machine::MachineRow;
use crate::material::Material;
use crate::sourced::Sourced;
use crate::wear::Wear;
use feeds_core::cut::{Direction, Path, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::notebook::Origin;
use feeds_core::plan::setup::Intent;
use feeds_core::quantity::Length;
use feeds_core::symbol::{Symbol, System};

/// A quantity, as it is written and where it is from.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// In SI base units.
    pub si: f64,
    /// As it was typed or printed.
    pub text: String,
    /// Where it is from.
    pub from: Origin,
}

/// How worn an edge is.
#[derive(Clone, Debug, PartialEq)]
pub enum EdgeWear {
    /// In a word, which the tables have a wear land for.
    Word(Wear),
    /// The wear land, and where it is from.
    Land(Length, Origin),
}

/// How the cutter goes down to its depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WayIn {
    /// Down a slope.
    Ramp,
    /// Down a helix.
    Helix,
    /// Straight down.
    Plunge,
}

/// What is known of a pass before the tables are asked: quantities by their symbol, the rest by
/// name. Each is asked for only where it counts in the pass, so that whoever answers can tell what
/// was of no use.
///
/// [`PassBuilder`](super::PassBuilder) answers with values; a program that takes texts reads them
/// here.
pub trait Entries<'t> {
    /// Whether a quantity is known; it is not asked for by this.
    fn has(&self, of: &'static Symbol) -> bool;

    /// Whether it is said of this pass itself, and not of a thing that stands on a shelf.
    fn own(&self, of: &'static Symbol) -> bool {
        self.has(of)
    }

    /// A quantity.
    fn quantity(&mut self, of: &'static Symbol) -> Option<Known>;

    /// What the reader calls a quantity.
    fn called(&self, of: &'static Symbol) -> &'static str {
        of.name
    }

    /// A cutter of the tables, for what nobody says of the cutter.
    fn cutter(&self) -> Option<&'t Sourced<CutterRow>>;

    /// A machine of the tables, for what nobody says of the machine.
    fn machine(&self) -> Option<&'t Sourced<MachineRow>>;

    /// Whether a machine is meant though nothing of it is known.
    fn has_machine(&self) -> bool {
        self.machine().is_some()
    }

    /// A hold of the tables, for what nobody says of the hold.
    fn hold(&self) -> Option<&'t HoldRow>;

    /// Whether a hold is meant though nothing of it is known.
    fn has_hold(&self) -> bool {
        self.hold().is_some()
    }

    /// The stock.
    fn material(&mut self) -> Option<&'t Material>;

    /// The condition of the stock.
    fn condition(&mut self) -> Option<String>;

    /// A measured hardness, and where it is from.
    fn hardness(&mut self) -> Option<(Hardness, Origin)>;

    /// The shape of the end.
    fn end(&mut self) -> Option<End>;

    /// What the cutter is made of.
    fn cutter_material(&mut self) -> Option<CutterMaterial>;

    /// What covers its edges.
    fn coating(&mut self) -> Option<Coating>;

    /// Whether an edge reaches the centre.
    fn centre_cutting(&mut self) -> Option<bool>;

    /// How worn the edge is.
    fn wear(&mut self) -> Option<EdgeWear>;

    /// The path.
    fn path(&mut self) -> Option<Path>;

    /// Climb or conventional.
    fn direction(&mut self) -> Option<Direction>;

    /// The side of a curved wall.
    fn wall_side(&mut self) -> Option<WallSide>;

    /// Whether the path runs into a sharp inside corner.
    fn corner(&mut self) -> Option<bool>;

    /// How the cutter goes in to depth.
    fn way_in(&mut self) -> Option<WayIn>;

    /// Cautious or production.
    fn intent(&mut self) -> Option<Intent>;

    /// The system that is typed at the machine.
    fn typed_in(&self) -> System;
}
