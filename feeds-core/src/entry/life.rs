//! Entries of tool life and cost.

use super::Entry;
use crate::quantity::unit;
use crate::symbol as s;

const RATIO: &str = "new over old; one changes nothing";

register! {
    /// Exponent of tool life.
    TAYLOR_N = Entry::of_formula(&s::TAYLOR_N, "n", (0.01, 0.99), "0.25",
        "less for high-speed steel than for carbide, see feeds tables life; below one in any \
         case");
    /// Cutting speed for a life of one minute.
    TAYLOR_C = Entry::of_formula(&s::TAYLOR_C, "C", (0.01, 1e6), "300m/min",
            "the cutting speed that wears an edge out in one minute")
        .plain_in(&unit::METRE_PER_MINUTE);
    /// Ratio of cutting speeds.
    SPEED_RATIO = Entry::of_formula(&s::SPEED_RATIO, "v_ratio", (0.01, 100.0), "1.2", RATIO);
    /// Ratio of feeds.
    FEED_RATIO = Entry::of_formula(&s::FEED_RATIO, "f_ratio", (0.01, 100.0), "1.1", RATIO);
    /// Exponent of the feed.
    FEED_EXPONENT = Entry::of_formula(&s::FEED_EXPONENT, "x", (0.0, 5.0), "0.5",
        "zero is a life that does not care about the feed");
    /// Cost of machine and labour a minute.
    LABOUR = Entry::of_formula(&s::LABOUR, "labour_rate", (1e-6, 1e6), "0.8",
            "money a minute, in the same money as the cutter")
        .plain_in(&unit::PER_MINUTE);
    /// Cost of a cutting edge.
    CUTTER_COST = Entry::of_formula(&s::CUTTER_COST, "cutter_cost", (0.0, 1e6), "25",
        "money for one edge, in the same money as the labour");
    /// Time to change the cutter.
    CHANGE_TIME = Entry::of_formula(&s::CHANGE_TIME, "change_time", (0.0, 1e4), "2min",
            "a time is not negative")
        .plain_in(&unit::MINUTE);
    /// Time spent on preparation.
    SPENT = Entry::of_formula(&s::SPENT, "hours_spent", (0.0, 1e5), "4h", "a time is not negative")
        .plain_in(&unit::HOUR);
    /// Time saved on each part.
    SAVED = Entry::of_formula(&s::SAVED, "minutes_saved", (1e-4, 1e6), "2.5min",
            "without any saving it never pays")
        .plain_in(&unit::MINUTE);
}
