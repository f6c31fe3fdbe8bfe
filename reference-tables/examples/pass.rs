//! A pass from two names: what to run, what it does to the cutter, and whether to run it.

use feeds_core::{cut::Path, notebook::Silent, plan::Planner, quantity::mm, symbol as s, verdict};

pub(crate) fn text() -> Result<String, Box<dyn std::error::Error>> {
    let setup = reference_tables::tables()?
        .pass()
        .stock("1095")
        .condition("annealed")
        .cutter("6 mm square, 4 edges, AlTiN carbide")
        .machine("bench-5000")
        .path(Path::Slot)
        .depth(mm(1.0))
        .setup()?;
    let plan = Planner::new(&setup).work_out(&setup, &mut Silent)?;
    let loads = plan.loads.ok_or("no force law")?;
    let verdict = verdict::Verdict::of(&plan.checks).word();
    let [n, v_f] = [
        s::N.amount(plan.n.turns().value),
        s::V_F.amount(plan.v_f.value),
    ];
    let [force, tip] = [
        s::F_XY.amount(loads.lateral),
        s::DEFLECTION.amount(loads.tip),
    ];
    Ok(format!(
        "{verdict}: {n}, {v_f}, {force} bends the tip by {tip}\n"
    ))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    print!("{}", text()?);
    Ok(())
}
