//! Inputs of heliostats: mirrors with two drives of their own.
//!
//! A heliostat is calibrated against its own light, one after another: what its post leans, how square
//! its axes are and how it was set take nothing, and it stays on its target exactly. What no
//! calibration finds acts on: play, encoders or sensors, panels set on a frame, what weight and wind
//! turn.

use drive::{Control, Line, Mechanism, OffsetPlace, Tolerances, Travel};
use field::HeliostatField;
use scenario::{Design, HeliostatsDesign, PanelShape};
use structure::{Facets, Panel, PedestalInputs, PedestalParts, Rules};

use super::light::Panels;
use super::mechanism::sensing;
use super::strength::{Lee, footing, glass, nearest_slant_m, rules, shortest_focal_length_m, wind};
use crate::case::Case;

/// Gap between panels on a frame; common practice, no source.
const GAP_M: f64 = 0.02;

/// The panels of one heliostat.
#[must_use]
pub fn facets(heliostats: &HeliostatsDesign) -> Facets {
    let HeliostatsDesign {
        area_m2,
        width_over_height,
        largest_panel_m,
        ..
    } = *heliostats;
    Facets::filling(area_m2, width_over_height, largest_panel_m, GAP_M)
}

/// Width and height of the glass alone, as if its panels stood without gaps.
fn glass_size_m(facets: &Facets) -> [f64; 2] {
    [facets.columns, facets.rows].map(|count| count as f64 * facets.side_m)
}

/// The field of heliostats to be laid. Light sees the glass without its gaps; neighbours keep clear of
/// the mirror with them.
#[must_use]
pub fn heliostat_field(
    case: &Case,
    design: &Design,
    heliostats: &HeliostatsDesign,
) -> HeliostatField {
    let (area, site) = (&case.scenario.field, &case.scenario.site);
    let facets = facets(heliostats);
    let [width_m, height_m] = glass_size_m(&facets);
    HeliostatField {
        width_m,
        height_m,
        turning_circle_m: libm::hypot(facets.width_m(), facets.height_m()),
        axis_height_m: axis_height_m(heliostats),
        ring_spacing_ratio: heliostats.ring_spacing_ratio,
        side_spacing_ratio: heliostats.side_spacing_ratio,
        lane_every_rows: area.lane_every as usize,
        lane_width_m: area.lane_width_m,
        inner_radius_m: area.inner_radius_ratio * design.aim_height_m,
        outer_radius_m: area.outer_radius_ratio * design.aim_height_m,
        sector_half_rad: area.sector_half_rad,
        sector_centre_azimuth_rad: area.sector_centre_rad,
        ground_slope_east: site.ground_slope_east,
        ground_slope_north: site.ground_slope_north,
        aim_height_m: design.aim_height_m,
    }
}

fn axis_height_m(heliostats: &HeliostatsDesign) -> f64 {
    0.5 * facets(heliostats).height_m() + heliostats.clearance_m
}

/// The mechanism of every heliostat: what a calibration finds is left out.
#[must_use]
pub fn heliostat_mechanism(case: &Case, heliostats: &HeliostatsDesign) -> Mechanism {
    let errors = &case.scenario.heliostats;
    Mechanism {
        latitude_rad: case.scenario.site.latitude_rad,
        alignment_sun: case.alignment_sun,
        offset: OffsetPlace::Shim,
        control: Control::Reference,
        tolerances: Tolerances {
            joint_play_rad: errors.joint_play_rad,
            encoder_rad: errors.encoder_rad,
            ..Tolerances::default()
        },
        line: NO_LINE,
        travel: Travel::FREE,
        sensing: sensing(heliostats.sensing, errors.sensor_rad, errors.camera_rad),
    }
}

/// Nothing hands motion on.
const NO_LINE: Line = Line {
    wind_moment_rms_n_m: 0.0,
    pitch_m: 0.0,
    axial_stiffness_n: f64::INFINITY,
    lever_m: 1.0,
    driven_from_middle: true,
    warmth_rad_m: 0.0,
    coupling_play_m: 0.0,
};

/// The panels of heliostats.
#[must_use]
pub fn heliostat_panels(
    case: &Case,
    heliostats: &HeliostatsDesign,
    parts: &PedestalParts,
) -> Panels {
    let facets = facets(heliostats);
    Panels {
        glass_thickness_m: heliostats.glass_thickness_m,
        slope: parts.errors.slope(),
        setting_rad: case.scenario.heliostats.panel_setting_rad,
        facets: optics::Facets {
            columns: facets.columns,
            rows: facets.rows,
            are_flat: heliostats.panel_shape == PanelShape::Flat,
        },
    }
}

/// One heliostat to be sized.
#[must_use]
pub fn pedestal_inputs(
    case: &Case,
    design: &Design,
    heliostats: &HeliostatsDesign,
    lee: Lee,
) -> PedestalInputs {
    let facets = facets(heliostats);
    let nearest_m = nearest_slant_m(case, design, axis_height_m(heliostats));
    PedestalInputs {
        panel: Panel {
            glass: glass(case),
            side_m: facets.side_m,
            thickness_m: heliostats.glass_thickness_m,
            shortest_focal_length_m: shortest_focal_length_m(heliostats.panel_shape, nearest_m),
        },
        facets,
        clearance_m: heliostats.clearance_m,
        wind: wind(case),
        rules: Rules {
            sway_limit_rad: heliostats.give_rad,
            twist_limit_rad: heliostats.give_rad,
            star_droop_limit_rad: heliostats.give_rad,
            footing: footing(case, heliostats.footing),
            ..rules(case, lee)
        },
    }
}
