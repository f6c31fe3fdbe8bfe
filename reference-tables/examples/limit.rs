//! Which limit is nearest to trouble, and the working that leads to it.

use feeds_core::notebook::Recorded;
use feeds_core::plan::Planner;
use feeds_core::quantity::mm;
use feeds_core::symbol::System;
use feeds_core::verdict::nearest;

pub(crate) fn text() -> Result<String, Box<dyn std::error::Error>> {
    let pass = reference_tables::tables()?
        .pass()
        .stock("O1")
        .condition("annealed");
    let pass = pass
        .cutter("3 mm square, 4 edges, AlTiN")
        .machine("bench-5000")
        .hold("vise");
    let setup = pass.depth(mm(2.0)).width(mm(0.5)).setup()?;
    let mut notes = Recorded::default();
    let plan = Planner::new(&setup).work_out(&setup, &mut notes)?;
    let first = nearest(&plan.checks).into_iter().next().ok_or("no check")?;
    let weighed = notes.weighed.iter().find(|w| w.check == *first);
    let working = weighed.map(|w| w.text(System::Metric)).unwrap_or_default();
    Ok(format!("{}\n{working}", first.text(System::Metric)))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    print!("{}", text()?);
    Ok(())
}
