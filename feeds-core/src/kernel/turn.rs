//! Cutting force over one turn of the cutter.
//!
//! Every edge is cut along the axis into bands of constant lead angle and radius (one band for a
//! square end, see [`slices`](super::slices)). Within a band the sum along the edge is closed:
//! with h = `f_z` sin κ sin φ and φ falling by the helix lag up the edge,
//!
//! ```text
//! F_x = -F_t cos φ - F_r sin φ      F_y = F_t sin φ - F_r cos φ      dz = dφ / lag per mm
//! ```
//!
//! so the load needs the integrals of [`ArcTable`] at the two ends of the engaged arc only. A
//! straight edge is the limit: the integrand times the depth.
//!
//! # Source
//! Linear edge model and directions: Y. Altintas, Manufacturing Automation, ch. 2 (memory).
//! Local `k_c`: O. Kienzle 1952 (memory). Chips under runout: W. Kline, R. `DeVor` 1983 (memory).

use core::f64::consts::{PI, TAU};
use core::ops::{Add, AddAssign, Mul};

use super::arc::{ArcIntegrals, ArcTable};
use super::front::{self, EngagedBand};
use super::runout;
use super::slices::{self, Band, Window};

pub use super::runout::chip_feeds;
pub use super::wall::TurnWall;

/// Cutting force per mm of edge: tangential, radial and axial, in this order.
///
/// ```text
/// dF = (cut · (h / 1 mm)^(1-m_c) + edge) db
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Law {
    /// Exponent, 0 ≤ `m_c` < 1; must be that of the [`ArcTable`] used.
    pub m_c: f64,
    /// N/mm² at h = 1 mm.
    pub cut: [f64; 3],
    /// N/mm, whatever the chip thickness.
    pub edge: [f64; 3],
    /// N on each tooth at its tip, whatever chip and depth: the end edge on a floor.
    pub end: [f64; 3],
}

impl Law {
    /// Kienzle: `k_c1.1` in N/mm², radial and axial force as shares of the tangential one.
    pub fn kienzle(kc11: f64, m_c: f64, k_r: f64, k_a: f64) -> Self {
        Self {
            m_c,
            cut: [kc11, k_r * kc11, k_a * kc11],
            edge: [0.0; 3],
            end: [0.0; 3],
        }
    }

    /// Linear edge coefficients: `cut` `K_tc`, `K_rc`, `K_ac` in N/mm², `edge` `K_te`, `K_re`,
    /// `K_ae` in N/mm.
    pub fn linear(cut: [f64; 3], edge: [f64; 3]) -> Self {
        Self {
            m_c: 0.0,
            cut,
            edge,
            end: [0.0; 3],
        }
    }

    /// The same law with an edge force in N/mm added.
    #[must_use]
    pub fn with_edge(self, edge: [f64; 3]) -> Self {
        Self { edge, ..self }
    }

    /// The same law with an end edge that takes so much on each tooth, N.
    #[must_use]
    pub fn with_end(self, end: [f64; 3]) -> Self {
        Self { end, ..self }
    }

    /// Whether there is anything beside the chip.
    fn presses(&self) -> bool {
        self.edge.iter().chain(&self.end).any(|k| k.abs() > 0.0)
    }
}

/// Which part of the turn is engaged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnPart {
    /// 0 to 180°.
    Slot,
    /// From φ = 0: the chip starts at nothing.
    Up,
    /// To φ = 180°: the chip ends at nothing.
    Down,
    /// Centred about the feed direction, as in facing.
    Centred,
}

/// One engagement of one cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnCut {
    /// Cutting diameter, mm.
    pub d: f64,
    /// Number of teeth, at least 1.
    pub z: u32,
    /// Helix angle, rad, 0 ..= 1.3.
    pub helix: f64,
    /// Corner radius, mm: 0 square, `d/2` ball.
    pub r_e: f64,
    /// Depth, mm.
    pub a_p: f64,
    /// Engaged angle at the full diameter, rad, 0 < arc ≤ π (a slot has π; see [`arc_of`]).
    pub arc: f64,
    /// Where that angle lies.
    pub path: TurnPart,
    /// Feed per tooth, mm.
    pub f_z: f64,
    /// Total indicated runout at the tip, mm; 0 for none.
    pub tir: f64,
}

/// Engaged angle of a straight pass, rad: `acos(1 - 2 a_e/d)`.
pub fn arc_of(d: f64, a_e: f64) -> f64 {
    (1.0 - 2.0 * a_e / d).acos()
}

impl TurnCut {
    /// Helix lag, rad per mm of depth.
    pub fn lag_per_mm(&self) -> f64 {
        2.0 * self.helix.tan() / self.d
    }
}

/// Load on the cutter at one angle or its mean over the turn.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Load {
    /// Along the feed, N.
    pub x: f64,
    /// Across the feed, N; with [`TurnPart::Down`] the wall lies at -y.
    pub y: f64,
    /// Along the axis, N; + pulls the cutter out of its holder and lifts the part.
    pub z: f64,
    /// About the axis, N mm.
    pub torque: f64,
}

impl Load {
    /// Force across the axis, N.
    pub fn lateral(&self) -> f64 {
        self.x.hypot(self.y)
    }
}

impl Add for Load {
    type Output = Self;
    #[inline]
    fn add(self, o: Self) -> Self {
        Self {
            x: self.x + o.x,
            y: self.y + o.y,
            z: self.z + o.z,
            torque: self.torque + o.torque,
        }
    }
}

impl AddAssign for Load {
    #[inline]
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}

impl Mul<f64> for Load {
    type Output = Self;
    fn mul(self, k: f64) -> Self {
        Self {
            x: k * self.x,
            y: k * self.y,
            z: k * self.z,
            torque: k * self.torque,
        }
    }
}

/// A cut made ready to be asked for its load at any angle.
///
/// # Example
/// ```
/// use feeds_core::kernel::{arc::ArcTable, turn::{TurnCut, Law, TurnPart, Turn}};
/// use core::f64::consts::PI;
/// // slot, one straight edge: mean F_y = z a_p/(2π) k_c1.1 f_z^(1-m_c) ∫ sin^(2-m_c)
/// let cut = TurnCut { d: 8.0, z: 1, helix: 0.0, r_e: 0.0, a_p: 1.0, arc: PI, path: TurnPart::Slot,
///     f_z: 0.05, tir: 0.0 };
/// let arc = ArcTable::new(0.25);
/// let mean = Turn::new(&arc, &cut, &Law::kienzle(1800.0, 0.25, 0.4, 0.0)).mean();
/// assert!((mean.y - 50.056).abs() < 0.01);
/// ```
#[derive(Clone, Debug)]
pub struct Turn<'a> {
    arc: &'a ArcTable,
    pitch: f64,
    pub(super) lag_per_mm: f64,
    pub(super) bands: Vec<Band>,
    z: u32,
    tir: f64,
    teeth: Vec<Tooth>,
    has_edge: bool,
    kind: TurnKind,
}

/// What a turn is like between its kinks: how closely it has to be looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TurnKind {
    /// Smooth.
    Square,
    /// A corner radius or a ball within the depth leaves weak kinks.
    Round,
    /// Met from outside, or a sketch: few bands, with kinks that count.
    Met,
}

/// What one tooth takes. Teeth that are alike have one between them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tooth {
    /// Its cut force over that of a chip of 1 mm: `(f_j / 1 mm)^(1-m_c)`.
    pub(super) share: f64,
    /// How firmly its edge presses: 1, less when it barely touches, 0 when it does not.
    pub(super) cuts: f64,
}

impl<'a> Turn<'a> {
    /// Makes the cut ready; costs about a microsecond for a square end.
    pub fn new(arc: &'a ArcTable, cut: &TurnCut, law: &Law) -> Self {
        Self::banded((arc, cut, law), slices::ROUND_BANDS, TurnKind::Round)
    }

    /// The same with a round end in few bands, every kink of them an end of a stretch: its peaks
    /// within 3e-3 in a thirtieth of the time, for searches that end with the whole.
    pub fn sketched(arc: &'a ArcTable, cut: &TurnCut, law: &Law) -> Self {
        Self::banded((arc, cut, law), slices::SKETCH_BANDS, TurnKind::Met)
    }

    /// A cut of so many bands on a quarter round; without one it is smooth.
    fn banded((arc, cut, law): (&'a ArcTable, &TurnCut, &Law), on: u32, round: TurnKind) -> Self {
        let bands = slices::bands(arc, cut, law, on);
        let kind = [TurnKind::Square, round][usize::from(cut.r_e > 0.0)];
        Self::with_bands(arc, cut, law, (bands, kind))
    }

    /// A cut whose bands are engaged as something outside measured: only cutter, feed and runout
    /// are taken from `cut`. Below a corner radius or on a ball the ends of the windows change
    /// evenly from a ring to the next that has as many.
    pub fn engaged(arc: &'a ArcTable, cut: &TurnCut, met: &[EngagedBand], law: &Law) -> Self {
        let bands = front::bands((arc, cut, law), met);
        let kind = match &bands[..] {
            [one] if one.even => TurnKind::Square,
            _ => TurnKind::Met,
        };
        Self::with_bands(arc, cut, law, (bands, kind))
    }

    fn with_bands(
        arc: &'a ArcTable,
        cut: &TurnCut,
        law: &Law,
        (bands, kind): (Vec<Band>, TurnKind),
    ) -> Self {
        let mut turn = Self {
            arc,
            pitch: TAU / f64::from(cut.z),
            lag_per_mm: cut.lag_per_mm(),
            bands,
            z: cut.z,
            tir: cut.tir,
            teeth: Vec::new(),
            has_edge: law.presses(),
            kind,
        };
        turn.take_feed(cut.f_z);
        turn
    }

    /// The same cut with another runout, mm, from the next feed on. A cutter that ran true stays
    /// so: its teeth were taken to be alike.
    pub fn take_runout(&mut self, tir: f64) {
        if self.tir > 0.0 {
            self.tir = tir.max(f64::MIN_POSITIVE);
        }
    }

    /// The same cut under another law of the same exponent; one with an end edge needs a cut that
    /// was made ready with one.
    pub fn take_law(&mut self, law: &Law) {
        self.has_edge = law.presses();
        for band in &mut self.bands {
            band.take_law(law);
        }
    }

    /// The same cut at another feed per tooth, mm.
    pub fn take_feed(&mut self, f_z: f64) {
        self.teeth.clear();
        runout::teeth(&mut self.teeth, (self.z, f_z, self.tir), self.arc.power());
    }

    /// How the teeth run: their number, the runout, mm, and p = 1 - `m_c`.
    pub(super) fn run(&self) -> (u32, f64, f64) {
        (self.z, self.tir, self.arc.power())
    }

    /// What each tooth takes, in the order they cut; one when they are alike.
    pub(super) fn teeth(&self) -> &[Tooth] {
        &self.teeth
    }

    /// Angle between teeth, rad.
    pub(super) fn pitch(&self) -> f64 {
        self.pitch
    }

    /// Angle after which the load repeats: a tooth pitch, or a turn when teeth differ.
    pub fn period(&self) -> f64 {
        f64::from(u32::try_from(self.teeth.len()).unwrap_or(1)) * self.pitch
    }

    /// What the load is like between its kinks.
    pub(super) fn kind(&self) -> TurnKind {
        self.kind
    }

    /// Load with the tip of tooth 0 at `theta`, rad.
    pub fn at(&self, theta: f64) -> Load {
        let mut load = Load::default();
        for band in &self.bands {
            load += self.band(band, theta);
        }
        load
    }

    #[inline]
    fn band(&self, band: &Band, theta: f64) -> Load {
        let (mut cut, mut edge) = (ArcIntegrals::default(), ArcIntegrals::default());
        self.in_cut(band, theta, |j, chip, rub| {
            let tooth = self.teeth[j];
            slices::add(&mut cut, chip, tooth.share);
            slices::add(&mut edge, rub, tooth.cuts);
        });
        band.load(cut, edge)
    }

    /// The load at an angle in parts, for any chip: each tooth in cut, what it adds at a share of
    /// 1, and what its edge adds.
    pub(super) fn parts(&self, theta: f64, mut part: impl FnMut(usize, Load, Load)) {
        let none = ArcIntegrals::default();
        for band in &self.bands {
            self.in_cut(band, theta, |j, chip, rub| {
                part(j, band.load(chip, none), band.load(none, rub));
            });
        }
    }

    /// Visits each tooth in cut with its integrals of chip and edge.
    #[inline]
    fn in_cut(
        &self,
        band: &Band,
        theta: f64,
        mut visit: impl FnMut(usize, ArcIntegrals, ArcIntegrals),
    ) {
        let (first, last) = band.reach();
        let base = theta - band.lag;
        let mut i = ((first - base) / self.pitch).floor() + 1.0;
        loop {
            // The edge of tooth i spans hi - span ..= hi, the lower end of the band foremost.
            let hi = base + i * self.pitch;
            if hi.partial_cmp(&last) != Some(core::cmp::Ordering::Less) {
                break;
            }
            let (chip, rub) = if band.even {
                self.even(band, hi)
            } else {
                self.uneven(band, hi)
            };
            visit(self.tooth(i), chip, rub);
            i += 1.0;
        }
    }

    /// Integrals of chip and edge along the engaged part of one edge, its arc alike all along.
    #[inline]
    fn even(&self, band: &Band, hi: f64) -> (ArcIntegrals, ArcIntegrals) {
        let Window { start, end } = band.low;
        if band.straight {
            return (self.arc.integrand(hi), slices::edge_integrand(hi));
        }
        let lo = hi - band.span;
        if self.arc.is_straight() {
            let [to, from] = [hi.min(end), lo.max(start)].map(|at| self.arc.of_both(at));
            return (to[0] - from[0], to[1] - from[1]);
        }
        let to = if hi >= end {
            band.at_end
        } else {
            self.arc.at(hi)
        };
        let from = if lo <= start {
            band.at_start
        } else {
            self.arc.at(lo)
        };
        let edge = if self.has_edge {
            slices::edge_at(hi.min(end)) - slices::edge_at(lo.max(start))
        } else {
            ArcIntegrals::default()
        };
        (to - from, edge)
    }

    /// The same where the arc changes along the edge.
    fn uneven(&self, band: &Band, hi: f64) -> (ArcIntegrals, ArcIntegrals) {
        let (from, to) = band.engaged(hi);
        if to <= from {
            return (ArcIntegrals::default(), ArcIntegrals::default());
        }
        if band.straight {
            let (mut cut, mut edge) = (ArcIntegrals::default(), ArcIntegrals::default());
            slices::add(&mut cut, self.arc.integrand(hi), to - from);
            slices::add(&mut edge, slices::edge_integrand(hi), to - from);
            return (cut, edge);
        }
        let (lo, hi) = (hi - to * band.span, hi - from * band.span);
        let [from, to] = [lo.max(0.0), hi.min(PI)].map(|end| self.arc.of_both(end));
        (to[0] - from[0], to[1] - from[1])
    }

    /// Which of the teeth that differ is the i-th.
    #[inline]
    fn tooth(&self, i: f64) -> usize {
        if self.teeth.len() == 1 {
            return 0;
        }
        // i counts against the turning: tooth i + 1 cuts just before tooth i.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 ≤ i < z"
        )]
        let j = ((-i).rem_euclid(f64::from(self.z))) as usize;
        j.min(self.teeth.len() - 1)
    }

    /// Mean over the turn; the helix has no part in it.
    pub fn mean(&self) -> Load {
        let [cut, edge] = self.mean_parts();
        runout::mean(&self.teeth, cut, edge)
    }

    /// Mean over the turn of the chip at a share of 1, and of the edge.
    pub(super) fn mean_parts(&self) -> [Load; 2] {
        [0, 1].map(|part| {
            let each = self.bands.iter().map(|band| band.over_a_turn(part));
            each.fold(Load::default(), Load::add) * (1.0 / self.pitch)
        })
    }

    /// Loads at `out.len()` even angles over the turn, from θ = 0.
    ///
    /// Equal teeth repeat: when their number divides the length one pitch is computed and copied.
    pub fn trace(&self, out: &mut [Load]) {
        let len = u32::try_from(out.len()).map_or(f64::MAX, f64::from);
        let pitches = TAU / self.period();
        let one = (len / pitches).round();
        let repeats = (one * pitches - len).abs() < 0.5;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 ≤ one ≤ len"
        )]
        let one = if repeats {
            (one as usize).min(out.len())
        } else {
            out.len()
        };
        let step = TAU / len;
        let mut k = 0.0;
        for load in &mut out[..one] {
            *load = self.at(k * step);
            k += 1.0;
        }
        for k in one..out.len() {
            out[k] = out[k - one];
        }
    }
}

/// How far inside a kink its one-sided value is taken, rad.
pub(super) const INSIDE: f64 = 1e-10;
