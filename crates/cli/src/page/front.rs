//! The front of a search, design by design.

use std::path::Path;

use report::page::{Block, Chapter, DesignMap, MapPoint};
use report::{Data, Table, figures};

use crate::charts::Shown;
use crate::failure::Failure;
use crate::product::Product;
use crate::tables::designs::key_of_row;
use crate::text::money;

/// Designs dearer than this times the cheapest are left out, so that a tiny field with dear heat does
/// not flatten all others.
const DEAREST_SHOWN: f64 = 1.5;
/// Designs of the table, at most.
const IN_TABLE: usize = 6;

/// The designs of the front, one by one.
pub fn compared(run: &Path, shown: &Shown<'_>) -> Result<Chapter, Failure> {
    Ok(Chapter {
        heading: "Designs compared".to_owned(),
        lead: "Points are designs that no other design beats in cost, capital and carbon at once; \
               pale ones are beaten."
            .to_owned(),
        blocks: vec![Block::Map(map(run, shown)?)],
    })
}

fn map(run: &Path, shown: &Shown<'_>) -> Result<DesignMap, Failure> {
    let scenario = &shown.inputs.scenario;
    let mut chosen = Priced::all(shown.front);
    chosen.sort_by(|a, b| a.cost_per_kwh.total_cmp(&b.cost_per_kwh));
    let cheapest = chosen
        .first()
        .map_or(f64::INFINITY, |best| best.cost_per_kwh);
    let is_shown = |priced: &Priced| priced.cost_per_kwh <= cheapest * DEAREST_SHOWN;
    chosen.retain(is_shown);
    let background = Priced::all(shown.designs).into_iter().filter(is_shown);
    let points = chosen
        .iter()
        .enumerate()
        .map(|(rank, priced)| {
            Ok(MapPoint {
                name: format!("design {}", priced.row),
                place: priced.place(),
                texts: texts(run, shown, priced)?,
                in_table: is_in_table(rank, chosen.len()),
            })
        })
        .collect::<Result<_, Failure>>()?;
    let results = ["cost per kWh", "capital", "carbon, g/kWh"];
    let opened = scenario.space.variables().iter();
    Ok(DesignMap {
        level: format!("capital [{}]", scenario.currency),
        upright: format!(
            "cost of {} [{}/kWh]",
            Product::of(scenario).name,
            scenario.currency
        ),
        background: background.map(|priced| priced.place()).collect(),
        points,
        names: results
            .map(str::to_owned)
            .into_iter()
            .chain(opened.map(|variable| variable.path().to_owned()))
            .collect(),
    })
}

/// What a design tells: its results, then its opened values as the scenario writes them.
fn texts(run: &Path, shown: &Shown<'_>, priced: &Priced) -> Result<Vec<String>, Failure> {
    let scenario = &shown.inputs.scenario;
    let key = key_of_row(run, shown.designs, priced.row, scenario)?;
    let results = [
        money::cost(priced.cost_per_kwh),
        figures::money(priced.capital, &scenario.currency),
        figures::significant(priced.carbon_g_kwh, 3),
    ];
    let opened = scenario.space.variables().iter().zip(&key.0);
    let opened = opened.map(|(variable, index)| variable.text(*index));
    Ok(results.into_iter().chain(opened).collect())
}

/// Whether the design of this rank is one of [`IN_TABLE`] spread evenly over all, both ends among them.
fn is_in_table(rank: usize, all: usize) -> bool {
    if all <= IN_TABLE {
        return true;
    }
    let last = IN_TABLE - 1;
    (0..IN_TABLE).any(|place| (place * (all - 1) + last / 2) / last == rank)
}

/// A row of a table of designs that has a price.
struct Priced {
    row: u32,
    cost_per_kwh: f64,
    capital: f64,
    carbon_g_kwh: f64,
}

impl Priced {
    fn all(table: &Table) -> Vec<Self> {
        let Some(Data::Count(rows)) = table.column("row") else {
            return Vec::new();
        };
        let number = |name: &str, place: usize| match table.column(name) {
            Some(Data::Number(values)) => values[place],
            _ => None,
        };
        let priced = |(place, row): (usize, &Option<u32>)| {
            Some(Self {
                row: (*row)?,
                cost_per_kwh: number("cost_per_kwh", place)?,
                capital: number("capital", place)?,
                carbon_g_kwh: number("carbon_g_kwh", place)?,
            })
        };
        rows.iter().enumerate().filter_map(priced).collect()
    }

    fn place(&self) -> (f64, f64) {
        (self.capital, self.cost_per_kwh)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_holds_both_ends_and_no_more_than_wanted() {
        for all in 1..60 {
            let chosen: Vec<usize> = (0..all).filter(|rank| is_in_table(*rank, all)).collect();
            assert_eq!(chosen.len(), all.min(IN_TABLE));
            assert_eq!((chosen[0], chosen[chosen.len() - 1]), (0, all - 1));
        }
    }
}
