//! From a case and a design to a summary: the one place that joins the physics.
//!
//! ```text
//! Scenario + weather ─> Case
//! Case + Design ─> plan ─> drive ─> light ─> heat ─┐
//!          └─────> structure ──────────> bill ─────┴─> Summary (no prices)
//! ```
//!
//! [`evaluate`] is pure: the same case, design and fidelity give the same bits, on any number of
//! threads. No physical quantity depends on a price.

mod alignment;
mod bill;
mod case;
mod clash;
mod detail;
mod evaluate;
mod fidelity;
mod flux_map;
mod infeasible;
mod inputs;
mod judge;
mod lay;
mod light;
mod make;
mod makes;
mod margins;
mod motion;
pub mod setout;
pub mod shared_drive;
mod site;
mod soiling;
pub mod spot;
mod spread;
mod stand;
mod summary;
mod workings;
mod year_light;
mod years;

pub use alignment::Instant;
pub use bill::defocus_parts;
pub use case::{Case, CaseError};
pub use detail::{Detail, MirrorRow, detail};
pub use evaluate::{Scratch, evaluate, evaluate_plan};
pub use fidelity::Fidelity;
pub use flux_map::{FluxMap, Spreading};
pub use infeasible::Infeasible;
pub use inputs::{Lee, plan_axis, plan_linkage};
pub use judge::{
    Care, Judgement, LOSSES, Losses, MirrorMoment, Moment, Pair, Trial, YearJudgement,
};
pub use make::{Make, string_parts};
pub use makes::{HeliostatMake, Makes, heliostat_parts};
pub use margins::{MARGINS, Margins};
pub use spread::{YearlySpread, stated_spread, yearly_spread};
pub use stand::{Misfit, check_plan};
pub use summary::Summary;
pub use workings::{
    AlignmentNews, BlurPart, CLASSES, ClassLight, DriveGear, Escape, Later, LightShare, Sharing,
    Stall, TravelUse, Workings,
};
pub use years::{YearYield, YearsSpread, years_spread};

pub use drive::YearBeams;
pub use plant::{DemandFault, read_demand};
pub use rays::{Estimate, RaysError};
pub use structure::{PedestalCheck, PedestalParts, StringParts, TALLEST_USUAL_LATTICE_M};

/// Version of the physics and of the layout of a [`Summary`]: raised with every change that gives
/// other numbers for the same case and design, so that kept evaluations are never taken for new.
pub const MODEL_VERSION: u32 = 11;
