//! The weather of a scenario: read from its files, or made from its monthly sums.

use std::fs;
use std::panic;
use std::path::{Path, PathBuf};

use report::{PlainValues, ReportError};
use scenario::{MonthlyWeather, Scenario, WeatherFile, WeatherFormat, WeatherSource};
use sky::synthetic::SYNTHETIC_YEAR;
use sky::weather::{middle_year, timing};
use sky::{ColumnValues, Gaps, MonthlyClimate, ReadOptions, Site, WeatherError, WeatherYear};

use crate::failure::Failure;

/// How far the place in a weather file may be from the scenario's before it is noted [deg].
const PLACE_APART_DEG: f64 = 0.5;

const SECONDS_PER_HOUR: f64 = 3600.0;

/// Columns of plain weather.
const PLAIN: [&str; 4] = ["time", "dni_w_m2", "air_temperature_c", "wind_speed_m_s"];

/// Hourly years with what they were made from.
pub struct Weather {
    /// The hours of the year that stands for all.
    pub year: WeatherYear,
    /// Every year, the earliest first.
    pub years: Vec<WeatherYear>,
    /// The bytes of the files, one behind the other; empty for a year made from monthly sums.
    pub bytes: Vec<u8>,
    /// Where it comes from, for people.
    pub origin: String,
}

impl Weather {
    /// The weather of a scenario whose files stand in `folder`.
    pub fn of(scenario: &Scenario, folder: &Path) -> Result<Self, Failure> {
        let site = site(scenario);
        match &scenario.weather.source {
            WeatherSource::Monthly(months) => from_months(scenario, &site, months),
            WeatherSource::File(files) => from_files(scenario, &site, files, folder),
        }
    }

    fn of_years(mut years: Vec<WeatherYear>, bytes: Vec<u8>, origin: String) -> Option<Self> {
        years.sort_by_key(|year| year.year);
        let mut year = years.get(middle_year(&years)?)?.clone();
        if years.len() > 1 {
            year.notes.push(format!(
                "{} stands for all {} years: its DNI is nearest to their median",
                year.year,
                years.len()
            ));
        }
        Some(Self {
            year,
            years,
            bytes,
            origin,
        })
    }
}

/// Where a scenario's field stands.
pub fn site(scenario: &Scenario) -> Site {
    Site {
        latitude_rad: scenario.site.latitude_rad,
        longitude_rad: scenario.site.longitude_rad,
        altitude_m: scenario.site.altitude_m,
    }
}

fn from_months(
    scenario: &Scenario,
    site: &Site,
    months: &MonthlyWeather,
) -> Result<Weather, Failure> {
    let climate = MonthlyClimate {
        dni_j_m2: months.dni_j_m2,
        air_temperature_k: months.air_temperature_k,
        daily_temperature_swing_k: months.daily_swing_k,
        wind_speed_m_s: months.wind_speed_m_s,
    };
    let year = sky::synthetic_year(
        site,
        scenario.site.utc_offset_h,
        &climate,
        scenario.weather.linke_turbidity,
        u64::from(months.seed),
    )?;
    Ok(Weather {
        years: vec![year.clone()],
        year,
        bytes: Vec::new(),
        origin: "an invented year with the scenario's monthly sums".to_owned(),
    })
}

fn from_files(
    scenario: &Scenario,
    site: &Site,
    files: &WeatherFile,
    folder: &Path,
) -> Result<Weather, Failure> {
    let (mut years, mut all_bytes) = (Vec::new(), Vec::new());
    for name in &files.paths {
        let path = folder.join(name);
        let bytes = fs::read(&path).map_err(|source| Failure::Unreadable {
            path: path.clone(),
            source,
        })?;
        let found = read(scenario, site, files, &bytes).map_err(|fault| match fault {
            Fault::Weather(source) => Failure::Weather {
                path: path.clone(),
                source,
            },
            Fault::Parquet(source) => Failure::Columns {
                path: path.clone(),
                source,
            },
        })?;
        years.extend(found);
        all_bytes.extend(bytes);
    }
    let origin = files.paths.join(", ");
    Weather::of_years(years, all_bytes, origin.clone()).ok_or_else(|| Failure::Weather {
        path: PathBuf::from(origin),
        source: WeatherError::NotAYear { found: 0 },
    })
}

/// Why a file's weather can't be had.
enum Fault {
    Weather(WeatherError),
    Parquet(ReportError),
}

impl From<WeatherError> for Fault {
    fn from(error: WeatherError) -> Self {
        Self::Weather(error)
    }
}

fn read(
    scenario: &Scenario,
    site: &Site,
    files: &WeatherFile,
    bytes: &[u8],
) -> Result<Vec<WeatherYear>, Fault> {
    let gaps = if files.bridged_gap_s > 0.0 {
        Gaps::Bridge {
            max_hours: files.bridged_gap_s / SECONDS_PER_HOUR,
        }
    } else {
        Gaps::Refuse
    };
    let options = ReadOptions {
        site: *site,
        utc_offset_h: scenario.site.utc_offset_h,
        year: SYNTHETIC_YEAR,
        label: None,
        gaps,
    };
    let is_parquet = match files.format {
        WeatherFormat::Auto => report::is_parquet(bytes),
        format => format == WeatherFormat::Parquet,
    };
    let (place, mut years) = if is_parquet {
        (*site, sky::read_columns(&columns(bytes)?, &options)?)
    } else {
        let read = sky::read_weather(bytes, reader(files.format), &options)?;
        (read.site, read.years)
    };
    for year in &mut years {
        // The readers hold the beam against the file's own place; it must suit the field's sun too.
        timing(site, year)
            .map_err(WeatherError::Sun)?
            .refuse_out_of_step()?;
        year.notes.extend(place_apart(site, &place));
        year.notes
            .extend(clocks_apart(scenario.site.utc_offset_h, year.utc_offset_h));
    }
    Ok(years)
}

/// Weather columns of a Parquet file.
fn columns(bytes: &[u8]) -> Result<Vec<(String, ColumnValues)>, Fault> {
    let columns = quietly(|| report::plain_columns(bytes, &PLAIN)).map_err(Fault::Parquet)?;
    let values = |(name, values): (String, PlainValues)| {
        let values = match values {
            PlainValues::Numbers(numbers) => ColumnValues::Numbers(numbers),
            PlainValues::Texts(texts) => ColumnValues::Texts(texts),
            PlainValues::Times {
                epoch_s,
                is_universal,
            } => ColumnValues::Times {
                epoch_s,
                is_universal,
            },
        };
        (name, values)
    };
    Ok(columns.into_iter().map(values).collect())
}

/// Does what catches its own panics without telling them on stderr.
fn quietly<T>(work: impl FnOnce() -> T) -> T {
    let told = panic::take_hook();
    panic::set_hook(Box::new(|_| ()));
    let done = work();
    panic::set_hook(told);
    done
}

/// The reader of a text format; none leaves it to the file's first lines.
fn reader(format: WeatherFormat) -> Option<sky::WeatherFormat> {
    match format {
        WeatherFormat::Auto | WeatherFormat::Parquet => None,
        WeatherFormat::Epw => Some(sky::WeatherFormat::Epw),
        WeatherFormat::Tmy3 => Some(sky::WeatherFormat::Tmy3),
        WeatherFormat::Pvgis => Some(sky::WeatherFormat::Pvgis),
        WeatherFormat::Nsrdb => Some(sky::WeatherFormat::Nsrdb),
        WeatherFormat::Csv => Some(sky::WeatherFormat::Csv),
    }
}

fn clocks_apart(scenario_h: f64, file_h: f64) -> Option<String> {
    ((scenario_h - file_h).abs() > 0.0).then(|| {
        format!(
            "the weather file keeps UTC{file_h:+} and the scenario UTC{scenario_h:+}; hours are \
             those of the file"
        )
    })
}

fn place_apart(site: &Site, place: &Site) -> Option<String> {
    let north_deg = (site.latitude_rad - place.latitude_rad).to_degrees();
    let east_deg = (site.longitude_rad - place.longitude_rad).to_degrees();
    let is_apart = north_deg.abs().max(east_deg.abs()) > PLACE_APART_DEG;
    is_apart.then(|| {
        format!(
            "the weather file is of latitude {:.2} deg, longitude {:.2} deg, the scenario of {:.2} \
             and {:.2} deg",
            place.latitude_rad.to_degrees(),
            place.longitude_rad.to_degrees(),
            site.latitude_rad.to_degrees(),
            site.longitude_rad.to_degrees(),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(latitude_deg: f64, longitude_deg: f64) -> Site {
        Site {
            latitude_rad: latitude_deg.to_radians(),
            longitude_rad: longitude_deg.to_radians(),
            altitude_m: 0.0,
        }
    }

    #[test]
    fn weather_of_another_place_is_noted() {
        assert_eq!(place_apart(&at(37.1, -4.4), &at(37.3, -4.2)), None);
        let note = place_apart(&at(37.1, -4.4), &at(37.1, 4.4)).unwrap();
        assert!(note.contains("longitude 4.40 deg"), "{note}");
    }

    #[test]
    fn another_clock_is_noted() {
        assert_eq!(clocks_apart(1.0, 1.0), None);
        let note = clocks_apart(0.0, -7.0).unwrap();
        assert!(note.contains("UTC-7") && note.contains("UTC+0"), "{note}");
    }
}
