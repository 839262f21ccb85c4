//! How a yearly sum differs from year to year.

/// Standard normal deviate that nine years in ten exceed, with its sign turned.
pub(crate) const P90_DEVIATIONS: f64 = 1.281_551_565_545;

/// A yearly sum over several years, or over one with a stated deviation.
///
/// `P50` and `P90` are what five and nine years in ten exceed. By the normal fit they follow from mean
/// and standard deviation. Empirically they are read between the sorted years, year `i` of `n` being
/// exceeded with probability 1 - i/(n + 1) (W. Weibull, "A statistical theory of the strength of
/// materials", 1939; the plotting position named after him); fewer than nine years reach no P90 so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YearlySpread {
    /// How many years; 1 where the deviation is stated, not found.
    pub years: usize,
    /// Mean of the years.
    pub mean: f64,
    /// Standard deviation of a year, as found in a sample of them or as stated.
    pub deviation: f64,
    /// What nine years in ten exceed, by the normal fit.
    pub p90_normal: f64,
    /// What five years in ten exceed, read between the years.
    pub p50_empirical: f64,
    /// What nine years in ten exceed, read between the years; none of fewer than nine.
    pub p90_empirical: Option<f64>,
}

/// The spread of yearly sums; `None` of fewer than two.
#[must_use]
pub fn yearly_spread(sums: &[f64]) -> Option<YearlySpread> {
    if sums.len() < 2 {
        return None;
    }
    let count = sums.len() as f64;
    let mean = sums.iter().sum::<f64>() / count;
    let square = |sum: &f64| (sum - mean) * (sum - mean);
    let deviation = (sums.iter().map(square).sum::<f64>() / (count - 1.0)).sqrt();
    Some(YearlySpread {
        years: sums.len(),
        mean,
        deviation,
        p90_normal: mean - P90_DEVIATIONS * deviation,
        p50_empirical: exceeded_by(sums, 0.5)?,
        p90_empirical: exceeded_by(sums, 0.9),
    })
}

/// The spread of a sum of which one year and its P90 are known.
#[must_use]
pub fn stated_spread(mean: f64, p90: f64) -> YearlySpread {
    YearlySpread {
        years: 1,
        mean,
        deviation: (mean - p90) / P90_DEVIATIONS,
        p90_normal: p90,
        p50_empirical: mean,
        p90_empirical: None,
    }
}

/// What a share of the years exceeds, read between the sorted years; `None` beyond their ends.
fn exceeded_by(sums: &[f64], share: f64) -> Option<f64> {
    let mut sorted = sums.to_vec();
    sorted.sort_by(f64::total_cmp);
    // The place counts from 1; a hair of rounding must not push nine years beyond their end.
    let place = (1.0 - share) * (sorted.len() as f64 + 1.0);
    if place < 1.0 - 1e-9 {
        return None;
    }
    let place = place.max(1.0);
    let below = place.floor();
    let low = sorted.get(below as usize - 1)?;
    let high = sorted.get(below as usize).unwrap_or(low);
    Some(low + (place - below) * (high - low))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Ten years by hand: mean 2,000, squares of 100, 90, 50, 30 and 10 twice each over 9 degrees of
    /// freedom; the lowest is 1,900, the second lowest 1,910, and P90 stands 0.1 of the way up.
    #[test]
    fn ten_years_by_hand() {
        let sums = [
            1900.0, 1910.0, 1950.0, 1970.0, 1990.0, 2010.0, 2030.0, 2050.0, 2090.0, 2100.0,
        ];
        let spread = yearly_spread(&sums).unwrap();
        assert!((spread.mean - 2000.0).abs() < 1e-9);
        let squares = 2.0 * (10_000.0 + 8_100.0 + 2_500.0 + 900.0 + 100.0_f64);
        assert!((spread.deviation - (squares / 9.0).sqrt()).abs() < 1e-9);
        assert!((spread.p50_empirical - 2000.0).abs() < 1e-6);
        assert!((spread.p90_empirical.unwrap() - 1901.0).abs() < 1e-6);
        assert!((spread.p90_normal - (2000.0 - 1.281_551_6 * spread.deviation)).abs() < 1e-3);
    }

    /// One standard normal variable exceeds -1.281552 with probability 0.9 (any table of the normal
    /// distribution: Φ(1.2816) = 0.9000).
    #[test]
    fn nine_in_ten_exceed_the_deviate() {
        let exceeded = 0.5 * (1.0 + libm::erf(P90_DEVIATIONS / std::f64::consts::SQRT_2));
        assert!((exceeded - 0.9).abs() < 1e-11);
    }

    #[test]
    fn too_few_years_give_no_spread_or_no_empirical_p90() {
        assert_eq!(yearly_spread(&[]), None);
        assert_eq!(yearly_spread(&[5.0]), None);
        let eight: Vec<f64> = (0..8).map(f64::from).collect();
        assert_eq!(yearly_spread(&eight).unwrap().p90_empirical, None);
        let nine: Vec<f64> = (0..9).map(f64::from).collect();
        let p90 = yearly_spread(&nine).unwrap().p90_empirical.unwrap();
        assert!(p90.abs() < 1e-6, "{p90}");
    }

    proptest! {
        #[test]
        fn spreads_keep_their_order(sums in proptest::collection::vec(1.0..1e4f64, 2..60)) {
            let spread = yearly_spread(&sums).unwrap();
            prop_assert!(spread.p90_normal <= spread.mean + 1e-9);
            let low = sums.iter().copied().fold(f64::INFINITY, f64::min);
            if let Some(p90) = spread.p90_empirical {
                prop_assert!(p90 >= low - 1e-6 && p90 <= spread.p50_empirical + 1e-6);
            }
        }
    }
}
