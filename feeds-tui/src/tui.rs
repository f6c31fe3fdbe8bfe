//! The screens: a walk of five stations from cutter to answer, live at every key.
//!
//! [`ScreenState`](state::ScreenState) is all that is shown, [`update`](update::update) the only
//! thing that changes it, [`view`](view::view) the only thing that draws it.

pub mod app;
pub mod ask;
pub mod audit;
pub mod begin;
pub mod cutting;
pub mod desk;
mod edit;
pub mod effect;
pub mod features;
pub mod job;
pub mod keys;
pub mod lessons;
pub mod line;
pub mod live;
mod logging;
pub mod message;
pub mod pick;
pub mod planning;
pub mod practice;
pub mod question;
pub mod record;
pub mod rehearsal;
pub mod rows;
pub mod shelves;
pub mod shop;
pub mod signals;
pub mod state;
pub mod terminal;
pub mod theme;
pub mod update;
pub mod vary;
pub mod view;
pub mod words;
