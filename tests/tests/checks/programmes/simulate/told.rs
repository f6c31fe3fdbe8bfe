//! What is printed of a cut as JSON is what was worked out: each number under its name and unit.

use super::{AS_PLANNED, cut, pass, planned};
use serde_json::Value;

#[track_caller]
fn amount(value: &Value, number: f64, unit: &str) {
    let got = value["value"].as_f64().unwrap();
    assert!(
        (got - number).abs() <= 1e-9 * (1.0 + number.abs()),
        "{value} {number}"
    );
    assert_eq!(value["unit"], unit);
}

#[test]
fn a_cut_is_printed_as_it_is() {
    let cut = cut(
        &format!("{AS_PLANNED}\nG0 Z5\nX45\nY-1\nZ-1\nG1 X-5"),
        &planned(&pass()),
    );
    let told = serde_json::to_value(&cut).unwrap();
    amount(&told["cell"], cut.cell, "mm");
    amount(&told["removed"], cut.removed, "mm3");
    for (name, number) in [
        ("way", cut.way),
        ("air", cut.shares.air),
        ("slot", cut.shares.slot),
        ("up", cut.shares.up),
        ("rubs", cut.rubs),
    ] {
        amount(&told[name], number, "mm");
    }
    assert_eq!(told["not_simulated"], serde_json::json!([]));
    assert_eq!(told["assumed"].as_array().unwrap().len(), cut.assumed.len());
    let lines = told["lines"].as_array().unwrap();
    assert_eq!(lines.len(), cut.lines.len());
    for (told, line) in lines.iter().zip(&cut.lines) {
        assert_eq!(told["line"], line.line);
        amount(&told["arc_most"], line.arc_most.to_degrees(), "deg");
        for (name, number) in [
            ("way", line.way),
            ("cuts", line.cuts),
            ("width_most", line.width_most),
            ("depth_most", line.depth_most),
            ("width_up_to", line.width_up_to.unwrap()),
            ("chip_most", line.chip_most.unwrap()),
            ("bending_most", line.bending_most.unwrap()),
            ("wall_most", line.wall_most.unwrap()),
        ] {
            amount(&told[name], number, "mm");
        }
        amount(&told["force_most"], line.force_most.unwrap(), "N");
        amount(&told["force_99"], line.force_99.unwrap(), "N");
        for (name, number) in [
            ("up_share", line.up_share),
            ("rubbing_share", line.rubbing_share.unwrap()),
            ("used", line.used.unwrap().0),
        ] {
            assert!(
                (told[name].as_f64().unwrap() - number).abs() < 1e-9,
                "{name}: {told}"
            );
        }
    }
}
