//! What a design is worth, guessed from those already known: a Gaussian process over the space.
//!
//! Two designs are the more alike the less they differ on the axes that matter (Matérn's covariance of
//! order 5/2; Rasmussen and Williams 2006, "Gaussian processes for machine learning", eq. 2.25, 2.26,
//! 2.30 and 4.17). How much each axis matters is learnt by trial: what makes the known values likelier is kept.

use std::sync::Arc;

use rand::Rng;

use crate::outcome::Key;
use crate::random::{Random, normal};
use crate::space::{AxisKind, Space};

/// Trials of other weights each time that it learns.
const TRIALS: usize = 3;
/// How far a trial goes, as a standard deviation of a weight's logarithm.
const STRIDE: f64 = 0.5;
/// Bounds of weights and of noise.
const WEIGHTS: (f64, f64) = (0.01, 10.0);
const NOISES: (f64, f64) = (1e-6, 0.3);

/// How much each axis matters to some value of designs, and how much of the value is no one's doing.
#[derive(Debug, Clone)]
pub(crate) struct Likeness {
    axes: Vec<Scale>,
    weights: Vec<f64>,
    noise: f64,
}

/// An axis that can be moved along.
#[derive(Debug, Clone, Copy)]
struct Scale {
    axis: usize,
    /// Length of the axis in indices; nothing if its indices are names.
    length: Option<f64>,
}

impl Likeness {
    /// Every axis matters as much as any other.
    pub(crate) fn new(space: &Space) -> Self {
        let scale = |&axis: &usize| Scale {
            axis,
            length: match space.axes()[axis].kind {
                AxisKind::Steps => Some(f64::from(space.axes()[axis].count - 1)),
                AxisKind::Choice => None,
            },
        };
        let axes: Vec<Scale> = space.movable().iter().map(scale).collect();
        let even = (2.0 / axes.len().max(1) as f64).sqrt();
        Self {
            weights: vec![even; axes.len()],
            noise: 1e-3,
            axes,
        }
    }

    /// The process through known values, once likelier weights have been looked for.
    pub(crate) fn learn(
        &mut self,
        keys: &Arc<[Key]>,
        values: &[f64],
        random: &mut Random,
    ) -> Option<Process> {
        let mut best = Process::through(self, keys, values);
        for _ in 0..TRIALS {
            let trial = self.varied(random);
            let found = Process::through(&trial, keys, values);
            let is_likelier = match (&found, &best) {
                (Some(found), Some(best)) => found.likelihood > best.likelihood,
                (Some(_), None) => true,
                (None, _) => false,
            };
            if is_likelier {
                *self = trial;
                best = found;
            }
        }
        best
    }

    /// The process through known values, by what has been learnt so far.
    pub(crate) fn process(&self, keys: &Arc<[Key]>, values: &[f64]) -> Option<Process> {
        Process::through(self, keys, values)
    }

    fn varied(&self, random: &mut Random) -> Self {
        let mut varied = self.clone();
        let turn = |value: &mut f64, (low, high): (f64, f64), random: &mut Random| {
            *value = (*value * libm::exp(STRIDE * normal(random))).clamp(low, high);
        };
        for weight in &mut varied.weights {
            if random.random_bool(0.3) {
                turn(weight, WEIGHTS, random);
            }
        }
        if random.random_bool(0.3) {
            turn(&mut varied.noise, NOISES, random);
        }
        varied
    }

    fn metric(&self) -> Metric {
        let rate = |(scale, weight): (&Scale, &f64)| Rate {
            axis: scale.axis,
            per_index: scale.length.map(|length| weight / length),
            per_name: *weight,
        };
        Metric(self.axes.iter().zip(&self.weights).map(rate).collect())
    }
}

/// How alike two designs are.
struct Metric(Vec<Rate>);

/// How far two designs are apart for each index, or for being of two names.
struct Rate {
    axis: usize,
    per_index: Option<f64>,
    per_name: f64,
}

impl Metric {
    /// Covariance of two designs, as a share of the variance.
    fn alike(&self, one: &Key, other: &Key) -> f64 {
        let mut square = 0.0;
        for rate in &self.0 {
            let apart = one[rate.axis].abs_diff(other[rate.axis]);
            if apart > 0 {
                let away = rate
                    .per_index
                    .map_or(rate.per_name, |per_index| per_index * f64::from(apart));
                square += away * away;
            }
        }
        let reach = (5.0 * square).sqrt();
        (1.0 + reach + reach * reach / 3.0) * libm::exp(-reach)
    }
}

/// Known values, ready to guess others from.
pub(crate) struct Process {
    metric: Metric,
    keys: Arc<[Key]>,
    mean: f64,
    variance: f64,
    likelihood: f64,
    /// Lower triangle of the factored covariance, row by row.
    factor: Vec<Vec<f64>>,
    /// Covariance⁻¹ × (values − mean).
    pull: Vec<f64>,
}

/// A guess, and its standard deviation.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Guess {
    pub(crate) value: f64,
    pub(crate) deviation: f64,
}

impl Process {
    /// Nothing if the covariance cannot be factored.
    fn through(likeness: &Likeness, keys: &Arc<[Key]>, values: &[f64]) -> Option<Self> {
        let metric = likeness.metric();
        let covariance = |row: usize| {
            let mut line: Vec<f64> = keys[..row]
                .iter()
                .map(|other| metric.alike(&keys[row], other))
                .collect();
            line.push(1.0 + likeness.noise);
            line
        };
        let factor = factored((0..keys.len()).map(covariance).collect())?;
        let count = keys.len() as f64;
        let ones = solved(&factor, &vec![1.0; keys.len()]);
        let mean = dot(&ones, values) / ones.iter().sum::<f64>();
        let away: Vec<f64> = values.iter().map(|value| value - mean).collect();
        let pull = solved(&factor, &away);
        let variance = (dot(&away, &pull) / count).max(f64::MIN_POSITIVE);
        let spread: f64 = factor
            .iter()
            .filter_map(|line| line.last())
            .map(|own| libm::log(*own))
            .sum();
        Some(Self {
            metric,
            keys: keys.clone(),
            mean,
            variance,
            likelihood: -0.5 * count * libm::log(variance) - spread,
            factor,
            pull,
        })
    }

    /// The value of a design, guessed.
    pub(crate) fn at(&self, key: &Key) -> Guess {
        let alike: Vec<f64> = self
            .keys
            .iter()
            .map(|known| self.metric.alike(key, known))
            .collect();
        let told = forward(&self.factor, &alike);
        let left = (1.0 - dot(&told, &told)).max(0.0);
        Guess {
            value: self.mean + dot(&alike, &self.pull),
            deviation: (self.variance * left).sqrt(),
        }
    }
}

/// Cholesky's factor, in place; nothing if the matrix is not positive definite.
fn factored(mut lines: Vec<Vec<f64>>) -> Option<Vec<Vec<f64>>> {
    for row in 0..lines.len() {
        let (above, own) = lines.split_at_mut(row);
        let own = &mut own[0];
        for column in 0..row {
            let line = &above[column];
            let rest = own[column] - dot(&own[..column], &line[..column]);
            own[column] = rest / line[column];
        }
        let rest = own[row] - dot(&own[..row], &own[..row]);
        if rest <= 0.0 || rest.is_nan() {
            return None;
        }
        own[row] = rest.sqrt();
    }
    Some(lines)
}

/// Factor⁻¹ × right.
fn forward(factor: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::with_capacity(right.len());
    for (row, line) in factor.iter().enumerate() {
        found.push((right[row] - dot(&line[..row], &found)) / line[row]);
    }
    found
}

/// (Factor × factorᵀ)⁻¹ × right.
fn solved(factor: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut found = forward(factor, right);
    for row in (0..factor.len()).rev() {
        found[row] /= factor[row][row];
        let own = found[row];
        for (above, share) in found[..row].iter_mut().zip(&factor[row]) {
            *above -= share * own;
        }
    }
    found
}

/// Eight sums side by side, in one order always.
fn dot(one: &[f64], other: &[f64]) -> f64 {
    let mut sums = [0.0; 8];
    let (ones, one_rest) = one.as_chunks::<8>();
    let (others, other_rest) = other.as_chunks::<8>();
    for (a, b) in ones.iter().zip(others) {
        for lane in 0..8 {
            sums[lane] += a[lane] * b[lane];
        }
    }
    let rest: f64 = one_rest.iter().zip(other_rest).map(|(a, b)| a * b).sum();
    sums.iter().sum::<f64>() + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::stream;
    use crate::toys::{choice, steps};

    /// A matrix that is Aᵀ·A + 1, so that it can be factored.
    fn definite(count: usize) -> Vec<Vec<f64>> {
        let mut random = stream(1, 0);
        let lines: Vec<Vec<f64>> = (0..count)
            .map(|_| (0..count).map(|_| normal(&mut random)).collect())
            .collect();
        let entry = |row: usize, column: usize| {
            let product = dot(&lines[row], &lines[column]);
            if row == column {
                product + 1.0
            } else {
                product
            }
        };
        (0..count)
            .map(|row| (0..=row).map(|column| entry(row, column)).collect())
            .collect()
    }

    #[test]
    fn what_is_solved_for_gives_the_right_side_again() {
        let matrix = definite(37);
        let factor = factored(matrix.clone()).unwrap();
        let right: Vec<f64> = (0..37).map(|row| f64::from(row) - 11.5).collect();
        let found = solved(&factor, &right);
        for (row, wanted) in right.iter().enumerate() {
            let entry = |column: usize| matrix[row.max(column)][row.min(column)];
            let product: f64 = (0..37).map(|column| entry(column) * found[column]).sum();
            assert!((product - wanted).abs() < 1e-9, "{product} {wanted}");
        }
        assert!(factored(vec![vec![1.0], vec![2.0, 1.0]]).is_none());
    }

    /// By hand: two designs of likeness k and values ±1 have mean 0, weights ±1 / (1 + noise − k), and
    /// leave 1 − 2·k₃² / (1 + noise + k) of the variance to one that is as like the first as the second.
    #[test]
    fn between_two_designs_guesses_are_those_by_hand() {
        let space = Space::new(vec![steps(101)], vec![0]).unwrap();
        let likeness = Likeness::new(&space);
        let (one, middle, other) = (vec![0], vec![50], vec![100]);
        let k = likeness.metric().alike(&one, &other);
        let known = [one.clone(), other.clone()].into();
        let process = Process::through(&likeness, &known, &[-1.0, 1.0]).unwrap();
        let by_hand = (1.0 - k) / (1.0 + likeness.noise - k);
        assert!((process.at(&other).value - by_hand).abs() < 1e-9);
        assert!((process.at(&one).value + by_hand).abs() < 1e-9);
        let between = process.at(&middle);
        let near = likeness.metric().alike(&one, &middle);
        let left = 1.0 - 2.0 * near * near / (1.0 + likeness.noise + k);
        let variance = 1.0 / (1.0 + likeness.noise - k);
        assert!(between.value.abs() < 1e-9);
        assert!((between.deviation - (variance * left).sqrt()).abs() < 1e-9);
    }

    /// Of five axes only two matter, and one name: weights of these grow, guesses come close.
    #[test]
    fn what_matters_is_learnt() {
        let mut axes = vec![steps(101); 5];
        axes.push(choice(3));
        let space = Space::new(axes, vec![50, 50, 50, 50, 50, 0]).unwrap();
        let mut random = stream(2, 0);
        let value = |key: &Key| {
            let share = |axis: usize| f64::from(key[axis]) / 100.0;
            libm::sin(4.0 * share(1)) + share(3) * share(3) + [0.0, 0.5, 0.2][key[5] as usize]
        };
        let counts = [101, 101, 101, 101, 101, 3];
        let keys: Vec<Key> = (0..140)
            .map(|_| counts.map(|count| random.random_range(0..count)).to_vec())
            .collect();
        let known: Arc<[Key]> = keys[..100].into();
        let values: Vec<f64> = known.iter().map(value).collect();
        let mut likeness = Likeness::new(&space);
        let error = |process: &Process| {
            let missed = keys[100..].iter();
            let missed = missed.map(|key| process.at(key).value - value(key));
            let squares = missed.map(|missed| missed * missed);
            (squares.sum::<f64>() / 40.0).sqrt()
        };
        let mut learn = || likeness.learn(&known, &values, &mut random).unwrap();
        let first = error(&learn());
        let last = (0..60).map(|_| learn()).last().unwrap();
        assert!(
            error(&last) < 0.5 * first && error(&last) < 0.03,
            "{first} {}",
            error(&last)
        );
        let weights = &likeness.weights;
        for (matters, not) in [(1, 0), (1, 2), (3, 4)] {
            assert!(weights[matters] > 2.0 * weights[not], "{weights:?}");
        }
    }
}
