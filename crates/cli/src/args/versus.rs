//! What `versus` is asked for.

use std::path::PathBuf;

use clap::Args;
use scenario::Concept;

use super::Settings;
use super::search::given;
use super::subject::setting;

/// What `versus` is asked for.
#[derive(Debug, Args)]
pub struct VersusArgs {
    /// The scenario file; all but what a rival lays over it is shared.
    pub file: PathBuf,
    /// The folder: a run folder for each rival, and what compares them; taken up again if stopped.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Concepts of field that compete, the first being the one that others are held against.
    #[arg(long, value_name = "CONCEPT", value_delimiter = ',', default_values = Concept::ALL.map(|(word, _)| word), value_parser = Concept::ALL.map(|(word, _)| word))]
    pub concepts: Vec<String>,
    /// A rival of your own in place of the concepts: its name and a value it lays over the scenario;
    /// repeated with the same name it lays more of them.
    #[arg(long = "rival", value_name = "NAME:KEY=VALUE", value_parser = rival, conflicts_with = "concepts")]
    pub rival: Vec<(String, (String, String))>,
    /// What each must deliver in a year: "9 GWh", "55 %" of the demand or "whole demand", the rest
    /// being bought; overrides search.duty [default: what the first one's cheapest design delivers].
    #[arg(long)]
    pub duty: Option<String>,
    #[command(flatten)]
    pub settings: Settings,
    /// Designs to evaluate for each rival; overrides search.total.
    #[arg(long, value_name = "N")]
    pub total: Option<u32>,
    /// Seed of every search; overrides search.seed.
    #[arg(long, value_name = "N")]
    pub seed: Option<u32>,
    /// Draws of all that is uncertain; a power of two fills the ranges most evenly.
    #[arg(long, value_name = "N", default_value_t = 4096, value_parser = clap::value_parser!(u32).range(16..=1_048_576))]
    pub draws: u32,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// One that competes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rival {
    /// Its name, also that of its run folder.
    pub name: String,
    /// The values it lays over the scenario.
    pub set: Vec<(String, String)>,
}

impl VersusArgs {
    /// Who competes, in the order first named.
    pub fn rivals(&self) -> Vec<Rival> {
        if self.rival.is_empty() {
            let of_concept = |word: &String| Rival {
                name: word.clone(),
                set: vec![("concept".to_owned(), word.clone())],
            };
            return self.concepts.iter().map(of_concept).collect();
        }
        let mut rivals: Vec<Rival> = Vec::new();
        for (name, setting) in &self.rival {
            match rivals.iter_mut().find(|rival| rival.name == *name) {
                Some(rival) => rival.set.push(setting.clone()),
                None => rivals.push(Rival {
                    name: name.clone(),
                    set: vec![setting.clone()],
                }),
            }
        }
        rivals
    }

    /// All values laid over the scenario for one rival; what has a flag of its own comes last and wins.
    pub fn overrides(&self, rival: &Rival, duty: Option<&str>) -> Vec<(String, String)> {
        let flags = given([
            ("search.total", self.total.map(|total| total.to_string())),
            ("search.seed", self.seed.map(|seed| seed.to_string())),
            ("search.duty", duty.map(str::to_owned)),
        ]);
        let laid = self.settings.overrides().into_iter();
        laid.chain(rival.set.clone()).chain(flags).collect()
    }
}

/// A rival's name is that of its folder, so it is a plain word.
fn rival(text: &str) -> Result<(String, (String, String)), String> {
    let wrong = || "write NAME:KEY=VALUE, such as short:strings.mirrors=5".to_owned();
    let (name, laid) = text.split_once(':').ok_or_else(wrong)?;
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "-_".contains(letter);
    if name.is_empty() || name == "charts" || !name.chars().all(is_plain) {
        return Err(format!(
            "{name:?} names no folder of its own: use letters, digits, - and _"
        ));
    }
    Ok((name.to_owned(), setting(laid)?))
}
