//! Node suns of a year and the weights that interpolate between them.
//!
//! Coordinates: the apparent declination δ, and the hour angle as a share f = ω/ω_s of the hour
//! angle ω_s(δ) at which the sun passes the lowest operating elevation. Both follow from the
//! direction alone, so every operating sun has |f| ≤ 1 and no node ever lies too low.

use std::f64::consts::PI;
use std::ops::Range;

use geometry::Vec3;

/// Nodes along the declination.
pub const DECLINATIONS: usize = 5;

/// Nodes along the hour angle.
pub const HOUR_ANGLES: usize = 12;

/// Hour-angle nodes that one interpolation touches.
pub const HOUR_ANGLES_USED: usize = 4;

/// A sun direction in the equatorial frame, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equatorial {
    /// Angle above the plane of the equator.
    pub declination_rad: f64,
    /// Angle west of the meridian.
    pub hour_angle_rad: f64,
}

/// The horizon of a site with the lowest operating elevation, as sines and cosines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Horizon {
    sin_latitude: f64,
    cos_latitude: f64,
    sin_lowest: f64,
}

impl Horizon {
    /// Horizon at a latitude for suns at or above an elevation, both in radians.
    pub fn new(latitude_rad: f64, min_elevation_rad: f64) -> Self {
        let (sin_latitude, cos_latitude) = libm::sincos(latitude_rad);
        Self {
            sin_latitude,
            cos_latitude,
            sin_lowest: libm::sin(min_elevation_rad),
        }
    }

    /// Equatorial angles of a unit vector (east, north, up).
    pub fn equatorial(&self, sun: Vec3) -> Equatorial {
        let sin_declination = self.cos_latitude * sun.y + self.sin_latitude * sun.z;
        let to_meridian = self.cos_latitude * sun.z - self.sin_latitude * sun.y;
        Equatorial {
            declination_rad: libm::asin(sin_declination.clamp(-1.0, 1.0)),
            hour_angle_rad: libm::atan2(-sun.x, to_meridian),
        }
    }

    /// Unit vector (east, north, up) of equatorial angles.
    pub fn direction(&self, sun: Equatorial) -> Vec3 {
        let (sin_declination, cos_declination) = libm::sincos(sun.declination_rad);
        let (sin_hour, cos_hour) = libm::sincos(sun.hour_angle_rad);
        let to_meridian = cos_declination * cos_hour;
        Vec3::new(
            -cos_declination * sin_hour,
            self.cos_latitude * sin_declination - self.sin_latitude * to_meridian,
            self.sin_latitude * sin_declination + self.cos_latitude * to_meridian,
        )
    }

    /// Hour angle in `[0, π]` at which a sun of this declination passes the lowest elevation.
    pub fn half_day_rad(&self, declination_rad: f64) -> f64 {
        let (sin_declination, cos_declination) = libm::sincos(declination_rad);
        let cosine = (self.sin_lowest - self.sin_latitude * sin_declination)
            / (self.cos_latitude * cos_declination);
        libm::acos(cosine.clamp(-1.0, 1.0))
    }

    /// Hour angle of a sun as a share of the half day, within ±1.
    pub fn hour_share(&self, sun: Equatorial) -> f64 {
        let half_day_rad = self.half_day_rad(sun.declination_rad);
        if half_day_rad > 0.0 {
            (sun.hour_angle_rad / half_day_rad).clamp(-1.0, 1.0)
        } else {
            0.0
        }
    }
}

/// Declination nodes: roots of the Chebyshev polynomial over a range of declinations, where days
/// gather near the solstices as the sun's do.
pub fn declination_nodes<const DAYS: usize>(range_rad: &Range<f64>) -> [f64; DAYS] {
    let middle = 0.5 * (range_rad.start + range_rad.end);
    let half = 0.5 * (range_rad.end - range_rad.start);
    std::array::from_fn(|node| {
        let angle_rad = PI * (node as f64 + 0.5) / DAYS as f64;
        middle - half * libm::cos(angle_rad)
    })
}

/// Hour-angle nodes: shares of the half day, evenly from -1 to 1.
pub fn hour_share_nodes<const N: usize>() -> [f64; N] {
    std::array::from_fn(|node| 2.0 * node as f64 / (N - 1) as f64 - 1.0)
}

/// First of the [`HOUR_ANGLES_USED`] of `count` nodes around a share of the half day.
pub fn first_hour_node(share: f64, count: usize) -> usize {
    let interval = (0.5 * (share + 1.0) * (count - 1) as f64).floor().max(0.0) as usize;
    interval.saturating_sub(1).min(count - HOUR_ANGLES_USED)
}

/// Weights of Lagrange's interpolating polynomial through `nodes`, at `x`. They add up to 1.
pub fn lagrange<const N: usize>(nodes: &[f64; N], x: f64) -> [f64; N] {
    std::array::from_fn(|node| lagrange_weight(nodes, node, x))
}

/// The weight of one of the nodes.
pub fn lagrange_weight(nodes: &[f64], node: usize, x: f64) -> f64 {
    let mut weight = 1.0;
    for other in (0..nodes.len()).filter(|&other| other != node) {
        weight *= (x - nodes[other]) / (nodes[node] - nodes[other]);
    }
    weight
}
