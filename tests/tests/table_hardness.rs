//! A harder stock never gets a higher limit than a softer one of its kind.
//!
//! The rule is the trade's: hardness costs cutting speed and feed. Nothing here is taken from a
//! row; only answers of one stock are compared with each other.

#![allow(clippy::unwrap_used)] // a test fails by panicking

use feeds_core::quantity::{Quantity, in_mm, mm};
use proptest::prelude::*;
use reference_tables::hardness::Hardness;
use reference_tables::kind::{Cut, CutterKind};
use reference_tables::material::Material;
use reference_tables::state::State;
use reference_tables::{Tables, tables};

const KINDS: [CutterKind; 3] = [
    CutterKind::COATED_CARBIDE,
    CutterKind::UNCOATED_CARBIDE,
    CutterKind::HSS,
];
const CUTS: [Cut; 4] = [Cut::Slot, Cut::Side, Cut::Finish, Cut::Any];

fn all() -> &'static Tables {
    tables().unwrap()
}

/// Highest feed in mm with a cutter of `d` mm; none where the tables have no row.
fn feed(state: &State<'_>, (kind, cut): (CutterKind, Cut), d: f64) -> Option<f64> {
    let choice = all().feed_per_tooth(state, kind, mm(d), cut);
    Some(in_mm(choice.ok()?.value.most))
}

/// Highest cutting speed in m/s; none where the tables have no row.
fn speed(state: &State<'_>, (kind, cut): (CutterKind, Cut)) -> Option<f64> {
    Some(all().speed(state, kind, cut).ok()?.value.most.si())
}

/// States from soft to hard, each with a limit: none is above the one before it.
#[track_caller]
fn falls(what: &str, limits: impl Iterator<Item = (State<'static>, Option<f64>)>) -> usize {
    let known: Vec<_> = limits.filter_map(|(s, l)| Some((s, l?))).collect();
    for pair in known.windows(2) {
        let ((softer, soft), (harder, hard)) = (&pair[0], &pair[1]);
        // Ends of rows are looked at from a millionth of a Brinell beside them.
        assert!(
            softer.brinell == harder.brinell || *hard <= soft * (1.0 + 1e-6),
            "{what}: {} gives {soft}, {} {hard}",
            softer.words(),
            harder.words(),
        );
    }
    known.len()
}

/// Every state the tables or a maker would name: each condition, and hardnesses up a ladder.
fn ladder(material: &'static Material) -> Vec<State<'static>> {
    let named = material
        .conditions
        .iter()
        .filter_map(|c| all().state(material, Some(&c.name), None).ok());
    let brinell = (30..=350).step_by(20).map(|hb| Hardness::hb(f64::from(hb)));
    let rockwell = (36..=64)
        .step_by(2)
        .map(|hrc| Hardness::hrc(f64::from(hrc)));
    let measured = brinell.chain(rockwell);
    let measured = measured.filter_map(|h| all().state(material, None, Some(h)).ok());
    let mut states: Vec<_> = named.chain(measured).collect();
    states.sort_by(|a, b| {
        a.brinell
            .unwrap_or(0.0)
            .total_cmp(&b.brinell.unwrap_or(0.0))
    });
    states
}

#[test]
fn no_stock_is_fed_or_turned_faster_as_it_gets_harder() {
    let mut compared = 0;
    for material in &all().materials {
        let states = ladder(material);
        for (kind, cut) in KINDS.into_iter().flat_map(|k| CUTS.map(|c| (k, c))) {
            let what = format!("{} {cut:?}", kind.words());
            compared += falls(&what, states.iter().map(|s| (*s, speed(s, (kind, cut)))));
            for d in [1.0, 3.175, 6.0] {
                let what = format!("{what} {d} mm");
                compared += falls(&what, states.iter().map(|s| (*s, feed(s, (kind, cut), d))));
            }
        }
    }
    assert!(compared > 20_000, "{compared}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn nor_between_any_two_hardnesses(
        stock in 0..100_usize,
        kind in 0..3_usize,
        cut in 0..4_usize,
        d in 0.5..12.0_f64,
        (a, b) in (25.0..740.0_f64, 25.0..740.0_f64),
    ) {
        let materials = &all().materials;
        let material = &materials[stock % materials.len()];
        let at = |hb: f64| all().state(material, None, Some(Hardness::hb(hb))).unwrap();
        let states = [at(a.min(b)), at(a.max(b))];
        let of = (KINDS[kind], CUTS[cut]);
        falls("speed", states.iter().map(|s| (*s, speed(s, of))));
        falls("feed", states.iter().map(|s| (*s, feed(s, of, d))));
    }
}

#[test]
fn a_row_that_states_no_hardness_is_capped_by_the_row_before_the_gap() {
    // 1095, uncoated, 6 mm: the row to 60 HRC is printed for D 1/4 in with 0.0005 in, the row for
    // every stock for 6 mm with 0.030 mm. At 62 HRC only the second could be read.
    let steel = all().material("1095").unwrap();
    let at = |hrc| all().state(steel, None, Some(Hardness::hrc(hrc))).unwrap();
    let feed = |hrc| {
        all()
            .feed_per_tooth(&at(hrc), CutterKind::UNCOATED_CARBIDE, mm(6.0), Cut::Side)
            .unwrap()
    };
    let (soft, hard) = (feed(60.0), feed(62.0));
    assert_eq!(hard.value, soft.value);
    assert_eq!(hard.row.subject, "steel to 60 HRC");
    assert!(hard.weak);
    assert!(
        hard.why.starts_with("no harder stock takes more"),
        "{}",
        hard.why
    );
    assert!(
        hard.why.contains("all stocks, light side cut"),
        "{}",
        hard.why
    );
    // what was not taken stands beside it
    assert_eq!(hard.kept[0].1.subject, "all stocks, light side cut");
}
