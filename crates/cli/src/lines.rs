//! Tables that people write as CSV: named columns, and problems told by line.

use std::fmt;
use std::path::{Path, PathBuf};

use csv::{ReaderBuilder, StringRecord, Trim};

use crate::failure::Failure;

/// A problem of one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineProblem {
    /// The line, from 1.
    pub line: u64,
    /// What is wrong, and what would do.
    pub text: String,
}

/// A table as it was written.
pub struct Lines {
    path: PathBuf,
    columns: Vec<String>,
    rows: Vec<(u64, StringRecord)>,
}

/// Columns that a table has.
pub struct Columns {
    /// Those that must be there.
    pub needed: &'static [&'static str],
    /// Those that may be left out.
    pub optional: &'static [&'static str],
}

/// One line while it is read.
pub struct Cells<'a> {
    columns: &'a [String],
    record: &'a StringRecord,
    line: u64,
    problems: &'a mut Vec<LineProblem>,
}

impl Lines {
    /// Reads a table. Lines that begin with # are left out.
    pub fn read(path: &Path, columns: &Columns) -> Result<Self, Failure> {
        let unreadable = |source| Failure::Unreadable {
            path: path.to_path_buf(),
            source,
        };
        let bytes = std::fs::read(path).map_err(unreadable)?;
        parsed(&bytes, columns)
            .map(|(columns, rows)| Self {
                path: path.to_path_buf(),
                columns,
                rows,
            })
            .map_err(|problem| refused(path, vec![problem]))
    }

    /// Reads every line with `row`; all problems are told at once.
    pub fn each<T>(&self, row: impl Fn(&mut Cells) -> T) -> Result<Vec<T>, Failure> {
        let mut problems = Vec::new();
        let read = self.rows.iter().map(|(line, record)| {
            row(&mut Cells {
                columns: &self.columns,
                record,
                line: *line,
                problems: &mut problems,
            })
        });
        let read: Vec<T> = read.collect();
        if problems.is_empty() {
            Ok(read)
        } else {
            Err(refused(&self.path, problems))
        }
    }

    /// The failure of the row at `row`, from 0; of the whole file if there is none.
    pub fn problem_at(&self, row: usize, text: String) -> LineProblem {
        let line = self.rows.get(row).map_or(1, |(line, _)| *line);
        LineProblem { line, text }
    }

    /// A failure of this table.
    pub fn refused(&self, problems: Vec<LineProblem>) -> Failure {
        refused(&self.path, problems)
    }
}

impl Cells<'_> {
    /// The text in a column; empty if the column is left out.
    pub fn text(&self, column: &str) -> &str {
        let place = self.columns.iter().position(|name| name == column);
        place
            .and_then(|place| self.record.get(place))
            .unwrap_or_default()
    }

    /// The number in a column.
    pub fn number(&mut self, column: &str) -> f64 {
        let text = self.text(column);
        match text.parse::<f64>() {
            Ok(number) if number.is_finite() => number,
            _ => {
                let told = format!("{column} is \"{text}\"; write a number such as 12.5");
                self.problem(told);
                f64::NAN
            }
        }
    }

    /// Notes a problem of this line.
    pub fn problem(&mut self, text: String) {
        let line = self.line;
        self.problems.push(LineProblem { line, text });
    }
}

impl fmt::Display for LineProblem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "line {}: {}", self.line, self.text)
    }
}

fn refused(path: &Path, problems: Vec<LineProblem>) -> Failure {
    Failure::Lines {
        path: path.to_path_buf(),
        problems,
    }
}

type Parsed = (Vec<String>, Vec<(u64, StringRecord)>);

fn parsed(bytes: &[u8], columns: &Columns) -> Result<Parsed, LineProblem> {
    let mut reader = ReaderBuilder::new()
        .trim(Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_reader(bytes);
    let header = reader
        .headers()
        .map_err(|error| unreadable(&error))?
        .clone();
    let names = columns_of(&header, columns).map_err(|text| LineProblem {
        line: header.position().map_or(1, csv::Position::line),
        text,
    })?;
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| unreadable(&error))?;
        let line = record.position().map_or(1, csv::Position::line);
        if record.len() != names.len() {
            let (found, wanted) = (record.len(), names.len());
            let text = format!("{found} cells; write one for each of the {wanted} columns");
            return Err(LineProblem { line, text });
        }
        rows.push((line, record));
    }
    if rows.is_empty() {
        let text = "no line below the column names; write one or more".to_owned();
        return Err(LineProblem { line: 1, text });
    }
    Ok((names, rows))
}

fn unreadable(error: &csv::Error) -> LineProblem {
    let line = error.position().map_or(1, csv::Position::line);
    let text = format!("{error}; write CSV in UTF-8 with commas between cells");
    LineProblem { line, text }
}

/// The column names, each known, none twice, none that is needed missing.
fn columns_of(header: &StringRecord, columns: &Columns) -> Result<Vec<String>, String> {
    let names: Vec<String> = header.iter().map(str::to_owned).collect();
    let all = || [columns.needed, columns.optional].concat().join(",");
    for (place, name) in names.iter().enumerate() {
        let name = name.as_str();
        if !columns.needed.contains(&name) && !columns.optional.contains(&name) {
            return Err(format!(
                "column \"{name}\" is not known; known are {}",
                all()
            ));
        }
        if names[..place].iter().any(|before| before == name) {
            return Err(format!("column {name} stands there twice; take one out"));
        }
    }
    let is_missing = |column: &&&str| !names.iter().any(|name| name == *column);
    match columns.needed.iter().find(is_missing) {
        Some(missing) => Err(format!(
            "column {missing} is missing; needed are {}",
            columns.needed.join(",")
        )),
        None => Ok(names),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COLUMNS: Columns = Columns {
        needed: &["a", "b"],
        optional: &["c"],
    };

    fn read(text: &str) -> Result<Vec<(f64, String)>, String> {
        let (columns, rows) =
            parsed(text.as_bytes(), &COLUMNS).map_err(|problem| problem.to_string())?;
        let path = PathBuf::from("table.csv");
        let lines = Lines {
            path,
            columns,
            rows,
        };
        lines
            .each(|cells| (cells.number("a"), cells.text("c").to_owned()))
            .map_err(|failure| failure.to_string())
    }

    #[test]
    fn columns_stand_in_any_order_and_optional_ones_may_lack() {
        let read_all = read("# remark\n b , c, a\n1, x ,2.5\n\n2,,-3e1\n").unwrap();
        assert_eq!(read_all, [(2.5, "x".to_owned()), (-30.0, String::new())]);
        assert_eq!(read("a,b\n1,2\n").unwrap(), [(1.0, String::new())]);
    }

    #[test]
    fn wrong_columns_are_named() {
        for (text, told) in [
            ("a,c\n1,2\n", "line 1: column b is missing; needed are a,b"),
            (
                "a,b,d\n1,2,3\n",
                "line 1: column \"d\" is not known; known are a,b,c",
            ),
            ("a,b,a\n1,2,3\n", "column a stands there twice"),
            ("a,b\n", "no line below"),
            (
                "a,b\n1,2\n1,2,3\n",
                "line 3: 3 cells; write one for each of the 2 columns",
            ),
        ] {
            let refused = read(text).unwrap_err();
            assert!(refused.contains(told), "{refused}");
        }
    }

    #[test]
    fn every_wrong_number_is_told_with_its_line() {
        let refused = read("a,b\n1,2\nx,2\n,2\nnan,1\n").unwrap_err();
        for told in [
            "3 problems in table.csv",
            "line 3: a is \"x\"",
            "line 4: a is \"\"",
            "line 5: a is \"nan\"",
        ] {
            assert!(refused.contains(told), "{told} in {refused}");
        }
    }
}
