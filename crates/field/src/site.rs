//! What fields of strings and of heliostats have in common: the sector, its lanes, the ground.

use std::f64::consts::{PI, TAU};

use geometry::Vec3;

use crate::error::FieldError;

/// Slack for comparisons of lengths [m] and angles [rad].
pub(crate) const SLACK: f64 = 1e-9;

/// A sector of plane ground around the tower. The fields that are laid on it say what each is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Site {
    pub lane_every_rows: usize,
    pub lane_width_m: f64,
    pub inner_radius_m: f64,
    pub outer_radius_m: f64,
    pub sector_half_rad: f64,
    pub sector_centre_azimuth_rad: f64,
    pub ground_slope_east: f64,
    pub ground_slope_north: f64,
    pub aim_height_m: f64,
}

impl Site {
    /// The point that mirrors are set on.
    pub fn aim_m(&self) -> Vec3 {
        Vec3::new(0.0, 0.0, self.aim_height_m)
    }

    /// Width of the lane behind row `row` (from 0); zero where there is none [m].
    pub fn lane_behind_m(&self, row: usize) -> f64 {
        let lane = self.lane_every_rows > 0 && (row + 1).is_multiple_of(self.lane_every_rows);
        if lane { self.lane_width_m } else { 0.0 }
    }

    /// Height of the ground above the tower's foot [m].
    pub fn ground_m(&self, x_m: f64, y_m: f64) -> f64 {
        self.ground_slope_east * x_m + self.ground_slope_north * y_m
    }

    /// Rise of the ground along its steepest line [-].
    pub fn ground_slope(&self) -> f64 {
        let (east, north) = (self.ground_slope_east, self.ground_slope_north);
        (east * east + north * north).sqrt()
    }

    /// Rise of the ground straight away from the tower where it is least in the sector [-].
    pub fn least_rise(&self) -> f64 {
        let downhill_rad = libm::atan2(-self.ground_slope_east, -self.ground_slope_north);
        let off_rad = wrapped_rad(downhill_rad - self.sector_centre_azimuth_rad).abs();
        -self.ground_slope() * libm::cos((off_rad - self.sector_half_rad).max(0.0))
    }

    /// Angle between neighbours in a ring that stand `apart_m` or a little more apart; all round the
    /// tower so many of them close the ring [rad].
    pub fn slot_rad(&self, apart_m: f64, radius_m: f64) -> f64 {
        let half_chord = 0.5 * apart_m / radius_m;
        if half_chord > 1.0 {
            return TAU;
        }
        let least_rad = 2.0 * libm::asin(half_chord);
        if self.sector_half_rad < PI {
            return least_rad;
        }
        TAU / (TAU / least_rad).floor()
    }

    /// Both ends of a string in the sector, and what lies between them too.
    pub fn holds(&self, ends: &[Vec3; 2]) -> bool {
        if self.sector_half_rad >= PI {
            return true;
        }
        let [one_rad, other_rad] =
            ends.map(|end| wrapped_rad(libm::atan2(end.x, end.y) - self.sector_centre_azimuth_rad));
        let limit_rad = self.sector_half_rad + SLACK;
        let across_the_open_side = (one_rad - other_rad).abs() > PI;
        one_rad.abs() <= limit_rad && other_rad.abs() <= limit_rad && !across_the_open_side
    }

    /// Refuses numbers that describe no sector.
    pub fn check(&self) -> Result<(), FieldError> {
        check_positive(&[
            ("the inner radius", self.inner_radius_m),
            ("the outer radius", self.outer_radius_m),
            ("half the sector", self.sector_half_rad),
            ("the aim height", self.aim_height_m),
        ])?;
        check_not_negative(&[("the lane width", self.lane_width_m)])?;
        for (name, value) in [
            ("the azimuth of the sector", self.sector_centre_azimuth_rad),
            ("the ground slope eastwards", self.ground_slope_east),
            ("the ground slope northwards", self.ground_slope_north),
        ] {
            if !value.is_finite() {
                return Err(FieldError::NotFinite { name, value });
            }
        }
        if self.outer_radius_m <= self.inner_radius_m {
            let (inner_m, outer_m) = (self.inner_radius_m, self.outer_radius_m);
            return Err(FieldError::NoRing { inner_m, outer_m });
        }
        Ok(())
    }
}

/// Refuses what is not a positive number.
pub(crate) fn check_positive(named: &[(&'static str, f64)]) -> Result<(), FieldError> {
    for &(name, value) in named {
        if !(value > 0.0 && value.is_finite()) {
            return Err(FieldError::NotPositive { name, value });
        }
    }
    Ok(())
}

/// Refuses what is negative or not a number.
pub(crate) fn check_not_negative(named: &[(&'static str, f64)]) -> Result<(), FieldError> {
    for &(name, value) in named {
        if !(value >= 0.0 && value.is_finite()) {
            return Err(FieldError::Negative { name, value });
        }
    }
    Ok(())
}

/// Angle brought into −π to π [rad].
pub(crate) fn wrapped_rad(angle_rad: f64) -> f64 {
    angle_rad - TAU * (angle_rad / TAU).round()
}
