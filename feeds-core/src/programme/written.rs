//! Words and figures as a programme would write them.

use super::checks::name;
use super::modal::{FeedMode, Modal};
use super::motion::{Motion, Tool};
use super::setting::{Planned, ProgrammeTool};

/// A figure to so many decimals, without the zeros behind it and without a minus before zero.
pub(super) fn figure(value: f64, decimals: i32) -> String {
    if value.abs() >= 1e12 {
        // An absurd number is not followed to its last digit.
        return format!("{value:.3e}");
    }
    let tens = 10_f64.powi(decimals);
    format!("{}", (value * tens).round() / tens + 0.0)
}

/// A time in minutes as people say it.
pub fn hours(minutes: f64) -> String {
    let seconds = (minutes * 60.0).round();
    if minutes >= 6e5 {
        // Years of it are an absurd feed.
        return format!("{} h", figure(minutes / 60.0, 0));
    }
    if minutes >= 60.0 {
        let whole = minutes.round();
        let (h, min) = ((whole / 60.0).floor(), whole % 60.0);
        return if min == 0.0 || h >= 100.0 {
            format!("{} h", figure(minutes / 60.0, 0))
        } else {
            format!("{h} h {min} min")
        };
    }
    if minutes >= 10.0 {
        return format!("{} min", figure(minutes, 1));
    }
    if seconds >= 60.0 {
        return format!("{} min", figure(minutes, 2));
    }
    format!("{} s", figure(minutes * 60.0, 1))
}

/// To which side a feed is rounded where it is a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Toward {
    /// It may be more.
    More,
    /// It may be less.
    Less,
    /// It is wanted as it is.
    Itself,
}

impl Modal {
    /// What an F word counts.
    pub(super) fn feed_unit(&self) -> &'static str {
        match (self.feed_mode, self.in_inch()) {
            (FeedMode::InverseTime, _) => "1/min",
            (FeedMode::PerMinute, false) => "mm/min",
            (FeedMode::PerMinute, true) => "in/min",
            (FeedMode::PerTurn, false) => "mm a turn",
            (FeedMode::PerTurn, true) => "in a turn",
        }
    }

    /// Whether findings speak in inch.
    pub(super) fn shows_inch(&self) -> bool {
        self.shown_in_inch.unwrap_or_else(|| self.in_inch())
    }

    /// A length in mm as the reader wants to see it.
    pub(super) fn length(&self, mm: f64) -> String {
        if self.shows_inch() {
            format!("{} in", figure(mm / 25.4, 4))
        } else {
            format!("{} mm", figure(mm, 3))
        }
    }

    /// A length in mm that is looked at closely: a tenth of what an arc may miss.
    pub(super) fn close(&self, mm: f64) -> String {
        if self.shows_inch() {
            format!("{} in", figure(mm / 25.4, 5))
        } else {
            format!("{} mm", figure(mm, 4))
        }
    }

    /// A length of a chip in mm as the reader wants to see it.
    pub(super) fn chip(&self, mm: f64) -> String {
        let (value, unit) = if self.shows_inch() {
            (mm / 25.4, "in")
        } else {
            (mm, "mm")
        };
        let digits = 2.0 - value.abs().max(1e-12).log10().floor();
        #[expect(clippy::cast_possible_truncation)] // between 0 and 9
        let decimals = digits.clamp(0.0, 9.0) as i32;
        format!("{} {unit}", figure(value, decimals))
    }

    /// A volume in mm³ as the reader wants to see it.
    pub(super) fn volume(&self, mm3: f64) -> String {
        if self.shows_inch() {
            format!("{} in3", figure(mm3 / 25.4_f64.powi(3), 5))
        } else {
            format!("{} mm3", figure(mm3, 2))
        }
    }

    /// A cutting speed in m/min as the reader wants to see it.
    pub(super) fn surface(&self, v_c: f64) -> String {
        if self.shows_inch() {
            format!("{:.0} ft/min", v_c / 0.3048)
        } else {
            format!("{} m/min", figure(v_c, 1))
        }
    }

    /// A feed in mm/min as the reader wants to see it.
    pub(super) fn per_minute(&self, v_f: f64) -> String {
        if self.shows_inch() {
            format!("{} in/min", figure(v_f / 25.4, 2))
        } else {
            format!("{} mm/min", figure(v_f, 1))
        }
    }

    /// The number behind F for v_f in mm/min.
    pub(super) fn feed_value(&self, v_f: f64) -> f64 {
        match self.feed_mode {
            FeedMode::PerTurn => v_f / self.unit() / self.spindle_speed(),
            _ => v_f / self.unit(),
        }
    }

    /// `F160 (mm/min)` for v_f in mm/min, in the unit of the programme.
    pub(super) fn feed_word(&self, v_f: f64, toward: Toward) -> String {
        let value = self.feed_value(v_f);
        // Three digits are enough for a bound, six where the figure itself is wanted.
        let digits = if toward == Toward::Itself { 6.0 } else { 3.0 };
        let decimals = (digits - 1.0 - value.abs().log10().floor()).clamp(0.0, 6.0);
        let tens = 10_f64.powf(decimals);
        // The noise of a product must not count as a step of its own.
        let value = match toward {
            Toward::More => (value * tens - 1e-6).ceil(),
            Toward::Less => (value * tens + 1e-6).floor(),
            Toward::Itself => (value * tens).round(),
        } / tens;
        if self.shows_inch() == self.in_inch() || self.feed_mode == FeedMode::InverseTime {
            return format!("F{value} ({})", self.feed_unit());
        }
        format!("F{value} ({})", self.per_minute(v_f))
    }

    /// What is known of the feed that a move lacks: that of the plan, of the band or of the pitch.
    pub(super) fn feed_known(&self, motion: &Motion, tool: Option<&ProgrammeTool>) -> String {
        let Some(tool) = tool else {
            return String::new();
        };
        let plan = self.plan(tool);
        if !plan.is_empty() || self.feed_mode == FeedMode::InverseTime {
            return plan;
        }
        let n = motion.spindle_speed;
        if let Some(pitch) = tool.pitch_mm.filter(|_| n > 0.0) {
            let feed = self.feed_word(pitch * n, Toward::Itself);
            let pitch = self.length(pitch);
            return format!("; its pitch of {pitch} at S{n} makes {feed}");
        }
        match (tool.feed_band, tool.feed_per_tooth(1.0, n)) {
            (Some((least, most)), Some(chip)) => format!(
                "; sideways at S{n} the band of {} is {} to {}",
                name(motion.tool),
                self.feed_word(least / chip, Toward::More),
                self.feed_word(most / chip, Toward::Less)
            ),
            _ => String::new(),
        }
    }

    /// The settings planned for a tool, to stand behind a sentence; empty when there are none.
    pub(super) fn plan(&self, tool: &ProgrammeTool) -> String {
        if tool.planned.is_empty() {
            return String::new();
        }
        let of = name(Tool::Chosen(tool.number));
        format!("; planned for {of}: {}", self.settings(tool))
    }

    /// The settings planned for a tool.
    pub(super) fn settings(&self, tool: &ProgrammeTool) -> String {
        let passes: Vec<String> = tool.planned.iter().map(|p| self.setting(p)).collect();
        passes.join(" or ")
    }

    /// The settings of a planned pass.
    pub(super) fn setting(&self, pass: &Planned) -> String {
        let of = if pass.name.is_empty() {
            String::new()
        } else {
            format!(" ({})", pass.name)
        };
        let feed = self.per_minute(pass.feed_speed);
        format!("S{:.0} with {feed}{of}", pass.spindle_speed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::programme::modal::Turning;

    #[test]
    fn figures_have_no_idle_zeros() {
        for (value, decimals, expect) in [
            (400.0, 4, "400"),
            (15.748, 4, "15.748"),
            (-0.000_001, 4, "0"),
            (3.206_243_9, 4, "3.2062"),
        ] {
            assert_eq!(figure(value, decimals), expect);
        }
    }

    /// By hand: 9489.6 min are 158.16 h; 754 min are 12 h and 34 min.
    #[test]
    fn times_are_said_as_people_say_them() {
        for (minutes, expect) in [
            (9489.6, "158 h"),
            (754.0, "12 h 34 min"),
            (119.6, "2 h"),
            (60.0, "1 h"),
            (59.9, "59.9 min"),
            (8.284, "8.28 min"),
            (0.5, "30 s"),
            (0.0, "0 s"),
        ] {
            assert_eq!(hours(minutes), expect);
        }
    }

    /// By hand: 160.4 mm/min are 6.314961 inch/min, at 8000 1/min 0.02005 mm a turn.
    #[test]
    fn a_feed_is_written_as_the_programme_counts_it() {
        let modal = |inch, feed_mode| Modal {
            inch: Some(inch),
            feed_mode,
            speed: Some(8000.0),
            turning: Turning::Clockwise,
            ..Modal::default()
        };
        let metric = modal(false, FeedMode::PerMinute);
        assert_eq!(metric.feed_word(160.4, Toward::More), "F161 (mm/min)");
        assert_eq!(metric.feed_word(160.4, Toward::Less), "F160 (mm/min)");
        assert_eq!(metric.feed_word(160.4, Toward::Itself), "F160.4 (mm/min)");
        assert_eq!(
            metric.feed_word(0.005 * 32_000.0, Toward::More),
            "F160 (mm/min)"
        );
        let inch = modal(true, FeedMode::PerMinute);
        assert_eq!(inch.feed_word(160.4, Toward::More), "F6.32 (in/min)");
        assert_eq!(inch.per_minute(160.4), "6.31 in/min");
        assert_eq!(metric.per_minute(160.4), "160.4 mm/min");
        let turn = modal(false, FeedMode::PerTurn);
        assert_eq!(turn.feed_word(160.4, Toward::Less), "F0.02 (mm a turn)");
    }
}
