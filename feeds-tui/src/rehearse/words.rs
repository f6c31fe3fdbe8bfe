//! Words of the rehearsal.

use feeds_core::rehearsal::ladder::RungKind;

/// What no rehearsal proves, whatever its settings.
pub const NEVER: &[&str] = &[
    "wear: the good stock dulls the edge at its own rate, which the stand-in cannot show",
    "chatter: it depends on the force each stock takes for a chip, and on speed",
    "built-up edge, chip shape and burrs: they belong to the stock",
    "hard spots, welds and layers of the good stock, and stresses that bend it when cut",
    "heat at the cutting speed of the good stock",
];

/// The same in a line.
pub const NEVER_SHORT: &str = "wear, chatter, built-up edge and burrs, hard spots, heat of the \
good stock";

/// How to stop with the cutter in the work.
pub const FEED_HOLD: &str = "Feed hold with the cutter in the work rubs: the spindle turns, no \
chip is cut, and the edge glows or hardens the work. Raise Z first, then stop the spindle. To go \
on, start the spindle clear of the work, let it come to speed, and enter again along the path \
before the place where you stopped, at the feed that cuts.";

/// How the depth is reduced without another programme.
pub const SHALLOWER: &str = "Raise the Z of the work by the difference: the same programme then \
takes less depth at full width and full feed per tooth. A narrower cut thins the chip instead: \
narrow only while raising the feed.";

/// The name of a rung.
pub fn name(kind: RungKind) -> &'static str {
    match kind {
        RungKind::Air => "air pass",
        RungKind::Cautious => "stand-in, first cut",
        RungKind::EqualForce => "stand-in at equal force",
        RungKind::Reduced => "production at reduced depth",
        RungKind::Production => "production",
    }
}

/// What a rung proves.
pub fn proves(kind: RungKind) -> &'static str {
    match kind {
        RungKind::Air => {
            "path, clearances, offsets, travel, S and F reached; run it above the work by more \
             than the deepest cut"
        }
        RungKind::Cautious => "zero, cutter length, chips, that the edge cuts and does not rub",
        RungKind::EqualForce => "hold, cutter and machine under that force",
        RungKind::Reduced => "the good stock: sound, chips, heat, hard spots, at less force",
        RungKind::Production => "the fitting; compare size and sound with the step before",
    }
}

/// When to stop, by what is seen and heard.
pub fn stop(kind: RungKind) -> &'static str {
    match kind {
        RungKind::Air => "a move towards jaws, clamps or limits; S or F other than written",
        RungKind::Cautious => {
            "dust instead of chips, a whistle, a shiny wall: it rubs; blue chips or smoke: it \
             runs too fast"
        }
        RungKind::EqualForce => {
            "the part shifts against a line drawn across the jaws, the spindle drops in tone, the \
             cutter creeps out of its collet, chatter marks"
        }
        RungKind::Reduced => {
            "a change of sound along the path, sparks, a harder note than on the stand-in, chips \
             that turn blue, a wall that shines"
        }
        RungKind::Production => {
            "anything new: sound, vibration, colour of chips, a mark on the wall, the spindle's \
             tone"
        }
    }
}
