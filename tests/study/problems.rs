//! Problems with known fronts: 1 to 4 and 6 of Zitzler, Deb and Thiele (2000, eq. 7–10 and 12), and 1,
//! 2 and 7 of Deb, Thiele, Laumanns and Zitzler (2005) with three objectives; on lattices.

use core::f64::consts::PI;

use study::{Axis, AxisKind, Evaluator, Objectives, Outcome, Pricing, Space, Status};

/// Indices of each axis.
const COUNT: u32 = 1001;
/// Where ours starts: no true front is near, nor a dip of those that have many.
const START: u32 = 837;

/// A problem on the unit cube, or whatever `from` and `to` are beyond the first variable.
pub struct Known {
    pub name: &'static str,
    pub objectives: usize,
    /// A little worse than the worst of the true front.
    pub reference: Objectives,
    pub total: u32,
    axes: usize,
    range: (f64, f64),
    values: fn(&[f64]) -> Objectives,
}

pub const KNOWN: [Known; 8] = [
    two("ZDT1", 30, (0.0, 1.0), [1.1, 1.1, 1.0], zdt1),
    two("ZDT2", 30, (0.0, 1.0), [1.1, 1.1, 1.0], zdt2),
    two("ZDT3", 30, (0.0, 1.0), [1.1, 1.1, 1.0], zdt3),
    two("ZDT4", 10, (-5.0, 5.0), [1.1, 1.1, 1.0], zdt4),
    two("ZDT6", 10, (0.0, 1.0), [1.1, 1.1, 1.0], zdt6),
    three("DTLZ1", 7, [0.6, 0.6, 0.6], dtlz1),
    three("DTLZ2", 12, [1.1, 1.1, 1.1], dtlz2),
    three("DTLZ7", 22, [1.0, 1.0, 6.5], dtlz7),
];

const fn two(
    name: &'static str,
    axes: usize,
    range: (f64, f64),
    reference: Objectives,
    values: fn(&[f64]) -> Objectives,
) -> Known {
    Known {
        name,
        objectives: 2,
        reference,
        total: 10_000,
        axes,
        range,
        values,
    }
}

const fn three(
    name: &'static str,
    axes: usize,
    reference: Objectives,
    values: fn(&[f64]) -> Objectives,
) -> Known {
    Known {
        name,
        objectives: 3,
        reference,
        total: 10_000,
        axes,
        range: (0.0, 1.0),
        values,
    }
}

impl Known {
    pub fn space(&self) -> Space {
        let axis = Axis {
            count: COUNT,
            kind: AxisKind::Steps,
        };
        let axes = vec![axis; self.axes];
        Space::new(axes, vec![START; self.axes]).expect("the start is inside")
    }

    fn point(&self, key: &[u32]) -> Vec<f64> {
        let (from, to) = self.range;
        let share = |index: &u32| f64::from(*index) / f64::from(COUNT - 1);
        let mut point: Vec<f64> = key
            .iter()
            .map(|index| from + share(index) * (to - from))
            .collect();
        point[0] = share(&key[0]);
        point
    }
}

impl Evaluator for Known {
    type Scratch = ();

    fn evaluate(&self, key: &[u32], _: u8, (): &mut ()) -> Outcome {
        Outcome {
            status: Status::Feasible,
            numbers: (self.values)(&self.point(key)).to_vec(),
            reason: String::new(),
        }
    }
}

impl Pricing for Known {
    fn objectives(&self, outcome: &Outcome) -> Option<Objectives> {
        outcome.numbers.clone().try_into().ok()
    }

    fn violation(&self, _: &Outcome) -> f64 {
        0.0
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn zdt1(x: &[f64]) -> Objectives {
    let g = 1.0 + 9.0 * mean(&x[1..]);
    [x[0], g * (1.0 - (x[0] / g).sqrt()), 0.0]
}

fn zdt2(x: &[f64]) -> Objectives {
    let g = 1.0 + 9.0 * mean(&x[1..]);
    [x[0], g * (1.0 - (x[0] / g) * (x[0] / g)), 0.0]
}

fn zdt3(x: &[f64]) -> Objectives {
    let g = 1.0 + 9.0 * mean(&x[1..]);
    let wave = x[0] / g * libm::sin(10.0 * PI * x[0]);
    [x[0], g * (1.0 - (x[0] / g).sqrt() - wave), 0.0]
}

fn zdt4(x: &[f64]) -> Objectives {
    let waves = x[1..]
        .iter()
        .map(|x| x * x - 10.0 * libm::cos(4.0 * PI * x));
    let g = 1.0 + 10.0 * (x.len() - 1) as f64 + waves.sum::<f64>();
    [x[0], g * (1.0 - (x[0] / g).sqrt()), 0.0]
}

fn zdt6(x: &[f64]) -> Objectives {
    let sine = libm::sin(6.0 * PI * x[0]);
    let first = 1.0 - libm::exp(-4.0 * x[0]) * sine * sine * sine * sine * sine * sine;
    let g = 1.0 + 9.0 * mean(&x[1..]).sqrt().sqrt();
    [first, g * (1.0 - (first / g) * (first / g)), 0.0]
}

fn dtlz1(x: &[f64]) -> Objectives {
    let waves = x[2..].iter().map(|x| {
        let away = x - 0.5;
        away * away - libm::cos(20.0 * PI * away)
    });
    let g = 100.0 * ((x.len() - 2) as f64 + waves.sum::<f64>());
    let size = 0.5 * (1.0 + g);
    [
        size * x[0] * x[1],
        size * x[0] * (1.0 - x[1]),
        size * (1.0 - x[0]),
    ]
}

fn dtlz2(x: &[f64]) -> Objectives {
    let size = 1.0 + x[2..].iter().map(|x| (x - 0.5) * (x - 0.5)).sum::<f64>();
    let [(sine, cosine), (sine_2, cosine_2)] =
        [x[0], x[1]].map(|x| (libm::sin(0.5 * PI * x), libm::cos(0.5 * PI * x)));
    [
        size * cosine * cosine_2,
        size * cosine * sine_2,
        size * sine,
    ]
}

fn dtlz7(x: &[f64]) -> Objectives {
    let g = 1.0 + 9.0 * mean(&x[2..]);
    let part = |x: f64| x / (1.0 + g) * (1.0 + libm::sin(3.0 * PI * x));
    [x[0], x[1], (1.0 + g) * (3.0 - part(x[0]) - part(x[1]))]
}
