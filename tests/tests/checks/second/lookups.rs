//! What the tables answer to a stock, a hardness, a cutter and a cut, against
//! `independent/lookups.py`, which reads the data files by the rules that are written down: the
//! band, the row it is from, the rows kept beside it in their order, what is weak or capped, and
//! what is refused with which nearest row.

use tests::lookups::{apart, ours};
use tests::second::cases;

#[test]
fn lookups_are_those_of_the_written_rules() {
    let mut faults = Vec::new();
    for case in cases("lookups") {
        if let Some(what) = apart(&ours(&case.told), &case.answer) {
            faults.push(format!("{}: {what}", case.told));
        }
    }
    assert!(
        faults.is_empty(),
        "{} differ, as\n{}",
        faults.len(),
        faults[..faults.len().min(12)].join("\n")
    );
}
