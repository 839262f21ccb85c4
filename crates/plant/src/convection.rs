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

/// Roughness of a cylinder ÷ its diameter for which flow across it was measured.
const ROUGHNESS: [f64; 4] = [0.0, 75e-5, 300e-5, 900e-5];

/// Mean Nusselt number of a large upright cylinder across the wind, its roughness `ks/D` between those
/// measured by straight lines, held at the ends.
///
/// Smooth 0.3 + 0.488 Re^½ (1 + (Re/282,000)^0.625)^0.8; rough 2.57·10⁻³ Re^0.98, 0.0135 Re^0.89 and
/// 0.0455 Re^0.81, each from where it exceeds the smooth one and is valid. Properties at film
/// temperature, Re up to 10⁸. Source: Siebers & Kraabel 1984, SAND84-8717 (from memory).
#[must_use]
pub fn forced_cylinder_nusselt(reynolds: f64, roughness: f64) -> f64 {
    let held = roughness.clamp(0.0, ROUGHNESS[ROUGHNESS.len() - 1]);
    let upper = ROUGHNESS[1..].iter().position(|step| held <= *step);
    let lower = upper.unwrap_or(0);
    let (from, to) = (ROUGHNESS[lower], ROUGHNESS[lower + 1]);
    let share = (held - from) / (to - from);
    let low = at_roughness(lower, reynolds);
    low + share * (at_roughness(lower + 1, reynolds) - low)
}

/// The same at one of the measured roughnesses.
fn at_roughness(class: usize, reynolds: f64) -> f64 {
    let bend = 1.0 + libm::pow(reynolds / 282e3, 0.625);
    let smooth = 0.3 + 0.488 * reynolds.sqrt() * libm::pow(bend, 0.8);
    let fully_rough = 0.045_5 * libm::pow(reynolds, 0.81);
    let rough = match class {
        1 if reynolds > 2.2e7 => fully_rough,
        1 if reynolds > 7e5 => 2.57e-3 * libm::pow(reynolds, 0.98),
        2 if reynolds > 4e6 => fully_rough,
        2 if reynolds > 1.8e5 => 0.013_5 * libm::pow(reynolds, 0.89),
        3 if reynolds >= 1e5 => fully_rough,
        _ => 0.0,
    };
    rough.max(smooth)
}

/// Forced convection of an upright cylinder across the wind, tubes of some radius its roughness
/// [W/(m² K)].
#[must_use]
pub fn forced_cylinder_w_m2_k(
    diameter_m: f64,
    tube_radius_m: f64,
    wind_m_s: f64,
    film: &Air,
) -> f64 {
    let reynolds = wind_m_s.max(0.0) * diameter_m / film.viscosity_m2_s;
    let nusselt = forced_cylinder_nusselt(reynolds, tube_radius_m / diameter_m);
    nusselt * film.conductivity_w_m_k / diameter_m
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
    use book::Check;

    use super::*;

    /// What Siebers & Kraabel found, evaluated elsewhere.
    const SIEBERS: Check = Check {
        id: "plant.convection_of_large_plate",
        model: "Natural convection from a large hot wall",
        equation: "Nu = 0.098 Gr^⅓ (T_w ÷ T_∞)^−0.14, properties at the air's temperature",
        source: "Siebers & Kraabel 1984, SAND84-8717 (from memory)",
        validity: "upright outside walls, up to about 800 K above the air",
        against: "the same law evaluated independently, at four overheats",
        unit: "W/(m² K)",
    };

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
        let table = [
            (200.0, 7.232),
            (400.0, 8.687),
            (600.0, 9.598),
            (800.0, 10.269),
        ];
        SIEBERS.within_share(
            1e-3,
            table.map(|(warmth_k, wanted)| {
                (wanted, natural_large_plate_w_m2_k(293.15 + warmth_k, &ROOM))
            }),
        );
    }

    #[test]
    fn cavity_at_four_overheats() {
        // The short form, evaluated independently.
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
        let table = [
            (200.0, 7.670),
            (400.0, 10.274),
            (600.0, 12.310),
            (800.0, 14.051),
        ];
        Check {
            id: "plant.convection_of_cavity",
            model: "Natural convection out of a cavity",
            equation: "h = 0.81 (T_w − T_∞)^0.426, per area of its inside",
            validity: "open cavities without lips, 10⁵ ≤ Gr ≤ 10¹²",
            against: "their long form, Nu = 0.088 Gr^⅓ (T_w ÷ T_∞)^0.18, evaluated independently, at four \
                      overheats",
            ..SIEBERS
        }
        .within_share(
            0.015,
            table.map(|(warmth_k, long_form)| {
                (long_form, natural_cavity_w_m2_k(293.15 + warmth_k, 293.15))
            }),
        );
    }

    #[test]
    fn rough_cylinders_at_two_reynolds_numbers() {
        let table = [
            (1e6, [1239.6, 1949.5, 2953.5, 3296.2]),
            (1e7, [9972.0, 18_618.0, 21_281.9, 21_281.9]),
        ];
        let pairs = table.into_iter().flat_map(|(reynolds, wanted)| {
            let found = ROUGHNESS.map(|roughness| forced_cylinder_nusselt(reynolds, roughness));
            wanted.into_iter().zip(found)
        });
        Check {
            id: "plant.convection_of_cylinder",
            model: "Wind across a rough cylinder, Nusselt number",
            equation: "smooth 0.3 + 0.488 Re^½ (1 + (Re ÷ 282,000)^0.625)^0.8; rough 2.57e-3 Re^0.98, 0.0135 \
                       Re^0.89 and 0.0455 Re^0.81 where they exceed it",
            validity: "Reynolds numbers up to 10⁸, roughness up to 0.9 % of the diameter",
            against: "the same laws evaluated independently, at four roughnesses and two Reynolds numbers",
            unit: "",
            ..SIEBERS
        }
        .within_share(3e-5, pairs);
        let between = forced_cylinder_nusselt(1e6, 187.5e-5);
        near(between, 0.5 * (1949.5 + 2953.5), 3e-5);
        near(forced_cylinder_nusselt(1e6, 0.1), 3296.2, 3e-5);
    }

    /// Incropera & DeWitt, Example 7.4: a cylinder of 12.7 mm across air at 10 m/s, Re 6071, Nu 40.6, h
    /// 96 W/(m² K) by Churchill & Bernstein 1977 (from memory). The smooth form, meant for large Re, is
    /// within 10 % of it.
    #[test]
    fn a_small_smooth_cylinder_across_air() {
        let film = Air {
            temperature_k: 350.0,
            viscosity_m2_s: 20.92e-6,
            conductivity_w_m_k: 0.030,
        };
        let reynolds = 10.0 * 0.012_7 / film.viscosity_m2_s;
        near(reynolds, 6071.0, 1e-4);
        near(
            forced_cylinder_w_m2_k(0.012_7, 0.0, 10.0, &film),
            96.0,
            0.10,
        );
        near(forced_cylinder_nusselt(reynolds, 0.0), 40.6, 0.10);
        // Churchill & Bernstein at Pr 0.7 (confirmed by the general-purpose library `ht`).
        near(forced_cylinder_nusselt(1e5, 0.0), 214.126, 0.10);
    }

    #[test]
    fn lips_do_nothing_when_there_are_none() {
        near(lip_factor(9.0, 9.0, 9.0), 1.0, 1e-15);
        assert!(lip_factor(9.0, 9.0, 6.0) < 1.0);
    }

    #[test]
    fn churchill_chu_table() {
        let table = [
            (1e4, 5.425_291),
            (1e6, 16.530_367),
            (1e9, 122.615_058),
            (1e10, 251.769_750),
            (1e12, 1_104.402_637),
        ];
        Check {
            id: "plant.convection_of_upright_plate",
            model: "Natural convection from an upright plate, Nusselt number",
            equation: "Nu = (0.825 + 0.387 Ra^⅙ ÷ (1 + (0.492 ÷ Pr)^(9/16))^(8/27))²",
            source: "Churchill & Chu 1975, Int. J. Heat Mass Transfer 18",
            validity: "Rayleigh numbers up to 10¹²",
            against: "the general-purpose library `ht` at five Rayleigh numbers",
            unit: "",
        }
        .within_share(
            1e-6,
            table.map(|(rayleigh, wanted)| (wanted, natural_plate_nusselt(rayleigh, 0.7))),
        );
    }

    #[test]
    fn vertical_plate_worked_example() {
        let prandtl = 0.690;
        let film = Air {
            temperature_k: 400.0,
            viscosity_m2_s: 26.4e-6,
            conductivity_w_m_k: 0.033_8,
        };
        let coefficient_w_m2_k = natural_plate_w_m2_k(0.71, 209.0, &film, prandtl);
        near(coefficient_w_m2_k, 7.0, 0.005);
        Check {
            id: "plant.convection_of_glass_door",
            model: "Natural convection from an upright plate, heat lost",
            equation: "h = Nu k ÷ H, Nu after Churchill & Chu 1975",
            source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer",
            validity: "Rayleigh numbers up to 10¹²",
            against: "the same book's example 9.2: a glass door of 0.71 × 1.02 m at 232 °C in air of 23 °C (from \
                      memory)",
            unit: "W",
        }
        .within_share(
            0.005,
            [(1060.0, coefficient_w_m2_k * 0.71 * 1.02 * 209.0)],
        );
    }

    #[test]
    fn turbulent_plate() {
        Check {
            id: "plant.convection_of_plate_in_wind",
            model: "Wind along a plate, Nusselt number",
            equation: "Nu = 0.664 Re^½ Pr^⅓, beyond Re 5 × 10⁵ (0.037 Re^0.8 − 871) Pr^⅓",
            source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, chapter 7 (from memory)",
            validity: "Reynolds numbers up to 10⁸",
            against: "the same law evaluated independently at Re 10⁶, Pr 0.7",
            unit: "",
        }
        .within_share(1e-6, [(1299.485, forced_plate_nusselt(1e6, 0.7))]);
    }

    #[test]
    fn plate_formulas_meet_at_transition() {
        let below = forced_plate_nusselt(PLATE_TRANSITION * (1.0 - 1e-9), 0.7);
        near(forced_plate_nusselt(PLATE_TRANSITION, 0.7), below, 2e-3);
    }

    #[test]
    fn mixed_of_eight_and_ten() {
        Check {
            id: "plant.convection_mixed",
            model: "Natural convection and wind together",
            equation: "h = (h_n^3.2 + h_f^3.2)^(1/3.2)",
            validity: "walls of receivers",
            against: "the same law evaluated independently at 8 and 10 W/(m² K)",
            ..SIEBERS
        }
        .within_share(1e-6, [(11.326_33, mixed_w_m2_k(8.0, 10.0))]);
        near(mixed_w_m2_k(0.0, 10.0), 10.0, 1e-15);
        assert_eq!(mixed_w_m2_k(0.0, 0.0).to_bits(), 0.0f64.to_bits());
    }
}
