//! Inputs of the drive.

use drive::{
    Line, Mechanism, Sensing, Tolerances, Travel, loop_warmth_rad_m, rod_warmth_rad_m,
    survey_error_rad,
};
use scenario::{Control, Design, DrivenFrom, OffsetPlace, SetBy, StringsDesign};
use structure::{Mover, StringParts, USUAL_TIP};

use crate::case::Case;
use crate::inputs::strength::{line_warmth_k, nearest_slant_m};

/// Free play of a rod's or bar's couplings between two levers, half worn; from memory of usual running fits.
const COUPLING_PLAY_M: f64 = 0.1e-3;

/// Where mirrors are set on their targets.
#[must_use]
pub const fn offset(place: OffsetPlace) -> drive::OffsetPlace {
    match place {
        OffsetPlace::Shim => drive::OffsetPlace::Shim,
        OffsetPlace::Lever => drive::OffsetPlace::Lever,
        OffsetPlace::Post => drive::OffsetPlace::Post,
    }
}

const fn control(control: Control) -> drive::Control {
    match control {
        Control::Reference => drive::Control::Reference,
        Control::LeastSquares => drive::Control::LeastSquares,
    }
}

/// The mechanism of every string; what its gear adds to the play of joints, and its line's stiffness
/// and load, come from the sized parts.
#[must_use]
pub fn mechanism(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
    parts: &StringParts,
) -> Mechanism {
    let common = &case.scenario.strings;
    let measured = &common.tolerances;
    Mechanism {
        latitude_rad: case.scenario.site.latitude_rad,
        alignment_sun: case.alignment_sun,
        offset: offset(strings.offset),
        control: control(strings.control),
        tolerances: tolerances(case, design, strings, parts.gear_error_rad),
        line: line(case, strings, parts),
        travel: Travel {
            axes_rad: common.travel.axes_rad,
            ball_rad: common.travel.ball_rad,
        },
        sensing: sensing(
            strings.drive.sensing,
            measured.sensor_rad,
            measured.camera_rad,
        ),
    }
}

/// What is built and set, each error as its class of workmanship has it.
fn tolerances(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
    gear_error_rad: f64,
) -> Tolerances {
    let common = &case.scenario.strings.tolerances;
    let work = &strings.drive.workmanship;
    let joint_play_rad = work.joints.error_ratio() * common.joint_play_rad;
    let offset_setting_rad = work.offsets.error_ratio() * common.offset_setting_rad;
    Tolerances {
        post_tilt_rad: work.posts.error_ratio() * common.post_tilt_rad,
        axis_squareness_rad: work.axes.error_ratio() * common.axis_squareness_rad,
        joint_play_rad: libm::hypot(joint_play_rad, gear_error_rad),
        offset_setting_rad: libm::hypot(offset_setting_rad, survey_rad(case, design, strings)),
        lever_ratio: work.levers.error_ratio() * common.lever_ratio,
        encoder_rad: common.encoder_rad,
    }
}

/// What the places of laser and marks add where mirrors are set at night, for the mirrors that see
/// them largest: those at the field's inner edge.
fn survey_rad(case: &Case, design: &Design, strings: &StringsDesign) -> f64 {
    match strings.drive.set_by {
        SetBy::Sun => 0.0,
        SetBy::Laser => survey_error_rad(
            case.scenario.strings.alignment.survey_m,
            nearest_slant_m(case, design, strings.mount_height_m),
        ),
    }
}

/// The lines along a string. Loops feel how much warmer one strand is than the other, what pushes how much
/// warmer it is than the rail or the ground that its drive is anchored to.
fn line(case: &Case, strings: &StringsDesign, parts: &StringParts) -> Line {
    let (lever_m, warmth_k) = (strings.lever_m, line_warmth_k(case, strings));
    let apart_k = case.scenario.strings.tolerances.line_warmth_k;
    let (warmth_rad_m, coupling_play_m) = match parts.sizes.mover {
        Mover::Loops(_) => (loop_warmth_rad_m(apart_k, lever_m), 0.0),
        Mover::PushRods(_) => (rod_warmth_rad_m(warmth_k, lever_m), COUPLING_PLAY_M),
        Mover::Bar(_) => (
            rod_warmth_rad_m(warmth_k, USUAL_TIP * lever_m),
            COUPLING_PLAY_M,
        ),
    };
    Line {
        wind_moment_rms_n_m: parts.rms_line_moment_n_m,
        pitch_m: strings.pitch_ratio * strings.side_m,
        axial_stiffness_n: parts.line_axial_stiffness_n,
        lever_m,
        driven_from_middle: strings.driven_from == DrivenFrom::Middle,
        warmth_rad_m,
        coupling_play_m,
    }
}

/// What a drive knows of its mirrors, and how well.
pub const fn sensing(sensing: scenario::Sensing, sensor_rad: f64, camera_rad: f64) -> Sensing {
    match sensing {
        scenario::Sensing::OpenLoop => Sensing::OpenLoop,
        scenario::Sensing::Sensor => Sensing::AtReference {
            error_rad: sensor_rad,
        },
        scenario::Sensing::Camera => Sensing::OnTarget {
            error_rad: camera_rad,
        },
    }
}
