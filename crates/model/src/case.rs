//! The case: all that no design changes, prepared once.

use geometry::{Vec3, direction};
use scenario::{Concept, Scenario};
use sky::{SunTable, WeatherYear};

use crate::alignment::{self, Instant};
use crate::inputs;

/// A scenario with its weather, ready for any number of designs.
#[derive(Clone, Debug)]
pub struct Case {
    /// The validated scenario.
    pub scenario: Scenario,
    /// The hourly weather, with DNI set to zero in hours too windy to operate.
    pub weather: WeatherYear,
    /// Node suns with the weather folded in.
    pub sun: SunTable,
    /// How the sun's light is spread.
    pub sun_blur: optics::SunBlur,
    /// Sun under which mirrors are set unless a better one is looked for.
    pub alignment_sun: Vec3,
    /// When mirrors could be set.
    pub instants: Vec<Instant>,
    /// What carries the heat, and what for, with their properties.
    pub process: plant::Process,
    /// What the customer takes.
    pub demand: plant::Demand,
    /// Air density at the site [kg/m³].
    pub air_density_kg_m3: f64,
    /// Air pressure at the site [Pa].
    pub air_pressure_pa: f64,
    /// Fourth root of the mean fourth power of the wind speed at 10 m while light is collected,
    /// weighted by DNI [m/s]: errors grow with the square of speed, so this gives their root mean
    /// square.
    pub collecting_wind_m_s: f64,
    /// Sum of DNI over the whole year, whatever the wind and the sun's height [J/m²].
    pub whole_dni_j_m2: f64,
}

/// Why a case can't be prepared.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum CaseError {
    /// The heat process does not hold together.
    #[error("[heat] {0}")]
    Process(#[from] plant::PlantError),
    /// The sun's shape can't be computed.
    #[error("[weather] {0}")]
    SunShape(#[from] optics::SunShapeError),
    /// The sky gives nothing to work with.
    #[error(
        "the weather year holds no direct sun above {min_elevation_deg:.1} deg in winds below {operating_wind_m_s:.1} m/s; check the weather, weather.min_sun_elevation and structure.operating_wind"
    )]
    NoSun {
        /// Lowest sun that counts [deg].
        min_elevation_deg: f64,
        /// Wind in which the field still works [m/s].
        operating_wind_m_s: f64,
    },
}

const SECONDS_PER_HOUR: f64 = 3600.0;

impl Case {
    /// Prepares everything that no design changes.
    ///
    /// # Errors
    /// [`CaseError`] when the heat process is impossible, the sun's shape can't be computed or the
    /// sky holds no usable sun.
    pub fn prepare(scenario: &Scenario, weather: WeatherYear) -> Result<Self, CaseError> {
        let whole_dni_j_m2 = SECONDS_PER_HOUR * weather.dni_w_m2.iter().sum::<f64>();
        let weather = calm_hours_only(weather, scenario.structure.operating_wind_m_s);
        let site = inputs::site(&scenario.site);
        let sun = SunTable::new(&site, &weather, scenario.weather.min_sun_elevation_rad);
        if sun.year_j_m2() <= 0.0 {
            return Err(CaseError::NoSun {
                min_elevation_deg: scenario.weather.min_sun_elevation_rad.to_degrees(),
                operating_wind_m_s: scenario.structure.operating_wind_m_s,
            });
        }
        let sun_blur = inputs::sun_shape(&scenario.weather).blur()?;
        let air_pressure_pa = sky::air_pressure_pa(scenario.site.altitude_m);
        Ok(Self {
            alignment_sun: alignment_sun(scenario),
            instants: alignment::instants(scenario, weather.year),
            process: inputs::heat_process(scenario, air_pressure_pa).prepare()?,
            demand: inputs::demand(&scenario.heat, weather.year),
            air_density_kg_m3: sky::air_density_kg_m3(scenario.site.altitude_m),
            air_pressure_pa,
            collecting_wind_m_s: collecting_wind_m_s(&weather),
            scenario: scenario.clone(),
            weather,
            sun,
            sun_blur,
            whole_dni_j_m2,
        })
    }

    /// The same with the power of every hour told [W] in place of shifts and months.
    #[must_use]
    pub fn with_hourly_demand(mut self, power_w: Vec<f64>) -> Self {
        self.demand.power_w = power_w;
        self
    }
}

/// The sun under which mirrors of strings are set; a heliostat is set under none, and any will do.
fn alignment_sun(scenario: &Scenario) -> Vec3 {
    let given = &scenario.strings.alignment;
    match scenario.concept() {
        Concept::Strings => {
            direction::from_azimuth_elevation(given.azimuth_rad, given.elevation_rad)
        }
        Concept::Pedestals | Concept::Singles => Vec3::Z,
    }
}

/// Takes the sun out of hours in which the field is stowed for wind.
pub(crate) fn calm_hours_only(mut weather: WeatherYear, operating_wind_m_s: f64) -> WeatherYear {
    for (dni_w_m2, wind_m_s) in weather.dni_w_m2.iter_mut().zip(&weather.wind_speed_m_s) {
        if *wind_m_s > operating_wind_m_s {
            *dni_w_m2 = 0.0;
        }
    }
    weather
}

/// Least wind that parts are sized for, for years without wind [m/s].
const STILL_AIR_M_S: f64 = 0.1;

/// Fourth root of the mean fourth power of wind speed, hours weighted by their DNI.
fn collecting_wind_m_s(weather: &WeatherYear) -> f64 {
    let hours = weather.dni_w_m2.iter().zip(&weather.wind_speed_m_s);
    let (weight, sum) = hours.fold((0.0, 0.0), |(weight, sum), (dni, wind)| {
        let square = wind * wind;
        (weight + dni, sum + dni * square * square)
    });
    let mean = if weight > 0.0 { sum / weight } else { 0.0 };
    mean.sqrt().sqrt().max(STILL_AIR_M_S)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weather(dni_w_m2: &[f64], wind_speed_m_s: &[f64]) -> WeatherYear {
        WeatherYear {
            utc_offset_h: 0.0,
            year: 2022,
            dni_w_m2: dni_w_m2.to_vec(),
            air_temperature_k: vec![290.0; dni_w_m2.len()],
            wind_speed_m_s: wind_speed_m_s.to_vec(),
            notes: Vec::new(),
        }
    }

    /// Wind pressure goes with v², so its root mean square over hours at 3 and 6 m/s is that of
    /// ((3⁴ + 6⁴)/2)^¼ = 5.122 m/s, not of the root mean square speed 4.743 m/s.
    #[test]
    fn collecting_wind_gives_the_root_mean_square_pressure() {
        let even = collecting_wind_m_s(&weather(&[500.0, 500.0], &[3.0, 6.0]));
        let pressure_rms = ((9.0_f64 * 9.0 + 36.0 * 36.0) / 2.0).sqrt();
        assert!((even * even - pressure_rms).abs() < 1e-12);
        let sunny_calm = collecting_wind_m_s(&weather(&[900.0, 100.0, 0.0], &[3.0, 6.0, 25.0]));
        assert!(sunny_calm < even);
    }

    #[test]
    fn a_year_without_wind_still_sizes_parts() {
        assert_eq!(
            collecting_wind_m_s(&weather(&[500.0], &[0.0])),
            STILL_AIR_M_S
        );
    }

    #[test]
    fn no_sun_counts_in_hours_too_windy_to_operate() {
        let year = calm_hours_only(weather(&[500.0, 600.0], &[11.9, 12.1]), 12.0);
        assert_eq!(year.dni_w_m2, [500.0, 0.0]);
    }
}
