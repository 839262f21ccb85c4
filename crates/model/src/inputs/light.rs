//! Inputs of sky, field and optics.

use field::{AimSpread, StringField};
use geometry::Vec3;
use optics::{Aperture, Attenuation, DISC_RAD, Facets, Mirrors, Outline, Reflectance, SunShape};
use scenario::{BearingRule, Design, FirstAxis, Linkage, ReceiverKind, StringsDesign, Visibility};
use structure::{SlopeErrors, StringParts};

use crate::case::Case;
use crate::soiling;

/// The site as the sky sees it.
#[must_use]
pub fn site(site: &scenario::Site) -> sky::Site {
    sky::Site {
        latitude_rad: site.latitude_rad,
        longitude_rad: site.longitude_rad,
        altitude_m: site.altitude_m,
    }
}

/// How the sun's light is spread.
#[must_use]
pub fn sun_shape(weather: &scenario::Weather) -> SunShape {
    match weather.sun_shape {
        scenario::SunShape::Disc => SunShape::Disc {
            radius_rad: DISC_RAD,
        },
        scenario::SunShape::Limb => SunShape::LimbDarkened {
            radius_rad: DISC_RAD,
        },
        scenario::SunShape::Circumsolar => SunShape::Buie {
            circumsolar_ratio: weather.circumsolar_ratio,
        },
        scenario::SunShape::Table => SunShape::Table {
            angle_rad: weather.sun_angles_rad.clone(),
            brightness: weather.sun_brightness.clone(),
        },
    }
}

/// The same for rays.
#[must_use]
pub fn traced_sun_shape(weather: &scenario::Weather) -> rays::SunShape {
    let radius_rad = DISC_RAD;
    match weather.sun_shape {
        scenario::SunShape::Disc => rays::SunShape::Disc { radius_rad },
        scenario::SunShape::Limb => rays::SunShape::LimbDarkened { radius_rad },
        scenario::SunShape::Circumsolar => {
            rays::SunShape::with_circumsolar_ratio(weather.circumsolar_ratio)
        }
        scenario::SunShape::Table => rays::SunShape::Table {
            angle_rad: weather.sun_angles_rad.clone(),
            brightness: weather.sun_brightness.clone(),
        },
    }
}

/// The field of strings to be laid.
#[must_use]
pub fn string_field(case: &Case, design: &Design, strings: &StringsDesign) -> StringField {
    let (common, site) = (&case.scenario.field, &case.scenario.site);
    StringField {
        mirrors_per_string: strings.mirrors as usize,
        side_m: strings.side_m,
        pitch_m: strings.pitch_ratio * strings.side_m,
        bearing: bearing(strings.bearing),
        first_axis: plan_axis(strings.first_axis),
        linkage: plan_linkage(strings.linkage),
        rail_slope_rad: strings.rail_slope_rad,
        mount_height_m: strings.mount_height_m,
        stagger_m: strings.stagger_m,
        row_spacing_m: strings.row_spacing_ratio * strings.side_m,
        row_growth: strings.row_growth,
        end_gap_m: case.scenario.strings.end_gap_m,
        lane_every_rows: common.lane_every as usize,
        lane_width_m: common.lane_width_m,
        inner_radius_m: common.inner_radius_ratio * design.aim_height_m,
        outer_radius_m: common.outer_radius_ratio * design.aim_height_m,
        sector_half_rad: common.sector_half_rad,
        sector_centre_azimuth_rad: common.sector_centre_rad,
        ground_slope_east: site.ground_slope_east,
        ground_slope_north: site.ground_slope_north,
        aim_height_m: design.aim_height_m,
    }
}

/// The first axes among which the best is looked for: `own`, and those that are built like it.
#[must_use]
pub fn first_axes_alike(own: field::FirstAxis) -> Vec<field::FirstAxis> {
    use field::FirstAxis::{Across, Along, Polar, RollFree, Vertical};
    match own {
        RollFree => vec![RollFree],
        _ => {
            let others = [Along, Across, Vertical, Polar];
            let others = others.into_iter().filter(|axis| *axis != own);
            std::iter::once(own).chain(others).collect()
        }
    }
}

fn bearing(rule: BearingRule) -> field::BearingRule {
    match rule {
        BearingRule::Radial => field::BearingRule::Radial,
        BearingRule::Cross => field::BearingRule::Cross,
        BearingRule::Fixed { azimuth_rad } => field::BearingRule::Fixed { azimuth_rad },
        BearingRule::Fan { share } => field::BearingRule::Fan { share },
        // Laid in every way before one is chosen.
        BearingRule::Best => field::BearingRule::Fan { share: 0.0 },
    }
}

/// The axis of a plan that a scenario calls so.
#[must_use]
pub fn plan_axis(axis: FirstAxis) -> field::FirstAxis {
    match axis {
        FirstAxis::Across => field::FirstAxis::Across,
        FirstAxis::Along => field::FirstAxis::Along,
        FirstAxis::Vertical => field::FirstAxis::Vertical,
        FirstAxis::Polar => field::FirstAxis::Polar,
        FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        } => field::FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        },
        FirstAxis::RollFree => field::FirstAxis::RollFree,
    }
}

/// The linkage of a plan that a scenario calls so.
#[must_use]
pub const fn plan_linkage(linkage: Linkage) -> field::Linkage {
    match linkage {
        Linkage::EqualAngle => field::Linkage::EqualAngle,
        Linkage::EqualTravel => field::Linkage::EqualTravel,
        Linkage::Graded => field::Linkage::Graded,
        Linkage::SlidingLever => field::Linkage::SlidingLever,
    }
}

/// What panels of one concept have of their own.
#[derive(Clone, Copy)]
pub struct Panels {
    /// Thickness of the glass.
    pub glass_thickness_m: f64,
    /// Slope errors that the structure leaves.
    pub slope: SlopeErrors,
    /// Error of setting panels on a common frame, for each axis.
    pub setting_rad: f64,
    /// What a mirror is made of.
    pub facets: Facets,
}

/// The panels of strings.
#[must_use]
pub const fn string_panels(strings: &StringsDesign, parts: &StringParts) -> Panels {
    Panels {
        glass_thickness_m: strings.glass_thickness_m,
        slope: parts.slope,
        setting_rad: 0.0,
        facets: Facets::ONE_BENT,
    }
}

/// The panels as light sees them; slope errors of the structure join those of the surface.
#[must_use]
pub fn mirrors(case: &Case, design: &Design, panels: &Panels) -> Mirrors {
    let mirror = &case.scenario.mirror;
    Mirrors {
        facets: panels.facets,
        reflectance: Reflectance {
            silver: mirror.reflectance,
            glass_thickness_m: panels.glass_thickness_m,
            extinction_per_m: mirror.extinction_per_m,
            cleanliness: soiling::cleanliness(mirror, design.wash_interval_s),
        },
        slope_error_rad: slope_error_rad(
            libm::hypot(mirror.slope_error_rad, panels.setting_rad),
            &panels.slope,
        ),
        scatter_rad: mirror.scatter_rad,
        bending_residual: mirror.bending_residual,
        gravity_slope_rad: panels.slope.gravity_rad,
        sun: case.sun_blur,
        attenuation: match case.scenario.weather.visibility {
            Visibility::VeryClear => Attenuation::VeryClear,
            Visibility::Clear => Attenuation::ClearAir,
            Visibility::Hazy => Attenuation::Hazy,
        },
    }
}

/// Slope error of one axis: surface, and what the structure leaves of both axes together, without
/// the sag of the glass, which depends on its tilt.
fn slope_error_rad(surface_rad: f64, structure: &SlopeErrors) -> f64 {
    let both_axes_rad2: f64 = [
        structure.star_droop_rad,
        structure.wind_rad,
        structure.sway_rad,
    ]
    .iter()
    .map(|error_rad| error_rad * error_rad)
    .sum();
    (surface_rad * surface_rad + 0.5 * both_axes_rad2).sqrt()
}

/// How aim points are spread over the aperture; before a cylinder only up and down, so that every mirror
/// aims at the axis, through the height on the mantle that it is to light.
#[must_use]
pub fn aim_spread(case: &Case, share: f64, aperture: &Aperture) -> AimSpread {
    let half_width_m = 0.5 * aperture.width_m();
    let [half_width_m, mantle_radius_m] = match aperture.outline {
        Outline::Rectangle { .. } | Outline::Circle { .. } => [half_width_m, 0.0],
        Outline::Cylinder { .. } => [0.0, half_width_m],
    };
    AimSpread {
        right: aperture.right,
        up: aperture.up,
        half_width_m,
        half_height_m: 0.5 * aperture.height_m(),
        clearance_rad: case.scenario.field.aim_clearance_rad,
        share,
        mantle_radius_m,
    }
}

/// The aperture, looking along the sector's middle line.
#[must_use]
pub fn aperture(case: &Case, design: &Design) -> Aperture {
    let azimuth_rad = case.scenario.field.sector_centre_rad;
    let centre_m = Vec3::new(0.0, 0.0, design.aim_height_m);
    let (tilt_rad, width_m) = (design.aperture_tilt_rad, design.aperture_width_m);
    let receiver = &case.scenario.receiver;
    match (receiver.kind, receiver.outline) {
        (ReceiverKind::Cylinder, _) => {
            Aperture::cylinder(azimuth_rad, centre_m, width_m, design.aperture_height_m)
        }
        (_, scenario::Outline::Circle) => Aperture::round(azimuth_rad, tilt_rad, centre_m, width_m),
        (_, scenario::Outline::Rectangle) => {
            let height_m = design.aperture_height_m;
            Aperture::facing(azimuth_rad, tilt_rad, centre_m, width_m, height_m)
        }
    }
}
