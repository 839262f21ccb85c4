//! Hours, mirrors and flux of one design.

use ledger::J_PER_KWH;
use model::{Detail, FluxMap};
use report::{Data, Table, TableKind};
use sky::WeatherYear;

const MRAD_PER_RAD: f64 = 1000.0;

/// Every hour of the year of a design; no row without one.
pub fn hours(detail: Option<&Detail>, weather: &WeatherYear) -> Table {
    let mut table = Table::new(TableKind::Hours);
    let hours = detail.map_or(&[][..], |detail| &detail.hours);
    let count = hours.len();
    table.push("hour", Data::counts(0..count as u32));
    let mut sky = |name: &str, values: &[f64]| {
        table.push(name, Data::numbers(values[..count].iter().copied()));
    };
    sky("dni_w_m2", &weather.dni_w_m2);
    sky("air_temperature_k", &weather.air_temperature_k);
    sky("wind_speed_m_s", &weather.wind_speed_m_s);
    macro_rules! push {
        ($($field:ident),+ $(,)?) => {
            $(table.push(stringify!($field), Data::numbers(hours.iter().map(|hour| hour.$field)));)+
        };
    }
    push!(
        aperture_power_w,
        unavailable_w,
        defocused_w,
        idle_w,
        reflected_w,
        radiated_w,
        convected_w,
        conducted_w,
        start_w,
        receiver_out_w,
        pipe_loss_w,
        to_store_w,
        from_store_w,
        store_loss_w,
        used_w,
        rejected_w,
        own_supplied_w,
        wall_temperature_k,
        delivered_w,
        dumped_w,
        store_j,
        steam_kg_s,
        own_use_electric_w,
    );
    table
}

/// Flux on the aperture of a design, row by row from the lower left; no row without one.
pub fn flux(detail: Option<&Detail>) -> Table {
    let mut table = Table::new(TableKind::Flux);
    let map = detail.map(|detail| &detail.flux);
    let parts = map.map_or(0, |map| map.flux_w_m2.len());
    let number = |value: fn(&FluxMap, usize) -> f64| {
        Data::numbers((0..parts).filter_map(|part| Some(value(map?, part))))
    };
    table.push("right_m", number(|map, part| map.place_m(part)[0]));
    table.push("up_m", number(|map, part| map.place_m(part)[1]));
    table.push("flux_w_m2", number(|map, part| map.flux_w_m2[part]));
    let yearly = number(|map, part| map.year_j_m2[part] / J_PER_KWH);
    table.push("yearly_kwh_m2", yearly);
    table
}

/// A value of the mirror at a place of the plan's columns.
type OfMirror = fn(&Detail, usize) -> f64;

/// Every mirror of a design; no row without one.
pub fn mirrors(detail: Option<&Detail>) -> Table {
    let mut table = Table::new(TableKind::Mirrors);
    let places: Vec<(u32, u32, usize)> = detail.map_or_else(Vec::new, places);
    let number = |value: OfMirror| {
        let of_mirror = |(_, _, mirror): &(u32, u32, usize)| {
            let value = value(detail?, *mirror);
            Some(value).filter(|value| value.is_finite())
        };
        Data::Number(places.iter().map(of_mirror).collect())
    };
    let strings = places.iter().map(|(string, _, _)| *string);
    table.push("string_id", Data::counts(strings));
    let mirrors = places.iter().map(|(_, mirror, _)| *mirror);
    table.push("mirror_id", Data::counts(mirrors));
    let columns: [(&str, OfMirror); 10] = [
        ("x_m", |of, at| of.plan.x_m[at]),
        ("y_m", |of, at| of.plan.y_m[at]),
        ("z_m", |of, at| of.plan.z_m[at]),
        ("width_m", |of, at| of.plan.width_m[at]),
        ("height_m", |of, at| of.plan.height_m[at]),
        ("focal_length_m", |of, at| of.plan.focal_length_m[at]),
        ("lit_share", |of, at| {
            of.mirrors[at].lit_share * of.mirrors[at].unblocked_share
        }),
        ("intercept", |of, at| of.mirrors[at].intercept),
        ("residual_mrad", |of, at| {
            of.mirrors[at].residual_rad * MRAD_PER_RAD
        }),
        ("yearly_kwh", |of, at| of.mirrors[at].aperture_j / J_PER_KWH),
    ];
    for (name, value) in columns {
        table.push(name, number(value));
    }
    table
}

/// String, place in it and place in the plan's columns of every mirror.
fn places(detail: &Detail) -> Vec<(u32, u32, usize)> {
    let strings = detail.plan.strings.iter().enumerate();
    strings
        .flat_map(|(string, row)| {
            let mirrors = row.mirrors().enumerate();
            mirrors.map(move |(place, mirror)| (string as u32, place as u32, mirror))
        })
        .collect()
}
