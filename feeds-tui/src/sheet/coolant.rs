//! How a pass is cooled: a rule of common practice.

use crate::pass::answered::Answered;
use feeds_core::cutter::{Coating, CutterMaterial};
use feeds_core::workpiece::IsoGroup;
use reference_tables::material::Class;
use reference_tables::tables;

/// The rule for this cutter in this stock (common practice).
pub fn rule(answer: &Answered) -> &'static str {
    let setup = &answer.resolved.setup;
    let (cutter, group) = (&setup.cutter, setup.stock.group);
    let class = class(answer);
    let is = |classes: &[Class]| class.is_some_and(|c| classes.contains(&c));
    if is(&[Class::Laminate]) {
        "dry, dust drawn off; wear a respirator"
    } else if is(&[Class::Titanium]) {
        "coolant, steadily; fines burn: none may gather dry"
    } else if is(&[Class::Copper]) || group == IsoGroup::S {
        "coolant, steadily"
    } else if is(&[Class::Brass]) {
        "dry; draw the chips off"
    } else if cutter.material == CutterMaterial::Hss {
        "cutting oil or coolant, steadily"
    } else if group == IsoGroup::N {
        "a little cutting fluid or air, so that chips do not weld"
    } else if cutter.coating == Coating::None {
        "air or a steady mist; never stop and go"
    } else {
        "dry or with air; flood only to clear chips, never stop and go"
    }
}

/// The tables' class of the stock, if it has a row there.
fn class(answer: &Answered) -> Option<Class> {
    let row = answer.resolved.stock_row.as_deref()?;
    let material = tables().ok()?.material(row).ok()?;
    Some(material.class)
}
