//! What describes a field of strings, and what of it can be built.

use std::f64::consts::SQRT_2;

use crate::error::FieldError;
use crate::plan::{FirstAxis, Linkage};
use crate::site::{Site, check_not_negative, check_positive};

/// Steepest rail [rad].
const RAIL_LIMIT_RAD: f64 = 1.0;

/// Which way strings point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BearingRule {
    /// Along the line of sight to the tower.
    Radial,
    /// Square to the line of sight.
    Cross,
    /// All alike, clockwise from north.
    Fixed {
        /// The bearing [rad].
        azimuth_rad: f64,
    },
    /// Square to the sector's centre line, turned by a share of the azimuth of the place from
    /// that line: 0 is straight rows, 1 circles.
    Fan {
        /// The share [-], 0 to 1.
        share: f64,
    },
}

/// A field of alike strings in a sector around the tower.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StringField {
    /// Mirrors in one string.
    pub mirrors_per_string: usize,
    /// Side of the square panels [m].
    pub side_m: f64,
    /// Distance between neighbours along the rail [m].
    pub pitch_m: f64,
    /// Which way strings point.
    pub bearing: BearingRule,
    /// The axis fixed to the ground.
    pub first_axis: FirstAxis,
    /// How motion reaches the mirrors.
    pub linkage: Linkage,
    /// Slope of the plane that rails lie in, rising straight away from the tower [rad]. A rail
    /// that points at the tower has all of it, a tangential one none.
    pub rail_slope_rad: f64,
    /// Height of the mirror centre above ground at the string's low end [m].
    pub mount_height_m: f64,
    /// Every second mirror stands higher by this [m].
    pub stagger_m: f64,
    /// Clear distance of neighbouring rows at the inner radius [m]; for radial strings the distance
    /// of neighbours in a ring.
    pub row_spacing_m: f64,
    /// Growth of the row spacing with distance from the tower [m/m].
    pub row_growth: f64,
    /// What strings end to end leave free beyond the pitch [m].
    pub end_gap_m: f64,
    /// A lane after every so many rows; 0 for none.
    pub lane_every_rows: usize,
    /// Width that a lane adds between two rows [m].
    pub lane_width_m: f64,
    /// No mirror stands nearer to the tower [m].
    pub inner_radius_m: f64,
    /// No mirror stands farther from the tower [m].
    pub outer_radius_m: f64,
    /// Half the angle that the field spans around the tower; π for all round [rad].
    pub sector_half_rad: f64,
    /// Azimuth of the middle of the sector, seen from the tower [rad].
    pub sector_centre_azimuth_rad: f64,
    /// Rise of the ground per metre eastwards [-].
    pub ground_slope_east: f64,
    /// Rise of the ground per metre northwards [-].
    pub ground_slope_north: f64,
    /// Height of the aim point above the tower's foot [m].
    pub aim_height_m: f64,
}

impl StringField {
    /// Distance of the first from the last mirror along the rail [m].
    pub(crate) fn string_length_m(&self) -> f64 {
        (self.mirrors_per_string as f64 - 1.0) * self.pitch_m
    }

    /// Clear distance of the row at `distance_m` from the next one outwards [m].
    pub(crate) fn spacing_m(&self, distance_m: f64) -> f64 {
        self.row_spacing_m + self.row_growth * (distance_m - self.inner_radius_m).max(0.0)
    }

    /// Where it is laid.
    pub(crate) fn site(&self) -> Site {
        Site {
            lane_every_rows: self.lane_every_rows,
            lane_width_m: self.lane_width_m,
            inner_radius_m: self.inner_radius_m,
            outer_radius_m: self.outer_radius_m,
            sector_half_rad: self.sector_half_rad,
            sector_centre_azimuth_rad: self.sector_centre_azimuth_rad,
            ground_slope_east: self.ground_slope_east,
            ground_slope_north: self.ground_slope_north,
            aim_height_m: self.aim_height_m,
        }
    }

    /// Refuses what can't be built.
    pub(crate) fn check(&self) -> Result<(), FieldError> {
        self.site().check()?;
        self.check_numbers()?;
        self.check_clearances()
    }

    fn check_numbers(&self) -> Result<(), FieldError> {
        let mirrors = self.mirrors_per_string as f64;
        check_positive(&[
            ("the number of mirrors per string", mirrors),
            ("the panel side", self.side_m),
            ("the pitch", self.pitch_m),
            ("the mount height", self.mount_height_m),
            ("the row spacing", self.row_spacing_m),
        ])?;
        check_not_negative(&[
            ("the rail slope", self.rail_slope_rad),
            ("the stagger", self.stagger_m),
            ("the growth of the row spacing", self.row_growth),
            ("the end gap", self.end_gap_m),
        ])?;
        self.check_bearing()
    }

    fn check_bearing(&self) -> Result<(), FieldError> {
        match self.bearing {
            BearingRule::Fan { share } if !(0.0..=1.0).contains(&share) => {
                Err(FieldError::ShareOutOfRange { share })
            }
            BearingRule::Fixed { azimuth_rad: value } if !value.is_finite() => {
                Err(FieldError::NotFinite {
                    name: "the bearing",
                    value,
                })
            }
            _ => Ok(()),
        }
    }

    fn check_clearances(&self) -> Result<(), FieldError> {
        let diagonal_m = SQRT_2 * self.side_m;
        let ground_slope = self.site().ground_slope();
        let needed_m = 0.5 * diagonal_m * (1.0 + ground_slope * ground_slope).sqrt();
        if self.pitch_m < self.side_m {
            return Err(FieldError::PitchBelowSide {
                pitch_m: self.pitch_m,
                side_m: self.side_m,
            });
        }
        if self.row_spacing_m < diagonal_m {
            let spacing_m = self.row_spacing_m;
            return Err(FieldError::RowsTooClose {
                spacing_m,
                needed_m: diagonal_m,
            });
        }
        if self.mount_height_m < needed_m {
            let mount_height_m = self.mount_height_m;
            return Err(FieldError::MountTooLow {
                mount_height_m,
                needed_m,
            });
        }
        if self.rail_slope_rad > RAIL_LIMIT_RAD {
            let slope_rad = self.rail_slope_rad;
            return Err(FieldError::RailTooSteep {
                slope_rad,
                limit_rad: RAIL_LIMIT_RAD,
            });
        }
        Ok(())
    }
}
