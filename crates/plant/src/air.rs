//! Air as an ideal gas: density, viscosity, conductivity.
//!
//! Viscosity and conductivity follow the U.S. Standard Atmosphere 1976 (equations 51 and 53;
//! constants from memory). Meant for 200 … 1,100 K.

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn properties_at_room_temperature_and_in_the_film_of_a_hot_plate() {
        // ν = 15.11e-6 m²/s and k = 0.02574 W/(m K) at 293.15 K: textbook values, from memory.
        let room = Air::at(293.15, 101_325.0);
        assert!((room.viscosity_m2_s / 15.11e-6 - 1.0).abs() < 0.005);
        assert!((room.conductivity_w_m_k / 0.025_74 - 1.0).abs() < 0.005);
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
