//! Cases with the answers of the independent Python, kept in `cases/second` so that every run of
//! the tests has them; the run that has Python asks for them anew.

use crate::independent::ask;
use serde_json::{Value, json};
use std::fs;
use std::path::PathBuf;

/// A case and what Python answers.
#[derive(Clone, Debug)]
pub struct Case {
    /// What is asked.
    pub told: Value,
    /// The answer.
    pub answer: Value,
}

fn path(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("cases/second");
    folder.join(format!("{name}.jsonl"))
}

/// The cases of a file.
///
/// # Panics
/// When the file is not there or is not read.
pub fn cases(name: &str) -> Vec<Case> {
    let text = fs::read_to_string(path(name)).expect("the cases are there");
    let case = |line: &str| {
        let mut case: Value = serde_json::from_str(line).expect("a case is JSON");
        Case {
            told: case["case"].take(),
            answer: case["answer"].take(),
        }
    };
    text.lines().map(case).collect()
}

/// Asks Python anew, one case in so many where it takes long: cases and answers have to be those of
/// the file, to within the last digits, which another machine may round otherwise. With
/// `FEEDS_SECOND=write` all are asked and the file is written.
///
/// # Panics
/// When they are not those of the file.
pub fn renewed(name: &str, (script, arguments): (&str, &[&str]), told: &[Value], one_in: usize) {
    if std::env::var("FEEDS_SECOND").is_ok_and(|word| word == "write") {
        let answers = ask(script, arguments, told);
        let both = told.iter().zip(&answers);
        let line = |(case, answer): (&Value, &Value)| {
            format!("{}\n", json!({ "case": case, "answer": answer }))
        };
        fs::write(path(name), both.map(line).collect::<String>()).expect("the cases are written");
        return;
    }
    let kept = cases(name);
    assert_eq!(kept.len(), told.len(), "{name}: as many cases");
    for (kept, told) in kept.iter().zip(told) {
        assert!(alike(&kept.told, told), "{name}: {told} is not asked");
    }
    let asked: Vec<Value> = told.iter().step_by(one_in).cloned().collect();
    let answers = ask(script, arguments, &asked);
    for (kept, answer) in kept.iter().step_by(one_in).zip(&answers) {
        let same = alike(&kept.answer, answer);
        assert!(same, "{name}: Python answers {answer} to {}", kept.told);
    }
}

/// Whether two values are the same but for the last digits of their numbers.
pub fn alike(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(_), Value::Number(_)) => {
            let [a, b] = [a, b].map(|n| n.as_f64().unwrap_or(f64::NAN));
            // Only what is left of large numbers that cancel is so small.
            (a - b).abs() <= 1e-8 * a.abs().max(b.abs()) + 1e-10
        }
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b))
        }
        (Value::Object(a), Value::Object(b)) => {
            let same = |(key, a): (&String, &Value)| b.get(key).is_some_and(|b| alike(a, b));
            a.len() == b.len() && a.iter().all(same)
        }
        _ => a == b,
    }
}
