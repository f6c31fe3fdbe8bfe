//! Specific cutting force and the force on one edge.

use super::{Registered, formula, registered};
use crate::quantity::{Angle, Force, Length, Pressure, Quantity, Stiffness};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<SpecificForce>(),
    registered::<LinearSpecificForce>(),
    registered::<ForRake>(),
    registered::<ForWear>(),
    registered::<CuttingForce>(),
    registered::<EdgeForce>(),
];

/// The chip thickness the Kienzle pair is stated at, in metres.
const REFERENCE_CHIP: f64 = 1e-3;
/// The chip thickness the edge force is fitted at, in metres.
const EDGE_CHIP: f64 = 0.02e-3;

formula! {
    /// Specific cutting force `k_c` at a chip thickness.
    ///
    /// # Takes
    /// `kc11` > 0 at 1 mm, `m_c` 0 to 1, `h` > 0; published pairs hold from about 0.05 mm up.
    ///
    /// # Gives
    /// Force over chip section; grows as the chip gets thinner.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::SpecificForce};
    /// use feeds_core::quantity::{Quantity, mm, n_per_mm2};
    /// let k_c = SpecificForce { kc11: n_per_mm2(2220.0), h: mm(0.05), m_c: 0.14 }.value();
    /// assert!((k_c.si() / 1e6 - 3376.74).abs() < 0.01); // 2220 · 0.05^−0.14
    /// ```
    SpecificForce { kc11: Pressure = KC11, h: Length = H, m_c: f64 = M_C } -> Pressure = K_C;
    name "specific cutting force";
    text "k_c1.1 · (h / 1 mm)^(−m_c)";
    why "a thin chip takes more force for its section than a thick one";
    source "O. Kienzle, VDI-Z 94 (1952) (memory); W. König, K. Essel (memory)";
    |f| f.kc11 * (f.h.si() / REFERENCE_CHIP).powf(-f.m_c)
}

formula! {
    /// Specific cutting force `k_c` at a chip thickness, by linear edge coefficients.
    ///
    /// # Takes
    /// `k_tc` > 0, `k_te` >= 0 of one cutter in one stock, `h` > 0.
    ///
    /// # Gives
    /// `k_tc` or more; grows as the chip gets thinner. Of the mean chip it is the mean of the arc,
    /// since the force goes straight with the chip.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::LinearSpecificForce};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let k_te = Stiffness::from_si(20e3); // 20 N/mm
    /// let k_c = LinearSpecificForce { k_tc: n_per_mm2(1800.0), k_te, h: mm(0.05) }.value();
    /// assert!((k_c.si() / 1e6 - 2200.0).abs() < 1e-9); // 1800 + 20 / 0.05
    /// ```
    LinearSpecificForce { k_tc: Pressure = K_TC, k_te: Stiffness = K_TE, h: Length = H }
        -> Pressure = K_C;
    name "specific cutting force by the linear law";
    text "K_tc + K_te / h";
    why "the edge presses with one force whatever the chip, which weighs most on a thin chip";
    source "Y. Altintas, Manufacturing Automation, ch. 2 (memory)";
    |f| Pressure::from_si(f.k_tc.si() + f.k_te.si() / f.h.si())
}

formula! {
    /// Specific cutting force for another rake angle than the table's, `k_c,γ`.
    ///
    /// # Takes
    /// `k_c` > 0, `rake` and `rake_ref`; other books take 1 % a degree.
    ///
    /// # Gives
    /// Less for a keener edge: 1.5 % of the table's value for each degree.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::ForRake};
    /// use feeds_core::quantity::{Quantity, degrees, n_per_mm2};
    /// let k_c = n_per_mm2(2000.0);
    /// let keen = ForRake { k_c, rake: degrees(16.0), rake_ref: degrees(6.0) }.value();
    /// assert!((keen.si() / 1e6 - 1700.0).abs() < 1e-9); // 10 degrees, 15 % less
    /// ```
    ForRake { k_c: Pressure = K_C, rake: Angle = RAKE, rake_ref: Angle = RAKE_REF }
        -> Pressure = K_C_RAKE;
    name "correction for the rake";
    text "k_c · (1 − 0.015 · (γ − γ_0) / 1°)";
    why "a keener edge shears the chip with less force, 1.5 % for each degree";
    source "handbook rule of 1.5 % a degree from the tabulated rake (memory)";
    |f| f.k_c * (1.0 - 0.015 * (f.rake - f.rake_ref).si().to_degrees())
}

formula! {
    /// Specific cutting force of a worn edge, `k_c,w`.
    ///
    /// # Takes
    /// `k_c` > 0, `wear` 1 for a new edge, 1.3 to 1.5 for a worn one.
    ///
    /// # Gives
    /// `k_c` or more.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::ForWear};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let worn = ForWear { k_c: n_per_mm2(2000.0), wear: 1.3 }.value();
    /// assert!((worn.si() / 1e6 - 2600.0).abs() < 1e-9);
    /// ```
    ForWear { k_c: Pressure = K_C, wear: f64 = WEAR } -> Pressure = K_C_WORN;
    name "correction for wear";
    text "k_c · K_w";
    why "a blunt edge needs more force for the same chip";
    source "handbook factor 1.3 to 1.5 for a worn edge (memory)";
    |f| f.k_c * f.wear
}

formula! {
    /// Cutting force `F_c` on one edge.
    ///
    /// # Takes
    /// `k_c` > 0, `b` > 0 width and `h` > 0 thickness of the chip.
    ///
    /// # Gives
    /// The force along the cutting speed.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::CuttingForce};
    /// use feeds_core::quantity::{Quantity, mm, n_per_mm2};
    /// let f_c = CuttingForce { k_c: n_per_mm2(3000.0), b: mm(2.0), h: mm(0.05) }.value();
    /// assert!((f_c.si() - 300.0).abs() < 1e-9);
    /// ```
    CuttingForce { k_c: Pressure = K_C, b: Length = B, h: Length = H } -> Force = F_C;
    name "cutting force";
    text "k_c · b · h";
    why "the section of the chip times the force each bit of it takes";
    source "ISO 3002-4 (memory); O. Kienzle, VDI-Z 94 (1952) (memory)";
    |f| Force::from_si(f.k_c.si() * f.b.si() * f.h.si())
}

formula! {
    /// Edge force over width `K_e` that thin chips take on top of the Kienzle force.
    ///
    /// # Takes
    /// `share` 0.3, `kc11` > 0, `m_c` 0 to 1 of the pair it is added to.
    ///
    /// # Gives
    /// Force over width of cut, the same at every thickness.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, force::EdgeForce};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let k_e = EdgeForce { share: 0.3, kc11: n_per_mm2(1000.0), m_c: 0.0 }.value();
    /// assert!((k_e.si() / 1e3 - 6.0).abs() < 1e-12); // 0.3 · 1000 N/mm2 · 0.02 mm
    /// ```
    EdgeForce { share: f64 = EDGE_SHARE, kc11: Pressure = KC11, m_c: f64 = M_C }
        -> Stiffness = K_EDGE;
    name "edge force over width";
    text "q_β · k_c1.1 · (0.02 mm / 1 mm)^(−m_c) · 0.02 mm";
    why "no edge force of such a stock is measured: a share of its chip force at 0.02 mm stands \
         for it";
    source "common practice";
    |f| {
        let at_edge_chip = f.kc11.si() * (EDGE_CHIP / REFERENCE_CHIP).powf(-f.m_c);
        Stiffness::from_si(f.share * at_edge_chip * EDGE_CHIP)
    }
}
