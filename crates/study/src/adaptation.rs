//! An evolution strategy that learns the shape of the valley it is in, as a solver of argmin.
//!
//! Matrix adaptation (Beyer and Sendhoff 2017, "Simplify your covariance matrix adaptation
//! evolution strategy"), one generation per iteration. Only the order of costs counts, so broken
//! limits need no scale. A throw is nudged by a cell on about one axis, so that coarse lattices
//! stay reachable when throws have become short.

use argmin::core::{
    CostFunction, Error, KV, PopulationState, Problem, Solver, SyncAlias, TerminationReason,
    TerminationStatus,
};
use rand::Rng;

use crate::random::{Random, normal};

/// Shortest and longest reach, in lengths of an axis.
const REACH_RANGE: (f64, f64) = (1e-4, 0.5);
/// Generations in a row without a better point after which it has converged.
const PATIENCE: u32 = 20;

/// Where it stands, how far it throws, and in which directions.
pub(crate) struct Adaptation {
    mean: Vec<f64>,
    reach: f64,
    /// Rows of the matrix that turns even throws into shaped ones.
    shape: Vec<Vec<f64>>,
    path: Vec<f64>,
    cells: Vec<f64>,
    rates: Rates,
    least_cost: f64,
    idle: u32,
    random: Random,
}

/// A point tried, and the throw that led there: even, and shaped.
struct Throw {
    even: Vec<f64>,
    shaped: Vec<f64>,
    point: Vec<f64>,
}

/// Learning rates for a number of axes: defaults of the paper.
struct Rates {
    /// Weights of the better half by rank; their sum is 1.
    weights: Vec<f64>,
    /// How many equal members the weights stand for.
    effective: f64,
    path: f64,
    one: f64,
    many: f64,
    damping: f64,
    /// Mean length of an even throw.
    length: f64,
}

impl Rates {
    fn of(axes: usize) -> Self {
        let n = axes as f64;
        let population = 4.0 + (3.0 * libm::log(n)).floor();
        let parents = (population / 2.0) as usize;
        let middle = libm::log((population + 1.0) / 2.0);
        let raw: Vec<f64> = (1..=parents)
            .map(|rank| middle - libm::log(rank as f64))
            .collect();
        let sum: f64 = raw.iter().sum();
        let weights: Vec<f64> = raw.iter().map(|weight| weight / sum).collect();
        let effective = 1.0 / weights.iter().map(|weight| weight * weight).sum::<f64>();
        let path = (effective + 2.0) / (n + effective + 5.0);
        let one = 2.0 / ((n + 1.3) * (n + 1.3) + effective);
        let many = 2.0 * (effective - 2.0 + 1.0 / effective) / ((n + 2.0) * (n + 2.0) + effective);
        let excess = ((effective - 1.0) / (n + 1.0)).sqrt() - 1.0;
        Self {
            weights,
            effective,
            path,
            one,
            many: many.min(1.0 - one),
            damping: 1.0 + path + 2.0 * excess.max(0.0),
            length: n.sqrt() * (1.0 - 1.0 / (4.0 * n) + 1.0 / (21.0 * n * n)),
        }
    }
}

impl Adaptation {
    /// Starts at `mean` in the unit cube with throws of about `reach`; `cells` are the least
    /// lengths that make a difference on each axis.
    pub(crate) fn new(mean: Vec<f64>, reach: f64, cells: Vec<f64>, random: Random) -> Self {
        let axes = mean.len();
        let mut shape = vec![vec![0.0; axes]; axes];
        for (axis, row) in shape.iter_mut().enumerate() {
            row[axis] = 1.0;
        }
        Self {
            mean,
            reach,
            shape,
            path: vec![0.0; axes],
            cells,
            rates: Rates::of(axes),
            least_cost: f64::INFINITY,
            idle: 0,
            random,
        }
    }

    fn throw(&mut self) -> Throw {
        let even: Vec<f64> = self.mean.iter().map(|_| normal(&mut self.random)).collect();
        let shaped = shaped(&self.shape, &even);
        let chance = 1.0 / self.mean.len() as f64;
        let mut point = Vec::with_capacity(even.len());
        for (axis, part) in shaped.iter().enumerate() {
            let is_nudged = self.random.random_bool(chance);
            let side = if self.random.random_bool(0.5) {
                1.0
            } else {
                -1.0
            };
            let nudge = if is_nudged {
                side * self.cells[axis]
            } else {
                0.0
            };
            point.push((self.mean[axis] + self.reach * part + nudge).clamp(0.0, 1.0));
        }
        Throw {
            even,
            shaped,
            point,
        }
    }

    /// Learns from throws, best first.
    fn learn(&mut self, best: &[&Throw]) {
        let rates = &self.rates;
        let ranked = || best.iter().zip(&rates.weights);
        let axes = 0..self.mean.len();
        self.mean = axes
            .clone()
            .map(|axis| {
                ranked()
                    .map(|(throw, weight)| weight * throw.point[axis])
                    .sum()
            })
            .collect();
        let pull = (rates.effective * rates.path * (2.0 - rates.path)).sqrt();
        for axis in axes.clone() {
            let step: f64 = ranked()
                .map(|(throw, weight)| weight * throw.even[axis])
                .sum();
            self.path[axis] = (1.0 - rates.path) * self.path[axis] + pull * step;
        }
        let along = shaped(&self.shape, &self.path);
        let (one, many) = (0.5 * rates.one, 0.5 * rates.many);
        for row in axes.clone() {
            for column in axes.clone() {
                let spread: f64 = ranked()
                    .map(|(throw, weight)| weight * throw.shaped[row] * throw.even[column])
                    .sum();
                let kept = (1.0 - one - many) * self.shape[row][column];
                self.shape[row][column] =
                    kept + one * along[row] * self.path[column] + many * spread;
            }
        }
        let length = self.path.iter().map(|part| part * part).sum::<f64>().sqrt();
        let growth = rates.path / rates.damping * (length / rates.length - 1.0);
        let (least, most) = REACH_RANGE;
        self.reach = (self.reach * libm::exp(growth)).clamp(least, most);
    }
}

fn shaped(shape: &[Vec<f64>], even: &[f64]) -> Vec<f64> {
    let product = |row: &Vec<f64>| row.iter().zip(even).map(|(a, b)| a * b).sum();
    shape.iter().map(product).collect()
}

impl<O> Solver<O, PopulationState<Vec<f64>, f64>> for Adaptation
where
    O: CostFunction<Param = Vec<f64>, Output = f64> + SyncAlias,
{
    fn name(&self) -> &str {
        "matrix adaptation"
    }

    fn next_iter(
        &mut self,
        problem: &mut Problem<O>,
        state: PopulationState<Vec<f64>, f64>,
    ) -> Result<(PopulationState<Vec<f64>, f64>, Option<KV>), Error> {
        let population = 2 * self.rates.weights.len();
        let throws: Vec<Throw> = (0..population).map(|_| self.throw()).collect();
        let points: Vec<&Vec<f64>> = throws.iter().map(|throw| &throw.point).collect();
        let costs = problem.bulk_cost(&points)?;
        let mut order: Vec<usize> = (0..population).collect();
        order.sort_by(|a, b| costs[*a].total_cmp(&costs[*b]));
        let ranked: Vec<&Throw> = order.iter().map(|place| &throws[*place]).collect();
        self.learn(&ranked);
        let best = order.first().map_or(f64::INFINITY, |place| costs[*place]);
        self.idle = if best < self.least_cost {
            0
        } else {
            self.idle + 1
        };
        self.least_cost = self.least_cost.min(best);
        Ok((state.individual(self.mean.clone()).cost(best), None))
    }

    fn terminate(&mut self, _: &PopulationState<Vec<f64>, f64>) -> TerminationStatus {
        if self.idle < PATIENCE {
            return TerminationStatus::NotTerminated;
        }
        TerminationStatus::Terminated(TerminationReason::SolverConverged)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::stream;
    use argmin::core::Executor;
    use std::cell::Cell;

    /// A slanting valley a hundred times longer than wide, in ten dimensions.
    struct Valley<'a>(&'a Cell<f64>);

    impl CostFunction for Valley<'_> {
        type Param = Vec<f64>;
        type Output = f64;

        fn cost(&self, point: &Vec<f64>) -> Result<f64, Error> {
            let away: Vec<f64> = point.iter().map(|share| share - 0.4).collect();
            let along: f64 = away.iter().sum::<f64>() / 10.0;
            let across: f64 = away
                .iter()
                .map(|part| (part - along) * (part - along))
                .sum();
            let cost = 10.0 * along * along + 1e4 * across;
            self.0.set(self.0.get().min(cost));
            Ok(cost)
        }
    }

    /// The floor lies at 0; even throws of a fixed shape stay above 1e-3 with as many.
    #[test]
    fn a_narrow_valley_is_followed_to_its_floor() {
        let lowest = Cell::new(f64::MAX);
        let solver = Adaptation::new(vec![0.8; 10], 0.1, vec![1e-7; 10], stream(1, 0));
        let _ = Executor::new(Valley(&lowest), solver)
            .configure(|state| state.max_iters(400))
            .timer(false)
            .run();
        assert!(lowest.get() < 1e-3, "{}", lowest.get());
    }
}
