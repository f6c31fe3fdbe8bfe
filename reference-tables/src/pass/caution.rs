//! What to mind about a pass, beside its checks.

use crate::error::Unknown;
use feeds_core::cutter::Coating;
use std::fmt;

/// What is not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The state of the stock.
    Stock,
    /// The band of cutting speeds.
    CuttingSpeed,
    /// The band of feeds.
    FeedPerTooth,
    /// The edge radius.
    EdgeRadius,
    /// The force of the edge.
    EdgeForce,
    /// The force of the chip.
    CuttingForce,
}

impl What {
    fn words(self) -> &'static str {
        match self {
            Self::Stock => "stock",
            Self::CuttingSpeed => "cutting speed",
            Self::FeedPerTooth => "feed per tooth",
            Self::EdgeRadius => "cutting edge radius",
            Self::EdgeForce => "edge force",
            Self::CuttingForce => "cutting force",
        }
    }
}

/// Why climb or conventional was chosen where nobody said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// Backlash and drag are not known.
    NothingKnown,
    /// Climbing does not pull the table.
    Holds,
    /// Climbing would pull it.
    Pulls,
    /// Nobody can tell.
    NotKnown,
}

/// What to mind.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Caution {
    /// A question the tables cannot answer.
    NotKnown(What, Unknown),
    /// As it stands with the stock in the tables.
    OfStock(String),
    /// High-speed steel in hardened stock.
    HardBurnsHss,
    /// An uncoated edge in hardened stock.
    HardBurnsUncoated,
    /// Small carbide in hardened stock.
    HardChips,
    /// A coating that iron wears.
    IronWears(Coating),
    /// Aluminium.
    Welds,
    /// A coating that holds aluminium, in aluminium.
    CoatingWelds,
    /// Layered stock.
    Layers,
    /// A force law that was typed, in layered stock.
    LayersUnderOneLaw,
    /// A wear land in a stock of no known hardness.
    LandNotCounted,
    /// Linear coefficients have no range.
    NoRange,
    /// The force law of carbon steel stands for a stock nobody named.
    Unnamed,
    /// Flutes in the holder.
    FlutesInHolder,
    /// The neck in the holder.
    NeckInHolder,
    /// A plunge.
    Plunging,
    /// Climb or conventional, chosen.
    Direction(Chosen),
    /// A long cutter.
    Long,
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotKnown(what, unknown) => return write!(f, "{} {unknown}", what.words()),
            Self::OfStock(text) => text,
            Self::HardBurnsHss => {
                "hardened stock: high-speed steel burns; use coated carbide, or anneal"
            }
            Self::HardBurnsUncoated => {
                "hardened stock: an uncoated edge burns; use an AlTiN kind of coating, or anneal"
            }
            Self::HardChips => {
                "hardened stock: small carbide chips at the first jolt; short and stiff, light \
                 cuts, no stop in the cut; grind what is harder than the maker of the cutter names"
            }
            Self::IronWears(Coating::Dlc) => {
                "DLC coating: makers sell it for aluminium and copper, and in steel it wears \
                 fast; use an AlTiN kind of coating (common practice)"
            }
            Self::IronWears(_) => {
                "diamond coating: hot iron dissolves its carbon, and it wears fast in steel; use \
                 an AlTiN kind of coating (common practice)"
            }
            Self::Welds => {
                "aluminium welds to a hot edge: a drop of oil or spirit, and air to clear the \
                 chips; a bright lump on the edge means stop and clean it (common practice)"
            }
            Self::CoatingWelds => {
                "AlTiN kind of coating: it holds aluminium, and aluminium sticks to it; use a \
                 bare, ZrN or DLC edge (common practice)"
            }
            Self::Layers => {
                "layered stock: a hard layer can lie along the cut and welds hide hard spots; \
                 slower than any of its layers on purpose; listen, and stop at a change of sound"
            }
            Self::LayersUnderOneLaw => {
                "layered stock: your force law is used for every layer; enter the one of the \
                 hardest layer"
            }
            Self::LandNotCounted => {
                "wear land: without the hardness of the stock its force is not counted"
            }
            Self::NoRange => {
                "linear edge coefficients hold for chips as thick as those they were measured on; \
                 that range is not known here, so no load is marked as outside it"
            }
            Self::Unnamed => {
                let (name, condition) = super::usual::UNNAMED;
                return write!(
                    f,
                    "stock not named: the edge force is that of carbon steel ({name} {condition})"
                );
            }
            Self::FlutesInHolder => {
                "the flutes reach into the holder: a collet grips flutes badly; clamp on the \
                 shank only"
            }
            Self::NeckInHolder => {
                "the neck reaches into the holder: enter the stick-out, and the neck's length \
                 without the flutes"
            }
            Self::Plunging => {
                "plunging: go down slowly and lift often to clear the chips; packed chips \
                 are not counted in the load"
            }
            Self::Direction(why) => match why {
                Chosen::NothingKnown => {
                    "direction chosen: conventional, since backlash and drag are not both known \
                     and climb milling could pull the table"
                }
                Chosen::Holds => {
                    "direction chosen: climb: by what is known the cutter does not pull the table \
                     through its backlash"
                }
                Chosen::Pulls => {
                    "direction chosen: conventional: in climb milling the cutter would pull the \
                     table through its backlash"
                }
                Chosen::NotKnown => {
                    "direction chosen: conventional: not known how hard climb milling would pull \
                     the table"
                }
            },
            Self::Long => "A long cutter whips: keep below its maker's speed for that stick-out.",
        })
    }
}
