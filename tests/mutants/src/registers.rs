//! Registers whose rows are worked out by the compiler: each row is changed where it is read.

use crate::site::{Shape, Site, Variant};
use std::fs;
use std::io;
use std::path::Path;

/// What is changed in each row of a register.
struct Register {
    /// What is changed, in words.
    words: &'static str,
    /// The file whose macro lists the rows, and how the macro is called.
    list: (&'static str, &'static str),
    /// Where it is read: the file, and the end of what is read or a whole text.
    reads: &'static [(&'static str, &'static str)],
    /// Finds the row of what is read.
    row: &'static str,
    /// Whether what follows is left instead of a value being changed.
    drops: bool,
}

const LIMITS: (&str, &str) = ("feeds-core/src/plan/limits.rs", "limits! {");
const KINDS: (&str, &str) = ("feeds-core/src/programme/finding/kinds.rs", "kinds! {");
const UNITS: (&str, &str) = ("feeds-core/src/quantity/unit.rs", "units! {");
const CHECKS: &str = "feeds-core/src/plan/checks.rs";
const LIMIT_ROWS: &str = "tests/tests/checks/limit_register.rs";
const KIND_ROWS: &str = "tests/tests/checks/finding_register.rs";
const FINDING: &str = "feeds-core/src/programme/finding.rs";

const REGISTERS: [Register; 8] = [
    Register {
        words: "no check is made of the limit",
        list: LIMITS,
        reads: &[(CHECKS, "let check = Check {")],
        row: "limit(limit)",
        drops: true,
    },
    Register {
        words: "the wanted margin a tenth more",
        list: LIMITS,
        reads: &[
            (
                CHECKS,
                "limit.wanted[usize::from(intent == Intent::Production)]",
            ),
            (LIMIT_ROWS, "limit.wanted"),
        ],
        row: "limit(limit)",
        drops: false,
    },
    Register {
        words: "another kind of limit",
        list: LIMITS,
        reads: &[
            ("feeds-core/src/limit.rs", ".kind"),
            ("feeds-core/src/verdict.rs", ".kind"),
            (LIMIT_ROWS, ".kind"),
        ],
        row: "limit({it})",
        drops: false,
    },
    Register {
        words: "another harm",
        list: LIMITS,
        reads: &[
            ("feeds-core/src/verdict.rs", ".harm"),
            ("feeds-core/src/rehearsal/pair.rs", ".harm"),
            (LIMIT_ROWS, ".harm"),
        ],
        row: "limit({it})",
        drops: false,
    },
    Register {
        words: "no finding of the kind is made",
        list: KINDS,
        reads: &[(
            FINDING,
            "let (line, column) = (at.line.max(1), at.at.saturating_add(1));",
        )],
        row: "finding(kind)",
        drops: true,
    },
    Register {
        words: "another severity",
        list: KINDS,
        reads: &[(FINDING, "kind.severity"), (KIND_ROWS, "kind.severity")],
        row: "finding(kind)",
        drops: false,
    },
    Register {
        words: "another harm",
        list: KINDS,
        reads: &[(FINDING, "kind.rank"), (KIND_ROWS, "kind.rank")],
        row: "finding(kind)",
        drops: false,
    },
    Register {
        words: "the size a tenth more",
        list: UNITS,
        reads: &[
            ("feeds-core/src/range.rs", ".size"),
            ("feeds-core/src/quantity/amount.rs", "self.unit.size"),
            ("feeds-core/src/quantity/read.rs", ".size"),
            ("feeds-core/src/quantity/inch.rs", ".size"),
            ("feeds-core/src/plan/grid.rs", ".size"),
            ("feeds-core/src/lesson/case.rs", ".size"),
            ("reference-tables/src/sourced.rs", ".size"),
            ("tests/tests/checks/units.rs", ".size"),
        ],
        row: "unit({it})",
        drops: false,
    },
];

/// The names of the rows of a macro, in its order.
fn rows(source: &str, opening: &str) -> Vec<(String, usize)> {
    let Some(start) = source.find(&format!("\n{opening}\n")) else {
        return Vec::new();
    };
    let start = start + opening.len() + 2;
    let mut at = start;
    let mut rows = Vec::new();
    for line in source[start..].split_inclusive('\n') {
        if line.starts_with('}') && !line.starts_with("}\n") || line.is_empty() {
            break;
        }
        let indent = line.len() - line.trim_start().len();
        let name: String = line[indent..]
            .chars()
            .take_while(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || *c == '_')
            .collect();
        let after = &line[indent + name.len()..];
        let begins = after.starts_with(" = \"") || after.starts_with(" \"");
        if indent == 4 && !name.is_empty() && begins {
            rows.push((name, at + indent));
        }
        at += line.len();
        if line == "}\n"
            && !source[at..].starts_with("Error")
            && !source[at..].starts_with("Warning")
            && !source[at..].starts_with("Note")
        {
            break;
        }
    }
    rows
}

/// A row of a register that is changed: where it stands, and its number.
pub struct RegisterRow {
    pub file: &'static str,
    pub at: usize,
    pub number: u32,
    pub words: String,
}

/// The sites that read registers, by file.
type Reads = Vec<(String, Site)>;

/// The rows of all registers, and the sites that read them by file.
pub fn all(root: &Path, next: &mut u32) -> io::Result<(Vec<RegisterRow>, Reads)> {
    let (mut changed, mut sites) = (Vec::new(), Vec::new());
    for register in &REGISTERS {
        let rows = rows(
            &fs::read_to_string(root.join(register.list.0))?,
            register.list.1,
        );
        assert!(rows.len() > 20, "{}: {} rows", register.list.0, rows.len());
        let first = *next;
        *next += rows.len() as u32;
        for ((name, at), number) in rows.iter().zip(first..) {
            changed.push(RegisterRow {
                file: register.list.0,
                at: *at,
                number,
                words: format!("{name}: {}", register.words),
            });
        }
        for (file, read) in register.reads {
            let source = fs::read_to_string(root.join(file))?;
            let found = reads(&source, read);
            assert!(!found.is_empty(), "{file} does not read {read}");
            for (span, it) in found {
                let it = if it.is_empty() {
                    "self.unit".to_owned()
                } else {
                    it
                };
                let row = format!("crate::mutant::{}", register.row.replace("{it}", &it));
                let (before, after) = if register.drops {
                    let text = format!("if crate::mutant::row_on({{}}, {row}) {{ return; }} ");
                    (text, String::new())
                } else {
                    (format!("crate::mutant::row({{}}, {row}, "), ")".to_owned())
                };
                sites.push((
                    (*file).to_owned(),
                    Site {
                        span: span.clone(),
                        depth: 0,
                        shape: Shape::Register { before, after },
                        variants: vec![Variant {
                            words: register.words.to_owned(),
                            text: String::new(),
                            number: first,
                            viable: true,
                            spare: false,
                        }],
                        around: span,
                    },
                ));
            }
        }
    }
    Ok((changed, sites))
}

/// Where a text is read, and what stands before a field; not in tests, comments or calls.
fn reads(source: &str, read: &str) -> Vec<(std::ops::Range<usize>, String)> {
    let code = source
        .find("#[cfg(test)]")
        .map_or(source, |end| &source[..end]);
    let mut found = Vec::new();
    for (at, _) in code.match_indices(read) {
        let line = code[..at].rfind('\n').map_or(0, |n| n + 1);
        let after = code[at + read.len()..].chars().next();
        let goes_on = |c: char| c.is_alphanumeric() || ['(', '_'].contains(&c);
        if code[line..].trim_start().starts_with("//") || after.is_some_and(goes_on) {
            continue;
        }
        if !read.starts_with('.') {
            found.push((at..at + read.len(), String::new()));
            continue;
        }
        let path = |c: char| c.is_alphanumeric() || ['_', '.', ':'].contains(&c);
        let it = code[line..at]
            .rfind(|c: char| !path(c))
            .map_or(line, |n| line + n + 1);
        let it = it + (code[it..at].len() - code[it..at].trim_start_matches([':', '.']).len());
        if it < at {
            let name = code[it..at].to_owned();
            let name = if name.starts_with(char::is_uppercase) || name.contains("::") {
                format!("&{name}")
            } else {
                name
            };
            found.push((it..at + read.len(), name));
        }
    }
    found
}
