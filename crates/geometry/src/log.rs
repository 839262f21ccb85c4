//! The natural logarithm, free of branches so that a loop over a lane becomes vector code.

/// The bits of √½: what is taken apart lies between it and √2.
const ROOT_HALF: u64 = 0x3FE6_A09E_0000_0000;
const ONE: u64 = 0x3FF0_0000_0000_0000;
const FRACTION: u64 = (1 << 52) - 1;
/// A whole number below 2^52 laid into the bits of this one is added to it.
const TWO_TO_52: f64 = 4_503_599_627_370_496.0;
const BIAS: f64 = 1023.0;

/// ln(x) within 1e-11 for a positive normal number: x = 2^k·m with m in √½ … √2, ln m as the series of the
/// inverse hyperbolic tangent, 2·(s + s³/3 + …) with s = (m − 1)/(m + 1).
#[inline(always)]
#[must_use]
pub fn log(x: f64) -> f64 {
    let shifted = x.to_bits().wrapping_add(ONE - ROOT_HALF);
    let k = f64::from_bits(TWO_TO_52.to_bits() | (shifted >> 52)) - (TWO_TO_52 + BIAS);
    let m = f64::from_bits((shifted & FRACTION).wrapping_add(ROOT_HALF));
    let s = (m - 1.0) / (m + 1.0);
    let s2 = s * s;
    let series = 1.0
        + s2 * (1.0 / 3.0
            + s2 * (1.0 / 5.0
                + s2 * (1.0 / 7.0 + s2 * (1.0 / 9.0 + s2 * (1.0 / 11.0 + s2 * (1.0 / 13.0))))));
    k * std::f64::consts::LN_2 + 2.0 * s * series
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_libm() {
        for step in 1..=200_000 {
            let share = f64::from(step) / 200_000.0;
            for x in [share, 1.0 + share, 1e-9 * share, 1e12 * share] {
                let exact = libm::log(x);
                assert!((log(x) - exact).abs() < 1e-11, "ln({x})");
            }
        }
        assert_eq!(log(1.0), 0.0);
    }
}
