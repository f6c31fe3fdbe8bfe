//! The units a machinist types or reads, in one table.

/// What a quantity measures. Two quantities of one dimension can be compared and converted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Lengths: diameters, depths, feeds per tooth.
    Length,
    /// Areas: the floor of a pocket of any outline.
    Area,
    /// Volumes: what a feature removes.
    Volume,
    /// Cutting speeds and feed speeds.
    Speed,
    /// What an axis drive can do.
    Acceleration,
    /// Turns of the spindle over time.
    Rotation,
    /// Removed volume over time.
    VolumeRate,
    /// Angles.
    Angle,
    /// Stress, modulus, specific cutting force; an energy per volume is the same dimension.
    Pressure,
    /// Forces.
    Force,
    /// Torques.
    Torque,
    /// Powers.
    Power,
    /// Force over length.
    Stiffness,
    /// Times.
    Time,
    /// Vibration frequencies.
    Frequency,
    /// Plain numbers and shares.
    Ratio,
}

impl Dimension {
    /// What people call it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Speed => "a speed",
            Self::Acceleration => "an acceleration",
            Self::Rotation => "a spindle speed",
            Self::VolumeRate => "a removal rate",
            Self::Angle => "an angle",
            Self::Pressure => "a stress or specific force",
            Self::Force => "a force",
            Self::Torque => "a torque",
            Self::Power => "a power",
            Self::Stiffness => "a force over a length (a stiffness)",
            Self::Time => "a time",
            Self::Frequency => "a frequency",
            Self::Ratio => "a plain number",
        }
    }

    /// A number with its unit, for example.
    pub fn like(self) -> &'static str {
        match self {
            Self::Length => "6 mm, 0.25 in or 3/16 in",
            Self::Area => "120 mm2",
            Self::Volume => "500 mm3",
            Self::Speed => "60 m/min or 300 mm/min",
            Self::Acceleration => "0.3 m/s2",
            Self::Rotation => "4400 rpm",
            Self::VolumeRate => "2 cm3/min",
            Self::Angle => "30 deg",
            Self::Pressure => "1700 N/mm2",
            Self::Force => "3 kN",
            Self::Torque => "20 N m",
            Self::Power => "600 W",
            Self::Stiffness => "8 N/um",
            Self::Time => "45 min",
            Self::Frequency => "720 Hz",
            Self::Ratio => "0.25, 3 or 1/2",
        }
    }

    /// Units to offer when none, or a wrong one, was typed.
    pub fn offer(self) -> &'static str {
        match self {
            Self::Length => "mm, um, in, thou",
            Self::Area => "mm2, cm2, in2",
            Self::Volume => "mm3, cm3, in3",
            Self::Speed => "m/min, mm/min, ft/min, in/min",
            Self::Acceleration => "m/s2, mm/s2",
            Self::Rotation => "rpm, 1/min",
            Self::VolumeRate => "cm3/min, mm3/min, in3/min",
            Self::Angle => "deg, rad",
            Self::Pressure => "N/mm2, MPa, GPa, ksi, J/mm3",
            Self::Force => "N, kN, lbf",
            Self::Torque => "N m, in lbf",
            Self::Power => "W, kW, hp",
            Self::Stiffness => "N/mm, N/um, lbf/in",
            Self::Time => "min, s, h",
            Self::Frequency => "Hz, kHz",
            Self::Ratio => "no unit, or %",
        }
    }
}

/// A unit: how it is written, what it measures and how much of the SI base unit it is.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// The way it is shown, and the text scripts see.
    pub text: &'static str,
    /// Other spellings that are read.
    pub also: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Size in SI base units.
    pub size: f64,
}

macro_rules! units {
    ($($name:ident = $text:literal, $also:expr, $dimension:ident, $size:expr;)+) => {
        $(
            #[doc = concat!("The unit `", $text, "`.")]
            pub static $name: Unit = Unit {
                text: $text,
                also: &$also,
                dimension: Dimension::$dimension,
                size: $size,
            };
        )+
        /// Every unit that can be read.
        pub static UNITS: &[&Unit] = &[$(&$name),+];
    };
}

// Sizes by definition: the inch is 25.4 mm, the pound-force 0.453 592 37 kg x 9.806 65 m/s2, the
// horsepower 550 ft lbf/s (NIST SP 811, appendix B).
const INCH_SIZE: f64 = 0.0254;
const FOOT_SIZE: f64 = 0.3048;
const POUND_FORCE: f64 = 0.453_592_37 * 9.806_65;
const HORSEPOWER_SIZE: f64 = 550.0 * FOOT_SIZE * POUND_FORCE;
const MINUTE_SIZE: f64 = 60.0;
const CUBIC_INCH_SIZE: f64 = INCH_SIZE * INCH_SIZE * INCH_SIZE;

units! {
    MILLIMETRE = "mm", ["millimetre", "millimeter"], Length, 1e-3;
    MICROMETRE = "um", ["µm", "μm", "micron", "microns"], Length, 1e-6;
    CENTIMETRE = "cm", [], Length, 1e-2;
    METRE = "m", ["metre", "meter"], Length, 1.0;
    INCH = "in", ["\"", "inch", "inches", "″"], Length, INCH_SIZE;
    FOOT = "ft", ["'", "foot", "feet"], Length, FOOT_SIZE;
    THOU = "thou", ["mil", "mils"], Length, INCH_SIZE * 1e-3;
    SQUARE_MILLIMETRE = "mm2", ["mm²", "mm^2"], Area, 1e-6;
    SQUARE_CENTIMETRE = "cm2", ["cm²", "cm^2"], Area, 1e-4;
    SQUARE_INCH = "in2", ["in²", "in^2"], Area, INCH_SIZE * INCH_SIZE;
    CUBIC_MILLIMETRE = "mm3", ["mm³", "mm^3"], Volume, 1e-9;
    CUBIC_CENTIMETRE = "cm3", ["cm³", "cm^3"], Volume, 1e-6;
    CUBIC_INCH = "in3", ["in³", "in^3"], Volume, CUBIC_INCH_SIZE;
    METRE_PER_MINUTE = "m/min", [], Speed, 1.0 / MINUTE_SIZE;
    MILLIMETRE_PER_MINUTE = "mm/min", [], Speed, 1e-3 / MINUTE_SIZE;
    METRE_PER_SECOND = "m/s", [], Speed, 1.0;
    MILLIMETRE_PER_SECOND = "mm/s", [], Speed, 1e-3;
    FOOT_PER_MINUTE = "ft/min", ["fpm", "sfm"], Speed, FOOT_SIZE / MINUTE_SIZE;
    INCH_PER_MINUTE = "in/min", ["ipm", "\"/min"], Speed, INCH_SIZE / MINUTE_SIZE;
    METRE_PER_SECOND_SQUARED = "m/s2", ["m/s²", "m/s^2"], Acceleration, 1.0;
    MILLIMETRE_PER_SECOND_SQUARED = "mm/s2", ["mm/s²", "mm/s^2"], Acceleration, 1e-3;
    PER_MINUTE = "1/min", ["/min", "rev/min", "r/min", "min-1", "min^-1", "min⁻¹"],
        Rotation,
        1.0 / MINUTE_SIZE;
    RPM = "rpm", [], Rotation, 1.0 / MINUTE_SIZE;
    PER_SECOND = "1/s", ["rps", "/s", "rev/s"], Rotation, 1.0;
    CUBIC_CENTIMETRE_PER_MINUTE = "cm3/min", ["cm³/min", "cm^3/min"], VolumeRate,
        1e-6 / MINUTE_SIZE;
    CUBIC_MILLIMETRE_PER_MINUTE = "mm3/min", ["mm³/min", "mm^3/min"], VolumeRate,
        1e-9 / MINUTE_SIZE;
    CUBIC_MILLIMETRE_PER_SECOND = "mm3/s", ["mm³/s", "mm^3/s"], VolumeRate, 1e-9;
    CUBIC_INCH_PER_MINUTE = "in3/min", ["in³/min", "in^3/min"], VolumeRate,
        CUBIC_INCH_SIZE / MINUTE_SIZE;
    DEGREE = "deg", ["°", "degree", "degrees"], Angle, std::f64::consts::PI / 180.0;
    RADIAN = "rad", [], Angle, 1.0;
    NEWTON_PER_SQUARE_MILLIMETRE = "N/mm2", ["N/mm²", "N/mm^2"], Pressure, 1e6;
    MEGAPASCAL = "MPa", [], Pressure, 1e6;
    GIGAPASCAL = "GPa", [], Pressure, 1e9;
    KILO_NEWTON_PER_SQUARE_MILLIMETRE = "kN/mm2", ["kN/mm²"], Pressure, 1e9;
    PASCAL = "Pa", [], Pressure, 1.0;
    KILOPOUND_PER_SQUARE_INCH = "ksi", [], Pressure,
        1e3 * POUND_FORCE / (INCH_SIZE * INCH_SIZE);
    POUND_PER_SQUARE_INCH = "psi", [], Pressure, POUND_FORCE / (INCH_SIZE * INCH_SIZE);
    KILOGRAM_FORCE_PER_SQUARE_MILLIMETRE = "kgf/mm2", ["kgf/mm²"], Pressure, 9.806_65e6;
    JOULE_PER_CUBIC_MILLIMETRE = "J/mm3", ["J/mm³", "W s/mm3"], Pressure, 1e9;
    JOULE_PER_CUBIC_CENTIMETRE = "J/cm3", ["J/cm³"], Pressure, 1e6;
    HORSEPOWER_PER_CUBIC_INCH_PER_MINUTE = "hp/(in3/min)", ["hp min/in3"], Pressure,
        HORSEPOWER_SIZE * MINUTE_SIZE / CUBIC_INCH_SIZE;
    NEWTON = "N", ["newton"], Force, 1.0;
    KILONEWTON = "kN", [], Force, 1e3;
    POUND = "lbf", ["lb"], Force, POUND_FORCE;
    KILOGRAM_FORCE = "kgf", ["kp"], Force, 9.806_65;
    NEWTON_METRE = "N m", ["Nm", "N*m", "N·m"], Torque, 1.0;
    NEWTON_MILLIMETRE = "N mm", ["Nmm", "N*mm", "N·mm"], Torque, 1e-3;
    INCH_POUND = "in lbf", ["in-lbf", "lbf in", "in lb", "in-lb"], Torque,
        INCH_SIZE * POUND_FORCE;
    FOOT_POUND = "ft lbf", ["ft-lbf", "lbf ft", "ft lb", "ft-lb"], Torque,
        FOOT_SIZE * POUND_FORCE;
    WATT = "W", ["watt"], Power, 1.0;
    KILOWATT = "kW", [], Power, 1e3;
    HORSEPOWER = "hp", ["HP"], Power, HORSEPOWER_SIZE;
    NEWTON_PER_MILLIMETRE = "N/mm", [], Stiffness, 1e3;
    NEWTON_PER_MICROMETRE = "N/um", ["N/µm", "N/μm"], Stiffness, 1e6;
    NEWTON_PER_METRE = "N/m", [], Stiffness, 1.0;
    POUND_PER_INCH = "lbf/in", ["lb/in"], Stiffness, POUND_FORCE / INCH_SIZE;
    MINUTE = "min", ["minute", "minutes"], Time, MINUTE_SIZE;
    SECOND = "s", ["sec", "second", "seconds"], Time, 1.0;
    HOUR = "h", ["hour", "hours"], Time, 3600.0;
    HERTZ = "Hz", [], Frequency, 1.0;
    KILOHERTZ = "kHz", [], Frequency, 1e3;
    ONE = "", [], Ratio, 1.0;
    PERCENT = "%", [], Ratio, 0.01;
}

/// The unit written as `text`, if there is one.
///
/// # Example
/// ```
/// use feeds_core::quantity::unit;
/// assert_eq!(unit::named("mil"), Some(&unit::THOU));
/// assert_eq!(unit::named("mmm"), None);
/// ```
pub fn named(text: &str) -> Option<&'static Unit> {
    let text = text.trim();
    UNITS
        .iter()
        .copied()
        .find(|u| u.text == text || u.also.contains(&text))
        .or_else(|| named_in_any_case(text))
}

/// Spellings of a length per tooth that are no length and something after it.
const OF_TOOTH: &[(&str, &Unit)] = &[("ipt", &INCH)];

/// What stands after a length that is one of each tooth.
const EACH_TOOTH: [&str; 3] = ["/tooth", "/z", " per tooth"];

/// The unit of a feed per tooth written as `text`; a plain length is none. Other lengths are not
/// typed so, and `1 mm/tooth` of depth would be a slip.
///
/// # Example
/// ```
/// use feeds_core::quantity::unit;
/// assert_eq!(unit::per_tooth("mm/tooth"), Some(&unit::MILLIMETRE));
/// assert_eq!(unit::per_tooth("IPT"), Some(&unit::INCH));
/// assert_eq!(unit::per_tooth("mm"), None);
/// ```
pub fn per_tooth(text: &str) -> Option<&'static Unit> {
    let text = text.trim().to_ascii_lowercase();
    let whole = OF_TOOTH.iter().find(|(word, _)| *word == text);
    let length = || {
        let length = EACH_TOOTH.iter().find_map(|end| text.strip_suffix(end))?;
        named(length).filter(|unit| unit.dimension == Dimension::Length)
    };
    whole.map(|(_, unit)| *unit).or_else(length)
}

/// Letter case decides only where two units differ by it (`M` is no metre, `mN` no newton).
fn named_in_any_case(text: &str) -> Option<&'static Unit> {
    let mut hits = UNITS.iter().copied().filter(|u| {
        u.text.eq_ignore_ascii_case(text) || u.also.iter().any(|a| a.eq_ignore_ascii_case(text))
    });
    match (hits.next(), hits.next()) {
        (Some(only), None) if text.len() > 1 => Some(only),
        _ => None,
    }
}
