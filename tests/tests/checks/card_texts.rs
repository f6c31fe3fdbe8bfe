//! What is printed of a formula is what the code computes: the text of every card is evaluated by
//! a general-purpose expression crate on random inputs and compared with the formula.

use fasteval::EvalNamespace;
use feeds_core::formula::{Registered, formulas};
use feeds_core::symbol::{SYMBOLS, Symbol};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::f64::consts::PI;

/// Sums and roots, told in words. A formula that is not in this list has to be evaluated.
const PROSE: &[&str] = &[
    "power at this speed",
    "forces over a turn",
    "bending of the cutter",
    "fit of tool lives",
    "least depth of chatter",
    "depth of chatter at a speed",
    "edges that rub",
    "how far the wall is off",
];

/// Ranges in SI units, so chosen that most draws are cuts that can be: the cutter is wider than
/// the cut, walls and holes are wider than the cutter.
const RANGES: &[(&str, f64, f64)] = &[
    ("D", 10e-3, 20e-3),
    ("D_prev", 21e-3, 60e-3),
    ("D_m", 25e-3, 60e-3),
    ("D_w", 1e-3, 24e-3),
    ("R_w", 12e-3, 40e-3),
    ("a_e", 0.2e-3, 9e-3),
    ("w", 3e-3, 9e-3),
    ("R", 2e-3, 5e-3),
    ("b_s", 1e-3, 3.9e-3),
    ("p", 1e-3, 3.9e-3),
    ("h_c", 0.1e-3, 1e-3),
    ("r_e", 0.2e-3, 4e-3),
    ("a_p", 0.1e-3, 12e-3),
    ("c_d", 8e-3, 34e-3),
    ("φ_s", 0.1, PI),
    ("κ", 0.2, PI / 2.0),
    ("β", 0.0, PI / 2.0),
    ("α", 0.0, 1.4),
    ("λ_s", 0.0, 1.2),
    ("δ_λ", 0.0, 8.0),
    ("γ_r", 0.01, 1.4),
    ("γ", -0.3, 0.5),
    ("γ_0", -0.3, 0.5),
    ("h_min", 1e-6, 9e-6),
    ("f_z", 5e-6, 0.2e-3),
    ("n_T", 0.1, 0.9),
    ("m_c", 0.0, 0.6),
    ("k_c1.1", 2e8, 5e9),
    ("x", 0.0, 1.5),
    ("z", 1.0, 12.0),
];

/// Units that stand behind a number in a text, and their size in SI units.
const LITERALS: &[(&str, &str)] = &[
    ("°", "pi()/180"),
    (" mm", "0.001"),
    (" min", "60"),
    (" N/mm2", "1e6"),
];

fn range(symbol: &Symbol) -> (f64, f64) {
    RANGES
        .iter()
        .find(|(text, ..)| *text == symbol.text)
        .map_or((0.1, 2.0), |&(_, low, high)| (low, high))
}

/// A text in symbols as an expression of plain names: `s7` for the eighth symbol.
fn expression(text: &str) -> String {
    let mut out = String::new();
    let chars: Vec<char> = text.chars().collect();
    let mut at = 0;
    while at < chars.len() {
        let is_name = |i: usize| {
            chars
                .get(i)
                .is_some_and(|c| c.is_alphanumeric() || *c == '_')
        };
        if !is_name(at) {
            out.push_str(match chars[at] {
                '·' => "*",
                '−' => "-",
                '√' => "sqrt",
                '+' => "+",
                '/' => "/",
                '^' => "^",
                '(' => "(",
                ')' => ")",
                ',' => ",",
                ' ' => " ",
                other => panic!("«{other}» in «{text}» cannot be evaluated"),
            });
            at += 1;
            continue;
        }
        let from = at;
        while is_name(at) || (matches!(chars.get(at), Some(',' | '.')) && is_name(at + 1)) {
            at += 1;
        }
        let word: String = chars[from..at].iter().collect();
        if let Some(index) = SYMBOLS.iter().position(|s| s.text == word) {
            out.push('s');
            out.push_str(&index.to_string());
        } else if word.parse::<f64>().is_ok() {
            // A literal with its unit is one factor: everything is evaluated in SI units.
            let rest: String = chars[at..].iter().collect();
            let unit = LITERALS.iter().find(|(unit, _)| rest.starts_with(unit));
            let (unit, size) = unit.copied().unwrap_or(("", "1"));
            at += unit.chars().count();
            out.push_str(&["(", &word, "*", size, ")"].concat());
        } else {
            out.push_str(match word.as_str() {
                "π" => "pi()",
                "sin" | "cos" | "tan" | "asin" | "acos" | "atan" | "min" | "max" | "floor"
                | "ceil" => &word,
                _ => panic!("«{word}» in «{text}» is no symbol"),
            });
        }
    }
    out
}

struct Names<'a> {
    symbols: &'a [&'static Symbol],
    values: &'a [f64],
}

impl EvalNamespace for Names<'_> {
    fn lookup(&mut self, name: &str, args: Vec<f64>, _: &mut String) -> Option<f64> {
        if name == "sqrt" {
            return Some(args[0].sqrt());
        }
        let index: usize = name.strip_prefix('s')?.parse().ok()?;
        let place = self.symbols.iter().position(|s| *s == SYMBOLS[index])?;
        Some(self.values[place])
    }
}

fn evaluated(text: &str, symbols: &[&'static Symbol], values: &[f64]) -> f64 {
    let expression = expression(text);
    fasteval::ez_eval(&expression, &mut Names { symbols, values })
        .unwrap_or_else(|error| panic!("«{text}» as «{expression}»: {error}"))
}

/// Compares on 500 draws; at least half of them have to be cuts that can be.
fn check(formula: &Registered, compute: fn(&[f64]) -> f64, runner: &mut TestRunner) {
    let name = formula.card.name;
    let draws: Vec<_> = formula
        .symbols
        .iter()
        .map(|symbol| {
            let (low, high) = range(symbol);
            low..=high
        })
        .collect();
    let mut possible = 0;
    for _ in 0..500 {
        let values = draws.new_tree(runner).unwrap().current();
        let (code, text) = (
            compute(&values),
            evaluated(formula.card.text, formula.symbols, &values),
        );
        assert_eq!(
            code.is_finite(),
            text.is_finite(),
            "{name}: {code} in code, {text} in text at {values:?}"
        );
        if code.is_finite() {
            possible += 1;
            let apart = (code - text).abs();
            assert!(
                apart <= 1e-12 * code.abs().max(text.abs()),
                "{name}: {code} in code, {text} in text at {values:?}"
            );
        }
    }
    assert!(
        possible >= 250,
        "{name}: only {possible} draws were possible cuts"
    );
}

#[test]
fn every_text_says_what_the_code_computes() {
    let mut runner = TestRunner::deterministic();
    for formula in formulas() {
        let name = formula.card.name;
        match formula.compute {
            Some(compute) => {
                assert!(!formula.card.prose, "{name} is computed from its text");
                check(formula, compute, &mut runner);
            }
            None => assert!(
                formula.card.prose && PROSE.contains(&name),
                "{name} is not evaluated and not in the list of sums and roots"
            ),
        }
    }
}

#[test]
fn the_list_of_sums_and_roots_is_exact() {
    let told: Vec<&str> = formulas()
        .filter(|f| f.compute.is_none())
        .map(|f| f.card.name)
        .collect();
    assert_eq!(told, PROSE);
}

/// The evaluator itself would notice a wrong text.
#[test]
fn a_wrong_text_is_noticed() {
    let formula = formulas().find(|f| f.card.name == "feed speed").unwrap();
    let values = [2.0, 3.0, 5.0];
    assert!((evaluated("f_z · z · n", formula.symbols, &values) - 30.0).abs() < 1e-12);
    assert!((evaluated("f_z · z / n", formula.symbols, &values) - 1.2).abs() < 1e-12);
}
