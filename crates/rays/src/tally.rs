//! Sums over rounds and what they say, with standard errors.

use crate::whole::nearest;

/// The sums of the loss chain, in order: glass area; × cosine; × shading; × blocking;
/// × reflectance; × attenuation; × intercept.
pub const STEPS: usize = 7;

/// Shares in a square metre. All sums are whole numbers of them, so that adding is exact and the
/// order does not matter.
const SHARES_PER_M2: f64 = 4_294_967_296.0;

/// A number with its standard error.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Estimate {
    /// Best guess.
    pub value: f64,
    /// Standard error of it. From the scatter of whole rounds; points that keep apart make the true
    /// error smaller, never larger.
    pub standard_error: f64,
}

/// What one part of the flux map has got.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Part {
    light: u128,
    light_squared: u128,
}

/// Sums over rounds of rays. Tallies of one judge for different rounds may be added in any order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tally {
    rounds: u64,
    /// Sum over rounds of the field's area × the factors so far [shares].
    sums: [u128; STEPS],
    /// Sum over rounds of the square of the same.
    squares: [u128; STEPS],
    /// Sum over rounds of each step × the step before.
    products: [u128; STEPS],
    parts: Vec<Part>,
    columns: usize,
    /// Area of one part of the flux map [shares].
    part_area: u64,
}

/// Shares in an area below 10⁶ m².
#[inline(always)]
pub(crate) fn shares(area_m2: f64) -> u64 {
    nearest(area_m2 * SHARES_PER_M2)
}

impl Tally {
    pub(crate) fn new(columns: usize, rows: usize, part_m2: f64) -> Self {
        Self {
            rounds: 0,
            sums: [0; STEPS],
            squares: [0; STEPS],
            products: [0; STEPS],
            parts: vec![Part::default(); columns * rows],
            columns,
            part_area: shares(part_m2),
        }
    }

    /// Takes in the sums of one whole round.
    pub(crate) fn close_round(&mut self, steps: &[u64; STEPS]) {
        self.rounds += 1;
        for (step, &light) in steps.iter().enumerate() {
            let light = u128::from(light);
            let before = u128::from(steps[step.saturating_sub(1)]);
            self.sums[step] += light;
            self.squares[step] += light * light;
            self.products[step] += light * before;
        }
    }

    /// Takes in the light of one ray on part `part` of the aperture.
    #[inline]
    pub(crate) fn hit(&mut self, part: usize, light: u64) {
        let light = u128::from(light);
        self.parts[part].light += light;
        self.parts[part].light_squared += light * light;
    }

    /// Adds another tally of the same judge, of other rounds.
    pub fn add(&mut self, other: &Self) {
        self.rounds += other.rounds;
        for step in 0..STEPS {
            self.sums[step] += other.sums[step];
            self.squares[step] += other.squares[step];
            self.products[step] += other.products[step];
        }
        for (part, others) in self.parts.iter_mut().zip(&other.parts) {
            part.light += others.light;
            part.light_squared += others.light_squared;
        }
    }

    /// Rounds traced: rays for each mirror.
    #[must_use]
    pub fn rounds(&self) -> u64 {
        self.rounds
    }

    /// Flux ÷ DNI on part (`column`, `row`) of the aperture, from its left and from below.
    #[must_use]
    pub fn flux_suns(&self, column: usize, row: usize) -> Estimate {
        self.flux_of_part(row * self.columns + column)
    }

    fn flux_of_part(&self, part: usize) -> Estimate {
        let Part {
            light,
            light_squared,
        } = self.parts[part];
        let per_suns = 1.0 / (self.rounds as f64 * self.part_area as f64);
        Estimate {
            value: light as f64 * per_suns,
            standard_error: (light_squared as f64).sqrt() * per_suns,
        }
    }

    /// The largest flux ÷ DNI of any part. With few rays for each part the largest one is also the
    /// luckiest: it is too high by about its standard error.
    #[must_use]
    pub fn peak_suns(&self) -> Estimate {
        (0..self.parts.len())
            .map(|part| self.flux_of_part(part))
            .max_by(|a, b| a.value.total_cmp(&b.value))
            .unwrap_or_default()
    }

    /// The losses. Standard errors are infinite before there are two rounds.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let steps_m2 = std::array::from_fn(|step| self.step_m2(step));
        Verdict {
            cosine: self.factor(1),
            shading: self.factor(2),
            blocking: self.factor(3),
            reflectance: self.factor(4),
            attenuation: self.factor(5),
            intercept: self.factor(6),
            product: self.product(&steps_m2),
            steps_m2,
            peak_suns: self.peak_suns(),
        }
    }

    /// Mean over rounds of the area × the factors up to `step` [m²].
    fn step_m2(&self, step: usize) -> Estimate {
        let mean = self.sums[step] as f64 / self.rounds as f64;
        let scatter2 = self.squares[step] as f64 / self.rounds as f64 - mean * mean;
        Estimate {
            value: mean / SHARES_PER_M2,
            standard_error: self.error_of_mean(scatter2) / SHARES_PER_M2,
        }
    }

    /// Ratio of step `step` to the one before. Its error to first order (ratio estimator,
    /// Cochran, *Sampling Techniques*, 3rd ed. 1977, eq. 6.13, from memory).
    fn factor(&self, step: usize) -> Estimate {
        let rounds = self.rounds as f64;
        let (upper, lower) = (self.sums[step] as f64, self.sums[step - 1] as f64);
        let value = if lower > 0.0 { upper / lower } else { 0.0 };
        let scatter2 = (self.squares[step] as f64 - 2.0 * value * self.products[step] as f64
            + value * value * self.squares[step - 1] as f64)
            / rounds;
        let per_lower = if lower > 0.0 { rounds / lower } else { 0.0 };
        Estimate {
            value,
            standard_error: self.error_of_mean(scatter2) * per_lower,
        }
    }

    /// Light through the aperture ÷ light on the glass square to the sun.
    fn product(&self, steps_m2: &[Estimate; STEPS]) -> Estimate {
        let area_m2 = steps_m2[0].value;
        Estimate {
            value: steps_m2[STEPS - 1].value / area_m2,
            standard_error: steps_m2[STEPS - 1].standard_error / area_m2,
        }
    }

    /// Standard error of a mean over rounds that scatter with this mean square.
    fn error_of_mean(&self, scatter2: f64) -> f64 {
        if self.rounds < 2 {
            return f64::INFINITY;
        }
        (scatter2.max(0.0) / (self.rounds as f64 - 1.0)).sqrt()
    }
}

/// The losses of a field under one sun, each with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// Light caught ÷ light on the glass square to the sun.
    pub cosine: Estimate,
    /// What shadows leave of it.
    pub shading: Estimate,
    /// What panels in the way of reflected light leave of it.
    pub blocking: Estimate,
    /// What the glass leaves of it.
    pub reflectance: Estimate,
    /// What the air leaves of it.
    pub attenuation: Estimate,
    /// Share of it that goes through the aperture.
    pub intercept: Estimate,
    /// All of these.
    pub product: Estimate,
    /// Glass area and what each factor leaves of it [m²]; the last one is the power through the
    /// aperture for each W/m² of DNI.
    pub steps_m2: [Estimate; STEPS],
    /// Largest flux of any part of the flux map ÷ DNI; see [`Tally::peak_suns`].
    pub peak_suns: Estimate,
}
