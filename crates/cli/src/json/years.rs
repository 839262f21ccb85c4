//! How the year's figures differ from year to year, as JSON.

use ledger::J_PER_KWH;
use model::{YearlySpread, YearsSpread};
use serde_json::{Value, json};

/// DNI and delivered heat of every year, of an ordinary and of a lean one.
pub fn years(of: &YearsSpread) -> Value {
    let each: Vec<Value> = of
        .each
        .iter()
        .map(|year| {
            json!({
                "year": year.year,
                "dni_kwh_m2": year.dni_j_m2 / J_PER_KWH,
                "delivered_kwh": year.delivered_j / J_PER_KWH,
            })
        })
        .collect();
    json!({
        "is_stated": of.each.is_empty(),
        "each": each,
        "dni_kwh_m2": spread(&of.dni_j_m2),
        "delivered_kwh": spread(&of.delivered_j),
        "p90_share": of.p90_share,
    })
}

fn spread(of: &YearlySpread) -> Value {
    json!({
        "years": of.years,
        "mean": of.mean / J_PER_KWH,
        "deviation": of.deviation / J_PER_KWH,
        "p90_normal": of.p90_normal / J_PER_KWH,
        "p50_empirical": of.p50_empirical / J_PER_KWH,
        "p90_empirical": of.p90_empirical.map(|sum| sum / J_PER_KWH),
    })
}
