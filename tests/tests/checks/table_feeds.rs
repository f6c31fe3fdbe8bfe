//! Feeds per tooth a pass starts from: `law.md`, section «Start feed», and the sources it names.

use feeds_core::cutter::End;
use feeds_core::quantity::{Quantity, in_mm, mm};
use reference_tables::choice::Choice;
use reference_tables::feed::FeedChoice;
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::listing::Listed;
use reference_tables::{Tables, tables};

const COATED: CutterKind = CutterKind::COATED_CARBIDE;
const UNCOATED: CutterKind = CutterKind::UNCOATED_CARBIDE;

fn all() -> &'static Tables {
    tables().unwrap()
}

#[track_caller]
fn near(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs(),
        "{got} is not {expected}"
    );
}

#[track_caller]
fn feed(
    (stock, state): (&str, &str),
    kind: CutterKind,
    d: f64,
    (cut, end): (CutKind, End),
) -> Choice<FeedChoice> {
    let stock = all().material(stock).unwrap();
    let state = match state.parse() {
        Ok(hardness) => all().state(stock, None, Some(hardness)),
        Err(_) => all().state(stock, Some(state), None),
    };
    all()
        .feed_per_tooth(&state.unwrap(), kind, mm(d), cut, end)
        .unwrap()
}

#[track_caller]
fn band(choice: &Choice<FeedChoice>, d: f64, [least, start, most]: [f64; 3]) {
    near(in_mm(choice.value.band.least), least * d);
    near(in_mm(choice.value.band.start), start * d);
    near(in_mm(choice.value.band.most), most * d);
}

#[test]
fn a_pass_starts_where_the_rows_say() {
    // law.md: 0.006 D carbon, 0.004 D high-carbon and tool, 0.003 D stainless and titanium (ISCAR
    // 2022 p. 92), brass 0.007 D and aluminium 0.006 D (by the value at 1/8 in), hardened 0.002 D
    for (state, kind, shares) in [
        (("1018", "hot rolled"), COATED, [0.005, 0.006, 0.010]),
        (("1045", "annealed"), COATED, [0.005, 0.006, 0.010]),
        (("1095", "annealed"), COATED, [0.003, 0.004, 0.008]),
        (("L6", "annealed"), COATED, [0.003, 0.004, 0.008]),
        (("52100", "annealed"), COATED, [0.003, 0.004, 0.008]),
        (("440C", "annealed"), COATED, [0.002, 0.003, 0.007]),
        (("304", "annealed"), COATED, [0.002, 0.003, 0.007]),
        (("Ti64", "annealed"), COATED, [0.002, 0.003, 0.004]),
        (("C360", "half hard"), COATED, [0.006, 0.007, 0.010]),
        (("C360", "half hard"), UNCOATED, [0.006, 0.007, 0.010]),
        (("6061", "T6"), UNCOATED, [0.004, 0.006, 0.008]),
    ] {
        for d in [2.0, 3.175, 5.0] {
            let choice = feed(state, kind, d, (CutKind::Side, End::Square));
            band(&choice, d, shares);
            assert!(!choice.value.thinned);
        }
    }
    let hard = feed(("D2", "60 HRC"), COATED, 6.0, (CutKind::Side, End::Square));
    band(&hard, 6.0, [0.0012, 0.002, 0.003]);
}

#[test]
fn ball_ends_in_hardened_steel_have_rows_of_their_own() {
    // OSG 2018-2019 p. 987: finishing 0.010-0.015 mm at 1/32 in, 0.018-0.025 at 1/16 in,
    // 0.025-0.036 at 3/32 in; law.md: 0.013 D finishing, 0.017 D roughing
    for (inch, least, most) in [
        (32.0, 0.010, 0.015),
        (16.0, 0.018, 0.025),
        (32.0 / 3.0, 0.025, 0.036),
    ] {
        let d = 25.4 / inch;
        let choice = feed(("1095", "60 HRC"), COATED, d, (CutKind::Finish, End::Ball));
        band(&choice, d, [0.0105, 0.013, 0.0157]);
        assert!(choice.value.thinned);
        let start = in_mm(choice.value.band.start);
        assert!(least <= start && start <= most, "{start} at {d}");
    }
    let rough = feed(("O1", "58 HRC"), COATED, 2.0, (CutKind::Slot, End::Ball));
    band(&rough, 2.0, [0.016, 0.017, 0.025]);
    // finishing takes its own row, and the other stands beside it
    let finish = feed(("O1", "58 HRC"), COATED, 2.0, (CutKind::Finish, End::Ball));
    near(in_mm(finish.value.band.start), 0.026);
    near(in_mm(finish.kept[0].0.band.start), 0.034);
    // soft steel has no row for balls: that for any end, to be raised for a thin chip
    let soft = feed(
        ("1095", "annealed"),
        COATED,
        2.0,
        (CutKind::Finish, End::Ball),
    );
    band(&soft, 2.0, [0.003, 0.004, 0.008]);
    assert!(!soft.value.thinned);
    // a square end does not take the rows for balls
    let square = feed(
        ("1095", "60 HRC"),
        COATED,
        2.0,
        (CutKind::Finish, End::Square),
    );
    assert!(!square.value.thinned && square.value.band.most < finish.value.band.least);
}

#[test]
fn small_cutters_take_what_tests_used() {
    // brief, trade practice: 0.5 to 1 mm cutters 4 to 8 um; Bagri: six tests of 0.5 mm, 4 to 8 um
    for d in [0.4, 0.5, 1.0] {
        let choice = feed(
            ("Ti64", "annealed"),
            UNCOATED,
            d,
            (CutKind::Slot, End::Square),
        );
        band(&choice, 1.0, [0.004, 0.004, 0.008]);
    }
    // the tenfold disagreement of the makers is told
    let choice = feed(
        ("Ti64", "annealed"),
        UNCOATED,
        0.5,
        (CutKind::Slot, End::Square),
    );
    assert!(choice.row.origin.note.contains("disagree tenfold"));
    let found = |source: &str, value: &str| {
        all()
            .listing()
            .any(|r| r.table == "feed" && r.source == source && r.value == value)
    };
    for value in [
        "0.0005 mm",
        "0.0008-0.0015 mm",
        "0.0018-0.0034 mm",
        "0.0014 mm",
        "0.0022 mm",
        "0.0053 mm",
    ] {
        assert!(found("MICRO1M", value), "{value}");
    }
    assert!(found("BAGRI", "0.004-0.008 mm"));
}

#[test]
fn figures_of_the_shares_as_given() {
    let rows: Vec<Listed> = all()
        .listing()
        .filter(|r| r.quantity == "f_z / D")
        .collect();
    for (words, value) in [
        ("brass 1/8 in", "0.006-0.01 x D, start 0.007"),
        ("aluminium 1/8 in", "0.004-0.008 x D, start 0.006"),
        ("hardened square end", "0.0012-0.003 x D, start 0.002"),
        ("hardened ball finishing", "0.0105-0.0157 x D, start 0.013"),
        ("hardened ball roughing", "0.016-0.025 x D, start 0.017"),
    ] {
        let found: Vec<_> = rows.iter().filter(|r| r.has(words)).collect();
        assert_eq!(found.len(), 1, "{words}");
        assert_eq!(found[0].value, value, "{words}");
    }
}

#[test]
fn a_light_mill_takes_less_depth_or_width_not_less_feed() {
    let choice = all().light_feed_share().unwrap();
    near(choice.value.least.si(), 0.5);
    near(choice.value.most.si(), 0.7);
    assert!(choice.row.subject.contains("depth or width"));
    assert!(choice.row.origin.note.contains("never onto the feed"));
}

#[test]
fn a_cap_by_a_softer_state_raised_the_start_of_a_row() {
    // 1075 annealed has 160-195 HB; at 195 HB group 4 starts at 0.004 D, 0.024 mm; at 160 HB, far
    // from that row, Tungaloy's slot row (0.025-0.04 mm) ends lower but starts at 0.0325
    let choice = feed(
        ("1075", "annealed"),
        COATED,
        6.0,
        (CutKind::Slot, End::Square),
    );
    near(in_mm(choice.value.band.most), 0.040);
    near(in_mm(choice.value.band.start), 0.024);
    near(in_mm(choice.value.band.least), 0.018);
}

#[test]
fn a_share_holds_for_its_diameters_alone() {
    let stock = |name: &str, hardness: &str| {
        let stock = all().material(name).unwrap();
        all()
            .state(stock, None, Some(hardness.parse().unwrap()))
            .unwrap()
    };
    let subject = |name: &str, hardness: &str, d: f64, end| {
        let state = stock(name, hardness);
        let choice = all().feed_per_tooth(&state, COATED, mm(d), CutKind::Finish, end);
        choice.map_or_else(|_| String::new(), |c| c.row.subject)
    };
    // G. W. Schultz prints 1/8 to 1/2 in; the shares are read from 1 mm up
    for (name, hardness, row) in [
        ("C360", "120 HB", "brass, by"),
        ("6061", "95 HB", "aluminium, by"),
    ] {
        assert!(
            subject(name, hardness, 1.1, End::Square).starts_with(row),
            "{name}"
        );
        assert!(
            !subject(name, hardness, 0.99, End::Square).starts_with(row),
            "{name}"
        );
        assert!(
            !subject(name, hardness, 12.8, End::Square).starts_with(row),
            "{name}"
        );
    }
    let hard = "hardened steel, square end";
    assert_eq!(subject("D2", "62 HRC", 20.0, End::Square), hard);
    assert_ne!(subject("D2", "62 HRC", 20.1, End::Square), hard);
    assert_ne!(subject("D2", "62 HRC", 0.99, End::Square), hard);
    let ball = "hardened steel, ball end, finishing";
    assert_eq!(subject("D2", "62 HRC", 0.4, End::Ball), ball);
    assert_ne!(subject("D2", "62 HRC", 0.39, End::Ball), ball);
    assert_eq!(subject("D2", "62 HRC", 6.0, End::Ball), ball);
    assert_ne!(subject("D2", "62 HRC", 6.1, End::Ball), ball);
}
