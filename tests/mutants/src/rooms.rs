//! The rooms of the program, and the share of mutants that has to be noticed in each.

/// A room with its bar in percent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Room {
    Limits,
    Units,
    Moments,
    Programme,
    Core,
    Tables,
}

impl Room {
    pub const ALL: [Self; 6] = [
        Self::Limits,
        Self::Units,
        Self::Moments,
        Self::Programme,
        Self::Core,
        Self::Tables,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Self::Limits => "limits",
            Self::Units => "units",
            Self::Moments => "moments",
            Self::Programme => "programme",
            Self::Core => "core",
            Self::Tables => "tables",
        }
    }

    /// Percent of the mutants that compile.
    pub fn bar(self) -> f64 {
        match self {
            Self::Limits | Self::Units | Self::Moments => 100.0,
            Self::Tables => 98.0,
            Self::Core => 95.0,
            Self::Programme => 90.0,
        }
    }

    pub fn of(file: &str) -> Self {
        let core = file.strip_prefix("feeds-core/src/");
        match core {
            None => Self::Tables,
            Some("limit.rs" | "verdict.rs" | "plan/limits.rs" | "plan/checks.rs") => Self::Limits,
            Some("formula/allowed.rs" | "formula/holding.rs") => Self::Limits,
            Some(file) if file.starts_with("plan/checks/") => Self::Limits,
            Some("quantity/unit.rs") => Self::Units,
            Some("plan/moments.rs") => Self::Moments,
            Some(file) if file.starts_with("programme") => Self::Programme,
            Some(_) => Self::Core,
        }
    }
}

/// Files whose numbers are factors of safety: they are halved as well.
pub fn holds_safety(file: &str) -> bool {
    ["formula/allowed.rs", "formula/holding.rs"]
        .iter()
        .any(|end| file.ends_with(end))
}
