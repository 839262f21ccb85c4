//! Receiver, store and use, hour by hour: sunlight on the aperture in, delivered heat or electricity
//! out.
//!
//! [`HeatProcess`] is prepared once per case into a [`Process`] (a carrier of heat and its duty);
//! [`PlantInputs`] adds the sizes of one design; [`run_year`] walks through the hours and
//! [`size_plant`] says what has to be bought. SI units everywhere, power in watts as the mean over an
//! hour, yearly sums in joules.

mod air;
mod carrier;
mod convection;
mod demand;
mod demand_file;
mod error;
mod hour;
mod loss_table;
mod pipes;
mod process;
mod receiver;
mod salt;
#[cfg(test)]
mod samples;
mod size;
mod steam;
mod store;
mod totals;
mod turbine;
mod vessels;
mod warmth;
mod year;

pub use carrier::{Carrier, Fluid};
pub use demand::{Demand, HOURS_PER_YEAR, Shifts};
pub use demand_file::{DemandFault, read_demand};
pub use error::PlantError;
pub use hour::{HourIn, HourOut};
pub use pipes::Piping;
pub use process::{CarrierWish, Duty, DutyWish, HeatProcess, Process, Steam};
pub use receiver::{HotReceiver, Losses, Receiver, ReceiverKind, Surroundings};
pub use size::{PlantParts, size_plant};
pub use store::Store;
pub use totals::YearTotals;
pub use turbine::{Cooling, TurbineSet};
pub use year::{PlantInputs, run_year};
