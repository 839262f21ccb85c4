//! What `draw` is asked for.

use std::path::PathBuf;

use clap::Args;

/// What `draw` is asked for.
#[derive(Debug, Args)]
pub struct DrawArgs {
    /// The run folder of a finished search.
    pub run: PathBuf,
    /// Print the files drawn as JSON.
    #[arg(long)]
    pub json: bool,
}
