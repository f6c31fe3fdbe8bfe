//! What is heard or seen at the machine, what it mostly comes from, and what to turn first.
//!
//! The order of the causes is that of the trade for any pass; the numbers of one pass reorder
//! them, which is no matter of this table.

use crate::error::{NotFound, TableError};
use crate::listing::{Listed, listed};
use crate::names;
use crate::sourced::{Figure, Provenance, Sourced};
use crate::tables::Tables;
use feeds_core::quantity::Ratio;
use serde::Deserialize;

const TABLE: &str = "signs";

macro_rules! words {
    ($(#[$doc:meta])* $kind:ident { $($variant:ident = $key:literal, $says:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
        #[serde(try_from = "String")]
        pub enum $kind {
            $(#[doc = $says] $variant),+
        }

        impl $kind {
            /// Every one, in the order of this file.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// Its name in the data and for scripts.
            pub fn key(self) -> &'static str {
                match self { $(Self::$variant => $key),+ }
            }

            /// What people read.
            pub fn says(self) -> &'static str {
                match self { $(Self::$variant => $says),+ }
            }
        }

        impl TryFrom<String> for $kind {
            type Error = String;

            fn try_from(key: String) -> Result<Self, String> {
                let mut all = Self::ALL.iter().copied();
                all.find(|one| one.key() == key).ok_or_else(|| format!("'{key}' is not known"))
            }
        }
    };
}

words!(
    /// What a sign may come from.
    Cause {
        Rubbing = "rubbing", "it rubs";
        Chatter = "chatter", "it chatters";
        Bending = "bending", "the cutter bends";
        Runout = "runout", "the cutter runs out";
        Overload = "overload", "the cutter is overloaded";
        Power = "power", "the spindle is short of power";
        Speed = "speed", "it runs too fast";
        Sticking = "sticking", "stock sticks to the edge";
        Dull = "dull", "the edge is dull";
        Chips = "chips", "chips pack in the flutes";
        Part = "part", "the part moves";
        Slips = "slips", "the cutter slips in its collet";
        Backlash = "backlash", "the cut pulls the table";
        Corner = "corner", "it bites in the corners";
        ThickChip = "thick-chip", "the chip is too thick";
    }
);

words!(
    /// What is turned: a dial of the machine, or an entry of the pass.
    Turn {
        Feed = "feed", "feed";
        Spindle = "spindle", "spindle";
        Depth = "depth", "depth";
        Width = "width", "width";
        StickOut = "stick-out", "stick-out";
    }
);

impl Turn {
    /// Whether it is a dial of the machine, that can be turned while it cuts.
    pub fn is_dial(self) -> bool {
        matches!(self, Self::Feed | Self::Spindle)
    }

    /// What a row of it gives.
    fn quantity(self) -> &'static str {
        match self {
            Self::Feed => "step of the feed dial",
            Self::Spindle => "step of the spindle dial",
            Self::Depth => "step of the depth",
            Self::Width => "step of the width",
            Self::StickOut => "step of the stick-out",
        }
    }
}

/// Something that is heard or seen.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Sign {
    /// Its name.
    #[serde(rename = "sign")]
    pub name: String,
    /// What else it is called.
    pub also: Vec<String>,
    /// What it is like.
    pub says: String,
    /// Where it is from.
    #[serde(flatten)]
    pub origin: Provenance,
}

/// A cause of a sign, with what to turn first.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct CauseRow {
    /// The sign.
    pub sign: String,
    /// The cause.
    pub cause: Cause,
    /// What to turn.
    pub turn: Turn,
    /// What to look at next.
    pub next: String,
    /// How far, of what it is now; all of the feed is a stop.
    #[serde(flatten)]
    pub step: Sourced<Figure<Ratio>>,
}

/// What to listen and look for while a limit is near.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct LimitRow {
    /// The name of the limit.
    pub limit: String,
    /// What is heard or seen.
    pub says: String,
    /// What to turn then.
    pub turn: Turn,
    /// What else helps; may be empty.
    pub next: String,
    /// How far, as in a [`CauseRow`].
    #[serde(flatten)]
    pub step: Sourced<Figure<Ratio>>,
}

/// The data file.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Signs {
    /// Every sign.
    pub signs: Vec<Sign>,
    /// The causes of each, the most usual first.
    pub causes: Vec<CauseRow>,
    /// Signs of limits.
    pub limits: Vec<LimitRow>,
}

impl Signs {
    /// The causes of a sign, the most usual first.
    pub fn causes_of(&self, sign: &Sign) -> impl Iterator<Item = &CauseRow> {
        self.causes.iter().filter(|row| row.sign == sign.name)
    }

    /// What to listen and look for while that limit is near.
    pub fn of_limit(&self, name: &str) -> Option<&LimitRow> {
        self.limits.iter().find(|row| row.limit == name)
    }
}

impl Tables {
    /// The sign called `name`, by its name, another one, or a part that fits no other.
    ///
    /// # Errors
    /// [`NotFound`] with the nearest names.
    ///
    /// # Example
    /// ```
    /// use reference_tables::signs::{Cause, Turn};
    /// let tables = reference_tables::tables().unwrap();
    /// let squeal = tables.sign("screech").unwrap();
    /// let first = tables.signs.causes_of(squeal).next().unwrap();
    /// assert_eq!((first.cause, first.turn), (Cause::Rubbing, Turn::Feed));
    /// assert_eq!(first.step.value.to_string(), "20 %");
    /// ```
    pub fn sign(&self, name: &str) -> Result<&Sign, NotFound> {
        names::find(
            "sound, chip or mark",
            &self.signs.signs,
            &self.called.signs,
            name,
            |s| {
                let also = s.also.iter().cloned();
                std::iter::once(s.name.clone()).chain(also).collect()
            },
        )
    }
}

/// Every sign has a source and a cause, every cause is of a sign there is.
pub(crate) fn check(tables: &Tables) -> Result<(), TableError> {
    let file = "signs.json";
    let lost = |at: usize, what| {
        Err(TableError {
            file,
            row: at + 1,
            what,
        })
    };
    for (at, sign) in tables.signs.signs.iter().enumerate() {
        if tables.source(&sign.origin.source).is_none() {
            let what = format!("no source is called '{}'", sign.origin.source);
            return lost(at, what);
        }
        if tables.signs.causes_of(sign).next().is_none() {
            return lost(at, format!("{} has no cause", sign.name));
        }
    }
    for (at, row) in tables.signs.causes.iter().enumerate() {
        if !tables.signs.signs.iter().any(|s| s.name == row.sign) {
            return lost(at, format!("no sign is called '{}'", row.sign));
        }
    }
    Ok(())
}

pub(crate) fn list(table: &Signs, out: &mut Vec<Listed>) {
    let causes = table.causes.iter().map(|row| {
        let says = table.signs.iter().find(|s| s.name == row.sign);
        let says = says.map_or("", |s| s.says.as_str());
        let subject = format!("{}: {says}", row.sign);
        let of = (subject, row.cause.says().to_owned(), row.turn);
        (of, &row.step, &row.next)
    });
    let limits = table.limits.iter().map(|row| {
        let of = (row.says.clone(), format!("near {}", row.limit), row.turn);
        (of, &row.step, &row.next)
    });
    for ((subject, condition, turn), step, next) in causes.chain(limits) {
        let figure = &step.value;
        let (least, most) = figure.printed();
        let mut row = listed(
            (TABLE, subject, condition, turn.quantity()),
            (least, most, figure.unit()),
            figure.to_string(),
            &step.origin,
        );
        row.note.clone_from(next);
        out.push(row);
    }
}
