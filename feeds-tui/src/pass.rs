//! A pass as a user describes it: texts by key, and what they come to.
//!
//! Flags, screens and files all fill a [`Description`](description::Description); what was typed
//! stays as it was typed. [`resolve`](resolve::resolve) looks names up, reads every text and
//! gives a setup that can be worked out, with the origin of each number.

pub mod alias;
pub mod answered;
pub mod decision;
pub mod description;
pub mod document;
pub mod effect;
pub mod fastest;
pub mod feed_dial;
pub mod field;
pub mod key;
pub mod law;
pub mod modes;
pub mod opens;
pub mod overrides;
pub mod part;
pub mod ranking;
pub mod reason;
pub mod resolve;
pub mod shelf;
pub mod sure;
pub mod text;
pub mod wear;
pub mod working;
