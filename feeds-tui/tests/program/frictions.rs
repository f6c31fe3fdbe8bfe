//! Twenty frictions, seen by using the program as a maker does; each is gone, and held by a test.
//!
//! [`HELD`] says which test holds which: those of this folder, and those that stand with the rest
//! of their topic.

mod harm;
mod harms;
mod passes;
mod printed;
mod seen;
mod words;

use feeds_core::plan::limits::LIMITS;
use feeds_tui::pass::description::Description;
use serde_json::Value;
use std::collections::BTreeSet;
use std::ffi::OsString;

/// Each friction, the file of its test and the test.
#[rustfmt::skip]
const HELD: &[(&str, &str, &str)] = &[
    ("1 a deep slot printed as settings", "frictions/harm",
        "a_deep_slot_reads_stop_first_everywhere_and_names_the_largest_depth_that_runs"),
    ("1 by margin and not by harm", "frictions/passes",
        "of_200_passes_the_first_danger_is_the_one_of_the_highest_harm"),
    ("1 settings of what stops", "frictions/passes",
        "of_200_passes_none_that_stops_prints_s_and_f_outside_brackets"),
    ("2 a cutter silently replaced", "planned",
        "a_cutter_taken_off_the_shelf_is_not_replaced_by_a_row_of_the_tables"),
    ("3 mm/min on an inch page", "frictions/seen",
        "the_fastest_cut_of_an_inch_shop_is_set_in_inches_a_minute"),
    ("4 a measured wall not judged", "rehearse", "a_measured_wall_is_judged"),
    ("5 what rubs proves nothing", "rehearse", "a_rehearsal_that_rubs_proves_no_load"),
    ("5 what no cut proves", "rehearse", "what_no_cut_proves_is_the_same_in_both"),
    ("6 a stray key raised the feed", "planned", "a_proven_run_says_what_it_changed"),
    ("7 plunging with an unknown end", "guesses",
        "to_plunge_with_an_end_nobody_described_is_not_known"),
    ("8 climb and the way in assumed", "guesses",
        "every_default_that_decides_is_listed_as_guessed"),
    ("8 climb whatever the backlash", "frictions/harm",
        "nobody_climbs_on_a_table_of_unknown_backlash_nor_enters_a_slot_unasked"),
    ("9 a slow mill's own top speed", "frictions/harm",
        "a_slow_mill_never_heads_with_its_own_top_speed"),
    ("10 shares below nothing", "frictions/printed",
        "no_share_below_nothing_is_printed_anywhere"),
    ("10 margin and governs", "frictions/printed", "nothing_governs_and_nothing_has_a_margin"),
    ("11 the open pass over an audit", "audit_text", "the_head_of_the_screen_is_the_programme_s"),
    ("11 the open pass over a rehearsal", "rehearsal_screen", "the_head_is_of_the_rehearsal"),
    ("12 off the shelf without a question", "planned",
        "a_thing_goes_off_the_shelf_when_asked_and_comes_back_from_any_view"),
    ("13 typing went on behind", "typing",
        "what_is_typed_after_enter_takes_the_place_of_the_entry"),
    ("13 advice of another size", "typing", "no_advice_is_another_size_than_what_was_typed"),
    ("14 nothing kept in inches", "inch", "units_are_kept_once"),
    ("14 F off by 6 %", "inch", "planned_f_is_printed_f"),
    ("14 F off by 6 %, of 200 passes", "frictions/passes",
        "of_200_passes_the_f_that_is_printed_is_the_f_that_was_planned"),
    ("14 metric help and lessons", "frictions/printed",
        "an_inch_shop_reads_no_millimetre_and_a_metric_one_no_inch"),
    ("14 help that does not run", "inch", "every_example_of_help_runs_in_inches"),
    ("15 small type, no tool, no Z", "sheet", "the_sheet_is_read_at_the_machine"),
    ("15 no key makes it", "sheet", "a_key_makes_the_sheet"),
    ("16 trade words refused as flags", "frictions/words",
        "trade_words_are_read_by_the_flags_of_every_command"),
    ("16 in shop, job and file", "frictions/words",
        "trade_words_are_kept_as_the_registers_own_by_shop_job_and_file"),
    ("16 on the screens", "frictions/words",
        "trade_words_are_read_where_they_are_typed_on_the_screens"),
    ("16 by formulas", "frictions/words", "trade_words_are_read_by_formulas"),
    ("16 --flutes answered with --flute-length", "trade_words",
        "every_other_name_of_an_entry_is_a_flag"),
    ("17 an example not called one", "first_start",
        "an_empty_start_shows_the_example_as_one_with_its_answer_and_the_way_to_ones_own"),
    ("17 own passes among it", "first_start",
        "the_example_takes_no_pass_of_ones_own_and_is_saved_as_what_it_is"),
    ("18 a hundred lines", "frictions/passes",
        "of_200_passes_each_has_its_decision_on_24_lines_of_80_columns"),
    ("18 the ladder nine pages down", "frictions/seen",
        "the_rehearsal_opens_on_its_verdict_and_the_climb"),
    ("19 unknown and yet fine", "frictions/harm",
        "what_would_decide_and_is_not_known_is_never_run"),
    ("19 62 HRC without a word", "frictions/harm",
        "a_blade_hard_stock_gets_a_word_on_its_hardness"),
    ("19 speeds that read as an error", "frictions/harm",
        "a_layered_billet_says_why_it_is_cut_slower_than_its_layers"),
    ("20 bars of safety", "frictions/seen", "bars_fill_with_load"),
    ("20 marks of the force plot", "frictions/seen",
        "the_quarters_of_the_force_plot_stand_where_they_are"),
    ("20 values that do not complete", "shell_words", "values_of_options_complete"),
    ("2 wrong, where 2 are missing", "typing", "missing_and_wrong_are_counted_apart"),
    ("a slip of 25.4", "frictions/seen", "a_length_off_by_25_4_is_recognised_in_every_question"),
    ("a question twice in ten", "frictions/seen", "no_question_comes_twice_in_ten"),
    ("«Same» with a capital", "typing", "a_word_of_practice_is_taken_with_a_capital"),
    ("a curve out of its frame", "frictions/seen",
        "a_curve_that_leaves_its_frame_says_how_far_it_goes"),
    ("help clipped at 80 columns", "typing", "the_help_of_every_key_fits_a_screen"),
    ("a job that is not there", "first_start",
        "a_job_that_is_not_there_is_answered_with_how_to_begin_it"),
];

/// A test that is renamed or moved takes its line of the table with it.
#[test]
fn every_friction_is_held_by_a_test() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/program");
    for (friction, file, test) in HELD {
        let text = std::fs::read_to_string(folder.join(format!("{file}.rs"))).unwrap();
        assert!(
            text.contains(&format!("#[test]\nfn {test}() {{")),
            "{friction}: {file}::{test}"
        );
    }
    for number in 1..=20 {
        let own = |row: &&(&str, &str, &str)| row.0.split(' ').next() == Some(&number.to_string());
        assert!(HELD.iter().any(|row| own(&row)), "friction {number}");
    }
}

/// What the program says to a line, in no shop.
struct Said {
    code: u8,
    out: String,
    err: String,
}

fn said(line: &[String]) -> Said {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let words = std::iter::once("feeds").chain(line.iter().map(String::as_str));
    let code = feeds_tui::run(words.map(OsString::from), &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Said {
        code,
        out: text(out),
        err: text(err),
    }
}

/// The entries of a text such as `flutes=2 stock='1095 with 15N20'`.
fn pairs(entries: &str) -> Vec<(String, String)> {
    let mut pairs = Vec::new();
    let mut rest = entries.trim();
    while let Some((key, after)) = rest.split_once('=') {
        let (value, after) = match after.strip_prefix('\'') {
            Some(quoted) => quoted.split_once('\'').unwrap(),
            None => after.split_once(' ').unwrap_or((after, "")),
        };
        pairs.push((key.to_owned(), value.to_owned()));
        rest = after.trim_start();
    }
    pairs
}

/// A command with entries as flags.
fn flags(command: &str, entries: &str) -> Vec<String> {
    let mut line = vec![command.to_owned()];
    for (key, value) in pairs(entries) {
        line.extend([format!("--{key}"), value]);
    }
    line
}

fn entries(text: &str) -> Description {
    let mut typed = Description::default();
    for (key, value) in pairs(text) {
        typed.set(&key, &value).unwrap();
    }
    typed
}

/// What a script reads of it.
#[track_caller]
fn json(command: &str, entries: &str) -> Value {
    let mut line = flags(command, entries);
    line.push("--json".to_owned());
    let said = said(&line);
    assert!(said.code < 2, "{entries}: {}{}", said.out, said.err);
    serde_json::from_str(&said.out).unwrap()
}

/// A limit that none of the drawn passes meets was never missed among the ranks of harm.
#[test]
fn every_limit_has_its_rank_of_harm() {
    let ranked: BTreeSet<&str> = harms::HARMS.iter().map(|row| row.0).collect();
    let limits: BTreeSet<&str> = LIMITS.iter().map(|limit| limit.name).collect();
    assert_eq!(ranked, limits);
}
