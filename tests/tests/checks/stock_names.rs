//! Stocks by what people type: designations in any spelling, words, slips, names nobody knows.
//!
//! Which designation is which steel is what the standards print: AISI and SAE (J403, J404, J412),
//! UNS (SAE HS-1086), EN 10027-1 and -2 for names and numbers of steels (EN ISO 4957 tool steels,
//! EN 10088-1 stainless, EN 10083 and EN 10132 for the others), EN 573-3 for aluminium, EN 1412
//! for copper alloys, DIN 17007 for the older numbers of metals other than steel.

use feeds_core::error::{EntryError, Offer};
use reference_tables::error::{NameFit, NotFound};
use reference_tables::family::Family;
use reference_tables::tables;

fn found(name: &str) -> Result<&'static str, NotFound> {
    tables().unwrap().material(name).map(|m| m.id.as_str())
}

fn takes(error: &NotFound) -> Vec<&str> {
    error.offers.iter().map(|o| o.take.as_str()).collect()
}

/// What is typed, the stock it is.
#[rustfmt::skip]
const KNOWN: &[(&str, &str)] = &[
    // EN ISO 4957: X153CrMoV12 is 1.2379; AISI D2
    ("1.2379", "D2"), ("W.-Nr. 1.2379", "D2"), ("WNr 1.2379", "D2"), ("DIN 1.2379", "D2"),
    ("X153CrMoV12", "D2"), ("x 153 crmov 12", "D2"), ("X153 CrMoV12", "D2"), ("d2", "D2"),
    ("AISI D2", "D2"), ("D2 tool steel", "D2"), ("T30402", "D2"), ("UNS T30402", "D2"),
    // EN 10088-1: X105CrMo17 is 1.4125; AISI 440C
    ("440C", "440C"), ("440 C", "440C"), ("AISI 440C", "440C"), ("440c stainless", "440C"),
    ("1.4125", "440C"), ("X105CrMo17", "440C"), ("S44004", "440C"),
    ("154", "154CM"), ("154-type", "154CM"), ("14Cr-4Mo", "154CM"),
    // EN ISO 4957: X100CrMoV5 is 1.2363, A2; 95MnWCr5 is 1.2825, O1
    ("1.2363", "A2"), ("X100CrMoV5", "A2"), ("1.2825", "O1"), ("95 MnWCr 5", "O1"),
    ("SAE 1095", "1095"), ("1095 steel", "1095"), ("1095 high carbon", "1095"), ("C100S", "1095"),
    ("C45E", "1045"), ("C 45", "1045"), ("75Ni8", "15N20"), ("100Cr6", "52100"),
    ("SAE 52100", "52100"), ("1.3505", "52100"), ("80 CrV 2", "80CrV2"), ("1.2235", "80CrV2"),
    ("powder steel", "PM-HV-SS"), ("pm-hv-ss", "PM-HV-SS"), ("damascus", "PATTERN"),
    ("layered steel", "PATTERN"), ("pattern welded", "PATTERN"),
    // EN 10088-1
    ("AISI 304", "304"), ("X5CrNi18-10", "304"), ("1.4301", "304"), ("SUS 304", "304"),
    ("AISI 316", "316"), ("304 stainless", "304"),
    ("1.4401", "316"), ("17-4", "17-4PH"), ("17-4 PH", "17-4PH"),
    ("Ti-6Al-4V", "Ti64"), ("Ti6Al4V", "Ti64"), ("ti 6al 4v", "Ti64"), ("grade 5", "Ti64"),
    ("titanium grade 2", "Ti-2"), ("EN AW-6061", "6061"), ("C36000", "C360"),
    ("CW614N", "C360"), ("CuZn30", "C260"), ("1.4305", "303"), ("G-10", "G10"), ("FR4", "G10"),
];

#[test]
fn a_designation_is_found_in_every_spelling() {
    let wrong = KNOWN.iter().filter_map(|(typed, id)| {
        let found = found(typed);
        (found.as_ref() != Ok(id)).then(|| format!("{typed}: {found:?}"))
    });
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is typed, the kind it reads like, a stock that is offered, and what must not be.
type Unknown = (&'static str, Family, &'static [&'static str]);

/// Names that no row has, made up where no standard prints them.
#[rustfmt::skip]
const UNKNOWN: &[Unknown] = &[
    // Letters with digits, as makers name powder steels; these are made up.
    ("K39V", Family::Steel, &["PM-HV-SS", "440C", "D2"]),
    ("Q390", Family::Steel, &["PM-HV-SS", "440C", "D2"]),
    ("XV-35", Family::Steel, &["PM-HV-SS", "440C", "D2"]),
    ("77CV", Family::Steel, &["PM-HV-SS"]),
    ("VH-10", Family::Steel, &["PM-HV-SS", "440C", "D2"]),
    ("420HC", Family::Martensitic, &["440C", "AEB-L"]),
    ("QPM 35VX", Family::Powder, &["PM-HV-SS", "440C", "D2"]),
    ("QPM-154", Family::Powder, &["154CM", "PM-HV-SS"]),
    ("powder D2", Family::Powder, &["D2", "PM-HV-SS"]),
    ("sintered steel", Family::Powder, &["PM-HV-SS"]),
    ("mystery steel", Family::Steel, &["PM-HV-SS", "440C", "D2"]),
    ("layered stainless", Family::LayeredStainless, &["440C", "PM-HV-SS", "PATTERN"]),
    ("stainless damascus", Family::LayeredStainless, &["440C", "PM-HV-SS"]),
    ("clad steel", Family::Layered, &["PATTERN"]),
    // AISI series: 3xx austenitic, 4xx hardens or is ferritic, 63x aged
    ("410", Family::Martensitic, &["440C", "416"]),
    ("420", Family::Martensitic, &["440C", "AEB-L"]),
    ("440A", Family::Martensitic, &["440C"]),
    ("409", Family::Martensitic, &["416"]),
    ("201", Family::Austenitic, &["304"]),
    ("204", Family::Austenitic, &["304"]),
    ("AISI 321", Family::Austenitic, &["304", "316"]),
    ("316L", Family::Austenitic, &["316", "304"]),
    ("15-5 PH", Family::PrecipitationHardening, &["17-4PH"]),
    // UNS: S4 martensitic or ferritic, S3 austenitic, T113 molybdenum high-speed steel
    ("S42000", Family::Martensitic, &["440C"]),
    ("S32100", Family::Austenitic, &["304"]),
    ("T11302", Family::HighSpeed, &["D2"]),
    // EN 10027-2: 1.20 to 1.28 tool steels, 1.32 and 1.33 high-speed, 1.40 and 1.41 chromium
    // stainless, 1.43 and 1.44 chromium-nickel, 1.45 with special additions
    ("1.4116", Family::Martensitic, &["440C", "AEB-L"]),
    ("W.-Nr. 1.4034", Family::Martensitic, &["440C"]),
    ("1.4404", Family::Austenitic, &["316"]),
    ("1.4571", Family::Austenitic, &["316"]),
    ("1.4568", Family::PrecipitationHardening, &["17-4PH"]),
    ("1.2842", Family::Tool, &["O1"]),
    ("1.3343", Family::HighSpeed, &["D2", "PM-HV-SS"]),
    ("1.7225", Family::LowAlloy, &["5160"]),
    ("1.0037", Family::Mild, &["1018"]),
    // EN 10027-1: carbon in hundredths of a per cent, then the elements
    ("X46Cr13", Family::Martensitic, &["AEB-L"]),
    ("X50CrMoV15", Family::Martensitic, &["440C"]),
    ("X90CrMoV18", Family::Martensitic, &["440C"]),
    ("X38CrMoV5-1", Family::Tool, &["A2"]),
    ("X210Cr12", Family::Tool, &["D2"]),
    ("X2CrNiMo17-12-2", Family::Austenitic, &["316"]),
    ("X7CrNiAl17-7", Family::PrecipitationHardening, &["17-4PH"]),
    ("HS6-5-2", Family::HighSpeed, &["D2"]),
    ("90MnCrV8", Family::Tool, &["O1"]),
    ("42CrMo4", Family::LowAlloy, &["5160"]),
    ("100CrMo7", Family::Bearing, &["52100"]),
    ("Ck67", Family::HighCarbon, &["1075"]),
    ("C60", Family::HighCarbon, &["1075"]),
    ("S355J2", Family::Mild, &["1018"]),
    // GB/T 20878 begins with tenths of a per cent of carbon
    ("9Cr18MoV", Family::Martensitic, &["440C"]),
    // SAE J403 and J404, ASTM A36, AISI letters of tool steels
    ("4140", Family::LowAlloy, &["5160"]),
    ("8620", Family::LowAlloy, &["5160"]),
    ("12L14", Family::Mild, &["1018"]),
    ("1060", Family::HighCarbon, &["1075"]),
    ("A36", Family::Mild, &["1018"]),
    ("S7", Family::Tool, &["A2"]),
    ("H13", Family::Tool, &["A2"]),
    ("M2", Family::HighSpeed, &["D2"]),
    // EN 573-3
    ("7075", Family::Aluminium, &["6061"]),
    ("6061-T6", Family::Aluminium, &["6061"]),
    ("7075-T6", Family::Aluminium, &["6061"]),
    ("EN AW-2024", Family::Aluminium, &["6061", "2011"]),
    ("5052-H32", Family::Aluminium, &["6061"]),
    ("AlMgSi1", Family::Aluminium, &["6061"]),
    ("aluminum 7075", Family::Aluminium, &["6061"]),
    // EN 1412: L to P brass, K tin bronze, J nickel silver; UNS C1 copper, C2 to C4 brass
    ("CW508L", Family::Brass, &["C260"]),
    ("CuZn37", Family::Brass, &["C260"]),
    ("C353", Family::Brass, &["C360"]),
    ("naval brass", Family::Brass, &["C360"]),
    ("CuSn6", Family::Bronze, &["PB"]),
    ("CuNi12Zn24", Family::NickelSilver, &["NS"]),
    ("C10200", Family::Copper, &["Cu"]),
    // DIN 17007, ASTM B348
    ("3.7035.1 titanium", Family::Titanium, &["Ti-2"]),
    ("titanium grade 9", Family::Titanium, &["Ti64"]),
    ("Ti-3Al-2.5V", Family::Titanium, &["Ti64"]),
    ("2.4360", Family::Nickel, &["Ni200"]),
];

/// A powder steel was offered brass, `410` was nickel silver (CW410J).
#[test]
fn a_name_nobody_knows_is_offered_its_own_kind() {
    assert!(UNKNOWN.len() >= 40);
    let wrong: Vec<String> = UNKNOWN.iter().filter_map(wrong_offer).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is wrong with what is offered for a name nobody knows.
fn wrong_offer((typed, family, offered): &Unknown) -> Option<String> {
    let tables = tables().unwrap();
    let error = match found(typed) {
        Ok(id) => return Some(format!("{typed} is {id}")),
        Err(error) => error,
    };
    let text = error.to_string();
    let takes = takes(&error);
    let steel = family.word().contains("steel");
    let own_kind = |offer: &Offer| {
        let row = tables.material(&offer.take).unwrap();
        let class = format!("{:?}", row.class);
        let ferrous = ["Steel", "Stainless", "Hardening"];
        let ferrous = ferrous.iter().any(|word| class.contains(word));
        row.id == offer.take && !offer.what.is_empty() && ferrous == steel
    };
    let right = error.fit == NameFit::Like(*family)
        && (1..=3).contains(&takes.len())
        && offered.iter().all(|id| takes.contains(id))
        && error.offers.iter().all(own_kind)
        && text.contains(&format!("«{typed}»"))
        && text.contains(family.word());
    (!right).then(|| format!("{typed}, not {family:?}: {:?} {text}", error.fit))
}

/// Slips of one letter in four, and what they were meant to be.
#[test]
fn a_slip_of_the_finger_is_offered_what_was_meant() {
    for (typed, meant) in [
        ("1905", "1095"),
        ("1O95", "1095"),
        ("109", "1095"),
        ("108", "1084"),
        ("15N2O", "15N20"),
        ("X153CrMoV13", "D2"),
        ("wrougt iron", "WI"),
        ("cartrige brass", "C260"),
        ("titanum grade 5", "Ti64"),
        ("nikel silver", "NS"),
        ("phosphor bronce", "PB"),
        ("S44OO4", "440C"),
    ] {
        let error = found(typed).expect_err(typed);
        assert!(takes(&error).contains(&meant), "{typed}: {error}");
    }
}

#[test]
fn what_is_no_stock_is_offered_none_and_what_names_are() {
    for typed in [
        "elmwood",
        "zzz",
        "z!!%",
        "'",
        "",
        " ",
        "cast iron",
        "steal of the day",
        "95",
        "1095%",
        "%",
    ] {
        let error = found(typed).expect_err(typed);
        assert_eq!(
            (error.fit, takes(&error).len()),
            (NameFit::Far, 0),
            "{typed}"
        );
        for class in [
            "AISI",
            "EN",
            "UNS",
            "powder steel",
            "stainless",
            "layered steel",
        ] {
            assert!(error.to_string().contains(class), "{error}");
        }
    }
}

#[test]
fn several_that_fit_are_all_named_with_what_they_are() {
    for (typed, expect) in [
        ("brass", &["C360", "C260"][..]),
        ("titanium", &["Ti-2", "Ti64"]),
        ("high-carbon steel", &["1075", "1080", "1084", "1095"]),
        ("bronze", &["PB", "ALB"]),
        // AISI 630 is 17-4 PH, CDA 630 an aluminium bronze
        ("630", &["17-4PH", "ALB"]),
        // the beginning of a word, and a name that is a word of standards, too
        ("bron", &["PB", "ALB"]),
    ] {
        let error = found(typed).expect_err(typed);
        assert_eq!(error.fit, NameFit::Several, "{typed}");
        assert_eq!(takes(&error), expect, "{typed}");
    }
    let error = found("steel").unwrap_err();
    assert!(error.offers.len() == 9 && error.more > 9, "{error}");
    assert!(error.to_string().contains(&format!("{} more", error.more)));
}

/// The names of standards belong to no stock, unless there is nothing else.
#[test]
fn a_name_of_a_standard_alone_is_a_word_like_others() {
    let error = found("w").unwrap_err();
    assert_eq!(error.fit, NameFit::Several);
    assert!(
        takes(&error).contains(&"W1") && takes(&error).contains(&"WI"),
        "{error}"
    );
}

/// A stock that stands in the name is offered first, and none twice.
#[test]
fn what_is_offered_stands_there_once() {
    let error = found("HSS D2").unwrap_err();
    assert_eq!(takes(&error), ["D2", "PM-HV-SS", "A2"]);
    let error = found("17-4 stainless").unwrap_err();
    assert_eq!(takes(&error), ["17-4PH", "440C", "416"]);
    // The beginning of a short name is as near as a slip.
    assert_eq!(takes(&found("pmhv").unwrap_err()), ["PM-HV-SS"]);
}

#[test]
fn the_list_has_a_number_and_a_line_for_each() {
    let error = found("brass").unwrap_err();
    let error = EntryError::NotCalled {
        sentence: error.sentence(),
        offers: error.offers,
    };
    let lines = error.of("stock").lines();
    assert_eq!(
        lines,
        "stock: «brass» fits more than one stock; name one:\n  1  C360  brass, free cutting: rod \
         and pins\n  2  C260  brass without lead: sheet"
    );
}

#[test]
fn every_family_offers_stocks_that_there_are() {
    for (family, word) in Family::ALL {
        assert_eq!(family.word(), word);
        assert!(
            UNKNOWN.iter().any(|(_, f, _)| *f == family) || UNSEEN.contains(&family),
            "{word}"
        );
    }
}

/// Families that only words name which rows have: what is typed then fits those.
const UNSEEN: [Family; 3] = [Family::Stainless, Family::Carbon, Family::Laminate];
