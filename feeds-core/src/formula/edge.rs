//! The straight law: what a chip takes and what the edge takes beside it, over the width of cut.

use super::{Registered, formula, registered};
use crate::quantity::{Length, Pressure, Quantity, Stiffness};

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<ShearCoefficient>(),
    registered::<CappedShearCoefficient>(),
    registered::<RadialCoefficient>(),
    registered::<FlowStress>(),
    registered::<EdgeAlong>(),
    registered::<EdgeAcross>(),
    registered::<PloughAlong>(),
    registered::<PloughAcross>(),
    registered::<WearPressure>(),
    registered::<WornAlong>(),
    registered::<WornAcross>(),
    registered::<EndEdge>(),
    registered::<ForceAlong>(),
    registered::<ForceAcross>(),
];

/// Chip thickness at which the tangent touches the printed row, over that of `k_c1.1`.
const TANGENT: f64 = 0.1;

/// Slope of the row's force at the chip where the tangent touches it.
fn tangent(kc11: Pressure, m_c: f64) -> Pressure {
    (1.0 - m_c) * kc11 * TANGENT.powf(-m_c)
}

formula! {
    /// Shear coefficient `K_tc`: force along the cut for each bit of chip section.
    ///
    /// # Takes
    /// `kc11` > 0 and `m_c` 0 to below 1 of a printed row.
    ///
    /// # Gives
    /// The slope of the row's force at a chip of 0.1 mm. Holds for chips of 0.003 to 0.2 mm; at
    /// 0.3 mm the straight law lies about a tenth above the row.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::ShearCoefficient};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let k_tc = ShearCoefficient { kc11: n_per_mm2(1500.0), m_c: 0.22 }.value();
    /// assert!((k_tc.si() / 1e6 - 1941.72).abs() < 0.01); // 0.78 · 1500 · 0.1^−0.22
    /// ```
    ShearCoefficient { kc11: Pressure = KC11, m_c: f64 = M_C } -> Pressure = K_TC;
    name "shear coefficient";
    text "(1 − m_c) · k_c1.1 · (0.1 mm / 1 mm)^(−m_c)";
    why "measured forces grow straight with the chip; the row gives the slope at 0.1 mm, where it \
         was measured";
    source "tangent of the printed row; fitted to measured milling forces, see the tables";
    |f| tangent(f.kc11, f.m_c)
}

formula! {
    /// Shear coefficient `K_tc` of a steel, capped by its hardness.
    ///
    /// # Takes
    /// `kc11` > 0 and `m_c` 0 to below 1 of a printed row, `hardness` 9.81 N/mm2 a point of
    /// Vickers.
    ///
    /// # Gives
    /// The slope of the row's force at a chip of 0.1 mm, and no more than 3.6 times the shear flow
    /// stress: a shear angle of 35 to 40° and a friction angle of 25 to 30°.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::CappedShearCoefficient};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let k_tc = CappedShearCoefficient {
    ///     kc11: n_per_mm2(1820.0), m_c: 0.26, hardness: n_per_mm2(9.81 * 220.0),
    /// };
    /// // 0.74 · 3311.86 = 2450.77 by the row, 1080 + 0.61 · 2158.2 by the hardness
    /// assert!((k_tc.value().si() / 1e6 - 2396.50).abs() < 0.01);
    /// ```
    CappedShearCoefficient {
        kc11: Pressure = KC11, m_c: f64 = M_C, hardness: Pressure = HARDNESS,
    } -> Pressure = K_TC;
    name "shear coefficient of a steel";
    text "min((1 − m_c) · k_c1.1 · (0.1 mm / 1 mm)^(−m_c), 1080 N/mm2 + 0.61 · H)";
    why "measured forces grow straight with the chip; the row gives the slope at 0.1 mm, and no \
         steel shears harder than its hardness lets it";
    source "tangent of the printed row; shear flow stress times 3.6, shear angle 35 to 40° \
            (memory)";
    |f| {
        let cap = Pressure::from_si(1080e6 + 0.61 * f.hardness.si());
        let tangent = tangent(f.kc11, f.m_c);
        if tangent < cap { tangent } else { cap }
    }
}

formula! {
    /// Chip part across the cut `K_rc`.
    ///
    /// # Takes
    /// `k_r` 0 to 1, `k_tc` > 0.
    ///
    /// # Gives
    /// A share of `k_tc`.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::RadialCoefficient};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let k_rc = RadialCoefficient { k_r: 0.35, k_tc: n_per_mm2(2000.0) }.value();
    /// assert!((k_rc.si() / 1e6 - 700.0).abs() < 1e-9);
    /// ```
    RadialCoefficient { k_r: f64 = K_R_SHARE, k_tc: Pressure = K_TC } -> Pressure = K_RC;
    name "chip part across the cut";
    text "k_r · K_tc";
    why "the chip pushes the edge away as well as back";
    source "share fitted to measured milling forces, see the tables";
    |f| f.k_r * f.k_tc
}

formula! {
    /// Shear flow stress `τ_s` of a hardened steel.
    ///
    /// # Takes
    /// `hardness` 9.81 N/mm2 a point of Vickers.
    ///
    /// # Gives
    /// 300 N/mm2 or more.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::FlowStress};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let flow = FlowStress { hardness: n_per_mm2(7318.26) }.value();
    /// assert!((flow.si() / 1e6 - 1544.10).abs() < 0.01); // 300 + 0.17 · 7318.26
    /// ```
    FlowStress { hardness: Pressure = HARDNESS } -> Pressure = TAU_S;
    name "shear flow stress";
    text "300 N/mm2 + 0.17 · H";
    why "harder steel flows under more stress";
    source "line through flow stresses of soft and hardened steel (memory)";
    |f| Pressure::from_si(300e6 + 0.17 * f.hardness.si())
}

formula! {
    /// Edge force along the cut `K_te0` of a new edge.
    ///
    /// # Takes
    /// `k_te_class` of the class of stock, `scale` its hardness over that of the class's row,
    /// `r_edge` and `r_usual` > 0.
    ///
    /// # Gives
    /// In proportion to the edge radius.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::EdgeAlong};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm};
    /// let k_te_class = Stiffness::from_si(46e3);
    /// let k_te = EdgeAlong { k_te_class, scale: 1.0, r_edge: mm(0.005), r_usual: mm(0.01) };
    /// assert!((k_te.value().si() / 1e3 - 23.0).abs() < 1e-9); // half the radius
    /// ```
    EdgeAlong {
        k_te_class: Stiffness = K_TE_CLASS, scale: f64 = HARD_SCALE, r_edge: Length = R_EDGE,
        r_usual: Length = R_USUAL,
    } -> Stiffness = K_TE0;
    name "edge force along the cut";
    text "K_te,c · q_H · r_β / r_β0";
    why "the round edge ploughs with the same force whatever the chip, more the rounder it is";
    source "fitted to measured milling forces, see the tables";
    |f| f.k_te_class * (f.scale * f.r_edge.si() / f.r_usual.si())
}

formula! {
    /// Edge force across the cut `K_re0` of a new edge.
    ///
    /// # Takes
    /// `k_re_class` of the class of stock, `scale` its hardness over that of the class's row,
    /// `r_edge` and `r_usual` > 0.
    ///
    /// # Gives
    /// In proportion to the edge radius.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::EdgeAcross};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm};
    /// let k_re_class = Stiffness::from_si(68e3);
    /// let k_re = EdgeAcross { k_re_class, scale: 1.0, r_edge: mm(0.02), r_usual: mm(0.01) };
    /// assert!((k_re.value().si() / 1e3 - 136.0).abs() < 1e-9); // twice the radius
    /// ```
    EdgeAcross {
        k_re_class: Stiffness = K_RE_CLASS, scale: f64 = HARD_SCALE, r_edge: Length = R_EDGE,
        r_usual: Length = R_USUAL,
    } -> Stiffness = K_RE0;
    name "edge force across the cut";
    text "K_re,c · q_H · r_β / r_β0";
    why "the round edge is pushed off the work with the same force whatever the chip";
    source "fitted to measured milling forces, see the tables";
    |f| f.k_re_class * (f.scale * f.r_edge.si() / f.r_usual.si())
}

formula! {
    /// Edge force along the cut `K_te0` in hardened steel.
    ///
    /// # Takes
    /// `times` 4, `flow` > 0, `r_edge` > 0.
    ///
    /// # Gives
    /// Force over width.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::PloughAlong};
    /// use feeds_core::quantity::{Quantity, mm, n_per_mm2};
    /// let k_te = PloughAlong { times: 4.0, flow: n_per_mm2(1544.10), r_edge: mm(0.008) };
    /// assert!((k_te.value().si() / 1e3 - 49.41).abs() < 0.01);
    /// ```
    PloughAlong { times: f64 = PLOUGH_T, flow: Pressure = TAU_S, r_edge: Length = R_EDGE }
        -> Stiffness = K_TE0;
    name "ploughing force along the cut";
    text "c_t · τ_s · r_β";
    why "hard steel under the round edge shears at its flow stress over a few edge radii";
    source "slip lines about a rounded edge, D. Waldorf, R. DeVor, S. Kapoor 1998 (memory, weak)";
    |f| Stiffness::from_si(f.times * f.flow.si() * f.r_edge.si())
}

formula! {
    /// Edge force across the cut `K_re0` in hardened steel.
    ///
    /// # Takes
    /// `times` 7, `flow` > 0, `r_edge` > 0.
    ///
    /// # Gives
    /// Force over width.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::PloughAcross};
    /// use feeds_core::quantity::{Quantity, mm, n_per_mm2};
    /// let k_re = PloughAcross { times: 7.0, flow: n_per_mm2(1544.10), r_edge: mm(0.008) };
    /// assert!((k_re.value().si() / 1e3 - 86.47).abs() < 0.01);
    /// ```
    PloughAcross { times: f64 = PLOUGH_R, flow: Pressure = TAU_S, r_edge: Length = R_EDGE }
        -> Stiffness = K_RE0;
    name "ploughing force across the cut";
    text "c_r · τ_s · r_β";
    why "the steel pressed under the edge pushes back harder than it drags";
    source "slip lines about a rounded edge, D. Waldorf, R. DeVor, S. Kapoor 1998 (memory, weak)";
    |f| Stiffness::from_si(f.times * f.flow.si() * f.r_edge.si())
}

formula! {
    /// Pressure on a worn flank `p_w`.
    ///
    /// # Takes
    /// `hardness` 9.81 N/mm2 a point of Vickers, `modulus` of the stock, both > 0.
    ///
    /// # Gives
    /// At most 0.7 of the hardness, which binds titanium and steel above about 60 HRC.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::WearPressure};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let steel = WearPressure { hardness: n_per_mm2(2158.2), modulus: n_per_mm2(210e3) };
    /// assert!((steel.value().si() / 1e6 - 889.52).abs() < 0.01);
    /// // 62 HRC: 0.7 · 7318.26, where the root gives 5554
    /// let hard = WearPressure { hardness: n_per_mm2(7318.26), modulus: n_per_mm2(210e3) };
    /// assert!((hard.value().si() / 1e6 - 5122.78).abs() < 0.01);
    /// ```
    WearPressure { hardness: Pressure = HARDNESS, modulus: Pressure = E_STOCK }
        -> Pressure = P_WEAR;
    name "pressure on a worn flank";
    text "min(0.62 · H · √(43 · H / E_w), 0.7 · H)";
    why "the land slides over work that springs back under it";
    source "contact pressure of T. Dow, E. Miller, K. Garrard 2004 (constants of their code)";
    |f| {
        let (h, e) = (f.hardness.si(), f.modulus.si());
        Pressure::from_si((0.62 * h * (43.0 * h / e).sqrt()).min(0.7 * h))
    }
}

formula! {
    /// Edge force along the cut with a wear land, `K_te`.
    ///
    /// # Takes
    /// `k_te0` >= 0, `mu_w` friction of the land, `p_w` > 0, `land` >= 0.
    ///
    /// # Gives
    /// `k_te0` or more.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::WornAlong};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let (k_te0, p_w) = (Stiffness::from_si(46e3), n_per_mm2(889.52));
    /// let k_te = WornAlong { k_te0, mu_w: 0.25, p_w, land: mm(0.3) }.value();
    /// assert!((k_te.si() / 1e3 - 112.71).abs() < 0.01); // 46 + 66.71
    /// ```
    WornAlong {
        k_te0: Stiffness = K_TE0, mu_w: f64 = MU_WEAR, p_w: Pressure = P_WEAR,
        land: Length = LAND,
    } -> Stiffness = K_TE;
    name "edge force along the cut with a wear land";
    text "K_te0 + μ_w · p_w · VB";
    why "the flat worn on the flank drags on the finished face";
    source "measured with lands of 0.1 to 0.3 mm in tool steel, see the tables";
    |f| f.k_te0 + Stiffness::from_si(f.mu_w * f.p_w.si() * f.land.si())
}

formula! {
    /// Edge force across the cut with a wear land, `K_re`.
    ///
    /// # Takes
    /// `k_re0` >= 0, `p_w` > 0, `land` >= 0.
    ///
    /// # Gives
    /// `k_re0` or more: a land weighs most across the cut and on thin chips.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::WornAcross};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let (k_re0, p_w) = (Stiffness::from_si(68e3), n_per_mm2(889.52));
    /// let k_re = WornAcross { k_re0, p_w, land: mm(0.3) }.value();
    /// assert!((k_re.si() / 1e3 - 334.85).abs() < 0.01); // 68 + 266.85
    /// ```
    WornAcross { k_re0: Stiffness = K_RE0, p_w: Pressure = P_WEAR, land: Length = LAND }
        -> Stiffness = K_RE;
    name "edge force across the cut with a wear land";
    text "K_re0 + p_w · VB";
    why "the flat worn on the flank is pressed off the finished face";
    source "measured with lands of 0.1 to 0.3 mm in tool steel, see the tables";
    |f| f.k_re0 + Stiffness::from_si(f.p_w.si() * f.land.si())
}

formula! {
    /// Length of the end edge that ploughs on the floor, `L_end`.
    ///
    /// # Takes
    /// `share` 0.2 to 0.4 and `r_edge` > 0 of the least chip.
    ///
    /// # Gives
    /// For each tooth, the length over which a dish of 2.5° clears less than the least chip.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::EndEdge};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let l_end = EndEdge { share: 0.3, r_edge: mm(0.01) }.value();
    /// assert!((in_mm(l_end) - 0.0687).abs() < 1e-4); // 0.003 / tan 2.5°
    /// ```
    EndEdge { share: f64 = LAMBDA, r_edge: Length = R_EDGE } -> Length = L_END;
    name "end edge that ploughs";
    text "λ · r_β / tan(2.5°)";
    why "near its corner the end clears the floor by less than the least chip, and presses on it";
    source "geometry of a dish of 2.5° (common practice, weak)";
    |f| f.share * f.r_edge / 2.5_f64.to_radians().tan()
}

formula! {
    /// Force along the cut over its width, `F_t`.
    ///
    /// # Takes
    /// `k_tc` > 0, `h` >= 0, `k_te` >= 0.
    ///
    /// # Gives
    /// `k_te` at no chip, and straight up from there.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::ForceAlong};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let k_te = Stiffness::from_si(46e3);
    /// let f_t = ForceAlong { k_tc: n_per_mm2(1941.72), h: mm(0.02), k_te }.value();
    /// assert!((f_t.si() / 1e3 - 84.83).abs() < 0.01);
    /// ```
    ForceAlong { k_tc: Pressure = K_TC, h: Length = H, k_te: Stiffness = K_TE }
        -> Stiffness = F_ALONG;
    name "force along the cut over width";
    text "K_tc · h + K_te";
    why "the chip takes its share, the edge its own whatever the chip";
    source "Y. Altintas, Manufacturing Automation, ch. 2 (memory)";
    |f| Stiffness::from_si(f.k_tc.si() * f.h.si()) + f.k_te
}

formula! {
    /// Force across the cut over its width, `F_r`.
    ///
    /// # Takes
    /// `k_rc` >= 0, `h` >= 0, `k_re` >= 0.
    ///
    /// # Gives
    /// `k_re` at no chip, and straight up from there. It bends the cutter and moves the wall.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, edge::ForceAcross};
    /// use feeds_core::quantity::{Quantity, Stiffness, mm, n_per_mm2};
    /// let k_re = Stiffness::from_si(68e3);
    /// let f_r = ForceAcross { k_rc: n_per_mm2(679.60), h: mm(0.02), k_re }.value();
    /// assert!((f_r.si() / 1e3 - 81.59).abs() < 0.01);
    /// ```
    ForceAcross { k_rc: Pressure = K_RC, h: Length = H, k_re: Stiffness = K_RE }
        -> Stiffness = F_ACROSS;
    name "force across the cut over width";
    text "K_rc · h + K_re";
    why "chip and edge both push the cutter off the wall";
    source "Y. Altintas, Manufacturing Automation, ch. 2 (memory)";
    |f| Stiffness::from_si(f.k_rc.si() * f.h.si()) + f.k_re
}
