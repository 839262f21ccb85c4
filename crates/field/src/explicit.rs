//! Plans written down mirror by mirror.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use geometry::{Vec3, direction};
use thiserror::Error;

use crate::plan::{FirstAxis, Linkage, Plan, StringRow};
use crate::plan_check::PlanError;

/// One mirror of a plan that is written down.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRow {
    /// Names its string; empty for a mirror with a drive of its own.
    pub string_id: String,
    /// Names the mirror in its string, or in the field if it has a drive of its own.
    pub mirror_id: String,
    /// Its centre, from the tower's foot: east, north, up.
    pub centre_m: Vec3,
    /// Panel width, along the carried second axis.
    pub width_m: f64,
    /// Panel height.
    pub height_m: f64,
    /// Focal length it is bent to; infinite for a flat one.
    pub focal_length_m: f64,
    /// The point it is set on; `None` for the plan's aim.
    pub aim_m: Option<Vec3>,
    /// How its string turns; `None` for a mirror with a drive of its own.
    pub coupling: Option<Coupling>,
}

/// How the mirrors of a string turn together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coupling {
    /// The axis fixed to the ground.
    pub first_axis: FirstAxis,
    /// Bearing of the string, radians clockwise from north.
    pub bearing_rad: f64,
    /// How motion reaches the mirrors.
    pub linkage: Linkage,
}

impl Coupling {
    /// The drive of a mirror that stands alone: azimuth, then elevation. Its width stays level.
    pub(crate) const ALONE: Self = Self {
        first_axis: FirstAxis::Vertical,
        bearing_rad: 0.0,
        linkage: Linkage::EqualAngle,
    };

    /// How the mirrors of a string turn.
    const fn of(row: &StringRow) -> Self {
        Self {
            first_axis: row.first_axis,
            bearing_rad: row.bearing_rad,
            linkage: row.linkage,
        }
    }

    /// A string of these mirrors of the plan, in row `row`, that turn so.
    pub(crate) fn string(self, mirrors: Range<usize>, row: usize) -> StringRow {
        StringRow {
            first_mirror: mirrors.start,
            mirror_count: mirrors.len(),
            bearing_rad: self.bearing_rad,
            first_axis: self.first_axis,
            linkage: self.linkage,
            row,
        }
    }
}

/// A row that cannot be part of the plan.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{problem}")]
pub struct RowError {
    /// Which row, from 0.
    pub row: usize,
    /// What is wrong with it.
    pub problem: RowProblem,
}

/// What can be wrong with a row.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum RowProblem {
    /// A mirror without a name.
    #[error("mirror_id is empty; name every mirror")]
    NoName,
    /// A mirror named twice.
    #[error("mirror_id \"{mirror_id}\" is taken in this string; give every mirror its own")]
    SameName {
        /// The name.
        mirror_id: String,
    },
    /// A mirror in the place of another.
    #[error("it stands where mirror \"{mirror_id}\" stands; move it or take it out")]
    SamePlace {
        /// Name of the other mirror.
        mirror_id: String,
    },
    /// A mirror with a drive of its own that is told how its string turns.
    #[error(
        "a mirror without string_id has a drive of its own; leave first_axis, bearing_deg and linkage empty, or name its string"
    )]
    CoupledAlone,
    /// A mirror of a string that is not told how the string turns.
    #[error("first_axis, bearing_deg and linkage are needed for every mirror of a string")]
    Uncoupled,
    /// A mirror that turns otherwise than its string.
    #[error("it turns otherwise than the first mirror of string \"{string_id}\"; take the same {}", what.join(", "))]
    OtherCoupling {
        /// Name of the string.
        string_id: String,
        /// Columns that differ.
        what: Vec<&'static str>,
    },
    /// A string whose rows are apart.
    #[error("string \"{string_id}\" has ended above; keep the rows of a string together")]
    TakenUpAgain {
        /// Name of the string.
        string_id: String,
    },
    /// A mirror that stands before the one above it.
    #[error(
        "it stands {back_m:.3} m behind the row above it along {bearing_deg:.1} deg; begin with the mirror most negative along the bearing, or turn the bearing round"
    )]
    OutOfOrder {
        /// How far behind [m].
        back_m: f64,
        /// Bearing of the string [deg].
        bearing_deg: f64,
    },
    /// What holds for every plan does not hold.
    #[error("{0}")]
    Plan(#[from] PlanError),
}

impl Plan {
    /// The plan of these rows, in their order; `aim_m` is the point that mirrors without an aim of
    /// their own are set on. A mirror without a string is a string of one, which its drive keeps
    /// exactly on target.
    ///
    /// # Errors
    /// Every row's first [`RowProblem`]; if there is none, the first [`PlanError`].
    pub fn from_rows(rows: &[PlanRow], aim_m: Vec3) -> Result<Self, Vec<RowError>> {
        let strings = strings(rows);
        let mut errors = Vec::new();
        check_repeats(rows, &strings, &mut errors);
        for string in &strings {
            check_string(rows, string, &mut errors);
        }
        if !errors.is_empty() {
            errors.sort_by_key(|error| error.row);
            errors.dedup_by_key(|error| error.row);
            return Err(errors);
        }
        let plan = joined(rows, &strings, aim_m);
        plan.checked().map_err(|error| {
            let row = row_of(&error, &strings);
            vec![RowError {
                row,
                problem: error.into(),
            }]
        })
    }

    /// The rows of this plan, strings and their mirrors named by number from 1; mirrors with drives of their
    /// own by the number of their drives.
    #[must_use]
    pub fn to_rows(&self) -> Vec<PlanRow> {
        let strings = self.strings.iter().enumerate();
        strings
            .flat_map(|(string, row)| {
                let coupling = Coupling::of(row);
                let is_alone = row.mirror_count == 1 && coupling == Coupling::ALONE;
                let number = (string + 1).to_string();
                row.mirrors().map(move |mirror| {
                    let place = (mirror - row.first_mirror + 1).to_string();
                    let (string_id, mirror_id) = if is_alone {
                        (String::new(), number.clone())
                    } else {
                        (number.clone(), place)
                    };
                    PlanRow {
                        string_id,
                        mirror_id,
                        centre_m: self.centre_m(mirror),
                        width_m: self.width_m[mirror],
                        height_m: self.height_m[mirror],
                        focal_length_m: self.focal_length_m[mirror],
                        aim_m: Some(self.aim_of_m(mirror)),
                        coupling: (!is_alone).then_some(coupling),
                    }
                })
            })
            .collect()
    }
}

/// Runs of rows that name the same string; a row that names none is a run of its own.
fn strings(rows: &[PlanRow]) -> Vec<Range<usize>> {
    let mut first = 0;
    rows.chunk_by(|one, next| !one.string_id.is_empty() && one.string_id == next.string_id)
        .map(|run| {
            let string = first..first + run.len();
            first = string.end;
            string
        })
        .collect()
}

/// Names and places that are taken, and strings that have ended.
fn check_repeats(rows: &[PlanRow], strings: &[Range<usize>], errors: &mut Vec<RowError>) {
    let mut names = BTreeMap::new();
    let mut places = BTreeMap::new();
    for (row, one) in rows.iter().enumerate() {
        let name = (one.string_id.as_str(), one.mirror_id.as_str());
        let place = one.centre_m.to_array().map(f64::to_bits);
        let problem = if one.mirror_id.is_empty() {
            Some(RowProblem::NoName)
        } else if names.insert(name, row).is_some() {
            let mirror_id = one.mirror_id.clone();
            Some(RowProblem::SameName { mirror_id })
        } else {
            let other: Option<usize> = places.insert(place, row);
            other.map(|other| RowProblem::SamePlace {
                mirror_id: rows[other].mirror_id.clone(),
            })
        };
        errors.extend(problem.map(|problem| RowError { row, problem }));
    }
    let mut begun = BTreeSet::new();
    for string in strings {
        let string_id = &rows[string.start].string_id;
        if !string_id.is_empty() && !begun.insert(string_id) {
            errors.push(RowError {
                row: string.start,
                problem: RowProblem::TakenUpAgain {
                    string_id: string_id.clone(),
                },
            });
        }
    }
}

fn check_string(rows: &[PlanRow], string: &Range<usize>, errors: &mut Vec<RowError>) {
    let first = &rows[string.start];
    for row in string.clone() {
        let problem = match (first.string_id.is_empty(), rows[row].coupling) {
            (true, Some(_)) => Some(RowProblem::CoupledAlone),
            (false, None) => Some(RowProblem::Uncoupled),
            (true, None) => None,
            (false, Some(coupling)) if row > string.start => {
                check_next(first, &rows[row - 1], &rows[row], &coupling)
            }
            (false, Some(_)) => None,
        };
        errors.extend(problem.map(|problem| RowError { row, problem }));
    }
}

/// A mirror of a string against the string's first one and the one before it.
fn check_next(
    first: &PlanRow,
    before: &PlanRow,
    one: &PlanRow,
    coupling: &Coupling,
) -> Option<RowProblem> {
    // A first mirror without coupling is told on its own row.
    let wanted = first.coupling.as_ref()?;
    let what: Vec<&str> = [
        ("first_axis", coupling.first_axis != wanted.first_axis),
        ("bearing_deg", coupling.bearing_rad != wanted.bearing_rad),
        ("linkage", coupling.linkage != wanted.linkage),
    ]
    .into_iter()
    .filter_map(|(column, differs)| differs.then_some(column))
    .collect();
    if !what.is_empty() {
        let string_id = first.string_id.clone();
        return Some(RowProblem::OtherCoupling { string_id, what });
    }
    let along = direction::along_bearing(wanted.bearing_rad);
    let step_m = (one.centre_m - before.centre_m).dot(along);
    (step_m <= 0.0).then(|| RowProblem::OutOfOrder {
        back_m: -step_m,
        bearing_deg: wanted.bearing_rad.to_degrees(),
    })
}

fn joined(rows: &[PlanRow], strings: &[Range<usize>], aim_m: Vec3) -> Plan {
    let column = |value: fn(&PlanRow) -> f64| rows.iter().map(value).collect();
    let has_own_aims = rows.iter().any(|row| row.aim_m.is_some());
    let shift_m = |row: &PlanRow| row.aim_m.map_or(Vec3::ZERO, |own_m| own_m - aim_m);
    Plan {
        x_m: column(|row| row.centre_m.x),
        y_m: column(|row| row.centre_m.y),
        z_m: column(|row| row.centre_m.z),
        width_m: column(|row| row.width_m),
        height_m: column(|row| row.height_m),
        focal_length_m: column(|row| row.focal_length_m),
        strings: strings
            .iter()
            .enumerate()
            .map(|(index, string)| string_row(rows, string, index))
            .collect(),
        aim_m,
        aim_shift_m: if has_own_aims {
            rows.iter().map(shift_m).collect()
        } else {
            Vec::new()
        },
    }
}

/// Every string counts as a row of its own: who wrote it down did not say which stand in one.
fn string_row(rows: &[PlanRow], string: &Range<usize>, index: usize) -> StringRow {
    let coupling = rows[string.start].coupling.unwrap_or(Coupling::ALONE);
    coupling.string(string.clone(), index)
}

fn row_of(error: &PlanError, strings: &[Range<usize>]) -> usize {
    match error {
        PlanError::Place { mirror, .. } | PlanError::Size { mirror, .. } => *mirror,
        PlanError::Bearing { string, .. } => strings[*string].start,
        _ => 0,
    }
}

#[cfg(test)]
mod tests;
