//! Every command of the README is run, and what it shows is what comes out.
//!
//! In a `console` block a line after `$ ` is typed; what follows is compared line by line, where
//! `...` stands for any lines.

#![allow(clippy::unwrap_used)] // a test fails by panicking

#[path = "support/shell.rs"]
mod shell;

use shell::{folder, ran_line, text};

const README: &str = include_str!("../../README.md");

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

#[test]
fn gaps_are_no_loophole() {
    assert!(agree(&["a", "...", "c"], &["a", "b", "b", "c"]));
    assert!(agree(&["..."], &[]));
    assert!(!agree(&["a", "...", "c"], &["a", "b"]));
    assert!(!agree(&["a"], &["a", "b"]));
}
