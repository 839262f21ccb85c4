//! Hourly weather of a year, and readers that make it from the bytes of a file.

/// Weather of a year in 8,760 hourly means; entry `h` covers local standard time `h` to `h + 1`.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherYear {
    /// Local standard time less universal time, hours.
    pub utc_offset_h: f64,
    /// Year for which the sun's position is computed.
    pub year: i32,
    /// Direct normal irradiance, W/m².
    pub dni_w_m2: Vec<f64>,
    /// Air temperature, kelvin.
    pub air_temperature_k: Vec<f64>,
    /// Wind speed 10 m above ground, m/s.
    pub wind_speed_m_s: Vec<f64>,
    /// What was detected, dropped or bridged, one sentence each.
    pub notes: Vec<String>,
}
