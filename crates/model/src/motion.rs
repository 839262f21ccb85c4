//! How strings move over the year: the residual of the shared drive, and room between panels.

use drive::{Drives, YearSuns, bound_rms_rad};
use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3};
use sky::SunTable;

use crate::clash::clash_margin;

/// Strings whose motion is looked at.
pub(crate) const MOTION_STRINGS: usize = 12;

/// The motion of some strings over the node suns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Beam error of the shared drive, rms over mirrors and the year's sun while drives follow it [rad].
    pub residual_rad: f64,
    /// The same for the best common turn of all mirrors of a string under every sun [rad].
    pub bound_rad: f64,
    /// Room between neighbouring panels over what they need, less one; at the worst of the year's suns
    /// and of the way to stow from each of them.
    pub clash_margin: f64,
}

/// Looks at the motion of `strings` over the node suns.
#[must_use]
pub fn motion(
    plan: &Plan,
    drives: &Drives,
    table: &SunTable,
    strings: &[usize],
    stance: &mut Stance,
) -> Motion {
    let mut squares = 0.0;
    let mut weights = 0.0;
    for &string in strings {
        for (block, suns) in table.direction.iter().enumerate() {
            drives.stand(plan, string, suns, stance);
            let follows = drives.follow(plan, string, suns);
            for (place, mirror) in plan.strings[string].mirrors().enumerate() {
                let target = plan.target(mirror);
                for lane in (0..LANES).filter(|&lane| follows[lane]) {
                    let weight = table.dni_j_m2[block * LANES + lane].max(0.0);
                    let sun = vector(suns, lane);
                    let miss = beam_miss_rad2(sun, vector(&stance.normals[place], lane), target);
                    squares += weight * miss;
                    weights += weight;
                }
            }
        }
    }
    let year = YearSuns {
        directions: &table.direction,
        weights: &table.dni_j_m2,
    };
    Motion {
        residual_rad: (squares / weights.max(f64::MIN_POSITIVE)).sqrt(),
        bound_rad: bound_rms_rad(plan, drives, strings, &year),
        clash_margin: clash_margin(plan, drives, table, strings, stance),
    }
}

/// Square of the angle between the reflected central ray and the target, for small angles
/// [rad²].
pub(crate) fn beam_miss_rad2(sun: Vec3, normal: Vec3, target: Vec3) -> f64 {
    let reflected = 2.0 * normal.dot(sun) * normal - sun;
    (reflected - target).length_squared()
}

pub(crate) fn vector(lanes: &LaneVec3, lane: usize) -> Vec3 {
    Vec3::new(lanes[0][lane], lanes[1][lane], lanes[2][lane])
}
