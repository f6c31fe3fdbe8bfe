//! The committed cases of `cases/second` are what their scripts give.
//!
//! Ignored without Python: `.ci/run` runs it, with `FEEDS_PYTHON` naming the interpreter.

use std::process::Command;

/// Script, file, how many cases, seed: as `README.md` has them to make the files anew.
const FILES: [(&str, &str, &str, &str); 2] = [
    ("carve.py", "stock.jsonl", "140", "7"),
    ("programmes.py", "programmes.jsonl", "300", "3"),
];

#[test]
#[ignore = "needs Python"]
fn the_cases_are_what_their_scripts_give() {
    let python = std::env::var("FEEDS_PYTHON").expect("FEEDS_PYTHON names a Python with numpy");
    let root = env!("CARGO_MANIFEST_DIR");
    for (script, file, count, seed) in FILES {
        let output = Command::new(&python)
            .arg(format!("{root}/independent/{script}"))
            .arg("--check")
            .arg(format!("{root}/cases/second/{file}"))
            .args([count, seed])
            .output()
            .expect("Python starts");
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{script}: {said}");
        let told = String::from_utf8_lossy(&output.stdout);
        assert_eq!(told.trim(), count, "{script} has as many cases");
    }
}
