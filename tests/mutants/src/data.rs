//! Changes of the data files: a digit, a unit, a source, a basis, a name. The tests read the
//! files, so nothing is built.

use crate::copy::Mutant;
use std::fs;
use std::io;
use std::ops::Range;
use std::path::Path;

/// Keys whose texts are words about a figure.
const WORDS: [&str; 7] = ["note", "url", "title", "plain", "says", "text", "why"];

/// A change of a data file.
pub struct DataMutant {
    pub mutant: Mutant,
    pub span: Range<usize>,
    pub other: String,
}

/// All of them.
pub fn all(root: &Path) -> io::Result<Vec<DataMutant>> {
    let folder = root.join("reference-tables/data");
    let mut names: Vec<String> = fs::read_dir(&folder)?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".json"))
        .collect();
    names.sort();
    let mut all = Vec::new();
    for name in names {
        let source = fs::read_to_string(folder.join(&name))?;
        of_file(&format!("reference-tables/data/{name}"), &source, &mut all);
    }
    Ok(all)
}

fn of_file(file: &str, source: &str, all: &mut Vec<DataMutant>) {
    let bytes = source.as_bytes();
    let (mut at, mut key) = (0, String::new());
    let mut nth = 0;
    let mut add = |span: Range<usize>, other: String, words: String| {
        let start = source[..span.start].rfind('\n').map_or(0, |n| n + 1);
        let line = source[..start].matches('\n').count() + 1;
        nth += 1;
        let text = source[start..].lines().next().unwrap_or_default().trim();
        let text = text.chars().take(80).collect();
        let mutant = Mutant {
            number: 0,
            file: file.to_owned(),
            line,
            text,
            words,
            nth,
        };
        all.push(DataMutant {
            mutant,
            span,
            other,
        });
    };
    while at < bytes.len() {
        match bytes[at] {
            b'"' => {
                let mut end = at + 1;
                while bytes[end] != b'"' {
                    end += 1 + usize::from(bytes[end] == b'\\');
                }
                let text = &source[at + 1..end];
                let rest = source[end + 1..].trim_start();
                if rest.starts_with(':') {
                    key = text.to_owned();
                } else if !WORDS.contains(&key.as_str()) && !text.is_empty() {
                    add(
                        at + 1..end,
                        format!("{text}x"),
                        format!("{key} {text} is another"),
                    );
                }
                at = end + 1;
            }
            b'0'..=b'9' => {
                let digit = |b: &u8| b.is_ascii_digit() || [b'.', b'e', b'-', b'+'].contains(b);
                let end = at + bytes[at..].iter().take_while(|b| digit(b)).count();
                let text = &source[at..end];
                let last = text.rfind(|c: char| ('1'..='9').contains(&c)).unwrap_or(0);
                let other: String = text
                    .char_indices()
                    .map(|(i, c)| {
                        if i == last {
                            if c == '9' { '8' } else { (c as u8 + 1) as char }
                        } else {
                            c
                        }
                    })
                    .collect();
                add(at..end, other.clone(), format!("{key} {text} to {other}"));
                at = end;
            }
            _ => at += 1,
        }
    }
}
