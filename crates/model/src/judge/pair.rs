//! What the fast model says beside what rays say.

use optics::STEPS;
use rays::{Estimate, Tally, Verdict};

use super::computed::Computed;

/// What is judged of the light's way, in its order; the last one is the product of all others.
pub const LOSSES: [&str; STEPS] = [
    "cosine",
    "shading",
    "blocking",
    "reflectance",
    "attenuation",
    "intercept",
    "product",
];

/// One number by both.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pair {
    /// The fast model's.
    pub fast: f64,
    /// That of rays, with its standard error.
    pub rays: Estimate,
}

/// What each cause leaves of the light before it, in the order of [`LOSSES`].
pub type Losses = [Pair; STEPS];

/// A moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// What each loss leaves.
    pub losses: Losses,
    /// Light through the aperture [W].
    pub power_w: Pair,
    /// Flux where the fast model has its brightest part of the aperture, the mean of three by three
    /// parts of fifteen by fifteen [W/m²].
    pub peak_flux_w_m2: Pair,
}

/// A year.
#[derive(Clone, Debug, PartialEq)]
pub struct YearJudgement {
    /// What each loss leaves of the year's light.
    pub losses: Losses,
    /// The year's light through the aperture [J].
    pub aperture_j: Pair,
}

impl Pair {
    /// Fast model less rays.
    #[must_use]
    pub fn difference(&self) -> f64 {
        self.fast - self.rays.value
    }

    pub(super) fn times(self, factor: f64) -> Self {
        Self {
            fast: factor * self.fast,
            rays: Estimate {
                value: factor * self.rays.value,
                standard_error: factor.abs() * self.rays.standard_error,
            },
        }
    }
}

impl Judgement {
    pub(super) fn new(fast: &Computed, rays: &Tally, parts: usize, dni_w_m2: f64) -> Self {
        let verdict = rays.verdict();
        let power_m2 = Pair {
            fast: fast.steps_m2[STEPS - 1],
            rays: verdict.steps_m2[STEPS - 1],
        };
        Self {
            losses: losses(fast, &verdict),
            power_w: power_m2.times(dni_w_m2),
            peak_flux_w_m2: peak_suns(fast, rays, parts).times(dni_w_m2),
        }
    }
}

fn losses(fast: &Computed, rays: &Verdict) -> Losses {
    let by_rays = estimates(rays);
    std::array::from_fn(|loss| Pair {
        fast: factor(&fast.steps_m2, loss),
        rays: by_rays[loss],
    })
}

/// What loss `loss` leaves: a ratio of successive steps, or of the last to the first; nothing of
/// nothing.
pub(super) fn factor(steps: &[f64; STEPS], loss: usize) -> f64 {
    let (upper, lower) = ends(loss);
    if steps[lower] > 0.0 {
        steps[upper] / steps[lower]
    } else {
        0.0
    }
}

/// The steps whose ratio a loss is.
pub(super) const fn ends(loss: usize) -> (usize, usize) {
    if loss + 1 < STEPS {
        (loss + 1, loss)
    } else {
        (STEPS - 1, 0)
    }
}

/// What rays say of each loss.
pub(super) const fn estimates(verdict: &Verdict) -> [Estimate; STEPS] {
    [
        verdict.cosine,
        verdict.shading,
        verdict.blocking,
        verdict.reflectance,
        verdict.attenuation,
        verdict.intercept,
        verdict.product,
    ]
}

/// Flux ÷ DNI around the fast model's brightest part that has neighbours on all sides.
fn peak_suns(fast: &Computed, rays: &Tally, parts: usize) -> Pair {
    let inner = 1..parts.saturating_sub(1);
    let at = |[column, row]: [usize; 2]| fast.flux_suns[row * parts + column];
    let brightest = inner
        .clone()
        .flat_map(|row| inner.clone().map(move |column| [column, row]))
        .max_by(|&one, &other| at(one).total_cmp(&at(other)));
    let Some([column, row]) = brightest else {
        return Pair::default();
    };
    let around: Vec<[usize; 2]> = (row - 1..=row + 1)
        .flat_map(|row| (column - 1..=column + 1).map(move |column| [column, row]))
        .collect();
    let count = around.len() as f64;
    let seen = around
        .iter()
        .map(|&[column, row]| rays.flux_suns(column, row));
    let (value, squares) = seen.fold((0.0, 0.0), |(sum, squares), one| {
        (
            sum + one.value,
            squares + one.standard_error * one.standard_error,
        )
    });
    Pair {
        fast: around.iter().map(|&part| at(part)).sum::<f64>() / count,
        rays: Estimate {
            value: value / count,
            standard_error: squares.sqrt() / count,
        },
    }
}
