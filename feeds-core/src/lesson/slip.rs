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
        "the number of flutes was left out: they share the feed between them";
    RADIUS_FOR_DIAMETER = "radius for diameter",
        "a radius was used for a diameter, or the other way round";
    INCH_FOR_MM = "inch for millimetre",
        "inches were taken for millimetres, or the other way round: multiply or divide by 25.4";
    TWO_PI = "2 pi",
        "a turn was mixed up with an angle: one turn is 2 pi radians";
    NO_PI = "left out pi",
        "pi was left out: the edge runs round the circle, not across it";
    NO_THINNING = "no thinning",
        "the feed was taken for the chip: below half the diameter the chip is thinner";
    WIDTH_UPSIDE_DOWN = "a_e/D upside down",
        "width and diameter were swapped: divide the width by the diameter";
    THOUSAND = "a thousand",
        "a factor of a thousand: metres and millimetres, or inches and thou, were mixed";
    LENGTHS_MIXED = "lengths mixed",
        "speed and diameter need the same unit of length: a metre is 1000 mm, a foot is 12 in";
    SIXTY = "sixty",
        "minutes and seconds were mixed: a factor of sixty";
    UPSIDE_DOWN = "upside down",
        "upside down: you divided where you should multiply, or the other way round";
    OVERRIDE_WRONG_WAY = "override the wrong way round",
        "at the same feed a slower spindle makes each edge take more, not less";
    OVERRIDE_IGNORED = "override left out",
        "the override was left out";
    LINEAR_LENGTH = "length not cubed",
        "bending grows with the cube of the length, not with the length";
    MEAN_FOR_LARGEST = "mean for largest",
        "that is the mean chip; the largest was asked for";
    ONE_FACE = "one jaw",
        "friction holds at both jaws: count two faces";
    DOUBLED = "twice too much", "a factor of two too much";
    HALVED = "half", "a factor of two too little";
    NO_EXPONENT = "exponent left out",
        "the exponent was left out: the relation is not a straight line";
    EXPONENT_SIGN = "exponent's sign",
        "the exponent has the wrong sign: a thinner chip takes more force for its section";
    CENTRE_FOR_WALL = "centre and wall",
        "the circle of the centre and that of the wall were swapped";
    NO_CORRECTION = "correction left out",
        "that is the value before the change; the change was left out";
    HALF_READING = "half the reading",
        "use the whole movement of the indicator: it is the difference between the edges";
    TWICE_READING = "twice the reading",
        "use the movement of the indicator once: it is already the difference between the edges";
    STEEL_ALIKE = "stocks alike",
        "only the feeds were compared: the two stocks take different forces";
    FEED_ALIKE = "feeds alike",
        "only the stocks were compared: the two feeds make different chips";
    NO_APPROACH = "approach left out",
        "the approach before full width was left out";
}
