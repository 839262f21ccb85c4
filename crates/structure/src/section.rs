//! Round hollow sections in stock, and how to choose among them.

use std::f64::consts::PI;

use crate::demand::Demand;

/// Density of steel (EN 1993-1-1, from memory).
pub const STEEL_DENSITY_KG_M3: f64 = 7850.0;
/// Young's modulus of steel (EN 1993-1-1, from memory).
pub const STEEL_MODULUS_PA: f64 = 210e9;

/// Shear modulus of steel (EN 1993-1-1, from memory).
const STEEL_SHEAR_MODULUS_PA: f64 = 81e9;
/// Yield at which ε is 1.
const REFERENCE_YIELD_PA: f64 = 235e6;

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

/// A series of sections in stock, light to heavy; strength, stiffness and mass rise together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// Thin walls, for members in the air.
    Air,
    /// Walls of at least 2.5 mm, for what is driven into the ground and stands in it (common
    /// practice, no source).
    Ground,
}

/// Sizes of EN 10219-2 and of line pipe, from memory.
const AIR: [Chs; 14] = [
    millimetres(21.3, 2.0),
    millimetres(26.9, 2.0),
    millimetres(33.7, 2.0),
    millimetres(42.4, 2.0),
    millimetres(48.3, 2.0),
    millimetres(60.3, 2.0),
    millimetres(76.1, 2.0),
    millimetres(88.9, 2.0),
    millimetres(101.6, 2.0),
    millimetres(114.3, 2.5),
    millimetres(139.7, 3.0),
    millimetres(168.3, 3.0),
    millimetres(193.7, 4.0),
    millimetres(219.1, 4.0),
];
const GROUND: [Chs; 12] = [
    millimetres(33.7, 2.5),
    millimetres(42.4, 2.5),
    millimetres(48.3, 2.5),
    millimetres(60.3, 2.5),
    millimetres(76.1, 2.5),
    millimetres(88.9, 2.5),
    millimetres(101.6, 3.0),
    millimetres(114.3, 3.0),
    millimetres(139.7, 3.0),
    millimetres(168.3, 4.0),
    millimetres(193.7, 4.0),
    millimetres(219.1, 4.0),
];
/// What both series go on with.
const LARGE: [Chs; 12] = [
    millimetres(244.5, 5.0),
    millimetres(273.0, 5.0),
    millimetres(323.9, 5.0),
    millimetres(355.6, 6.0),
    millimetres(406.4, 6.0),
    millimetres(457.0, 8.0),
    millimetres(508.0, 8.0),
    millimetres(559.0, 8.0),
    millimetres(610.0, 10.0),
    millimetres(660.0, 10.0),
    millimetres(711.0, 12.0),
    millimetres(813.0, 12.0),
];

impl Series {
    /// Its sections, light to heavy.
    fn sections(self) -> impl Iterator<Item = Chs> {
        let small: &[Chs] = match self {
            Self::Air => &AIR,
            Self::Ground => &GROUND,
        };
        small.iter().chain(&LARGE).copied()
    }

    /// The lightest section whose utilisation is at most 1, or the heaviest.
    pub fn lightest(self, demand: impl Fn(&Chs) -> Demand) -> Stock {
        let choice = |section: Chs| Stock {
            section,
            demand: demand(&section),
        };
        let heaviest = LARGE[LARGE.len() - 1];
        self.sections()
            .map(choice)
            .find(|tried| tried.demand.utilisation <= 1.0)
            .unwrap_or_else(|| choice(heaviest))
    }
}

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

    /// Bending resistance W_pl·f_y of a section with d/t ≤ 70ε², W_el·f_y up to 90ε², and beyond
    /// with the yield at which it would just be so compact (EN 1993-1-1, table 5.2, 5.5.2(9) and
    /// 6.2.5; from memory).
    #[must_use]
    pub fn bending_resistance_n_m(&self, yield_pa: f64) -> f64 {
        let slenderness = self.diameter_m / self.wall_m;
        let yield_at = |limit: f64| limit / slenderness * REFERENCE_YIELD_PA;
        if yield_pa <= yield_at(70.0) {
            self.plastic_modulus_m3() * yield_pa
        } else {
            self.elastic_modulus_m3() * yield_pa.min(yield_at(90.0))
        }
    }

    /// Resistance to twist, 2·W_el·f_y/√3.
    #[must_use]
    pub fn torsion_resistance_n_m(&self, yield_pa: f64) -> f64 {
        2.0 * self.elastic_modulus_m3() * yield_pa / 3f64.sqrt()
    }

    /// Torsional stiffness G·2I, N·m².
    #[must_use]
    pub fn torsion_stiffness_n_m2(&self) -> f64 {
        2.0 * STEEL_SHEAR_MODULUS_PA * self.inertia_m4()
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

#[cfg(test)]
mod tests {
    use book::Check;

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
        Check {
            id: "structure.post_bending",
            model: "Deflection of a post",
            equation: "y = F h³ ÷ (3 E I), I = π (D⁴ − d⁴) ÷ 64",
            source: "strength of materials",
            validity: "slender posts below yield",
            against: "a post of 60.3 × 3.2 mm, 1.5 m high, under 1 kN at its tip, computed independently",
            unit: "m",
        }
        .within(
            5e-5,
            [(0.0228, 1000.0 * 1.5 * 1.5 * 1.5 / (3.0 * stiffness))],
        );
        assert!((1000.0 * 1.5 * 1.5 / (2.0 * stiffness) - 0.0228).abs() < 5e-5);
        assert!((1500.0 / post.elastic_modulus_m3() / 193e6 - 1.0).abs() < 5e-3);
    }

    /// Both in S235, compact enough to yield wholly.
    #[test]
    fn stock_rises_in_mass_strength_and_stiffness_and_stays_compact() {
        for series in [Series::Air, Series::Ground] {
            let sections: Vec<Chs> = series.sections().collect();
            for pair in sections.windows(2) {
                assert!(pair[1].kg_m() > pair[0].kg_m(), "{pair:?}");
                assert!(pair[1].plastic_modulus_m3() > pair[0].plastic_modulus_m3());
                assert!(pair[1].inertia_m4() > pair[0].inertia_m4());
            }
            for section in sections {
                assert!(section.diameter_m / section.wall_m <= 70.0);
            }
        }
    }

    /// In S355 a tube of d/t 68 lies beyond class 3 (90·235/355 = 59.6): it bears what its elastic
    /// modulus bears at 90·235/67.7 = 312 MPa.
    #[test]
    fn slender_walls_do_not_reach_their_yield() {
        let slender = millimetres(406.4, 6.0);
        let found_pa = slender.bending_resistance_n_m(355e6) / slender.elastic_modulus_m3();
        assert!((found_pa / 312e6 - 1.0).abs() < 2e-3, "{found_pa}");
        let compact = millimetres(48.3, 3.2);
        let whole_n_m = compact.plastic_modulus_m3() * 355e6;
        assert_eq!(compact.bending_resistance_n_m(355e6), whole_n_m);
    }

    #[test]
    fn a_torque_tube_twists_as_computed() {
        let tube = millimetres(60.3, 3.2);
        let twist_rad = 50.0 * 10.0 / tube.torsion_stiffness_n_m2();
        Check {
            id: "structure.torque_tube",
            model: "Twist of a round hollow section",
            equation: "φ = T L ÷ (G J), J = π (D⁴ − d⁴) ÷ 32",
            source: "strength of materials",
            validity: "below yield",
            against: "a tube of 60.3 × 3.2 mm, 10 m long, under 50 N·m, computed independently",
            unit: "rad",
        }
        .within_share(5e-3, [(13.2e-3, twist_rad)]);
    }

    #[test]
    fn the_lightest_that_holds_is_taken_or_the_heaviest() {
        let bent_by = |moment_n_m: f64| {
            Series::Air.lightest(|section| {
                Demand::stiffness(moment_n_m / section.bending_resistance_n_m(235e6))
            })
        };
        assert_eq!(bent_by(1500.0).section, millimetres(60.3, 2.0));
        let hopeless = bent_by(1e9);
        assert_eq!(hopeless.section, millimetres(813.0, 12.0));
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
