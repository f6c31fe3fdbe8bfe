//! Tools described in comments: a question to confirm, never taken as known.

/// A diameter that a comment seems to give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Described {
    /// The tool it names, if any.
    pub(crate) tool: Option<u32>,
    /// mm
    pub(crate) diameter_mm: f64,
}

/// Looks for a diameter in a comment that speaks of a tool.
pub(crate) fn described(text: &[u8]) -> Option<Described> {
    let text = String::from_utf8_lossy(text).to_ascii_uppercase();
    let parts: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '-' | '|'))
        .filter(|p| !p.is_empty())
        .collect();
    let tool = parts.iter().find_map(|p| p.strip_prefix('T')?.parse().ok());
    let about_tool = tool.is_some()
        || parts.iter().any(|p| {
            [
                "MILL", "ENDMILL", "CUTTER", "FLUTE", "FLUTES", "DRILL", "EDGES", "TOOL",
            ]
            .contains(p)
        });
    if !about_tool {
        return None;
    }
    let by_letter = parts.iter().find_map(|p| {
        let rest = p.strip_prefix("DIA").or_else(|| p.strip_prefix('D'))?;
        number(rest.trim_start_matches(['=', '.']).trim_end_matches("MM"))
    });
    let by_unit = || {
        parts
            .windows(2)
            .find_map(|p| (p[1] == "MM").then(|| number(p[0]))?)
            .or_else(|| parts.iter().find_map(|p| number(p.strip_suffix("MM")?)))
    };
    let diameter_mm = by_letter.or_else(by_unit)?;
    (0.05..=200.0)
        .contains(&diameter_mm)
        .then_some(Described { tool, diameter_mm })
}

fn number(text: &str) -> Option<f64> {
    text.parse().ok().filter(|v: &f64| v.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn diameters_are_noticed() {
        let found = |text: &str| described(text.as_bytes()).map(|d| (d.tool, d.diameter_mm));
        assert_eq!(found("T3 D=6. CR=0. - FLAT"), Some((Some(3), 6.0)));
        assert_eq!(
            found("BOLSTER 34 X 16 X 9, 4 MM 3 FLUTE"),
            Some((None, 4.0))
        );
        assert_eq!(found("3MM END MILL"), Some((None, 3.0)));
        assert_eq!(found("PASS 3 DEPTH 0.020"), None);
        assert_eq!(found("34 MM LONG"), None);
    }
}
