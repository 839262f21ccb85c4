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
    use super::*;

    fn near(value: f64, wanted: f64, relative: f64) {
        assert!(
            (value / wanted - 1.0).abs() < relative,
            "{value} instead of {wanted}"
        );
    }

    // IAPWS R7-97(2012), computer-program verification tables 5, 15, 35 and 36.

    #[test]
    fn liquid_verification_table() {
        for (temperature_k, pressure_mpa, volume_m3_kg, enthalpy_kj_kg) in [
            (300.0, 3.0, 0.100_215_168e-2, 115.331_273),
            (300.0, 80.0, 0.971_180_894e-3, 184.142_828),
            (500.0, 3.0, 0.120_241_800e-2, 975.542_239),
        ] {
            let pressure_pa = pressure_mpa * 1e6;
            let enthalpy = liquid_enthalpy_j_kg(pressure_pa, temperature_k).unwrap();
            near(enthalpy / 1e3, enthalpy_kj_kg, 1e-8);
            let density = liquid_density_kg_m3(pressure_pa, temperature_k).unwrap();
            near(1.0 / density, volume_m3_kg, 1e-8);
        }
    }

    #[test]
    fn vapour_verification_table_of_the_library() {
        for (temperature_k, pressure_mpa, enthalpy_kj_kg) in [
            (300.0, 0.003_5, 2_549.911_45),
            (700.0, 0.003_5, 3_335.683_75),
            (700.0, 30.0, 2_631.494_74),
        ] {
            near(
                xsteamrs::h2_p_t(pressure_mpa, temperature_k).unwrap(),
                enthalpy_kj_kg,
                1e-8,
            );
        }
    }

    #[test]
    fn saturation_verification_tables() {
        for (temperature_k, pressure_mpa) in [
            (300.0, 0.353_658_941e-2),
            (500.0, 2.638_897_76),
            (600.0, 12.344_314_6),
        ] {
            near(
                saturation_pressure_pa(temperature_k).unwrap() / 1e6,
                pressure_mpa,
                1e-8,
            );
        }
        for (pressure_mpa, temperature_k) in
            [(0.1, 372.755_919), (1.0, 453.035_632), (10.0, 584.149_488)]
        {
            near(
                saturation_temperature_k(pressure_mpa * 1e6).unwrap(),
                temperature_k,
                1e-8,
            );
        }
    }

    #[test]
    fn saturated_steam_and_water_at_four_pressures() {
        // Evaluated with the general-purpose library `iapws` 1.5.5.
        for (pressure_mpa, water_kj_kg, steam_kj_kg) in [
            (4.0, 1087.426, 2800.897),
            (4.5, 1122.143, 2797.997),
            (10.0, 1407.868, 2725.473),
            (12.5, 1511.463, 2674.485),
        ] {
            let pressure_pa = pressure_mpa * 1e6;
            let boiling_k = saturation_temperature_k(pressure_pa).unwrap();
            let water = liquid_enthalpy_j_kg(pressure_pa, boiling_k).unwrap();
            near(water / 1e3, water_kj_kg, 1e-6);
            near(
                saturated_steam_enthalpy_j_kg(pressure_pa).unwrap() / 1e3,
                steam_kj_kg,
                1e-6,
            );
        }
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
