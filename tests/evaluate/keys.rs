//! Every key of a scenario acts: another value changes light, masses, the bill or money of some small field.

use std::collections::BTreeSet;

use ledger::{Item, price, worth};
use model::Fidelity::Search;
use model::Infeasible;
use rayon::prelude::*;
use tautfield_tests::Works;

use crate::fields::{Settings, laid_over, with};

/// The scenario that all fields here are laid over.
const DEMO_FILE: &str = "process-steam";

/// Two dozen strings of five mirrors: enough for every cause to show.
const STEAM: Settings = &[
    ("strings.count", "24"),
    ("strings.mirrors", "5"),
    ("strings.side", "0.6 m"),
    ("strings.glass", "3 mm"),
    ("strings.alignment.instants", "0"),
    ("tower.aim_height", "18 m"),
    ("receiver.aperture_width", "1 m"),
    ("receiver.aperture_height", "1 m"),
    ("heat.pipe_run", "20 m"),
    ("heat.demand.power", "10 kW"),
    ("storage.capacity", "0.3 MWh"),
];

/// Electricity by way of salt.
const POWER: Settings = &[
    ("heat.delivers", "electricity"),
    ("heat.carrier", "salt"),
    ("heat.cold_temperature", "290 degC"),
    ("heat.hot_temperature", "565 degC"),
    ("heat.demand.power", "0.01 MW"),
    ("receiver.min_load", "0 %"),
];

/// The same with steam condensed by evaporating water.
const WET_POWER: Settings = &[
    ("heat.delivers", "electricity"),
    ("heat.carrier", "salt"),
    ("heat.cold_temperature", "290 degC"),
    ("heat.hot_temperature", "565 degC"),
    ("heat.demand.power", "0.01 MW"),
    ("receiver.min_load", "0 %"),
    ("power.cooling", "wet"),
];

/// Some heliostats of nine panels, and some mirrors with drives of their own.
const PEDESTALS: Settings = &[
    ("concept", "pedestals"),
    ("pedestals.count", "8"),
    ("pedestals.area", "9 m2"),
    ("field.inner_radius", "1.5"),
];
const SINGLES: Settings = &[
    ("concept", "singles"),
    ("singles.count", "60"),
    ("singles.side", "0.9 m"),
    ("singles.glass", "4 mm"),
    ("field.inner_radius", "1.5"),
];

/// Other fields, each a few values away from [`STEAM`], and keys with the values that act there.
const ACTS: &[(Settings, Settings)] = &[
    (&[], ON_STEAM),
    (&[], OF_MONEY),
    (
        &[
            ("receiver.kind", "cavity"),
            ("receiver.door", "closed at rest"),
        ],
        &[
            ("receiver.door", "none"),
            ("receiver.cavity_inside_ratio", "3"),
            ("receiver.cavity_lower_lip", "10 %"),
            ("receiver.cavity_above_upper_lip", "30 %"),
        ],
    ),
    (
        POWER,
        &[
            ("heat.delivers", "steam"),
            ("heat.carrier", "air"),
            ("heat.cold_temperature", "300 degC"),
            ("heat.hot_temperature", "540 degC"),
            ("power.efficiency", "30 %"),
            ("power.no_load_heat", "12 %"),
            ("power.min_load", "60 %"),
            ("power.own_use", "8 %"),
            ("power.cooling", "wet"),
            ("power.dry_approach", "15 K"),
            ("power.rated_condensing", "30 degC"),
            ("power.start_time", "0.5 h"),
        ],
    ),
    (
        WET_POWER,
        &[
            ("power.wet_approach", "12 K"),
            ("power.wet_bulb_depression", "5 K"),
        ],
    ),
    // A store so small that it fills slower than sun is left over.
    (
        &[("storage.capacity", "0.1 MWh")],
        &[("storage.fill_time", "100 h")],
    ),
    (
        &[("strings.offset", "lever")],
        &[("strings.linkage", "graded"), ("labour.joint", "20 min")],
    ),
    (
        &[("strings.first_axis", "roll-free")],
        &[("strings.ball_travel", "25 deg")],
    ),
    (
        &[("strings.alignment.by", "laser")],
        &[("strings.alignment.survey", "50 mm")],
    ),
    (
        &[("strings.sensing", "sensor")],
        &[("strings.tolerances.sensor", "2 mrad")],
    ),
    (
        &[("strings.sensing", "camera")],
        &[("strings.tolerances.camera", "2 mrad")],
    ),
    (
        &[("structure.footing", "drilled")],
        &[("structure.hole", "400 mm")],
    ),
    (
        PEDESTALS,
        &[
            ("concept", "strings"),
            ("pedestals.count", "9"),
            ("pedestals.panel_shape", "flat"),
            ("pedestals.glass", "5 mm"),
            ("pedestals.clearance", "0.8 m"),
            ("pedestals.ring_spacing", "2"),
            ("pedestals.side_spacing", "2.4"),
            ("pedestals.aim_spread", "0 %"),
            ("pedestals.focal_steps", "1"),
            ("pedestals.give", "2 mrad"),
            ("pedestals.footing", "driven"),
            ("pedestals.sensing", "sensor"),
            ("pedestals.defocus", "spring"),
            ("pedestals.tolerances.joint_play", "3 mrad"),
            ("pedestals.tolerances.encoder", "3 mrad"),
            ("pedestals.area", "14 m2"),
            ("pedestals.width_over_height", "1.8"),
            ("pedestals.panel", "0.6 m"),
            ("pedestals.tolerances.panel_setting", "3 mrad"),
        ],
    ),
    (
        SINGLES,
        &[
            ("singles.count", "9"),
            ("singles.panel_shape", "flat"),
            ("singles.glass", "3 mm"),
            ("singles.clearance", "0.8 m"),
            ("singles.ring_spacing", "2"),
            ("singles.side_spacing", "2.4"),
            ("singles.aim_spread", "0 %"),
            ("singles.focal_steps", "1"),
            ("singles.give", "2 mrad"),
            ("singles.footing", "drilled"),
            ("singles.sensing", "sensor"),
            ("singles.defocus", "spring"),
            ("singles.tolerances.joint_play", "3 mrad"),
            ("singles.tolerances.encoder", "3 mrad"),
            ("singles.side", "0.8 m"),
        ],
    ),
    (
        &[
            ("concept", "pedestals"),
            ("pedestals.count", "8"),
            ("pedestals.area", "9 m2"),
            ("field.inner_radius", "1.5"),
            ("pedestals.sensing", "sensor"),
        ],
        &[("pedestals.tolerances.sensor", "3 mrad")],
    ),
    (
        &[
            ("concept", "pedestals"),
            ("pedestals.count", "8"),
            ("pedestals.area", "9 m2"),
            ("field.inner_radius", "1.5"),
            ("pedestals.sensing", "camera"),
        ],
        &[("pedestals.tolerances.camera", "3 mrad")],
    ),
    (
        &[
            ("concept", "singles"),
            ("singles.count", "60"),
            ("singles.side", "0.9 m"),
            ("singles.glass", "4 mm"),
            ("field.inner_radius", "1.5"),
            ("singles.sensing", "sensor"),
        ],
        &[("singles.tolerances.sensor", "3 mrad")],
    ),
    (
        &[
            ("concept", "singles"),
            ("singles.count", "60"),
            ("singles.side", "0.9 m"),
            ("singles.glass", "4 mm"),
            ("field.inner_radius", "1.5"),
            ("singles.sensing", "camera"),
        ],
        &[("singles.tolerances.camera", "3 mrad")],
    ),
    (
        &[
            ("weather.sun_shape", "table"),
            (
                "weather.sun_angles",
                r#"["0 mrad", "4.6 mrad", "4.7 mrad", "40 mrad"]"#,
            ),
            ("weather.sun_brightness", "[1, 0.4, 0.01, 0]"),
        ],
        &[
            (
                "weather.sun_angles",
                r#"["0 mrad", "4.6 mrad", "4.7 mrad", "20 mrad"]"#,
            ),
            ("weather.sun_brightness", "[1, 0.2, 0.01, 0]"),
        ],
    ),
    (
        &[("finance.tax", "25 %")],
        &[
            ("finance.taxed", "seller"),
            ("finance.write_off", "five years accelerated"),
            ("finance.write_off_time", "10 yr"),
        ],
    ),
];

const ON_STEAM: Settings = &[
    ("site.latitude", "30 deg"),
    ("site.longitude", "-8 deg"),
    ("site.altitude", "900 m"),
    ("site.utc_offset", "0 h"),
    ("site.ground_slope_north", "3 %"),
    ("site.ground_slope_east", "3 %"),
    (
        "weather.monthly_dni",
        r#"["100 kWh/m2", "140 kWh/m2", "172 kWh/m2", "182 kWh/m2", "214 kWh/m2", "237 kWh/m2", "258 kWh/m2", "238 kWh/m2", "192 kWh/m2", "163 kWh/m2", "134 kWh/m2", "122 kWh/m2"]"#,
    ),
    (
        "weather.monthly_temperature",
        r#"["0 degC", "10.8 degC", "13.6 degC", "15.6 degC", "19.6 degC", "24.6 degC", "27.9 degC", "27.6 degC", "23.5 degC", "18.4 degC", "13.1 degC", "10.2 degC"]"#,
    ),
    ("weather.daily_swing", "8 K"),
    ("weather.wind_speed", "5 m/s"),
    ("weather.seed", "2"),
    ("weather.linke_turbidity", "4"),
    ("weather.min_sun_elevation", "12 deg"),
    ("weather.visibility", "hazy"),
    ("weather.sun_shape", "disc"),
    ("weather.circumsolar", "10 %"),
    ("strings.count", "26"),
    ("strings.mirrors", "7"),
    ("strings.side", "0.7 m"),
    ("strings.glass", "4 mm"),
    ("strings.pitch_ratio", "1.5"),
    ("strings.bearing", "fan 0"),
    ("strings.first_axis", "across"),
    ("strings.offset", "lever"),
    ("strings.control", "least squares"),
    ("strings.rail_slope", "5 deg"),
    ("strings.mount_height", "1.2 m"),
    ("strings.stagger", "0.2 m"),
    ("strings.row_spacing", "3"),
    ("strings.row_growth", "0.03"),
    ("strings.aim_spread", "20 %"),
    ("strings.focal_steps", "1"),
    ("strings.panel_shape", "flat"),
    ("strings.lever", "0.2 m"),
    ("strings.give", "0.5 mrad"),
    ("strings.driven_from", "end"),
    ("field.sector", "20 deg"),
    ("field.sector_centre", "30 deg"),
    ("field.inner_radius", "1.2"),
    ("field.outer_radius", "1.1"),
    ("strings.end_gap", "3 m"),
    ("field.lane_every", "1"),
    ("field.lane_width", "6 m"),
    ("field.aim_clearance", "15 mrad"),
    ("strings.alignment.azimuth", "150 deg"),
    ("strings.alignment.elevation", "30 deg"),
    ("strings.alignment.instants", "1"),
    ("strings.alignment.by", "laser"),
    ("strings.tolerances.post_tilt", "3 mrad"),
    ("strings.tolerances.axis_squareness", "3 mrad"),
    ("strings.tolerances.joint_play", "3 mrad"),
    ("strings.tolerances.offset_setting", "3 mrad"),
    ("strings.tolerances.lever_ratio", "1 %"),
    ("strings.tolerances.encoder", "3 mrad"),
    ("strings.tolerances.line_warmth", "20 K"),
    ("strings.sensing", "camera"),
    ("strings.pretension", "1.3"),
    ("strings.line", "push-rod"),
    ("strings.rail", "none"),
    ("strings.defocus", "spring"),
    ("strings.workmanship.posts", "fine"),
    ("strings.workmanship.axes", "fine"),
    ("strings.workmanship.joints", "fine"),
    ("strings.workmanship.levers", "fine"),
    ("strings.workmanship.offsets", "fine"),
    ("strings.travel", "25 deg"),
    ("tower.aim_height", "20 m"),
    ("mirror.reflectance", "95 %"),
    ("mirror.extinction", "10 1/m"),
    ("mirror.cleanliness", "90 %"),
    ("mirror.soiling", "0.9 %/d"),
    ("mirror.washed", "97 %"),
    ("mirror.night", "upright"),
    ("mirror.slope_error", "2.5 mrad"),
    ("mirror.scatter", "1.5 mrad"),
    ("mirror.bending_residual", "60 %"),
    ("receiver.kind", "cavity"),
    ("receiver.outline", "circle"),
    ("receiver.aperture_width", "1.2 m"),
    ("receiver.aperture_height", "1.2 m"),
    ("receiver.tilt", "30 deg"),
    ("receiver.absorptance", "90 %"),
    ("receiver.emittance", "60 %"),
    ("receiver.flux_limit", "60 kW/m2"),
    ("receiver.film_resistance", "1 m2.K/kW"),
    ("receiver.insulation_thickness", "50 mm"),
    ("receiver.insulation_conductivity", "0.2 W/m/K"),
    ("receiver.start_energy", "12 kWh/m2"),
    ("receiver.cooling_time", "20 h"),
    ("receiver.rating", "0.9"),
    ("receiver.min_load", "40 %"),
    ("heat.delivery_pressure", "10 bar"),
    ("heat.condensate_temperature", "60 degC"),
    ("heat.approach", "20 K"),
    ("heat.loop_rise", "20 K"),
    ("heat.pressure_margin", "1.5"),
    ("heat.pipe_run", "100 m"),
    ("heat.pipe_pressure_drop", "6 bar"),
    ("heat.pipe_loss", "3 %"),
    ("heat.pump_efficiency", "40 %"),
    ("heat.drive_power", "20 W"),
    ("heat.standby_power", "4 kW"),
    ("heat.availability", "90 %"),
    ("heat.demand.power", "20 kW"),
    ("heat.demand.min_power", "5 kW"),
    ("heat.demand.days", "monday to friday"),
    ("heat.demand.from", "9 h"),
    ("heat.demand.to", "14 h"),
    ("heat.demand.serve_at_least", "5 %"),
    (
        "heat.demand.monthly_share",
        r#"["50 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %", "100 %"]"#,
    ),
    ("storage.capacity", "0.1 MWh"),
    ("storage.wall_loss", "2 W/m2/K"),
    ("storage.loss", "2 %/h"),
    ("storage.empty_time", "40 h"),
    ("structure.operating_wind", "6 m/s"),
    ("structure.drive_wind", "22 m/s"),
    ("structure.survival_wind", "45 m/s"),
    ("structure.roughness", "0.3 m"),
    ("structure.wind_code", "ASCE 7"),
    ("structure.wind_factor", "2"),
    ("structure.shelter", "0.4"),
    ("structure.lee_mirrors", "40"),
    ("structure.gust_width", "50 m"),
    ("structure.small_mirror_rise", "2"),
    ("structure.stow_misfit", "20 deg"),
    ("structure.stow_time", "1 min"),
    ("structure.steel_yield", "355 MPa"),
    ("structure.soil", "loose sand"),
    ("structure.footing", "drilled"),
    ("glass.strength", "30 MPa"),
    ("glass.wind_factor", "1.5"),
    ("stock.spare_panels", "10 %"),
    ("stock.spare_parts", "10 %"),
    ("labour.panel", "40 min"),
    ("labour.post", "20 min"),
    ("labour.driven_unit", "12 h"),
    ("labour.alignment", "20 min"),
    ("labour.lifted", "2 t/d"),
    ("labour.commissioning_unit", "90 min"),
    ("labour.commissioning_plant", "600 h"),
    ("upkeep.wash_interval", "30 d"),
    ("upkeep.wash_water", "1.2 l/m2"),
    ("upkeep.staff", "2"),
    ("upkeep.mirrors_per_person", "1000"),
    ("upkeep.drives_replaced", "6 %/yr"),
    ("upkeep.lines_replaced", "6 %/yr"),
    ("upkeep.glass_replaced", "1 %/yr"),
];

const OF_MONEY: Settings = &[
    ("finance.real_rate", "8 %"),
    ("finance.inflation", "4 %"),
    ("finance.life", "20 yr"),
    ("finance.construction_time", "2 yr"),
    ("finance.contingency", "15 %"),
    ("finance.contingency_unproven", "30 %"),
    ("finance.engineering", "10 %"),
    ("finance.owner_cost", "6 %"),
    ("finance.grant", "20 %"),
    ("finance.yearly_decline", "1 %"),
    ("finance.insurance", "1 %"),
    ("finance.plant_upkeep", "3 %"),
    ("finance.carbon_price", "100 USD/t"),
    ("finance.gas_price", "80 USD/MWh"),
    ("finance.gas_efficiency", "90 %"),
    ("finance.gas_carbon", "0.25 kg/kWh"),
    ("finance.electricity_price", "150 USD/MWh"),
    ("finance.electricity_carbon", "0.6 kg/kWh"),
    ("finance.residual", "10 %"),
    ("finance.tax", "25 %"),
    ("finance.debt_share", "30 %"),
    ("finance.debt_rate", "10 %"),
    ("finance.debt_time", "10 yr"),
    ("finance.p90_share", "80 %"),
    ("finance.price_year", "2020"),
    ("finance.output_ratio", "4"),
    ("carbon.steel", "scrap"),
];

/// Keys that are not asked here, and why.
const ASIDE: &[(&str, &str)] = &[
    ("title", "a name"),
    ("base", "the file below; its values are asked"),
    ("currency", "a name"),
    (
        "weather.file",
        "files are read by the command line: tests/cli/weather_files.rs",
    ),
    ("weather.files", "the same"),
    ("weather.format", "the same"),
    ("weather.bridged_gap", "the same"),
    (
        "weather.yearly_spread",
        "spreads years, not this one: crates/model/src/years/tests.rs",
    ),
    (
        "heat.demand.file",
        "read by the command line: tests/cli/products.rs",
    ),
    (
        "stock.sheet_length",
        "what is bought: crates/model/src/setout/purchases.rs",
    ),
    ("stock.sheet_width", "the same"),
    ("stock.bar", "the same"),
    ("stock.long_bar", "the same"),
    ("stock.saw_cut", "the same"),
    (
        "finance.learning",
        "acts with an output that is not the quoted one: asked below",
    ),
    (
        "search.seed",
        "which designs are looked at: tests/cli/searched.rs",
    ),
    ("search.total", "the same"),
];

/// Keys that act only where another one does.
const TOGETHER: &[(Settings, Settings)] = &[
    (
        &[("finance.output_ratio", "4")],
        &[("finance.learning", "85 %")],
    ),
    (
        &[("strings.line", "push-rod")],
        &[("strings.rod_guides", "2")],
    ),
    (
        &[("strings.rail", "none")],
        &[("strings.tolerances.air_warmth", "20 K")],
    ),
];

/// A field with everything that follows from its values.
struct Told {
    values: String,
    sum: Result<model::Summary, Infeasible>,
    said: String,
}

fn told(settings: &[(&'static str, &'static str)], base: Option<&Told>) -> Told {
    let settings = laid_over(STEAM, settings);
    let scenario = tautfield_tests::scenario(DEMO_FILE, &settings);
    let values = scenario.hash_text();
    // Prices never reach the light: the sum of the base stands.
    let sum = match base.filter(|base| base.values == values) {
        Some(base) => base.sum.clone(),
        None => Works::new(&settings).evaluate(Search),
    };
    let said = sum.as_ref().map_or_else(
        |broken| format!("{broken:?}"),
        |sum| {
            let (rates, finance) = (&scenario.rates, &scenario.finance);
            let money = price(&sum.quantities, sum.delivered_j, rates, finance);
            let worth = worth(&money, rates, finance);
            format!("{sum:?} {money:?} {worth:?}")
        },
    );
    Told { values, sum, said }
}

/// Keys of one field that act on nothing there; the field itself, if it breaks a limit.
fn idle(base: Settings, keys: Settings) -> Vec<String> {
    let before = told(base, None);
    if before.sum.is_err() {
        return vec![format!("{base:?} is no field: {}", before.said)];
    }
    let acts = |key: &'static str, value: &'static str| {
        let changed = laid_over(base, &[(key, value)]);
        told(&changed, Some(&before)).said != before.said
    };
    let idle = keys.par_iter().filter(|(key, value)| !acts(key, value));
    idle.map(|(key, value)| format!("{key} = {value}"))
        .collect()
}

#[test]
fn every_key_acts() {
    let fields = ACTS.par_iter().chain(TOGETHER);
    let idle: Vec<String> = fields.flat_map(|(base, keys)| idle(base, keys)).collect();
    assert!(idle.is_empty(), "these change nothing: {idle:#?}");
}

/// Every key that a scenario resolves to is asked above, or named with the reason why not.
#[test]
fn no_key_is_left_out() {
    let scenario = tautfield_tests::scenario(DEMO_FILE, &laid_over(STEAM, POWER));
    let asked: BTreeSet<&str> = ACTS
        .iter()
        .chain(TOGETHER)
        .flat_map(|(_, keys)| keys.iter().map(|(key, _)| *key))
        .chain(ASIDE.iter().map(|(key, _)| *key))
        .collect();
    let resolved = scenario.resolved();
    let missing: Vec<&str> = resolved
        .iter()
        .map(|value| value.key.as_str())
        .filter(|key| !key.starts_with("rates.") && !asked.contains(key))
        .collect();
    assert!(missing.is_empty(), "ask these in this file: {missing:#?}");
}

/// Some field buys some of every item, or of what goes by its rate.
#[test]
fn every_item_is_bought() {
    let fields: [Settings; 12] = [
        PEDESTALS,
        SINGLES,
        &[],
        &[
            ("receiver.kind", "cavity"),
            ("structure.footing", "drilled"),
        ],
        &[("strings.sensing", "sensor"), ("strings.defocus", "spring")],
        &[("strings.sensing", "camera")],
        &[
            ("strings.linkage", "sliding-lever"),
            ("strings.offset", "lever"),
        ],
        &[
            ("strings.workmanship.joints", "fine"),
            ("strings.workmanship.levers", "fine"),
        ],
        &[("strings.alignment.by", "laser")],
        POWER,
        WET_POWER,
        &[
            ("heat.delivers", "hot air"),
            ("heat.carrier", "air"),
            ("heat.cold_temperature", "150 degC"),
            ("heat.hot_temperature", "700 degC"),
            ("receiver.kind", "cavity"),
            ("receiver.min_load", "0 %"),
        ],
    ];
    let bought: BTreeSet<Item> = fields
        .par_iter()
        .flat_map_iter(|settings| {
            let works: Works = with(STEAM, settings);
            let sum = crate::summary(&works, Search);
            let rates = works.case.scenario.rates;
            let is_bought = move |item: &Item| {
                let own = sum.quantities.get(*item);
                own.max(rates.amount_under(*item, &sum.quantities)) > 0.0
            };
            Item::ALL.iter().copied().filter(is_bought)
        })
        .collect();
    let idle: Vec<&str> = Item::ALL
        .iter()
        .filter(|item| !bought.contains(item))
        .map(|item| item.key())
        .collect();
    assert!(idle.is_empty(), "nobody buys {idle:?}");
}
