//! Which F words are written, lowered or put in, and which lines run on, for lines by hand.

use super::super::Ceiling;
use super::*;

/// A line under an F word, with the ratio it may have and why it cannot have a word of its own.
fn line(word: u64, ratio: f64, no_word: Option<&'static str>) -> Moved {
    Moved {
        word,
        ratio,
        cycle: false,
        no_word,
        split: Err(""),
        inch: false,
        stretch: Vec::new(),
    }
}

fn plan(lines: &[(u64, Moved)], least: Option<&[(u64, f64)]>, up: bool) -> Planned {
    let moved: BTreeMap<u64, Moved> = lines.iter().cloned().collect();
    let asked = Correction {
        ceiling: Ceiling::Chip(0.01),
        up,
        split: None,
    };
    let least: Option<BTreeMap<u64, f64>> = least.map(|all| all.iter().copied().collect());
    planned(&moved, least.as_ref(), asked)
}

fn words(of: &Planned) -> Vec<(u64, &'static str, f64)> {
    let told = |(line, edit): (&u64, &FeedEdit)| match edit {
        FeedEdit::Word(ratio) => (*line, "word", *ratio),
        FeedEdit::Insert(ratio) => (*line, "new", *ratio),
        FeedEdit::Split(_) => (*line, "split", 0.0),
    };
    of.0.iter().map(told).collect()
}

fn ran_on(of: &Planned) -> Vec<([u64; 2], &'static str)> {
    of.1.iter().map(|kept| (kept.lines, kept.why)).collect()
}

const FREE: f64 = f64::INFINITY;

/// The word comes down where its own line is over, and rises again on the next line that may.
#[test]
fn a_word_comes_down_and_rises_again() {
    let of = plan(
        &[
            (3, line(3, 0.5, None)),
            (4, line(3, FREE, None)),
            (5, line(3, FREE, None)),
            (6, line(3, 0.8, None)),
            (7, line(7, FREE, None)),
        ],
        None,
        false,
    );
    assert_eq!(
        words(&of),
        [(3, "word", 0.5), (4, "new", 1.0), (6, "new", 0.8)]
    );
    assert!(of.1.is_empty() && of.2.is_empty());
}

/// A rise of less than a thousandth of a word that stands there is not written, and a new word is
/// put in where it is a thousandth lower or two hundredths higher.
#[test]
fn small_changes_are_not_written() {
    for (ratio, told) in [
        (0.9995, true),
        (0.998, true),
        (1.0, false),
        (1.0005, false),
        (1.002, true),
    ] {
        let of = plan(&[(3, line(3, ratio, None))], None, true);
        assert_eq!(!words(&of).is_empty(), told, "{ratio}");
    }
    for (next, told) in [
        (0.5, false),
        (0.509, false),
        (0.511, true),
        (0.4996, false),
        (0.499, true),
    ] {
        let of = plan(
            &[(3, line(3, 0.5, None)), (4, line(3, next, None))],
            None,
            false,
        );
        assert_eq!(words(&of).len() == 2, told, "{next}");
    }
}

/// Lines that cannot have a word share the one before them, and are named where they could run
/// faster; neighbours for one reason are one stretch.
#[test]
fn lines_without_a_word_run_on() {
    let of = plan(
        &[
            (3, line(3, 0.5, None)),
            (4, line(3, FREE, Some("a"))),
            (5, line(3, 0.9, Some("a"))),
            (6, line(3, 0.505, Some("a"))),
            (8, line(3, FREE, Some("b"))),
            (9, line(3, 0.4, Some("b"))),
            (11, line(11, FREE, None)),
        ],
        None,
        false,
    );
    assert_eq!(words(&of), [(3, "word", 0.4)]);
    assert_eq!(ran_on(&of), [([4, 6], "a"), ([8, 8], "b")]);
}

/// A word that stands on a line without a move of its own counts for the first line that moves.
#[test]
fn a_word_before_its_first_move_is_that_of_the_move() {
    let of = plan(
        &[
            (5, line(4, 0.5, None)),
            (6, line(4, 0.7, None)),
            (7, line(4, 0.7, None)),
        ],
        None,
        false,
    );
    assert_eq!(words(&of), [(4, "word", 0.5), (6, "new", 0.7)]);
    // Raised only where that is asked.
    for (up, ratio) in [(true, 1.5), (false, 1.0)] {
        let of = plan(&[(5, line(4, 1.5, None))], None, up);
        let expected: &[(u64, &str, f64)] = &[(4, "word", ratio)];
        assert_eq!(words(&of), if up { expected } else { &[] });
    }
}

/// Where lines run again, each word has the least of all under it, and lines that could run faster
/// are named.
#[test]
fn where_lines_run_again_only_words_change() {
    let lines = [
        (3, line(3, 0.5, None)),
        (4, line(3, 0.8, None)),
        (5, line(3, 0.505, None)),
        (7, line(7, FREE, None)),
    ];
    let of = plan(&lines, Some(&[(3, 0.5), (7, FREE)]), false);
    assert_eq!(words(&of), [(3, "word", 0.5)]);
    assert_eq!(ran_on(&of), [([4, 4], AGAIN)]);
    let of = plan(&lines, Some(&[(3, 1.4)]), true);
    assert_eq!(words(&of), [(3, "word", 1.4)]);
    let of = plan(&lines, Some(&[(3, 1.4)]), false);
    assert!(words(&of).is_empty());
}

/// A hundred stretches are named.
#[test]
fn a_hundred_stretches_are_named() {
    let mut lines = vec![(1, line(1, 0.5, None))];
    for k in 1..=120 {
        lines.push((2 * k + 1, line(1, FREE, Some("a"))));
    }
    assert_eq!(plan(&lines, None, false).1.len(), 100);
}
