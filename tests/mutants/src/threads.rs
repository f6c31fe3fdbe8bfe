//! Work that is shared between the processors.

use std::io;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Does so many things, each once, on every processor at a time: the number of the thread and of
/// the thing. The first error ends it.
pub fn each(count: usize, work: impl Fn(usize, usize) -> io::Result<()> + Sync) -> io::Result<()> {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let next = AtomicUsize::new(0);
    thread::scope(|scope| {
        let one = |thread| {
            let (next, work) = (&next, &work);
            scope.spawn(move || {
                loop {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    if place >= count {
                        return Ok(());
                    }
                    if let Err(error) = work(thread, place) {
                        next.store(count, Ordering::Relaxed);
                        return Err(error);
                    }
                }
            })
        };
        let all: Vec<_> = (0..threads).map(one).collect();
        let ends = all.into_iter().map(|thread| {
            let ended = thread.join();
            ended.unwrap_or_else(|_| Err(io::Error::other("a thread panicked")))
        });
        ends.collect::<Vec<_>>().into_iter().collect()
    })
}
