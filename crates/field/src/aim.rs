//! Aim points spread over the aperture, so that no spot of it is too bright.

use geometry::Vec3;

use crate::plan::Plan;

/// How aim points are spread over a rectangle around the plan's aim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AimSpread {
    /// Unit vector along the aperture's width.
    pub right: Vec3,
    /// Unit vector along the aperture's height.
    pub up: Vec3,
    /// Half the aperture's width [m].
    pub half_width_m: f64,
    /// Half the aperture's height [m].
    pub half_height_m: f64,
    /// Half-angle of the image that is to stay inside the aperture, seen from the mirror [rad].
    pub clearance_rad: f64,
    /// Share of what is then left of the half-extents that aims use: 0 sets all on the middle.
    pub share: f64,
    /// Radius of an upright cylinder about the plan's aim, whose mantle takes the light; 0 for a flat aperture [m].
    pub mantle_radius_m: f64,
}

impl AimSpread {
    /// From the plan's aim to the aim of each of its mirrors. Every string has a place of its own in the
    /// rectangle: the strings of any stretch of the plan fill it evenly, and far ones with their larger images
    /// stay nearer to the middle. Places follow Halton's sequence in bases 2 and 3 (Halton, *Numerische
    /// Mathematik* 2 (1960) 84–90). All mirrors of a string aim at its place, before a cylinder each so much
    /// higher that its ray meets the mantle at the height of the place.
    #[must_use]
    pub fn shifts_m(&self, plan: &Plan) -> Vec<Vec3> {
        let mut shifts_m = Vec::with_capacity(plan.mirror_count());
        for (index, row) in plan.strings.iter().enumerate() {
            let slant_m = plan.aim_m.distance(plan.centre_m(row.reference_mirror()));
            let shift_m = self.place_m(index as u64 + 1, slant_m);
            let raised_m = |mirror| {
                let rise_m = self.rise_m(plan.aim_m + shift_m, plan.centre_m(mirror));
                shift_m + Vec3::Z * rise_m
            };
            shifts_m.extend(row.mirrors().map(raised_m));
        }
        shifts_m
    }

    /// The place of that number in the rectangle, from its middle, for images from so far away.
    fn place_m(&self, number: u64, slant_m: f64) -> Vec3 {
        let image_m = self.clearance_rad * slant_m;
        let reach = |half_m: f64, place: f64| {
            self.share * (half_m - image_m).max(0.0) * (2.0 * place - 1.0)
        };
        let right_m = reach(self.half_width_m, halton(number, 2));
        let up_m = reach(self.half_height_m, halton(number, 3));
        self.right * right_m + self.up * up_m
    }

    /// How far a ray from `centre_m` that meets the mantle at the height of `place_m` climbs from there to
    /// the axis. From below the cylinder no ray comes to the mantle: there it is none.
    fn rise_m(&self, place_m: Vec3, centre_m: Vec3) -> f64 {
        let from_axis_m = (centre_m - place_m).with_z(0.0).length();
        if from_axis_m <= self.mantle_radius_m {
            return 0.0;
        }
        let slope = (place_m.z - centre_m.z) / (from_axis_m - self.mantle_radius_m);
        slope * self.mantle_radius_m
    }
}

/// Gives every mirror its aim, and the focal length that this asks for.
pub fn spread_aims(plan: &mut Plan, spread: &AimSpread) {
    plan.aim_shift_m = spread.shifts_m(plan);
    for mirror in 0..plan.mirror_count() {
        plan.focal_length_m[mirror] = plan.aim_of_m(mirror).distance(plan.centre_m(mirror));
    }
}

/// Digits of `index` in `base`, mirrored at the point: a number in 0 … 1.
fn halton(mut index: u64, base: u64) -> f64 {
    let (mut value, mut digit) = (0.0, 1.0);
    while index > 0 {
        digit /= base as f64;
        value += digit * (index % base) as f64;
        index /= base;
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{candidates, tests::steam_field};

    #[test]
    fn halton_begins_as_published() {
        let twos: Vec<f64> = (1..=5).map(|index| halton(index, 2)).collect();
        assert_eq!(twos, [0.5, 0.25, 0.75, 0.125, 0.625]);
        assert!((halton(4, 3) - 4.0 / 9.0).abs() < 1e-15);
    }

    fn spread(share: f64) -> AimSpread {
        AimSpread {
            right: -Vec3::X,
            up: Vec3::Z,
            half_width_m: 2.0,
            half_height_m: 1.5,
            clearance_rad: 8e-3,
            share,
            mantle_radius_m: 0.0,
        }
    }

    #[test]
    fn images_stay_inside_and_the_middle_of_all_aims_is_the_middle() {
        let mut plan = candidates(&steam_field()).unwrap().plan;
        spread_aims(&mut plan, &spread(1.0));
        let mut mean_m = Vec3::ZERO;
        for mirror in 0..plan.mirror_count() {
            let shift_m = plan.aim_shift_m[mirror];
            let image_m = 8e-3 * plan.aim_m.distance(plan.centre_m(mirror));
            assert!(shift_m.x.abs() + 0.95 * image_m <= 2.0 || shift_m.x == 0.0);
            assert!(shift_m.z.abs() + 0.95 * image_m <= 1.5 || shift_m.z == 0.0);
            mean_m += shift_m / plan.mirror_count() as f64;
        }
        assert!(mean_m.length() < 0.05, "{mean_m}");
    }

    #[test]
    fn no_share_no_shift() {
        let mut plan = candidates(&steam_field()).unwrap().plan;
        let before = plan.clone();
        spread_aims(&mut plan, &spread(0.0));
        assert!(plan.aim_shift_m.iter().all(|shift| shift.length() == 0.0));
        assert_eq!(plan.focal_length_m, before.focal_length_m);
    }

    fn before_a_cylinder(share: f64) -> AimSpread {
        AimSpread {
            half_width_m: 0.0,
            half_height_m: 6.0,
            mantle_radius_m: 3.5,
            ..spread(share)
        }
    }

    /// Height at which the ray from a mirror to its aim comes within `radius_m` of the axis through `plan.aim_m`:
    /// the nearer root of a quadratic, by no formula of the aims.
    fn meets_at_m(plan: &Plan, mirror: usize, radius_m: f64) -> f64 {
        let (from_m, ray) = (plan.centre_m(mirror), plan.target(mirror));
        let level_m = (from_m - plan.aim_m).with_z(0.0);
        let (square, half) = (ray.with_z(0.0).length_squared(), level_m.dot(ray));
        let root = (half * half - square * (level_m.length_squared() - radius_m * radius_m)).sqrt();
        from_m.z + ray.z * (-half - root) / square
    }

    /// Mirrors anywhere, above and below the place as well, and as near as a hand's breadth before the mantle: every
    /// ray meets it at the height wanted, and goes through the axis.
    #[test]
    fn rays_meet_a_cylinder_at_the_height_wanted() {
        let mut plan = candidates(&steam_field()).unwrap().plan;
        let near_m = [3.6, 4.5, 7.0, 12.0];
        for (mirror, far_m) in near_m.into_iter().enumerate() {
            (plan.x_m[mirror], plan.y_m[mirror]) = (0.6 * far_m, -0.8 * far_m);
        }
        plan.z_m[7] = plan.aim_m.z + 12.0;
        for share in [0.0, 0.7] {
            let spread = before_a_cylinder(share);
            spread_aims(&mut plan, &spread);
            for (index, row) in plan.strings.iter().enumerate() {
                let slant_m = plan.aim_m.distance(plan.centre_m(row.reference_mirror()));
                let wanted_m = plan.aim_m.z + spread.place_m(index as u64 + 1, slant_m).z;
                for mirror in row.mirrors() {
                    let aim_m = plan.aim_of_m(mirror);
                    assert!(aim_m.with_z(0.0).length() < 1e-9, "{aim_m}");
                    let meets_m = meets_at_m(&plan, mirror, spread.mantle_radius_m);
                    assert!((meets_m - wanted_m).abs() < 1e-9, "{meets_m} {wanted_m}");
                }
            }
        }
    }

    #[test]
    fn under_a_cylinder_aims_stay_on_its_axis() {
        let mut plan = candidates(&steam_field()).unwrap().plan;
        let under_m = [(0.0, 0.0), (2.0, -2.8), (0.0, 3.5)];
        for (mirror, (x_m, y_m)) in under_m.into_iter().enumerate() {
            (plan.x_m[mirror], plan.y_m[mirror]) = (x_m, y_m);
        }
        spread_aims(&mut plan, &before_a_cylinder(0.0));
        for mirror in 0..under_m.len() {
            assert_eq!(plan.aim_of_m(mirror), plan.aim_m);
        }
        assert!(plan.aim_of_m(under_m.len()).z > plan.aim_m.z);
    }
}
