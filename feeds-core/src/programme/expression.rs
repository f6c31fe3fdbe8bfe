//! Values that are worked out: parameters, brackets, functions.
//!
//! NISTIR 6556, 3.3.2: power binds first, then `* / MOD`, then `+ - OR XOR AND`, each from left to
//! right; angles are in degrees. Comparisons (`EQ NE GT GE LT LE`) are a later addition and bind
//! last; in a bracket that holds one, `OR XOR AND` bind after it.

use super::number::{read, refused, skip_blanks};
use super::parameters::{Parameters, Slot};

/// Deepest nesting followed.
const DEEPEST: u8 = 24;

/// Why a value could not be worked out.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fault {
    /// Index of the byte where reading stopped.
    pub(crate) at: usize,
    /// What is wrong, in words.
    pub(crate) what: String,
}

/// A value worked out, with the place after it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Worked {
    /// The value.
    pub(crate) value: f64,
    /// Index of the byte after it.
    pub(crate) next: usize,
}

/// Works out the value that starts at `at`: a number, a parameter, a bracket or a function.
pub(crate) fn value(text: &[u8], at: usize, parameters: &Parameters) -> Result<Worked, Fault> {
    let mut reader = Reader {
        text,
        at,
        parameters,
        depth: 0,
    };
    let value = reader.value()?;
    if !value.is_finite() {
        return Err(Fault {
            at,
            what: "the value is not a finite number".into(),
        });
    }
    Ok(Worked {
        value,
        next: reader.at,
    })
}

/// Reads the address of a parameter after its `#`.
pub(crate) fn slot(
    text: &[u8],
    at: usize,
    parameters: &Parameters,
) -> Result<(Slot, usize), Fault> {
    let mut reader = Reader {
        text,
        at,
        parameters,
        depth: 0,
    };
    let slot = reader.slot()?;
    Ok((slot, reader.at))
}

#[derive(Clone, Copy, PartialEq)]
enum Operator {
    Power,
    Times,
    Over,
    Modulo,
    Plus,
    Minus,
    Or,
    Xor,
    And,
    Equal,
    NotEqual,
    Greater,
    GreaterEqual,
    Less,
    LessEqual,
}

use Operator as Op;

const OPERATORS: [(&[u8], Operator); 15] = [
    (b"**", Op::Power),
    (b"*", Op::Times),
    (b"/", Op::Over),
    (b"+", Op::Plus),
    (b"-", Op::Minus),
    (b"MOD", Op::Modulo),
    (b"OR", Op::Or),
    (b"XOR", Op::Xor),
    (b"AND", Op::And),
    (b"EQ", Op::Equal),
    (b"NE", Op::NotEqual),
    (b"GT", Op::Greater),
    (b"GE", Op::GreaterEqual),
    (b"LT", Op::Less),
    (b"LE", Op::LessEqual),
];

impl Operator {
    /// How tightly it binds; logic binds last in a bracket that compares.
    fn level(self, compares: bool) -> u8 {
        match self {
            Self::Power => 4,
            Self::Times | Self::Over | Self::Modulo => 3,
            Self::Plus | Self::Minus => 2,
            Self::Or | Self::Xor | Self::And => 2 * u8::from(!compares),
            _ => 1,
        }
    }

    fn compares(self) -> bool {
        self.level(false) == 1
    }

    fn apply(self, a: f64, b: f64) -> f64 {
        let truth = |t: bool| f64::from(u8::from(t));
        match self {
            Self::Power => a.powf(b),
            Self::Times => a * b,
            Self::Over => a / b,
            Self::Modulo => a.rem_euclid(b),
            Self::Plus => a + b,
            Self::Minus => a - b,
            Self::Or => truth(a != 0.0 || b != 0.0),
            Self::Xor => truth((a != 0.0) != (b != 0.0)),
            Self::And => truth(a != 0.0 && b != 0.0),
            Self::Equal => truth((a - b).abs() < 1e-6),
            Self::NotEqual => truth((a - b).abs() >= 1e-6),
            Self::Greater => truth(a > b),
            Self::GreaterEqual => truth(a >= b),
            Self::Less => truth(a < b),
            Self::LessEqual => truth(a <= b),
        }
    }
}

struct Reader<'a> {
    text: &'a [u8],
    at: usize,
    parameters: &'a Parameters,
    depth: u8,
}

impl Reader<'_> {
    fn fault<T>(&self, what: impl Into<String>) -> Result<T, Fault> {
        Err(Fault {
            at: self.at,
            what: what.into(),
        })
    }

    fn peek(&mut self) -> Option<u8> {
        self.at = skip_blanks(self.text, self.at);
        self.text.get(self.at).copied()
    }

    fn word(&self, word: &[u8]) -> bool {
        self.text
            .get(self.at..self.at + word.len())
            .is_some_and(|t| t.eq_ignore_ascii_case(word))
    }

    fn value(&mut self) -> Result<f64, Fault> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return self.fault("brackets are nested too deeply to follow");
        }
        let value = match self.peek() {
            Some(b'[') => self.bracket(),
            Some(b'#') => {
                let slot = self.parameter()?;
                match self.parameters.get(&slot) {
                    Some(value) => Ok(value),
                    None => self.fault(format!("{slot} is used but never set in a line before")),
                }
            }
            Some(sign @ (b'-' | b'+')) if self.sign_of_worked_value() => {
                self.at += 1;
                let value = self.value()?;
                Ok(if sign == b'-' { -value } else { value })
            }
            Some(b'A'..=b'Z' | b'a'..=b'z') => self.function(),
            _ => match read(self.text, self.at) {
                Some(number) => {
                    self.at = number.next;
                    Ok(number.value)
                }
                None if refused(self.text, self.at).is_some() => {
                    self.fault("a number has too many digits, or is too large to be kept")
                }
                None => self.fault("a number is missing"),
            },
        };
        self.depth -= 1;
        value
    }

    fn sign_of_worked_value(&self) -> bool {
        let next = skip_blanks(self.text, self.at + 1);
        self.text
            .get(next)
            .is_some_and(|b| matches!(b, b'[' | b'#') || b.is_ascii_alphabetic())
    }

    fn parameter(&mut self) -> Result<Slot, Fault> {
        self.at += 1;
        self.slot()
    }

    fn slot(&mut self) -> Result<Slot, Fault> {
        if self.peek() == Some(b'<') {
            let Some(close) = self.text[self.at..].iter().position(|b| *b == b'>') else {
                return self.fault("the name of a parameter is not closed with >");
            };
            let name: String = self.text[self.at + 1..self.at + close]
                .iter()
                .filter(|b| !matches!(b, b' ' | b'\t'))
                .map(|b| char::from(b.to_ascii_lowercase()))
                .collect();
            self.at += close + 1;
            return Ok(Slot::Name(name));
        }
        let number = self.value()?;
        if !(0.0..1e6).contains(&number) || number.fract() != 0.0 {
            return self.fault("the number of a parameter must be whole and from 0 to 999999");
        }
        // Whole and in range as just checked.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Ok(Slot::Number(number as u32))
    }

    fn bracket(&mut self) -> Result<f64, Fault> {
        self.at += 1;
        let compares = self.compares();
        let value = self.chain(0, compares)?;
        if self.peek() != Some(b']') {
            return self.fault("a bracket [ is not closed with ]");
        }
        self.at += 1;
        Ok(value)
    }

    /// Whether the bracket that has just been opened holds a comparison of its own.
    fn compares(&self) -> bool {
        let mut depth = 0;
        for at in self.at..self.text.len() {
            match self.text[at] {
                b'[' => depth += 1,
                b']' if depth == 0 => return false,
                b']' => depth -= 1,
                _ if depth == 0 => {
                    let rest = &self.text[at..];
                    let two = rest.get(..2).unwrap_or(rest);
                    if OPERATORS
                        .iter()
                        .any(|(word, op)| op.compares() && two.eq_ignore_ascii_case(word))
                    {
                        return true;
                    }
                }
                _ => {}
            }
        }
        false
    }

    fn chain(&mut self, least: u8, compares: bool) -> Result<f64, Fault> {
        let mut left = self.value()?;
        while let Some((word, op)) = self.operator() {
            let level = op.level(compares);
            if level < least {
                break;
            }
            self.at += word;
            let right = self.chain(level + 1, compares)?;
            left = op.apply(left, right);
        }
        Ok(left)
    }

    fn operator(&mut self) -> Option<(usize, Operator)> {
        self.peek()?;
        OPERATORS
            .iter()
            .find(|(word, _)| self.word(word))
            .map(|(word, op)| (word.len(), *op))
    }

    fn function(&mut self) -> Result<f64, Fault> {
        const NAMES: [&[u8]; 13] = [
            b"ABS", b"ACOS", b"ASIN", b"ATAN", b"COS", b"EXP", b"FIX", b"FUP", b"LN", b"ROUND",
            b"SIN", b"SQRT", b"TAN",
        ];
        let Some(name) = NAMES.into_iter().find(|name| self.word(name)) else {
            return self.fault("a number, #, [ or the name of a function is missing");
        };
        self.at += name.len();
        if self.peek() != Some(b'[') {
            return self.fault("the value a function works on must stand in brackets [ ]");
        }
        let x = self.bracket()?;
        Ok(match name {
            b"ABS" => x.abs(),
            b"ACOS" => x.acos().to_degrees(),
            b"ASIN" => x.asin().to_degrees(),
            b"ATAN" => {
                if self.peek() != Some(b'/') {
                    return self.fault("ATAN needs two values: ATAN[a]/[b]");
                }
                self.at += 1;
                if self.peek() != Some(b'[') {
                    return self.fault("ATAN needs two values: ATAN[a]/[b]");
                }
                x.atan2(self.bracket()?).to_degrees()
            }
            b"COS" => x.to_radians().cos(),
            b"EXP" => x.exp(),
            b"FIX" => x.floor(),
            b"FUP" => x.ceil(),
            b"LN" => x.ln(),
            b"ROUND" => x.round(),
            b"SIN" => x.to_radians().sin(),
            b"SQRT" => x.sqrt(),
            _ => x.to_radians().tan(),
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    fn work(text: &str) -> Result<f64, Fault> {
        let mut parameters = Parameters::default();
        parameters.set(Slot::Number(3), 15.0);
        parameters.set(Slot::Number(15), 2.0);
        parameters.set(Slot::Name("depth".into()), -1.5);
        value(text.as_bytes(), 0, &parameters).map(|w| w.value)
    }

    #[test]
    fn works_out_values() {
        for (text, expect) in [
            // NISTIR 6556, 3.3.2.3
            ("[2.0 / 3 * 1.5 - 5.5 / 11.0]", 0.5),
            ("[2 ** 3 * 2]", 16.0),
            ("[1 OR 0 + 5]", 6.0),
            ("[1 LT 2 AND 3 GT 2]", 1.0),
            ("[-7 MOD 5]", 3.0),
            ("#3", 15.0),
            ("##3", 2.0),
            ("-#<Dep th>", 1.5),
            ("-[1+2]", -3.0),
            ("sin[30]", 0.5),
            ("ATAN[1]/[1]", 45.0),
            ("sqrt[abs[-16]]", 4.0),
        ] {
            let got = work(text).unwrap();
            assert!((got - expect).abs() < 1e-12, "{text}: {got}");
        }
    }

    #[test]
    fn says_what_is_wrong() {
        for text in [
            "#9", "[1", "SIN 3", "[1/0]", "ATAN[1]", "[]", "#<a", "FOO[1]",
        ] {
            assert!(work(text).is_err(), "{text}");
        }
        assert!(
            work(&"[".repeat(100))
                .unwrap_err()
                .what
                .contains("too deeply")
        );
    }
}
