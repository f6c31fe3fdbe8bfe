//! Findings speak in the unit that is asked for; as scripts read them, in that of the programme.

use super::{audit, cases};
use feeds_core::programme::{Setting, Units};
use tests::foreign_units::foreign_unit;

#[test]
fn no_finding_of_these_programmes_speaks_in_the_other_unit() {
    let mut found = 0;
    for case in cases() {
        for shown_in_inch in [Some(false), Some(true), None] {
            let setting = Setting {
                shown_in_inch,
                ..case.setting()
            };
            let report = audit(&case.bytes, setting);
            let inch = shown_in_inch.unwrap_or(report.units == Units::Inch);
            for finding in &report.findings {
                found += 1;
                let foreign = foreign_unit(finding, inch);
                assert_eq!(foreign, None, "{} {shown_in_inch:?}", case.name);
            }
        }
    }
    assert!(found > 150, "{found}");
}
