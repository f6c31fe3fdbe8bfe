//! How the stock is cut along a programme: as asked for, and as fine as its cutters need.

use super::super::setting::{ProgrammeTool, Setting};
use super::super::stock::{StockField, TooFine};
use super::ceiling::Correction;

/// How the stock is cut along the programme.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Simulated {
    /// Distance of the nodes of the stock in mm; [`Simulated::cell`] where nobody says.
    pub cell_mm: Option<f64>,
    /// What a correction has to keep.
    pub correction: Option<Correction>,
    /// Whether views of the stock are kept along the way.
    pub views: bool,
}

/// Most nodes that are made without being asked: 160 MB.
pub const MOST_NODES: u64 = 20_000_000;
/// The widest distance of nodes that is taken where nobody says, mm, and its share of the diameter
/// of the thinnest cutter: widths then are right to half a micrometre (measured against the exact
/// history of moves).
const CELL: (f64, f64) = (0.05, 1.0 / 60.0);
impl Simulated {
    /// The distance of the nodes in mm for a stock and its cutters: that asked for, or one fine
    /// enough for the thinnest cutter that keeps to [`MOST_NODES`].
    pub fn cell(&self, setting: &Setting) -> f64 {
        if let Some(cell) = self.cell_mm {
            return cell;
        }
        let diameters = setting.tools.iter().filter_map(ProgrammeTool::diameter_mm);
        let fine = CELL.0.min(CELL.1 * diameters.fold(f64::INFINITY, f64::min));
        let Some(stock) = setting.stock else {
            return fine;
        };
        let size = |axis: usize| stock.most[axis] - stock.least[axis];
        #[expect(clippy::cast_precision_loss)] // a round number
        let room = (size(0) * size(1) / (0.95 * MOST_NODES as f64)).sqrt();
        fine.max(room)
    }

    /// Whether the stock keeps to [`MOST_NODES`] in the cell asked for.
    ///
    /// # Errors
    /// [`TooFine`] with a cell that would fit.
    pub fn fits(&self, setting: &Setting) -> Result<(), TooFine> {
        let Some(shape) = setting.stock_shape() else {
            return Ok(());
        };
        StockField::fits(&shape, self.cell(setting), MOST_NODES)
    }
}
