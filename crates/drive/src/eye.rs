//! How far away a beam that has left its target still harms the eye.
//!
//! C. K. Ho, C. M. Ghanbari, R. B. Diver, "Methodology to assess potential glint and glare hazards
//! from concentrating solar power plants", J. Sol. Energy Eng. 133 (2011) 031021; constants from
//! memory. An eye that looks into the beam gets the retinal irradiance E_r = E_c·(d_p/d_r)²·τ on an
//! image of size d_r = f·ω, with E_c the irradiance in front of the eye and ω the full angle that the
//! bright source subtends. Within the time of a blink it is burnt above 0.118/ω W/cm² (ω < 0.118 rad;
//! 1 W/cm² above), and keeps an after-image above 3.59e-5/ω^1.77 W/cm².

/// Pupil by daylight and focal length of the eye [m], and what its media let through.
const PUPIL_M: f64 = 0.002;
const EYE_FOCAL_LENGTH_M: f64 = 0.017;
const EYE_TRANSMITTANCE: f64 = 0.5;

const W_M2_PER_W_CM2: f64 = 1e4;

/// Full angle of the sun's disc [rad].
const SUN_RAD: f64 = 9.3e-3;

/// Irradiance of the retina [W/m²] when `eye_w_m2` falls on the eye from a source of full angle
/// `source_rad`.
#[must_use]
pub fn retinal_w_m2(eye_w_m2: f64, source_rad: f64) -> f64 {
    let shrink = PUPIL_M / (EYE_FOCAL_LENGTH_M * source_rad);
    eye_w_m2 * shrink * shrink * EYE_TRANSMITTANCE
}

/// Retinal irradiance [W/m²] above which a source of this full angle [rad] burns within a blink.
#[must_use]
pub fn burn_limit_w_m2(source_rad: f64) -> f64 {
    W_M2_PER_W_CM2 * (0.118 / source_rad).max(1.0)
}

/// Retinal irradiance [W/m²] above which a source of this full angle [rad] leaves an after-image.
#[must_use]
pub fn after_image_limit_w_m2(source_rad: f64) -> f64 {
    W_M2_PER_W_CM2 * 3.59e-5 / libm::pow(source_rad, 1.77)
}

/// The beam of mirrors that shine on one place, beyond where it is narrowest.
///
/// As far as it has spread out, it is a cone. The eye sees no more than the sun's brightness, less
/// what the mirrors take: so the bright part of the source subtends the sun's angle times the root of
/// the concentration in front of the eye.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glint {
    /// Power of the beam [W].
    pub power_w: f64,
    /// Half-angle of the cone into which it spreads beyond its waist [rad].
    pub half_angle_rad: f64,
    /// Radius of its waist [m].
    pub waist_m: f64,
    /// Direct normal irradiance [W/m²] times the mirrors' reflectance.
    pub sun_w_m2: f64,
}

impl Glint {
    /// Irradiance in front of an eye at this distance beyond the waist [W/m²].
    #[must_use]
    pub fn eye_w_m2(&self, beyond_m: f64) -> f64 {
        let radius_m = self.waist_m + beyond_m * self.half_angle_rad;
        self.power_w / (std::f64::consts::PI * radius_m * radius_m)
    }

    /// Full angle that the bright part of the source subtends for that eye [rad].
    #[must_use]
    pub fn source_rad(&self, beyond_m: f64) -> f64 {
        SUN_RAD * (self.eye_w_m2(beyond_m) / self.sun_w_m2).sqrt()
    }

    /// Distance beyond the waist [m] within which the beam leaves an after-image; 0 if it never does.
    #[must_use]
    pub fn after_image_m(&self) -> f64 {
        self.harmful_m(after_image_limit_w_m2)
    }

    /// Distance beyond the waist [m] within which the beam burns the retina before the lid closes; 0
    /// if it never does.
    #[must_use]
    pub fn burn_m(&self) -> f64 {
        self.harmful_m(burn_limit_w_m2)
    }

    /// The brightness on the retina is the same at every distance, while the limit rises as the source
    /// shrinks: so there is one angle below which no harm is done, and one distance at which the
    /// source has shrunk to it. Found by halving the interval of angles.
    fn harmful_m(&self, limit_w_m2: impl Fn(f64) -> f64) -> f64 {
        let retinal_w_m2 = retinal_w_m2(self.sun_w_m2, SUN_RAD);
        let (mut harmless_rad, mut harmful_rad) = (1e-6, std::f64::consts::PI);
        if limit_w_m2(harmful_rad) > retinal_w_m2 {
            return 0.0;
        }
        for _ in 0..60 {
            let middle_rad = 0.5 * (harmless_rad + harmful_rad);
            if limit_w_m2(middle_rad) > retinal_w_m2 {
                harmless_rad = middle_rad;
            } else {
                harmful_rad = middle_rad;
            }
        }
        let eye_w_m2 = self.sun_w_m2 * (harmful_rad / SUN_RAD) * (harmful_rad / SUN_RAD);
        let radius_m = (self.power_w / (std::f64::consts::PI * eye_w_m2)).sqrt();
        ((radius_m - self.waist_m) / self.half_angle_rad).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use book::Check;

    use super::*;

    /// Limits and irradiance at the eye of the published method, worked out for several angles
    /// (constants from memory).
    #[test]
    fn limits_follow_the_published_ones() {
        let table = [
            (0.0010, 118.000, 7.329_839, 0.017_051),
            (0.0050, 23.600, 0.424_539, 0.085_255),
            (0.0093, 12.688_17, 0.141_540, 0.158_574),
            (0.0500, 2.360_00, 0.007_210, 0.852_550),
            (0.1180, 1.000_00, 0.001_577, 2.012_018),
        ];
        let burn = Check {
            id: "drive.eye_burnt",
            model: "Light on the retina that burns within a blink",
            equation: "0.118 ÷ ω W/cm², at least 1, ω the angle of the bright source",
            source: "Ho, Ghanbari & Diver 2011, J. Sol. Energy Eng. 133 (constants from memory)",
            validity: "daylight pupils, 0.15 s",
            against: "the published method worked out for five angles",
            unit: "W/cm²",
        };
        burn.within_share(
            1e-6,
            table.map(|(source_rad, burn_w_cm2, ..)| {
                (burn_w_cm2, burn_limit_w_m2(source_rad) / W_M2_PER_W_CM2)
            }),
        );
        Check {
            id: "drive.eye_dazzled",
            model: "Light on the retina that leaves an after-image",
            equation: "3.59e-5 ÷ ω^1.77 W/cm²",
            ..burn
        }
        .within_share(
            5e-4,
            table.map(|(source_rad, _, after_image_w_cm2, _)| {
                let found = after_image_limit_w_m2(source_rad);
                (after_image_w_cm2, found / W_M2_PER_W_CM2)
            }),
        );
        for (source_rad, burn_w_cm2, _, eye_at_burn_w_cm2) in table {
            let retinal = retinal_w_m2(eye_at_burn_w_cm2 * W_M2_PER_W_CM2, source_rad);
            assert!((retinal / W_M2_PER_W_CM2 / burn_w_cm2 - 1.0).abs() < 1e-4);
        }
    }

    /// The sun itself, 0.1 W/cm² under 9.3 mrad: 8.00 W/cm² on the retina, below the burn.
    #[test]
    fn the_sun_does_not_burn_within_a_blink() {
        let retinal = retinal_w_m2(1000.0, SUN_RAD) / W_M2_PER_W_CM2;
        assert!((retinal - 8.001_41).abs() < 1e-4);
        assert!(retinal * W_M2_PER_W_CM2 < burn_limit_w_m2(SUN_RAD));
    }

    /// No mirror outshines the sun, so mirrors of 93 % burn from 0.118 ÷ 7.441 = 15.857 mrad on.
    #[test]
    fn the_burn_line_is_crossed_where_the_glint_is_wide_enough() {
        let glint = Glint {
            power_w: 12e3,
            half_angle_rad: 0.02,
            waist_m: 0.3,
            sun_w_m2: 930.0,
        };
        let burn_m = glint.burn_m();
        assert!((glint.source_rad(burn_m) - 15.857e-3).abs() < 2e-6);
        let after_image_m = glint.after_image_m();
        assert!(after_image_m > 10.0 * burn_m);
        let retinal = retinal_w_m2(
            glint.eye_w_m2(after_image_m),
            glint.source_rad(after_image_m),
        );
        let limit = after_image_limit_w_m2(glint.source_rad(after_image_m));
        assert!((retinal / limit - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_weak_beam_burns_nobody() {
        let glint = Glint {
            power_w: 100.0,
            half_angle_rad: 0.02,
            waist_m: 0.5,
            sun_w_m2: 930.0,
        };
        assert_eq!(glint.burn_m(), 0.0);
    }
}
