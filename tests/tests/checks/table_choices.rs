//! Which row is chosen, and what is refused: values worked by hand from the printed rows named.

use feeds_core::cutter::End;
use feeds_core::quantity::{Quantity, Velocity, in_mm, mm};
use reference_tables::depth_width::MachineClass;
use reference_tables::kienzle::Fitted;
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::sourced::Band;
use reference_tables::state::StockState;
use reference_tables::{Tables, tables};

const COATED: CutterKind = CutterKind::COATED_CARBIDE;
const UNCOATED: CutterKind = CutterKind::UNCOATED_CARBIDE;

fn all() -> &'static Tables {
    tables().unwrap()
}

#[track_caller]
fn state(stock: &str, condition: &str) -> StockState<'static> {
    all()
        .state(all().material(stock).unwrap(), Some(condition), None)
        .unwrap()
}

#[track_caller]
fn measured(stock: &str, hardness: &str) -> StockState<'static> {
    let hardness = hardness.parse().unwrap();
    all()
        .state(all().material(stock).unwrap(), None, Some(hardness))
        .unwrap()
}

#[track_caller]
fn near(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs(),
        "{got} is not {expected}"
    );
}

fn m_min(v: Velocity) -> f64 {
    v.si() * 60.0
}

#[track_caller]
fn speed(state: &StockState<'_>, kind: CutterKind, cut: CutKind) -> (f64, f64, String) {
    let choice = all().speed(state, kind, cut).unwrap();
    (
        m_min(choice.value.least),
        m_min(choice.value.most),
        choice.row.origin.source,
    )
}

fn n_mm2(pair: Fitted) -> f64 {
    pair.pair.kc11.si() / 1e6
}

#[test]
fn forces_of_contradicting_sources_stand_side_by_side() {
    // two editions of one catalogue: 1245/0.24 (2022), 2110/0.22 (2017); and 1370/0.21
    let choice = all().kienzle(&state("Ti64", "annealed")).unwrap();
    // the force law plans with 1280/0.21, 1370 times 0.93, and keeps all three beside it
    near(n_mm2(choice.value), 1280.0);
    let kept: Vec<f64> = choice.kept.iter().map(|(p, _)| n_mm2(*p).round()).collect();
    assert!(
        [1245.0, 1370.0, 2110.0].iter().all(|k| kept.contains(k)),
        "{kept:?}"
    );
    // D2: group 10 prints 2450/0.23; the book's D6, 1820/0.26, is in the middle of five rows
    let choice = all().kienzle(&measured("D2", "200 HB")).unwrap();
    near(n_mm2(choice.value), 1820.0);
    let (_, beside) = choice
        .kept
        .iter()
        .find(|(p, _)| (n_mm2(*p) - 2450.0).abs() < 0.5)
        .unwrap();
    assert!(
        beside.origin.note.contains("not planned with: 26 %"),
        "{beside:?}"
    );
    // C45: 2220/0.14 against 1680/0.26, both kept beside the printed 1500/0.22
    let choice = all().kienzle(&state("1045", "annealed")).unwrap();
    near(n_mm2(choice.value), 1500.0);
    let kept: Vec<f64> = choice.kept.iter().map(|(p, _)| n_mm2(*p).round()).collect();
    assert!(kept.contains(&2220.0) && kept.contains(&1680.0), "{kept:?}");
}

#[test]
fn a_row_known_to_be_too_low_is_taken_last() {
    // aluminium bronze: the printed brass row (700/0.27) is far too low
    let choice = all().kienzle(&state("ALB", "wrought")).unwrap();
    near(n_mm2(choice.value), 1500.0);
    assert!(choice.weak);
    // powder stainless: the groups' speeds are too high, common practice says half of D2
    let (least, most, source) = speed(&state("PM-HV-SS", "annealed"), COATED, CutKind::Side);
    near(least, 45.0);
    near(most, 80.0);
    assert_eq!(source, "CP");
}

#[test]
fn force_between_two_rows_is_interpolated() {
    // groups 4 and 5: 1700 at 220 HB, 1900 at 300 HB, both 0.24; at 260 HB 1800
    let choice = all().kienzle(&measured("1095", "260 HB")).unwrap();
    near(n_mm2(choice.value), 1800.0);
    near(choice.value.pair.m_c, 0.24);
}

#[test]
fn the_pair_says_for_which_chip_it_holds() {
    let pair = all().kienzle(&state("1018", "hot rolled")).unwrap().value;
    near(in_mm(pair.h.least), 0.05);
    // group 1 at h = 0.02 and 0.05 mm: 3070 and 2533 N/mm2, as tabulated to the whole number
    assert!((pair.pair.k_c(mm(0.02)).si() / 1e6 - 3070.0).abs() < 0.5);
    assert!((pair.pair.k_c(mm(0.05)).si() / 1e6 - 2533.0).abs() < 0.5);
}

#[test]
fn layered_steel_is_a_mixture() {
    let billet = measured("PATTERN", "220 HB");
    // 1095 at 220 HB: 1700 (group 4); 15N20: between 1775 at 200 and 1675 at 275 HB 1748.33
    let hard = all().kienzle(&billet).unwrap();
    near(n_mm2(hard.value), 1775.0 - 100.0 * 20.0 / 75.0);
    // by volume 0.6 and 0.4, both with 0.24: the mean is 0.6 · 1700 + 0.4 · 1748.33
    let mean = all().kienzle_and_mean(&billet).unwrap().1.unwrap();
    near(
        n_mm2(mean.value),
        0.6 * 1700.0 + 0.4 * (1775.0 - 100.0 * 20.0 / 75.0),
    );
    near(mean.value.pair.m_c, 0.24);
    assert_eq!(all().layers(&billet).unwrap().len(), 2);
    // speed: 1095 at 220 HB between 120-140 (200 HB) and 100-130 (250 HB): 112-136, of which
    // 0.8 to 0.9
    let choice = all().speed(&billet, COATED, CutKind::Side).unwrap();
    near(m_min(choice.value.least), 0.8 * 112.0);
    near(m_min(choice.value.most), 0.9 * 136.0);
    assert!(choice.weak);
}

#[test]
fn speed_between_two_rows_is_interpolated() {
    // Sandvik Coromant p. D 155: 100-130 at 250 HB, 90-120 at 300 HB; at 275 HB 95-125
    let (least, most, source) = speed(&measured("1095", "275 HB"), COATED, CutKind::Slot);
    near(least, 95.0);
    near(most, 125.0);
    assert_eq!(source, "SAND");
    // Machinery's Handbook ranges 175-225 HB (23) and 225-275 HB (18) leave no gap
    let choice = all()
        .speed(&measured("1095", "240 HB"), CutterKind::HSS, CutKind::Side)
        .unwrap();
    near(m_min(choice.value.start), 18.0);
}

#[test]
fn a_hardness_outside_every_row_is_refused_with_the_nearest_row() {
    let error = all()
        .speed(&measured("1095", "62 HRC"), CutterKind::HSS, CutKind::Side)
        .unwrap_err();
    // the last row for this steel: 375-425 HB, 15 ft/min
    assert!(
        error.nearest.as_ref().unwrap().contains("375-425 HB"),
        "{error}"
    );
    assert!(
        error.nearest.as_ref().unwrap().contains("5 m/min"),
        "{error}"
    );
}

#[test]
fn uncoated_carbide_without_a_row_is_a_weak_share_of_coated() {
    // 1045 at 200 HB: coated 120-140 m/min, shop rule 0.6 to 0.75
    let choice = all()
        .speed(&measured("1045", "200 HB"), UNCOATED, CutKind::Slot)
        .unwrap();
    near(m_min(choice.value.least), 0.6 * 120.0);
    near(m_min(choice.value.most), 0.75 * 140.0);
    assert!(choice.weak);
    // 1095 has a printed row: 46-76 m/min up to 35 HRC
    let (least, most, source) = speed(&measured("1095", "200 HB"), UNCOATED, CutKind::Slot);
    near(least, 46.0);
    near(most, 76.0);
    assert_eq!(source, "GWS");
}

#[test]
fn turning_drilling_and_face_milling_never_start_a_mill() {
    // nickel silver has HSS speeds for turning only
    let nickel_silver = state("NS", "hard C770");
    assert!(
        all()
            .speed(&nickel_silver, CutterKind::HSS, CutKind::Side)
            .is_err()
    );
    // O1: drilling 14 m/min and turning rows exist, the end-mill rows say 15
    let choice = all()
        .speed(&state("O1", "annealed"), CutterKind::HSS, CutKind::Side)
        .unwrap();
    near(m_min(choice.value.start), 15.0);
    assert!(
        choice
            .kept
            .iter()
            .all(|(_, row)| row.origin.source != "PROTO")
    );
}

#[test]
fn disagreeing_speeds_widen_the_band() {
    // 1095 at 207 HB: 160-240 in one catalogue, 70-160 in another
    let choice = all()
        .speed(&state("1095", "annealed"), COATED, CutKind::Side)
        .unwrap();
    let wide: Band<Velocity> = choice.widened();
    assert!(m_min(wide.least) <= 70.1 && m_min(wide.most) >= 239.9);
    assert!(wide.least <= choice.value.least && choice.value.most <= wide.most);
}

#[test]
fn a_single_printed_speed_gets_a_band() {
    // 304 with HSS: 18 m/min, a quarter either way
    let choice = all()
        .speed(&measured("304", "150 HB"), CutterKind::HSS, CutKind::Side)
        .unwrap();
    near(m_min(choice.value.least), 13.5);
    near(m_min(choice.value.most), 22.5);
}

#[test]
fn feeds_follow_the_diameter() {
    let feed = |stock: &StockState<'_>, kind, d: f64, cut| {
        all()
            .feed_per_tooth(stock, kind, mm(d), cut, End::Square)
            .unwrap()
            .map(|f| f.band)
    };
    // group 4: 0.003 to 0.008 D, start 0.004
    let steel = state("1095", "annealed");
    for d in [1.0, 2.0, 5.0, 10.0] {
        let choice = feed(&steel, COATED, d, CutKind::Slot);
        near(in_mm(choice.value.least), 0.003 * d);
        near(in_mm(choice.value.start), 0.004 * d);
        near(in_mm(choice.value.most), 0.008 * d);
    }
    // bronze has only the row for every stock: 0.014 at 6 mm, 0.020 at 8 mm in a slot; at 7 mm
    // 0.017; weak, its columns are unclear
    let bronze = feed(&state("PB", "hard"), COATED, 7.0, CutKind::Slot);
    near(in_mm(bronze.value.start), 0.017);
    assert!(bronze.weak);
    let brass = state("C360", "half hard");
    // uncoated in bronze: 0.001 in at 1/8 in; below it in proportion, and weak
    let choice = feed(&state("PB", "hard"), UNCOATED, 25.4 / 16.0, CutKind::Slot);
    near(in_mm(choice.value.start), 0.0127);
    assert!(choice.weak);
    // above the largest row: refused
    assert!(
        all()
            .feed_per_tooth(&brass, UNCOATED, mm(20.0), CutKind::Slot, End::Square)
            .is_err()
    );
}

#[test]
fn ten_feet_a_minute_is_far_over_the_band() {
    // 10 ft/min, four edges, 4400 1/min: 3048 / (4 · 4400) = 0.1732 mm, 6 mm cutter in a slot
    let f_z = 3048.0 / (4.0 * 4400.0);
    for stock in [state("1018", "hot rolled"), state("1095", "annealed")] {
        let choice = all()
            .feed_per_tooth(&stock, COATED, mm(6.0), CutKind::Slot, End::Square)
            .unwrap()
            .map(|f| f.band);
        let wide = choice.widened();
        assert!(
            f_z > 2.5 * in_mm(wide.most),
            "{} against {f_z}",
            in_mm(wide.most)
        );
    }
}

#[test]
fn stocks_rank_as_the_trade_knows_them() {
    // mild steel before layered high-carbon steel before stainless tool steel, in speed
    let start = |stock: &StockState<'_>| {
        m_min(
            all()
                .speed(stock, COATED, CutKind::Side)
                .unwrap()
                .value
                .start,
        )
    };
    let mild = start(&measured("1018", "120 HB"));
    let layered = start(&measured("PATTERN", "220 HB"));
    let stainless = start(&measured("440C", "230 HB"));
    assert!(
        mild > layered && layered > stainless,
        "{mild} {layered} {stainless}"
    );
    // 138 m/min (10 mm at 4400 1/min) works in carbon steel with coated carbide
    let wide = all()
        .speed(&measured("1045", "200 HB"), COATED, CutKind::Side)
        .unwrap();
    assert!(m_min(wide.value.least) < 138.3 && 138.2 < m_min(wide.value.most));
}

#[test]
fn every_stock_can_be_cut_in_its_softest_condition() {
    for material in &all().materials {
        let condition = &material.conditions[0].name;
        let stock = all().state(material, Some(condition), None).unwrap();
        let id = &material.id;
        assert!(all().kienzle(&stock).is_ok(), "{id}");
        assert!(all().kienzle_and_mean(&stock).is_ok(), "{id}");
        for cut in [CutKind::Slot, CutKind::Side, CutKind::Finish] {
            for kind in [COATED, UNCOATED] {
                assert!(
                    all().speed(&stock, kind, cut).is_ok(),
                    "{id} {kind:?} {cut:?}"
                );
                for d in [1.0, 1.5875, 3.0, 6.35, 9.525] {
                    let feed = all().feed_per_tooth(&stock, kind, mm(d), cut, End::Square);
                    assert!(feed.is_ok(), "{id} {kind:?} {d}: {feed:?}");
                }
            }
            assert!(
                all().depth_width(&stock, MachineClass::Light, cut).is_ok(),
                "{id}"
            );
        }
        assert!(all().ramp_angle(&stock).is_some(), "{id}");
        assert!(all().chip_floor(&stock).is_some(), "{id}");
    }
}
