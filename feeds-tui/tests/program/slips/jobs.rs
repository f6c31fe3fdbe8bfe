//! Sane jobs: what a maker of small fittings would set, inside ranges of handbooks.
//!
//! The ranges are from memory, and none is of this program: cutting speeds and feeds per tooth of
//! coated carbide as Machinery's Handbook and makers' tables give them, at the low end that light
//! mills are run at; flutes of 2 to 3 diameters (DIN 6527) and shanks of DIN 6535; depths and
//! widths that are usual on light mills; vises closed by hand (2 to 6 kN); collets of DIN 6499 (5
//! to 20 um at the tip); light mills of 400 to 1500 W.

use feeds_core::kernel::seed::Seed;

/// A number and a unit as they are typed.
#[derive(Clone, Debug)]
pub(crate) struct Amount {
    pub(crate) number: f64,
    pub(crate) unit: &'static str,
}

impl Amount {
    /// In three digits, as people type.
    fn text(&self) -> String {
        let number: f64 = format!("{:.2e}", self.number).parse().unwrap();
        format!("{number} {}", self.unit).trim_end().to_owned()
    }

    /// The unit of the same size in the other system, 25.4 times as large or as small.
    pub(crate) fn other_system(&self) -> Option<&'static str> {
        Some(match self.unit {
            "mm" => "in",
            "in" => "mm",
            "um" => "thou",
            "thou" => "um",
            "mm/min" => "in/min",
            "in/min" => "mm/min",
            _ => return None,
        })
    }

    pub(crate) fn is_inch(&self) -> bool {
        matches!(self.unit, "in" | "thou" | "in/min")
    }
}

/// One of a list.
pub(crate) fn pick<T: Clone>(of: &[T], seed: &mut Seed) -> T {
    let at = seed.bits() % u64::try_from(of.len()).unwrap();
    of[usize::try_from(at).unwrap()].clone()
}

/// Cutting speeds in m/min, and feeds per tooth in thousandths of the diameter.
struct Stock {
    name: &'static str,
    condition: &'static str,
    coating: &'static str,
    v_c: [f64; 2],
    f_z: [f64; 2],
}

const fn stock(
    [name, condition, coating]: [&'static str; 3],
    v_c: [f64; 2],
    f_z: [f64; 2],
) -> Stock {
    Stock {
        name,
        condition,
        coating,
        v_c,
        f_z,
    }
}

static STOCKS: [Stock; 8] = [
    stock(["1018", "hot rolled", "altin"], [60.0, 110.0], [4.0, 8.0]),
    stock(["1045", "annealed", "altin"], [60.0, 100.0], [4.0, 8.0]),
    stock(["1095", "annealed", "altin"], [45.0, 80.0], [4.0, 7.0]),
    stock(["O1", "annealed", "altin"], [45.0, 75.0], [4.0, 7.0]),
    stock(["304", "annealed", "altin"], [35.0, 60.0], [4.0, 7.0]),
    stock(["6061", "T6", "none"], [100.0, 250.0], [5.0, 12.0]),
    stock(["Ti64", "annealed", "altin"], [25.0, 45.0], [4.0, 7.0]),
    stock(["C360", "half hard", "none"], [80.0, 150.0], [5.0, 10.0]),
];

/// Diameters in mm, or in fractions of an inch.
const MILLIMETRES: [f64; 8] = [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0];
const INCHES: [f64; 5] = [0.0625, 0.125, 0.1875, 0.25, 0.3125];

/// Path, depth and width over the diameter.
const PATHS: [(&str, [f64; 2], [f64; 2]); 5] = [
    ("slot", [0.1, 0.25], [1.0, 1.0]),
    ("pocket", [0.1, 0.25], [0.3, 0.5]),
    ("side", [0.3, 1.0], [0.05, 0.15]),
    ("face", [0.03, 0.1], [0.5, 0.8]),
    ("ball-finish", [0.02, 0.08], [0.02, 0.06]),
];

/// How a quantity is drawn again.
#[derive(Clone, Debug)]
enum Value {
    Word(&'static str),
    /// With the range that it lies in, in its unit.
    Drawn(Amount, [f64; 2]),
}

/// A job that is sane, in the order its entries are typed.
#[derive(Clone, Debug)]
pub(crate) struct SaneJob(Vec<(&'static str, Value)>);

impl SaneJob {
    pub(crate) fn drawn(seed: &mut Seed) -> Self {
        let mut job = Drawing {
            inch: seed.unit() < 0.5,
            seed,
            entries: Vec::new(),
        };
        job.all();
        Self(job.entries)
    }

    pub(crate) fn entries(&self) -> Vec<(&'static str, String)> {
        let text = |value: &Value| match value {
            Value::Word(word) => (*word).to_owned(),
            Value::Drawn(amount, _) => amount.text(),
        };
        self.0
            .iter()
            .map(|(key, value)| (*key, text(value)))
            .collect()
    }

    /// Where its quantities are, with their keys.
    pub(crate) fn quantities(&self) -> Vec<(usize, &'static str)> {
        let all = self.0.iter().enumerate();
        let drawn = all.filter(|(_, (_, value))| matches!(value, Value::Drawn(..)));
        drawn.map(|(at, (key, _))| (at, *key)).collect()
    }

    pub(crate) fn amount(&self, at: usize) -> &Amount {
        match &self.0[at].1 {
            Value::Drawn(amount, _) => amount,
            Value::Word(word) => panic!("{word} is no quantity"),
        }
    }

    pub(crate) fn with(&self, at: usize, amount: Amount) -> Self {
        let mut job = self.clone();
        if let Value::Drawn(old, _) = &mut job.0[at].1 {
            *old = amount;
        }
        job
    }

    /// The same with one entry drawn again from its range.
    pub(crate) fn one_drawn_anew(&self, seed: &mut Seed) -> Self {
        let (at, _) = pick(&self.quantities(), seed);
        let Value::Drawn(amount, [least, most]) = &self.0[at].1 else {
            return self.clone();
        };
        let number = seed.between(*least, *most);
        let number = if amount.unit.is_empty() {
            number.round()
        } else {
            number
        };
        self.with(
            at,
            Amount {
                number,
                ..amount.clone()
            },
        )
    }
}

struct Drawing<'s> {
    seed: &'s mut Seed,
    inch: bool,
    entries: Vec<(&'static str, Value)>,
}

impl Drawing<'_> {
    fn word(&mut self, key: &'static str, word: &'static str) {
        self.entries.push((key, Value::Word(word)));
    }

    /// A quantity somewhere in a range.
    fn put(&mut self, key: &'static str, range: [f64; 2], unit: &'static str) -> f64 {
        let number = self.seed.between(range[0], range[1]);
        let number = if unit.is_empty() {
            number.round()
        } else {
            number
        };
        self.fixed(key, number, range, unit);
        number
    }

    fn fixed(&mut self, key: &'static str, number: f64, range: [f64; 2], unit: &'static str) {
        let amount = Amount { number, unit };
        self.entries.push((key, Value::Drawn(amount, range)));
    }

    /// A length in mm, typed in the shop's system.
    fn length(&mut self, key: &'static str, range: [f64; 2]) -> f64 {
        let (unit, size) = if self.inch { ("in", 25.4) } else { ("mm", 1.0) };
        size * self.put(key, range.map(|mm| mm / size), unit)
    }

    /// A length in um, typed in the shop's system.
    fn small(&mut self, key: &'static str, range: [f64; 2]) {
        let (unit, size) = if self.inch {
            ("thou", 25.4)
        } else {
            ("um", 1.0)
        };
        self.put(key, range.map(|um| um / size), unit);
    }

    fn sometimes(&mut self) -> bool {
        self.seed.unit() < 0.4
    }

    fn all(&mut self) {
        let at = pick(&[0_usize, 1, 2, 3, 4, 5, 6, 7], self.seed);
        let stock = &STOCKS[at];
        self.word("stock", stock.name);
        self.word("condition", stock.condition);
        self.word("coating", stock.coating);
        let d = self.cutter();
        let top = self.machine();
        let (path, depth, width) = pick(&PATHS, self.seed);
        self.word("path", path);
        if path == "ball-finish" {
            self.word("end", "ball");
        }
        self.length("depth", depth.map(|share| share * d));
        if path != "slot" {
            self.length("width", width.map(|share| share * d));
        }
        self.settings(d, top, stock);
        // A face has no wall.
        if path != "face" && self.sometimes() {
            self.small("tolerance", [10.0, 50.0]);
        }
        if path == "pocket" && self.sometimes() {
            self.word("entry", "ramp");
            self.put("ramp-angle", [1.0, 2.0], "deg");
        }
    }

    /// Gives the diameter in mm.
    fn cutter(&mut self) -> f64 {
        let (all, unit, size) = if self.inch {
            (&INCHES[..], "in", 25.4)
        } else {
            (&MILLIMETRES[..], "mm", 1.0)
        };
        let number = pick(all, self.seed);
        self.fixed("diameter", number, [number, number], unit);
        let d = number * size;
        self.put("edges", [2.0, 4.0], "");
        let shank = if d < 3.0 {
            3.175_f64.min(d.max(3.0))
        } else {
            d
        };
        if d < 3.0 || self.sometimes() {
            self.fixed("shank", shank / size, [shank / size, shank / size], unit);
        }
        if self.sometimes() {
            self.length("flute-length", [2.0 * d, 2.6 * d]);
        }
        let out = if d < 3.0 { [3.0, 4.0] } else { [2.7, 4.0] };
        self.length("stick-out", out.map(|times| times * shank));
        if self.sometimes() {
            self.put("helix", [30.0, 45.0], "deg");
        }
        d
    }

    /// Gives the highest spindle speed.
    fn machine(&mut self) -> f64 {
        let top = self.put("spindle-most", [5_000.0, 24_000.0], "rpm");
        for (key, range, unit) in [
            ("power", [400.0, 1500.0], "W"),
            ("stiffness", [5.0, 20.0], "N/um"),
            ("clamp-force", [2.0, 6.0], "kN"),
        ] {
            if self.sometimes() {
                self.put(key, range, unit);
            }
        }
        if self.sometimes() {
            self.small("runout", [5.0, 20.0]);
        }
        if self.sometimes() {
            self.length("grip", [3.0, 8.0]);
            self.length("height", [1.0, 4.0]);
        }
        top
    }

    /// Speed and feed, where somebody knows them.
    fn settings(&mut self, d: f64, top: f64, stock: &Stock) {
        if !self.sometimes() {
            return;
        }
        let turns = stock
            .v_c
            .map(|v_c| (1000.0 * v_c / (std::f64::consts::PI * d)).min(top));
        let n = self.put("spindle", turns, "rpm");
        let f_z = stock.f_z.map(|share| share * d / 1000.0);
        let edges = match &self.entries.iter().find(|(key, _)| *key == "edges") {
            Some((_, Value::Drawn(amount, _))) => amount.number,
            _ => 2.0,
        };
        if self.sometimes() {
            self.length("feed-per-tooth", f_z);
        } else {
            let (unit, size) = if self.inch {
                ("in/min", 25.4)
            } else {
                ("mm/min", 1.0)
            };
            self.put("feed", f_z.map(|f_z| f_z * n * edges / size), unit);
        }
    }
}
