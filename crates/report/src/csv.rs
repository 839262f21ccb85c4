//! Tables as CSV text for people and their spreadsheets (RFC 4180, lines ended by a line feed).

use crate::error::ReportError;
use crate::table::{Data, Table};

/// Decimals of numbers; zeros at the end are left out. Micrometres of a length in metres.
const DECIMALS: usize = 6;

/// Writes the table, columns in declared order under their names; missing values are empty.
///
/// # Errors
/// If the table does not match [`crate::COLUMNS`] or holds a number that is not finite.
pub fn csv_text(table: &Table) -> Result<String, ReportError> {
    let ordered = table.in_file_order()?;
    let names: Vec<String> = ordered.iter().map(|column| quoted(column.name)).collect();
    let mut text = names.join(",") + "\n";
    let rows = ordered.first().map_or(0, |column| column.data.len());
    for row in 0..rows {
        let cells: Vec<String> = ordered
            .iter()
            .map(|column| cell(column.data, row))
            .collect();
        text += &cells.join(",");
        text.push('\n');
    }
    Ok(text)
}

fn cell(data: &Data, row: usize) -> String {
    match data {
        Data::Number(values) => values[row].map(number),
        Data::Count(values) => values[row].map(|value| value.to_string()),
        Data::Text(values) => values[row].as_deref().map(quoted),
        Data::Flag(values) => values[row].map(|value| value.to_string()),
    }
    .unwrap_or_default()
}

fn number(value: f64) -> String {
    let written = format!("{value:.DECIMALS$}");
    let shortened = written.trim_end_matches('0').trim_end_matches('.');
    match shortened {
        "-0" => "0".to_owned(),
        _ => shortened.to_owned(),
    }
}

/// In quotes if it holds a comma, a quote or a line's end.
fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Data, TableKind};

    #[test]
    fn cells_are_short_and_quoted_where_needed() {
        assert_eq!(number(1.5), "1.5");
        assert_eq!(number(-1e-9), "0");
        assert_eq!(number(1200.0), "1200");
        assert_eq!(number(0.1234567), "0.123457");
        assert_eq!(quoted("a \"b\", c"), "\"a \"\"b\"\", c\"");
    }

    #[test]
    fn a_table_is_written_in_declared_order() {
        let mut table = Table::new(TableKind::Alignment);
        table.push("off_deg", Data::numbers([0.25]));
        table.push("local_time", Data::texts(["13:27"]));
        table.push("month", Data::counts([3]));
        table.push("day", Data::counts([13]));
        table.push("strings", Data::counts([4]));
        table.push("alignment_sun_azimuth_deg", Data::numbers([180.0]));
        table.push("alignment_sun_elevation_deg", Data::numbers([50.0]));
        table.push("sun_azimuth_deg", Data::numbers([180.0]));
        table.push("sun_elevation_deg", Data::Number(vec![None]));
        let wanted = "alignment_sun_azimuth_deg,alignment_sun_elevation_deg,strings,month,day,\
                      local_time,sun_azimuth_deg,sun_elevation_deg,off_deg\n\
                      180,50,4,3,13,13:27,180,,0.25\n";
        assert_eq!(csv_text(&table).unwrap(), wanted);
    }
}
