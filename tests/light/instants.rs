//! Suns of a year, seen from 37° north.

use geometry::{LANES, Vec3};

/// Latitude of all trial fields [rad].
pub const LATITUDE_RAD: f64 = 0.645_771_8;

/// A moment by declination and hour angle.
pub struct Instant {
    pub name: &'static str,
    declination_deg: f64,
    hour_angle_deg: f64,
}

/// Summer, equinox and winter, at noon and towards morning or evening, down to 9.7° of sun.
pub const INSTANTS: [Instant; LANES] = [
    instant("summer noon", 23.45, 0.0),
    instant("summer 9 h", 23.45, -45.0),
    instant("summer 17 h 30", 23.45, 82.5),
    instant("equinox noon", 0.0, 0.0),
    instant("equinox 15 h", 0.0, 45.0),
    instant("equinox 7 h", 0.0, -75.0),
    instant("winter noon", -23.45, 0.0),
    instant("winter 8 h 15", -23.45, -56.25),
];

const fn instant(name: &'static str, declination_deg: f64, hour_angle_deg: f64) -> Instant {
    Instant {
        name,
        declination_deg,
        hour_angle_deg,
    }
}

impl Instant {
    /// Direction of the sun (any text on spherical astronomy).
    fn sun(&self) -> Vec3 {
        let (sin_dec, cos_dec) = libm::sincos(self.declination_deg.to_radians());
        let (sin_hour, cos_hour) = libm::sincos(self.hour_angle_deg.to_radians());
        let (sin_lat, cos_lat) = libm::sincos(LATITUDE_RAD);
        Vec3::new(
            -cos_dec * sin_hour,
            cos_lat * sin_dec - sin_lat * cos_dec * cos_hour,
            sin_lat * sin_dec + cos_lat * cos_dec * cos_hour,
        )
    }
}

/// Directions of all suns.
pub fn suns() -> [Vec3; LANES] {
    INSTANTS.map(|instant| instant.sun())
}

/// DNI of a clear sky ÷ that outside the air: 0.7^(AM^0.678) with AM = 1/sin(elevation) (Meinel
/// and Meinel, *Applied Solar Energy*, 1976, from memory).
pub fn dni(sun: Vec3) -> f64 {
    libm::pow(0.7, libm::pow(1.0 / sun.z, 0.678))
}
