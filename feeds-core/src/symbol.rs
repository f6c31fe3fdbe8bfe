//! The symbols of ISO 3002 and what each means: one word and one unit for one thing.

use crate::nearest::same;
use crate::quantity::unit as u;
use crate::quantity::{Amount, Unit};

/// A symbol: how it is written, what it is called, and the units it is shown in.
#[derive(Debug)]
pub struct Symbol {
    /// The symbol, such as `f_z`.
    pub text: &'static str,
    /// Its name in words.
    pub name: &'static str,
    /// The unit scripts see.
    pub unit: &'static Unit,
    /// The unit people read in the metric system, with the places after the point.
    pub metric: (&'static Unit, usize),
    /// The unit people read in the inch system, with the places after the point.
    pub inch: (&'static Unit, usize),
}

impl PartialEq for Symbol {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

/// The system of units people read. It never changes what was typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Millimetres, metres per minute.
    #[default]
    Metric,
    /// Inches, feet per minute.
    Inch,
}

impl System {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Metric, Self::Inch];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Inch => "inch",
        }
    }

    /// The system of a word.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|system| same(system.word(), word))
    }

    /// The amount in the unit people of this system read; the metric system leaves it as it is.
    ///
    /// # Example
    /// ```
    /// use feeds_core::quantity::{Amount, unit};
    /// use feeds_core::symbol::System;
    /// let v_f = Amount::of(0.0508, &unit::MILLIMETRE_PER_MINUTE); // 0.0508 m/s is 120 in/min
    /// assert_eq!(System::Inch.shown(v_f).to_string(), "120 in/min");
    /// assert_eq!(System::Metric.shown(v_f), v_f);
    /// ```
    #[must_use]
    pub fn shown(self, amount: Amount) -> Amount {
        if self == Self::Metric {
            return amount;
        }
        let metric = |s: &&&Symbol| s.unit == amount.unit || s.metric.0 == amount.unit;
        let alike = |s: &&&Symbol| s.unit.dimension == amount.unit.dimension;
        let symbol = SYMBOLS
            .iter()
            .find(metric)
            .or_else(|| SYMBOLS.iter().find(alike));
        symbol.map_or(amount, |s| amount.shown_in(s.inch.0))
    }
}

impl Symbol {
    /// An amount of this symbol in the unit scripts see.
    pub fn amount(&'static self, si: f64) -> Amount {
        Amount::of(si, self.unit)
    }

    /// The value as people read it: fixed places for this quantity, its unit after it.
    ///
    /// # Example
    /// ```
    /// use feeds_core::symbol::{F_Z, System};
    /// assert_eq!(F_Z.show(0.000_173_2, System::Metric), "0.1732 mm");
    /// assert_eq!(F_Z.show(0.000_173_2, System::Inch), "0.00682 in");
    /// ```
    pub fn show(&self, si: f64, system: System) -> String {
        let (unit, places) = self.read_in(system);
        let amount = Amount::of(si, unit);
        let places = places.max(places_of_feed(amount));
        amount.fixed(self.places_of_size(amount, places))
    }

    /// The places that a size which is bought or measured needs to be read back; no more than
    /// usual where none do.
    fn places_of_size(&self, amount: Amount, places: usize) -> usize {
        if !SIZES.contains(&self.text) {
            return places;
        }
        let number = amount.number();
        let back = |places: &usize| {
            let shown = format!("{number:.places$}").parse::<f64>();
            shown.is_ok_and(|shown| (shown - number).abs() < 1e-9)
        };
        (places..=FINEST_SIZE).find(back).unwrap_or(places)
    }

    /// The value as a formula takes it: as people read it, but turns are 1/min.
    ///
    /// # Example
    /// ```
    /// use feeds_core::symbol::{N, System};
    /// assert_eq!(N.show(70.0, System::Metric), "4200 rpm");
    /// assert_eq!(N.in_formula(70.0, System::Metric), "4200 1/min");
    /// ```
    pub fn in_formula(&self, si: f64, system: System) -> String {
        match self.read_in(system) {
            (unit, places) if unit == &u::RPM => Amount::of(si, &u::PER_MINUTE).fixed(places),
            _ => self.show(si, system),
        }
    }

    /// The unit it is read in, with the places after the point.
    pub fn read_in(&self, system: System) -> (&'static Unit, usize) {
        match system {
            System::Metric => self.metric,
            System::Inch => self.inch,
        }
    }
}

/// Sizes of a cutter, which are bought by the 64th of an inch and the half of a tenth of a
/// millimetre, and the places that take those.
const SIZES: [&str; 5] = ["D", "d_sh", "d_n", "l", "l_f"];
const FINEST_SIZE: usize = 4;

/// Feeds below these are typed a tenth finer: mm/min, in/min (common practice).
pub const SMALL_FEED: (f64, f64) = (20.0, 1.0);

/// The places after the point that a feed is typed with: see [`crate::plan::grid`]. One that was
/// typed finer is shown as it was typed.
fn places_of_feed(amount: Amount) -> usize {
    let number = amount.number();
    let places = match amount.unit {
        unit if unit == &u::MILLIMETRE_PER_MINUTE => {
            usize::from(0.0 < number && number < SMALL_FEED.0)
        }
        unit if unit == &u::INCH_PER_MINUTE => 1 + usize::from(number < SMALL_FEED.1),
        _ => return 0,
    };
    let typed = |places: &usize| {
        let shown = format!("{number:.places$}").parse::<f64>();
        shown.is_ok_and(|shown| (shown - number).abs() <= 1e-9 * number.abs())
    };
    (places..places + 3).find(typed).unwrap_or(places)
}

macro_rules! symbols {
    ($($id:ident = $text:literal, $name:literal, $unit:ident, $metric:ident $places:literal,
       $inch:ident $inch_places:literal;)+) => {
        $(
            #[doc = concat!("`", $text, "`: ", $name, ".")]
            pub static $id: Symbol = Symbol {
                text: $text,
                name: $name,
                unit: &u::$unit,
                metric: (&u::$metric, $places),
                inch: (&u::$inch, $inch_places),
            };
        )+
        /// Every symbol, in the order of this file.
        pub static SYMBOLS: &[&Symbol] = &[$(&$id),+];
    };
}

symbols! {
    D = "D", "cutting diameter", MILLIMETRE, MILLIMETRE 3, INCH 4;
    D_EFF = "D_eff", "effective diameter", MILLIMETRE, MILLIMETRE 3, INCH 4;
    R_EPS = "r_e", "corner radius", MILLIMETRE, MILLIMETRE 3, INCH 4;
    R = "R", "ball or corner radius", MILLIMETRE, MILLIMETRE 3, INCH 4;
    Z = "z", "number of edges", ONE, ONE 0, ONE 0;
    HELIX = "λ_s", "helix angle", DEGREE, DEGREE 1, DEGREE 1;
    KAPPA = "κ", "cutting edge angle", DEGREE, DEGREE 1, DEGREE 1;
    TILT = "β", "tilt of the cutter", DEGREE, DEGREE 1, DEGREE 1;
    SLOPE = "α", "slope of the surface", DEGREE, DEGREE 1, DEGREE 1;
    N = "n", "spindle speed", PER_MINUTE, RPM 0, RPM 0;
    V_C = "v_c", "cutting speed", METRE_PER_MINUTE, METRE_PER_MINUTE 1, FOOT_PER_MINUTE 0;
    F_Z = "f_z", "feed per tooth", MILLIMETRE, MILLIMETRE 4, INCH 5;
    F_FULL = "f_zD", "feed per tooth at full width", MILLIMETRE, MILLIMETRE 4, INCH 5;
    V_F = "v_f", "feed speed", MILLIMETRE_PER_MINUTE, MILLIMETRE_PER_MINUTE 0,
        INCH_PER_MINUTE 1;
    V_F_CENTRE = "v_f,c", "feed speed of the cutter centre", MILLIMETRE_PER_MINUTE,
        MILLIMETRE_PER_MINUTE 0, INCH_PER_MINUTE 1;
    A_P = "a_p", "depth of cut along the axis", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_E = "a_e", "width of cut across the axis", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_E_EQ = "a_e,eq", "equivalent straight width of cut", MILLIMETRE, MILLIMETRE 3, INCH 4;
    Q = "Q", "removal rate", CUBIC_CENTIMETRE_PER_MINUTE, CUBIC_CENTIMETRE_PER_MINUTE 3,
        CUBIC_INCH_PER_MINUTE 4;
    L = "L", "length of cut", MILLIMETRE, MILLIMETRE 1, INCH 2;
    L_A = "L_a", "approach distance", MILLIMETRE, MILLIMETRE 2, INCH 3;
    T_CUT = "t", "cutting time", MINUTE, MINUTE 2, MINUTE 2;
    PHI_S = "φ_s", "engagement angle", DEGREE, DEGREE 1, DEGREE 1;
    PHI_MAX = "φ_max", "largest engagement angle", DEGREE, DEGREE 1, DEGREE 1;
    LAG = "δ_λ", "lag of the helix", DEGREE, DEGREE 1, DEGREE 1;
    TEETH = "z_e", "teeth in cut", ONE, ONE 2, ONE 2;
    TEETH_LEAST = "z_e,min", "fewest teeth in cut", ONE, ONE 0, ONE 0;
    TEETH_MOST = "z_e,max", "most teeth in cut", ONE, ONE 0, ONE 0;
    CORNER_REACH = "c_a", "reach of the straight cut's arc", MILLIMETRE, MILLIMETRE 3, INCH 4;
    CORNER_OFFSET = "c_d", "offset of the two corner paths", MILLIMETRE, MILLIMETRE 3, INCH 4;
    H_MAX = "h_max", "largest chip thickness", MILLIMETRE, MICROMETRE 1, THOU 3;
    H_M = "h_m", "mean chip thickness", MILLIMETRE, MICROMETRE 1, THOU 3;
    H = "h", "chip thickness", MILLIMETRE, MICROMETRE 1, THOU 3;
    H_MIN = "h_min", "least chip thickness that cuts", MILLIMETRE, MICROMETRE 1, THOU 3;
    LAMBDA = "λ", "share of the edge radius that still cuts", ONE, ONE 2, ONE 2;
    R_EDGE = "r_β", "cutting edge radius", MILLIMETRE, MICROMETRE 1, THOU 3;
    RUBBING = "s_r", "share of the arc that rubs", ONE, PERCENT 0, PERCENT 0;
    THINNING = "f_z/h_max", "thinning factor", ONE, ONE 3, ONE 3;
    CUSP = "h_c", "cusp height", MILLIMETRE, MICROMETRE 2, THOU 3;
    STEP = "b_r", "step between paths", MILLIMETRE, MILLIMETRE 3, INCH 4;
    SURFACE_STEP = "b_s", "step along the surface", MILLIMETRE, MILLIMETRE 3, INCH 4;
    R_T = "R_t", "theoretical height of roughness", MICROMETRE, MICROMETRE 2, THOU 4;
    R_A = "R_a", "theoretical mean roughness", MICROMETRE, MICROMETRE 3, THOU 4;
    PITCH = "p", "pitch", MILLIMETRE, MILLIMETRE 3, INCH 4;
    WALL_D = "D_m", "wall diameter", MILLIMETRE, MILLIMETRE 2, INCH 3;
    WALL_R = "R_w", "radius of the finished wall", MILLIMETRE, MILLIMETRE 2, INCH 3;
    HOLE_D = "D_w", "diameter of the hole that is there", MILLIMETRE, MILLIMETRE 2, INCH 3;
    WIDTH = "w", "width of the work", MILLIMETRE, MILLIMETRE 2, INCH 3;
    PREVIOUS_D = "D_prev", "diameter of the cutter before", MILLIMETRE, MILLIMETRE 3, INCH 4;
    DEPTH = "T", "depth to reach", MILLIMETRE, MILLIMETRE 2, INCH 3;
    F_Z_PLUNGE = "f_z,p", "feed per tooth straight down", MILLIMETRE, MILLIMETRE 4, INCH 5;
    PLUNGE_SHARE = "q_p", "feed straight down over the feed", ONE, ONE 2, ONE 2;
    F_PLUNGE = "F_p", "thrust of a plunge", NEWTON, NEWTON 1, POUND 2;
    M_PLUNGE = "M_p", "torque of a plunge", NEWTON_METRE, NEWTON_METRE 3, INCH_POUND 2;
    TURNS = "i", "turns of the helix", ONE, ONE 2, ONE 2;
    PATH_LENGTH = "L_p", "length of the path", MILLIMETRE, MILLIMETRE 1, INCH 2;
    RAMP = "γ_r", "ramp angle", DEGREE, DEGREE 2, DEGREE 2;
    RAMP_LENGTH = "L_r", "length of the ramp", MILLIMETRE, MILLIMETRE 1, INCH 2;
    KC11 = "k_c1.1", "specific cutting force at 1 mm", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    M_C = "m_c", "exponent of chip thickness", ONE, ONE 2, ONE 2;
    K_C = "k_c", "specific cutting force", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_C_RAKE = "k_c,γ", "specific cutting force for the rake", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_C_WORN = "k_c,w", "specific cutting force of the worn edge", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_EDGE = "K_e", "edge force over width", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 1,
        POUND_PER_INCH 1;
    RAKE = "γ", "rake angle", DEGREE, DEGREE 1, DEGREE 1;
    RAKE_REF = "γ_0", "rake angle of the table", DEGREE, DEGREE 1, DEGREE 1;
    WEAR = "K_w", "wear factor", ONE, ONE 2, ONE 2;
    B = "b", "width of the chip", MILLIMETRE, MILLIMETRE 3, INCH 4;
    F_C = "F_c", "cutting force", NEWTON, NEWTON 1, POUND 2;
    F_XY = "F_xy", "peak lateral force", NEWTON, NEWTON 1, POUND 2;
    K_R_SHARE = "k_r", "radial share of the cutting force", ONE, ONE 2, ONE 2;
    K_A_SHARE = "k_a", "axial share of the cutting force", ONE, ONE 2, ONE 2;
    K_TC = "K_tc", "tangential cutting coefficient", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_RC = "K_rc", "radial cutting coefficient", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_AC = "K_ac", "axial cutting coefficient", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_TE = "K_te", "tangential edge coefficient", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 1,
        POUND_PER_INCH 1;
    K_RE = "K_re", "radial edge coefficient", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 1,
        POUND_PER_INCH 1;
    K_AE = "K_ae", "axial edge coefficient", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 1,
        POUND_PER_INCH 1;
    HARDNESS = "H", "hardness of the stock as a pressure", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    E_STOCK = "E_w", "modulus of elasticity of the stock", NEWTON_PER_SQUARE_MILLIMETRE,
        GIGAPASCAL 0, KILOPOUND_PER_SQUARE_INCH 0;
    TAU_S = "τ_s", "shear flow stress", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_TE_CLASS = "K_te,c", "edge force along the cut, of the class", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    K_RE_CLASS = "K_re,c", "edge force across the cut, of the class", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    K_TE0 = "K_te0", "edge force along the cut, new edge", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    K_RE0 = "K_re0", "edge force across the cut, new edge", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    EDGE_SHARE = "q_β", "edge force over the chip force at 0.02 mm", ONE, ONE 2, ONE 2;
    HARD_SCALE = "q_H", "hardness over that of the class's row", ONE, ONE 2, ONE 2;
    R_USUAL = "r_β0", "usual edge radius of such cutters", MILLIMETRE, MICROMETRE 1, THOU 3;
    PLOUGH_T = "c_t", "ploughing along the cut over flow stress and edge radius", ONE, ONE 1,
        ONE 1;
    PLOUGH_R = "c_r", "ploughing across the cut over flow stress and edge radius", ONE, ONE 1,
        ONE 1;
    P_WEAR = "p_w", "pressure on a worn flank", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    MU_WEAR = "μ_w", "friction of the wear land", ONE, ONE 2, ONE 2;
    LAND = "VB", "wear land on the flank", MILLIMETRE, MILLIMETRE 3, INCH 4;
    GROWTH = "g_β", "edge radius worn over new", ONE, ONE 2, ONE 2;
    L_END = "L_end", "length of end edge that ploughs", MILLIMETRE, MICROMETRE 0, THOU 1;
    F_ALONG = "F_t", "force along the cut over width", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    F_ACROSS = "F_r", "force across the cut over width", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 1, POUND_PER_INCH 1;
    F_RADIAL = "F_r,max", "peak radial force", NEWTON, NEWTON 1, POUND 2;
    TIR = "t_r", "runout at the tip, total reading", MILLIMETRE, MICROMETRE 1, THOU 2;
    F_Z_WORST = "f_z,max", "feed of the most loaded tooth", MILLIMETRE, MILLIMETRE 4, INCH 5;
    F_X_MEAN = "F_x,m", "mean force along the feed", NEWTON, NEWTON 1, POUND 2;
    F_Y_MEAN = "F_y,m", "mean force across the feed", NEWTON, NEWTON 1, POUND 2;
    F_X_MIN = "F_x,min", "least force along the feed", NEWTON, NEWTON 1, POUND 2;
    F_X_MAX = "F_x,max", "largest force along the feed", NEWTON, NEWTON 1, POUND 2;
    F_Y_MIN = "F_y,min", "least force across the feed", NEWTON, NEWTON 1, POUND 2;
    F_Y_MAX = "F_y,max", "largest force across the feed", NEWTON, NEWTON 1, POUND 2;
    F_Z_MEAN = "F_z,m", "mean pull along the axis", NEWTON, NEWTON 1, POUND 2;
    M_MEAN = "M_m", "mean torque", NEWTON_METRE, NEWTON_METRE 3, INCH_POUND 2;
    M_MAX = "M_max", "peak torque", NEWTON_METRE, NEWTON_METRE 3, INCH_POUND 2;
    P_MEAN = "P_m", "mean power", WATT, WATT 1, HORSEPOWER 4;
    P_MAX = "P_max", "peak power", WATT, WATT 1, HORSEPOWER 4;
    F_CLAMP = "F_cl", "clamping force", NEWTON, NEWTON 0, POUND 0;
    F_HOLD = "F_h", "force friction can hold", NEWTON, NEWTON 0, POUND 0;
    FRICTION = "μ", "coefficient of friction", ONE, ONE 2, ONE 2;
    FACES = "n_f", "faces that hold by friction", ONE, ONE 0, ONE 0;
    SCREW_TORQUE = "M_s", "torque on the clamping screw", NEWTON_METRE, NEWTON_METRE 1,
        INCH_POUND 0;
    SCREW_D = "d_s", "diameter of the clamping screw", MILLIMETRE, MILLIMETRE 1, INCH 3;
    NUT_FACTOR = "K_n", "share of screw torque over force and diameter", ONE, ONE 2, ONE 2;
    F = "F", "force", NEWTON, NEWTON 1, POUND 2;
    U = "u", "energy per volume", JOULE_PER_CUBIC_MILLIMETRE, JOULE_PER_CUBIC_MILLIMETRE 2,
        HORSEPOWER_PER_CUBIC_INCH_PER_MINUTE 2;
    P_C = "P_c", "cutting power", WATT, WATT 1, HORSEPOWER 4;
    M_C_TORQUE = "M_c", "cutting torque", NEWTON_METRE, NEWTON_METRE 3, INCH_POUND 2;
    ETA = "η", "efficiency", ONE, ONE 2, ONE 2;
    P_MOT = "P_mot", "motor power", WATT, WATT 1, HORSEPOWER 4;
    E = "E", "modulus of elasticity", NEWTON_PER_SQUARE_MILLIMETRE, GIGAPASCAL 0,
        KILOPOUND_PER_SQUARE_INCH 0;
    DEFLECTION = "δ", "deflection", MILLIMETRE, MICROMETRE 1, THOU 3;
    LOAD_FROM_TIP = "l_F", "distance of the load from the tip", MILLIMETRE, MILLIMETRE 2, INCH 3;
    STICK_OUT = "l", "stick-out", MILLIMETRE, MILLIMETRE 1, INCH 2;
    L_SECTION = "l_i", "length of a section", MILLIMETRE, MILLIMETRE 2, INCH 3;
    D_SECTION = "d_i", "diameter of a section", MILLIMETRE, MILLIMETRE 3, INCH 4;
    D_CORE_EQ = "D_k", "round that bends like the fluted part", MILLIMETRE, MILLIMETRE 3, INCH 4;
    STIFFNESS = "k", "stiffness", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 0,
        POUND_PER_INCH 0;
    K_MACHINE = "k_M", "stiffness of the machine", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 0,
        POUND_PER_INCH 0;
    SIGMA = "σ", "stress", NEWTON_PER_SQUARE_MILLIMETRE, NEWTON_PER_SQUARE_MILLIMETRE 0,
        KILOPOUND_PER_SQUARE_INCH 1;
    TAYLOR_N = "n_T", "exponent of tool life", ONE, ONE 3, ONE 3;
    TAYLOR_C = "C_T", "cutting speed for a life of one minute", METRE_PER_MINUTE,
        METRE_PER_MINUTE 1, FOOT_PER_MINUTE 0;
    LIFE = "T_L", "tool life", MINUTE, MINUTE 1, MINUTE 1;
    SPEED_RATIO = "q_v", "ratio of cutting speeds", ONE, ONE 3, ONE 3;
    FEED_RATIO = "q_f", "ratio of feeds", ONE, ONE 3, ONE 3;
    FEED_EXPONENT = "x", "exponent of the feed", ONE, ONE 3, ONE 3;
    LIFE_RATIO = "q_T", "ratio of tool lives", ONE, ONE 3, ONE 3;
    LABOUR = "k_L", "cost of machine and labour a minute", PER_MINUTE, PER_MINUTE 2,
        PER_MINUTE 2;
    CUTTER_COST = "K_T", "cost of a cutting edge", ONE, ONE 2, ONE 2;
    CHANGE_TIME = "t_ch", "time to change the cutter", MINUTE, MINUTE 1, MINUTE 1;
    SPENT = "t_p", "time spent on preparation", HOUR, HOUR 2, HOUR 2;
    SAVED = "t_s", "time saved on each part", MINUTE, MINUTE 2, MINUTE 2;
    PARTS = "m", "parts to break even", ONE, ONE 1, ONE 1;
    RATIO = "q", "ratio", ONE, ONE 3, ONE 3;
    OVERRIDE = "q_o", "override: share of what is programmed", PERCENT, PERCENT 0, PERCENT 0;
    L_FLUTE = "l_f", "flute length", MILLIMETRE, MILLIMETRE 1, INCH 3;
    D_SHANK = "d_sh", "shank diameter", MILLIMETRE, MILLIMETRE 2, INCH 3;
    D_NECK = "d_n", "neck diameter", MILLIMETRE, MILLIMETRE 2, INCH 3;
    L_NECK = "l_n", "neck length", MILLIMETRE, MILLIMETRE 1, INCH 3;
    D_CORE = "d_c", "core diameter", MILLIMETRE, MILLIMETRE 2, INCH 3;
    SIGMA_B = "σ_b", "rupture strength", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    BACKLASH = "b_l", "backlash", MILLIMETRE, MICROMETRE 0, THOU 1;
    DRAG = "F_d", "drag of the axis", NEWTON, NEWTON 0, POUND 0;
    GRIP_FORCE = "F_g", "grip of the collet", NEWTON, NEWTON 0, POUND 0;
    L_GRIP = "l_g", "depth of grip", MILLIMETRE, MILLIMETRE 1, INCH 3;
    H_GRIP = "h_g", "height of the cut above the grip", MILLIMETRE, MILLIMETRE 1, INCH 3;
    TOLERANCE = "t_w", "tolerance of the wall", MILLIMETRE, MICROMETRE 0, THOU 1;
    ACCELERATION = "a", "acceleration of an axis", METRE_PER_SECOND_SQUARED,
        METRE_PER_SECOND_SQUARED 2, METRE_PER_SECOND_SQUARED 2;
    PATH_TOLERANCE = "t_c", "tolerance of the path at corners", MILLIMETRE, MICROMETRE 0, THOU 1;
    AHEAD = "N_a", "moves looked ahead", ONE, ONE 0, ONE 0;
    SLENDER = "l/D", "stick-out over diameter", ONE, ONE 1, ONE 1;
    WALL_ERROR = "δ_w", "wall error", MILLIMETRE, MICROMETRE 1, THOU 3;
    ROUTES = "q_P", "handbook's power over the sum's", ONE, ONE 3, ONE 3;
    GAIN = "Δf_z", "what runout adds to one edge's feed", MILLIMETRE, MICROMETRE 1, THOU 3;
    TIPPING = "M_t", "moment about the grip's edge", NEWTON_METRE, NEWTON_METRE 2, INCH_POUND 1;
    N_MOST = "n_max", "highest spindle speed", PER_MINUTE, RPM 0, RPM 0;
    N_LEAST = "n_min", "lowest spindle speed", PER_MINUTE, RPM 0, RPM 0;
    N_BASE = "n_b", "speed from which the spindle has its power", PER_MINUTE, RPM 0, RPM 0;
    V_C_MOST = "v_c,max", "highest cutting speed of the table", METRE_PER_MINUTE,
        METRE_PER_MINUTE 1, FOOT_PER_MINUTE 0;
    V_C_LEAST = "v_c,min", "lowest cutting speed of the table", METRE_PER_MINUTE,
        METRE_PER_MINUTE 1, FOOT_PER_MINUTE 0;
    V_F_MOST = "v_f,max", "highest feed of the machine", MILLIMETRE_PER_MINUTE,
        MILLIMETRE_PER_MINUTE 0, INCH_PER_MINUTE 1;
    F_TABLE = "f_zT", "highest feed per tooth of the table", MILLIMETRE, MILLIMETRE 4, INCH 5;
    F_FULL_MOST = "f_zD,max", "highest feed per tooth at full width", MILLIMETRE, MILLIMETRE 4,
        INCH 5;
    F_FULL_LEAST = "f_zD,min", "lowest feed per tooth of the table", MILLIMETRE, MILLIMETRE 4,
        INCH 5;
    COUNTED = "q_t", "thinning that is counted", ONE, ONE 3, ONE 3;
    EDGES_RUB = "s_e", "share of the edges that rub", ONE, PERCENT 0, PERCENT 0;
    RUBS = "s", "share that rubs", ONE, PERCENT 0, PERCENT 0;
    RUBS_MOST = "s_max", "share that may rub", ONE, PERCENT 0, PERCENT 0;
    GAIN_MOST = "Δf_z,max", "runout that the feed can bear", MILLIMETRE, MICROMETRE 1, THOU 3;
    VOLUME = "V", "volume", CUBIC_MILLIMETRE, CUBIC_MILLIMETRE 1, CUBIC_INCH 4;
    AREA = "A", "area", SQUARE_MILLIMETRE, SQUARE_MILLIMETRE 1, SQUARE_INCH 4;
    L_CUTS = "l_c", "flutes out of the holder", MILLIMETRE, MILLIMETRE 3, INCH 4;
    DEPTH_TIMES = "x_p", "usual depth over diameter", ONE, ONE 2, ONE 2;
    CHIP_TIMES = "x_c", "depth that chips get out of over diameter", ONE, ONE 2, ONE 2;
    WIDTH_TIMES = "x_e", "usual width over diameter", ONE, ONE 2, ONE 2;
    A_P_USUAL = "a_p,u", "usual depth", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_P_CHIPS = "a_p,c", "depth that chips get out of", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_E_USUAL = "a_e,u", "usual width", MILLIMETRE, MILLIMETRE 3, INCH 4;
    SLENDER_MOST = "l/D,max", "usual slenderness", ONE, ONE 1, ONE 1;
    RAMP_MOST = "γ_r,max", "steepest entry", DEGREE, DEGREE 2, DEGREE 2;
    HOLE_MOST = "D_m,max", "widest hole of a helix", MILLIMETRE, MILLIMETRE 2, INCH 3;
    PHI_USUAL = "φ_u", "usual engagement in a corner", DEGREE, DEGREE 1, DEGREE 1;
    P_RATED = "P_n", "power of the spindle", WATT, WATT 0, HORSEPOWER 3;
    P_THERE = "P_a", "power at this speed", WATT, WATT 1, HORSEPOWER 4;
    DEFLECTION_MOST = "δ_max", "bending of the tip that is usual", MILLIMETRE, MICROMETRE 1,
        THOU 3;
    WALL_BOTTOM = "δ_b", "wall error at the bottom", MILLIMETRE, MICROMETRE 1, THOU 3;
    WALL_TOP = "δ_t", "wall error at the top", MILLIMETRE, MICROMETRE 1, THOU 3;
    SIGMA_MOST = "σ_max", "third of the cutter's strength", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 1;
    SIGMA_PLUNGE = "σ_p", "stress of a plunge", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 1;
    LIFT = "F_a", "peak pull along the axis", NEWTON, NEWTON 1, POUND 2;
    LIFT_MOST = "F_a,max", "pull that the collet may take", NEWTON, NEWTON 1, POUND 2;
    F_SLIDE = "F_s", "force that slides the part", NEWTON, NEWTON 1, POUND 2;
    F_HOLD_MOST = "F_s,max", "force that the hold may take", NEWTON, NEWTON 1, POUND 2;
    TIPPING_MOST = "M_t,max", "moment that the grip may take", NEWTON_METRE, NEWTON_METRE 2,
        INCH_POUND 1;
    PLAY = "p_l", "play of machine and collet", MILLIMETRE, MICROMETRE 1, THOU 3;
    F_PULL = "F_x,b", "pull through the backlash", NEWTON, NEWTON 1, POUND 2;
    K_MODE = "k_m", "modal stiffness", NEWTON_PER_MILLIMETRE, NEWTON_PER_MILLIMETRE 0,
        POUND_PER_INCH 0;
    K_X = "k_x", "modal stiffness along the feed", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 0, POUND_PER_INCH 0;
    K_Y = "k_y", "modal stiffness across the feed", NEWTON_PER_MILLIMETRE,
        NEWTON_PER_MILLIMETRE 0, POUND_PER_INCH 0;
    ZETA = "ζ", "damping ratio", ONE, ONE 3, ONE 3;
    ZETA_X = "ζ_x", "damping ratio along the feed", ONE, ONE 3, ONE 3;
    ZETA_Y = "ζ_y", "damping ratio across the feed", ONE, ONE 3, ONE 3;
    F_N = "f_n", "natural frequency", HERTZ, HERTZ 0, HERTZ 0;
    F_N_X = "f_n,x", "natural frequency along the feed", HERTZ, HERTZ 0, HERTZ 0;
    F_N_Y = "f_n,y", "natural frequency across the feed", HERTZ, HERTZ 0, HERTZ 0;
    K_S = "K_s", "cutting stiffness", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_T = "K_t", "tangential coefficient", NEWTON_PER_SQUARE_MILLIMETRE,
        NEWTON_PER_SQUARE_MILLIMETRE 0, KILOPOUND_PER_SQUARE_INCH 0;
    K_R_RATIO = "K_r", "radial coefficient over the tangential one", ONE, ONE 3, ONE 3;
    A_E_RATIO = "q_e", "width of cut over diameter", ONE, ONE 3, ONE 3;
    LOBE = "j", "number of the lobe", ONE, ONE 0, ONE 0;
    B_LIM = "b_lim", "width of cut where chatter starts", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_LIM = "a_lim", "least depth where chatter starts", MILLIMETRE, MILLIMETRE 3, INCH 4;
    A_STABLE = "a_p,stable", "depth where chatter starts at this speed", MILLIMETRE, MILLIMETRE 3,
        INCH 4;
    FREQUENCY = "f_c", "chatter frequency", HERTZ, HERTZ 0, HERTZ 0;
}

/// The symbol written as `text`.
pub fn symbol(text: &str) -> Option<&'static Symbol> {
    SYMBOLS.iter().copied().find(|s| s.text == text)
}
