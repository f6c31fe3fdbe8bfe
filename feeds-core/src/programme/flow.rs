//! Statements that change which line comes next.
//!
//! Two families are read. Numbered jumps and loops: `GOTO n`, `IF [c] GOTO n`, `IF [c] THEN #a=v`,
//! `WHILE [c] DOn` .. `ENDn`, with `M98 P` and `M99` for calls. Labelled statements: `O100 sub`,
//! `call`, `while`, `do`, `repeat`, `if`, `else` and their ends, with a number or a `<name>`.

use super::expression::{Fault, value};
use super::number::skip_blanks;
use super::parameters::{Parameters, Slot};
use super::words::setting;

/// The label of an O word.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Label {
    /// `O100`
    Number(u32),
    /// `O<name>`
    Name(String),
}

impl std::fmt::Display for Label {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(n) => write!(f, "O{n}"),
            Self::Name(name) => write!(f, "O<{name}>"),
        }
    }
}

/// The keyword of a labelled statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Keyword {
    Sub,
    EndSub,
    Return,
    Call,
    While,
    EndWhile,
    Do,
    Repeat,
    EndRepeat,
    If,
    ElseIf,
    Else,
    EndIf,
    Break,
    Continue,
}

const KEYWORDS: [(&[u8], Keyword); 15] = [
    (b"sub", Keyword::Sub),
    (b"endsub", Keyword::EndSub),
    (b"return", Keyword::Return),
    (b"call", Keyword::Call),
    (b"while", Keyword::While),
    (b"endwhile", Keyword::EndWhile),
    (b"do", Keyword::Do),
    (b"repeat", Keyword::Repeat),
    (b"endrepeat", Keyword::EndRepeat),
    (b"if", Keyword::If),
    (b"elseif", Keyword::ElseIf),
    (b"else", Keyword::Else),
    (b"endif", Keyword::EndIf),
    (b"break", Keyword::Break),
    (b"continue", Keyword::Continue),
];

/// A statement with its values worked out.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Statement {
    /// `O1000` alone: a programme or subprogram starts.
    Title,
    /// A labelled statement with the bracketed values after it.
    Labelled(Label, Keyword, Vec<f64>),
    /// A jump to block `N`.
    Goto(u32),
    /// `WHILE [c] DOn`
    While(u32, bool),
    /// `ENDn`
    End(u32),
    /// A parameter set on a condition that held.
    Set(Slot, f64),
    /// A condition that did not hold.
    Nothing,
}

/// Reads the statement that starts at `at`; the second value is where it ends.
pub(crate) fn statement(
    text: &[u8],
    at: usize,
    parameters: &Parameters,
) -> Result<(Statement, usize), Fault> {
    if let Some((label, next)) = label(text, at) {
        return labelled(text, next, label, parameters);
    }
    if let Some(next) = keyword(text, at, b"GOTO") {
        let (n, next) = count(text, next, parameters)?;
        return Ok((Statement::Goto(n), next));
    }
    if let Some(next) = keyword(text, at, b"END") {
        let (n, next) = count(text, next, parameters)?;
        return Ok((Statement::End(n), next));
    }
    if let Some(next) = keyword(text, at, b"IF") {
        return conditional(text, next, parameters);
    }
    if let Some(next) = keyword(text, at, b"WHILE") {
        let (holds, next) = condition(text, next, parameters)?;
        let Some(next) = keyword(text, next, b"DO") else {
            return fault(next, "DO and a number are missing after WHILE [ ]");
        };
        let (n, next) = count(text, next, parameters)?;
        return Ok((Statement::While(n, holds), next));
    }
    if let Some(next) = keyword(text, at, b"DO") {
        let (n, next) = count(text, next, parameters)?;
        return Ok((Statement::While(n, true), next));
    }
    fault(at, UNKNOWN)
}

/// What is said of letters that start no statement.
pub(crate) const UNKNOWN: &str = "this is not a statement that is known";

fn fault<T>(at: usize, what: &str) -> Result<T, Fault> {
    Err(Fault {
        at,
        what: what.into(),
    })
}

fn labelled(
    text: &[u8],
    next: usize,
    label: Label,
    parameters: &Parameters,
) -> Result<(Statement, usize), Fault> {
    let Some((keyword, mut next)) = label_keyword(text, next) else {
        return Ok((Statement::Title, next));
    };
    let mut values = Vec::new();
    loop {
        next = skip_blanks(text, next);
        if text.get(next) != Some(&b'[') || values.len() >= 30 {
            return Ok((Statement::Labelled(label, keyword, values), next));
        }
        let worked = value(text, next, parameters)?;
        values.push(worked.value);
        next = worked.next;
    }
}

fn conditional(
    text: &[u8],
    at: usize,
    parameters: &Parameters,
) -> Result<(Statement, usize), Fault> {
    let (holds, next) = condition(text, at, parameters)?;
    let statement = if let Some(next) = keyword(text, next, b"GOTO") {
        Statement::Goto(count(text, next, parameters)?.0)
    } else if let Some(next) = keyword(text, next, b"THEN") {
        let (slot, value, _) = setting(text, skip_blanks(text, next), parameters)?;
        Statement::Set(slot, value)
    } else {
        return fault(next, "GOTO or THEN is missing after IF [ ]");
    };
    Ok((
        if holds { statement } else { Statement::Nothing },
        text.len(),
    ))
}

fn condition(text: &[u8], at: usize, parameters: &Parameters) -> Result<(bool, usize), Fault> {
    let at = skip_blanks(text, at);
    if text.get(at) != Some(&b'[') {
        return fault(at, "a condition must stand in brackets [ ]");
    }
    let worked = value(text, at, parameters)?;
    Ok((worked.value != 0.0, worked.next))
}

/// A whole number that counts or numbers something.
fn count(text: &[u8], at: usize, parameters: &Parameters) -> Result<(u32, usize), Fault> {
    let worked = value(text, skip_blanks(text, at), parameters)?;
    match whole(worked.value) {
        Some(n) => Ok((n, worked.next)),
        None => fault(at, "a whole number from 0 to 99999999 is needed"),
    }
}

/// A value that is a whole number, as one.
pub(crate) fn whole(value: f64) -> Option<u32> {
    // A cast that does not fit gives another number, which is seen.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let whole = value as u32;
    (f64::from(whole) - value == 0.0 && whole < 100_000_000).then_some(whole)
}

/// The place after a keyword that stands at `at`.
pub(crate) fn keyword(text: &[u8], at: usize, word: &[u8]) -> Option<usize> {
    let at = skip_blanks(text, at);
    text.get(at..at + word.len())?
        .eq_ignore_ascii_case(word)
        .then_some(at + word.len())
}

/// Reads `O100` or `O<name>`.
pub(crate) fn label(text: &[u8], at: usize) -> Option<(Label, usize)> {
    let at = skip_blanks(text, keyword(text, at, b"O")?);
    if text.get(at) == Some(&b'<') {
        let close = text[at..].iter().position(|b| *b == b'>')?;
        let name = text[at + 1..at + close]
            .iter()
            .map(|b| char::from(b.to_ascii_lowercase()));
        return Some((
            Label::Name(name.filter(|c| *c != ' ').collect()),
            at + close + 1,
        ));
    }
    let digits = text[at..].iter().take_while(|b| b.is_ascii_digit()).count();
    if digits == 0 || digits > 8 {
        return None;
    }
    let number = text[at..at + digits]
        .iter()
        .fold(0, |n, b| n * 10 + u32::from(b - b'0'));
    Some((Label::Number(number), at + digits))
}

/// The keyword after a label.
pub(crate) fn label_keyword(text: &[u8], at: usize) -> Option<(Keyword, usize)> {
    let at = skip_blanks(text, at);
    let letters = text[at.min(text.len())..]
        .iter()
        .take_while(|b| b.is_ascii_alphabetic())
        .count();
    let word = &text[at..at + letters];
    let (_, found) = KEYWORDS
        .iter()
        .find(|(k, _)| k.eq_ignore_ascii_case(word))?;
    Some((*found, at + letters))
}

/// What a jump looks for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Target {
    /// Block `N`.
    Number(u32),
    /// The start of a subprogram.
    Sub(Label),
    /// `ENDn`
    End(u32),
    /// The end of a labelled body, or what `if` may go on with.
    Close(Label, Close),
}

/// How a labelled body ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Close {
    Sub,
    Loop,
    Branch,
    If,
}

impl Target {
    /// Whether the line is what is looked for.
    pub(crate) fn is_met_by(&self, text: &[u8]) -> bool {
        let at = start(text);
        match self {
            Self::Number(n) => line_number(text, at) == Some(*n),
            Self::End(n) => keyword(text, after_line_number(text, at), b"END").is_some_and(|at| {
                value(text, at, &Parameters::default()).is_ok_and(|w| whole(w.value) == Some(*n))
            }),
            Self::Sub(wanted) => {
                self::label(text, after_line_number(text, at)).is_some_and(|(label, next)| {
                    label == *wanted
                        && matches!(label_keyword(text, next), None | Some((Keyword::Sub, _)))
                })
            }
            Self::Close(wanted, close) => self::label(text, after_line_number(text, at))
                .filter(|(label, _)| label == wanted)
                .and_then(|(_, next)| label_keyword(text, next))
                .is_some_and(|(keyword, _)| close.is_met_by(keyword)),
        }
    }

    /// Where the statement of a line starts.
    pub(crate) fn statement_start(text: &[u8]) -> usize {
        after_line_number(text, start(text))
    }

    /// Whether the target may also stand before the jump.
    pub(crate) fn may_be_before(&self) -> bool {
        matches!(self, Self::Number(_) | Self::Sub(_))
    }
}

impl Close {
    fn is_met_by(self, keyword: Keyword) -> bool {
        use Keyword as K;
        match self {
            Self::Sub => keyword == K::EndSub,
            Self::Loop => matches!(keyword, K::EndWhile | K::EndRepeat | K::While),
            Self::Branch => matches!(keyword, K::ElseIf | K::Else | K::EndIf),
            Self::If => keyword == K::EndIf,
        }
    }
}

/// Where a line starts, behind blanks and a block delete mark.
fn start(text: &[u8]) -> usize {
    let at = skip_blanks(text, 0);
    if text.get(at) == Some(&b'/') {
        skip_blanks(text, at + 1)
    } else {
        at
    }
}

fn line_number(text: &[u8], at: usize) -> Option<u32> {
    let at = keyword(text, at, b"N")?;
    super::number::read(text, at).and_then(|n| whole(n.value))
}

fn after_line_number(text: &[u8], at: usize) -> usize {
    keyword(text, at, b"N")
        .and_then(|at| super::number::read(text, at))
        .map_or(at, |number| number.next)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test fails by panicking
mod tests {
    use super::*;

    fn read(text: &str) -> Statement {
        let mut parameters = Parameters::default();
        parameters.set(Slot::Number(1), 2.0);
        statement(text.as_bytes(), 0, &parameters).unwrap().0
    }

    #[test]
    fn statements_are_read() {
        let o = Label::Number(100);
        assert_eq!(read("O1000 (BOLSTER)"), Statement::Title);
        assert_eq!(
            read("o100 sub"),
            Statement::Labelled(o.clone(), Keyword::Sub, vec![])
        );
        assert_eq!(
            read("O100 call [1] [#1+1]"),
            Statement::Labelled(o, Keyword::Call, vec![1.0, 3.0])
        );
        assert_eq!(read("GOTO 20"), Statement::Goto(20));
        assert_eq!(read("IF [#1 EQ 2] GOTO 20"), Statement::Goto(20));
        assert_eq!(read("IF [#1 EQ 3] GOTO 20"), Statement::Nothing);
        assert_eq!(
            read("IF[#1LT3]THEN#5=7"),
            Statement::Set(Slot::Number(5), 7.0)
        );
        assert_eq!(read("WHILE [#1 LT 2] DO 1"), Statement::While(1, false));
        assert_eq!(read("END1"), Statement::End(1));
    }

    #[test]
    fn targets_are_found() {
        let o = Label::Number(7);
        assert!(Target::Number(20).is_met_by(b"/ n020 G1"));
        assert!(!Target::Number(20).is_met_by(b"N200"));
        assert!(Target::Sub(o.clone()).is_met_by(b"O0007 (SLOT)"));
        assert!(!Target::Sub(o.clone()).is_met_by(b"O7 call"));
        assert!(Target::Close(o, Close::If).is_met_by(b"N5 o7 EndIf"));
        assert!(Target::End(1).is_met_by(b"N7 END 1"));
        assert!(!Target::End(1).is_met_by(b"END12"));
    }
}
