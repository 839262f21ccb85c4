//! Spots of surveyed strings as JSON.

use std::path::PathBuf;

use model::spot::Spot;
use serde_json::{Value, json};

use crate::cautions::CAUTIONS;
use crate::manifest::FORMAT_VERSION;
use crate::spot::Spots;

const MM_PER_M: f64 = 1e3;

/// Every mirror with its spots, in the order of the moments.
pub fn spot(of: &Spots, files: &[PathBuf]) -> Value {
    let mirror = |(mirror, row): (usize, &field::PlanRow)| {
        let spots = of.spots.iter().map(|under| place(under[mirror].as_ref()));
        let off_plan_mm = (0..of.moments.len())
            .map(|moment| of.off_plan_m(moment, mirror).map(|off_m| off_m * MM_PER_M));
        let farthest = of.farthest(mirror).filter(|(_, off_m)| off_m.is_finite());
        json!({
            "string_id": row.string_id,
            "mirror_id": row.mirror_id,
            "aligned": place(of.aligned[mirror].as_ref()),
            "farthest_mm": farthest.map(|(_, off_m)| off_m * MM_PER_M),
            "within": of.passes(mirror),
            "spots": spots.collect::<Vec<_>>(),
            "off_plan_mm": off_plan_mm.collect::<Vec<_>>(),
        })
    };
    let moments = of.moments.iter().map(|moment| {
        let [azimuth_deg, elevation_deg] = moment.angles_deg();
        json!({
            "moment": moment.label,
            "sun_azimuth_deg": azimuth_deg,
            "sun_elevation_deg": elevation_deg,
        })
    });
    json!({
        "format_version": FORMAT_VERSION,
        "title": of.inputs.scenario.title,
        "hash": of.inputs.hash_text(),
        "within_mm": of.within_m.map(|within_m| within_m * MM_PER_M),
        "moments": moments.collect::<Vec<_>>(),
        "mirrors": of.rows.iter().enumerate().map(mirror).collect::<Vec<_>>(),
        "files": files.iter().map(|file| file.display().to_string()).collect::<Vec<_>>(),
        "cautions": CAUTIONS,
    })
}

/// Right and up in millimetres; null where the beam misses the target plane.
fn place(spot: Option<&Spot>) -> Value {
    spot.map_or(
        Value::Null,
        |spot| json!({ "right_mm": spot.right_m * MM_PER_M, "up_mm": spot.up_m * MM_PER_M }),
    )
}
