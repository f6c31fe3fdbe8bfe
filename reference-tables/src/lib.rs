//! Numbers from books and catalogues, each with its source and its basis.
//!
//! A data file holds what is printed: rows that disagree stand side by side. A lookup asks for a
//! [stock in a known state](state::StockState) and a cutter, takes one row by
//! [a stated rule](choice), and keeps the others beside it. Nothing is averaged, nothing is
//! guessed: what no row answers is [`Unknown`].
//!
//! | you want | look in |
//! | --- | --- |
//! | to plan a pass from names | [`pass`]: [`Tables::pass`] |
//! | a stock, cutter, machine or hold by name | [`material`], [`cutter`], [`machine`], [`hold`] |
//! | speed, feed and force of a stock | [`speed`], [`feed`], [`kienzle`], [`force_law`] |
//! | what is usual for depth, width, stick-out | [`guides`], [`depth_width`] |
//! | why this row and no other | [`choice`] |
//! | how far a figure can be trusted | [`sourced`], [`source`] |
//! | every row in one list | [`listing`] |
//!
//! Groups, ends, coatings, paths and force laws are the types of `feeds_core`.
//!
//! ```
//! use reference_tables::kind::{CutKind, CutterKind};
//! use reference_tables::tables;
//!
//! let tables = tables().unwrap();
//! let stock = tables.material("1.0503").unwrap(); // C45, AISI 1045
//! let state = tables.state(stock, Some("normalised"), None).unwrap();
//! let v_c = tables.speed(&state, CutterKind::COATED_CARBIDE, CutKind::Slot).unwrap();
//! let source = tables.source(&v_c.row.origin.source).unwrap();
//! assert_eq!(v_c.row.printed, "155-200 m/min and 120-140 m/min"); // at 125 and 200 HB
//! assert_eq!(source.page.as_deref(), Some("D 155"));
//! assert!(!v_c.kept.is_empty()); // other sources are not thrown away
//! ```

pub mod chip_floor;
pub mod choice;
pub mod coating;
pub mod corrections;
pub mod cutter;
pub mod damping;
pub mod depth_width;
pub mod edge_radius;
pub mod entry;
pub mod error;
pub mod family;
pub mod feature;
pub mod feed;
pub mod force_law;
mod force_listing;
pub mod friction;
pub mod geometry;
pub mod guides;
pub mod hardness;
pub mod hold;
pub mod kienzle;
pub mod kind;
mod layers;
pub mod life;
pub mod line;
pub mod listing;
mod load;
pub mod machine;
pub mod material;
mod names;
pub mod pass;
pub mod scope;
pub mod signs;
pub mod softer;
pub mod source;
pub mod sourced;
pub mod speed;
pub mod state;
mod stock_name;
pub mod strength;
mod tables;
pub mod unit_power;
mod version;
pub mod wear;

pub use error::{NotFound, TableError, Unknown};
pub use tables::{Tables, tables};
pub use version::version;
