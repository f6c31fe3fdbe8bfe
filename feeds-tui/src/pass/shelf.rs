//! The shelves of a shop: what each is called, and which entries its parts can have.

use super::field::{FIELDS, Field, Key, Shelf, Station};

impl Shelf {
    /// In the order they are asked.
    pub const ALL: [Self; 4] = [Self::Cutters, Self::Stocks, Self::Machines, Self::Holds];

    /// What a pass names a thing of it with.
    pub fn key(self) -> Key {
        match self {
            Self::Cutters => Key::Cutter,
            Self::Stocks => Key::Stock,
            Self::Machines => Key::Machine,
            Self::Holds => Key::Hold,
        }
    }

    /// One thing from it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cutters => "cutter",
            Self::Stocks => "stock",
            Self::Machines => "machine",
            Self::Holds => "hold",
        }
    }

    /// All of it.
    pub fn plural(self) -> &'static str {
        match self {
            Self::Cutters => "cutters",
            Self::Stocks => "stocks",
            Self::Machines => "machines",
            Self::Holds => "holds",
        }
    }

    /// The shelf of that word, one or many, in any letter case.
    pub fn of_word(word: &str) -> Option<Self> {
        let is = |other: &str| word.trim().eq_ignore_ascii_case(other);
        Self::ALL
            .into_iter()
            .find(|s| is(s.word()) || is(s.plural()))
    }

    /// The shelf whose parts have this entry; entries of the cut belong to none.
    pub fn of_field(field: &Field) -> Option<Self> {
        match (field.station, field.id) {
            // Where things lie in a programme is of the job.
            (_, Key::Cutter | Key::Machine | Key::Hold | Key::Zero | Key::Jaws) => None,
            (Station::Cutter, _) => Some(Self::Cutters),
            (Station::Stock, _) => Some(Self::Stocks),
            (
                Station::Machine,
                Key::ClampForce
                | Key::ScrewTorque
                | Key::ScrewDiameter
                | Key::Friction
                | Key::Grip
                | Key::Height,
            ) => Some(Self::Holds),
            (Station::Machine, _) => Some(Self::Machines),
            _ => None,
        }
    }

    /// The entries its parts can have. A stock of the shop names its row of the tables as `stock`.
    pub fn fields(self) -> impl Iterator<Item = &'static Field> {
        FIELDS
            .iter()
            .filter(move |f| Self::of_field(f) == Some(self))
    }

    /// The entries a part of it is of no use without.
    pub fn needs(self) -> &'static [Key] {
        match self {
            Self::Cutters => &[Key::Diameter, Key::Edges],
            Self::Machines => &[Key::SpindleMost],
            Self::Stocks | Self::Holds => &[],
        }
    }
}
