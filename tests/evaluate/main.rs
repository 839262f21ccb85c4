//! Whole evaluations, from a scenario to its summary: how well quick looks meet close ones, what
//! must hold whatever the numbers, and what is said of designs that can't be.

#![allow(clippy::expect_used, clippy::panic, clippy::print_stdout)]

mod built_plant;
mod concepts;
mod fidelity;
mod fields;
mod held_out;
mod heliostats;
mod keys;
mod laws;
mod limits;
mod money;
mod same_bits;
mod sharing;
mod upkeep;

use model::{Fidelity, Summary};
use tautfield_tests::Works;

/// The summary of a design that must be sound.
fn summary(works: &Works, fidelity: Fidelity) -> Summary {
    works
        .evaluate(fidelity)
        .unwrap_or_else(|infeasible| panic!("{infeasible}"))
}

/// A summary's numbers, bit by bit.
fn bits(summary: &Summary) -> Vec<u64> {
    summary.to_numbers().into_iter().map(f64::to_bits).collect()
}

/// Relative difference.
fn apart(one: f64, other: f64) -> f64 {
    (one / other - 1.0).abs()
}
