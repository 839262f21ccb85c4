//! A table of plain columns, checked against the declaration.

use std::collections::BTreeMap;

use crate::columns::{Column, Kind, TableKind};
use crate::error::ReportError;

/// Values of one column; `None` is a missing value.
#[derive(Debug, Clone, PartialEq)]
pub enum Data {
    /// Finite numbers.
    Number(Vec<Option<f64>>),
    /// Whole numbers.
    Count(Vec<Option<u32>>),
    /// Texts.
    Text(Vec<Option<String>>),
    /// Flags.
    Flag(Vec<Option<bool>>),
}

impl Data {
    /// Column of numbers, none missing.
    pub fn numbers(values: impl IntoIterator<Item = f64>) -> Self {
        Data::Number(values.into_iter().map(Some).collect())
    }

    /// Column of whole numbers, none missing.
    pub fn counts(values: impl IntoIterator<Item = u32>) -> Self {
        Data::Count(values.into_iter().map(Some).collect())
    }

    /// Column of texts, none missing.
    pub fn texts<T: Into<String>>(values: impl IntoIterator<Item = T>) -> Self {
        Data::Text(values.into_iter().map(|text| Some(text.into())).collect())
    }

    /// Column of a type without values.
    pub fn none(kind: Kind) -> Self {
        match kind {
            Kind::Number => Data::Number(Vec::new()),
            Kind::Count => Data::Count(Vec::new()),
            Kind::Text => Data::Text(Vec::new()),
            Kind::Flag => Data::Flag(Vec::new()),
        }
    }

    /// Type of the values.
    pub fn kind(&self) -> Kind {
        match self {
            Data::Number(_) => Kind::Number,
            Data::Count(_) => Kind::Count,
            Data::Text(_) => Kind::Text,
            Data::Flag(_) => Kind::Flag,
        }
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        match self {
            Data::Number(values) => values.len(),
            Data::Count(values) => values.len(),
            Data::Text(values) => values.len(),
            Data::Flag(values) => values.len(),
        }
    }

    /// Whether there is no row.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    fn first_not_finite(&self) -> Option<usize> {
        match self {
            Data::Number(values) => values
                .iter()
                .position(|value| value.is_some_and(|number| !number.is_finite())),
            _ => None,
        }
    }
}

/// Unit and meaning of one column of a family, such as `design_side_m` of `design_*`.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyColumn {
    /// Name, with the prefix of its family.
    pub name: String,
    /// Unit of the values.
    pub unit: String,
    /// What the value means.
    pub description: String,
}

/// Columns of one table, in any order; [`crate::parquet_bytes`] puts them in file order.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Which table.
    pub kind: TableKind,
    /// Name and values of each column.
    pub columns: Vec<(String, Data)>,
    /// Unit and meaning of the columns that belong to a family.
    pub families: Vec<FamilyColumn>,
}

/// A column in file order with its description resolved.
pub(crate) struct Described<'a> {
    pub name: &'a str,
    pub unit: &'a str,
    pub description: &'a str,
    pub data: &'a Data,
}

impl Table {
    /// Empty table.
    pub fn new(kind: TableKind) -> Self {
        Table {
            kind,
            columns: Vec::new(),
            families: Vec::new(),
        }
    }

    /// Table with every declared column and no row.
    pub fn without_rows(kind: TableKind) -> Self {
        let mut table = Table::new(kind);
        for column in kind.columns().filter(|c| c.family_prefix().is_none()) {
            table.push(column.name, Data::none(column.kind));
        }
        table
    }

    /// Adds a declared column.
    pub fn push(&mut self, name: &str, data: Data) {
        self.columns.push((name.to_owned(), data));
    }

    /// Adds a column of a declared family with its own unit and meaning.
    pub fn push_family(&mut self, name: &str, unit: &str, description: &str, data: Data) {
        self.families.push(FamilyColumn {
            name: name.to_owned(),
            unit: unit.to_owned(),
            description: description.to_owned(),
        });
        self.push(name, data);
    }

    /// Values of a column.
    pub fn column(&self, name: &str) -> Option<&Data> {
        self.columns
            .iter()
            .find(|(given, _)| given == name)
            .map(|(_, data)| data)
    }

    /// Values of a column of numbers, not a number where one is missing; none if there is no such
    /// column.
    pub fn numbers(&self, name: &str) -> Vec<f64> {
        match self.column(name) {
            Some(Data::Number(values)) => values.iter().map(|v| v.unwrap_or(f64::NAN)).collect(),
            _ => Vec::new(),
        }
    }

    /// Columns in file order, checked: all declared ones and no other, one type, one
    /// length, finite numbers.
    pub(crate) fn in_file_order(&self) -> Result<Vec<Described<'_>>, ReportError> {
        let given = self.by_name()?;
        let mut ordered = Vec::with_capacity(given.len());
        let mut missing = Vec::new();
        for declared in self.kind.columns() {
            match declared.family_prefix() {
                Some(prefix) => ordered.extend(self.family(prefix, &given)),
                None => match given.get(declared.name) {
                    Some(data) => ordered.push(self.declared(declared, data)?),
                    None => missing.push(declared.name),
                },
            }
        }
        self.check_names(&ordered, &missing)?;
        self.check_values(&ordered)?;
        Ok(ordered)
    }

    fn by_name(&self) -> Result<BTreeMap<&str, &Data>, ReportError> {
        let mut given = BTreeMap::new();
        for (name, data) in &self.columns {
            if given.insert(name.as_str(), data).is_some() {
                return Err(ReportError::Doubled {
                    table: self.kind.name(),
                    column: name.clone(),
                });
            }
        }
        Ok(given)
    }

    fn family<'a>(
        &'a self,
        prefix: &'static str,
        given: &BTreeMap<&str, &'a Data>,
    ) -> Vec<Described<'a>> {
        self.families
            .iter()
            .filter(|column| column.name.starts_with(prefix))
            .filter_map(|column| {
                given.get(column.name.as_str()).map(|data| Described {
                    name: &column.name,
                    unit: &column.unit,
                    description: &column.description,
                    data,
                })
            })
            .collect()
    }

    fn declared<'a>(
        &self,
        declared: &'static Column,
        data: &'a Data,
    ) -> Result<Described<'a>, ReportError> {
        if data.kind() != declared.kind {
            return Err(ReportError::Type {
                table: self.kind.name(),
                column: declared.name.to_owned(),
                declared: declared.kind.name(),
                given: data.kind().name(),
            });
        }
        Ok(Described {
            name: declared.name,
            unit: declared.unit,
            description: declared.description,
            data,
        })
    }

    fn check_names(&self, ordered: &[Described], missing: &[&str]) -> Result<(), ReportError> {
        let undeclared: Vec<&str> = self
            .columns
            .iter()
            .map(|(name, _)| name.as_str())
            .filter(|name| ordered.iter().all(|column| column.name != *name))
            .collect();
        if missing.is_empty() && undeclared.is_empty() {
            return Ok(());
        }
        Err(ReportError::Columns {
            table: self.kind.name(),
            missing: missing.join(", "),
            undeclared: undeclared.join(", "),
        })
    }

    fn check_values(&self, ordered: &[Described]) -> Result<(), ReportError> {
        let table = self.kind.name();
        let wanted = ordered.first().map_or(0, |column| column.data.len());
        for column in ordered {
            let given = column.data.len();
            let name = column.name.to_owned();
            if given != wanted {
                return Err(ReportError::Length {
                    table,
                    column: name,
                    given,
                    wanted,
                });
            }
            if let Some(row) = column.data.first_not_finite() {
                return Err(ReportError::NotFinite {
                    table,
                    column: name,
                    row,
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bill() -> Table {
        let mut table = Table::new(TableKind::Bill);
        for column in TableKind::Bill.columns() {
            let data = match column.kind {
                Kind::Number => Data::numbers([1.0, 2.0]),
                Kind::Count => Data::counts([2024, 2025]),
                _ => Data::texts(["a", "b"]),
            };
            table.push(column.name, data);
        }
        table
    }

    #[test]
    fn order_is_the_declared_one_whatever_the_order_given() {
        let mut table = bill();
        table.columns.reverse();
        let names: Vec<_> = table
            .in_file_order()
            .unwrap()
            .iter()
            .map(|c| c.name)
            .collect();
        let declared: Vec<_> = TableKind::Bill.columns().map(|c| c.name).collect();
        assert_eq!(names, declared);
    }

    #[test]
    fn a_wrong_table_is_refused_with_its_cause() {
        let mut table = bill();
        table.columns[0].0 = "thing".into();
        let problem = table.in_file_order().err().unwrap().to_string();
        assert!(problem.contains("missing columns [item]"), "{problem}");
        assert!(problem.contains("undeclared columns [thing]"), "{problem}");

        let mut table = bill();
        table.push("item", Data::texts(["c", "d"]));
        assert!(matches!(
            table.in_file_order(),
            Err(ReportError::Doubled { .. })
        ));

        let mut table = bill();
        table.columns[0].1 = Data::numbers([1.0, 2.0]);
        assert!(matches!(
            table.in_file_order(),
            Err(ReportError::Type { .. })
        ));

        let mut table = bill();
        table.columns[0].1 = Data::texts(["a"]);
        assert!(matches!(
            table.in_file_order(),
            Err(ReportError::Length { .. })
        ));

        let mut table = bill();
        table.columns[3].1 = Data::numbers([1.0, f64::NAN]);
        let wanted = ReportError::NotFinite {
            table: "bill",
            column: "quantity".into(),
            row: 1,
        };
        assert_eq!(table.in_file_order().err(), Some(wanted));
    }
}
