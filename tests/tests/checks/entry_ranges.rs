//! The register of entries: every quantity once, both ends of every range held, names unique.
//!
//! The ends stand here as they are meant, each with its reason; none is taken from the register.

use feeds_core::entry::{BEGINS_AT, DoorRange, Entry, K_AC, K_AE, Name, RAKE, entries};
use feeds_core::formula::recipe::{Kind, recipes};
use feeds_core::nearest::same;
use std::collections::{BTreeMap, BTreeSet};

/// What a pass takes: key, symbol, least, most: why these.
const PASS: &str = "
diameter D 0.05mm 50mm: the finest engraving point; the largest cutter of a light mill
edges z 1 20: a fly cutter; no cutter of that size has more
helix λ_s 0deg 60deg: straight flutes; the steepest that are ground
corner-radius r_e 0mm 25mm: sharp; half of the largest diameter
flute-length l_f 0.05mm 200mm: as long as the finest cutter is thick; extra long series
stick-out l 0.5mm 250mm: barely out of the holder; the extra long flutes and their neck
shank d_sh 0.5mm 50mm: the thinnest a holder grips; the largest cutter
neck-diameter d_n 0.05mm 50mm: as the diameter
neck-length l_n 0mm 200mm: no neck; as the flutes
core d_c 0.02mm 50mm: less than half of the finest cutter; the largest cutter
edge-radius r_β 0.1um 0.1mm: a diamond edge; too blunt to cut
modulus E 100GPa 800GPa: half of steel's 200; beyond the stiffest carbide's 700
rupture σ_b 500N/mm2 6000N/mm2: ceramics; beyond the strongest carbide
wear VB 0mm 1mm: a fresh edge; beyond it the edge is gone
wear K_w 1 2: a new edge; the most that older files have
kc11 k_c1.1 50N/mm2 10000N/mm2: foam; beyond the superalloys
mc m_c 0 0.8: no rise for thin chips; beyond every printed exponent
ktc K_tc 1N/mm2 50000N/mm2: foam; five times a superalloy
krc K_rc 0N/mm2 50000N/mm2: where the source has none; as ktc
kac K_ac -50000N/mm2 50000N/mm2: pushes as much as it pulls; as ktc
kte K_te 0N/mm 1000N/mm: a keen edge; a very blunt one
kre K_re 0N/mm 1000N/mm: where the source has none; as kte
kae K_ae -1000N/mm 1000N/mm: pushes as much as it pulls; as kte
stock-size L 0.1mm 5000mm: a shim; the longest bar
spindle-least n_min 1rpm 200000rpm: hardly turning; the fastest air spindles
spindle-most n_max 10rpm 200000rpm: a slow boring head; the fastest air spindles
feed-most v_f,max 1mm/min 50000mm/min: the table has to move; the fastest cutting feed
power P_n 5W 30kW: a hand spindle; a production mill
base-speed n_b 10rpm 200000rpm: as the highest spindle speed
efficiency η 0.1 1: a tenth arrives; nothing is lost
stiffness k_M 100N/mm 500000N/mm: a toy; the stiffest mills
runout t_r 0mm 0.5mm: runs true; a bent cutter
backlash b_l 0mm 1mm: none; a worn out screw
travel L 1mm 10m: a fine stage; a large gantry
axis-feed v_f 1mm/min 100000mm/min: the table has to move; fast rapids
acceleration a 0.001m/s2 50m/s2: a heavy table by hand; linear motors
look-ahead N_a 1 10000: a stop after each move; more than any control
path-tolerance t_c 0.5um 1mm: as the tolerance of the wall
drag F_d 0N 5kN: none; box ways
collet-grip F_g 1N 50kN: hardly held; a shrink holder
clamp-force F_cl 1N 100kN: with none the part is not held; a large hydraulic vise
screw-torque M_s 0.1Nm 500Nm: two fingers; a long bar
screw-diameter d_s 2mm 40mm: the smallest clamping screw; the largest
friction μ 0.01 1: oiled and polished; what sticks
grip l_g 0.1mm 200mm: a lip; a deep vise
height h_g 0mm 300mm: at the jaws; a tall part
override q_o 1% 400%: at nothing the spindle stands still; beyond every dial
spindle n 1rpm 200000rpm: hardly turning; the fastest air spindles
cutting-speed v_c 0.1m/min 2000m/min: a slow reamer; aluminium at full speed
feed-per-tooth f_z 0.01um 1mm: below any chip; beyond any light mill
feed v_f 0.1mm/min 50000mm/min: creeping; the fastest cutting feed
depth a_p 1um 100mm: a spark; the longest flutes in use
width a_e 0.5um 50mm: a spark; the largest cutter
engagement-angle φ_s 1deg 180deg: a graze; a slot
h h 0mm 1mm: a mere rub; a thick chip
length L 0.1mm 10000m: a touch; longer than any programme
begins-at L -1000mm 1000mm: a metre below the zero; a metre above it
depth-in-all a_p 1um 300mm: as a depth of cut; a tall part
measured δ_w -1mm 1mm: a wall is never off by more, to either side
wall-radius R_w 0.05mm 1000mm: the finest cutter's; nearly straight
previous D_prev 0.05mm 50mm: as the diameter
tilt β 0deg 85deg: upright; nearly lying
slope α 0deg 85deg: flat; nearly a wall
ramp-angle γ_r 0.05deg 45deg: hardly a ramp; steeper is a plunge
helix-hole D_m 0.06mm 100mm: wider than the finest cutter; twice the largest
helix-pitch p 5um 20mm: hardly a helix; a steep thread
tolerance t_w 0.5um 1mm: as ground; as sawn
";

/// What a formula takes, which is arithmetic for any machine: key, symbol, least, most: why these.
const FORMULA: &str = "
D D 0.01mm 1000mm: engraving points; large face mills
z z 1 200: a fly cutter; a large face mill
helix λ_s 0deg 70deg: straight; no edge winds steeper
r_e r_e 0mm 500mm: sharp; half of the largest diameter
E E 1GPa 2000GPa: plastics; beyond diamond
wear K_w 1 3: a new edge; three times its force
kappa κ 1deg 90deg: a nearly flat edge; an edge along the axis
rake γ -45deg 45deg: common edges, to either side
rake_ref γ_0 -45deg 45deg: as the rake
load_from_tip l_F 0mm 10m: at the tip; longer than any cutter
force F 1e-6N 1000kN: more than nothing; beyond any mill
kc11 k_c1.1 1N/mm2 50000N/mm2: foam; five times a superalloy
mc m_c 0 0.9: in proportion to the chip; no stock lies near one
Ktc K_tc 1N/mm2 50000N/mm2: as in a pass
Krc K_rc 0N/mm2 50000N/mm2: as in a pass
Kac K_ac -50000N/mm2 50000N/mm2: as in a pass
Kte K_te 0N/mm 1000N/mm: as in a pass
Kre K_re 0N/mm 1000N/mm: as in a pass
Kae K_ae -1000N/mm 1000N/mm: as in a pass
k_r k_r 0 5: none; no component is many times the cutting force
k_a k_a -5 5: as k_r, to either side
u u 0.001J/mm3 1000J/mm3: foam; grinding
Kt K_t 1N/mm2 50000N/mm2: as Ktc
K_r K_r 0 5: as k_r
Ks K_s 1N/mm2 50000N/mm2: as Ktc
efficiency η 0.01 1: a hundredth arrives; at most what it takes
tir t_r 0mm 1mm: runs true; more is not a cutter in a holder
n n 0.1rpm 1000000rpm: boring heads; air spindles
v_c v_c 0.01m/min 100000m/min: hard alloys; foam
f_z f_z 0.001um 50mm: below a grain; a heavy roughing chip
v_f v_f 0.001mm/min 1000000mm/min: the table has to move; no table moves faster
a_p a_p 0.1um 1000mm: more than nothing; the largest cutter
a_e a_e 0.01um 1000mm: more than nothing; the largest cutter
h h 1e-9mm 20mm: a chip has a thickness; less than any feed
h_max h_max 1e-9mm 20mm: as h
h_m h_m 1e-9mm 20mm: as h
b b 0.1um 1000mm: a chip has a width; the deepest cut
a_e_ratio q_e 0.0001 1: a graze; no wider than itself
Q Q 1e-9cm3/min 1000000cm3/min: something is removed; a cubic metre a minute
L L 0mm 10000m: not negative; longer than any programme
approach L_a 0mm 10m: not negative; longer than any table
w w 0.001mm 1000mm: more than nothing; the largest cutter
wall_radius R_w 0.001mm 1000000mm: a hair; nearly straight
previous_D D_prev 0.01mm 1000mm: as D
tilt β 0deg 90deg: upright; lying
slope α 0deg 89deg: flat; on an upright wall no step is finite
angle γ_r 0.001deg 89deg: a level one never gets deeper; an upright one is a plunge
wall_D D_m 0.01mm 1000000mm: as the finest cutter; nearly straight
pitch p 0.01um 1000mm: more than nothing; the largest cutter
R R 0.001mm 500mm: a hair; half of the largest diameter
step b_r 0.01um 1000mm: more than nothing; the largest cutter
cusp h_c 1e-7mm 500mm: more than nothing; the largest radius
D_hole D_w 0mm 1000000mm: solid work; nearly straight
depth T 0.1um 1000mm: more than nothing; the deepest cut
kx k_x 1N/mm 1e9N/mm: a long thin cutter; a heavy spindle
ky k_y 1N/mm 1e9N/mm: as kx
k k_m 1N/mm 1e9N/mm: as kx
zx ζ_x 1e-5 0.99: it dies away; it still swings
zy ζ_y 1e-5 0.99: as zx
zeta ζ 1e-5 0.99: as zx
fx f_n,x 1Hz 100000Hz: a long thin cutter; a heavy spindle
fy f_n,y 1Hz 100000Hz: as fx
f_n f_n 1Hz 100000Hz: as fx
n n_T 0.01 0.99: below one in any case
C C_T 0.01m/min 1000000m/min: as v_c, and ten times that
v_ratio q_v 0.01 100: a hundredth; a hundredfold
f_ratio q_f 0.01 100: as v_ratio
x x 0 5: the feed does not count; it counts for very much
labour_rate k_L 0.000001 1000000: more than nothing; any money
cutter_cost K_T 0 1000000: it costs nothing; any money
change_time t_ch 0min 10000min: not negative; a week
hours_spent t_p 0h 100000h: not negative; a life of work
minutes_saved t_s 0.0001min 1000000min: without any it never pays; two years
";

type Door = fn(&Entry) -> Option<DoorRange>;

/// Holds the ends of one door's rows: the end is read, what lies beyond it by a hundredth is not.
fn ends_hold(table: &str, door: Door) {
    let mut held = 0;
    for line in table.trim().lines() {
        let (row, reason) = line.split_once(": ").unwrap();
        assert!(!reason.is_empty(), "{line}");
        let parts: Vec<&str> = row.split(' ').collect();
        let [key, symbol, least, most] = parts[..] else {
            panic!("{line}")
        };
        let found = entries().filter(|e| e.symbol.text == symbol);
        let rows: Vec<DoorRange> = found.filter_map(door).filter(|r| r.key == key).collect();
        let [row] = rows[..] else {
            panic!("{line}: {} entries", rows.len())
        };
        let end = |text| {
            row.range
                .read(text, "")
                .unwrap_or_else(|e| panic!("{line}: {e}"))
        };
        let (least, most) = (end(least), end(most));
        let beyond = 0.01 * if least == 0.0 { most } else { least.abs() };
        assert!(row.range.check(least - beyond, "").is_err(), "{line}");
        assert!(
            row.range.check(most + 0.01 * most.abs(), "").is_err(),
            "{line}"
        );
        held += 1;
    }
    assert_eq!(held, entries().filter_map(door).count(), "entries not held");
}

#[test]
fn both_ends_of_every_range_of_a_pass_hold() {
    ends_hold(PASS, Entry::pass);
}

#[test]
fn both_ends_of_every_range_of_a_formula_hold() {
    ends_hold(FORMULA, Entry::formula);
}

#[test]
fn a_formula_takes_what_a_pass_takes() {
    for entry in entries() {
        let (Some(pass), Some(formula)) = (entry.pass(), entry.formula()) else {
            continue;
        };
        // The force of the edge alone is asked of a chip of nothing; a law of the chip has none.
        // A time needs no length of its own, a path of a job does.
        let least = if entry.symbol.text == "h" {
            1e-9
        } else {
            pass.range.least
        };
        assert!(formula.range.least <= least, "{}", pass.key);
        assert!(formula.range.most >= pass.range.most, "{}", pass.key);
        assert_eq!(pass.range.whole, formula.range.whole, "{}", pass.key);
    }
}

/// Symbols that several entries have, and why they are not one.
const SHARED: &[(&str, &[&str], &str)] = &[
    (
        "L",
        &["stock-size", "travel", "length", "begins-at"],
        "lengths of other things: the stock, the axes, the path, a height",
    ),
    (
        "v_f",
        &["axis-feed", "feed"],
        "what an axis can, and what is programmed",
    ),
    (
        "a_p",
        &["depth", "depth-in-all"],
        "of one level, and of all",
    ),
];

#[test]
fn every_quantity_is_declared_once() {
    let mut of: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for entry in entries() {
        of.entry(entry.symbol.text).or_default().push(entry.key());
        for row in entry.pass().into_iter().chain(entry.formula()) {
            assert_eq!(row.range.symbol, entry.symbol, "{}", row.key);
        }
    }
    of.retain(|_, keys| keys.len() > 1);
    for (symbol, mut keys) in of {
        let told = SHARED.iter().find(|(s, ..)| *s == symbol);
        let (_, expect, why) = told.unwrap_or_else(|| panic!("{symbol}: {keys:?}"));
        assert!(!why.is_empty());
        let mut expect = expect.to_vec();
        expect.sort_unstable();
        keys.sort_unstable();
        assert_eq!(keys, expect, "{symbol}");
    }
}

/// Names that mean another quantity in a pass, or in another formula. They stand in files and
/// scripts; no pass and no formula takes two of one name.
const TWO: &[(&str, &[&str], &str)] = &[
    ("depth", &["T", "a_p"], "to reach by a ramp, and of a cut"),
    (
        "step",
        &["a_e", "b_r"],
        "stepover, and between the paths of a ball",
    ),
    (
        "wear",
        &["K_w", "VB"],
        "older files have a factor where a land is typed now",
    ),
    ("n", &["n", "n_T"], "rpm, and Taylor's exponent"),
    (
        "D_hole",
        &["D_m", "D_w"],
        "the hole a helix makes, and the hole that is there",
    ),
    (
        "K_r",
        &["K_r", "k_r"],
        "over K_t, and over k_c: two letter cases in two formulas",
    ),
];

#[test]
fn a_name_means_one_quantity() {
    let mut meant: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for entry in entries() {
        let rows = entry.pass().into_iter().chain(entry.formula());
        let rows = rows.map(|row| row.key);
        let names = entry.names.iter().map(|name| match *name {
            Name::Trade(text) | Name::Unit(text, _) | Name::Formula(text) | Name::Heading(text) => {
                text
            }
        });
        for name in rows.chain(names) {
            let name = name.to_lowercase().replace('_', "-");
            meant.entry(name).or_default().insert(entry.symbol.text);
        }
    }
    meant.retain(|_, symbols| symbols.len() > 1);
    let listed: Vec<(String, BTreeSet<&str>)> = TWO
        .iter()
        .map(|(name, of, why)| {
            assert!(!why.is_empty());
            let name = name.to_lowercase().replace('_', "-");
            (name, of.iter().copied().collect())
        })
        .collect();
    assert_eq!(meant, listed.into_iter().collect());
}

#[test]
fn a_formula_takes_its_quantities_from_the_register() {
    for recipe in recipes() {
        for (at, field) in recipe.fields.iter().enumerate() {
            let Kind::Quantity(range) = field.kind else {
                assert!(field.entry.is_none(), "{} {}", recipe.name, field.key);
                continue;
            };
            let entry = field.entry.unwrap();
            let row = entry.formula().unwrap();
            assert!(
                entry.of_formulas().any(|key| key == field.key),
                "{}",
                field.key
            );
            let ends = (range.least, range.most, range.whole);
            assert_eq!(ends, (row.range.least, row.range.most, row.range.whole));
            let others = recipe.fields[at + 1..].iter();
            let pass = entry.pass().map(|row| row.key).into_iter();
            for name in pass.chain(entry.of_trade().map(|(text, _)| text)) {
                let mut others = others.clone().filter_map(|f| f.entry);
                assert!(
                    !others.any(|o| o.called(name).is_some()),
                    "{} {name}",
                    recipe.name
                );
            }
        }
    }
}

#[test]
fn an_entry_is_called_as_it_is_anywhere() {
    for entry in entries() {
        for (name, unit) in entry.of_trade() {
            assert_eq!(entry.called(name), Some(unit), "{name}");
            assert!(same(name, &name.to_uppercase()));
        }
    }
}

/// `rake=-45deg` was told not to lie between -45 deg and 45 deg.
#[test]
fn an_end_below_zero_was_refused_itself() {
    for entry in [&RAKE, &K_AC, &K_AE, &BEGINS_AT] {
        let range = entry.row().range;
        let (least, _) = range.ends();
        assert!(range.check(least.si, "").is_ok(), "{}", entry.key());
        assert!(
            range.check(least.si * 1.000_001, "").is_err(),
            "{}",
            entry.key()
        );
    }
}
