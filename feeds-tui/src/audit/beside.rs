//! The stock of a programme, cut in a thread of its own while the programme is read.

use feeds_core::programme::{StockBatch, StockLane, StockStage};
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread::{self, JoinHandle};

/// Batches that are under way: one comes back for each that is handed over beyond them, so that
/// memory is bounded and neither thread often waits for the other.
const UNDER_WAY: usize = 6;

/// The share of the looks that is left to the thread at hand at first, and by how much it changes
/// with each batch for which one thread has to wait.
const LEFT_FIRST: f64 = 0.5;
const LEFT: f64 = 1.0 / 256.0;

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
    /// Batches that are cut, and whether that thread had to wait for them.
    cut: Receiver<(StockBatch, bool)>,
    under_way: usize,
    /// The share of the looks that is left to the thread at hand.
    left: f64,
    thread: JoinHandle<StockStage>,
}

impl StockThread {
    /// Begins one. It ends with the last batch, or when nobody wants any more.
    fn start(mut stage: StockStage) -> Self {
        let (ahead, batches) = sync_channel::<StockBatch>(UNDER_WAY + 1);
        let (done, cut) = sync_channel(UNDER_WAY + 1);
        let thread = thread::spawn(move || {
            loop {
                let ready = batches.try_recv();
                let waited = ready.is_err();
                let Ok(mut batch) = ready.or_else(|_| batches.recv()) else {
                    break;
                };
                stage.cut(&mut batch);
                if done.send((batch, waited)).is_err() {
                    break;
                }
            }
            stage
        });
        Self {
            ahead: Some(ahead),
            cut,
            under_way: 0,
            left: LEFT_FIRST,
            thread,
        }
    }
}

impl StockLane for StockThread {
    fn pass(&mut self, mut batch: StockBatch) -> Option<StockBatch> {
        batch.leave(self.left);
        // Neither fails but where the thread has panicked, which is passed on at the end.
        self.ahead.as_ref()?.send(batch).ok()?;
        self.under_way += 1;
        if self.under_way <= UNDER_WAY {
            return None;
        }
        self.under_way -= 1;
        let ready = self.cut.try_recv();
        let waits = ready.is_err();
        let (batch, waited) = ready.or_else(|_| self.cut.recv()).ok()?;
        // Who waits for the other can do more.
        self.left += f64::from(i8::from(waits) - i8::from(waited)) * LEFT;
        self.left = self.left.clamp(0.0, 1.0);
        Some(batch)
    }

    fn rest(&mut self) -> Option<StockBatch> {
        self.ahead = None;
        self.cut.recv().ok().map(|(batch, _)| batch)
    }

    fn finish(self: Box<Self>) -> StockStage {
        drop(self.ahead);
        self.thread
            .join()
            .unwrap_or_else(|panic| resume_unwind(panic))
    }
}
