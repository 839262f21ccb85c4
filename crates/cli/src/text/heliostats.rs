//! Heliostats: what of their errors is calibrated away and what is left, their drives and their steel.

use model::setout::Stock;
use model::{Infeasible, Lee, Makes, PedestalCheck, PedestalParts, heliostat_parts};
use quantity::Measure;
use report::Section;
use report::text::{Align, TextTable};
use scenario::{Concept, FieldDesign, HeliostatsDesign, Sensing};

use super::pairs;
use super::steel::{Part, section};
use crate::evaluated::Evaluated;
use crate::goods::{set_by, tube};
use crate::inputs::Inputs;
use crate::units;

const MRAD: f64 = 1e3;

/// What the drives of heliostats are spared and what is left; nothing of strings.
pub fn drives(of: &Evaluated, inputs: &Inputs) -> Section {
    let (FieldDesign::Pedestals(heliostats) | FieldDesign::Singles(heliostats)) = &of.design.field
    else {
        return Section::new("Drives", String::new());
    };
    let spared = "Each heliostat is calibrated against its own light: how its post leans, how square its \
                  axes are and how it was set cost no light, and every mirror follows its sun exactly. \
                  Mirrors that share a drive keep all of these.";
    let mut table = TextTable::new(&[
        ("left, root mean square", Align::Left),
        ("mrad of the mirror", Align::Right),
    ]);
    let sized = sized(of, heliostats, inputs).unwrap_or_default();
    for (name, error_rad) in left(heliostats, inputs, sized.first().map(|(_, parts)| parts)) {
        table.row([name.to_owned(), format!("{:.2}", error_rad * MRAD)]);
    }
    let gear = sized.iter().map(|(lee, parts)| {
        let name = match lee {
            Lee::Inside => "drives in the lee of others",
            Lee::Edge => "drives open to the wind",
        };
        let shown = format!(
            "azimuth {}, elevation {}, {:.0} W together to stow",
            units::measured(parts.azimuth_torque_n_m, Measure::Torque, 3),
            units::measured(parts.elevation_torque_n_m, Measure::Torque, 3),
            parts.motor_power_w.max(1.0)
        );
        (name, shown)
    });
    Section::new("Drives", spared.to_owned())
        .and(table)
        .and(pairs(gear))
}

/// Errors that no calibration finds.
fn left(
    heliostats: &HeliostatsDesign,
    inputs: &Inputs,
    parts: Option<&PedestalParts>,
) -> Vec<(&'static str, f64)> {
    let errors = &inputs.scenario.heliostats;
    let knowing = match heliostats.sensing {
        Sensing::OpenLoop => ("encoders", errors.encoder_rad),
        Sensing::Sensor => ("sensor at the mirror", errors.sensor_rad),
        Sensing::Camera => ("cameras on the target", errors.camera_rad),
    };
    let mut left = vec![knowing];
    if heliostats.sensing != Sensing::Camera {
        left.push(("play of joints", errors.joint_play_rad));
    }
    if inputs.scenario.concept() == Concept::Pedestals {
        left.push(("panels set on their frame", errors.panel_setting_rad));
    }
    if let Some(parts) = parts {
        let errors = &parts.errors;
        left.extend([
            ("droop of panel stars", errors.star_droop_rad),
            ("droop of trusses and tube", errors.frame_droop_rad),
            ("glass and frame in the wind", errors.wind_rad),
            ("sway of the pedestal", errors.sway_rad),
        ]);
        left.retain(|(_, error_rad)| *error_rad > 0.0);
    }
    left
}

fn sized(
    of: &Evaluated,
    heliostats: &HeliostatsDesign,
    inputs: &Inputs,
) -> Result<Vec<(Lee, PedestalParts)>, Infeasible> {
    match of.plan.as_ref().map(|plan| &plan.makes) {
        Some(Makes::Heliostats(makes)) => {
            Ok(makes.iter().map(|make| (make.lee, make.parts)).collect())
        }
        _ => Ok(heliostat_parts(&inputs.case, &of.design, heliostats)?.to_vec()),
    }
}

/// Masses of the parts of one heliostat and what sets each: once in the lee of others, once open to the
/// wind.
///
/// # Errors
/// [`Infeasible`] when a part does not hold.
pub fn steel(
    of: &Evaluated,
    heliostats: &HeliostatsDesign,
    inputs: &Inputs,
) -> Result<Vec<Section>, Infeasible> {
    let sized = sized(of, heliostats, inputs)?;
    let of_lee = |lee| sized.iter().find(|(known, _)| *known == lee);
    let both = Lee::BOTH.into_iter().filter_map(of_lee);
    Ok(both
        .map(|(lee, parts)| {
            section("heliostat", *lee, parts.glass_area_m2, all(parts)).and(pairs(standing(parts)))
        })
        .collect())
}

/// The parts that a heliostat has.
fn all(parts: &PedestalParts) -> Vec<Part> {
    let (sizes, masses) = (&parts.sizes, &parts.masses);
    let of = |name, stock: Option<&Stock>, mass_kg, check: PedestalCheck| {
        let demand = parts.demand(check);
        let size = stock.map(|stock| tube(&stock.section, units::first()));
        Part {
            name,
            size: size.unwrap_or_default(),
            used: demand.utilisation,
            set_by: set_by(demand.governed_by),
            mass_kg,
        }
    };
    let (star, pedestal) = (Some(&sizes.star), Some(&sizes.pedestal));
    let truss = sizes.truss.as_ref().map(|truss| &truss.tube);
    let torque_tube = sizes.tube.as_ref();
    let mut all = vec![
        of("panel stars", star, masses.stars_kg, PedestalCheck::Star),
        of("trusses", truss, masses.trusses_kg, PedestalCheck::Truss),
        of(
            "torque tube",
            torque_tube,
            masses.tube_kg,
            PedestalCheck::Tube,
        ),
        of(
            "pedestal",
            pedestal,
            masses.pedestal_kg,
            PedestalCheck::Pedestal,
        ),
        of(
            "bars of the pier",
            None,
            masses.bars_kg,
            PedestalCheck::Footing,
        ),
    ];
    all.retain(|part| part.mass_kg > 0.0);
    all
}

/// How high a heliostat stands and on what.
fn standing(parts: &PedestalParts) -> [(&'static str, String); 2] {
    let deep = units::length(parts.embedded_m);
    let ground = match parts.pier_m {
        None => format!("{deep} driven"),
        Some(pier_m) => format!(
            "a pier of {} x {deep}, {} of concrete",
            units::length(pier_m),
            units::measured(parts.concrete_m3, Measure::Volume, 3)
        ),
    };
    [
        ("axis above the ground", units::length(parts.axis_height_m)),
        ("in the ground", ground),
    ]
}
