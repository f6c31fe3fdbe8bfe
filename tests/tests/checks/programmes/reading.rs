//! What the reader must survive, and what it must refuse.

use super::audit;
use feeds_core::programme::{Report, Setting, Severity, Units, words};
use std::fmt::Write as _;
use std::time::{Duration, Instant};

fn read(text: &str) -> Report {
    audit(text.as_bytes(), Setting::default())
}

fn has(text: &str, code: &str) -> bool {
    read(text).findings.iter().any(|f| f.code == code)
}

#[test]
fn one_programme_in_many_spellings() {
    let plain = "G21 G90 G54\nT1 M6\nS4400 M3\nG0 X0 Y0 Z0\nG1 X10 Y0 F100\nX10 Y-.5\nM30\n";
    let expect = read(plain);
    for text in [
        plain.replace('\n', "\r\n"),
        plain.replace('\n', "\r"),
        plain.to_lowercase(),
        plain.replace(' ', ""),
        plain.replace(' ', "\t "),
        plain.replace("X10", "X+0010.000"),
        plain.replace("G1 ", "G01 ").replace("M3", "M03"),
        plain.replace("T1 M6", "M6 T1"),
        plain.replace("G1 X10 Y0 F100", "F100 X10. G1 Y0."),
        plain.replace("X10 ", "X1 0. "),
        plain.replace("Y0", "Y0 (note G99 X4)"),
        plain.replace("\nT1", " ; note X4\nT1"),
        format!("%\nO1000\n{plain}%\nrest of the tape"),
    ] {
        let got = read(&text);
        assert_eq!(got.moves, expect.moves, "{text}");
        assert_eq!(got.cut_length, expect.cut_length, "{text}");
        assert_eq!(got.cut_time, expect.cut_time, "{text}");
        assert_eq!(got.tools_loaded, expect.tools_loaded, "{text}");
        assert_eq!(got.uses.len(), 1, "{text}");
        assert!(got.readable, "{text}");
    }
}

#[test]
fn units_are_told_apart() {
    assert_eq!(read("G21 G0 X1").units, Units::Mm);
    assert_eq!(read("G20 G0 X1").units, Units::Inch);
    assert_eq!(read("G0 X1").units, Units::Unstated);
    assert_eq!(read("G20 G0 X1\nG21 X1").units, Units::Mixed);
}

#[test]
fn tools_without_a_change_code_are_loaded_by_t() {
    let report = read("G21 G90 T3\nG1 X1 F9\nT5\nG1 X2");
    assert_eq!(report.tools_loaded, [3, 5]);
    let tools: Vec<Option<u32>> = report.uses.iter().map(|u| u.tool).collect();
    assert!(tools.contains(&Some(3)) && tools.contains(&Some(5)));
    // With an M6 anywhere, T alone loads nothing.
    let report = read("G21 G90 T3\nG1 X1 F9\nM6\nG1 X2\nT0 M6\nG1 X4");
    assert_eq!(report.tools_loaded, [3]);
    assert_eq!(report.uses.iter().filter(|u| u.tool.is_none()).count(), 1);
}

#[test]
fn unknown_starts_are_counted_apart() {
    let report = read("G21 G90 G1 X10 F100\nX13 Y4\n");
    // X goes 3 from a known place; Y comes from nowhere.
    assert!((report.cut_length.number() - 3.0).abs() < 1e-12);
    assert!((report.unknown_start_length.number() - 14.0).abs() < 1e-12);
    let report = read("G21 G91 G1 X10 F100\nY4\n");
    assert!((report.cut_length.number() - 14.0).abs() < 1e-12);
    assert!(report.unknown_start_length.number().abs() < 1e-12);
    // After a reference run the axis is unknown again.
    let report = read("G21 G90 G0 X0 Y0 Z5\nG28 Z5\nG1 Z-1 F100\n");
    assert!(report.cut_length.number().abs() < 1e-12);
}

#[test]
fn machine_moves_and_cycles_are_not_counted_as_moves() {
    let report = read("G21 G90 G53 G0 Z0\nG28 X0\nG30 Y0\nG92 X5\nG0 X1\nG1 X1 F5\nG4 X2\n");
    assert_eq!((report.moves.rapid, report.moves.line), (1, 1));
}

#[test]
fn cycles_count_their_feed_part() {
    for (cycle, length) in [
        ("G81", 4.0),
        ("G82 P1", 4.0),
        ("G83 Q1", 4.0),
        ("G73 Q1", 4.0),
        ("G84", 8.0),
        ("G85", 8.0),
        ("G86", 4.0),
        ("G89 P1", 8.0),
    ] {
        let text = format!("G21 G90 S100 M3 G0 X0 Y0 Z9\n{cycle} X1 Z-3 R1 F50\nX2\nG80\nX3\n");
        let report = read(&text);
        assert!(
            (report.cut_length.number() - 2.0 * length).abs() < 1e-12,
            "{cycle}"
        );
        assert_eq!((report.holes, report.moves.rapid), (2, 2), "{cycle}");
    }
}

/// The audit was quadratic in the digits of one number: 22 s for the longest line that is read.
#[test]
fn a_number_of_64_kilobytes_is_refused_at_once_and_skipped_whole() {
    let start = Instant::now();
    for number in [
        "1".repeat(64_000),
        "1 ".repeat(32_000),
        format!("-.{}", "0".repeat(64_000)),
    ] {
        for (word, code) in [("X", "letter-without-number"), (",R", "corner-word")] {
            let report = read(&format!(
                "G21 G90 G54 M3 S9\nG1 X0 Y0 Z0 F1\n{word}{number} Y3\nM30\n"
            ));
            let found = report.findings.iter().filter(|f| f.line == 3);
            let errors: Vec<&str> = found
                .filter(|f| f.severity == Severity::Error)
                .map(|f| f.code)
                .collect();
            assert_eq!(errors, [code]);
            // The word is left out as a whole; the one behind it counts.
            assert!((report.cut_length.number() - 3.0).abs() < 1e-12);
            assert!(!report.complete);
        }
        assert!(has(&format!("G21 #1=[{number}]\n"), "expression"));
    }
    let words = |digits| read(&format!("G21 G1 X.{} F1\n", "1".repeat(digits)));
    let told = |digits| {
        words(digits)
            .findings
            .iter()
            .any(|f| f.text.contains("more than 400 digits"))
    };
    assert!(told(401) && !told(400));
    // Three seconds for what takes milliseconds on a free machine and took minutes.
    assert!(
        start.elapsed() < Duration::from_secs(3),
        "{:?}",
        start.elapsed()
    );
}

/// `K1.5` and `K999999999` were one hole without a word.
#[test]
fn a_cycle_that_cannot_be_repeated_so_often_is_told() {
    for (word, holes, told) in [
        ("K2", 2, false),
        ("L0", 0, false),
        ("K1.5", 1, true),
        ("L-1", 1, true),
        ("K999999999", 1, true),
        ("K10001", 10_000, true),
        ("K10000", 10_000, false),
    ] {
        let report = read(&format!(
            "G21 G90 S9 M3 G0 X0 Y0 Z9\nG91 G81 X1 Z-3 R1 F50 {word}\nM30\n"
        ));
        assert_eq!(report.holes, holes, "{word}");
        let bad = |f: &feeds_core::programme::Finding| f.code == "value-out-of-range";
        assert_eq!(report.findings.iter().any(bad), told, "{word}");
    }
}

/// `F-0` and `S-0` were shown as `-0`, and an absurd arc with 200 digits.
#[test]
fn no_figure_is_a_zero_with_a_sign_or_longer_than_it_can_be_read() {
    let far = "9".repeat(200);
    let report = read(&format!(
        "G21 G90 G54 S-0 M3\nG0 X0 Y0 Z0\nG1 X1 F-0\nG2 X{far} Y0 R1 F100\nG2 X1 Y1 I{far} J{far}\n\
         G1 Z-{far}\nM30\n"
    ));
    for use_ in &report.uses {
        assert!(use_.spindle_speed.number().is_sign_positive());
    }
    for finding in &report.findings {
        assert!(!finding.text.contains("-0 "), "{}", finding.text);
        let digits = finding.text.split(|c: char| !c.is_ascii_digit());
        assert!(digits.map(str::len).max() < Some(20), "{}", finding.text);
    }
    assert_eq!(words(b"F-0")[0].value.to_bits(), 0);
}

#[test]
fn loops_and_calls_are_unrolled() {
    for (text, lines) in [
        ("M98 P7 L3\nM30\nO7\nG91 G1 X1 F9\nM99\n", 3),
        ("M98 P30007\nM30\nO7\nG91 G1 X1 F9\nM99\n", 3),
        (
            "#1=0\nWHILE [#1 LT 4] DO1\nG91 G1 X1 F9\n#1=[#1+1]\nEND1\nM30\n",
            4,
        ),
        (
            "#1=0\nN10 G91 G1 X1 F9\n#1=[#1+1]\nIF [#1 LT 5] GOTO 10\nM30\n",
            5,
        ),
        ("o1 repeat [6]\nG91 G1 X1 F9\no1 endrepeat\nM2\n", 6),
        (
            "#1=0\no1 while [#1 lt 2]\nG91 G1 X1 F9\n#1=[#1+1]\no1 endwhile\nM2\n",
            2,
        ),
        (
            "#1=0\no1 do\nG91 G1 X1 F9\n#1=[#1+1]\no1 while [#1 lt 3]\nM2\n",
            3,
        ),
        (
            "o9 sub\nG91 G1 X#1 F9\no9 endsub\no9 call [2]\no9 call [3]\nM2\n",
            2,
        ),
        (
            "o<side> sub\nG91 G1 X1 F9\no<side> endsub\no<Side> call\nM2\n",
            1,
        ),
        (
            "#1=2\no1 if [#1 eq 1]\nG91 G1 X1 F9\no1 elseif [#1 eq 2]\nG91 G1 X1 F9\nX1\n\
          o1 else\nG1 X1\nX1\nX1\no1 endif\nM2\n",
            2,
        ),
        (
            "#1=0\no1 while [1]\n#1=[#1+1]\nG91 G1 X1 F9\no2 if [#1 ge 3]\no1 break\no2 endif\n\
          o1 endwhile\nM2\n",
            3,
        ),
        ("GOTO 20\nG91 G1 X1 F9\nN20 M30\n", 0),
        ("IF [1 EQ 1] THEN #5=2\nG91 G1 X#5 F9\nM30\n", 1),
    ] {
        let report = read(&format!("G21\n{text}"));
        assert_eq!(report.moves.line, lines, "{text}");
        let errors: Vec<_> = report
            .findings
            .iter()
            .filter(|f| f.code.starts_with("loop") || f.code.starts_with("jump"))
            .collect();
        assert!(errors.is_empty(), "{text}: {errors:?}");
    }
}

#[test]
fn other_files_are_refused_with_the_reason() {
    for (text, reason) in [
        ("", "is empty"),
        ("%\n\n", "is empty"),
        ("(only a note)\n", "comments only"),
        (
            "Dear customer,\nplease find the drawing of the bolster attached.\nRegards\n",
            "text",
        ),
        (
            "G21\nM104 S200\nG1 X1 Y1 E0.5 F900\nG1 X2 E1.0\nM84\n",
            "printer",
        ),
        (
            "G21 G96 S120 M3\nT0101\nG0 X40 Z2\nG1 Z-20 F0.1\nM30\n",
            "lathe",
        ),
        (
            "G21 G90\nM4\nG1 X1 Y1 S100 F900\nX2 S200\nX3 S50\nX4 S220\nM5\n",
            "laser",
        ),
        (
            "0 BEGIN PGM BOLSTER MM\n1 TOOL CALL 3 Z S4000\n2 L X+10 Y+5 R0 FMAX\n",
            "dialect",
        ),
        ("N10 G1 X=IC(5) F100\nN20 R1=5\nN30 Y=R1\n", "dialect"),
    ] {
        let report = read(text);
        assert!(!report.readable, "{text}");
        let got = report.reason.unwrap();
        assert!(got.contains(reason), "{text}: {got}");
    }
}

/// A mark of alignment, or the number of a programme as old controls write it.
#[test]
fn a_colon_at_the_start_of_a_line_is_no_error() {
    for text in [":0097\nG21 G90 G0 X1\nM30\n", "G21 G90\n: G0 X1\nM30\n"] {
        let report = read(text);
        assert!(
            report.complete && !report.has_errors(),
            "{:?}",
            report.findings
        );
        assert_eq!(report.moves.rapid, 1);
    }
}

/// Eight cuts round a square, with these words before them and in front of each.
fn square(head: &str, before: &str) -> String {
    let mut text = format!("G21 G90\n{head}\n");
    for turn in 0..8 {
        let (x, y) = (turn % 2 * 10 + turn, turn / 2 % 2 * 10);
        let _ = writeln!(text, "{before}G1 X{x}.5 Y{y} F900");
    }
    text + "M30\n"
}

#[test]
fn what_is_not_milling_is_told_by_what_it_lacks() {
    let torch = square("Z3", "G0 X3\nM3\n").replace("F900\n", "F900\nM5\n");
    for (text, reason) in [
        (square("M3 S1000", ""), Some("Z never moves")),
        (square("M3 S1000\nG0 Z2", ""), Some("Z stays at one height")),
        (torch, Some("torch")),
        (square("(DRAG KNIFE)\nG0 Z2\nG1 Z-1 F9", ""), Some("knife")),
        (square("M3 S1000\nG0 Z2\nG1 Z-1 F9", ""), None),
        // Cuts above Z0, from a table that is zero.
        (square("M3 S1000\nG0 Z20\nG1 Z12 F9", ""), None),
    ] {
        let report = read(&text);
        match reason {
            None => assert!(report.readable, "{text}: {:?}", report.reason),
            Some(reason) => {
                let got = report.reason.unwrap_or_else(|| panic!("{text}"));
                assert!(got.contains(reason), "{text}: {got}");
            }
        }
    }
    // Thousandths of a mm as whole numbers, three metres wide; half of it is a large table.
    let wide = |span: i32| {
        let mut text = "G21 G90\nM3 S900\nG0 X0 Y0 Z5000\nG1 Z-1000 F900\n".to_owned();
        for turn in 0..12 {
            let _ = writeln!(text, "G1 X{} Y{}", turn % 2 * span, turn * span / 12);
        }
        read(&(text + "M30\n")).readable
    };
    assert!(!wide(3000) && wide(1500));
}

#[test]
fn a_bad_block_does_not_stop_the_reading() {
    let report = read("G21 G90 G0 X0 Y0 Z0\nG1 X5 F100\n\x01@@ what is this?\nG1 X9\nM30\n");
    assert_eq!(report.moves.line, 2);
    assert!(report.findings.iter().any(|f| f.line == 3 && f.column == 1));
    assert!(report.readable);
}

#[test]
fn odd_bytes_are_survived() {
    let mut text = b"G21 (f\xFCr Messing \xB5m)\nG1 X1 F5 ; \xFF\xFE\n".to_vec();
    text.extend_from_slice(b"G1 X2 \xC3\xA4\n");
    let report = audit(&text, Setting::default());
    assert_eq!(report.moves.line, 2);
    let stray: Vec<u64> = report
        .findings
        .iter()
        .filter(|f| f.code == "stray-character")
        .map(|f| f.line)
        .collect();
    assert_eq!(stray, [3]);
    assert!(audit(&[0xFF; 4096], Setting::default()).reason.is_some());
}

#[test]
fn numbers_are_exact() {
    let words = words(b"X16777217. Y1234.56789 Z-.004 F+0035000");
    let values: Vec<f64> = words.iter().map(|w| w.value).collect();
    assert_eq!(values, [16_777_217.0, 1_234.567_89, -0.004, 35_000.0]);
}

#[test]
fn physical_lines_are_counted() {
    for (text, lines) in [
        ("G0\nG1\n", 2),
        ("G0\nG1", 2),
        ("G0\r\n\r\nG1\r\n", 3),
        ("G0\rG1\r", 2),
        ("M30\n\n\n%", 4),
    ] {
        assert_eq!(read(text).lines, lines, "{text:?}");
    }
}

#[test]
fn what_cannot_be_known_is_said() {
    assert!(has("G0 X1\n", "units-unstated"));
    assert!(has("G21 M98 P5\nM30\n", "subprogram-elsewhere"));
    assert!(has("G21 G90 G1 X1 F9\n", "start-unknown"));
    assert!(has("G21 G65 P9 A1\n", "macro-call"));
    assert!(has("G21 G41 D1 G1 X1 F9\n", "cutter-compensation"));
    assert!(has("G21 G90 G0 A5\n", "axis-unmeasured"));
    assert!(has(
        "G21 G0 X1\nT1 M6 (T1 D=6. FLAT)\nG1 X2 F9\n",
        "tool-unknown"
    ));
    assert!(has("G21 G187 P1\n", "code-unknown"));
}

#[test]
fn findings_are_bounded_and_counted() {
    let lines: Vec<String> = (0..500)
        .map(|n| format!("G21 G90 G0 X1 M{}\n", 200 + n))
        .collect();
    let report = read(&lines.concat());
    let of = |code: &str| code == "code-unknown";
    let kept = report.findings.iter().filter(|f| of(f.code)).count() as u64;
    let more = report.findings_left_out.iter().filter(|l| of(l.code));
    let more: u64 = more.map(|l| l.count).sum();
    assert_eq!(kept + more, 500);
    assert!(kept < 500);
}

/// 1,628 findings were shown where a few causes stood behind them.
#[test]
fn one_cause_is_one_finding() {
    let report = read(&"G21 G90 G0 X1 X2\n".repeat(500));
    let found: Vec<_> = report
        .findings
        .iter()
        .filter(|f| f.code == "word-repeated")
        .collect();
    let [one] = &found[..] else {
        panic!("{found:?}")
    };
    assert_eq!((one.count, one.line, one.last_line), (500, 1, 500));
    assert_eq!(one.elsewhere(), "and 499 more: lines 1 to 500");
    assert!(report.findings_left_out.is_empty());
}
