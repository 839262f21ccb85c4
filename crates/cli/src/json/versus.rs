//! Rivals side by side.

use serde_json::{Map, Value, json};

use super::design;
use crate::manifest::FORMAT_VERSION;
use crate::text::search::duty_words;
use crate::versus::{Contest, Crossing, PRICES, Standing};

/// What `versus` found.
pub fn versus(of: &Contest) -> Value {
    let rivals = of.standings.iter().zip(&of.chances);
    let rivals: Vec<Value> = rivals
        .map(|(standing, chance)| rival(of, standing, *chance))
        .collect();
    json!({
        "format_version": FORMAT_VERSION,
        "duty": of.duty.map(duty_words),
        "cheapest": of.winner().map(|(_, winner)| &winner.name),
        "draws": of.draws,
        "rivals": rivals,
        "without_design": of.lost,
        "crossings": of.crossings.iter().map(|crossing| crossed(of, crossing)).collect::<Vec<_>>(),
    })
}

fn rival(of: &Contest, standing: &Standing, chance: f64) -> Value {
    let named = |terms: Vec<(&str, f64)>| -> Map<String, Value> {
        let terms = terms.into_iter();
        terms
            .map(|(name, part)| (name.to_owned(), json!(part)))
            .collect()
    };
    let terms = standing.terms.iter();
    let budget: Vec<Value> = standing
        .budget
        .iter()
        .map(|line| {
            json!({
                "matter": line.name,
                "heat_low": line.heat.low,
                "heat_high": line.heat.high,
                "source": line.source,
            })
        })
        .collect();
    json!({
        "rival": standing.name,
        "design": standing.row,
        "cost_per_kwh": standing.cost_per_kwh,
        "cheapest_share": chance,
        "search_may_gain": standing.late_gain,
        "mirrors_share": standing.mirrors_share(),
        "terms_per_kwh": named(terms.map(|term| (term.name, term.per_kwh)).collect()),
        "against_first_per_kwh": named(of.differences(standing)),
        "heat_uncertainty": budget,
        "best": design(&standing.priced, &standing.inputs),
    })
}

fn crossed(
    of: &Contest,
    Crossing {
        price,
        rival,
        times,
    }: &Crossing,
) -> Value {
    let (price, rival) = (&PRICES[*price], &of.standings[*rival]);
    let [below, above] = times.map(|times| times.map(|times| times * price.now(rival)));
    json!({
        "price": price.name,
        "unit": price.unit(),
        "rival": rival.name,
        "now": price.now(rival),
        "equal_below": below,
        "equal_above": above,
    })
}
