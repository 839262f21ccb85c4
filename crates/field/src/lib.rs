//! Where the mirrors stand: candidate places and the plan.
//!
//! [`candidates`] lays more strings than needed over the whole sector, [`heliostat_candidates`] more
//! single mirrors; the caller scores each by what it earns, and [`select`] keeps the best. What light
//! is, this crate does not know.

mod aim;
mod alternatives;
mod error;
mod explicit;
mod heliostat_field;
mod land;
mod layout;
mod lee;
pub mod plan;
mod plan_check;
mod rings;
mod rows;
mod selection;
mod site;
pub mod stance;
mod stock;
mod string_field;

pub use aim::{AimSpread, spread_aims};
pub use alternatives::Alternatives;
pub use error::FieldError;
pub use explicit::{Coupling, PlanRow, RowError, RowProblem};
pub use heliostat_field::{HeliostatField, heliostat_candidates};
pub use land::land_area_m2;
pub use layout::{Places, candidates};
pub use lee::exposed_strings;
pub use plan::{FirstAxis, Linkage, Plan, StringRow};
pub use plan_check::PlanError;
pub use selection::{best_places, select, take};
pub use stance::Stance;
pub use stock::stock_focal_lengths;
pub use string_field::{BearingRule, StringField};
