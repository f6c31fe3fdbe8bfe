//! The rescaled copy of a programme, and programmes from a pipe: any length in little memory.

use crate::shell::{folder, ran_line, text};
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// A programme of about 16 MB, each line with a feed of its own.
fn long(folder: &Path) {
    let mut posted = String::from("G21 G90 G17 G40 G49 G80 G94 G54\nT1 M6\nS8000 M3\n");
    posted.push_str("G43 H1 G0 X0 Y0 Z2\nG1 Z-1 F100\n");
    for n in 0..750_000 {
        let _ = writeln!(
            posted,
            "G1 X{}.{:03} Y{}.5 F{}",
            n % 30,
            n % 1000,
            n % 20,
            200 + n % 400
        );
    }
    posted.push_str("G0 Z5\nM30\n");
    fs::write(folder.join("long.nc"), posted).unwrap();
}

/// The names in a folder, the hidden ones too.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// A copy of 60 MB held 938 MB, and `audit -` held all of its input.
#[test]
fn a_long_programme_is_copied_and_piped_in_constant_memory() {
    let folder = folder("copy-long");
    long(&folder);
    // Address space in kB: the program itself needs 20 000, and has no room for what it reads.
    let limit = "ulimit -v 36000; ulimit -s 1024;";
    for line in [
        "feeds audit long.nc --rescale S=50%,F=50% --out copy.nc",
        "feeds audit long.nc --rescale S=50%,F=50% --out listed.nc --changes > list.txt",
        "cat long.nc long.nc long.nc | feeds audit -",
        "cat long.nc | feeds audit - --rescale S=50%,F=50% --out piped.nc",
        "cat long.nc | feeds audit /dev/stdin --rescale S=50%,F=50% --out named.nc",
    ] {
        let output = ran_line(&format!("{limit} {line}"), &folder);
        let said = text(&output.stderr);
        assert!(
            matches!(output.status.code(), Some(0 | 1)),
            "{line}: {said}"
        );
        assert!(
            output.stdout.len() < 50_000,
            "{line}: {}",
            output.stdout.len()
        );
    }
    let copy = fs::read(folder.join("copy.nc")).unwrap();
    for same in ["listed.nc", "piped.nc", "named.nc"] {
        assert!(copy == fs::read(folder.join(same)).unwrap(), "{same}");
    }
    let list = fs::read_to_string(folder.join("list.txt")).unwrap();
    let words = list.lines().filter(|l| l.starts_with("  line ")).count();
    // Every F of the loop, that of the plunge, and S.
    assert_eq!(words, 750_002);
    assert!(list.ends_with("  line 750005, column 18: F599 -> F299.5\n"));
}

#[test]
fn a_copy_sums_its_changes_up_and_lists_them_when_asked() {
    let folder = folder("copy-sums");
    let posted = "G21 G90 G54\nT1 M6\nS8000 M3\nG1 Z-1 F60\nX5 F450\nT2 M6\nS5000 M3\n\
                  G1 X9 F100\nM30\n";
    fs::write(folder.join("a.nc"), posted).unwrap();
    let printed = |more: &str| {
        let line = format!("feeds audit a.nc --rescale S=80%,F=80% {more}");
        text(&ran_line(&line, &folder).stdout)
    };
    let sums = "  T1       1 S word, S8000 -> S6400; 2 F words, F60 to F450 -> F48 to F360\n  \
                T2       1 S word, S5000 -> S4000; 1 F word, F100 -> F80\n";
    let short = printed("--out b.nc");
    let end = format!("\nchanged in the copy (--changes lists every word)\n{sums}");
    assert!(short.ends_with(&end), "{short}");
    let listed = printed("--out c.nc --changes");
    let end = format!(
        "\nchanged in the copy\n{sums}\nevery word that is changed\n  \
         line 3, column 1: S8000 -> S6400\n  line 4, column 8: F60 -> F48\n  \
         line 5, column 4: F450 -> F360\n  line 7, column 1: S5000 -> S4000\n  \
         line 8, column 7: F100 -> F80\n"
    );
    assert!(listed.ends_with(&end), "{listed}");
}

#[test]
fn a_copy_that_is_refused_on_its_last_line_leaves_no_file() {
    let folder = folder("copy-refused");
    let posted = format!(
        "#1=5\nG21 G90 T1 M6 S900 M3 G0 Z1\n{}G1 X1 Z-1 F#1\nM30\n",
        "G1 X2 F9\n".repeat(9000)
    );
    fs::write(folder.join("a.nc"), posted).unwrap();
    let output = ran_line("feeds audit a.nc --rescale S=50%,F=50% --out b.nc", &folder);
    let said = text(&output.stderr);
    assert!(
        said.contains("line 9003") && said.contains("post the number"),
        "{said}"
    );
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    assert_eq!(names(&folder), ["a.nc"]);
}

/// The filter of what is written to a terminal has nothing to do with a copy.
#[test]
fn a_copy_keeps_every_other_byte() {
    let folder = folder("copy-bytes");
    let posted = b"%\r\n(\x1b]0;x\x07 \xe2\x80\xae \x9b \xff)\r\nG21 G90 G54\r\nT1 M6\rS8000 M3\n\
                   G1 X1. F460.\x00\x7f\r\nM30\r\n%\r\n\x1a";
    fs::write(folder.join("a.nc"), posted).unwrap();
    let output = ran_line("feeds audit a.nc --rescale S=50%,F=50% --out b.nc", &folder);
    let mut expect = posted.to_vec();
    for (from, to) in [(&b"S8000"[..], b"S4000"), (b"F460.", b"F230.")] {
        let at = expect.windows(5).position(|w| w == from).unwrap();
        expect[at..at + 5].copy_from_slice(to);
    }
    let said = text(&output.stderr);
    assert_eq!(fs::read(folder.join("b.nc")).unwrap(), expect, "{said}");
}
