//! Symbols spelt in plain ASCII, for terminals that show nothing else.

use std::fmt::Write as _;

/// The text with every sign beyond ASCII spelt out.
///
/// # Example
/// ```
/// use feeds_tui::ascii::spelt;
/// assert_eq!(spelt("v_f = f_z · z · n, φ_s 90°"), "v_f = f_z * z * n, phi_s 90deg");
/// ```
pub fn spelt(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match word(sign) {
            Some(word) => out.push_str(word),
            None if sign.is_ascii() => out.push(sign),
            // A sign nobody listed stays tellable from its neighbours.
            None => {
                let _ = write!(out, "<{:X}>", u32::from(sign));
            }
        }
    }
    out
}

/// The ASCII word of a sign the program uses.
fn word(sign: char) -> Option<&'static str> {
    Some(match sign {
        '·' => "*",
        '×' => "x",
        '−' | '–' | '—' | '─' => "-",
        '…' => "...",
        '√' => "sqrt",
        '∞' => "infinite",
        '≤' => "<=",
        '≥' => ">=",
        '≈' => "~",
        '→' => "->",
        '←' => "<-",
        '↑' => "up",
        '↓' => "down",
        '°' => "deg",
        '²' => "^2",
        '³' => "^3",
        '½' => "1/2",
        '«' | '»' | '“' | '”' => "\"",
        '‘' | '’' => "'",
        'µ' | 'μ' => "u",
        'α' => "alpha",
        'β' => "beta",
        'γ' => "gamma",
        'δ' => "delta",
        'ε' => "eps",
        'ζ' => "zeta",
        'η' => "eta",
        'θ' => "theta",
        'κ' => "kappa",
        'λ' => "lambda",
        'ν' => "nu",
        'π' => "pi",
        'ξ' => "xi",
        'ρ' => "rho",
        'σ' => "sigma",
        'τ' => "tau",
        'φ' => "phi",
        'χ' => "chi",
        'ψ' => "psi",
        'ω' => "omega",
        'Γ' => "Gamma",
        'Δ' => "Delta",
        'Θ' => "Theta",
        'Λ' => "Lambda",
        'Σ' => "sum",
        'Φ' => "Phi",
        'Ω' => "Omega",
        'ä' => "ae",
        'ö' => "oe",
        'ü' => "ue",
        'ß' => "ss",
        'é' | 'è' => "e",
        'á' => "a",
        crate::visible::IN_ITS_PLACE => "?",
        _ => return None,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::spelt;
    use feeds_core::formula::formulas;
    use feeds_core::formula::recipe::recipes;

    #[track_caller]
    fn check(text: &str) {
        let plain = spelt(text);
        assert!(plain.is_ascii());
        assert!(
            !plain.contains('<') || text.contains('<') || text.contains('≤'),
            "{plain}"
        );
    }

    #[test]
    fn every_card_and_entry_can_be_spelt() {
        for formula in formulas() {
            let card = formula.card;
            check(
                &[
                    card.name,
                    card.symbol.text,
                    card.text,
                    card.why,
                    card.source,
                ]
                .join(" "),
            );
        }
        for recipe in recipes() {
            check(recipe.about);
            for field in recipe.fields {
                check(&[field.key, field.name, &field.takes(), field.why].join(" "));
            }
        }
    }

    #[test]
    fn every_row_can_be_spelt() {
        for row in reference_tables::tables().unwrap().listing() {
            check(
                &[
                    &row.subject,
                    &row.condition,
                    &row.value,
                    &row.title,
                    &row.note,
                ]
                .map(String::as_str)
                .join(" "),
            );
        }
    }
}
