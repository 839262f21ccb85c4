//! Instants as people write them: where the sun stands and how hard it shines.

use std::path::Path;

use geometry::direction;
use model::Moment;

use crate::failure::Failure;
use crate::lines::{Cells, Columns, Lines};

const COLUMNS: Columns = Columns {
    needed: &["sun_azimuth_deg", "sun_elevation_deg", "dni_w_m2"],
    optional: &[],
};

/// The lowest sun that is judged [deg].
const LOWEST_DEG: f64 = 1.0;
/// More than the sun sends outside the air [W/m²].
const MOST_DNI_W_M2: f64 = 1500.0;

/// An instant as it was written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instant {
    /// Clockwise from north.
    pub sun_azimuth_deg: f64,
    /// Above the horizon.
    pub sun_elevation_deg: f64,
    /// Direct normal irradiance.
    pub dni_w_m2: f64,
}

impl Instant {
    /// The same for the model.
    pub fn moment(&self) -> Moment {
        Moment {
            sun: direction::from_azimuth_elevation(
                self.sun_azimuth_deg.to_radians(),
                self.sun_elevation_deg.to_radians(),
            ),
            dni_w_m2: self.dni_w_m2,
        }
    }
}

/// Reads instants.
pub fn read(path: &Path) -> Result<Vec<Instant>, Failure> {
    Lines::read(path, &COLUMNS)?.each(instant)
}

fn instant(cells: &mut Cells) -> Instant {
    let instant = Instant {
        sun_azimuth_deg: cells.number("sun_azimuth_deg"),
        sun_elevation_deg: cells.number("sun_elevation_deg"),
        dni_w_m2: cells.number("dni_w_m2"),
    };
    for (column, value, [least, most]) in [
        ("sun_azimuth_deg", instant.sun_azimuth_deg, [-360.0, 360.0]),
        (
            "sun_elevation_deg",
            instant.sun_elevation_deg,
            [LOWEST_DEG, 90.0],
        ),
        ("dni_w_m2", instant.dni_w_m2, [0.0, MOST_DNI_W_M2]),
    ] {
        if value < least || value > most {
            cells.problem(format!("{column} is {value}; it must be {least} … {most}"));
        }
    }
    instant
}
