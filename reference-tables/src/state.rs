//! A stock in the state it lies on the bench: condition and hardness.

use crate::error::Unknown;
use crate::hardness::{HARDEST_HB, Hardness, Scale};
use crate::material::{Class, Condition, Group, Material};
use crate::tables::Tables;
use feeds_core::nearest::{calls, same};
use feeds_core::workpiece::IsoGroup;

/// A measured hardness this far outside a condition's range still belongs to it, and a row printed
/// for one Brinell number holds this far around it: half of the usual step of 50 between rows
/// (common practice).
pub const NEAR_HB: f64 = 25.0;

/// From this Rockwell C hardness on, steel counts as hardened (ISO 513 group H; common practice).
pub(crate) const HARDENED_HRC: f64 = 45.0;

/// A stock in a known state. Without one no row may be chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockState<'t> {
    /// The stock.
    pub material: &'t Material,
    /// The condition; `None` when a measured hardness lies further than [`NEAR_HB`] from all.
    pub condition: Option<&'t Condition>,
    /// The hardness that rows are chosen by: measured, or the hard end of the condition.
    pub hardness: Hardness,
    /// The same in Brinell; `None` for laminates.
    pub brinell: Option<f64>,
    /// Whether the hardness was measured.
    pub measured: bool,
    /// Whether it counts as hardened steel.
    pub hardened: bool,
}

impl StockState<'_> {
    /// Group of ISO 513.
    pub fn iso_513(&self) -> IsoGroup {
        match self.material.iso_513_hardened {
            Some(group) if self.hardened => group,
            _ => self.material.iso_513,
        }
    }

    /// What it cuts like.
    pub fn class(&self) -> Class {
        self.material.class
    }

    /// How the stock's condition, or else any of its conditions, is read in `group`.
    pub(crate) fn group(&self, group: u8) -> Option<(&Group, bool)> {
        let here = self
            .condition
            .and_then(|c| c.groups.iter().find(|g| g.group == group));
        match here {
            Some(found) => Some((found, true)),
            None => self
                .material
                .groups()
                .find(|g| g.group == group)
                .map(|g| (g, false)),
        }
    }

    /// Stock, condition and hardness in words.
    pub fn words(&self) -> String {
        let condition = self.condition.map_or("", |c| c.name.as_str());
        let id = &self.material.id;
        if condition.is_empty() {
            format!("{id} at {}", self.hardness)
        } else {
            format!("{id} {condition} at {}", self.hardness)
        }
    }
}

impl Tables {
    /// A stock in the condition called `condition`, or with a measured hardness, or both.
    ///
    /// A measured hardness wins over the name of a condition: the name only decides between
    /// conditions that both have that hardness; where it decides nothing, the first that has it is
    /// taken. Where none has it the nearest is taken, up to [`NEAR_HB`] away. Without a
    /// hardness the hard end of the condition is taken. A stock with a single condition needs
    /// neither.
    ///
    /// # Errors
    /// [`Unknown`] when neither is known (as forged), when the stock has no such condition, and
    /// when the hardness lies outside the conversion to Brinell (20 to 64 HRC, up to 800 HV), or
    /// is one of Rockwell M while the stock is no laminate.
    ///
    /// # Example
    /// ```
    /// use reference_tables::{hardness::Hardness, tables};
    /// let tables = tables().unwrap();
    /// let steel = tables.material("1095").unwrap();
    /// let annealed = tables.state(steel, Some("annealed"), None).unwrap();
    /// assert_eq!(annealed.hardness, Hardness::hb(207.0)); // hard end of 185-207 HB
    /// let error = tables.state(steel, Some("as forged"), None).unwrap_err();
    /// assert!(error.to_string().contains("anneal"));
    /// ```
    pub fn state<'t>(
        &'t self,
        material: &'t Material,
        condition: Option<&str>,
        hardness: Option<Hardness>,
    ) -> Result<StockState<'t>, Unknown> {
        let named = condition.map(str::trim).filter(|c| !is_unknown(c));
        let named = match named {
            Some(name) => Some(find_condition(material, name)?),
            None => None,
        };
        match (named, hardness) {
            (named, Some(hardness)) => self.measured_state(material, named, hardness),
            (Some(condition), None) => self.unmeasured_state(material, condition),
            (None, None) => match (&material.conditions[..], condition) {
                ([only], None) => self.unmeasured_state(material, only),
                _ => Err(unknown_condition(material)),
            },
        }
    }

    fn measured_state<'t>(
        &'t self,
        material: &'t Material,
        named: Option<&'t Condition>,
        hardness: Hardness,
    ) -> Result<StockState<'t>, Unknown> {
        let brinell = self.brinell(hardness);
        // A laminate has no Brinell number; of metal, Rockwell M says nothing.
        let has_none = hardness.scale == Scale::Hrm && material.class == Class::Laminate;
        if brinell.is_none() && !has_none {
            return Err(out_of_scale(material, hardness));
        }
        let ranges = material.conditions.iter();
        let ranges: Vec<_> = ranges.map(|c| (c, self.brinell_range(c))).collect();
        let named = ranges
            .iter()
            .find(|(c, range)| named == Some(*c) && beyond(*range, brinell) <= 0.0);
        let condition = named.map_or_else(|| nearest(&ranges, brinell), |(c, _)| Some(*c));
        let hardened = self.is_hardened(brinell);
        Ok(StockState {
            material,
            condition,
            hardness,
            brinell,
            measured: true,
            hardened,
        })
    }

    fn unmeasured_state<'t>(
        &'t self,
        material: &'t Material,
        condition: &'t Condition,
    ) -> Result<StockState<'t>, Unknown> {
        let ends = condition.hardness.iter().map(|h| h.value.most);
        let hardest = ends.reduce(|a, b| {
            let softer = matches!((self.brinell(a), self.brinell(b)), (Some(x), Some(y)) if x < y);
            if softer { b } else { a }
        });
        let hardness = hardest.ok_or_else(|| unknown_condition(material))?;
        let brinell = self.brinell(hardness);
        if brinell.is_none() && hardness.scale != Scale::Hrm {
            return Err(out_of_scale(material, hardness));
        }
        let condition = Some(condition);
        let hardened = self.is_hardened(brinell);
        Ok(StockState {
            material,
            condition,
            hardness,
            brinell,
            measured: false,
            hardened,
        })
    }

    /// Why a condition and a hardness cannot both be true of a stock; `None` when they can, or
    /// when the condition says nothing. The range of a condition is that of its rows, and as much
    /// beyond it as measuring is off.
    ///
    /// # Example
    /// ```
    /// use reference_tables::{hardness::Hardness, tables};
    /// let tables = tables().unwrap();
    /// let steel = tables.material("1095").unwrap();
    /// // ASM: annealed 185-207 HB
    /// assert!(tables.contradiction(steel, "annealed", Hardness::hb(200.0)).is_none());
    /// let why = tables.contradiction(steel, "annealed", Hardness::hrc(60.0)).unwrap();
    /// assert!(why.starts_with("60 HRC is not 1095 annealed, which has 185-207 HB"), "{why}");
    /// ```
    pub fn contradiction(
        &self,
        material: &Material,
        condition: &str,
        hardness: Hardness,
    ) -> Option<String> {
        let named = find_condition(material, condition).ok()?;
        let hb = self.brinell(hardness)?;
        let holds = |c: &Condition| {
            let ends = self.brinell_range(c);
            ends.map(|(least, most)| least - NEAR_HB <= hb && hb <= most + NEAR_HB)
        };
        if holds(named)? {
            return None;
        }
        let has = |c: &Condition| {
            let rows = c.hardness.iter().map(|h| {
                let weak = if h.origin.weak { " (weak)" } else { "" };
                format!("{}{weak}", h.value)
            });
            rows.collect::<Vec<_>>().join(" or ")
        };
        let fitting: Vec<&Condition> = material
            .conditions
            .iter()
            .filter(|c| holds(c) == Some(true))
            .collect();
        let right: Vec<_> = fitting
            .iter()
            .map(|c| format!("{} with {}", c.name, has(c)))
            .collect();
        let right = if right.is_empty() {
            "no condition of it in the tables has that: leave the condition out".to_owned()
        } else {
            format!(
                "give the condition {}, or leave it out",
                right.join(", or ")
            )
        };
        let mut sources: Vec<String> = Vec::new();
        for row in [named].into_iter().chain(fitting).flat_map(|c| &c.hardness) {
            let source = self.source(&row.origin.source);
            let title = source.map_or(row.origin.source.as_str(), |s| s.title.as_str());
            let told = format!("{title}, {}", row.origin.basis);
            if !sources.contains(&told) {
                sources.push(told);
            }
        }
        Some(format!(
            "{hardness} is not {} {}, which has {} and is taken up to {NEAR_HB:.0} HB beyond: \
             measure again; {right}; hardness by {}",
            material.id,
            named.name,
            has(named),
            sources.join(" and ")
        ))
    }

    /// Softest and hardest Brinell number of a condition, over all its sources.
    pub(crate) fn brinell_range(&self, condition: &Condition) -> Option<(f64, f64)> {
        let ends = condition
            .hardness
            .iter()
            .filter_map(|h| Some((self.brinell(h.value.least)?, self.brinell(h.value.most)?)));
        ends.reduce(|(a, b), (c, d)| (a.min(c), b.max(d)))
    }

    pub(crate) fn is_hardened(&self, brinell: Option<f64>) -> bool {
        match (brinell, self.brinell(Hardness::hrc(HARDENED_HRC))) {
            (Some(hb), Some(bound)) => hb >= bound,
            _ => false,
        }
    }
}

/// How far, in Brinell, a hardness lies beyond a range; 0 inside it, and for a laminate, which has
/// neither.
pub(crate) fn beyond(range: Option<(f64, f64)>, brinell: Option<f64>) -> f64 {
    match (range, brinell) {
        (Some((least, most)), Some(hb)) => (least - hb).max(hb - most).max(0.0),
        (None, None) => 0.0,
        _ => f64::INFINITY,
    }
}

/// The condition of a stock of which only the hardness is known: the first that has it, or else
/// the nearest.
pub(crate) fn nearest<'t>(
    ranges: &[(&'t Condition, Option<(f64, f64)>)],
    brinell: Option<f64>,
) -> Option<&'t Condition> {
    let gaps = ranges
        .iter()
        .map(|(c, range)| (*c, beyond(*range, brinell)));
    let near = gaps.filter(|(_, gap)| *gap <= NEAR_HB);
    near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(c, _)| c)
}

/// Whether a condition says that nothing is known.
pub(crate) fn is_unknown(condition: &str) -> bool {
    let text = condition.trim().to_lowercase().replace('-', " ");
    ["", "unknown", "as forged", "forged"].contains(&text.as_str())
}

/// Conditions that the trade has other words for; the first word of each is that of the tables.
const CONDITIONS: &[(&str, &[&str])] = &[
    (
        "annealed",
        &[
            "soft",
            "spheroidised",
            "spheroidized",
            "spheroidised annealed",
        ],
    ),
    ("normalised", &["normalized"]),
    ("hardened", &["ht"]),
    ("hot rolled", &["hr"]),
    ("cold drawn", &["cd"]),
];

/// The tables' word for a condition that the trade has several words for.
///
/// # Example
/// ```
/// use reference_tables::state::condition_word;
/// assert_eq!(condition_word("Soft"), Some("annealed"));
/// assert_eq!(condition_word("hot-rolled"), Some("hot rolled"));
/// assert_eq!(condition_word("H900"), None);
/// ```
pub fn condition_word(typed: &str) -> Option<&'static str> {
    let means = |(word, also): &&(&str, &[&str])| {
        same(word, typed) || also.iter().any(|spelling| same(spelling, typed))
    };
    CONDITIONS.iter().find(means).map(|(word, _)| *word)
}

fn find_condition<'t>(material: &'t Material, name: &str) -> Result<&'t Condition, Unknown> {
    let known = condition_word(name);
    let wanted = known.map_or_else(|| name.to_lowercase(), str::to_owned);
    let conditions = || material.conditions.iter();
    let exact = conditions().find(|c| same(&c.name, &wanted));
    // A word with a meaning of its own is no part of another: hardened is not surface hardened.
    let mut part =
        conditions().filter(|c| known.is_none() && calls(&wanted, &c.name.to_lowercase()));
    match (exact, part.next(), part.next()) {
        (Some(condition), ..) | (None, Some(condition), None) => Ok(condition),
        _ => Err(Unknown {
            needs: format!("«{name}» does not name one condition of {}", material.id),
            nearest: None,
            advice: format!("choose one of: {}", material.condition_names()),
        }),
    }
}

fn unknown_condition(material: &Material) -> Unknown {
    Unknown {
        needs: format!("the condition or hardness of {}", material.id),
        nearest: None,
        advice: format!(
            "anneal it and test with a file, or measure the hardness; conditions: {}",
            material.condition_names()
        ),
    }
}

fn out_of_scale(material: &Material, hardness: Hardness) -> Unknown {
    Unknown {
        needs: format!(
            "{hardness} lies outside the scales that steel is measured on (20-64 HRC, 60-100 HRB, \
             up to 800 HV or {HARDEST_HB} HB)"
        ),
        nearest: None,
        advice: match hardness.scale {
            Scale::Hb => format!("measure {} again", material.id),
            _ => format!(
                "temper or anneal {} before milling, or give a Brinell number",
                material.id
            ),
        },
    }
}
