//! Forces over one turn of the cutter, every tooth and the helix counted.

use super::{Card, Registered, told_in_words};
use crate::kernel::arc::ArcTable;
use crate::kernel::turn::{Law, Turn, TurnCut, TurnPart};
use crate::notebook::{Notebook, Values};
use crate::quantity::{
    Angle, Force, Length, Power, Pressure, Quantity, SpindleSpeed, Torque, in_mm,
};
use crate::symbol as s;
use crate::workpiece::Linear;

/// The calculations of this file.
pub static FORMULAS: &[Registered] = &[told_in_words(
    TURN,
    &[
        &s::D,
        &s::Z,
        &s::HELIX,
        &s::A_P,
        &s::PHI_S,
        &s::F_Z,
        &s::N,
        &s::TIR,
    ],
)];

/// The card of [`turn`].
pub const TURN: Card = Card {
    name: "forces over a turn",
    symbol: &s::F_XY,
    text: "the largest, over a turn at n, of the sum of dF over the z edges wound by λ_s round D, \
           up to a_p and within φ_s: dF = (K_c · (h / 1 mm)^(1 − m_c) · 1 mm + K_e) · db, \
           m_c = 0 by the linear law, h = f_z · sin(φ), the f_z of each edge changed by t_r",
    prose: true,
    why: "several teeth cut at once, each along its helix, and their forces add as vectors",
    source: "Y. Altintas, Manufacturing Automation, ch. 2 (memory); O. Kienzle 1952 (memory)",
};

/// What each bit of edge takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeLaw {
    /// The Kienzle pair, radial and axial force as shares of the tangential one.
    Kienzle {
        /// Specific cutting force at 1 mm.
        kc11: Pressure,
        /// Exponent, `0 <= m_c < 1`.
        m_c: f64,
        /// Radial share.
        k_r: f64,
        /// Axial share.
        k_a: f64,
    },
    /// Linear coefficients, tangential, radial and axial.
    Linear(Linear),
}

impl EdgeLaw {
    fn law(self) -> Law {
        match self {
            Self::Kienzle {
                kc11,
                m_c,
                k_r,
                k_a,
            } => Law::kienzle(kc11.si() / 1e6, m_c, k_r, k_a),
            Self::Linear(linear) => linear.law(),
        }
    }
}

/// A cut whose forces are asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turning {
    /// Cutting diameter.
    pub d: Length,
    /// Edges, at least 1.
    pub z: u32,
    /// Helix angle, 0 to 70 degrees.
    pub helix: Angle,
    /// Depth of cut.
    pub a_p: Length,
    /// Engagement angle; 180 degrees for a slot.
    pub phi_s: Angle,
    /// Where that angle lies.
    pub path: TurnPart,
    /// Feed per tooth.
    pub f_z: Length,
    /// Spindle speed.
    pub n: SpindleSpeed,
    /// What each bit of edge takes.
    pub law: EdgeLaw,
    /// Runout at the tip, total reading; nothing for a cutter that runs true.
    pub tir: Length,
}

/// Forces on the cutter over one turn: x along the feed, y across it, the axis upwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnForces {
    /// Mean along the feed.
    pub x_mean: Force,
    /// Mean across the feed.
    pub y_mean: Force,
    /// Least and most along the feed.
    pub x: (Force, Force),
    /// Least and most across the feed.
    pub y: (Force, Force),
    /// Largest lateral force.
    pub lateral_peak: Force,
    /// Mean pull along the axis: + pulls the cutter out of the holder and lifts the part.
    pub z_mean: Force,
    /// Mean and peak torque.
    pub torque: (Torque, Torque),
    /// Mean and peak power.
    pub power: (Power, Power),
}

/// Works out the forces over a turn.
///
/// # Takes
/// A [`Turning`] already checked: square end, `0 < φ_s <= 180°`, all lengths > 0.
///
/// # Gives
/// [`TurnForces`], peaks to 1e-6 of themselves.
///
/// # Source
/// As [`TURN`].
///
/// # Example
/// ```
/// use feeds_core::formula::turn::{EdgeLaw, Turning, turn};
/// use feeds_core::kernel::turn::TurnPart;
/// use feeds_core::notebook::Silent;
/// use feeds_core::quantity::{Quantity, SpindleSpeed, degrees, mm, n_per_mm2};
/// let cut = Turning {
///     d: mm(8.0), z: 1, helix: degrees(0.0), a_p: mm(1.0), phi_s: degrees(180.0),
///     path: TurnPart::Slot, f_z: mm(0.05), n: SpindleSpeed::per_minute(4000.0), tir: mm(0.0),
///     law: EdgeLaw::Kienzle { kc11: n_per_mm2(1800.0), m_c: 0.25, k_r: 0.4, k_a: 0.0 },
/// };
/// let forces = turn(&cut, &mut Silent);
/// assert!((forces.torque.1.si() - 0.761_31).abs() < 1e-4); // 1800 · 0.05^0.75 · 1 · 4 N mm
/// ```
pub fn turn(cut: &Turning, notes: &mut impl Notebook) -> TurnForces {
    let law = cut.law.law();
    let arc = ArcTable::new(law.m_c);
    let shape = TurnCut {
        d: in_mm(cut.d),
        z: cut.z,
        helix: cut.helix.si(),
        r_e: 0.0,
        a_p: in_mm(cut.a_p),
        arc: cut.phi_s.si(),
        path: cut.path,
        f_z: in_mm(cut.f_z),
        tir: in_mm(cut.tir),
    };
    let over_turn = Turn::new(&arc, &shape, &law);
    let (mean, extremes) = (over_turn.mean(), over_turn.extremes());
    let range = |least: f64, most: f64| (Force::from_si(least), Force::from_si(most));
    // The cosine of 90 degrees is 6e-17, not 0: a pull this small is none.
    let pull = if mean.z.abs() > 1e-9 * extremes.lateral_peak() {
        mean.z
    } else {
        0.0
    };
    // The kernel's torque is in N mm.
    let torque = [mean.torque / 1e3, extremes.most.torque / 1e3];
    let [p_mean, p_peak] = torque.map(|m| Power::from_si(m * cut.n.angular()));
    let [m_mean, m_peak] = torque.map(Torque::from_si);
    let forces = TurnForces {
        x_mean: Force::from_si(mean.x),
        y_mean: Force::from_si(mean.y),
        x: range(extremes.least.x, extremes.most.x),
        y: range(extremes.least.y, extremes.most.y),
        lateral_peak: Force::from_si(extremes.lateral_peak()),
        z_mean: Force::from_si(pull),
        torque: (m_mean, m_peak),
        power: (p_mean, p_peak),
    };
    notes.summed(TURN, || inputs(cut), || results(&forces));
    forces
}

fn inputs(cut: &Turning) -> Values {
    let mut inputs: Values = vec![
        (&s::D, cut.d.si()),
        (&s::Z, f64::from(cut.z)),
        (&s::HELIX, cut.helix.si()),
        (&s::A_P, cut.a_p.si()),
        (&s::PHI_S, cut.phi_s.si()),
        (&s::F_Z, cut.f_z.si()),
        (&s::N, cut.n.si()),
        (&s::TIR, cut.tir.si()),
    ];
    match cut.law {
        EdgeLaw::Kienzle {
            kc11,
            m_c,
            k_r,
            k_a,
        } => inputs.extend([
            (&s::KC11, kc11.si()),
            (&s::M_C, m_c),
            (&s::K_R_SHARE, k_r),
            (&s::K_A_SHARE, k_a),
        ]),
        EdgeLaw::Linear(linear) => inputs.extend(linear.values()),
    }
    inputs
}

fn results(forces: &TurnForces) -> Values {
    vec![
        (&s::F_XY, forces.lateral_peak.si()),
        (&s::F_X_MEAN, forces.x_mean.si()),
        (&s::F_Y_MEAN, forces.y_mean.si()),
        (&s::F_X_MIN, forces.x.0.si()),
        (&s::F_X_MAX, forces.x.1.si()),
        (&s::F_Y_MIN, forces.y.0.si()),
        (&s::F_Y_MAX, forces.y.1.si()),
        (&s::M_MEAN, forces.torque.0.si()),
        (&s::M_MAX, forces.torque.1.si()),
        (&s::P_MEAN, forces.power.0.si()),
        (&s::P_MAX, forces.power.1.si()),
        (&s::F_Z_MEAN, forces.z_mean.si()),
    ]
}
