//! The rungs of a rehearsal by hand: a slot of one straight edge of 4 mm, 1 mm deep, at 4000/min
//! and 80 mm/min, which is 0.02 mm a tooth. The good stock presses 100 N across the cut for each mm
//! of depth, whatever the chip; the stand-in what a test says.
//!
//! A chip of 0.3 of the 0.01 mm edge radius is the least that cuts; a cautious run wants a tenth
//! more room: 0.003 mm / 0.9.

use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{SpindleSpeed, Velocity, in_mm};
use feeds_core::rehearsal::ladder::{Blocked, Rung, RungKind, RungSetting, ladder};
use feeds_core::rehearsal::{Dial, DialRange, Runs, Which};
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

struct Rehearsed {
    production: Setup,
    stand_in: Setup,
}

/// The good stock changed by one, the stand-in by the other; the cutter and machine by the first.
fn rehearsed(good: impl Fn(&mut Value), cheap: impl Fn(&mut Value)) -> Rehearsed {
    let of = |change: &dyn Fn(&mut Value)| {
        let mut pass = one_edge();
        change(&mut pass);
        setup(&pass, true)
    };
    Rehearsed {
        production: of(&good),
        stand_in: of(&cheap),
    }
}

impl Rehearsed {
    fn runs(&self) -> Runs {
        let (n, v_f) = (SpindleSpeed::per_minute(4000.0), 0.08 / 60.0);
        let v_f = <Velocity as feeds_core::quantity::Quantity>::from_si(v_f);
        Runs::programmed(&self.production, &self.stand_in, n, v_f)
    }

    fn rungs(&self, range: DialRange) -> Vec<Rung> {
        let runs = self.runs();
        let production = runs.plan(Which::Production, Dial::FULL).unwrap();
        ladder(&runs, range, &production).unwrap()
    }

    fn rung(&self, kind: RungKind) -> Result<RungSetting, Blocked> {
        let mut rungs = self.rungs(DialRange::default()).into_iter();
        rungs.find(|r| r.kind == kind).unwrap().setting
    }
}

fn same(_: &mut Value) {}

#[track_caller]
fn dialled(setting: &RungSetting, spindle: f64, feed: f64) {
    let Dial {
        spindle: n,
        feed: f,
    } = setting.dial;
    assert!(
        (n - spindle).abs() < 1e-9 && (f - feed).abs() < 1e-9,
        "{:?}, not {spindle} {feed}",
        setting.dial
    );
}

#[track_caller]
fn near(got: f64, expect: f64, within: f64) {
    assert!((got / expect - 1.0).abs() < within, "{got} is not {expect}");
}

/// 50.27 m/min are programmed: a band from 30 m/min asks for 59.7 %, so for 60 %.
#[test]
fn the_cautious_run_is_as_slow_as_band_dial_and_spindle_allow() {
    for (low, n_min, range, expect) in [
        (30.0, 100.0, 0.5, 0.60),
        // The dial ends at 50 and at 70 %.
        (20.0, 100.0, 0.5, 0.50),
        (30.0, 100.0, 0.7, 0.70),
        // The spindle does not turn slower than 2600/min, or 2590/min: 64.75 %.
        (20.0, 2600.0, 0.5, 0.65),
        (20.0, 2590.0, 0.5, 0.65),
        // Never faster than programmed.
        (58.0, 100.0, 0.5, 1.0),
    ] {
        let pair = rehearsed(
            |p| p["machine"]["n_min"] = json!(n_min),
            |p| p["stock"]["v_c"] = json!([low, 60.0]),
        );
        let range = DialRange {
            least: range,
            most: 1.5,
        };
        let cautious = pair.rungs(range).remove(1);
        let setting = cautious.setting.unwrap();
        // Its least feed would be far below the dial's end: that is taken.
        dialled(&setting, expect, range.least);
        assert!(setting.within);
        near(setting.plan.n.in_per_minute(), 4000.0 * expect, 1e-9);
    }
}

/// The least feed is 0.00333 mm of 0.02 mm, times the edge radius over 0.01 mm.
#[test]
fn the_cautious_feed_is_the_next_whole_per_cent_that_cuts() {
    let slow = |p: &mut Value| p["stock"]["v_c"] = json!([20.0, 60.0]);
    // An edge of 0.1 mm asks for 0.03333 mm: 83.3 % at half the turns.
    let blunt = |p: &mut Value| p["cutter"]["edge_radius"] = json!(0.1);
    let setting = rehearsed(blunt, slow).rung(RungKind::Cautious).unwrap();
    dialled(&setting, 0.5, 0.84);
    near(in_mm(setting.plan.f_z), 0.0336, 1e-9);
    // Where the whole per cent is beyond the band, the exact feed.
    let narrow = |p: &mut Value| {
        slow(p);
        p["stock"]["f_z"] = json!([0.002, 0.005, 0.0335]);
    };
    let setting = rehearsed(blunt, narrow).rung(RungKind::Cautious).unwrap();
    near(setting.dial.feed, 0.1 / 0.03 / 4.0, 1e-6);
    // Where the end of the dial is beyond the band, the programme is rescaled.
    let thin = |p: &mut Value| {
        slow(p);
        p["stock"]["f_z"] = json!([0.002, 0.005, 0.015]);
    };
    let setting = rehearsed(same, thin).rung(RungKind::Cautious).unwrap();
    dialled(&setting, 0.5, 0.09);
    assert!(!setting.within);
}

/// A spindle that carries the cut at 4000/min and not at 2000/min does not slow down.
#[test]
fn a_spindle_that_would_stall_is_not_slowed() {
    let slow = |p: &mut Value| {
        p["stock"]["v_c"] = json!([20.0, 60.0]);
        p["stock"]["linear"]["edge"] = json!([100.0, 0.0, 0.0]);
    };
    // 100 N over 2π mm a turn: 20.9 W at 2000/min, of which 0.75 · 5 W or 0.75 · 40 W are there.
    for (watts, spindle) in [(5.0, 1.0), (40.0, 0.5)] {
        let power = json!([[2000.0, watts], [4000.0, 100.0]]);
        let pair = rehearsed(|p| p["machine"]["power"] = power.clone(), slow);
        let setting = pair.rung(RungKind::Cautious).unwrap();
        dialled(&setting, spindle, 0.5);
    }
}

/// The stand-in presses 50 N and 1930 N/mm of its chip: 100 N at 0.025907 mm, 129.5 % of 0.02 mm.
fn softer(p: &mut Value) {
    p["stock"]["linear"] = json!({ "cut": [1e-6, 1930.0, 0.0], "edge": [0.0, 50.0, 0.0] });
}

const EQUAL: f64 = 50.0 / 1930.0;

#[test]
fn equal_force_is_dialled_by_the_feed_up_to_where_the_table_ends() {
    let setting = rehearsed(same, softer).rung(RungKind::EqualForce).unwrap();
    dialled(&setting, 1.0, 1.30);
    assert!(setting.within && setting.capped.is_none());
    near(
        setting.force_share.unwrap(),
        0.5 + 1930.0 * 0.026 / 100.0,
        1e-3,
    );
    // The table ends at 120 %, or at 122.4 %: whole per cents of both, turns reduced.
    for (table, feed) in [(96.0, 1.2), (97.9, 1.22)] {
        let pair = rehearsed(|p| p["machine"]["v_f_max"] = json!(table), softer);
        let setting = pair.rung(RungKind::EqualForce).unwrap();
        let spindle = (feed * 0.02 / EQUAL * 100.0).floor() / 100.0;
        dialled(&setting, spindle, feed);
        assert!(setting.force_share.unwrap() > 1.0);
    }
    // A table that reaches 130 % leaves the turns alone.
    let pair = rehearsed(|p| p["machine"]["v_f_max"] = json!(104.1), softer);
    dialled(&pair.rung(RungKind::EqualForce).unwrap(), 1.0, 1.30);
    // A stand-in that presses as hard whatever the chip is the floor: 16.7 %.
    let setting = rehearsed(same, same).rung(RungKind::EqualForce).unwrap();
    dialled(&setting, 1.0, 0.17);
    near(setting.force_share.unwrap(), 1.0, 1e-3);
}

#[test]
fn a_check_of_the_stand_in_caps_equal_force() {
    for (most, feed) in [(0.0243, 1.21), (0.0206, 1.02)] {
        let pair = rehearsed(same, |p| {
            softer(p);
            p["stock"]["f_z"] = json!([0.002, 0.005, most]);
        });
        let setting = pair.rung(RungKind::EqualForce).unwrap();
        // Whole per cents down: 121.5 and 103 %, the last of which may round either way.
        let whole = (setting.dial.feed - feed).abs() < 1e-9;
        assert!(
            whole || (setting.dial.feed - 1.03).abs() < 1e-9,
            "{:?}",
            setting.dial
        );
        let capped = setting.capped.unwrap();
        assert_eq!(capped.limit.name, "feed-band");
        near(in_mm(capped.f_z), most, 1e-6);
        assert!(setting.force_share.unwrap() < 1.0);
    }
    // No whole per cent between floor and cap: the cap itself. The floor is 83.33 % with an edge
    // of 0.05 mm, 0.016667 mm, and the cap 83.5 %.
    let pair = rehearsed(
        |p| p["cutter"]["edge_radius"] = json!(0.05),
        |p| {
            softer(p);
            p["stock"]["f_z"] = json!([0.002, 0.005, 0.0167]);
        },
    );
    let setting = pair.rung(RungKind::EqualForce).unwrap();
    near(setting.dial.feed, 0.835, 1e-6);
}

#[test]
fn what_is_not_known_or_leaves_no_feed_is_told() {
    let needs = |pair: &Rehearsed, kind: RungKind| match pair.rung(kind) {
        Err(Blocked::Needs(what)) => what,
        other => panic!("{other:?}"),
    };
    let bare = rehearsed(|p| p["cutter"]["edge_radius"] = Value::Null, softer);
    for kind in [RungKind::Cautious, RungKind::Production, RungKind::Reduced] {
        assert_eq!(needs(&bare, kind), "the cutting edge radius", "{kind:?}");
    }
    let mut open = rehearsed(same, softer);
    open.stand_in.stock.resistance = None;
    let what = "a specific cutting force of the stand-in";
    assert_eq!(needs(&open, RungKind::EqualForce), what);
    open.production.stock.resistance = None;
    let what = "a specific cutting force of the production stock";
    assert_eq!(needs(&open, RungKind::EqualForce), what);
    // Nothing is needed in the air, and the stand-in says how long it takes.
    let air = open.rung(RungKind::Air).unwrap();
    assert_eq!((air.dial, air.force_share), (Dial::FULL, None));
    // A band that ends below the least chip.
    let shut = rehearsed(same, |p| {
        softer(p);
        p["stock"]["f_z"] = json!([0.001, 0.002, 0.0025]);
    });
    for kind in [RungKind::Cautious, RungKind::EqualForce] {
        let Err(Blocked::NoFeed { least, most }) = shut.rung(kind) else {
            panic!("{kind:?}")
        };
        assert_eq!(
            (least.limit.name, most.limit.name),
            ("chip-floor", "feed-band")
        );
        near(in_mm(least.f_z), 0.003, 1e-6);
        near(in_mm(most.f_z), 0.0025, 1e-6);
    }
}

/// A band that ends between the least chip and what a cautious run wants of it.
#[test]
fn without_a_cautious_feed_the_margins_of_production_do() {
    let slow = |p: &mut Value| {
        p["stock"]["v_c"] = json!([20.0, 60.0]);
        p["stock"]["f_z"] = json!([0.001, 0.002, 0.0032]);
    };
    let setting = rehearsed(same, slow).rung(RungKind::Cautious).unwrap();
    // 0.003 mm at half the turns: 7.5 %, and 8 % are the 0.0032 mm of the band.
    assert!(
        (0.075 - 1e-6..=0.08 + 1e-9).contains(&setting.dial.feed),
        "{:?}",
        setting.dial
    );
}

#[test]
fn the_reduced_rung_is_half_as_deep_where_that_breaks_nothing() {
    let pair = rehearsed(same, softer);
    let half = pair.rung(RungKind::Reduced).unwrap();
    near(in_mm(half.a_p), 0.5, 1e-12);
    near(half.force_share.unwrap(), 0.5, 1e-3);
    dialled(&half, 1.0, 1.0);
    let whole = pair.rung(RungKind::Production).unwrap();
    near(in_mm(whole.a_p), 1.0, 1e-12);
    near(whole.force_share.unwrap(), 1.0, 1e-9);
    // A production that would rub is turned up to 0.03333 mm: 166.7 %, and so is its half.
    let blunt = rehearsed(|p| p["cutter"]["edge_radius"] = json!(0.1), softer);
    for kind in [RungKind::Production, RungKind::Reduced] {
        let setting = blunt.rung(kind).unwrap();
        dialled(&setting, 1.0, 1.67);
        assert!(!setting.within);
    }
    // One that cuts with less room than a cautious run wants stays as it is.
    let close = rehearsed(|p| p["cutter"]["edge_radius"] = json!(0.065), softer);
    dialled(&close.rung(RungKind::Production).unwrap(), 1.0, 1.0);
}

/// A hold of 0.1 of the clamp takes no full depth at any feed: the deepest of 0.5, 0.4, 0.3 and
/// 0.2 that it takes is the reduced one, by the margins of a cautious run or of production.
#[test]
fn where_the_full_depth_leaves_no_feed_a_shallower_one_is_taken() {
    for (clamp, depth, feed) in [
        // 80 N take 40 N of half the depth with a fifth to spare.
        (800.0, 0.5, 0.17),
        // 30 N of 38 N with a fifth to spare, of 35 N only as production: 15 %.
        (380.0, 0.3, 0.17),
        (350.0, 0.3, 0.15),
        (450.0, 0.4, 0.15),
        (260.0, 0.2, 0.17),
        (210.0, 0.2, 0.15),
    ] {
        let pair = rehearsed(|p| p["hold"]["clamp_force"] = json!(clamp), softer);
        let Err(Blocked::NoFeed { least, most }) = pair.rung(RungKind::Production) else {
            panic!("{clamp} N hold the full depth")
        };
        assert_eq!((least.limit.name, most.limit.name), ("chip-floor", "hold"));
        let setting = pair.rung(RungKind::Reduced).unwrap();
        near(in_mm(setting.a_p), depth, 1e-12);
        dialled(&setting, 1.0, feed);
        near(setting.force_share.unwrap(), depth, 1e-3);
    }
    // 19 N hold not even a fifth.
    let pair = rehearsed(|p| p["hold"]["clamp_force"] = json!(190.0), softer);
    assert!(matches!(
        pair.rung(RungKind::Reduced),
        Err(Blocked::NoFeed { .. })
    ));
}
