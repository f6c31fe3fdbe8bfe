//! Tools, speeds and feeds named in comments: questions and hints, never taken as known.

use super::Where;

/// A diameter that a comment seems to give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Described {
    /// The tool it names, if any.
    pub(crate) tool: Option<u32>,
    /// The figure, in mm where `unit` says so.
    pub(crate) diameter: f64,
    /// mm in the unit it is written with; that of the programme where it has none.
    pub(crate) unit: Option<f64>,
}

/// Diameters of the smallest and the largest cutters of light mills, mm: the finest end mills that
/// makers list, and face mills beyond any spindle of this size (makers' lists, from memory).
const SMALLEST: f64 = 0.05;
const LARGEST: f64 = 200.0;

impl Described {
    /// In mm, in a programme whose unit is so many mm; none where no cutter is so small or large.
    pub(crate) fn diameter_mm(&self, programme: f64) -> Option<f64> {
        let mm = self.diameter * self.unit.unwrap_or(programme);
        (SMALLEST..=LARGEST).contains(&mm).then_some(mm)
    }
}

/// Most diameters kept.
const MOST: usize = 100;

/// What all comments of a programme say.
#[derive(Clone, Debug, Default)]
pub(crate) struct Said {
    /// The first S, F and T that a comment names, each with its line.
    speed: Option<(f64, u64)>,
    feed: Option<(f64, u64)>,
    pub(crate) tool: Option<(u32, Where)>,
    pub(crate) diameters: Vec<(Where, Described)>,
}

impl Said {
    /// Takes in a comment.
    pub(crate) fn take(&mut self, at: Where, text: &[u8]) {
        if !text.iter().any(u8::is_ascii_digit) {
            return;
        }
        let text = String::from_utf8_lossy(text).to_ascii_uppercase();
        let parts = parts(&text);
        let word = |letter: char| parts.iter().find_map(|p| worded(p, letter));
        let turns = |p: &[&str]| (p[1] == "RPM").then(|| number(p[0]))?;
        let speed = || {
            let joined = parts.iter().find_map(|p| number(p.strip_suffix("RPM")?));
            word('S')
                .or_else(|| parts.windows(2).find_map(turns))
                .or(joined)
        };
        self.speed = self.speed.or_else(|| Some((speed()?, at.line)));
        self.feed = self.feed.or_else(|| Some((word('F')?, at.line)));
        self.tool = self.tool.or_else(|| Some((tool(&parts)?, at)));
        if self.diameters.len() < MOST {
            self.diameters.extend(described(&parts).map(|d| (at, d)));
        }
    }

    /// The speed a comment names, to stand behind a sentence.
    pub(crate) fn speed(&self) -> String {
        hint('S', self.speed)
    }

    /// The feed a comment names, to stand behind a sentence.
    pub(crate) fn feed(&self) -> String {
        hint('F', self.feed)
    }
}

fn hint(letter: char, said: Option<(f64, u64)>) -> String {
    said.map_or_else(String::new, |(value, line)| {
        format!("; the comment in line {line} names {letter}{value}")
    })
}

fn parts(text: &str) -> Vec<&str> {
    text.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '-' | '|' | '(' | ')'))
        .filter(|p| !p.is_empty())
        .collect()
}

/// The value of a word such as `S8000` or `F=400`.
fn worded(part: &str, letter: char) -> Option<f64> {
    let rest = part.strip_prefix(letter)?.trim_start_matches('=');
    let digits = rest.starts_with(|c: char| c.is_ascii_digit());
    number(rest).filter(|v| digits && *v > 0.0)
}

fn tool(parts: &[&str]) -> Option<u32> {
    parts.iter().find_map(|p| p.strip_prefix('T')?.parse().ok())
}

/// Looks for a diameter in a comment that speaks of a tool.
fn described(parts: &[&str]) -> Option<Described> {
    const WORDS: [&str; 8] = [
        "MILL", "ENDMILL", "CUTTER", "FLUTE", "FLUTES", "DRILL", "EDGES", "TOOL",
    ];
    let tool = tool(parts);
    if tool.is_none() && !parts.iter().any(|p| WORDS.contains(p)) {
        return None;
    }
    let by_letter = || {
        parts.iter().find_map(|p| {
            let rest = p.strip_prefix("DIA").or_else(|| p.strip_prefix('D'))?;
            measured(rest.trim_start_matches(['=', '.']))
        })
    };
    let apart = |p: &[&str]| Some((number(p[0])?, Some(unit(p[1])?)));
    let by_unit = || {
        let joined = || {
            parts
                .iter()
                .find_map(|p| measured(p).filter(|m| m.1.is_some()))
        };
        parts.windows(2).find_map(apart).or_else(joined)
    };
    let (diameter, unit) = by_letter().or_else(by_unit)?;
    Some(Described {
        tool,
        diameter,
        unit,
    })
}

/// mm in a unit.
fn unit(text: &str) -> Option<f64> {
    match text {
        "MM" => Some(1.0),
        "IN" | "INCH" | "\"" => Some(25.4),
        _ => None,
    }
}

/// A number that may have its unit behind it.
fn measured(text: &str) -> Option<(f64, Option<f64>)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/'))
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let value = number(digits)?;
    if rest.is_empty() {
        return Some((value, None));
    }
    Some((value, Some(unit(rest)?)))
}

/// A number or a fraction.
fn number(text: &str) -> Option<f64> {
    let value = match text.split_once('/') {
        Some((over, under)) => over.parse::<f64>().ok()? / under.parse::<f64>().ok()?,
        None => text.parse().ok()?,
    };
    Some(value).filter(|v: &f64| v.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn diameters_are_noticed() {
        let found = |text: &str| {
            let mut said = Said::default();
            said.take(Where::default(), text.as_bytes());
            let (_, d) = *said.diameters.first()?;
            Some((d.tool, d.diameter, d.unit))
        };
        assert_eq!(found("T3 D=6. CR=0. - FLAT"), Some((Some(3), 6.0, None)));
        assert_eq!(
            found("BOLSTER 34 X 16 X 9, 4 MM 3 FLUTE"),
            Some((None, 4.0, Some(1.0)))
        );
        assert_eq!(found("3mm end mill"), Some((None, 3.0, Some(1.0))));
        assert_eq!(found("1/4\" END MILL"), Some((None, 0.25, Some(25.4))));
        assert_eq!(found("T2 D=0.125 DRILL"), Some((Some(2), 0.125, None)));
        assert_eq!(found("PASS 3 DEPTH 0.020"), None);
        assert_eq!(found("34 MM LONG"), None);
    }

    #[test]
    fn speeds_and_feeds_are_noticed() {
        let hints = |text: &str| {
            let mut said = Said::default();
            said.take(Where { line: 3, at: 0 }, text.as_bytes());
            (said.speed(), said.feed())
        };
        let names = |word: &str| format!("; the comment in line 3 names {word}");
        assert_eq!(hints("6MM S8000 F=400"), (names("S8000"), names("F400")));
        assert_eq!(hints("run at 5000 rpm"), (names("S5000"), String::new()));
        assert_eq!(hints("SIDE 2, FACE 1"), (String::new(), String::new()));
    }
}
