//! A cloudless year's suns with their DNI.

use geometry::{LANES, Vec3};

/// Latitude of the site [rad]: 35° N.
pub const LATITUDE_RAD: f64 = 35.0 * std::f64::consts::PI / 180.0;
/// No light is counted from a sun below this: 10°.
pub const LOWEST_SUN_RAD: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// Declination of the sun in the middle of each pair of months [deg].
const DECLINATIONS_DEG: [f64; 6] = [-22.4, -16.3, -6.2, 6.2, 16.3, 22.4];
/// Steps of the hour angle [deg].
const HOUR_STEP_DEG: f64 = 7.5;

/// A sun and the DNI that it stands for, in any one unit.
#[derive(Clone, Copy)]
pub struct Weighted {
    pub sun: Vec3,
    pub dni: f64,
}

/// All suns of the year in blocks of eight; the last block is filled up with suns of no weight.
pub fn suns() -> Vec<[Weighted; LANES]> {
    let lowest = libm::sin(LOWEST_SUN_RAD);
    let mut all = Vec::new();
    for declination_deg in DECLINATIONS_DEG {
        for step in -16..16 {
            let hour_angle_deg = HOUR_STEP_DEG * (f64::from(step) + 0.5);
            let sun = direction(declination_deg, hour_angle_deg);
            if sun.z >= lowest {
                all.push(Weighted { sun, dni: dni(sun) });
            }
        }
    }
    let filler = Weighted { dni: 0.0, ..all[0] };
    all.chunks(LANES)
        .map(|chunk| std::array::from_fn(|lane| chunk.get(lane).copied().unwrap_or(filler)))
        .collect()
}

/// Direction of the sun (any text on spherical astronomy).
fn direction(declination_deg: f64, hour_angle_deg: f64) -> Vec3 {
    let (sin_dec, cos_dec) = libm::sincos(declination_deg.to_radians());
    let (sin_hour, cos_hour) = libm::sincos(hour_angle_deg.to_radians());
    let (sin_lat, cos_lat) = libm::sincos(LATITUDE_RAD);
    Vec3::new(
        -cos_dec * sin_hour,
        cos_lat * sin_dec - sin_lat * cos_dec * cos_hour,
        sin_lat * sin_dec + cos_lat * cos_dec * cos_hour,
    )
}

/// DNI of a clear sky ÷ that outside the air: 0.7^(AM^0.678) with AM = 1/sin(elevation) (Meinel
/// and Meinel, *Applied Solar Energy*, 1976, from memory).
fn dni(sun: Vec3) -> f64 {
    libm::pow(0.7, libm::pow(1.0 / sun.z, 0.678))
}
