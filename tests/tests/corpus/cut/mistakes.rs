//! The kinds of mistakes of the whole corpus, with the stock cut move by move beside them: what is
//! told without the cut is told with it, and a sound programme is not stopped.

use super::super::{KINDS, Programme, audit, audit_sound, clean, is_told, singles};
use feeds_core::cutter::End;
use feeds_core::programme::{Finding, Simulated};
use std::fmt::Write as _;

/// Where all of the cut is known, what the box of the stock would say is said of the cut itself.
const OF_THE_CUT: (&str, &str) = ("rapid-into-stock", "cut-at-rapid");

fn with_the_cut(programme: &mut Programme) {
    for tool in &mut programme.setting.tools {
        tool.cutter.end = Some(End::Square);
    }
    programme.setting.simulate = Some(Simulated {
        cell_mm: Some(0.1),
        ..Simulated::default()
    });
}

#[test]
fn the_kinds_are_told_beside_the_cut() {
    let mut rows = vec![[0_u32; 2]; KINDS.len()];
    let (mut missed, mut cut) = (String::new(), 0);
    for mut programme in singles() {
        with_the_cut(&mut programme);
        let report = audit(&programme);
        cut += u32::from(report.simulation.is_some_and(|cut| cut.removed > 0.0));
        for (kind, lines) in &programme.planted {
            let row = &mut rows[*kind];
            row[0] += 1;
            let of = KINDS[*kind];
            let of_cut = |f: &Finding| {
                f.code == OF_THE_CUT.1
                    && of.told_by.contains(&OF_THE_CUT.0)
                    && lines.iter().any(|(a, b)| (*a..=*b).contains(&f.line))
            };
            if is_told(of, lines, &report.findings) || report.findings.iter().any(of_cut) {
                row[1] += 1;
            } else {
                let told: Vec<(u64, &str)> =
                    report.findings.iter().map(|f| (f.line, f.code)).collect();
                let _ = writeln!(missed, "{} {}: {told:?}", programme.name, of.name);
            }
        }
    }
    let (mut all, mut all_told) = (0, 0);
    for (kind, [planted, told]) in KINDS.iter().zip(&rows) {
        assert!(*planted > 0, "«{}»", kind.name);
        assert!(
            20 * told >= 19 * planted,
            "{}: {told} of {planted}\n{missed}",
            kind.name
        );
        all += planted;
        all_told += told;
    }
    println!("{all_told} of {all} told beside the cut, {cut} programmes cut something");
    assert!(20 * all_told >= 19 * all, "{missed}");
    // In most of them something is cut at all.
    assert!(2 * cut > all, "{cut} of {all}");
}

#[test]
fn a_sound_programme_is_not_stopped_by_its_cut() {
    for mut programme in clean() {
        with_the_cut(&mut programme);
        audit_sound(&programme);
    }
}
