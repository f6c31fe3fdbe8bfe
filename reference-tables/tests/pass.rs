//! What a pass from names refuses, and what it takes from where.

use feeds_core::cut::{Direction, Path, Wall, WallSide};
use feeds_core::cutter::{Coating, CutterMaterial, End};
use feeds_core::quantity::{Angle, Force, Length, Pressure, Quantity, degrees, mm};
use feeds_core::symbol as s;
use reference_tables::hardness::Hardness;
use reference_tables::pass::{Caution, Chosen, Guess, PassBuilder, PassError, Ready, What};
use reference_tables::tables;

fn empty() -> PassBuilder<'static> {
    tables().unwrap_or_else(|e| panic!("{e}")).pass()
}

/// A pass that lacks nothing.
fn good() -> PassBuilder<'static> {
    let pass = empty().stock("1095").condition("annealed");
    let pass = pass.cutter("6 mm square, 4 edges, AlTiN carbide");
    pass.path(Path::Side).depth(mm(1.0)).width(mm(0.5))
}

#[track_caller]
fn refused(pass: PassBuilder<'_>, is: fn(&PassError) -> bool, says: &str) {
    let Err(faults) = pass.ready() else {
        panic!("not refused: {says}");
    };
    assert!(faults.0.iter().any(is), "{:?}", faults.0);
    assert!(faults.to_string().contains(says), "{faults}");
}

fn ready(pass: PassBuilder<'_>) -> Ready {
    pass.ready().unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn what_cannot_be_is_refused_by_kind() {
    use PassError as E;
    let pa = |n_mm2: f64| Pressure::from_si(n_mm2 * 1e6);
    ready(good());
    refused(
        good().cutter("7 mm square"),
        |e| matches!(e, E::NotFound(_)),
        "7 mm square",
    );
    refused(empty(), |e| *e == E::Missing(&s::D), "D is needed");
    refused(
        good().depth(mm(-1.0)),
        |e| matches!(e, E::Setup(_)),
        "a_p is -1",
    );
    refused(
        good().condition("H900"),
        |e| matches!(e, E::Condition(_)),
        "choose one of",
    );
    // ASM: 1095 annealed has 185-207 HB
    let hard = good().hardness(Hardness::hrc(60.0));
    refused(
        hard,
        |e| matches!(e, E::Hardness(_)),
        "60 HRC is not 1095 annealed",
    );
    refused(
        good().hold("tape"),
        |e| matches!(e, E::Untested { .. }),
        "pull a test part",
    );
    let twice = good().with::<Angle>(&s::PHI_S, degrees(40.0));
    refused(twice, |e| *e == E::WidthTwice, "keep one of them");
    let bore = good().path(Path::Bore).wall(Wall {
        side: WallSide::Outside,
        radius: mm(8.0),
    });
    refused(bore, |e| *e == E::ConvexBore, "concave");
    let ball = good().path(Path::BallFinish);
    refused(ball, |e| *e == E::NotABall(End::Square), "needs a ball end");
    let no_side = good().with::<Length>(&s::WALL_R, mm(8.0));
    refused(no_side, |e| *e == E::NoWallSide, "inside or outside");
    let half = good().with::<Pressure>(&s::KC11, pa(1700.0));
    refused(half.clone(), |e| *e == E::HalfAPair, "belong together");
    let both = half.with::<Pressure>(&s::K_TC, pa(1800.0));
    refused(
        both,
        |e| *e == E::TwoLaws(&s::KC11, &s::K_TC),
        "two force laws",
    );
    let one = good().with::<Pressure>(&s::K_TC, pa(1800.0));
    refused(
        one,
        |e| matches!(e, E::Lacks(of) if of.len() == 5),
        "missing",
    );
}

/// The rows as `cutters.json`, `machines.json` and `holds.json` have them, the careful end of each.
#[test]
fn a_row_gives_what_nobody_says() {
    let setup = ready(good().machine("bench-5000").hold("vise")).setup;
    let c = setup.cutter;
    assert_eq!((c.edges, c.end), (4, End::Square));
    assert_eq!(
        (c.material, c.coating),
        (CutterMaterial::Carbide, Coating::AlTiN)
    );
    assert!((c.stick_out.si() - 0.022).abs() < 1e-12);
    let machine = setup.machine.unwrap();
    assert!((machine.n_max.in_per_minute() - 5000.0).abs() < 1e-9);
    let hold = setup.hold.unwrap();
    assert_eq!(
        (hold.clamp_force.map(Quantity::si), hold.faces),
        (Some(3000.0), 2)
    );
    let said = ready(good().with(&s::STICK_OUT, mm(15.0)).coating(Coating::TiN))
        .setup
        .cutter;
    assert_eq!((said.stick_out, said.coating), (mm(15.0), Coating::TiN));
}

/// Tape holds by what was tested, once, and not by friction under it.
#[test]
fn a_tested_force_is_all_that_tape_holds() {
    let tape = good().hold("tape").with(&s::F_CLAMP, Force::from_si(200.0));
    let hold = ready(tape).setup.hold.unwrap();
    assert_eq!((hold.friction, hold.faces), (1.0, 1));
}

#[test]
fn what_nobody_says_is_guessed_with_care_and_told() {
    let open = ready(good());
    assert_eq!(open.setup.cut.direction, Direction::Up);
    assert!(open.guesses.contains(&Guess::Direction));
    let chosen = Caution::Direction(Chosen::NothingKnown);
    assert!(open.cautions.contains(&chosen), "{:?}", open.cautions);
    let forged = ready(good().condition("as forged"));
    let unknown = |c: &Caution| matches!(c, Caution::NotKnown(What::Stock, _));
    assert!(forged.cautions.iter().any(unknown));
    assert_eq!(forged.setup.stock.resistance, None);
    assert!(open.sources.iter().all(|line| !line.source.is_empty()));
}

/// An AlTiN kind of coating holds aluminium: makers do not sell it for aluminium.
#[test]
fn a_coating_that_holds_aluminium_is_minded_in_aluminium() {
    let minded = |(stock, condition), coating| {
        let pass = empty().stock(stock).condition(condition).coating(coating);
        let pass = pass
            .cutter("6 mm square, 4 edges, AlTiN carbide")
            .path(Path::Side);
        let ready = pass.depth(mm(1.0)).width(mm(0.5)).ready();
        let ready = ready.unwrap_or_else(|e| panic!("{e}"));
        ready.cautions.contains(&Caution::CoatingWelds)
    };
    assert!(minded(("6061", "T6"), Coating::AlTiN));
    assert!(!minded(("6061", "T6"), Coating::ZrN));
    assert!(!minded(("1095", "annealed"), Coating::AlTiN));
}
