//! Tables of a run read by what people have on their desks: pandas and DuckDB.

use std::fs;
use std::process::Command;

use report::{Data, Table, read_parquet};
use serde_json::Value;

use crate::support::{folder, reference};
use tautfield_tests::outside;

const READ: &str = r#"
import json, sys
import duckdb, pandas
told = {}
for path in sys.argv[1:]:
    frame = pandas.read_parquet(path)
    numbers = frame.select_dtypes("number")
    told[path.rsplit("/", 1)[1]] = {
        "columns": list(frame.columns),
        "rows": len(frame),
        "sums": {name: float(numbers[name].sum()) for name in numbers.columns},
        "rows_in_duckdb": duckdb.sql(f"select count(*) from '{path}'").fetchall()[0][0],
    }
print(json.dumps(told))
"#;

/// Sum of the values that are there, and of their sizes.
fn sums(data: &Data) -> Option<(f64, f64)> {
    let values: Vec<f64> = match data {
        Data::Number(values) => values.iter().flatten().copied().collect(),
        Data::Count(values) => values.iter().flatten().copied().map(f64::from).collect(),
        _ => return None,
    };
    let sizes = values.iter().map(|value| value.abs()).sum();
    Some((values.iter().sum(), sizes))
}

fn assert_same(name: &str, table: &Table, told: &Value) {
    let columns: Vec<&str> = table
        .columns
        .iter()
        .map(|(name, _)| name.as_str())
        .collect();
    assert_eq!(told["columns"], serde_json::json!(columns), "{name}");
    for rows in ["rows", "rows_in_duckdb"] {
        assert_eq!(told[rows], table.columns[0].1.len(), "{name}");
    }
    for (column, data) in &table.columns {
        let Some((wanted, sizes)) = sums(data) else {
            continue;
        };
        let Some(found) = told["sums"][column].as_f64() else {
            assert!(wanted == 0.0, "{name}: {column} is no number");
            continue;
        };
        let close = (found - wanted).abs() <= 1e-9 * sizes;
        assert!(close, "{name}: {column} is {found}, not {wanted}");
    }
}

#[test]
fn pandas_and_duckdb_read_what_was_written() {
    let Some(python) = outside::python(&["pandas", "pyarrow", "duckdb"]) else {
        return;
    };
    let folder = folder();
    let tables: Vec<_> = reference()
        .results
        .iter()
        .filter(|(name, _)| name.ends_with(".parquet"))
        .collect();
    assert!(tables.len() >= 5, "{}", tables.len());
    let mut command = Command::new(python);
    command.args(["-c", READ]);
    for (name, bytes) in &tables {
        let path = folder.path().join(name);
        fs::write(&path, bytes).unwrap();
        command.arg(path);
    }
    let output = command.output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{errors}");
    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
    for (name, bytes) in &tables {
        let (table, _) = read_parquet(bytes).unwrap();
        assert_same(name, &table, &told[name.as_str()]);
    }
}
