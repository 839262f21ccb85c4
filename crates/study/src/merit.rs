//! One number to rank designs by, where only the cheapest is looked for.

use crate::outcome::Verdict;

/// Merit from which a design is infeasible; feasible merits stay below.
const INFEASIBLE: f64 = 1e100;
const LARGEST_VIOLATION: f64 = 1e150;
/// Merit of a failed design: worse than any infeasible one.
const FAILED: f64 = 1e200;
/// What is lacking is bought at so many times the cost of the rest: above what one more unit costs where a
/// design can still give it, but not so far above that what just falls short leads nobody.
const BOUGHT: f64 = 2.0;

/// The cost of a feasible design; an infeasible one is worse than any of them and the worse the
/// farther it is from its limits, a failed one the worst. Always finite; smaller is better.
pub(crate) fn merit(verdict: Verdict) -> f64 {
    match verdict {
        Verdict::Feasible(values) => values[0].min(INFEASIBLE / 2.0),
        Verdict::Infeasible(violation) | Verdict::Short(_, violation) => {
            INFEASIBLE * (1.0 + violation).min(LARGEST_VIOLATION / INFEASIBLE)
        }
        Verdict::Failed => FAILED,
    }
}

/// What is bred and adapted towards: the merit, but of a design that only falls short its cost with what is
/// lacking bought. What just delivers enough is a ridge, on which most steps fall short or cost more; designs
/// on either side of it tell where it leads.
pub(crate) fn worth(verdict: Verdict) -> f64 {
    match verdict {
        Verdict::Short([cost, capital, carbon], lack) => {
            let bought = cost * (1.0 - lack + BOUGHT * lack);
            merit(Verdict::Feasible([bought, capital, carbon]))
        }
        other => merit(other),
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

    /// By hand: a fifth is lacking, so 3 becomes 3 × (4/5 + 2/5). Only for breeding: it never beats one that
    /// serves when the cheapest is named.
    #[test]
    fn what_is_lacking_is_bought() {
        let short = Verdict::Short([3.0, 1.0, 1.0], 0.2);
        assert!((worth(short) - 3.6).abs() < 1e-12);
        let served = Verdict::Feasible([1e9, 1.0, 1.0]);
        assert_eq!(worth(served), merit(served));
        assert!(merit(served) < merit(short) && merit(short) < merit(Verdict::Infeasible(0.3)));
        assert_eq!(
            worth(Verdict::Infeasible(0.3)),
            merit(Verdict::Infeasible(0.3))
        );
    }
}
