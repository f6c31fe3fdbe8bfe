//! The entries a pass is described with: one register for flags, screens, files and help.

use super::alias::{Words, alias};
use super::{reason, wear};
use crate::axes;
use feeds_core::cut::{Direction, Path, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::error::EntryError;
use feeds_core::nearest::same;
use feeds_core::plan::setup::Intent;
use feeds_core::range::Range;
use feeds_core::symbol::{self as s, Symbol};
use std::sync::LazyLock;

/// The stations of the walk; every entry belongs to one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Station {
    /// The cutter and how it is clamped.
    Cutter,
    /// The stock and its condition.
    Stock,
    /// The machine, and how the part is held.
    Machine,
    /// Where the cutter goes and how much it takes.
    Engagement,
    /// What is fixed, and the answer.
    Answer,
}

impl Station {
    /// In the order they are walked.
    pub const ALL: [Self; 5] = [
        Self::Cutter,
        Self::Stock,
        Self::Machine,
        Self::Engagement,
        Self::Answer,
    ];

    /// The name on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cutter => "cutter",
            Self::Stock => "stock",
            Self::Machine => "hold and machine",
            Self::Engagement => "engagement",
            Self::Answer => "answer",
        }
    }
}

/// The shelves names are looked up on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// Cutters.
    Cutters,
    /// Stocks.
    Stocks,
    /// Machines.
    Machines,
    /// Holds.
    Holds,
}

/// What can be typed into an entry.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A quantity with its unit.
    Quantity(Range),
    /// One of some words.
    Choice(Words),
    /// A name from a shelf, or a part of one.
    Name(Shelf),
    /// A condition of the stock.
    Condition,
    /// A hardness: `58 HRC`, `200 HB`.
    Hardness,
    /// How worn the edge is: a word or a wear land.
    Wear(Range),
    /// Yes or no.
    YesNo,
    /// A quantity for each axis: `34 x 16 x 9 mm`.
    Axes(Range),
    /// Where on the stock the zero of the programme lies.
    Zero,
    /// Boxes in the coordinates of the programme.
    Boxes,
}

/// An entry of a pass.
#[derive(Debug)]
pub struct Field {
    /// Its key, which is the flag without its dashes.
    pub key: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Where it is asked.
    pub station: Station,
    /// What can be typed.
    pub takes: Takes,
    /// A text that would be right.
    pub example: &'static str,
    /// What it is for, or why its range is what it is; without a digit, `{...}` stands for every
    /// number, see [`reason`].
    pub reason: &'static str,
}

impl Field {
    /// What it is for, or why its range is what it is, with its numbers.
    pub fn why(&self) -> &'static str {
        let at = FIELDS.iter().position(|f| f.key == self.key);
        at.and_then(|at| REASONS.get(at))
            .map_or(self.reason, String::as_str)
    }

    /// The symbol, if it is a quantity.
    pub fn symbol(&self) -> Option<&'static Symbol> {
        match self.takes {
            Takes::Quantity(range) | Takes::Wear(range) => Some(range.symbol),
            _ => None,
        }
    }

    /// What can be typed, in a few words.
    pub fn accepts(&self) -> String {
        match self.takes {
            Takes::Quantity(range) => {
                let (least, most) = range.ends();
                format!("{least} to {most}")
            }
            Takes::Choice(words) => (words.all)().join(", "),
            Takes::Name(_) => "a name, or part of one".to_owned(),
            Takes::Condition => "a condition of the stock".to_owned(),
            Takes::Hardness => "a number with HB, HRC, HRB or HV".to_owned(),
            Takes::Wear(range) => {
                let (least, most) = range.ends();
                format!("fresh, used or worn, or a wear land of {least} to {most}")
            }
            Takes::YesNo => "yes or no".to_owned(),
            Takes::Axes(range) => {
                let (least, most) = range.ends();
                format!("{least} to {most} along X, Y and Z each")
            }
            Takes::Zero => "left, middle or right, front or back, top or bottom; or lengths from \
                            the left front bottom corner, such as X17mm,Y8mm,Z9mm"
                .to_owned(),
            Takes::Boxes => "a box, or several with ; between them".to_owned(),
        }
    }

    /// Whether only the audit of a programme makes use of it: no cut changes with it.
    pub fn is_of_programme(&self) -> bool {
        OF_PROGRAMME.contains(&self.key)
    }

    /// Reads an entry of a quantity for each axis; gives SI base units.
    ///
    /// # Errors
    /// When it cannot be read, or is no such entry.
    pub fn axes(&self, text: &str) -> Result<[f64; 3], EntryError> {
        match self.takes {
            Takes::Axes(range) => axes::values(text, range, self.example, self.why()),
            _ => Err(EntryError::sentence("does not have a value for each axis").of(self.key)),
        }
    }

    /// Reads the entry as far as it can be read alone; gives SI base units for quantities.
    ///
    /// # Errors
    /// What is wrong with it, said of this field.
    pub fn read(&self, text: &str) -> Result<Option<f64>, EntryError> {
        match self.takes {
            Takes::Quantity(range) => range.read(text, self.why()).map(Some),
            Takes::Choice(words) => {
                let wrong = || EntryError::NotAChoice {
                    text: text.trim().to_owned(),
                    choices: words.told(),
                };
                words.meant(text).map(|_| None).ok_or_else(wrong)
            }
            Takes::Wear(_) => wear::read(text, self.why()).map(|_| None),
            Takes::YesNo => yes(text).map(|_| None),
            Takes::Axes(_) => self.axes(text).map(|_| None),
            Takes::Zero => axes::zero(text).map(|_| None),
            Takes::Boxes => axes::boxes(text).map(|_| None),
            Takes::Name(_) | Takes::Condition | Takes::Hardness => Ok(None),
        }
        .map_err(|e| e.of(self.key))
    }
}

/// The entries that [`Field::is_of_programme`] tells of.
const OF_PROGRAMME: [&str; 8] = [
    "stock-size",
    "zero",
    "jaws",
    "travel",
    "axis-feed",
    "acceleration",
    "look-ahead",
    "path-tolerance",
];

/// Reads yes or no.
///
/// # Errors
/// When it is neither.
pub fn yes(text: &str) -> Result<bool, EntryError> {
    match text.trim().to_ascii_lowercase().as_str() {
        "yes" | "y" | "true" => Ok(true),
        "no" | "n" | "false" => Ok(false),
        _ => Err(EntryError::NotAChoice {
            text: text.trim().to_owned(),
            choices: "yes, no".to_owned(),
        }),
    }
}

/// A choice whose words are those of a type of the core.
macro_rules! choice {
    ($kind:ty) => {
        Takes::Choice(Words {
            all: || <$kind>::CHOICES.iter().map(|(word, _)| *word).collect(),
            also: || {
                <$kind>::ALSO
                    .iter()
                    .map(|(says, of)| (*says, of.word()))
                    .collect()
            },
        })
    };
}

/// The ways down.
const WAYS_DOWN: Words = Words {
    all: || vec!["ramp", "helix", "plunge"],
    also: Vec::new,
};

macro_rules! fields {
    ($($station:ident {
        $($key:literal $name:literal $takes:expr, $example:literal, $why:literal;)+
    })+) => {
        /// Every entry, in the order it is asked.
        pub static FIELDS: &[Field] = &[$($(Field {
            key: $key,
            name: $name,
            station: Station::$station,
            takes: $takes,
            example: $example,
            reason: $why,
        }),+),+];
    };
}

const fn quantity(symbol: &'static Symbol, least: f64, most: f64) -> Takes {
    Takes::Quantity(Range::of(symbol, least, most))
}

fields! {
    Cutter {
        "cutter" "cutter" Takes::Name(Shelf::Cutters), "6 mm square, 4 edges, AlTiN carbide",
            "a cutter of the shop or the tables; or fill in the entries below instead";
        "diameter" "cutter diameter" quantity(&s::D, 0.05, 50.0), "6 mm",
            "light mills take cutters up to {most}";
        "edges" "number of flutes" Takes::Quantity(Range::of(&s::Z, 1.0, 20.0).whole()), "4",
            "a whole number, at most {most}";
        "helix" "helix angle" quantity(&s::HELIX, 0.0, 60.0), "30 deg",
            "{least} is a straight flute; none is steeper than {most}";
        "end" "shape of the end" choice!(End), "square",
            "corner needs the corner radius; the radius alone is enough";
        "corner-radius" "corner radius" quantity(&s::R_EPS, 0.0, 25.0), "0.5 mm",
            "at most half the diameter";
        "cutter-material" "cutter material" choice!(CutterMaterial),
            "carbide", "sets speed, stiffness and strength";
        "coating" "coating" choice!(Coating), "altin",
            "sets the cutting speed";
        "flute-length" "flute length" quantity(&s::L_FLUTE, 0.05, 200.0), "13 mm",
            "the cut cannot be deeper than the flutes";
        "stick-out" "stick-out" quantity(&s::STICK_OUT, 0.5, 250.0), "18 mm",
            "from the holder's face to the tip; twice as long bends eight times as much";
        "shank" "shank diameter" quantity(&s::D_SHANK, 0.5, 50.0), "6 mm",
            "what the holder grips";
        "neck-diameter" "neck diameter" quantity(&s::D_NECK, 0.05, 50.0), "2.8 mm",
            "of a thinner neck between flutes and shank; needs the neck length too";
        "neck-length" "neck length" quantity(&s::L_NECK, 0.0, 200.0), "8 mm",
            "from the flutes to the shank; needs the neck diameter too";
        "core" "core diameter" quantity(&s::D_CORE, 0.02, 50.0), "3.9 mm",
            "the solid core between the flutes, where they run out; {default} if left out \
             (common practice)";
        "edge-radius" "cutting edge radius" quantity(&s::R_EDGE, 0.0001, 0.1), "6 um",
            "how round the edge is: {least} is a diamond edge, {most} is too blunt to cut";
        "modulus" "modulus of elasticity" quantity(&s::E, 100e3, 800e3), "600 GPa",
            "high-speed steel has {strength/modulus/HSS}, carbide {strength/modulus/carbide}";
        "rupture" "rupture strength" quantity(&s::SIGMA_B, 500.0, 6000.0), "3500 N/mm2",
            "carbide grades have {strength/rupture strength/carbide}";
        "centre-cutting" "cuts to the centre" Takes::YesNo, "yes",
            "only such a cutter can plunge straight down";
    }
    Stock {
        "stock" "stock" Takes::Name(Shelf::Stocks), "1095",
            "a steel or alloy: AISI, SAE, UNS, EN or W.-Nr. designation, class, or part of its \
             name";
        "condition" "condition" Takes::Condition, "annealed",
            "if it is as forged or not known, anneal it and test it with a file";
        "hardness" "hardness" Takes::Hardness, "200 HB",
            "a measured hardness counts before the condition";
        "kc11" "specific cutting force at 1 mm" quantity(&s::KC11, 50.0, 10000.0), "1700 N/mm2",
            "foam has the least, superalloys the most";
        "mc" "exponent of chip thickness" quantity(&s::M_C, 0.0, 0.8), "0.24",
            "the exponents printed for stocks go from {kienzle/m_c/printed}";
        "ktc" "tangential cutting coefficient" quantity(&s::K_TC, 1.0, 50e3), "1800 N/mm2",
            "one of six linear edge coefficients, measured with such a cutter in this stock; \
             they replace kc11 and mc";
        "krc" "radial cutting coefficient" quantity(&s::K_RC, 0.0, 50e3), "800 N/mm2",
            "with ktc; zero where the source has none";
        "kac" "axial cutting coefficient" quantity(&s::K_AC, -50e3, 50e3), "300 N/mm2",
            "with ktc; a positive one pulls the cutter out of its holder";
        "kte" "tangential edge coefficient" quantity(&s::K_TE, 0.0, 1e3), "20 N/mm",
            "with ktc; the force of the edge over its width, however thin the chip";
        "kre" "radial edge coefficient" quantity(&s::K_RE, 0.0, 1e3), "30 N/mm",
            "with ktc; zero where the source has none";
        "kae" "axial edge coefficient" quantity(&s::K_AE, -1e3, 1e3), "2 N/mm",
            "with ktc; a positive one pulls the cutter out of its holder";
        "wear" "wear of the edge" Takes::Wear(wear::LAND), "0.1 mm",
            "the flat worn on the flank, seen with a loupe; a worn edge presses the cutter off \
             the wall";
        "stock-size" "size of the stock" Takes::Axes(Range::of(&s::L, 0.1, 5000.0)),
            "34 x 16 x 9 mm",
            "along X, Y and Z as clamped; an audited programme has to stay inside it";
        "zero" "zero of the programme" Takes::Zero, "left front top",
            "where on the stock the programme has its zero; with the size it places the stock";
    }
    Machine {
        "machine" "machine" Takes::Name(Shelf::Machines), "bench-5000",
            "a machine of the shop or the tables; or fill in the entries below instead";
        "spindle-least" "lowest spindle speed" quantity(&s::N_LEAST, 1.0, 200e3), "100 rpm",
            "what the machine can turn";
        "spindle-most" "highest spindle speed" quantity(&s::N_MOST, 10.0, 200e3), "5000 rpm",
            "what the machine can turn";
        "feed-most" "fastest cutting feed" quantity(&s::V_F_MOST, 1.0, 50e3), "1500 mm/min",
            "the fastest the machine feeds while cutting";
        "power" "motor power" quantity(&s::P_RATED, 5.0, 30e3), "600 W",
            "of the spindle, above its base speed";
        "base-speed" "base speed" quantity(&s::N_BASE, 10.0, 200e3), "1500 rpm",
            "needs the motor power: below this speed the torque is constant, above it the power";
        "efficiency" "efficiency" quantity(&s::ETA, 0.1, 1.0), "0.75",
            "share of the motor power that reaches the cutter";
        "stiffness" "stiffness of the machine" quantity(&s::K_MACHINE, 100.0, 500e3), "8 N/um",
            "push with a spring scale and read an indicator: a light mill has \
             {machines/machine stiffness/mill}";
        "runout" "runout at the tip" quantity(&s::TIR, 0.0, 0.5), "10 um",
            "total reading of an indicator over a turn";
        "backlash" "backlash" quantity(&s::BACKLASH, 0.0, 1.0), "0.05 mm",
            "how far the table can be pushed before the screw turns";
        "travel" "travel of the axes" Takes::Axes(Range::of(&s::L, 1.0, 10e3)),
            "300 x 150 x 200 mm",
            "how far the machine moves along X, Y and Z; an audited path must fit";
        "axis-feed" "fastest feed of each axis" Takes::Axes(Range::of(&s::V_F, 1.0, 100e3)),
            "1500 x 1500 x 800 mm/min",
            "with the acceleration it shows the feed a programme really reaches; if left out, \
             the fastest cutting feed is used for each axis";
        "acceleration" "acceleration of the axes"
            Takes::Axes(Range::of(&s::ACCELERATION, 0.001, 50.0)), "0.3 x 0.3 x 0.15 m/s2",
            "from the control's settings: a light mill has {machines/acceleration/mill}; \
             without it, the feed the axes reach is not known";
        "look-ahead" "moves the control looks ahead"
            Takes::Quantity(Range::of(&s::AHEAD, 1.0, 10e3).whole()), "20",
            "{least} means a stop after each move; {default} if left out (common practice)";
        "path-tolerance" "tolerance of the path at corners"
            quantity(&s::PATH_TOLERANCE, 0.0005, 1.0), "0.01 mm",
            "how far the control may round a corner to keep its feed; {default} if left out \
             (common practice)";
        "drag" "drag of the axis" quantity(&s::DRAG, 0.0, 5000.0), "60 N",
            "the pull at which the table begins to creep";
        "collet-grip" "grip of the collet" quantity(&s::GRIP_FORCE, 1.0, 50e3), "600 N",
            "the axial pull at which the cutter begins to creep";
        "hold" "hold" Takes::Name(Shelf::Holds), "vise",
            "how the part is held";
        "clamp-force" "clamping force" quantity(&s::F_CLAMP, 1.0, 100e3), "3 kN",
            "with no clamping force the part is not held; a small vise closed by hand has \
             {holds/clamp force/vise hand}";
        "screw-torque" "torque on the clamping screw" quantity(&s::SCREW_TORQUE, 0.1, 500.0),
            "20 N m",
            "with the screw's diameter, instead of the clamping force";
        "screw-diameter" "diameter of the clamping screw" quantity(&s::SCREW_D, 2.0, 40.0), "10 mm",
            "of its thread, outside";
        "friction" "friction coefficient" quantity(&s::FRICTION, 0.01, 1.0), "0.15",
            "smooth jaws have {friction/friction/dry}";
        "grip" "depth of grip" quantity(&s::L_GRIP, 0.1, 200.0), "3 mm",
            "how deep the jaws hold the part";
        "height" "height of the cut above the jaws" quantity(&s::H_GRIP, 0.0, 300.0), "4 mm",
            "the higher the cut, the easier it tips the part out";
        "jaws" "outline of the jaws" Takes::Boxes,
            "X-10mm..44mm,Y-15mm..0mm,Z-30mm..-5mm; X-10mm..44mm,Y16mm..31mm,Z-30mm..-5mm",
            "what an audited programme must not touch: one box for each jaw or clamp, in the \
             programme's coordinates";
    }
    Engagement {
        "path" "path" choice!(Path), "side",
            "the kind of cut";
        "direction" "direction" choice!(Direction), "down",
            "down is climb milling, up is conventional; if left out, up, unless the machine's \
             backlash and drag are known";
        "depth" "depth of cut a_p" quantity(&s::A_P, 0.001, 100.0), "1 mm",
            "along the axis of the cutter";
        "width" "width of cut a_e" quantity(&s::A_E, 0.0005, 50.0), "0.5 mm",
            "across the axis; a slot has the whole diameter";
        "engagement-angle" "engagement angle" quantity(&s::PHI_S, 1.0, 180.0), "40 deg",
            "instead of the width, for a path of constant engagement";
        "wall" "side of a curved wall" choice!(WallSide), "inside",
            "inside is a concave wall, outside a convex one";
        "wall-radius" "radius of the wall" quantity(&s::WALL_R, 0.05, 1000.0), "4 mm",
            "radius of the finished wall";
        "corner" "sharp inside corner" Takes::YesNo, "yes",
            "the path turns square into a second wall";
        "previous" "diameter of the cutter before" quantity(&s::PREVIOUS_D, 0.05, 50.0), "5 mm",
            "the larger cutter left material in the corners";
        "tilt" "tilt of the cutter" quantity(&s::TILT, 0.0, 85.0), "15 deg",
            "of a ball or corner, against the surface";
        "slope" "slope of the surface" quantity(&s::SLOPE, 0.0, 85.0), "30 deg",
            "for the ridges a ball leaves (path ball-finish)";
        "entry" "way in" Takes::Choice(WAYS_DOWN), "helix",
            "how the cutter goes in to depth";
        "ramp-angle" "angle of the ramp" quantity(&s::RAMP, 0.05, 45.0), "2 deg",
            "{default} if left out (common practice)";
        "helix-hole" "hole of the helix" quantity(&s::WALL_D, 0.06, 100.0), "9 mm",
            "wider than the cutter, narrower than twice its diameter";
        "helix-pitch" "pitch of the helix" quantity(&s::PITCH, 0.005, 20.0), "0.3 mm",
            "how far it drops in one turn; {default} of the diameter if left out (common \
             practice)";
        "tolerance" "tolerance of the wall" quantity(&s::TOLERANCE, 0.0005, 1.0), "0.02 mm",
            "how far the wall may be off; {default} if left out (common practice)";
    }
    Answer {
        "intent" "intent" choice!(Intent), "cautious",
            "cautious is a first cut: low speed, and well clear of rubbing; production is a \
             proven run: up to every limit";
        "spindle" "spindle speed" quantity(&s::N, 1.0, 200e3), "4400 rpm",
            "worked out if left out";
        "cutting-speed" "cutting speed" quantity(&s::V_C, 0.1, 2000.0), "90 m/min",
            "worked out if left out";
        "feed-per-tooth" "feed per tooth" quantity(&s::F_Z, 0.00001, 1.0), "0.02 mm",
            "worked out if left out";
        "feed" "feed" quantity(&s::V_F, 0.1, 50e3), "300 mm/min",
            "worked out if left out";
    }
}

/// The reasons with their numbers, in the order of the entries.
static REASONS: LazyLock<Vec<String>> =
    LazyLock::new(|| FIELDS.iter().map(reason::of_field).collect());

/// The entry of that key, or that the trade calls so.
pub fn field(key: &str) -> Option<&'static Field> {
    let of = |key: &str| FIELDS.iter().find(|f| same(f.key, key));
    of(key).or_else(|| of(alias(key)?.key))
}
