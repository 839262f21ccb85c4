//! How well any common turn of a string could do: the bound beside every mechanism.

use field::Plan;
use geometry::{LANES, Lane, LaneVec3, Vec3, abreast, lane};

use crate::drives::Drives;
use crate::frame::{Frame, Turn};
use crate::offsets::Motion;
use crate::reflection::{angle_between_rad, normal_between, reflected};
use crate::year::{Squares, YearSuns};

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
    let suns = lane::columns(&[sun; LANES]);
    let mut turns = aligned.smallest_turns(&suns);
    for _ in 0..STEPS {
        aligned.fit(&turns, &suns).step(&mut turns);
    }
    let turn = turns.frame(0);
    let pairs = aligned.normals.iter().zip(&aligned.targets);
    let squares_rad2 = pairs.map(|(&normal, &target)| {
        let miss_rad = angle_between_rad(reflected(sun, turn.direction(normal)), target);
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
    let mut squares = Squares::default();
    for (suns, weights) in year.blocks() {
        for (string, aligned) in &each {
            let follows = drives.follow(plan, *string, suns);
            let left_rad2 = aligned.foretold_rad2(suns);
            for (column, weight) in weights.iter().enumerate() {
                if follows[column] {
                    squares.add(weight.max(0.0), left_rad2[column]);
                }
            }
        }
    }
    squares.rms()
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

    /// The rotations, as images of the three ground axes, that take the reference mirror from alignment to each of
    /// eight suns without rolling.
    #[inline(always)]
    fn smallest_turns(&self, suns: &LaneVec3) -> Motion {
        let target = self.targets[self.reference];
        let then = self.normals[self.reference];
        let mut turns = Motion::default();
        for column in 0..LANES {
            let normal = normal_between(lane::vector(suns, column), target);
            let turn = Frame::GROUND.turned_onto(then, normal);
            turns.set(column, &turn, &Turn::NONE);
        }
        turns
    }

    #[inline(always)]
    fn fit(&self, turns: &Motion, suns: &LaneVec3) -> Fit {
        let mut fit = Fit::default();
        for (normal, target) in self.normals.iter().zip(&self.targets) {
            for column in 0..LANES {
                let sun = lane::vector(suns, column);
                let normal = turns.frame(column).direction(*normal);
                fit.add(column, sun, normal, reflected(sun, normal) - *target);
            }
        }
        fit
    }

    /// Mean square of what mirrors miss by after the second step, as the fit foretells it [rad²].
    fn foretold_rad2(&self, suns: &LaneVec3) -> Lane {
        abreast(
            #[inline(always)]
            || {
                let mut turns = self.smallest_turns(suns);
                self.fit(&turns, suns).step(&mut turns);
                let fit = self.fit(&turns, suns);
                let mut left_rad2 = [0.0; LANES];
                for (column, left_rad2) in left_rad2.iter_mut().enumerate() {
                    *left_rad2 = fit.left_rad2(column) / self.targets.len() as f64;
                }
                left_rad2
            },
        )
    }
}

/// Normal equations of the least-squares step under each of eight suns: a symmetric matrix and a right side, both a
/// quarter of what they are.
#[derive(Default)]
struct Fit {
    /// Of the matrix the diagonal, and yz, zx, xy.
    diagonal: LaneVec3,
    beside: LaneVec3,
    right: LaneVec3,
    /// Sum of squared misses.
    missed_rad2: Lane,
}

impl Fit {
    /// Adds one mirror that misses its target by `miss`. A small turn w moves the beam by 2 (w·a) n + 2 c w × n, with
    /// a = n × s and c = n·s: square to each other, so that the matrix is 4 (a aᵀ + c² (1 − n nᵀ)).
    #[inline(always)]
    fn add(&mut self, column: usize, sun: Vec3, normal: Vec3, miss: Vec3) {
        let (across, cosine) = (normal.cross(sun), normal.dot(sun));
        let level = normal * cosine;
        let diagonal = across * across - level * level + Vec3::splat(cosine * cosine);
        let beside = yz_zx_xy(across) - yz_zx_xy(level);
        let right = (across * normal.dot(miss) + level.cross(miss)) * -0.5;
        add(&mut self.diagonal, column, diagonal);
        add(&mut self.beside, column, beside);
        add(&mut self.right, column, right);
        self.missed_rad2[column] += miss.dot(miss);
    }

    /// The small rotation vector that lowers the sum of squares under one sun most.
    #[inline(always)]
    fn turn(&self, column: usize) -> Vec3 {
        let [diagonal, beside, right] =
            [&self.diagonal, &self.beside, &self.right].map(|of| lane::vector(of, column));
        let damped = diagonal + Vec3::splat(DAMPING * (diagonal.x + diagonal.y + diagonal.z));
        let one = Vec3::new(damped.x, beside.z, beside.y);
        let two = Vec3::new(beside.z, damped.y, beside.x);
        let three = Vec3::new(beside.y, beside.x, damped.z);
        let (first, second, third) = (two.cross(three), three.cross(one), one.cross(two));
        Vec3::new(first.dot(right), second.dot(right), third.dot(right)) / one.dot(first)
    }

    /// Turns on by these rotations.
    #[inline(always)]
    fn step(&self, turns: &mut Motion) {
        for column in 0..LANES {
            let turn = turns.frame(column).turned_about(self.turn(column) * 0.5);
            turns.set(column, &turn, &Turn::NONE);
        }
    }

    /// What the step leaves of the sum of squared misses, to first order in the turn.
    #[inline(always)]
    fn left_rad2(&self, column: usize) -> f64 {
        let right = lane::vector(&self.right, column);
        (self.missed_rad2[column] - 4.0 * right.dot(self.turn(column))).max(0.0)
    }
}

#[inline(always)]
fn add(sums: &mut LaneVec3, column: usize, more: Vec3) {
    lane::set_vector(sums, column, lane::vector(sums, column) + more);
}

/// Products of components: the part of v vᵀ beside its diagonal.
#[inline(always)]
fn yz_zx_xy(v: Vec3) -> Vec3 {
    Vec3::new(v.y * v.z, v.z * v.x, v.x * v.y)
}
