//! Wind near the ground: mean speed, turbulence and gust pressure after EN 1991-1-4.

use crate::StructureError;
use crate::error::require_positive;

/// Roughness of the land upwind (EN 1991-1-4, table 4.1; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terrain {
    /// Roughness length.
    pub roughness_m: f64,
    /// Height below which speed and turbulence are taken as constant.
    pub least_height_m: f64,
}

impl Terrain {
    /// Category I: flat land without obstacles, lakes.
    pub const FLAT: Self = Self {
        roughness_m: 0.01,
        least_height_m: 1.0,
    };
    /// Category II: low vegetation and single obstacles.
    pub const OPEN: Self = Self {
        roughness_m: 0.05,
        least_height_m: 2.0,
    };
    /// Category III: villages, suburbs, forest.
    pub const SUBURBAN: Self = Self {
        roughness_m: 0.3,
        least_height_m: 5.0,
    };

    fn log_height(&self, height_m: f64) -> f64 {
        libm::log(height_m.max(self.least_height_m) / self.roughness_m)
    }

    /// Mean speed at a height over the basic speed (10 m, open terrain): k_r·ln(z/z0) with k_r =
    /// 0.19(z0/0.05)^0.07 (EN 1991-1-4, eq. 4.4, 4.5).
    #[must_use]
    pub fn speed_ratio(&self, height_m: f64) -> f64 {
        let terrain_factor = 0.19 * libm::pow(self.roughness_m / Self::OPEN.roughness_m, 0.07);
        terrain_factor * self.log_height(height_m)
    }

    /// Turbulence intensity 1/ln(z/z0) (EN 1991-1-4, eq. 4.7).
    #[must_use]
    pub fn turbulence(&self, height_m: f64) -> f64 {
        self.log_height(height_m).recip()
    }

    /// Gust pressure over mean pressure, 1 + 7·turbulence (EN 1991-1-4, eq. 4.8).
    #[must_use]
    pub fn gust_ratio(&self, height_m: f64) -> f64 {
        1.0 + 7.0 * self.turbulence(height_m)
    }

    /// Share of the gust load that reaches a front of this size at once: (1 + 7I·B)/(1 + 7I), with
    /// B² = 1/(1 + 0.9((b + h)/L)^0.63) and L = 300(z/200)^(0.67 + 0.05 ln z0) (EN 1991-1-4, eq. 6.2,
    /// B.1 and B.3; from memory).
    #[must_use]
    pub fn size_factor(&self, height_m: f64, front_width_m: f64, front_height_m: f64) -> f64 {
        let exponent = 0.67 + 0.05 * libm::log(self.roughness_m);
        let gust_length_m = 300.0 * libm::pow(height_m.max(self.least_height_m) / 200.0, exponent);
        let span = (front_width_m + front_height_m) / gust_length_m;
        let background = (1.0 / (1.0 + 0.9 * libm::pow(span, 0.63))).sqrt();
        let gust = self.gust_ratio(height_m);
        (1.0 + (gust - 1.0) * background) / gust
    }
}

/// The wind a field is built for. Speeds are ten-minute means at 10 m in open terrain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Land upwind.
    pub terrain: Terrain,
    /// Air density.
    pub air_density_kg_m3: f64,
    /// Strongest wind in which mirrors track.
    pub operate_m_s: f64,
    /// Strongest wind in which mirrors still move to stow, in any position.
    pub drive_to_stow_m_s: f64,
    /// Wind to be survived in stow.
    pub survive_m_s: f64,
    /// Representative wind while tracking: best the fourth root of the mean fourth power, because
    /// errors grow with the square of speed.
    pub rms_operating_m_s: f64,
}

impl Wind {
    pub(crate) fn check(&self) -> Result<(), StructureError> {
        let terrain = &self.terrain;
        require_positive(&[
            ("air_density_kg_m3", self.air_density_kg_m3),
            ("operate_m_s", self.operate_m_s),
            ("drive_to_stow_m_s", self.drive_to_stow_m_s),
            ("survive_m_s", self.survive_m_s),
            ("rms_operating_m_s", self.rms_operating_m_s),
            ("roughness_m", terrain.roughness_m),
            (
                "least_height_m above roughness_m",
                terrain.least_height_m - terrain.roughness_m,
            ),
        ])
    }

    /// Mean dynamic pressure at a height.
    #[must_use]
    pub fn mean_pressure_pa(&self, speed_m_s: f64, height_m: f64) -> f64 {
        let local_m_s = speed_m_s * self.terrain.speed_ratio(height_m);
        0.5 * self.air_density_kg_m3 * local_m_s * local_m_s
    }

    /// Gust pressure at a height, (1 + 7I)·½ρv² (EN 1991-1-4, eq. 4.8).
    #[must_use]
    pub fn gust_pressure_pa(&self, speed_m_s: f64, height_m: f64) -> f64 {
        self.terrain.gust_ratio(height_m) * self.mean_pressure_pa(speed_m_s, height_m)
    }

    /// Root mean square over time of the dynamic pressure while tracking: the mean pressure ×
    /// √(1 + 6I² + 3I⁴), exact for a speed spread normally about its mean.
    #[must_use]
    pub fn rms_pressure_pa(&self, height_m: f64) -> f64 {
        let variance = self.terrain.turbulence(height_m) * self.terrain.turbulence(height_m);
        let spread = (1.0 + 6.0 * variance + 3.0 * variance * variance).sqrt();
        spread * self.mean_pressure_pa(self.rms_operating_m_s, height_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BASIC: Wind = Wind {
        terrain: Terrain::OPEN,
        air_density_kg_m3: 1.25,
        operate_m_s: 12.0,
        drive_to_stow_m_s: 22.0,
        survive_m_s: 27.0,
        rms_operating_m_s: 5.0,
    };

    fn exposure(height_m: f64) -> f64 {
        BASIC.gust_pressure_pa(27.0, height_m) / (0.5 * 1.25 * 27.0 * 27.0)
    }

    /// EN 1991-1-4 (from memory), basic speed 27 m/s, category II, 10 m: mean 27.18 m/s, turbulence
    /// 0.1887, gust pressure 1072 Pa, exposure 2.352 (chart: 2.35).
    #[test]
    fn gust_pressure_at_ten_metres() {
        assert!((27.0 * Terrain::OPEN.speed_ratio(10.0) - 27.18).abs() < 0.01);
        assert!((Terrain::OPEN.turbulence(10.0) - 0.1887).abs() < 1e-4);
        assert!((BASIC.gust_pressure_pa(27.0, 10.0) / 1072.0 - 1.0).abs() < 2e-3);
        assert!((exposure(10.0) / 2.352 - 1.0).abs() < 2e-3);
    }

    /// Exposure at 2, 3, 4 and 5 m (EN 1991-1-4, from memory); constant below 2 m.
    #[test]
    fn exposure_near_the_ground() {
        for (height_m, expected) in [(2.0, 1.423), (3.0, 1.640), (4.0, 1.801), (5.0, 1.929)] {
            assert!(
                (exposure(height_m) / expected - 1.0).abs() < 2e-3,
                "{height_m}"
            );
        }
        assert_eq!(exposure(0.8), exposure(2.0));
    }

    /// Log law over a roughness of 0.03 m (from memory): speed at 2, 3, 5 m over that at 10 m, and
    /// turbulence at 3 m.
    #[test]
    fn log_law_holds() {
        let grass = Terrain {
            roughness_m: 0.03,
            least_height_m: 1.0,
        };
        for (height_m, expected) in [(2.0, 0.723), (3.0, 0.793), (5.0, 0.881)] {
            let ratio = grass.speed_ratio(height_m) / grass.speed_ratio(10.0);
            assert!((ratio / expected - 1.0).abs() < 1e-3, "{height_m}");
        }
        assert!((grass.turbulence(3.0) / 0.217 - 1.0).abs() < 2e-3);
    }

    /// ASCE 7 (from memory): exposure coefficient 2.01(z/274.3 m)^(2/9.5), 0.850, 0.902 and 1.001 at
    /// 4.6, 6.1 and 10 m, on the three-second gust, which is 1.52 times the hourly mean (Durst, from
    /// memory). The two codes agree on gust pressure within a tenth.
    #[test]
    fn two_codes_agree() {
        for (height_m, coefficient) in [(4.6, 0.850), (6.1, 0.902), (10.0, 1.001)] {
            let kz = 2.01 * libm::pow(height_m / 274.3, 2.0 / 9.5);
            assert!((kz / coefficient - 1.0).abs() < 3e-3, "{height_m}");
            let gust_m_s = 1.52 * 27.0;
            let asce_pa = 0.5 * 1.25 * kz * gust_m_s * gust_m_s;
            assert!((BASIC.gust_pressure_pa(27.0, height_m) / asce_pa - 1.0).abs() < 0.1);
        }
    }

    /// Gusts fall off less near the ground than the mean does: a figure of 0.70 from 1.2 m to 5 m
    /// for gusts against 0.52 for the mean is quoted (common practice, no source).
    #[test]
    fn gusts_fall_off_less_than_the_mean() {
        let gust = exposure(1.2) / exposure(5.0);
        let mean = BASIC.mean_pressure_pa(27.0, 1.2) / BASIC.mean_pressure_pa(27.0, 5.0);
        assert!((0.65..0.80).contains(&gust), "{gust}");
        assert!(mean < gust, "{mean}");
    }

    #[test]
    fn larger_fronts_catch_a_smaller_share_of_a_gust() {
        let small = Terrain::OPEN.size_factor(1.5, 1.0, 1.0);
        let large = Terrain::OPEN.size_factor(1.5, 40.0, 1.0);
        assert!(
            large < small && small < 1.0 && large > 0.6,
            "{small} {large}"
        );
    }
}
