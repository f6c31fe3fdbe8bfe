//! Every command of the README is run, and what it shows is what comes out.
//!
//! In a `console` block a line after `$ ` is typed; what follows is compared line by line, where
//! `...` stands for any lines.

use crate::shell::{folder, ran_line, text};
use feeds_core::quantity::Dimension;
use feeds_core::quantity::read::read_si;
use feeds_tui::pass::field::field;
use std::fs;
use std::path::Path;

const README: &str = include_str!("../../../README.md");

/// The blocks marked with this word.
fn blocks(word: &str) -> Vec<&'static str> {
    let mark = format!("```{word}\n");
    README
        .split(mark.as_str())
        .skip(1)
        .map(|b| b.split("```").next().unwrap())
        .collect()
}

/// What is typed, with the lines shown after it.
fn typed(block: &'static str) -> Vec<(&'static str, Vec<&'static str>)> {
    let mut typed: Vec<(&str, Vec<&str>)> = Vec::new();
    for line in block.lines() {
        match (line.strip_prefix("$ "), typed.last_mut()) {
            (Some(line), _) => typed.push((line, Vec::new())),
            (None, Some((_, shown))) => shown.push(line),
            (None, None) => panic!("a block starts with its output: {line}"),
        }
    }
    typed
}

/// Whether `shown`, with its gaps, is what came out.
fn agree(shown: &[&str], came: &[&str]) -> bool {
    match shown.split_first() {
        None => came.is_empty(),
        Some((&"...", rest)) => (0..=came.len()).any(|skip| agree(rest, &came[skip..])),
        Some((line, rest)) => came.first() == Some(line) && agree(rest, &came[1..]),
    }
}

#[test]
fn every_command_shows_what_it_says() {
    let folder = folder("readme");
    let all: Vec<_> = blocks("console").into_iter().flat_map(typed).collect();
    assert!(all.len() >= 10, "the blocks are read");
    for (line, shown) in all {
        assert!(line.starts_with("feeds "), "{line}");
        let output = ran_line(line, &folder);
        let came = text(&output.stdout) + &text(&output.stderr);
        let came: Vec<&str> = came.lines().collect();
        assert!(agree(&shown, &came), "{line}\nshows:\n{}", came.join("\n"));
        let fails = shown.first().is_some_and(|l| l.starts_with("error: "));
        assert_eq!(fails, output.status.code() > Some(1), "{line}");
    }
}

/// The text between the blocks, without what stands in backquotes.
fn prose() -> String {
    let outside = README.split("```").step_by(2);
    let plain = outside.flat_map(|text| text.split('`').step_by(2));
    let plain = plain.collect::<Vec<&str>>().join(" ");
    plain.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// What stands in backquotes.
fn quoted() -> Vec<&'static str> {
    let outside = README.split("```").step_by(2);
    let quoted = outside.flat_map(|text| text.split('`').skip(1).step_by(2));
    quoted.collect()
}

/// A number of the prose stands in the output of some command, or is typed there; names of
/// standards and of cutters (T1) and the exit codes, which other tests hold, are no results.
#[test]
fn every_number_of_the_prose_comes_out_of_a_command() {
    let folder = folder("readme-numbers");
    let mut outputs = String::new();
    for (line, _) in blocks("console").into_iter().flat_map(typed) {
        let output = ran_line(line, &folder);
        outputs.extend([line, "\n", &text(&output.stdout), "\n"]);
    }
    let squeezed = outputs.replace(' ', "");
    let prose = prose();
    let words: Vec<&str> = prose.split_whitespace().collect();
    let mut met = 0;
    for (at, word) in words.iter().enumerate() {
        let number = word.trim_end_matches(|c: char| !c.is_ascii_digit());
        // What starts with a letter is a name.
        if number.is_empty() || number.starts_with(|c: char| c.is_ascii_alphabetic()) {
            continue;
        }
        let before = words[at.saturating_sub(1)];
        if before == "ISO" || words[..at].iter().rev().take(16).any(|w| w.contains("xit")) {
            continue;
        }
        let unit = words[at + 1].trim_end_matches([':', ';', ',', '.']);
        let amount = format!("{number}{unit}");
        assert!(squeezed.contains(&amount), "{amount} comes out of nothing");
        met += 1;
    }
    assert!(met >= 5, "{met}");
    assert!(prose.contains("Ten short lessons"));
    assert_eq!(feeds_core::lesson::short::LESSONS.len(), 10);
    ran_line("feeds job new seven.json --demo", &folder);
    let demo = ran_line("feeds sheet seven.json --json", &folder);
    let demo: serde_json::Value = serde_json::from_slice(&demo.stdout).unwrap();
    let passes = demo["passes"].as_array().unwrap();
    assert!(prose.contains("begins with seven passes"));
    assert_eq!(passes.len(), 7);
}

/// What the README says is read is read, and what it says is not is refused.
#[test]
fn entries_are_read_as_told() {
    let starts = |q: &&&str| q.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let quoted = quoted();
    let amounts: Vec<&&str> = quoted.iter().filter(starts).collect();
    assert!(amounts.len() >= 9, "{amounts:?}");
    for amount in amounts {
        let read = [Dimension::Length, Dimension::Speed, Dimension::Rotation]
            .iter()
            .any(|dimension| read_si(amount, *dimension).is_ok());
        let per_tooth = field("feed-per-tooth").unwrap().read(amount).is_ok();
        assert_eq!(read || per_tooth, *amount != "1,234 mm", "{amount}");
    }
}

/// The program under another name, and the command that runs this very test.
#[test]
fn the_two_commands_are_these() {
    let [block] = blocks("sh")[..] else {
        panic!("one block of two commands")
    };
    assert_eq!(block, "cargo run --release\ncargo test --workspace\n");
    let output = ran_line("feeds", &folder("readme-start"));
    assert!(matches!(output.status.code(), Some(0 | 1)) && !output.stdout.is_empty());
}

/// The screen that is printed is a whole frame; with BLESS it is taken from there.
#[test]
fn the_screen_is_a_frame() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let frame = root.join("tests/program/screens/example-80x24.txt");
    let frame = fs::read_to_string(frame).unwrap();
    let [shown] = blocks("text")[..] else {
        panic!("one screen")
    };
    if std::env::var_os("BLESS").is_some() {
        let file = root.join("../README.md");
        let readme = fs::read_to_string(&file).unwrap();
        let (was, is) = (format!("```text\n{shown}"), format!("```text\n{frame}"));
        fs::write(&file, readme.replacen(&was, &is, 1)).unwrap();
        return;
    }
    assert_eq!(shown.trim_end(), frame.trim_end());
}

#[test]
fn gaps_are_no_loophole() {
    assert!(agree(&["a", "...", "c"], &["a", "b", "b", "c"]));
    assert!(agree(&["..."], &[]));
    assert!(!agree(&["a", "...", "c"], &["a", "b"]));
    assert!(!agree(&["a"], &["a", "b"]));
}
