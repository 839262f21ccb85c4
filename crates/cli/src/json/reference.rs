//! What is known beforehand as JSON: rates, columns and the method book.

use ledger::{Index, Item, Rates};
use report::TableKind;
use serde_json::{Map, Value, json};

use crate::manifest::FORMAT_VERSION;
use crate::method;

/// Every built-in rate with its sources, and the price index.
pub fn rates() -> Value {
    let rates = Rates::default_usd();
    let items: Vec<Value> = Item::ALL
        .iter()
        .map(|&item| {
            let rate = rates.get(item);
            json!({
                "item": item.key(),
                "description": item.facts().description,
                "unit": item.unit(),
                "rate": rate.value,
                "rate_low": rate.low,
                "rate_high": rate.high,
                "price_year": rate.price_year,
                "source": rate.source,
                "carbon_kg_per_unit": rate.carbon_kg_per_unit,
                "carbon_source": rate.carbon_source,
                "steel_kg_per_unit": rate.steel_kg_per_unit,
                "life_years": rate.life_years,
                "goes_by": item.common().map(Item::key),
            })
        })
        .collect();
    let index = Index::united_states_consumers();
    json!({
        "format_version": FORMAT_VERSION,
        "currency": "USD",
        "rates": items,
        "index": { "source": index.source, "level": index.level },
    })
}

/// Every column of every table.
pub fn glossary() -> Value {
    let tables: Map<String, Value> = TableKind::ALL
        .into_iter()
        .map(|kind| (kind.name().to_owned(), columns(kind)))
        .collect();
    json!({ "format_version": FORMAT_VERSION, "tables": tables })
}

fn columns(kind: TableKind) -> Value {
    kind.columns()
        .map(|column| {
            json!({
                "column": column.name,
                "type": column.kind.name(),
                "unit": column.unit,
                "meaning": column.description,
            })
        })
        .collect()
}

/// Every check of every model.
pub fn method() -> Value {
    let models: Vec<Value> = method::records()
        .map(|(owner, name, record)| {
            json!({
                "check": format!("{owner}.{name}"),
                "chapter": method::heading(owner),
                "model": record.model,
                "equation": record.equation,
                "source": record.source,
                "validity": record.validity,
                "held_to": record.against,
                "values": record.values,
                "expected": record.expected,
                "found": record.found,
                "off": record.off,
                "allowed": record.allowed,
            })
        })
        .collect();
    json!({ "format_version": FORMAT_VERSION, "models": models })
}
