//! How far the cutters of a feature's plan stick out.

use crate::shell::{folder, ran_line, text};

/// How far they stick out, mm, of the passes of a plan.
fn sticks(job: &str, feature: &str, name: &str) -> Vec<f64> {
    let folder = folder(name);
    ran_line(
        &format!(
            "feeds job new guard.json guard stock=1095 condition=annealed machine=bench-5000 \
             hold=vise grip=4mm height=3mm clamp-force=5kN {job}"
        ),
        &folder,
    );
    let output = ran_line(&format!("feeds feature guard.json {feature}"), &folder);
    let said = text(&output.stdout).replace('\n', " ");
    let out = said.split(", out ").skip(1);
    let sticks: Vec<f64> = out
        .map(|rest| rest.split_whitespace().next().unwrap().parse().unwrap())
        .collect();
    assert!(!sticks.is_empty(), "{said} {}", text(&output.stderr));
    sticks
}

const POCKET: &str = "pocket length=24mm width=14mm depth=4mm corner=5mm";

/// The tables draw 21 mm for a 4 mm cutter on a shank of 6 mm: a collet cannot grip the cone. A
/// cutter of 6 mm, as thick as its shank, goes in up to its flutes, 13 mm.
#[test]
fn no_collet_grips_a_cone() {
    let thin = sticks("", "round-pocket diameter=7mm depth=2mm", "sticks-cone");
    assert!(thin.iter().all(|out| (out - 21.0).abs() < 0.05), "{thin:?}");
    let thick = sticks("", POCKET, "sticks-shank");
    assert!(
        thick.iter().all(|out| (out - 13.0).abs() < 0.05),
        "{thick:?}"
    );
}

/// Who typed 30 mm has his reason: it is not made shorter.
#[test]
fn a_stick_out_that_was_typed_stays() {
    let typed = sticks("stick-out=30mm", POCKET, "sticks-typed");
    assert!(
        typed.iter().all(|out| (out - 30.0).abs() < 0.05),
        "{typed:?}"
    );
}
