//! Lanes in single precision, for what need not be known better than to a few parts in a million:
//! half the work.

use geometry::{LANES, Lane};

/// One number for each of eight suns, to seven digits.
pub(crate) type Coarse = [f32; LANES];

/// Adding and taking away this number rounds to the nearest whole one (1.5·2^23).
const ROUNDER: f32 = 12_582_912.0;
/// Below this the result is taken as exp(−80) ≈ 2e-35.
const LOWEST: f32 = -80.0;

/// A lane in single precision.
#[inline(always)]
pub(crate) fn coarse(lane: &Lane) -> Coarse {
    let mut short = [0.0; LANES];
    for sun in 0..LANES {
        short[sun] = lane[sun] as f32;
    }
    short
}

/// exp(x) for x ≤ 0, within 1e-5 relative: x = k·ln 2 + r with |r| ≤ ½·ln 2, 2^k set in the exponent,
/// exp(r) as its Taylor series to r^5.
#[inline(always)]
pub(crate) fn exp(x: f32) -> f32 {
    let x = if x > LOWEST { x } else { LOWEST };
    let shifted = x * std::f32::consts::LOG2_E + ROUNDER;
    let r = x - (shifted - ROUNDER) * std::f32::consts::LN_2;
    let series =
        1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r * (1.0 / 24.0 + r * (1.0 / 120.0)))));
    let power_of_two = f32::from_bits((shifted.to_bits() << 23).wrapping_add(1.0_f32.to_bits()));
    series * power_of_two
}

// Plain comparisons: `f32::max` and `f32::min` also sort out NaN, which costs three times as much.

#[inline(always)]
pub(crate) fn greater(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

#[inline(always)]
pub(crate) fn lesser(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_libm() {
        for step in 0..=8_000_u16 {
            let x = -0.01 * f32::from(step);
            let exact = libm::exp(f64::from(x.max(LOWEST))) as f32;
            assert!((exp(x) - exact).abs() <= 1e-5 * exact, "exp({x})");
        }
        assert!(exp(-1e9) < 1e-34);
    }
}
