//! What a ceiling makes of a feed, by hand: the ratio of the feed it keeps to the one programmed.

use super::*;
use crate::programme::simulate::Ceiling;
use crate::programme::simulate::around::Of;
use crate::programme::simulate::station::CutStation;

fn words(up: bool, split: Option<f64>) -> Words {
    let asked = Correction {
        ceiling: Ceiling::Chip(0.01),
        up,
        split,
    };
    Words::new(asked, None)
}

/// A look on a line whose F word stands on `word`, at a feed in mm/min of which is programmed.
fn looked(lines: &[(u64, u64)], feed: f64, programmed: f64) -> Looked<'_> {
    Looked {
        of: Of {
            tool: 0,
            pass: None,
            rapid: false,
            spindle_speed: 1000.0,
            programmed,
        },
        feed_lines: lines,
        station: CutStation {
            line: lines[0].0,
            feed,
            way: 1.0,
            ..CutStation::default()
        },
        front: &[],
    }
}

/// At 0.02 mm a tooth where 0.01 is kept, F comes down to half; where the axes reach only half of
/// F, a feed that keeps the ceiling is a quarter of it.
#[test]
fn a_feed_comes_down_as_far_as_it_is_over() {
    for (f_z, keeps, feed, programmed, up, ratio) in [
        (0.02, 0.01, 80.0, 80.0, false, Some(0.5)),
        (0.02, 0.01, 40.0, 80.0, false, Some(0.25)),
        // Over by less than a thousandth it stays as it is.
        (0.01, 0.009_995, 80.0, 80.0, false, None),
        (0.01, 0.009_985, 80.0, 80.0, false, Some(0.9985)),
        // Below the ceiling it stays too, unless it may be raised: to twice as much at most.
        (0.01, 0.015, 80.0, 80.0, false, None),
        (0.01, 0.015, 80.0, 80.0, true, Some(1.5)),
        (0.01, 0.05, 80.0, 80.0, true, Some(2.0)),
        // Where the axes stay below F it is not lowered.
        (0.01, 0.015, 40.0, 80.0, true, Some(1.0)),
        (0.02, 0.01, 80.0, 80.0, true, Some(0.5)),
        // Nothing moves.
        (0.0, 0.01, 80.0, 80.0, true, None),
        (0.01, 0.02, 0.0, 80.0, true, None),
    ] {
        let mut words = words(up, None);
        let got = words.ratio(&looked(&[(5, 4)], feed, programmed), f_z, keeps, None);
        let same = match (got, ratio) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-9,
            (a, b) => a == b,
        };
        assert!(same, "{f_z} {keeps} {feed} {up}: {got:?}, not {ratio:?}");
    }
}

/// A ceiling below the least chip that cuts is kept by no feed: the line is named with the least
/// that was asked there; one just above is kept.
#[test]
fn below_the_least_chip_no_feed_helps() {
    let mut words = words(false, None);
    for (line, keeps, floor, helps) in [
        (3, 0.004, 0.003, true),
        (4, 0.002_5, 0.003, false),
        (4, 0.002, 0.003, false),
        (4, 0.002_8, 0.003, false),
        (6, 0.001, 0.003, false),
        (7, 0.003, 0.003, true),
    ] {
        let got = words.ratio(&looked(&[(line, 1)], 80.0, 80.0), 0.02, keeps, Some(floor));
        assert_eq!(got.is_some(), helps, "{line} {keeps}");
    }
    // What is not over needs no help.
    assert!(
        words
            .ratio(&looked(&[(9, 1)], 80.0, 80.0), 0.002, 0.002, Some(0.003))
            .is_none()
    );
    let told = words.finish();
    let named: Vec<(u64, f64, f64)> = told
        .unhelped
        .iter()
        .map(|u| (u.line, u.f_z, u.floor))
        .collect();
    assert_eq!(named, [(4, 0.002, 0.003), (6, 0.001, 0.003)]);
    assert_eq!(told.unhelped_more, 0);
}

/// A hundred lines are named, the others counted once each.
#[test]
fn a_hundred_lines_are_named() {
    let mut words = words(false, None);
    for _ in 0..2 {
        for line in 1..=130 {
            words.ratio(&looked(&[(line, 1)], 80.0, 80.0), 0.02, 0.001, Some(0.003));
        }
    }
    let told = words.finish();
    assert_eq!((told.unhelped.len(), told.unhelped_more), (100, 30));
    assert_eq!(told.unhelped[99].line, 100);
}

/// Of all that runs under one F word the least ratio counts, and each line has its own.
#[test]
fn the_least_under_a_word_counts() {
    let mut words = words(false, None);
    for (line, f_z) in [(5, 0.02), (6, 0.04), (7, 0.0125), (6, 0.02)] {
        words.add(&looked(&[(line, 5)], 80.0, 80.0), f_z, Some(0.01), None);
    }
    words.add(
        &looked(&[(8, 8), (9, 8)], 80.0, 80.0),
        0.02,
        Some(0.01),
        None,
    );
    words.add(&looked(&[(8, 8)], 80.0, 80.0), 0.02, None, None);
    let least: Vec<(u64, f64)> = words
        .least
        .iter()
        .map(|(word, least)| (*word, *least))
        .collect();
    assert_eq!(least, [(5, 0.25), (8, 0.5)]);
}
