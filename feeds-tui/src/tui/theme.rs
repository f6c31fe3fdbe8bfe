//! How things look: the terminal's own sixteen colours at most, and never colour alone.

use crate::ascii::spelt;
use crate::visible::{acts, shown};
use feeds_core::limit::State;
use feeds_core::verdict::Verdict;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier, Style};
use ratatui::symbols::Marker;
use std::borrow::Cow;

/// What the terminal shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Theme {
    /// Colours may be used.
    pub colour: bool,
    /// Plain ASCII signs only.
    pub ascii: bool,
}

impl Theme {
    /// The text as this terminal can show it.
    pub fn say(self, text: &str) -> Cow<'_, str> {
        let text = shown(text);
        if self.ascii && !text.is_ascii() {
            Cow::Owned(spelt(&text))
        } else {
            text
        }
    }

    /// What curves are drawn with: dots finer than a sign, or `plain` where they cannot be shown.
    pub fn marker(self, plain: char) -> Marker {
        if self.ascii {
            Marker::Custom(plain)
        } else {
            Marker::Braille
        }
    }

    /// Headings and what is asked for.
    pub fn heading(self) -> Style {
        self.tinted(Color::Cyan).add_modifier(Modifier::BOLD)
    }

    /// What was typed.
    pub fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// What stands by itself: defaults, origins, hints.
    pub fn dim(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// Where the cursor is.
    pub fn here(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// An entry that has to be put right.
    pub fn wrong(self) -> Style {
        self.tinted(Color::Magenta).add_modifier(Modifier::BOLD)
    }

    /// The state of a check: the word says it, weight only helps to find it.
    pub fn state(self, state: State) -> Style {
        match state {
            State::Over => Style::new().add_modifier(Modifier::BOLD | Modifier::UNDERLINED),
            State::Unknown | State::Caution => Style::new().add_modifier(Modifier::BOLD),
            State::Ok => Style::new(),
        }
    }

    /// A verdict: the word says it, weight only helps to find it.
    pub fn verdict(self, verdict: Verdict) -> Style {
        self.state(match verdict {
            Verdict::Run => State::Ok,
            Verdict::Care => State::Caution,
            Verdict::Stop => State::Over,
        })
    }

    /// Colours of the pictures: stock, cutter, what is cut.
    pub fn stock(self) -> Color {
        self.tint(Color::Blue)
    }

    /// The cutter in pictures.
    pub fn cutter(self) -> Color {
        self.tint(Color::Reset)
    }

    /// The engaged arc, the chip and the force in pictures.
    pub fn cut(self) -> Color {
        self.tint(Color::Cyan)
    }

    /// The uses of a programme, each with its letter beside it.
    pub fn of_use(self, place: usize) -> Color {
        const USES: [Color; 5] = [
            Color::Cyan,
            Color::Magenta,
            Color::Blue,
            Color::Green,
            Color::Yellow,
        ];
        self.tint(USES[place % USES.len()])
    }

    fn tint(self, colour: Color) -> Color {
        if self.colour { colour } else { Color::Reset }
    }

    fn tinted(self, colour: Color) -> Style {
        if self.colour {
            Style::new().fg(colour)
        } else {
            Style::new()
        }
    }

    /// The last step of a frame: takes out what would act on the terminal, and puts plain signs in
    /// place of lines and dots where it shows nothing else.
    pub fn plain(self, buffer: &mut Buffer) {
        for cell in &mut buffer.content {
            // Nearly every cell holds one plain sign, and this is asked of all of them.
            if matches!(cell.symbol().as_bytes(), [b' '..=b'~']) {
                continue;
            }
            if cell.symbol().contains(acts) {
                let seen: String = cell.symbol().chars().filter(|c| !acts(*c)).collect();
                cell.set_symbol(if seen.is_empty() { " " } else { &seen });
            }
        }
        if !self.ascii {
            return;
        }
        for cell in &mut buffer.content {
            if !cell.symbol().is_ascii() {
                let sign = cell.symbol().chars().next().map_or(' ', plain);
                cell.set_char(sign);
            }
        }
    }
}

/// The nearest plain sign.
fn plain(sign: char) -> char {
    match sign {
        '─' | '━' => '-',
        '│' | '┃' => '|',
        '┌' | '┐' | '└' | '┘' | '├' | '┤' | '┬' | '┴' | '┼' => '+',
        '▒' | '█' => '#',
        '░' => ':',
        '⠀' => ' ',
        '\u{2801}'..='\u{28FF}' => match (u32::from(sign) - 0x2800).count_ones() {
            1..=2 => '.',
            3..=4 => 'o',
            _ => '#',
        },
        _ => '?',
    }
}
