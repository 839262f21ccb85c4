//! The program as people and scripts meet it: what it prints, how it ends, what a run folder
//! holds after threads, kills and torn files.

// Helpers of tests may stop, and write files and read the clock as they like.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::print_stderr
)]

mod broken_folder;
mod browser;
mod concepts;
mod faults;
mod given_plan;
mod judged;
mod killed;
mod manners;
mod messages;
mod products;
mod read_elsewhere;
mod readme;
mod readme_costs;
mod readme_designs;
mod readme_figures;
mod refused;
mod repriced;
mod rivals;
mod searched;
mod set_out;
mod signalled;
mod spotted;
mod support;
mod told;
mod units;
mod varied;
mod weather_files;
