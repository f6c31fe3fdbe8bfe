//! What a pass is held against, and what is held against it: chip, shape and strength.
//! Hold and power have files of their own.

use super::{Card, Registered, formula, registered, told_in_words};
use crate::quantity::{Force, Length, Pressure, Quantity, Torque};
use crate::symbol as s;
use std::f64::consts::PI;

/// The formulas of this file.
pub static FORMULAS: &[Registered] = &[
    registered::<RunoutGain>(),
    registered::<HalfFeed>(),
    registered::<MostThatRubs>(),
    registered::<FlutesOut>(),
    registered::<Slenderness>(),
    registered::<UsualDepth>(),
    registered::<DepthForChips>(),
    registered::<UsualWidth>(),
    registered::<WidestHelix>(),
    registered::<TipAllowed>(),
    registered::<ThirdOfStrength>(),
    registered::<PlungeStress>(),
    told_in_words(EDGES_THAT_RUB, &[&s::H_MIN, &s::F_Z, &s::TIR, &s::Z]),
    told_in_words(WALL, &[&s::E, &s::STICK_OUT, &s::A_P]),
];

formula! {
    /// What runout adds to the feed of the edge it pushes out most.
    ///
    /// # Takes
    /// `tir` >= 0, `z` >= 1.
    ///
    /// # Gives
    /// Nothing for one edge, at most the whole runout for two.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::RunoutGain};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let gain = RunoutGain { tir: mm(0.01), z: 2.0 }.value();
    /// assert!((in_mm(gain) - 0.01).abs() < 1e-12); // 0.01 mm · sin 90°
    /// ```
    RunoutGain { tir: Length = TIR, z: f64 = Z } -> Length = GAIN;
    name "what runout adds to one edge";
    text "t_r · sin(π / z)";
    why "the edge that runs out takes part of the chip of the one before it";
    source "geometry of an offset axis; W. Kline, R. DeVor 1983 (memory)";
    |f| f.tir * (PI / f.z).sin()
}

formula! {
    /// The runout that a feed can bear: half of it.
    ///
    /// # Takes
    /// `f_z` > 0.
    ///
    /// # Gives
    /// Half of the feed.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::HalfFeed};
    /// use feeds_core::quantity::{in_mm, mm};
    /// assert!((in_mm(HalfFeed { f_z: mm(0.02) }.value()) - 0.01).abs() < 1e-12);
    /// ```
    HalfFeed { f_z: Length = F_Z } -> Length = GAIN_MOST;
    name "runout that the feed can bear";
    text "f_z / 2";
    why "beyond it one edge takes more than half as much again, and others rub";
    source "common practice";
    |f| f.f_z / 2.0
}

formula! {
    /// What rubs: the share of the arc or of the edges, whichever is more.
    ///
    /// # Takes
    /// Shares of 0 to 1.
    ///
    /// # Gives
    /// A share of 0 to 1.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::MostThatRubs};
    /// let rubs = MostThatRubs { arc: 0.3, edges: 0.5 }.value();
    /// assert!((rubs - 0.5).abs() < 1e-12);
    /// ```
    MostThatRubs { arc: f64 = RUBBING, edges: f64 = EDGES_RUB } -> f64 = RUBS;
    name "share that rubs";
    text "max(s_r, s_e)";
    why "an edge may rub over part of its arc, or all along because another runs out past it";
    source "geometry";
    |f| f.arc.max(f.edges)
}

formula! {
    /// The flutes that can cut: those out of the holder.
    ///
    /// # Takes
    /// Lengths > 0.
    ///
    /// # Gives
    /// The shorter of the two.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::FlutesOut};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let out = FlutesOut { flutes: mm(20.0), stick_out: mm(15.0) }.value();
    /// assert!((in_mm(out) - 15.0).abs() < 1e-12);
    /// ```
    FlutesOut { flutes: Length = L_FLUTE, stick_out: Length = STICK_OUT } -> Length = L_CUTS;
    name "flutes out of the holder";
    text "min(l_f, l)";
    why "flutes inside the holder cut nothing";
    source "geometry";
    |f| if f.flutes < f.stick_out { f.flutes } else { f.stick_out }
}

formula! {
    /// How slender a cutter is.
    ///
    /// # Takes
    /// The flutes `out` of the holder, the length of the neck behind them, nothing where there is
    /// none, the whole stick-out and both diameters, all > 0.
    ///
    /// # Gives
    /// What is thin over its diameter, or all that sticks out over the shank where that is more.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::Slenderness};
    /// use feeds_core::quantity::mm;
    /// let cutter = Slenderness {
    ///     out: mm(1.0), neck: mm(2.0), stick_out: mm(15.0), d: mm(0.5), shank: mm(3.0),
    /// };
    /// assert!((cutter.value() - 6.0).abs() < 1e-12); // 3 / 0.5, and 15 / 3 is less
    /// ```
    Slenderness {
        out: Length = L_CUTS, neck: Length = L_NECK, stick_out: Length = STICK_OUT,
        d: Length = D, shank: Length = D_SHANK,
    } -> f64 = SLENDER;
    name "slenderness";
    text "max(min(l_c + l_n, l) / D, l / max(d_sh, D))";
    why "a small mill bends where it is thin, not where its shank is thick";
    source "common practice";
    |f| {
        let thin = (f.out.si() + f.neck.si()).min(f.stick_out.si()) / f.d.si();
        thin.max(f.stick_out.si() / f.shank.si().max(f.d.si()))
    }
}

formula! {
    /// The usual depth of a path.
    ///
    /// # Takes
    /// `times` > 0 from the tables, `d` > 0.
    ///
    /// # Gives
    /// A guide, no bound.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::UsualDepth};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let depth = UsualDepth { times: 0.5, d: mm(6.0) }.value();
    /// assert!((in_mm(depth) - 3.0).abs() < 1e-12);
    /// ```
    UsualDepth { times: f64 = DEPTH_TIMES, d: Length = D } -> Length = A_P_USUAL;
    name "usual depth";
    text "x_p · D";
    why "what a cutter bears grows with its diameter";
    source "common practice";
    |f| f.times * f.d
}

formula! {
    /// The depth that chips get out of between two walls.
    ///
    /// # Takes
    /// `times` > 0 from the tables, by the number of edges; `d` > 0.
    ///
    /// # Gives
    /// A guide, no bound.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::DepthForChips};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let depth = DepthForChips { times: 1.5, d: mm(4.0) }.value();
    /// assert!((in_mm(depth) - 6.0).abs() < 1e-12);
    /// ```
    DepthForChips { times: f64 = CHIP_TIMES, d: Length = D } -> Length = A_P_CHIPS;
    name "depth that chips get out of";
    text "x_c · D";
    why "the flutes are as wide as the cutter is thick, and the chips have to rise in them";
    source "common practice";
    |f| f.times * f.d
}

formula! {
    /// The usual width of a path at this depth.
    ///
    /// # Takes
    /// `times` > 0 from the tables, `d` > 0.
    ///
    /// # Gives
    /// A guide, no bound.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::UsualWidth};
    /// use feeds_core::quantity::{in_mm, mm};
    /// let width = UsualWidth { times: 0.25, d: mm(6.0) }.value();
    /// assert!((in_mm(width) - 1.5).abs() < 1e-12);
    /// ```
    UsualWidth { times: f64 = WIDTH_TIMES, d: Length = D } -> Length = A_E_USUAL;
    name "usual width";
    text "x_e · D";
    why "what a cutter bears grows with its diameter";
    source "common practice";
    |f| f.times * f.d
}

formula! {
    /// The widest hole that a helix leaves no core in.
    ///
    /// # Takes
    /// `d` > 0.
    ///
    /// # Gives
    /// A bound of the geometry.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::WidestHelix};
    /// use feeds_core::quantity::{in_mm, mm};
    /// assert!((in_mm(WidestHelix { d: mm(3.0) }.value()) - 6.0).abs() < 1e-12);
    /// ```
    WidestHelix { d: Length = D } -> Length = HOLE_MOST;
    name "widest hole of a helix";
    text "2 · D";
    why "in a wider one the cutter does not reach the centre";
    source "geometry";
    |f| 2.0 * f.d
}

formula! {
    /// How far a tip may give before it chatters and wanders.
    ///
    /// # Takes
    /// `d` > 0.
    ///
    /// # Gives
    /// A guide, no bound.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::TipAllowed};
    /// use feeds_core::quantity::{in_mm, mm};
    /// assert!((in_mm(TipAllowed { d: mm(3.0) }.value()) - 0.03).abs() < 1e-12);
    /// ```
    TipAllowed { d: Length = D } -> Length = DEFLECTION_MOST;
    name "bending of the tip that is usual";
    text "0.01 · D";
    why "a tip that gives by more than a hundredth of its diameter chatters and wanders";
    source "common practice";
    |f| 0.01 * f.d
}

formula! {
    /// The stress a cutter bears with a nick, a jolt or a hard spot.
    ///
    /// # Takes
    /// `strength` > 0.
    ///
    /// # Gives
    /// The stress from which a cutter may break.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::ThirdOfStrength};
    /// use feeds_core::quantity::{Quantity, n_per_mm2};
    /// let third = ThirdOfStrength { strength: n_per_mm2(3600.0) }.value();
    /// assert!((third.si() - 1200e6).abs() < 1e-3);
    /// ```
    ThirdOfStrength { strength: Pressure = SIGMA_B } -> Pressure = SIGMA_MOST;
    name "third of the cutter's strength";
    text "σ_b / 3";
    why "brittle carbide breaks from a nick at a part of what a polished bar bears";
    source "common practice";
    |f| f.strength / 3.0
}

formula! {
    /// The stress in the core of a cutter that goes straight down.
    ///
    /// # Takes
    /// The core's diameter `d` > 0 and the load of the plunge.
    ///
    /// # Gives
    /// The largest principal stress, without chips that pack.
    ///
    /// # Example
    /// ```
    /// use feeds_core::formula::{Formula, allowed::PlungeStress};
    /// use feeds_core::quantity::{Force, Quantity, Torque, mm};
    /// let thrust = Force::from_si(100.0);
    /// let load = PlungeStress { thrust, torque: Torque::from_si(0.0), core: mm(2.0) };
    /// assert!((load.value().si() / 1e6 - 31.831).abs() < 1e-3); // 4 · 100 / (π · 2²)
    /// ```
    PlungeStress { thrust: Force = F_PLUNGE, torque: Torque = M_PLUNGE, core: Length = D_CORE }
        -> Pressure = SIGMA_PLUNGE;
    name "stress of a plunge";
    text "2 · F_p / (π · d_c^2) + √((2 · F_p / (π · d_c^2))^2 + (16 · M_p / (π · d_c^3))^2)";
    why "the core is pressed and twisted at once, and the largest principal stress breaks it";
    source "strength of materials: round bar under thrust and torque (common practice)";
    |f| {
        let core = f.core.si();
        let half = 2.0 * f.thrust.si() / (PI * core.powi(2));
        let twisted = 16.0 * f.torque.si() / (PI * core.powi(3));
        Pressure::from_si(half + half.hypot(twisted))
    }
}

/// The card of the share of the edges that rub.
pub const EDGES_THAT_RUB: Card = Card {
    name: "edges that rub",
    symbol: &s::EDGES_RUB,
    text: "of z edges whose feeds t_r changes, the share whose largest chip stays below h_min",
    prose: true,
    why: "where one edge runs out, others take what it leaves",
    source: "geometry of an offset axis; W. Kline, R. DeVor 1983 (memory)",
};

/// The card of the wall error.
pub const WALL: Card = Card {
    name: "how far the wall is off",
    symbol: &s::WALL_ERROR,
    text: "the larger of bottom and top: the force off the wall at the moment an edge makes it \
           there, of the sum over a turn, times what cutter and machine give there",
    prose: true,
    why: "a wall is made where an edge leaves it, and stands as far off as the cutter has given",
    source: "checked by integration along the edge; Euler-Bernoulli beam (common practice)",
};
