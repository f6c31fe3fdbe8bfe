//! The reference tables as data: every row has its source and lies where it may lie.

use reference_tables::sourced::Basis;
use reference_tables::{Tables, tables};
use std::collections::HashSet;

fn all() -> &'static Tables {
    tables().unwrap()
}

#[test]
fn every_row_has_a_known_source_and_a_basis_that_fits_it() {
    let mut used = HashSet::new();
    for row in all().listing() {
        let source = all().source(&row.source).unwrap();
        assert!(!row.title.is_empty(), "{row:?}");
        used.insert(row.source.clone());
        match row.basis {
            Basis::Printed => assert!(source.read, "printed, but never read: {row:?}"),
            Basis::CommonPractice => assert_eq!(row.source, "CP", "{row:?}"),
            Basis::Memory => assert!(
                !source.read || ["CP", "SAND"].contains(&row.source.as_str()),
                "from memory, but read: {row:?}"
            ),
        }
    }
    assert!(used.len() > 35, "only {} sources used", used.len());
}

#[test]
fn source_ids_are_unique() {
    let ids: HashSet<_> = all().sources.iter().map(|s| &s.id).collect();
    assert_eq!(ids.len(), all().sources.len());
}

#[test]
#[allow(clippy::too_many_lines)] // one list of bounds
fn ranges_are_ordered_and_plausible() {
    // (quantity, unit, least, most): bounds of what such a figure can be at all
    let plausible = [
        ("density", "g/cm3", 1.0, 20.0),
        ("share by volume", "", 0.0, 1.0),
        ("hardness", "HB", 20.0, 700.0),
        ("hardness", "HRC", 20.0, 70.0),
        ("hardness", "HRM", 80.0, 130.0),
        ("hardness", "HV", 100.0, 400.0),
        ("converted hardness", "HB", 100.0, 750.0),
        ("converted hardness", "HV", 100.0, 1000.0),
        ("k_c1.1", "N/mm2", 100.0, 5000.0),
        ("m_c", "", 0.1, 0.4),
        ("chip thickness", "mm", 0.002, 3.0), // the straight law is for 0.003 mm and up
        ("v_c", "m/min", 3.0, 1500.0),
        ("share of speed", "", 0.5, 1.0),
        ("f_z / D", "x D", 0.001, 0.025),
        ("f_z", "mm", 0.0004, 0.1), // one maker prints 0.0005 mm at 0.4 mm
        ("f_z", "in", 0.0001, 0.005),
        ("diameter", "mm", 0.1, 32.0),
        ("diameter", "in", 0.05, 1.0),
        ("unit power", "J/mm3", 0.3, 5.0),
        ("r_edge", "um", 1.0, 30.0),
        ("growth of r_edge", "", 1.0, 4.0),
        ("h_min / r_edge", "", 0.1, 0.7),
        ("a_p / D", "x D", 0.05, 3.0),
        ("a_e / D", "x D", 0.01, 1.0),
        ("room for chips / D", "x D", 0.2, 2.0),
        ("stick-out / D", "x D", 2.0, 10.0),
        ("steepest entry", "deg", 0.5, 10.0),
        ("engagement angle", "deg", 30.0, 180.0),
        ("ramp angle", "deg", 0.2, 10.0),
        ("helix hole / D", "x D", 1.0, 2.0),
        ("left on the wall / D", "x D", 0.005, 0.1),
        ("left on the floor / D", "x D", 0.005, 0.1),
        ("light width / D", "x D", 0.02, 0.2),
        ("looping cutter / slot", "", 0.4, 0.9),
        ("cutter / inside corner", "", 0.5, 1.0),
        ("lead-in arc / D", "x D", 0.1, 1.0),
        ("holder clear", "mm", 0.5, 5.0),
        ("clear of the jaws", "mm", 0.1, 2.0),
        ("beyond a through cut", "mm", 0.1, 1.0),
        ("share for a spring pass", "", 0.2, 1.0),
        ("helix pitch / D", "x D", 0.01, 0.5),
        ("share of feed", "", 0.1, 1.0),
        ("share of depth or width", "", 0.5, 0.7),
        ("modulus", "GPa", 150.0, 700.0),
        ("rupture strength", "N/mm2", 1500.0, 6000.0),
        ("share of strength", "", 0.2, 0.5),
        ("Poisson's ratio", "", 0.15, 0.35),
        ("equivalent D / D", "x D", 0.6, 0.9),
        ("core / D", "x D", 0.5, 0.8),
        ("stiffness ratio", "", 0.3, 0.6),
        ("n", "", 0.05, 0.8),
        ("change of life", "", -5.0, 0.0),
        ("wear factor", "", 1.0, 2.0),
        ("power wear factor", "", 1.0, 2.0),
        ("rake correction", "%", 0.5, 2.0),
        ("reference rake", "deg", 0.0, 10.0),
        ("feed factor", "", 0.8, 2.0),
        ("process factor", "", 0.5, 1.5),
        ("speed factor", "", 0.5, 1.5),
        ("force ratio", "", 0.05, 1.0),
        ("edge force along", "N/mm", 10.0, 70.0),
        ("edge force across", "N/mm", 10.0, 90.0),
        ("edge force along over k r_edge", "", 2.0, 8.0),
        ("edge force across over k r_edge", "", 4.0, 12.0),
        ("modulus of the stock", "GPa", 60.0, 230.0),
        ("spread of cut", "", 0.1, 0.5),
        ("spread of edge", "", 0.2, 0.6),
        ("spread of across", "", 0.2, 0.4),
        ("spread of land", "", 0.2, 0.4),
        ("spread of every force", "", 0.3, 0.8),
        ("spread of r_edge", "", 0.1, 0.3),
        ("factor of spread", "", 1.0, 1.5),
        ("contact of a wear land", "", 0.1, 50.0),
        ("wear land", "mm", 0.0, 0.3),
        ("wear land / D", "x D", 0.0, 0.1),
        ("spread", "", 0.5, 1.5),
        ("edge force share", "", 0.1, 0.6),
        ("friction", "", 0.05, 0.5),
        ("damping ratio", "", 0.0001, 0.1),
        ("service temperature", "degC", 200.0, 1300.0),
        ("thickness", "um", 0.5, 10.0),
        ("helix", "deg", 0.0, 60.0),
        ("radial rake", "deg", -10.0, 25.0),
        ("spindle speed", "1/min", 50.0, 60000.0),
        ("base speed", "1/min", 500.0, 60000.0),
        ("power", "W", 100.0, 5000.0),
        ("efficiency", "", 0.5, 1.0),
        ("cutting feed", "mm/min", 100.0, 10000.0),
        ("acceleration", "m/s2", 0.05, 10.0),
        ("machine stiffness", "N/um", 1.0, 50.0),
        ("axis drag", "N", 1.0, 500.0),
        ("backlash", "mm", 0.0, 0.3),
        ("runout", "um", 0.0, 100.0),
        ("corner radius", "mm", 0.05, 3.0),
        ("flute length", "mm", 1.0, 60.0),
        ("shank", "mm", 2.0, 20.0),
        ("shank", "in", 0.1, 1.0),
        ("overall length", "mm", 30.0, 120.0),
        ("stick-out", "mm", 5.0, 60.0),
        ("clamp force", "kN", 0.5, 30.0),
        ("step of the feed dial", "%", -100.0, 50.0), // all of the feed is a stop
        ("step of the spindle dial", "%", -30.0, 30.0),
        ("step of the depth", "%", -50.0, 0.0),
        ("step of the width", "%", -50.0, 0.0),
        ("step of the stick-out", "%", -50.0, 0.0),
    ];
    for row in all().listing() {
        let (least, most) = row.range;
        let bound = plausible
            .iter()
            .find(|p| p.0 == row.quantity && p.1 == row.unit);
        let Some((.., low, high)) = bound else {
            panic!(
                "no plausible range for {} in '{}': {row:?}",
                row.quantity, row.unit
            );
        };
        assert!(least <= most, "{row:?}");
        assert!(
            *low <= least && most <= *high,
            "not between {low} and {high}: {row:?}"
        );
    }
}

#[test]
fn all_forty_stocks_are_there() {
    let expected = [
        "1018", "1045", "1075", "1080", "1084", "1095", "15N20", "PATTERN", "O1", "A2", "D2", "W1",
        "L6", "52100", "5160", "80CrV2", "440C", "154CM", "AEB-L", "PM-HV-SS", "304", "303", "316",
        "416", "17-4PH", "Ti-2", "Ti64", "C360", "C260", "PB", "ALB", "NS", "Cu", "6061", "2011",
        "Ni200", "WI", "G10", "LINEN", "PAPER",
    ];
    assert_eq!(expected.len(), 40);
    let ids: HashSet<_> = all().materials.iter().map(|m| m.id.as_str()).collect();
    assert_eq!(ids, HashSet::from(expected));
}

#[test]
fn hazards_are_told() {
    let told = |id: &str| {
        all()
            .material(id)
            .unwrap()
            .cautions
            .join(" ")
            .to_lowercase()
    };
    assert!(told("Ti64").contains("fire") && told("Ti64").contains("class d"));
    assert!(told("G10").contains("respirable glass"));
    assert!(told("LINEN").contains("formaldehyde") && told("PAPER").contains("extraction"));
    assert!(told("C360").contains("lead"));
}

#[test]
fn weak_blocks_are_marked_weak() {
    // placeholders of laminates, generic machines, recalled edge radii, friction
    let weak = |words: &str, table: &str| {
        let rows: Vec<_> = all()
            .listing()
            .filter(|r| r.table == table && r.has(words))
            .collect();
        assert!(!rows.is_empty(), "{words}");
        assert!(rows.iter().all(|r| r.weak), "{words}: {rows:?}");
    };
    weak("laminate", "kienzle");
    weak("benchtop", "machines");
    weak("honed", "edge_radius");
    weak("smooth steel jaws", "friction");
    let count = all().listing().filter(|r| r.weak).count();
    assert!(count > 150, "{count}");
}

#[test]
fn the_listing_is_filtered_by_words() {
    let rows: Vec<_> = all()
        .listing()
        .filter(|r| r.has("high-carbon 1095 annealed hardness"))
        .collect();
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert_eq!(rows[0].value, "185-207 HB");
    assert!(all().listing().filter(|r| r.has("no-such-word")).count() == 0);
}
