//! What `spot` is asked for.

use std::path::PathBuf;

use clap::Args;

use super::Settings;
use super::subject::PLAN_HELP;

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
