//! The cells a removal touches, whose volume is counted before and after.

use super::cells::StockField;

/// Cells whose volume may change: up to two intervals a row.
#[derive(Clone, Debug, Default)]
pub(super) struct Touched {
    first: usize,
    rows: Vec<[(usize, usize); 2]>,
}

impl Touched {
    /// Begins anew with these rows.
    pub(super) fn clear(&mut self, (first, to): (usize, usize)) {
        self.first = first;
        self.rows.clear();
        self.rows.resize(to - first, [(0, 0); 2]);
    }

    /// Adds cells `from..to`; more than are touched do no harm.
    #[inline]
    pub(super) fn add(&mut self, row: usize, from: usize, to: usize) {
        let Some([a, b]) = row
            .checked_sub(self.first)
            .and_then(|at| self.rows.get_mut(at))
        else {
            return;
        };
        let near = |i: &(usize, usize)| from <= i.1 + 8 && i.0 <= to + 8;
        let join = |i: &mut (usize, usize)| *i = (i.0.min(from), i.1.max(to));
        if a.1 == 0 {
            *a = (from, to);
        } else if near(a) {
            join(a);
        } else if b.1 == 0 {
            *b = (from, to);
        } else {
            join(b);
        }
        if b.1 > 0 && a.0 <= b.1 && b.0 <= a.1 {
            *a = (a.0.min(b.0), a.1.max(b.1));
            *b = (0, 0);
        }
    }
}

impl StockField {
    /// What walls add to the volume of the cells touched, in heights.
    pub(super) fn excess_of(&self, touched: &Touched) -> f64 {
        let mut sum = 0.0;
        for (at, intervals) in touched.rows.iter().enumerate() {
            let row = touched.first + at;
            if row + 1 >= self.rows {
                break;
            }
            for &(from, to) in intervals {
                for cell in from..to.min(self.columns - 1) {
                    sum += self.excess(row * self.columns + cell);
                }
            }
        }
        sum
    }
}

#[cfg(test)]
mod tests;
