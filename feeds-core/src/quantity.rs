//! Quantities: what is measured, in which units it is read and shown.
//!
//! Inside, every quantity is a [`uom`] quantity in SI base units. Outside, a machinist types and
//! reads `3/16"`, `10 ft/min`, `4400 rpm`; [`read`](read::read) and [`Amount`] are the two doors.

pub mod amount;
pub mod inch;
pub mod read;
pub mod unit;

use std::marker::PhantomData;
use uom::si::{ISQ, Quantity as Uom, SI};
use uom::typenum::{N2, P1, Z0};

pub use amount::Amount;
pub use unit::{Dimension, Unit};
pub use uom::si::f64::{
    Acceleration, Angle, Area, Force, Frequency, Length, Power, Pressure, Ratio, Time, Torque,
    Velocity, Volume, VolumeRate,
};

/// Force over length: the stiffness of a beam, or an edge coefficient of a cutting edge.
pub type Stiffness = Uom<ISQ<Z0, P1, N2, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// A thing with one dimension that can be built from, and taken back to, SI base units.
///
/// # Example
/// ```
/// use feeds_core::quantity::{Length, Quantity};
/// assert_eq!(Length::from_si(0.006).si(), 0.006);
/// ```
pub trait Quantity: Copy {
    /// What is measured.
    const DIMENSION: Dimension;
    /// Builds the quantity from its value in SI base units.
    fn from_si(value: f64) -> Self;
    /// The value in SI base units.
    fn si(self) -> f64;
}

macro_rules! quantities {
    ($($name:ty => $dimension:ident),+ $(,)?) => {$(
        impl Quantity for $name {
            const DIMENSION: Dimension = Dimension::$dimension;
            #[inline]
            fn from_si(value: f64) -> Self {
                Self { dimension: PhantomData, units: PhantomData, value }
            }
            #[inline]
            fn si(self) -> f64 {
                self.value
            }
        }
    )+};
}

quantities! {
    Length => Length,
    Area => Area,
    Volume => Volume,
    Velocity => Speed,
    Acceleration => Acceleration,
    VolumeRate => VolumeRate,
    Angle => Angle,
    Pressure => Pressure,
    Force => Force,
    Torque => Torque,
    Power => Power,
    Stiffness => Stiffness,
    Time => Time,
    Frequency => Frequency,
    Ratio => Ratio,
}

impl Quantity for f64 {
    const DIMENSION: Dimension = Dimension::Ratio;
    #[inline]
    fn from_si(value: f64) -> Self {
        value
    }
    #[inline]
    fn si(self) -> f64 {
        self
    }
}

/// How fast the spindle turns, in turns: never in radians by accident.
///
/// `uom` accepts a length times an angular velocity as a velocity, 2π too large; this type makes
/// the choice explicit.
///
/// # Example
/// ```
/// use feeds_core::quantity::SpindleSpeed;
/// let n = SpindleSpeed::per_minute(4400.0);
/// assert!((n.turns().value - 73.333_333).abs() < 1e-5); // 4400 / 60 turns a second
/// assert!((n.angular() - 460.766_922).abs() < 1e-5);    // times 2π radians
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct SpindleSpeed(Frequency);

impl SpindleSpeed {
    /// A spindle speed from turns per unit of time.
    #[inline]
    pub fn of_turns(turns: Frequency) -> Self {
        Self(turns)
    }

    /// A spindle speed from turns per minute.
    #[inline]
    pub fn per_minute(turns: f64) -> Self {
        Self(Frequency::from_si(turns / 60.0))
    }

    /// Turns per unit of time: what feeds are multiplied with.
    #[inline]
    pub fn turns(self) -> Frequency {
        self.0
    }

    /// Turns per minute, as on the machine's display.
    #[inline]
    pub fn in_per_minute(self) -> f64 {
        self.0.value * 60.0
    }

    /// Radians per second: what torque is multiplied with to give power.
    #[inline]
    pub fn angular(self) -> f64 {
        self.0.value * std::f64::consts::TAU
    }
}

impl Quantity for SpindleSpeed {
    const DIMENSION: Dimension = Dimension::Rotation;
    #[inline]
    fn from_si(value: f64) -> Self {
        Self(Frequency::from_si(value))
    }
    #[inline]
    fn si(self) -> f64 {
        self.0.value
    }
}

/// A length from millimetres.
#[inline]
pub fn mm(value: f64) -> Length {
    Length::from_si(value * 1e-3)
}

/// A length in millimetres.
#[inline]
pub fn in_mm(length: Length) -> f64 {
    length.value * 1e3
}

/// An angle from degrees.
#[inline]
pub fn degrees(value: f64) -> Angle {
    Angle::from_si(value.to_radians())
}

/// A pressure from newtons per square millimetre.
#[inline]
pub fn n_per_mm2(value: f64) -> Pressure {
    Pressure::from_si(value * 1e6)
}
