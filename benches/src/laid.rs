//! A field laid out and ready for light.

use drive::{Control, Drives, Line, Mechanism, OffsetPlace, Sensing, Tolerances, Travel};
use field::{Plan, Stance};
use geometry::{LANES, LaneVec3, lane};
use optics::{
    Aperture, Attenuation, CORNER_PULLED_SQUARE, Facets, LightSums, Mirrors, Reflectance, Scene,
    SunBlur, Surroundings,
};
use rays::{Judge, Outline, Posture, Shape, SunShape, Surface};
use tautfield_tests::Works;

/// A plan with all that its light depends on. The plan is that of a design; tolerances, line and
/// mirrors are invented and of the usual size.
pub struct Laid {
    /// Where the mirrors stand.
    pub plan: Plan,
    /// How they turn.
    pub drives: Drives,
    /// What neighbours see of one another.
    pub around: Surroundings,
    /// The first eight suns of the case's table.
    pub suns: LaneVec3,
    mirrors: Mirrors,
    aperture: Aperture,
}

impl Laid {
    /// The field of a design.
    ///
    /// # Panics
    /// When the design breaks a limit.
    #[must_use]
    pub fn new(works: &Works) -> Self {
        let (case, design) = (&works.case, &works.design);
        let plan = model::detail(case, design).expect("a sound design").plan;
        let mechanism = Mechanism {
            latitude_rad: case.scenario.site.latitude_rad,
            alignment_sun: case.alignment_sun,
            offset: OffsetPlace::Shim,
            control: Control::Reference,
            tolerances: tolerances(),
            line: line(),
            travel: Travel::FREE,
            sensing: Sensing::OpenLoop,
        };
        Self {
            drives: Drives::prepare(&plan, &mechanism),
            around: Surroundings::new(&plan, case.sun.min_elevation_rad),
            suns: case.sun.direction[0],
            mirrors: mirrors(case.sun_blur),
            aperture: Aperture::facing(
                case.scenario.field.sector_centre_rad,
                design.aperture_tilt_rad,
                plan.aim_m,
                design.aperture_width_m,
                design.aperture_height_m,
            ),
            plan,
        }
    }

    /// Light of all strings under the eight suns: neighbours listed, mirrors turned, light summed.
    #[must_use]
    pub fn light_of_all(&self) -> f64 {
        let mut stance = Stance::default();
        let strings = 0..self.plan.strings.len();
        strings
            .map(|string| {
                self.drives
                    .stand(&self.plan, string, &self.suns, &mut stance);
                let [.., inside_m2] = self.light(string, &stance).steps_m2;
                inside_m2.iter().sum::<f64>()
            })
            .sum()
    }

    /// How all mirrors stand under each of the eight suns.
    #[must_use]
    pub fn postures(&self) -> [Posture; LANES] {
        let mut postures = std::array::from_fn(|sun| Posture::under(lane::vector(&self.suns, sun)));
        let mut stance = Stance::default();
        for string in 0..self.plan.strings.len() {
            self.drives
                .stand(&self.plan, string, &self.suns, &mut stance);
            for (sun, posture) in postures.iter_mut().enumerate() {
                posture.add(&stance, sun);
            }
        }
        postures
    }

    /// Ready for rays.
    ///
    /// # Panics
    /// When the field cannot be traced.
    #[must_use]
    pub fn judge<'a>(&'a self, posture: &'a Posture) -> Judge<'a> {
        let surface = Surface {
            facets: [1, 1],
            shape: Shape::CornerPulled,
            slope_error_rad: self.mirrors.slope_error_rad,
            scatter_rad: self.mirrors.scatter_rad,
            reflectance: &|_| 0.93,
            transmittance: &|way_m| 0.99 - 1e-4 * way_m,
        };
        let aperture = rays::Aperture {
            centre_m: self.aperture.centre_m,
            normal: self.aperture.normal,
            right: self.aperture.right,
            up: self.aperture.up,
            outline: Outline::Rectangle,
            width_m: self.aperture.width_m(),
            height_m: self.aperture.height_m(),
            columns: 15,
            rows: 15,
        };
        let sun = SunShape::Disc {
            radius_rad: optics::DISC_RAD,
        };
        Judge::new(&self.plan, posture, surface, sun, aperture).expect("a field under the sun")
    }

    /// Light of one string under the eight suns, from its stance.
    #[must_use]
    pub fn light(&self, string: usize, stance: &Stance) -> LightSums {
        let mut sums = LightSums::default();
        let hood = self.around.of_mirrors(self.plan.strings[string].mirrors());
        Scene {
            plan: &self.plan,
            hood: &hood,
            mirrors: &self.mirrors,
            aperture: &self.aperture,
        }
        .under(&self.suns)
        .add_light(
            string,
            0..self.plan.strings[string].mirror_count,
            stance,
            &mut sums,
        );
        sums
    }
}

fn tolerances() -> Tolerances {
    Tolerances {
        post_tilt_rad: 1e-3,
        axis_squareness_rad: 1e-3,
        joint_play_rad: 5e-4,
        offset_setting_rad: 5e-4,
        lever_ratio: 2e-3,
        encoder_rad: 3e-4,
    }
}

fn line() -> Line {
    Line {
        wind_moment_rms_n_m: 4.0,
        pitch_m: 1.2,
        axial_stiffness_n: 4e6,
        lever_m: 0.4,
        driven_from_middle: true,
        warmth_rad_m: 0.0,
        coupling_play_m: 0.0,
    }
}

fn mirrors(sun: SunBlur) -> Mirrors {
    Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 0.96,
            glass_thickness_m: 5e-3,
            extinction_per_m: 4.0,
            cleanliness: 0.95,
        },
        slope_error_rad: 1e-3,
        scatter_rad: 3e-4,
        bending_residual: CORNER_PULLED_SQUARE,
        gravity_slope_rad: 3e-4,
        sun,
        attenuation: Attenuation::ClearAir,
    }
}
