//! Finding stocks, states, cutters, machines and holds, and the small tables.

use feeds_core::cutter::CutterMaterial;
use feeds_core::quantity::{Length, Quantity, in_mm, mm};
use reference_tables::corrections::ForcePart;
use reference_tables::error::{NameFit, NotFound};
use reference_tables::hardness::{Hardness, Scale};
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::state::StockState;
use reference_tables::{Tables, tables};

const COATED: CutterKind = CutterKind::COATED_CARBIDE;

fn all() -> &'static Tables {
    tables().unwrap()
}

#[track_caller]
fn state(stock: &str, condition: &str) -> StockState<'static> {
    let stock = all().material(stock).unwrap();
    all().state(stock, Some(condition), None).unwrap()
}

fn several(error: &NotFound) -> bool {
    error.fit == NameFit::Several
}

#[track_caller]
fn near(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs(),
        "{got} is not {expected}"
    );
}

#[test]
fn stocks_are_found_by_every_designation() {
    for (name, id) in [
        ("1095", "1095"),
        ("G10950", "1095"),
        ("C100S", "1095"),
        ("1.1274", "1095"),
        ("15n20", "15N20"),
        ("75Ni8", "15N20"),
        ("1.5634", "15N20"),
        ("C45", "1045"),
        ("S30400", "304"),
        ("X5CrNi18-10", "304"),
        ("1.4301", "304"),
        ("T30402", "D2"),
        ("ti-6al-4v", "Ti64"),
        ("R56400", "Ti64"),
        ("CW603N", "C360"),
        ("layered", "PATTERN"),
        ("pattern-welded", "PATTERN"),
        ("FR-4", "G10"),
        ("cartridge brass", "C260"),
    ] {
        let found = all().material(name).map(|m| m.id.as_str());
        assert_eq!(found, Ok(id), "{name}");
    }
}

#[test]
fn an_unknown_stock_names_the_nearest() {
    let error = all().material("1905").unwrap_err();
    assert_eq!(error.fit, NameFit::Near);
    assert!(error.offers.iter().any(|o| o.take == "1095"), "{error}");
    assert!(error.to_string().contains("«1905»"));
    let error = all().material("high-carbon steel").unwrap_err();
    assert!(several(&error) && error.offers.len() >= 4, "{error}");
    assert!(all().material("").is_err());
}

#[test]
fn a_phrase_that_begins_names_does_not_offer_what_only_has_its_words() {
    // «1 mm square, 2 edges» has the 2, the mm and the square of «2 mm square»
    let error = all().cutter("2 mm square").unwrap_err();
    assert!(several(&error) && error.offers.len() == 3, "{error}");
    for offer in &error.offers {
        assert!(offer.take.starts_with("2 mm square, "), "{error}");
    }
    // words that begin no name are still found anywhere
    let error = all().cutter("square 2 mm uncoated").unwrap_err();
    assert!(several(&error), "{error}");
}

/// `50%` and `e` were taken as a machine, and `z!!%` was several stocks.
#[test]
fn a_sign_or_two_from_the_middle_of_a_word_call_nothing() {
    for name in ["50%", "500%", "e", "nc", "%", "", "il"] {
        let error = all().machine(name).unwrap_err();
        assert!(
            !several(&error) && error.offers.len() == 3,
            "{name}: {error}"
        );
    }
    for name in ["z!!%", "z", "'", "095!!"] {
        let error = all().material(name).unwrap_err();
        assert_eq!((error.fit, error.offers.len()), (NameFit::Far, 0), "{name}");
    }
    // Three letters or digits from anywhere, or the start of a word.
    for name in ["enc", "500", "b", "be", "5"] {
        let found = all().machine(name).map(|m| m.value.key.as_str());
        assert_eq!(found, Ok("bench-5000"), "{name}");
    }
}

#[test]
fn an_unknown_condition_is_never_guessed() {
    let steel = all().material("1095").unwrap();
    for condition in [
        None,
        Some("as forged"),
        Some("as-forged"),
        Some("unknown"),
        Some(""),
    ] {
        let error = all().state(steel, condition, None).unwrap_err().to_string();
        assert!(
            error.contains("anneal") && error.contains("file"),
            "{error}"
        );
    }
    let error = all()
        .state(steel, Some("T6"), None)
        .unwrap_err()
        .to_string();
    assert!(error.contains("annealed, normalised"), "{error}");
    // as quenched, 64-67 HRC: no conversion and no row
    let error = all()
        .state(steel, Some("as quenched"), None)
        .unwrap_err()
        .to_string();
    assert!(error.contains("temper"), "{error}");
    // a billet of known hardness needs no name
    let forged = all()
        .state(steel, Some("as forged"), Some(Hardness::hb(290.0)))
        .unwrap();
    assert_eq!(forged.condition.unwrap().name, "normalised");
}

#[test]
fn a_hardness_is_read_with_its_scale() {
    assert_eq!("58 HRC".parse(), Ok(Hardness::hrc(58.0)));
    assert_eq!("200HB".parse(), Ok(Hardness::hb(200.0)));
    for text in [
        "",
        "58",
        "HRC",
        "-3 HRC",
        "NaN HRC",
        "inf HB",
        "58 furlongs",
        "1e400 HB",
    ] {
        let error = text.parse::<Hardness>().unwrap_err();
        assert!(error.contains("200 HB or 58 HRC"), "{error}");
    }
}

#[test]
fn hardness_converts_as_in_astm_e140() {
    // ASTM E140 table 1 (HRC, HBW) and table 2 (HRB, HB)
    for (hrc, hb) in [
        (20.0, 226.0),
        (30.0, 286.0),
        (40.0, 371.0),
        (50.0, 481.0),
        (58.0, 615.0),
    ] {
        assert_eq!(all().brinell(Hardness::hrc(hrc)), Some(hb));
        near(all().rockwell_c(hb).unwrap(), hrc);
    }
    for (hrb, hb) in [("60 HRB", 107.0), ("80 HRB", 150.0), ("100 HRB", 240.0)] {
        assert_eq!(all().brinell(hrb.parse().unwrap()), Some(hb));
    }
    // between rows: 327 HB at 35 HRC (E. Isakov, Cutting Tool Engineering, July 2010)
    let hb = all().brinell(Hardness::hrc(35.0)).unwrap();
    assert!((hb - 327.0).abs() < 1.0, "{hb}");
    // table 2: 60 to 100 HRB have one number in Brinell and Vickers; table 1 above it
    for (hb, hv) in [
        (107.0, 107.0),
        (165.0, 165.0),
        (240.0, 240.0),
        (247.0, 260.0),
        (286.0, 302.0),
        (654.0, 697.0),
        (688.0, 746.0),
        (722.0, 800.0),
    ] {
        near(all().vickers(hb).unwrap(), hv);
        let back = Hardness {
            number: hv,
            scale: Scale::Hv,
        };
        near(all().brinell(back).unwrap(), hb);
    }
    assert_eq!(all().vickers(723.0), None);
    assert_eq!(all().brinell("801 HV".parse().unwrap()), None);
    for outside in ["19 HRC", "65 HRC", "59 HRB", "100 HRM"] {
        assert_eq!(all().brinell(outside.parse().unwrap()), None, "{outside}");
    }
}

#[test]
fn a_vickers_hardness_below_238_was_refused() {
    let steel = all().material("A2").unwrap();
    let state = all().state(steel, None, Some("220 HV".parse().unwrap()));
    let state = state.unwrap();
    assert_eq!(state.brinell, Some(220.0)); // ASTM E140 table 2
    assert_eq!(state.condition.unwrap().name, "annealed");
    // softer than the rows the number is taken over
    assert_eq!(all().brinell("60 HV".parse().unwrap()), Some(60.0));
    assert_eq!(all().vickers(33.0), Some(33.0));
}

#[test]
fn brinell_and_vickers_rise_together() {
    let mut softer = 0.0;
    for half in 20..=1444 {
        let hb = f64::from(half) / 2.0;
        let hv = all().vickers(hb).unwrap();
        assert!(hv > softer, "{hb} HB: {hv}, softer {softer}");
        let back = Hardness {
            number: hv,
            scale: Scale::Hv,
        };
        near(all().brinell(back).unwrap(), hb);
        softer = hv;
    }
}

#[test]
fn edge_radius_and_chip_floor() {
    let um = |l: Length| in_mm(l) * 1000.0;
    // Klocke (from memory): coated 3-12 mm 6-15 um; Vogler: micro carbide 1-5 um
    let coated = all().edge_radius(COATED, mm(6.0)).unwrap();
    near(um(coated.value.least), 6.0);
    near(um(coated.value.most), 15.0);
    let small = all().edge_radius(COATED, mm(2.0)).unwrap();
    // between the planning value for small coated cutters, 5-12, and 6-15
    near(um(small.value.least), 5.0);
    near(um(small.value.start), 10.0);
    near(um(small.value.most), 15.0);
    assert!(small.weak && small.kept.len() == 2);
    // the force law: up to 1 mm 5 um uncoated and 8 um coated, weak; Vogler's 2 and 5 um stay
    for (kind, least, start, most) in [
        (CutterKind::UNCOATED_CARBIDE, 3.0, 5.0, 8.0),
        (COATED, 5.0, 8.0, 12.0),
    ] {
        for d in [0.5, 1.0] {
            let choice = all().edge_radius(kind, mm(d)).unwrap();
            near(um(choice.value.least), least);
            near(um(choice.value.start), start);
            near(um(choice.value.most), most);
            assert!(choice.weak);
        }
    }
    let bare = all()
        .edge_radius(CutterKind::UNCOATED_CARBIDE, mm(0.5))
        .unwrap();
    assert_eq!(bare.kept[0].1.origin.source, "VOG");
    assert!(all().edge_radius(COATED, mm(40.0)).is_err());
    // λ: 0.3 within 0.2 to 0.4; 0.4 for austenitic stainless; brass keeps the measured 0.6-0.68
    let floor = |s: &StockState<'_>| all().chip_floor(s).unwrap();
    near(floor(&state("1095", "annealed")).value.start.si(), 0.3);
    near(floor(&state("304", "annealed")).value.start.si(), 0.4);
    let brass = floor(&state("C260", "hard"));
    assert!(
        brass
            .kept
            .iter()
            .any(|(b, _)| (b.most.si() - 0.68).abs() < 1e-12)
    );
}

#[test]
fn cutter_strength_life_and_corrections() {
    let gpa = |c: CutterMaterial| all().modulus(c).unwrap().value.map(|e| e.si() / 1e9);
    // grade sheets (from memory): carbide of 8-10 % Co 570-600 GPa, HSS M2 210-225
    near(gpa(CutterMaterial::Carbide).least, 570.0);
    near(gpa(CutterMaterial::Hss).most, 225.0);
    let trs = all()
        .rupture_strength(CutterMaterial::Carbide)
        .unwrap()
        .value;
    near(trs.least.si() / 1e6, 3500.0);
    near(all().equivalent_diameter().unwrap().value.start.si(), 0.8);
    near(all().core_diameter().unwrap().value.start.si(), 0.65);
    // Taylor: 0.25 planned, the textbook's 0.4-0.6 kept
    let n = all().taylor_exponent(COATED).unwrap();
    near(n.value.start.si(), 0.25);
    assert!(
        n.kept
            .iter()
            .any(|(b, _)| (b.most.si() - 0.6).abs() < 1e-12)
    );
    near(
        all()
            .taylor_exponent(CutterKind::HSS)
            .unwrap()
            .value
            .start
            .si(),
        0.125,
    );
    // Klocke: 1.3 to 1.5 when worn
    near(all().wear_factor(true).unwrap().value.most.si(), 1.5);
    near(all().wear_factor(false).unwrap().value.start.si(), 1.0);
    near(all().rake_share().unwrap().value.most.si(), 0.015);
    // Machinery's Handbook table 2: 1.4 at 0.05 mm, 1.25 at 0.1 mm, 1.0 at 0.3 mm
    near(all().feed_factor(mm(0.05)).unwrap(), 1.4);
    near(all().feed_factor(mm(0.3)).unwrap(), 1.0);
    near(all().feed_factor(mm(0.001)).unwrap(), 1.6);
    assert!(all().force_ratio(ForcePart::Radial).unwrap().weak);
    assert!(all().force_ratio(ForcePart::Axial).unwrap().weak);
}

#[test]
fn generic_machines_cutters_and_holds() {
    for (key, most) in [
        ("bench-5000", 5000.0),
        ("small-10000", 10000.0),
        ("fast-24000", 24000.0),
    ] {
        let machine = all().machine(key).unwrap();
        near(machine.value.spindle_speed.most.in_per_minute(), most);
        assert!(machine.origin.weak, "{key} is invented and must say so");
    }
    for cutter in &all().cutters {
        let c = &cutter.value;
        let d = c.diameter.least;
        assert!(c.flute_length.least < c.stick_out.least, "{}", c.name);
        assert!(c.stick_out.least < c.overall.least, "{}", c.name);
        assert!(
            c.corner_radius
                .as_ref()
                .is_none_or(|r| r.least.si() < d.si() / 2.0),
            "{}",
            c.name
        );
        assert!(c.shank.least.si() >= d.si() - 1e-9, "{}", c.name);
    }
    for size in [
        "1/16 in", "1/8 in", "1 mm", "2 mm", "3 mm", "4 mm", "5 mm", "6 mm", "1/4 in", "3/8 in",
        "10 mm",
    ] {
        for end in ["square", "corner radius", "ball"] {
            let any = all()
                .cutters
                .iter()
                .any(|c| c.value.name.starts_with(&format!("{size} {end}")));
            assert!(any, "{size} {end}");
        }
    }
    assert_eq!(all().hold("vise").unwrap().faces, Some(2));
    for refused in ["tape", "tabs"] {
        let hold = all().hold(refused).unwrap();
        assert!(!hold.accepted && hold.friction.is_none() && hold.why.is_some());
    }
    assert!(
        all().machine("bench-50000").unwrap_err().offers[0]
            .take
            .starts_with("bench-5000")
    );
}

#[test]
fn metal_measured_in_rockwell_m_took_rows_that_print_no_hardness() {
    let nickel = all().material("Ni200").unwrap();
    let measured: Hardness = "100 HRM".parse().unwrap();
    assert!(all().state(nickel, None, Some(measured)).is_err());
    let laminate = all().material("G10").unwrap(); // ASM: 110-115 HRM
    let state = all().state(laminate, None, Some(measured)).unwrap();
    assert_eq!(state.brinell, None);
}

#[test]
fn a_bare_cutter_without_an_edge_radius_was_told_the_row_of_a_coated_one() {
    let too_large = |kind| all().edge_radius(kind, mm(16.0)).unwrap_err().nearest;
    let bare = too_large(CutterKind::UNCOATED_CARBIDE);
    assert_eq!(bare.as_deref(), Some("solid carbide, sharp: 3-8 um")); // KLO, 3-12 mm
    let coated = too_large(COATED);
    assert_eq!(
        coated.as_deref(),
        Some("solid carbide, PVD coated: 6-15 um") // KLO, 3-12 mm
    );
}

#[test]
fn below_the_smallest_diameter_one_row_of_edge_radii_stood_beside_itself() {
    let tiny = all().edge_radius(COATED, mm(0.05)).unwrap();
    assert!(tiny.weak);
    assert_eq!(tiny.kept.len(), 1);
    near(in_mm(tiny.value.start), 0.0085); // CP: 5-12 um from 0.1 mm on
}

#[test]
fn rules_of_thumb_for_high_speed_steel_were_never_taken() {
    let speed = |stock: &str| {
        let stock = all().material(stock).unwrap();
        let state = all().state(stock, None, Some(Hardness::hb(200.0))).unwrap();
        let choice = all().speed(&state, CutterKind::HSS, CutKind::Side).unwrap();
        assert!(choice.weak);
        choice.value.start.si() * 60.0
    };
    near(speed("80CrV2"), 23.0); // 5160 at 175-225 HB: 23 m/min (MHM), times 1 (CP)
    near(speed("15N20"), 23.0 * 0.875); // 1075 at 175-225 HB: 23 m/min, times 0.85 to 0.9
}
