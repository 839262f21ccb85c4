//! The place that the head of a weather file states.

use csv::ByteRecord;

use super::columns::{field, shortened};
use super::problem::WeatherError;
use crate::site::Site;

/// Where a line of a file states its place.
pub struct PlaceColumns {
    /// Latitude in degrees north.
    pub latitude: usize,
    /// Longitude in degrees east.
    pub longitude: usize,
    /// Hours of local standard time ahead of universal time.
    pub time_zone: usize,
    /// Metres above sea level.
    pub elevation: usize,
}

impl PlaceColumns {
    /// Site and UTC offset in hours.
    pub fn read(&self, line: u64, record: &ByteRecord) -> Result<(Site, f64), WeatherError> {
        let latitude_deg = number(line, record, self.latitude, "latitude (deg)", [-90.0, 90.0])?;
        let longitude_deg = number(
            line,
            record,
            self.longitude,
            "longitude (deg)",
            [-180.0, 180.0],
        )?;
        let altitude_m = number(
            line,
            record,
            self.elevation,
            "elevation (m)",
            [-500.0, 9000.0],
        )?;
        let utc_offset_h = number(line, record, self.time_zone, "time zone (h)", [-14.0, 14.0])?;
        let site = Site {
            latitude_rad: latitude_deg.to_radians(),
            longitude_rad: longitude_deg.to_radians(),
            altitude_m,
        };
        Ok((site, utc_offset_h))
    }
}

fn number(
    line: u64,
    record: &ByteRecord,
    index: usize,
    name: &str,
    [low, high]: [f64; 2],
) -> Result<f64, WeatherError> {
    let text = field(record, index);
    let value = text
        .parse::<f64>()
        .ok()
        .filter(|value| (low..=high).contains(value));
    value.ok_or_else(|| WeatherError::Head {
        line,
        what: format!(
            "{name} is \"{}\", expected a number from {low} to {high}",
            shortened(&text)
        ),
    })
}
