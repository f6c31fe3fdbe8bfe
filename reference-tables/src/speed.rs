//! Cutting speeds by stock, hardness, cutter material, coating and cut.
//!
//! Rows for turning, drilling and face milling only rank stocks; they never start an end mill.

use crate::choice::{Choice, Cited, Item};
use crate::error::Unknown;
use crate::kind::{CutKind, CutterKind, RowCoating, RowMaterial};
use crate::line::ShortRow;
use crate::listing::{Listed, listed_figure};
use crate::material::Class;
use crate::scope::Scope;
use crate::sourced::{Band, Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::quantity::{Quantity, Ratio, Velocity};
use serde::Deserialize;
use std::cell::LazyCell;

const TABLE: &str = "speed";

/// What was done when the speed of a row was found good.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Operation {
    /// End milling.
    #[serde(rename = "end milling")]
    EndMilling,
    /// Face milling with insert cutters.
    #[serde(rename = "face milling")]
    FaceMilling,
    /// Turning.
    Turning,
    /// Drilling and reaming.
    Drilling,
}

impl Operation {
    fn word(self) -> &'static str {
        match self {
            Self::EndMilling => "end milling",
            Self::FaceMilling => "face milling",
            Self::Turning => "turning",
            Self::Drilling => "drilling",
        }
    }
}

/// A row.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct SpeedRow {
    /// The stock as printed.
    pub subject: String,
    /// For which stocks it is read.
    #[serde(flatten)]
    pub scope: Scope,
    /// What the cutter is made of.
    pub cutter: RowMaterial,
    /// What is on it.
    pub coating: RowCoating,
    /// What was done.
    pub operation: Operation,
    /// The kind of cut.
    pub cut: CutKind,
    /// Whether the speed is known to be too high for the stocks it is read for.
    #[serde(default)]
    pub overstates: bool,
    /// Cutting speed.
    pub v_c: Sourced<Figure<Velocity>>,
}

/// A rule of thumb from one stock or coating to another.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Relation {
    /// What it relates.
    pub subject: String,
    /// Stocks it serves.
    #[serde(default)]
    pub stocks: Vec<String>,
    /// Classes it serves.
    #[serde(default)]
    pub classes: Vec<Class>,
    /// Cutters it serves: a material, or `any`.
    pub cutter: String,
    /// Coating it serves.
    pub coating: RowCoating,
    /// Coating it starts from.
    pub of_coating: Option<RowCoating>,
    /// Stock it starts from.
    pub of_stock: Option<String>,
    /// Share of the speed it starts from.
    pub factor: Sourced<Figure<Ratio>>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Speeds {
    /// Printed rows.
    pub rows: Vec<SpeedRow>,
    /// Rules of thumb where no row exists.
    pub relations: Vec<Relation>,
}

impl Relation {
    fn serves(&self, state: &StockState<'_>, kind: CutterKind) -> bool {
        let stock = self.stocks.contains(&state.material.id);
        let cutter = self.cutter == "any" || self.cutter == RowMaterial::from(kind.material).word();
        (stock || self.classes.contains(&state.class())) && cutter && self.coating.holds(kind)
    }

    fn line(&self) -> ShortRow<Ratio> {
        ShortRow {
            subject: self.subject.clone(),
            key: crate::line::NoKey {},
            figure: self.factor.clone(),
        }
    }

    /// A choice of the related speed, changed by the factor and marked weak.
    fn apply(&self, choice: Choice<Band<Velocity>>) -> Choice<Band<Velocity>> {
        let factor = self.factor.value.band();
        let changed = |v: Band<Velocity>| Band {
            least: v.least * factor.least.si(),
            start: v.start * factor.start.si(),
            most: v.most * factor.most.si(),
        };
        let base = format!("{} ({})", choice.row.subject, choice.row.printed);
        let mut row = self.line().cited(TABLE);
        row.printed = format!("{} of {base}", self.factor.value);
        let mut changed = choice.map(changed);
        changed.why = format!("{}: {} of {base}", self.subject, self.factor.value);
        changed.kept.insert(0, (changed.value, changed.row));
        changed.row = row;
        changed.weak = true;
        changed
    }
}

impl Tables {
    /// The band of cutting speeds for end milling.
    ///
    /// The chosen band is one source's; [`Choice::widened`] holds the other firm rows too. A
    /// layered stock takes its most demanding layer. Where no row exists a rule of thumb is used
    /// (uncoated from coated carbide) and the answer is weak: the first that serves the stock and
    /// has a row to start from. What stands beside it is changed by the same share. No harder stock
    /// gets a higher limit than a softer one of its kind: where its row would give more, the
    /// softer one's is taken.
    ///
    /// # Errors
    /// [`Unknown`] with the nearest row when no row holds for the stock, hardness and cutter.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{Quantity, Velocity};
    /// use reference_tables::{kind::{CutKind, CutterKind}, tables};
    /// let tables = tables().unwrap();
    /// let steel = tables.material("1095").unwrap();
    /// let state = tables.state(steel, Some("annealed"), None).unwrap();
    /// let v_c = tables.speed(&state, CutterKind::COATED_CARBIDE, CutKind::Side).unwrap();
    /// // printed 120-140 m/min at 200 HB and 100-130 at 250 HB: at 207 HB 117.2-138.6
    /// assert!((v_c.value.least.si() * 60.0 - 117.2).abs() < 0.05);
    /// assert_eq!(v_c.row.origin.source, "SAND");
    /// ```
    pub fn speed<'t>(
        &'t self,
        state: &StockState<'t>,
        kind: CutterKind,
        cut: CutKind,
    ) -> Result<Choice<Band<Velocity>>, Unknown> {
        let others = LazyCell::new(|| self.related_states(state));
        let of_any = |row: &SpeedRow| {
            let mut states = others.iter().chain([state]);
            states.find_map(|s| row.scope.span_for(self, s))
        };
        let spans = self.speed.rows.iter().filter_map(of_any);
        let asked = format!("speed {kind:?} {cut:?}");
        self.at_most_as_softer(state, &asked, spans, |state| {
            self.speed_at(state, kind, cut)
        })
    }

    /// The stocks whose rows a stock's speed may come from: its layers, and those of rules of
    /// thumb.
    fn related_states<'t>(&'t self, state: &StockState<'t>) -> Vec<StockState<'t>> {
        let rules = self.speed.relations.iter();
        let rules = rules.filter(|r| r.stocks.contains(&state.material.id));
        let layers = state.material.layers.iter().map(|layer| &layer.stock);
        layers
            .chain(rules.filter_map(|r| r.of_stock.as_ref()))
            .filter_map(|id| {
                let stock = self.constituent(id).ok()?;
                self.state(stock, None, Some(state.hardness)).ok()
            })
            .collect()
    }

    /// The row for a state, whatever softer states of the stock are given.
    fn speed_at(
        &self,
        state: &StockState<'_>,
        kind: CutterKind,
        cut: CutKind,
    ) -> Result<Choice<Band<Velocity>>, Unknown> {
        let layers = self.layers(state)?;
        if layers.is_empty() {
            self.related_speed(state, kind, cut)
        } else {
            self.layered_speed(state, &layers, kind, cut)
        }
    }

    fn layered_speed(
        &self,
        state: &StockState<'_>,
        layers: &[(StockState<'_>, f64)],
        kind: CutterKind,
        cut: CutKind,
    ) -> Result<Choice<Band<Velocity>>, Unknown> {
        let mut choices = Vec::new();
        for (layer, _) in layers {
            choices.push(self.related_speed(layer, kind, cut)?);
        }
        choices.sort_by(|a, b| a.value.start.si().total_cmp(&b.value.start.si()));
        let mut choices = choices.into_iter();
        let id = &state.material.id;
        let relation = self.speed.relations.iter().find(|r| r.stocks.contains(id));
        match (choices.next(), relation) {
            (Some(mut slowest), Some(relation)) => {
                slowest.kept.extend(choices.map(|c| (c.value, c.row)));
                Ok(relation.apply(slowest))
            }
            (Some(slowest), None) => Ok(slowest),
            (None, _) => self.own_speed(state, kind, cut),
        }
    }

    fn related_speed(
        &self,
        state: &StockState<'_>,
        kind: CutterKind,
        cut: CutKind,
    ) -> Result<Choice<Band<Velocity>>, Unknown> {
        let own = self.own_speed(state, kind, cut);
        let Err(unknown) = own else { return own };
        let mut relations = self
            .speed
            .relations
            .iter()
            .filter(|r| r.serves(state, kind));
        let related = relations.find_map(|relation| {
            let coated = match relation.of_coating {
                Some(coating) => coating == RowCoating::Coated,
                None => kind.coated,
            };
            let kind = CutterKind { coated, ..kind };
            let base = match relation.of_stock.as_deref() {
                None => self.own_speed(state, kind, cut),
                Some(id) => {
                    let stock = self.constituent(id).ok()?;
                    let state = self.state(stock, None, Some(state.hardness)).ok()?;
                    self.own_speed(&state, kind, cut)
                }
            };
            Some(relation.apply(base.ok()?))
        });
        related.ok_or(unknown)
    }

    fn own_speed(
        &self,
        state: &StockState<'_>,
        kind: CutterKind,
        cut: CutKind,
    ) -> Result<Choice<Band<Velocity>>, Unknown> {
        let rows = || {
            self.speed.rows.iter().filter(|row| {
                let kind = row.cutter == kind.material && row.coating.holds(kind);
                kind && row.operation == Operation::EndMilling
            })
        };
        let items = |test: &dyn Fn(&SpeedRow) -> bool| -> Vec<_> {
            rows()
                .filter(|r| test(r))
                .filter_map(|r| self.speed_item(r, state, cut))
                .collect()
        };
        let what = format!("cutting speed with {}", kind.words());
        self.choose(&what, state, &items(&|row| row.cut.holds(cut)))
            .or_else(|unknown| {
                let mut other = self
                    .choose(&what, state, &items(&|_| true))
                    .map_err(|_| unknown)?;
                other.weak = true;
                other.why = format!("the row is for another kind of cut; {}", other.why);
                Ok(other)
            })
    }

    fn speed_item(
        &self,
        row: &SpeedRow,
        state: &StockState<'_>,
        cut: CutKind,
    ) -> Option<Item<Band<Velocity>>> {
        let mut reach = row.scope.reach(self, state, |g| g.force_only)?;
        reach.unsafe_side |= row.overstates;
        let series = row.scope.family.as_ref().unwrap_or(&row.subject);
        Some(Item {
            value: self.spread(row.v_c.value.band()),
            row: Cited {
                table: TABLE,
                subject: row.subject.clone(),
                printed: row.v_c.value.to_string(),
                origin: row.v_c.origin.clone(),
            },
            reach,
            series: format!("{} {series} {:?}", row.v_c.origin.source, row.cut),
            span: row.scope.span(self),
            for_this_cut: row.cut == cut,
        })
    }
}

pub(crate) fn list(speeds: &Speeds, out: &mut Vec<Listed>) {
    for row in &speeds.rows {
        let cut = match row.cut {
            CutKind::Any => "",
            CutKind::Slot => "slot",
            CutKind::Side => "side",
            CutKind::Finish => "finish",
        };
        let coating = match row.coating {
            RowCoating::Coated => "coated",
            RowCoating::Uncoated => "uncoated",
            RowCoating::Any | RowCoating::Honed => "",
        };
        let words = [
            &row.scope.words(),
            &row.scope.hardness_text(),
            coating,
            row.cutter.word(),
            row.operation.word(),
            cut,
        ];
        let words = words
            .iter()
            .filter(|w| !w.is_empty())
            .copied()
            .collect::<Vec<_>>()
            .join(" ");
        let what = |quantity| (TABLE, row.subject.clone(), words.clone(), quantity);
        out.push(listed_figure(what("v_c"), &row.v_c.value, &row.v_c.origin));
        if let Some(h) = &row.scope.hardness {
            out.push(listed_figure(what("hardness"), &h.value, &h.origin));
        }
    }
    for relation in &speeds.relations {
        relation.line().list(TABLE, "share of speed", out);
    }
}
