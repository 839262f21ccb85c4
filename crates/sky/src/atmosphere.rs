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
    use book::Check;

    use super::*;

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
        Check {
            id: "sky.air_mass",
            model: "Relative air mass",
            equation: "m = 1 ÷ (sin h + 0.50572 (96.07995 − z)^−1.6364), h elevation, z zenith angle in degrees",
            source: "Kasten & Young 1989, Appl. Optics 28",
            validity: "sun above the horizon",
            against: "six zenith angles of pvlib 0.16.1, `get_relative_airmass`",
            unit: "",
        }
        .within(
            1e-6,
            table.map(|(zenith_deg, expected)| {
                (expected, relative_air_mass((90.0 - zenith_deg).to_radians()))
            }),
        );
    }

    #[test]
    fn pressure_agrees_with_a_published_implementation() {
        let table = [
            (0.0, 101_325.0),
            (500.0, 95_460.93),
            (1000.0, 89_874.75),
            (2000.0, 79_495.54),
        ];
        Check {
            id: "sky.air_pressure",
            model: "Air pressure at altitude",
            equation: "p = p₀ (1 − L z ÷ T₀)^(g ÷ (R L)), z altitude, L lapse of temperature, R gas constant of air",
            source: "ISO 2533, standard atmosphere",
            validity: "below 11 km",
            against: "four altitudes of pvlib 0.16.1, `alt2pres`, whose constants are rounded",
            unit: "Pa",
        }
        .within(
            1.0,
            table.map(|(altitude_m, expected_pa)| (expected_pa, air_pressure_pa(altitude_m))),
        );
    }

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
        Check {
            id: "sky.air_density",
            model: "Air density at altitude",
            equation: "ρ = p ÷ (R T)",
            source: "ISO 2533, standard atmosphere",
            validity: "below 11 km, at the standard's temperature",
            against: "the standard's table at six altitudes (from memory, to the digits given)",
            unit: "kg/m³",
        }
        .within(
            5e-4,
            table.map(|(altitude_m, expected)| (expected, air_density_kg_m3(altitude_m))),
        );
    }
}
