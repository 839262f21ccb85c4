//! Exposures of ASCE 7: how the gust, the mean and the turbulence change with height.

/// Three-second gust over the ten-minute mean: gusts are 1.52 times the hourly mean (Durst, from
/// memory), which is 1/1.07 of the ten-minute mean.
pub const GUST_OVER_MEAN: f64 = 1.52 / 1.07;

/// Height at which the basic speed is told.
const REFERENCE_M: f64 = 10.0;

/// Constants of one exposure (ASCE 7-10, tables 26.9-1 and 26.11-1; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// Typical roughness length.
    roughness_m: f64,
    /// Exponent α of the gust's power law, and its gradient height.
    gust_exponent: f64,
    gradient_height_m: f64,
    /// Height below which the gust's profile is constant.
    gust_least_height_m: f64,
    /// Hourly mean at 10 m over the basic gust, and the exponent of the mean's power law.
    mean_share: f64,
    mean_exponent: f64,
    /// Turbulence at 10 m.
    turbulence: f64,
    /// Height below which mean and turbulence are constant.
    least_height_m: f64,
}

const EXPOSURES: [Exposure; 3] = [
    // B: suburbs and wood.
    Exposure {
        roughness_m: 0.3,
        gust_exponent: 7.0,
        gradient_height_m: 365.76,
        gust_least_height_m: 9.14,
        mean_share: 0.45,
        mean_exponent: 1.0 / 4.0,
        turbulence: 0.30,
        least_height_m: 9.14,
    },
    // C: open land.
    Exposure {
        roughness_m: 0.02,
        gust_exponent: 9.5,
        gradient_height_m: 274.32,
        gust_least_height_m: 4.57,
        mean_share: 0.65,
        mean_exponent: 1.0 / 6.5,
        turbulence: 0.20,
        least_height_m: 4.57,
    },
    // D: flat land and water.
    Exposure {
        roughness_m: 0.005,
        gust_exponent: 11.5,
        gradient_height_m: 213.36,
        gust_least_height_m: 4.57,
        mean_share: 0.80,
        mean_exponent: 1.0 / 9.0,
        turbulence: 0.15,
        least_height_m: 2.13,
    },
];

impl Exposure {
    /// The exposure whose typical roughness is nearest, by ratio.
    pub fn nearest(roughness_m: f64) -> &'static Self {
        let apart = |one: &Self| libm::log(one.roughness_m / roughness_m).abs();
        EXPOSURES.iter().fold(&EXPOSURES[0], |nearest, next| {
            if apart(next) < apart(nearest) {
                next
            } else {
                nearest
            }
        })
    }

    /// Gust pressure over that at 10 m in open land, K_z = 2.01·(z/z_g)^(2/α).
    pub fn pressure_coefficient(&self, height_m: f64) -> f64 {
        let height_m = height_m.max(self.gust_least_height_m);
        2.01 * libm::pow(height_m / self.gradient_height_m, 2.0 / self.gust_exponent)
    }

    /// Hourly mean speed over the basic gust, b·(z/10 m)^a.
    pub fn mean_over_gust(&self, height_m: f64) -> f64 {
        let height_m = height_m.max(self.least_height_m);
        self.mean_share * libm::pow(height_m / REFERENCE_M, self.mean_exponent)
    }

    /// Turbulence intensity c·(10 m/z)^(1/6).
    pub fn turbulence(&self, height_m: f64) -> f64 {
        let height_m = height_m.max(self.least_height_m);
        self.turbulence * libm::pow(REFERENCE_M / height_m, 1.0 / 6.0)
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    /// Constant below 4.6 m. Exposure B 0.70 at 30 ft, exposure D 1.18 at 33 ft (table 27.3-1, from memory).
    #[test]
    fn exposure_coefficients_come_out() {
        let open = Exposure::nearest(0.03);
        let table = [(4.6, 0.850), (6.1, 0.902), (10.0, 1.001)];
        Check {
            id: "structure.exposure_of_gusts",
            model: "Pressure of three-second gusts by height",
            equation: "K_z = 2.01 (z ÷ z_g)^(2/α), z at least 4.6 m",
            source: "ASCE 7, table 27.3-1 (from memory)",
            validity: "exposures B, C and D",
            against: "the standard's table for exposure C at three heights (from memory)",
            unit: "",
        }
        .within_share(
            3e-3,
            table.map(|(height_m, wanted)| (wanted, open.pressure_coefficient(height_m))),
        );
        assert_eq!(
            open.pressure_coefficient(0.5),
            open.pressure_coefficient(4.5)
        );
        let (town, flat) = (Exposure::nearest(0.4), Exposure::nearest(0.001));
        assert!((town.pressure_coefficient(9.14) / 0.70 - 1.0).abs() < 5e-3);
        assert!((flat.pressure_coefficient(10.0) / 1.18 - 1.0).abs() < 5e-3);
    }

    /// Gust pressure over mean pressure is close to 1 + 7I: the code's own three laws go together.
    #[test]
    fn gust_mean_and_turbulence_go_together() {
        let open = Exposure::nearest(0.02);
        for height_m in [4.57, 10.0, 30.0] {
            let mean = open.mean_over_gust(height_m);
            let ratio = open.pressure_coefficient(height_m) / (mean * mean);
            let expected = 1.0 + 7.0 * open.turbulence(height_m);
            assert!((ratio / expected - 1.0).abs() < 0.06, "{ratio} {expected}");
        }
    }
}
