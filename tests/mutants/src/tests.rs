//! The tests of the copy: which there are, which change each reaches, and whether one notices it.

use crate::copy::TestProgram;
use crate::threads;
use std::fs;
use std::io;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Mutex;
use std::time::Duration;

/// Fast is a test that takes no longer than this in the copy, where every change is asked for.
pub const FAST: Duration = Duration::from_secs(5);

/// No time is counted finer.
const LEAST: Duration = Duration::from_millis(10);

/// Tests that are left out: they judge the sources as texts, start cargo or kill programs.
const LEFT_OUT: [&str; 6] = [
    "tidy::",
    "supply::",
    "terminal::",
    "kills::",
    "store_kills::",
    "vocabulary::",
];

/// A test.
#[derive(Clone, Debug)]
pub struct Test {
    pub program: usize,
    pub name: String,
    pub time: Duration,
    /// The numbers of the changes it comes by, sorted.
    pub reaches: Vec<u32>,
}

/// How tests end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    Passed,
    Failed,
    TimedOut,
}

/// All tests.
pub struct Tests {
    pub programs: Vec<TestProgram>,
    pub all: Vec<Test>,
    /// Those that fail or are slow without any change.
    pub left_out: Vec<String>,
}

impl Tests {
    /// Lists them, without asking what they reach.
    pub fn listed(programs: Vec<TestProgram>) -> io::Result<Self> {
        let mut all = Vec::new();
        for (program, one) in programs.iter().enumerate() {
            let ignored = list(one, &["--ignored"])?;
            for name in list(one, &[])? {
                let kept =
                    !ignored.contains(&name) && !LEFT_OUT.iter().any(|l| name.starts_with(l));
                if kept {
                    all.push(Test {
                        program,
                        name,
                        time: Duration::ZERO,
                        reaches: Vec::new(),
                    });
                }
            }
        }
        Ok(Self {
            programs,
            all,
            left_out: Vec::new(),
        })
    }

    /// Runs each alone, without any change, and notes how long it takes and what it reaches.
    pub fn measure(&mut self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)?;
        let all = std::mem::take(&mut self.all);
        let ends = Mutex::new(vec![None; all.len()]);
        threads::each(all.len(), |thread, place| {
            let notes = folder.join(format!("notes-{thread}"));
            let done = self.measured(all[place].clone(), &notes)?;
            if let Ok(mut ends) = ends.lock() {
                ends[place] = Some(done);
            }
            Ok(())
        })?;
        let ends = ends
            .into_inner()
            .map_err(|e| io::Error::other(e.to_string()))?;
        for (test, end) in ends.into_iter().flatten() {
            if end == End::Passed && test.time <= FAST {
                self.all.push(test);
            } else {
                let name = format!("{} {}", self.programs[test.program].name, test.name);
                self.left_out
                    .push(format!("{name} {end:?} {:.1} s", test.time.as_secs_f64()));
            }
        }
        Ok(())
    }

    fn measured(&self, mut test: Test, notes: &Path) -> io::Result<(Test, End)> {
        let _ = fs::remove_file(notes);
        let switch = [("FEEDS_MUTANT_NOTES", notes.to_string_lossy().into_owned())];
        // What it takes of a processor counts: others may use the machine.
        let (end, time) = self.run(test.program, &[&test.name], &switch, FAST + LEAST)?;
        test.time = time.max(LEAST);
        let bytes = fs::read(notes).unwrap_or_default();
        let numbers = bytes
            .chunks_exact(4)
            .map(|b| u32::from_le_bytes([b[0], b[1], b[2], b[3]]));
        test.reaches = numbers.collect();
        test.reaches.sort_unstable();
        test.reaches.dedup();
        Ok((test, end))
    }

    /// The name of a test, with its program.
    pub fn name(&self, test: usize) -> String {
        let test = &self.all[test];
        format!("{} {}", self.programs[test.program].name, test.name)
    }

    /// Runs tests of one program with a change switched on.
    pub fn notice(&self, number: u32, tests: &[usize]) -> io::Result<End> {
        let names: Vec<&str> = tests.iter().map(|t| self.all[*t].name.as_str()).collect();
        let time: Duration = tests.iter().map(|t| self.all[*t].time).sum();
        let share = if tests.len() == 1 { 20 } else { 5 };
        let switch = [("FEEDS_MUTANT", number.to_string())];
        // What was not measured has its time.
        let least = if time.is_zero() { FAST * 4 } else { FAST };
        let limit = time * share + least;
        let (end, _) = self.run(self.all[tests[0]].program, &names, &switch, limit)?;
        Ok(end)
    }

    fn run(
        &self,
        program: usize,
        names: &[&str],
        switch: &[(&str, String)],
        limit: Duration,
    ) -> io::Result<(End, Duration)> {
        let program = &self.programs[program];
        // A change may ask for memory without end.
        let mut command = Command::new("sh");
        command
            .args(["-c", "ulimit -v 8000000; exec \"$@\"", "sh"])
            .arg(&program.path)
            .args(["--exact", "--test-threads=1", "-q"])
            .args(names)
            .env_remove("FEEDS_MUTANT")
            .env_remove("BLESS")
            .envs(switch.iter().map(|(key, value)| (key, value)))
            .current_dir(&program.folder)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .process_group(0);
        let mut child = command.spawn()?;
        let mut pause = Duration::from_millis(1);
        let mut time = Duration::ZERO;
        // What was slept, not the clock: a machine that stops all of this is no test that hangs.
        let mut waited = Duration::ZERO;
        loop {
            time = processor_time(child.id()).unwrap_or(time);
            if let Some(status) = child.try_wait()? {
                let end = if status.success() {
                    End::Passed
                } else {
                    End::Failed
                };
                return Ok((end, time));
            }
            if time > limit || waited > limit * 4 {
                let group = format!("-{}", child.id());
                let _ = Command::new("kill").args(["-9", "--", &group]).status();
                child.wait()?;
                return Ok((End::TimedOut, time));
            }
            std::thread::sleep(pause);
            waited += pause;
            pause = (pause * 2).min(Duration::from_millis(8));
        }
    }

    /// Writes down what was measured.
    pub fn save(&self, folder: &Path) -> io::Result<()> {
        let mut text = String::new();
        let mut reached: Vec<u8> = Vec::new();
        for test in &self.all {
            let (millis, count) = (test.time.as_millis(), test.reaches.len());
            text += &format!("{}\t{}\t{millis}\t{count}\n", test.program, test.name);
            reached.extend(test.reaches.iter().flat_map(|n| n.to_le_bytes()));
        }
        fs::write(folder.join("left-out.txt"), self.left_out.join("\n"))?;
        fs::write(folder.join("reached"), reached)?;
        fs::write(folder.join("measured.tsv"), text)
    }

    /// Reads what was measured.
    pub fn load(programs: Vec<TestProgram>, folder: &Path) -> io::Result<Self> {
        let text = fs::read_to_string(folder.join("measured.tsv"))?;
        let reached = fs::read(folder.join("reached"))?;
        let mut numbers = reached
            .chunks_exact(4)
            .map(|b| u32::from_le_bytes([b[0], b[1], b[2], b[3]]));
        let mut all = Vec::new();
        for line in text.lines() {
            let cells: Vec<&str> = line.split('\t').collect();
            let [program, name, millis, count] = cells[..] else {
                continue;
            };
            let number = |text: &str| text.parse::<usize>().map_err(io::Error::other);
            let reaches = numbers.by_ref().take(number(count)?).collect();
            all.push(Test {
                program: number(program)?,
                name: name.to_owned(),
                time: Duration::from_millis(number(millis)? as u64),
                reaches,
            });
        }
        Ok(Self {
            programs,
            all,
            left_out: Vec::new(),
        })
    }
}

/// What a process has had of a processor, with those it waited for: the system counts hundredths.
fn processor_time(id: u32) -> Option<Duration> {
    let text = fs::read_to_string(format!("/proc/{id}/stat")).ok()?;
    let (_, cells) = text.rsplit_once(") ")?;
    let times = cells.split(' ').skip(11).take(4);
    let hundredths: u64 = times.filter_map(|t| t.parse::<u64>().ok()).sum();
    Some(LEAST * u32::try_from(hundredths).ok()?)
}

fn list(program: &TestProgram, more: &[&str]) -> io::Result<Vec<String>> {
    let output = Command::new(&program.path)
        .args(["--list", "--format", "terse"])
        .args(more)
        .current_dir(&program.folder)
        .output()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    Ok(text
        .lines()
        .filter_map(|l| l.strip_suffix(": test"))
        .map(str::to_owned)
        .collect())
}

/// Where the programs of tests are, as the build wrote it down.
pub fn programs(folder: &Path) -> io::Result<Vec<TestProgram>> {
    let text = fs::read_to_string(folder.join("programs.tsv"))?;
    let program = |line: &str| {
        let cells: Vec<&str> = line.split('\t').collect();
        let [name, path, place] = cells[..] else {
            return None;
        };
        let (path, folder) = (PathBuf::from(path), PathBuf::from(place));
        Some(TestProgram {
            path,
            folder,
            name: name.to_owned(),
        })
    };
    Ok(text.lines().filter_map(program).collect())
}

/// Writes that down.
pub fn save_programs(programs: &[TestProgram], folder: &Path) -> io::Result<()> {
    let line =
        |p: &TestProgram| format!("{}\t{}\t{}\n", p.name, p.path.display(), p.folder.display());
    fs::write(
        folder.join("programs.tsv"),
        programs.iter().map(line).collect::<String>(),
    )
}
