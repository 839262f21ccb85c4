//! What `search` is asked for.

use std::path::PathBuf;

use clap::Args;

use super::Settings;

/// What `search` is asked for.
#[derive(Debug, Args)]
pub struct SearchArgs {
    /// The scenario file.
    pub file: PathBuf,
    /// The run folder; a search stopped in it is taken up again.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    #[command(flatten)]
    pub settings: Settings,
    /// Designs to evaluate in all; overrides search.total.
    #[arg(long, value_name = "N")]
    pub total: Option<u32>,
    /// Seed of the search; overrides search.seed.
    #[arg(long, value_name = "N")]
    pub seed: Option<u32>,
    /// Print the summary as JSON.
    #[arg(long)]
    pub json: bool,
}

impl SearchArgs {
    /// All values laid over the scenario; what has a flag of its own comes last and wins.
    pub fn overrides(&self) -> Vec<(String, String)> {
        let flags = given([
            ("search.total", self.total.map(|total| total.to_string())),
            ("search.seed", self.seed.map(|seed| seed.to_string())),
        ]);
        self.settings.overrides().into_iter().chain(flags).collect()
    }
}

/// Flags that were given, as values laid over the scenario.
pub(super) fn given<const N: usize>(
    flags: [(&str, Option<String>); N],
) -> impl Iterator<Item = (String, String)> {
    flags
        .map(|(key, value)| Some((key.to_owned(), value?)))
        .into_iter()
        .flatten()
}
