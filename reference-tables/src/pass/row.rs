//! A cutter, a machine and a hold of the tables as values: the careful end of each figure.

use super::entries::Known;
use crate::cutter::CutterRow;
use crate::hold::HoldRow;
use crate::machine::{Axes, MachineRow};
use crate::sourced::{Figure, Printable, Sourced};
use crate::tables::Tables;
use feeds_core::notebook::Origin;
use feeds_core::quantity::Quantity;
use feeds_core::symbol::{self as s, Symbol};

/// The values of a row, each with its text and its origin.
pub type RowValues = Vec<(&'static Symbol, Known)>;

/// Which end of a printed range is the careful one.
#[derive(Clone, Copy)]
enum Careful {
    Least,
    Start,
    Most,
}

/// A figure's careful end: the value, and as it is printed.
fn end<Q: Printable>(figure: &Figure<Q>, careful: Careful) -> (Q, String) {
    let (least, most) = figure.printed();
    let (value, number) = match careful {
        Careful::Least => (figure.least, least),
        Careful::Most => (figure.most, most),
        Careful::Start => (
            figure.band().start,
            figure.printed_start().unwrap_or(f64::midpoint(least, most)),
        ),
    };
    let text = format!("{number} {}", figure.unit()).trim().to_owned();
    (value, text)
}

fn known<Q: Quantity + Printable>(figure: &Figure<Q>, careful: Careful, from: &Origin) -> Known {
    let (value, text) = end(figure, careful);
    Known {
        si: value.si(),
        text,
        from: from.clone(),
    }
}

/// The least of each axis in SI base units, and in one text: a unit they share stands once, after
/// the last.
fn axes<Q: Quantity + Printable>(axes: &Axes<Q>) -> ([f64; 3], String) {
    let least = [&axes.x, &axes.y, &axes.z].map(|figure| end(figure, Careful::Least));
    let [x, y, z] = least.each_ref().map(|(_, text)| text.as_str());
    let unit = z.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let text = match (x.strip_suffix(unit), y.strip_suffix(unit)) {
        (Some(x), Some(y)) => format!("{x} x {y} x {z}"),
        _ => format!("{x} x {y} x {z}"),
    };
    (least.map(|(value, _)| value.si()), text)
}

impl Tables {
    /// The origin of a row as the working shows it.
    pub fn origin(&self, row: &str, from: &crate::sourced::Provenance) -> Origin {
        let source = self
            .source(&from.source)
            .map_or_else(|| from.source.clone(), ToString::to_string);
        Origin::Row {
            row: row.to_owned(),
            source,
            basis: from.basis.word().to_owned(),
            weak: from.weak,
            extrapolated: false,
        }
    }
}

impl Sourced<CutterRow> {
    /// Its values, those that a pass is worked out with.
    ///
    /// # Example
    /// ```
    /// use feeds_core::symbol as s;
    /// let tables = reference_tables::tables().unwrap();
    /// let values = tables.cutter("6 mm square, 4 edges, AlTiN").unwrap().values(tables);
    /// let (_, stick_out) = values.iter().find(|(of, _)| **of == s::STICK_OUT).unwrap();
    /// assert_eq!((stick_out.si, stick_out.text.as_str()), (0.022, "22 mm"));
    /// ```
    pub fn values(&self, tables: &Tables) -> RowValues {
        let c = &self.value;
        let from = tables.origin(&c.name, &self.origin);
        let edges = Known {
            si: f64::from(c.edges),
            text: c.edges.to_string(),
            from: from.clone(),
        };
        let mut values = vec![
            (&s::D, known(&c.diameter, Careful::Start, &from)),
            (&s::Z, edges),
            (&s::HELIX, known(&c.helix, Careful::Start, &from)),
            (&s::L_FLUTE, known(&c.flute_length, Careful::Start, &from)),
            (&s::STICK_OUT, known(&c.stick_out, Careful::Most, &from)),
            (&s::D_SHANK, known(&c.shank, Careful::Start, &from)),
        ];
        if let Some(r) = &c.corner_radius {
            values.push((&s::R_EPS, known(r, Careful::Start, &from)));
        }
        values
    }
}

impl Sourced<MachineRow> {
    /// Its values, those that a pass is worked out with.
    pub fn values(&self, tables: &Tables) -> RowValues {
        let m = &self.value;
        let from = &tables.origin(&m.name, &self.origin);
        vec![
            (&s::N_LEAST, known(&m.spindle_speed, Careful::Least, from)),
            (&s::N_MOST, known(&m.spindle_speed, Careful::Most, from)),
            (&s::V_F_MOST, known(&m.feed.x, Careful::Least, from)),
            (&s::P_RATED, known(&m.power, Careful::Least, from)),
            (&s::N_BASE, known(&m.base_speed, Careful::Most, from)),
            (&s::ETA, known(&m.efficiency, Careful::Least, from)),
            (&s::K_MACHINE, known(&m.stiffness, Careful::Least, from)),
            (&s::TIR, known(&m.runout, Careful::Start, from)),
            (&s::BACKLASH, known(&m.backlash, Careful::Most, from)),
            (&s::DRAG, known(&m.axis_drag, Careful::Least, from)),
        ]
    }
}

impl MachineRow {
    /// Least feed of each axis in m/s, and as text.
    ///
    /// # Example
    /// ```
    /// let tables = reference_tables::tables().unwrap();
    /// let machine = &tables.machine("bench-5000").unwrap().value;
    /// assert_eq!(machine.axis_feed().1, "1500 x 1500 x 800 mm/min");
    /// ```
    pub fn axis_feed(&self) -> ([f64; 3], String) {
        axes(&self.feed)
    }

    /// Least acceleration of each axis in m/s2, and as text.
    pub fn axis_acceleration(&self) -> ([f64; 3], String) {
        axes(&self.acceleration)
    }
}

impl HoldRow {
    /// Its values, those that a pass is worked out with. One without a force of its own, such as
    /// tape, is held by a tested force, and that is then all it holds.
    pub fn values(&self, tables: &Tables) -> RowValues {
        let mut values = Vec::new();
        if !self.accepted {
            let why = format!("{}: the tested force is all it holds", self.name);
            let all = Known {
                si: 1.0,
                text: "1".to_owned(),
                from: Origin::Default { why },
            };
            values.push((&s::FRICTION, all));
        }
        if let Some(f) = &self.friction {
            let from = tables.origin(&self.name, &f.origin);
            values.push((&s::FRICTION, known(&f.value, Careful::Least, &from)));
        }
        if let Some(f) = &self.clamp_force {
            let from = tables.origin(&self.name, &f.origin);
            values.push((&s::F_CLAMP, known(&f.value, Careful::Least, &from)));
        }
        values
    }

    /// How many faces hold by friction: the two jaws of a vise, or one where a tested force is all
    /// there is.
    pub fn friction_faces(&self) -> u32 {
        if self.accepted {
            self.faces.map_or(2, u32::from)
        } else {
            1
        }
    }
}
