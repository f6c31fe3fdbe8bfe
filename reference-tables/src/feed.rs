//! Feed per tooth, printed as a share of the diameter or diameter by diameter.

use crate::choice::{Choice, Cited, Item};
use crate::error::Unknown;
use crate::kind::{CutKind, CutterKind, RowCoating, RowMaterial};
use crate::listing::{Listed, listed_figure};
use crate::scope::Scope;
use crate::sourced::{Band, Figure, Sourced};
use crate::state::StockState;
use crate::tables::Tables;
use feeds_core::cutter::End;
use feeds_core::quantity::{Length, Quantity, Ratio, in_mm};
use serde::Deserialize;

const TABLE: &str = "feed";

/// A row: a share of the diameter, or a feed at one diameter.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct FeedRow {
    /// The stock as printed.
    pub subject: String,
    /// For which stocks it is read.
    #[serde(flatten)]
    pub scope: Scope,
    /// What the cutter is made of.
    pub cutter: RowMaterial,
    /// What is on it.
    pub coating: RowCoating,
    /// The kind of cut.
    pub cut: CutKind,
    /// The end it is for; any where none is named. Only balls have rows of their own.
    pub end: Option<End>,
    /// Feed per tooth over cutting diameter.
    pub f_z_over_d: Option<Sourced<Figure<Ratio>>>,
    /// Cutting diameter the feed is printed for; of a share, those it holds for.
    pub diameter: Option<Sourced<Figure<Length>>>,
    /// Feed per tooth.
    pub f_z: Option<Sourced<Figure<Length>>>,
}

/// The feed per tooth of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedChoice {
    /// From least to most; `start` is where a pass starts.
    pub band: Band<Length>,
    /// Whether it is printed for a chip that is thin already: rows for ball ends. Such a feed is
    /// not raised for the thin chip of a narrow cut.
    pub thinned: bool,
}

/// A feed at the cutter's diameter.
struct AtDiameter {
    band: Band<Length>,
    printed: String,
    extrapolated: bool,
}

impl FeedRow {
    fn for_kind(&self, kind: CutterKind, ball: bool) -> bool {
        let end = self.end.is_some_and(|end| end == End::Ball) == ball;
        end && self.cutter == kind.material && self.coating.holds(kind)
    }

    /// The share of a diameter, where the row is one and holds there.
    fn share_at(&self, diameter: Length) -> Option<&Sourced<Figure<Ratio>>> {
        let holds =
            |d: &Sourced<Figure<Length>>| d.value.least <= diameter && diameter <= d.value.most;
        let share = self.f_z_over_d.as_ref()?;
        self.diameter.as_ref().is_none_or(holds).then_some(share)
    }

    /// Rows that differ in diameter only.
    fn same_column(&self, other: &Self) -> bool {
        self.subject == other.subject
            && self.cut == other.cut
            && self.coating == other.coating
            && self.cutter == other.cutter
            && self.source() == other.source()
    }

    fn source(&self) -> &str {
        let origin = self.f_z.as_ref().map(|f| &f.origin);
        let origin = origin.or_else(|| self.f_z_over_d.as_ref().map(|f| &f.origin));
        origin.map_or("", |o| o.source.as_str())
    }

    fn by_diameter(&self) -> Option<(&Figure<Length>, &Figure<Length>)> {
        Some((&self.diameter.as_ref()?.value, &self.f_z.as_ref()?.value))
    }
}

/// The feed of one column of rows at `diameter`: interpolated between rows, in proportion to the
/// diameter below the smallest; none above the largest.
fn at_diameter(column: &[&FeedRow], diameter: Length) -> Option<AtDiameter> {
    let rows = || column.iter().filter_map(|row| row.by_diameter());
    let printed = |f: &Figure<Length>, d: &Figure<Length>| format!("{f} at D {d}");
    if let Some((d, f)) = rows().find(|(d, _)| d.least <= diameter && diameter <= d.most) {
        let (band, printed) = (f.band(), printed(f, d));
        return Some(AtDiameter {
            band,
            printed,
            extrapolated: false,
        });
    }
    let order = |a: Length, b: Length| a.si().total_cmp(&b.si());
    let above = rows()
        .filter(|(d, _)| d.least > diameter)
        .min_by(|a, b| order(a.0.least, b.0.least));
    let below = rows()
        .filter(|(d, _)| d.most < diameter)
        .max_by(|a, b| order(a.0.most, b.0.most));
    let (d1, f1) = above?;
    match below {
        Some((d0, f0)) => {
            let t = (diameter - d0.most).si() / (d1.least - d0.most).si();
            Some(AtDiameter {
                band: Band::between(f0.band(), f1.band(), t),
                printed: format!("{} and {}", printed(f0, d0), printed(f1, d1)),
                extrapolated: false,
            })
        }
        None => Some(AtDiameter {
            band: f1.band().map(|f| f * (diameter / d1.least).si()),
            printed: format!("{}, in proportion to D", printed(f1, d1)),
            extrapolated: true,
        }),
    }
}

impl Tables {
    /// The band of feeds per tooth for a cutter of `diameter`.
    ///
    /// The figures are makers' starting points. A light mill takes less depth or width
    /// ([`Tables::light_feed_share`]), never less feed: a chip thinner than the edge can cut
    /// rubs. A ball end takes the rows for balls where one holds. Diameters between rows
    /// are interpolated, among rows of one source, subject, cut, coating and cutter; below the
    /// smallest row f_z is held in proportion to the diameter and the answer is weak;
    /// above the largest the row does not hold. Uncoated carbide without a row of its own takes the
    /// rows of coated carbide, weak. No harder stock gets a higher limit than a softer one of its
    /// kind: where its row would give more, the softer one's is taken.
    ///
    /// # Errors
    /// [`Unknown`] with the nearest row when none holds.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{in_mm, mm};
    /// use feeds_core::cutter::End;
    /// use reference_tables::{kind::{CutKind, CutterKind}, tables};
    /// let tables = tables().unwrap();
    /// let steel = tables.material("1095").unwrap();
    /// let state = tables.state(steel, Some("annealed"), None).unwrap();
    /// let kind = CutterKind::COATED_CARBIDE;
    /// let f_z = tables.feed_per_tooth(&state, kind, mm(5.0), CutKind::Slot, End::Square).unwrap();
    /// assert!((in_mm(f_z.value.band.start) - 0.020).abs() < 1e-9); // printed 0.004 D to start
    /// ```
    pub fn feed_per_tooth<'t>(
        &'t self,
        state: &StockState<'t>,
        kind: CutterKind,
        diameter: Length,
        cut: CutKind,
        end: End,
    ) -> Result<Choice<FeedChoice>, Unknown> {
        let of = |ball: bool| {
            let spans = self
                .feed
                .iter()
                .filter_map(|r| r.scope.span_for(self, state));
            let asked = format!("feed {kind:?} {} {cut:?} {ball}", diameter.value);
            let choice = self.at_most_as_softer(state, &asked, spans, |state| {
                self.feed_at(state, kind, (diameter, cut), ball)
            })?;
            Ok(choice.map(|band| FeedChoice {
                band,
                thinned: ball,
            }))
        };
        if end == End::Ball
            && let Ok(choice) = of(true)
        {
            return Ok(choice);
        }
        of(false)
    }

    /// The row for a state, whatever softer states of the stock are given.
    fn feed_at(
        &self,
        state: &StockState<'_>,
        kind: CutterKind,
        at: (Length, CutKind),
        ball: bool,
    ) -> Result<Choice<Band<Length>>, Unknown> {
        let own = self.own_feed(state, kind, at, ball);
        if own.is_ok() || kind != CutterKind::UNCOATED_CARBIDE {
            return own;
        }
        let borrowed = self.own_feed(state, CutterKind::COATED_CARBIDE, at, ball);
        match borrowed {
            Ok(mut choice) => {
                choice.weak = true;
                choice.why = format!("no row for uncoated carbide: coated taken; {}", choice.why);
                Ok(choice)
            }
            Err(_) => own,
        }
    }

    fn own_feed(
        &self,
        state: &StockState<'_>,
        kind: CutterKind,
        (diameter, cut): (Length, CutKind),
        ball: bool,
    ) -> Result<Choice<Band<Length>>, Unknown> {
        let mut items = Vec::new();
        let rows = self.feed.iter().filter(|r| r.for_kind(kind, ball));
        let rows: Vec<_> = rows.collect();
        for (i, row) in rows.iter().enumerate() {
            let seen = rows[..i]
                .iter()
                .any(|r| r.by_diameter().is_some() && r.same_column(row));
            if !row.cut.holds(cut) || (seen && row.by_diameter().is_some()) {
                continue;
            }
            items.extend(self.feed_item(row, &rows, state, (diameter, cut)));
        }
        let what = format!(
            "feed per tooth with {} of {:.3} mm",
            kind.words(),
            in_mm(diameter)
        );
        self.choose(&what, state, &items)
    }

    fn feed_item(
        &self,
        row: &FeedRow,
        rows: &[&FeedRow],
        state: &StockState<'_>,
        (diameter, cut): (Length, CutKind),
    ) -> Option<Item<Band<Length>>> {
        let mut reach = row.scope.reach(self, state, |_| false)?;
        let (value, printed, origin) = if row.f_z_over_d.is_some() {
            let share = row.share_at(diameter)?;
            let band = share.value.band().map(|x| diameter * x);
            (band, share.value.to_string(), &share.origin)
        } else {
            let column: Vec<_> = rows
                .iter()
                .copied()
                .filter(|r| r.same_column(row))
                .collect();
            let found = at_diameter(&column, diameter)?;
            reach.weak |= found.extrapolated;
            (found.band, found.printed, &row.f_z.as_ref()?.origin)
        };
        let series = row.scope.family.as_ref().unwrap_or(&row.subject);
        Some(Item {
            value: self.spread(value),
            row: Cited {
                table: TABLE,
                subject: row.subject.clone(),
                printed,
                origin: origin.clone(),
            },
            reach,
            series: format!("{} {series} {:?}", origin.source, row.cut),
            span: row.scope.span(self),
            for_this_cut: row.cut == cut,
        })
    }
}

pub(crate) fn list(rows: &[FeedRow], out: &mut Vec<Listed>) {
    for row in rows {
        let diameter = row.diameter.as_ref().map(|d| format!("D {}", d.value));
        let ball = row.end == Some(End::Ball);
        let words = [
            row.scope.words(),
            row.scope.hardness_text(),
            row.cutter.word().to_owned(),
            if ball { "ball" } else { "" }.to_owned(),
            diameter.unwrap_or_default(),
        ];
        let words = words.into_iter().filter(|w| !w.is_empty());
        let words = words.collect::<Vec<_>>().join(" ");
        let what = |quantity| (TABLE, row.subject.clone(), words.clone(), quantity);
        if let Some(f) = &row.f_z_over_d {
            out.push(listed_figure(what("f_z / D"), &f.value, &f.origin));
        }
        if let Some(f) = &row.f_z {
            out.push(listed_figure(what("f_z"), &f.value, &f.origin));
        }
        if let Some(d) = &row.diameter {
            out.push(listed_figure(what("diameter"), &d.value, &d.origin));
        }
        if let Some(h) = &row.scope.hardness {
            out.push(listed_figure(what("hardness"), &h.value, &h.origin));
        }
    }
}
