//! Results as tables of the run folder.

pub mod bill;
pub mod designs;
pub mod detail;
pub mod heliostats;
pub mod sensitivity;
pub mod setout;
pub mod spots;
pub mod versus;
