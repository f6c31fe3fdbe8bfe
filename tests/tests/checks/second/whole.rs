//! Whole passes against `independent/answers.py`: quantities, loads of every moment, value, bound
//! and margin of every limit, what it comes to, the verdict, the order in which checks are said,
//! and the highest feed that keeps every margin.

use super::{Of, number, numbers};
use feeds_core::limit::{Check, Found};
use feeds_core::plan::Plan;
use feeds_core::plan::loads::Loads;
use feeds_core::quantity::{Quantity, in_mm};
use feeds_core::verdict::Verdict;
use serde_json::Value;
use tests::asked;
use tests::second::{alike, cases};

/// Exact but for rounding; by quadrature or roots; peaks of a round end, which our bands find. The
/// same as in `independent/whole.py`.
const EXACT: f64 = 1e-9;
const ROOT: f64 = 1e-6;
const BANDS: f64 = 1e-2;

fn worked(set: u64) {
    let passes = asked::whole(set);
    let kept = cases("whole");
    assert_eq!(kept.len() as u64, asked::SETS * passes.len() as u64);
    let first = usize::try_from(set).unwrap() * passes.len();
    let mut ends = 0;
    for ((whole, plan), case) in passes.iter().zip(&kept[first..]) {
        let told = whole.told();
        assert!(alike(&told, &case.told), "ask Python anew: {told}");
        let round = number(&told["cutter"]["r"]) > 0.0;
        let (of, answer) = (Of(&told), &case.answer);
        quantities(&of, plan, answer);
        for ((engaged, loads), theirs) in plan.moments.iter().zip(list(&answer["moments"])) {
            assert_eq!(theirs["moment"], engaged.moment.words(), "{told}");
            let ours = [
                ("arc", engaged.arc.value),
                ("circle", in_mm(engaged.circle)),
                ("width", in_mm(engaged.width)),
                ("a_p", in_mm(engaged.a_p)),
                ("chip", engaged.chip),
                ("lead", engaged.sin_kappa),
            ];
            for (key, ours) in ours {
                of.same(key, ours, number(&theirs[key]), EXACT);
            }
            loaded(&of, &loads.unwrap(), &numbers(&theirs["loads"]), round);
        }
        assert_eq!(plan.moments.len(), list(&answer["moments"]).len());
        checks(&of, plan, answer, round);
        ends += usize::from(highest(&of, plan, answer));
    }
    assert!(ends > 5, "{ends} highest feeds");
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

fn quantities(of: &Of<'_>, plan: &Plan, answer: &Value) {
    let ours = [
        ("v_c", Some(plan.v_c.si() * 60.0)),
        ("v_f", Some(plan.v_f.si() * 60e3)),
        ("q", Some(plan.q.si() * 60e9)),
        ("d_eff", Some(in_mm(plan.d_eff))),
        ("phi_s", Some(plan.phi_s.value)),
        ("h_max", Some(in_mm(plan.h_max))),
        ("h_m", Some(in_mm(plan.h_m))),
        ("thinning", Some(plan.thinning)),
        ("h_min", plan.h_min.map(in_mm)),
        ("cusp", plan.cusp.map(in_mm)),
        ("k_c", plan.k_c.map(|k| k.si() * 1e-6)),
        ("force_mean", plan.force_mean.map(Quantity::si)),
    ];
    for (what, ours) in ours {
        let theirs = &answer[what];
        assert_eq!(ours.is_some(), !theirs.is_null(), "{what}: {}", of.0);
        if let Some(ours) = ours {
            of.same(what, ours, number(theirs), EXACT);
        }
    }
    assert_eq!(plan.rubbing.is_some(), !answer["rubbing"].is_null());
    if let Some(ours) = plan.rubbing {
        of.near("rubbing", (ours, number(&answer["rubbing"])), 1.0, EXACT);
    }
    let edges = numbers(&answer["edges"]);
    assert_eq!(plan.edges.feeds.len(), edges.len());
    for (ours, theirs) in plan.edges.feeds.iter().zip(edges) {
        of.near(
            "feed of an edge",
            (in_mm(*ours), theirs),
            in_mm(plan.f_z),
            EXACT,
        );
    }
    assert_eq!(
        plan.plunge.is_some(),
        !answer["plunge"].is_null(),
        "{}",
        of.0
    );
    if let Some(p) = plan.plunge {
        let ours = [in_mm(p.f_z), p.thrust, p.torque, p.stress * 1e-6];
        for (ours, theirs) in ours.into_iter().zip(numbers(&answer["plunge"])) {
            of.same("straight down", ours, theirs, EXACT);
        }
    }
}

fn loaded(of: &Of<'_>, ours: &Loads, theirs: &[f64], round: bool) {
    let peak = if round { BANDS } else { ROOT };
    let (power, smooth) = if round { (ROOT, BANDS) } else { (EXACT, EXACT) };
    let forces = theirs[0].max(theirs[2].abs());
    let mut wall = theirs[6].abs().max(theirs[7].abs());
    if round {
        // The end of an edge that has just come in takes little: held to what bends the tip.
        wall = wall.max(theirs[5]);
    }
    let all = [
        ("lateral", ours.lateral, theirs[0], peak),
        ("torque", ours.torque, theirs[1], peak),
        ("lift", ours.lift, forces, peak),
        ("along", ours.along, forces, peak),
        ("power", ours.power, theirs[4], power),
        ("tip", ours.tip * 1e3, theirs[5], peak),
        ("wall at the bottom", ours.wall_bottom * 1e3, wall, smooth),
        ("wall at the top", ours.wall_top * 1e3, wall, smooth),
        ("stress", ours.stress * 1e-6, theirs[8], peak),
    ];
    for ((what, ours, scale, allowed), theirs) in all.into_iter().zip(theirs) {
        of.near(what, (ours, *theirs), scale, allowed);
    }
}

fn checks(of: &Of<'_>, plan: &Plan, answer: &Value, round: bool) {
    let limits = answer["limits"].as_object().unwrap();
    assert_eq!(plan.checks.len(), limits.len(), "{limits:?}: {}", of.0);
    let tie = if round { 1e-2 } else { 1e-5 };
    let mut before: Option<(Vec<f64>, f64)> = None;
    for check in &plan.checks {
        let name = check.limit.name;
        let theirs = limits.get(name);
        let theirs = theirs.unwrap_or_else(|| panic!("Python has no {name}: {}", of.0));
        let by_loads = theirs["by_loads"] == true;
        let known = !theirs["margin"].is_null();
        assert_eq!(check.margin().is_some(), known, "{name}: {}", of.0);
        if let Some(ours) = check.margin() {
            let loads = if round { BANDS } else { ROOT };
            let allowed = if by_loads { loads } else { EXACT };
            let scale = number(&theirs["scale"]);
            of.near(name, (ours, number(&theirs["margin"])), scale, allowed);
            let at = check.moment.words();
            let known = list(&theirs["moments"]).iter().any(|m| m == at);
            assert!(known, "{name} at {at}, by Python {theirs}: {}", of.0);
        }
        if !theirs["state"].is_null() {
            assert_eq!(theirs["state"], check.state().word(), "{name}: {}", of.0);
            let comes_to = Verdict::of_check(check).word();
            assert_eq!(theirs["comes_to"], comes_to, "{name}: {}", of.0);
        }
        if answer["verdict"].is_null() {
            continue;
        }
        let place = numbers(&theirs["place"]);
        let used = theirs["used"].as_f64().unwrap_or(0.0);
        if let Some((place_before, used_before)) = before {
            let in_order = place_before < place
                || place_before == place && used_before >= used * (1.0 - tie) - tie;
            assert!(in_order, "{name} is said too late: {}", of.0);
        }
        before = Some((place, used));
    }
    if !answer["verdict"].is_null() {
        let verdict = Verdict::of(&plan.checks).word();
        assert_eq!(answer["verdict"], verdict, "{}", of.0);
    }
    bounds(of, plan, limits);
}

/// Values and bounds in mm, N, m/min and 1/min as Python has them, of limits that no load bounds.
fn bounds(of: &Of<'_>, plan: &Plan, limits: &serde_json::Map<String, Value>) {
    let units = [
        ("feed-speed", 60e3),
        ("spindle-speed-most", 60.0),
        ("cutting-speed", 60.0),
        ("chip-floor", 1e3),
        ("feed-band", 1e3),
        ("flute-length", 1e3),
        ("runout", 1e3),
    ];
    for (name, unit) in units {
        let Some(Check {
            found: Found::Known { value, bound },
            ..
        }) = plan.check(name)
        else {
            continue;
        };
        let theirs = &limits[name];
        if list(&theirs["moments"]).len() > 1 {
            continue;
        }
        of.same(name, value * unit, number(&theirs["value"]), EXACT);
        of.same(name, bound.si() * unit, number(&theirs["bound"]), EXACT);
    }
}

/// Whether there is a highest feed by Python, which is ours.
fn highest(of: &Of<'_>, plan: &Plan, answer: &Value) -> bool {
    let theirs = &answer["most"];
    if theirs.is_null() {
        return false;
    }
    let Some(most) = plan.feeds.most else {
        assert!(theirs[1].is_null(), "no highest feed: {}", of.0);
        return false;
    };
    of.same(
        "the highest feed",
        in_mm(most.f_z),
        number(&theirs[0]),
        2e-6,
    );
    if !theirs[1].is_null() {
        assert_eq!(theirs[1], most.limit.name, "{}", of.0);
    }
    true
}

#[test]
fn whole_passes_of_the_first_set() {
    worked(0);
}

#[test]
fn whole_passes_of_the_second_set() {
    worked(1);
}

#[test]
fn whole_passes_of_the_third_set() {
    worked(2);
}

#[test]
fn whole_passes_of_the_fourth_set() {
    worked(3);
}

#[test]
fn whole_passes_of_the_fifth_set() {
    worked(4);
}
