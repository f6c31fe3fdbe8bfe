//! Checks from outside: published cases, laws, tables, programmes, the house itself.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test fails by panicking

mod best_cut;
mod card_texts;
mod economy;
mod entries;
mod entry_ranges;
mod features;
mod feed_intervals;
mod first_feeds;
mod force_laws;
mod formula_entries;
mod formula_laws;
mod formula_register;
mod invalid_files;
mod kernel_cases;
mod kernel_fronts;
mod kernel_laws;
mod kernel_peaks;
mod lessons;
mod limit_bounds;
mod measured;
mod met;
mod own;
mod programmes;
mod published;
mod published_loads;
mod rehearsal;
mod schemas;
mod shelf;
mod stock_names;
mod store_faults;
mod store_kills;
mod straight_law;
mod table_choices;
mod table_feeds;
mod table_files;
mod table_forces;
mod table_hardness;
mod table_kienzle;
mod table_lookups;
mod table_prints;
mod tables;
mod tidy;
mod vocabulary;
