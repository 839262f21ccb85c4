//! A plant that stands, rebuilt from what was published of it: the first commercial power tower, 11 MW,
//! near Seville.
//!
//! Put in are its 624 mirrors of 12.84 × 9.45 m, its aim at 100.5 m, its cavity of 13.78 × 12 m that
//! looks down by 12.5°, steam of 40 bar, its latitude and 1,963 kWh/m² of sun on the mirrors in a year
//! (all but the count from memory; the months of a year in Seville likewise). All else is ours: offset
//! rings by our spacing, of whose places the best are kept, default mirrors, receiver and upkeep. What
//! comes out is held against the energy balance in the final technical report of contract
//! NNE5-1999-356 (European Commission 2006, from memory):
//!
//! | step | published | ours |
//! |---|---|---|
//! | light through the aperture ÷ sun on the mirrors, year | 0.640 | 0.663, rings as near as none blocks another; 0.642 at 0.8 of it |
//! | the same at noon in winter | 0.770 | 0.757 |
//! | receiver and handling of heat | 0.902 | 0.890 |
//! | starts and stops | 0.920 | 0.929 |
//! | breakage and upkeep | 0.950 | 0.960 |
//! | heat for the turbine ÷ light through the aperture | 0.788 | 0.794 |
//!
//! Differences: reflectance times cleanliness comes to 0.887 in our year, where 0.88 is published of the
//! plant. From 0.8 to 1 rings gain 4 points of blocking and 1 of shading, and the larger field loses 0.4 of
//! cosine, 0.3 in the air and 0.9 past the aperture; the built field's own places are not known to us. Its
//! panels bear 650 kW/m² deep in the cavity; on the aperture our aims reach 1.0 MW/m², so no limit is set
//! there. Noon is the mean of an hour in a year made from monthly sums. Light too weak for the receiver's
//! least load is counted with the starts, pipes with the handling of heat.

use model::Fidelity::Every;
use model::detail;

use crate::fields::{self, Settings};
use crate::summary;

const PLANT: Settings = &[
    ("concept", "pedestals"),
    ("site.latitude", "37.44 deg"),
    ("site.longitude", "-6.25 deg"),
    ("site.altitude", "30 m"),
    (
        "weather.monthly_dni",
        r#"["113 kWh/m2", "116 kWh/m2", "156 kWh/m2", "166 kWh/m2", "199 kWh/m2", "222 kWh/m2", "252 kWh/m2", "228 kWh/m2", "174 kWh/m2", "139 kWh/m2", "103 kWh/m2", "95 kWh/m2"]"#,
    ),
    ("pedestals.count", "624"),
    ("pedestals.area", "121.34 m2"),
    ("pedestals.width_over_height", "1.36"),
    ("pedestals.panel", "1 m"),
    ("pedestals.side_spacing", "1.65"),
    ("pedestals.give", "0.7 mrad"),
    ("field.aim_clearance", "8 mrad"),
    ("field.sector", "70 deg"),
    ("field.inner_radius", "0.6"),
    ("field.outer_radius", "9"),
    ("tower.aim_height", "100.5 m"),
    ("receiver.kind", "cavity"),
    ("receiver.aperture_width", "13.78 m"),
    ("receiver.aperture_height", "12 m"),
    ("receiver.tilt", "12.5 deg"),
    ("receiver.flux_limit", "3000 kW/m2"),
    ("heat.delivery_pressure", "40 bar"),
    ("heat.demand.power", "50 MW"),
    ("heat.demand.from", "0 h"),
    ("heat.demand.to", "24 h"),
    ("storage.capacity", "0 MWh"),
];

/// Hours of the shortest day, from 0 at New Year.
const SHORTEST_DAY: std::ops::Range<usize> = 354 * 24..355 * 24;

#[test]
fn the_years_light_is_that_published() {
    for (ring_spacing, expected) in [("1", 0.663), ("0.8", 0.642)] {
        let works = fields::with(PLANT, &[("pedestals.ring_spacing", ring_spacing)]);
        let summary = summary(&works, Every);
        let efficiency = summary.optical_efficiency();
        println!("{ring_spacing}: {efficiency:.4}, {:.3?}", summary.factors());
        assert!((efficiency - 0.640).abs() < 0.025, "{efficiency}");
        assert!((efficiency - expected).abs() < 0.002, "as told above");
        assert!((summary.mirror_area_m2 / 75_715.0 - 1.0).abs() < 1e-3);
    }
}

#[test]
fn noon_in_winter_and_the_way_to_the_turbine_are_those_published() {
    let works = fields::with(PLANT, &[("pedestals.ring_spacing", "1")]);
    let detail = detail(&works.case, &works.design).expect("the plant can be built");
    let (area_m2, dni_w_m2) = (detail.plan.total_area_m2(), &works.case.weather.dni_w_m2);
    let noon = SHORTEST_DAY
        .filter(|&hour| dni_w_m2[hour] > 0.0)
        .map(|hour| detail.hours[hour].aperture_power_w / (area_m2 * dni_w_m2[hour]))
        .fold(0.0, f64::max);
    println!("noon {noon:.3}");
    assert!((noon - 0.770).abs() < 0.03, "{noon}");

    let chain = detail.year.loss_chain();
    let lost = |names: &[&str]| -> f64 {
        let steps = chain.iter().filter(|(name, _)| names.contains(name));
        steps.map(|(_, energy_j)| energy_j).sum::<f64>() / detail.year.aperture_j
    };
    let upkeep = 1.0 - lost(&["unavailable"]);
    let running = upkeep - lost(&["idle", "start-up"]);
    let heat = running - lost(&["reflected", "radiated", "convected", "conducted", "pipes"]);
    let found = [heat / running, running / upkeep, upkeep, heat];
    println!("receiver and pipes, starts, upkeep, all: {found:.3?}");
    for (found, published) in found.into_iter().zip([0.902, 0.920, 0.950, 0.788]) {
        assert!((found - published).abs() < 0.03, "{found} {published}");
    }
}
