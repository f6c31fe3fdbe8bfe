//! The program `feeds` from outside: commands, files, screens, a real terminal.

#![allow(clippy::unwrap_used, clippy::expect_used)] // a test fails by panicking

#[path = "support/bench.rs"]
mod bench;
#[path = "support/pty.rs"]
mod pty;
#[path = "support/scratch.rs"]
mod scratch;
#[path = "support/shell.rs"]
mod shell;
#[path = "support/walk.rs"]
mod walk;

mod advice;
mod audit;
mod audit_copy;
mod audit_feature;
mod audit_job;
mod audit_long;
mod audit_text;
mod cards;
mod chatter;
mod commands;
mod cut_copies;
mod decision;
mod desk;
mod doubts;
mod far_readings;
mod feature_advice;
mod feature_jaws;
mod feature_keys;
mod feature_screen;
mod feature_sticks;
mod feature_tries;
mod features;
mod feed_dial;
mod first_look;
mod first_start;
mod frames;
mod frictions;
mod from_names;
mod guesses;
mod hard_places;
mod help_numbers;
mod hidden_signs;
mod idle_entries;
mod inch;
mod job;
mod kills;
mod law;
mod learning;
mod listen;
mod lives;
mod marks;
mod not_modelled;
mod own_cuts;
mod plain_answers;
mod planned;
mod practice;
mod process;
mod put_together;
mod readme;
mod register;
mod rehearsal_screen;
mod rehearse;
mod screens;
mod sheet;
mod shell_words;
mod shop;
mod simulate;
mod slips;
mod steels;
mod storms;
mod sweep;
mod terminal;
mod test_cuts;
mod tones;
mod trade_words;
mod typing;
mod vary;
mod views;
mod weighed;
mod working;
mod wrong_entries;
mod wrong_input;
