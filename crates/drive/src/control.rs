//! Control by least squares: where the drive points the reference mirror so that the whole string
//! misses least.

use field::{Plan, StringRow};
use geometry::{LANES, LaneVec3, Vec3, lane};

use crate::frame::Frame;
use crate::offsets::{Motion, Offsets};
use crate::reflection::reflected;

/// The outer mirrors that speak for a string stand one part in so many from its ends.
const OUTER_SHARE: usize = 6;

/// Step by which the effect of the two motions is felt out [rad].
const FEELER_RAD: f64 = 1e-5;

/// Relative damping of the fit, for when one motion moves no mirror.
const DAMPING: f64 = 1e-9;

/// A string and how to move it.
pub(crate) struct Steered<'a, Move> {
    pub plan: &'a Plan,
    pub row: &'a StringRow,
    pub offsets: &'a Offsets,
    pub base: &'a Frame,
    /// The shared motion when the reference normals are given.
    pub moved: Move,
}

impl<Move: Fn(&LaneVec3) -> Motion> Steered<'_, Move> {
    /// Reference normals with the least sum of squared misses on the aperture, by one Gauss–Newton step
    /// from `exact`, the normals that keep the reference mirror on its target. A miss is the beam error
    /// times the distance: the light that it takes past an edge grows with its square.
    pub fn least_squares(&self, suns: &LaneVec3, exact: &LaneVec3) -> LaneVec3 {
        let here = (self.moved)(exact);
        let felt = |axis: &LaneVec3| {
            let mut off = *exact;
            for (off, axis) in off.as_flattened_mut().iter_mut().zip(axis.as_flattened()) {
                *off += axis * FEELER_RAD;
            }
            (self.moved)(&off)
        };
        let (one, other) = (felt(&here.first), felt(&here.second));
        let mut fits = [Fit::default(); LANES];
        for place in sample(self.row.mirror_count) {
            let mirror = self.row.first_mirror + place;
            let target = self.plan.target(mirror);
            let distance_m = (self.plan.aim_of_m(mirror) - self.plan.centre_m(mirror)).length();
            let miss_m = |from: Vec3, to: Vec3| (to - from) * distance_m;
            let [beams, by_one, by_other] =
                [&here, &one, &other].map(|motion| self.beams(place, motion, suns));
            for (column, fit) in fits.iter_mut().enumerate() {
                let beam = beams[column];
                fit.add(
                    miss_m(target, beam),
                    miss_m(beam, by_one[column]) / FEELER_RAD,
                    miss_m(beam, by_other[column]) / FEELER_RAD,
                );
            }
        }
        let mut best = *exact;
        for (column, fit) in fits.iter().enumerate() {
            let [along_first, along_second] = fit.step();
            let step = lane::vector(&here.first, column) * along_first
                + lane::vector(&here.second, column) * along_second;
            let normal = lane::vector(exact, column) + step;
            lane::set_vector(&mut best, column, normal.normalize());
        }
        best
    }

    fn beams(&self, place: usize, motion: &Motion, suns: &LaneVec3) -> [Vec3; LANES] {
        let mut normals = [[0.0; LANES]; 3];
        self.offsets
            .write_normal(place, self.base, motion, suns, &mut normals);
        std::array::from_fn(|column| {
            reflected(lane::vector(suns, column), lane::vector(&normals, column))
        })
    }
}

/// The places that speak for a string of `count` mirrors, alike on both sides of its middle: misses
/// along it follow a low-order curve.
fn sample(count: usize) -> impl Iterator<Item = usize> {
    let outer = count / OUTER_SHARE;
    [outer, count - 1 - outer]
        .into_iter()
        .chain((count - 1) / 2..=count / 2)
}

/// Normal equations of two unknowns.
#[derive(Clone, Copy, Default)]
struct Fit {
    one_one: f64,
    one_other: f64,
    other_other: f64,
    one_miss: f64,
    other_miss: f64,
}

impl Fit {
    fn add(&mut self, miss: Vec3, by_one: Vec3, by_other: Vec3) {
        self.one_one += by_one.dot(by_one);
        self.one_other += by_one.dot(by_other);
        self.other_other += by_other.dot(by_other);
        self.one_miss += by_one.dot(miss);
        self.other_miss += by_other.dot(miss);
    }

    fn step(&self) -> [f64; 2] {
        let damping = DAMPING * (self.one_one + self.other_other);
        let (one, other) = (self.one_one + damping, self.other_other + damping);
        let determinant = one * other - self.one_other * self.one_other;
        [
            (self.one_other * self.other_miss - other * self.one_miss) / determinant,
            (self.one_other * self.one_miss - one * self.other_miss) / determinant,
        ]
    }
}
