//! Four styles of writing the same moves, as posts for different controls do.

use crate::job::{Centre, HIGH, Op};

/// A style.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Style {
    /// Numbered lines, every word spelt out, a safe start.
    Numbered,
    /// Lower case without blanks, only what changes.
    Terse,
    /// Inch, words that change, notes of the cutters.
    Inch,
    /// For a machine without tool changer: no T, no offsets.
    Light,
}

impl Style {
    pub(crate) const ALL: [Self; 4] = [Self::Numbered, Self::Terse, Self::Inch, Self::Light];

    /// mm in its unit.
    pub(crate) fn unit(self) -> f64 {
        if self == Self::Inch { 25.4 } else { 1.0 }
    }

    pub(crate) fn changes_tools(self) -> bool {
        self != Self::Light
    }
}

/// A programme as text, and the lines that each op became.
pub(crate) struct Posted {
    pub(crate) text: String,
    pub(crate) lines: Vec<(u64, u64)>,
}

/// Writes words.
struct Post {
    style: Style,
    lines: Vec<String>,
    at: [f64; 2],
    /// The motion code in force.
    motion: Option<u32>,
}

/// Posts ops; `mangle` changes the text of an op's line.
pub(crate) fn post(
    ops: &[Op],
    style: Style,
    mangle: impl Fn(usize, usize, &str) -> String,
) -> Posted {
    let mut post = Post {
        style,
        lines: Vec::new(),
        at: [0.0; 2],
        motion: None,
    };
    post.head();
    let mut places = Vec::new();
    for (index, op) in ops.iter().enumerate() {
        let before = post.lines.len();
        for words in post.words(op) {
            let text = post.line(&words);
            let number = post.lines.len();
            post.lines.push(mangle(index, number, &text));
        }
        places.push((
            before as u64 + 1,
            (post.lines.len() as u64).max(before as u64 + 1),
        ));
    }
    let end = if style == Style::Terse { "\r\n" } else { "\n" };
    Posted {
        text: post.lines.join(end) + end,
        lines: places,
    }
}

impl Post {
    fn head(&mut self) {
        match self.style {
            Style::Numbered => {
                self.lines.extend(["%".into(), "O1001 (BOLSTER)".into()]);
            }
            Style::Terse => self.lines.push("%".into()),
            Style::Inch => {
                let notes = [
                    "(POMMEL AND GUARD)",
                    "(T1 D=0.2362 FLAT)",
                    "(T2 D=0.1181 FLAT)",
                ];
                self.lines.extend(notes.map(str::to_owned));
            }
            Style::Light => self
                .lines
                .push("; bolster, 6 mm end mill in the collet".into()),
        }
    }

    /// A line of these words.
    fn line(&self, words: &[String]) -> String {
        match self.style {
            Style::Numbered => {
                format!("N{} {}", 10 * (self.lines.len() + 1), words.join(" "))
            }
            Style::Terse => words.concat().to_lowercase(),
            Style::Inch | Style::Light => words.join(" "),
        }
    }

    fn number(&self, letter: char, mm: f64) -> String {
        let value = mm / self.style.unit();
        let places = if self.style == Style::Inch { 5 } else { 3 };
        let text = format!("{value:.places$}");
        let text = text.trim_end_matches('0').to_owned();
        let text = if text == "-0." { "0.".into() } else { text };
        let text = match self.style {
            Style::Terse | Style::Light => text.trim_end_matches('.').to_owned(),
            _ => text,
        };
        format!("{letter}{text}")
    }

    fn feed(&self, feed: Option<f64>) -> Option<String> {
        let value = feed? / self.style.unit();
        Some(match self.style {
            Style::Numbered => format!("F{value:.1}").trim_end_matches('0').to_owned(),
            _ => format!("F{}", (value * 1000.0).round() / 1000.0),
        })
    }

    /// The motion code, where the style writes it.
    fn motion(&mut self, code: u32) -> Option<String> {
        let same = self.motion.replace(code) == Some(code);
        let written = !same || self.style == Style::Numbered;
        written.then(|| match self.style {
            Style::Inch => format!("G0{code}"),
            _ => format!("G{code}"),
        })
    }

    fn to(&mut self, x: f64, y: f64) -> Vec<String> {
        let all = self.style == Style::Numbered;
        let mut words = Vec::new();
        let new = |value: f64, at: f64| at.is_nan() || (value - at).abs() > 1e-9;
        if all || new(x, self.at[0]) {
            words.push(self.number('X', x));
        }
        if all || new(y, self.at[1]) {
            words.push(self.number('Y', y));
        }
        if words.is_empty() {
            words.push(self.number('X', x));
        }
        self.at = [x, y];
        words
    }

    /// The lines of an op, as words.
    #[allow(clippy::too_many_lines)] // a row for each op
    fn words(&mut self, op: &Op) -> Vec<Vec<String>> {
        let style = self.style;
        let w = |text: &str| text.to_owned();
        let one = |words: Vec<Option<String>>| vec![words.into_iter().flatten().collect()];
        match *op {
            Op::Unit { stated, other } => {
                let inch = (style == Style::Inch) != other;
                let unit = stated.then(|| w(if inch { "G20" } else { "G21" }));
                if other {
                    return one(vec![unit]);
                }
                let rest = match style {
                    Style::Numbered => "G90 G17 G40 G49 G80 G94 G54",
                    Style::Inch => "G90 G17 G40 G80 G54",
                    Style::Terse => "G90G17G54",
                    Style::Light => "G90",
                };
                one(vec![unit, Some(w(rest))])
            }
            Op::Tool { loads, .. } => match style {
                Style::Light => Vec::new(),
                Style::Terse => one(vec![Some(w("M6")), Some(format!("T{loads}"))]),
                _ => one(vec![Some(format!("T{loads}")), Some(w("M6"))]),
            },
            Op::Spindle { speed, code } => {
                let words = [
                    speed.map(|s| format!("S{s}")),
                    (code > 0).then(|| format!("M{code}")),
                ];
                if words == [None, None] {
                    Vec::new()
                } else {
                    one(words.to_vec())
                }
            }
            Op::Over { x, y } => {
                let code = self.motion(0);
                self.at = [f64::NAN; 2];
                let words = self.to(x, y);
                one(std::iter::once(code)
                    .chain(words.into_iter().map(Some))
                    .collect())
            }
            Op::Near { z, offset } => {
                let mut lines = Vec::new();
                let length = offset.filter(|h| *h > 0 && style.changes_tools());
                if let Some(h) = length {
                    let high = self.number('Z', HIGH);
                    lines.push(vec![w("G43"), format!("H{h}"), high]);
                }
                let code = self.motion(0);
                lines.extend(one(vec![code, Some(self.number('Z', z))]));
                lines
            }
            Op::Down { z, feed, rapid } => {
                let code = self.motion(u32::from(!rapid));
                let feed = self.feed(feed);
                one(vec![code, Some(self.number('Z', z)), feed])
            }
            Op::Line {
                x,
                y,
                z,
                feed,
                rapid,
            } => {
                let code = self.motion(u32::from(!rapid));
                let mut words = vec![code];
                words.extend(self.to(x, y).into_iter().map(Some));
                words.push(z.map(|z| self.number('Z', z)));
                words.push(self.feed(feed.filter(|_| !rapid)));
                one(words)
            }
            Op::Arc {
                cw,
                to,
                centre,
                feed,
                words: how,
            } => {
                let code = self.motion(if cw { 2 } else { 3 });
                let from = self.at;
                let mut words = vec![code];
                words.extend(self.to(to[0], to[1]).into_iter().map(Some));
                let start = if how == Centre::Relative {
                    from
                } else {
                    [0.0; 2]
                };
                if how != Centre::Missing {
                    words.push(Some(self.number('I', centre[0] - start[0])));
                    words.push(Some(self.number('J', centre[1] - start[1])));
                }
                words.push(self.feed(feed));
                one(words)
            }
            Op::Up => {
                let code = self.motion(0);
                one(vec![code, Some(self.number('Z', HIGH))])
            }
            Op::Cycle {
                code,
                x,
                y,
                z,
                r,
                q,
                feed,
            } => {
                self.motion = None;
                let mut words = vec![Some(w("G98")), Some(format!("G{code}"))];
                self.at = [f64::NAN; 2];
                words.extend(self.to(x, y).into_iter().map(Some));
                words.push(Some(self.number('Z', z)));
                words.push(Some(self.number('R', r)));
                words.push(q.map(|q| self.number('Q', q)));
                let value = feed / style.unit();
                // A pitch needs the digits.
                words.push(Some(format!("F{}", (value * 1e5).round() / 1e5)));
                one(words)
            }
            Op::Hole { x, y } => one(self.to(x, y).into_iter().map(Some).collect()),
            Op::CycleEnd => one(vec![Some(w("G80"))]),
            Op::Stop => one(vec![Some(w("M5"))]),
            Op::End => one(vec![Some(w("M30"))]),
        }
    }
}
