//! How far one number can go alone, what opens a pass that is over, and what cannot go together:
//! on one straight edge of 4 mm that takes 100 N for each mm of depth whatever the chip, so that
//! every answer can be worked by hand.

use feeds_core::cut::Direction;
use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::opens::{Change, openings};
use feeds_core::plan::room::{Room, RoomEnd, Variable};
use feeds_core::plan::setup::SetupError;
use feeds_core::quantity::in_mm;
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

fn pass(change: impl Fn(&mut Value)) -> Value {
    let mut pass = one_edge();
    change(&mut pass);
    pass
}

fn room(pass: &Value, variable: Variable) -> Room {
    let setup = setup(pass, true);
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent).unwrap();
    planner.room(&setup, &plan, variable)
}

#[track_caller]
fn ends(end: Option<RoomEnd>, limit: &str, value: f64) {
    let end = end.unwrap();
    assert_eq!(end.limit.name, limit);
    assert!(
        (end.value / value - 1.0).abs() < 1e-6,
        "{} is not {value}",
        end.value
    );
}

#[test]
fn depth_goes_as_far_as_the_hold() {
    // 2 · 0.1 · 1500 N hold, of which half may be used (model.md): 150 N, 1.5 mm.
    let held = |clamp: f64| pass(|p| p["hold"]["clamp_force"] = json!(clamp));
    let found = room(&held(1500.0), Variable::Depth);
    ends(found.most, "hold", 1.5e-3);
    assert!(found.least.is_none() && found.broken.is_none());
    // 0.8 of it where a cautious run keeps a fifth.
    let cautious = pass(|p| {
        p["hold"]["clamp_force"] = json!(1500.0);
        p["intent"] = json!("cautious");
    });
    ends(room(&cautious, Variable::Depth).most, "hold", 1.2e-3);
    let broken = room(&held(900.0), Variable::Depth);
    assert_eq!(broken.broken.unwrap().limit.name, "hold");
    assert!(broken.least.is_none() && broken.most.is_none());
    // Nothing held: the flutes of 10.5 mm are as long as the stick-out, and there it ends.
    assert!(room(&one_edge(), Variable::Depth).most.is_none());
    let short = pass(|p| p["cutter"]["flute_length"] = json!(6.0));
    ends(room(&short, Variable::Depth).most, "flute-length", 6e-3);
}

#[test]
fn feed_and_speed_go_from_floor_to_band() {
    // The least chip is 0.3 of 10 µm; a slot has the whole feed at its middle.
    let feed = room(&one_edge(), Variable::Feed);
    ends(feed.least, "chip-floor", 3e-6);
    ends(feed.most, "feed-band", 50e-6);
    // 0.2 m/min over 4000 turns of one edge.
    let slow = pass(|p| p["machine"]["v_f_max"] = json!(160.0));
    ends(room(&slow, Variable::Feed).most, "feed-speed", 40e-6);
    let speed = room(&one_edge(), Variable::Speed);
    // 60 m/min on a circle of 4 mm; the spindle turns from 100 1/min on.
    ends(
        speed.most,
        "cutting-speed",
        1.0 / (std::f64::consts::PI * 4e-3),
    );
    ends(speed.least, "spindle-speed-least", 100.0 / 60.0);
    ends(
        room(&slow, Variable::Speed).most,
        "cutting-speed",
        1.0 / (std::f64::consts::PI * 4e-3),
    );
    let slower = pass(|p| p["machine"]["v_f_max"] = json!(84.0));
    ends(
        room(&slower, Variable::Speed).most,
        "feed-speed",
        84.0 / 60.0 / 0.02,
    );
}

#[test]
fn width_goes_down_to_where_the_chip_is_too_thin() {
    let side = |a_e: f64| {
        pass(|p| {
            p["cut"]["path"] = json!("side");
            p["cut"]["a_e"] = json!(a_e);
        })
    };
    // 20 µm · sin φ = 3 µm, a_e = D/2 (1 − cos φ).
    let least = 2e-3 * (1.0 - 0.15_f64.asin().cos());
    for a_e in [0.3, 1.0, 3.0] {
        let found = room(&side(a_e), Variable::Width);
        ends(found.least, "chip-floor", least);
        assert!(found.most.is_none(), "{found:?}");
    }
    assert_eq!(room(&one_edge(), Variable::Width), Room::default());
}

fn opened(pass: &Value) -> Vec<Change> {
    let setup = setup(pass, true);
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent).unwrap();
    let all = openings(&planner, &setup, &plan);
    all.into_iter().map(|opening| opening.change).collect()
}

#[test]
fn a_pass_that_slips_is_opened_by_its_depth() {
    // 52 N may be used, so 0.52 mm, rounded down to a hundredth where the search came near it.
    let slips = pass(|p| p["hold"]["clamp_force"] = json!(520.0));
    let [Change::Depth(a_p, 2)] = opened(&slips)[..] else {
        panic!("{:?}", opened(&slips))
    };
    assert!((0.51 - 1e-9..=0.52 + 1e-9).contains(&in_mm(a_p)), "{a_p:?}");
    assert!((in_mm(a_p) * 100.0).fract() % 1.0 < 1e-6);
    // 33 N: a third in four levels.
    let slips = pass(|p| p["hold"]["clamp_force"] = json!(330.0));
    assert!(
        matches!(opened(&slips)[..], [Change::Depth(_, 4)]),
        "{:?}",
        opened(&slips)
    );
    // Nothing shut, nothing told.
    assert_eq!(
        opened(&pass(|p| p["hold"]["clamp_force"] = json!(1100.0))),
        []
    );
}

#[test]
fn a_pass_that_rubs_is_opened_by_its_feed() {
    // Half of the arc may rub: 3 µm over f_z is sin 45° there, f_z = 4.24 µm; by tenths of 2 µm
    // that is 4.4 µm.
    let rubs = pass(|p| p["f_z"] = json!(0.002));
    let Some(Change::Feed(f_z)) = opened(&rubs).first().copied() else {
        panic!("{:?}", opened(&rubs))
    };
    assert!((in_mm(f_z) - 0.0044).abs() < 1e-9, "{f_z:?}");
    // Not where something else is shut as well.
    let both = pass(|p| {
        p["f_z"] = json!(0.002);
        p["hold"]["clamp_force"] = json!(520.0);
    });
    assert_eq!(opened(&both), []);
}

#[test]
fn a_cutter_that_breaks_is_opened_by_depth_flutes_or_diameter() {
    // 100 N a_p at the middle of the depth bend a core of 2 mm where the flutes end: W = π d³/32,
    // and a third of 3000 N/mm² may be used (model.md).
    let breaks = |change: fn(&mut Value)| {
        pass(|p| {
            p["cutter"]["rupture"] = json!(3000.0);
            change(p);
        })
    };
    let near = |got: f64, expect: f64| assert!((got - expect).abs() < 1e-6, "{got} {expect}");
    let slot = opened(&breaks(|_| ()));
    let [Change::Depth(a_p, 2), Change::Flutes(flutes)] = slot[..] else {
        panic!("{slot:?}")
    };
    // a (10.5 − a/2) = 1000 · 0.7854 / 100: 0.7767 mm, and (L − 0.5) = 7.854: 8.35 mm.
    near(in_mm(a_p), 0.77);
    near(in_mm(flutes), 8.0);
    // On a side the next thicker one that is sold does it too: its core grows with it.
    let side = opened(&breaks(|p| {
        p["cut"]["path"] = json!("side");
        p["cut"]["a_e"] = json!(1.0);
        // Of 60 m/min by the band: 5 mm at 4000/min would be 63.
        p["n"] = json!(3000.0);
    }));
    let [Change::Depth(..), Change::Flutes(_), Change::Diameter(d)] = side[..] else {
        panic!("{side:?}")
    };
    near(in_mm(d), 5.0);
    // With flutes shorter than it sticks out it can be clamped shorter, down to the flutes.
    let long = opened(&breaks(|p| {
        p["cutter"]["core"] = json!(3.0);
        p["cutter"]["shank"] = json!(3.0);
        p["cutter"]["flute_length"] = json!(6.0);
        p["cutter"]["stick_out"] = json!(30.0);
    }));
    // At the holder 100 N (l − 0.5 mm) over π 27/32: 27.0 mm.
    let stick_out = long.iter().find_map(|change| match change {
        Change::StickOut(l) => Some(in_mm(*l)),
        _ => None,
    });
    let exact = 10.0 * std::f64::consts::PI * 27.0 / 32.0 + 0.5;
    near(stick_out.unwrap(), (exact * 10.0).floor() / 10.0);
}

#[test]
fn a_table_that_is_pulled_is_opened_by_milling_the_other_way() {
    let pulled = pass(|p| {
        p["cut"] = json!({
            "path": "side", "direction": "down", "a_p": 1.0, "a_e": 1.0, "tolerance": 10.0
        });
        p["stock"]["linear"]["cut"] = json!([2000.0, 100.0, 0.0]);
        p["stock"]["linear"]["edge"] = json!([100.0, 10.0, 0.0]);
        p["machine"]["backlash"] = json!(0.05);
        p["machine"]["drag"] = json!(5.0);
    });
    let found = opened(&pulled);
    assert_eq!(
        found.first(),
        Some(&Change::Direction(Direction::Up)),
        "{found:?}"
    );
}

/// What a setup is refused for: the symbols, or the field that is needed.
fn refused(pass: &Value, change: impl Fn(&mut feeds_core::plan::setup::Setup)) -> Vec<String> {
    let mut setup = setup(pass, true);
    change(&mut setup);
    let said = setup.faults().into_iter().map(|fault| match fault {
        SetupError::Outside { symbol, .. } => symbol.text.to_owned(),
        SetupError::Needs { field, .. } => field.to_owned(),
        SetupError::FixedTwice { entries, .. } => {
            let names: Vec<&str> = entries.iter().map(|e| e.text).collect();
            names.join(" ")
        }
        other => panic!("{other}"),
    });
    said.collect()
}

#[test]
fn what_does_not_go_together_is_refused() {
    let check = |expect: &[&str], change: &dyn Fn(&mut Value)| {
        assert_eq!(refused(&pass(change), |_| ()), expect);
    };
    check(&[], &|_| ());
    check(&[], &|p| p["cutter"]["core"] = json!(4.0));
    check(&["d_c"], &|p| p["cutter"]["core"] = json!(4.1));
    check(&[], &|p| p["cutter"]["neck"] = json!([4.0, 2.0]));
    check(&["d_n"], &|p| p["cutter"]["neck"] = json!([4.1, 2.0]));
    check(&[], &|p| p["cut"]["a_p"] = json!(10.5));
    check(&["a_p"], &|p| p["cut"]["a_p"] = json!(10.6));
    // A width is needed but in a slot, and is no wider than the cutter; in a corner than half.
    check(&["width"], &|p| p["cut"]["path"] = json!("side"));
    let side = |p: &mut Value, a_e: f64| {
        p["cut"]["path"] = json!("side");
        p["cut"]["a_e"] = json!(a_e);
    };
    check(&[], &|p| side(p, 4.0));
    check(&["a_e"], &|p| side(p, 4.1));
    let corner = |p: &mut Value, a_e: f64| {
        side(p, a_e);
        p["cut"]["corner"] = json!(true);
    };
    check(&[], &|p| corner(p, 2.0));
    check(&["a_e"], &|p| corner(p, 2.1));
    let after = |p: &mut Value, a_e: f64, previous: f64| {
        side(p, a_e);
        p["cut"]["previous"] = json!(previous);
    };
    check(&[], &|p| after(p, 2.0, 4.0));
    check(&["a_e"], &|p| after(p, 2.1, 6.0));
    check(&["D_prev"], &|p| after(p, 1.0, 3.9));
    // It fits inside its wall, and the hole of a helix is wider than it.
    let wall = |p: &mut Value, side_of: &str, radius: f64| {
        side(p, 1.0);
        p["cut"]["wall"] = json!([side_of, radius]);
    };
    check(&[], &|p| wall(p, "inside", 2.1));
    check(&["R_w"], &|p| wall(p, "inside", 1.9));
    check(&[], &|p| wall(p, "outside", 1.9));
    check(&[], &|p| p["cut"]["entry"] = json!(["helix", 4.1, 0.2]));
    check(&["D_m"], &|p| {
        p["cut"]["entry"] = json!(["helix", 3.9, 0.2]);
    });
}

#[test]
fn two_of_speed_and_feed_are_free() {
    use feeds_core::quantity::{Quantity, SpindleSpeed, mm};
    let n = Some(SpindleSpeed::per_minute(4000.0));
    let (v_c, f_z, v_f) = (
        Some(Quantity::from_si(0.8)),
        Some(mm(0.02)),
        Some(Quantity::from_si(1e-3)),
    );
    let check = |expect: &[&str], given: [bool; 4]| {
        let got = refused(&one_edge(), |setup| {
            setup.given.n = n.filter(|_| given[0]);
            setup.given.v_c = v_c.filter(|_| given[1]);
            setup.given.f_z = f_z.filter(|_| given[2]);
            setup.given.v_f = v_f.filter(|_| given[3]);
        });
        assert_eq!(got, expect, "{given:?}");
    };
    for free in [
        [false, false, false, false],
        [true, false, false, false],
        [true, false, true, false],
        [true, false, false, true],
        [false, true, true, false],
        [false, true, false, true],
        [false, false, true, true],
    ] {
        check(&[], free);
    }
    for f in [[false, false], [true, false], [false, true], [true, true]] {
        check(&["n v_c"], [true, true, f[0], f[1]]);
    }
    check(&["n f_z v_f"], [true, false, true, true]);
    check(&["v_c f_z v_f"], [false, true, true, true]);
}
