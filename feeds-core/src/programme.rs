//! NC programmes: reading, carrying out, auditing and rescaling.
//!
//! Words and their meaning follow ISO 6983 as NISTIR 6556 describes it; where controls differ the
//! choice is stated at the code that makes it. A [`Reader`] takes the bytes of a file in pieces of
//! any size and keeps a bounded window of them ([`WINDOW`]), so memory does not grow with the
//! file. How the bytes are cut into pieces never changes the [`Report`].
//!
//! Lengths are in mm, feeds in mm/min, speeds in 1/min and times in minutes.
//!
//! ```
//! use feeds_core::programme::{Reader, Setting};
//!
//! let mut reader = Reader::new(Setting::default());
//! reader.feed(b"G21 G90 G54\nT1 M6\nS8000 M3\nG43 H1 G0 X0 Y0 Z2\nG1 Z-1 F1");
//! reader.feed(b"00\nX30 F400\nM30\n");
//! let report = reader.finish();
//! assert_eq!(report.moves.line, 2);
//! assert!((report.cut_length.number() - 33.0).abs() < 1e-9);
//! ```

mod arc;
mod audit;
mod beside;
mod block;
mod checks;
mod codes;
mod comment;
mod control;
mod corner;
mod cycle;
mod envelope;
mod expression;
mod feeds;
mod finding;
mod flow;
mod gather;
mod holes;
mod inch_doubt;
mod interpret;
mod kind;
mod machine_codes;
mod modal;
mod motion;
mod number;
mod parameters;
mod planned;
mod reach;
mod reader;
mod report;
mod rescale;
mod setting;
mod settings_check;
mod simulate;
mod source;
mod stack;
mod stock;
mod travel;
mod uses;
mod whole;
mod words;
mod written;

pub use arc::{ArcFault, ArcMove, Plane};
pub use finding::{Finding, FindingKind, KINDS, LeftOut, Severity};
pub use motion::{Feed, Motion, MoveKind, Tool, Unwatched, Watch};
pub use planned::{PlannedFloor, PlannedPath, PlannedWayIn};
pub use reach::Sample;
pub use reader::Reader;
pub use report::{Arcs, Moves, Reaches, Report, Units, UseReport};
pub use rescale::{Changed, FeedEdit, Refusal, Rescaler, Rescaling, SplitMove, SplitPiece, Wanted};
pub use setting::{Bounds, Drives, Planned, ProgrammeTool, Setting, ToolKind};
pub use simulate::{
    ArcShares, Ceiling, Correction, CutAlong, CutSide, CutStation, KeptAsOne, LineLoad,
    LoweredFeeds, MOST_NODES, NotSimulated, Simulated, StockBatch, StockLane, StockStage,
    StockView, StockViews, StripBin, Unhelped,
};
pub use source::{LONGEST_LINE, WINDOW};
pub use stock::{
    Course, CourseArc, CoursePiece, CourseStation, Engagement, Fan, StockEnd, StockField,
    StockRing, StockShape, StockSpan, TooFine,
};
pub use words::{Word, words};
pub use written::hours;

/// A place in a programme.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Where {
    /// Physical line, from 1.
    pub(crate) line: u64,
    /// Byte of the line, from 0.
    pub(crate) at: u32,
}
