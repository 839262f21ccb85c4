//! What `setout` is asked for.

use std::path::PathBuf;

use clap::Args;

use super::SubjectArgs;

/// What `setout` is asked for.
#[derive(Debug, Args)]
pub struct SetoutArgs {
    #[command(flatten)]
    pub subject: SubjectArgs,
    /// The folder for the tables.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Print the summary as JSON.
    #[arg(long)]
    pub json: bool,
}
