//! The terminal: taken for the screens, and given back as it was on every way out.
//!
//! The loop blocks until a key, a paste, a new size or a signal arrives; idle, it writes nothing.
//! On Ctrl-Z the terminal is given back before the process stops. A signal that ends the program
//! is reported as [`Leaving::Signal`], so that the caller can end by it. Ctrl-C ends like `SIGINT`:
//! it works whatever the screen does with keys, and whatever the reader of keys waits for.

use super::signals::{Source, Wake};
use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::cursor::{Hide, Show};
use ratatui::crossterm::event::{
    DisableBracketedPaste, EnableBracketedPaste, Event, KeyCode, KeyEvent, KeyModifiers,
};
use ratatui::crossterm::execute;
use ratatui::crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
    size as terminal_size,
};
use ratatui::layout::{Position, Rect, Size};
use ratatui::{Frame, Terminal};
use rustix::process::{Signal, getpgrp, kill_current_process_group};
use rustix::stdio::stdin;
use rustix::termios::{
    LocalModes, OptionalActions, SpecialCodeIndex, tcgetattr, tcgetpgrp, tcsetattr,
};
use signal_hook::consts::{SIGCONT, SIGINT, SIGWINCH};
use signal_hook::flag;
use std::io::{self, Stdout, stdout};
use std::panic;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Once};
use std::thread;
use std::time::{Duration, Instant};

/// What the loop does after an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// Draw again.
    Draw,
    /// Nothing changed: nothing is written.
    Rest,
    /// Leave the screens.
    Quit,
}

/// What an app did while nothing arrived.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rest {
    /// Nothing: it has nothing to do.
    Idle,
    /// The screen changes by it, and it is done.
    Done,
    /// The screen changes by it, and it goes on unless something arrives.
    Busy,
}

/// What runs on the terminal.
///
/// # Example
/// ```
/// use feeds_tui::tui::terminal::{App, Flow};
/// use ratatui::{Frame, crossterm::event::Event};
/// struct Counter(u32);
/// impl App for Counter {
///     fn update(&mut self, event: Event) -> std::io::Result<Flow> {
///         self.0 += 1;
///         Ok(if event.is_key_press() { Flow::Draw } else { Flow::Rest })
///     }
///     fn view(&self, frame: &mut Frame) {
///         frame.render_widget(self.0.to_string(), frame.area());
///     }
/// }
/// ```
pub trait App {
    /// Takes a key, a paste or a new size.
    ///
    /// # Errors
    /// An error ends the screens; the terminal is given back first.
    fn update(&mut self, event: Event) -> io::Result<Flow>;
    /// Does what can wait until a key is drawn: a little at a time, so that keys are taken between.
    fn rest(&mut self) -> Rest {
        Rest::Idle
    }
    /// Draws the whole screen.
    fn view(&self, frame: &mut Frame);
}

/// How the screens ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leaving {
    /// The app wanted to.
    Quit,
    /// By a signal, which the caller should end by too.
    Signal(i32),
}

/// Shows an app on the terminal until it ends.
///
/// # Errors
/// If the terminal cannot be used, or is gone: it has no size, or was hung up.
pub fn show(app: &mut impl App) -> io::Result<Leaving> {
    let source = Source::start()?;
    let mut screen = Screen::open()?;
    screen.draw(app)?;
    loop {
        let rest = app.rest();
        if rest != Rest::Idle {
            screen.draw(app)?;
        }
        let mut changed = false;
        // All that has arrived is taken before one frame is drawn: slow links stay usable.
        let mut next = match rest {
            Rest::Busy => source.waiting()?,
            Rest::Idle | Rest::Done => Some(source.wait()?),
        };
        while let Some(wake) = next {
            match screen.take(app, wake)? {
                Next::Go { draw } => changed |= draw,
                Next::End(end) => return Ok(end),
            }
            next = source.waiting()?;
        }
        if changed {
            screen.draw(app)?;
        }
    }
}

/// What follows an event.
enum Next {
    Go { draw: bool },
    End(Leaving),
}

/// The terminal while the screens have it; given back when dropped.
struct Screen {
    terminal: Terminal<CrosstermBackend<Stdout>>,
    /// Set by the signal that follows a stop.
    continued: Arc<AtomicBool>,
}

/// A process that has not stopped by then is not going to.
const STOPS_WITHIN: Duration = Duration::from_millis(200);

impl Screen {
    fn open() -> io::Result<Self> {
        give_back_on_panic();
        let continued = Arc::new(AtomicBool::new(false));
        flag::register(SIGCONT, Arc::clone(&continued))?;
        let (width, height) = terminal_size()?;
        drawable(Size::new(width, height))?;
        let terminal = Terminal::new(CrosstermBackend::new(stdout()))?;
        let screen = Self {
            terminal,
            continued,
        };
        take()?;
        Ok(screen)
    }

    fn take(&mut self, app: &mut impl App, wake: Wake) -> io::Result<Next> {
        let event = match wake {
            Wake::Signal(SIGWINCH) => return Ok(Next::Go { draw: true }),
            Wake::Signal(SIGCONT) => {
                self.take_again()?;
                return Ok(Next::Go { draw: true });
            }
            Wake::Signal(signal) => return Ok(Next::End(Leaving::Signal(signal))),
            Wake::Event(event) => event,
        };
        if is_control(&event, 'c') {
            return Ok(Next::End(Leaving::Signal(SIGINT)));
        }
        if is_control(&event, 'z') {
            self.stop()?;
            return Ok(Next::Go { draw: true });
        }
        Ok(match app.update(event)? {
            Flow::Draw => Next::Go { draw: true },
            Flow::Rest => Next::Go { draw: false },
            Flow::Quit => Next::End(Leaving::Quit),
        })
    }

    /// Stops the whole job, as the terminal's own Ctrl-Z would: a parent in the same job that went
    /// on waiting would leave the shell without its prompt. The kernel ignores it where no shell
    /// could continue the job.
    fn stop(&mut self) -> io::Result<()> {
        self.continued.store(false, Ordering::SeqCst);
        give_back();
        kill_current_process_group(Signal::TSTP)?;
        // Another thread may be the one that stops the process, a moment later than this line.
        let asked = Instant::now();
        while !self.continued.load(Ordering::SeqCst) && asked.elapsed() < STOPS_WITHIN {
            thread::sleep(Duration::from_millis(1));
        }
        self.take_again()
    }

    /// Takes the terminal after the process was continued: someone else has had it meanwhile.
    fn take_again(&mut self) -> io::Result<()> {
        if TAKEN.load(Ordering::SeqCst) {
            disable_raw_mode()?;
        }
        take()?;
        // `clear` would ask where the cursor is, and the answer would arrive among the keys.
        let size = self.size()?;
        self.terminal.resize(Rect::from((Position::ORIGIN, size)))
    }

    /// The size; a terminal that is gone may still answer, with nothing.
    fn size(&self) -> io::Result<Size> {
        let size = self.terminal.size()?;
        if size.width == 0 || size.height == 0 {
            return Err(io::Error::other("it has no size"));
        }
        drawable(size)
    }

    fn draw(&mut self, app: &impl App) -> io::Result<()> {
        self.size()?;
        self.terminal.draw(|frame| app.view(frame))?;
        Ok(())
    }
}

/// The most cells of a screen: a hundred times what large ones have.
const MOST_CELLS: u32 = 4_000_000;

/// The size, if a screen of it fits into memory.
fn drawable(size: Size) -> io::Result<Size> {
    let Size { width, height } = size;
    if u32::from(width) * u32::from(height) > MOST_CELLS {
        let text =
            format!("it says it has {width} columns by {height} rows: set its real size with stty");
        return Err(io::Error::other(text));
    }
    Ok(size)
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

fn is_control(event: &Event, letter: char) -> bool {
    matches!(
        event.as_key_press_event(),
        Some(KeyEvent { code: KeyCode::Char(c), modifiers: KeyModifiers::CONTROL, .. })
            if c == letter
    )
}

/// Whether the screens have the terminal. The panic hook has no other way to know.
static TAKEN: AtomicBool = AtomicBool::new(false);

fn take() -> io::Result<()> {
    // Raw mode first: in the background the process stops here, before it has written anything.
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    watch_for_interrupt()?;
    execute!(stdout(), EnterAlternateScreen, EnableBracketedPaste, Hide)
}

/// What turns a key of the terminal's own off.
const OFF: u8 = if cfg!(target_os = "linux") { 0 } else { 0xff };

/// Lets the kernel watch for Ctrl-C where it would tell this process of it: a paste, or a report of
/// the mouse, that is cut off keeps the reader of keys waiting for its end, and would swallow it.
/// Terminals leave it out of what they paste; one in a paste ends the screens too.
fn watch_for_interrupt() -> io::Result<()> {
    if tcgetpgrp(stdin()) != Ok(getpgrp()) {
        return Ok(());
    }
    let mut modes = tcgetattr(stdin())?;
    // What was written and not yet shown stays: a second Ctrl-C would cut off how the terminal is
    // given back.
    modes.local_modes |= LocalModes::ISIG | LocalModes::NOFLSH;
    modes.special_codes[SpecialCodeIndex::VINTR] = 3;
    for key in [SpecialCodeIndex::VQUIT, SpecialCodeIndex::VSUSP] {
        modes.special_codes[key] = OFF;
    }
    Ok(tcsetattr(stdin(), OptionalActions::Now, &modes)?)
}

/// Gives the terminal back as it was; does nothing the second time. Errors are of no use here:
/// the terminal may be gone.
fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        let _ = execute!(stdout(), DisableBracketedPaste, LeaveAlternateScreen, Show);
        let _ = disable_raw_mode();
    }
}

/// A panic message belongs on the terminal as it was, not on a screen that vanishes.
fn give_back_on_panic() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |panic| {
            give_back();
            before(panic);
        }));
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A terminal that calls itself 65535 x 65535 ended the program without giving it back.
    #[test]
    fn a_screen_larger_than_memory_is_an_error() {
        for (width, height, fits) in [
            (80, 24, true),
            (2000, 2000, true),
            (2001, 2000, false),
            (u16::MAX, u16::MAX, false),
        ] {
            let drawn = drawable(Size::new(width, height));
            assert_eq!(drawn.is_ok(), fits, "{width} x {height}");
        }
    }
}
