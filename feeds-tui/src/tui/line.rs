//! A line of text while it is typed.

use super::message::{Action, Message};

/// A line with a cursor.
///
/// # Example
/// ```
/// use feeds_tui::tui::line::EditLine;
/// let mut line = EditLine::of("6 mm");
/// line.home();
/// line.insert("1/1");
/// assert_eq!(line.text(), "1/16 mm");
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct EditLine {
    text: String,
    /// In bytes, on the border of a sign.
    cursor: usize,
    /// Whether all of it is selected: typing begins anew, a key of editing keeps it.
    selected: bool,
}

/// Longer texts are no entries.
const LONGEST: usize = 200;

impl EditLine {
    /// A line that starts as `text`, the cursor behind it.
    pub fn of(text: &str) -> Self {
        let mut line = Self::default();
        line.insert(text);
        line
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What stands before the cursor, and what behind it.
    pub fn split(&self) -> (&str, &str) {
        self.text.split_at(self.cursor)
    }

    /// Selects all of it: what is typed next takes its place, keys of editing go on with it.
    ///
    /// # Example
    /// ```
    /// use feeds_tui::tui::line::EditLine;
    /// let mut line = EditLine::of("5 mmm");
    /// line.select();
    /// line.insert("6");
    /// assert_eq!(line.text(), "6");
    /// ```
    pub fn select(&mut self) {
        self.end();
        self.selected = !self.text.is_empty();
    }

    /// Whether all of it is selected.
    pub fn is_selected(&self) -> bool {
        self.selected
    }

    /// Puts a text in at the cursor, or in the place of what is selected; control signs in it are
    /// dropped.
    pub fn insert(&mut self, text: &str) {
        if self.selected {
            self.wipe();
        }
        for sign in text.chars().filter(|c| !c.is_control()) {
            if self.text.len() + sign.len_utf8() > LONGEST {
                return;
            }
            self.text.insert(self.cursor, sign);
            self.cursor += sign.len_utf8();
        }
    }

    /// One sign to the left.
    pub fn left(&mut self) {
        self.selected = false;
        self.cursor -= self.split().0.chars().next_back().map_or(0, char::len_utf8);
    }

    /// One sign to the right.
    pub fn right(&mut self) {
        self.selected = false;
        self.cursor += self.split().1.chars().next().map_or(0, char::len_utf8);
    }

    /// To the start.
    pub fn home(&mut self) {
        self.selected = false;
        self.cursor = 0;
    }

    /// To the end.
    pub fn end(&mut self) {
        self.selected = false;
        self.cursor = self.text.len();
    }

    /// Takes away the sign before the cursor; whether there was one.
    pub fn rub_out(&mut self) -> bool {
        let before = self.cursor;
        self.left();
        self.text.replace_range(self.cursor..before, "");
        self.cursor < before
    }

    /// Takes away the sign behind the cursor.
    pub fn delete(&mut self) {
        let before = self.cursor;
        self.right();
        self.text.replace_range(before..self.cursor, "");
        self.cursor = before;
    }

    /// Takes a message of someone typing; others do nothing.
    pub fn edit(&mut self, message: &Message) {
        match message {
            Message::Text(text) => self.insert(text),
            Message::Act(Action::Left) => self.left(),
            Message::Act(Action::Right) => self.right(),
            Message::Act(Action::First) => self.home(),
            Message::Act(Action::Last) => self.end(),
            Message::Act(Action::RubOut) => {
                self.rub_out();
            }
            Message::Act(Action::Delete) => self.delete(),
            Message::Act(Action::Wipe) => self.wipe(),
            Message::Act(_) => {}
        }
    }

    /// Takes away everything.
    pub fn wipe(&mut self) {
        *self = Self::default();
    }
}

#[cfg(test)]
mod tests {
    use super::EditLine;

    #[test]
    fn signs_of_several_bytes_are_one_step() {
        let mut line = EditLine::of("6 µm");
        line.left();
        assert!(line.rub_out());
        assert_eq!(line.split(), ("6 ", "m"));
        line.delete();
        line.delete();
        assert_eq!(line.text(), "6 ");
    }

    #[test]
    fn a_paste_loses_its_control_signs_only() {
        let mut line = EditLine::default();
        line.insert("\u{1b}[0.5\r\n in\t");
        assert_eq!(line.text(), "[0.5 in");
        line.insert(&"9".repeat(1000));
        assert_eq!(line.text().len(), 200);
    }
}
