//! Which kind of stock a name reads like that no row is called.
//!
//! Only what open standards say of their designations, and plain words of the trade: AISI and SAE
//! series, UNS letters, the numbers of EN 10027-2 and DIN 17007, the compositions of EN 10027-1,
//! EN 573-3 and EN 1412. A trade name is in no list: letters with digits read like a steel.

/// A kind of stock, as a name tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Family {
    /// A powder steel.
    Powder,
    /// Layers of which some are stainless.
    LayeredStainless,
    /// A layered steel.
    Layered,
    /// A steel, and no more is known of it.
    Steel,
    /// A stainless steel, and no more is known of it.
    Stainless,
    /// A stainless steel that hardens.
    Martensitic,
    /// A stainless steel that does not harden.
    Austenitic,
    /// A stainless steel that is aged.
    PrecipitationHardening,
    /// A tool steel.
    Tool,
    /// A high-speed steel.
    HighSpeed,
    /// A bearing steel.
    Bearing,
    /// A low-alloy steel: spring, gear and shaft steels.
    LowAlloy,
    /// A carbon steel of more than 0.6 % carbon.
    HighCarbon,
    /// A carbon steel.
    Carbon,
    /// A mild steel.
    Mild,
    /// Titanium or an alloy of it.
    Titanium,
    /// Aluminium or an alloy of it.
    Aluminium,
    /// Brass.
    Brass,
    /// Bronze.
    Bronze,
    /// Nickel silver, or copper with nickel.
    NickelSilver,
    /// Copper.
    Copper,
    /// Nickel or an alloy of it.
    Nickel,
    /// Cloth, paper or glass in resin.
    Laminate,
}

impl Family {
    /// Every family, with the plain word for it.
    pub const ALL: [(Self, &'static str); 23] = [
        (Self::Powder, "powder steel"),
        (Self::LayeredStainless, "layered stainless steel"),
        (Self::Layered, "layered steel"),
        (Self::Steel, "steel"),
        (Self::Stainless, "stainless steel"),
        (Self::Martensitic, "stainless steel that hardens"),
        (Self::Austenitic, "stainless steel that does not harden"),
        (Self::PrecipitationHardening, "stainless steel that is aged"),
        (Self::Tool, "tool steel"),
        (Self::HighSpeed, "high-speed steel"),
        (Self::Bearing, "bearing steel"),
        (Self::LowAlloy, "low-alloy steel"),
        (Self::HighCarbon, "high-carbon steel"),
        (Self::Carbon, "carbon steel"),
        (Self::Mild, "mild steel"),
        (Self::Titanium, "titanium"),
        (Self::Aluminium, "aluminium"),
        (Self::Brass, "brass"),
        (Self::Bronze, "bronze"),
        (Self::NickelSilver, "nickel silver"),
        (Self::Copper, "copper"),
        (Self::Nickel, "nickel"),
        (Self::Laminate, "laminate"),
    ];

    /// The plain word for it.
    pub fn word(self) -> &'static str {
        let mut all = Self::ALL.iter();
        all.find(|(family, _)| *family == self).map_or("", |f| f.1)
    }

    /// The stocks of the tables that cut most like it, nearest first.
    pub(crate) fn rows(self) -> &'static [&'static str] {
        match self {
            Self::Powder | Self::Steel => &["PM-HV-SS", "440C", "D2"],
            Self::LayeredStainless => &["440C", "PM-HV-SS", "PATTERN"],
            Self::Layered => &["PATTERN", "1095", "15N20"],
            Self::Stainless => &["440C", "416", "304"],
            Self::Martensitic => &["440C", "AEB-L", "416"],
            Self::Austenitic => &["304", "316", "303"],
            Self::PrecipitationHardening => &["17-4PH", "304", "440C"],
            Self::Tool => &["D2", "A2", "O1"],
            Self::HighSpeed => &["D2", "PM-HV-SS", "A2"],
            Self::Bearing => &["52100", "O1", "80CrV2"],
            Self::LowAlloy => &["5160", "80CrV2", "52100"],
            Self::HighCarbon => &["1095", "1084", "1075"],
            Self::Carbon => &["1045", "1075", "1018"],
            Self::Mild => &["1018", "1045", "WI"],
            Self::Titanium => &["Ti64", "Ti-2"],
            Self::Aluminium => &["6061", "2011"],
            Self::Brass => &["C360", "C260"],
            Self::Bronze => &["PB", "ALB"],
            Self::NickelSilver => &["NS"],
            Self::Copper => &["Cu"],
            Self::Nickel => &["Ni200"],
            Self::Laminate => &["G10", "LINEN", "PAPER"],
        }
    }

    /// The family that words in lower case, without the names of standards, read like.
    pub(crate) fn of(words: &[&str]) -> Option<Self> {
        let joined = words.concat();
        said(words)
            .or_else(|| standard(&joined))
            .or_else(|| words.iter().find_map(|word| standard(word)))
            .or_else(|| any_steel(words, &joined))
    }
}

/// Plain words of the trade.
fn said(words: &[&str]) -> Option<Family> {
    let any = |starts: &[&str]| {
        let mut pairs = words
            .iter()
            .flat_map(|w| starts.iter().map(move |s| (w, s)));
        pairs.any(|(word, start)| word.starts_with(start))
    };
    let stainless = any(&["stainless", "inox", "rostfrei", "rustproof"]);
    let layered = any(&["layer", "dama", "pattern", "clad", "sandwich"]);
    let powder = any(&["powder", "pulver", "sinter"]) || words.iter().any(|w| w.ends_with("pm"));
    let first = |families: &[(Family, &[&str])]| {
        let found = families.iter().find(|(_, starts)| any(starts));
        found.map(|(family, _)| *family)
    };
    match (stainless, layered, powder) {
        (true, true, _) => Some(Family::LayeredStainless),
        (_, true, _) => Some(Family::Layered),
        (_, _, true) => Some(Family::Powder),
        (true, ..) => standard(&words.concat())
            .or_else(|| words.iter().find_map(|w| standard(w)))
            .or(Some(Family::Stainless)),
        _ => first(&[
            (Family::HighSpeed, &["hss", "highspeed"]),
            (Family::Titanium, &["titan"]),
            (Family::Aluminium, &["alu", "dural"]),
            (Family::Brass, &["brass", "messing"]),
            (Family::Bronze, &["bronze", "gunmetal"]),
            (Family::NickelSilver, &["german", "cupronickel"]),
            (Family::Copper, &["copper"]),
            (Family::Nickel, &["nickel"]),
            (Family::Laminate, &["laminate", "phenolic"]),
            (Family::Bearing, &["bearing"]),
            (Family::LowAlloy, &["spring", "alloyed", "lowalloy"]),
            (Family::Tool, &["tool", "werkzeug"]),
            (Family::Mild, &["mild", "structural", "lowcarbon"]),
        ]),
    }
}

/// Letters with digits, or a word for steel: nothing says which steel.
fn any_steel(words: &[&str], joined: &str) -> Option<Family> {
    if words
        .iter()
        .any(|w| w.ends_with("steel") || w.ends_with("stahl"))
    {
        return Some(Family::Steel);
    }
    let mixed = |text: &&str| {
        let has = |kind: fn(char) -> bool| text.chars().any(kind);
        let only = text.chars().all(char::is_alphanumeric);
        only && has(char::is_alphabetic) && has(|c| c.is_ascii_digit()) && text.len() <= 16
    };
    let steel = words.iter().chain([&joined]).any(mixed);
    steel.then_some(Family::Steel)
}

/// A designation of a standard, joined and in lower case.
fn standard(name: &str) -> Option<Family> {
    let kinds: [fn(&str) -> Option<Family>; 7] =
        [numbered, unified, stainless, tool, series, composed, copper];
    kinds.iter().find_map(|kind| kind(name))
}

/// The letters a name begins with, and the digits that follow at once.
fn head(name: &str) -> (&str, &str, &str) {
    let letters = name.bytes().take_while(u8::is_ascii_alphabetic).count();
    let (letters, rest) = name.split_at(letters);
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (digits, rest) = rest.split_at(digits);
    (letters, digits, rest)
}

/// Numbers of EN 10027-2 (1.xxxx) and DIN 17007 (2. copper and nickel, 3. light metals).
fn numbered(name: &str) -> Option<Family> {
    let (group, number) = name.split_once('.')?;
    if number.len() != 4 || !number.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let two = number.get(..2)?.parse::<u32>().ok()?;
    Some(match (group, two) {
        // 07 is free-cutting: high in phosphorus or sulphur, low in carbon.
        ("1", 0..=4 | 7 | 10) => Family::Mild,
        ("1", 5 | 11 | 13) => Family::Carbon,
        ("1", 6 | 12 | 15..=18) => Family::HighCarbon,
        ("1", 20..=28) => Family::Tool,
        ("1", 32 | 33) => Family::HighSpeed,
        ("1", 35) => Family::Bearing,
        ("1", 40 | 41) => Family::Martensitic,
        ("1", 45)
            if matches!(
                number,
                "4532" | "4534" | "4540" | "4542" | "4545" | "4548" | "4568" | "4594"
            ) =>
        {
            Family::PrecipitationHardening
        }
        ("1", 43..=45) => Family::Austenitic,
        ("1", 46..=49) => Family::Stainless,
        ("1", _) => Family::LowAlloy,
        ("2", 0 | 12..=15) => Family::Copper,
        ("2", 2..=6) => Family::Brass,
        ("2", 7 | 8) => Family::NickelSilver,
        ("2", 9..=11) => Family::Bronze,
        ("2", 40..=49) => Family::Nickel,
        ("3", 0..=44) => Family::Aluminium,
        ("3", 70..=77) => Family::Titanium,
        _ => return None,
    })
}

/// Numbers of the unified system: a letter and five digits.
fn unified(name: &str) -> Option<Family> {
    let (letter, digits, "") = head(name) else {
        return None;
    };
    if digits.len() != 5 {
        return None;
    }
    match letter {
        "s" if digits.starts_with('1') => Some(Family::PrecipitationHardening),
        "s" if digits.starts_with('4') => Some(Family::Martensitic),
        "s" => Some(Family::Austenitic),
        "t" if digits.starts_with("11") || digits.starts_with("12") => Some(Family::HighSpeed),
        "t" => Some(Family::Tool),
        "g" => series(digits.get(..4)?),
        "h" | "k" => Some(Family::LowAlloy),
        "r" if digits.starts_with('5') => Some(Family::Titanium),
        "a" => Some(Family::Aluminium),
        "n" => Some(Family::Nickel),
        "c" => copper_number(digits.get(..3)?),
        _ => None,
    }
}

/// AISI series of stainless steels: 2xx, 3xx and 4xx with the standard's letters, 17-4 PH alike.
fn stainless(name: &str) -> Option<Family> {
    let name = name.strip_prefix("sus").unwrap_or(name);
    let ("", digits, letters) = head(name) else {
        return None;
    };
    let series = digits.chars().next()?;
    let graded = [
        "", "a", "b", "c", "f", "fse", "h", "hc", "l", "ln", "n", "se", "ti", "cb", "cu", "x",
    ];
    match (series, digits.len()) {
        ('2' | '3', 3) if graded.contains(&letters) => Some(Family::Austenitic),
        ('4', 3) if graded.contains(&letters) => Some(Family::Martensitic),
        ('6', 3) if digits.starts_with("63") && letters.is_empty() => {
            Some(Family::PrecipitationHardening)
        }
        ('1', 3) if letters.is_empty() && matches!(digits, "138" | "155" | "174" | "177") => {
            Some(Family::PrecipitationHardening)
        }
        ('1', 3) if letters == "ph" || letters == "mo" || letters == "phmo" => {
            Some(Family::PrecipitationHardening)
        }
        _ => None,
    }
}

/// AISI tool steels, a letter and its number (ASTM A36 is none), and high-speed steels of EN,
/// `HS6-5-2`.
fn tool(name: &str) -> Option<Family> {
    let (letter, digits, rest) = head(name);
    if letter == "hs" && !digits.is_empty() {
        return Some(Family::HighSpeed);
    }
    if !rest.is_empty() || !(1..=2).contains(&digits.len()) {
        return None;
    }
    let number = digits.parse::<u32>().unwrap_or_default();
    match (letter, number) {
        ("a", 36) => Some(Family::Mild),
        ("a", 2..=11) | ("d" | "f" | "l" | "o" | "s" | "w", 1..=7) | ("h", 10..=43) => {
            Some(Family::Tool)
        }
        ("m", 1..=62) | ("t", 1..=15) => Some(Family::HighSpeed),
        _ => None,
    }
}

/// Four digits: SAE steels (SAE J403, J404), or wrought aluminium (EN 573-3) with its temper.
fn series(name: &str) -> Option<Family> {
    if let Some(wrought) = name.strip_prefix("aw") {
        return (head(wrought).1.len() == 4).then_some(Family::Aluminium);
    }
    let ("", digits, rest) = head(name) else {
        return None;
    };
    // 12L14 and 41L40 have lead.
    let leaded = digits.len() == 2 && head(rest).0 == "l" && head(rest).1.len() == 2;
    let steel = |digits: &str| match digits.get(..2)? {
        "10" | "11" | "12" | "13" | "15" => Some(match digits.get(2..).map(str::parse::<u32>) {
            Some(Ok(60..=99)) => Family::HighCarbon,
            Some(Ok(31..=59)) => Family::Carbon,
            _ => Family::Mild,
        }),
        "40" | "41" | "43" | "44" | "46" | "47" | "48" | "51" | "81" | "86" | "87" | "88"
        | "92" | "93" => Some(Family::LowAlloy),
        "61" if digits.ends_with('8') || digits.ends_with("20") || digits.ends_with("50") => {
            Some(Family::LowAlloy)
        }
        _ => None,
    };
    match digits.len() {
        2 if leaded => steel(&format!("{digits}{}", head(rest).1)),
        5 if matches!(digits, "50100" | "51100" | "52100") => Some(Family::Bearing),
        4 => {
            let temper = matches!(head(rest).0, "t" | "o" | "f" | "h") && rest.len() <= 5;
            let wrought = temper && rest != "h" && matches!(head(rest).0, "t" | "o");
            let light = matches!(digits.as_bytes()[0], b'2' | b'3' | b'5'..=b'8');
            match steel(digits) {
                _ if wrought => Some(Family::Aluminium),
                None if light && (rest.is_empty() || temper) => Some(Family::Aluminium),
                of if rest.is_empty() || rest == "h" => of,
                _ => None,
            }
        }
        _ => None,
    }
}

/// The elements that names by composition count.
const ELEMENTS: [&str; 28] = [
    "ag", "al", "as", "b", "be", "bi", "cd", "co", "cr", "cu", "fe", "mg", "mn", "mo", "n", "nb",
    "ni", "p", "pb", "s", "si", "sn", "te", "ti", "v", "w", "zn", "zr",
];

/// Splits a row of elements and their amounts: `crmov12` is Cr, Mo, V.
fn elements(text: &str) -> Option<Vec<&'static str>> {
    let mut found = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let skipped = rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        if skipped.len() < rest.len() && !found.is_empty() {
            rest = skipped;
            continue;
        }
        let element = ELEMENTS
            .iter()
            .filter(|e| rest.starts_with(**e))
            .max_by_key(|e| e.len())?;
        found.push(*element);
        rest = rest.strip_prefix(*element)?;
    }
    (!found.is_empty()).then_some(found)
}

/// Names by composition: steels of EN 10027-1, aluminium of EN 573-2, titanium.
fn composed(name: &str) -> Option<Family> {
    let (letters, digits, rest) = head(name);
    let number = digits.parse::<u32>().unwrap_or_default();
    match letters {
        // Hundredths of a per cent of carbon, then the alloying elements.
        "x" => {
            let alloy = elements(rest)?;
            let chromium = alloy.first() == Some(&"cr");
            let nickel = alloy.contains(&"ni");
            let amount = chromium_of(rest);
            let rusts = amount < 12 || (number > 100 && amount < 14);
            Some(match (chromium, nickel) {
                (true, true) if number <= 15 && alloy.iter().any(|e| ["cu", "al"].contains(e)) => {
                    Family::PrecipitationHardening
                }
                (true, true) if number <= 15 => Family::Austenitic,
                (true, _) if !rusts => Family::Martensitic,
                _ => Family::Tool,
            })
        }
        "c" | "ck" | "cf" | "cm" | "cq" if (1..=3).contains(&digits.len()) => {
            let graded = ["", "d", "e", "r", "s", "u", "w"].contains(&rest);
            // Three digits alone are a copper alloy.
            let steel = graded && (digits.len() < 3 || !rest.is_empty());
            steel.then_some(match number {
                0..=25 => Family::Mild,
                26..=59 => Family::Carbon,
                _ => Family::HighCarbon,
            })
        }
        // Names of GB/T 20878 begin with tenths of a per cent of carbon: «9Cr18MoV».
        "" if !digits.is_empty() && chinese_stainless(rest) => Some(Family::Martensitic),
        // One letter alone, `10v`, is more like the name of a powder steel.
        "" if (2..=3).contains(&digits.len()) && rest.len() > 1 => {
            let alloy = elements(rest)?;
            let oil = number >= 85 && ["mn", "w"].contains(&alloy[0]);
            Some(match alloy[0] {
                "cr" if number >= 95 => Family::Bearing,
                _ if oil || number >= 105 => Family::Tool,
                _ => Family::LowAlloy,
            })
        }
        "s" | "st" if digits.len() >= 2 && (digits.len() == 3 || letters == "st") => {
            let structural = rest.is_empty() || rest.starts_with('j');
            structural.then_some(Family::Mild)
        }
        _ if name.starts_with("ti") => {
            elements(name.trim_end_matches("eli")).map(|_| Family::Titanium)
        }
        _ if name.starts_with("al") => elements(name).map(|_| Family::Aluminium),
        _ => None,
    }
}

/// The first amount behind elements in its first two digits, that of Cr where Cr comes first: 18 of
/// `crni1810`, written `CrNi18-10`. Where they say more than the 30 % that no steel has, it is the
/// first of them alone, 5 of `crmov51`. One digit alone is less than any stainless steel has, and
/// counts as nothing.
fn chromium_of(elements: &str) -> u32 {
    let (_, digits, _) = head(elements);
    let two = digits.get(..2).and_then(|two| two.parse().ok());
    match two.unwrap_or(0) {
        two @ 0..=30 => two,
        two => two / 10,
    }
}

/// Whether elements begin with enough chromium to be stainless: `cr18mov`.
fn chinese_stainless(text: &str) -> bool {
    let amount = text.strip_prefix("cr").map(|rest| head(rest).1);
    let amount = amount.and_then(|digits| digits.parse::<u32>().ok());
    amount.is_some_and(|cr| (12..=30).contains(&cr)) && elements(text).is_some()
}

/// Copper alloys: by composition, EN 1412 (`CW614N`), `C360`, and older names of DIN and BS.
fn copper(name: &str) -> Option<Family> {
    let (letters, digits, rest) = head(name);
    if name.starts_with("cu") && rest.chars().all(|c| c.is_ascii_alphanumeric() || c == '.') {
        let alloy = elements(name)?;
        let has = |element| alloy.contains(&element);
        return Some(match alloy.get(1) {
            Some(&"zn") if !has("ni") => Family::Brass,
            Some(&"sn" | &"al") => Family::Bronze,
            _ if has("ni") => Family::NickelSilver,
            _ => Family::Copper,
        });
    }
    match (letters, digits.len(), rest) {
        ("cw" | "cc", 3, "a" | "b" | "c" | "d") => Some(Family::Copper),
        ("cw" | "cc", 3, "g" | "k") | ("pb", 3, "") => Some(Family::Bronze),
        ("cw" | "cc", 3, "h" | "j") | ("ns", 3, "") => Some(Family::NickelSilver),
        ("cw" | "cc", 3, "l" | "m" | "n" | "p" | "r" | "s") | ("ms", 2, "") | ("cz", 3, "") => {
            Some(Family::Brass)
        }
        ("c" | "cda", 3, "") => copper_number(digits),
        ("ni", 2.., _) => Some(Family::Nickel),
        _ => None,
    }
}

/// The series of wrought copper alloys by their first three digits (UNS C10000 to C79900).
fn copper_number(digits: &str) -> Option<Family> {
    Some(match digits.parse::<u32>().ok()? {
        100..=199 => Family::Copper,
        200..=499 | 660..=699 => Family::Brass,
        500..=659 => Family::Bronze,
        700..=799 => Family::NickelSilver,
        _ => return None,
    })
}
