//! From a force model and a cutter to the six linear coefficients that the kernel and the working
//! take.

use super::setup::Setup;
use crate::cut::Path;
use crate::cutter::{Cutter, End};
use crate::formula::Formula;
use crate::formula::edge::{
    CappedShearCoefficient, EdgeAcross, EdgeAlong, EndEdge, FlowStress, ForceAcross, ForceAlong,
    PloughAcross, PloughAlong, RadialCoefficient, ShearCoefficient, WearPressure, WornAcross,
    WornAlong,
};
use crate::formula::force::EdgeForce;
use crate::kernel::turn::Law;
use crate::notebook::{Notebook, Silent};
use crate::quantity::{Length, Pressure, Quantity, Stiffness};
use crate::workpiece::{ClassLaw, EdgeTerms, ForceLaw, Kienzle, Linear, Resistance};

/// Friction of a wear land against the work (memory, see the tables).
pub const LAND_FRICTION: f64 = 0.25;
/// Below this diameter or this depth, m, the end edge counts where it makes a floor.
const END_COUNTS: (f64, f64) = (1e-3, 0.1e-3);

/// The coefficients of a force model, of the mean over the volume and of the hardest layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// For power.
    pub mean: Linear,
    /// For peaks, bending, breakage and hold.
    pub hardest: Linear,
}

impl Coefficients {
    /// The coefficients for a cutter; `None` where hardened stock meets an edge of unknown radius.
    pub fn of(resistance: &Resistance, cutter: &Cutter) -> Option<Self> {
        let edge = edge(resistance, cutter, &mut Silent)?;
        let of = |row: fn(&ClassLaw) -> Kienzle| Linear {
            cut: chip(resistance, row, &mut Silent),
            edge,
        };
        Some(Self {
            mean: of(|law| law.mean),
            hardest: of(|law| law.hardest),
        })
    }

    /// Whether mean and hardest differ.
    pub fn layered(&self) -> bool {
        self.mean != self.hardest
    }
}

/// The chip part by one of the rows of a law.
pub(super) fn chip(
    resistance: &Resistance,
    row: fn(&ClassLaw) -> Kienzle,
    notes: &mut impl Notebook,
) -> [Pressure; 3] {
    let [t, r, a] = match &resistance.law {
        ForceLaw::Linear(linear) => linear.cut,
        ForceLaw::Class(law) => {
            let Kienzle { kc11, m_c } = row(law);
            let k_tc = match resistance.body {
                Some(body) if law.capped => notes.take(CappedShearCoefficient {
                    kc11,
                    m_c,
                    hardness: body.hardness,
                }),
                _ => notes.take(ShearCoefficient { kc11, m_c }),
            };
            let k_rc = notes.take(RadialCoefficient { k_r: law.k_r, k_tc });
            [k_tc, k_rc, law.k_a * k_tc]
        }
    };
    let f = &resistance.factors;
    let cut = f.cut * f.all;
    [t * cut, r * (cut * f.across), a * cut]
}

/// The edge part, its wear land counted in.
pub(super) fn edge(
    resistance: &Resistance,
    cutter: &Cutter,
    notes: &mut impl Notebook,
) -> Option<[Stiffness; 3]> {
    let [t, r, a] = match &resistance.law {
        ForceLaw::Linear(linear) => linear.edge,
        ForceLaw::Class(law) => new_edge(law, resistance, cutter, notes)?,
    };
    let f = &resistance.factors;
    let edge = f.edge * f.all;
    let (k_te0, k_re0, k_ae) = (t * edge, r * (edge * f.across), a * edge);
    let land = resistance.land;
    let Some(body) = resistance.body.filter(|_| land.value > 0.0) else {
        return Some([k_te0, k_re0, k_ae]);
    };
    let p_w = notes.take(WearPressure {
        hardness: body.hardness,
        modulus: body.modulus,
    });
    let p_w = p_w * (f.land * f.all);
    let mu_w = LAND_FRICTION;
    let k_te = notes.take(WornAlong {
        k_te0,
        mu_w,
        p_w,
        land,
    });
    let k_re = notes.take(WornAcross { k_re0, p_w, land });
    Some([k_te, k_re, k_ae])
}

/// The edge part of a new edge, along, across and on the axis.
fn new_edge(
    law: &ClassLaw,
    resistance: &Resistance,
    cutter: &Cutter,
    notes: &mut impl Notebook,
) -> Option<[Stiffness; 3]> {
    let none = Stiffness::from_si(0.0);
    let [along, across] = match law.edge {
        EdgeTerms::Measured {
            along: k_te_class,
            across: k_re_class,
            scale,
        } => {
            // Without a radius, or without the usual one to hold it against, the class stands.
            let radii = cutter.edge_radius.zip(cutter.usual_edge_radius);
            match radii {
                Some((r_edge, r_usual)) => [
                    notes.take(EdgeAlong {
                        k_te_class,
                        scale,
                        r_edge,
                        r_usual,
                    }),
                    notes.take(EdgeAcross {
                        k_re_class,
                        scale,
                        r_edge,
                        r_usual,
                    }),
                ],
                None => [k_te_class * scale, k_re_class * scale],
            }
        }
        EdgeTerms::Ploughing { along, across } => {
            let (r_edge, body) = cutter.edge_radius.zip(resistance.body)?;
            let hardness = body.hardness;
            let flow = notes.take(FlowStress { hardness });
            [
                notes.take(PloughAlong {
                    times: along,
                    flow,
                    r_edge,
                }),
                notes.take(PloughAcross {
                    times: across,
                    flow,
                    r_edge,
                }),
            ]
        }
        EdgeTerms::OfRow { share } => {
            let Kienzle { kc11, m_c } = law.hardest;
            let k_e = notes.take(EdgeForce { share, kc11, m_c });
            [k_e, k_e]
        }
    };
    Some([along, across, none])
}

/// What the end edge takes on each tooth, N, as the kernel has it: it drags along the cut and
/// presses the part down.
fn end(setup: &Setup, law: &Linear) -> [f64; 3] {
    if !makes_a_shallow_floor(setup) {
        return [0.0; 3];
    }
    let Some(r_edge) = setup.cutter.edge_radius else {
        return [0.0; 3];
    };
    let length = EndEdge {
        share: setup.stock.chip_floor,
        r_edge,
    };
    let length = length.value();
    let [k_te, k_re, _] = law.edge.map(|k| k.value * length.value);
    [k_te, 0.0, -k_re]
}

/// Whether the end makes a floor so near its corner that its edge counts.
pub(super) fn makes_a_shallow_floor(setup: &Setup) -> bool {
    let (diameter, depth) = END_COUNTS;
    let floored = !matches!(setup.cut.path, Path::Bore | Path::BallFinish);
    let small = setup.cutter.diameter.value < diameter || setup.cut.a_p.value < depth;
    floored && setup.cutter.end != End::Ball && small
}

/// A law as the kernel takes it in a setup.
pub(super) fn law(setup: &Setup, linear: &Linear) -> Law {
    linear.law().with_end(end(setup, linear))
}

/// Force over the width of an edge at one chip thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverWidth {
    /// Along the cut.
    pub along: Stiffness,
    /// Across it.
    pub across: Stiffness,
}

impl OverWidth {
    /// The force of a stock on a cutter's edge, with the steps that give it; `None` where the edge
    /// of hardened stock has no known radius.
    pub fn of(
        resistance: &Resistance,
        cutter: &Cutter,
        h: Length,
        notes: &mut impl Notebook,
    ) -> Option<Self> {
        let [k_te, k_re, _] = edge(resistance, cutter, notes)?;
        let [k_tc, k_rc, _] = chip(resistance, |law| law.hardest, notes);
        Some(Self {
            along: notes.take(ForceAlong { k_tc, h, k_te }),
            across: notes.take(ForceAcross { k_rc, h, k_re }),
        })
    }
}
