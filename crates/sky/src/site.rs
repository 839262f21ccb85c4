//! Where on earth the field stands.

/// A place on earth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// Latitude in radians, positive north, within ±π/2.
    pub latitude_rad: f64,
    /// Longitude in radians, positive east, within ±π.
    pub longitude_rad: f64,
    /// Height above sea level in metres.
    pub altitude_m: f64,
}
