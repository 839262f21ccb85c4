//! What an island looks for: one number made of three objectives.

use crate::outcome::{Objectives, Verdict};

/// Weight of the sum beside the largest term, so that of two designs with the
/// same largest term the one that is better elsewhere wins.
const SUM_WEIGHT: f64 = 0.05;
/// Merit from which a design is infeasible; feasible merits stay below.
const INFEASIBLE: f64 = 1e6;
const LARGEST_VIOLATION: f64 = 1e9;
/// Merit of a failed design: worse than any infeasible one.
const FAILED: f64 = 4e9;

/// Where objectives are measured from, and by what unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Scale {
    best: Objectives,
    range: Objectives,
}

impl Scale {
    /// From the least to the largest value of each objective on a front. A
    /// front of one point, or none, is measured by the point's own size.
    pub(crate) fn of(front: &[Objectives]) -> Self {
        let mut scale = Self {
            best: [0.0; 3],
            range: [1.0; 3],
        };
        for objective in 0..3 {
            let values = || front.iter().map(|values| values[objective]);
            let Some(best) = values().min_by(f64::total_cmp) else {
                continue;
            };
            let range = values().fold(0.0, |range: f64, value| range.max(value - best));
            scale.best[objective] = best;
            scale.range[objective] = first_positive([range, best.abs(), 1.0]);
        }
        scale
    }

    /// The objectives in units of the range from the best.
    pub(crate) fn units(&self, values: &Objectives) -> Objectives {
        std::array::from_fn(|objective| {
            (values[objective] - self.best[objective]) / self.range[objective]
        })
    }
}

fn first_positive(values: [f64; 3]) -> f64 {
    values
        .into_iter()
        .find(|value| *value > 0.0)
        .unwrap_or(f64::MIN_POSITIVE)
}

/// A direction over the objectives: the augmented weighted Chebyshev sum
/// (Steuer and Choo 1983), which also reaches the hollow parts of a front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Goal {
    pub(crate) weights: Objectives,
    pub(crate) scale: Scale,
}

impl Goal {
    /// The number to be made small; always finite.
    pub(crate) fn merit(&self, verdict: Verdict) -> f64 {
        match verdict {
            Verdict::Feasible(values) => self.feasible_merit(&values),
            Verdict::Infeasible(violation) => INFEASIBLE + violation.min(LARGEST_VIOLATION),
            Verdict::Failed => FAILED,
        }
    }

    fn feasible_merit(&self, values: &Objectives) -> f64 {
        let units = self.scale.units(values);
        let terms = (0..3)
            .filter(|objective| self.weights[*objective] > 0.0)
            .map(|objective| self.weights[objective] * units[objective]);
        let largest = terms.clone().fold(f64::MIN, f64::max);
        let merit = largest + SUM_WEIGHT * terms.sum::<f64>();
        merit.clamp(-INFEASIBLE / 2.0, INFEASIBLE / 2.0)
    }
}

/// The weights of island `number`: the first looks for cost alone, the others
/// for cost against capital and cost against carbon in turn, the weights in the
/// order of van der Corput, so that any number of islands is spread evenly.
pub(crate) fn weights(number: u32) -> Objectives {
    let Some(number) = number.checked_sub(1) else {
        return [1.0, 0.0, 0.0];
    };
    let cost = halved_digits(number / 2 + 1);
    if number % 2 == 0 {
        [cost, 1.0 - cost, 0.0]
    } else {
        [cost, 0.0, 1.0 - cost]
    }
}

/// 1/2, 1/4, 3/4, 1/8, 5/8, 3/8, … (van der Corput 1935, base 2).
fn halved_digits(number: u32) -> f64 {
    f64::from(number.reverse_bits()) / 4_294_967_296.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn goal(weights: Objectives) -> Goal {
        let front = [[10.0, 100.0, 1.0], [20.0, 50.0, 1.0]];
        Goal {
            weights,
            scale: Scale::of(&front),
        }
    }

    #[test]
    fn a_feasible_design_beats_an_infeasible_beats_a_failed_one() {
        let goal = goal([0.5, 0.5, 0.0]);
        let dear = goal.merit(Verdict::Feasible([1e300, 1e300, 0.0]));
        let near = goal.merit(Verdict::Infeasible(0.1));
        let far = goal.merit(Verdict::Infeasible(f64::MAX));
        let failed = goal.merit(Verdict::Failed);
        assert!(dear < near && near < far && far < failed);
        assert!(failed.is_finite());
    }

    #[test]
    fn a_better_design_has_a_smaller_merit() {
        for weights in [[1.0, 0.0, 0.0], [0.5, 0.5, 0.0], [0.3, 0.0, 0.7]] {
            let goal = goal(weights);
            let worse = goal.merit(Verdict::Feasible([15.0, 80.0, 2.0]));
            let better = goal.merit(Verdict::Feasible([14.0, 79.0, 1.9]));
            assert!(better < worse, "{weights:?}");
        }
    }

    /// A hollow front: the middle point is on no straight line below the ends,
    /// a weighted sum would never choose it.
    #[test]
    fn the_middle_of_a_hollow_front_is_reached() {
        let goal = goal([0.5, 0.5, 0.0]);
        let merits = [[10.0, 100.0, 1.0], [16.0, 80.0, 1.0], [20.0, 50.0, 1.0]]
            .map(|values| goal.merit(Verdict::Feasible(values)));
        assert!(merits[1] < merits[0] && merits[1] < merits[2], "{merits:?}");
    }

    #[test]
    fn weights_spread_over_both_trades() {
        assert_eq!(weights(0), [1.0, 0.0, 0.0]);
        assert_eq!(weights(1), [0.5, 0.5, 0.0]);
        assert_eq!(weights(2), [0.5, 0.0, 0.5]);
        assert_eq!(weights(3), [0.25, 0.75, 0.0]);
        assert_eq!(weights(6), [0.75, 0.0, 0.25]);
    }

    #[test]
    fn a_scale_of_nothing_is_still_finite() {
        let units = Scale::of(&[]).units(&[3.0, 4.0, 5.0]);
        assert_eq!(units, [3.0, 4.0, 5.0]);
        let single = Scale::of(&[[4.0, 0.0, 2.0]]).units(&[6.0, 1.0, 2.0]);
        assert_eq!(single, [0.5, 1.0, 0.0]);
    }
}
