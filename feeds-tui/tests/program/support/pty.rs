//! A program on a pseudo-terminal, with a model of what its screen shows.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, SlavePty, native_pty_system};
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};
use vt100::{Parser, Screen};

/// Long enough for a loaded machine; reached only when a test fails.
const PATIENCE: Duration = Duration::from_secs(20);

pub(crate) struct Pty {
    parser: Arc<Mutex<Parser>>,
    written: Arc<Mutex<usize>>,
    keys: Box<dyn Write + Send>,
    master: Box<dyn MasterPty + Send>,
    /// Kept open: the terminal's modes are read after the program has ended.
    _slave: Box<dyn SlavePty + Send>,
    pub(crate) child: Box<dyn Child + Send + Sync>,
    modes: String,
    watching: Arc<AtomicBool>,
    watcher: thread::JoinHandle<()>,
}

impl Pty {
    /// Starts the program on a terminal of 80x24.
    pub(crate) fn start(command: CommandBuilder) -> Self {
        Self::start_in(command, Path::new("."))
    }

    /// The same in a folder, which a save without a path goes to.
    pub(crate) fn start_in(mut command: CommandBuilder, folder: &Path) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let modes = modes(pair.master.as_ref());
        command.env("TERM", "xterm-256color");
        command.env("LC_ALL", "C.UTF-8");
        command.env("RUST_BACKTRACE", "0");
        command.cwd(folder);
        let child = pair.slave.spawn_command(command).unwrap();
        let parser = Arc::new(Mutex::new(Parser::new(number(24), number(80), 0)));
        let written = Arc::new(Mutex::new(0));
        let mut output = pair.master.try_clone_reader().unwrap();
        let (to_parser, to_count) = (Arc::clone(&parser), Arc::clone(&written));
        let watching = Arc::new(AtomicBool::new(true));
        let watch = Arc::clone(&watching);
        let watcher = thread::spawn(move || {
            let mut bytes = [0; 4096];
            while watch.load(Ordering::SeqCst)
                && let Ok(count @ 1..) = output.read(&mut bytes)
            {
                to_parser.lock().unwrap().process(&bytes[..count]);
                *to_count.lock().unwrap() += count;
            }
        });
        let keys = pair.master.take_writer().unwrap();
        Self {
            parser,
            written,
            keys,
            master: pair.master,
            _slave: pair.slave,
            child,
            modes,
            watching,
            watcher,
        }
    }

    /// Presses keys.
    pub(crate) fn press(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    /// Sends a signal to the program.
    pub(crate) fn signal(&self, signal: rustix::process::Signal) {
        let id = i32::try_from(self.child.process_id().unwrap()).unwrap();
        let id = rustix::process::Pid::from_raw(id).unwrap();
        rustix::process::kill_process(id, signal).unwrap();
    }

    pub(crate) fn resize(&self, cols: u16, rows: u16) {
        if let (Some(rows), Some(cols)) = (NonZeroU16::new(rows), NonZeroU16::new(cols)) {
            self.parser
                .lock()
                .unwrap()
                .screen_mut()
                .set_size(rows, cols);
        }
        self.master
            .resize(PtySize {
                rows,
                cols,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
    }

    /// Bytes the program has written.
    pub(crate) fn written(&self) -> usize {
        *self.written.lock().unwrap()
    }

    pub(crate) fn contents(&self) -> String {
        self.parser.lock().unwrap().screen().contents()
    }

    /// What is shown once nothing more is written.
    pub(crate) fn settled(&self) -> String {
        let mut written = 0;
        while written != self.written() {
            written = self.written();
            thread::sleep(Duration::from_millis(100));
        }
        shown(self.parser.lock().unwrap().screen())
    }

    /// Waits until the screen is as told.
    #[track_caller]
    pub(crate) fn until(&self, what: &str, told: impl Fn(&Screen) -> bool) {
        let start = Instant::now();
        while !told(self.parser.lock().unwrap().screen()) {
            assert!(
                start.elapsed() < PATIENCE,
                "never: {what}; shows:\n{}",
                self.contents()
            );
            thread::sleep(Duration::from_millis(2));
        }
    }

    /// Waits until the screens are open.
    #[track_caller]
    pub(crate) fn until_open(&self) {
        self.until("screens open", |s| {
            s.alternate_screen() && s.bracketed_paste() && !s.contents().trim().is_empty()
        });
    }

    /// Waits for the program's end and gives its exit code and what ended it.
    #[track_caller]
    pub(crate) fn end(&mut self) -> (u32, Option<String>) {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return (status.exit_code(), status.signal().map(str::to_owned));
            }
            if start.elapsed() > PATIENCE {
                self.child.kill().unwrap();
                panic!("the program does not end; shows:\n{}", self.contents());
            }
            thread::sleep(Duration::from_millis(2));
        }
    }

    /// Takes the terminal's modes as they are now for those it must come back to.
    pub(crate) fn remember_modes(&mut self) {
        self.modes = modes(self.master.as_ref());
    }

    /// Waits until the terminal is as it was before the program had it.
    #[track_caller]
    pub(crate) fn until_given_back(&self) {
        self.until("main screen, cursor shown, paste plain, mouse off", |s| {
            !s.alternate_screen()
                && !s.hide_cursor()
                && !s.bracketed_paste()
                && s.mouse_protocol_mode() == vt100::MouseProtocolMode::None
        });
        let start = Instant::now();
        while modes(self.master.as_ref()) != self.modes {
            assert!(
                start.elapsed() < PATIENCE,
                "the terminal's modes are not as before"
            );
            thread::sleep(Duration::from_millis(2));
        }
    }

    /// Takes the terminal away, as closing its window does, and waits for the program's end.
    pub(crate) fn hang_up(mut self) {
        // The watcher holds the terminal too: a redraw lets it see that it is no longer wanted.
        self.watching.store(false, Ordering::SeqCst);
        self.resize(81, 25);
        self.watcher.join().unwrap();
        self.keys = Box::new(std::io::sink());
        drop(self.master);
        let start = Instant::now();
        while self.child.try_wait().unwrap().is_none() {
            assert!(
                start.elapsed() < PATIENCE,
                "the program outlives its terminal"
            );
            thread::sleep(Duration::from_millis(2));
        }
    }
}

/// What is to be seen: a blank that was written looks like one that was not.
pub(crate) fn shown(screen: &Screen) -> String {
    let lines: Vec<String> = screen
        .contents()
        .lines()
        .map(|l| l.trim_end().to_owned())
        .collect();
    lines.join("\n")
}

fn number(size: u16) -> NonZeroU16 {
    NonZeroU16::new(size).unwrap()
}

fn modes(master: &dyn MasterPty) -> String {
    format!("{:?}", master.get_termios())
}
