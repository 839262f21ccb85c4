//! What is typed.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use ledger::Item;
use model::Fidelity;
use quantity::Units;
use scenario::Concept;

use crate::exit;
use crate::failure::Failure;
use crate::sensitivity::Asked;

/// Finds, for a field of strings of small mirrors around a tower, or of heliostats, the cheapest
/// delivered kilowatt-hour over a year.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 100, after_help = exit::HELP)]
pub struct Arguments {
    /// Threads to work with [default: one for each core]; results never depend on them.
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1024))]
    threads: Option<u32>,
    /// Units to tell lengths, areas, masses and forces in; files, JSON and charts keep to SI, values of
    /// a scenario and rates to the units they are written in.
    #[arg(long, global = true, value_enum, value_name = "UNITS", default_value_t = UnitsAsked::Si)]
    pub units: UnitsAsked,
    /// What to do.
    #[command(subcommand)]
    pub verb: Verb,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Print a commented scenario to start from.
    New,
    /// Check a scenario and its weather; print every value with its unit and origin.
    Check(CheckArgs),
    /// Price one design: its energy, bill, money and carbon.
    Price(PriceArgs),
    /// Search for the cheapest design; write tables and charts into a run folder.
    Search(SearchArgs),
    /// Search rivals with equal effort for the same duty and hold them against one another.
    Versus(VersusArgs),
    /// Judge the fast model of light by rays, for instants or the year.
    Judge(JudgeArgs),
    /// Set a field out for crew and purchaser: posts, settings, lines, drives, loads, stock.
    Setout(SetoutArgs),
    /// Vary what the cheapest design of a finished search rests on: prices, finance, its values.
    Vary(VaryArgs),
    /// Tell where the beams of surveyed strings fall, hour by hour, and which mirrors pass.
    Spot(SpotArgs),
    /// Draw the charts of a finished run folder again.
    Draw(DrawArgs),
    /// Print every rate of the bill with its range, year, source, carbon and life, as a file to change.
    Rates,
    /// Print every column of every table with its unit and meaning.
    Glossary,
    /// Print the JSON schema of scenario files.
    Schema,
    /// Print what a shell needs to complete this program's words.
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Print the manual page, of all verbs or of one.
    Man {
        /// The verb.
        verb: Option<String>,
    },
}

/// What a plan holds.
const PLAN_HELP: &str = "A plan instead of the field that the scenario lays; all else is that of the \
start design. CSV, a line for each mirror: mirror_id, its centre x_m (east), y_m (north) and z_m (up) \
from the tower's foot, width_m, height_m and focal_length_m (inf for a flat one). Mirrors of a string \
also have string_id, first_axis, bearing_deg and linkage, one below the other from the most negative \
along the bearing; a mirror without them has a drive of its own. aim_x_m, aim_y_m and aim_z_m may \
give it another aim point than the aperture's middle.";

/// Values laid over the scenario.
#[derive(Clone, Debug, Args)]
pub struct Settings {
    /// Lay a value over the scenario, such as strings.side="30 in"; may be repeated.
    #[arg(long = "set", value_name = "KEY=VALUE", value_parser = setting)]
    pub set: Vec<(String, String)>,
    /// Which of the scenario's concepts of field to take: strings, pedestals or singles; the same as
    /// --set concept=WORD.
    #[arg(long, value_name = "WORD")]
    pub concept: Option<String>,
}

impl Settings {
    /// Every value laid over the scenario; what has a flag of its own comes last and wins.
    pub fn overrides(&self) -> Vec<(String, String)> {
        let concept = self.concept.iter();
        let concept = concept.map(|word| ("concept".to_owned(), word.clone()));
        self.set.iter().cloned().chain(concept).collect()
    }
}

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

/// Which design is meant.
#[derive(Debug, Args)]
#[group(id = "subject", required = true, multiple = false, args = ["file", "design"])]
pub struct SubjectArgs {
    /// The scenario file; opened values take their start.
    pub file: Option<PathBuf>,
    /// A design of a finished search instead: its run folder and its row in designs.parquet.
    #[arg(long, value_name = "RUN#ROW", value_parser = run_and_row)]
    pub design: Option<(PathBuf, u32)>,
    /// A plan instead of the field that the scenario lays: CSV, a line for each mirror.
    #[arg(long, value_name = "CSV", long_help = PLAN_HELP, conflicts_with = "design")]
    pub plan: Option<PathBuf>,
    #[command(flatten)]
    pub settings: Settings,
}

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

/// Units to tell in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum UnitsAsked {
    /// Metres, tonnes, newtons.
    Si,
    /// Feet, pounds, pounds of force.
    Us,
}

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

/// What a survey holds.
const SURVEY_HELP: &str = "A survey of strings that stand. CSV, a line for each mirror that is not as \
planned: string_id and mirror_id as in the plan; dx_m, dy_m and dz_m from the planned to the surveyed \
centre (east, north, up); tilt_east_mrad and tilt_north_mrad, how far its post leans; and how its panel \
is set, as measured (first_turn_mrad, second_turn_mrad, as `setout` tells them) or as an error against \
that (first_turn_error_mrad, second_turn_error_mrad). Columns and cells may be left out.";

/// What `spot` is asked for.
#[derive(Debug, Args)]
pub struct SpotArgs {
    /// The scenario file; its start design lends all but the mirrors.
    pub file: PathBuf,
    /// The plan that was built: CSV, a line for each mirror.
    #[arg(long, value_name = "CSV", long_help = PLAN_HELP)]
    pub plan: PathBuf,
    /// How mirrors were found: CSV, a line for each mirror that is not as planned.
    #[arg(long, value_name = "CSV", long_help = SURVEY_HELP)]
    pub survey: PathBuf,
    /// Instants: CSV with sun_azimuth_deg, sun_elevation_deg and dni_w_m2.
    #[arg(long, value_name = "CSV", conflicts_with = "days")]
    pub instants: Option<PathBuf>,
    /// Days whose hours are told, as month-day.
    #[arg(long, value_name = "MM-DD", value_delimiter = ',', default_value = "03-21,06-21,12-21", value_parser = day)]
    pub days: Vec<(u32, u32)>,
    /// How far a spot may lie from its aim point, such as "150 mm".
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub within: Option<f64>,
    #[command(flatten)]
    pub settings: Settings,
    /// The folder for the table and the chart.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
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

/// What `draw` is asked for.
#[derive(Debug, Args)]
pub struct DrawArgs {
    /// The run folder of a finished search.
    pub run: PathBuf,
}

impl Arguments {
    /// Keeps to the number of threads asked for.
    pub fn limit_threads(&self) -> Result<(), Failure> {
        let Some(threads) = self.threads else {
            return Ok(());
        };
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads as usize)
            .build_global()
            .map_err(|error| Failure::Threads(error.to_string()))
    }
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

/// Flags that were given, as values laid over the scenario.
fn given<const N: usize>(
    flags: [(&str, Option<String>); N],
) -> impl Iterator<Item = (String, String)> {
    flags
        .map(|(key, value)| Some((key.to_owned(), value?)))
        .into_iter()
        .flatten()
}

impl From<UnitsAsked> for Units {
    fn from(asked: UnitsAsked) -> Self {
        match asked {
            UnitsAsked::Si => Self::Si,
            UnitsAsked::Us => Self::Us,
        }
    }
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

fn item(text: &str) -> Result<Item, String> {
    Item::from_key(text)
        .ok_or_else(|| "no item of the bill has this key; `price --items` lists them".to_owned())
}

fn setting(text: &str) -> Result<(String, String), String> {
    let (key, value) = text
        .split_once('=')
        .ok_or_else(|| "write KEY=VALUE, such as strings.side=\"30 in\"".to_owned())?;
    Ok((key.trim().to_owned(), value.trim().to_owned()))
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

fn day(text: &str) -> Result<(u32, u32), String> {
    let wrong = || format!("{text} is no day; write month and day, such as 06-21");
    let (month, day) = text.split_once('-').ok_or_else(wrong)?;
    let number = |text: &str| text.parse::<u32>().map_err(|_| wrong());
    let (month, day) = (number(month)?, number(day)?);
    sky::calendar::day_of_year(month, day).ok_or_else(wrong)?;
    Ok((month, day))
}

fn length(text: &str) -> Result<f64, String> {
    let length_m =
        quantity::parse(text, quantity::Dimension::Length).map_err(|error| error.to_string())?;
    if length_m > 0.0 {
        Ok(length_m)
    } else {
        Err("write a length above zero, such as \"150 mm\"".to_owned())
    }
}

fn run_and_row(text: &str) -> Result<(PathBuf, u32), String> {
    let wrong = || "write RUN#ROW, such as runs/first#137".to_owned();
    let (run, row) = text.rsplit_once('#').ok_or_else(wrong)?;
    Ok((PathBuf::from(run), row.parse().map_err(|_| wrong())?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_command_line_holds_together() {
        use clap::CommandFactory;
        Arguments::command().debug_assert();
    }

    #[test]
    fn a_setting_is_split_at_the_first_equals_sign() {
        let opened = r#"strings.side={ from = "1 m", to = "2 m" }"#;
        let (key, value) = setting(opened).unwrap();
        assert_eq!(key, "strings.side");
        assert_eq!(value, r#"{ from = "1 m", to = "2 m" }"#);
        assert!(setting("strings.side").is_err());
    }

    #[test]
    fn a_row_is_what_follows_the_last_hash() {
        assert_eq!(run_and_row("a#b#7"), Ok((PathBuf::from("a#b"), 7)));
        assert!(run_and_row("runs/first").is_err());
        assert!(run_and_row("runs/first#best").is_err());
    }
}
