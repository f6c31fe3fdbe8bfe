//! Numbers at the edge: what is not a number, endless, minus nothing, next to nothing, and one step
//! of the last digit either side of every bound, singly and in pairs. Each is refused in a sentence
//! or worked out to finite numbers, and a bound takes exactly what it states.

use feeds_core::cut::{Descent, Path, Wall, WallSide, Width};
use feeds_core::cutter::Neck;
use feeds_core::entry::{DoorRange, entries};
use feeds_core::error::EntryError;
use feeds_core::formula::recipe::{Kind, recipes, run};
use feeds_core::notebook::{Recorded, Silent};
use feeds_core::plan::Planner;
use feeds_core::plan::setup::{Given, Setup, SetupError};
use feeds_core::quantity::{Quantity, SpindleSpeed, mm};
use feeds_core::workpiece::ForceLaw;
use std::panic::{AssertUnwindSafe, catch_unwind};
use tests::setups;

/// What nobody means and a program may be handed.
const ODD: [f64; 9] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    -0.0,
    5e-324,
    f64::MIN_POSITIVE,
    -1.0,
    f64::MAX,
    1e16,
];

/// The same as it is typed.
const TYPED: [&str; 10] = [
    "nan", "inf", "-inf", "1e400", "-1e400", "-0", "4.9e-324", "2.2e-308", "1.7e308", "1e-400",
];

/// Doors of the register.
fn doors() -> impl Iterator<Item = DoorRange> {
    entries().flat_map(|e| e.pass().into_iter().chain(e.formula()))
}

/// A number in its shortest form, with the unit of a range.
fn typed(door: &DoorRange, number: f64) -> String {
    let unit = door.range.symbol.unit.text;
    format!("{number:?} {unit}").trim_end().to_owned()
}

#[test]
fn every_entry_takes_exactly_its_range_to_the_last_digit() {
    for door in doors() {
        let range = &door.range;
        let read = |number: f64| range.read(&typed(&door, number), door.why);
        for (end, beyond, within) in [
            (range.least, range.least.next_down(), range.least.next_up()),
            (range.most, range.most.next_up(), range.most.next_down()),
        ] {
            let key = door.key;
            assert!(read(end).is_ok(), "{key} {end:?}: {:?}", read(end));
            let refused = read(beyond).unwrap_err();
            let outside = matches!(refused, EntryError::OutOfRange { .. });
            assert!(outside, "{key} {beyond:?}: {refused}");
            // A whole number has no neighbour of the last digit.
            assert!(range.whole || read(within).is_ok(), "{key} {within:?}");
        }
    }
}

#[test]
fn odd_numbers_are_refused_by_every_entry_or_are_finite() {
    for door in doors() {
        for text in TYPED {
            let text = format!("{text} {}", door.range.symbol.unit.text);
            match door.range.read(&text, door.why) {
                Ok(si) => {
                    assert!(
                        si.is_finite() && (si != 0.0 || si.to_bits() == 0),
                        "{text}: {si}"
                    );
                    let (least, most) = door.range.ends();
                    assert!(si >= least.si && si <= most.si, "{}: {text}", door.key);
                }
                Err(error) => assert!(error.to_string().len() > 10, "{error}"),
            }
        }
        let nan = door.range.check(f64::NAN, door.why);
        assert!(
            matches!(nan, Err(EntryError::OutOfRange { .. })),
            "{}",
            door.key
        );
    }
}

/// Odd texts and the ends of its range.
fn texts(kind: &Kind) -> Vec<String> {
    let Kind::Quantity(range) = kind else {
        return TYPED.iter().map(|text| (*text).to_owned()).collect();
    };
    let unit = range.symbol.unit.text;
    let odd = TYPED.iter().map(|text| format!("{text} {unit}"));
    let ends = [range.least, range.most].map(|end| format!("{end:?} {unit}"));
    odd.chain(ends).collect()
}

#[test]
fn every_formula_refuses_odd_entries_or_gives_finite_results() {
    let mut worked = 0;
    for recipe in recipes() {
        let good: Vec<(&str, &str)> = recipe
            .fields
            .iter()
            .filter(|field| field.required)
            .map(|field| (field.key, field.example))
            .collect();
        let mut try_out = |changed: &[(&str, &str)]| {
            let kept = good
                .iter()
                .filter(|(key, _)| !changed.iter().any(|(k, _)| k == key));
            let all: Vec<(&str, &str)> = kept.chain(changed).copied().collect();
            let run = || run(recipe.name, &all, &mut Recorded::default());
            let found = catch_unwind(AssertUnwindSafe(run));
            let found = found.unwrap_or_else(|_| panic!("{} panics: {all:?}", recipe.name));
            if let Ok(results) = found {
                worked += 1;
                finite(&results, &format!("{} {all:?}", recipe.name));
            }
        };
        for (at, one) in recipe.fields.iter().enumerate() {
            for first in texts(&one.kind) {
                try_out(&[(one.key, &first)]);
                for other in &recipe.fields[at + 1..] {
                    for second in texts(&other.kind) {
                        try_out(&[(one.key, &first), (other.key, &second)]);
                    }
                }
            }
        }
    }
    assert!(worked > 1000, "{worked}");
}

/// Whether something that is shown holds nothing but numbers.
#[track_caller]
fn finite(of: &impl std::fmt::Debug, what: &str) {
    let shown = format!("{of:?}");
    let mut words = shown.split(|c: char| !c.is_ascii_alphanumeric());
    assert!(
        !words.any(|word| word == "NaN" || word == "inf"),
        "{what}: {shown}"
    );
}

/// A number of a setup, by name.
type Field = (&'static str, fn(&mut Setup, f64));

macro_rules! fields {
    ([$($name:ident: $($place:ident).+;)+] [$($opt:ident: $($at:ident).+;)+]) => {
        [$((stringify!($name), |s: &mut Setup, x: f64| s.$($place).+ = Quantity::from_si(x)),)+
         $((stringify!($opt), |s: &mut Setup, x: f64| {
             s.$($at).+ = Some(Quantity::from_si(x));
         }),)+]
    };
}

/// Numbers that are plain, or stand in something that may be missing.
const OTHERS: &[Field] = &[
    ("rounding", |s, x| s.cutter.rounding = x),
    ("neck diameter", |s, x| {
        neck(s).diameter = Quantity::from_si(x);
    }),
    ("neck length", |s, x| neck(s).length = Quantity::from_si(x)),
    ("width", |s, x| {
        s.cut.width = Some(Width::Across(Quantity::from_si(x)));
    }),
    ("angle", |s, x| {
        s.cut.width = Some(Width::Angle(Quantity::from_si(x)));
    }),
    ("wall", |s, x| {
        let radius = Quantity::from_si(x);
        s.cut.wall = Some(Wall {
            side: WallSide::Inside,
            radius,
        });
    }),
    ("ramp", |s, x| {
        s.cut.entry = Some(Descent::Ramp(Quantity::from_si(x)));
    }),
    ("hole", |s, x| {
        let (hole, pitch) = (Quantity::from_si(x), mm(0.2));
        s.cut.entry = Some(Descent::Helix { hole, pitch });
    }),
    ("pitch", |s, x| {
        let (hole, pitch) = (1.5 * s.cutter.diameter, Quantity::from_si(x));
        s.cut.entry = Some(Descent::Helix { hole, pitch });
    }),
    ("n", |s, x| {
        s.given.n = Some(SpindleSpeed::per_minute(60.0 * x));
    }),
    ("chip floor", |s, x| s.stock.chip_floor = x),
    ("v_c least", |s, x| {
        s.stock.v_c.as_mut().unwrap().0 = Quantity::from_si(x);
    }),
    ("v_c most", |s, x| {
        s.stock.v_c.as_mut().unwrap().1 = Quantity::from_si(x);
    }),
    ("f_z least", |s, x| {
        s.stock.f_z.as_mut().unwrap().least = Quantity::from_si(x);
    }),
    ("f_z start", |s, x| {
        s.stock.f_z.as_mut().unwrap().start = Quantity::from_si(x);
    }),
    ("f_z most", |s, x| {
        s.stock.f_z.as_mut().unwrap().most = Quantity::from_si(x);
    }),
    ("land", |s, x| {
        s.stock.resistance.as_mut().unwrap().land = Quantity::from_si(x);
    }),
    ("factor", |s, x| {
        s.stock.resistance.as_mut().unwrap().factors.cut = x;
    }),
    ("spread", |s, x| {
        s.stock.resistance.as_mut().unwrap().spread.edge = x;
    }),
    ("kc11", |s, x| {
        class(s, |law| law.mean.kc11 = Quantity::from_si(x));
    }),
    ("m_c", |s, x| class(s, |law| law.hardest.m_c = x)),
    ("k_r", |s, x| class(s, |law| law.k_r = x)),
    ("k_a", |s, x| class(s, |law| law.k_a = x)),
    ("hardness", |s, x| {
        if let Some(body) = &mut s.stock.resistance.as_mut().unwrap().body {
            body.hardness = Quantity::from_si(x);
        }
    }),
    ("n least", |s, x| {
        s.machine.as_mut().unwrap().n_min = SpindleSpeed::per_minute(60.0 * x);
    }),
    ("n most", |s, x| {
        s.machine.as_mut().unwrap().n_max = SpindleSpeed::per_minute(60.0 * x);
    }),
    ("efficiency", |s, x| {
        s.machine.as_mut().unwrap().efficiency = x;
    }),
    ("power", |s, x| {
        for point in &mut s.machine.as_mut().unwrap().power {
            point.power = Quantity::from_si(x);
        }
    }),
    ("stiffness", |s, x| {
        s.machine.as_mut().unwrap().stiffness = Some(Quantity::from_si(x));
    }),
    ("runout", |s, x| {
        s.machine.as_mut().unwrap().runout = Some(Quantity::from_si(x));
    }),
    ("backlash", |s, x| {
        s.machine.as_mut().unwrap().backlash = Some(Quantity::from_si(x));
    }),
    ("drag", |s, x| {
        s.machine.as_mut().unwrap().drag = Some(Quantity::from_si(x));
    }),
    ("grip", |s, x| {
        s.machine.as_mut().unwrap().collet_grip = Some(Quantity::from_si(x));
    }),
    ("clamp", |s, x| {
        s.hold.as_mut().unwrap().clamp_force = Some(Quantity::from_si(x));
    }),
    ("friction", |s, x| s.hold.as_mut().unwrap().friction = x),
    ("jaws", |s, x| {
        s.hold.as_mut().unwrap().grip = Some(Quantity::from_si(x));
    }),
    ("height", |s, x| {
        s.hold.as_mut().unwrap().height = Some(Quantity::from_si(x));
    }),
    ("usual depth", |s, x| s.guides.depth = Some(x)),
    ("chip room", |s, x| s.guides.chip_room = Some(x)),
    ("plunge feed", |s, x| s.guides.plunge_feed = Some(x)),
    ("usual stick-out", |s, x| s.guides.stick_out = Some(x)),
    ("worn", |s, x| {
        s.guides.worn_land = Some(Quantity::from_si(x));
    }),
];

fn neck(setup: &mut Setup) -> &mut Neck {
    let neck = Neck {
        diameter: 0.9 * setup.cutter.diameter,
        length: mm(1.0),
    };
    setup.cutter.neck.get_or_insert(neck)
}

fn class(setup: &mut Setup, change: impl Fn(&mut feeds_core::workpiece::ClassLaw)) {
    if let Some(resistance) = &mut setup.stock.resistance
        && let ForceLaw::Class(law) = &mut resistance.law
    {
        change(law);
    }
}

fn all_fields() -> Vec<Field> {
    let plain: [Field; 21] = fields! {[
        diameter: cutter.diameter;
        helix: cutter.helix;
        corner_radius: cutter.corner_radius;
        flutes: cutter.flute_length;
        stick_out: cutter.stick_out;
        shank: cutter.shank;
        modulus: cutter.modulus;
        rupture: cutter.rupture;
        depth: cut.a_p;
        tilt: cut.tilt;
        slope: cut.slope;
        ] [
        core: cutter.core;
        edge_radius: cutter.edge_radius;
        usual_edge: cutter.usual_edge_radius;
        previous: cut.previous;
        tolerance: cut.tolerance;
        v_c: given.v_c;
        f_z: given.f_z;
        v_f: given.v_f;
        steepest: guides.steepest;
        corner: guides.corner;
    ]};
    plain.iter().chain(OTHERS).copied().collect()
}

/// Sound setups: one of a class in a pocket and in a slot, one of linear coefficients on a side.
fn sound() -> Vec<Setup> {
    let mut sound = Vec::new();
    let mut seed = feeds_core::kernel::seed::Seed::new(7);
    while sound.len() < 3 {
        let mut setup = setups::setup(&setups::random(&mut seed), false);
        let ready = setup.stock.v_c.is_some() && setup.stock.f_z.is_some();
        let path = [Path::Pocket, Path::Slot, Path::Side][sound.len()];
        if ready && setup.cut.path == path && setup.checked().is_ok() {
            setup.given = Given::default();
            sound.push(setup);
        }
    }
    sound
}

/// Works a setup out; what comes of it, if anything, is finite.
fn worked_out(setup: &Setup, what: &str) -> bool {
    let work = || Planner::new(setup).work_out(setup, &mut Silent);
    let worked = catch_unwind(AssertUnwindSafe(work));
    match worked.unwrap_or_else(|_| panic!("{what} panics")) {
        Err(error) => {
            assert!(error.to_string().len() > 10, "{what}: {error}");
            false
        }
        Ok(plan) => {
            finite(&plan, what);
            true
        }
    }
}

#[test]
fn odd_numbers_of_a_setup_are_refused_or_worked_out_to_finite_ones() {
    let (fields, sound) = (all_fields(), sound());
    for setup in &sound {
        assert!(worked_out(setup, "sound"));
        for (name, set) in &fields {
            for odd in ODD {
                let mut setup = setup.clone();
                set(&mut setup, odd);
                let what = format!("{name} {odd:?}");
                let answered = worked_out(&setup, &what);
                let number = odd.is_finite() || *name == "hardness" && !has_body(&setup);
                let number = number || is_of_class(name) && !has_class(&setup);
                assert!(number || !answered, "{what} is answered");
            }
        }
    }
    // In pairs, one of each law.
    for (at, (one, set)) in fields.iter().enumerate() {
        for (other, set_other) in &fields[at + 1..] {
            for odd in ODD {
                for odd_other in [f64::NAN, 5e-324, f64::MAX] {
                    let mut setup = sound[at % sound.len()].clone();
                    set(&mut setup, odd);
                    set_other(&mut setup, odd_other);
                    worked_out(&setup, &format!("{one} {odd:?}, {other} {odd_other:?}"));
                }
            }
        }
    }
}

fn has_body(setup: &Setup) -> bool {
    setup.stock.resistance.is_some_and(|r| r.body.is_some())
}

fn has_class(setup: &Setup) -> bool {
    setup
        .stock
        .resistance
        .is_some_and(|r| r.class_law().is_some())
}

fn is_of_class(name: &str) -> bool {
    ["kc11", "m_c", "k_r", "k_a"].contains(&name)
}

/// What a setup says of a number: the range it states, and whether its least is taken.
fn stated(setup: &Setup, value: f64) -> Option<(f64, f64, bool)> {
    setup.faults().into_iter().find_map(|fault| match fault {
        SetupError::Outside {
            value: told,
            least,
            most,
            from,
            ..
        } if told.to_bits() == value.to_bits() => Some((least, most, from)),
        _ => None,
    })
}

#[test]
fn a_number_of_a_setup_is_taken_exactly_where_its_error_says() {
    for setup in &sound() {
        for (name, set) in all_fields() {
            let with = |value: f64| {
                let mut setup = setup.clone();
                set(&mut setup, value);
                setup
            };
            // The first range told is that of the number alone.
            let Some((least, most, from)) = stated(&with(f64::MAX), f64::MAX) else {
                continue;
            };
            let outside = |value: f64| {
                let told = stated(&with(value), value);
                told.is_some_and(|told| told == (least, most, from))
            };
            assert!(!outside(most) && outside(most.next_up()), "{name} {most:?}");
            assert_eq!(outside(least), !from, "{name} {least:?}");
            assert!(outside(least.next_down()), "{name} {least:?}");
            for end in [least, least.next_up(), most.next_down(), most] {
                worked_out(&with(end), &format!("{name} at its end {end:?}"));
            }
        }
    }
}
