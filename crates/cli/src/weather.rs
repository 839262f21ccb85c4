//! The weather of a scenario: read from its file, or made from its monthly sums.

use std::fs;
use std::path::{Path, PathBuf};

use scenario::{MonthlyWeather, Scenario, WeatherFile, WeatherFormat, WeatherSource};
use sky::synthetic::SYNTHETIC_YEAR;
use sky::weather::timing;
use sky::{Gaps, MonthlyClimate, ReadOptions, Site, WeatherError, WeatherRead, WeatherYear};

use crate::failure::Failure;

/// How far the place in a weather file may be from the scenario's before it is noted [deg].
const PLACE_APART_DEG: f64 = 0.5;

const SECONDS_PER_HOUR: f64 = 3600.0;

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
    let year =
        read(scenario, site, file, &bytes).map_err(|source| Failure::Weather { path, source })?;
    Ok(Weather {
        year,
        bytes,
        origin: PathBuf::from(&file.path).display().to_string(),
    })
}

fn read(
    scenario: &Scenario,
    site: &Site,
    file: &WeatherFile,
    bytes: &[u8],
) -> Result<WeatherYear, WeatherError> {
    let gaps = if file.bridged_gap_s > 0.0 {
        Gaps::Bridge {
            max_hours: file.bridged_gap_s / SECONDS_PER_HOUR,
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
    let WeatherRead {
        site: place,
        mut year,
        ..
    } = sky::read_weather(bytes, reader(file.format), &options)?;
    // The readers hold the beam against the file's own place; it must suit the field's sun too.
    timing(site, &year)?.refuse_out_of_step()?;
    year.notes.extend(place_apart(site, &place));
    year.notes
        .extend(clocks_apart(scenario.site.utc_offset_h, year.utc_offset_h));
    Ok(year)
}

/// The reader of a format; none leaves it to the file's first lines.
fn reader(format: WeatherFormat) -> Option<sky::WeatherFormat> {
    match format {
        WeatherFormat::Auto => None,
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
