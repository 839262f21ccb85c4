//! Small fields, suns and ideal postures for trials of the light kernel.
#![allow(dead_code)] // each trial uses only some of these

pub mod standing;

use field::{FirstAxis, Linkage, Plan, Stance, StringRow};
use geometry::{LANES, LaneVec3, Vec3, direction, lane};
use optics::{Aperture, Attenuation, Facets, Mirrors, Reflectance, SunBlur};

/// How a trial field is laid: strings end to end in rows across a sector north of the tower.
#[derive(Clone, Copy)]
pub struct Layout {
    pub strings: usize,
    pub mirrors: usize,
    pub side_m: f64,
    pub pitch_m: f64,
    pub row_spacing_m: f64,
    pub inner_m: f64,
    pub sector_half_rad: f64,
    /// Bearing = 90° + this × azimuth of the place.
    pub fan: f64,
    pub mount_m: f64,
    pub aim_m: f64,
}

impl Layout {
    /// Dense rows of 15 mirrors before a 40 m tower.
    pub fn dense(strings: usize) -> Self {
        Self {
            strings,
            mirrors: 15,
            side_m: 0.95,
            pitch_m: 1.2,
            row_spacing_m: 2.0,
            inner_m: 28.0,
            sector_half_rad: 1.0,
            fan: 1.0 / 3.0,
            mount_m: 1.1,
            aim_m: 40.0,
        }
    }

    pub fn plan(&self) -> Plan {
        let mut plan = Plan {
            aim_m: Vec3::new(0.0, 0.0, self.aim_m),
            ..Plan::default()
        };
        let length_m = self.mirrors as f64 * self.pitch_m + 0.6;
        let mut row = 0;
        while plan.strings.len() < self.strings {
            let radius_m = self.inner_m + row as f64 * self.row_spacing_m;
            let along = 1.0 - self.fan;
            let mut azimuth_rad = -self.sector_half_rad + 0.5 * length_m / radius_m;
            while azimuth_rad < self.sector_half_rad && plan.strings.len() < self.strings {
                let here_m = radius_m * libm::pow(libm::cos(along * azimuth_rad), -1.0 / along);
                let bearing_rad = std::f64::consts::FRAC_PI_2 + self.fan * azimuth_rad;
                let middle = here_m * direction::along_bearing(azimuth_rad);
                self.push_string(&mut plan, middle, bearing_rad, row);
                azimuth_rad += length_m * libm::cos(along * azimuth_rad) / here_m;
            }
            row += 1;
        }
        plan
    }

    fn push_string(&self, plan: &mut Plan, middle: Vec3, bearing_rad: f64, row: usize) {
        let along = direction::along_bearing(bearing_rad);
        plan.strings.push(StringRow {
            first_mirror: plan.mirror_count(),
            mirror_count: self.mirrors,
            bearing_rad,
            first_axis: FirstAxis::Along,
            linkage: Linkage::EqualAngle,
            row,
        });
        for place in 0..self.mirrors {
            let shift_m = (place as f64 - 0.5 * (self.mirrors - 1) as f64) * self.pitch_m;
            let centre = middle + shift_m * along + self.mount_m * Vec3::Z;
            push_mirror(plan, centre, self.side_m);
        }
    }
}

/// Adds a square mirror focused on the aim point to the columns.
pub fn push_mirror(plan: &mut Plan, centre: Vec3, side_m: f64) {
    plan.x_m.push(centre.x);
    plan.y_m.push(centre.y);
    plan.z_m.push(centre.z);
    plan.width_m.push(side_m);
    plan.height_m.push(side_m);
    plan.focal_length_m.push(centre.distance(plan.aim_m));
}

/// Ideal normal of a mirror: halfway between sun and aim point.
pub fn ideal_normal(plan: &Plan, mirror: usize, sun: Vec3) -> Vec3 {
    (sun + (plan.aim_m - plan.centre_m(mirror)).normalize()).normalize()
}

/// Width edge of a string whose first axis is level and along it, its reference mirror on target:
/// the carried second axis, square to both.
pub fn carried_edge(plan: &Plan, string: usize, sun: Vec3) -> Vec3 {
    let row = &plan.strings[string];
    let first = direction::along_bearing(row.bearing_rad);
    let normal = ideal_normal(plan, row.reference_mirror(), sun);
    first.cross(normal).normalize()
}

/// Every mirror on target, no blur.
pub fn ideal_stance(plan: &Plan, string: usize, suns: &LaneVec3, stance: &mut Stance) {
    let row = &plan.strings[string];
    stance.resize(row.mirror_count);
    for index in 0..LANES {
        let sun = lane::vector(suns, index);
        lane::set_vector(
            &mut stance.width_edge,
            index,
            carried_edge(plan, string, sun),
        );
        for (place, mirror) in row.mirrors().enumerate() {
            let normal = ideal_normal(plan, mirror, sun);
            lane::set_vector(&mut stance.normals[place], index, normal);
        }
    }
}

/// Blocks of eight suns over a year at a latitude: 5 declinations × 12 hour angles above
/// `lowest_rad`, mornings before afternoons, each by height, as a table of suns for a year has them.
pub fn year_suns(latitude_rad: f64, lowest_rad: f64) -> Vec<LaneVec3> {
    let mut suns = Vec::new();
    for half in 0..2 {
        let mut half_days = Vec::new();
        for hour in 6 * half..6 * (half + 1) {
            for declination in 0..5 {
                let declination_rad = (23.44 * (0.5 * f64::from(declination) - 1.0)).to_radians();
                let share = (f64::from(hour) + 0.5) / 12.0;
                half_days.push(sun_at(latitude_rad, declination_rad, lowest_rad, share));
            }
        }
        half_days.sort_by(|one, other| one.z.total_cmp(&other.z));
        half_days.resize(32, half_days[29]);
        suns.append(&mut half_days);
    }
    let blocks = suns.chunks_exact(LANES);
    blocks
        .map(|block| lane::columns(&std::array::from_fn(|index| block[index])))
        .collect()
}

/// The sun a share of the way through the day above `lowest_rad`.
pub fn sun_at(latitude_rad: f64, declination_rad: f64, lowest_rad: f64, share: f64) -> Vec3 {
    let (sin_d, cos_d) = libm::sincos(declination_rad);
    let (sin_l, cos_l) = libm::sincos(latitude_rad);
    let end_rad =
        libm::acos(((libm::sin(lowest_rad) - sin_l * sin_d) / (cos_l * cos_d)).clamp(-1.0, 1.0));
    let (sin_h, cos_h) = libm::sincos(end_rad * (2.0 * share - 1.0));
    Vec3::new(
        -cos_d * sin_h,
        cos_l * sin_d - sin_l * cos_d * cos_h,
        sin_l * sin_d + cos_l * cos_d * cos_h,
    )
}

/// Silvered low-iron mirrors of fair quality.
pub fn fair_mirrors() -> Mirrors {
    Mirrors {
        facets: Facets::ONE_BENT,
        reflectance: Reflectance {
            silver: 0.96,
            glass_thickness_m: 4e-3,
            extinction_per_m: 4.0,
            cleanliness: 0.97,
        },
        slope_error_rad: 1.5e-3,
        scatter_rad: 0.2e-3,
        bending_residual: 0.223,
        gravity_slope_rad: 0.5e-3,
        sun: SunBlur::EVEN_DISC,
        attenuation: Attenuation::ClearAir,
    }
}

/// A square aperture around the aim point that looks north and down.
pub fn aperture_of(plan: &Plan, side_m: f64) -> Aperture {
    Aperture::facing(0.0, 0.5, plan.aim_m, side_m, side_m)
}
