//! An endless plate of stiffness 1 pressed by a force of 1 that a square pad spreads evenly: the steep
//! part, in closed form, of the deflection of a square plate on the same pad.
//!
//! Under a force at a point it is r²·ln r/(8π) (Timoshenko & Woinowsky-Krieger, from memory), here its
//! mean over the pad. Lengths in sides of the plate, deflections with the force.

use std::f64::consts::{LN_2, PI};

/// Points along each side of the pad that speak for it.
const POINTS: usize = 12;

/// A square pad about the origin; a side of zero is a point.
#[derive(Clone, Copy)]
pub struct Pad {
    pub side: f64,
}

/// Middles of so many equal parts of −1…1.
pub fn middles(parts: usize) -> impl Iterator<Item = f64> + Clone {
    (0..parts).map(move |part| (2.0 * part as f64 + 1.0) / parts as f64 - 1.0)
}

impl Pad {
    /// Mean over the pad of a function of the way from it to x, y and of that way's square.
    fn mean(self, x: f64, y: f64, of: impl Fn(f64, f64, f64) -> f64) -> f64 {
        let at = |along: f64| 0.5 * self.side * along;
        let ways = middles(POINTS)
            .flat_map(|across| middles(POINTS).map(move |along| (x - at(along), y - at(across))));
        let sum: f64 = ways.map(|(x, y)| of(x, y, x * x + y * y)).sum();
        sum / (8.0 * PI * (POINTS * POINTS) as f64)
    }

    pub fn deflection(self, x: f64, y: f64) -> f64 {
        self.mean(x, y, |_, _, r2| {
            0.5 * r2 * libm::log(r2.max(f64::MIN_POSITIVE))
        })
    }

    /// Slope along x.
    pub fn slope(self, x: f64, y: f64) -> f64 {
        self.mean(x, y, |x, _, r2| {
            x * (libm::log(r2.max(f64::MIN_POSITIVE)) + 1.0)
        })
    }

    /// Second derivative along x, outside the pad or in its middle. There the mean of ln r over a square
    /// of half a side h is ln h + ln 2/2 + π/4 − 3/2, and of x²/r² a half.
    pub fn bend(self, x: f64, y: f64) -> f64 {
        if x == 0.0 && y == 0.0 {
            let mean_log = libm::log(0.5 * self.side) + 0.5 * LN_2 + PI / 4.0 - 1.5;
            return (2.0 * mean_log + 2.0) / (8.0 * PI);
        }
        self.mean(x, y, |x, _, r2| libm::log(r2) + 1.0 + 2.0 * x * x / r2)
    }

    /// Mixed second derivative.
    pub fn twist(self, x: f64, y: f64) -> f64 {
        self.mean(x, y, |x, y, r2| 2.0 * x * y / r2)
    }

    /// Third derivative along x, and the one along x of the bend along y.
    pub fn thirds(self, x: f64, y: f64) -> [f64; 2] {
        [
            self.mean(x, y, |x, _, r2| 6.0 * x / r2 - 4.0 * x * x * x / (r2 * r2)),
            self.mean(x, y, |x, y, r2| 2.0 * x / r2 - 4.0 * x * y * y / (r2 * r2)),
        ]
    }
}
