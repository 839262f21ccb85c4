//! The method book: every model with its equation, source, validity, what it is held to and how far off
//! it is.
//!
//! ```text
//! a test of a crate ── Check::within ──> holds the tolerance, and the record ──> checks.toml
//! checks.toml ── read ──> `tautfield method`, and a chapter of every page
//! ```
//!
//! A check is declared where the model is tested:
//!
//! ```ignore
//! Check {
//!     id: "sky.air_mass",
//!     model: "Relative air mass",
//!     equation: "m = 1 ÷ (sin h + 0.50572 (96.07995° − z)^−1.6364)",
//!     source: "Kasten & Young 1989, Applied Optics 28",
//!     validity: "sun above the horizon",
//!     against: "a general-purpose library at six zenith angles",
//!     unit: "",
//! }
//! .within(1e-6, table.map(|(zenith, expected)| (expected, air_mass(zenith))));
//! ```
//!
//! No figure of the book is typed: the record is what the check found. Where a check finds something
//! else than its record says, it fails; `METHOD_BOOK=renew cargo test --release` writes the record anew,
//! to be looked at before it is committed.

// For tests: a check that does not hold stops.
#![allow(clippy::expect_used)]

mod check;
mod figures;
mod record;

pub use check::Check;
pub use record::{Chapters, Record, read};
