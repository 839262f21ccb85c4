//! Yearly figures of strings with exact drives and mirrors that lose nothing but light.

use drive::{Control, Drives, Line, Mechanism, OffsetPlace, Sensing, Tolerances, Travel};
use field::{Plan, Stance};
use geometry::{LANES, Vec3, direction, lane};
use optics::{
    Aperture, Attenuation, Facets, MirrorLight, Mirrors, Reflectance, Scene, SunBlur, Surroundings,
};

use crate::string::{AIM_M, Build, Place, SIDE_M, plan};
use crate::year::{LATITUDE_RAD, LOWEST_SUN_RAD, Weighted, suns};

/// Distances of the strings from the tower, in aim heights: middles of eight equal steps from 1 to
/// 2.5.
const DISTANCES: [f64; 8] = [
    1.09375, 1.28125, 1.46875, 1.65625, 1.84375, 2.03125, 2.21875, 2.40625,
];
/// Azimuths of the strings [deg].
const AZIMUTHS_DEG: [f64; 5] = [-55.0, -30.0, 0.0, 30.0, 55.0];
/// Slope error for each axis.
const SLOPE_RAD: f64 = 1.5e-3;
/// The aperture looks north and down by 15°, the tilt at which most figures meet.
const APERTURE_TILT_RAD: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// Means over all places and the year's sun.
#[derive(Clone, Copy, Debug)]
pub struct Figures {
    /// Share of the panels, as the sun sees them, that is neither shaded nor blocked.
    pub lit: f64,
    /// Beam error, root mean square.
    pub rms_rad: f64,
    /// Light of a mirror through the aperture ÷ that of one that stands alone.
    pub against_one: f64,
}

impl Figures {
    /// Figures of strings of `mirrors` mirrors at all places before a square aperture.
    pub fn new(build: &Build, mirrors: usize, aperture_m: f64) -> Self {
        let (mut string, mut alone) = (Sums::default(), Sums::default());
        for place in places() {
            string.add_plan(&plan(build, place, mirrors), aperture_m);
            alone.add_plan(&plan(build, place, 1), aperture_m);
        }
        Self {
            lit: string.open / string.facing,
            rms_rad: (string.miss_rad2 / string.dni).sqrt(),
            against_one: string.inside / alone.inside / mirrors as f64,
        }
    }
}

fn places() -> impl Iterator<Item = Place> {
    DISTANCES.into_iter().flat_map(|distance| {
        AZIMUTHS_DEG.map(|azimuth_deg| Place {
            azimuth_deg,
            distance_m: distance * AIM_M,
        })
    })
}

/// Sums over mirrors and suns, all weighted with DNI.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    dni: f64,
    miss_rad2: f64,
    facing: f64,
    open: f64,
    inside: f64,
}

impl Sums {
    /// Adds the year of a plan of one string.
    fn add_plan(&mut self, plan: &Plan, aperture_m: f64) {
        let around = Surroundings::new(plan, LOWEST_SUN_RAD);
        let hood = around.of_all();
        let drives = Drives::prepare(plan, &mechanism());
        let aperture = Aperture::facing(0.0, APERTURE_TILT_RAD, plan.aim_m, aperture_m, aperture_m);
        let (mirrors, mut stance) = (mirrors(), Stance::default());
        for block in suns() {
            let suns = lane::columns(&block.map(|weighted| weighted.sun));
            drives.stand(plan, 0, &suns, &mut stance);
            let all = plan.strings[0].mirrors();
            let add = |mirror: usize, light: &MirrorLight| {
                let miss_rad = |sun: Vec3| drives.residual_rad(plan, mirror, sun);
                self.add_mirror(&block, light, miss_rad);
            };
            Scene {
                plan,
                hood: &hood,
                mirrors: &mirrors,
                aperture: &aperture,
            }
            .under(&suns)
            .each_mirror(0, all, &stance, add);
        }
    }

    fn add_mirror(
        &mut self,
        block: &[Weighted; LANES],
        light: &MirrorLight,
        miss_rad: impl Fn(Vec3) -> f64,
    ) {
        for (lane, &Weighted { sun, dni }) in block.iter().enumerate() {
            let miss_rad = miss_rad(sun);
            let facing = dni * light.cosine[lane];
            let open = facing * light.lit[lane] * light.unblocked[lane];
            self.dni += dni;
            self.miss_rad2 += dni * miss_rad * miss_rad;
            self.facing += facing;
            self.open += open;
            self.inside += open * light.intercept[lane];
        }
    }
}

/// No tolerances, no stretch; every mirror set on its target with the sun in the south at 55°.
fn mechanism() -> Mechanism {
    Mechanism {
        latitude_rad: LATITUDE_RAD,
        alignment_sun: direction::from_azimuth_elevation(180f64.to_radians(), 55f64.to_radians()),
        offset: OffsetPlace::Shim,
        control: Control::Reference,
        tolerances: Tolerances::default(),
        line: Line {
            wind_moment_rms_n_m: 0.0,
            pitch_m: SIDE_M,
            axial_stiffness_n: f64::INFINITY,
            lever_m: 1.0,
            driven_from_middle: true,
            warmth_rad_m: 0.0,
            coupling_play_m: 0.0,
        },
        travel: Travel::FREE,
        sensing: Sensing::OpenLoop,
    }
}

/// Paraboloids with a slope error that reflect all light.
fn mirrors() -> Mirrors {
    Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 1.0,
            glass_thickness_m: 0.0,
            extinction_per_m: 0.0,
            cleanliness: 1.0,
        },
        slope_error_rad: SLOPE_RAD,
        scatter_rad: 0.0,
        bending_residual: 0.0,
        gravity_slope_rad: 0.0,
        sun: SunBlur::EVEN_DISC,
        attenuation: Attenuation::ClearAir,
    }
}
