//! A year's suns, and what a string does under them.

use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, Vec3, lane};

use crate::drives::Drives;
use crate::mechanism::Mechanism;
use crate::reflection::reflected;

/// Suns that stand for a year: unit vectors in blocks of eight, and the weight of each in the order
/// of the lanes (its share of the year's direct sun in any unit; none or less leaves a sun out).
#[derive(Clone, Copy, Debug)]
pub struct YearSuns<'a> {
    /// The suns.
    pub directions: &'a [LaneVec3],
    /// Their weights.
    pub weights: &'a [f64],
}

/// What spreads and shifts the beams of some strings over a year, root mean square over mirrors and
/// suns [rad of beam].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct YearBeams {
    /// How far central rays miss their aim points while drives follow the sun: the residual.
    pub residual_rad: f64,
    /// The same with the misses of drives that stand at their stops, degrees as these may be: good for choosing
    /// what leaves few of them, not for telling how well mirrors are turned.
    pub missed_rad: f64,
    /// Share of the year's sun under which drives stand at their stops.
    pub stopped_share: f64,
    /// Random error around them, in the plane of incidence and across it together.
    pub blur_rad: f64,
}

impl<'a> YearSuns<'a> {
    /// Eight suns and their weights, block by block.
    pub(crate) fn blocks(&self) -> impl Iterator<Item = (&'a LaneVec3, &'a [f64])> {
        self.directions.iter().zip(self.weights.chunks(LANES))
    }

    /// Residual and random error of some strings over the year.
    #[must_use]
    pub fn beams(&self, plan: &Plan, drives: &Drives, strings: &[usize]) -> YearBeams {
        let mut stance = Stance::default();
        let (mut following, mut stopped, mut blurs) = (Squares::default(), Squares::default(), 0.0);
        for &string in strings {
            let row = &plan.strings[string];
            let targets: Vec<Vec3> = row.mirrors().map(|mirror| plan.target(mirror)).collect();
            for (suns, block_weights) in self.blocks() {
                drives.stand(plan, string, suns, &mut stance);
                let follows = drives.follow(plan, string, suns);
                for (column, &weight) in block_weights.iter().enumerate() {
                    let weight = weight.max(0.0);
                    let sun = lane::vector(suns, column);
                    let squares = if follows[column] {
                        &mut following
                    } else {
                        &mut stopped
                    };
                    for (place, target) in targets.iter().enumerate() {
                        let normal = lane::vector(&stance.normals[place], column);
                        squares.add(weight, (reflected(sun, normal) - *target).length_squared());
                        blurs += weight
                            * (stance.blur_in_plane_rad2[place][column]
                                + stance.blur_across_rad2[place][column]);
                    }
                }
            }
        }
        let all = Squares {
            sum: following.sum + stopped.sum,
            weight: following.weight + stopped.weight,
        };
        let random = Squares { sum: blurs, ..all };
        YearBeams {
            residual_rad: following.rms(),
            missed_rad: all.rms(),
            stopped_share: stopped.weight / all.weight.max(f64::MIN_POSITIVE),
            blur_rad: random.rms(),
        }
    }

    /// What some strings do over the year when they are set under each of `alignment_suns` in turn, in
    /// their order: what one instant of alignment costs against another.
    #[must_use]
    pub fn beams_by_alignment(
        &self,
        plan: &Plan,
        mechanism: &Mechanism,
        alignment_suns: &[Vec3],
    ) -> Vec<YearBeams> {
        let all: Vec<usize> = (0..plan.strings.len()).collect();
        let beams = |&alignment_sun: &Vec3| {
            let mechanism = Mechanism {
                alignment_sun,
                ..*mechanism
            };
            self.beams(plan, &Drives::prepare(plan, &mechanism), &all)
        };
        alignment_suns.iter().map(beams).collect()
    }
}

/// A weighted sum of squares and its weight.
#[derive(Clone, Copy, Default)]
pub(crate) struct Squares {
    sum: f64,
    weight: f64,
}

impl Squares {
    pub fn add(&mut self, weight: f64, square: f64) {
        self.sum += weight * square;
        self.weight += weight;
    }

    pub fn rms(&self) -> f64 {
        (self.sum / self.weight.max(f64::MIN_POSITIVE)).sqrt()
    }
}
