//! Heliostats that are set out, as tables for a crew.

use field::PlanRow;
use model::setout::{CantedPanel, SetHeliostats};
use report::{Data, Table, TableKind};

const MRAD_PER_RAD: f64 = 1e3;

/// A value of a panel.
type OfPanel = fn(&CantedPanel) -> f64;

/// A column of numbers, one for each heliostat or panel.
fn numbers(table: &mut Table, name: &str, count: usize, value: impl Fn(usize) -> Option<f64>) {
    let finite = |place: usize| value(place).filter(|value| value.is_finite());
    table.push(name, Data::Number((0..count).map(finite).collect()));
}

/// Where each stands and on what, its drives and its aim.
pub fn heliostats(set: &SetHeliostats, rows: &[PlanRow]) -> Table {
    let mut table = Table::new(TableKind::Heliostats);
    let (plan, count) = (&set.plan, set.plan.mirror_count());
    let make = |heliostat: usize| &set.makes[set.make_of[heliostat]];
    let names = rows.iter().map(|row| Some(row.mirror_id.clone()));
    table.push("mirror_id", Data::Text(names.collect()));
    let mut column = |name: &str, value: &dyn Fn(usize) -> Option<f64>| {
        numbers(&mut table, name, count, value);
    };
    column("pedestal_x_m", &|at| Some(plan.x_m[at]));
    column("pedestal_y_m", &|at| Some(plan.y_m[at]));
    column("ground_level_m", &|at| Some(set.ground_m[at]));
    column("axis_height_m", &|at| Some(plan.z_m[at] - set.ground_m[at]));
    column("embedded_m", &|at| Some(make(at).parts.embedded_m));
    column("pier_m", &|at| make(at).parts.pier_m);
    column("concrete_m3", &|at| Some(make(at).parts.concrete_m3));
    column("steel_kg", &|at| {
        let masses = &make(at).parts.masses;
        Some(masses.sections_kg() + masses.mount_kg)
    });
    column("azimuth_torque_n_m", &|at| {
        Some(make(at).parts.azimuth_torque_n_m)
    });
    column("elevation_torque_n_m", &|at| {
        Some(make(at).parts.elevation_torque_n_m)
    });
    column("bent_to_m", &|at| Some(plan.focal_length_m[at]));
    column("aims_at_x_m", &|at| Some(plan.aim_of_m(at).x));
    column("aims_at_y_m", &|at| Some(plan.aim_of_m(at).y));
    column("aims_at_z_m", &|at| Some(plan.aim_of_m(at).z));
    let open = (0..count).map(|at| Some(make(at).lee == model::Lee::Edge));
    table.push("open_to_the_wind", Data::Flag(open.collect()));
    table
}

/// How every panel lies on its frame.
pub fn canted_panels(set: &SetHeliostats, rows: &[PlanRow]) -> Table {
    let mut table = Table::new(TableKind::CantedPanels);
    let panels = &set.panels;
    let names = panels.iter();
    let names = names.map(|panel| Some(rows[panel.heliostat].mirror_id.clone()));
    table.push("mirror_id", Data::Text(names.collect()));
    for (axis, name) in ["column", "row_from_below"].into_iter().enumerate() {
        let places = panels.iter().map(|panel| Some(panel.place[axis] as u32));
        table.push(name, Data::Count(places.collect()));
    }
    let columns: [(&str, OfPanel); 4] = [
        ("right_m", |panel| panel.middle_m[0]),
        ("above_m", |panel| panel.middle_m[1]),
        ("leans_right_mrad", |panel| panel.cant_rad[0] * MRAD_PER_RAD),
        ("leans_up_mrad", |panel| panel.cant_rad[1] * MRAD_PER_RAD),
    ];
    for (name, value) in columns {
        numbers(&mut table, name, panels.len(), |at| {
            Some(value(&panels[at]))
        });
    }
    table
}
