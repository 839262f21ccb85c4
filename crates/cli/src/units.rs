//! The units that this process tells lengths, areas, masses and forces in, chosen once as it starts.
//! Files and JSON never ask: they are SI.

use std::sync::OnceLock;

use quantity::{Measure, Units};
use report::figures;

static FIRST: OnceLock<Units> = OnceLock::new();

/// Chooses them. The first choice stands.
pub fn choose(units: Units) {
    let _ = FIRST.set(units);
}

/// The units chosen; SI where none were.
pub fn first() -> Units {
    FIRST.get().copied().unwrap_or_default()
}

/// A length with the other units beside it.
pub fn length(length_m: f64) -> String {
    figures::length(length_m, first())
}

/// An SI value with its unit.
pub fn measured(si: f64, measure: Measure, digits: usize) -> String {
    figures::measured(si, measure, first(), digits)
}

/// An SI value with the other units beside it.
pub fn in_both(si: f64, measure: Measure, digits: usize) -> String {
    figures::in_both(si, measure, first(), digits)
}

/// From one SI value to another.
pub fn span(ends: [f64; 2], measure: Measure, decimals: usize) -> String {
    figures::span(ends, measure, first(), decimals)
}

/// An SI value as a number without its unit, which a heading tells.
pub fn number(si: f64, measure: Measure) -> f64 {
    measure.number(si, first())
}

/// The unit of a heading.
pub fn unit(measure: Measure) -> &'static str {
    measure.unit(first())
}

/// Decimals after the point of inches, for those of millimetres.
pub fn fine(decimals_of_mm: usize) -> usize {
    match first() {
        Units::Si => decimals_of_mm,
        Units::Us => decimals_of_mm + 2,
    }
}
