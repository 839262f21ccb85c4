//! The fast model beside rays, as JSON.

use ledger::J_PER_KWH;
use model::{Judgement, LOSSES, Losses, Pair, YearJudgement};
use serde_json::{Map, Value, json};

use crate::inputs::Inputs;
use crate::instants::Instant;
use crate::judge::Judged;
use crate::manifest::FORMAT_VERSION;

/// Everything that was judged.
pub fn judged(of: &Judged, inputs: &Inputs) -> Value {
    let instants = of.instants.iter();
    json!({
        "format_version": FORMAT_VERSION,
        "title": inputs.scenario.title,
        "hash": inputs.hash_text(),
        "plan": of.plan.as_ref().map(|path| path.display().to_string()),
        "strings": of.strings,
        "mirrors": of.mirrors,
        "mirror_area_m2": of.mirror_area_m2,
        "rays_per_sun": of.care.rounds * of.mirrors as u64,
        "seed": of.care.seed,
        "instants": instants.map(|(at, found)| instant(at, found)).collect::<Vec<_>>(),
        "year": of.year.as_ref().map(year),
    })
}

fn instant(at: &Instant, found: &Judgement) -> Value {
    json!({
        "sun_azimuth_deg": at.sun_azimuth_deg,
        "sun_elevation_deg": at.sun_elevation_deg,
        "dni_w_m2": at.dni_w_m2,
        "losses": losses(&found.losses),
        "power_w": pair(&found.power_w, 1.0),
        "peak_flux_w_m2": pair(&found.peak_flux_w_m2, 1.0),
    })
}

fn year(found: &YearJudgement) -> Value {
    json!({
        "losses": losses(&found.losses),
        "aperture_kwh": pair(&found.aperture_j, J_PER_KWH),
    })
}

fn losses(losses: &Losses) -> Map<String, Value> {
    let named = LOSSES.iter().zip(losses);
    named
        .map(|(name, loss)| ((*name).to_owned(), pair(loss, 1.0)))
        .collect()
}

/// One number by both, in units of `unit`.
fn pair(pair: &Pair, unit: f64) -> Value {
    json!({
        "fast": pair.fast / unit,
        "rays": pair.rays.value / unit,
        "difference": pair.difference() / unit,
        "standard_error": pair.rays.standard_error / unit,
    })
}
