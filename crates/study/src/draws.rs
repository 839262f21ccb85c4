//! What uncertain inputs do to a result: quantiles, and how much of the spread each causes.

use rayon::prelude::*;

use crate::sobol::Sobol;

/// An uncertain input: least, most likely and largest value, triangular between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Least value.
    pub low: f64,
    /// Most likely value.
    pub likely: f64,
    /// Largest value.
    pub high: f64,
}

impl Span {
    /// The value that a share of all draws stays below (inverse of the distribution).
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        let Self { low, likely, high } = *self;
        let width = high - low;
        if width <= 0.0 {
            return likely;
        }
        let rising = (likely - low) / width;
        if share < rising {
            low + (share * width * (likely - low)).sqrt()
        } else {
            high - ((1.0 - share) * width * (high - likely)).sqrt()
        }
    }
}

/// How much of a result's variance an input causes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Influence {
    /// By itself.
    pub first: f64,
    /// With all its part in what inputs do together.
    pub total: f64,
}

/// Results of many draws.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// All results, rising.
    pub results: Vec<f64>,
    /// One for each input.
    pub influences: Vec<Influence>,
}

/// Draws `inputs` uncertain values, each as a share of its distribution from 0 to 1, `count` times
/// twice over, and once more for every input; `result` turns shares into a result.
///
/// First indices after Saltelli et al. (2010, table 2 b), total ones after Jansen (1999); both
/// matrices are the halves of one Sobol' sequence of twice the dimensions, so `inputs` is at most
/// half of [`crate::MOST_DIMENSIONS`]: those beyond are held at their median.
pub fn draw(inputs: usize, count: u32, seed: u64, result: impl Fn(&[f64]) -> f64 + Sync) -> Drawn {
    let sobol = Sobol::new(2 * inputs, seed);
    let varied = (sobol.dimensions() / 2).min(inputs);
    let rows: Vec<Row> = (0..count)
        .into_par_iter()
        .map(|number| Row::of(&sobol.point(number), varied, inputs, &result))
        .collect();
    let mut results: Vec<f64> = rows.iter().flat_map(|row| [row.a, row.b]).collect();
    let mean = results.iter().sum::<f64>() / results.len() as f64;
    let squares = results.iter().map(|value| (value - mean) * (value - mean));
    let variance = squares.sum::<f64>() / results.len() as f64;
    let influences = (0..varied).map(|input| influence(&rows, input, variance));
    let mut influences: Vec<Influence> = influences.collect();
    influences.resize(inputs, NONE);
    results.sort_by(f64::total_cmp);
    Drawn {
        results,
        influences,
    }
}

const NONE: Influence = Influence {
    first: 0.0,
    total: 0.0,
};

/// Results of one pair of draws, and of the first with each input taken from the second.
struct Row {
    a: f64,
    b: f64,
    swapped: Vec<f64>,
}

impl Row {
    fn of(point: &[f64], varied: usize, inputs: usize, result: &impl Fn(&[f64]) -> f64) -> Self {
        let mut a = point[..varied].to_vec();
        let mut b = point[varied..2 * varied].to_vec();
        a.resize(inputs, 0.5);
        b.resize(inputs, 0.5);
        let swapped = (0..varied)
            .map(|input| {
                let mut mixed = a.clone();
                mixed[input] = b[input];
                result(&mixed)
            })
            .collect();
        Self {
            a: result(&a),
            b: result(&b),
            swapped,
        }
    }
}

fn influence(rows: &[Row], input: usize, variance: f64) -> Influence {
    if variance <= 0.0 {
        return NONE;
    }
    let mean = |of: &dyn Fn(&Row) -> f64| rows.iter().map(of).sum::<f64>() / rows.len() as f64;
    let first = mean(&|row| row.b * (row.swapped[input] - row.a));
    let total = mean(&|row| (row.a - row.swapped[input]) * (row.a - row.swapped[input]));
    Influence {
        first: first / variance,
        total: 0.5 * total / variance,
    }
}

/// The value that a share of rising values stays below, linear between neighbours (definition 7 of
/// Hyndman and Fan 1996); NaN of no values.
#[must_use]
pub fn quantile(rising: &[f64], share: f64) -> f64 {
    let Some(last) = rising.len().checked_sub(1) else {
        return f64::NAN;
    };
    let place = share.clamp(0.0, 1.0) * last as f64;
    let below = place as usize;
    let above = (below + 1).min(last);
    rising[below] + (place - below as f64) * (rising[above] - rising[below])
}

#[cfg(test)]
mod tests {
    use super::*;
    use book::Check;
    use core::f64::consts::PI;
    use proptest::prelude::*;

    #[test]
    fn indices_of_a_known_function_are_met() {
        let (a, b) = (7.0, 0.1);
        let drawn = draw(3, 4096, 1, |shares| {
            let x: Vec<f64> = shares
                .iter()
                .map(|share| PI * (2.0 * share - 1.0))
                .collect();
            let (first, second) = (libm::sin(x[0]), libm::sin(x[1]));
            first + a * second * second + b * x[2] * x[2] * x[2] * x[2] * first
        });
        let pi4 = PI * PI * PI * PI;
        let variance = a * a / 8.0 + b * pi4 / 5.0 + b * b * pi4 * pi4 / 18.0 + 0.5;
        let alone = 0.5 * (1.0 + b * pi4 / 5.0) * (1.0 + b * pi4 / 5.0);
        let second = a * a / 8.0;
        let together = b * b * pi4 * pi4 * (1.0 / 18.0 - 1.0 / 50.0);
        let wanted = [
            (alone / variance, (alone + together) / variance),
            (second / variance, second / variance),
            (0.0, together / variance),
        ];
        let pairs = drawn.influences.iter().zip(wanted);
        let pairs =
            pairs.flat_map(|(found, (first, total))| [(first, found.first), (total, found.total)]);
        Check {
            id: "study.influence",
            model: "Share of the spread that one input causes",
            equation: "S = Var(E(y | x)) ÷ Var(y), alone and with all it takes part in",
            source: "Saltelli et al. 2010, table 2 b, for what acts alone; Jansen 1999 for all together",
            validity: "independent inputs",
            against: "the closed form of Ishigami & Homma 1990, a = 7, b = 0.1, from 4,096 draws",
            unit: "",
        }
        .within(0.01, pairs);
    }

    #[test]
    fn quantiles_of_a_known_distribution_are_met() {
        let span = Span {
            low: 1.0,
            likely: 2.0,
            high: 4.0,
        };
        let drawn = draw(1, 4096, 3, |shares| span.at(shares[0]));
        let closed = [
            1.0 + 0.3_f64.sqrt(),
            4.0 - 3.0_f64.sqrt(),
            4.0 - 0.6_f64.sqrt(),
        ];
        let found = [0.1, 0.5, 0.9].map(|share| quantile(&drawn.results, share));
        Check {
            id: "study.quantiles",
            model: "Low, middle and high of what is drawn",
            equation: "scrambled Sobol points through the inverse of each triangular distribution",
            source: "Joe & Kuo 2008; Matoušek 1998, for the scrambling",
            validity: "independent inputs, up to as many as there are direction numbers for",
            against: "closed quantiles of the triangle (1, 2, 4) at 10, 50 and 90 %, from 4,096 draws",
            unit: "",
        }
        .within(1e-3, closed.into_iter().zip(found));
    }

    /// The closed form has two inputs of variances 1 : 4 and nothing together.
    #[test]
    fn a_sum_has_equal_first_and_total_indices_that_add_up_to_one() {
        let drawn = draw(2, 1024, 5, |shares| shares[0] + 2.0 * shares[1]);
        for (found, wanted) in drawn.influences.iter().zip([0.2, 0.8]) {
            assert!((found.first - wanted).abs() < 5e-3, "{found:?}");
            assert!((found.total - wanted).abs() < 5e-3, "{found:?}");
        }
    }

    #[test]
    fn quantiles_lie_between_neighbours_and_a_constant_has_no_causes() {
        assert_eq!(quantile(&[1.0, 2.0, 4.0], 0.75), 3.0);
        assert_eq!(quantile(&[5.0], 0.3), 5.0);
        assert!(quantile(&[], 0.5).is_nan());
        assert_eq!(draw(1, 8, 1, |_| 2.0).influences, [NONE]);
    }

    proptest! {
        #[test]
        fn a_span_never_leaves_itself_and_rises(
            low in -10.0..10.0, first in 0.0..5.0, second in 0.0..5.0, a in 0.0..1.0, b in 0.0..1.0,
        ) {
            let span = Span { low, likely: low + first, high: low + first + second };
            let (a, b): (f64, f64) = if a < b { (a, b) } else { (b, a) };
            prop_assert!(span.at(a) <= span.at(b) + 1e-9);
            prop_assert!(span.at(a) >= low - 1e-9 && span.at(b) <= span.high + 1e-9);
        }
    }
}
