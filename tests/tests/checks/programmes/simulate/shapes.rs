//! Round stock, views of the stock, and a ceiling of the wall: by hand.

use super::{Correction, Setting, audit, cutter, line, planned, programme, setting};
use feeds_core::programme::{Ceiling, FeedEdit, Simulated};
use serde_json::json;
use std::f64::consts::PI;
use std::fmt::Write as _;

/// A bar of 20 mm in the middle of the box, 5 mm high. A slot of 4 mm through its axis, 1 mm deep:
/// twice the integral of sqrt(100 - y2) over 2 mm on both sides, 2 sqrt(96) + 100 asin 0.2 = 39.732
/// mm2 each.
#[test]
fn a_slot_through_a_bar() {
    let setting = Setting {
        round: true,
        ..setting(cutter())
    };
    let cut = super::cut("G0 Y10 Z-1\nG1 X45 F80", &setting);
    let slot = 2.0 * (2.0 * 96.0_f64.sqrt() + 100.0 * 0.2_f64.asin());
    assert!(
        (cut.removed / slot - 1.0).abs() < 1e-3,
        "{} {slot}",
        cut.removed
    );
    assert!(
        (cut.stock / (500.0 * PI) - 1.0).abs() < 1e-3,
        "{}",
        cut.stock
    );
}

/// A slot from the left in a hundred lines of half a millimetre, 1 mm deep: a view at the end of a
/// line after every half millimetre of way, every second of them dropped when there are 48, with
/// the axis where it has come to, the whole front in stock between the sides of the block, and the
/// slot behind it but not before it.
#[test]
fn views_follow_the_cutter() {
    let mut setting = setting(cutter());
    setting.simulate = Some(Simulated {
        views: true,
        ..Simulated::default()
    });
    let mut moves = "G0 Y10 Z-1\nG1 F80".to_owned();
    for k in 1..=100 {
        let _ = write!(moves, "\nX{:.1}", f64::from(k) / 2.0 - 5.0);
    }
    let cut = super::cut(&moves, &setting);
    let views = cut.views.unwrap();
    assert_eq!(views.size, [96, 48]);
    assert!(
        (13..=49).contains(&views.list.len()),
        "{}",
        views.list.len()
    );
    let (last, moving) = views.list.split_last().unwrap();
    for view in moving {
        // The last look of a line stands in the middle of its last step.
        let x = view.way - 5.0 - view.at[0];
        assert!((0.0..0.2).contains(&x), "{x} {}", view.way);
        let line = 6.0 + view.way * 2.0;
        assert!((f64::from(u32::try_from(view.line).unwrap()) - line).abs() < 1e-6);
        assert!(view.heading.abs() < 1e-9 && (view.radius - 2.0).abs() < 1e-9);
        assert!((view.at[1] - 10.0).abs() < 1e-9 && (view.at[2] + 1.0).abs() < 1e-9);
        if (0.5..37.0).contains(&view.at[0]) {
            let [[from, to]] = view.spans[..] else {
                panic!("one span: {:?}", view.spans);
            };
            assert!((to - from - PI).abs() < 0.02, "{:?}", view.spans);
        }
        // Row 24 is a twentieth of a millimetre and more beside the axis of the slot.
        for column in 0..96_u16 {
            let x = 40.0 * (f64::from(column) + 0.5) / 96.0;
            let z = f64::from(view.heights[24 * 96 + usize::from(column)]);
            let ahead = x - view.at[0];
            if ahead < 1.6 {
                assert!((z + 1.0).abs() < 1e-5, "{x} {z}");
            } else if ahead > 2.6 {
                assert!(z.abs() < 1e-5, "{x} {z}");
            }
        }
    }
    assert!((last.way - 50.0).abs() < 1e-6 && last.spans.is_empty());
    let row = &last.heights[24 * 96..25 * 96];
    assert!(row.iter().all(|z| (z + 1.0).abs() < 1e-5));
    assert!(
        super::cut(&moves, &super::setting(cutter()))
            .views
            .is_none()
    );
}

/// Where the force is that of the chip alone, so is the bending: half of the wall error is kept at
/// half of the feed, and as much as there is at all of it.
#[test]
fn f_words_come_down_to_the_wall() {
    let text = programme("G0 X45\nY-1.5\nZ-1\nG1 X-5 F80");
    let report = |setting: Setting| audit(text.as_bytes(), setting).simulation.unwrap();
    let of_chips = || {
        let mut pass = super::pass();
        // Beside the wall the chip ends at nothing: what bends the cutter is cut higher up.
        pass["cutter"]["helix"] = json!(30.0);
        pass["stock"]["linear"] = json!({ "cut": [1000.0, 500.0, 0.0], "edge": [0.0, 0.0, 0.0] });
        planned(&pass)
    };
    let wall = line(&report(of_chips()), 8).wall_most.unwrap();
    assert!(wall > 1e-5, "{wall}");
    for (share, feed) in [(0.5, Some(0.5)), (0.25, Some(0.25)), (1.01, None)] {
        let mut setting = of_chips();
        setting.simulate = Some(Simulated {
            correction: Some(Correction {
                ceiling: Ceiling::Wall(share * wall),
                up: false,
                split: None,
            }),
            ..Simulated::default()
        });
        let edits = report(setting).corrected.unwrap().edits;
        let ratio = match edits.get(&8) {
            Some(FeedEdit::Word(ratio)) => Some(*ratio),
            None => None,
            other => panic!("{other:?}"),
        };
        match (ratio, feed) {
            (Some(ratio), Some(feed)) => {
                assert!((ratio / feed - 1.0_f64).abs() < 0.01, "{share}: {ratio}");
            }
            (ratio, feed) => assert!(ratio == feed, "{share}: {ratio:?}"),
        }
    }
}
