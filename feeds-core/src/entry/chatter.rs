//! Entries of vibrations.

use super::Entry;
use crate::symbol as s;

const MODE: &str = "from a long thin cutter to a heavy spindle";
const DAMPING: &str = "a mode swings, and it dies away";

register! {
    /// Modal stiffness along the feed.
    K_X = Entry::of_formula(&s::K_X, "kx", (1.0, 1e9), "1340N/mm", MODE);
    /// Modal stiffness across the feed.
    K_Y = Entry::of_formula(&s::K_Y, "ky", (1.0, 1e9), "1340N/mm", MODE);
    /// Modal stiffness.
    K_MODE = Entry::of_formula(&s::K_MODE, "k", (1.0, 1e9), "226N/um", MODE);
    /// Damping ratio along the feed.
    ZETA_X = Entry::of_formula(&s::ZETA_X, "zx", (1e-5, 0.99), "0.011", DAMPING);
    /// Damping ratio across the feed.
    ZETA_Y = Entry::of_formula(&s::ZETA_Y, "zy", (1e-5, 0.99), "0.011", DAMPING);
    /// Damping ratio.
    ZETA = Entry::of_formula(&s::ZETA, "zeta", (1e-5, 0.99), "0.012", DAMPING);
    /// Natural frequency along the feed.
    F_X = Entry::of_formula(&s::F_N_X, "fx", (1.0, 1e5), "922Hz", MODE);
    /// Natural frequency across the feed.
    F_Y = Entry::of_formula(&s::F_N_Y, "fy", (1.0, 1e5), "922Hz", MODE);
    /// Natural frequency.
    F_N = Entry::of_formula(&s::F_N, "f_n", (1.0, 1e5), "250Hz", MODE);
}
