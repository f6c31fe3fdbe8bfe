//! The laws of the rehearsal on so many random pairs as they are meant for, and on the first few of
//! them: these take so little that changes on purpose are tried against them.

use super::{
    equal_depth_is_equal_in_the_turn, equal_force_is_equal_in_the_turn, every_cutting_rung_cuts,
    nothing_is_proven_against_its_own_sense, shares_are_those_of_the_loads,
    what_was_predicted_corrects_nothing,
};

#[test]
fn nothing_is_proven_against_its_own_sense_of_all() {
    nothing_is_proven_against_its_own_sense(10_000);
}

#[test]
fn nothing_is_proven_against_its_own_sense_of_a_few() {
    nothing_is_proven_against_its_own_sense(250);
}

#[test]
fn shares_are_those_of_the_loads_of_all() {
    shares_are_those_of_the_loads(150);
}

#[test]
fn shares_are_those_of_the_loads_of_a_few() {
    shares_are_those_of_the_loads(12);
}

#[test]
fn equal_force_is_equal_in_the_turn_of_all() {
    equal_force_is_equal_in_the_turn(300);
}

#[test]
fn equal_force_is_equal_in_the_turn_of_a_few() {
    equal_force_is_equal_in_the_turn(12);
}

#[test]
fn equal_depth_is_equal_in_the_turn_of_all() {
    equal_depth_is_equal_in_the_turn(100);
}

#[test]
fn equal_depth_is_equal_in_the_turn_of_a_few() {
    equal_depth_is_equal_in_the_turn(8);
}

#[test]
fn every_cutting_rung_cuts_of_all() {
    every_cutting_rung_cuts(100);
}

#[test]
fn every_cutting_rung_cuts_of_a_few() {
    every_cutting_rung_cuts(6);
}

#[test]
fn what_was_predicted_corrects_nothing_of_all() {
    what_was_predicted_corrects_nothing(100);
}

#[test]
fn what_was_predicted_corrects_nothing_of_a_few() {
    what_was_predicted_corrects_nothing(12);
}
