//! `versus.parquet`: a row for each rival.

use ledger::{Item, J_PER_KWH};
use report::{Data, Table, TableKind};

use super::designs::{Priced, push_results};
use crate::versus::{Contest, PRICES, Standing};

/// The rivals that serve the duty, in the order asked for.
pub fn table(of: &Contest) -> Table {
    let standings = &of.standings;
    let mut table = Table::new(TableKind::Versus);
    table.push(
        "rival",
        Data::texts(standings.iter().map(|one| one.name.as_str())),
    );
    table.push(
        "row",
        Data::counts(standings.iter().map(|one| one.row as u32)),
    );
    let priced = standings.iter().map(|one| {
        Some(Priced {
            year: one.priced.summary,
            money: one.priced.money,
            cost_per_kwh: one.cost_per_kwh,
        })
    });
    push_results(&mut table, &priced.collect::<Vec<_>>());
    let mut push = |name: &str, value: &dyn Fn(&Standing) -> f64| {
        table.push(name, Data::numbers(standings.iter().map(value)));
    };
    push("concrete_m3", &|one| one.priced.summary.concrete_m3);
    push("drives", &|one| {
        one.priced.summary.quantities.get(Item::DriveUnit)
    });
    push("controllers", &|one| {
        one.priced.summary.quantities.get(Item::Controller)
    });
    push("aim_height_m", &|one| one.priced.design.aim_height_m);
    push("aperture_width_m", &|one| {
        one.priced.design.aperture_width_m
    });
    push("aperture_height_m", &|one| {
        one.priced.design.aperture_height_m
    });
    push("mirrors_share", &Standing::mirrors_share);
    push("demand_kwh", &|one| one.priced.summary.demand_j / J_PER_KWH);
    table.push("cheapest_share", Data::numbers(of.chances.iter().copied()));
    let late_gains = standings.iter().map(|one| one.late_gain);
    table.push("search_may_gain", Data::numbers(late_gains));
    push_terms(&mut table, of);
    push_heat(&mut table, of);
    push_crossings(&mut table, of);
    table
}

fn push_terms(table: &mut Table, of: &Contest) {
    let terms = of.standings.first().map_or(&[][..], |first| &first.terms);
    for (place, term) in terms.iter().enumerate() {
        let values = of.standings.iter().map(|one| one.terms[place].per_kwh);
        table.push_family(
            &format!("term_{}_per_kwh", snake(term.name)),
            "{currency}/kWh",
            &format!(
                "Part of the cost that pays for this: {}.",
                term.name.to_lowercase()
            ),
            Data::numbers(values),
        );
    }
}

fn push_heat(table: &mut Table, of: &Contest) {
    let lines = of.standings.first().map_or(&[][..], |first| &first.budget);
    for (place, line) in lines.iter().enumerate() {
        for (end, value) in [("low", 0), ("high", 1)] {
            let values = of.standings.iter().map(|one| {
                let heat = one.budget[place].heat;
                [heat.low, heat.high][value]
            });
            table.push_family(
                &format!("heat_{end}_{}", snake(line.name)),
                "1",
                &format!(
                    "Heat against the design's at this end of {}: {}.",
                    line.name, line.source
                ),
                Data::numbers(values),
            );
        }
    }
}

fn push_crossings(table: &mut Table, of: &Contest) {
    for (place, price) in PRICES.iter().enumerate() {
        for (side, end) in ["below", "above"].into_iter().enumerate() {
            let values = of.standings.iter().enumerate().map(|(rival, one)| {
                let mut all = of.crossings.iter();
                let found = all.find(|found| found.price == place && found.rival == rival)?;
                Some(found.times[side]? * price.now(one))
            });
            table.push_family(
                &format!("equal_{end}_{}", price.name),
                &format!("{{currency}}/{}", price.unit()),
                &format!(
                    "Nearest price of {} {end} today's at which this rival and the first cost the same; \
                     null if there is none in reach.",
                    price.name
                ),
                Data::Number(values.collect()),
            );
        }
    }
}

fn snake(name: &str) -> String {
    name.to_lowercase().replace(' ', "_")
}
