//! Norms of building and upkeep.

use scenario::Design;

use crate::bill::Norms;
use crate::case::Case;

/// The norms that a design is built and kept by.
#[must_use]
pub const fn norms<'case>(case: &'case Case, design: &Design) -> Norms<'case> {
    let scenario = &case.scenario;
    Norms {
        stock: &scenario.stock,
        labour: &scenario.labour,
        upkeep: &scenario.upkeep,
        wash_interval_s: design.wash_interval_s,
    }
}
