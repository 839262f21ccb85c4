//! Round hollow sections in stock, and how to choose among them.

use std::f64::consts::PI;

use crate::demand::Demand;

/// Density of steel (EN 1993-1-1, from memory).
pub const STEEL_DENSITY_KG_M3: f64 = 7850.0;
/// Young's modulus of steel (EN 1993-1-1, from memory).
pub const STEEL_MODULUS_PA: f64 = 210e9;

/// A round hollow section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chs {
    /// Outer diameter.
    pub diameter_m: f64,
    /// Wall.
    pub wall_m: f64,
}

const fn millimetres(diameter: f64, wall: f64) -> Chs {
    Chs {
        diameter_m: diameter / 1000.0,
        wall_m: wall / 1000.0,
    }
}

/// Sections in stock, light to heavy (sizes of EN 10219; from memory). Strength, stiffness and mass
/// rise together.
const STOCK: [Chs; 17] = [
    millimetres(21.3, 2.0),
    millimetres(26.9, 2.0),
    millimetres(33.7, 2.6),
    millimetres(42.4, 2.6),
    millimetres(48.3, 2.6),
    millimetres(48.3, 3.2),
    millimetres(60.3, 3.2),
    millimetres(76.1, 3.2),
    millimetres(88.9, 3.2),
    millimetres(114.3, 3.6),
    millimetres(139.7, 4.0),
    millimetres(168.3, 4.5),
    millimetres(193.7, 5.0),
    millimetres(219.1, 6.3),
    millimetres(273.0, 6.3),
    millimetres(323.9, 8.0),
    millimetres(406.4, 8.0),
];

impl Chs {
    const fn inner_m(&self) -> f64 {
        self.diameter_m - 2.0 * self.wall_m
    }

    /// Area of steel, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        PI * (self.diameter_m - self.wall_m) * self.wall_m
    }

    /// Mass per metre.
    #[must_use]
    pub fn kg_m(&self) -> f64 {
        STEEL_DENSITY_KG_M3 * self.area_m2()
    }

    /// Second moment of area π(D⁴ − d⁴)/64, m⁴; twice it in torsion.
    #[must_use]
    pub fn inertia_m4(&self) -> f64 {
        let (outer, inner) = (self.diameter_m, self.inner_m());
        PI / 64.0 * (outer * outer * outer * outer - inner * inner * inner * inner)
    }

    /// Elastic section modulus, m³.
    #[must_use]
    pub fn elastic_modulus_m3(&self) -> f64 {
        2.0 * self.inertia_m4() / self.diameter_m
    }

    /// Plastic section modulus (D³ − d³)/6, m³.
    #[must_use]
    pub fn plastic_modulus_m3(&self) -> f64 {
        let (outer, inner) = (self.diameter_m, self.inner_m());
        (outer * outer * outer - inner * inner * inner) / 6.0
    }

    /// Bending resistance of a class 1 or 2 section, W_pl·f_y (EN 1993-1-1, 6.2.5).
    #[must_use]
    pub fn bending_resistance_n_m(&self, yield_pa: f64) -> f64 {
        self.plastic_modulus_m3() * yield_pa
    }

    /// Bending stiffness EI, N·m².
    #[must_use]
    pub fn bending_stiffness_n_m2(&self) -> f64 {
        STEEL_MODULUS_PA * self.inertia_m4()
    }

    /// Resistance to compression over a pinned length with the buckling curve for cold-formed tubes,
    /// imperfection 0.49 (EN 1993-1-1, 6.3.1.2; from memory).
    #[must_use]
    pub fn buckling_resistance_n(&self, length_m: f64, yield_pa: f64) -> f64 {
        let squash_n = self.area_m2() * yield_pa;
        let euler_n = PI * PI * self.bending_stiffness_n_m2() / (length_m * length_m);
        let slenderness = (squash_n / euler_n).sqrt();
        let phi = 0.5 * (1.0 + 0.49 * (slenderness - 0.2) + slenderness * slenderness);
        let root = (phi * phi - slenderness * slenderness).sqrt();
        squash_n * (phi + root).recip().min(1.0)
    }
}

/// A section taken from stock and how hard it is used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// The section.
    pub section: Chs,
    /// Its utilisation, above 1 when not even the heaviest holds, and what sets it.
    pub demand: Demand,
}

impl Stock {
    /// The lightest section whose utilisation is at most 1, or the heaviest.
    pub fn lightest(demand: impl Fn(&Chs) -> Demand) -> Self {
        let choice = |section: Chs| Self {
            section,
            demand: demand(&section),
        };
        STOCK
            .into_iter()
            .map(choice)
            .find(|tried| tried.demand.utilisation <= 1.0)
            .unwrap_or_else(|| choice(STOCK[STOCK.len() - 1]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EN 10219/10210 tables: area cm², inertia cm⁴, elastic and plastic modulus cm³, kg/m, bending
    /// resistance kN·m in S235 and 0.6·f_y·W_el kN·m (recomputed).
    #[test]
    fn section_tables_come_out() {
        for (section, table) in [
            (
                millimetres(48.3, 3.2),
                [4.53, 11.6, 4.80, 6.52, 3.56, 1.53, 0.68],
            ),
            (
                millimetres(60.3, 3.2),
                [5.74, 23.5, 7.78, 10.44, 4.51, 2.45, 1.10],
            ),
            (
                millimetres(88.9, 3.2),
                [8.62, 79.2, 17.8, 23.5, 6.76, 5.53, 2.51],
            ),
            (
                millimetres(114.3, 3.6),
                [12.52, 192.0, 33.6, 44.1, 9.83, 10.4, 4.74],
            ),
        ] {
            let found = [
                section.area_m2() * 1e4,
                section.inertia_m4() * 1e8,
                section.elastic_modulus_m3() * 1e6,
                section.plastic_modulus_m3() * 1e6,
                section.kg_m(),
                section.bending_resistance_n_m(235e6) / 1e3,
                0.6 * 235e6 * section.elastic_modulus_m3() / 1e3,
            ];
            for (value, expected) in found.iter().zip(table) {
                let half_digit = if expected < 1.0 {
                    5.1e-3
                } else {
                    5e-3 * expected
                };
                assert!((value - expected).abs() < half_digit, "{value} {expected}");
            }
        }
    }

    /// 60.3 × 3.2 post of 1.5 m, 1 kN at its tip: 22.8 mm, 22.8 mrad, 193 MPa (computed).
    #[test]
    fn a_post_bends_as_computed() {
        let post = millimetres(60.3, 3.2);
        let stiffness = post.bending_stiffness_n_m2();
        assert!((1000.0 * 1.5 * 1.5 * 1.5 / (3.0 * stiffness) - 0.0228).abs() < 5e-5);
        assert!((1000.0 * 1.5 * 1.5 / (2.0 * stiffness) - 0.0228).abs() < 5e-5);
        assert!((1500.0 / post.elastic_modulus_m3() / 193e6 - 1.0).abs() < 5e-3);
    }

    #[test]
    fn stock_rises_in_mass_strength_and_stiffness_and_stays_compact() {
        for pair in STOCK.windows(2) {
            assert!(pair[1].kg_m() > pair[0].kg_m());
            assert!(pair[1].plastic_modulus_m3() > pair[0].plastic_modulus_m3());
            assert!(pair[1].inertia_m4() > pair[0].inertia_m4());
        }
        for section in STOCK {
            assert!(section.diameter_m / section.wall_m <= 70.0);
        }
    }

    #[test]
    fn the_lightest_that_holds_is_taken_or_the_heaviest() {
        let bent_by = |moment_n_m: f64| {
            Stock::lightest(|section| {
                Demand::stiffness(moment_n_m / section.bending_resistance_n_m(235e6))
            })
        };
        assert_eq!(bent_by(1400.0).section, millimetres(48.3, 3.2));
        let hopeless = bent_by(1e9);
        assert_eq!(hopeless.section, millimetres(406.4, 8.0));
        assert!(hopeless.demand.utilisation > 1.0);
    }

    #[test]
    fn buckling_runs_between_squash_and_euler() {
        let rail = millimetres(48.3, 2.6);
        let squash_n = rail.area_m2() * 235e6;
        assert!((rail.buckling_resistance_n(0.05, 235e6) / squash_n - 1.0).abs() < 1e-9);
        let euler_n = PI * PI * rail.bending_stiffness_n_m2() / 100.0;
        let slender_n = rail.buckling_resistance_n(10.0, 235e6);
        assert!(slender_n < euler_n && slender_n > 0.8 * euler_n);
    }
}
