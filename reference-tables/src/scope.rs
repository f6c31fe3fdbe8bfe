//! For which stocks a row is printed.

use crate::choice::Fit;
use crate::hardness::Hardness;
use crate::material::{Class, Group};
use crate::sourced::{Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use serde::Deserialize;

/// For which stocks a row is printed. A row without any is kept to compare.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
pub struct Scope {
    /// Ids of stocks we read the row for.
    #[serde(default)]
    pub stocks: Vec<String>,
    /// Whether the row names the alloy itself.
    #[serde(default)]
    pub named: bool,
    /// Conditions of those stocks it is read for, whatever their hardness.
    #[serde(default)]
    pub conditions: Vec<String>,
    /// Classes of stock.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// Groups of VDI 3323.
    #[serde(default)]
    pub groups: Vec<u8>,
    /// Rows of one family differ in hardness only.
    pub family: Option<String>,
    /// Whether the row is for every stock.
    #[serde(default)]
    pub every_stock: bool,
    /// Hardness the row is printed for.
    pub hardness: Option<Sourced<Figure<Hardness>>>,
}

/// A row printed for more Brinell numbers than this is for a class of stock, not for a hardness.
const NARROW_HB: f64 = 120.0;

/// How a row reaches a stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Reach {
    pub(crate) fit: Fit,
    /// Whether the stock's condition is read in the row's group.
    pub(crate) covers: bool,
    pub(crate) weak: bool,
    /// Whether the row is known to err on the unsafe side: taken only for want of another.
    pub(crate) unsafe_side: bool,
}

impl Reach {
    fn plain(fit: Fit) -> Self {
        Self {
            fit,
            covers: false,
            weak: false,
            unsafe_side: false,
        }
    }
}

impl Scope {
    /// How the row reaches the stock; `None` when it is not for it. `unsafe_side` says of a group
    /// whether its figures err on the unsafe side for a stock read in it.
    ///
    /// The first of these that is so: a condition is read in a group of the row; the stock is one
    /// of the row's; its class is; the row is for every stock (weak for hardened stock and
    /// laminates); a condition is read in another group of the row's family. A row for a stock or a
    /// class counts as printing a hardness where it does so firmly and for 120 HB at most.
    pub(crate) fn reach(
        &self,
        tables: &Tables,
        state: &StockState<'_>,
        unsafe_side: impl Fn(&Group) -> bool,
    ) -> Option<Reach> {
        let by_class = if self.states_hardness(tables) {
            Fit::Hardness
        } else {
            Fit::Class
        };
        if let Some((group, covers)) = self.groups.iter().find_map(|g| state.group(*g)) {
            return Some(Reach {
                fit: Fit::Group,
                covers,
                weak: group.origin.weak,
                unsafe_side: unsafe_side(group),
            });
        }
        if self.stocks.contains(&state.material.id) {
            let fit = if self.named { Fit::Alloy } else { by_class };
            let covers = state
                .condition
                .is_some_and(|c| self.conditions.contains(&c.name));
            return Some(Reach {
                covers,
                ..Reach::plain(fit)
            });
        }
        if self.classes.contains(&state.class()) {
            return Some(Reach::plain(by_class));
        }
        if self.every_stock {
            return Some(Reach {
                weak: state.hardened || state.class() == Class::Laminate,
                ..Reach::plain(Fit::Every)
            });
        }
        let family = self.family.as_deref()?;
        let mut own = state
            .material
            .groups()
            .filter_map(|g| tables.family(g.group));
        (!self.groups.is_empty() && own.any(|f| f == family)).then(|| Reach::plain(Fit::Group))
    }

    /// Whether the row is printed for a hardness, not for a class of stock.
    pub(crate) fn states_hardness(&self, tables: &Tables) -> bool {
        let narrow = |(a, b): (f64, f64)| b - a <= NARROW_HB;
        let firm = self.hardness.as_ref().is_some_and(|h| !h.origin.weak);
        firm && self.span(tables).is_some_and(narrow)
    }

    /// Brinell range of a row that is for the stock.
    pub(crate) fn span_for(&self, tables: &Tables, state: &StockState<'_>) -> Option<(f64, f64)> {
        self.reach(tables, state, |_| false)?;
        self.span(tables)
    }

    /// Brinell range the row is printed for.
    pub(crate) fn span(&self, tables: &Tables) -> Option<(f64, f64)> {
        let h = &self.hardness.as_ref()?.value;
        Some((tables.brinell(h.least)?, tables.brinell(h.most)?))
    }

    /// The hardness as printed; empty when there is none.
    pub(crate) fn hardness_text(&self) -> String {
        self.hardness
            .as_ref()
            .map(|h| h.value.to_string())
            .unwrap_or_default()
    }

    /// Stocks, classes and groups in words, for the listing.
    pub(crate) fn words(&self) -> String {
        let mut words = self.stocks.clone();
        if !self.groups.is_empty() {
            let groups: Vec<_> = self.groups.iter().map(ToString::to_string).collect();
            words.push(format!("VDI 3323 group {}", groups.join(", ")));
        }
        words.join(" ")
    }
}

impl Tables {
    /// The family of a group of VDI 3323.
    pub(crate) fn family(&self, group: u8) -> Option<&str> {
        let row = self
            .kienzle
            .iter()
            .find(|r| r.scope.groups.contains(&group));
        row.and_then(|r| r.scope.family.as_deref())
    }
}
