//! What the tables say beside a number: the state a stock is read in, why a hardness cannot be,
//! what is offered, why a row was taken and what is kept beside it. The figures stand in the data
//! files with their sources; 25 HB beyond a range is common practice, 45 HRC is where ISO 513
//! group H begins here.

use feeds_core::cutter::End;
use feeds_core::quantity::{Length, Quantity, mm};
use feeds_core::workpiece::{EdgeTerms, IsoGroup};
use reference_tables::coating::Celsius;

use reference_tables::error::NameFit;
use reference_tables::hardness::{Hardness, Scale};
use reference_tables::kind::{CutKind, CutterKind};
use reference_tables::listing::Listed;
use reference_tables::material::Density;
use reference_tables::sourced::{Basis, Printable};
use reference_tables::state::StockState;
use reference_tables::{Tables, tables};
use serde_json::Value;

fn all() -> &'static Tables {
    tables().unwrap()
}

fn state(stock: &str, condition: Option<&str>, hardness: Option<&str>) -> StockState<'static> {
    let hardness = hardness.map(|text| text.parse::<Hardness>().unwrap());
    let material = all().material(stock).unwrap();
    all().state(material, condition, hardness).unwrap()
}

#[test]
fn a_state_says_what_it_is() {
    let annealed = state("1095", Some("annealed"), None);
    assert_eq!(annealed.words(), "1095 annealed at 207 HB");
    assert_eq!((annealed.measured, annealed.hardened), (false, false));
    assert_eq!(annealed.iso_513(), IsoGroup::P);
    let hard = state("1095", None, Some("60 HRC"));
    assert_eq!((hard.measured, hard.hardened), (true, true));
    assert_eq!(hard.iso_513(), IsoGroup::H);
    // Between two conditions and far from both it has none.
    let alone = (100..700).map(|hb| state("1095", None, Some(&format!("{hb} HB"))));
    let alone = alone.filter(|state| state.condition.is_none());
    let words: Vec<String> = alone.map(|state| state.words()).collect();
    assert!(!words.is_empty());
    for words in words {
        assert!(
            words.starts_with("1095 at ") && words.ends_with(" HB"),
            "{words}"
        );
    }
}

fn clash(stock: &str, condition: &str, hardness: &str) -> Option<String> {
    let material = all().material(stock).unwrap();
    all().contradiction(material, condition, hardness.parse().unwrap())
}

/// 1095 annealed has 185 to 207 HB, W1 annealed 156 to 201 in one source and 150 to 209 in another;
/// each is taken 25 HB further.
#[test]
fn a_hardness_contradicts_a_condition_from_25_hb_beyond_all_its_ranges() {
    for (stock, inside, outside) in [
        ("1095", "160 HB", "159.9 HB"),
        ("1095", "232 HB", "232.1 HB"),
        ("W1", "125 HB", "124.9 HB"),
        ("W1", "234 HB", "234.1 HB"),
    ] {
        assert_eq!(clash(stock, "annealed", inside), None, "{stock} {inside}");
        let why = clash(stock, "annealed", outside);
        assert!(
            why.is_some_and(|w| w.contains("measure again")),
            "{stock} {outside}"
        );
    }
    for condition in ["", " ", "unknown", "as forged"] {
        assert_eq!(clash("1095", condition, "60 HRC"), None, "{condition}");
        assert_eq!(clash("Ti-2", condition, "60 HRC"), None, "{condition}");
    }
}

#[test]
fn a_contradiction_says_the_ranges_what_would_be_right_and_each_source_once() {
    let why = clash("1095", "annealed", "60 HRC").unwrap();
    assert_eq!(why.matches("hardness by ").count(), 1, "{why}");
    let (_, sources) = why.split_once("hardness by ").unwrap();
    assert!(!sources.is_empty(), "{why}");
    // both ranges of the condition are of one source and named once
    assert!(
        why.contains("leave it out") || why.contains("leave the condition out"),
        "{why}"
    );
    let w1 = clash("W1", "annealed", "60 HRC").unwrap();
    assert!(w1.contains("156-201 HB or 150-209 HB"), "{w1}");
    // the second source behind the first, each with its basis
    let (_, sources) = w1.split_once("hardness by ").unwrap();
    assert!(
        sources.contains(", memory and Cutter maker") && sources.ends_with(", printed"),
        "{w1}"
    );
    let o1 = clash("O1", "annealed", "60 HRC").unwrap();
    assert!(o1.contains("183-212 HB or 190 HB (weak)"), "{o1}");
    let (_, sources) = o1.split_once("hardness by ").unwrap();
    let first = sources.split(" and ").next().unwrap();
    assert_eq!(sources.matches(first).count(), 1, "{o1}");
    // No condition of grade 2 has 60 HRC.
    let titanium = clash("Ti-2", "annealed", "500 HB").unwrap();
    assert!(
        titanium.contains("no condition of it in the tables has that"),
        "{titanium}"
    );
}

#[test]
fn a_name_that_is_no_cutter_is_offered_the_five_nearest() {
    let error = all()
        .cutter("3 mm sqare 3 edges AlTiN carbide")
        .unwrap_err();
    assert_eq!(
        (error.fit, error.offers.len()),
        (NameFit::Near, 5),
        "{error}"
    );
    let first = &error.offers[0].take;
    assert!(first.starts_with("3 mm square, 3 edges"), "{error}");
}

/// «2 mm» was one with two edges, too.
#[test]
fn a_size_that_begins_names_is_the_size() {
    let error = all().cutter("2 mm").unwrap_err();
    assert_eq!(error.fit, NameFit::Several);
    let right = |offer: &feeds_core::error::Offer| offer.take.starts_with("2 mm ");
    assert!(error.offers.iter().all(right), "{error}");
    // A number alone may be anything.
    let error = all().cutter("2").unwrap_err();
    assert!(!error.offers.iter().all(right), "{error}");
}

#[test]
fn one_class_is_offered_as_one_and_a_name_of_nothing_as_nothing() {
    let error = all().material("CuNi10Fe1Mn").unwrap_err();
    assert!(error.to_string().contains("Nearest class: NS ("), "{error}");
    let error = all().material("brass unheard").unwrap_err();
    assert!(
        error.to_string().contains("Nearest classes: C360 ("),
        "{error}"
    );
    let error = all().material("elmwood").unwrap_err();
    assert!(error.to_string().ends_with("laminate"), "{error}");
}

#[test]
fn a_page_is_a_page_and_a_clause_a_clause() {
    let shown = all()
        .sources
        .iter()
        .filter_map(|s| Some((s.page.as_deref()?, s.to_string())));
    let (mut clauses, mut pages) = (0, 0);
    for (page, shown) in shown {
        if page.starts_with("clause") {
            clauses += 1;
            assert!(shown.ends_with(&format!(", {page}")), "{shown}");
        } else {
            pages += 1;
            assert!(shown.ends_with(&format!(", p. {page}")), "{shown}");
        }
    }
    assert!(clauses > 0 && pages > 0);
}

fn listed(table: &str) -> Vec<Listed> {
    all().listing().filter(|row| row.table == table).collect()
}

/// The weak rows are found by that word, the others only where a text has it.
#[test]
fn weak_rows_are_found_by_the_word() {
    let holds = |row: &Listed| {
        format!("{row:?}")
            .replace("weak: ", "")
            .to_lowercase()
            .contains("weak")
    };
    for row in listed("entry") {
        assert_eq!(row.has("weak"), row.weak || holds(&row), "{row:?}");
    }
    assert!(listed("entry").iter().any(|row| row.weak));
    assert!(listed("kienzle").iter().any(|row| !row.has("weak")));
}

#[test]
fn a_row_says_its_groups_and_a_ball_that_it_is_one() {
    let kienzle = listed("kienzle");
    let group = |words: &str| kienzle.iter().any(|row| row.condition.starts_with(words));
    assert!(group("VDI 3323 group 1 125 HB"));
    assert!(kienzle.iter().all(|row| !row.condition.ends_with("group")));
    let ball = |row: &&Listed| row.condition.contains(" ball");
    let file: Value =
        serde_json::from_str(include_str!("../../../reference-tables/data/feed.json")).unwrap();
    let rows = file["rows"].as_array().unwrap();
    let balls = rows.iter().filter(|row| row["end"] == "ball");
    let subjects: Vec<&str> = balls.map(|row| row["subject"].as_str().unwrap()).collect();
    let feed = listed("feed");
    assert!(!subjects.is_empty() && feed.iter().any(|row| !ball(&row)));
    for row in feed.iter().filter(ball) {
        assert!(subjects.contains(&row.subject.as_str()), "{row:?}");
    }
    for subject in subjects {
        assert!(
            feed.iter().filter(ball).any(|row| row.subject == subject),
            "{subject}"
        );
    }
}

/// A row that no pass is planned with says why, behind what else there is to it.
#[test]
fn a_row_that_is_only_kept_says_why() {
    let file: Value =
        serde_json::from_str(include_str!("../../../reference-tables/data/kienzle.json")).unwrap();
    let rows = file["rows"].as_array().unwrap();
    let unused = rows.iter().filter(|row| row["unused"].is_object());
    let (mut alone, mut behind) = (0, 0);
    for row in unused {
        let why = format!(
            "not planned with: {}",
            row["unused"]["why"].as_str().unwrap()
        );
        let subject = row["subject"].as_str().unwrap();
        let listed = listed("kienzle");
        let notes = listed
            .iter()
            .filter(|l| l.subject == subject && l.quantity == "k_c1.1");
        let note = notes
            .map(|l| &l.note)
            .find(|note| note.ends_with(&why))
            .unwrap();
        match note.strip_suffix(&why).unwrap() {
            "" => alone += 1,
            before => {
                behind += 1;
                assert!(before.len() > 2 && before.ends_with("; "), "{note}");
            }
        }
    }
    assert!(alone + behind > 0, "{alone} {behind}");
}

/// A sign's row tells what it looks like, and what to do next where the figure does not help.
#[test]
fn the_list_tells_the_next_step_at_a_sign() {
    let file = include_str!("../../../reference-tables/data/signs.json");
    let file: Value = serde_json::from_str(file).unwrap();
    let rows = |key: &str| file[key].as_array().unwrap().clone();
    let listed = listed("signs");
    let mut told = 0;
    for cause in rows("causes") {
        let sign = cause["sign"].as_str().unwrap();
        let named = |row: &Value| row["sign"] == sign;
        let says = rows("signs").into_iter().find(named).unwrap()["says"].clone();
        let subject = format!("{sign}: {}", says.as_str().unwrap());
        let next = cause["next"].as_str().unwrap_or_default();
        told += usize::from(!next.is_empty());
        let fits = |row: &&Listed| row.subject == subject && row.note == next;
        assert!(listed.iter().any(|row| fits(&row)), "{subject} {next}");
    }
    assert!(told > 0);
}

#[test]
fn a_limit_has_its_own_signs() {
    let signs = &all().signs;
    assert!(!signs.limits.is_empty());
    for row in &signs.limits {
        assert_eq!(
            signs.of_limit(&row.limit).map(|found| &found.limit),
            Some(&row.limit)
        );
    }
    assert!(signs.of_limit("no limit").is_none());
}

#[test]
fn a_layered_stock_keeps_the_rows_of_its_layers() {
    let billet = state("PATTERN", None, Some("220 HB"));
    let (hardest, mean) = all().kienzle_and_mean(&billet).unwrap();
    assert!(
        hardest.why.starts_with("the hardest layer decides; "),
        "{}",
        hardest.why
    );
    let mean = mean.unwrap();
    assert_eq!(mean.why, "mean by volume of the layers");
    let subjects: Vec<&str> = mean
        .kept
        .iter()
        .map(|(_, row)| row.subject.as_str())
        .collect();
    assert!(
        subjects.iter().any(|s| s.contains(">= 0.55 % C")),
        "{subjects:?}"
    );
    assert!(
        subjects.iter().any(|s| s.contains("low-alloy")),
        "{subjects:?}"
    );
    let force = all().force_law(&billet).unwrap();
    assert!(
        force.why.starts_with("the hardest layer decides; "),
        "{}",
        force.why
    );
    let hard = state("1095", None, Some("60 HRC"));
    let law = all().force_law(&hard).unwrap();
    assert!(
        law.why.starts_with("the row is for steel from 45 HRC up"),
        "{}",
        law.why
    );
    assert!(matches!(law.value.edge, EdgeTerms::Ploughing { .. }));
    let soft = all()
        .force_law(&state("1095", Some("annealed"), None))
        .unwrap();
    assert!(
        soft.why.starts_with("the row is for its class"),
        "{}",
        soft.why
    );
}

/// An uncoated cutter of carbide without a row takes those of a coated one, and says so.
#[test]
fn a_borrowed_row_says_that_it_is() {
    let states = all().materials.iter().flat_map(|material| {
        let conditions = material.conditions.iter();
        conditions.filter_map(|c| all().state(material, Some(&c.name), None).ok())
    });
    let mut borrowed = 0;
    for stock in states {
        for cut in [CutKind::Slot, CutKind::Side, CutKind::Finish] {
            let feed = |kind| all().feed_per_tooth(&stock, kind, mm(6.0), cut, End::Square);
            let own = feed(CutterKind::UNCOATED_CARBIDE);
            let coated = feed(CutterKind::COATED_CARBIDE);
            if let (Ok(own), Ok(coated)) = (own, coated)
                && own
                    .why
                    .starts_with("no row for uncoated carbide: coated taken; ")
            {
                borrowed += 1;
                assert!(own.weak && own.row == coated.row, "{}", stock.words());
            }
        }
    }
    assert!(borrowed > 0);
}

/// Of several conditions that have a hardness the first of the stock's row is taken: 350 HB is
/// solution treated (320 to 363) and H1025 (331 to 401).
#[test]
fn of_conditions_that_share_a_hardness_the_first_is_taken() {
    let of = |hardness| state("17-4PH", None, Some(hardness)).condition.unwrap();
    assert_eq!(of("350 HB").name, "solution treated");
    assert_eq!(of("390 HB").name, of("389 HB").name);
}

/// Softer than its softest condition (185 HB annealed) a stock is read as that.
#[test]
fn a_stock_that_is_too_soft_is_read_as_its_softest() {
    let soft = state("1095", None, Some("165 HB"));
    let speed = all()
        .speed(&soft, CutterKind::COATED_CARBIDE, CutKind::Side)
        .unwrap();
    assert!(
        speed
            .why
            .starts_with("read as 1095 annealed at 185 HB, its softest; "),
        "{}",
        speed.why
    );
    let own = state("1095", None, Some("185 HB"));
    let own = all()
        .speed(&own, CutterKind::COATED_CARBIDE, CutKind::Side)
        .unwrap();
    assert_eq!((speed.value, speed.row), (own.value, own.row));
}

/// Smooth steel on steel: the least of the row, and nothing for surfaces that no row has.
#[test]
fn friction_is_that_of_the_surfaces() {
    let file = include_str!("../../../reference-tables/data/friction.json");
    let file: Value = serde_json::from_str(file).unwrap();
    let rows = file.as_array().or_else(|| file["rows"].as_array()).unwrap();
    for row in rows {
        let pair = row["pair"].as_str().unwrap();
        let least = row["min"]
            .as_f64()
            .or_else(|| row["value"].as_f64())
            .unwrap();
        let found = all().friction(pair).unwrap();
        assert!((found.value.least.si() - least).abs() < 1e-12, "{pair}");
    }
    assert!(all().friction("glue").is_none());
}

/// 1095 has rows up to 350 HB: a layer of it that is harder takes no less than those, weakly.
#[test]
fn a_layer_harder_than_its_rows_takes_no_less_than_the_hardest() {
    let billet = state("PATTERN", None, Some("400 HB"));
    let (hardest, mean) = all().kienzle_and_mean(&billet).unwrap();
    let why = "the hardest layer decides; no row for 1095 at 400 HB: no less than 1095 at 350 HB; ";
    assert!(hardest.why.starts_with(why), "{}", hardest.why);
    let top = state("1095", None, Some("350 HB"));
    assert_eq!(hardest.value, all().kienzle(&top).unwrap().value);
    assert!(hardest.weak && mean.unwrap().weak);
}

/// A quarter of the way between two figures, whatever is printed.
#[test]
fn between_two_figures_lies_their_mean_by_share() {
    let at = |number, scale| Hardness { number, scale };
    let hardness = Hardness::between(at(100.0, Scale::Hb), at(300.0, Scale::Hb), 0.25);
    assert_eq!(hardness, at(150.0, Scale::Hb));
    assert_eq!(
        Density::between(Density(1000.0), Density(3000.0), 0.25),
        Density(1500.0)
    );
    let warm = Celsius::between(Celsius(100.0), Celsius(300.0), 0.25);
    assert_eq!(warm, Celsius(150.0));
    let length: Length = Printable::between(mm(1.0), mm(3.0), 0.25);
    assert!((length.si() - 1.5e-3).abs() < 1e-15);
    // 1 g/cm3 is 1000 kg/m3
    assert_eq!(Density::measured(7.87, "g/cm3"), Some(Density(7870.0)));
    assert_eq!(Density::measured(7.87, "kg/m3"), None);
    assert!("0 HB".parse::<Hardness>().is_err());
    assert!(Basis::Printed < Basis::Memory);
}
