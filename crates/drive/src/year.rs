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

/// Sums of a mean, all entries of one sun with its weight.
pub(crate) struct Sums {
    weight: f64,
    values: f64,
    weights: f64,
}

impl Sums {
    pub fn add(&mut self, value: f64) {
        self.values += self.weight * value;
        self.weights += self.weight;
    }
}

/// What spreads and shifts the beams of some strings over a year, root mean square over mirrors and
/// suns [rad of beam].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct YearBeams {
    /// How far central rays miss their aim points: the residual.
    pub residual_rad: f64,
    /// Random error around them, in the plane of incidence and across it together.
    pub blur_rad: f64,
}

impl<'a> YearSuns<'a> {
    /// Root of the weighted mean of what `each` adds under every sun that counts.
    pub(crate) fn rms(&self, mut each: impl FnMut(Vec3, &mut Sums)) -> f64 {
        let mut sums = Sums {
            weight: 0.0,
            values: 0.0,
            weights: 0.0,
        };
        for (block, weights) in self.blocks() {
            for (column, &weight) in weights.iter().enumerate() {
                if weight > 0.0 {
                    sums.weight = weight;
                    each(lane::vector(block, column), &mut sums);
                }
            }
        }
        (sums.values / sums.weights.max(f64::MIN_POSITIVE)).sqrt()
    }

    fn blocks(&self) -> impl Iterator<Item = (&'a LaneVec3, &'a [f64])> {
        self.directions.iter().zip(self.weights.chunks(LANES))
    }

    /// Residual and random error of some strings over the year.
    #[must_use]
    pub fn beams(&self, plan: &Plan, drives: &Drives, strings: &[usize]) -> YearBeams {
        let mut stance = Stance::default();
        let (mut misses, mut blurs, mut weights) = (0.0, 0.0, 0.0);
        for &string in strings {
            let row = &plan.strings[string];
            let targets: Vec<Vec3> = row.mirrors().map(|mirror| plan.target(mirror)).collect();
            for (suns, block_weights) in self.blocks() {
                drives.stand(plan, string, suns, &mut stance);
                for (column, &weight) in block_weights.iter().enumerate() {
                    let weight = weight.max(0.0);
                    let sun = lane::vector(suns, column);
                    for (place, target) in targets.iter().enumerate() {
                        let normal = lane::vector(&stance.normals[place], column);
                        let miss = (reflected(sun, normal) - *target).length_squared();
                        misses += weight * miss;
                        blurs += weight
                            * (stance.blur_in_plane_rad2[place][column]
                                + stance.blur_across_rad2[place][column]);
                        weights += weight;
                    }
                }
            }
        }
        let rms = |sum: f64| (sum / weights.max(f64::MIN_POSITIVE)).sqrt();
        YearBeams {
            residual_rad: rms(misses),
            blur_rad: rms(blurs),
        }
    }

    /// Residual of some strings over the year when they are set under each of `alignment_suns` in
    /// turn [rad], in their order: what one instant of alignment costs against another.
    #[must_use]
    pub fn residuals_by_alignment_rad(
        &self,
        plan: &Plan,
        mechanism: &Mechanism,
        alignment_suns: &[Vec3],
    ) -> Vec<f64> {
        let all: Vec<usize> = (0..plan.strings.len()).collect();
        let residual_rad = |&alignment_sun: &Vec3| {
            let mechanism = Mechanism {
                alignment_sun,
                ..*mechanism
            };
            let drives = Drives::prepare(plan, &mechanism);
            self.beams(plan, &drives, &all).residual_rad
        };
        alignment_suns.iter().map(residual_rad).collect()
    }
}
