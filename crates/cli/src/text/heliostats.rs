//! Heliostats: what of their errors is calibrated away and what is left, their drives and their steel.

use model::setout::Stock;
use model::{Infeasible, Lee, Makes, PedestalCheck, PedestalParts, heliostat_parts};
use quantity::Measure;
use report::text::{Align, TextTable};
use report::{Section, figures};
use scenario::{Concept, FieldDesign, HeliostatsDesign, Sensing};

use super::pairs;
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
    Ok(both.map(|(lee, parts)| heliostat(*lee, parts)).collect())
}

fn heliostat(lee: Lee, parts: &PedestalParts) -> Section {
    let heading = match lee {
        Lee::Inside => "Steel of a heliostat in the lee of others",
        Lee::Edge => "Steel of a heliostat open to the wind",
    };
    let mut table = TextTable::new(&[
        ("part", Align::Left),
        ("size", Align::Left),
        (units::unit(Measure::MassPerArea), Align::Right),
        ("used", Align::Right),
        ("set by", Align::Left),
    ]);
    let masses = &parts.masses;
    let mut row = |name: &str, size: String, mass_kg: f64, check: PedestalCheck| {
        if mass_kg > 0.0 {
            let demand = parts.demand(check);
            table.row([
                name.to_owned(),
                size,
                figures::significant(
                    units::number(mass_kg / parts.glass_area_m2, Measure::MassPerArea),
                    2,
                ),
                figures::percent(demand.utilisation, 0),
                set_by(demand.governed_by),
            ]);
        }
    };
    let sizes = &parts.sizes;
    let size = |stock: &Stock| tube(&stock.section, units::first());
    let star = size(&sizes.star);
    row("panel stars", star, masses.stars_kg, PedestalCheck::Star);
    let truss = sizes.truss.as_ref().map(|truss| size(&truss.tube));
    let truss = truss.unwrap_or_default();
    row("trusses", truss, masses.trusses_kg, PedestalCheck::Truss);
    let torque_tube = sizes.tube.as_ref().map(size).unwrap_or_default();
    row(
        "torque tube",
        torque_tube,
        masses.tube_kg,
        PedestalCheck::Tube,
    );
    let pedestal = size(&sizes.pedestal);
    row(
        "pedestal",
        pedestal,
        masses.pedestal_kg,
        PedestalCheck::Pedestal,
    );
    row(
        "bars of the pier",
        String::new(),
        masses.bars_kg,
        PedestalCheck::Footing,
    );
    let standing = [
        ("axis above the ground", units::length(parts.axis_height_m)),
        (
            "in the ground",
            parts.pier_m.map_or_else(
                || format!("{} driven", units::length(parts.embedded_m)),
                |pier_m| {
                    format!(
                        "a pier of {} x {}, {} of concrete",
                        units::length(pier_m),
                        units::length(parts.embedded_m),
                        units::measured(parts.concrete_m3, Measure::Volume, 3)
                    )
                },
            ),
        ),
    ];
    Section::new(heading, table).and(pairs(standing))
}
