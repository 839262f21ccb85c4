//! The method book: every model with its equation, source, validity, and how far off it is.

use book::Record;
use report::text::{Align, TextTable};
use report::{Part, Section};

use crate::method;

const OPENING: &str = "Every model with its equation and where that is from, where it holds, what it is held to, and \
                       how far off it is where it is farthest off. Written by the tests, which fail as soon as a \
                       model gives something else.";

/// The whole book for a terminal.
pub fn book() -> String {
    let chapters = method::chapters().into_iter().map(|(owner, records)| {
        let parts = records.iter().flat_map(|(_, record)| in_full(record));
        Section {
            heading: Some(method::heading(owner).to_owned()),
            parts: parts.collect(),
        }
    });
    let sections: Vec<Section> = std::iter::once(Section::opening(OPENING))
        .chain(chapters)
        .collect();
    super::page(&sections)
}

fn in_full(record: &Record) -> [Part; 2] {
    let off = format!("{} of {} allowed", record.off, record.allowed);
    let worst = format!("{} where {} is expected", record.found, record.expected);
    let rows = [
        ("equation", record.equation.clone()),
        ("source", record.source.clone()),
        ("holds for", record.validity.clone()),
        ("held to", record.against.clone()),
        ("farthest off", worst),
        ("by", off),
    ];
    [
        Part::Words(record.model.clone()),
        Part::Table(super::pairs(rows)),
    ]
}

/// A table for each chapter: what a reader of a page needs to see how far to trust each model.
pub fn in_short() -> Vec<Section> {
    let chapters = method::chapters().into_iter();
    let tables = chapters.map(|(owner, records)| {
        let mut table = TextTable::new(&[
            ("model", Align::Left),
            ("off by", Align::Right),
            ("of allowed", Align::Right),
            ("equation, source, where it holds", Align::Left),
            ("held to", Align::Left),
        ]);
        for (_, record) in records {
            let law = format!(
                "{}; from {}; holds for {}",
                record.equation, record.source, record.validity
            );
            table.row([
                record.model,
                record.off,
                record.allowed,
                law,
                record.against,
            ]);
        }
        Section::new(method::heading(owner), table)
    });
    tables.collect()
}
