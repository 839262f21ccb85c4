//! What `judge` is asked for.

use std::path::PathBuf;

use clap::Args;

use super::Settings;
use super::subject::PLAN_HELP;

/// What `judge` is asked for.
#[derive(Debug, Args)]
pub struct JudgeArgs {
    /// The scenario file; its start design is judged, or lends all but the mirrors to --plan.
    pub file: PathBuf,
    /// A plan instead of the field that the scenario lays: CSV, a line for each mirror.
    #[arg(long, value_name = "CSV", long_help = PLAN_HELP)]
    pub plan: Option<PathBuf>,
    /// Instants: CSV with sun_azimuth_deg, sun_elevation_deg and dni_w_m2.
    #[arg(long, value_name = "CSV")]
    pub instants: Option<PathBuf>,
    /// The year too; without --instants, the year is judged alone.
    #[arg(long)]
    pub year: bool,
    /// Rays under each sun, at least.
    #[arg(long, value_name = "N", default_value_t = 1_000_000, value_parser = clap::value_parser!(u64).range(1..=100_000_000_000))]
    pub rays: u64,
    /// Chooses the random numbers of the rays.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u32,
    #[command(flatten)]
    pub settings: Settings,
    /// Write every mirror at every instant into a CSV file.
    #[arg(long, value_name = "CSV", requires = "instants")]
    pub per_mirror: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}
