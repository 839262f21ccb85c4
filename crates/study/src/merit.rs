//! One number to rank designs by, where only the cheapest is looked for.

use crate::outcome::Verdict;

/// Merit from which a design is infeasible; feasible merits stay below.
const INFEASIBLE: f64 = 1e100;
const LARGEST_VIOLATION: f64 = 1e150;
/// Merit of a failed design: worse than any infeasible one.
const FAILED: f64 = 1e200;

/// The cost of a feasible design; an infeasible one is worse than any of them and the worse the
/// farther it is from its limits, a failed one the worst. Always finite; smaller is better.
pub(crate) fn merit(verdict: Verdict) -> f64 {
    match verdict {
        Verdict::Feasible(values) => values[0].min(INFEASIBLE / 2.0),
        Verdict::Infeasible(violation) => {
            INFEASIBLE * (1.0 + violation).min(LARGEST_VIOLATION / INFEASIBLE)
        }
        Verdict::Failed => FAILED,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_feasible_design_beats_an_infeasible_beats_a_failed_one() {
        let cheap = merit(Verdict::Feasible([0.1, 1e300, 0.0]));
        let dear = merit(Verdict::Feasible([f64::MAX, 1.0, 0.0]));
        let near = merit(Verdict::Infeasible(0.0));
        let far = merit(Verdict::Infeasible(0.1));
        let farthest = merit(Verdict::Infeasible(f64::MAX));
        let failed = merit(Verdict::Failed);
        assert!(cheap < dear && dear < near && near < far && far < farthest && farthest < failed);
        assert!(failed.is_finite());
    }
}
