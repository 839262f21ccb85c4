//! Directions from azimuth and elevation, and back.

use crate::Vec3;

/// Unit vector (east, north, up) of a direction given by azimuth (clockwise from north) and
/// elevation above the horizon, both in radians.
#[must_use]
pub fn from_azimuth_elevation(azimuth_rad: f64, elevation_rad: f64) -> Vec3 {
    let (sin_az, cos_az) = libm::sincos(azimuth_rad);
    let (sin_el, cos_el) = libm::sincos(elevation_rad);
    Vec3::new(cos_el * sin_az, cos_el * cos_az, sin_el)
}

/// Horizontal unit vector along a bearing (radians, clockwise from north).
#[must_use]
pub fn along_bearing(bearing_rad: f64) -> Vec3 {
    from_azimuth_elevation(bearing_rad, 0.0)
}

/// Azimuth in `[0, 2π)` and elevation in `[-π/2, π/2]`, radians, of a unit vector.
#[must_use]
pub fn azimuth_elevation(direction: Vec3) -> (f64, f64) {
    let azimuth_rad = libm::atan2(direction.x, direction.y);
    let wrapped_rad = if azimuth_rad < 0.0 {
        azimuth_rad + std::f64::consts::TAU
    } else {
        azimuth_rad
    };
    (wrapped_rad, libm::asin(direction.z.clamp(-1.0, 1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn azimuth_and_elevation_come_back() {
        for (azimuth_deg, elevation_deg) in [
            (0.0_f64, 0.0_f64),
            (90.0, 10.0),
            (250.0, 80.0),
            (359.0, -5.0),
        ] {
            let direction =
                from_azimuth_elevation(azimuth_deg.to_radians(), elevation_deg.to_radians());
            let (azimuth_rad, elevation_rad) = azimuth_elevation(direction);
            assert!((azimuth_rad - azimuth_deg.to_radians()).abs() < 1e-12);
            assert!((elevation_rad - elevation_deg.to_radians()).abs() < 1e-12);
        }
    }

    #[test]
    fn east_is_plus_x() {
        assert!((along_bearing(90f64.to_radians()) - Vec3::X).length() < 1e-15);
    }
}
