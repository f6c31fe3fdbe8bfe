//! Long programmes whose cutters are described: what is wrong ten thousand times is said once.
//!
//! One programme grew from 2.8 kB to 35 kB of text when its cutters were described. These are
//! built differently from each other, since each kind of path offends in a way of its own: small
//! loops of one tool, trochoids of three, a surface in short lines, and holes, pockets and outlines
//! of five tools.

use crate::audit_text::audited;
use std::fmt::Write as _;

/// Lines of each of them.
const LINES: u32 = 200_000;
/// Lines of text that describing the cutters may add.
const ADDED: usize = 30;

const START: &str = "G21 G90 G17 G40 G49 G80 G94 G54\n";

/// A tool comes in and goes over the work.
fn tool(text: &mut String, number: u32, speed: u32) {
    let _ = write!(
        text,
        "T{number} M6\nS{speed} M3\nG43 H{number} G0 X0 Y0 Z5\n"
    );
}

/// The text of the audit, without and with what is known of the cutters.
#[track_caller]
fn described(name: &str, mut programme: String, cutters: &[&str], stock: &str) -> String {
    programme += "G0 Z5\nM5\nM30\n";
    let written = programme.lines().count();
    assert!(written >= LINES as usize, "{name}: only {written} lines");
    let flags: Vec<String> = cutters.iter().map(|c| format!("--tool {c}")).collect();
    let stock = format!("--stock {stock}");
    let flags = format!("{} {stock}", flags.join(" "));
    let (bare, _) = audited(&format!("{name}-bare"), &programme, &stock);
    let (known, _) = audited(&format!("{name}-known"), &programme, &flags);
    let (without, with) = (bare.lines().count(), known.lines().count());
    assert!(
        with <= without + ADDED,
        "{name}: {without} to {with} lines\n{known}"
    );
    known
}

/// What is said of many places is said with where they are.
#[track_caller]
fn says(said: &str, code: &str) {
    let words = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let count = words.matches(&format!("[{code}]")).count();
    assert!((1..=5).contains(&count), "{count} times {code}\n{said}");
    assert!(words.contains(" more: lines "), "{said}");
}

/// Loops of changing size and feed with one tool, and ramps between them.
#[test]
fn small_loops_of_one_tool() {
    let mut text = START.to_owned();
    tool(&mut text, 1, 8000);
    for n in 0..LINES / 4 {
        let (x, y) = (n % 97, n / 97 % 53);
        let (r, feed) = (f64::from(3 + n % 29) / 10.0, 200 + n % 613);
        let z = -0.2 - f64::from(n % 5) / 4.0;
        let end = f64::from(y) + 2.0 * r;
        let _ = write!(
            text,
            "G0 Z1\nX{x} Y{y}\nG1 X{x}.5 Z{z} F{feed}\nG3 X{x}.5 Y{end} I0 J{r}\n"
        );
    }
    let cutter = "1=D6mm,z4,plunge=no,ramp=3deg,floor=3um,band=0.01mm..0.02mm,vc=100m/min";
    let stock = "X0mm..97mm,Y0mm..53mm,Z-3mm..0mm";
    let said = described("loops", text, &[cutter], stock);
    says(&said, "ramp-steep");
}

/// Slots cleared by trochoids with three tools: a helix down, then half a turn forward, a line
/// back a little above the floor, each loop with a feed of its own.
#[test]
fn trochoids_of_three_tools() {
    let mut text = START.to_owned();
    for (number, speed) in [(1, 9000), (2, 11_000), (3, 14_000)] {
        tool(&mut text, number, speed);
        let mut lines = 0;
        let mut slot = 0_u32;
        while lines < LINES / 3 {
            let y = f64::from(slot % 12) * 7.0 + 3.0;
            let floor = -0.5 - 0.5 * f64::from(slot / 12 % 6);
            let _ = write!(
                text,
                "(SLOT {slot})\nG0 Z2\nX2 Y{y:.3}\nG1 Z0.1 F200\n\
                 G3 X2 Y{y:.3} Z{floor:.3} I1 J0 F{}\n",
                150 + slot % 40
            );
            for step in 0..400_u32 {
                let x = 2.0 + 0.11 * f64::from(step);
                let r = 1.2 + 0.01 * f64::from((step + slot) % 37);
                let feed = 300 + (step * 7 + slot) % 450;
                let _ = write!(
                    text,
                    "G3 X{x:.4} Y{:.4} I0 J{r:.4} F{feed}\n\
                     G3 X{x:.4} Y{y:.4} I0 J-{r:.4}\n\
                     G1 X{:.4} Z{:.4} F1500\nZ{floor:.4}\n",
                    y + 2.0 * r,
                    x + 0.11,
                    floor + 0.2
                );
                lines += 4;
            }
            slot += 1;
        }
        text += "G0 Z20\nM5\n";
    }
    let cutters = [
        "1=D6mm,z4,plunge=no,ramp=3deg,floor=3um,band=0.01mm..0.016mm,vc=150m/min",
        "2=D4mm,z3,plunge=no,ramp=2deg,floor=2um,band=0.008mm..0.012mm,vc=120m/min",
        "3=D3mm,z2,plunge=no,ramp=2deg,floor=2um,band=0.006mm..0.01mm,vc=100m/min",
    ];
    let stock = "X0mm..60mm,Y0mm..90mm,Z-4mm..0mm";
    let said = described("trochoids", text, &cutters, stock);
    says(&said, "ramp-steep");
    says(&said, "feed-over-band");
}

/// A bulged surface in lines of a fifth of a millimetre, back and forth, the feed lower downhill.
#[test]
fn a_surface_in_short_lines() {
    let mut text = START.to_owned();
    tool(&mut text, 5, 18_000);
    text += "G1 Z0 F300\n";
    let mut lines = 0;
    let mut row = 0_u32;
    while lines < LINES {
        let y = 0.05 * f64::from(row);
        let mut last = 0.0;
        for step in 0..=200_u32 {
            let along = if row.is_multiple_of(2) {
                step
            } else {
                200 - step
            };
            let x = 0.2 * f64::from(along);
            let z = -4.0 + 3.5 * (x / 6.0).sin() * (y / 5.0).cos() - 0.3 * (x * 1.7).cos();
            let feed = if z < last { 500 + step % 60 } else { 900 };
            let _ = writeln!(text, "X{x:.3} Y{y:.3} Z{z:.4} F{feed}");
            last = z;
            lines += 1;
        }
        row += 1;
    }
    let cutter = "5=D4mm,z2,ball,plunge=no,ramp=5deg,floor=4um,band=0.02mm..0.024mm,vc=200m/min";
    let stock = "X0mm..40mm,Y0mm..49mm,Z-8mm..0mm";
    let said = described("surface", text, &[cutter], stock);
    says(&said, "ramp-steep");
    says(&said, "feed-below-band");
}

/// Plates with holes drilled, pecked and tapped, pockets entered straight down and outlines with
/// rounded corners, again and again.
#[test]
fn holes_pockets_and_outlines_of_five_tools() {
    let mut text = START.to_owned();
    let mut plate = 0_u32;
    let mut lines = 0;
    while lines < LINES as usize {
        let before = text.len();
        let (x, y) = (f64::from(plate % 5) * 40.0, f64::from(plate / 5 % 4) * 30.0);
        holes(&mut text, plate, [x, y]);
        tool(&mut text, 3, 8000);
        for pocket in 0..6_u32 {
            let (px, py) = (x + 5.0 + 5.0 * f64::from(pocket), y + 12.0);
            for level in 1..=8_u32 {
                let z = -0.25 * f64::from(level);
                let _ = write!(
                    text,
                    "G0 X{px} Y{py} Z1\nG1 Z{z} F{}\nX{} F{}\nY{}\nX{px}\nY{py}\n",
                    90 + pocket,
                    px + 2.5,
                    250 + level * 9 + plate % 50,
                    py + 6.0
                );
            }
        }
        tool(&mut text, 4, 12_000);
        for level in 1..=10_u32 {
            let z = -0.4 * f64::from(level);
            let feed = 380 + level + plate % 30;
            let _ = write!(
                text,
                "G0 X{} Y{} Z1\nG1 Z{z} F120\nX{} F{feed}\nG3 X{} Y{} I0 J1\nG1 Y{}\nX{x}\n",
                x - 4.0,
                y - 2.5,
                x + 34.0,
                x + 35.0,
                y - 1.5,
                y + 22.0,
            );
        }
        lines += text[before..].matches('\n').count();
        plate += 1;
    }
    let cutters = [
        "1=D2.5mm,z2,drill",
        "2=D3mm,tap,pitch=0.5mm",
        "3=D3mm,z3,plunge=no,ramp=2deg,floor=3um,band=0.011mm..0.012mm,vc=60m/min",
        "4=D5mm,z4,plunge=no,ramp=2deg,floor=3um,band=0.009mm..0.01mm,vc=120m/min",
    ];
    let stock = "X0mm..195mm,Y0mm..115mm,Z-5mm..0mm";
    let said = described("plates", text, &cutters, stock);
    says(&said, "plunge");
}

/// Holes of a plate: drilled, pecked, and tapped a little off the pitch.
fn holes(text: &mut String, plate: u32, [x, y]: [f64; 2]) {
    tool(text, 1, 4000);
    for (cycle, row) in [("G81", 3.0), ("G83", 25.0)] {
        let q = if cycle == "G83" { " Q0.8" } else { "" };
        let feed = 160 + plate % 9;
        let _ = writeln!(text, "G98 {cycle} X{x} Y{} Z-4 R1{q} F{feed}", y + row);
        for hole in 1..15_u32 {
            let _ = writeln!(text, "X{}", x + 2.0 * f64::from(hole));
        }
        *text += "G80\n";
    }
    tool(text, 2, 400);
    let _ = writeln!(
        text,
        "G98 G84 X{x} Y{} Z-4 R2 F{}",
        y + 3.0,
        201 + plate % 3
    );
    for hole in 1..15_u32 {
        let _ = writeln!(text, "X{}", x + 2.0 * f64::from(hole));
    }
    *text += "G80\n";
}
