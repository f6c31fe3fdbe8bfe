//! The copy keeps every byte but those of S and F.

use super::super::{Reader, Setting};
use super::{Rescaler, Rescaling, Wanted};

const BOTH: Rescaling = Rescaling::Scale {
    speed: 0.5,
    feed: 0.5,
};

fn copy(text: &str, wanted: Wanted) -> Result<(String, usize), String> {
    let mut reader = Reader::new(Setting::default());
    reader.feed(text.as_bytes());
    let report = reader.finish();
    let mut rescaler = Rescaler::new(wanted, &report).map_err(|r| r.to_string())?;
    let (mut out, mut count) = (Vec::new(), 0);
    for byte in text.as_bytes() {
        rescaler
            .feed(&[*byte], &mut out, &mut |_| count += 1)
            .map_err(|r| r.to_string())?;
    }
    rescaler
        .finish(&mut out, &mut |_| count += 1)
        .map_err(|r| r.to_string())?;
    Ok((String::from_utf8(out).unwrap(), count))
}

fn all(change: Rescaling) -> Wanted {
    Wanted {
        others: change,
        tools: Vec::new(),
    }
}

#[test]
fn only_speed_and_feed_words_change() {
    let text = "%\r\nO1 (S100 F200)\r\nG21 G90\r\nT1 M6\r\nS8000M3\r\ng1x1. f 460.y2;F1\r\n\
                G4 P1 F3\r\nX3F180\r\nM30\r\n%\r\nF100";
    let (out, count) = copy(text, all(BOTH)).unwrap();
    let expect = text
        .replace("S8000", "S4000")
        .replace("f 460.", "f230.")
        .replace("F180", "F90");
    assert_eq!(out, expect);
    assert_eq!(count, 3);
}

#[test]
fn tools_change_apart() {
    let text = "G21 G90\nT1 M6\nS1000 M3\nG1 X1 F100\nT2 M6\nS2000 M3\nG1 X2 F200\nM30\n";
    let wanted = Wanted {
        others: Rescaling::Scale {
            speed: 1.0,
            feed: 1.0,
        },
        tools: vec![(
            2,
            Rescaling::Scale {
                speed: 0.5,
                feed: 0.25,
            },
        )],
    };
    let (out, count) = copy(text, wanted).unwrap();
    assert_eq!(out, text.replace("S2000", "S1000").replace("F200", "F50"));
    assert_eq!(count, 2);
}

#[test]
fn feed_modes_scale_by_their_meaning() {
    let text = "G21 G90 G93\nG1 X1 F10\nG95 X2 F.1\nM30\n";
    let (out, _) = copy(
        text,
        all(Rescaling::Scale {
            speed: 0.5,
            feed: 0.25,
        }),
    )
    .unwrap();
    assert_eq!(out, "G21 G90 G93\nG1 X1 F2.5\nG95 X2 F0.05\nM30\n");
}

#[test]
fn refusals_give_their_reason() {
    let unequal = all(Rescaling::Scale {
        speed: 0.5,
        feed: 0.7,
    });
    let replace = all(Rescaling::Replace {
        speed: None,
        feed: Some(100.0),
    });
    let apart = Wanted {
        others: BOTH,
        tools: vec![(
            1,
            Rescaling::Scale {
                speed: 1.0,
                feed: 1.0,
            },
        )],
    };
    for (text, wanted, reason) in [
        ("G21 S300 M3\nG84 X1 Z-5 R2 F150\nM30\n", unequal, "pitch"),
        ("G21 G93\nG1 X1 F2\nM30\n", replace, "scale this one"),
        ("#1=5\nG21 G1 X1 F#1\nM30\n", all(BOTH), "worked out"),
        ("G21 G1 X1 F[1/0]\nM30\n", all(BOTH), "could not be read"),
        (
            "G21 G1 X1 F9\nM98 P5\nM30\nO5\nG1 X2\nM99\n",
            apart,
            "subprograms",
        ),
        (
            "G1 X1 F9\n",
            all(Rescaling::Scale {
                speed: 0.0,
                feed: 1.0,
            }),
            "out of range",
        ),
        (
            "Dear reader of this letter\n",
            all(BOTH),
            "not a milling programme",
        ),
    ] {
        let refused = copy(text, wanted).unwrap_err();
        assert!(refused.contains(reason), "{text}: {refused}");
    }
}
