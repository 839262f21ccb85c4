//! Heat carried off by air: natural, forced and mixed convection.

use crate::air::{Air, PRANDTL};

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.806_65;

/// Reynolds number at which the boundary layer of a flat plate is taken to turn turbulent
/// (textbook value, from memory).
const PLATE_TRANSITION: f64 = 5e5;

/// Natural convection from a large, hot, vertical outside surface [W/(m² K)].
///
/// Nu = 0.098 Gr^⅓ (T_w/T_∞)^−0.14 with properties at the air temperature; the height cancels.
/// Source: Siebers & Kraabel 1984, SAND84-8717 (from memory); measured up to about 800 K.
#[must_use]
pub fn natural_large_plate_w_m2_k(wall_k: f64, air: &Air) -> f64 {
    let warmth_k = (wall_k - air.temperature_k).max(0.0);
    let viscosity_m2_s = air.viscosity_m2_s;
    let grashof_per_m3 =
        GRAVITY_M_S2 * warmth_k / (air.temperature_k * viscosity_m2_s * viscosity_m2_s);
    let thinning = libm::pow(wall_k.max(air.temperature_k) / air.temperature_k, -0.14);
    0.098 * air.conductivity_w_m_k * libm::cbrt(grashof_per_m3) * thinning
}

/// Natural convection of an open cavity without lips, per area of its inside [W/(m² K)].
///
/// h = 0.81 (T_w − T_∞)^0.426. Source: Siebers & Kraabel 1984, SAND84-8717, short form of
/// Nu = 0.088 Gr^⅓ (T_w/T_∞)^0.18 (from memory); 10⁵ ≤ Gr ≤ 10¹².
#[must_use]
pub fn natural_cavity_w_m2_k(wall_k: f64, air_k: f64) -> f64 {
    0.81 * libm::pow((wall_k - air_k).max(0.0), 0.426)
}

/// Factor on [`natural_cavity_w_m2_k`] for lips: (A₁/A₂)(A₃/A₁)^0.63, with A₁ the whole inside,
/// A₂ the inside less the lower lip and A₃ the inside below the upper lip's edge.
///
/// Source: Siebers & Kraabel 1984, SAND84-8717 (from memory).
#[must_use]
pub fn lip_factor(inside_m2: f64, less_lower_lip_m2: f64, below_upper_lip_m2: f64) -> f64 {
    inside_m2 / less_lower_lip_m2 * libm::pow(below_upper_lip_m2 / inside_m2, 0.63)
}

/// Nusselt number of a vertical plate at any Rayleigh number.
///
/// Source: Churchill & Chu 1975, Int. J. Heat Mass Transfer 18, 1323, form for all Rayleigh
/// numbers up to 10¹².
#[must_use]
pub fn natural_plate_nusselt(rayleigh: f64, prandtl: f64) -> f64 {
    let spread = libm::pow(1.0 + libm::pow(0.492 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
    let root = 0.825 + 0.387 * libm::pow(rayleigh, 1.0 / 6.0) / spread;
    root * root
}

/// Natural convection of a vertical plate of some height, from film properties [W/(m² K)].
#[must_use]
pub fn natural_plate_w_m2_k(height_m: f64, warmth_k: f64, film: &Air, prandtl: f64) -> f64 {
    let rayleigh =
        GRAVITY_M_S2 * warmth_k / film.temperature_k * height_m * height_m * height_m * prandtl
            / (film.viscosity_m2_s * film.viscosity_m2_s);
    natural_plate_nusselt(rayleigh, prandtl) * film.conductivity_w_m_k / height_m
}

/// Mean Nusselt number of a flat plate in parallel flow.
///
/// Laminar 0.664 Re^½ Pr^⅓, beyond Re 5·10⁵ mixed (0.037 Re^0.8 − 871) Pr^⅓; Re ≤ 10⁸.
/// Source: Incropera & DeWitt, *Fundamentals of Heat and Mass Transfer*, chapter 7 (from memory).
#[must_use]
pub fn forced_plate_nusselt(reynolds: f64, prandtl: f64) -> f64 {
    let friction = if reynolds < PLATE_TRANSITION {
        0.664 * reynolds.sqrt()
    } else {
        0.037 * libm::pow(reynolds, 0.8) - 871.0
    };
    friction * libm::cbrt(prandtl)
}

/// Forced convection over a flat plate of some length along the wind [W/(m² K)].
#[must_use]
pub fn forced_plate_w_m2_k(length_m: f64, wind_m_s: f64, film: &Air) -> f64 {
    let reynolds = wind_m_s.max(0.0) * length_m / film.viscosity_m2_s;
    forced_plate_nusselt(reynolds, PRANDTL) * film.conductivity_w_m_k / length_m
}

/// Natural and forced convection together: (h_n^3.2 + h_f^3.2)^(1/3.2) [W/(m² K)].
///
/// Source: Siebers & Kraabel 1984, SAND84-8717 (from memory).
#[must_use]
pub fn mixed_w_m2_k(natural_w_m2_k: f64, forced_w_m2_k: f64) -> f64 {
    const EXPONENT: f64 = 3.2;
    let larger = natural_w_m2_k.max(forced_w_m2_k);
    if larger <= 0.0 {
        return 0.0;
    }
    let ratio = natural_w_m2_k.min(forced_w_m2_k) / larger;
    larger * libm::pow(1.0 + libm::pow(ratio, EXPONENT), 1.0 / EXPONENT)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, wanted: f64, relative: f64) {
        assert!(
            (value / wanted - 1.0).abs() < relative,
            "{value} instead of {wanted}"
        );
    }

    /// Air as the checks below took it at 293.15 K.
    const ROOM: Air = Air {
        temperature_k: 293.15,
        viscosity_m2_s: 15.11e-6,
        conductivity_w_m_k: 0.025_74,
    };

    #[test]
    fn large_plate_at_four_overheats() {
        // Siebers & Kraabel 1984 (from memory), evaluated independently.
        for (warmth_k, wanted) in [
            (200.0, 7.232),
            (400.0, 8.687),
            (600.0, 9.598),
            (800.0, 10.269),
        ] {
            near(
                natural_large_plate_w_m2_k(293.15 + warmth_k, &ROOM),
                wanted,
                1e-3,
            );
        }
    }

    #[test]
    fn cavity_at_four_overheats() {
        // Siebers & Kraabel 1984 short form (from memory), evaluated independently.
        for (warmth_k, wanted) in [
            (200.0, 7.740),
            (400.0, 10.398),
            (600.0, 12.359),
            (800.0, 13.970),
        ] {
            near(
                natural_cavity_w_m2_k(293.15 + warmth_k, 293.15),
                wanted,
                1e-3,
            );
        }
    }

    #[test]
    fn cavity_agrees_with_the_long_form_within_one_and_a_half_percent() {
        // Nu = 0.088 Gr^⅓ (T_w/T_∞)^0.18 at ΔT 200 … 800 K gives these (evaluated independently).
        for (warmth_k, long_form) in [
            (200.0, 7.670),
            (400.0, 10.274),
            (600.0, 12.310),
            (800.0, 14.051),
        ] {
            near(
                natural_cavity_w_m2_k(293.15 + warmth_k, 293.15),
                long_form,
                0.015,
            );
        }
    }

    #[test]
    fn lips_do_nothing_when_there_are_none() {
        near(lip_factor(9.0, 9.0, 9.0), 1.0, 1e-15);
        assert!(lip_factor(9.0, 9.0, 6.0) < 1.0);
    }

    #[test]
    fn churchill_chu_table() {
        // Churchill & Chu 1975 at Pr 0.7, confirmed by the general-purpose library `ht`.
        for (rayleigh, wanted) in [
            (1e4, 5.425_291),
            (1e6, 16.530_367),
            (1e9, 122.615_058),
            (1e10, 251.769_750),
            (1e12, 1_104.402_637),
        ] {
            near(natural_plate_nusselt(rayleigh, 0.7), wanted, 1e-6);
        }
    }

    #[test]
    fn vertical_plate_worked_example() {
        // Incropera & DeWitt, Example 9.2: glass door 0.71 × 1.02 m at 232 °C in air at 23 °C
        // loses 1,060 W (from memory; also in the docstring of the general-purpose library `ht`).
        let prandtl = 0.690;
        let film = Air {
            temperature_k: 400.0,
            viscosity_m2_s: 26.4e-6,
            conductivity_w_m_k: 0.033_8,
        };
        let coefficient_w_m2_k = natural_plate_w_m2_k(0.71, 209.0, &film, prandtl);
        near(coefficient_w_m2_k, 7.0, 0.005);
        near(coefficient_w_m2_k * 0.71 * 1.02 * 209.0, 1060.0, 0.005);
    }

    #[test]
    fn turbulent_plate() {
        // (0.037 Re^0.8 − 871) Pr^⅓ at Re 10⁶, Pr 0.7, evaluated independently.
        near(forced_plate_nusselt(1e6, 0.7), 1299.485, 1e-6);
    }

    #[test]
    fn plate_formulas_meet_at_transition() {
        let below = forced_plate_nusselt(PLATE_TRANSITION * (1.0 - 1e-9), 0.7);
        near(forced_plate_nusselt(PLATE_TRANSITION, 0.7), below, 2e-3);
    }

    #[test]
    fn mixed_of_eight_and_ten() {
        // (8^3.2 + 10^3.2)^(1/3.2), evaluated independently.
        near(mixed_w_m2_k(8.0, 10.0), 11.326_33, 1e-6);
        near(mixed_w_m2_k(0.0, 10.0), 10.0, 1e-15);
        assert_eq!(mixed_w_m2_k(0.0, 0.0).to_bits(), 0.0f64.to_bits());
    }
}
