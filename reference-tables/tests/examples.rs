//! Every example runs, and says what it is for.
#![allow(dead_code, reason = "the `main` of each example")]

#[path = "../examples/force_over_a_turn.rs"]
mod force_over_a_turn;
#[path = "../examples/limit.rs"]
mod limit;
#[path = "../examples/pass.rs"]
mod pass;
#[path = "../examples/programme.rs"]
mod programme;
#[path = "../examples/row.rs"]
mod row;

type Text = Result<String, Box<dyn std::error::Error>>;

fn said(text: Text) -> String {
    text.unwrap_or_else(|e| panic!("{e}"))
}

/// The number before the first `unit`.
fn before(text: &str, unit: &str) -> f64 {
    let (head, _) = text
        .split_once(unit)
        .unwrap_or_else(|| panic!("no {unit} in {text}"));
    let number = head.rsplit([' ', '\n']).next().and_then(|n| n.parse().ok());
    number.unwrap_or_else(|| panic!("no number before {unit} in {text}"))
}

/// A bench mill of 5000 rpm: it turns, it feeds, and an edge in steel is pushed.
#[test]
fn a_pass_from_names_has_a_verdict_and_a_force() {
    let text = said(pass::text());
    let verdict = text.split(':').next().unwrap_or_default();
    assert!(["RUN", "CARE", "STOP"].contains(&verdict), "{text}");
    assert!(
        (100.0..=5000.0).contains(&before(&text, " 1/min")),
        "{text}"
    );
    assert!(before(&text, " mm/min") > 0.0, "{text}");
    assert!(before(&text, " N bends") > 0.0, "{text}");
}

/// A millimetre of width is 48 degrees of arc for a cutter of 6 mm, cos φ = 1 - 2 · 1/6, and half a
/// turn lies between its two edges: what is cut at an angle is cut half a turn later.
#[test]
fn the_force_over_a_turn_comes_once_an_edge() {
    let text = said(force_over_a_turn::text());
    let forces: Vec<f64> = text.lines().map(|line| before(line, " N")).collect();
    assert_eq!(forces.len(), 12);
    let most = forces.iter().copied().fold(0.0, f64::max);
    assert!(most > 0.0, "{text}");
    assert!(
        forces.contains(&0.0),
        "an edge is always in the cut: {text}"
    );
}

#[test]
fn the_nearest_limit_comes_with_its_working() {
    let text = said(limit::text());
    assert!(text.lines().count() > 2, "{text}");
    assert!(text.contains(" is ") || text.contains('='), "{text}");
}

/// The spindle is never started: ISO 6983 has M3 and M4 for that.
#[test]
fn a_programme_that_cuts_with_a_still_spindle_stops() {
    let text = said(programme::text());
    assert!(text.starts_with("STOP\n"), "{text}");
    assert!(
        text.contains("line 4: ") && text.contains("spindle"),
        "{text}"
    );
}

/// The row as `kienzle.json` has it.
#[test]
fn a_row_comes_with_its_source() {
    let text = said(row::text());
    assert!(text.starts_with("k_c1.1 1700 N/mm2, m_c 0.24: "), "{text}");
    assert!(text.contains("[printed]"), "{text}");
}
