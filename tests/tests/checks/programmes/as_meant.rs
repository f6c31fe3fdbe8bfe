//! What is asked about a programme that is sound in itself and hardly meant so, and what is not.

use super::bounds::{found, says};
use super::{audit, mill, with};
use feeds_core::programme::{Bounds, Report, Setting};

fn read(text: &str, setting: Setting) -> Report {
    audit(text.as_bytes(), setting)
}

/// Led in from 10 mm outside with a cutter of 3.2 mm, round the stock and out: as it is done.
#[test]
fn a_side_cut_that_leads_in_from_outside_is_no_alarm() {
    let text = |far: &str| {
        format!(
            "G21 G90 T1 M6\nS9000 M3\nG0 X-10 Y-10 Z1\nG1 Z-1 F100\nX0 Y-5 F200\nY20\n{far}\nX34\n\
             Y0\nX-5\nG0 Z5"
        )
    };
    let setting = || {
        let mut setting = with(vec![mill(3.2, 4)]);
        setting.stock = Some(Bounds {
            least: [0.0, 0.0, -9.0],
            most: [34.0, 16.0, 0.0],
        });
        setting
    };
    assert!(found(&read(&text("X10"), setting()), "leaves-stock").is_none());
    // In line 7 the path itself goes far out, and line 9 and 10 go out by less: 30 - 16 + 1.6.
    let report = read(&text("X10 Y30"), setting());
    let finding = found(&report, "leaves-stock").unwrap();
    assert_eq!(finding.line, 7, "{}", finding.text);
    assert!(finding.text.contains("by 15.6 mm in Y"), "{}", finding.text);
}

/// 230 in/min where the axes do 1500 mm/min, 23 in along X, 25 in up: millimetres, under G20.
#[test]
fn figures_in_mm_under_g20_are_asked_about() {
    let text = |unit: &str, up: &str| {
        format!("{unit} G90\nS5000 M3\nG0 X0 Y0 Z{up}\nG1 Z-1 F100\nX23 F230\nY10\nG0 Z{up}\nM30")
    };
    let report = read(&text("G20", "25"), with(vec![]));
    says(&report, "units-doubtful", "are the figures in mm?");
    assert!(found(&read(&text("G21", "25"), with(vec![])), "units-doubtful").is_none());
    // One of them alone may be a larger machine: X goes 23 in, Z 11 in from 10 to -1.
    assert!(found(&read(&text("G20", "10"), with(vec![])), "units-doubtful").is_none());
    let drives = |fastest: f64| {
        let mut setting = with(vec![]);
        setting.drives.fastest = Some([fastest; 3]);
        setting
    };
    // 230 in/min are 5842 mm/min.
    let fast = read(&text("G20", "10"), drives(1500.0));
    says(&fast, "units-doubtful", "it cuts at 230 in/min");
    assert!(found(&read(&text("G20", "10"), drives(6000.0)), "units-doubtful").is_none());
}

/// A light mill goes 20 in sideways and 12 in up and down: a little less of either is its own work.
#[test]
fn what_a_light_mill_travels_is_no_doubt_about_the_unit() {
    let asked = |x: &str, up: &str| {
        let text = format!("G20 G90\nS5000 M3\nG0 X0 Y0 Z{up}\nG1 Z0 F4\nX{x}\nG0 Z{up}\nM30");
        found(&read(&text, with(vec![])), "units-doubtful").is_some()
    };
    assert!(asked("20.2", "12.2"));
    assert!(!asked("19.8", "12.2"));
    assert!(!asked("20.2", "11.8"));
}

/// A file that was cut off while the cutter was down: 0.05 in below the top.
#[test]
fn a_file_cut_off_in_the_work_says_where_the_cutter_is() {
    let text = "G20 G90\nT1 M6\nS5000 M3\nG0 X0.1 Y0.1 Z0.1\nG1 Z-0.05 F4\nG1 X.75";
    let report = read(text, with(vec![]));
    says(&report, "left-in-work", "T1 in the work at Z -0.05 in");
    says(&report, "left-in-work", "the spindle running at S5000");
    for more in ["\nG0 Z1", "\nM5", "\nM30"] {
        let report = read(&format!("{text}{more}"), with(vec![]));
        assert!(found(&report, "left-in-work").is_none(), "{more}");
    }
}

/// What is said of compensation is there: nothing stands beside the written path.
#[test]
fn cutter_compensation_says_what_is_measured_and_what_is_not_known() {
    let report = read(
        "G21 G90\nS9000 M3\nG0 X0 Y0 Z1\nG41 D1\nG1 X5 F100",
        with(vec![]),
    );
    says(&report, "cutter-compensation", "those of the written path");
    says(&report, "cutter-compensation", "which is not known here");
}
