//! Mirrors with a drive of their own, in rings around the tower.
//!
//! *What can't block.* Two mirrors in one line of sight that face the aim point stand clear of each
//! other where the lines from their centres to the aim run a panel's height H apart. The centres lie
//! in a plane, that of the ground lifted by the height of the axes. Where the aim stands h above this
//! plane at the tower, an inner mirror at r and an outer one at x are clear if x − r = H·s/h, with s
//! the slant range from x to the aim; the slope of the ground shows in s alone. Panels that sun and
//! aim turn aside cover less of each other's height.
//!
//! *Staggering.* If half a slot of a ring is a panel's width or more, the mirror of the next ring
//! stands in the gap, and the one that could block is two rings inwards: rings then stand half that
//! distance apart. Narrower slots leave no gap to look through, and each ring keeps the whole.
//!
//! *Groups.* Slots widen outwards. A new group with slots as narrow as allowed can't look through
//! the gaps of the last one and costs the difference c of the two distances once. A group of length
//! L that starts at r leaves L²/2r of its length unused by widening; the two together, for each metre
//! of length, are least at L = √(2·c·r). Without a gap to look through c is nothing, and every ring
//! is a group of its own.

use geometry::direction;

use crate::error::FieldError;
use crate::explicit::Coupling;
use crate::layout::Places;
use crate::plan::Plan;
use crate::rings::RingAzimuths;
use crate::site::{SLACK, Site, check_positive};

/// A field of alike mirrors with a drive of their own, in a sector around the tower.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeliostatField {
    /// Width of a panel; this edge stays level [m].
    pub width_m: f64,
    /// Height of a panel [m].
    pub height_m: f64,
    /// Diameter of the circle that a turning mirror needs: the diagonal of a panel, and more where its
    /// frame and gaps are not counted in width and height [m].
    pub turning_circle_m: f64,
    /// Height of the mirror centres above ground [m].
    pub axis_height_m: f64,
    /// Distance of rings ÷ the least at which no mirror blocks another [-]. Rings never come so near
    /// that turning circles cross.
    pub ring_spacing_ratio: f64,
    /// Distance of neighbours in a group's first ring ÷ turning circle [-], 1 or more. Rings are
    /// staggered if it is 2·width ÷ turning circle or more.
    pub side_spacing_ratio: f64,
    /// A lane after every so many rings; 0 for none.
    pub lane_every_rows: usize,
    /// Width that a lane adds between two rings [m].
    pub lane_width_m: f64,
    /// No mirror centre lies nearer to the tower [m].
    pub inner_radius_m: f64,
    /// No mirror centre lies farther from the tower [m].
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

/// Lays mirrors over the whole sector between inner and outer radius, each a string of its own that
/// turns about the vertical and then about its level width; `row` of a string is its ring.
///
/// # Errors
/// A [`FieldError`] for sizes that can't be built.
pub fn heliostat_candidates(field: &HeliostatField) -> Result<Places, FieldError> {
    field.check()?;
    let site = field.site();
    let mut plan = Plan::with_room_for(0, 1);
    plan.aim_m = site.aim_m();
    for (index, ring) in field.rings().iter().enumerate() {
        for azimuth_rad in RingAzimuths::new(&site, ring.slot_rad, ring.is_shifted).all() {
            field.stand(ring.radius_m, azimuth_rad, index, &mut plan);
        }
    }
    Ok(Places { plan })
}

/// One ring of mirrors.
struct Ring {
    radius_m: f64,
    slot_rad: f64,
    is_shifted: bool,
}

/// Rings that share their slots.
struct Group {
    inner_m: f64,
    /// Where a new group pays.
    length_m: f64,
    slot_rad: f64,
}

impl HeliostatField {
    fn rings(&self) -> Vec<Ring> {
        let site = self.site();
        let mut rings = Vec::new();
        let mut radius_m = self.inner_radius_m;
        let mut group = self.group(radius_m);
        let mut is_shifted = false;
        while radius_m <= self.outer_radius_m + SLACK {
            rings.push(Ring {
                radius_m,
                slot_rad: group.slot_rad,
                is_shifted,
            });
            let lane_m = site.lane_behind_m(rings.len() - 1);
            let next_m = radius_m + self.step_m(radius_m, group.slot_rad) + lane_m;
            if next_m <= group.inner_m + group.length_m {
                radius_m = next_m;
                is_shifted = !is_shifted;
            } else {
                radius_m += self.whole_step_m(radius_m) + lane_m;
                group = self.group(radius_m);
                is_shifted = false;
            }
        }
        rings
    }

    /// The group whose first ring has this radius.
    fn group(&self, inner_m: f64) -> Group {
        let slot_rad = self.site().slot_rad(self.side_spacing_m(), inner_m);
        let saved_m = self.whole_step_m(inner_m) - self.step_m(inner_m, slot_rad);
        Group {
            inner_m,
            length_m: (2.0 * saved_m * inner_m).sqrt(),
            slot_rad,
        }
    }

    /// From a ring to the next one of its group [m].
    fn step_m(&self, radius_m: f64, slot_rad: f64) -> f64 {
        let whole_m = self.whole_step_m(radius_m);
        if self.side_spacing_m() < 2.0 * self.width_m - SLACK {
            return whole_m;
        }
        // The mirrors of the next ring stand half a slot aside, at this distance if circles touch.
        let (aside, along) = libm::sincos(0.5 * slot_rad);
        let (aside_m, circle_m) = (radius_m * aside, self.turning_circle_m);
        let touching_m = (circle_m * circle_m - aside_m * aside_m).max(0.0).sqrt();
        (0.5 * whole_m).max(radius_m * (along - 1.0) + touching_m)
    }

    /// From a ring to one farther out whose mirrors stand behind those of the first [m].
    fn whole_step_m(&self, radius_m: f64) -> f64 {
        let clear_m = self.ring_spacing_ratio * (self.clear_radius_m(radius_m) - radius_m);
        clear_m.max(self.turning_circle_m)
    }

    /// Where the light of a mirror clears one at `radius_m` in the same line of sight: the positive
    /// root x of (x − r)² = (H/h)²·s², s² = x² + (h − rise·x)² [m].
    fn clear_radius_m(&self, radius_m: f64) -> f64 {
        let aim_m = self.aim_height_m - self.axis_height_m;
        let (tall, rise) = (self.height_m / aim_m, self.site().least_rise());
        let tall2 = tall * tall;
        let square = 1.0 - tall2 * (1.0 + rise * rise);
        let half_linear_m = radius_m - tall2 * aim_m * rise;
        let constant_m2 = radius_m * radius_m - tall2 * aim_m * aim_m;
        let root_m2 = half_linear_m * half_linear_m - square * constant_m2;
        (half_linear_m + root_m2.sqrt()) / square
    }

    /// Adds the mirror in ring `ring` to `plan`.
    fn stand(&self, radius_m: f64, azimuth_rad: f64, ring: usize, plan: &mut Plan) {
        let on_ground_m = direction::along_bearing(azimuth_rad) * radius_m;
        let z_m = self.site().ground_m(on_ground_m.x, on_ground_m.y) + self.axis_height_m;
        let mirror = plan.mirror_count();
        let string = Coupling::ALONE.string(mirror..mirror + 1, ring);
        plan.strings.push(string);
        plan.push(on_ground_m.with_z(z_m), [self.width_m, self.height_m]);
    }

    fn side_spacing_m(&self) -> f64 {
        self.side_spacing_ratio * self.turning_circle_m
    }

    /// Where it is laid.
    fn site(&self) -> Site {
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
    fn check(&self) -> Result<(), FieldError> {
        let site = self.site();
        site.check()?;
        check_positive(&[
            ("the mirror width", self.width_m),
            ("the mirror height", self.height_m),
            ("the axis height", self.axis_height_m),
            ("the ring spacing", self.ring_spacing_ratio),
        ])?;
        let diagonal_m = libm::hypot(self.width_m, self.height_m);
        for ratio in [self.turning_circle_m / diagonal_m, self.side_spacing_ratio] {
            if !(ratio >= 1.0 - SLACK && ratio.is_finite()) {
                return Err(FieldError::SideBySide { ratio });
            }
        }
        let slope = site.ground_slope();
        let lean = (1.0 + slope * slope).sqrt();
        let needed_m = 0.5 * (self.height_m * lean + self.width_m * slope);
        if self.axis_height_m < needed_m {
            return Err(FieldError::MountTooLow {
                mount_height_m: self.axis_height_m,
                needed_m,
            });
        }
        let needed_m = self.axis_height_m + self.height_m * lean;
        if self.aim_height_m <= needed_m {
            return Err(FieldError::AimTooLow {
                aim_height_m: self.aim_height_m,
                needed_m,
            });
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
