//! Focal lengths from a short stock list, instead of one for each place.

use crate::plan::Plan;

/// Gives each mirror the nearest (by ratio) of so many focal lengths, spaced by an even ratio over
/// those that the plan has: `steps` of them leave none off by more than (longest ÷ shortest) to the
/// power 1/(2·`steps`). With no steps every mirror keeps its own. Flat mirrors stay flat.
pub fn stock_focal_lengths(plan: &mut Plan, steps: usize) {
    let bent = || {
        plan.focal_length_m
            .iter()
            .copied()
            .filter(|length_m| length_m.is_finite())
    };
    let shortest_m = bent().fold(f64::INFINITY, f64::min);
    let longest_m = bent().fold(0.0, f64::max);
    if steps == 0 || longest_m <= shortest_m {
        return;
    }
    let range = libm::log(longest_m / shortest_m);
    for length_m in &mut plan.focal_length_m {
        if length_m.is_finite() {
            let place = libm::log(*length_m / shortest_m) / range;
            let step = ((place * steps as f64) as usize).min(steps - 1);
            *length_m = shortest_m * libm::exp(range * (step as f64 + 0.5) / steps as f64);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::layout::{candidates, tests::steam_field};

    fn stocked(steps: usize) -> (Plan, Plan) {
        let own = candidates(&steam_field()).unwrap().plan;
        let mut plan = own.clone();
        stock_focal_lengths(&mut plan, steps);
        (own, plan)
    }

    /// As many lengths as asked for, none off by more than half a step of the ratio.
    #[test]
    fn few_lengths_stand_for_all() {
        for steps in [1, 3, 8] {
            let (own, plan) = stocked(steps);
            let lengths: BTreeSet<u64> = plan.focal_length_m.iter().map(|m| m.to_bits()).collect();
            assert_eq!(lengths.len(), steps);
            let shortest_m = own
                .focal_length_m
                .iter()
                .copied()
                .fold(f64::INFINITY, f64::min);
            let longest_m = own.focal_length_m.iter().copied().fold(0.0, f64::max);
            let most = libm::pow(longest_m / shortest_m, 0.5 / steps as f64) * (1.0 + 1e-9);
            for (own_m, stock_m) in own.focal_length_m.iter().zip(&plan.focal_length_m) {
                let ratio = own_m / stock_m;
                assert!(ratio < most && 1.0 / ratio < most, "{own_m} {stock_m}");
            }
        }
    }

    #[test]
    fn no_steps_and_flat_mirrors_are_left_alone() {
        let (own, plan) = stocked(0);
        assert_eq!(own, plan);
        let mut flat = own;
        flat.focal_length_m[3] = f64::INFINITY;
        stock_focal_lengths(&mut flat, 4);
        assert_eq!(flat.focal_length_m[3], f64::INFINITY);
    }
}
