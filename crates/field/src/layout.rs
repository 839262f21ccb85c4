//! Candidate strings: places along rows or rings turned into mirrors.
//!
//! Panels must not touch. Strings end to end in a row turn nearly alike and keep at least the pitch;
//! all else but neighbours in a string keeps a panel's diagonal between centres, whatever the turns.
//! Whether neighbours in a string clear each other depends on how they turn and is the caller's to
//! see.

use std::f64::consts::FRAC_PI_2;

use geometry::{Vec3, direction};

use crate::error::FieldError;
use crate::plan::{Plan, StringRow};
use crate::site::SLACK;
use crate::string_field::{BearingRule, StringField};
use crate::{rings, rows};

/// All strings that fit between the two radii in the sector, in place order: by half-plane, by row
/// outwards, along the row clockwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Places {
    /// The candidates as a plan of their own.
    pub plan: Plan,
}

/// The middle of a candidate string.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    pub azimuth_rad: f64,
    pub distance_m: f64,
    pub bearing_rad: f64,
    /// Centre line of the half-plane that the string must stay in, if any [rad].
    pub seam: Option<f64>,
    pub row: usize,
}

/// Lays strings over the whole sector between inner and outer radius.
///
/// # Errors
/// A [`FieldError`] for sizes that can't be built.
pub fn candidates(field: &StringField) -> Result<Places, FieldError> {
    field.check()?;
    let spots = spots(field);
    let mut plan = Plan::with_room_for(spots.len(), field.mirrors_per_string);
    plan.aim_m = field.site().aim_m();
    for spot in &spots {
        let string = Placed::new(field, spot);
        if string.fits(field, spot) {
            string.build(field, spot, &mut plan);
        }
    }
    Ok(Places { plan })
}

fn spots(field: &StringField) -> Vec<Spot> {
    let centre_rad = field.sector_centre_azimuth_rad;
    let mut spots = Vec::new();
    match field.bearing {
        BearingRule::Radial => rings::lay(field, &mut spots),
        BearingRule::Cross => rows::lay(field, centre_rad, 1.0, &mut spots),
        BearingRule::Fan { share } => rows::lay(field, centre_rad, share, &mut spots),
        BearingRule::Fixed { azimuth_rad } => {
            rows::lay(field, azimuth_rad - FRAC_PI_2, 0.0, &mut spots);
        }
    }
    spots
}

/// A string on the ground: its middle, the way it points and how it rises.
struct Placed {
    middle: Vec3,
    along: Vec3,
    /// Rise of the rail over the ground per horizontal metre along the bearing.
    rise: f64,
    /// Horizontal distance of neighbours [m].
    step_m: f64,
}

impl Placed {
    fn new(field: &StringField, spot: &Spot) -> Self {
        let outwards = direction::along_bearing(spot.azimuth_rad);
        let along = direction::along_bearing(spot.bearing_rad);
        let rise = libm::tan(field.rail_slope_rad) * outwards.dot(along);
        let ground_rise = field.site().ground_m(along.x, along.y);
        let total_rise = rise + ground_rise;
        let step_m = field.pitch_m / (1.0 + total_rise * total_rise).sqrt();
        Self {
            middle: outwards * spot.distance_m,
            along,
            rise,
            step_m,
        }
    }

    fn half_length_m(&self, field: &StringField) -> f64 {
        0.5 * (field.mirrors_per_string as f64 - 1.0) * self.step_m
    }

    /// Inside the radii, the sector and its half-plane from end to end.
    fn fits(&self, field: &StringField, spot: &Spot) -> bool {
        let half_m = self.half_length_m(field);
        let ends = [
            self.middle - self.along * half_m,
            self.middle + self.along * half_m,
        ];
        let foot_m = (-self.middle.dot(self.along)).clamp(-half_m, half_m);
        let nearest_m = (self.middle + self.along * foot_m).length();
        let inner_m = field.inner_radius_m - SLACK;
        let outer_m = field.outer_radius_m + SLACK;
        nearest_m >= inner_m
            && ends.iter().all(|end| end.length() <= outer_m)
            && ends.iter().all(|end| clear_of_seam(field, spot, *end))
            && field.site().holds(&ends)
    }

    /// Adds the string to `plan`.
    fn build(&self, field: &StringField, spot: &Spot, plan: &mut Plan) {
        let half_m = self.half_length_m(field);
        let lift_m = field.mount_height_m + self.rise.abs() * half_m;
        let site = field.site();
        plan.strings.push(StringRow {
            first_mirror: plan.mirror_count(),
            mirror_count: field.mirrors_per_string,
            bearing_rad: spot.bearing_rad,
            first_axis: field.first_axis,
            linkage: field.linkage,
            row: spot.row,
        });
        for index in 0..field.mirrors_per_string {
            let off_m = index as f64 * self.step_m - half_m;
            let on_ground = self.middle + self.along * off_m;
            let stagger_m = if index % 2 == 1 { field.stagger_m } else { 0.0 };
            let height_m = lift_m + self.rise * off_m + stagger_m;
            let z_m = site.ground_m(on_ground.x, on_ground.y) + height_m;
            plan.push(on_ground.with_z(z_m), [field.side_m; 2]);
        }
    }
}

/// Rows on both sides of a seam stay a row spacing apart.
fn clear_of_seam(field: &StringField, spot: &Spot, point: Vec3) -> bool {
    spot.seam.is_none_or(|centre_rad| {
        let depth_m = direction::along_bearing(centre_rad).dot(point);
        depth_m >= 0.5 * field.row_spacing_m - SLACK
    })
}

#[cfg(test)]
pub(crate) mod tests;
