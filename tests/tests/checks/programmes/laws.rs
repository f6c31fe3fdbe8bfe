//! Laws that hold for any input.

#[path = "../../../fuzz/fuzz_targets/setting.rs"]
mod corpus;
#[path = "../../../fuzz/fuzz_targets/cases.rs"]
mod corpus_cases;

use super::{audit, cases};
use feeds_core::programme::{Reader, Report, Rescaler, Rescaling, Setting, Wanted};
use proptest::prelude::*;
use proptest::test_runner::FileFailurePersistence::Direct;

/// The report when the bytes arrive cut at the given places.
fn in_pieces(bytes: &[u8], cuts: &[prop::sample::Index], setting: Setting) -> Report {
    let mut places: Vec<usize> = cuts.iter().map(|cut| cut.index(bytes.len() + 1)).collect();
    places.sort_unstable();
    let mut reader = Reader::new(setting);
    let mut from = 0;
    for to in places.into_iter().chain([bytes.len()]) {
        reader.feed(&bytes[from..to]);
        from = to;
    }
    reader.finish()
}

fn small_bound() -> Setting {
    Setting {
        step_bound: 500,
        ..Setting::default()
    }
}

/// Lines that are likely to mean something together.
fn line() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        "[GMXYZIJKRFSTNPQLHDE] ?-?[0-9]{0,3}\\.?[0-9]{0,2}",
        "G(0|1|2|3|4|17|18|20|21|28|43|53|54|81|83|84|90|91|92|93|94|98|99)",
        "M(2|3|5|6|30|98|99)",
        "(WHILE \\[#1 LT 3\\] DO1|END1|GOTO [0-9]|IF \\[#1 GT 1\\] GOTO [0-9]|N[0-9])",
        "#1=\\[#1\\+1\\]|#1=0|X#1|X\\[2\\*3\\]",
        "o[12] (sub|endsub|call|while \\[#1 lt 4\\]|endwhile|if \\[1\\]|else|endif|do|repeat \\[2\\]|endrepeat)",
        "\\(note\\)|\\(open|;rest|%|/|,R1|\u{e9}",
    ];
    let end = prop_oneof![Just("\n"), Just("\r\n"), Just("\r")];
    (prop::collection::vec(word, 0..5), end).prop_map(|(words, end)| words.join(" ") + end)
}

fn programme() -> impl Strategy<Value = String> {
    prop::collection::vec(line(), 0..25).prop_map(|lines| lines.concat())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: Some(Box::new(Direct(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/checks/programmes/laws.proptest-regressions"
        )))),
        ..Default::default()
    })]

    /// How the bytes are cut into pieces changes nothing.
    #[test]
    fn pieces_do_not_matter(
        text in programme(),
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..8),
    ) {
        let whole = audit(text.as_bytes(), small_bound());
        prop_assert_eq!(in_pieces(text.as_bytes(), &cuts, small_bound()), whole);
    }

    /// Any bytes are read without a panic, and pieces do not matter for them either.
    #[test]
    fn any_bytes_are_survived(
        bytes in prop::collection::vec(any::<u8>(), 0..300),
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..4),
    ) {
        let whole = audit(&bytes, small_bound());
        prop_assert_eq!(in_pieces(&bytes, &cuts, small_bound()), whole);
    }

    /// Numbers in a report are finite, and lengths and times are not negative.
    #[test]
    fn reports_are_sane(text in programme()) {
        let report = audit(text.as_bytes(), small_bound());
        for amount in [report.cut_length, report.rapid_length, report.cut_time] {
            prop_assert!(amount.number().is_finite() && amount.number() >= 0.0);
        }
        let by_use: f64 = report.uses.iter().map(|u| u.length.number()).sum();
        prop_assert!((by_use - report.cut_length.number()).abs() <= 1e-9 * by_use.max(1.0));
    }
}

#[test]
fn pieces_do_not_matter_for_the_programmes() {
    for case in cases() {
        let whole = audit(&case.bytes, case.setting());
        for size in [1, 2, 3, 7, 64] {
            let mut reader = Reader::new(case.setting());
            case.bytes.chunks(size).for_each(|piece| reader.feed(piece));
            assert_eq!(reader.finish(), whole, "{} by {size}", case.name);
        }
    }
}

/// The text with the numbers of S and F words taken out, comments left alone.
fn without_settings(bytes: &[u8]) -> Vec<u8> {
    let (mut out, mut in_comment, mut in_word) = (Vec::new(), 0_i32, false);
    for &byte in bytes {
        match byte {
            b'(' => in_comment += 1,
            b')' => in_comment -= 1,
            b'\n' | b'\r' => in_comment = 0,
            b';' => in_comment = 99,
            _ => {}
        }
        if in_comment > 0 {
            in_word = false;
        } else if matches!(byte, b'S' | b's' | b'F' | b'f') {
            in_word = true;
        } else if in_word && matches!(byte, b'0'..=b'9' | b'.' | b'-' | b'+') {
            continue;
        } else if byte != b' ' {
            in_word = false;
        }
        out.push(byte);
    }
    out
}

fn rescaled(bytes: &[u8], report: &Report, speed: f64, feed: f64) -> Result<Vec<u8>, String> {
    let wanted = Wanted {
        others: Rescaling::Scale { speed, feed },
        tools: Vec::new(),
    };
    let mut rescaler = Rescaler::new(wanted, report).map_err(|r| r.to_string())?;
    let mut out = Vec::new();
    for piece in bytes.chunks(13) {
        rescaler
            .feed(piece, &mut out, &mut |_| {})
            .map_err(|r| r.to_string())?;
    }
    rescaler
        .finish(&mut out, &mut |_| {})
        .map_err(|r| r.to_string())?;
    Ok(out)
}

#[test]
fn rescaled_copies_differ_in_settings_only_and_audit_back() {
    let (mut copies, mut refused) = (0, Vec::new());
    for case in cases() {
        let report = audit(&case.bytes, Setting::default());
        for (speed, feed) in [(0.5, 0.5), (0.8, 0.64), (1.25, 1.1), (1.0, 1.0)] {
            let copy = match rescaled(&case.bytes, &report, speed, feed) {
                Ok(copy) => copy,
                Err(reason) => {
                    refused.push(format!("{}: {reason}", case.name));
                    continue;
                }
            };
            copies += 1;
            if (speed - 1.0_f64).abs() < 1e-9 && (feed - 1.0_f64).abs() < 1e-9 {
                assert_eq!(copy, case.bytes, "{}", case.name);
            }
            assert_eq!(
                without_settings(&copy),
                without_settings(&case.bytes),
                "{}",
                case.name
            );
            let again = audit(&copy, Setting::default());
            assert_eq!(again.moves, report.moves, "{}", case.name);
            assert_eq!(again.cut_length, report.cut_length, "{}", case.name);
            assert_eq!(again.uses.len(), report.uses.len(), "{}", case.name);
            for (new, old) in again.uses.iter().zip(&report.uses) {
                let wanted = old.spindle_speed.number() * speed;
                assert!(
                    (new.spindle_speed.number() - wanted).abs() <= 0.5,
                    "{}",
                    case.name
                );
                if let (Some(new), Some(old)) = (new.feed_speed, old.feed_speed) {
                    // Half a unit in the fourth digit, and S rounded to a whole number under G95.
                    let wanted = old.number() * feed;
                    assert!(
                        (new.number() / wanted - 1.0).abs() < 1.1e-3,
                        "{}",
                        case.name
                    );
                }
            }
        }
    }
    assert!(
        copies >= 150,
        "{copies} copies; refused: {}",
        refused.join("\n")
    );
    assert!(
        refused.iter().any(|r| r.contains("tap-feed")),
        "{refused:?}"
    );
}

/// The corpus of the fuzz target, replayed case by case.
#[test]
fn the_corpus_is_survived() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus/programme");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let data = std::fs::read(entry.unwrap().path()).unwrap();
        for (size, bytes) in corpus_cases::cases(&data) {
            let setting = || corpus::setting(size % 2 == 1);
            let mut reader = Reader::new(setting());
            let pieces = bytes.chunks(usize::from(size).max(1));
            pieces.for_each(|piece| reader.feed(piece));
            assert_eq!(reader.finish(), audit(bytes, setting()));
            count += 1;
        }
    }
    assert!(count >= 538, "{count} cases");
}
