//! Receiver, store and heat demand, hour by hour: sunlight on the aperture in, delivered heat out.
//!
//! [`HeatProcess`] is prepared once per case into a [`Process`] (water and steam properties);
//! [`PlantInputs`] adds the sizes of one design; [`run_year`] walks through the hours and
//! [`size_plant`] says what has to be bought. SI units everywhere, heat flows in watts as the mean
//! over an hour, yearly sums in joules.

mod air;
mod convection;
mod demand;
mod error;
mod hour;
mod loss_table;
mod process;
mod receiver;
#[cfg(test)]
mod samples;
mod size;
mod steam;
mod store;
mod totals;
mod warmth;
mod year;

pub use demand::{Demand, HOURS_PER_YEAR, Shifts};
pub use error::PlantError;
pub use hour::{HourIn, HourOut};
pub use process::{HeatProcess, Process};
pub use receiver::{HotReceiver, Losses, Receiver, ReceiverKind, Surroundings};
pub use size::{PlantParts, size_plant};
pub use store::Store;
pub use totals::YearTotals;
pub use year::{Piping, PlantInputs, run_year};
