//! How far pieces have come along their moves.

use super::super::stock::CoursePiece;

/// The way of the pieces so far of one move, mm.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Along {
    ordinal: u64,
    mm: f64,
}

impl Along {
    /// The way from the start of its move to the start of a piece; of moves that were joined, from
    /// the start of the first.
    pub(super) fn take(&mut self, piece: &CoursePiece) -> f64 {
        let ordinal = piece.moves[0];
        if ordinal != self.ordinal {
            *self = Self { ordinal, mm: 0.0 };
        }
        let start = self.mm;
        self.mm += piece.length();
        start
    }
}
