//! Whole numbers in the fraction of a number, free of branches so that a loop over a lane becomes vector code.

/// Whole numbers below this one, 2^52, fill the bits of its fraction.
const FULL: f64 = 4_503_599_627_370_496.0;

/// The whole number nearest to one in 0 … 2^52.
#[inline(always)]
pub(crate) fn nearest(number: f64) -> u64 {
    (number + FULL).to_bits() - FULL.to_bits()
}

/// A whole number below 2^52.
#[inline(always)]
pub(crate) fn number(whole: u64) -> f64 {
    f64::from_bits(FULL.to_bits() | whole) - FULL
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        for whole in [0, 1, 2, 4095, 1 << 31, (1 << 52) - 1] {
            assert_eq!(number(whole), whole as f64);
            assert_eq!(nearest(number(whole)), whole);
        }
        assert_eq!(
            [nearest(0.4), nearest(0.6), nearest(1e6 + 0.4)],
            [0, 1, 1_000_000]
        );
    }
}
