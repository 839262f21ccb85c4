//! Every column of every table, with its unit and what it means.

use report::text::{Align, TextTable};
use report::{Section, TableKind};

/// A section for each table.
pub fn glossary() -> String {
    super::page(&TableKind::ALL.map(of_table))
}

fn of_table(kind: TableKind) -> Section {
    let mut table = TextTable::new(&[
        ("column", Align::Left),
        ("type", Align::Left),
        ("unit", Align::Left),
        ("meaning", Align::Left),
    ]);
    for column in kind.columns() {
        table.row([
            column.name,
            column.kind.name(),
            column.unit,
            column.description,
        ]);
    }
    Section::new(&format!("{}.parquet", kind.name()), table)
}
