//! What the latest designs say of a new one.

use crate::cholesky::Cholesky;
use crate::inquiry::Row;
use crate::outcome::{Key, Objectives, Verdict};
use crate::space::{AxisKind, Space};

/// Latest designs that a guess rests on at most, and at least.
const LATEST: usize = 200;
const LEAST: usize = 20;
/// Another name is as far away as this share of an axis, along each of the two names.
const NAME_APART: f64 = 0.5;
/// How far along an axis values bend, as a share of it.
const BEND: f64 = 1.0;
/// Variance of what no such surface tells, over that of the values.
const ROUGHNESS: f64 = 0.003;

/// A design is never thought less likely to keep its limits.
const LEAST_CHANCE: f64 = 0.05;
/// How much dearer a design is taken for that is sure to break a limit.
const DOUBT: f64 = 0.2;

/// What a design may cost, and whether it may keep its own limits, by the latest that are known.
pub(crate) struct Outlook<'a> {
    space: &'a Space,
    objectives: Guess<3>,
    soundness: Guess<1>,
}

impl<'a> Outlook<'a> {
    /// By the latest of `rows`; nothing where too few of them are feasible.
    pub(crate) fn of(rows: &[Row], space: &'a Space) -> Option<Self> {
        let soundness = |verdict: Verdict| f64::from(u8::from(!verdict.breaks_a_limit()));
        Some(Self {
            space,
            objectives: Guess::of(rows, space, |verdict| verdict.objectives())?,
            soundness: Guess::of(rows, space, |verdict| Some([soundness(verdict)]))?,
        })
    }

    /// What a design's objectives may be.
    pub(crate) fn objectives(&self, key: &Key) -> Objectives {
        self.objectives.at(&point(self.space, key))
    }

    /// The chance that a design keeps its own limits.
    pub(crate) fn chance(&self, key: &Key) -> f64 {
        let [chance] = self.soundness.at(&point(self.space, key));
        chance.clamp(LEAST_CHANCE, 1.0)
    }

    /// What a design may cost, more where it is in doubt.
    pub(crate) fn cost(&self, key: &Key) -> f64 {
        let [cost, ..] = self.objectives(key);
        cost + DOUBT * cost.abs() * (1.0 - self.chance(key))
    }
}

/// Some values as Gaussian processes over quantities and names: planes and smooth bends about them (Rasmussen and
/// Williams 2006, chapter 2). Costs of designs that deliver little are many times the others', hence their scales.
struct Guess<const VALUES: usize> {
    points: Vec<Vec<f64>>,
    /// How much each point counts, for each value.
    pulls: [Vec<f64>; VALUES],
    scales: [Scale; VALUES],
}

impl<const VALUES: usize> Guess<VALUES> {
    /// By the latest of `rows` that have values.
    fn of(
        rows: &[Row],
        space: &Space,
        values: impl Fn(Verdict) -> Option<[f64; VALUES]>,
    ) -> Option<Self> {
        let valued = rows.iter().rev();
        let valued = valued.filter_map(|row| Some((point(space, &row.key), values(row.verdict)?)));
        let (points, values): (Vec<Vec<f64>>, Vec<[f64; VALUES]>) = valued.take(LATEST).unzip();
        if points.len() < LEAST {
            return None;
        }
        let cholesky = Cholesky::of(points.len(), |one, other| {
            let own = if one == other { ROUGHNESS } else { 0.0 };
            likeness(&points[one], &points[other]) + own
        });
        let column = |at: usize| values.iter().map(|values| values[at]).collect::<Vec<f64>>();
        let scales = std::array::from_fn(|at| Scale::of(&column(at)));
        let pulls = std::array::from_fn(|at: usize| {
            let told = column(at).into_iter().map(|value| scales[at].told(value));
            cholesky.solve(&told.collect::<Vec<f64>>())
        });
        Some(Self {
            points,
            pulls,
            scales,
        })
    }

    /// What a design's values may be.
    fn at(&self, point: &[f64]) -> [f64; VALUES] {
        let mut sums = [0.0; VALUES];
        for (place, known) in self.points.iter().enumerate() {
            let likeness = likeness(point, known);
            for (sum, pulls) in sums.iter_mut().zip(&self.pulls) {
                *sum += pulls[place] * likeness;
            }
        }
        std::array::from_fn(|at| self.scales[at].value(sums[at]))
    }
}

/// How values are told: about their middle in units of their spread, or their logarithms so.
#[derive(Clone, Copy)]
struct Scale {
    is_logarithmic: bool,
    middle: f64,
    spread: f64,
}

impl Scale {
    /// The one by which these values lie less to one side of their middle.
    fn of(values: &[f64]) -> Self {
        let (plain, skewness) = Self::over(values, false);
        if values.iter().all(|value| *value > 0.0) {
            let logarithms: Vec<f64> = values.iter().map(|value| libm::log(*value)).collect();
            let (logarithmic, other) = Self::over(&logarithms, true);
            if other < skewness {
                return logarithmic;
            }
        }
        plain
    }

    /// That of values as they are told, and how far these lie to one side.
    fn over(values: &[f64], is_logarithmic: bool) -> (Self, f64) {
        let count = values.len() as f64;
        let middle = values.iter().sum::<f64>() / count;
        let squares = values
            .iter()
            .map(|value| (value - middle) * (value - middle));
        let spread = (squares.sum::<f64>() / count).sqrt().max(f64::MIN_POSITIVE);
        let scale = Self {
            is_logarithmic,
            middle,
            spread,
        };
        let cubes = values.iter().map(|value| {
            let told = (value - middle) / spread;
            told * told * told
        });
        (scale, (cubes.sum::<f64>() / count).abs())
    }

    fn told(self, value: f64) -> f64 {
        let value = if self.is_logarithmic {
            libm::log(value)
        } else {
            value
        };
        (value - self.middle) / self.spread
    }

    fn value(self, told: f64) -> f64 {
        let value = self.middle + self.spread * told;
        if self.is_logarithmic {
            libm::exp(value)
        } else {
            value
        }
    }
}

/// Quantities and names as places about the middle of a cube.
fn point(space: &Space, key: &Key) -> Vec<f64> {
    let mut point = Vec::new();
    for &axis in space.movable() {
        let (own, count) = (key[axis], space.axes()[axis].count);
        match space.axes()[axis].kind {
            AxisKind::Steps => point.push(f64::from(own) / f64::from(count - 1) - 0.5),
            AxisKind::Choice => {
                point.extend((0..count).map(|name| if name == own { NAME_APART } else { 0.0 }));
            }
        }
    }
    point
}

/// Covariance of the values at two points.
fn likeness(one: &[f64], other: &[f64]) -> f64 {
    let (mut along, mut square) = (0.0, 0.0);
    for (a, b) in one.iter().zip(other) {
        along += a * b;
        square += (a - b) * (a - b);
    }
    1.0 + along + libm::exp(-0.5 * square / (BEND * BEND))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::stream;
    use crate::scatter::scatter;
    use crate::toys::{choice, priced, steps};

    /// A plane, a bowl and a value of names, over places that were not shown: to a fifth of their spread.
    #[test]
    fn smooth_values_are_guessed() {
        let axes = vec![steps(101), steps(41), steps(61), choice(3), steps(1)];
        let space = Space::new(axes, vec![0; 5]).unwrap();
        let values = |key: &Key| {
            let place = |axis: usize, count: f64| f64::from(key[axis]) / count;
            let (a, b, c) = (place(0, 100.0), place(1, 40.0), place(2, 60.0));
            let name = [0.0, 1.0, 0.3][key[3] as usize];
            [3.0 + a - 2.0 * b, (a - 0.4) * (a - 0.4) + b * c, name + c]
        };
        let row = |key: Key| Row {
            search: priced(values(&key)),
            every: None,
            verdict: Verdict::Feasible(values(&key)),
            key,
        };
        let keys = scatter(&space, 200, &mut stream(1, 0));
        let rows: Vec<Row> = keys[..100].iter().cloned().map(row).collect();
        assert!(Outlook::of(&rows[..LEAST - 1], &space).is_none());
        let outlook = Outlook::of(&rows, &space).unwrap();
        let (mut off, mut spread) = ([0.0; 3], [0.0; 3]);
        for key in &keys[100..] {
            let (told, values) = (outlook.objectives(key), values(key));
            for at in 0..3 {
                off[at] += (told[at] - values[at]) * (told[at] - values[at]);
                let middle = outlook.objectives.scales[at].middle;
                spread[at] += (values[at] - middle) * (values[at] - middle);
            }
        }
        for (off, spread) in off.into_iter().zip(spread) {
            println!("off by {:.3} of the spread", (off / spread).sqrt());
            assert!(off < 0.04 * spread, "{off} {spread}");
        }
    }

    /// Powers are told by their logarithms, what lies evenly or is not positive as it is.
    #[test]
    fn what_lies_to_one_side_is_told_by_its_logarithm() {
        let places = || (0..50).map(|at| f64::from(at) / 49.0);
        let powers: Vec<f64> = places().map(|place| 3.0 * libm::exp(5.0 * place)).collect();
        let scale = Scale::of(&powers);
        assert!(scale.is_logarithmic);
        for value in powers {
            assert!((scale.value(scale.told(value)) / value - 1.0).abs() < 1e-12);
        }
        let is_logarithmic = |values: Vec<f64>| Scale::of(&values).is_logarithmic;
        assert!(!is_logarithmic(places().map(|place| 2.0 + place).collect()));
        assert!(!is_logarithmic(
            places().map(|place| libm::exp(5.0 * place) - 1.0).collect()
        ));
        assert!(!is_logarithmic(vec![7.0; 30]));
    }

    /// What never differs is told as it is.
    #[test]
    fn what_is_constant_stays() {
        let space = Space::new(vec![steps(101)], vec![0]).unwrap();
        let values = |at: u32| [f64::from(at), 7.0, 0.0];
        let rows: Vec<Row> = (0..30)
            .map(|at| Row {
                key: vec![3 * at],
                search: priced(values(at)),
                every: None,
                verdict: Verdict::Feasible(values(at)),
            })
            .collect();
        let outlook = Outlook::of(&rows, &space).unwrap();
        let told = outlook.objectives(&vec![50]);
        assert!(
            (told[1] - 7.0).abs() < 1e-9 && told[2].abs() < 1e-9,
            "{told:?}"
        );
    }
}
