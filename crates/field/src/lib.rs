//! Where the mirrors stand: candidate places and the plan.

pub mod plan;
pub mod stance;

pub use plan::{FirstAxis, Linkage, Plan, StringRow};
pub use stance::Stance;
