//! The slips people make, each with what it looks like.

/// A slip that produces a wrong answer.
#[derive(Debug, PartialEq)]
pub struct Slip {
    /// Its name.
    pub name: &'static str,
    /// What happened, and what is right.
    pub says: &'static str,
}

macro_rules! slips {
    ($($id:ident = $name:literal, $says:literal;)+) => {
        $(
            #[doc = $name]
            pub(super) static $id: Slip = Slip { name: $name, says: $says };
        )+
    };
}

slips! {
    FORGOT_TEETH = "forgot the teeth",
        "the number of edges is missing: the table's advance is shared by all of them";
    RADIUS_FOR_DIAMETER = "radius for diameter",
        "a radius stands where the diameter belongs, or the other way about";
    INCH_FOR_MM = "inch for millimetre",
        "the number was carried from inches to millimetres, or back, without 25.4";
    TWO_PI = "2 pi",
        "a turn is counted as an angle: a turn is one turn, and 2 pi radians";
    NO_PI = "left out pi",
        "pi is missing: the edge runs round the circle, not across it";
    NO_THINNING = "no thinning",
        "the feed was taken for the chip: below half the diameter the chip is thinner";
    WIDTH_UPSIDE_DOWN = "a_e/D upside down",
        "width over diameter was turned over: the width is the smaller one";
    THOUSAND = "a thousand",
        "units a thousand apart were mixed, as metres and millimetres or inches and thous are";
    LENGTHS_MIXED = "lengths mixed",
        "the edge's way and the diameter want one unit: a metre is a thousand millimetres, a foot \
         twelve inches";
    SIXTY = "sixty",
        "minutes and seconds were mixed: a factor of sixty";
    UPSIDE_DOWN = "upside down",
        "divided where it is multiplied: the relation was turned over";
    OVERRIDE_WRONG_WAY = "override the wrong way",
        "a slower spindle at the same feed leaves more for each edge, not less";
    OVERRIDE_IGNORED = "override left out",
        "the override was not reckoned with";
    LINEAR_LENGTH = "length not cubed",
        "bending grows with the cube of the length, not with the length";
    MEAN_FOR_LARGEST = "mean for largest",
        "the mean chip was given where the largest was asked";
    ONE_FACE = "one jaw",
        "both jaws hold by friction: two faces";
    DOUBLED = "twice too much", "a factor of two too much";
    HALVED = "half", "a factor of two too little";
    NO_EXPONENT = "exponent left out",
        "the relation is not a straight one: the exponent is missing";
    EXPONENT_SIGN = "exponent's sign",
        "the exponent has the other sign: a thinner chip takes more force for its section";
    CENTRE_FOR_WALL = "centre and wall",
        "the circle of the centre and that of the wall were exchanged";
    NO_CORRECTION = "correction left out",
        "the value to begin with was given: what changes it was not reckoned with";
    HALF_READING = "half the reading",
        "the whole movement of the indicator counts: it is the difference between the edges";
    TWICE_READING = "twice the reading",
        "the movement of the indicator counts once: it is the difference between the edges";
    STEEL_ALIKE = "stocks alike",
        "only the feeds were compared: the two stocks take different forces";
    FEED_ALIKE = "feeds alike",
        "only the stocks were compared: the two feeds make different chips";
    NO_APPROACH = "approach left out",
        "the way before the full width was left out";
}
