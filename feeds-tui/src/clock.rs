//! What day it is: the one place that asks.

use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds in a day.
const DAY: u64 = 86_400;

/// Today in universal time, as 2026-11-29.
pub(crate) fn today() -> String {
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    // A clock before 1970 is no clock.
    date(now.map_or(0, |now| now.as_secs() / DAY))
}

/// The date of a day counted from 1970-01-01, in the Gregorian calendar.
fn date(days: u64) -> String {
    // Years that begin in March have the leap day at their end; 400 of them have 146097 days.
    let days = days + 719_468;
    let (era, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let of_year = day - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    let (month, next) = if month < 10 {
        (month + 3, 0)
    } else {
        (month - 9, 1)
    };
    format!("{:04}-{month:02}-{of_month:02}", era * 400 + year + next)
}

#[cfg(test)]
mod tests {
    use super::date;

    /// Days since 1970 by the calendar: seven years with two leap days to 1977; 2000 is a leap
    /// year, 2100 is not.
    #[test]
    fn a_day_has_its_date() {
        for (days, expect) in [
            (0, "1970-01-01"),
            (59, "1970-03-01"),
            (7 * 365 + 2, "1977-01-01"),
            (11_016, "2000-02-29"),
            (11_017, "2000-03-01"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ] {
            assert_eq!(date(days), expect);
        }
    }
}
