//! One number to rank designs by, where only the cheapest is looked for.

use crate::outcome::Verdict;

/// Merit from which a design is infeasible; feasible merits stay below.
const INFEASIBLE: f64 = 1e100;
const DEAREST: f64 = INFEASIBLE / 2.0;
/// What is missing is bought at so many times its cost: above what one more unit costs where a design can still
/// give it, but not so far above that what just falls short leads nobody.
const BOUGHT: f64 = 2.0;
const LARGEST_VIOLATION: f64 = 1e150;
/// Merit of a failed design: worse than any infeasible one.
const FAILED: f64 = 1e200;

/// The cost of a feasible design; an infeasible one is worse than any of them and the worse the
/// farther it is from its limits, a failed one the worst. Always finite; smaller is better.
pub(crate) fn merit(verdict: Verdict) -> f64 {
    match verdict {
        Verdict::Feasible(values) => values[0].min(DEAREST),
        Verdict::Short(_, share) => INFEASIBLE * (1.0 + share.min(1.0)),
        Verdict::Infeasible(violation) => {
            INFEASIBLE * (2.0 + violation).min(LARGEST_VIOLATION / INFEASIBLE)
        }
        Verdict::Failed => FAILED,
    }
}

/// The cost of a design with what it falls short by bought at [`BOUGHT`] times that; nothing if it breaks limits
/// of its own.
pub(crate) fn soft_merit(verdict: Verdict) -> Option<f64> {
    match verdict {
        Verdict::Feasible(values) => Some(values[0].min(DEAREST)),
        Verdict::Short(values, share) => {
            Some((values[0] * (1.0 + (BOUGHT - 1.0) * share)).min(DEAREST))
        }
        Verdict::Infeasible(_) | Verdict::Failed => None,
    }
}

/// What is bred and adapted towards: the cost, with what a design falls short by bought; else the merit.
pub(crate) fn worth(verdict: Verdict) -> f64 {
    soft_merit(verdict).unwrap_or_else(|| merit(verdict))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a fifth is missing, so 3 becomes 3 × (1 + 1/5).
    #[test]
    fn what_is_missing_is_bought() {
        let short = Verdict::Short([3.0, 1.0, 1.0], 0.2);
        assert!((worth(short) - 3.6).abs() < 1e-12);
        assert!(merit(Verdict::Feasible([f64::MAX, 1.0, 1.0])) < merit(short));
        assert!(merit(short) < merit(Verdict::Infeasible(0.0)));
        assert!(worth(short) < worth(Verdict::Infeasible(0.0)));
    }

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
