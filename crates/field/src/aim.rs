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
}

/// Gives every string an aim of its own, the same for all its mirrors: the strings of any stretch
/// of the plan fill the rectangle evenly, and far ones with their larger images stay nearer to the
/// middle. Places in the rectangle follow Halton's sequence in bases 2 and 3 (Halton, *Numerische
/// Mathematik* 2 (1960) 84–90).
pub fn spread_aims(plan: &mut Plan, spread: &AimSpread) {
    let mut shifts_m = Vec::with_capacity(plan.mirror_count());
    for (index, row) in plan.strings.iter().enumerate() {
        let slant_m = plan.aim_m.distance(plan.centre_m(row.reference_mirror()));
        let image_m = spread.clearance_rad * slant_m;
        let reach = |half_m: f64, place: f64| {
            spread.share * (half_m - image_m).max(0.0) * (2.0 * place - 1.0)
        };
        let right_m = reach(spread.half_width_m, halton(index as u64 + 1, 2));
        let up_m = reach(spread.half_height_m, halton(index as u64 + 1, 3));
        let shift_m = spread.right * right_m + spread.up * up_m;
        shifts_m.extend(std::iter::repeat_n(shift_m, row.mirror_count));
    }
    plan.aim_shift_m = shifts_m;
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
}
