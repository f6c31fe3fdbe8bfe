//! The stock of a programme, cut in a thread of its own while the programme is read.

use feeds_core::programme::{StockBatch, StockLane, StockStage};
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread::{self, JoinHandle};

/// Batches that are under way: one comes back for each that is handed over beyond them, so that
/// memory is bounded and neither thread often waits for the other.
const UNDER_WAY: usize = 6;

/// The stock cut in the thread at hand, or in one of its own where so many threads are asked for,
/// or where nobody asks and there are processors for two. The answer is the same.
pub fn lane(stage: StockStage, threads: Option<u8>) -> Box<dyn StockLane> {
    let processors = || thread::available_parallelism().map_or(1, NonZero::get);
    if threads.map_or_else(processors, usize::from) > 1 {
        Box::new(StockThread::start(stage))
    } else {
        Box::new(stage)
    }
}

/// A thread that cuts the stock.
#[derive(Debug)]
struct StockThread {
    /// Where batches go; none once no more do.
    ahead: Option<SyncSender<StockBatch>>,
    cut: Receiver<StockBatch>,
    under_way: usize,
    thread: JoinHandle<StockStage>,
}

impl StockThread {
    /// Begins one. It ends with the last batch, or when nobody wants any more.
    fn start(mut stage: StockStage) -> Self {
        let (ahead, batches) = sync_channel::<StockBatch>(UNDER_WAY + 1);
        let (done, cut) = sync_channel(UNDER_WAY + 1);
        let thread = thread::spawn(move || {
            for mut batch in batches {
                stage.cut(&mut batch);
                if done.send(batch).is_err() {
                    break;
                }
            }
            stage
        });
        Self {
            ahead: Some(ahead),
            cut,
            under_way: 0,
            thread,
        }
    }
}

impl StockLane for StockThread {
    fn pass(&mut self, batch: StockBatch) -> Option<StockBatch> {
        // Neither fails but where the thread has panicked, which is passed on at the end.
        self.ahead.as_ref()?.send(batch).ok()?;
        self.under_way += 1;
        if self.under_way <= UNDER_WAY {
            return None;
        }
        self.under_way -= 1;
        self.cut.recv().ok()
    }

    fn rest(&mut self) -> Option<StockBatch> {
        self.ahead = None;
        self.cut.recv().ok()
    }

    fn finish(self: Box<Self>) -> StockStage {
        drop(self.ahead);
        self.thread
            .join()
            .unwrap_or_else(|panic| resume_unwind(panic))
    }
}
