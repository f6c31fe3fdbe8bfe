//! What is wanted of a copy, what it changes, and why there is none.

/// What becomes of the settings of a tool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rescaling {
    /// S and F words times these ratios, each above 0 and at most 100.
    Scale {
        /// Ratio of speeds.
        speed: f64,
        /// Ratio of feeds.
        feed: f64,
    },
    /// Every S or F word of the tool becomes this value: 1/min, and the unit of the programme.
    Replace {
        /// S, if it is to be replaced.
        speed: Option<f64>,
        /// F, if it is to be replaced.
        feed: Option<f64>,
    },
}

/// What is wanted of a copy.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// For every tool not named.
    pub others: Rescaling,
    /// For single tools.
    pub tools: Vec<(u32, Rescaling)>,
}

/// One word that was changed.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Changed {
    /// Physical line, from 1.
    pub line: u64,
    /// Byte of the line, from 1.
    pub column: u32,
    /// The tool.
    pub tool: Option<u32>,
    /// The word as it was.
    pub before: String,
    /// The word as it is.
    pub after: String,
    /// Its value as it was and as it is.
    pub values: [f64; 2],
}

/// Why there is no copy.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Physical line, from 1; 0 for the whole file.
    pub line: u64,
    /// The reason and what to do.
    pub reason: String,
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.line {
            0 => f.write_str(&self.reason),
            line => write!(f, "line {line}: {}", self.reason),
        }
    }
}

impl std::error::Error for Refusal {}

/// Refuses ratios and values that are out of range.
pub(super) fn check(change: Rescaling) -> Result<(), Refusal> {
    let refuse = |reason: String| Err(Refusal { line: 0, reason });
    match change {
        Rescaling::Scale { speed, feed } => {
            for (what, ratio) in [("speed", speed), ("feed", feed)] {
                if !(ratio > 0.0 && ratio <= 100.0) {
                    return refuse(format!(
                        "the {what} ratio {ratio} is out of range: write one above 0 and up to \
                         100, 0.7 for 70 %"
                    ));
                }
            }
        }
        Rescaling::Replace { speed, feed } => {
            for (what, value) in [("speed", speed), ("feed", feed)] {
                if value.is_some_and(|v| !(v > 0.0 && v <= 1e6)) {
                    return refuse(format!(
                        "the new {what} is out of range: write a number above 0 and up to 1000000"
                    ));
                }
            }
        }
    }
    Ok(())
}
