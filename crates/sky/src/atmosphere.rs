//! Standard air by altitude and the relative air mass.
//!
//! # References
//! 1. ISO 2533:1975, Standard Atmosphere (layer below 11 km).
//! 2. F. Kasten, A. T. Young, "Revised optical air mass tables and approximation formula",
//!    Applied Optics 28(22) 4735-4738, 1989, Eq. 3.

/// Sea-level pressure of the standard atmosphere in pascal \[1\].
pub const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;

const SEA_LEVEL_TEMPERATURE_K: f64 = 288.15;
const LAPSE_K_PER_M: f64 = 0.0065;
const GRAVITY_M_S2: f64 = 9.806_65;
const GAS_CONSTANT_J_KG_K: f64 = 287.052_87;

/// Standard air temperature in kelvin at an altitude in metres \[1\].
///
/// The altitude is taken as geopotential, which differs from the geometric one by 0.16 m at
/// 1,000 m. Valid from the Dead Sea to 11,000 m.
#[must_use]
pub fn air_temperature_k(altitude_m: f64) -> f64 {
    SEA_LEVEL_TEMPERATURE_K - LAPSE_K_PER_M * altitude_m
}

/// Standard air pressure in pascal at an altitude in metres \[1\]. Range as [`air_temperature_k`].
#[must_use]
pub fn air_pressure_pa(altitude_m: f64) -> f64 {
    let exponent = GRAVITY_M_S2 / (GAS_CONSTANT_J_KG_K * LAPSE_K_PER_M);
    let ratio = air_temperature_k(altitude_m) / SEA_LEVEL_TEMPERATURE_K;
    SEA_LEVEL_PRESSURE_PA * libm::pow(ratio.max(0.0), exponent)
}

/// Standard air density in kg/m³ at an altitude in metres \[1\]. Range as [`air_temperature_k`].
#[must_use]
pub fn air_density_kg_m3(altitude_m: f64) -> f64 {
    air_pressure_pa(altitude_m) / (GAS_CONSTANT_J_KG_K * air_temperature_k(altitude_m))
}

/// Relative optical air mass at sea level \[2\] for an apparent sun elevation in radians.
///
/// Valid above the horizon; a sun below it is treated as standing on it.
#[must_use]
pub fn relative_air_mass(elevation_rad: f64) -> f64 {
    let elevation_rad = elevation_rad.clamp(0.0, std::f64::consts::FRAC_PI_2);
    let zenith_deg = 90.0 - elevation_rad.to_degrees();
    let bend = 0.505_72 * libm::pow(96.079_95 - zenith_deg, -1.636_4);
    1.0 / (libm::sin(elevation_rad) + bend)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of pvlib 0.16.1 `get_relative_airmass(model="kastenyoung1989")`.
    #[test]
    fn air_mass_agrees_with_a_published_implementation() {
        let table = [
            (0.0_f64, 0.999_712),
            (30.0, 1.153_992),
            (60.0, 1.994_293),
            (75.0, 3.812_912),
            (80.0, 5.586_036),
            (85.0, 10.305_791),
        ];
        for (zenith_deg, expected) in table {
            let found = relative_air_mass((90.0 - zenith_deg).to_radians());
            assert!((found - expected).abs() < 1e-6, "{zenith_deg}: {found}");
        }
    }

    /// Values of pvlib 0.16.1 `alt2pres`, whose constants are rounded: 1 Pa.
    #[test]
    fn pressure_agrees_with_a_published_implementation() {
        let table = [
            (0.0, 101_325.0),
            (500.0, 95_460.93),
            (1000.0, 89_874.75),
            (2000.0, 79_495.54),
        ];
        for (altitude_m, expected_pa) in table {
            assert!(
                (air_pressure_pa(altitude_m) - expected_pa).abs() < 1.0,
                "{altitude_m}"
            );
        }
    }

    /// ISO 2533 table values (from memory, to the digits given).
    #[test]
    fn density_is_that_of_the_standard() {
        let table = [
            (0.0, 1.225),
            (500.0, 1.167),
            (1000.0, 1.112),
            (1500.0, 1.058),
            (2000.0, 1.0065),
            (3000.0, 0.909),
        ];
        for (altitude_m, expected) in table {
            assert!(
                (air_density_kg_m3(altitude_m) - expected).abs() < 5e-4,
                "{altitude_m}"
            );
        }
    }
}
