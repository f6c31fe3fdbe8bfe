//! What wakes the screens: keys, pastes and signals, all through one queue.

use ratatui::crossterm::event::{self, Event};
use rustix::event::{PollFd, PollFlags, poll};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGWINCH};
use signal_hook::iterator::{Handle, Signals};
use std::io;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;
use std::time::Duration;

/// Something the loop wakes for.
#[derive(Debug)]
pub(super) enum Wake {
    /// From the terminal.
    Event(Event),
    /// From outside.
    Signal(i32),
}

/// The queue, and the threads that fill it. They block; nothing ticks.
pub(super) struct Source {
    queue: Receiver<io::Result<Wake>>,
    signals: Handle,
}

impl Source {
    pub(super) fn start() -> io::Result<Self> {
        let (sender, queue) = channel();
        let mut signals = Signals::new([SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGCONT, SIGWINCH])?;
        let source = Self {
            queue,
            signals: signals.handle(),
        };
        let to_queue = sender.clone();
        thread::spawn(move || {
            for signal in signals.forever() {
                if to_queue.send(Ok(Wake::Signal(signal))).is_err() {
                    break;
                }
            }
        });
        thread::spawn(move || {
            let end = Ending(sender);
            let Err(error) = read(&end.0);
            let _ = end.0.send(Err(error));
        });
        Ok(source)
    }

    /// Waits for the next.
    pub(super) fn wait(&self) -> io::Result<Wake> {
        self.queue.recv().map_err(|_| gone())?
    }

    /// The next, if it has arrived.
    pub(super) fn waiting(&self) -> io::Result<Option<Wake>> {
        match self.queue.try_recv() {
            Ok(wake) => wake.map(Some),
            Err(TryRecvError::Empty) => Ok(None),
            Err(TryRecvError::Disconnected) => Err(gone()),
        }
    }
}

impl Drop for Source {
    fn drop(&mut self) {
        self.signals.close();
    }
}

/// However the reading thread ends, the loop hears of it.
struct Ending(Sender<io::Result<Wake>>);

impl Drop for Ending {
    fn drop(&mut self) {
        let _ = self.0.send(Err(gone()));
    }
}

/// Reads the terminal until it fails. A terminal that was hung up is always readable and never has
/// anything: it is looked for first.
fn read(queue: &Sender<io::Result<Wake>>) -> io::Result<std::convert::Infallible> {
    loop {
        let terminal = rustix::stdio::stdin();
        let mut wanted = [PollFd::new(&terminal, PollFlags::IN)];
        match poll(&mut wanted, None) {
            Ok(_) => {}
            Err(rustix::io::Errno::INTR) => continue,
            Err(error) => return Err(error.into()),
        }
        if wanted[0]
            .revents()
            .intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
        {
            return Err(gone());
        }
        loop {
            let event = event::read()?;
            // A new size is told by its signal.
            if !matches!(event, Event::Resize(..)) && queue.send(Ok(Wake::Event(event))).is_err() {
                return Err(gone());
            }
            if !event::poll(Duration::ZERO)? {
                break;
            }
        }
    }
}

fn gone() -> io::Error {
    io::Error::new(io::ErrorKind::UnexpectedEof, "it was hung up")
}
