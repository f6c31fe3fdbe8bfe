//! Specific cutting force: pairs of k_c1.1 and m_c.

use crate::choice::{Blend, Choice, Cited, Item, weaker};
use crate::error::Unknown;
use crate::hardness::Hardness;
use crate::listing::{Listed, listed_figure};
use crate::material::Class;
use crate::scope::Scope;
use crate::softer::instead;
use crate::sourced::{Band, Figure, Provenance, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::{Length, Pressure, Quantity, Ratio, mm};
use feeds_core::workpiece::Kienzle;
use serde::Deserialize;
use std::cmp::Ordering;

const TABLE: &str = "kienzle";

/// Chip thickness in mm at which pairs are compared: small cutters work near it, and pairs that
/// differ by 30 % at 1 mm often differ by 10 % here.
const COMPARED_AT_MM: f64 = 0.03;

/// A row: a pair and the chip thickness it was fitted for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct KienzleRow {
    /// The stock as printed.
    pub subject: String,
    /// For which stocks it is read.
    #[serde(flatten)]
    pub scope: Scope,
    /// Whether the true force is known to be larger.
    #[serde(default)]
    pub understates: bool,
    /// Whether it is for steel from 45 HRC up alone, whatever softer rows lie near.
    #[serde(default)]
    pub hardened: bool,
    /// Why it is kept to compare, where no pass is planned with it.
    pub unused: Option<Unused>,
    /// Specific cutting force at a chip of 1 mm by 1 mm.
    pub k_c1_1: Sourced<Figure<Pressure>>,
    /// Exponent of the fall with chip thickness.
    pub m_c: Sourced<Figure<Ratio>>,
    /// Chip thickness the pair holds for.
    pub h: Sourced<Figure<Length>>,
}

/// Why a row is kept beside the others and no pass is planned with it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unused {
    /// Classes that are not planned with it; every one where none is named.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// The reason.
    pub why: String,
}

impl Unused {
    /// As a reader is told it.
    fn words(&self, origin: &Provenance) -> Provenance {
        let mut origin = origin.clone();
        if !origin.note.is_empty() {
            origin.note.push_str("; ");
        }
        origin.note.push_str("not planned with: ");
        origin.note.push_str(&self.why);
        origin
    }
}

/// A pair of Kienzle's law and the chips it was fitted for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// The pair: 100 to 5000 N/mm2 and 0.1 to 0.4.
    pub pair: Kienzle,
    /// Chip thickness it holds for; below it the force is an extrapolation and low.
    pub h: Band<Length>,
}

impl Fitted {
    fn compared(&self) -> f64 {
        self.pair.k_c(mm(COMPARED_AT_MM)).si()
    }
}

impl Blend for Fitted {
    fn blend(a: &Self, b: &Self, t: f64) -> Self {
        let between = |x: f64, y: f64| x + (y - x) * t;
        Self {
            pair: Kienzle {
                kc11: Pressure::from_si(between(a.pair.kc11.si(), b.pair.kc11.si())),
                m_c: between(a.pair.m_c, b.pair.m_c),
            },
            h: Band::between(a.h, b.h, t),
        }
    }

    fn careful(&self, other: &Self) -> Ordering {
        other.compared().total_cmp(&self.compared())
    }
}

impl KienzleRow {
    fn fitted(&self) -> Fitted {
        Fitted {
            pair: Kienzle {
                kc11: self.k_c1_1.value.least,
                m_c: self.m_c.value.least.si(),
            },
            h: self.h.value.band(),
        }
    }

    /// Why no pass in stock of this class is planned with it; none where one may be.
    fn unused(&self, class: Class) -> Option<&Unused> {
        let unused = self.unused.as_ref();
        unused.filter(|u| u.classes.is_empty() || u.classes.contains(&class))
    }

    /// Rows of one series differ in hardness only.
    fn series(&self) -> String {
        let series = self.scope.family.as_ref().unwrap_or(&self.subject);
        format!("{} {series}", self.k_c1_1.origin.source)
    }

    fn cited(&self) -> Cited {
        let mut origin = weaker(&self.k_c1_1.origin, &self.m_c.origin);
        // However weak the exponent makes it, the pair is of the source of its force.
        origin.source.clone_from(&self.k_c1_1.origin.source);
        origin.basis = self.k_c1_1.origin.basis;
        Cited {
            table: TABLE,
            subject: self.subject.clone(),
            printed: format!("k_c1.1 {}, m_c {}", self.k_c1_1.value, self.m_c.value),
            origin,
        }
    }
}

/// The pair of a billet as such, and those of its layers with their shares.
type Parts = (
    Result<Choice<Fitted>, Unknown>,
    Vec<(Option<Choice<Fitted>>, f64)>,
);

impl Tables {
    /// The pair for peak force, breakage and hold: of a layered stock that of the hardest layer.
    ///
    /// Where firm sources disagree the pair with the larger force at 0.03 mm is taken; see
    /// [`crate::choice`] for the whole rule.
    ///
    /// # Errors
    /// [`Unknown`] with the nearest row when no row holds at the hardness.
    ///
    /// # Example
    /// ```
    /// use reference_tables::tables;
    /// let tables = tables().unwrap();
    /// let steel = tables.material("1095").unwrap();
    /// let state = tables.state(steel, Some("annealed"), None).unwrap();
    /// let choice = tables.kienzle(&state).unwrap();
    /// assert_eq!(choice.row.printed, "k_c1.1 1700 N/mm2, m_c 0.24"); // VDI 3323 group 4
    /// assert_eq!(choice.row.origin.source, "ISC22");
    /// ```
    pub fn kienzle<'t>(&'t self, state: &StockState<'t>) -> Result<Choice<Fitted>, Unknown> {
        hardest_of(self.parts(state)?)
    }

    /// [`Tables::kienzle`] of one stock, and of a layered one the pair for mean force and power:
    /// the mean by volume of its layers, looked up once.
    ///
    /// The mean of two power laws is none; the pair returned has the mean force and its slope at
    /// a chip of 0.03 mm. A layer harder than all its rows has no less than the hardest of
    /// them; where a layer has no row at all the billet's own is taken.
    ///
    /// # Errors
    /// [`Unknown`] as [`Tables::kienzle`].
    pub fn kienzle_and_mean<'t>(
        &'t self,
        state: &StockState<'t>,
    ) -> Result<(Choice<Fitted>, Option<Choice<Fitted>>), Unknown> {
        let parts = self.parts(state)?;
        let mean = (!parts.1.is_empty()).then(|| mean_of(parts.clone()).ok());
        Ok((hardest_of(parts)?, mean.flatten()))
    }

    /// The pair of a stock whatever its layers, and those of its layers with their shares.
    fn parts<'t>(&'t self, state: &StockState<'t>) -> Result<Parts, Unknown> {
        let own = self.own_kienzle(state);
        let layers = self.layers(state)?;
        let pairs: Vec<_> = layers.iter().map(|(l, _)| self.own_kienzle(l)).collect();
        if let (Err(unknown), true) = (&own, pairs.iter().all(Result::is_err)) {
            return Err(unknown.clone());
        }
        let layers = layers.into_iter().zip(pairs);
        let layers = layers.map(|((layer, share), pair)| match pair {
            Ok(pair) => (Some(pair), share),
            Err(_) => (self.no_less_than_softer(&layer), share),
        });
        Ok((own, layers.collect()))
    }

    /// The pair of the hardest row softer than a layer that is harder than all its rows.
    fn no_less_than_softer<'t>(&'t self, layer: &StockState<'t>) -> Option<Choice<Fitted>> {
        let hb = layer.brinell?;
        let rows = self.kienzle.iter();
        let rows = rows.filter(|row| !row.hardened && row.unused(layer.class()).is_none());
        let ends = rows.filter_map(|row| Some(row.scope.span_for(self, layer)?.1));
        let hardest = ends.filter(|end| *end < hb).reduce(f64::max)?;
        let softer = self.state(layer.material, None, Some(Hardness::hb(hardest)));
        let softer = softer.ok()?;
        let mut choice = self.own_kienzle(&softer).ok()?;
        choice.weak = true;
        choice.why = format!(
            "no row for {}: no less than {}; {}",
            layer.words(),
            softer.words(),
            choice.why
        );
        Some(choice)
    }

    /// The pair of a stock whatever its layers, held against its neighbours in hardness: a step
    /// from one series of rows to another neither raises the force for a softer state nor lowers
    /// it for a harder one. What one series prints stands, even where it falls: a row that prints
    /// a narrow hardness gives way to a softer row of another series only, others to harder ones
    /// too. The neighbour is what is chosen at the nearest end of such a row where that is chosen.
    fn own_kienzle<'t>(&'t self, state: &StockState<'t>) -> Result<Choice<Fitted>, Unknown> {
        let (own, series) = self.kienzle_at(state)?;
        let Some(hb) = state.brinell else {
            return Ok(own);
        };
        let ends = self.printed_ends(state);
        let is_printed = ends.iter().any(|(of, _)| *of == series);
        let others = || ends.iter().filter(|(of, _)| *of != series);
        let softer = others().map(|(of, (_, end))| (of, *end));
        let softer = softer.filter(|(_, end)| *end < hb);
        if let Some((choice, other)) = self.neighbour(state, softer)
            && choice.value.careful(&own.value) == Ordering::Less
        {
            let rule = ("no harder stock takes less force than a softer one", "less");
            return Ok(instead(rule, (own, state), (choice, &other)));
        }
        let harder = others().map(|(of, (end, _))| (of, *end));
        let harder = harder.filter(|(_, end)| !is_printed && *end > hb);
        if let Some((choice, other)) = self.neighbour(state, harder)
            && own.value.careful(&choice.value) == Ordering::Less
        {
            let rule = ("no softer stock takes more force than a harder one", "more");
            return Ok(instead(rule, (own, state), (choice, &other)));
        }
        Ok(own)
    }

    /// The series that are printed for hardnesses of a stock, with the span of each row.
    fn printed_ends(&self, state: &StockState<'_>) -> Vec<(String, (f64, f64))> {
        let rows = self.kienzle.iter();
        let rows = rows.filter(|row| row.scope.states_hardness(self));
        let rows = rows.filter(|row| row.unused(state.class()).is_none());
        rows.filter_map(|row| {
            let span = row.scope.span_for(self, state)?;
            Some((row.series(), span))
        })
        .collect()
    }

    /// What is chosen for the stock at the nearest of the hardnesses at which the row of that
    /// series is chosen.
    fn neighbour<'t, 's>(
        &'t self,
        state: &StockState<'t>,
        ends: impl Iterator<Item = (&'s String, f64)>,
    ) -> Option<(Choice<Fitted>, StockState<'t>)> {
        let gap = |end: f64| state.brinell.map_or(0.0, |hb| (end - hb).abs());
        let mut ends: Vec<_> = ends.collect();
        ends.sort_by(|a, b| gap(a.1).total_cmp(&gap(b.1)));
        ends.into_iter().find_map(|(series, end)| {
            let hardness = Some(Hardness::hb(end));
            let other = self.state(state.material, None, hardness).ok()?;
            let (choice, chosen) = self.kienzle_at(&other).ok()?;
            (chosen == *series).then_some((choice, other))
        })
    }

    /// The pair for a state, whatever its neighbours, with the series of its row.
    fn kienzle_at(&self, state: &StockState<'_>) -> Result<(Choice<Fitted>, String), Unknown> {
        let (mut items, mut unused) = (Vec::new(), Vec::new());
        for row in self
            .kienzle
            .iter()
            .filter(|r| !r.hardened || state.hardened)
        {
            let Some(mut reach) = row.scope.reach(self, state, |g| g.understates) else {
                continue;
            };
            reach.unsafe_side |= row.understates;
            let mut cited = row.cited();
            let why = row.unused(state.class());
            if let Some(why) = why {
                cited.origin = why.words(&cited.origin);
            }
            let rows = if why.is_some() {
                &mut unused
            } else {
                &mut items
            };
            rows.push(Item {
                value: row.fitted(),
                row: cited,
                reach,
                series: row.series(),
                span: row.scope.span(self),
                for_this_cut: false,
            });
        }
        let what = "specific cutting force";
        let (mut choice, series) = self.choose_in_series(what, state, &items)?;
        if let Ok((beside, _)) = self.choose_in_series(what, state, &unused) {
            choice.kept.push((beside.value, beside.row));
            choice.kept.extend(beside.kept);
        }
        Ok((choice, series))
    }
}

fn hardest_of((own, layers): Parts) -> Result<Choice<Fitted>, Unknown> {
    let layered = !layers.is_empty();
    let layers = layers.into_iter().filter_map(|(layer, _)| layer);
    let hardest = layers.fold(own, |hardest, layer| {
        Ok(match hardest {
            Ok(hardest) => harder(hardest, layer),
            Err(_) => layer,
        })
    });
    hardest.map(|mut hardest| {
        if layered {
            hardest.why = format!("the hardest layer decides; {}", hardest.why);
        }
        hardest
    })
}

fn mean_of((own, layers): Parts) -> Result<Choice<Fitted>, Unknown> {
    let mut mean: Option<Choice<Fitted>> = None;
    let (mut k, mut slope, mut shares) = (0.0, 0.0, 0.0);
    for (layer, share) in layers {
        let Some(choice) = layer else {
            return own;
        };
        let part = share * choice.value.compared();
        k += part;
        slope += part * choice.value.pair.m_c;
        shares += share;
        mean = Some(match mean {
            None => choice,
            Some(mut so_far) => {
                so_far.weak |= choice.weak;
                so_far.kept.push((choice.value, choice.row));
                so_far
            }
        });
    }
    let Some(mut choice) = mean else {
        return own;
    };
    let m_c = slope / k;
    let at_one = k / shares * COMPARED_AT_MM.powf(m_c);
    choice.kept.insert(0, (choice.value, choice.row.clone()));
    choice.value = Fitted {
        pair: Kienzle {
            kc11: Pressure::from_si(at_one),
            m_c,
        },
        h: choice.value.h,
    };
    "mean by volume of the layers".clone_into(&mut choice.why);
    Ok(choice)
}

fn harder(a: Choice<Fitted>, b: Choice<Fitted>) -> Choice<Fitted> {
    let (mut hard, soft) = if b.value.careful(&a.value) == Ordering::Less {
        (b, a)
    } else {
        (a, b)
    };
    hard.kept.insert(0, (soft.value, soft.row));
    hard
}

pub(crate) fn list(rows: &[KienzleRow], out: &mut Vec<Listed>) {
    for row in rows {
        let words = format!("{} {}", row.scope.words(), row.scope.hardness_text());
        let what = |quantity| {
            (
                TABLE,
                row.subject.clone(),
                words.trim().to_owned(),
                quantity,
            )
        };
        let origin = &row.k_c1_1.origin;
        let origin = row
            .unused
            .as_ref()
            .map_or(origin.clone(), |u| u.words(origin));
        out.push(listed_figure(what("k_c1.1"), &row.k_c1_1.value, &origin));
        out.push(listed_figure(what("m_c"), &row.m_c.value, &row.m_c.origin));
        out.push(listed_figure(
            what("chip thickness"),
            &row.h.value,
            &row.h.origin,
        ));
        if let Some(h) = &row.scope.hardness {
            out.push(listed_figure(what("hardness"), &h.value, &h.origin));
        }
    }
}
