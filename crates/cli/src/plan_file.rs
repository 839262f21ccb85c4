//! A plan as people write it: one line for each mirror.

use std::path::{Path, PathBuf};

use field::{Coupling, FirstAxis, Linkage, Plan, PlanRow};
use geometry::Vec3;
use scenario::Design;

use crate::failure::Failure;
use crate::lines::{Cells, Columns, Lines};

const COLUMNS: Columns = Columns {
    needed: &[
        "mirror_id",
        "x_m",
        "y_m",
        "z_m",
        "width_m",
        "height_m",
        "focal_length_m",
    ],
    optional: &[
        "string_id",
        "first_axis",
        "bearing_deg",
        "linkage",
        "aim_x_m",
        "aim_y_m",
        "aim_z_m",
    ],
};

/// The scenario's words for first axes.
fn axes() -> [(&'static str, FirstAxis); scenario::FIRST_AXES.len()] {
    scenario::FIRST_AXES.map(|(word, axis)| (word, model::plan_axis(axis)))
}

/// The scenario's words for linkages.
fn linkages() -> [(&'static str, Linkage); scenario::LINKAGES.len()] {
    scenario::LINKAGES.map(|(word, linkage)| (word, model::plan_linkage(linkage)))
}

/// A plan read from a file.
pub struct Given {
    /// The file.
    pub path: PathBuf,
    /// Its lines, in order.
    pub rows: Vec<PlanRow>,
    /// The plan that they make.
    pub plan: Plan,
}

/// Reads a plan whose mirrors a design can move; mirrors without an aim of their own are set on the
/// middle of its aperture.
pub fn read(path: &Path, design: &Design) -> Result<Given, Failure> {
    let lines = Lines::read(path, &COLUMNS)?;
    let rows = lines.each(row)?;
    let aim_m = Vec3::new(0.0, 0.0, design.aim_height_m);
    let plan = Plan::from_rows(&rows, aim_m).map_err(|errors| {
        let told = |error: field::RowError| lines.problem_at(error.row, error.to_string());
        lines.refused(errors.into_iter().map(told).collect())
    })?;
    model::check_plan(design, &plan).map_err(|misfit| {
        let first = plan.strings[misfit.string()].first_mirror;
        lines.refused(vec![lines.problem_at(first, misfit.to_string())])
    })?;
    Ok(Given {
        path: path.to_path_buf(),
        rows,
        plan,
    })
}

/// A plan's lines as text, every number to its last digit.
pub fn written(rows: &[PlanRow]) -> String {
    let header = [
        "string_id",
        COLUMNS.needed.join(",").as_str(),
        "first_axis,bearing_deg,linkage,aim_x_m,aim_y_m,aim_z_m",
    ]
    .join(",");
    let mut text = header + "\n";
    for row in rows {
        text += &line(row);
        text.push('\n');
    }
    text
}

fn line(row: &PlanRow) -> String {
    let [x_m, y_m, z_m] = row.centre_m.to_array();
    let coupling = row.coupling.map_or_else(
        || ",,".to_owned(),
        |coupling| {
            format!(
                "{},{},{}",
                first_axis_text(coupling.first_axis),
                coupling.bearing_rad.to_degrees(),
                linkage_text(coupling.linkage)
            )
        },
    );
    let aim = row.aim_m.map_or_else(
        || ",,".to_owned(),
        |aim_m| format!("{},{},{}", aim_m.x, aim_m.y, aim_m.z),
    );
    format!(
        "{},{},{x_m},{y_m},{z_m},{},{},{},{coupling},{aim}",
        row.string_id, row.mirror_id, row.width_m, row.height_m, row.focal_length_m
    )
}

fn row(cells: &mut Cells) -> PlanRow {
    PlanRow {
        string_id: cells.text("string_id").to_owned(),
        mirror_id: cells.text("mirror_id").to_owned(),
        centre_m: vector(cells, ["x_m", "y_m", "z_m"]),
        width_m: cells.number("width_m"),
        height_m: cells.number("height_m"),
        focal_length_m: focal_length_m(cells),
        aim_m: aim_m(cells),
        coupling: coupling(cells),
    }
}

fn vector(cells: &mut Cells, columns: [&str; 3]) -> Vec3 {
    Vec3::from_array(columns.map(|column| cells.number(column)))
}

fn focal_length_m(cells: &mut Cells) -> f64 {
    if cells.text("focal_length_m") == "inf" {
        f64::INFINITY
    } else {
        cells.number("focal_length_m")
    }
}

/// The mirror's own aim point: all three numbers or none.
fn aim_m(cells: &mut Cells) -> Option<Vec3> {
    let columns = ["aim_x_m", "aim_y_m", "aim_z_m"];
    let is_given = columns.iter().any(|column| !cells.text(column).is_empty());
    is_given.then(|| vector(cells, columns))
}

/// How the string turns: all three cells or none.
fn coupling(cells: &mut Cells) -> Option<Coupling> {
    let columns = ["first_axis", "bearing_deg", "linkage"];
    let given = columns.map(|column| !cells.text(column).is_empty());
    if given == [false; 3] {
        return None;
    }
    let first_axis = word(cells, "first_axis", first_axis, &axis_words());
    let linkage = word(
        cells,
        "linkage",
        |text| named(&linkages(), text),
        &words(&linkages()),
    );
    let bearing_rad = cells.number("bearing_deg").to_radians();
    Some(Coupling {
        first_axis: first_axis?,
        bearing_rad,
        linkage: linkage?,
    })
}

/// What the word in a column stands for.
fn word<T>(
    cells: &mut Cells,
    column: &str,
    read: impl Fn(&str) -> Option<T>,
    known: &str,
) -> Option<T> {
    let text = cells.text(column);
    let found = read(text);
    if found.is_none() {
        let told = format!("{column} is \"{text}\"; write {known}");
        cells.problem(told);
    }
    found
}

/// A word, or azimuth and elevation such as "axis 150 deg 30 deg".
fn first_axis(text: &str) -> Option<FirstAxis> {
    let Some(angles) = text.strip_prefix("axis") else {
        return named(&axes(), text);
    };
    let numbers: Result<Vec<f64>, _> = angles
        .split_whitespace()
        .filter(|part| *part != "deg")
        .map(str::parse)
        .collect();
    match numbers.ok()?[..] {
        [azimuth_deg, elevation_deg] if elevation_deg.abs() <= 90.0 && azimuth_deg.is_finite() => {
            Some(FirstAxis::Fixed {
                azimuth_rad: azimuth_deg.to_radians(),
                elevation_rad: elevation_deg.to_radians(),
            })
        }
        _ => None,
    }
}

/// The word for a first axis.
pub fn first_axis_text(axis: FirstAxis) -> String {
    if let FirstAxis::Fixed {
        azimuth_rad,
        elevation_rad,
    } = axis
    {
        let (azimuth_deg, elevation_deg) = (azimuth_rad.to_degrees(), elevation_rad.to_degrees());
        return format!("axis {azimuth_deg} deg {elevation_deg} deg");
    }
    name_of(&axes(), axis).to_owned()
}

/// The word for a linkage.
pub fn linkage_text(linkage: Linkage) -> &'static str {
    name_of(&linkages(), linkage)
}

fn axis_words() -> String {
    format!(
        "{}, or a direction such as axis 150 deg 30 deg",
        words(&axes())
    )
}

fn words<T>(names: &[(&'static str, T)]) -> String {
    let words: Vec<&str> = names.iter().map(|(name, _)| *name).collect();
    words.join(", ")
}

fn named<T: Copy>(names: &[(&str, T)], text: &str) -> Option<T> {
    let found = names.iter().find(|(name, _)| *name == text);
    found.map(|(_, value)| *value)
}

fn name_of<T: PartialEq>(names: &[(&'static str, T)], value: T) -> &'static str {
    let found = names.iter().find(|(_, known)| *known == value);
    found.map_or("", |(name, _)| name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_axis_comes_back_from_its_text() {
        for (_, axis) in axes() {
            assert_eq!(first_axis(&first_axis_text(axis)), Some(axis));
        }
        let written = FirstAxis::Fixed {
            azimuth_rad: 2.5,
            elevation_rad: 0.5,
        };
        let Some(FirstAxis::Fixed {
            azimuth_rad,
            elevation_rad,
        }) = first_axis(&first_axis_text(written))
        else {
            panic!("another axis");
        };
        assert!((azimuth_rad - 2.5).abs() < 1e-12 && (elevation_rad - 0.5).abs() < 1e-12);
        assert_eq!(first_axis("axis 150"), None);
        assert_eq!(first_axis("axis 150 95"), None);
        assert_eq!(first_axis("diagonal"), None);
    }
}
