//! Everything the program prints: no share below nothing, no word the trade does not say, no unit
//! of the other system.

use crate::shell::{folder, ran_line, text};
use crate::walk::{PLAIN, frame, press};
use feeds_core::symbol::System;
use feeds_tui::arguments::Arguments;
use feeds_tui::demo::NamedPass;
use feeds_tui::pass::resolve::TablesOnly;
use feeds_tui::tui::state::ScreenState;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

/// What a shop in millimetres types: a cutter, a slot, a wall, a ball, a slot too deep.
static METRIC: Typed = Typed {
    word: "metric",
    cutter: "--diameter 3mm --flutes 3 --coating altin --helix 38deg --flute-length 8mm \
             --stick-out 14mm --shank 6mm --edge-radius 6um",
    machine: "--runout 5um \
              --spindle-most 2800rpm --feed-most 1500mm/min --power 600W --base-speed 1500rpm \
              --stiffness 8N/um --collet-grip 600N --backlash 0.05mm --drag 60N \
              --clamp-force 3kN --grip 4mm --height 3mm --tolerance 0.03mm",
    slot: "--path slot --depth 0.6mm --entry ramp --centre-cutting yes",
    side: "--path side --depth 2mm --width 0.3mm --direction conventional",
    pocket: "--path pocket --depth 0.5mm --width 0.4mm --corner --entry helix",
    face: "--path face --depth 0.2mm --width 2mm",
    deep: "--path slot --depth 7mm",
    thin: "--path side --depth 1mm --width 0.05mm --feed 10mm/min",
    range: "width=0.1mm..2mm",
    wall: "0.02mm",
    size: "'2 mm to 4 mm'",
    programme: "G21 G90 G17 G94 G54\nT1 M6\nS2800 M3\nG0 X5 Y5\nZ2\nG1 Z-0.5 F60\nX20 F150\n\
                G2 X20 Y9 I0 J2\nG0 Z10\nM30\n",
    tool: "1=D3mm,z3,plunge=no",
    stock: "X0mm..30mm,Y0mm..20mm,Z-9mm..0mm",
    foreign: &[
        "in", "in/min", "ft/min", "thou", "ksi", "lbf", "lbf/in", "in3/min", "hp", "in3",
    ],
};

/// The same of an inch shop.
static INCH: Typed = Typed {
    word: "inch",
    cutter: "--diameter 1/8in --flutes 3 --coating altin --helix 38deg --flute-length 0.32in \
             --stick-out 0.55in --shank 1/4in --edge-radius 0.24thou",
    machine: "--runout 0.2thou \
              --spindle-most 2800rpm --feed-most 60in/min --power 0.8hp --base-speed 1500rpm \
              --stiffness 46000lbf/in --collet-grip 135lbf --backlash 2thou --drag 13lbf \
              --clamp-force 670lbf --grip 0.16in --height 0.12in --tolerance 1.2thou",
    slot: "--path slot --depth 0.024in --entry ramp --centre-cutting yes",
    side: "--path side --depth 0.08in --width 0.012in --direction conventional",
    pocket: "--path pocket --depth 0.02in --width 0.016in --corner --entry helix",
    face: "--path face --depth 0.008in --width 0.08in",
    deep: "--path slot --depth 0.28in",
    thin: "--path side --depth 0.04in --width 0.002in --feed 0.4in/min",
    range: "width=0.004in..0.08in",
    wall: "0.8thou",
    size: "'1/16 in to 1/8 in'",
    programme: "G20 G90 G17 G94 G54\nT1 M6\nS2800 M3\nG0 X0.2 Y0.2\nZ0.1\nG1 Z-0.02 F2.4\n\
                X0.8 F6\nG2 X0.8 Y0.36 I0 J0.08\nG0 Z0.4\nM30\n",
    tool: "1=D1/8in,z3,plunge=no",
    stock: "X0in..1.2in,Y0in..0.8in,Z-0.35in..0in",
    foreign: &[
        "mm", "mm/min", "m/min", "um", "N/mm2", "N/mm", "N/um", "cm3/min", "mm3", "cm3", "N", "kN",
        "GPa", "W", "m/s2", "J/mm3",
    ],
};

/// The keys to each view.
#[rustfmt::skip]
const VIEWS: &[&str] = &[
    "", "<Tab>", "<Tab><Tab>", "<Tab><Tab><Tab>", "<Tab><Tab><Tab><Tab>", "c", "d", "o", "w", "s",
    "H", "O", "F", "J", "S", "R", "?", "<Down>V", "L", "L<Right>", "i",
    "<Tab><Tab><Tab><Down><Down>V",
];

struct Typed {
    word: &'static str,
    cutter: &'static str,
    machine: &'static str,
    slot: &'static str,
    side: &'static str,
    pocket: &'static str,
    face: &'static str,
    deep: &'static str,
    thin: &'static str,
    range: &'static str,
    wall: &'static str,
    size: &'static str,
    programme: &'static str,
    tool: &'static str,
    stock: &'static str,
    foreign: &'static [&'static str],
}

const STOCK: &str = "--stock 1095 --condition annealed";

impl Typed {
    fn pass(&self, cut: &str) -> String {
        format!("{} {STOCK} {} {cut}", self.cutter, self.machine)
    }

    fn cuts(&self) -> [&'static str; 6] {
        [
            self.slot,
            self.side,
            self.pocket,
            self.face,
            self.deep,
            self.thin,
        ]
    }

    /// A folder with the shop, a job and a programme of this system.
    fn home(&self) -> std::path::PathBuf {
        let home = folder(&format!("printed-{}", self.word));
        fs::write(home.join("posted.nc"), self.programme).unwrap();
        let entries = |flags: &str| {
            let parts = flags.split("--").skip(1).map(|part| {
                let (key, value) = part.trim().split_once(' ').unwrap_or((part.trim(), "yes"));
                format!("{key}='{}'", value.trim().trim_matches('\''))
            });
            parts.collect::<Vec<_>>().join(" ")
        };
        let machine: Vec<&str> = self.machine.split(" --clamp").collect();
        let mut lines = vec![
            format!("feeds shop set units {}", self.word),
            format!("feeds shop add cutter stub {}", entries(self.cutter)),
            "feeds shop add stock billet stock=1095 condition=annealed".to_owned(),
            format!("feeds shop add machine 'the mill' {}", entries(machine[0])),
            format!("feeds job new own.json fitting {}", entries(&self.pass(""))),
        ];
        for (at, cut) in self.cuts().into_iter().enumerate() {
            lines.push(format!(
                "feeds job add own.json 'pass {at}' {}",
                entries(cut)
            ));
        }
        for line in lines {
            let ran = ran_line(&line, &home);
            assert!(ran.status.success(), "{line}: {}", text(&ran.stderr));
        }
        home
    }

    /// Commands that answer about passes, jobs, programmes and the shop.
    fn answers(&self) -> Vec<String> {
        let mut lines = Vec::new();
        for cut in self.cuts() {
            let pass = self.pass(cut);
            for command in [
                "cut",
                "cut --all",
                "cut --intent production --wear worn --checks",
                "rehearse --checks --stand-in 1018 --stand-in-condition hr",
            ] {
                lines.push(format!("feeds {command} {pass}"));
            }
        }
        let (slot, side) = (self.pass(self.slot), self.pass(self.side));
        let (size, range) = (self.size, self.range);
        let open = side.replace(self.cutter, "");
        let (audit, job) = ("feeds audit posted.nc", "own.json");
        lines.extend([
            format!("feeds cut --working {slot}"),
            format!("feeds cut {side} --sweep {range} --points 5"),
            format!("feeds fastest --all {side}"),
            format!("feeds fastest --shelf --diameter {size} {open} --top 2"),
            format!(
                "feeds rehearse {slot} --feed-override 40% --measured {}",
                self.wall
            ),
            format!("feeds listen squeal {side}"),
            format!("feeds listen 'chatter marks' {slot}"),
            format!("feeds listen burr --job {job} --pass 2"),
            format!("feeds rehearse --job {job} --stand-in 1018 --stand-in-condition hr"),
            format!("feeds rehearse --job {job} --pass 1 --all"),
            format!("feeds job show {job}"),
            format!("feeds sheet {job}"),
            format!("feeds sheet {job} --html"),
            format!("feeds sheet {job} --stand-in 1018 --stand-in-condition hr"),
            format!("feeds --job {job}"),
            "feeds".to_owned(),
            format!(
                "{audit} --tool {} --stock {} --machine 'the mill'",
                self.tool, self.stock
            ),
            format!("{audit} --job {job}"),
            "feeds shop list".to_owned(),
            "feeds shop show stub".to_owned(),
        ]);
        lines
    }

    /// Help, lessons, exercises, lists.
    fn texts() -> Vec<String> {
        let mut lines = vec!["feeds --help".to_owned(), "feeds formula".to_owned()];
        for command in Arguments::whole().get_subcommands() {
            let name = command.get_name();
            lines.push(format!("feeds {name} --help"));
            lines.push(format!("feeds man {name}"));
            let subs = command.get_subcommands();
            lines.extend(subs.map(|sub| format!("feeds {name} {} --help", sub.get_name())));
        }
        let lessons = feeds_core::lesson::short::LESSONS.iter();
        lines.extend(lessons.map(|l| format!("feeds practice --lesson {}", l.name)));
        lines.extend((1..=7).map(|l| format!("feeds practice --level {l} --count 4 --seed {l}")));
        lines.extend([
            "feeds practice --sheet --count 8 --seed 5".to_owned(),
            "feeds listen".to_owned(),
            "feeds shop set units cubits".to_owned(),
            "feeds cut".to_owned(),
            "feeds cut --diameter 6 --depth 900mm".to_owned(),
        ]);
        lines
    }

    fn system(&self) -> System {
        System::of_word(self.word).unwrap()
    }

    /// Every view of the screens, on two sizes, each with the keys that lead to it.
    fn frames(&self) -> Vec<(String, Vec<String>)> {
        let mut frames = Vec::new();
        let passes = self.cuts().map(|cut| {
            let flags = self.pass(cut);
            let mut typed = feeds_tui::pass::description::Description::default();
            for part in flags.split("--").skip(1) {
                let (key, value) = part.trim().split_once(' ').unwrap_or((part.trim(), "yes"));
                typed.set(key, value.trim().trim_matches('\'')).unwrap();
            }
            NamedPass {
                name: cut.split(' ').nth(1).unwrap().to_owned(),
                typed,
            }
        });
        for at in [0, 1, 4] {
            for keys in VIEWS {
                let system = self.system();
                let mut state =
                    ScreenState::new(passes.to_vec(), std::rc::Rc::new(TablesOnly), system, PLAIN);
                press(&mut state, &"n".repeat(at));
                press(&mut state, keys);
                state.live.work_out_how_sure();
                for (width, height) in [(80, 24), (120, 40)] {
                    let name = format!("pass {at}, keys {keys}, {width}");
                    frames.push((name, frame(&state, width, height)));
                }
            }
        }
        frames
    }
}

/// What a line prints, answer and errors; a page without its tags.
fn printed(line: &str, home: &Path) -> Vec<String> {
    let output = ran_line(line, home);
    let said = text(&output.stdout) + &text(&output.stderr);
    if !said.contains("<style>") {
        let rows = said.lines().map(str::to_owned);
        // What a book prints, and the formulas of the working, stay as they are printed.
        let working = line.contains("--working");
        let heads = ["sources", "forces"];
        let is_quoted = |row: &str| heads.contains(&row) || working && row.starts_with("1. ");
        return rows.take_while(|row| !is_quoted(row)).collect();
    }
    let body = said.split("</style>").nth(1).unwrap();
    let mut plain = String::new();
    for part in body.split('<') {
        let (_, after) = part.split_once('>').unwrap_or(("", part));
        plain.push_str(after);
        plain.push('\n');
    }
    plain.lines().map(str::to_owned).collect()
}

/// Whether a number below nothing stands before a per cent sign.
fn below_nothing(line: &str) -> bool {
    let mut before = "";
    for word in line
        .split([' ', '(', ')', ',', ';', '>', '"', ':', '|'])
        .filter(|w| !w.is_empty())
    {
        let number = if word.starts_with('%') { before } else { word };
        let minus = number.strip_prefix(['-', '−']);
        let digits = minus.is_some_and(|n| n.starts_with(|c: char| c.is_ascii_digit()));
        if digits && (word.starts_with('%') || word.ends_with('%')) {
            return true;
        }
        before = word;
    }
    false
}

/// What is printed: by which line or which keys, and its rows.
struct Page {
    typed: &'static Typed,
    name: String,
    rows: Vec<String>,
}

/// Everything, in both systems; scripts read the same in both.
static PAGES: LazyLock<Vec<Page>> = LazyLock::new(|| {
    let mut pages = Vec::new();
    for typed in [&METRIC, &INCH] {
        let home = typed.home();
        let mut put = |name: String, rows| pages.push(Page { typed, name, rows });
        for line in typed.answers().into_iter().chain(Typed::texts()) {
            let rows = printed(&line, &home);
            assert!(!rows.is_empty(), "{line} says nothing");
            put(line, rows);
        }
        for line in typed.answers() {
            let line = format!("{line} --json");
            let rows = printed(&line, &home);
            put(line, rows);
        }
        for (name, rows) in typed.frames() {
            put(name, rows);
        }
    }
    pages
});

/// The rows of all pages of which something is so.
fn found(is: impl Fn(&Page, &str) -> Option<String>) -> String {
    let rows = PAGES
        .iter()
        .flat_map(|page| page.rows.iter().map(move |row| (page, row)));
    let found = rows.filter_map(|(page, row)| {
        let said = is(page, row)?;
        Some(format!("{} {}: {said}: {row}", page.typed.word, page.name))
    });
    let found: Vec<String> = found.collect();
    found.join("\n")
}

/// -186 % «no harm», -631 %, the example itself at -335 %.
#[test]
fn no_share_below_nothing_is_printed_anywhere() {
    let found = found(|_, row| below_nothing(row).then(String::new));
    assert!(found.is_empty(), "{}\n{found}", found.lines().count());
    assert!(below_nothing("caution  -186 % cutting speed") && below_nothing("(-5%)"));
    assert!(!below_nothing("depth 20 %, 12 - 15 %, X-17 to 5 %"));
}

/// «governs: highest spindle speed», «inside every margin»: no machinist says so.
#[test]
fn nothing_governs_and_nothing_has_a_margin() {
    let words = ["margin", "govern"];
    let found = found(|page, row| {
        // Keys of scripts keep their names.
        if page.name.ends_with("--json") {
            return None;
        }
        let low = row.to_lowercase();
        words
            .iter()
            .find(|word| low.contains(**word))
            .map(|w| (*w).to_owned())
    });
    assert!(found.is_empty(), "{}\n{found}", found.lines().count());
}

/// The first unit of the other system in a line.
fn foreign(line: &str, units: &[&str]) -> Option<String> {
    let splits = [
        ' ', ',', ';', '(', ')', ':', '|', '│', '«', '»', '\'', '"', '[', ']',
    ];
    let words: Vec<&str> = line.split(splits).filter(|w| !w.is_empty()).collect();
    for (at, word) in words.iter().enumerate() {
        let word = word.trim_end_matches('.');
        let number = |text: &str| {
            let digits = |c: char| c.is_ascii_digit() || ['.', '/'].contains(&c);
            let last = text.rsplit(|c: char| !digits(c)).next().unwrap_or("");
            let unit = text.starts_with(|c: char| "Nm".contains(c));
            !unit && last.starts_with(|c: char| c.is_ascii_digit())
        };
        // A cutter of the tables is called by its size.
        let shapes = ["square", "corner", "ball"];
        if words.get(at + 1).is_some_and(|next| shapes.contains(next)) {
            continue;
        }
        // What a quantity is called: k_c1.1 is that of a chip of 1 mm.
        if at > 1 && words[at - 2..=at] == ["at", "1", "mm"] {
            continue;
        }
        let behind = at > 0 && number(words[at - 1]) && units.contains(&word);
        let glued = units
            .iter()
            .any(|u| word.strip_suffix(u).is_some_and(number));
        let heading = line.contains(&format!("[{word}]")) && units.contains(&word);
        if behind || glued || heading {
            return Some(words[at.saturating_sub(1)..=at].join(" "));
        }
    }
    None
}

/// Nothing was kept; help, prompts, cautions and lessons stayed metric.
#[test]
fn an_inch_shop_reads_no_millimetre_and_a_metric_one_no_inch() {
    let found = found(|page, row| {
        // What scripts read has units of its own, and so has what a book prints.
        let quotes = [
            "--json",
            "keys w, 80",
            "keys w, 120",
            "keys s, 80",
            "keys s, 120",
        ];
        let scripts = quotes.iter().any(|end| page.name.ends_with(end));
        foreign(row, page.typed.foreign).filter(|_| !scripts)
    });
    assert!(found.is_empty(), "{}\n{found}", found.lines().count());
    assert_eq!(
        foreign("depth 0.5 mm", INCH.foreign).as_deref(),
        Some("0.5 mm")
    );
    assert!(foreign("D=6mm", INCH.foreign).is_some());
    assert_eq!(foreign("4 in 5 levels", INCH.foreign), None);
}
