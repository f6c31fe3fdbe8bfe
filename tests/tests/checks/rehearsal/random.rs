//! Random runs: any cutter, machine, hold and cut in any two stocks.

use feeds_core::cut::{Cut, Descent, Direction, Path, Width};
use feeds_core::cutter::{Coating, Cutter, CutterMaterial, End};
use feeds_core::holding::Hold;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::plan::setup::{Given, Intent, Setup};
use feeds_core::quantity::{
    Force, Length, Power, Quantity, SpindleSpeed, Stiffness, Velocity, degrees, mm, n_per_mm2,
};
use feeds_core::rehearsal::{Dial, Runs};
use feeds_core::workpiece::{
    Body, ClassLaw, EdgeTerms, Factors, FeedBand, ForceLaw, ForceSpread, IsoGroup, Kienzle,
    Resistance, Stock,
};

/// Numbers that come again for the same seed (xorshift, G. Marsaglia 2003).
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        f64::from(u32::try_from(self.0 >> 32).unwrap()) / f64::from(u32::MAX)
    }

    pub(crate) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.unit()
    }

    pub(crate) fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        let mut left = of;
        while left.len() > 1 {
            let (first, last) = left.split_at(left.len() / 2);
            let share = f64::from(u32::try_from(first.len()).unwrap())
                / f64::from(u32::try_from(left.len()).unwrap());
            left = if self.chance(share) { first } else { last };
        }
        left[0]
    }
}

fn cutter(random: &mut Random) -> Cutter {
    let d = random.between(1.0, 10.0);
    let end = if random.chance(0.25) {
        End::Corner
    } else {
        End::Square
    };
    Cutter {
        diameter: mm(d),
        edges: random.one(&[2, 3, 4]),
        helix: degrees(random.between(0.0, 45.0)),
        end,
        corner_radius: mm(if end == End::Corner { 0.1 * d } else { 0.0 }),
        material: CutterMaterial::Carbide,
        coating: Coating::AlTiN,
        flute_length: mm(2.0 * d),
        stick_out: mm(random.between(2.5, 4.5) * d),
        shank: mm(d.max(3.0)),
        neck: None,
        core: None,
        edge_radius: random
            .chance(0.95)
            .then(|| mm(random.between(0.003, 0.012))),
        usual_edge_radius: Some(mm(0.006)),
        rounding: random.one(&[1.0, 1.0, 1.5]),
        modulus: n_per_mm2(600e3),
        rupture: n_per_mm2(3500.0),
        centre_cutting: Some(true),
    }
}

fn resistance(random: &mut Random) -> Resistance {
    let kienzle = |kc11: f64, m_c| Kienzle {
        kc11: n_per_mm2(kc11),
        m_c,
    };
    let (kc11, m_c) = (random.between(900.0, 2600.0), random.between(0.14, 0.3));
    let layered = random.chance(0.3);
    Resistance {
        law: ForceLaw::Class(ClassLaw {
            mean: kienzle(kc11, m_c),
            hardest: kienzle(if layered { 1.1 * kc11 } else { kc11 }, m_c),
            k_r: random.between(0.2, 0.6),
            k_a: random.between(-0.2, 0.4),
            edge: EdgeTerms::Measured {
                along: Stiffness::from_si(random.between(15e3, 50e3)),
                across: Stiffness::from_si(random.between(15e3, 70e3)),
                scale: random.between(0.8, 1.2),
            },
            capped: random.chance(0.6),
            measured: (mm(0.003), mm(0.3)),
        }),
        body: Some(Body {
            hardness: n_per_mm2(9.81 * random.between(100.0, 400.0)),
            modulus: n_per_mm2(210e3),
        }),
        land: random.one(&[mm(0.0), mm(0.0), mm(0.05)]),
        factors: Factors::default(),
        spread: ForceSpread {
            cut: 0.12,
            edge: 0.30,
            across: 0.28,
            land: 0.35,
        },
        weak: false,
    }
}

fn stock(random: &mut Random) -> Stock {
    let low = random.between(30.0, 120.0);
    let feed = random.between(0.005, 0.03);
    let metres = |v: f64| Velocity::from_si(v / 60.0);
    Stock {
        group: IsoGroup::P,
        resistance: random.chance(0.95).then(|| resistance(random)),
        v_c: random.chance(0.9).then(|| (metres(low), metres(1.6 * low))),
        f_z: random.chance(0.9).then(|| FeedBand {
            least: mm(feed),
            start: mm(2.0 * feed),
            most: mm(4.0 * feed),
            thinned: false,
        }),
        chip_floor: random.one(&[0.2, 0.3, 0.3, 0.4]),
        hard: false,
        layered: false,
    }
}

fn machine(random: &mut Random) -> Machine {
    Machine {
        n_min: SpindleSpeed::per_minute(100.0),
        n_max: SpindleSpeed::per_minute(random.between(5000.0, 24_000.0)),
        steps: Vec::new(),
        v_f_max: Some(Velocity::from_si(random.between(500.0, 3000.0) / 60e3)),
        power: vec![PowerPoint {
            n: SpindleSpeed::per_minute(1500.0),
            power: Power::from_si(random.between(50.0, 800.0)),
        }],
        efficiency: 0.75,
        stiffness: random
            .chance(0.8)
            .then(|| Stiffness::from_si(random.between(5e6, 2e7))),
        runout: random.chance(0.7).then(|| mm(random.between(0.0, 0.02))),
        backlash: random.chance(0.7).then(|| mm(random.between(0.0, 0.1))),
        drag: Some(Force::from_si(random.between(10.0, 80.0))),
        collet_grip: random.chance(0.7).then(|| Force::from_si(800.0)),
        acceleration: None,
        light: true,
    }
}

fn hold(random: &mut Random) -> Hold {
    Hold {
        clamp_force: random
            .chance(0.9)
            .then(|| Force::from_si(random.between(500.0, 5000.0))),
        friction: 0.12,
        faces: 2,
        grip: random.chance(0.8).then(|| mm(random.between(2.0, 6.0))),
        height: Some(mm(random.between(1.0, 8.0))),
    }
}

fn cut(random: &mut Random, d: Length) -> Cut {
    let path = random.one(&[Path::Slot, Path::Side, Path::Side, Path::Pocket, Path::Face]);
    let wide = random.between(0.03, 0.5);
    Cut {
        path,
        direction: random.one(&[Direction::Down, Direction::Up]),
        a_p: d * random.between(0.05, 1.0),
        width: (path != Path::Slot).then(|| Width::Across(d * wide)),
        wall: None,
        corner: path == Path::Pocket && random.chance(0.4),
        previous: None,
        tilt: degrees(0.0),
        slope: degrees(0.0),
        entry: random.chance(0.3).then(|| Descent::Ramp(degrees(2.0))),
        tolerance: random.chance(0.5).then(|| mm(random.between(0.005, 0.05))),
    }
}

/// Two runs with their overrides; now and then the stock is the same, or the overrides are full.
pub(crate) fn pair_of_runs(random: &mut Random) -> (Runs, Dial) {
    let cutter = cutter(random);
    let d = cutter.diameter;
    let n = SpindleSpeed::per_minute(random.between(2000.0, 20_000.0));
    let v_f = d * random.between(0.0005, 0.01) * f64::from(cutter.edges) * n.turns();
    let cut = cut(random, d);
    let setup = Setup {
        typed_in: feeds_core::symbol::System::Metric,
        guides: tests::setups::guides(&cutter, &cut, true),
        cut,
        cutter,
        stock: stock(random),
        machine: random.chance(0.9).then(|| machine(random)),
        hold: random.chance(0.9).then(|| hold(random)),
        given: Given {
            n: Some(n),
            v_f: Some(v_f),
            ..Given::default()
        },
        intent: random.one(&[Intent::Cautious, Intent::Production]),
        modes: None,
        own: None,
        origins: Vec::new(),
    };
    let mut stand_in = setup.clone();
    if random.chance(0.9) {
        stand_in.stock = stock(random);
    }
    let runs = Runs::programmed(&setup, &stand_in, n, v_f);
    let mut share = || {
        if random.chance(0.3) {
            1.0
        } else {
            random.between(0.3, 2.0)
        }
    };
    let dial = Dial {
        spindle: share(),
        feed: share(),
    };
    (runs, dial)
}
