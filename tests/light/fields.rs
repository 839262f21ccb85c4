//! Trial fields, made as a design makes them, and their drives and apertures.

use std::f64::consts::FRAC_PI_2;

use drive::{Control, Line, Mechanism, OffsetPlace, Sensing, Tolerances, Travel};
use field::{
    AimSpread, BearingRule, FirstAxis, HeliostatField, Linkage, Places, Plan, StringField,
    candidates, heliostat_candidates, select, spread_aims,
};
use geometry::Vec3;
use optics::{
    Aperture, Attenuation, CORNER_PULLED_SQUARE, Facets, Mirrors, Outline, Pillar, Reflectance,
    SunBlur,
};

use crate::instants::LATITUDE_RAD;

/// A field, how many of its strings are kept, and its aperture.
pub struct Trial {
    pub field: StringField,
    pub strings: usize,
    pub outline: Outline,
    pub tilt_down_deg: f64,
    /// How much of the aperture's room aim points are spread over.
    pub aim_spread: f64,
    /// What shades the field from its middle.
    pub tower: &'static [Pillar],
    /// How its mirrors are made and moved.
    pub make: Make,
}

/// How mirrors are made and moved.
#[derive(Clone, Copy, PartialEq)]
pub enum Make {
    /// Plates pulled at their corners that share a drive.
    Shared,
    /// The same, each with a drive of its own that has learnt its errors.
    Single,
    /// Such plates side by side and above each other, canted, on a pedestal with such a drive.
    Pedestal,
    /// The same, standing in rings.
    Rings,
}

impl Trial {
    /// The strings nearest to the tower.
    pub fn plan(&self) -> Plan {
        let places = self.places();
        let nearness =
            |row: &field::StringRow| -places.plan.centre_m(row.reference_mirror()).length();
        let scores: Vec<f64> = places.plan.strings.iter().map(nearness).collect();
        let mut plan =
            select(&places, &scores, self.strings).expect("the trial field has places enough");
        let aperture = self.aperture();
        let half_width_m = 0.5 * aperture.width_m();
        let [half_width_m, mantle_radius_m] = match self.outline {
            Outline::Cylinder { .. } => [0.0, half_width_m],
            _ => [half_width_m, 0.0],
        };
        let spread = AimSpread {
            right: aperture.right,
            up: aperture.up,
            half_width_m,
            mantle_radius_m,
            half_height_m: 0.5 * aperture.height_m(),
            clearance_rad: 6e-3,
            share: self.aim_spread,
        };
        spread_aims(&mut plan, &spread);
        plan
    }

    fn places(&self) -> Places {
        if self.make == Make::Rings {
            heliostat_candidates(&self.rings())
        } else {
            candidates(&self.field)
        }
        .expect("the trial field can be laid")
    }

    /// Mirrors as large and as high, over the same land, so close that a ring blocks a little of the next.
    const fn rings(&self) -> HeliostatField {
        let field = &self.field;
        HeliostatField {
            width_m: field.side_m,
            height_m: field.side_m,
            turning_circle_m: 1.5 * field.side_m,
            axis_height_m: field.mount_height_m,
            ring_spacing_ratio: 0.8,
            side_spacing_ratio: 1.4,
            lane_every_rows: field.lane_every_rows,
            lane_width_m: field.lane_width_m,
            inner_radius_m: field.inner_radius_m,
            outer_radius_m: field.outer_radius_m,
            sector_half_rad: field.sector_half_rad,
            sector_centre_azimuth_rad: field.sector_centre_azimuth_rad,
            ground_slope_east: field.ground_slope_east,
            ground_slope_north: field.ground_slope_north,
            aim_height_m: field.aim_height_m,
        }
    }

    pub fn aperture(&self) -> Aperture {
        let azimuth_rad = self.field.sector_centre_azimuth_rad;
        let tilt_down_rad = self.tilt_down_deg.to_radians();
        let centre_m = Vec3::new(0.0, 0.0, self.field.aim_height_m);
        match self.outline {
            Outline::Rectangle { width_m, height_m } => {
                Aperture::facing(azimuth_rad, tilt_down_rad, centre_m, width_m, height_m)
            }
            Outline::Circle { diameter_m } => {
                Aperture::round(azimuth_rad, tilt_down_rad, centre_m, diameter_m)
            }
            Outline::Cylinder {
                diameter_m,
                height_m,
            } => Aperture::cylinder(azimuth_rad, centre_m, diameter_m, height_m),
        }
    }

    pub fn mechanism(&self) -> Mechanism {
        Mechanism {
            latitude_rad: LATITUDE_RAD,
            alignment_sun: Vec3::new(0.0, -libm::sin(LATITUDE_RAD), libm::cos(LATITUDE_RAD)),
            offset: OffsetPlace::Shim,
            control: Control::Reference,
            tolerances: self.tolerances(),
            line: Line {
                wind_moment_rms_n_m: 4.0,
                pitch_m: self.field.pitch_m,
                axial_stiffness_n: 4e6,
                lever_m: 0.35,
                driven_from_middle: true,
                warmth_rad_m: 0.0,
                coupling_play_m: 0.0,
            },
            travel: Travel::FREE,
            sensing: Sensing::OpenLoop,
        }
    }

    fn tolerances(&self) -> Tolerances {
        let shared = Tolerances {
            post_tilt_rad: 1e-3,
            axis_squareness_rad: 1e-3,
            joint_play_rad: 5e-4,
            offset_setting_rad: 5e-4,
            lever_ratio: 2e-3,
            encoder_rad: 3e-4,
        };
        if self.make == Make::Shared {
            return shared;
        }
        Tolerances {
            post_tilt_rad: 0.0,
            axis_squareness_rad: 0.0,
            offset_setting_rad: 0.0,
            lever_ratio: 0.0,
            ..shared
        }
    }

    /// Thin glass, clear air.
    pub fn mirrors(&self, sun: SunBlur) -> Mirrors {
        Mirrors {
            facets: match self.make {
                Make::Shared | Make::Single => Facets::ONE_BENT,
                Make::Pedestal | Make::Rings => Facets {
                    columns: 5,
                    rows: 5,
                    are_flat: false,
                },
            },
            reflectance: Reflectance {
                silver: 0.96,
                glass_thickness_m: 3e-3,
                extinction_per_m: 5.0,
                cleanliness: 0.95,
            },
            slope_error_rad: 1e-3,
            scatter_rad: 3e-4,
            bending_residual: CORNER_PULLED_SQUARE,
            gravity_slope_rad: 0.0,
            sun,
            attenuation: Attenuation::ClearAir,
        }
    }
}

fn square(side_m: f64) -> Outline {
    Outline::Rectangle {
        width_m: side_m,
        height_m: side_m,
    }
}

/// Rows of 15 across the line of sight, 0.95 m squares, before a tower of 40 m.
fn usual() -> StringField {
    StringField {
        mirrors_per_string: 15,
        side_m: 0.95,
        pitch_m: 1.35,
        bearing: BearingRule::Fan { share: 1.0 / 3.0 },
        first_axis: FirstAxis::Along,
        linkage: Linkage::EqualAngle,
        rail_slope_rad: 0.0,
        mount_height_m: 1.1,
        stagger_m: 0.0,
        row_spacing_m: 2.2,
        row_growth: 0.01,
        end_gap_m: 0.4,
        lane_every_rows: 10,
        lane_width_m: 3.0,
        inner_radius_m: 30.0,
        outer_radius_m: 240.0,
        sector_half_rad: 1.0,
        sector_centre_azimuth_rad: 0.0,
        ground_slope_east: 0.0,
        ground_slope_north: 0.0,
        aim_height_m: 40.0,
    }
}

/// Rows so close that they shade one another in the morning; fan, first axis along.
pub fn near_and_dense() -> Trial {
    Trial {
        field: StringField {
            pitch_m: 1.15,
            row_spacing_m: 1.5,
            row_growth: 0.0,
            ..usual()
        },
        strings: 60,
        outline: square(2.5),
        tilt_down_deg: 35.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// Rows square to the line of sight, first axis along.
pub fn across_the_line_of_sight() -> Trial {
    Trial {
        field: StringField {
            bearing: BearingRule::Cross,
            ..usual()
        },
        strings: 60,
        outline: square(2.5),
        tilt_down_deg: 30.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// East and west, first axis across: long beams, little blocking.
pub fn far() -> Trial {
    Trial {
        field: StringField {
            bearing: BearingRule::Fixed {
                azimuth_rad: FRAC_PI_2,
            },
            first_axis: FirstAxis::Across,
            mirrors_per_string: 9,
            inner_radius_m: 120.0,
            row_spacing_m: 4.0,
            row_growth: 0.03,
            sector_half_rad: 0.7,
            ..usual()
        },
        strings: 100,
        outline: square(3.5),
        tilt_down_deg: 15.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// Beams leave so low that every row blocks the next one.
pub fn far_and_blocked() -> Trial {
    Trial {
        field: StringField {
            inner_radius_m: 140.0,
            row_spacing_m: 2.0,
            row_growth: 0.0,
            sector_half_rad: 0.4,
            ..usual()
        },
        strings: 60,
        outline: square(4.0),
        tilt_down_deg: 15.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// Strings along the line of sight, on rails that rise outwards.
pub fn radial_on_rails() -> Trial {
    Trial {
        field: StringField {
            bearing: BearingRule::Radial,
            mirrors_per_string: 8,
            pitch_m: 1.6,
            rail_slope_rad: 0.15,
            ..usual()
        },
        strings: 100,
        outline: square(3.0),
        tilt_down_deg: 30.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// An aperture that spills a third and more; staggered mounts, first axis across.
pub fn sparse_before_a_small_aperture() -> Trial {
    Trial {
        field: StringField {
            bearing: BearingRule::Fan { share: 0.5 },
            first_axis: FirstAxis::Across,
            pitch_m: 1.8,
            row_spacing_m: 4.5,
            stagger_m: 0.3,
            mirrors_per_string: 10,
            ..usual()
        },
        strings: 100,
        outline: square(1.0),
        tilt_down_deg: 30.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// Panels of 1.5 m near a low tower, on ground that slopes; first axis upright.
pub fn large_panels_on_a_slope() -> Trial {
    Trial {
        field: StringField {
            bearing: BearingRule::Cross,
            first_axis: FirstAxis::Vertical,
            mirrors_per_string: 5,
            side_m: 1.5,
            pitch_m: 2.2,
            mount_height_m: 1.6,
            row_spacing_m: 3.4,
            aim_height_m: 25.0,
            inner_radius_m: 18.0,
            ground_slope_north: 0.05,
            ground_slope_east: -0.03,
            ..usual()
        },
        strings: 150,
        outline: square(3.0),
        tilt_down_deg: 25.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// Aim points all over a wide aperture.
pub fn with_spread_aims() -> Trial {
    Trial {
        outline: square(3.2),
        aim_spread: 1.0,
        ..across_the_line_of_sight()
    }
}

/// A round opening that spills a good part.
pub fn before_a_round_opening() -> Trial {
    Trial {
        outline: Outline::Circle { diameter_m: 1.8 },
        aim_spread: 0.5,
        ..across_the_line_of_sight()
    }
}

/// A field all round an upright cylinder that spills a good part.
pub fn around_a_cylinder() -> Trial {
    let usual = usual();
    Trial {
        field: StringField {
            bearing: BearingRule::Cross,
            sector_half_rad: std::f64::consts::PI,
            row_spacing_m: 3.0,
            inner_radius_m: 40.0,
            ..usual
        },
        strings: 120,
        outline: Outline::Cylinder {
            diameter_m: 1.6,
            height_m: 3.0,
        },
        tilt_down_deg: 0.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}

/// The same round a broader one, which beams from below would leave in part over its lower edge.
pub fn around_a_broad_cylinder() -> Trial {
    Trial {
        outline: Outline::Cylinder {
            diameter_m: 4.0,
            height_m: 3.6,
        },
        ..around_a_cylinder()
    }
}

/// A shaft and a broad housing on it, tall enough to reach into the field with their shadow.
const BROAD_TOWER: [Pillar; 2] = [
    Pillar {
        width_m: 3.0,
        from_m: 0.0,
        to_m: 37.0,
    },
    Pillar {
        width_m: 6.0,
        from_m: 37.0,
        to_m: 43.0,
    },
];

/// Dense rows in the shadow of a broad tower.
pub fn in_the_shadow_of_a_tower() -> Trial {
    Trial {
        tower: &BROAD_TOWER,
        ..near_and_dense()
    }
}

/// Small mirrors with a drive of their own, in rows before a low tower.
pub fn singles() -> Trial {
    Trial {
        field: StringField {
            mirrors_per_string: 1,
            first_axis: FirstAxis::Vertical,
            bearing: BearingRule::Cross,
            side_m: 0.7,
            pitch_m: 1.1,
            end_gap_m: 0.6,
            row_spacing_m: 1.5,
            mount_height_m: 0.9,
            aim_height_m: 30.0,
            inner_radius_m: 24.0,
            ..usual()
        },
        strings: 700,
        outline: square(1.6),
        tilt_down_deg: 25.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Single,
    }
}

/// Mirrors of 36 m² on pedestals, all round a high tower and far south of it too.
pub fn pedestals() -> Trial {
    Trial {
        field: StringField {
            mirrors_per_string: 1,
            first_axis: FirstAxis::Vertical,
            bearing: BearingRule::Cross,
            side_m: 6.0,
            pitch_m: 9.0,
            end_gap_m: 4.0,
            row_spacing_m: 11.0,
            mount_height_m: 4.8,
            aim_height_m: 70.0,
            inner_radius_m: 60.0,
            outer_radius_m: 350.0,
            sector_half_rad: std::f64::consts::PI,
            sector_centre_azimuth_rad: std::f64::consts::PI,
            ..usual()
        },
        strings: 260,
        outline: Outline::Cylinder {
            diameter_m: 6.0,
            height_m: 7.0,
        },
        tilt_down_deg: 0.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Pedestal,
    }
}

/// Such mirrors of 30 m² in rings before a tower of 40 m, their aims spread.
pub fn rings_of_heliostats() -> Trial {
    Trial {
        field: StringField {
            side_m: 5.5,
            mount_height_m: 3.2,
            inner_radius_m: 30.0,
            ..usual()
        },
        strings: 115,
        outline: Outline::Rectangle {
            width_m: 4.0,
            height_m: 3.4,
        },
        tilt_down_deg: 20.0,
        aim_spread: 0.8,
        tower: &[],
        make: Make::Rings,
    }
}

/// The same, all aimed at the middle.
pub fn rings_with_one_aim() -> Trial {
    Trial {
        aim_spread: 0.0,
        ..rings_of_heliostats()
    }
}

/// Mirrors of 36 m² in rings all round a cylinder, as near as they may stand.
pub fn rings_around_a_cylinder() -> Trial {
    Trial {
        make: Make::Rings,
        ..pedestals()
    }
}

/// Strings south of the tower, whose mirrors turn their backs to the noon sun.
pub fn south_of_the_tower() -> Trial {
    Trial {
        field: StringField {
            sector_centre_azimuth_rad: std::f64::consts::PI,
            ..usual()
        },
        strings: 60,
        outline: square(3.0),
        tilt_down_deg: 30.0,
        aim_spread: 0.0,
        tower: &[],
        make: Make::Shared,
    }
}
