//! Taylor's tool life from logged lives.

/// V T^n = C: cutting speed V in m/min, life T in min.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taylor {
    /// Exponent.
    pub n: f64,
    /// Speed for one minute of life, m/min.
    pub c: f64,
}

/// Least squares of ln T on ln V, as life is what scatters; exact for two points.
///
/// Points are (V, T), both positive. `None` with fewer than two different speeds, or when life
/// does not depend on speed.
///
/// # Source
/// ISO 3685:1993, annex on the evaluation of tool-life data (memory).
pub fn fit(points: &[(f64, f64)]) -> Option<Taylor> {
    let count = f64::from(u32::try_from(points.len()).ok()?);
    let logs = || points.iter().map(|&(v, t)| (v.ln(), t.ln()));
    let (v_sum, t_sum) = logs().fold((0.0, 0.0), |s, (v, t)| (s.0 + v, s.1 + t));
    let (v_mean, t_mean) = (v_sum / count, t_sum / count);
    let (vv, vt) = logs().fold((0.0, 0.0), |s, (v, t)| {
        (
            s.0 + (v - v_mean).powi(2),
            s.1 + (v - v_mean) * (t - t_mean),
        )
    });
    let n = -vv / vt;
    let c = (v_mean + n * t_mean).exp();
    // Equal speeds leave only rounding in vv, equal lives in vt.
    (vv > 1e-20 && n.is_finite() && c.is_finite()).then_some(Taylor { n, c })
}
