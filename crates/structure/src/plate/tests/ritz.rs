//! A square Kirchhoff plate of side 1 and stiffness 1, solved by Ritz's method with even polynomials in
//! u, v = 2x, 2y: an independent solution that shares nothing with the plate's coefficients. What a pad
//! makes steep is split off in closed form ([`Pad`]).

use super::pad::{Pad, middles};

/// Places along an edge over which high powers are added up, and along each side of the plate over which
/// means of its slopes are taken.
const EDGE_PLACES: usize = 1000;
const PLACES: usize = 48;
/// Highest order of the polynomials in u² and v² together.
const ORDERS: usize = 10;

/// How the plate is held.
#[derive(Clone, Copy)]
pub enum Held {
    /// At its four corners.
    Corners,
    /// All round, free to turn.
    Supported,
    /// All round, unable to turn.
    Clamped,
}

/// What presses it.
#[derive(Clone, Copy)]
pub enum Load {
    /// An even pressure of 1.
    Pressure,
    /// A force of 1 at the centre.
    CentreForce,
}

/// A polynomial, coefficient by power.
#[derive(Clone)]
struct Polynomial(Vec<f64>);

impl Polynomial {
    /// (1 − u²)^k·u^2i, with k that lets the edge do what it may.
    fn of(held: Held, order: usize) -> Self {
        let factors = match held {
            Held::Corners => 0,
            Held::Supported => 1,
            Held::Clamped => 2,
        };
        let mut coefficients = vec![0.0; 2 * order + 1];
        coefficients[2 * order] = 1.0;
        (0..factors).fold(Self(coefficients), |one, _| {
            one.times(&Self(vec![1.0, 0.0, -1.0]))
        })
    }

    fn times(&self, other: &Self) -> Self {
        let mut product = vec![0.0; (self.0.len() + other.0.len()).saturating_sub(1)];
        for (i, a) in self.0.iter().enumerate() {
            for (j, b) in other.0.iter().enumerate() {
                product[i + j] += a * b;
            }
        }
        Self(product)
    }

    /// A derivative at a place.
    fn derivative_at(&self, order: usize, u: f64) -> f64 {
        let falling = |power: usize| (0..order).map(|by| (power - by) as f64).product::<f64>();
        let powers = self.0.iter().enumerate().skip(order).rev();
        powers.fold(0.0, |sum, (power, value)| sum * u + falling(power) * value)
    }

    fn slope(&self) -> Self {
        let powers = self.0.iter().enumerate().skip(1);
        Self(powers.map(|(power, value)| power as f64 * value).collect())
    }

    fn derivative(&self, order: usize) -> Self {
        (0..order).fold(self.clone(), |one, _| one.slope())
    }

    /// Integral over −1…1.
    fn integral(&self) -> f64 {
        let even = self.0.iter().enumerate().step_by(2);
        even.map(|(power, value)| 2.0 * value / (power as f64 + 1.0))
            .sum()
    }
}

/// One mode: a polynomial in u times one in v.
#[derive(Clone)]
struct Mode {
    u: Polynomial,
    v: Polynomial,
}

impl Mode {
    /// Integral over the plate of derivatives of two modes.
    fn product(&self, one: [usize; 2], other: &Self, two: [usize; 2]) -> f64 {
        let along = |a: &Polynomial, da, b: &Polynomial, db| {
            a.derivative(da).times(&b.derivative(db)).integral()
        };
        along(&self.u, one[0], &other.u, two[0]) * along(&self.v, one[1], &other.v, two[1])
    }

    fn at(&self, order: [usize; 2], u: f64, v: f64) -> f64 {
        self.u.derivative_at(order[0], u) * self.v.derivative_at(order[1], v)
    }
}

/// A solved deflection: polynomials, and so much of what pads make of an endless plate.
pub struct Deflection {
    modes: Vec<Mode>,
    sizes: Vec<f64>,
    pads: Vec<(f64, Pad)>,
    poisson: f64,
}

/// Solves the plate.
pub fn solve(held: Held, load: Load, poisson: f64) -> Deflection {
    solve_with(held, poisson, |mode| work(mode, load))
}

/// Solves the plate that a force of 1, spread by a pad of a side about its centre, holds against pulls:
/// shares of it at places u, v and at all that mirror them in axes and diagonals.
pub fn solve_on_pad(side: f64, pulls: &[(f64, [f64; 2])], poisson: f64) -> Deflection {
    let pad = Pad { side };
    let edge = Edge::of(pad, poisson);
    let pulled = |mode: &Mode| {
        let of = |&(share, [u, v]): &(f64, [f64; 2])| {
            0.5 * share * (mode.at([0, 0], u, v) + mode.at([0, 0], v, u))
        };
        pulls.iter().map(of).sum::<f64>()
    };
    Deflection {
        pads: vec![(1.0, pad)],
        ..solve_with(Held::Corners, poisson, |mode| {
            -pulled(mode) - edge.surplus_work(mode)
        })
    }
}

fn solve_with(held: Held, poisson: f64, work: impl Fn(&Mode) -> f64) -> Deflection {
    let all = (0..ORDERS).flat_map(|i| (0..ORDERS).map(move |j| (i, j)));
    let is_mode =
        |&(i, j): &(usize, usize)| i + j < ORDERS && (i + j > 0 || !matches!(held, Held::Corners));
    let modes: Vec<Mode> = all
        .filter(is_mode)
        .map(|(i, j)| Mode {
            u: Polynomial::of(held, i),
            v: Polynomial::of(held, j),
        })
        .collect();
    let rows = modes.iter().map(|row| {
        let mut line: Vec<f64> = modes
            .iter()
            .map(|one| stiffness(row, one, poisson))
            .collect();
        line.push(work(row));
        line
    });
    Deflection {
        sizes: eliminate(rows.collect()),
        pads: Vec::new(),
        modes,
        poisson,
    }
}

/// Energy of bending shared by two modes.
fn stiffness(one: &Mode, other: &Mode, poisson: f64) -> f64 {
    let term = |a, b| one.product(a, other, b);
    4.0 * (term([2, 0], [2, 0])
        + term([0, 2], [0, 2])
        + poisson * (term([2, 0], [0, 2]) + term([0, 2], [2, 0]))
        + 2.0 * (1.0 - poisson) * term([1, 1], [1, 1]))
}

/// Work of the load on a mode, whose corners stay where they are.
fn work(mode: &Mode, load: Load) -> f64 {
    let corner = mode.at([0, 0], 1.0, 1.0);
    match load {
        Load::Pressure => (mode.u.integral() * mode.v.integral() - 4.0 * corner) / 4.0,
        Load::CentreForce => mode.at([0, 0], 0.0, 0.0) - corner,
    }
}

/// What an endless plate on a pad does along the edge x = 1/2 of the square: the forces and moments that
/// a plate with free edges does without.
struct Edge {
    /// Place along the edge (v), force and moment on a length there.
    places: Vec<(f64, f64, f64)>,
    /// Twisting moment at a corner.
    twist: f64,
}

impl Edge {
    fn of(pad: Pad, poisson: f64) -> Self {
        let at = |v: f64| {
            let [along, across] = pad.thirds(0.5, 0.5 * v);
            let force = -(along + (2.0 - poisson) * across);
            let moment = -(pad.bend(0.5, 0.5 * v) + poisson * pad.bend(0.5 * v, 0.5));
            (v, force, moment)
        };
        Self {
            places: middles(EDGE_PLACES).map(at).collect(),
            twist: -(1.0 - poisson) * pad.twist(0.5, 0.5),
        }
    }

    /// Work on a mode of what the edges and corners of an endless plate have too much of (Green's identity
    /// of plates).
    fn surplus_work(&self, mode: &Mode) -> f64 {
        let one = |along: &Polynomial, across: &Polynomial| {
            let sum: f64 = self
                .places
                .iter()
                .map(|(v, force, moment)| {
                    (force * along.derivative_at(0, 1.0)
                        - 2.0 * moment * along.derivative_at(1, 1.0))
                        * across.derivative_at(0, *v)
                })
                .sum();
            2.0 * sum / EDGE_PLACES as f64
        };
        let corners = 8.0 * self.twist * mode.at([0, 0], 1.0, 1.0);
        one(&mode.u, &mode.v) + one(&mode.v, &mode.u) - corners
    }
}

/// Solution of a symmetric system whose right side stands in the last column.
fn eliminate(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let count = rows.len();
    for pivot in 0..count {
        let top = rows[pivot].clone();
        for row in rows.iter_mut().skip(pivot + 1) {
            let share = row[pivot] / top[pivot];
            for (value, above) in row.iter_mut().zip(&top) {
                *value -= share * above;
            }
        }
    }
    let mut solution = vec![0.0; count];
    for row in (0..count).rev() {
        let known: f64 = (row + 1..count)
            .map(|column| rows[row][column] * solution[column])
            .sum();
        solution[row] = (rows[row][count] - known) / rows[row][row];
    }
    solution
}

impl Deflection {
    /// This and a multiple of another with the same modes.
    pub fn and(&self, factor: f64, other: &Self) -> Self {
        let pairs = self.sizes.iter().zip(&other.sizes);
        let added = other.pads.iter().map(|(force, pad)| (factor * force, *pad));
        Self {
            modes: self.modes.clone(),
            sizes: pairs.map(|(one, two)| one + factor * two).collect(),
            pads: self.pads.iter().copied().chain(added).collect(),
            poisson: self.poisson,
        }
    }

    fn sum(&self, of: impl Fn(&Mode) -> f64) -> f64 {
        let pairs = self.modes.iter().zip(&self.sizes);
        pairs.map(|(mode, size)| size * of(mode)).sum()
    }

    fn of_pads(&self, of: impl Fn(Pad) -> f64) -> f64 {
        self.pads.iter().map(|(force, pad)| force * of(*pad)).sum()
    }

    /// Deflection at u, v below the corners.
    pub fn at(&self, u: f64, v: f64) -> f64 {
        self.sum(|mode| mode.at([0, 0], u, v) - mode.at([0, 0], 1.0, 1.0))
            + self.of_pads(|pad| pad.deflection(0.5 * u, 0.5 * v) - pad.deflection(0.5, 0.5))
    }

    /// Curvature along x at u, v.
    pub fn curvature_at(&self, u: f64, v: f64) -> f64 {
        -4.0 * self.sum(|mode| mode.at([2, 0], u, v))
            - self.of_pads(|pad| pad.bend(0.5 * u, 0.5 * v))
    }

    /// Moment that bends along x at u, v; under a pad in its middle only.
    pub fn moment(&self, u: f64, v: f64) -> f64 {
        let across = -4.0 * self.sum(|mode| mode.at([0, 2], u, v))
            - self.of_pads(|pad| pad.bend(0.5 * v, 0.5 * u));
        self.curvature_at(u, v) + self.poisson * across
    }

    /// Curvature along the diagonal at u, u: that along x there and the twist.
    pub fn diagonal_curvature_at(&self, u: f64) -> f64 {
        let twist = -4.0 * self.sum(|mode| mode.at([1, 1], u, u))
            - self.of_pads(|pad| pad.twist(0.5 * u, 0.5 * u));
        self.curvature_at(u, u) + twist
    }

    /// Slopes along both axes at u, v over that of the best paraboloid at an edge.
    pub fn slopes_over_best(&self, u: f64, v: f64) -> [f64; 2] {
        let at_edge = -0.5 * self.curvature();
        [self.slope_at(u, v), self.slope_at(v, u)].map(|slope| slope / at_edge)
    }

    /// Slope along x at u, v.
    fn slope_at(&self, u: f64, v: f64) -> f64 {
        2.0 * self.sum(|mode| mode.at([1, 0], u, v))
            + self.of_pads(|pad| pad.slope(0.5 * u, 0.5 * v))
    }

    /// Mean over the plate of a function of x and the slope along it.
    fn mean_slope(&self, of: impl Fn(f64, f64) -> f64) -> f64 {
        let places = middles(PLACES).flat_map(|u| middles(PLACES).map(move |v| (u, v)));
        let sum: f64 = places.map(|(u, v)| of(0.5 * u, self.slope_at(u, v))).sum();
        sum / (PLACES * PLACES) as f64
    }

    /// Root mean square slope, both axes together.
    pub fn slope(&self) -> f64 {
        (2.0 * self.mean_slope(|_, slope| slope * slope)).sqrt()
    }

    /// Curvature of the paraboloid whose slopes fit best: those along x are −x times it, and the mean of
    /// x² is a twelfth.
    pub fn curvature(&self) -> f64 {
        -12.0 * self.mean_slope(|x, slope| x * slope)
    }

    /// Root mean square slope left over by the best paraboloid, over the paraboloid's own.
    pub fn residual(&self) -> f64 {
        let best = self.curvature();
        let left = self.mean_slope(|x, slope| {
            let off = slope + best * x;
            off * off
        });
        (12.0 * left).sqrt() / best.abs()
    }
}
