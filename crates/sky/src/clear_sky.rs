//! Beam irradiance under a cloudless sky.
//!
//! # References
//! 1. P. Ineichen, R. Perez, "A new airmass independent formulation for the Linke turbidity
//!    coefficient", Solar Energy 73(3) 151-157, 2002 (beam and global clear-sky model).
//! 2. J. W. Spencer, "Fourier series representation of the position of the sun", Search 2(5) 172,
//!    1971 (distance of the sun; coefficients from memory, checked against an ephemeris).
//! 3. G. Kopp, J. L. Lean, Geophysical Research Letters 38 L01706, 2011 (1,361 W/m²).

use crate::atmosphere::{SEA_LEVEL_PRESSURE_PA, air_pressure_pa, relative_air_mass};

/// Irradiance square to the sun outside the air at the mean distance, W/m² \[3\].
pub const SOLAR_CONSTANT_W_M2: f64 = 1361.0;

/// Irradiance square to the sun outside the air, W/m², on a day (0 … 364) of the year \[2\].
#[must_use]
pub fn extraterrestrial_w_m2(day_of_year: usize) -> f64 {
    let angle_rad = std::f64::consts::TAU * day_of_year as f64 / 365.0;
    let (sin_1, cos_1) = libm::sincos(angle_rad);
    let (sin_2, cos_2) = libm::sincos(2.0 * angle_rad);
    let nearness =
        1.000_110 + 0.034_221 * cos_1 + 0.001_280 * sin_1 + 0.000_719 * cos_2 + 0.000_077 * sin_2;
    SOLAR_CONSTANT_W_M2 * nearness
}

/// Direct normal irradiance under a cloudless sky, W/m² \[1\].
///
/// `elevation_rad` is the sun's apparent elevation; a sun on or below the horizon gives 0.
/// `linke_turbidity` [-] is about 2 in clean mountain air, 3 in clean and 5 in hazy lowland air;
/// the model was fitted for 2 … 7 and altitudes up to a few thousand metres.
#[must_use]
pub fn clear_sky_dni_w_m2(
    altitude_m: f64,
    elevation_rad: f64,
    linke_turbidity: f64,
    extraterrestrial_w_m2: f64,
) -> f64 {
    if elevation_rad <= 0.0 {
        return 0.0;
    }
    let pressure_ratio = air_pressure_pa(altitude_m) / SEA_LEVEL_PRESSURE_PA;
    let air_mass = relative_air_mass(elevation_rad) * pressure_ratio;
    let beam = beam_share(altitude_m, air_mass, linke_turbidity);
    let bound = beam_share_bound(altitude_m, air_mass, linke_turbidity);
    extraterrestrial_w_m2 * beam.min(bound).max(0.0)
}

/// The model's beam formula, as a share of the irradiance outside the air.
fn beam_share(altitude_m: f64, air_mass: f64, linke_turbidity: f64) -> f64 {
    let scale = 0.664 + 0.163 / libm::exp(-altitude_m / 8000.0);
    scale * libm::exp(-0.09 * air_mass * (linke_turbidity - 1.0))
}

/// The beam that the model's global irradiance leaves room for, as a share.
fn beam_share_bound(altitude_m: f64, air_mass: f64, linke_turbidity: f64) -> f64 {
    let rayleigh_height = libm::exp(-altitude_m / 8000.0);
    let haze_height = libm::exp(-altitude_m / 1250.0);
    let level = 5.09e-5 * altitude_m + 0.868;
    let decay = 3.92e-5 * altitude_m + 0.0387;
    let depth = rayleigh_height + haze_height * (linke_turbidity - 1.0);
    let global = level * libm::exp(-decay * air_mass * depth);
    let diffuse = (0.1 - 0.2 * libm::exp(-linke_turbidity)) / (0.1 + 0.882 / rayleigh_height);
    global * (1.0 - diffuse)
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    /// Columns: zenith, turbidity 2, 3 at sea level, 3 at 1,000 m, 5 at sea level.
    #[test]
    fn agrees_with_a_published_implementation() {
        let table = [
            (0.0_f64, [1012.1796, 940.1846, 984.6795, 785.3489]),
            (30.0, [1000.1647, 914.4345, 960.7209, 742.9191]),
            (45.0, [980.3446, 872.8444, 921.8621, 676.8774]),
            (60.0, [937.1850, 786.0746, 840.1012, 548.9893]),
            (75.0, [798.6017, 566.6265, 628.3915, 285.2529]),
            (80.0, [680.8086, 411.8001, 473.4603, 150.6639]),
        ];
        let cases = [(0.0, 2.0), (0.0, 3.0), (1000.0, 3.0), (0.0, 5.0)];
        let pairs = table.into_iter().flat_map(|(zenith_deg, expected)| {
            cases
                .into_iter()
                .zip(expected)
                .map(move |((altitude_m, turbidity), expected_w_m2)| {
                    let elevation_rad = (90.0 - zenith_deg).to_radians();
                    let found = clear_sky_dni_w_m2(altitude_m, elevation_rad, turbidity, 1361.0);
                    (expected_w_m2, found)
                })
        });
        Check {
            id: "sky.clear_sky",
            model: "Direct irradiance of a clear sky",
            equation: "DNI = I₀ (0.664 + 0.163 exp(z ÷ 8000 m)) exp(−0.09 m (T − 1)), at most global less \
                       diffuse; z altitude, m air mass, T Linke turbidity",
            source: "Ineichen & Perez 2002, Solar Energy 73",
            validity: "cloudless sky, turbidity 2 to 7, up to a few thousand metres",
            against: "pvlib 0.16.1, `clearsky.ineichen` without enhancement, at six zenith angles, three \
                      turbidities and two altitudes; its pressure constants are rounded",
            unit: "W/m²",
        }
        .within(0.01, pairs);
    }

    #[test]
    fn the_suns_distance_follows_the_ephemeris() {
        let table = [
            (79, 0.995_965),
            (172, 1.016_235),
            (355, 0.983_731),
            (15, 0.983_678),
            (265, 1.003_393),
        ];
        Check {
            id: "sky.sun_distance",
            model: "Irradiance outside the air",
            equation: "I₀ = 1361 W/m² × a Fourier series of the day's angle",
            source: "Spencer 1971, Search 2 (from memory)",
            validity: "any day; the series knows no leap years",
            against: "distances of five days by the solar position algorithm of Reda & Andreas (pvlib 0.16.1)",
            unit: "W/m²",
        }
        .within_share(
            1.5e-3,
            table.map(|(day, distance_au)| {
                let expected = SOLAR_CONSTANT_W_M2 / (distance_au * distance_au);
                (expected, extraterrestrial_w_m2(day))
            }),
        );
    }

    #[test]
    fn no_beam_from_below_the_horizon_and_less_with_haze() {
        assert!(clear_sky_dni_w_m2(0.0, -0.1, 3.0, 1361.0) == 0.0);
        let mut before = f64::INFINITY;
        for turbidity in [1.5, 2.0, 3.0, 5.0, 8.0] {
            let now = clear_sky_dni_w_m2(500.0, 0.6, turbidity, 1361.0);
            assert!(now < before && now > 0.0);
            before = now;
        }
    }
}
