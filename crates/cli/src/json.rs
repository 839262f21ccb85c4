//! Results as JSON; `format_version` grows with every change that is more than an addition.

mod drives;
mod judged;
mod reference;
mod setout;
mod spot;
mod versus;
mod years;

use ledger::{CashYear, Chapter, J_PER_KWH, Money};
use model::{Infeasible, Margins, Workings};
use scenario::Scenario;
use serde_json::{Map, Value, json};
use study::{Findings, StopReason};

use crate::cautions::CAUTIONS;
use crate::chain;
use crate::cost_parts;
use crate::evaluated::Evaluated;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::inputs::Inputs;
use crate::manifest::{FORMAT_VERSION, stop_word};
use crate::output;
use crate::product::{self, Product};
use crate::run::Run;
use crate::vary::Varied;

use drives::drives;
pub use judged::judged;
pub use reference::{glossary, method, rates};
pub use setout::{set_heliostats, setout};
pub use spot::spot;
pub use versus::versus;
pub use years::years;

/// Prints a document on stdout.
pub fn print(document: &Value) -> Result<Exit, Failure> {
    output::data(&format!("{document:#}\n"))
}

/// Prints a document if JSON is asked for, else a text.
pub fn or_text(
    is_json: bool,
    document: impl FnOnce() -> Value,
    text: impl FnOnce() -> String,
) -> Result<Exit, Failure> {
    if is_json {
        print(&document())
    } else {
        output::data(&text())
    }
}

/// The charts and the page that were drawn.
pub fn drawn(run: &Run) -> Value {
    let folder = run.path();
    let files = run.written().iter().map(|name| folder.join(name));
    let files: Vec<String> = files.map(|file| file.display().to_string()).collect();
    json!({ "format_version": FORMAT_VERSION, "files": files })
}

/// The checked scenario with the facts of its weather.
pub fn checked(inputs: &Inputs) -> Value {
    let scenario = &inputs.scenario;
    let values: Vec<Value> = scenario
        .resolved()
        .into_iter()
        .map(|value| {
            json!({
                "key": value.key,
                "value": value.text,
                "unit": value.unit,
                "origin": value.origin.to_string(),
            })
        })
        .collect();
    json!({
        "format_version": FORMAT_VERSION,
        "title": scenario.title,
        "hash": inputs.hash_text(),
        "values": values,
        "tower_note": inputs.tower_note(),
        "weather": {
            "origin": inputs.weather.origin,
            "dni_kwh_m2": inputs.case.whole_dni_j_m2 / J_PER_KWH,
            "dni_in_operation_kwh_m2": inputs.case.sun.year_j_m2() / J_PER_KWH,
            "hours_too_windy": inputs.windy_hours(),
            "notes": inputs.weather.year.notes,
        },
    })
}

/// One design.
pub fn design(of: &Evaluated, inputs: &Inputs) -> Value {
    let scenario = &inputs.scenario;
    let facts: Map<String, Value> = of
        .facts(scenario)
        .into_iter()
        .map(|fact| (fact.key.to_owned(), fact.value))
        .collect();
    json!({
        "format_version": FORMAT_VERSION,
        "title": scenario.title,
        "currency": scenario.currency,
        "hash": inputs.hash_text(),
        "status": of.status(),
        "fidelity": of.fidelity.word(),
        "design": facts,
        "delivers": Product::of(scenario).form,
        "energy_kwh": energy(of),
        "year": year(of, inputs),
        "bill": bill(of, scenario),
        "money": money(of, scenario),
        "margins": margins(&of.summary.margins),
        "cautions": CAUTIONS,
    })
}

/// One design with how its drives work out.
pub fn priced(of: &Evaluated, workings: &Workings, inputs: &Inputs) -> Value {
    let mut document = design(of, inputs);
    document["drives"] = drives(workings);
    document
}

/// A design that cannot be built.
pub fn infeasible(broken: &Infeasible, inputs: &Inputs) -> Value {
    json!({
        "format_version": FORMAT_VERSION,
        "title": inputs.scenario.title,
        "hash": inputs.hash_text(),
        "status": "infeasible",
        "reason": broken.reason,
        "violation": broken.violation(),
        "margins": margins(&broken.margins),
    })
}

/// What a search found.
pub fn search(findings: &Findings, best: Option<&Evaluated>, inputs: &Inputs) -> Value {
    json!({
        "format_version": FORMAT_VERSION,
        "hash": inputs.hash_text(),
        "seed": inputs.scenario.search.seed,
        "stop_reason": stop_word(findings.stop),
        "is_feasible": findings.stop != StopReason::NoFeasible,
        "designs": findings.rows.len(),
        "front": findings.front,
        "best_row": findings.best,
        "knee_row": findings.knee,
        "best": best.map(|best| design(best, inputs)),
        "near_best": near_best(findings, inputs),
    })
}

/// What a design rests on.
pub fn varied(of: &Varied, inputs: &Inputs, row: u32) -> Value {
    let prices = &of.sensitivity;
    let quantile = |share| study::quantile(&prices.drawn.results, share);
    let ends: Vec<Value> = prices
        .ends
        .iter()
        .map(|ends| {
            json!({
                "input": ends.name,
                "low": ends.span.low,
                "high": ends.span.high,
                "cost_at_low": ends.at_low,
                "cost_at_high": ends.at_high,
            })
        })
        .collect();
    let steps: Vec<Value> = of
        .steps
        .iter()
        .map(|step| json!({ "key": step.key, "values": step.texts, "costs": step.costs }))
        .collect();
    let causes: Vec<Value> = prices
        .names
        .iter()
        .zip(&prices.drawn.influences)
        .map(|(name, part)| json!({ "input": name, "first": part.first, "total": part.total }))
        .collect();
    json!({
        "format_version": FORMAT_VERSION,
        "hash": inputs.hash_text(),
        "currency": inputs.scenario.currency,
        "design": row,
        "cost_per_kwh": prices.cost,
        "p10": quantile(0.1),
        "p50": quantile(0.5),
        "p90": quantile(0.9),
        "inputs": ends,
        "steps": steps,
        "causes": causes,
        "grid": {
            "items": prices.grid.items.map(ledger::Item::key),
            "prices": prices.grid.prices,
            "held": prices.grid.held,
            "found_again": prices.grid.found_again,
        },
        "cautions": CAUTIONS,
    })
}

fn near_best(findings: &Findings, inputs: &Inputs) -> Value {
    let Some(near) = &findings.near_best else {
        return Value::Null;
    };
    let variables = inputs.scenario.space.variables().iter().enumerate();
    let ranges: Map<String, Value> = variables
        .filter(|(_, variable)| variable.is_range())
        .map(|(at, variable)| {
            let ends = json!([variable.text(near.low[at]), variable.text(near.high[at])]);
            (variable.path().to_owned(), ends)
        })
        .collect();
    json!({ "tolerance": near.tolerance, "designs": near.designs, "ranges": ranges })
}

fn energy(of: &Evaluated) -> Value {
    let mut chain = Map::new();
    chain.insert("sun".to_owned(), json!(of.summary.chain_j[0] / J_PER_KWH));
    for step in chain::steps(&of.summary) {
        let key = format!("after_{}", step.key);
        chain.insert(key, json!(step.left_j / J_PER_KWH));
    }
    Value::Object(chain)
}

fn year(of: &Evaluated, inputs: &Inputs) -> Value {
    let year = &of.summary;
    json!({
        "delivered_kwh": year.delivered_j / J_PER_KWH,
        "demand_kwh": year.demand_j / J_PER_KWH,
        "steam_kg": year.steam_kg,
        "hot_air_kg": product::hot_air_kg(year, inputs),
        "turbine_heat_kwh": if year.rejected_j > 0.0 { year.used_j / J_PER_KWH } else { 0.0 },
        "auxiliary_kwh": Product::of(&inputs.scenario).auxiliary_j(year, &inputs.scenario) / J_PER_KWH,
        "bought_kwh": year.bought_j / J_PER_KWH,
        "own_use_kwh": year.own_use_j / J_PER_KWH,
        "peak_flux_w_m2": year.peak_flux_w_m2,
        "residual_mrad": year.residual_rad * 1e3,
        "common_turn_bound_mrad": year.bound_rad * 1e3,
        "mirror_area_m2": year.mirror_area_m2,
        "land_m2": year.land_m2,
        "steel_kg": year.steel_kg,
        "glass_kg": year.glass_kg,
        "concrete_m3": year.concrete_m3,
    })
}

fn bill(of: &Evaluated, scenario: &Scenario) -> Vec<Value> {
    ledger::bill(&of.summary.quantities, &scenario.rates)
        .map(|line| {
            json!({
                "item": line.item.key(),
                "group": line.item.group().key(),
                "chapter": line.item.group().chapter().key(),
                "quantity": line.amount,
                "unit": line.item.unit(),
                "mass_kg": line.mass_kg,
                "rate": line.rate.value,
                "rate_low": line.rate.low,
                "rate_high": line.rate.high,
                "price_year": line.rate.price_year,
                "rate_over_quoted": line.rate.raised,
                "source": line.rate.source,
                "life_years": line.rate.life_years,
                "cost": line.cost,
                "carbon_kg": line.carbon_kg,
                "carbon_source": line.rate.carbon_source,
                "is_yearly": line.item.group().is_yearly(),
            })
        })
        .collect()
}

fn money(of: &Evaluated, scenario: &Scenario) -> Value {
    let (money, capital) = (&of.money, &of.money.capital);
    let worth = of.worth(scenario);
    let parts = cost_parts::per_kwh(money, &scenario.finance);
    let parts: Map<String, Value> = cost_parts::names()
        .into_iter()
        .zip(parts)
        .map(|(name, part)| (name, json!(part)))
        .collect();
    json!({
        "cost_per_kwh": money.levelised_per_kwh(),
        "cost_parts_per_kwh": parts,
        "cost_nominal_per_kwh": money.levelised_nominal_per_j * J_PER_KWH,
        "whole_demand_per_kwh": money.whole_demand_per_j(of.summary.demand_j) * J_PER_KWH,
        "replaced_per_kwh": money.replaced_per_j * J_PER_KWH,
        "gas_heat_per_kwh": money.gas_heat_per_j * J_PER_KWH,
        "electric_heat_per_kwh": money.electric_heat_per_j * J_PER_KWH,
        "capital": {
            "direct": capital.direct,
            "contingency": capital.contingency,
            "engineering": capital.engineering,
            "owner_cost": capital.owner_cost,
            "construction_interest": capital.construction_interest,
            "total": capital.total,
        },
        "yearly_cost": money.yearly_cost,
        "renewals_levelled": money.renewals,
        "residual_levelled": money.residual,
        "chapters": chapters(money),
        "price_year": scenario.rate_terms.price_year,
        "price_index": scenario.index_source,
        "net_present_value": worth.net_present_value,
        "payback_years": worth.payback_years,
        "internal_rate": worth.internal_rate,
        "break_even_gas_per_kwh": worth.break_even_gas_per_j * J_PER_KWH,
        "break_even_carbon_per_t": worth.break_even_carbon_per_kg * 1e3,
        "debt_cover_p90": worth.debt_cover_p90,
        "years": worth.years.iter().map(cash_year).collect::<Vec<_>>(),
        "carbon_kg": money.carbon_kg,
        "carbon_embodied_kg": money.embodied_carbon_kg,
        "carbon_yearly_kg": money.yearly_carbon_kg,
        "carbon_payback_years": worth.carbon_payback_years,
        "carbon_g_per_kwh": money.carbon_kg_per_j * J_PER_KWH * 1e3,
    })
}

/// Direct cost of each chapter; of the last one per year.
fn chapters(money: &Money) -> Map<String, Value> {
    let cost = |chapter: Chapter| (chapter.key().to_owned(), json!(money.chapter(chapter)));
    Chapter::ALL.into_iter().map(cost).collect()
}

/// The sums of a year of service, in money of today.
fn cash_year(year: &CashYear) -> Value {
    json!({
        "year": year.year,
        "gas_saved": year.gas_saved,
        "yearly_cost": year.yearly_cost,
        "renewals": year.renewals,
        "residual": year.residual,
        "tax": year.tax,
        "left": year.left(),
    })
}

/// Known margins by key.
fn margins(margins: &Margins) -> Map<String, Value> {
    Margins::keys()
        .into_iter()
        .zip(margins.values())
        .filter(|(_, margin)| margin.is_finite())
        .map(|(key, margin)| (key.to_owned(), json!(margin)))
        .collect()
}
