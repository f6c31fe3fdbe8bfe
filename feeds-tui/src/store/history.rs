//! Undo and redo.

/// How many steps can be undone.
const STEPS: usize = 1000;

/// Something that is edited, with what it was before.
///
/// # Example
/// ```
/// use feeds_tui::store::history::History;
/// let mut text = History::new("3 mm");
/// text.change("4 mm");
/// assert_eq!(text.undo(), Some(&"3 mm"));
/// assert_eq!(text.redo(), Some(&"4 mm"));
/// assert_eq!(text.redo(), None);
/// ```
#[derive(Clone, Debug)]
pub struct History<T> {
    past: Vec<T>,
    now: T,
    future: Vec<T>,
}

impl<T: Clone + PartialEq> History<T> {
    /// Nothing done yet.
    pub fn new(now: T) -> Self {
        Self {
            past: Vec::new(),
            now,
            future: Vec::new(),
        }
    }

    /// What it is now.
    pub fn now(&self) -> &T {
        &self.now
    }

    /// Makes it `to`; what was undone before is gone. Nothing happens if it is that already.
    pub fn change(&mut self, to: T) {
        if to == self.now {
            return;
        }
        if self.past.len() == STEPS {
            self.past.remove(0);
        }
        self.past.push(std::mem::replace(&mut self.now, to));
        self.future.clear();
    }

    /// Changes it in place, as one step.
    pub fn edit(&mut self, edit: impl FnOnce(&mut T)) {
        let mut to = self.now.clone();
        edit(&mut to);
        self.change(to);
    }

    /// Goes one step back; `None` at the beginning.
    pub fn undo(&mut self) -> Option<&T> {
        let before = self.past.pop()?;
        self.future.push(std::mem::replace(&mut self.now, before));
        Some(&self.now)
    }

    /// Goes one step forth again; `None` at the end.
    pub fn redo(&mut self) -> Option<&T> {
        let after = self.future.pop()?;
        self.past.push(std::mem::replace(&mut self.now, after));
        Some(&self.now)
    }
}

#[cfg(test)]
mod tests {
    use super::{History, STEPS};

    #[test]
    fn undo_goes_back_to_the_start_and_redo_to_the_end() {
        let mut h = History::new(0);
        for n in 1..=10 {
            h.change(n);
        }
        while h.undo().is_some() {}
        assert_eq!(*h.now(), 0);
        while h.redo().is_some() {}
        assert_eq!(*h.now(), 10);
    }

    #[test]
    fn a_new_change_drops_what_was_undone() {
        let mut h = History::new(0);
        h.change(1);
        h.undo();
        h.edit(|n| *n += 5);
        assert_eq!(h.redo(), None);
        assert_eq!(*h.now(), 5);
        h.change(5);
        assert_eq!(h.undo(), Some(&0), "no change is no step");
    }

    #[test]
    fn steps_are_bounded() {
        let mut h = History::new(0);
        for n in 1..=2 * STEPS {
            h.change(n);
        }
        while h.undo().is_some() {}
        assert_eq!(*h.now(), STEPS);
    }
}
