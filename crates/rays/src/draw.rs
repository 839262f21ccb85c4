//! What chance decides for one ray: where on the panel, where on the sun, which errors.

use std::f64::consts::FRAC_PI_2;

use geometry::{LANES, Lane, log::log};

use crate::philox::{Words, key, philox};
use crate::whole::number;

/// Steps of the points on a panel, as fractions of 2^64: 1/p and 1/p² with p³ = p + 1. Adding
/// them over and over fills the square evenly (additive recurrence of Weyl; p by Roberts, "The
/// unreasonable effectiveness of quasirandom sequences", 2018, from memory).
const POINT_STEPS: [u64; 2] = [0xC13F_A9A9_02A6_328F, 0x91E1_0DA5_C79E_7B1D];
/// Third counter word of a mirror's first point, kept apart from the rounds.
const FIRST_POINT: u64 = u32::MAX as u64;
/// How far the two numbers of [`bell`] come from 0, both together.
pub(crate) const MOST_BELL: f64 = 6.8;
/// Bits that make the fraction of a number in 1 … 2.
const FRACTION_BITS: u32 = 52;

/// The random numbers of one mirror.
#[derive(Clone, Copy)]
pub(crate) struct Draws {
    key: [u32; 2],
    mirror: u64,
    first_point: [u64; 2],
}

impl Draws {
    pub fn new(seed: u64, mirror: usize) -> Self {
        let key = key(seed);
        let mirror = mirror as u64;
        let counter = [mirror, 0, 0, FIRST_POINT].map(|word| [word; LANES]);
        let [a, b, c, d] = philox(&counter, key).map(|words| words[0]);
        Self {
            key,
            mirror,
            first_point: [a << 32 | b, c << 32 | d],
        }
    }

    /// Points on the panel in eight rounds from `first_round` on: −½ … ½ along the width and the height.
    /// Each point is uniform on its own; those of successive rounds keep apart.
    #[inline(always)]
    pub fn points(&self, first_round: u64) -> [Lane; 2] {
        let mut points = [[0.0; LANES]; 2];
        for axis in 0..2 {
            let step = POINT_STEPS[axis];
            let first = self.first_point[axis].wrapping_add(step.wrapping_mul(first_round));
            for lane in 0..LANES {
                let fraction = first.wrapping_add(step.wrapping_mul(lane as u64));
                let from_one = 1_f64.to_bits() | (fraction >> (u64::BITS - FRACTION_BITS));
                points[axis][lane] = f64::from_bits(from_one) - 1.5;
            }
        }
        points
    }

    /// Four random numbers of 32 bits for each of eight rounds.
    #[inline(always)]
    pub fn words(&self, first_round: u64) -> [Words; 4] {
        let mut counters = [[self.mirror; LANES], [0; LANES], [0; LANES], [0; LANES]];
        for lane in 0..LANES {
            let round = first_round + lane as u64;
            counters[1][lane] = round & u64::from(u32::MAX);
            counters[2][lane] = round >> 32;
        }
        philox(&counters, self.key)
    }
}

/// Uniform in 0 … 1, ends left out.
#[inline(always)]
pub(crate) fn unit(word: u64) -> f64 {
    (number(word) + 0.5) / 4_294_967_296.0
}

/// Series of sin(x)/x in x².
const SINE: [f64; 6] = [
    1.0,
    -1.0 / 6.0,
    1.0 / 120.0,
    -1.0 / 5_040.0,
    1.0 / 362_880.0,
    -1.0 / 39_916_800.0,
];
/// Series of cos(x) in x².
const COSINE: [f64; 7] = [
    1.0,
    -1.0 / 2.0,
    1.0 / 24.0,
    -1.0 / 720.0,
    1.0 / 40_320.0,
    -1.0 / 3_628_800.0,
    1.0 / 479_001_600.0,
];

#[inline(always)]
fn series(factors: &[f64], x: f64) -> f64 {
    factors
        .iter()
        .rev()
        .fold(0.0, |sum, factor| sum * x + factor)
}

/// A point on the unit circle: one within 45° of the first axis by the sine and cosine series, to
/// 1e-11, and two bits of chance to turn it to any side.
#[inline(always)]
pub(crate) fn on_circle(word: u64) -> [f64; 2] {
    let angle_rad = FRAC_PI_2 * (unit(word << 2 & u64::from(u32::MAX)) - 0.5);
    let x2 = angle_rad * angle_rad;
    let sine = angle_rad * series(&SINE, x2);
    let cosine = series(&COSINE, x2);
    // No branches: chance can't be predicted.
    let turned = f64::from_bits(cosine.to_bits() ^ (word >> 31 << 63));
    let is_aside = word >> 30 & 1 == 1;
    if is_aside {
        [sine, turned]
    } else {
        [turned, sine]
    }
}

/// Two independent numbers of a bell curve, mean 0 and variance 1 (Box and Muller, Ann. Math.
/// Stat. 29 (1958) 610–611), together cut off at [`MOST_BELL`].
#[inline(always)]
pub(crate) fn bell(words: [u64; 2]) -> [f64; 2] {
    let radius = (-2.0 * log(unit(words[0]))).sqrt();
    on_circle(words[1]).map(|share| radius * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROUNDS: u64 = 200_000;

    /// The numbers of one round.
    fn drawn(draws: &Draws, round: u64) -> [u64; 4] {
        draws.words(round).map(|words| words[0])
    }

    fn point(draws: &Draws, round: u64) -> [f64; 2] {
        draws.points(round).map(|lane| lane[0])
    }

    #[test]
    fn a_round_has_its_numbers_in_any_lane() {
        let draws = Draws::new(3, 9);
        for lane in 0..LANES {
            let round = (1 << 33) - 3 + lane as u64;
            let abreast = draws.words((1 << 33) - 3).map(|words| words[lane]);
            assert_eq!(abreast, drawn(&draws, round));
            let point_abreast = draws.points((1 << 33) - 3).map(|points| points[lane]);
            assert_eq!(point_abreast, point(&draws, round));
        }
        let [x, y] = bell([0, 0]);
        assert!((x * x + y * y).sqrt() < MOST_BELL);
    }

    /// Moments of the normal distribution: 1, 0, 3 for second, third and fourth.
    #[test]
    fn bell_has_the_moments_of_the_normal_distribution() {
        let draws = Draws::new(7, 3);
        let mut moments = [0.0; 4];
        let mut shared = 0.0;
        for round in 0..ROUNDS {
            let [a, b, ..] = drawn(&draws, round);
            let [x, y] = bell([a, b]);
            assert!(x * x + y * y < MOST_BELL * MOST_BELL);
            for (power, moment) in moments.iter_mut().enumerate() {
                *moment += libm::pow(x, power as f64 + 1.0) / ROUNDS as f64;
            }
            shared += x * y / ROUNDS as f64;
        }
        let [first, second, third, fourth] = moments;
        assert!(first.abs() < 0.01 && shared.abs() < 0.01 && third.abs() < 0.04);
        assert!((second - 1.0).abs() < 0.015 && (fourth - 3.0).abs() < 0.12);
    }

    #[test]
    fn the_circle_is_round_and_even() {
        let mut sums = [0.0; 4];
        for index in 0..65_536_u64 {
            let [x, y] = on_circle(index << 16);
            assert!((x * x + y * y - 1.0).abs() < 1e-10);
            for (sum, value) in sums.iter_mut().zip([x, y, x * y, x * x - y * y]) {
                *sum += value / 65_536.0;
            }
        }
        assert!(sums.iter().all(|sum| sum.abs() < 1e-4), "{sums:?}");
        let quarter = [0, 1, 2, 3].map(|turn: u64| on_circle(turn << 30));
        let expected = 0.5_f64.sqrt();
        assert!(
            quarter
                .as_flattened()
                .iter()
                .all(|part| (part.abs() - expected).abs() < 1e-9)
        );
    }

    /// A hundred equal cells: points of one panel miss none, and fill them more evenly than the
    /// binomial spread √(n/100) of independent ones.
    #[test]
    fn points_fill_the_panel_evenly() {
        let draws = Draws::new(1, 0);
        let mut counts = [0_u32; 100];
        for round in 0..10_000 {
            let [x, y] = point(&draws, round);
            assert!((-0.5..0.5).contains(&x) && (-0.5..0.5).contains(&y));
            counts[(10.0 * (x + 0.5)) as usize * 10 + (10.0 * (y + 0.5)) as usize] += 1;
        }
        assert!(
            counts.iter().all(|&count| count.abs_diff(100) <= 5),
            "{counts:?}"
        );
    }

    #[test]
    fn mirrors_rounds_and_seeds_differ() {
        let first = Draws::new(1, 0);
        assert_ne!(drawn(&first, 0), drawn(&first, 1));
        assert_ne!(drawn(&first, 0), drawn(&Draws::new(1, 1), 0));
        assert_ne!(drawn(&first, 0), drawn(&Draws::new(2, 0), 0));
        assert_ne!(point(&first, 0), point(&Draws::new(1, 1), 0));
    }
}
