//! The entries of a pass, in the order they are asked, and the keys that code names them with.
//!
//! A quantity refers to its row in [`feeds_core::entry`], which has key, range, example and reason;
//! the rest, and what is shown of each, stands here.

use super::alias::{Words, called};
use super::field::{Field, Shelf, Station, Takes};
use feeds_core::cut::{Direction, Path, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::entry::{self as e, Entry};
use feeds_core::plan::setup::Intent;

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

macro_rules! keys {
    ($(pass $station:ident { $($key:ident = $made:expr;)+ })+
     job $at:ident { $($of_job:ident = $job:expr;)+ }) => {
        /// Which entry: what code calls it. A text is a key only at the edges, see [`field`].
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        #[allow(missing_docs, reason = "each is described by its entry")]
        pub enum Key { $($($key,)+)+ $($of_job,)+ }

        /// Every entry of a pass, in the order it is asked.
        pub static FIELDS: &[Field] = &[
            $($(Field { id: Key::$key, station: Station::$station, ..$made },)+)+
        ];
        /// What a pass of a job has beside them.
        pub static OF_JOB: &[Field] = &[
            $(Field { id: Key::$of_job, station: Station::$at, ..$job },)+
        ];

        impl Key {
            /// Every key, in the order of the entries.
            pub const ALL: &[Self] = &[$($(Self::$key,)+)+ $(Self::$of_job,)+];

            /// What is said of the entry.
            pub fn field(self) -> &'static Field {
                // The two lists are made with the keys: one has it.
                let at = self as usize;
                at.checked_sub(FIELDS.len()).map_or_else(|| &FIELDS[at], |at| &OF_JOB[at])
            }
        }
    };
}

const fn of(
    key: &'static str,
    name: &'static str,
    takes: Takes,
    example: &'static str,
    reason: &'static str,
) -> Field {
    Field {
        // These two stand in the list, which puts them in.
        id: Key::Cutter,
        station: Station::Cutter,
        key,
        name,
        takes,
        example,
        reason,
        entry: None,
    }
}

/// An entry of the register.
const fn row(entry: &'static Entry, name: &'static str) -> Field {
    let row = entry.row();
    let takes = Takes::Quantity(row.range);
    Field {
        entry: Some(entry),
        ..of(row.key, name, takes, row.example, row.why)
    }
}

const fn quantity(entry: &'static Entry, name: &'static str) -> Field {
    row(entry, name)
}

/// A quantity for each axis.
const fn axes(entry: &'static Entry, name: &'static str) -> Field {
    let field = row(entry, name);
    match field.takes {
        Takes::Quantity(range) => Field {
            takes: Takes::Axes(range),
            ..field
        },
        _ => field,
    }
}

/// A wear land, or a word for it.
const fn wear(entry: &'static Entry, name: &'static str) -> Field {
    let field = row(entry, name);
    match field.takes {
        Takes::Quantity(range) => Field {
            takes: Takes::Wear(range),
            ..field
        },
        _ => field,
    }
}

keys! {
    pass Cutter {
        Cutter = of("cutter", "cutter", Takes::Name(Shelf::Cutters),
            "6 mm square, 4 edges, AlTiN carbide",
            "a cutter of the shop or the tables; or fill in the entries below instead");
        Diameter = quantity(&e::DIAMETER, "cutter diameter");
        Edges = quantity(&e::EDGES, "number of flutes");
        Helix = quantity(&e::HELIX, "helix angle");
        End = of("end", "shape of the end", choice!(End),
            "square",
            "corner needs the corner radius; the radius alone is enough");
        CornerRadius = quantity(&e::CORNER_RADIUS, "corner radius");
        CutterMaterial = of("cutter-material", "cutter material", choice!(CutterMaterial),
            "carbide", "sets speed, stiffness and strength");
        Coating = of("coating", "coating", choice!(Coating),
            "altin",
            "sets the cutting speed");
        FluteLength = quantity(&e::FLUTE_LENGTH, "flute length");
        StickOut = quantity(&e::STICK_OUT, "stick-out");
        Shank = quantity(&e::SHANK, "shank diameter");
        NeckDiameter = quantity(&e::NECK_DIAMETER, "neck diameter");
        NeckLength = quantity(&e::NECK_LENGTH, "neck length");
        Core = quantity(&e::CORE, "core diameter");
        EdgeRadius = quantity(&e::EDGE_RADIUS, "cutting edge radius");
        Modulus = quantity(&e::MODULUS, "modulus of elasticity");
        Rupture = quantity(&e::RUPTURE, "rupture strength");
        CentreCutting = of("centre-cutting", "cuts to the centre", Takes::YesNo,
            "yes",
            "only such a cutter can plunge straight down");
    }
    pass Stock {
        Stock = of("stock", "stock", Takes::Name(Shelf::Stocks),
            "1095",
            "a steel or alloy: AISI, SAE, UNS, EN or W.-Nr. designation, class, or part of its \
             name");
        Condition = of("condition", "condition", Takes::Condition,
            "annealed",
            "if it is as forged or not known, anneal it and test it with a file");
        Hardness = of("hardness", "hardness", Takes::Hardness,
            "200 HB",
            "a measured hardness counts before the condition");
        Kc11 = quantity(&e::KC11, "specific cutting force at 1 mm");
        Mc = quantity(&e::M_C, "exponent of chip thickness");
        Ktc = quantity(&e::K_TC, "tangential cutting coefficient");
        Krc = quantity(&e::K_RC, "radial cutting coefficient");
        Kac = quantity(&e::K_AC, "axial cutting coefficient");
        Kte = quantity(&e::K_TE, "tangential edge coefficient");
        Kre = quantity(&e::K_RE, "radial edge coefficient");
        Kae = quantity(&e::K_AE, "axial edge coefficient");
        Wear = wear(&e::LAND, "wear of the edge");
        StockSize = axes(&e::STOCK_SIZE, "size of the stock");
        Zero = of("zero", "zero of the programme", Takes::Zero,
            "left front top",
            "where on the stock the programme has its zero; with the size it places the stock");
    }
    pass Machine {
        Machine = of("machine", "machine", Takes::Name(Shelf::Machines),
            "bench-5000",
            "a machine of the shop or the tables; or fill in the entries below instead");
        SpindleLeast = quantity(&e::SPINDLE_LEAST, "lowest spindle speed");
        SpindleMost = quantity(&e::SPINDLE_MOST, "highest spindle speed");
        FeedMost = quantity(&e::FEED_MOST, "fastest cutting feed");
        Power = quantity(&e::POWER, "motor power");
        BaseSpeed = quantity(&e::BASE_SPEED, "base speed");
        Efficiency = quantity(&e::EFFICIENCY, "efficiency");
        Stiffness = quantity(&e::STIFFNESS, "stiffness of the machine");
        Runout = quantity(&e::RUNOUT, "runout at the tip");
        Backlash = quantity(&e::BACKLASH, "backlash");
        Travel = axes(&e::TRAVEL, "travel of the axes");
        AxisFeed = axes(&e::AXIS_FEED, "fastest feed of each axis");
        Acceleration = axes(&e::ACCELERATION, "acceleration of the axes");
        LookAhead = quantity(&e::LOOK_AHEAD, "moves the control looks ahead");
        PathTolerance = quantity(&e::PATH_TOLERANCE, "tolerance of the path at corners");
        Drag = quantity(&e::DRAG, "drag of the axis");
        ColletGrip = quantity(&e::COLLET_GRIP, "grip of the collet");
        Modes = of("modes", "vibration modes of the tip", Takes::Modes,
            "8N/um 0.02 1200Hz",
            "stiffness, damping ratio and frequency of the tip with this cutter clamped, as a tap \
             tells them; a second mode after a comma, and after a semicolon those across the feed \
             if they differ");
        Hold = of("hold", "hold", Takes::Name(Shelf::Holds),
            "vise",
            "how the part is held");
        ClampForce = quantity(&e::CLAMP_FORCE, "clamping force");
        ScrewTorque = quantity(&e::SCREW_TORQUE, "torque on the clamping screw");
        ScrewDiameter = quantity(&e::SCREW_DIAMETER, "diameter of the clamping screw");
        Friction = quantity(&e::FRICTION, "friction coefficient");
        Grip = quantity(&e::GRIP, "depth of grip");
        Height = quantity(&e::HEIGHT, "height of the cut above the jaws");
        Jaws = of("jaws", "outline of the jaws", Takes::Boxes,
            "X-10mm..44mm,Y-15mm..0mm,Z-30mm..-5mm; X-10mm..44mm,Y16mm..31mm,Z-30mm..-5mm",
            "what an audited programme must not touch: one box for each jaw or clamp, in the \
             programme's coordinates");
    }
    pass Engagement {
        Path = of("path", "path", choice!(Path),
            "side",
            "the kind of cut");
        Direction = of("direction", "direction", choice!(Direction),
            "down",
            "down is climb milling, up is conventional; if left out, climb where the machine's \
             backlash and drag are known and the table is not pulled, conventional elsewhere");
        Depth = quantity(&e::DEPTH, "depth of cut a_p");
        Width = quantity(&e::WIDTH, "width of cut a_e");
        EngagementAngle = quantity(&e::ENGAGEMENT_ANGLE, "engagement angle");
        Wall = of("wall", "side of a curved wall", choice!(WallSide),
            "inside",
            "inside is a concave wall, outside a convex one");
        WallRadius = quantity(&e::WALL_RADIUS, "radius of the wall");
        Corner = of("corner", "sharp inside corner", Takes::YesNo,
            "yes",
            "the path turns square into a second wall");
        Previous = quantity(&e::PREVIOUS, "diameter of the cutter before");
        Tilt = quantity(&e::TILT, "tilt of the cutter");
        Slope = quantity(&e::SLOPE, "slope of the surface");
        Entry = of("entry", "way in", Takes::Choice(WAYS_DOWN),
            "helix",
            "how the cutter goes in to depth");
        RampAngle = quantity(&e::RAMP_ANGLE, "angle of the ramp");
        HelixHole = quantity(&e::WALL_D, "hole of the helix");
        HelixPitch = quantity(&e::PITCH, "pitch of the helix");
        Tolerance = quantity(&e::TOLERANCE, "tolerance of the wall");
    }
    pass Answer {
        Intent = of("intent", "intent", choice!(Intent),
            "cautious",
            "cautious is a first cut: low speed, and well clear of rubbing; production is a \
             proven run: up to every limit");
        Spindle = quantity(&e::SPINDLE, "spindle speed");
        CuttingSpeed = quantity(&e::CUTTING_SPEED, "cutting speed");
        FeedPerTooth = quantity(&e::FEED_PER_TOOTH, "feed per tooth");
        Feed = quantity(&e::FEED, "feed");
    }
    job Engagement {
        BeginsAt = quantity(&e::BEGINS_AT, "Z the pass begins at");
        DepthInAll = quantity(&e::DEPTH_IN_ALL, "depth of the pass in all");
        Length = quantity(&e::LENGTH, "length of the path at the feed");
    }
}

impl Key {
    /// As it is typed: the flag without its dashes, the key in files.
    pub fn text(self) -> &'static str {
        self.field().key
    }

    /// The key of a pass whose text is exactly that.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::pass::key::Key;
    /// assert_eq!(Key::of("diameter"), Some(Key::Diameter));
    /// assert_eq!(Key::of("diametre"), None);
    /// ```
    pub fn of(text: &str) -> Option<Self> {
        FIELDS.iter().find(|f| f.key == text).map(|f| f.id)
    }

    /// Whether it is worked out where nobody types it.
    pub fn is_worked_out(self) -> bool {
        let these = [
            Self::Spindle,
            Self::CuttingSpeed,
            Self::FeedPerTooth,
            Self::Feed,
        ];
        these.contains(&self)
    }

    /// Whether only the audit of a programme makes use of it: no cut changes with it.
    pub fn is_of_programme(self) -> bool {
        matches!(
            self,
            Self::StockSize
                | Self::Zero
                | Self::Jaws
                | Self::Travel
                | Self::AxisFeed
                | Self::Acceleration
                | Self::LookAhead
                | Self::PathTolerance
        )
    }
}

/// What names an entry: its key. Code that still spells one hands over a literal; a test holds
/// that every literal is a key.
pub trait Named {
    /// The key, if there is such an entry.
    fn key(self) -> Option<Key>;
}

impl Named for Key {
    fn key(self) -> Option<Key> {
        Some(self)
    }
}

impl Named for &str {
    fn key(self) -> Option<Key> {
        Key::of(self)
    }
}

impl<N: Named + Copy> Named for &N {
    fn key(self) -> Option<Key> {
        (*self).key()
    }
}

/// The entry of that key, or that the trade or a formula calls so.
pub fn field(name: &str) -> Option<&'static Field> {
    called(name).map(|(field, _)| field)
}
