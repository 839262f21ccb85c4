//! What chance decides for one ray: where on the panel, where on the sun, which errors.

use std::f64::consts::FRAC_PI_2;

use crate::philox::{key, philox};

/// Steps of the points on a panel, as fractions of 2^64: 1/p and 1/p² with p³ = p + 1. Adding
/// them over and over fills the square evenly (additive recurrence of Weyl; p by Roberts, "The
/// unreasonable effectiveness of quasirandom sequences", 2018, from memory).
const POINT_STEPS: [u64; 2] = [0xC13F_A9A9_02A6_328F, 0x91E1_0DA5_C79E_7B1D];
/// Third counter word of a mirror's first point, kept apart from the rounds.
const FIRST_POINT: u32 = u32::MAX;

/// The random numbers of one mirror.
#[derive(Clone, Copy)]
pub(crate) struct Draws {
    key: [u32; 2],
    mirror: u32,
    first_point: [u64; 2],
}

impl Draws {
    pub fn new(seed: u64, mirror: usize) -> Self {
        let key = key(seed);
        let mirror = mirror as u32;
        let [a, b, c, d] = philox([mirror, 0, 0, FIRST_POINT], key);
        let first_point = [join(a, b), join(c, d)];
        Self {
            key,
            mirror,
            first_point,
        }
    }

    /// Point on the panel in round `round`: −½ … ½ along the width and the height. Each point is
    /// uniform on its own; those of successive rounds keep apart.
    #[inline]
    pub fn point(&self, round: u64) -> [f64; 2] {
        [0, 1].map(|axis| {
            let step = POINT_STEPS[axis].wrapping_mul(round);
            let fraction = self.first_point[axis].wrapping_add(step);
            (fraction >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        })
    }

    /// Four random numbers of round `round`; `block` tells those of one round apart.
    #[inline]
    pub fn block(&self, round: u64, block: u32) -> [u32; 4] {
        let counter = [self.mirror, round as u32, (round >> 32) as u32, block];
        philox(counter, self.key)
    }
}

fn join(high: u32, low: u32) -> u64 {
    u64::from(high) << 32 | u64::from(low)
}

/// Uniform in 0 … 1, ends left out.
#[inline]
pub(crate) fn unit(word: u32) -> f64 {
    (f64::from(word) + 0.5) / 4_294_967_296.0
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

#[inline]
fn series(factors: &[f64], x: f64) -> f64 {
    factors
        .iter()
        .rev()
        .fold(0.0, |sum, factor| sum * x + factor)
}

/// A point on the unit circle: one within 45° of the first axis by the sine and cosine series, to
/// 1e-11, and two bits of chance to turn it to any side.
#[inline]
pub(crate) fn on_circle(word: u32) -> [f64; 2] {
    let angle_rad = FRAC_PI_2 * (unit(word << 2) - 0.5);
    let x2 = angle_rad * angle_rad;
    let sine = angle_rad * series(&SINE, x2);
    let cosine = series(&COSINE, x2);
    // No branches: chance can't be predicted.
    let turned = f64::from_bits(cosine.to_bits() ^ (u64::from(word >> 31) << 63));
    let (pair, side) = ([turned, sine], (word >> 30 & 1) as usize);
    [pair[side], pair[1 - side]]
}

/// Two independent numbers of a bell curve, mean 0 and variance 1 (Box and Muller, Ann. Math.
/// Stat. 29 (1958) 610–611); cut off at 6.7.
#[inline]
pub(crate) fn bell(words: [u32; 2]) -> [f64; 2] {
    let radius = (-2.0 * libm::log(unit(words[0]))).sqrt();
    on_circle(words[1]).map(|share| radius * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROUNDS: u64 = 200_000;

    /// Moments of the normal distribution: 1, 0, 3 for second, third and fourth.
    #[test]
    fn bell_has_the_moments_of_the_normal_distribution() {
        let draws = Draws::new(7, 3);
        let mut moments = [0.0; 4];
        let mut shared = 0.0;
        for round in 0..ROUNDS {
            let [a, b, ..] = draws.block(round, 0);
            let [x, y] = bell([a, b]);
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
        for index in 0..65_536_u32 {
            let [x, y] = on_circle(index << 16);
            assert!((x * x + y * y - 1.0).abs() < 1e-10);
            for (sum, value) in sums.iter_mut().zip([x, y, x * y, x * x - y * y]) {
                *sum += value / 65_536.0;
            }
        }
        assert!(sums.iter().all(|sum| sum.abs() < 1e-4), "{sums:?}");
        let quarter = [0, 1, 2, 3].map(|turn: u32| on_circle(turn << 30));
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
            let [x, y] = draws.point(round);
            assert!((-0.5..0.5).contains(&x) && (-0.5..0.5).contains(&y));
            counts[(10.0 * (x + 0.5)) as usize * 10 + (10.0 * (y + 0.5)) as usize] += 1;
        }
        assert!(
            counts.iter().all(|&count| count.abs_diff(100) <= 5),
            "{counts:?}"
        );
    }

    #[test]
    fn mirrors_rounds_blocks_and_seeds_differ() {
        let first = Draws::new(1, 0);
        assert_ne!(first.block(0, 0), first.block(1, 0));
        assert_ne!(first.block(0, 0), first.block(0, 1));
        assert_ne!(first.block(0, 0), Draws::new(1, 1).block(0, 0));
        assert_ne!(first.block(0, 0), Draws::new(2, 0).block(0, 0));
        assert_ne!(first.point(0), Draws::new(1, 1).point(0));
        assert_eq!(first.block(1 << 40, 0), Draws::new(1, 0).block(1 << 40, 0));
    }
}
