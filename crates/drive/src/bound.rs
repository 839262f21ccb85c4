//! How well any common turn of a string could do: the bound beside every mechanism.

use field::Plan;
use geometry::Vec3;

use crate::drives::Drives;
use crate::frame::Frame;
use crate::reflection::{angle_between_rad, normal_between, reflected};
use crate::year::YearSuns;

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
    let aligned = Aligned::new(plan, string, alignment_sun);
    let mut turn = aligned.smallest_turn(sun);
    for _ in 0..STEPS {
        turn = turn.turned_about(aligned.fit(&turn, sun).step() * 0.5);
    }
    let squares_rad2 = aligned.turned(&turn).map(|(normal, target)| {
        let miss_rad = angle_between_rad(reflected(sun, normal), target);
        miss_rad * miss_rad
    });
    (squares_rad2.sum::<f64>() / aligned.targets.len() as f64).sqrt()
}

/// Root mean square over `strings` of `plan` and over the suns of a year that their drives follow of the
/// bound that [`any_common_rotation_rms_rad`] gives for strings set as `drives` were [rad]. One step each, and
/// what the next would leave: within a thousandth of it.
#[must_use]
pub fn bound_rms_rad(plan: &Plan, drives: &Drives, strings: &[usize], year: &YearSuns) -> f64 {
    let each = strings.iter().map(|&string| {
        let aligned = Aligned::new(plan, string, drives.alignment_sun(string));
        (string, aligned)
    });
    let each: Vec<(usize, Aligned)> = each.collect();
    year.rms(|sun, sums| {
        let followed = each
            .iter()
            .filter(|(string, _)| drives.follows(plan, *string, sun));
        for (_, aligned) in followed {
            sums.add(aligned.foretold_rad2(sun));
        }
    })
}

/// The mirrors of a string as they were set.
struct Aligned {
    /// The string's place of the mirror that the drive follows.
    reference: usize,
    /// From each mirror to its aim point.
    targets: Vec<Vec3>,
    /// Under the alignment sun.
    normals: Vec<Vec3>,
}

impl Aligned {
    fn new(plan: &Plan, string: usize, alignment_sun: Vec3) -> Self {
        let row = &plan.strings[string];
        let targets: Vec<Vec3> = row.mirrors().map(|mirror| plan.target(mirror)).collect();
        let normals = targets
            .iter()
            .map(|&target| normal_between(alignment_sun, target));
        Self {
            reference: row.reference_mirror() - row.first_mirror,
            normals: normals.collect(),
            targets,
        }
    }

    /// The rotation, as images of the three ground axes, that takes the reference mirror from alignment to `sun`
    /// without rolling.
    fn smallest_turn(&self, sun: Vec3) -> Frame {
        let target = self.targets[self.reference];
        let then = self.normals[self.reference];
        Frame::GROUND.turned_onto(then, normal_between(sun, target))
    }

    /// Every mirror's normal, turned, and target.
    fn turned(&self, turn: &Frame) -> impl Iterator<Item = (Vec3, Vec3)> {
        let pairs = self.normals.iter().zip(&self.targets);
        pairs.map(|(&normal, &target)| (turn.direction(normal), target))
    }

    fn fit(&self, turn: &Frame, sun: Vec3) -> Fit {
        let mut fit = Fit::default();
        for (normal, target) in self.turned(turn) {
            fit.add(sun, normal, reflected(sun, normal) - target);
        }
        fit
    }

    /// Mean square of what mirrors miss by after the second step, as the fit foretells it [rad²].
    fn foretold_rad2(&self, sun: Vec3) -> f64 {
        let turn = self.smallest_turn(sun);
        let turn = turn.turned_about(self.fit(&turn, sun).step() * 0.5);
        self.fit(&turn, sun).left_rad2() / self.targets.len() as f64
    }
}

/// Normal equations of the least-squares step: a symmetric matrix and a right side, both a quarter of what they are.
#[derive(Default)]
struct Fit {
    /// Of the matrix the diagonal, and yz, zx, xy.
    diagonal: Vec3,
    beside: Vec3,
    right: Vec3,
    /// Sum of squared misses.
    missed_rad2: f64,
}

impl Fit {
    /// Adds one mirror that misses its target by `miss`. A small turn w moves the beam by 2 (w·a) n + 2 c w × n, with
    /// a = n × s and c = n·s: square to each other, so that the matrix is 4 (a aᵀ + c² (1 − n nᵀ)).
    fn add(&mut self, sun: Vec3, normal: Vec3, miss: Vec3) {
        let (across, cosine) = (normal.cross(sun), normal.dot(sun));
        let level = normal * cosine;
        self.diagonal += across * across - level * level + Vec3::splat(cosine * cosine);
        self.beside += yz_zx_xy(across) - yz_zx_xy(level);
        self.right -= (across * normal.dot(miss) + level.cross(miss)) * 0.5;
        self.missed_rad2 += miss.dot(miss);
    }

    /// The small rotation vector that lowers the sum of squares most.
    fn step(&self) -> Vec3 {
        let Self {
            diagonal,
            beside,
            right,
            ..
        } = *self;
        let damped = diagonal + Vec3::splat(DAMPING * diagonal.element_sum());
        let one = Vec3::new(damped.x, beside.z, beside.y);
        let two = Vec3::new(beside.z, damped.y, beside.x);
        let three = Vec3::new(beside.y, beside.x, damped.z);
        let (first, second, third) = (two.cross(three), three.cross(one), one.cross(two));
        Vec3::new(first.dot(right), second.dot(right), third.dot(right)) / one.dot(first)
    }

    /// What the step leaves of the sum of squared misses, to first order in the turn.
    fn left_rad2(&self) -> f64 {
        (self.missed_rad2 - 4.0 * self.right.dot(self.step())).max(0.0)
    }
}

/// Products of components: the part of v vᵀ beside its diagonal.
fn yz_zx_xy(v: Vec3) -> Vec3 {
    Vec3::new(v.y * v.z, v.z * v.x, v.x * v.y)
}
