//! Water and saturated steam in SI units, from an IAPWS-IF97 library.
//!
//! Source: IAPWS R7-97(2012), *Industrial Formulation 1997*. Saturation is offered up to 623.15 K
//! (16.53 MPa), where liquid and vapour are explicit functions of pressure and temperature.

use crate::PlantError;

/// Lowest saturation pressure offered [Pa].
pub const LOWEST_PRESSURE_PA: f64 = 1_000.0;
/// Highest saturation pressure offered, Pa: saturation at 623.15 K.
pub const HIGHEST_PRESSURE_PA: f64 = 16.529e6;
/// Lowest liquid temperature offered [K].
pub const LOWEST_TEMPERATURE_K: f64 = 273.15;
/// Highest saturation and liquid temperature offered [K].
pub const HIGHEST_TEMPERATURE_K: f64 = 623.15;

const PA_PER_MPA: f64 = 1e6;
const J_PER_KJ: f64 = 1e3;

/// Boiling point at a pressure [Pa], in K.
///
/// # Errors
/// [`PlantError::Pressure`] outside the range of this module.
pub fn saturation_temperature_k(pressure_pa: f64) -> Result<f64, PlantError> {
    if !(LOWEST_PRESSURE_PA..=HIGHEST_PRESSURE_PA).contains(&pressure_pa) {
        return Err(bad_pressure(pressure_pa));
    }
    xsteamrs::tsat_k_from_p_mpa(pressure_pa / PA_PER_MPA).map_err(|_| bad_pressure(pressure_pa))
}

/// Pressure at which water boils at a temperature [K], in Pa.
///
/// # Errors
/// [`PlantError::Temperature`] outside the range of this module.
pub fn saturation_pressure_pa(temperature_k: f64) -> Result<f64, PlantError> {
    check_temperature(temperature_k)?;
    xsteamrs::psat_mpa_from_t_k(temperature_k)
        .map(|pressure_mpa| pressure_mpa * PA_PER_MPA)
        .map_err(|_| bad_temperature(temperature_k))
}

/// Specific enthalpy of liquid water (not checked against boiling) [J/kg].
///
/// # Errors
/// [`PlantError::Temperature`] outside the range of this module.
pub fn liquid_enthalpy_j_kg(pressure_pa: f64, temperature_k: f64) -> Result<f64, PlantError> {
    check_temperature(temperature_k)?;
    xsteamrs::h1_p_t(pressure_pa / PA_PER_MPA, temperature_k)
        .map(|enthalpy_kj_kg| enthalpy_kj_kg * J_PER_KJ)
        .map_err(|_| bad_pressure(pressure_pa))
}

/// Density of liquid water (not checked against boiling) [kg/m³].
///
/// # Errors
/// [`PlantError::Temperature`] outside the range of this module.
pub fn liquid_density_kg_m3(pressure_pa: f64, temperature_k: f64) -> Result<f64, PlantError> {
    check_temperature(temperature_k)?;
    xsteamrs::v1_p_t(pressure_pa / PA_PER_MPA, temperature_k)
        .map(|volume_m3_kg| 1.0 / volume_m3_kg)
        .map_err(|_| bad_pressure(pressure_pa))
}

/// Specific enthalpy of dry saturated steam at a pressure [Pa], in J/kg.
///
/// # Errors
/// [`PlantError::Pressure`] outside the range of this module.
pub fn saturated_steam_enthalpy_j_kg(pressure_pa: f64) -> Result<f64, PlantError> {
    let boiling_k = saturation_temperature_k(pressure_pa)?;
    xsteamrs::h2_p_t(pressure_pa / PA_PER_MPA, boiling_k)
        .map(|enthalpy_kj_kg| enthalpy_kj_kg * J_PER_KJ)
        .map_err(|_| bad_pressure(pressure_pa))
}

fn check_temperature(temperature_k: f64) -> Result<(), PlantError> {
    if (LOWEST_TEMPERATURE_K..=HIGHEST_TEMPERATURE_K).contains(&temperature_k) {
        Ok(())
    } else {
        Err(bad_temperature(temperature_k))
    }
}

fn bad_pressure(pressure_pa: f64) -> PlantError {
    PlantError::Pressure {
        pressure_pa,
        low_pa: LOWEST_PRESSURE_PA,
        high_pa: HIGHEST_PRESSURE_PA,
    }
}

fn bad_temperature(temperature_k: f64) -> PlantError {
    PlantError::Temperature {
        temperature_k,
        low_k: LOWEST_TEMPERATURE_K,
        high_k: HIGHEST_TEMPERATURE_K,
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    const VERIFICATION: &str = "the release's tables 5, 15, 35 and 36 for verifying programs";

    const LIQUID: Check = Check {
        id: "plant.water_enthalpy",
        model: "Enthalpy of liquid water",
        equation: "h = R T τ ∂γ/∂τ, γ the dimensionless Gibbs energy of region 1",
        source: "IAPWS R7-97(2012)",
        validity: "0 to 350 °C, up to 100 MPa",
        against: VERIFICATION,
        unit: "kJ/kg",
    };

    #[test]
    fn liquid_verification_table() {
        let table = [
            (300.0, 3.0, 0.100_215_168e-2, 115.331_273),
            (300.0, 80.0, 0.971_180_894e-3, 184.142_828),
            (500.0, 3.0, 0.120_241_800e-2, 975.542_239),
        ];
        LIQUID.within_share(
            1e-8,
            table.map(|(temperature_k, pressure_mpa, _, enthalpy_kj_kg)| {
                let enthalpy = liquid_enthalpy_j_kg(1e6 * pressure_mpa, temperature_k);
                (enthalpy_kj_kg, enthalpy.unwrap() / 1e3)
            }),
        );
        Check {
            id: "plant.water_volume",
            model: "Specific volume of liquid water",
            equation: "v = R T π ∂γ/∂π ÷ p",
            unit: "m³/kg",
            ..LIQUID
        }
        .within_share(
            1e-8,
            table.map(|(temperature_k, pressure_mpa, volume_m3_kg, _)| {
                let density = liquid_density_kg_m3(1e6 * pressure_mpa, temperature_k);
                (volume_m3_kg, 1.0 / density.unwrap())
            }),
        );
    }

    #[test]
    fn vapour_verification_table_of_the_library() {
        for (temperature_k, pressure_mpa, enthalpy_kj_kg) in [
            (300.0, 0.003_5, 2_549.911_45),
            (700.0, 0.003_5, 3_335.683_75),
            (700.0, 30.0, 2_631.494_74),
        ] {
            let found = xsteamrs::h2_p_t(pressure_mpa, temperature_k).unwrap();
            assert!((found / enthalpy_kj_kg - 1.0).abs() < 1e-8, "{found}");
        }
    }

    #[test]
    fn saturation_verification_tables() {
        let boiling = Check {
            id: "plant.boiling_pressure",
            model: "Pressure at which water boils",
            equation: "quadratic in the fourth root of pressure, region 4",
            validity: "0 to 350 °C",
            unit: "MPa",
            ..LIQUID
        };
        let pressures = [
            (300.0, 0.353_658_941e-2),
            (500.0, 2.638_897_76),
            (600.0, 12.344_314_6),
        ];
        boiling.within_share(
            1e-8,
            pressures.map(|(temperature_k, pressure_mpa)| {
                let found = saturation_pressure_pa(temperature_k);
                (pressure_mpa, found.unwrap() / 1e6)
            }),
        );
        let temperatures = [(0.1, 372.755_919), (1.0, 453.035_632), (10.0, 584.149_488)];
        Check {
            id: "plant.boiling_temperature",
            model: "Temperature at which water boils",
            unit: "K",
            ..boiling
        }
        .within_share(
            1e-8,
            temperatures.map(|(pressure_mpa, temperature_k)| {
                let found = saturation_temperature_k(pressure_mpa * 1e6);
                (temperature_k, found.unwrap())
            }),
        );
    }

    #[test]
    fn saturated_steam_and_water_at_four_pressures() {
        let table = [
            (4.0, 1087.426, 2800.897),
            (4.5, 1122.143, 2797.997),
            (10.0, 1407.868, 2725.473),
            (12.5, 1511.463, 2674.485),
        ];
        let saturated = Check {
            id: "plant.boiling_water_enthalpy",
            model: "Enthalpy of boiling water",
            validity: "1 kPa to 16.5 MPa",
            against: "the general-purpose library `iapws` 1.5.5 at four pressures",
            ..LIQUID
        };
        saturated.within_share(
            1e-6,
            table.map(|(pressure_mpa, water_kj_kg, _)| {
                let pressure_pa = pressure_mpa * 1e6;
                let boiling_k = saturation_temperature_k(pressure_pa).unwrap();
                let water = liquid_enthalpy_j_kg(pressure_pa, boiling_k);
                (water_kj_kg, water.unwrap() / 1e3)
            }),
        );
        Check {
            id: "plant.saturated_steam_enthalpy",
            model: "Enthalpy of saturated steam",
            equation: "h = R T τ ∂γ/∂τ, γ the dimensionless Gibbs energy of region 2",
            ..saturated
        }
        .within_share(
            1e-6,
            table.map(|(pressure_mpa, _, steam_kj_kg)| {
                let steam = saturated_steam_enthalpy_j_kg(pressure_mpa * 1e6);
                (steam_kj_kg, steam.unwrap() / 1e3)
            }),
        );
    }

    #[test]
    fn refuses_what_it_does_not_cover() {
        assert!(matches!(
            saturation_temperature_k(20e6),
            Err(PlantError::Pressure { .. })
        ));
        assert!(matches!(
            saturation_pressure_pa(640.0),
            Err(PlantError::Temperature { .. })
        ));
        assert!(matches!(
            saturation_temperature_k(f64::NAN),
            Err(PlantError::Pressure { .. })
        ));
    }
}
