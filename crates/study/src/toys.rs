//! Small problems with known answers, for tests.

use crate::outcome::{EVERY, Evaluator, Objectives, Outcome, Pricing, Status};
use crate::space::{Axis, AxisKind, Space};

pub(crate) fn steps(count: u32) -> Axis {
    Axis {
        count,
        kind: AxisKind::Steps,
    }
}

pub(crate) fn choice(count: u32) -> Axis {
    Axis {
        count,
        kind: AxisKind::Choice,
    }
}

/// An outcome that needs no pricing: the numbers are the objectives, or the
/// violation.
pub(crate) fn priced(values: Objectives) -> Outcome {
    Outcome {
        status: Status::Feasible,
        numbers: values.to_vec(),
        reason: String::new(),
    }
}

pub(crate) fn broken(violation: f64) -> Outcome {
    Outcome {
        status: Status::Infeasible,
        numbers: vec![violation],
        reason: "too large".to_owned(),
    }
}

pub(crate) struct AsIs;

impl Pricing for AsIs {
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        outcome.numbers.clone().try_into().ok()
    }

    fn violation(&self, outcome: &Outcome) -> f64 {
        outcome.numbers.first().copied().unwrap_or(f64::NAN)
    }
}

/// A function of the key as an evaluator. Full fidelity adds a small ripple, as
/// a better model would.
pub(crate) struct Toy<F>(pub(crate) F);

impl<F: Fn(&[u32]) -> Outcome + Sync> Evaluator for Toy<F> {
    type Scratch = ();

    fn evaluate(&self, key: &[u32], fidelity: u8, (): &mut ()) -> Outcome {
        let mut outcome = (self.0)(key);
        if fidelity == EVERY && outcome.status == Status::Feasible {
            let sum: u32 = key.iter().sum();
            outcome.numbers[0] *= 1.0 + 0.001 * f64::from(sum % 5);
        }
        outcome
    }
}

/// The share of an index along its axis, 0 to 1.
fn share(index: u32, count: u32) -> f64 {
    f64::from(index) / f64::from(count - 1)
}

/// A bowl with its lowest point, cost 1, at 70 of 201 on each of 8 axes.
pub(crate) fn bowl() -> (Space, impl Fn(&[u32]) -> Outcome + Sync) {
    let space = Space::new(vec![steps(201); 8], vec![180; 8]).unwrap();
    let cost = |key: &[u32]| {
        let squares = key.iter().map(|index| {
            let away = share(*index, 201) - 0.35;
            away * away
        });
        priced([1.0 + squares.sum::<f64>(), 1.0, 1.0])
    };
    (space, cost)
}

/// Test problems 1 (front 1 − √x) and 2 (front 1 − x²) of Zitzler, Deb and
/// Thiele (2000), on 10 axes of 101 indices.
pub(crate) fn trade(is_hollow: bool) -> (Space, impl Fn(&[u32]) -> Outcome + Sync) {
    let space = Space::new(vec![steps(101); 10], vec![50; 10]).unwrap();
    let cost = move |key: &[u32]| {
        let x: Vec<f64> = key.iter().map(|index| share(*index, 101)).collect();
        let g = 1.0 + 9.0 * x[1..].iter().sum::<f64>() / 9.0;
        let h = if is_hollow {
            1.0 - (x[0] / g) * (x[0] / g)
        } else {
            1.0 - (x[0] / g).sqrt()
        };
        priced([x[0], g * h, 0.0])
    };
    (space, cost)
}

/// A field in miniature: sizes, spacings and three choices, two limits, cost
/// per energy against capital against carbon. Each choice moves the best place
/// of the other variables, and the best names are not those of the start.
pub(crate) fn small_field() -> (Space, impl Fn(&[u32]) -> Outcome + Sync) {
    let mut axes = vec![
        steps(401),
        steps(51),
        steps(61),
        steps(101),
        steps(101),
        steps(81),
    ];
    axes.extend([choice(4), choice(3), choice(3)]);
    axes.extend([steps(41); 4]);
    let start = vec![200, 20, 30, 50, 50, 40, 0, 0, 0, 20, 20, 20, 20];
    let space = Space::new(axes.clone(), start).unwrap();
    let cost = move |key: &[u32]| {
        let x: Vec<f64> = key
            .iter()
            .zip(&axes)
            .map(|(index, axis)| share(*index, axis.count))
            .collect();
        let units = 50.0 + 1950.0 * x[0];
        let side = 0.6 + 0.8 * x[1];
        let crowding = 1.2 + 1.8 * x[2];
        let height = 15.0 + 45.0 * x[3];
        let opening = 1.0 + 5.0 * x[4];
        let lift = 0.5 + 1.5 * x[5];
        let names = [key[6], key[7], key[8]];
        let radius = (units * side * side * crowding * 3.0).sqrt();
        let far = radius / height;
        let spot = 0.009 * (radius + height) * (1.0 + 0.3 * side) + 0.25 * side;
        let caught = 1.0 - libm::exp(-(opening / spot) * (opening / spot));
        let shade = 0.35 / (crowding * (1.0 + 0.2 * lift));
        let taste = [0.86, 0.83, 0.92, 0.88][names[0] as usize]
            - 0.02 * (crowding - [1.5, 2.5, 2.2, 1.4][names[0] as usize]).abs();
        let tuned: f64 = (9..13)
            .map(|axis| {
                let best = 0.2 + 0.15 * f64::from(names[1]) + 0.1 * (axis as f64 - 9.0);
                (x[axis] - best) * (x[axis] - best)
            })
            .sum();
        let turn = [0.95, 1.0, 0.98][names[1] as usize] - 0.15 * tuned;
        let glass = [0.93, 0.94, 0.925][names[2] as usize];
        let energy = units * 10.0 * side * side * caught * (1.0 - shade) * taste * turn * glass
            / (1.0 + 0.15 * far)
            - 6.0 * opening * opening;
        let plates = [9.0, 14.0, 8.0][names[2] as usize] * side * (0.6 + 0.5 * side);
        let capital = 3000.0
            + units * (60.0 + 10.0 * (plates + 14.0 * side * side) + 12.0 * lift)
            + 25.0 * height * height
            + 900.0 * opening * opening;
        let carbon = 8.0 * units * (side * side + lift) + 15.0 * height * height;
        let flux = energy / (opening * opening);
        if flux > 600.0 || far > 6.0 {
            return broken((flux / 600.0 - 1.0).max(0.0) + (far / 6.0 - 1.0).max(0.0));
        }
        if energy <= 0.0 {
            return broken(10.0);
        }
        priced([capital / energy, capital, carbon / energy])
    };
    (space, cost)
}

/// Five, four and three names; each set of names has a bowl of its own depth
/// in a place of its own. Gives the lowest cost too.
pub(crate) fn names() -> (Space, impl Fn(&[u32]) -> Outcome + Sync, f64) {
    let mut axes = vec![steps(101); 6];
    axes.extend([choice(5), choice(4), choice(3)]);
    let space = Space::new(axes, vec![50, 50, 50, 50, 50, 50, 0, 0, 0]).unwrap();
    let depth = |set: u32| 3.0 * f64::from((set * 37 + 11) % 60) / 60.0;
    let cost = move |key: &[u32]| {
        let set = key[6] * 12 + key[7] * 3 + key[8];
        let bowl = (0..6).map(|axis| {
            let place = 10 + (set * 31 + axis * 17) % 80;
            let away = (f64::from(key[axis as usize]) - f64::from(place)) / 100.0;
            20.0 * away * away
        });
        priced([50.0 + depth(set) + bowl.sum::<f64>(), 1.0, 1.0])
    };
    let lowest = (0..60)
        .map(|set| 50.0 + depth(set))
        .fold(f64::MAX, f64::min);
    (space, cost, lowest)
}

/// Fifteen quantities in a slanting valley, five choices that move it, and a limit that cuts
/// close to its floor: the shape of a field's cost in small. The lowest cost is hardly above 1, and
/// a wrong name costs 0.02 or more.
pub(crate) fn valley() -> (Space, impl Fn(&[u32]) -> Outcome + Sync) {
    let counts = [111, 14, 91, 96, 41, 72, 61, 17, 21, 10, 38, 61, 101, 81, 41];
    let names = [4, 5, 5, 2, 2];
    let mut axes: Vec<Axis> = counts.map(steps).to_vec();
    axes.extend(names.map(choice));
    let start = counts
        .map(|count| count / 2)
        .into_iter()
        .chain([0; 5])
        .collect();
    let space = Space::new(axes, start).unwrap();
    let cost = move |key: &[u32]| {
        let x: Vec<f64> = (0..15).map(|axis| share(key[axis], counts[axis])).collect();
        let place = |axis: usize| {
            let moved: f64 = (0..5)
                .map(|name| {
                    let turn = (key[15 + name] as usize * 7 + axis * 5 + name * 11) % 13;
                    0.05 * (turn as f64 - 6.0) / 6.0
                })
                .sum();
            0.45 + 0.2 * libm::sin(axis as f64) + moved
        };
        let away: Vec<f64> = (0..15).map(|axis| x[axis] - place(axis)).collect();
        let mut sum = 0.0;
        for axis in 0..15 {
            let next = away[(axis + 1) % 15];
            let far = away[(axis + 4) % 15];
            let stiff = [3.0, 1.0, 0.3, 0.1, 0.03][axis % 5];
            let mixed = away[axis] + 0.8 * next - 0.6 * far;
            sum += stiff * mixed * mixed;
        }
        let taste: f64 = (0..5)
            .map(|name| 0.02 * f64::from((key[15 + name] * 3 + name as u32) % names[name]))
            .sum();
        let limit =
            away[0] + 0.7 * away[2] + 0.5 * away[5] - 0.6 * away[11] - 0.3 * away[12] + 0.02;
        if limit > 0.0 {
            return broken(limit);
        }
        let cost = 1.0 + sum + taste;
        priced([
            cost,
            3.0 - x[0] - x[2] + 0.2 * cost,
            1.0 + (x[1] - 0.5) * (x[1] - 0.5) + x[0],
        ])
    };
    (space, cost)
}
