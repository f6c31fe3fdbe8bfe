//! The kind of stock a designation reads like, for names that no row of the tables has.
//!
//! What a designation says is what its standard prints, from memory: EN 10027-1 (names of steels),
//! EN 10027-2 (their numbers and what each group of numbers is), EN 10088-1 (which stainless steel
//! is aged), SAE J403 and J404 (four digits), SAE J412 and ASTM A681/A600 (letters of tool and
//! high-speed steels), SAE HS-1086 (UNS), EN 573-1 and -2, EN 515 (tempers), EN 1412 and
//! DIN EN 1173 (copper), DIN 17007-4 (the older numbers of other metals), GB/T 20878.

use reference_tables::error::{NameFit, NotFound};
use reference_tables::family::Family::{self, *};
use reference_tables::tables;

fn missed(name: &str) -> Result<NotFound, String> {
    match tables().unwrap().material(name) {
        Ok(row) => Err(format!("{name} is {}", row.id)),
        Err(error) => Ok(error),
    }
}

/// Whether stocks are offered, none of them twice.
fn once(error: &NotFound) -> bool {
    let mut takes: Vec<&str> = error.offers.iter().map(|o| o.take.as_str()).collect();
    let count = takes.len();
    takes.sort_unstable();
    takes.dedup();
    count > 0 && takes.len() == count
}

/// Checks that each name reads like its family and is offered stocks.
fn check(expect: &[(Family, &[&str])]) {
    let all = expect
        .iter()
        .flat_map(|(family, names)| names.iter().map(move |name| (family, name)));
    let wrong = all.filter_map(|(family, name)| match missed(name) {
        Ok(error) if error.fit == NameFit::Like(*family) && once(&error) => None,
        Ok(error) => Some(format!("{name}, not {family:?}: {:?}", error.fit)),
        Err(known) => Some(known),
    });
    let wrong: Vec<String> = wrong.collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// EN 10027-2: 1.00 to 1.07 by carbon or strength (07 are free-cutting), 1.1x unalloyed, 1.2x tool,
/// 1.32 and 1.33 high-speed, 1.35 bearing, 1.4x stainless, 1.5 to 1.8 alloyed.
#[test]
fn numbers_of_steels_read_by_their_group() {
    check(&[
        (
            Mild,
            &[
                "1.0117", "1.0254", "1.0301", "1.0402", "1.0715", "1.0718", "1.1013",
            ],
        ),
        (Carbon, &["1.0511", "1.0535", "1.1151", "1.1181", "1.1303"]),
        (
            HighCarbon,
            &["1.0601", "1.1203", "1.1221", "1.1620", "1.1830"],
        ),
        (Tool, &["1.2080", "1.2344", "1.2767", "1.2826"]),
        (HighSpeed, &["1.3207", "1.3243", "1.3355"]),
        (Bearing, &["1.3520", "1.3536"]),
        (Martensitic, &["1.4016", "1.4021", "1.4110", "1.4122"]),
        (Austenitic, &["1.4310", "1.4435", "1.4541", "1.4550"]),
        (
            PrecipitationHardening,
            &["1.4532", "1.4545", "1.4568", "1.4594"],
        ),
        (Stainless, &["1.4713", "1.4762", "1.4841", "1.4980"]),
        (LowAlloy, &["1.5752", "1.6582", "1.7131", "1.8159"]),
    ]);
}

/// 1.0301 (C10), 1.0402 (C22) and 1.0715 (11SMn30) read like alloyed and high-carbon steels.
#[test]
fn low_carbon_numbers_are_mild() {
    check(&[(Mild, &["1.0301", "1.0402", "1.0421", "1.0711", "1.0737"])]);
}

/// DIN 17007-4.
#[test]
fn numbers_of_other_metals_read_by_their_group() {
    check(&[
        (Copper, &["2.0060", "2.0090", "2.1247", "2.1293", "2.1546"]),
        (Brass, &["2.0220", "2.0321", "2.0550", "2.0690"]),
        (NickelSilver, &["2.0740", "2.0872"]),
        (Bronze, &["2.0920", "2.0966", "2.1030", "2.1176"]),
        (Nickel, &["2.4602", "2.4969"]),
        (Aluminium, &["3.0255", "3.1325", "3.3535", "3.4365"]),
        (Titanium, &["3.7025", "3.7115", "3.7195"]),
    ]);
}

/// SAE HS-1086: G carbon and alloy, H with hardenability, K others, S stainless, T tool steels.
#[test]
fn unified_numbers_read_by_letter_and_series() {
    check(&[
        (PrecipitationHardening, &["S13800", "S15500", "S17700"]),
        (Martensitic, &["S41000", "S43000", "UNS S42010"]),
        (Austenitic, &["S20100", "S30100", "S34700"]),
        (HighSpeed, &["T11301", "T12001", "T12015"]),
        (Tool, &["T20813", "T41907"]),
        (LowAlloy, &["G41400", "G86200", "H41400", "K24728"]),
        (Mild, &["G10200", "G12150"]),
        (Carbon, &["G10500", "G11440"]),
        (HighCarbon, &["G10600", "G10700"]),
        (Titanium, &["R50250", "R58640"]),
        (Aluminium, &["A97075", "A92024"]),
        (Nickel, &["N06600", "N04400"]),
        (Copper, &["C18200"]),
        (Brass, &["C22000", "C46400", "C67500"]),
        (Bronze, &["C51900", "C65500"]),
        (NickelSilver, &["C71500", "C74500"]),
    ]);
}

/// AISI series, graded by the letters of the standard.
#[test]
fn stainless_series_read_by_their_first_digit() {
    check(&[
        (
            Austenitic,
            &[
                "202", "301", "304L", "304LN", "316Ti", "316LN", "321H", "347", "302B", "SUS 301",
            ],
        ),
        (
            Martensitic,
            &["403", "414", "420F", "430FSe", "440B", "446"],
        ),
        (
            PrecipitationHardening,
            &[
                "631",
                "632",
                "15-5",
                "17-7 PH",
                "13-8 Mo",
                "15-7 PH",
                "13-8 PH Mo",
            ],
        ),
    ]);
}

/// ASTM A681 and A600, EN ISO 4957.
#[test]
fn letters_of_tool_steels_read_with_their_numbers() {
    check(&[
        (
            Tool,
            &[
                "A6", "A11", "D3", "D7", "F2", "O6", "S1", "S5", "H10", "H21", "H43",
            ],
        ),
        (
            HighSpeed,
            &[
                "M1",
                "M42",
                "M62",
                "T1",
                "T15",
                "HS18-0-1",
                "HS 2-9-1-8",
                "HS6-5-3C",
            ],
        ),
    ]);
}

/// SAE J403 and J404: the first two digits are the series, the others hundredths of carbon.
#[test]
fn four_digits_read_by_series_and_carbon() {
    check(&[
        (
            Mild,
            &["1008", "1020", "1030", "1117", "1215", "1513", "11L17"],
        ),
        (
            Carbon,
            &["1035", "1050", "1059", "1137", "1144", "1340", "1541"],
        ),
        (HighCarbon, &["1065", "1070", "1090", "1566"]),
        (
            LowAlloy,
            &[
                "4023", "4130", "4140H", "4340", "4422", "4615", "4718", "4820", "5140", "6118",
                "6120", "6150", "8115", "8640", "8740", "8822", "9254", "9310", "41L40", "86L20",
            ],
        ),
        (Bearing, &["50100", "51100"]),
    ]);
}

/// EN 573-1 with the tempers of EN 515.
#[test]
fn wrought_aluminium_reads_with_its_temper() {
    check(&[(
        Aluminium,
        &[
            "2014",
            "3003",
            "5083",
            "6063",
            "6082",
            "7050",
            "8011",
            "2024-O",
            "2024-T351",
            "3003-H14",
            "5083-H111",
            "5754-F",
            "6082-T651",
            "4032-T6",
            "EN AW-5083",
            "AW 7022",
            "AW5083",
            "6082T6511",
            "6111",
            "Al99.5",
            "AlCu4Mg1",
            "AlZn5.5MgCu",
            "AlSi1MgMn",
        ],
    )]);
}

/// EN 10027-1: a letter for the use, carbon in hundredths of a per cent, elements, amounts.
#[test]
fn names_of_steels_read_by_their_composition() {
    check(&[
        (
            Mild,
            &[
                "C10", "C22", "C25", "Ck15", "S275", "St 37", "St37-2", "St52-3",
            ],
        ),
        (
            Carbon,
            &["C30", "C35E", "C40R", "C55", "Cf53", "Cq35", "Cm45"],
        ),
        (HighCarbon, &["C70U", "C90S", "C120U"]),
        (
            Martensitic,
            &["X12Cr13", "X30Cr13", "X39CrMo17-1", "X17CrNi16-2", "X6Cr17"],
        ),
        (
            Austenitic,
            &[
                "X10CrNi18-8",
                "X2CrNi19-11",
                "X6CrNiTi18-10",
                "X15CrNiSi25-21",
            ],
        ),
        (
            PrecipitationHardening,
            &["X8CrNiMoAl15-7-2", "X5CrNiMoCuNb14-5"],
        ),
        (
            Tool,
            &[
                "X165CrMoV12",
                "X37CrMoV5-1",
                "X30WCrV9-3",
                "X45NiCrMo4",
                "105WCr6",
                "107WCr5",
                "85MnV8",
            ],
        ),
        (Bearing, &["100CrMnSi6-4", "95Cr6", "102Cr6"]),
        (
            LowAlloy,
            &[
                "16MnCr5",
                "34CrNiMo6",
                "51CrV4",
                "67SiCr5",
                "71Si7",
                "84MnV8",
                "90Cr3",
                "42CrMo",
                "65Mn",
                "60Si2Mn",
            ],
        ),
        // GB/T 20878
        (Martensitic, &["3Cr13", "7Cr17MoV", "8Cr13MoV", "5Cr15MoV"]),
    ]);
}

/// «S1» was 17-4 PH, since S17400 begins so, «stainless 41» 416 and «C10» three stocks.
#[test]
fn a_beginning_of_a_designation_is_not_the_stock() {
    check(&[
        (Tool, &["S1", "S1 tool steel"]),
        (Martensitic, &["stainless 410"]),
        (Stainless, &["stainless 41"]),
        (Mild, &["C10"]),
    ]);
}

/// «titanium grade 4» was Ti-6Al-4V, since that is called Ti-6-4, too, and «steel 17» 17-4 PH.
#[test]
fn a_short_number_among_words_names_no_stock() {
    check(&[
        (Titanium, &["titanium grade 4", "titanium 6", "Ti 4"]),
        (Steel, &["steel 17"]),
        (Stainless, &["stainless 4"]),
    ]);
}

/// ASTM B348 and DIN 17851 name titanium by its elements. «Ti-6Al-2Sn-4Zr-2Mo» read like a steel.
#[test]
fn titanium_reads_by_its_elements() {
    check(&[(
        Titanium,
        &[
            "Ti1",
            "Ti 4",
            "Ti-5Al-2.5Sn",
            "Ti-10V-2Fe-3Al",
            "Ti-6Al-2Sn-4Zr-2Mo",
            "Ti-6Al-7Nb",
            "TiAl3V2.5",
        ],
    )]);
}

/// EN 1412 by number and by composition, ISO 1190-1, BS and DIN of old.
#[test]
fn copper_alloys_read_by_number_and_composition() {
    check(&[
        (
            Copper,
            &[
                "CW024A", "CW101C", "CW111C", "CuTeP", "CuBe2", "CuCr1Zr", "CuAg0.10", "C101",
            ],
        ),
        (
            Brass,
            &[
                "CW608N",
                "CW713R",
                "CW720R",
                "CC750S",
                "Ms58",
                "CZ121",
                "CuZn39Pb2",
                "CuZn15",
                "CDA 260X brass",
            ],
        ),
        (Bronze, &["CW303G", "CW452K", "CC493K", "PB102", "CDA 519"]),
        (
            NickelSilver,
            &["CW352H", "NS104", "CuNi10Fe1Mn", "CuZn24Ni12", "C745"],
        ),
        (Nickel, &["Ni201"]),
    ]);
}

/// Words of the trade, where nothing else says more.
#[test]
fn words_of_the_trade_read_as_they_are_meant() {
    check(&[
        (Steel, &["some steel", "Messerstahl", "K9V"]),
        (Stainless, &["inox", "rostfrei", "rustproof blade"]),
        (Martensitic, &["stainless 420", "stainless X46Cr13"]),
        (LayeredStainless, &["stainless sandwich", "layered inox"]),
        (Powder, &["pulver", "sintered", "X9 pm"]),
        (HighSpeed, &["HSS", "highspeed"]),
        (Titanium, &["titanal"]),
        (Aluminium, &["duralumin"]),
        (Brass, &["messing"]),
        (Bronze, &["gunmetal"]),
        (NickelSilver, &["german blend", "cupronickel"]),
        (Bearing, &["bearing race"]),
        (LowAlloy, &["spring leaf", "alloyed bar"]),
        (Tool, &["werkzeug", "tool bar"]),
        (Mild, &["structural", "lowcarbon"]),
    ]);
}

/// A designation that breaks the rule of its standard is letters with digits: some steel.
#[test]
fn what_breaks_the_rule_of_a_standard_reads_like_some_steel() {
    check(&[(
        Steel,
        &[
            // Sixteen letters and digits are still a name.
            "k123456789012345",
            // UNS R03 is molybdenum, R5 titanium; no grade of AISI ends so; D2 has no letter behind
            "R03600",
            "304q",
            "430q",
            "631x",
            "D2x",
            // Lead is an L between two digits and two; a temper is T, O, F or H.
            "12x14",
            "12q14",
            "2024xyz",
            "4032T65111",
            "4140H14",
            "4140q",
            // C and S need their digits, and elements two or three for the carbon.
            "S12",
            "S1234",
            "9SiCr",
            // one letter behind the number is more like the name of a powder steel
            "10V",
        ],
    )]);
}

/// One step inside and outside of what carbon and chromium say: 12 % of chromium are stainless,
/// 14 % with more than 1 % of carbon; of chromium-nickel steels 0.15 % of carbon is the most. Some
/// names are made up, to stand at the bound.
#[test]
fn carbon_and_chromium_decide_at_their_bounds() {
    check(&[
        (
            Martensitic,
            &["X22CrMoV12-1", "X100Cr13", "X110Cr14", "3Cr12", "3Cr30"],
        ),
        (Tool, &["X22CrMoV11-1", "X101Cr13", "105V1", "85W1"]),
        (LowAlloy, &["104V1", "84W1", "94Cr6"]),
        (PrecipitationHardening, &["X15CrNiAl17-7"]),
        (Martensitic, &["X16CrNiAl17-7"]),
        (Mild, &["C25", "1030"]),
        (Carbon, &["C26", "1031", "1059"]),
    ]);
}

/// What looks like a designation and breaks its rule, and has no letters with digits.
#[test]
fn what_breaks_the_rule_of_a_standard_reads_like_nothing() {
    for name in [
        // four digits behind the point, and groups that are given out
        "1.411",
        "1.41161",
        "4.1116",
        "2.5000",
        "3.6000",
        "3.9000",
        // digits that no series has
        "1",
        "12",
        "641",
        "999",
        "12345",
        "123456",
        // letters without the digits they need
        "cq",
        "kryptonite",
        // more than sixteen letters and digits
        "k1234567890123456",
    ] {
        let error = missed(name).unwrap();
        assert_eq!((error.fit, error.offers.len()), (NameFit::Far, 0), "{name}");
    }
}
