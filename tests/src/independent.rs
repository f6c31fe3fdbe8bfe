//! Asks the independent Python, and counts how far its answers are from ours.

use serde_json::Value;
use std::io::{BufWriter, Write};
use std::process::{Command, Stdio};

/// Feeds JSON lines to a script of `tests/independent` and gives its answers, one for each.
///
/// # Panics
/// When `FEEDS_PYTHON` names no Python with numpy and scipy, or the script fails.
pub fn ask(script: &str, arguments: &[&str], lines: &[Value]) -> Vec<Value> {
    let python = std::env::var("FEEDS_PYTHON").expect("FEEDS_PYTHON names a Python with scipy");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/independent/");
    let mut child = Command::new(python)
        .arg(format!("{folder}{script}"))
        .args(arguments)
        // Its threads would only wait for each other.
        .env("OPENBLAS_NUM_THREADS", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("Python starts");
    let stdin = child.stdin.take().expect("its input is piped");
    let lines: Vec<String> = lines.iter().map(Value::to_string).collect();
    let count = lines.len();
    let writer = std::thread::spawn(move || {
        let mut stdin = BufWriter::new(stdin);
        for line in lines {
            writeln!(stdin, "{line}").expect("Python reads");
        }
    });
    let output = child.wait_with_output().expect("Python ends");
    writer.join().expect("everything was written");
    assert!(output.status.success(), "{script} failed");
    let text = String::from_utf8(output.stdout).expect("answers are text");
    let answers: Vec<Value> = text
        .lines()
        .map(|line| serde_json::from_str(line).expect("an answer is JSON"))
        .collect();
    assert_eq!(answers.len(), count, "one answer for each line");
    answers
}

/// A number of an answer.
///
/// # Panics
/// When it is no number.
pub fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}
