//! Published and computed values of the plate, and an independent solution of it.

use super::*;

const GLASS_PA: f64 = 70e9;
const POISSON: f64 = 0.22;

/// Exact formula at 70 GPa and 0.22 (computed): 1.795, 0.897 and 1.346 MPa; 5.8 MPa at 4 mm is
/// reached at 15.5 m.
#[test]
fn pure_bending_stress() {
    for (thickness_m, focal_m, expected_pa) in [
        (0.004, 50.0, 1.795e6),
        (0.004, 100.0, 0.897e6),
        (0.003, 50.0, 1.346e6),
        (0.004, 15.5, 5.8e6),
    ] {
        let stress_pa = sphere_stress_pa(GLASS_PA, POISSON, thickness_m, focal_m);
        assert!((stress_pa / expected_pa - 1.0).abs() < 2e-3, "{stress_pa}");
    }
}

/// Two numerical solutions: F = 3.69·D/f; 28.9 N for 4 mm and 12.2 N for 3 mm at 50 m; the centre
/// support carries 0.646 and each corner 0.088 of a uniform load.
#[test]
fn pull_and_shares() {
    let four_mm = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    assert!((four_mm - 392.3).abs() < 0.1, "{four_mm}");
    assert!((focusing_force_n(1.0, 1.0) / 3.69 - 1.0).abs() < 1e-3);
    assert!((focusing_force_n(four_mm, 50.0) / 28.9 - 1.0).abs() < 5e-3);
    let three_mm = bending_stiffness_n_m(GLASS_PA, POISSON, 0.003);
    assert!((focusing_force_n(three_mm, 50.0) / 12.2 - 1.0).abs() < 5e-3);
    assert!((CENTRE_SHARE / 0.646 - 1.0).abs() < 1e-3);
    assert!(((1.0 - CENTRE_SHARE) / 4.0 / 0.088 - 1.0).abs() < 1e-2);
}

/// The corners of a panel of 1 m at 50 m stand 2.95 mm before its centre, as the pull that focuses it
/// bends them; those of a paraboloid 2.5 mm.
#[test]
fn corners_stand_where_their_pull_bends_them() {
    let deflection_m = corner_deflection_m(1.0, 50.0);
    let stiffness = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    let pulled_m = CORNER_PULL_DEFLECTION * focusing_force_n(stiffness, 50.0) / stiffness;
    assert!((deflection_m / pulled_m - 1.0).abs() < 1e-12);
    assert!((deflection_m - 2.948e-3).abs() < 1e-6, "{deflection_m}");
}

/// 1 m, 4 mm, level on centre and corners: 1.30 mrad (computed; grows with side³/thickness²).
#[test]
fn gravity_slope_of_a_metre_panel() {
    let stiffness = bending_stiffness_n_m(GLASS_PA, POISSON, 0.004);
    let slope_rad = gravity_slope_rad(2500.0 * 9.81 * 0.004, 1.0, stiffness);
    assert!((slope_rad / 1.30e-3 - 1.0).abs() < 1e-2, "{slope_rad}");
}

/// A paraboloid's corner sag is a²/(8f) and its slope a·κ/√6: 4.08 mrad for 1 m at 50 m.
#[test]
fn sag_and_slope_of_a_paraboloid() {
    assert!((corner_sag_slope_rad(1.0 / 400.0, 1.0) - 4.08e-3).abs() < 5e-6);
}

/// A square plate of side 1 and stiffness 1 on its four corners, solved by Ritz's method with even
/// polynomials in u, v = 2x, 2y that vanish at the corners: an independent solution that shares
/// nothing with the coefficients above.
mod ritz {
    use super::POISSON;

    const ORDERS: usize = 7;

    /// The deflection Σ c·(u^2i·v^2j − 1).
    pub struct Deflection {
        terms: Vec<(usize, usize, f64)>,
    }

    fn modes() -> Vec<(usize, usize)> {
        let all = (0..ORDERS).flat_map(|i| (0..ORDERS).map(move |j| (i, j)));
        all.filter(|&(i, j)| i + j > 0 && i + j <= ORDERS).collect()
    }

    /// Integral over −1…1 of the product of derivatives, of these orders, of u^2i and u^2k.
    fn product(i: usize, i_order: usize, k: usize, k_order: usize) -> f64 {
        let factor = |power: usize, order: usize| -> f64 {
            (0..order).map(|step| power as f64 - step as f64).product()
        };
        let coefficient = factor(2 * i, i_order) * factor(2 * k, k_order);
        let power = (2 * i + 2 * k) as f64 - (i_order + k_order) as f64;
        let odd = (i_order + k_order) % 2 == 1;
        if coefficient == 0.0 || odd {
            0.0
        } else {
            coefficient * 2.0 / (power + 1.0)
        }
    }

    fn stiffness((i, j): (usize, usize), (k, l): (usize, usize)) -> f64 {
        let term =
            |a: usize, b: usize, c: usize, d: usize| product(i, a, k, c) * product(j, b, l, d);
        4.0 * (term(2, 0, 2, 0)
            + term(0, 2, 0, 2)
            + POISSON * (term(2, 0, 0, 2) + term(0, 2, 2, 0))
            + 2.0 * (1.0 - POISSON) * term(1, 1, 1, 1))
    }

    fn solve(load: impl Fn(usize, usize) -> f64) -> Deflection {
        let modes = modes();
        let count = modes.len();
        let mut rows: Vec<Vec<f64>> = modes
            .iter()
            .map(|&row| {
                let mut line: Vec<f64> =
                    modes.iter().map(|&column| stiffness(row, column)).collect();
                line.push(load(row.0, row.1));
                line
            })
            .collect();
        for pivot in 0..count {
            for below in pivot + 1..count {
                let share = rows[below][pivot] / rows[pivot][pivot];
                let above = rows[pivot].clone();
                for (value, top) in rows[below].iter_mut().zip(above) {
                    *value -= share * top;
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
        Deflection {
            terms: modes
                .iter()
                .zip(solution)
                .map(|(&(i, j), c)| (i, j, c))
                .collect(),
        }
    }

    /// Under an even pressure of 1.
    pub fn under_pressure() -> Deflection {
        solve(|i, j| (product(i, 0, 0, 0) * product(j, 0, 0, 0) - 4.0) / 4.0)
    }

    /// Under a force of 1 at the centre.
    pub fn under_centre_force() -> Deflection {
        solve(|_, _| -1.0)
    }

    impl Deflection {
        pub fn centre(&self) -> f64 {
            -self.terms.iter().map(|term| term.2).sum::<f64>()
        }

        /// This less a multiple of another.
        pub fn less(&self, factor: f64, other: &Self) -> Self {
            let pairs = self.terms.iter().zip(&other.terms);
            Self {
                terms: pairs
                    .map(|(one, two)| (one.0, one.1, one.2 - factor * two.2))
                    .collect(),
            }
        }

        /// Root mean square slope, both axes together.
        pub fn slope(&self) -> f64 {
            let mut sum = 0.0;
            for &(i, j, c) in &self.terms {
                for &(k, l, d) in &self.terms {
                    let squares = product(i, 1, k, 1) * product(j, 0, l, 0)
                        + product(i, 0, k, 0) * product(j, 1, l, 1);
                    sum += c * d * squares;
                }
            }
            sum.sqrt()
        }

        /// Curvature of the paraboloid whose slopes fit best.
        pub fn curvature(&self) -> f64 {
            // A slope of u along u is the derivative of u²/2.
            let fit = self.terms.iter().map(|&(i, j, c)| {
                0.5 * c
                    * (product(i, 1, 1, 1) * product(j, 0, 0, 0)
                        + product(i, 0, 0, 0) * product(j, 1, 1, 1))
            });
            -1.5 * fit.sum::<f64>()
        }
    }
}

/// Timoshenko & Woinowsky-Krieger print 0.0257 for the centre of a plate on its corners at a
/// Poisson's ratio of 0.25; at 0.22 the coefficient is 0.02582.
#[test]
fn pressure_on_four_corners_is_solved_again() {
    let centre = ritz::under_pressure().centre();
    assert!(
        (centre / FOUR_CORNER_DEFLECTION - 1.0).abs() < 5e-3,
        "{centre}"
    );
}

#[test]
fn corner_pull_is_solved_again() {
    let pulled = ritz::under_centre_force();
    assert!(
        (pulled.centre() / CORNER_PULL_DEFLECTION - 1.0).abs() < 5e-3,
        "{}",
        pulled.centre()
    );
    let curvature = pulled.curvature();
    assert!(
        (curvature / CORNER_PULL_CURVATURE - 1.0).abs() < 5e-3,
        "{curvature}"
    );
}

#[test]
fn sag_on_centre_and_corners_is_solved_again() {
    let (pressed, pulled) = (ritz::under_pressure(), ritz::under_centre_force());
    let share = pressed.centre() / pulled.centre();
    assert!((share / CENTRE_SHARE - 1.0).abs() < 5e-3, "{share}");
    let slope = pressed.less(share, &pulled).slope();
    assert!((slope / PRESSURE_SLOPE - 1.0).abs() < 1e-2, "{slope}");
}
