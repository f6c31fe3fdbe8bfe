//! A reading far from what was expected is taken for a slip, unless it is said to be sure.

use crate::own_cuts::{said, with_job};
use crate::shell::{ran_line, text};

/// What `feeds log` says of a wall, and whether it was logged.
fn logged(wall: f64, more: &str, folder: &std::path::Path) -> (bool, String) {
    let line = format!("feeds log demo.json 'relief pocket' wall={wall}um {more}");
    let output = ran_line(&line, folder);
    let fine = output.status.code() != Some(2);
    if fine {
        said("feeds log back", folder);
    }
    let text = format!("{}{}", text(&output.stdout), text(&output.stderr));
    (fine, text.split_whitespace().collect::<Vec<_>>().join(" "))
}

#[test]
fn four_times_beyond_the_range_is_a_slip() {
    let folder = with_job("far-readings");
    let (fine, text) = logged(900.0, "", &folder);
    assert!(
        !fine && text.starts_with("error: wall: 900um is far from"),
        "{text}"
    );
    assert!(text.contains("add sure=yes"), "{text}");
    let words: Vec<&str> = text.split(' ').collect();
    let to = words.iter().position(|word| *word == "to").unwrap();
    let end = |at: usize| words[at].parse::<f64>().unwrap();
    let (low, high) = (end(to - 1), end(to + 1));
    assert!(low < high, "{text}");
    for (wall, expected) in [
        (3.9 * high, true),
        (4.1 * high, false),
        (low / 3.9, true),
        (low / 4.1, false),
    ] {
        let (fine, text) = logged(wall, "", &folder);
        assert_eq!(fine, expected, "{wall}: {text}");
    }
    // A used edge is in the range that follows, and it is said how it leaves again.
    let (_, text) = logged(high, "edge=used", &folder);
    assert!(text.contains("cut with that edge; say new=yes"), "{text}");
    let (_, text) = logged(high, "edge=fresh", &folder);
    assert!(!text.contains("say new=yes"), "{text}");
    // Who is sure is taken at his word, at a card as well.
    assert!(logged(900.0, "sure=yes", &folder).0);
    said("feeds measure plan demo.json 'relief pocket'", &folder);
    let card = ran_line("feeds measure take 1 wall=900um", &folder);
    assert_eq!(card.status.code(), Some(2));
    said("feeds measure take 1 wall=900um sure=yes", &folder);
}
