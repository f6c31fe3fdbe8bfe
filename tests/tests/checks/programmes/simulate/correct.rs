//! Corrected copies: F words come down to a ceiling, and nothing else changes.

use super::{AS_PLANNED, Correction, Setting, audit, pass, planned, programme};
use feeds_core::programme::{Ceiling, Rescaler, Simulated};
use serde_json::json;
use std::fmt::Write as _;

/// The force of a chip alone: 1 N for each um of chip and mm of depth, along the cut.
pub(super) fn of_chips() -> Setting {
    let mut pass = pass();
    pass["stock"]["linear"] = json!({ "cut": [1000.0, 0.0, 0.0], "edge": [0.0, 0.0, 0.0] });
    planned(&pass)
}

fn corrected(text: &str, setting: &Setting, ceiling: Ceiling, up: bool) -> (String, Vec<u64>) {
    let mut setting = setting.clone();
    setting.simulate = Some(Simulated {
        correction: Some(Correction {
            ceiling,
            up,
            split: None,
        }),
        ..Simulated::default()
    });
    let report = audit(text.as_bytes(), setting);
    let corrected = report.simulation.clone().unwrap().corrected.unwrap();
    let mut rescaler = Rescaler::by_line(corrected.edits, &report).unwrap();
    let mut out = Vec::new();
    rescaler
        .feed(text.as_bytes(), &mut out, &mut |_| {})
        .unwrap();
    rescaler.finish(&mut out, &mut |_| {}).unwrap();
    let unhelped = corrected.unhelped.iter().map(|u| u.line).collect();
    (String::from_utf8(out).unwrap(), unhelped)
}

/// A side 0.5 mm wide: the largest chip is f_z sin(41.41 deg) = 0.6614 f_z, so at 20 um a tooth
/// 13.23 um and 13.23 N. A slot takes 20 um and 20 N. Kept under 10 N, the side may take 15.12 um a
/// tooth, F60.48 at 4000 turns of one edge, and the slot 10 um, F40.
#[test]
fn f_words_come_down_to_the_force() {
    let text = programme(&format!(
        "{AS_PLANNED}\nG0 Z5\nX45\nY10\nZ-1\nG1 X-5 F80 (slot)"
    ));
    let (copy, unhelped) = corrected(&text, &of_chips(), Ceiling::Force(10.0), false);
    assert_eq!(unhelped, [] as [u64; 0]);
    let changed: Vec<(&str, &str)> = text
        .lines()
        .zip(copy.lines())
        .filter(|(a, b)| a != b)
        .collect();
    assert_eq!(changed.len(), 2, "{copy}");
    let feed = |line: &str| -> f64 {
        let at = line.find('F').unwrap();
        let word = line[at + 1..].split(' ').next().unwrap();
        word.parse().unwrap()
    };
    assert!((feed(changed[0].1) - 60.48).abs() < 0.1, "{changed:?}");
    assert!((feed(changed[1].1) - 40.0).abs() < 0.1, "{changed:?}");
    assert!(changed[1].1.ends_with("(slot)"), "{changed:?}");
}

/// The same by the chip: 10 um in the slot is F40; what is below stays as it is.
#[test]
fn f_words_come_down_to_the_chip() {
    let text = programme("G0 X45\nY10\nZ-1\nG1 X-5 F80\nG0 Z5\nX45\nY-1.5\nZ-1\nG1 X-5 F50");
    let (copy, _) = corrected(&text, &of_chips(), Ceiling::Chip(0.01), false);
    assert_eq!(copy, text.replace("F80", "F40"));
    // Upwards only when asked, and at most to twice what is written.
    let (copy, _) = corrected(&text, &of_chips(), Ceiling::Chip(0.012), true);
    assert!(copy.contains("F48") && !copy.contains("F50\n"), "{copy}");
    let (copy, _) = corrected(&text, &of_chips(), Ceiling::Chip(0.2), true);
    assert!(copy.contains("F160") && copy.contains("F100"), "{copy}");
}

/// The edge takes 100 N whatever the chip: no feed keeps 50 N, so the line is named and left.
#[test]
fn a_line_that_no_feed_helps_is_left_and_named() {
    let text = programme(AS_PLANNED);
    let (copy, unhelped) = corrected(&text, &planned(&pass()), Ceiling::Force(50.0), false);
    assert_eq!(copy, text);
    assert_eq!(unhelped, [8]);
}

/// Twice the ceiling on, nothing has to change.
#[test]
fn what_keeps_the_ceiling_stays_byte_for_byte() {
    let text = programme(AS_PLANNED);
    let (copy, unhelped) = corrected(&text, &of_chips(), Ceiling::Force(20.0), false);
    assert_eq!((copy, unhelped), (text, vec![]));
}

/// A hundred and twenty lines that no feed helps: a hundred are told, the others are counted, each
/// once, however long it is.
#[test]
fn lines_that_no_feed_helps_are_counted_once_each() {
    let mut moves = String::from("G0 X45\nY-1.5\nZ-1\nG1 X38 F80");
    for k in 0..120 {
        let _ = write!(moves, "\nX{:.1}", 37.7 - 0.3 * f64::from(k));
    }
    let mut setting = planned(&pass());
    setting.simulate = Some(Simulated {
        correction: Some(Correction {
            ceiling: Ceiling::Force(50.0),
            up: false,
            split: None,
        }),
        ..Simulated::default()
    });
    let report = audit(programme(&moves).as_bytes(), setting);
    let corrected = report.simulation.unwrap().corrected.unwrap();
    let all = corrected.unhelped.len() as u64 + corrected.unhelped_more;
    assert_eq!(corrected.unhelped.len(), 100);
    assert!((119..=121).contains(&all), "{all}");
}
