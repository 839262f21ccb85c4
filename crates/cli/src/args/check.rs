//! What `check` is asked for.

use std::path::PathBuf;

use clap::Args;

use super::Settings;

/// What `check` is asked for.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The scenario file.
    pub file: PathBuf,
    /// Draw the weather year into this folder: months, hours by their strength, the sun's path.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    #[command(flatten)]
    pub settings: Settings,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}
