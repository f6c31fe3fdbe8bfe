//! The lateral force of a pass at every 30 degrees of a turn.

use feeds_core::notebook::Silent;
use feeds_core::plan::Planner;
use feeds_core::plan::moments::Moments;
use feeds_core::quantity::mm;
use feeds_core::symbol as s;
use std::fmt::Write as _;

pub(crate) fn text() -> Result<String, Box<dyn std::error::Error>> {
    let pass = reference_tables::tables()?.pass().stock("6061");
    let pass = pass
        .condition("T6")
        .cutter("6 mm square, 2 edges, uncoated");
    let setup = pass
        .depth(mm(3.0))
        .width(mm(1.0))
        .machine("bench-5000")
        .setup()?;
    let planner = Planner::new(&setup);
    let plan = planner.work_out(&setup, &mut Silent)?;
    let model = planner.model().ok_or("no force law")?;
    let moments = Moments::of(&setup, plan.d_eff);
    let nominal = moments.iter().next().ok_or("no moment")?;
    let mut out = String::new();
    let trace = model.trace(&setup, nominal, plan.f_z, 12);
    for ([lateral, ..], at) in trace.iter().zip(0..) {
        writeln!(out, "{:3} deg  {}", 30 * at, s::F_XY.amount(*lateral))?;
    }
    Ok(out)
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    print!("{}", text()?);
    Ok(())
}
