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
        line: r"printf 'G21 G90 G54\nT1 M6\nS4400 M3\nG43 H1 G0 X0 Y0 Z2\nG1 Z-0.5 F3048\nX20\nM30\n' | feeds audit - --tool 1=D6mm,z4",
        says: "read a programme with what is known of its cutter",
    },
    Example {
        line: r"printf 'G21 G90\nT1 M6\nS4400 M3\nG0 Z2\nG1 Z-0.5 F300\nX20\nM30\n' | feeds audit - --machine bench-5000 --json",
        says: "for a script, with what the machine really reaches",
    },
];

/// What `feeds audit` takes.
#[derive(Args, Debug)]
#[command(help_template = TEMPLATE, before_help = shown(EXAMPLES))]
pub struct Flags {
    /// The NC programme; - reads standard input
    pub file: PathBuf,
    /// What is known of a tool: 3=D6mm,z4[,ball|drill|tap|chamfer|engraving][,floor=3um]
    /// [,band=0.01mm..0.04mm][,vc=90m/min][,plunge=no][,ramp=3deg][,pitch=0.8mm]
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
    /// Write a copy with these S and F instead, which flattens plunge and ramp feeds: 3:S=4000,F=250
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
    let bytes = from_pipe(&flags.file)?;
    let report = match &bytes {
        Some(bytes) => read_bytes(bytes, &setting),
        None => read_file(&flags.file, &setting)?,
    };
    let exit = match &report {
        r if !r.readable => Exit::Unreadable,
        r if r.has_errors() => Exit::Over,
        _ => Exit::Fine,
    };
    let changes = copy::made(flags, bytes.as_deref(), &report)?;
    let answer = if look.json {
        Answer::document(&report)?
    } else {
        let lines = lines_shown(flags, bytes.as_deref(), &report)?;
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

/// The bytes of standard input, which can be read only once; `None` for a file.
fn from_pipe(path: &Path) -> Result<Option<Vec<u8>>, Failure> {
    if path != Path::new("-") {
        return Ok(None);
    }
    let mut bytes = Vec::new();
    io::stdin()
        .lock()
        .read_to_end(&mut bytes)
        .map_err(|error| failed(path, error))?;
    Ok(Some(bytes))
}

fn read_bytes(bytes: &[u8], setting: &Setting) -> Report {
    let mut reader = Reader::new(setting.clone());
    reader.feed(bytes);
    reader.finish()
}

fn read_file(path: &Path, setting: &Setting) -> Result<Report, Failure> {
    let mut reader = Reader::new(setting.clone());
    pieces(path, |piece| reader.feed(piece))?;
    Ok(reader.finish())
}

/// Hands a file over piece by piece, so that memory does not grow with it.
fn pieces(path: &Path, mut take: impl FnMut(&[u8])) -> Result<(), Failure> {
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

fn failed(path: &Path, error: io::Error) -> Failure {
    Failure::File {
        path: path.to_owned(),
        error,
    }
}

/// The lines that findings are about, for showing them: number and text.
fn lines_shown(
    flags: &Flags,
    bytes: Option<&[u8]>,
    report: &Report,
) -> Result<Vec<(u64, String)>, Failure> {
    let mut wanted: Vec<u64> = report.findings.iter().map(|f| f.line).collect();
    wanted.sort_unstable();
    wanted.dedup();
    let mut lines = text::Lines::new(wanted);
    match bytes {
        Some(bytes) => lines.take(bytes),
        None => pieces(&flags.file, |piece| lines.take(piece))?,
    }
    Ok(lines.done())
}
