//! `feeds audit`: does the posted programme do what was planned?

mod copy;
mod text;
mod tool;

use crate::answer::{Answer, Exit, Failure};
use crate::arguments::{Example, Look, TEMPLATE, shown};
use clap::Args;
use feeds_core::error::EntryError;
use feeds_core::programme::{MachineKnown, Reader, Report, Setting};
use feeds_core::quantity::Quantity;
use reference_tables::tables;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

const EXAMPLES: &[Example] = &[
    Example {
        line: "feeds audit --demo --tool 1=D5mm,z3 --tool 2=D2mm,z2,plunge=no",
        says: "the demo's programme, with what is known of its cutters",
    },
    Example {
        line: "feeds audit --demo --machine bench-5000 --json",
        says: "for a script, with what the axes really reach",
    },
    Example {
        line: "feeds audit --demo --rescale S=80%,F=80% --out gentle.nc",
        says: "a copy for a rehearsal",
    },
];

/// The demo's programme: two passes of the bolster, the second with a plunge to find fault with.
const DEMO: &[u8] = include_bytes!("../demo/bolster.nc");

/// What `feeds audit` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The NC programme; - reads standard input
    #[arg(required_unless_present = "demo", conflicts_with = "demo")]
    pub file: Option<PathBuf>,
    /// The programme of the demo instead of a file
    #[arg(long)]
    pub demo: bool,
    /// What is known of a tool, such as 3=D6mm,z4; further ball, drill, tap, chamfer, engraving,
    /// floor=3um, band=0.01mm..0.04mm, vc=90m/min, plunge=no, ramp=3deg, pitch=0.8mm
    #[arg(long, value_name = "N=WHAT")]
    pub tool: Vec<String>,
    /// The machine of the tables, for its speeds and for what its axes reach
    #[arg(long, value_name = "NAME")]
    pub machine: Option<String>,
    /// The block delete switch is on: lines with a leading / are left out
    #[arg(long)]
    pub block_delete: bool,
    /// Write a copy with S and F times these ratios: S=70%,F=50%, or 3:S=70%,F=50% for one tool
    #[arg(long, value_name = "RATIOS", requires = "out")]
    pub rescale: Vec<String>,
    /// Write a copy with these S and F instead, which flattens plunge and ramp feeds:
    /// 3:S=4000,F=250
    #[arg(
        long,
        value_name = "VALUES",
        requires = "out",
        conflicts_with = "rescale"
    )]
    pub replace: Vec<String>,
    /// Where the copy goes; a file that is there is never overwritten
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
}

/// The report, and the copy if one is wanted.
///
/// # Errors
/// When the file cannot be read, a tool cannot be understood, or the copy is refused.
pub fn answer(flags: &Flags, look: Look) -> Result<Answer, Failure> {
    let setting = setting(flags)?;
    let source = match flags.file.as_deref() {
        None => Source::Bytes(DEMO.to_vec()),
        Some(path) if path == Path::new("-") => Source::Bytes(from_pipe(path)?),
        Some(path) => Source::File(path),
    };
    let mut reader = Reader::new(setting);
    source.pieces(|piece| reader.feed(piece))?;
    let report = reader.finish();
    let exit = match &report {
        r if !r.readable => Exit::Unreadable,
        r if r.has_errors() => Exit::Over,
        _ => Exit::Fine,
    };
    let changes = copy::made(flags, &source, &report)?;
    let answer = if look.json {
        Answer::document(&report)?
    } else {
        let lines = lines_shown(&source, &report)?;
        Answer::plain(text::report(&report, &lines, &changes))
    };
    Ok(answer.ending(exit))
}

fn setting(flags: &Flags) -> Result<Setting, Failure> {
    let tools = flags
        .tool
        .iter()
        .map(|text| tool::read(text).map_err(|e| e.of("--tool")))
        .collect::<Result<Vec<_>, EntryError>>()?;
    let machine = flags.machine.as_deref().map(machine).transpose()?;
    Ok(Setting {
        tools,
        machine,
        block_delete: flags.block_delete,
        ..Setting::default()
    })
}

/// A machine of the tables as the audit takes it.
fn machine(name: &str) -> Result<MachineKnown, EntryError> {
    let tables = tables().map_err(|e| EntryError::sentence(e.to_string()))?;
    let row = tables
        .machine(name)
        .map_err(|e| EntryError::sentence(e.to_string()).of("--machine"))?;
    let m = &row.value;
    let per_minute = |n: feeds_core::quantity::SpindleSpeed| n.in_per_minute();
    let (feed, reach) = (&m.feed, &m.acceleration);
    Ok(MachineKnown {
        spindle_speeds: Some((
            per_minute(m.spindle_speed.least),
            per_minute(m.spindle_speed.most),
        )),
        fastest: [&feed.x, &feed.y, &feed.z].map(|v| v.least.si() * 60e3),
        acceleration: [&reach.x, &reach.y, &reach.z].map(|a| a.least.si() * 1e3),
        path_tolerance_mm: PATH_TOLERANCE,
        travel_mm: None,
    })
}

/// How far a path may leave its corners, mm (common practice for small controls).
const PATH_TOLERANCE: f64 = 0.01;
/// Bytes read at a time.
const PIECE: usize = 64 * 1024;

/// Where a programme comes from.
enum Source<'a> {
    /// Something that can be read only once, or is built in.
    Bytes(Vec<u8>),
    /// A file, read anew each time.
    File(&'a Path),
}

impl Source<'_> {
    /// Hands it over piece by piece, so that memory does not grow with a file.
    fn pieces(&self, mut take: impl FnMut(&[u8])) -> Result<(), Failure> {
        let path = match self {
            Self::Bytes(bytes) => {
                take(bytes);
                return Ok(());
            }
            Self::File(path) => *path,
        };
        let mut file = File::open(path).map_err(|error| failed(path, error))?;
        let mut piece = vec![0; PIECE];
        loop {
            match file.read(&mut piece) {
                Ok(0) => return Ok(()),
                Ok(count) => take(&piece[..count]),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(failed(path, error)),
            }
        }
    }
}

/// The bytes of standard input.
fn from_pipe(path: &Path) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    io::stdin()
        .lock()
        .read_to_end(&mut bytes)
        .map_err(|error| failed(path, error))?;
    Ok(bytes)
}

fn failed(path: &Path, error: io::Error) -> Failure {
    Failure::File {
        path: path.to_owned(),
        error,
    }
}

/// The lines that findings are about, for showing them: number and text.
fn lines_shown(source: &Source<'_>, report: &Report) -> Result<Vec<(u64, String)>, Failure> {
    let mut wanted: Vec<u64> = report.findings.iter().map(|f| f.line).collect();
    wanted.sort_unstable();
    wanted.dedup();
    let mut lines = text::Lines::new(wanted);
    source.pieces(|piece| lines.take(piece))?;
    Ok(lines.done())
}
