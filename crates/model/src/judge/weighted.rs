//! Many suns in one: sums weighted by the direct sun that each stands for.

use optics::STEPS;
use rays::{Estimate, Verdict};

use super::computed::Computed;
use super::pair::{Losses, Pair, YearJudgement, ends, estimates, factor};

/// Weighted sums over suns.
#[derive(Default)]
pub(super) struct Weighted {
    fast_j: [f64; STEPS],
    rays_j: [f64; STEPS],
    seen: Vec<Seen>,
}

/// What rays say of one sun.
struct Seen {
    weight_j_m2: f64,
    steps_m2: [Estimate; STEPS],
    losses: [Estimate; STEPS],
}

impl Weighted {
    /// Adds a sun that stands for so much direct sun.
    pub fn add(&mut self, fast: &Computed, rays: &Verdict, weight_j_m2: f64) {
        for step in 0..STEPS {
            self.fast_j[step] += weight_j_m2 * fast.steps_m2[step];
            self.rays_j[step] += weight_j_m2 * rays.steps_m2[step].value;
        }
        self.seen.push(Seen {
            weight_j_m2,
            steps_m2: rays.steps_m2,
            losses: estimates(rays),
        });
    }

    /// What the sums say.
    pub fn judgement(&self) -> YearJudgement {
        YearJudgement {
            losses: self.losses(),
            aperture_j: Pair {
                fast: self.fast_j[STEPS - 1],
                rays: Estimate {
                    value: self.rays_j[STEPS - 1],
                    standard_error: self.error_of(|seen| {
                        seen.weight_j_m2 * seen.steps_m2[STEPS - 1].standard_error
                    }),
                },
            },
        }
    }

    fn losses(&self) -> Losses {
        std::array::from_fn(|loss| Pair {
            fast: factor(&self.fast_j, loss),
            rays: self.loss(loss),
        })
    }

    /// A ratio of sums. To first order its error is that of each sun's own ratio, and that of each
    /// sun's share of the light before, as far as its ratio differs from that of all.
    fn loss(&self, loss: usize) -> Estimate {
        let (_, lower) = ends(loss);
        let value = factor(&self.rays_j, loss);
        let by_ratio = self.error_of(|seen| {
            seen.weight_j_m2 * seen.steps_m2[lower].value * seen.losses[loss].standard_error
        });
        let by_share = self.error_of(|seen| {
            let apart = seen.losses[loss].value - value;
            seen.weight_j_m2 * apart * seen.steps_m2[lower].standard_error
        });
        Estimate {
            value,
            standard_error: libm::hypot(by_ratio, by_share)
                / self.rays_j[lower].max(f64::MIN_POSITIVE),
        }
    }

    /// Root of the sum of squares over suns, whose rays are independent.
    fn error_of(&self, error: impl Fn(&Seen) -> f64) -> f64 {
        let squares = self.seen.iter().map(error).map(|error| error * error);
        squares.sum::<f64>().sqrt()
    }
}
