//! Printed figures, copied by hand from the sources named beside them.

use reference_tables::listing::Listed;
use reference_tables::sourced::Basis;
use reference_tables::{Tables, tables};

fn all() -> &'static Tables {
    tables().unwrap()
}

/// A row of `table` from `source` has these words in it and prints `value` for `quantity`.
#[track_caller]
fn prints(source: &str, table: &str, words: &str, quantity: &str, value: &str) {
    let rows: Vec<Listed> = all()
        .listing()
        .filter(|r| r.table == table && r.source == source && r.quantity == quantity)
        .filter(|r| r.has(words))
        .collect();
    let values: Vec<&str> = rows.iter().map(|r| r.value.as_str()).collect();
    assert!(
        values.contains(&value),
        "{source} {words} {quantity}: {values:?}"
    );
    assert!(
        rows.iter().all(|r| r.basis == Basis::Printed),
        "{source} {words} is not printed"
    );
}

#[test]
fn specific_cutting_force_as_printed() {
    // ISCAR boring systems catalogue 2022, p. 111
    for (words, k, m) in [
        ("non-alloy < 0.25 annealed", "1350 N/mm2", "0.21"),
        ("non-alloy >= 0.25 annealed", "1500 N/mm2", "0.22"),
        ("non-alloy >= 0.55 annealed", "1700 N/mm2", "0.24"),
        ("non-alloy >= 0.55 quenched", "1900 N/mm2", "0.24"),
        ("low-alloy annealed", "1775 N/mm2", "0.24"),
        ("high-alloy annealed", "2450 N/mm2", "0.23"),
        ("high-alloy quenched", "2500 N/mm2", "0.23"),
        ("stainless martensitic 240", "1875 N/mm2", "0.21"),
        ("austenitic/duplex", "2150 N/mm2", "0.2"),
        ("aluminium wrought", "800 N/mm2", "0.25"),
        ("brass", "700 N/mm2", "0.27"),
        ("titanium alpha+beta", "1245 N/mm2", "0.24"),
    ] {
        prints("ISC22", "kienzle", words, "k_c1.1", k);
        prints("ISC22", "kienzle", words, "m_c", m);
    }
    // the same maker's turning catalogue 2017, p. 558: contradicts, and is kept
    prints(
        "ISC17",
        "kienzle",
        "titanium alpha+beta",
        "k_c1.1",
        "2110 N/mm2",
    );
    prints("ISC17", "kienzle", "titanium alpha+beta", "m_c", "0.22");
    prints("ISC17", "kienzle", "titanium pure", "k_c1.1", "1700 N/mm2");
}

#[test]
fn cutting_speeds_as_printed() {
    // ISCAR solid carbide end mills catalogue 2022, p. 92
    prints(
        "ISCSC",
        "speed",
        "non-alloy < 0.25 annealed",
        "v_c",
        "210-300 m/min",
    );
    prints(
        "ISCSC",
        "speed",
        "non-alloy >= 0.55 annealed",
        "v_c",
        "160-240 m/min",
    );
    prints(
        "ISCSC",
        "speed",
        "high-alloy quenched",
        "v_c",
        "70-130 m/min",
    );
    prints("ISCSC", "speed", "Ni annealed", "v_c", "20-35 m/min");
    // Sandvik Coromant milling guide, p. D 155
    prints(
        "SAND",
        "speed",
        "unalloyed 1045 125 HB",
        "v_c",
        "155-200 m/min",
    );
    prints(
        "SAND",
        "speed",
        "unalloyed 1095 250 HB",
        "v_c",
        "100-130 m/min",
    );
    prints(
        "SAND",
        "speed",
        "unalloyed 1095 450 HB",
        "v_c",
        "65-85 m/min",
    );
    prints("SAND", "speed", "duplex", "v_c", "45-55 m/min");
    // Tungaloy general catalogue 2020-2021, p. 1084
    prints("TUN84", "speed", "hardened slot D2", "v_c", "20-30 m/min");
    prints(
        "TUN84",
        "speed",
        "aluminium shoulder",
        "v_c",
        "350-850 m/min",
    );
    // ARNO solid carbide catalogue, p. 99
    prints(
        "ARNO99",
        "speed",
        "copper uncoated",
        "v_c",
        "90-220 m/min, start 155",
    );
    // G. W. Schultz, carbide end mills
    prints("GWS", "speed", "soft brass C360", "v_c", "122-213 m/min");
    // manual of a benchtop mill, fig. 20, and Newson Tool's end-mill table
    prints("GRIZ", "speed", "mild steel 1018", "v_c", "27 m/min");
    prints("NEWS", "speed", "Ti-6Al-4V", "v_c", "8-12 m/min");
}

#[test]
fn feeds_as_printed() {
    // ISCAR solid carbide end mills catalogue 2022, p. 92
    prints(
        "ISCSC",
        "feed",
        "non-alloy < 0.25",
        "f_z / D",
        "0.005-0.01 x D, start 0.006",
    );
    prints(
        "ISCSC",
        "feed",
        "non-alloy >= 0.55 annealed",
        "f_z / D",
        "0.003-0.008 x D, start 0.004",
    );
    prints(
        "ISCSC",
        "feed",
        "titanium pure",
        "f_z / D",
        "0.002-0.004 x D, start 0.003",
    );
    // Sandvik Coromant milling guide, p. D 155: the 2 mm row is printed with slot above side
    prints("SAND", "feed", "heaviest 2 mm", "f_z", "0.004 mm");
    prints("SAND", "feed", "light 2 mm", "f_z", "0.003 mm");
    prints("SAND", "feed", "heaviest 6 mm", "f_z", "0.014 mm");
    // Dormer Pramet brochure 2021, p. 23
    prints("DOR23", "feed", "class K 10 mm", "f_z", "0.076 mm");
    // ATA Group catalogue 2022, p. 1301
    prints("ATA1301", "feed", "hardened 3 mm", "f_z", "0.006 mm");
    prints("ATA1301", "feed", "below 1000 6 mm", "f_z", "0.04 mm");
    // Tungaloy general catalogue 2020-2021, p. 1084
    prints(
        "TUN84",
        "feed",
        "titanium slot 6-8 mm",
        "f_z",
        "0.025-0.04 mm",
    );
    // G. W. Schultz, carbide end mills, at 1/8 in
    prints("GWS", "feed", "50 HRC 0.125 in", "f_z", "0.0003 in");
}

#[test]
fn other_figures_as_printed() {
    // Machinery's Handbook, 31st ed., p. 1147: 0.78 hp per in3/min at 160-180 HB
    prints(
        "MH31KP",
        "unit_power",
        "plain carbon 1018 160-180",
        "unit power",
        "2.13 J/mm3",
    );
    prints(
        "MH31KP",
        "unit_power",
        "52100 200-220",
        "unit power",
        "2.38 J/mm3",
    );
    // Kops and Vo, CIRP Annals 39(1), 1990: approximately 80 %
    prints(
        "KOPS",
        "strength",
        "two and four",
        "equivalent D / D",
        "0.8 x D",
    );
    // Cheng 2018: range of the literature, and cartridge brass
    prints(
        "CHENG",
        "chip_floor",
        "usual",
        "h_min / r_edge",
        "0.14-0.43",
    );
    prints(
        "CHENG",
        "chip_floor",
        "C26000",
        "h_min / r_edge",
        "0.6-0.68",
    );
    // Tungaloy p. 1084: slot in carbon steel up to 2 D; ATA p. 1283: 1.5 D at 0.1 D
    prints("TUN84", "depth_width", "carbon slot", "a_p / D", "2 x D");
    prints("ATA1283", "depth_width", "long flute", "a_p / D", "1.5 x D");
    // data sheets: A2 as delivered, powder stainless of 9 % V
    prints("BUA2", "materials", "A2 annealed", "hardness", "215 HB");
    prints(
        "CRS90",
        "materials",
        "PM-HV-SS annealed",
        "hardness",
        "277 HB",
    );
    // Tatar 2020: 1 % more speed costs 4 % of life, n = 1/4
    prints("TATAR", "life", "Ti-6Al-4V", "n", "0.25");
    // ASTM E140-02, clause 7.1: 353 HBW is about 38 HRC
    prints(
        "E140Q",
        "hardness",
        "38 HRC",
        "converted hardness",
        "353 HB",
    );
}

#[test]
fn power_rows_agree_with_the_printed_unit() {
    // 1 hp per in3/min is 2.7303 J/mm3 (NIST SP 811: hp 745.6999 W, in3 16.387064 cm3); the
    // figures are printed to two digits and converted to three
    for row in all()
        .listing()
        .filter(|r| r.table == "unit_power" && r.quantity == "unit power")
    {
        let hp = row.note.split("printed as ").nth(1).unwrap();
        let hp: f64 = hp.split(' ').next().unwrap().parse().unwrap();
        assert!((hp * 2.7303 - row.range.0).abs() < 0.006, "{row:?}");
    }
}

#[test]
fn speeds_agree_with_the_printed_feet() {
    // 1 ft/min is 0.3048 m/min; rows are rounded to whole metres
    let mut checked = 0;
    for row in all().listing().filter(|r| r.quantity == "v_c") {
        let Some(feet) = row.note.split("printed as ").nth(1) else {
            continue;
        };
        let Some(feet) = feet.split(" ft/min").next() else {
            continue;
        };
        let ends: Vec<f64> = feet.split('-').map(|x| x.parse().unwrap()).collect();
        let (least, most) = (ends[0] * 0.3048, ends[ends.len() - 1] * 0.3048);
        assert!((least - row.range.0).abs() < 0.6, "{row:?}");
        assert!((most - row.range.1).abs() < 0.6, "{row:?}");
        checked += 1;
    }
    assert!(checked > 60, "{checked}");
}
