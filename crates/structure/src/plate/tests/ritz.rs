//! A square Kirchhoff plate of side 1 and stiffness 1, solved by Ritz's method with even polynomials in
//! u, v = 2x, 2y: an independent solution that shares nothing with the plate's coefficients.

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

    fn slope(&self) -> Self {
        let powers = self.0.iter().enumerate().skip(1);
        Self(powers.map(|(power, value)| power as f64 * value).collect())
    }

    fn derivative(&self, order: usize) -> Self {
        (0..order).fold(self.clone(), |one, _| one.slope())
    }

    fn at(&self, u: f64) -> f64 {
        self.0.iter().rev().fold(0.0, |sum, value| sum * u + value)
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
        self.u.derivative(order[0]).at(u) * self.v.derivative(order[1]).at(v)
    }
}

/// A solved deflection.
pub struct Deflection {
    modes: Vec<Mode>,
    sizes: Vec<f64>,
    poisson: f64,
}

/// Solves the plate.
pub fn solve(held: Held, load: Load, poisson: f64) -> Deflection {
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
        line.push(work(row, load));
        line
    });
    Deflection {
        sizes: eliminate(rows.collect()),
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
        Self {
            modes: self.modes.clone(),
            sizes: pairs.map(|(one, two)| one + factor * two).collect(),
            poisson: self.poisson,
        }
    }

    fn sum(&self, of: impl Fn(&Mode) -> f64) -> f64 {
        self.modes
            .iter()
            .zip(&self.sizes)
            .map(|(mode, size)| size * of(mode))
            .sum()
    }

    /// Deflection at u, v below the corners.
    pub fn at(&self, u: f64, v: f64) -> f64 {
        self.sum(|mode| mode.at([0, 0], u, v) - mode.at([0, 0], 1.0, 1.0))
    }

    /// Curvature along x at u, v.
    pub fn curvature_at(&self, u: f64, v: f64) -> f64 {
        -4.0 * self.sum(|mode| mode.at([2, 0], u, v))
    }

    /// Moment that bends along x at u, v.
    pub fn moment(&self, u: f64, v: f64) -> f64 {
        -4.0 * self.sum(|mode| mode.at([2, 0], u, v) + self.poisson * mode.at([0, 2], u, v))
    }

    /// Integral over the plate of the product of two modes' slopes.
    fn slopes(one: &Mode, other: &Mode) -> f64 {
        one.product([1, 0], other, [1, 0]) + one.product([0, 1], other, [0, 1])
    }

    /// Root mean square slope, both axes together.
    pub fn slope(&self) -> f64 {
        let square = self.sum(|mode| self.sum(|other| Self::slopes(mode, other)));
        // Four for the slopes in x and y, a quarter for the mean over u and v.
        square.sqrt()
    }

    /// Curvature of the paraboloid whose slopes fit best.
    pub fn curvature(&self) -> f64 {
        -8.0 * self.best_paraboloid()
    }

    /// The factor c of the paraboloid c·(u² + v²) whose slopes fit best.
    fn best_paraboloid(&self) -> f64 {
        // The paraboloid's own slopes have the square 32/3.
        self.sum(|mode| {
            paraboloid()
                .iter()
                .map(|one| Self::slopes(mode, one))
                .sum::<f64>()
        }) / (32.0 / 3.0)
    }

    /// Root mean square slope left over by the best paraboloid, over the paraboloid's own.
    pub fn residual(&self) -> f64 {
        let best = self.best_paraboloid();
        let square = self.slope() * self.slope() / (best * best * 32.0 / 3.0);
        (square - 1.0).sqrt()
    }
}

/// u² and v².
fn paraboloid() -> [Mode; 2] {
    let (square, one) = (Polynomial(vec![0.0, 0.0, 1.0]), Polynomial(vec![1.0]));
    [
        Mode {
            u: square.clone(),
            v: one.clone(),
        },
        Mode { u: one, v: square },
    ]
}
