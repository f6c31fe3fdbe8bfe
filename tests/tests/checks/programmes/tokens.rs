//! The words of our reader against those of the crate `gcode`, a second reader by other hands.
//!
//! That crate reads numbers as f32 and drops some words, so it is compared only where it can be
//! right; every difference that is allowed has its reason here:
//! - numbers agree to the precision of f32;
//! - a number with a trailing point after G or M (`G1.`) is lost there;
//! - block delete `/`, parameters, brackets, `%`, O words, `,R` and checksums are errors there;
//! - blanks inside a number end it there;
//! - an unclosed comment runs to the end of the file there;
//! - a letter without a number is an error there as here, but it also drops what follows.
//!
//! Programmes whose lines hold any of these are compared line by line without those lines.

use super::cases;
use feeds_core::programme::words;
use gcode::core::{
    BlockVisitor, CommandVisitor, ControlFlow, Diagnostics, HasDiagnostics, Noop, Number,
    ProgramVisitor, Span, Value,
};
use proptest::prelude::*;
use proptest::test_runner::FileFailurePersistence::Direct;

#[derive(Default)]
struct Tokens {
    found: Vec<(u8, f64)>,
    quiet: Noop,
}

struct Visitor<'a>(&'a mut Tokens);

impl HasDiagnostics for Tokens {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.quiet
    }
}

impl HasDiagnostics for Visitor<'_> {
    fn diagnostics(&mut self) -> &mut dyn Diagnostics {
        &mut self.0.quiet
    }
}

impl ProgramVisitor for Tokens {
    fn start_block(&mut self) -> ControlFlow<impl BlockVisitor + '_> {
        ControlFlow::Continue(Visitor(self))
    }
}

impl Visitor<'_> {
    fn code(&mut self, letter: u8, number: Number) -> ControlFlow<Visitor<'_>> {
        let minor = number.minor().map_or(0.0, |m| f64::from(m.get()) / 10.0);
        self.0
            .found
            .push((letter, f64::from(number.major()) + minor));
        ControlFlow::Continue(Visitor(self.0))
    }

    fn word(&mut self, letter: char, value: &Value<'_>) {
        if let (Value::Literal(value), Ok(letter)) = (value, u8::try_from(letter)) {
            self.0
                .found
                .push((letter.to_ascii_uppercase(), f64::from(*value)));
        }
    }
}

impl BlockVisitor for Visitor<'_> {
    fn line_number(&mut self, n: u32, _: Span) {
        self.0.found.push((b'N', f64::from(n)));
    }
    fn program_number(&mut self, n: u32, _: Span) {
        self.0.found.push((b'O', f64::from(n)));
    }
    fn word_address(&mut self, letter: char, value: Value<'_>, _: Span) {
        self.word(letter, &value);
    }
    fn start_general_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(b'G', n)
    }
    fn start_miscellaneous_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(b'M', n)
    }
    fn start_tool_change_code(&mut self, n: Number) -> ControlFlow<impl CommandVisitor + '_> {
        self.code(b'T', n)
    }
}

impl CommandVisitor for Visitor<'_> {
    fn argument(&mut self, letter: char, value: Value<'_>, _: Span) {
        self.word(letter, &value);
    }
}

fn theirs(line: &str) -> Vec<(u8, f64)> {
    let mut tokens = Tokens::default();
    gcode::core::parse(line, &mut tokens);
    tokens.found
}

fn compare(line: &str) -> Result<(), String> {
    let ours: Vec<(u8, f64)> = words(line.as_bytes())
        .iter()
        .map(|w| (w.letter, w.value))
        .collect();
    let theirs = theirs(line);
    let same = ours.len() == theirs.len()
        && ours
            .iter()
            .zip(&theirs)
            .all(|(a, b)| a.0 == b.0 && (a.1 - b.1).abs() <= 1.2e-7 * a.1.abs().max(1e-30));
    if same {
        Ok(())
    } else {
        Err(format!("{line}\n ours {ours:?}\n theirs {theirs:?}"))
    }
}

/// Whether a line holds something that the other reader is known to read differently.
fn comparable(line: &str) -> bool {
    let code = line.split(['(', ';']).next().unwrap_or_default().trim();
    let closed = line.matches('(').count() == line.matches(')').count();
    let first = code.trim_start_matches(|c: char| c.is_ascii_digit());
    let odd = code.contains(['/', '#', '[', '%', ',', '*', '=']);
    let letter_alone = code.ends_with(|c: char| c.is_ascii_alphabetic());
    closed
        && !odd
        && !letter_alone
        && !first.starts_with(['O', 'o'])
        && !code.contains("GOTO")
        && !code.contains("END")
        && !line.contains('(')
}

#[test]
fn programmes_have_the_same_words() {
    let (mut lines, mut wrong) = (0, Vec::new());
    for case in cases() {
        let text = String::from_utf8(case.bytes.clone()).unwrap();
        for line in text.split(['\n', '\r']).filter(|line| comparable(line)) {
            lines += 1;
            if let Err(difference) = compare(line) {
                wrong.push(format!("{}: {difference}", case.name));
            }
        }
    }
    assert!(lines > 1000, "{lines} lines compared");
    assert!(
        wrong.is_empty(),
        "{} of {lines}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 3000,
        failure_persistence: Some(Box::new(Direct(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/checks/programmes/tokens.proptest-regressions"
        )))),
        ..Default::default()
    })]

    #[test]
    fn random_blocks_have_the_same_words(
        block in
            "(N[0-9]{1,5} ?)?(G(0|1|2|3|17|21|90\\.1|91) ?)?([XYZIJKFR][-+]?([0-9]{1,4}\\.[0-9]{0,4}|\\.[0-9]{1,4}|[0-9]{1,5}) ?){1,6}"
    ) {
        if let Err(difference) = compare(&block) {
            return Err(TestCaseError::fail(difference));
        }
    }
}
