//! Numbered and named parameters (`#1`, `#<depth>`).

use std::collections::BTreeMap;

/// Most parameters kept; a programme that sets more is reported, not followed.
const MOST: usize = 10_000;

/// The address of a parameter.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Slot {
    /// `#5`
    Number(u32),
    /// `#<name>`, lower case, blanks removed.
    Name(String),
}

impl std::fmt::Display for Slot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(n) => write!(f, "#{n}"),
            Self::Name(name) => write!(f, "#<{name}>"),
        }
    }
}

/// All parameters set so far.
#[derive(Debug, Default)]
pub(crate) struct Parameters {
    values: BTreeMap<Slot, f64>,
    /// Whether parameters that were not set count as 0.
    zero: bool,
}

impl Parameters {
    /// Parameters that are all 0, to tell words apart without running the programme.
    pub(crate) fn all_zero() -> Self {
        Self {
            values: BTreeMap::new(),
            zero: true,
        }
    }

    /// The value, if the programme has set it.
    pub(crate) fn get(&self, slot: &Slot) -> Option<f64> {
        self.values.get(slot).copied().or(self.zero.then_some(0.0))
    }

    /// Sets a value; false when there is no room left.
    pub(crate) fn set(&mut self, slot: Slot, value: f64) -> bool {
        if self.values.len() >= MOST && !self.values.contains_key(&slot) {
            return false;
        }
        self.values.insert(slot, value);
        true
    }

    /// Takes out the local parameters `#1` to `#30`, for the length of a call.
    pub(crate) fn take_locals(&mut self) -> Vec<(Slot, f64)> {
        (1..=30)
            .map(Slot::Number)
            .filter_map(|slot| self.values.remove(&slot).map(|value| (slot, value)))
            .collect()
    }

    /// Puts saved local parameters back in place of those of the call.
    pub(crate) fn restore_locals(&mut self, saved: Vec<(Slot, f64)>) {
        self.take_locals();
        self.values.extend(saved);
    }
}
