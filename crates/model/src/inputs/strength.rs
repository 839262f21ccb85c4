//! Inputs of the structure.

use optics::Pillar;
use plant::PlantParts;
use scenario::{
    Design, DrivenFrom, FirstAxis, Line, Linkage, OffsetPlace, PanelShape, Rail, StringsDesign,
};
use structure::{
    Footing, Gear, Glass, Ground, Handing, Joint, LineKind, Panel, Rules, Setting, Sheet,
    StringInputs, Terrain, TowerInputs, Wind, WindCode, head_mass_kg, shadow_width_m,
};

use crate::case::Case;
use crate::make::FLAT_FOCAL_LENGTH_M;

/// Width and height of the receiver's box over those of its aperture, for the wind; surface of a
/// cavity's housing over that of its inside (common practice, no source).
const HEAD_MARGIN: f64 = 1.3;

/// Where a string stands to the wind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lee {
    /// Among others that shelter it.
    Inside,
    /// Open to the wind.
    Edge,
}

impl Lee {
    /// Both, the sheltered first.
    pub const BOTH: [Self; 2] = [Self::Inside, Self::Edge];
}

/// One string to be sized.
#[must_use]
pub fn string_inputs(
    case: &Case,
    design: &Design,
    strings: &StringsDesign,
    lee: Lee,
) -> StringInputs {
    StringInputs {
        panel: Panel {
            glass: glass(case),
            side_m: strings.side_m,
            thickness_m: strings.glass_thickness_m,
            shortest_focal_length_m: shortest_focal_length_m(
                strings.panel_shape,
                nearest_slant_m(case, design, strings.mount_height_m),
            ),
        },
        mirrors: strings.mirrors as usize,
        pitch_m: strings.pitch_ratio * strings.side_m,
        mount_height_m: strings.mount_height_m,
        stagger_m: strings.stagger_m,
        rail_slope_rad: strings.rail_slope_rad,
        lever_m: strings.lever_m,
        driven_from_middle: strings.driven_from == DrivenFrom::Middle,
        on_rail: strings.drive.rail == Rail::Continuous,
        gear: gear(strings),
        wind: wind(case),
        rules: Rules {
            sway_limit_rad: strings.give_rad,
            twist_limit_rad: strings.give_rad,
            star_droop_limit_rad: strings.give_rad,
            stow_misfit_rad: case.scenario.structure.stow_misfit_rad
                + stow_misfit_rad(
                    nearest_slant_m(case, design, strings.mount_height_m),
                    strings,
                ),
            pretension_ratio: strings.drive.pretension_ratio,
            strand_warmth_k: line_warmth_k(case, strings),
            ..rules(case, lee)
        },
    }
}

/// The sheets that panels are cut from.
#[must_use]
pub const fn sheet(case: &Case) -> Sheet {
    let stock = &case.scenario.stock;
    Sheet {
        length_m: stock.sheet_length_m,
        width_m: stock.sheet_width_m,
    }
}

/// What holds for all that stands in the field, but for what a design lets it give.
#[must_use]
pub fn rules(case: &Case, lee: Lee) -> Rules {
    let structure = &case.scenario.structure;
    Rules {
        steel_yield_pa: structure.steel_yield_pa,
        wind_factor: structure.wind_factor,
        shelter: match lee {
            Lee::Inside => structure.shelter,
            Lee::Edge => 1.0,
        },
        gust_width_m: structure.gust_width_m,
        small_chord_limit: structure.small_mirror_rise,
        stow_misfit_rad: structure.stow_misfit_rad,
        stow_time_s: structure.stow_time_s,
        ground: match structure.soil {
            scenario::Soil::Loose => Ground::LOOSE_SAND,
            scenario::Soil::Medium => Ground::MEDIUM_SAND,
            scenario::Soil::Dense => Ground::DENSE_SAND,
        },
        footing: footing(case, structure.footing),
        ..Rules::customary()
    }
}

/// The glass of all panels.
#[must_use]
pub fn glass(case: &Case) -> Glass {
    let glass = &case.scenario.glass;
    Glass {
        strength_pa: glass.strength_pa,
        wind_factor: glass.wind_factor,
        ..Glass::ANNEALED
    }
}

/// What stands in the ground; holes are drilled as the scenario has them.
#[must_use]
pub const fn footing(case: &Case, footing: scenario::Footing) -> Footing {
    match footing {
        scenario::Footing::Driven => Footing::Driven,
        scenario::Footing::Drilled => Footing::Augered {
            hole_diameter_m: case.scenario.structure.hole_diameter_m,
        },
    }
}

/// How much warmer lines get than what holds their ends: the rail, or the ground.
#[must_use]
pub fn line_warmth_k(case: &Case, strings: &StringsDesign) -> f64 {
    let measured = &case.scenario.strings.tolerances;
    match strings.drive.rail {
        Rail::Continuous => measured.line_warmth_k,
        Rail::None => libm::hypot(measured.line_warmth_k, measured.air_warmth_k),
    }
}

/// How mirrors are hinged, set and moved.
const fn gear(strings: &StringsDesign) -> Gear {
    let drive = &strings.drive;
    Gear {
        joint: match strings.first_axis {
            FirstAxis::RollFree => Joint::Ball,
            _ => Joint::Axes,
        },
        setting: match strings.offset {
            OffsetPlace::Shim => Setting::Shim,
            OffsetPlace::Lever => Setting::Lever,
            OffsetPlace::Post => Setting::Post,
        },
        handing: match strings.linkage {
            Linkage::SlidingLever => Handing::Bar,
            Linkage::EqualAngle | Linkage::EqualTravel | Linkage::Graded => match drive.line {
                Line::Rod => Handing::Loops(LineKind::Rod),
                Line::Rope => Handing::Loops(LineKind::Rope),
                Line::PushRod => Handing::PushRods {
                    guides: drive.rod_guides,
                },
            },
        },
    }
}

/// What panels are bent to at a distance.
#[must_use]
pub const fn shortest_focal_length_m(shape: PanelShape, nearest_m: f64) -> f64 {
    match shape {
        PanelShape::Focused => nearest_m,
        PanelShape::Flat => FLAT_FOCAL_LENGTH_M,
    }
}

/// From the field's inner edge to the aim point.
#[must_use]
pub fn nearest_slant_m(case: &Case, design: &Design, height_m: f64) -> f64 {
    let inner_m = case.scenario.field.inner_radius_ratio * design.aim_height_m;
    libm::hypot(inner_m, design.aim_height_m - height_m)
}

/// Offset of a string's end mirrors against its middle, where strings stand nearest: half the angle
/// under which the aim point sees half the string, at most.
fn stow_misfit_rad(slant_m: f64, strings: &StringsDesign) -> f64 {
    let pitch_m = strings.pitch_ratio * strings.side_m;
    let half_length_m = 0.5 * (f64::from(strings.mirrors) - 1.0) * pitch_m;
    0.5 * libm::atan2(half_length_m, slant_m)
}

/// The wind that everything stands in.
#[must_use]
pub fn wind(case: &Case) -> Wind {
    let structure = &case.scenario.structure;
    Wind {
        code: match structure.wind_code {
            scenario::WindCode::En1991 => WindCode::En1991,
            scenario::WindCode::Asce7 => WindCode::Asce7,
        },
        terrain: terrain(structure.roughness_m),
        air_density_kg_m3: case.air_density_kg_m3,
        operate_m_s: structure.operating_wind_m_s,
        drive_to_stow_m_s: structure.drive_wind_m_s,
        survive_m_s: structure.survival_wind_m_s,
        rms_operating_m_s: case.collecting_wind_m_s,
    }
}

/// The profile's least height is that of the nearest terrain category of EN 1991-1-4.
fn terrain(roughness_m: f64) -> Terrain {
    let category = [Terrain::FLAT, Terrain::OPEN, Terrain::SUBURBAN]
        .into_iter()
        .min_by(|one, other| {
            let apart = |terrain: &Terrain| libm::log(terrain.roughness_m / roughness_m).abs();
            apart(one).total_cmp(&apart(other))
        })
        .unwrap_or(Terrain::OPEN);
    Terrain {
        roughness_m,
        least_height_m: category.least_height_m,
    }
}

/// The tower under its receiver.
#[must_use]
pub fn tower_inputs(case: &Case, design: &Design, parts: &PlantParts) -> TowerInputs {
    TowerInputs {
        height_m: design.aim_height_m,
        head_mass_kg: head_mass_kg(parts.receiver_mass_kg, housing_area_m2(case, design)),
        head_area_m2: HEAD_MARGIN
            * HEAD_MARGIN
            * design.aperture_width_m
            * design.aperture_height_m,
        wind: wind(case),
        steel_yield_pa: case.scenario.structure.steel_yield_pa,
        wind_factor: case.scenario.structure.wind_factor,
    }
}

/// Insulated housing of a cavity: as much as its inner surface, with walls around, and its door; none
/// for a billboard or cylinder.
#[must_use]
pub fn housing_area_m2(case: &Case, design: &Design) -> f64 {
    let aperture_m2 = super::aperture(case, design).area_m2();
    let receiver = &case.scenario.receiver;
    let door_m2 = match receiver.door {
        scenario::Door::None => 0.0,
        scenario::Door::ClosedAtRest => aperture_m2,
    };
    match receiver.kind {
        scenario::ReceiverKind::Billboard | scenario::ReceiverKind::Cylinder => 0.0,
        scenario::ReceiverKind::Cavity => {
            HEAD_MARGIN * receiver.cavity_inside_ratio * aperture_m2 + door_m2
        }
    }
}

/// What of the tower shades the field: the shaft up to the receiver, and the receiver's box.
#[must_use]
pub fn pillars(design: &Design) -> [Pillar; 2] {
    let half_box_m = 0.5 * HEAD_MARGIN * design.aperture_height_m;
    let bottom_m = (design.aim_height_m - half_box_m).max(0.0);
    [
        Pillar {
            width_m: shadow_width_m(design.aim_height_m),
            from_m: 0.0,
            to_m: bottom_m,
        },
        Pillar {
            width_m: HEAD_MARGIN * design.aperture_width_m,
            from_m: bottom_m,
            to_m: design.aim_height_m + half_box_m,
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 15 mirrors 1.2 m apart, 48 m from the aim point: the last one is 8.4 m off the middle, which
    /// the aim point sees under 0.173 rad; a mirror turns by half of that.
    #[test]
    fn long_strings_stow_worse() {
        let strings = StringsDesign {
            mirrors: 15,
            side_m: 1.0,
            pitch_ratio: 1.2,
            ..StringsDesign::default()
        };
        assert!((stow_misfit_rad(48.0, &strings) - 0.0866).abs() < 1e-4);
        let one = StringsDesign {
            mirrors: 1,
            ..strings
        };
        assert_eq!(stow_misfit_rad(48.0, &one), 0.0);
    }

    /// EN 1991-1-4, table 4.1 (from memory): open country is constant below 2 m, suburbs below 5 m.
    #[test]
    fn terrain_takes_the_least_height_of_the_nearest_category() {
        assert_eq!(terrain(0.03).least_height_m, 2.0);
        assert_eq!(terrain(0.3).least_height_m, 5.0);
        assert_eq!(terrain(0.005).least_height_m, 1.0);
        assert_eq!(terrain(0.03).roughness_m, 0.03);
    }
}
