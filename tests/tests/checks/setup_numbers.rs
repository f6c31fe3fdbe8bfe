//! Every number a pass is made of: what is not a number, endless or far below nothing is refused,
//! and the fault names the symbol of that number and of no other.

use feeds_core::cut::{Descent, Wall, WallSide, Width};
use feeds_core::cutter::Neck;
use feeds_core::holding::Hold;
use feeds_core::machine::{Machine, PowerPoint};
use feeds_core::plan::guides::WidthGuide;
use feeds_core::plan::setup::{Setup, SetupError};
use feeds_core::quantity::{Quantity, SpindleSpeed, mm};
use feeds_core::symbol::{self as s, Symbol};
use feeds_core::workpiece::{ClassLaw, EdgeTerms, ForceLaw, Linear, Resistance};
use serde_json::{Value, json};
use tests::setups::{one_edge, setup};

fn one<Q: Quantity>() -> Q {
    Q::from_si(1.0)
}

fn turns(a_second: f64) -> SpindleSpeed {
    SpindleSpeed::per_minute(60.0 * a_second)
}

fn neck(pass: &mut Setup) -> &mut Neck {
    pass.cutter.neck.get_or_insert(Neck {
        diameter: mm(3.5),
        length: mm(1.0),
    })
}

fn force(pass: &mut Setup) -> &mut Resistance {
    pass.stock.resistance.as_mut().unwrap()
}

fn class(pass: &mut Setup) -> &mut ClassLaw {
    let mut of_class = one_edge();
    of_class["stock"]["linear"] = Value::Null;
    of_class["stock"]["class"] = json!({
        "mean": [1500.0, 0.22], "hardest": [1500.0, 0.22], "k_r": 0.35, "k_a": 0.25,
        "edge": ["measured", 46.0, 68.0], "capped": false,
    });
    of_class["stock"]["hardness"] = json!(180.0);
    force(pass).law = setup(&of_class, true).stock.resistance.unwrap().law;
    match &mut force(pass).law {
        ForceLaw::Class(law) => law,
        ForceLaw::Linear(_) => panic!("a class was set"),
    }
}

fn linear(pass: &mut Setup) -> &mut Linear {
    match &mut force(pass).law {
        ForceLaw::Linear(law) => law,
        ForceLaw::Class(_) => panic!("the pass is linear"),
    }
}

fn machine(pass: &mut Setup) -> &mut Machine {
    pass.machine.as_mut().unwrap()
}

fn hold(pass: &mut Setup) -> &mut Hold {
    pass.hold.as_mut().unwrap()
}

/// A number's symbol, and how it is set in SI base units.
type Number = (&'static Symbol, fn(&mut Setup, f64));

const NUMBERS: &[Number] = &[
    (&s::D, |p, x| p.cutter.diameter = Quantity::from_si(x)),
    (&s::HELIX, |p, x| p.cutter.helix = Quantity::from_si(x)),
    (&s::R_EPS, |p, x| {
        p.cutter.corner_radius = Quantity::from_si(x);
    }),
    (&s::L_FLUTE, |p, x| {
        p.cutter.flute_length = Quantity::from_si(x);
    }),
    (&s::STICK_OUT, |p, x| {
        p.cutter.stick_out = Quantity::from_si(x);
    }),
    (&s::D_SHANK, |p, x| p.cutter.shank = Quantity::from_si(x)),
    (&s::E, |p, x| p.cutter.modulus = Quantity::from_si(x)),
    (&s::SIGMA_B, |p, x| p.cutter.rupture = Quantity::from_si(x)),
    (&s::D_CORE, |p, x| {
        p.cutter.core = Some(Quantity::from_si(x));
    }),
    (&s::R_EDGE, |p, x| {
        p.cutter.edge_radius = Some(Quantity::from_si(x));
    }),
    (&s::R_USUAL, |p, x| {
        p.cutter.usual_edge_radius = Some(Quantity::from_si(x));
    }),
    (&s::GROWTH, |p, x| p.cutter.rounding = x),
    (&s::D_NECK, |p, x| neck(p).diameter = Quantity::from_si(x)),
    (&s::L_NECK, |p, x| neck(p).length = Quantity::from_si(x)),
    (&s::LAMBDA, |p, x| p.stock.chip_floor = x),
    (&s::V_C_LEAST, |p, x| {
        p.stock.v_c.as_mut().unwrap().0 = Quantity::from_si(x);
    }),
    (&s::V_C_MOST, |p, x| {
        p.stock.v_c.as_mut().unwrap().1 = Quantity::from_si(x);
    }),
    (&s::F_FULL_LEAST, |p, x| {
        p.stock.f_z.as_mut().unwrap().least = Quantity::from_si(x);
    }),
    (&s::F_Z, |p, x| {
        p.stock.f_z.as_mut().unwrap().start = Quantity::from_si(x);
    }),
    (&s::F_FULL_MOST, |p, x| {
        p.stock.f_z.as_mut().unwrap().most = Quantity::from_si(x);
    }),
    (&s::LAND, |p, x| force(p).land = Quantity::from_si(x)),
    (&s::RATIO, |p, x| force(p).factors.cut = x),
    (&s::RATIO, |p, x| force(p).factors.edge = x),
    (&s::RATIO, |p, x| force(p).factors.across = x),
    (&s::RATIO, |p, x| force(p).factors.land = x),
    (&s::RATIO, |p, x| force(p).factors.all = x),
    (&s::RATIO, |p, x| force(p).spread.cut = x),
    (&s::RATIO, |p, x| force(p).spread.edge = x),
    (&s::RATIO, |p, x| force(p).spread.across = x),
    (&s::RATIO, |p, x| force(p).spread.land = x),
    (&s::HARDNESS, |p, x| {
        force(p).body.as_mut().unwrap().hardness = Quantity::from_si(x);
    }),
    (&s::E_STOCK, |p, x| {
        force(p).body.as_mut().unwrap().modulus = Quantity::from_si(x);
    }),
    (&s::KC11, |p, x| class(p).mean.kc11 = Quantity::from_si(x)),
    (&s::M_C, |p, x| class(p).mean.m_c = x),
    (&s::KC11, |p, x| {
        class(p).hardest.kc11 = Quantity::from_si(x);
    }),
    (&s::M_C, |p, x| class(p).hardest.m_c = x),
    (&s::K_R_SHARE, |p, x| class(p).k_r = x),
    (&s::K_A_SHARE, |p, x| class(p).k_a = x),
    (&s::H, |p, x| class(p).measured.0 = Quantity::from_si(x)),
    (&s::H, |p, x| class(p).measured.1 = Quantity::from_si(x)),
    (&s::K_TE0, |p, x| {
        class(p).edge = EdgeTerms::Measured {
            along: Quantity::from_si(x),
            across: one(),
            scale: 1.0,
        };
    }),
    (&s::K_RE0, |p, x| {
        class(p).edge = EdgeTerms::Measured {
            along: one(),
            across: Quantity::from_si(x),
            scale: 1.0,
        };
    }),
    (&s::HARD_SCALE, |p, x| {
        class(p).edge = EdgeTerms::Measured {
            along: one(),
            across: one(),
            scale: x,
        };
    }),
    (&s::PLOUGH_T, |p, x| {
        class(p).edge = EdgeTerms::Ploughing {
            along: x,
            across: 7.0,
        };
    }),
    (&s::PLOUGH_R, |p, x| {
        class(p).edge = EdgeTerms::Ploughing {
            along: 4.0,
            across: x,
        };
    }),
    (&s::EDGE_SHARE, |p, x| {
        class(p).edge = EdgeTerms::OfRow { share: x };
    }),
    (&s::K_TC, |p, x| linear(p).cut[0] = Quantity::from_si(x)),
    (&s::K_RC, |p, x| linear(p).cut[1] = Quantity::from_si(x)),
    (&s::K_AC, |p, x| linear(p).cut[2] = Quantity::from_si(x)),
    (&s::K_TE, |p, x| linear(p).edge[0] = Quantity::from_si(x)),
    (&s::K_RE, |p, x| linear(p).edge[1] = Quantity::from_si(x)),
    (&s::K_AE, |p, x| linear(p).edge[2] = Quantity::from_si(x)),
    (&s::N_LEAST, |p, x| machine(p).n_min = turns(x)),
    (&s::N_MOST, |p, x| machine(p).n_max = turns(x)),
    (&s::N, |p, x| machine(p).steps = vec![turns(60.0), turns(x)]),
    (&s::N_BASE, |p, x| {
        machine(p).power = vec![PowerPoint {
            n: turns(x),
            power: one(),
        }];
    }),
    (&s::P_RATED, |p, x| {
        machine(p).power = vec![PowerPoint {
            n: turns(60.0),
            power: Quantity::from_si(x),
        }];
    }),
    (&s::ETA, |p, x| machine(p).efficiency = x),
    (&s::V_F_MOST, |p, x| {
        machine(p).v_f_max = Some(Quantity::from_si(x));
    }),
    (&s::K_MACHINE, |p, x| {
        machine(p).stiffness = Some(Quantity::from_si(x));
    }),
    (&s::TIR, |p, x| {
        machine(p).runout = Some(Quantity::from_si(x));
    }),
    (&s::BACKLASH, |p, x| {
        machine(p).backlash = Some(Quantity::from_si(x));
    }),
    (&s::DRAG, |p, x| {
        machine(p).drag = Some(Quantity::from_si(x));
    }),
    (&s::GRIP_FORCE, |p, x| {
        machine(p).collet_grip = Some(Quantity::from_si(x));
    }),
    (&s::ACCELERATION, |p, x| {
        machine(p).acceleration = Some(Quantity::from_si(x));
    }),
    (&s::F_CLAMP, |p, x| {
        hold(p).clamp_force = Some(Quantity::from_si(x));
    }),
    (&s::FRICTION, |p, x| hold(p).friction = x),
    (&s::L_GRIP, |p, x| hold(p).grip = Some(Quantity::from_si(x))),
    (&s::H_GRIP, |p, x| {
        hold(p).height = Some(Quantity::from_si(x));
    }),
    (&s::A_P, |p, x| p.cut.a_p = Quantity::from_si(x)),
    (&s::TILT, |p, x| p.cut.tilt = Quantity::from_si(x)),
    (&s::SLOPE, |p, x| p.cut.slope = Quantity::from_si(x)),
    (&s::A_E, |p, x| {
        p.cut.width = Some(Width::Across(Quantity::from_si(x)));
    }),
    (&s::PHI_S, |p, x| {
        p.cut.width = Some(Width::Angle(Quantity::from_si(x)));
    }),
    (&s::WALL_R, |p, x| {
        p.cut.wall = Some(Wall {
            side: WallSide::Inside,
            radius: Quantity::from_si(x),
        });
    }),
    (&s::PREVIOUS_D, |p, x| {
        p.cut.previous = Some(Quantity::from_si(x));
    }),
    (&s::TOLERANCE, |p, x| {
        p.cut.tolerance = Some(Quantity::from_si(x));
    }),
    (&s::RAMP, |p, x| {
        p.cut.entry = Some(Descent::Ramp(Quantity::from_si(x)));
    }),
    (&s::WALL_D, |p, x| {
        p.cut.entry = Some(Descent::Helix {
            hole: Quantity::from_si(x),
            pitch: mm(0.2),
        });
    }),
    (&s::PITCH, |p, x| {
        p.cut.entry = Some(Descent::Helix {
            hole: mm(6.0),
            pitch: Quantity::from_si(x),
        });
    }),
    (&s::N, |p, x| p.given.n = Some(turns(x))),
    (&s::V_C, |p, x| p.given.v_c = Some(Quantity::from_si(x))),
    (&s::F_Z, |p, x| p.given.f_z = Some(Quantity::from_si(x))),
    (&s::V_F, |p, x| p.given.v_f = Some(Quantity::from_si(x))),
    (&s::DEPTH_TIMES, |p, x| p.guides.depth = Some(x)),
    (&s::CHIP_TIMES, |p, x| p.guides.chip_room = Some(x)),
    (&s::SLENDER_MOST, |p, x| p.guides.stick_out = Some(x)),
    (&s::PLUNGE_SHARE, |p, x| p.guides.plunge_feed = Some(x)),
    (&s::RAMP_MOST, |p, x| {
        p.guides.steepest = Some(Quantity::from_si(x));
    }),
    (&s::LAND, |p, x| {
        p.guides.worn_land = Some(Quantity::from_si(x));
    }),
    (&s::PHI_USUAL, |p, x| {
        p.guides.corner = Some(Quantity::from_si(x));
    }),
    (&s::WIDTH_TIMES, |p, x| {
        p.guides.width = Some(WidthGuide {
            usual: x,
            deeper: None,
        });
    }),
    (&s::DEPTH_TIMES, |p, x| {
        p.guides.width = Some(WidthGuide {
            usual: 0.3,
            deeper: Some((x, 0.1)),
        });
    }),
    (&s::WIDTH_TIMES, |p, x| {
        p.guides.width = Some(WidthGuide {
            usual: 0.3,
            deeper: Some((1.0, x)),
        });
    }),
];

/// The symbols that are at fault with a number set.
fn faults(set: fn(&mut Setup, f64), value: f64) -> Vec<&'static str> {
    let mut pass = one_edge();
    pass["stock"]["hardness"] = json!(180.0);
    pass["stock"]["modulus"] = json!(210e3);
    let mut pass = setup(&pass, true);
    assert!(pass.faults().is_empty(), "{:?}", pass.faults());
    set(&mut pass, value);
    let named = pass.faults().into_iter().map(|fault| match fault {
        SetupError::Outside { symbol, .. } => symbol.text,
        _ => "",
    });
    named.collect()
}

#[test]
fn what_no_number_can_be_is_refused_by_its_symbol() {
    for (symbol, set) in NUMBERS {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e30] {
            let named = faults(*set, value);
            assert!(
                named.contains(&symbol.text),
                "{} {value}: {named:?}",
                symbol.text
            );
        }
        // Alone: whatever goes with it is said only of a number that can be.
        let alone = faults(*set, f64::NAN);
        let others: Vec<_> = alone.iter().filter(|name| **name != symbol.text).collect();
        let most = usize::from(symbol.text == s::V_C_LEAST.text);
        assert!(others.len() <= most, "{}: {others:?}", symbol.text);
    }
}
