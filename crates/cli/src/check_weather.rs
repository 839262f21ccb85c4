//! What `check` tells and draws of the weather year.

use std::path::Path;

use ledger::J_PER_KWH;
use report::chart::{Chart, DurationChart, MonthsChart, SunPath, SunSpot};
use report::text::{Align, TextTable};
use report::{ReportError, Section, figures};
use serde_json::{Value, json};
use sky::calendar::hours_of_month;
use sky::weather::{ABOVE_CLEAR, THRESHOLDS_W_M2, WeatherFacts};
use sky::{Air, Moment, SunError, WeatherError, sun_direction};

use crate::failure::Failure;
use crate::handout::Handout;
use crate::inputs::Inputs;
use crate::weather::site;

/// Day of the month whose sun stands for it, from 0.
const MIDDLE_DAY: usize = 14;

/// The facts of a scenario's weather year.
pub fn facts(inputs: &Inputs) -> Result<WeatherFacts, Failure> {
    let turbidity = inputs.scenario.weather.linke_turbidity;
    WeatherFacts::of(&site(&inputs.scenario), &inputs.weather.year, turbidity).map_err(of_sun)
}

fn of_sun(error: SunError) -> Failure {
    Failure::Weather {
        path: "weather".into(),
        source: WeatherError::Sun(error),
    }
}

/// Months beside a cloudless sky.
pub fn months(of: &WeatherFacts) -> Section {
    let mut table = TextTable::new(&[
        ("month", Align::Left),
        ("DNI", Align::Right),
        ("cloudless", Align::Right),
        ("share", Align::Right),
    ]);
    let mut row = |name: String, dni_j_m2: f64, clear_j_m2: f64| {
        let sum = |sum_j_m2: f64| format!("{} kWh/m2", figures::grouped(sum_j_m2 / J_PER_KWH, 0));
        let share = if clear_j_m2 > 0.0 {
            figures::percent(dni_j_m2 / clear_j_m2, 0)
        } else {
            "-".to_owned()
        };
        table.row([name, sum(dni_j_m2), sum(clear_j_m2), share]);
    };
    for (month, (dni, clear)) in of.dni_j_m2.iter().zip(&of.clear_j_m2).enumerate() {
        row((month + 1).to_string(), *dni, *clear);
    }
    row(
        "year".to_owned(),
        of.dni_j_m2.iter().sum(),
        of.clear_j_m2.iter().sum(),
    );
    Section::new("Months of the weather year", table)
}

/// Hours by their strength, and whether the beam exceeds the clear sky.
pub fn hours(of: &WeatherFacts, inputs: &Inputs) -> Section {
    let mut table = TextTable::new(&[("hours with more than", Align::Left), ("", Align::Right)]);
    for (threshold, hours) in THRESHOLDS_W_M2.iter().zip(of.hours_above) {
        table.row([
            format!("{threshold:.0} W/m2"),
            figures::grouped(hours as f64, 0),
        ]);
    }
    let turbidity = inputs.scenario.weather.linke_turbidity;
    let margin = figures::percent(ABOVE_CLEAR, 0);
    let mut words = format!(
        "{} of {} sunny hours bring over {margin} and 50 W/m2 more than a cloudless sky of Linke \
         turbidity {turbidity}.",
        figures::grouped(of.hours_above_clear as f64, 0),
        figures::grouped(of.sunny_hours as f64, 0),
    );
    if of.is_above_clear() {
        words += " Warning: that is more than one in a hundred. Either the weather claims too much sun, \
                  or the air is clearer than weather.linke_turbidity says.";
    }
    Section::new("Hours of the weather year", table).and(words)
}

/// The facts as JSON.
pub fn as_json(of: &WeatherFacts) -> Value {
    let months = |sums: &[f64; 12]| sums.map(|sum_j_m2| sum_j_m2 / J_PER_KWH);
    let above = THRESHOLDS_W_M2.iter().zip(of.hours_above);
    let above: Vec<Value> = above
        .map(|(least, hours)| json!({ "dni_w_m2": least, "hours": hours }))
        .collect();
    json!({
        "monthly_dni_kwh_m2": months(&of.dni_j_m2),
        "monthly_cloudless_kwh_m2": months(&of.clear_j_m2),
        "share_of_cloudless": of.clear_ratio(),
        "hours_above": above,
        "sunny_hours": of.sunny_hours,
        "hours_above_cloudless": of.hours_above_clear,
        "is_above_cloudless": of.is_above_clear(),
    })
}

/// Draws the weather year into a folder; gives the files' paths.
pub fn draw(of: &WeatherFacts, inputs: &Inputs, folder: &Path) -> Result<Vec<String>, Failure> {
    let spots = spots(inputs).map_err(of_sun)?;
    let mut handout = Handout::open(folder, inputs)?;
    for (name, chart) in charts(of, inputs, spots)? {
        handout.file(&format!("{name}.svg"), chart.svg.as_bytes())?;
        handout.file(&format!("{name}.png"), &chart.png)?;
    }
    let files = handout.files();
    Ok(files
        .iter()
        .map(|file| file.display().to_string())
        .collect())
}

fn charts(
    of: &WeatherFacts,
    inputs: &Inputs,
    spots: Vec<SunSpot>,
) -> Result<[(&'static str, Chart); 3], ReportError> {
    let scenario = &inputs.scenario;
    let months = MonthsChart {
        dni_j_m2: of.dni_j_m2,
        clear_j_m2: of.clear_j_m2,
        sky: format!("turbidity {}", scenario.weather.linke_turbidity),
    };
    let duration = DurationChart {
        dni_w_m2: inputs.weather.year.dni_w_m2.clone(),
        clear_w_m2: of.clear_w_m2.clone(),
    };
    let path = SunPath {
        spots,
        is_southern: scenario.site.latitude_rad < 0.0,
    };
    Ok([
        ("weather_months", months.draw()?),
        ("weather_hours", duration.draw()?),
        ("sun_path", path.draw()?),
    ])
}

/// Every hour of the day in every month that has the sun up in the middle of the month.
fn spots(inputs: &Inputs) -> Result<Vec<SunSpot>, SunError> {
    let (site, year) = (site(&inputs.scenario), &inputs.weather.year);
    let air = Air::at_altitude(site.altitude_m, 288.15);
    let mut spots = Vec::new();
    for month in 0..12 {
        let hours = hours_of_month(month);
        for hour in 0..24 {
            let middle_h = (hours.start + 24 * MIDDLE_DAY + hour) as f64 + 0.5;
            let moment = Moment::in_year(year.year, middle_h, year.utc_offset_h)?;
            let sun = sun_direction(&site, &moment, &air)?;
            let (azimuth_rad, elevation_rad) = geometry::direction::azimuth_elevation(sun);
            if elevation_rad > 0.0 {
                let days = year.dni_w_m2[hours.clone()].iter().skip(hour).step_by(24);
                let count = hours.len() / 24;
                spots.push(SunSpot {
                    month,
                    hour,
                    azimuth_rad,
                    elevation_rad,
                    dni_w_m2: days.sum::<f64>() / count as f64,
                });
            }
        }
    }
    Ok(spots)
}
