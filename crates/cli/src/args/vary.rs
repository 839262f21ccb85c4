//! What `vary` is asked for.

use std::path::PathBuf;

use clap::Args;
use ledger::Item;

use crate::sensitivity::Asked;

/// What `vary` is asked for.
#[derive(Debug, Args)]
pub struct VaryArgs {
    /// The run folder of a finished search.
    pub run: PathBuf,
    /// Two prices of the bill to lay against one another.
    #[arg(long, num_args = 2, value_names = ["ITEM", "ITEM"], default_values = ["steel", "glass"], value_parser = item)]
    pub grid: Vec<Item>,
    /// Draws of all inputs together; a power of two fills their ranges most evenly.
    #[arg(long, value_name = "N", default_value_t = Asked::BY_SEARCH.draws, value_parser = clap::value_parser!(u32).range(16..=1_048_576))]
    pub draws: u32,
    /// Chooses the draws.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u32,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

impl VaryArgs {
    /// What is varied beside design values.
    pub fn prices(&self) -> Asked {
        Asked {
            grid: match self.grid[..] {
                [first, second] => [first, second],
                _ => Asked::BY_SEARCH.grid,
            },
            draws: self.draws,
            seed: self.seed,
        }
    }
}

fn item(text: &str) -> Result<Item, String> {
    Item::from_key(text)
        .ok_or_else(|| "no item of the bill has this key; `price --items` lists them".to_owned())
}
