//! Air as an ideal gas: density, viscosity, conductivity, heat content.
//!
//! Viscosity and conductivity follow the U.S. Standard Atmosphere 1976 (equations 51 and 53;
//! constants from memory). Meant for 200 … 1,100 K. Heat content is a fit for 273 … 1,800 K.

use crate::PlantError;

/// Gas constant of dry air [J/(kg K)].
const GAS_CONSTANT_J_KG_K: f64 = 287.05;

/// Prandtl number of air; true within about 4 % from 250 to 1,000 K (from memory).
pub const PRANDTL: f64 = 0.70;

/// Properties of air at one temperature and pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Temperature [K].
    pub temperature_k: f64,
    /// Kinematic viscosity [m²/s].
    pub viscosity_m2_s: f64,
    /// Thermal conductivity [W/(m K)].
    pub conductivity_w_m_k: f64,
}

impl Air {
    /// Dry air at a temperature [K] and pressure (Pa).
    #[must_use]
    pub fn at(temperature_k: f64, pressure_pa: f64) -> Self {
        let power_1_5 = temperature_k * temperature_k.sqrt();
        let dynamic_pa_s = 1.458e-6 * power_1_5 / (temperature_k + 110.4);
        let density_kg_m3 = pressure_pa / (GAS_CONSTANT_J_KG_K * temperature_k);
        let damping = 245.4 * libm::exp(-12.0 * std::f64::consts::LN_10 / temperature_k);
        Self {
            temperature_k,
            viscosity_m2_s: dynamic_pa_s / density_kg_m3,
            conductivity_w_m_k: 2.646_38e-3 * power_1_5 / (temperature_k + damping),
        }
    }
}

/// Lowest and highest temperature at which air carries heat, K: 0 and 1,200 °C.
pub const LOWEST_TEMPERATURE_K: f64 = 273.15;
/// See [`LOWEST_TEMPERATURE_K`].
pub const HIGHEST_TEMPERATURE_K: f64 = 1473.15;

/// Coefficients of the molar heat at constant pressure, J/(mol K^(n + 1)), and the molar mass, kg/mol:
/// c = a + b T + c T² + d T³, within 0.7 % from 273 to 1,800 K (Çengel & Boles, *Thermodynamics*,
/// table A-2c, from memory).
const MOLAR_HEAT: [f64; 4] = [28.11, 0.196_7e-2, 0.480_2e-5, -1.966e-9];
const MOLAR_MASS_KG: f64 = 28.97e-3;

/// Heat taken up by a kilogram of air at constant pressure between two temperatures [K], in J/kg.
///
/// # Errors
/// [`PlantError::Air`] outside the range of this module.
pub fn gain_j_kg(from_k: f64, to_k: f64) -> Result<f64, PlantError> {
    Ok(content_j_kg(to_k)? - content_j_kg(from_k)?)
}

/// Density of dry air [kg/m³].
///
/// # Errors
/// [`PlantError::Air`] outside the range of this module.
pub fn density_kg_m3(pressure_pa: f64, temperature_k: f64) -> Result<f64, PlantError> {
    check(temperature_k)?;
    Ok(pressure_pa / (GAS_CONSTANT_J_KG_K * temperature_k))
}

/// The integral of the fit, from 0 K.
fn content_j_kg(temperature_k: f64) -> Result<f64, PlantError> {
    check(temperature_k)?;
    let (mut power, mut sum) = (1.0, 0.0);
    for (order, coefficient) in MOLAR_HEAT.into_iter().enumerate() {
        power *= temperature_k;
        sum += coefficient * power / (order as f64 + 1.0);
    }
    Ok(sum / MOLAR_MASS_KG)
}

fn check(temperature_k: f64) -> Result<(), PlantError> {
    if (LOWEST_TEMPERATURE_K..=HIGHEST_TEMPERATURE_K).contains(&temperature_k) {
        Ok(())
    } else {
        Err(PlantError::Air {
            temperature_k,
            low_k: LOWEST_TEMPERATURE_K,
            high_k: HIGHEST_TEMPERATURE_K,
        })
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    /// Heat above 300 K. The table of Çengel & Boles gives 745,850 J/kg at 1,000 K (from memory).
    #[test]
    fn heat_content_of_hot_air() {
        let table = [
            (473.15, 175_512.0),
            (773.15, 492_693.0),
            (973.15, 715_653.0),
            (1000.0, 746_220.0),
            (1173.15, 946_430.0),
        ];
        Check {
            id: "plant.air_heat",
            model: "Heat that hot air carries",
            equation: "Δh = ∫ c dT ÷ M, c = 28.11 + 0.1967e-2 T + 0.4802e-5 T² − 1.966e-9 T³ J/(mol K)",
            source: "Çengel & Boles, Thermodynamics, table A-2c (from memory)",
            validity: "0 to 1,200 °C",
            against: "CoolProp 8.0.0, a general-purpose library, at 1 atm and five temperatures",
            unit: "J/kg",
        }
        .within_share(
            4e-3,
            table.map(|(to_k, wanted_j_kg)| (wanted_j_kg, gain_j_kg(300.0, to_k).unwrap())),
        );
    }

    #[test]
    fn density_of_hot_air() {
        let table = [(473.15, 0.745_810), (973.15, 0.362_611)];
        Check {
            id: "plant.air_density",
            model: "Density of hot air",
            equation: "ρ = p ÷ (R T)",
            source: "law of ideal gases",
            validity: "0 to 1,200 °C",
            against: "CoolProp 8.0.0, a general-purpose library, at 1 atm and two temperatures",
            unit: "kg/m³",
        }
        .within_share(
            1e-3,
            table.map(|(at_k, wanted)| (wanted, density_kg_m3(101_325.0, at_k).unwrap())),
        );
        assert!(matches!(
            density_kg_m3(101_325.0, 1600.0),
            Err(PlantError::Air { .. })
        ));
    }

    #[test]
    fn properties_at_room_temperature_and_in_the_film_of_a_hot_plate() {
        let room = Air::at(293.15, 101_325.0);
        let viscosity = Check {
            id: "plant.air_viscosity",
            model: "Kinematic viscosity of air",
            equation: "ν = 1.458e-6 T^1.5 ÷ (T + 110.4) ÷ ρ",
            source: "U.S. Standard Atmosphere 1976, equation 51 (constants from memory)",
            validity: "200 to 1,100 K",
            against: "the textbooks' value at 293.15 K and 1 atm (from memory)",
            unit: "m²/s",
        };
        viscosity.within_share(0.005, [(15.11e-6, room.viscosity_m2_s)]);
        Check {
            id: "plant.air_conductivity",
            model: "Thermal conductivity of air",
            equation: "k = 2.64638e-3 T^1.5 ÷ (T + 245.4 × 10^(−12 ÷ T))",
            source: "U.S. Standard Atmosphere 1976, equation 53 (constants from memory)",
            unit: "W/(m K)",
            ..viscosity
        }
        .within_share(0.005, [(0.025_74, room.conductivity_w_m_k)]);
        // Incropera & DeWitt, Example 9.2, air at 400 K: ν = 26.4e-6, k = 0.0338 (from memory).
        let film = Air::at(400.0, 101_325.0);
        assert!((film.viscosity_m2_s / 26.4e-6 - 1.0).abs() < 0.02);
        assert!((film.conductivity_w_m_k / 0.033_8 - 1.0).abs() < 0.02);
    }

    #[test]
    fn thin_air_is_more_viscous_kinematically() {
        let low = Air::at(293.15, 101_325.0);
        let high = Air::at(293.15, 80_000.0);
        assert!((high.viscosity_m2_s / low.viscosity_m2_s - 101_325.0 / 80_000.0).abs() < 1e-12);
    }
}
