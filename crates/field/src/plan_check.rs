//! Checks for plans that were not laid here but read from a file.

use thiserror::Error;

use crate::plan::Plan;

/// A plan whose parts don't belong together.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PlanError {
    /// No mirrors.
    #[error("the plan holds no mirror; it must hold one or more")]
    Empty,
    /// A column is shorter or longer than the first one.
    #[error("column {column} has {length} values for {mirrors} mirrors")]
    ColumnLength {
        /// Which column.
        column: &'static str,
        /// Its length.
        length: usize,
        /// Length of the column of places.
        mirrors: usize,
    },
    /// A string is empty or does not start where the one before ends.
    #[error(
        "string {string} starts at mirror {found}; it must start at {expected} and hold a mirror or more"
    )]
    StringGap {
        /// Which string, from 0.
        string: usize,
        /// Its first mirror.
        found: usize,
        /// Where it should start.
        expected: usize,
    },
    /// A string has no bearing.
    #[error("string {string} bears {bearing_rad}; it must be a number")]
    Bearing {
        /// Which string, from 0.
        string: usize,
        /// Its bearing [rad].
        bearing_rad: f64,
    },
    /// Mirrors without a string, or strings without mirrors.
    #[error("the strings hold {in_strings} mirrors, the columns {mirrors}")]
    Uncovered {
        /// Mirrors in strings.
        in_strings: usize,
        /// Mirrors in columns.
        mirrors: usize,
    },
    /// A mirror stands nowhere, or in the aim point.
    #[error(
        "mirror {mirror} stands at ({x_m}, {y_m}, {z_m}) m; it must stand somewhere off the aim point"
    )]
    Place {
        /// Which mirror, from 0.
        mirror: usize,
        /// East [m].
        x_m: f64,
        /// North [m].
        y_m: f64,
        /// Up [m].
        z_m: f64,
    },
    /// A panel has no size.
    #[error("mirror {mirror} has a {size} of {value_m} m; it must be positive")]
    Size {
        /// Which mirror, from 0.
        mirror: usize,
        /// Which size.
        size: &'static str,
        /// What was given [m].
        value_m: f64,
    },
}

/// A mirror nearer to its aim point stands in it [m].
const LEAST_BEAM_M: f64 = 1e-3;

impl Plan {
    /// The plan itself if its columns and strings belong together: for plans that were not laid
    /// here but read from a file.
    ///
    /// # Errors
    /// The first [`PlanError`] found.
    pub fn checked(self) -> Result<Self, PlanError> {
        self.check_columns()?;
        self.check_strings()?;
        (0..self.mirror_count()).try_for_each(|mirror| self.check_mirror(mirror))?;
        Ok(self)
    }

    fn check_columns(&self) -> Result<(), PlanError> {
        let mirrors = self.mirror_count();
        let columns = [
            ("y", self.y_m.len()),
            ("z", self.z_m.len()),
            ("width", self.width_m.len()),
            ("height", self.height_m.len()),
            ("focal length", self.focal_length_m.len()),
            // An empty column of aims stands for one aim.
            ("aim", self.aim_shift_m.len()),
        ];
        if mirrors == 0 {
            return Err(PlanError::Empty);
        }
        let is_one_aim = |column: &str, length: usize| column == "aim" && length == 0;
        match columns
            .into_iter()
            .find(|(column, length)| *length != mirrors && !is_one_aim(column, *length))
        {
            Some((column, length)) => Err(PlanError::ColumnLength {
                column,
                length,
                mirrors,
            }),
            None => Ok(()),
        }
    }

    fn check_strings(&self) -> Result<(), PlanError> {
        let mut expected = 0;
        for (string, row) in self.strings.iter().enumerate() {
            let found = row.first_mirror;
            if found != expected || row.mirror_count == 0 {
                return Err(PlanError::StringGap {
                    string,
                    found,
                    expected,
                });
            }
            if !row.bearing_rad.is_finite() {
                return Err(PlanError::Bearing {
                    string,
                    bearing_rad: row.bearing_rad,
                });
            }
            expected += row.mirror_count;
        }
        if expected != self.mirror_count() {
            let (in_strings, mirrors) = (expected, self.mirror_count());
            return Err(PlanError::Uncovered {
                in_strings,
                mirrors,
            });
        }
        Ok(())
    }

    fn check_mirror(&self, mirror: usize) -> Result<(), PlanError> {
        let centre_m = self.centre_m(mirror);
        let beam_m = self.aim_of_m(mirror).distance(centre_m);
        if !beam_m.is_finite() || beam_m < LEAST_BEAM_M {
            return Err(PlanError::Place {
                mirror,
                x_m: centre_m.x,
                y_m: centre_m.y,
                z_m: centre_m.z,
            });
        }
        for (size, value_m) in [
            ("width", self.width_m[mirror]),
            ("height", self.height_m[mirror]),
            ("focal length", self.focal_length_m[mirror]),
        ] {
            let flat = size == "focal length" && value_m == f64::INFINITY;
            if !(value_m > 0.0 && (value_m.is_finite() || flat)) {
                return Err(PlanError::Size {
                    mirror,
                    size,
                    value_m,
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{candidates, tests::steam_field};

    fn plan() -> Plan {
        candidates(&steam_field()).unwrap().plan
    }

    #[test]
    fn a_laid_plan_passes_and_flat_panels_do() {
        let mut flat = plan();
        flat.focal_length_m.fill(f64::INFINITY);
        assert!(plan().checked().is_ok());
        assert!(flat.checked().is_ok());
    }

    #[test]
    fn broken_plans_are_refused_with_their_numbers() {
        let mut short = plan();
        short.z_m.pop();
        assert!(matches!(
            short.checked(),
            Err(PlanError::ColumnLength { column: "z", .. })
        ));
        let mut gap = plan();
        gap.strings.remove(2);
        assert!(matches!(
            gap.checked(),
            Err(PlanError::StringGap { string: 2, .. })
        ));
        let mut tail = plan();
        tail.strings.pop();
        assert!(matches!(tail.checked(), Err(PlanError::Uncovered { .. })));
        let mut lost = plan();
        lost.x_m[7] = f64::NAN;
        assert!(matches!(
            lost.checked(),
            Err(PlanError::Place { mirror: 7, .. })
        ));
        let mut thin = plan();
        thin.width_m[3] = 0.0;
        let expected = PlanError::Size {
            mirror: 3,
            size: "width",
            value_m: 0.0,
        };
        assert_eq!(thin.checked(), Err(expected));
    }
}
