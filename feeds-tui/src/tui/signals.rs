//! What wakes the screens: keys, pastes and signals, all through one queue.

use ratatui::crossterm::event::{self, Event};
use rustix::event::{PollFd, PollFlags, poll};
use rustix::io::Errno;
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGWINCH};
use signal_hook::iterator::{Handle, Signals};
use std::convert::Infallible;
use std::io;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;

/// Something the loop wakes for.
#[derive(Debug)]
pub(super) enum Wake {
    /// From the terminal.
    Event(Event),
    /// From outside.
    Signal(i32),
}

type Queue = Sender<io::Result<Wake>>;

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
        until_it_fails(sender.clone(), |_| hung_up());
        until_it_fails(sender, read);
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

/// Starts a thread; however it ends, the loop hears of it.
fn until_it_fails(queue: Queue, work: impl Fn(&Queue) -> io::Result<Infallible> + Send + 'static) {
    let ending = Ending(queue);
    thread::spawn(move || {
        let Err(error) = work(&ending.0);
        let _ = ending.0.send(Err(error));
    });
}

/// Tells of the end of a thread that panics too.
struct Ending(Queue);

impl Drop for Ending {
    fn drop(&mut self) {
        let _ = self.0.send(Err(gone()));
    }
}

/// Reads the terminal until it fails.
fn read(queue: &Queue) -> io::Result<Infallible> {
    loop {
        let event = event::read()?;
        // A new size is told by its signal.
        if !matches!(event, Event::Resize(..)) && queue.send(Ok(Wake::Event(event))).is_err() {
            return Err(gone());
        }
    }
}

/// Waits until the terminal is hung up. Whoever reads does not notice: such a terminal is always
/// readable and never has anything.
fn hung_up() -> io::Result<Infallible> {
    let terminal = rustix::stdio::stdin();
    loop {
        // Nothing is asked for: a hang-up is told in any case.
        match poll(&mut [PollFd::new(&terminal, PollFlags::empty())], None) {
            Ok(0) | Err(Errno::INTR) => {}
            Ok(_) => return Err(gone()),
            Err(error) => return Err(error.into()),
        }
    }
}

fn gone() -> io::Error {
    io::Error::new(io::ErrorKind::UnexpectedEof, "it was hung up")
}
