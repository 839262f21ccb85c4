//! A survey of strings that stand: how each mirror was found against its plan.

use std::collections::BTreeMap;
use std::path::Path;

use field::PlanRow;
use geometry::Vec3;
use model::spot::Found;

use crate::failure::Failure;
use crate::lines::{Cells, Columns, Lines};

const COLUMNS: Columns = Columns {
    needed: &["mirror_id"],
    optional: &[
        "string_id",
        "dx_m",
        "dy_m",
        "dz_m",
        "tilt_east_mrad",
        "tilt_north_mrad",
        "first_turn_mrad",
        "second_turn_mrad",
        "first_turn_error_mrad",
        "second_turn_error_mrad",
    ],
};

/// Farther than this a mirror does not stand from its place by mistake of the builder [m].
const MOST_M: f64 = 5.0;
/// Nor is it tilted or turned by more [mrad].
const MOST_MRAD: f64 = 500.0;
const MRAD_PER_RAD: f64 = 1e3;

/// One line of a survey. Turns are measured as such, or as errors against what was set out.
struct Line {
    string_id: String,
    mirror_id: String,
    found: Found,
    measured_rad: [Option<f64>; 2],
}

/// Reads a survey of a plan with these rows, whose mirrors should have been set by `turns_rad`.
/// Mirrors without a line, and cells left empty, are as planned.
pub fn read(path: &Path, rows: &[PlanRow], turns_rad: &[[f64; 2]]) -> Result<Vec<Found>, Failure> {
    let lines = Lines::read(path, &COLUMNS)?;
    let read = lines.each(line)?;
    let place =
        |(mirror, row): (usize, &PlanRow)| ((row.string_id.clone(), row.mirror_id.clone()), mirror);
    let mut places: BTreeMap<(String, String), usize> =
        rows.iter().enumerate().map(place).collect();
    let mut found = vec![Found::default(); rows.len()];
    let mut problems = Vec::new();
    for (number, line) in read.into_iter().enumerate() {
        let told = name(&line.string_id, &line.mirror_id);
        match places.remove(&(line.string_id, line.mirror_id)) {
            Some(mirror) => {
                found[mirror] = line.found;
                let measured = line.measured_rad.into_iter().zip(turns_rad[mirror]);
                for (turned, (measured, set)) in found[mirror].turned_rad.iter_mut().zip(measured) {
                    *turned = measured.map_or(*turned, |measured| measured - set);
                }
            }
            None => {
                let text = format!("{told} is not in the plan, or stands above already");
                problems.push(lines.problem_at(number, text));
            }
        }
    }
    if problems.is_empty() {
        Ok(found)
    } else {
        Err(lines.refused(problems))
    }
}

/// A mirror's name for people.
pub fn name(string_id: &str, mirror_id: &str) -> String {
    if string_id.is_empty() {
        format!("mirror {mirror_id}")
    } else {
        format!("string {string_id} mirror {mirror_id}")
    }
}

fn line(cells: &mut Cells) -> Line {
    let [dx_m, dy_m, dz_m] = ["dx_m", "dy_m", "dz_m"].map(|column| within(cells, column, MOST_M));
    let tilts = ["tilt_east_mrad", "tilt_north_mrad"];
    let errors = ["first_turn_error_mrad", "second_turn_error_mrad"];
    let turns = ["first_turn_mrad", "second_turn_mrad"];
    let measured_rad = turns.map(|column| {
        let is_given = !cells.text(column).is_empty();
        is_given.then(|| radians(cells, column))
    });
    for (error, turn) in errors.iter().zip(turns) {
        if !cells.text(error).is_empty() && !cells.text(turn).is_empty() {
            cells.problem(format!("give {turn} or {error}, not both"));
        }
    }
    Line {
        string_id: cells.text("string_id").to_owned(),
        mirror_id: cells.text("mirror_id").to_owned(),
        found: Found {
            moved_m: Vec3::new(dx_m, dy_m, dz_m),
            lean_rad: tilts.map(|column| radians(cells, column)),
            turned_rad: errors.map(|column| radians(cells, column)),
        },
        measured_rad,
    }
}

fn radians(cells: &mut Cells, column: &str) -> f64 {
    within(cells, column, MOST_MRAD) / MRAD_PER_RAD
}

/// The number in a column, 0 if the cell is empty.
fn within(cells: &mut Cells, column: &str, most: f64) -> f64 {
    if cells.text(column).is_empty() {
        return 0.0;
    }
    let value = cells.number(column);
    if value.abs() > most {
        cells.problem(format!("{column} is {value}; it must be -{most} … {most}"));
    }
    value
}
