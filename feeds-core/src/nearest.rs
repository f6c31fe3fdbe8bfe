//! The nearest name there is, for a name there is not.

/// The name nearest to `wanted` by edits, if one is near enough to be what was meant.
///
/// # Example
/// ```
/// use feeds_core::nearest::nearest;
/// assert_eq!(nearest("fz", ["f_z", "v_f", "n"]), Some("f_z"));
/// assert_eq!(nearest("pressure", ["f_z", "n"]), None);
/// ```
pub fn nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    all_nearest(wanted, names).first().copied()
}

/// The names nearest to `wanted`, all that are as near as the nearest, in their order.
///
/// # Example
/// ```
/// use feeds_core::nearest::all_nearest;
/// assert_eq!(all_nearest("cot", ["cut", "audit", "cost"]), ["cut", "cost"]);
/// ```
pub fn all_nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let wanted = wanted.to_lowercase();
    let far = wanted.chars().count().div_ceil(2).max(1);
    let near = names
        .into_iter()
        .map(|name| (distance(&wanted, &name.to_lowercase()), name));
    let near: Vec<(usize, &str)> = near.filter(|&(distance, _)| distance <= far).collect();
    let least = near.iter().map(|(distance, _)| *distance).min();
    let nearest = near
        .into_iter()
        .filter(|(distance, _)| Some(*distance) == least);
    nearest.map(|(_, name)| name).collect()
}

/// What to say to a wrong name: the nearest one, or all of them.
///
/// # Example
/// ```
/// use feeds_core::nearest::advice;
/// assert_eq!(advice("fz", &["f_z", "n"]), "did you mean «f_z»?");
/// assert_eq!(advice("pressure", &["f_z", "n"]), "there are f_z, n");
/// ```
pub fn advice(wanted: &str, names: &[&str]) -> String {
    match nearest(wanted, names.iter().copied()) {
        Some(name) => format!("did you mean «{name}»?"),
        None => format!("there are {}", names.join(", ")),
    }
}

/// Whether two texts are the same word: in any letter case, with blanks, `-` or `_` between its
/// parts.
///
/// # Example
/// ```
/// use feeds_core::nearest::same;
/// assert!(same("ball-finish", " Ball finish ") && same("tialn", "TiAlN"));
/// assert!(!same("tin", "ti n"));
/// ```
pub fn same(word: &str, typed: &str) -> bool {
    // Nearly all words are of ASCII letters, and most pairs differ in length: every entry of every
    // pass is found by its word.
    if word.is_ascii() && typed.is_ascii() {
        let plain = |b: u8| match b {
            b'-' | b'_' => b' ',
            b => b.to_ascii_lowercase(),
        };
        let (word, typed) = (word.trim(), typed.trim());
        return word.len() == typed.len() && word.bytes().map(plain).eq(typed.bytes().map(plain));
    }
    let plain = |c: char| if matches!(c, '-' | '_') { ' ' } else { c };
    let letters = |text| {
        str::chars(str::trim(text))
            .map(plain)
            .flat_map(char::to_lowercase)
    };
    letters(word).eq(letters(typed))
}

/// Whether words of a name are enough to call it by: at least three letters or digits that stand
/// in it, or the starts of words of it. Both are in lower case.
///
/// # Example
/// ```
/// use feeds_core::nearest::calls;
/// assert!(calls("bench", "old bench mill") && calls("mill old", "old bench mill"));
/// assert!(calls("be", "old bench mill") && calls("m", "old bench mill"));
/// assert!(!calls("en", "old bench mill") && !calls("l", "old bench mill"));
/// assert!(!calls("", "old bench mill") && !calls("%", "50%"));
/// ```
pub fn calls(asked: &str, name: &str) -> bool {
    let signs = asked.chars().filter(|c| c.is_alphanumeric()).count();
    let begins = |part: &str| {
        let before = |at: usize| name[..at].chars().next_back();
        name.match_indices(part)
            .any(|(at, _)| !before(at).is_some_and(char::is_alphanumeric))
    };
    match signs {
        0 => false,
        1 | 2 => asked.split_whitespace().all(begins),
        _ => asked.split_whitespace().all(|part| name.contains(part)),
    }
}

/// The edits from a word to a name, or to one word of it.
fn distance(wanted: &str, name: &str) -> usize {
    let words = name.split(' ').filter(|word| word.len() > 2);
    words
        .map(|word| edits(wanted, word))
        .fold(edits(wanted, name), usize::min)
}

/// Insertions, deletions and replacements from one word to the other (Levenshtein).
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &b) in to.iter().enumerate() {
            let replaced = diagonal + usize::from(a != b);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[to.len()]
}
