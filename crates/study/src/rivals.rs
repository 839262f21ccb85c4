//! Rivals for the same duty: how often each is cheapest, and where one overtakes another.

use rayon::prelude::*;

use crate::sobol::Sobol;

/// Share of draws in which each rival is cheapest; of equal ones the earlier.
///
/// `shared` shares are drawn once for all rivals (what they all pay: steel, money, weather), then
/// `own` shares for each rival by itself (what only its mechanism can turn out to be). `cost`
/// gets the rival's number, the shared shares and its own ones.
pub fn cheapest_shares(
    rivals: usize,
    shared: usize,
    own: usize,
    count: u32,
    seed: u64,
    cost: impl Fn(usize, &[f64], &[f64]) -> f64 + Sync,
) -> Vec<f64> {
    let sobol = Sobol::new(shared + rivals * own, seed);
    let cheapest = |number| {
        let mut point = sobol.point(number);
        point.resize(shared + rivals * own, 0.5);
        let (common, rest) = point.split_at(shared);
        let costs = (0..rivals).map(|rival| cost(rival, common, &rest[rival * own..][..own]));
        let costs: Vec<f64> = costs.collect();
        (0..rivals).min_by(|a, b| costs[*a].total_cmp(&costs[*b]))
    };
    let winners: Vec<Option<usize>> = (0..count).into_par_iter().map(cheapest).collect();
    (0..rivals)
        .map(|rival| {
            let wins = winners.iter().filter(|winner| **winner == Some(rival));
            wins.count() as f64 / f64::from(count.max(1))
        })
        .collect()
}

/// What a search may still gain, as a share of the cost it found: as much as its second half took off.
///
/// `costs` are those of the designs in the order asked for, nothing for one that breaks a limit. A search
/// whose first half found no cost is held against the first that it found.
#[must_use]
pub fn late_gain(costs: &[Option<f64>]) -> f64 {
    let least = |costs: &[Option<f64>]| costs.iter().flatten().copied().reduce(f64::min);
    let half = least(&costs[..costs.len() / 2]);
    let earlier = half.or_else(|| costs.iter().flatten().copied().next());
    match (earlier, least(costs)) {
        (Some(earlier), Some(found)) => 1.0 - found / earlier,
        _ => 0.0,
    }
}

/// Halvings after which an interval is as narrow as numbers allow.
const HALVINGS: u32 = 200;

/// The price between `low` and `high` at which a difference of costs changes its sign, by
/// bisection to the last bit; nothing if it has the same sign at both ends.
pub fn crossover(low: f64, high: f64, difference: impl Fn(f64) -> f64) -> Option<f64> {
    let at_low = difference(low);
    if at_low == 0.0 {
        return Some(low);
    }
    if at_low.is_nan() || at_low * difference(high) > 0.0 {
        return None;
    }
    let (mut same, mut other) = (low, high);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(same, other);
        if middle == same || middle == other {
            break;
        }
        if difference(middle) * at_low > 0.0 {
            same = middle;
        } else {
            other = middle;
        }
    }
    Some(other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draws::Span;

    /// Costs 1 + u and 1.5 + (v − 1/2) with u, v even: the first is cheaper with chance 1/2, as the
    /// difference is symmetric about 0.
    #[test]
    fn alike_rivals_win_half_of_the_draws() {
        let cost = |rival: usize, _: &[f64], own: &[f64]| match rival {
            0 => 1.0 + own[0],
            _ => 1.5 + (own[0] - 0.5),
        };
        let shares = cheapest_shares(2, 0, 1, 4096, 1, cost);
        assert!((shares[0] - 0.5).abs() < 0.01, "{shares:?}");
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    /// What all pay alike decides nothing: with the steel price shared, a rival that needs more of
    /// it always loses, however wide the price.
    #[test]
    fn shared_prices_decide_nothing_between_likes() {
        let steel = Span {
            low: 1.0,
            likely: 2.0,
            high: 9.0,
        };
        let cost = |rival: usize, shared: &[f64], _: &[f64]| {
            steel.at(shared[0]) * (1.0 + 0.01 * rival as f64)
        };
        assert_eq!(cheapest_shares(2, 1, 0, 512, 1, cost), [1.0, 0.0]);
    }

    #[test]
    fn the_second_half_tells_what_may_still_be_gained() {
        let costs = [None, Some(2.0), Some(2.5), None, Some(1.9), Some(1.8)];
        assert!((late_gain(&costs) - 0.1).abs() < 1e-12);
        assert_eq!(late_gain(&costs[..3]), 0.0, "found at once");
        assert_eq!(late_gain(&[None, None, Some(2.0), Some(1.0)]), 0.5);
        assert_eq!(late_gain(&[None; 4]), 0.0);
    }

    /// 3 + 2x against 7 + x: equal at 4.
    #[test]
    fn a_crossover_is_where_costs_are_equal() {
        let found = crossover(0.0, 10.0, |price| 3.0 + 2.0 * price - 7.0 - price);
        assert!((found.unwrap() - 4.0).abs() < 1e-12);
        assert_eq!(crossover(5.0, 10.0, |price| price), None);
        assert_eq!(crossover(0.0, 1.0, |price| price), Some(0.0));
    }
}
