//! How well any common turn of a string could do: the bound beside every mechanism.

use field::Plan;
use geometry::Vec3;

use crate::drives::Drives;
use crate::frame::Frame;
use crate::reflection::{angle_between_rad, normal_between, reflected};
use crate::year::YearSuns;

/// Steps of the fit; it settles to rounding in four or five.
const STEPS: usize = 10;
/// Steps where many strings and suns are looked at.
const FEW_STEPS: usize = 3;

/// Damping relative to the sum of squared sensitivities: one mirror alone leaves the turn about
/// its own normal free.
const DAMPING: f64 = 1e-12;

/// Root mean square beam error [rad] over the mirrors of string `string` when, since the alignment
/// sun, all of them have turned by one common rotation, the best one for these mirrors under
/// `sun`. No mechanism that turns all mounts alike does better, whatever its axes.
///
/// Found by Gauss–Newton on the three components of the rotation, from the smallest turn that
/// keeps the reference mirror on its target.
#[must_use]
pub fn any_common_rotation_rms_rad(
    plan: &Plan,
    string: usize,
    alignment_sun: Vec3,
    sun: Vec3,
) -> f64 {
    fitted_rms_rad(plan, string, alignment_sun, sun, STEPS)
}

/// Root mean square over `strings` of `plan` and over the suns of a year that their drives follow of the
/// bound that [`any_common_rotation_rms_rad`] gives for strings set as `drives` were [rad]. Three steps each:
/// within a thousandth of it.
#[must_use]
pub fn bound_rms_rad(plan: &Plan, drives: &Drives, strings: &[usize], year: &YearSuns) -> f64 {
    year.rms(|sun, sums| {
        let followed = strings
            .iter()
            .filter(|&&string| drives.follows(plan, string, sun));
        for &string in followed {
            let set_under = drives.alignment_sun(string);
            let rms_rad = fitted_rms_rad(plan, string, set_under, sun, FEW_STEPS);
            sums.add(rms_rad * rms_rad);
        }
    })
}

fn fitted_rms_rad(plan: &Plan, string: usize, alignment_sun: Vec3, sun: Vec3, steps: usize) -> f64 {
    let row = &plan.strings[string];
    let targets = row.mirrors().map(|mirror| plan.target(mirror));
    let mut turn = smallest_turn(plan.target(row.reference_mirror()), alignment_sun, sun);
    for _ in 0..steps {
        let mut fit = Fit::default();
        for target in targets.clone() {
            let normal = turn.direction(normal_between(alignment_sun, target));
            fit.add(sun, normal, reflected(sun, normal) - target);
        }
        turn = turn.turned_about(fit.step() * 0.5);
    }
    let sum_rad2: f64 = targets
        .map(|target| {
            let normal = turn.direction(normal_between(alignment_sun, target));
            angle_between_rad(reflected(sun, normal), target)
        })
        .map(|miss_rad| miss_rad * miss_rad)
        .sum();
    (sum_rad2 / row.mirror_count as f64).sqrt()
}

/// The rotation, as images of the three ground axes, that takes a mirror from alignment to `sun`
/// without rolling.
fn smallest_turn(target: Vec3, alignment_sun: Vec3, sun: Vec3) -> Frame {
    let then = normal_between(alignment_sun, target);
    Frame::GROUND.turned_onto(then, normal_between(sun, target))
}

/// Normal equations of the least-squares step: a symmetric matrix by columns and a right side.
#[derive(Default)]
struct Fit {
    columns: [Vec3; 3],
    right: Vec3,
}

impl Fit {
    /// Adds one mirror that misses its target by `miss`.
    fn add(&mut self, sun: Vec3, normal: Vec3, miss: Vec3) {
        let moves = [Vec3::X, Vec3::Y, Vec3::Z].map(|axis| {
            let tip = axis.cross(normal);
            (normal * tip.dot(sun) + tip * normal.dot(sun)) * 2.0
        });
        let against =
            |beam: Vec3| Vec3::new(moves[0].dot(beam), moves[1].dot(beam), moves[2].dot(beam));
        for (column, beam) in self.columns.iter_mut().zip(moves) {
            *column += against(beam);
        }
        self.right -= against(miss);
    }

    /// The small rotation vector that lowers the sum of squares most.
    fn step(&self) -> Vec3 {
        let [mut one, mut two, mut three] = self.columns;
        let damping = DAMPING * (one.x + two.y + three.z);
        one.x += damping;
        two.y += damping;
        three.z += damping;
        let (first, second, third) = (two.cross(three), three.cross(one), one.cross(two));
        let right = self.right;
        Vec3::new(first.dot(right), second.dot(right), third.dot(right)) / one.dot(first)
    }
}
