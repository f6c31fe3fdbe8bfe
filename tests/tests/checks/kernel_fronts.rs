//! Engagements that something outside measured: straight passes met in rings, and closed forms.

use std::f64::consts::{PI, TAU};

use feeds_core::kernel::arc::ArcTable;
use feeds_core::kernel::front::EngagedBand;
use feeds_core::kernel::seed::Seed;
use feeds_core::kernel::turn::{Law, Load, Turn, TurnCut, TurnPart, TurnWall, arc_of};

const RINGS: u32 = 8;

/// The engaged angles of a straight pass at a radius: the stock is `a_e` wide at every height.
fn window(cut: &TurnCut, radius: f64) -> [f64; 2] {
    let full = 0.5 * cut.d;
    match cut.path {
        TurnPart::Slot => [0.0, PI],
        TurnPart::Centred => {
            let half = (full * (0.5 * cut.arc).sin() / radius).min(1.0).asin();
            [0.5 * PI - half, 0.5 * PI + half]
        }
        side => {
            let a_e = full * (1.0 - cut.arc.cos());
            let arc = if radius < full {
                (1.0 - a_e / radius).max(-1.0).acos()
            } else {
                cut.arc
            };
            if side == TurnPart::Up {
                [0.0, arc]
            } else {
                [PI - arc, PI]
            }
        }
    }
}

/// A straight pass as a field of stock meets it: rings of equal steps of radius with the angles in
/// the middle of their heights, and a band above them.
fn met(cut: &TurnCut) -> Vec<EngagedBand> {
    let curved = cut.a_p.min(cut.r_e);
    let inner = 0.5 * cut.d - cut.r_e;
    let widened = (curved * (2.0 * cut.r_e - curved)).sqrt();
    let height = |x: f64| cut.r_e - (cut.r_e * cut.r_e - x * x).max(0.0).sqrt();
    let mut bands = Vec::new();
    if curved > 0.0 {
        for k in 0..RINGS {
            let [low, high] = [k, k + 1].map(|k| height(widened * f64::from(k) / f64::from(RINGS)));
            let middle = 0.5 * (low + high);
            let radius = inner + (middle * (2.0 * cut.r_e - middle)).sqrt();
            bands.push(EngagedBand::new(low, high, &[window(cut, radius)]));
        }
    }
    if cut.a_p > cut.r_e {
        let full = window(cut, 0.5 * cut.d);
        bands.push(EngagedBand::new(cut.r_e, cut.a_p, &[full]));
    }
    bands
}

fn law(random: &mut Seed) -> Law {
    let kc11 = random.between(900.0, 2600.0);
    let m_c = if random.unit() < 0.5 {
        0.0
    } else {
        random.between(0.14, 0.3)
    };
    let edge = random.unit() * 0.3 * kc11 * 0.02_f64.powf(1.0 - m_c);
    let shares = (random.between(0.2, 0.6), random.between(-0.2, 0.4));
    Law::kienzle(kc11, m_c, shares.0, shares.1).with_edge([edge, edge, 0.0])
}

fn quarter(random: &mut Seed) -> usize {
    usize::try_from(random.bits() % 4).unwrap()
}

/// A random straight pass: one helix in seven is straight, half run out.
fn cut(random: &mut Seed, r_e: impl Fn(&mut Seed, f64) -> f64) -> TurnCut {
    let d = random.between(1.0, 10.0);
    let parts = [
        TurnPart::Slot,
        TurnPart::Up,
        TurnPart::Down,
        TurnPart::Centred,
    ];
    let path = parts[quarter(random)];
    let arc = arc_of(d, d * random.between(0.03, 0.9));
    TurnCut {
        d,
        z: [1, 2, 3, 4][quarter(random)],
        helix: random.between(-0.13, 0.8).max(0.0),
        r_e: r_e(random, d),
        a_p: d * random.between(0.02, 1.0),
        arc: if path == TurnPart::Slot { PI } else { arc },
        path,
        f_z: d * random.between(0.0005, 0.01),
        tir: random.between(-0.02, 0.02).max(0.0),
    }
}

/// How far two turns lie apart, as a share of the largest lateral force or torque of the first.
fn apart(a: &Turn<'_>, b: &Turn<'_>, cut: &TurnCut) -> Vec<(&'static str, f64)> {
    let (e, f) = (a.extremes(), b.extremes());
    let (force, torque) = (e.lateral_peak(), e.most.torque);
    let (p, q) = (a.mean(), b.mean());
    let mut apart = vec![
        ("mean force", (p.x - q.x).hypot(p.y - q.y) / force),
        ("mean pull", (p.z - q.z) / force),
        ("mean torque", (p.torque - q.torque) / p.torque),
        ("lateral", (e.lateral_peak() - f.lateral_peak()) / force),
        ("torque", (e.most.torque - f.most.torque) / torque),
        ("lift", (e.most.z - f.most.z) / force),
        ("along", (e.most.x - f.most.x) / force),
    ];
    let walls: &[TurnWall] = match cut.path {
        TurnPart::Slot => &[TurnWall::Up, TurnWall::Down],
        TurnPart::Up => &[TurnWall::Up],
        TurnPart::Down => &[TurnWall::Down],
        TurnPart::Centred => &[],
    };
    for &wall in walls {
        for height in [0.0, cut.a_p] {
            let [a, b] = [a, b].map(|turn| turn.off_wall(wall, height));
            apart.push(("wall", (a - b) / force));
        }
    }
    apart
}

/// The same stock with a square end: nothing is lost by being met from outside.
#[test]
fn a_square_end_met_from_outside_is_the_pass() {
    let mut random = Seed::new(40);
    for case in 0..200 {
        let cut = cut(&mut random, |_, _| 0.0);
        let law = law(&mut random);
        let arc = ArcTable::new(law.m_c);
        let pass = Turn::new(&arc, &cut, &law);
        let front = Turn::engaged(&arc, &cut, &met(&cut), &law);
        for (what, off) in apart(&pass, &front, &cut) {
            assert!(
                off.abs() < 1e-9,
                "{case}: {what} is off by {off} of {cut:?}"
            );
        }
    }
}

/// Eight rings tell a round end within a hundredth: the means and the lateral force always, and all
/// but one in two hundred of what hangs on the angle at which a window between two rings opens to
/// the whole half turn.
#[test]
fn a_round_end_met_in_rings_is_the_pass() {
    rings_are_the_pass(300);
}

#[test]
fn a_round_end_met_in_rings_is_the_pass_a_few() {
    rings_are_the_pass(20);
}

fn rings_are_the_pass(cases: u32) {
    let mut random = Seed::new(41);
    let (mut balls, mut far, mut all) = (0, 0, 0);
    for case in 0..cases {
        let ball = case % 2 == 0;
        balls += usize::from(ball);
        let cut = cut(&mut random, |random, d| {
            d * if ball { 0.5 } else { random.between(0.02, 0.3) }
        });
        let law = law(&mut random);
        let arc = ArcTable::new(law.m_c);
        let pass = Turn::new(&arc, &cut, &law);
        let front = Turn::engaged(&arc, &cut, &met(&cut), &law);
        for (what, off) in apart(&pass, &front, &cut) {
            let within = match what {
                "torque" | "lift" | "along" | "wall" => 2e-2,
                _ => 1e-2,
            };
            assert!(
                off.abs() < within,
                "{case}: {what} is off by {off} of {cut:?}"
            );
            all += 1;
            far += usize::from(off.abs() > 1e-2);
        }
    }
    assert!(
        balls * 3 > usize::try_from(cases).unwrap() && far * 200 < all,
        "{balls} {far} of {all}"
    );
}

/// The few angles of the quick peaks against a search that refines every crest, to a hundredth of
/// the largest force.
#[test]
fn quick_peaks_of_a_front_are_those_searched_for() {
    let mut random = Seed::new(42);
    for case in 0..300 {
        let cut = cut(&mut random, |random, d| match case % 3 {
            0 => 0.0,
            1 => d * random.between(0.02, 0.3),
            _ => 0.5 * d,
        });
        let mut bands = met(&cut);
        if case % 2 == 0 {
            // A groove cut before parts every window.
            let groove = random.between(0.4, 2.6);
            for band in &mut bands {
                let [from, to] = band.windows[0];
                let (end, start) = (groove.min(to), (groove + 0.15).max(from));
                *band = EngagedBand::new(band.low, band.high, &[[from, end], [start, to]]);
            }
        }
        let law = law(&mut random);
        let arc = ArcTable::new(law.m_c);
        let turn = Turn::engaged(&arc, &cut, &bands, &law);
        let (quick, searched) = (turn.peaks(), turn.extremes());
        let (force, torque) = (searched.lateral_peak(), searched.most.torque);
        for (what, off) in [
            ("lateral", (quick.lateral - force) / force),
            ("torque", (quick.torque - torque) / torque),
            ("lift", (quick.lift - searched.most.z.max(0.0)) / force),
            ("along", (quick.along - searched.most.x.max(0.0)) / force),
        ] {
            assert!(
                off.abs() < 1e-2,
                "{case}: {what} is off by {off} of {cut:?}"
            );
        }
    }
}

/// Straight edges in two windows of different depth: each tooth takes what the formula at its own
/// angle gives over the depth it is engaged, and the loads add up.
#[test]
fn windows_add_up_to_the_loads_of_the_teeth() {
    let (k, edge) = ([1800.0, 700.0, 150.0], [25.0, 35.0, 4.0]);
    let law = Law::linear(k, edge);
    let arc = ArcTable::new(0.0);
    let cut = TurnCut {
        d: 8.0,
        z: 5,
        helix: 0.0,
        r_e: 0.0,
        a_p: 3.0,
        arc: PI,
        path: TurnPart::Slot,
        f_z: 0.03,
        tir: 0.0,
    };
    let (first, second) = ([0.3, 0.9], [1.5, PI]);
    let bands = [
        EngagedBand::new(0.0, 1.2, &[first, second]),
        EngagedBand::new(1.2, 3.0, &[second]),
    ];
    let turn = Turn::engaged(&arc, &cut, &bands, &law);
    let depth = |phi: f64| {
        let inside = |[from, to]: [f64; 2]| phi > from && phi < to;
        if inside(first) {
            1.2
        } else if inside(second) {
            3.0
        } else {
            0.0
        }
    };
    let mut engaged = [0; 4];
    for step in 0..200 {
        let theta = 0.003 + TAU * f64::from(step) / 200.0;
        let mut hand = Load::default();
        let mut teeth = 0;
        for j in 0..5 {
            let phi = (theta + TAU * f64::from(j) / 5.0).rem_euclid(TAU);
            let b = depth(phi);
            teeth += usize::from(b > 0.0);
            let (sin, cos) = phi.sin_cos();
            let of = |i: usize| (k[i] * 0.03 * sin + edge[i]) * b;
            let (t, r, a) = (of(0), of(1), of(2));
            hand += Load {
                x: -t * cos - r * sin,
                y: t * sin - r * cos,
                z: a,
                torque: 4.0 * t,
            };
        }
        engaged[teeth] += 1;
        let got = turn.at(theta);
        let off = (got.x - hand.x).hypot(got.y - hand.y) + (got.z - hand.z).abs();
        assert!(
            off < 1e-9 * (1.0 + hand.lateral()),
            "{theta}: {got:?} {hand:?}"
        );
        assert!((got.torque - hand.torque).abs() < 1e-9 * (1.0 + hand.torque));
    }
    assert!(engaged[1] > 0 && engaged[2] > 0, "{engaged:?}");
    // Over the turn: ∫ sin = cos from - cos to.
    let swept = |[from, to]: [f64; 2], depth: f64| {
        depth * (k[0] * 0.03 * (f64::cos(from) - f64::cos(to)) + edge[0] * (to - from))
    };
    let torque = 4.0 * 5.0 / TAU * (swept(first, 1.2) + swept(second, 3.0));
    assert!((turn.mean().torque / torque - 1.0).abs() < 1e-9);
}

/// A ball along a floor that grooves along the feed have left in two strips: with no edge force the
/// energy of a turn is K_tc for each volume, the section of the strips within the ball times the
/// feed of a turn. The section is summed by the midpoint rule.
#[test]
fn the_energy_of_two_strips_is_that_of_their_volume() {
    let mut random = Seed::new(43);
    let arc = ArcTable::new(0.0);
    for case in 0..60 {
        let radius = random.between(1.0, 5.0);
        let a_p = radius * random.between(0.2, 1.0);
        let widest = (a_p * (2.0 * radius - a_p)).sqrt();
        let mut y = [(); 4].map(|()| widest * random.between(-1.0, 1.0));
        y.sort_by(f64::total_cmp);
        let strips = [[y[0], y[1]], [y[2], y[3]]];
        let at = |height: f64| (height * (2.0 * radius - height)).sqrt();
        let cut = TurnCut {
            d: 2.0 * radius,
            z: 3,
            helix: random.between(0.0, 0.8),
            r_e: radius,
            a_p,
            arc: PI,
            path: TurnPart::Slot,
            f_z: 0.02,
            tir: 0.0,
        };
        let slices = 20_000_u32;
        let mut section = 0.0;
        for k in 0..slices {
            let share = (f64::from(k) + 0.5) / f64::from(slices);
            let r = at(a_p * share);
            for [from, to] in strips {
                let width = to.clamp(-r, r) - from.clamp(-r, r);
                section += width * a_p / f64::from(slices);
            }
        }
        // y = r cos φ: the strip on the right comes last.
        let bands: Vec<EngagedBand> = met(&cut)
            .iter()
            .map(|ring| {
                let r = at(0.5 * (ring.low + ring.high));
                let angle = |y: f64| (y / r).clamp(-1.0, 1.0).acos();
                let windows = strips.map(|[from, to]| [angle(to), angle(from)]);
                EngagedBand::new(ring.low, ring.high, &[windows[1], windows[0]])
            })
            .collect();
        let law = Law::linear([1500.0, 400.0, 0.0], [0.0; 3]);
        let torque = Turn::engaged(&arc, &cut, &bands, &law).mean().torque;
        let energy = 1500.0 * section * 3.0 * 0.02;
        let whole = 1500.0 * widest * a_p * 3.0 * 0.02;
        let off = (torque * TAU - energy).abs();
        assert!(
            off < 1e-2 * energy + 2e-3 * whole,
            "{case}: {} {energy} of {strips:?} {cut:?}",
            torque * TAU
        );
    }
}
