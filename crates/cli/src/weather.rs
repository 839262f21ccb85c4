//! The weather of a scenario: read from its file, or made from its monthly sums.

use std::fs;
use std::path::{Path, PathBuf};

use scenario::{MonthlyWeather, Scenario, WeatherFile, WeatherFormat, WeatherSource};
use sky::synthetic::SYNTHETIC_YEAR;
use sky::weather::{CsvOptions, HourLabel, timing};
use sky::{Gaps, MonthlyClimate, Site, WeatherError, WeatherYear};

use crate::failure::Failure;

/// How far the place in a weather file may be from the scenario's before it is noted [deg].
const PLACE_APART_DEG: f64 = 0.5;

/// Share of the yearly beam in hours without sun above which plain columns are refused.
const DARK_SHARE: f64 = 0.02;

/// An hourly year with what it was made from.
pub struct Weather {
    /// The hours.
    pub year: WeatherYear,
    /// The bytes of the file; empty for a year made from monthly sums.
    pub bytes: Vec<u8>,
    /// Where it comes from, for people.
    pub origin: String,
}

impl Weather {
    /// The weather of a scenario whose file stands in `folder`.
    pub fn of(scenario: &Scenario, folder: &Path) -> Result<Self, Failure> {
        let site = site(scenario);
        match &scenario.weather.source {
            WeatherSource::Monthly(months) => from_months(scenario, &site, months),
            WeatherSource::File(file) => from_file(scenario, &site, file, folder),
        }
    }
}

fn site(scenario: &Scenario) -> Site {
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
        year,
        bytes: Vec::new(),
        origin: "an invented year with the scenario's monthly sums".to_owned(),
    })
}

fn from_file(
    scenario: &Scenario,
    site: &Site,
    file: &WeatherFile,
    folder: &Path,
) -> Result<Weather, Failure> {
    let path = folder.join(&file.path);
    let bytes = fs::read(&path).map_err(|source| Failure::Unreadable {
        path: path.clone(),
        source,
    })?;
    let year = read(scenario, site, file.format, &bytes)
        .map_err(|source| Failure::Weather { path, source })?;
    Ok(Weather {
        year,
        bytes,
        origin: PathBuf::from(&file.path).display().to_string(),
    })
}

fn read(
    scenario: &Scenario,
    site: &Site,
    format: WeatherFormat,
    bytes: &[u8],
) -> Result<WeatherYear, WeatherError> {
    let (place, mut year) = match format {
        WeatherFormat::Csv => return read_columns(scenario, site, bytes),
        WeatherFormat::Epw => sky::read_epw(bytes)?,
        WeatherFormat::Tmy3 => sky::read_tmy3(bytes)?,
    };
    year.notes.extend(place_apart(site, &place));
    Ok(year)
}

fn read_columns(
    scenario: &Scenario,
    site: &Site,
    bytes: &[u8],
) -> Result<WeatherYear, WeatherError> {
    let options = CsvOptions {
        utc_offset_h: scenario.site.utc_offset_h,
        year: SYNTHETIC_YEAR,
        label: HourLabel::Start,
        gaps: Gaps::Refuse,
    };
    let year = sky::read_csv(bytes, &options)?;
    let found = timing(site, &year)?;
    if found.dark_share > DARK_SHARE {
        return Err(WeatherError::OutOfStep {
            dark_share: found.dark_share,
            beam_centre_h: found.beam_centre_h,
        });
    }
    Ok(year)
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
}
