//! Neighbours as a mirror sees them.

use geometry::{LANES, Vec3, abreast};

use crate::coarse::{CoarseVec3, array, greater};

/// Slack for beams that leave a little off the line to the aim point.
const BLOCKING_SLACK: f64 = 1.05;

/// What a clearance may lose by single precision, as a share.
const ROUNDING: f32 = 0.005;

/// A neighbour as a mirror sees it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Near {
    pub mirror: u32,
    pub away_m: Vec3,
    /// How near a ray may come to its middle for both panels to be met.
    pub clearance_m: f64,
}

impl Near {
    /// Most neighbours are out of the question at once: the sine of a sum is no more than the sum of sines.
    pub fn stands_high(&self, lowest_sine: f64) -> bool {
        let highest_m = self.away_m.z.max(0.0) + self.clearance_m;
        highest_m * highest_m >= lowest_sine * lowest_sine * self.away_m.length_squared()
    }

    /// Does it stand before the aim point and within its clearance of the line to it?
    pub fn may_block(&self, to_aim: Vec3, aim_m: f64) -> bool {
        let ahead_m = self.away_m.dot(to_aim);
        let reach_m = BLOCKING_SLACK * self.clearance_m;
        let aside2_m2 = self.away_m.length_squared() - ahead_m * ahead_m;
        ahead_m > -reach_m && ahead_m < aim_m && aside2_m2 < reach_m * reach_m
    }

    /// Whether the way to one of eight suns comes within its clearance.
    #[inline(always)]
    pub fn meets_a_ray(&self, suns: &CoarseVec3) -> bool {
        let [x_m, y_m, z_m] = array(self.away_m);
        let clearance_m = (1.0 + ROUNDING) * self.clearance_m as f32;
        let least_m2 = x_m * x_m + y_m * y_m + z_m * z_m - clearance_m * clearance_m;
        let mut meets = false;
        for lane in 0..LANES {
            let ahead_m = x_m * suns[0][lane] + y_m * suns[1][lane] + z_m * suns[2][lane];
            let ahead_m = greater(ahead_m, 0.0);
            meets |= ahead_m * ahead_m >= least_m2;
        }
        meets
    }
}

/// Leaves out neighbours whose clearance no ray to any of these suns meets.
pub(crate) fn leave_rays_free(near: &mut Vec<Near>, blocks: &[CoarseVec3]) {
    let mut kept = 0;
    abreast(
        #[inline(always)]
        || {
            for index in 0..near.len() {
                let one = near[index];
                near[kept] = one;
                for suns in blocks {
                    if one.meets_a_ray(suns) {
                        kept += 1;
                        break;
                    }
                }
            }
        },
    );
    near.truncate(kept);
}
