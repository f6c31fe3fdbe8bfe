//! The moments of a pass by hand: which there are, the arc, width and circle of each, its depth,
//! and how thick its chip gets. Angles from the geometry of a circle of 4 mm at a wall; no other
//! source.

use feeds_core::cut::Width;
use feeds_core::kernel::turn::TurnPart::{self, Centred, Down, Slot, Up};
use feeds_core::limit::Moment::{self, Corner, Entry, FullWidth, LeftOver, Nominal};
use feeds_core::notebook::Silent;
use feeds_core::plan::moments::{Engaged, Moments};
use feeds_core::plan::setup::Setup;
use feeds_core::quantity::{Quantity, degrees, in_mm, mm};
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

/// Moment, part of the turn, arc in degrees, width and depth in mm, largest chip over feed.
type Row = (Moment, TurnPart, f64, f64, f64, f64);

fn pass(cut: &Value) -> Setup {
    let mut pass = one_edge();
    let changed = cut.as_object().unwrap();
    pass["cut"] = json!({ "path": "side", "direction": "down", "a_p": 1.0, "tolerance": 10.0 });
    for (key, value) in changed {
        pass["cut"][key] = value.clone();
    }
    setup(&pass, true)
}

#[track_caller]
fn check_setup(setup: &Setup, d_eff: f64, expected: &[Row]) {
    let moments = Moments::of(setup, mm(d_eff));
    let got: Vec<&Engaged> = moments.iter().collect();
    let names = |rows: &[Row]| rows.iter().map(|r| r.0).collect::<Vec<_>>();
    assert_eq!(
        got.iter().map(|m| m.moment).collect::<Vec<_>>(),
        names(expected)
    );
    for (m, (moment, path, arc, width, a_p, chip)) in got.into_iter().zip(expected) {
        assert_eq!(m.path, *path, "{moment:?}");
        let near = |got: f64, wanted: f64| (got - wanted).abs() < 1e-4 * wanted.abs();
        assert!(near(m.arc.si().to_degrees(), *arc), "{moment:?}: {m:?}");
        assert!(near(in_mm(m.width), *width), "{moment:?}: {m:?}");
        assert!(near(in_mm(m.a_p), *a_p), "{moment:?}: {m:?}");
        assert!(near(m.chip, *chip), "{moment:?}: {m:?}");
        assert!(
            near(in_mm(m.h_max(mm(0.02))), 0.02 * chip),
            "{moment:?}: {m:?}"
        );
    }
}

#[track_caller]
fn check(cut: &Value, expected: &[Row]) {
    check_setup(&pass(cut), 4.0, expected);
}

/// cos φ = 1 - 2 a_e/D: 60° of a quarter, 120° of three quarters; the chip is sin φ up to 90°.
#[test]
fn a_side_is_engaged_by_its_width_and_on_its_side() {
    let quarter = 60_f64.to_radians().sin();
    check(
        &json!({ "a_e": 1.0 }),
        &[(Nominal, Down, 60.0, 1.0, 1.0, quarter)],
    );
    check(
        &json!({ "a_e": 3.0, "direction": "up" }),
        &[(Nominal, Up, 120.0, 3.0, 1.0, 1.0)],
    );
    // All of the width is a slot, whichever way it is cut.
    check(
        &json!({ "a_e": 4.0 }),
        &[(Nominal, Slot, 180.0, 4.0, 1.0, 1.0)],
    );
}

/// A slot is half a turn; a face of 2 mm on a circle of 4 mm is 2 asin(2/4) = 60°, the chip of
/// full thickness in the middle. Neither has a corner.
#[test]
fn a_slot_and_a_face_have_no_corner() {
    for corner in [false, true] {
        let more = |path: &str| json!({ "path": path, "corner": corner, "previous": 6.0 });
        check(&more("slot"), &[(Nominal, Slot, 180.0, 4.0, 1.0, 1.0)]);
        for (a_e, arc) in [(2.0, 60.0), (4.0, 180.0)] {
            let mut face = more("face");
            face["a_e"] = json!(a_e);
            check(&face, &[(Nominal, Centred, arc, a_e, 1.0, 1.0)]);
        }
    }
}

/// A ramp slots at the whole depth, a helix at one pitch, and no deeper than the cut; a plunge is
/// no moment of the turn.
#[test]
fn a_way_in_is_a_slot_at_the_depth_it_takes() {
    let chip = 60_f64.to_radians().sin();
    let nominal = (Nominal, Down, 60.0, 1.0, 1.0, chip);
    let with = |entry: Value| json!({ "a_e": 1.0, "entry": entry });
    let entry = |a_p: f64| (Entry, Slot, 180.0, 4.0, a_p, 1.0);
    check(&with(json!(["ramp", 1.0])), &[nominal, entry(1.0)]);
    check(&with(json!(["helix", 6.0, 0.2])), &[nominal, entry(0.2)]);
    check(&with(json!(["helix", 6.0, 1.6])), &[nominal, entry(1.0)]);
    check(&with(json!(["plunge"])), &[nominal]);
}

/// A pocket begins with a slot, but where its width is all of the cutter already, or where it
/// holds its engagement.
#[test]
fn a_pocket_begins_at_full_width() {
    let chip = 60_f64.to_radians().sin();
    let nominal = (Nominal, Down, 60.0, 1.0, 1.0, chip);
    let full = (FullWidth, Slot, 180.0, 4.0, 1.0, 1.0);
    check(&json!({ "path": "pocket", "a_e": 1.0 }), &[nominal, full]);
    check(&json!({ "path": "side", "a_e": 1.0 }), &[nominal]);
    check(
        &json!({ "path": "pocket", "a_e": 4.0 }),
        &[(Nominal, Slot, 180.0, 4.0, 1.0, 1.0)],
    );
    let mut held = pass(&json!({ "path": "pocket", "a_e": 1.0 }));
    held.cut.width = Some(Width::Angle(degrees(60.0)));
    check_setup(&held, 4.0, &[nominal]);
    // A quarter turn held is half of the diameter.
    held.cut.width = Some(Width::Angle(degrees(90.0)));
    check_setup(&held, 4.0, &[(Nominal, Down, 90.0, 2.0, 1.0, 1.0)]);
}

/// A sharp corner adds a quarter turn: 60° + 90°, of a width of 2 (1 - cos 150°) mm. What 6 mm left
/// in it: the circles of 6 mm and 4 mm are 2 mm apart along each wall, 45° + acos(-3/√128).
#[test]
fn a_corner_adds_a_quarter_turn_and_what_was_left_in_it_as_much_as_is_there() {
    let chip = 60_f64.to_radians().sin();
    let nominal = (Nominal, Down, 60.0, 1.0, 1.0, chip);
    let width = |arc: f64| 2.0 * (1.0 - arc.to_radians().cos());
    let corner = (Corner, Down, 150.0, width(150.0), 1.0, 1.0);
    check(&json!({ "a_e": 1.0, "corner": true }), &[nominal, corner]);
    let arc = 45.0 + (-3.0 / 128_f64.sqrt()).acos().to_degrees();
    let left = (LeftOver, Down, arc, width(arc), 1.0, 1.0);
    check(&json!({ "a_e": 1.0, "previous": 6.0 }), &[nominal, left]);
    let all = json!({
        "path": "pocket", "a_e": 1.0, "corner": true, "previous": 6.0, "entry": ["ramp", 1.0],
    });
    let entry = (Entry, Slot, 180.0, 4.0, 1.0, 1.0);
    let full = (FullWidth, Slot, 180.0, 4.0, 1.0, 1.0);
    check(&all, &[nominal, entry, full, corner, left]);
    // No corner takes more than half a turn: 120° + 90° is a slot.
    check(
        &json!({ "a_e": 3.0, "corner": true, "direction": "up" }),
        &[
            (Nominal, Up, 120.0, 3.0, 1.0, 1.0),
            (Corner, Slot, 180.0, 4.0, 1.0, 1.0),
        ],
    );
}

/// 1 mm off a wall of radius 4 mm is 1 · 7/(8 - 4) = 1.75 mm of a straight one from inside, and
/// 1 · 9/(8 + 4) = 0.75 mm from outside.
#[test]
fn a_round_wall_is_engaged_like_another_width() {
    for (side, width) in [("inside", 1.75), ("outside", 0.75)] {
        let arc = (1.0_f64 - 2.0 * width / 4.0).acos();
        check(
            &json!({ "a_e": 1.0, "wall": [side, 4.0] }),
            &[(Nominal, Down, arc.to_degrees(), width, 1.0, arc.sin())],
        );
    }
}

/// A ball of 4 mm at 0.5 mm of depth is 2 √(0.5 · 3.5) = 2.6458 mm wide there, and its edge leans
/// by κ with cos κ = 1 - 0.5/2.
#[test]
fn a_ball_is_engaged_on_the_circle_it_cuts_with() {
    let circle = 2.0 * (0.5_f64 * 3.5).sqrt();
    let ball = |cut: Value| {
        let mut setup = pass(&cut);
        let mut json = one_edge();
        json["cutter"]["corner_radius"] = json!(2.0);
        setup.cutter = tests::setups::setup(&json, true).cutter;
        setup
    };
    let lean = (1.0_f64 - 0.25).acos().sin();
    let narrow = ball(json!({ "path": "ball-finish", "a_e": 0.4, "a_p": 0.5 }));
    let arc = (1.0 - 2.0 * 0.4 / circle).acos();
    check_setup(
        &narrow,
        circle,
        &[(Nominal, Down, arc.to_degrees(), 0.4, 0.5, arc.sin() * lean)],
    );
    let m = Moments::of(&narrow, mm(circle));
    let m = m.iter().next().unwrap();
    assert!((in_mm(m.circle) - circle).abs() < 1e-9);
    assert!((m.kappa().si().sin() - lean).abs() < 1e-12);
    // The same 0.4 mm on the full 4 mm: acos(1 - 0.2).
    let full = m.arc_at_full(mm(4.0)).si().to_degrees();
    assert!((full - 36.8699).abs() < 1e-4, "{full}");
    // Wider than the circle is all of the circle.
    let wide = ball(json!({ "path": "ball-finish", "a_e": 3.0, "a_p": 0.5 }));
    check_setup(&wide, circle, &[(Nominal, Slot, 180.0, circle, 0.5, lean)]);
    let slot = ball(json!({ "path": "slot", "a_p": 0.5 }));
    check_setup(&slot, circle, &[(Nominal, Slot, 180.0, circle, 0.5, lean)]);
    let m = Moments::of(&slot, mm(circle));
    let all = m.iter().next().unwrap().arc_at_full(mm(4.0));
    assert!((all.si().to_degrees() - 180.0).abs() < 1e-9);
    // A face is centred on the whole width of the cutter.
    let face = ball(json!({ "path": "face", "a_e": 2.0, "a_p": 0.5 }));
    check_setup(&face, circle, &[(Nominal, Centred, 60.0, 2.0, 0.5, lean)]);
    // Of a square end the arc is on the diameter already.
    let side = pass(&json!({ "a_e": 1.0 }));
    let m = Moments::of(&side, mm(4.0));
    let m = m.iter().next().unwrap();
    assert!((m.arc_at_full(mm(4.0)).si().to_degrees() - 60.0).abs() < 1e-9);
}

/// The edge leans where the end is round: cos κ = 1 - a_p/r, 60° at half the radius; tilt adds to
/// it, and beyond a quarter turn nothing.
#[test]
fn the_edge_leans_at_a_round_end_and_a_tilt_rights_it() {
    let sine = |radius: f64, a_p: f64, tilt: f64| {
        let mut json = one_edge();
        json["cutter"]["corner_radius"] = json!(radius);
        json["cut"]["a_p"] = json!(a_p);
        let mut setup = setup(&json, true);
        setup.cut.tilt = degrees(tilt);
        let moments = Moments::of(&setup, mm(4.0));
        let m = moments.iter().next().unwrap();
        m.sin_kappa
    };
    for (radius, a_p, tilt, kappa) in [
        (0.0, 0.1, 0.0, 90.0),
        (0.0, 0.1, 20.0, 90.0),
        (0.5, 0.25, 0.0, 60.0),
        (0.5, 0.5, 0.0, 90.0),
        (0.5, 2.0, 0.0, 90.0),
        (2.0, 1.0, 0.0, 60.0),
        (2.0, 1.0, 20.0, 80.0),
        (2.0, 1.0, 45.0, 90.0),
    ] {
        let wanted = f64::to_radians(kappa).sin();
        let got = sine(radius, a_p, tilt);
        assert!((got - wanted).abs() < 1e-9, "{radius} {a_p} {tilt}: {got}");
    }
}

/// At a side of 60° the chip f_z sin θ is below 0.3 f_z up to 17.458°; centred it is f_z cos θ,
/// below 0.9 f_z from 25.842° to 30° on both sides.
#[test]
fn what_rubs_of_the_arc_is_where_the_chip_is_thin() {
    let share = |cut: Value, h_min: f64| {
        let setup = pass(&cut);
        let moments = Moments::of(&setup, mm(4.0));
        let m = moments.iter().next().unwrap();
        m.rubbing(mm(0.02), mm(h_min), &mut Silent)
    };
    let side = share(json!({ "a_e": 1.0 }), 0.006);
    assert!(
        (side - 0.3_f64.asin().to_degrees() / 60.0).abs() < 1e-9,
        "{side}"
    );
    let face = share(json!({ "path": "face", "a_e": 2.0 }), 0.018);
    let wanted = (30.0 - 0.9_f64.acos().to_degrees()) / 30.0;
    assert!((face - wanted).abs() < 1e-9, "{face}, not {wanted}");
}
