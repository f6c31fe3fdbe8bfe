//! A programme, read and audited without a plan: what stops it, line by line.

use feeds_core::programme::{Reader, Setting};
use std::fmt::Write as _;

const PROGRAMME: &str = "G21 G90 G94 G17 G54\nT1 M6\nG43 H1 G0 X0 Y0 Z2\nG1 Z-1 F100\nX30\nM30\n";

pub(crate) fn text() -> Result<String, Box<dyn std::error::Error>> {
    let mut reader = Reader::new(Setting::default());
    reader.feed(PROGRAMME.as_bytes());
    let report = reader.finish();
    let mut out = format!("{}\n", report.verdict().word());
    for finding in report.worst_first() {
        writeln!(
            out,
            "line {}: {} ({})",
            finding.line, finding.text, finding.code
        )?;
    }
    Ok(out)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    print!("{}", text()?);
    Ok(())
}
