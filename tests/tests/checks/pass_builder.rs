//! A pass put together in code: what is missing, what is guessed, what was asked wrongly.

use feeds_core::cut::{Path, WallSide};
use feeds_core::cutter::End;
use feeds_core::quantity::{Pressure, Quantity, mm};
use feeds_core::symbol::{self as s, System};
use reference_tables::pass::{Caution, Guess, PassBuilder, PassError, Ready};
use reference_tables::tables;

/// A sane pass along a side.
fn side() -> PassBuilder<'static> {
    let pass = tables().unwrap().pass();
    let pass = pass.stock("1095").condition("annealed").edges(4);
    pass.diameter(mm(6.0))
        .depth(mm(1.0))
        .width(mm(0.5))
        .path(Path::Side)
}

fn ready(pass: PassBuilder<'static>) -> Ready {
    pass.ready().unwrap_or_else(|faults| panic!("{faults}"))
}

fn faults(pass: PassBuilder<'static>) -> Vec<PassError> {
    pass.ready()
        .err()
        .map(|faults| faults.0)
        .unwrap_or_default()
}

#[test]
fn what_is_missing_is_told() {
    assert_eq!(faults(side()), []);
    let pass = tables()
        .unwrap()
        .pass()
        .stock("1095")
        .condition("annealed")
        .edges(4);
    let pass = pass.diameter(mm(6.0)).depth(mm(1.0)).path(Path::Side);
    assert!(faults(pass.clone()).contains(&PassError::Missing(&s::A_E)));
    // A slot is as wide as its cutter.
    assert_eq!(faults(pass.path(Path::Slot)), []);
}

#[test]
fn a_name_of_nothing_is_a_fault_of_a_pass_that_is_whole() {
    assert_eq!(faults(side().hold("thin air")).len(), 1);
    assert_eq!(faults(side().machine("thin air")).len(), 1);
}

#[test]
fn two_force_laws_are_told_once() {
    let pressure = |n_mm2: f64| Pressure::from_si(n_mm2 * 1e6);
    let layered = side().stock("PATTERN").with(&s::KC11, pressure(1700.0));
    let half = faults(layered.clone());
    assert_eq!(half, [PassError::HalfAPair]);
    let both = layered.with(&s::M_C, 0.25).with(&s::K_TC, pressure(1800.0));
    assert_eq!(faults(both), [PassError::TwoLaws(&s::KC11, &s::K_TC)]);
}

/// A slot is cut on both sides at once: nobody chooses climb or conventional there.
#[test]
fn a_slot_has_no_direction_to_guess() {
    let guessed = |path| {
        let ready = ready(side().path(path));
        let chosen = |caution: &Caution| matches!(caution, Caution::Direction(_));
        let told = ready.cautions.iter().any(chosen);
        (ready.guesses.contains(&Guess::Direction), told)
    };
    assert_eq!(guessed(Path::Side), (true, true));
    assert_eq!(guessed(Path::Slot), (false, false));
    assert_eq!(guessed(Path::Face), (false, false));
}

/// A face has no wall: a tolerance says nothing about it.
#[test]
fn a_face_has_no_tolerance() {
    let of = |path| {
        ready(side().path(path).with(&s::TOLERANCE, mm(0.02)))
            .setup
            .cut
            .tolerance
    };
    assert_eq!(of(Path::Side), Some(mm(0.02)));
    assert_eq!(of(Path::Face), None);
}

/// What nobody gave is said in the unit that is typed at the machine.
#[test]
fn usual_sizes_are_read_in_the_unit_of_the_machine() {
    let read = |system| {
        let ready = ready(side().typed_in(system));
        let line = ready
            .sources
            .into_iter()
            .find(|line| line.what == s::L_FLUTE.name);
        line.and_then(|line| line.read).unwrap_or_default()
    };
    assert_eq!(read(System::Metric), "12.0 mm, not given");
    assert!(
        read(System::Inch).contains(" in, not given"),
        "{}",
        read(System::Inch)
    );
}

#[test]
fn a_wall_has_its_side_and_radius() {
    let wall = feeds_core::cut::Wall {
        side: WallSide::Inside,
        radius: mm(10.0),
    };
    assert_eq!(ready(side().wall(wall)).setup.cut.wall, Some(wall));
    assert_eq!(
        faults(side().with(&s::WALL_R, mm(10.0))),
        [PassError::NoWallSide]
    );
}

/// The end that is said goes before what a corner radius would say.
#[test]
fn an_end_that_is_said_is_taken() {
    let end = |pass: PassBuilder<'static>| ready(pass).setup.cutter.end;
    assert_eq!(end(side()), End::Square);
    assert_eq!(end(side().with(&s::R_EPS, mm(0.5))), End::Corner);
    assert_eq!(end(side().with(&s::R_EPS, mm(3.0))), End::Ball);
    assert_eq!(end(side().end(End::Ball)), End::Ball);
}
