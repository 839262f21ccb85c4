//! What `price` is asked for.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use model::Fidelity;

use super::SubjectArgs;

/// What `price` is asked for.
#[derive(Debug, Args)]
pub struct PriceArgs {
    #[command(flatten)]
    pub subject: SubjectArgs,
    /// Write the plan that the design lays into a CSV file.
    #[arg(long, value_name = "CSV", conflicts_with = "plan")]
    pub plan_out: Option<PathBuf>,
    /// How closely to look at the light.
    #[arg(long, value_enum, default_value_t = Closeness::Every)]
    pub fidelity: Closeness,
    /// Print every line of the bill with its rate, range and source.
    #[arg(long)]
    pub items: bool,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// How closely to look at the light.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Closeness {
    /// Some strings at 64 suns, as a search looks.
    Search,
    /// Every string at 64 suns.
    Every,
    /// Every string in every hour.
    Hours,
}

impl From<Closeness> for Fidelity {
    fn from(closeness: Closeness) -> Self {
        match closeness {
            Closeness::Search => Self::Search,
            Closeness::Every => Self::Every,
            Closeness::Hours => Self::Hours,
        }
    }
}
