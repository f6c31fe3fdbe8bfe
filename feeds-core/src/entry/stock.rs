//! Entries of the stock: what cutting it takes.

use super::Entry;
use crate::symbol as s;

const COEFFICIENT: &str = "from foam to hard alloys";
const SHARE: &str = "no force component is many times the cutting force";
const EDGE: &str = "the force of the edge itself over its width";

register! {
    /// Specific cutting force at 1 mm.
    KC11 = Entry::of_pass(&s::KC11, "kc11", (50.0, 10000.0), "1700 N/mm2",
            "foam has the least, superalloys the most")
        .wider("kc11", (1.0, 50e3), "2100N/mm2", COEFFICIENT);
    /// Exponent of chip thickness.
    M_C = Entry::of_pass(&s::M_C, "mc", (0.0, 0.8), "0.24",
            "the exponents printed for stocks go from {kienzle/m_c/printed}")
        .wider("mc", (0.0, 0.9), "0.25",
            "zero is a force in proportion to the chip, and no stock lies near one");
    /// Tangential cutting coefficient.
    K_TC = Entry::of_pass(&s::K_TC, "ktc", (1.0, 50e3), "1800 N/mm2",
            "one of six linear edge coefficients, measured with such a cutter in this stock; \
             they replace kc11 and mc")
        .alike("Ktc", "1800N/mm2", COEFFICIENT);
    /// Radial cutting coefficient.
    K_RC = Entry::of_pass(&s::K_RC, "krc", (0.0, 50e3), "800 N/mm2",
            "with ktc; zero where the source has none")
        .alike("Krc", "900N/mm2", COEFFICIENT);
    /// Axial cutting coefficient.
    K_AC = Entry::of_pass(&s::K_AC, "kac", (-50e3, 50e3), "300 N/mm2",
            "with ktc; a positive one pulls the cutter out of its holder")
        .alike("Kac", "300N/mm2", COEFFICIENT);
    /// Tangential edge coefficient.
    K_TE = Entry::of_pass(&s::K_TE, "kte", (0.0, 1e3), "20 N/mm",
            "with ktc; the force of the edge over its width, however thin the chip")
        .alike("Kte", "20N/mm", EDGE);
    /// Radial edge coefficient.
    K_RE = Entry::of_pass(&s::K_RE, "kre", (0.0, 1e3), "30 N/mm",
            "with ktc; zero where the source has none")
        .alike("Kre", "30N/mm", EDGE);
    /// Axial edge coefficient.
    K_AE = Entry::of_pass(&s::K_AE, "kae", (-1e3, 1e3), "2 N/mm",
            "with ktc; a positive one pulls the cutter out of its holder")
        .alike("Kae", "2N/mm", EDGE);
    /// Radial share of the cutting force.
    K_R = Entry::of_formula(&s::K_R_SHARE, "k_r", (0.0, 5.0), "0.4", SHARE);
    /// Axial share of the cutting force.
    K_A = Entry::of_formula(&s::K_A_SHARE, "k_a", (-5.0, 5.0), "0.2", SHARE);
    /// Energy per volume.
    U = Entry::of_formula(&s::U, "u", (1e-3, 1000.0), "3J/mm3", COEFFICIENT);
    /// Tangential coefficient of a law without edge terms.
    K_T = Entry::of_formula(&s::K_T, "Kt", (1.0, 50e3), "600N/mm2", COEFFICIENT);
    /// Radial coefficient over the tangential one.
    K_R_RATIO = Entry::of_formula(&s::K_R_RATIO, "K_r", (0.0, 5.0), "0.33", SHARE);
    /// Cutting stiffness.
    K_S = Entry::of_formula(&s::K_S, "Ks", (1.0, 50e3), "1000N/mm2", COEFFICIENT);
    /// Size of the stock along an axis.
    STOCK_SIZE = Entry::of_pass(&s::L, "stock-size", (0.1, 5000.0), "34 x 16 x 9 mm",
        "along X, Y and Z as clamped; an audited programme has to stay inside it");
}
