//! How well any common turn of a string could do: the bound beside every mechanism.

use field::Plan;
use geometry::Vec3;

use crate::frame::Frame;
use crate::reflection::{angle_between_rad, normal_between, reflected};

/// Steps of the fit; it settles to rounding in four or five.
const STEPS: usize = 10;

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
    let row = &plan.strings[string];
    let mut turn = smallest_turn(plan, row.reference_mirror(), alignment_sun, sun);
    for _ in 0..STEPS {
        let mut fit = Fit::default();
        for mirror in row.mirrors() {
            let target = plan.target(mirror);
            let normal = turn.direction(normal_between(alignment_sun, target));
            fit.add(sun, normal, reflected(sun, normal) - target);
        }
        turn = turned_further(&turn, fit.step() * 0.5);
    }
    let sum_rad2: f64 = row
        .mirrors()
        .map(|mirror| {
            let target = plan.target(mirror);
            let normal = turn.direction(normal_between(alignment_sun, target));
            angle_between_rad(reflected(sun, normal), target)
        })
        .map(|miss_rad| miss_rad * miss_rad)
        .sum();
    (sum_rad2 / row.mirror_count as f64).sqrt()
}

/// The rotation, as images of the three ground axes, that takes one mirror from alignment to `sun`
/// without rolling.
fn smallest_turn(plan: &Plan, mirror: usize, alignment_sun: Vec3, sun: Vec3) -> Frame {
    let target = plan.target(mirror);
    let then = normal_between(alignment_sun, target);
    let now = normal_between(sun, target);
    let ground = Frame {
        first: Vec3::X,
        second: Vec3::Y,
        normal: Vec3::Z,
    };
    turned_further(&ground, then.cross(now) / (1.0 + then.dot(now)))
}

/// `turn` followed by the rotation about `half_tangent`, whose length is the tangent of half the
/// angle: Rodrigues' formula without a sine.
fn turned_further(turn: &Frame, half_tangent: Vec3) -> Frame {
    let scale = 2.0 / (1.0 + half_tangent.dot(half_tangent));
    let rotate = |direction: Vec3| {
        let sideways = half_tangent.cross(direction);
        direction + (sideways + half_tangent.cross(sideways)) * scale
    };
    Frame {
        first: rotate(turn.first),
        second: rotate(turn.second),
        normal: rotate(turn.normal),
    }
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
