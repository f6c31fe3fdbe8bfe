//! Findings: which are one, where they are so, what they come to, and what is left of too many.

use super::*;

fn found(add: impl FnOnce(&mut Findings)) -> Vec<Finding> {
    let mut findings = Findings::default();
    add(&mut findings);
    findings.finish().0
}

#[test]
fn one_cause_is_one_finding_with_its_places() {
    for (lines, elsewhere) in [
        (&[7][..], ""),
        (&[7, 9], "and in line 9"),
        (&[7, 7, 9], "and in line 9"),
        (&[7, 9, 2712], "and 2 more: lines 7 to 2712"),
    ] {
        let list = found(|f| {
            for line in lines {
                f.add(*line, 0, STRAY, || "the same words".into());
            }
        });
        assert_eq!(list.len(), 1);
        assert_eq!(list[0].elsewhere(), elsewhere);
    }
}

#[test]
fn other_words_are_another_finding() {
    let list = found(|f| {
        f.add(7, 0, STRAY, || "one".into());
        f.add(8, 0, STRAY, || "two".into());
        f.add(9, 0, CORNER, || "one".into());
    });
    assert_eq!(list.len(), 3);
}

#[test]
fn of_one_tool_the_worst_is_told() {
    let at = |line| Where { line, at: 0 };
    let list = found(|f| {
        for (line, used) in [(5, 1.2), (8, 3.0), (9, 2.0)] {
            f.worst(at(line), RAMP, Some(1), used, || format!("{used}"));
        }
        f.worst(at(4), RAMP, Some(2), 1.1, || "other".into());
    });
    assert_eq!(list.len(), 2);
    let worst = &list[1];
    assert_eq!((worst.line, worst.text.as_str(), worst.count), (8, "3", 3));
    assert_eq!(worst.elsewhere(), "and 2 more: lines 5 to 9");
    assert_eq!(list[0].text, "other");
    assert_eq!((list[0].tool, worst.tool), (Some(2), Some(1)));
}

/// A loop comes to its lines again; that is no other place.
#[test]
fn a_place_met_again_is_counted_once() {
    let list = found(|f| {
        for turn in 0..50 {
            f.add(7, 3, STRAY, || format!("turn {turn}"));
            let at = Where { line: 8, at: 0 };
            f.worst(at, RAMP, Some(1), f64::from(turn), || {
                format!("turn {turn}")
            });
        }
    });
    assert_eq!((list[0].count, list[0].text.as_str()), (1, "turn 0"));
    assert_eq!((list[1].count, list[1].text.as_str()), (1, "turn 49"));
}

#[test]
fn what_is_beyond_the_bound_is_counted() {
    let mut findings = Findings::default();
    for line in 1..=500 {
        findings.add(line, 0, STRAY, || format!("{line}"));
    }
    let (list, left_out) = findings.finish();
    assert_eq!(list.len(), MOST);
    assert_eq!(left_out[0].count, 500 - MOST as u64);
    let mut findings = Findings::default();
    for tool in 0..=100 {
        let at = Where { line: 0, at: 0 };
        findings.worst(at, RAMP, Some(tool), 1.0, String::new);
    }
    assert_eq!((findings.list.len(), findings.list[0].line), (MOST, 1));
}

/// After a thousand places only what lies behind all of them is surely new.
#[test]
fn of_a_thousand_places_those_behind_are_new() {
    let mut tally = Findings::default();
    let tally = tally.tally(STRAY);
    assert!((0..999).all(|line| tally.is_new((2 * line, 0))));
    assert!(tally.is_new((7, 0)) && !tally.is_new((7, 0)) && !tally.is_new((9, 0)));
    assert!(tally.is_new((2001, 0)) && !tally.is_new((2001, 0)) && !tally.is_new((2000, 0)));
}

#[test]
fn a_finding_says_where_it_is_so_and_what_it_comes_to() {
    let list = found(|f| {
        for (line, at) in [(9, 0), (9, 4), (9, 8)] {
            f.worst(Where { line, at }, RAMP, None, 1.0, || "a".into());
        }
        for (line, used) in [(8, 2.0), (5, 1.0)] {
            f.worst(Where { line, at: 0 }, CORNER, None, used, || "b".into());
        }
    });
    assert_eq!(list[1].elsewhere(), "and 2 more in line 9");
    assert_eq!(
        (list[0].line, list[0].elsewhere()),
        (8, "and in line 5".into())
    );
    let verdict = |severity, rank| {
        let finding = Finding {
            severity,
            rank,
            ..list[0].clone()
        };
        finding.verdict()
    };
    for severity in [Severity::Warning, Severity::Note] {
        assert_eq!(verdict(severity, Harm::Machine), Verdict::Care);
        assert_eq!(verdict(severity, Harm::Book), Verdict::Run);
    }
    assert_eq!(verdict(Severity::Error, Harm::Nothing), Verdict::Stop);
    let open = [
        NO_MODEL,
        TOOL_QUESTION,
        COMPENSATION,
        ROTARY,
        PROBE,
        START_UNKNOWN,
    ];
    for (kind, _) in KINDS {
        let finding = Finding {
            code: kind.code,
            ..list[0].clone()
        };
        let expected = open.contains(kind) || *kind == NOT_SIMULATED;
        assert_eq!(finding.is_not_known(), expected, "{}", kind.code);
    }
}

/// What is taken back is found anew, and what is taken over goes on where it stood.
#[test]
fn findings_are_taken_back_and_taken_over() {
    let at = |line| Where { line, at: 0 };
    let mut other = Findings::default();
    other.worst(at(3), RAMP, Some(1), 1.0, || "c".into());
    let mut findings = Findings::default();
    findings.add(7, 0, STRAY, || "a".into());
    findings.add(8, 0, CORNER, || "b".into());
    findings.append(other);
    findings.worst(at(4), RAMP, Some(1), 2.0, || "d".into());
    findings.amend_all(RAMP, || "!".into());
    assert!(findings.has(RAMP) && findings.list[2].text == "d!" && findings.list.len() == 3);
    findings.forget(&[STRAY]);
    assert!(!findings.has(STRAY) && findings.has(CORNER));
    findings.add(7, 0, STRAY, || "a".into());
    findings.add(9, 0, CORNER, || "b".into());
    assert_eq!(findings.list.len(), 4);
}
