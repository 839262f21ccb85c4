//! Checks of the drive against explicit rotations, an independent table and the laws of the beam.

mod as_built;
mod independent;
mod laws;
mod mechanisms;
mod rotations;
mod spread;
mod stopped;
mod year;

use field::{FirstAxis, Linkage, Plan, StringRow};
use geometry::{LANES, LaneVec3, Vec3, direction, lane};

use crate::{Control, Line, Mechanism, OffsetPlace, Sensing, Tolerances, Travel};

pub(crate) const AXES: [FirstAxis; 4] = [
    FirstAxis::Across,
    FirstAxis::Along,
    FirstAxis::Vertical,
    FirstAxis::Polar,
];

/// One string on flat ground, placed by its reference mirror.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    pub azimuth_deg: f64,
    pub distance_m: f64,
    pub bearing_deg: f64,
    pub mirrors: usize,
    pub pitch_m: f64,
    pub height_m: f64,
    pub aim_m: f64,
}

pub(crate) fn one_string(place: &Place, first_axis: FirstAxis) -> Plan {
    let middle = direction::along_bearing(place.azimuth_deg.to_radians()) * place.distance_m;
    let along = direction::along_bearing(place.bearing_deg.to_radians());
    let row = StringRow {
        first_mirror: 0,
        mirror_count: place.mirrors,
        bearing_rad: place.bearing_deg.to_radians(),
        first_axis,
        linkage: Linkage::EqualAngle,
        row: 0,
    };
    let mut plan = Plan {
        aim_m: Vec3::new(0.0, 0.0, place.aim_m),
        ..Plan::default()
    };
    for mirror in row.mirrors() {
        let off = (mirror as f64 - row.reference_mirror() as f64) * place.pitch_m;
        let centre = middle + along * off + Vec3::Z * place.height_m;
        plan.x_m.push(centre.x);
        plan.y_m.push(centre.y);
        plan.z_m.push(centre.z);
        plan.width_m.push(0.8);
        plan.height_m.push(0.8);
        plan.focal_length_m.push((plan.aim_m - centre).length());
    }
    plan.strings.push(row);
    plan
}

pub(crate) fn sun_at(azimuth_deg: f64, elevation_deg: f64) -> Vec3 {
    direction::from_azimuth_elevation(azimuth_deg.to_radians(), elevation_deg.to_radians())
}

pub(crate) fn lanes_of(sun: Vec3) -> LaneVec3 {
    lane::columns(&[sun; LANES])
}

pub(crate) fn exact_mechanism(latitude_deg: f64, alignment_sun: Vec3) -> Mechanism {
    Mechanism {
        latitude_rad: latitude_deg.to_radians(),
        alignment_sun,
        offset: OffsetPlace::Shim,
        control: Control::Reference,
        tolerances: Tolerances::default(),
        line: stiff_line(),
        travel: Travel::FREE,
        sensing: Sensing::OpenLoop,
    }
}

pub(crate) fn stiff_line() -> Line {
    Line {
        wind_moment_rms_n_m: 0.0,
        pitch_m: 1.0,
        axial_stiffness_n: 1.0,
        lever_m: 1.0,
        driven_from_middle: true,
        warmth_rad_m: 0.0,
        coupling_play_m: 0.0,
    }
}
