//! Solar salt, 60 % sodium and 40 % potassium nitrate by mass.
//!
//! Source: Zavoico 2001, *Solar Power Tower Design Basis Document*, SAND2001-2100 (fits from memory;
//! the general-purpose library CoolProp carries the same ones). Offered from 260 to 600 °C: below, it
//! comes near its liquidus of about 240 °C; above, nitrates decompose.

use crate::PlantError;

/// Lowest temperature offered, K: 260 °C.
pub const LOWEST_TEMPERATURE_K: f64 = 533.15;
/// Highest temperature offered, K: 600 °C.
pub const HIGHEST_TEMPERATURE_K: f64 = 873.15;

const ZERO_CELSIUS_K: f64 = 273.15;

/// Specific heat [J/(kg K)] at 0 °C and its growth with each kelvin.
const HEAT_J_KG_K: f64 = 1443.0;
const HEAT_GROWTH_J_KG_K2: f64 = 0.172;

/// Density [kg/m³].
///
/// # Errors
/// [`PlantError::Temperature`] outside the range of this module.
pub fn density_kg_m3(temperature_k: f64) -> Result<f64, PlantError> {
    Ok(2090.0 - 0.636 * celsius(temperature_k)?)
}

/// Heat taken up by a kilogram between two temperatures [K], in J/kg: the integral of the fit of
/// specific heat.
///
/// # Errors
/// [`PlantError::Temperature`] outside the range of this module.
pub fn gain_j_kg(from_k: f64, to_k: f64) -> Result<f64, PlantError> {
    let (from_c, to_c) = (celsius(from_k)?, celsius(to_k)?);
    let mean_c = 0.5 * (from_c + to_c);
    Ok((HEAT_J_KG_K + HEAT_GROWTH_J_KG_K2 * mean_c) * (to_c - from_c))
}

fn celsius(temperature_k: f64) -> Result<f64, PlantError> {
    if (LOWEST_TEMPERATURE_K..=HIGHEST_TEMPERATURE_K).contains(&temperature_k) {
        Ok(temperature_k - ZERO_CELSIUS_K)
    } else {
        Err(PlantError::Salt {
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

    /// At 290, 400, 500 and 565 °C; specific heat as the gain of one kelvin around.
    #[test]
    fn density_and_specific_heat_at_four_temperatures() {
        let table = [
            (290.0, 1905.560, 1492.880),
            (400.0, 1835.600, 1511.800),
            (500.0, 1772.000, 1529.000),
            (565.0, 1730.660, 1540.180),
        ];
        let density = Check {
            id: "plant.salt_density",
            model: "Density of molten nitrate salt",
            equation: "ρ = 2090 − 0.636 t, t in °C",
            source: "Zavoico 2001, SAND2001-2100 (from memory)",
            validity: "260 to 600 °C, 60 % sodium and 40 % potassium nitrate",
            against: "CoolProp 8.0.0, `INCOMP::NaK`, a general-purpose library, at four temperatures",
            unit: "kg/m³",
        };
        density.within_share(
            1e-9,
            table.map(|(temperature_c, wanted, _)| {
                let found = density_kg_m3(temperature_c + ZERO_CELSIUS_K);
                (wanted, found.unwrap())
            }),
        );
        Check {
            id: "plant.salt_heat",
            model: "Specific heat of molten nitrate salt",
            equation: "c = 1443 + 0.172 t, t in °C",
            unit: "J/(kg K)",
            ..density
        }
        .within_share(
            1e-9,
            table.map(|(temperature_c, _, wanted)| {
                let at_k = temperature_c + ZERO_CELSIUS_K;
                (wanted, gain_j_kg(at_k - 0.5, at_k + 0.5).unwrap())
            }),
        );
    }

    /// From 290 to 565 °C 417,045.8 J/kg, so that 42.2 MW, the rating of the 10 MW test plant of
    /// 1996–99, move 101.188 kg/s (computed independently).
    #[test]
    fn the_test_plant_moves_a_hundred_kilograms_a_second() {
        let gain = gain_j_kg(563.15, 838.15).unwrap();
        assert!((gain - 417_045.8).abs() < 0.1, "{gain}");
        assert!((42.2e6 / gain - 101.188).abs() < 1e-3);
    }

    #[test]
    fn refuses_to_freeze_and_to_decompose() {
        for temperature_k in [500.0, 880.0, f64::NAN] {
            assert!(matches!(
                density_kg_m3(temperature_k),
                Err(PlantError::Salt { .. })
            ));
        }
    }
}
