//! Fields of every kind, each a few changes away from the demo scenario.

use tautfield_tests::Works;

/// Values laid over the demo scenario.
pub type Settings = &'static [(&'static str, &'static str)];

/// Strings that point at a cavity, on rails that rise.
pub const RADIAL_ON_RAILS: Settings = &[
    ("strings.count", "150"),
    ("strings.mirrors", "7"),
    ("strings.bearing", "radial"),
    ("strings.first_axis", "across"),
    ("strings.pitch_ratio", "1.5"),
    ("strings.rail_slope", "12 deg"),
    ("strings.row_spacing", "2.5"),
    ("receiver.kind", "cavity"),
    ("heat.demand.power", "1 MW"),
];

/// Short strings square to the line of sight that turn about upright axes.
pub const CROSS_AND_UPRIGHT: Settings = &[
    ("strings.count", "220"),
    ("strings.mirrors", "5"),
    ("strings.bearing", "cross"),
    ("strings.first_axis", "vertical"),
    ("strings.pitch_ratio", "1.45"),
    ("heat.demand.power", "600 kW"),
];

/// South of the equator, where summer is in January; straight rows, polar axes, driven from an end.
pub const SOUTHERN: Settings = &[
    ("site.latitude", "-28 deg"),
    (
        "weather.monthly_dni",
        r#"["258 kWh/m2", "238 kWh/m2", "192 kWh/m2", "163 kWh/m2", "134 kWh/m2", "122 kWh/m2", "130 kWh/m2", "140 kWh/m2", "172 kWh/m2", "182 kWh/m2", "214 kWh/m2", "237 kWh/m2"]"#,
    ),
    ("strings.count", "150"),
    ("strings.mirrors", "9"),
    ("strings.bearing", "fan 0"),
    ("strings.first_axis", "polar"),
    ("strings.driven_from", "end"),
    ("heat.demand.power", "1 MW"),
];

/// All round the tower, on ground that slopes.
pub const ALL_ROUND: Settings = &[
    ("site.ground_slope_north", "0.03"),
    ("strings.count", "250"),
    ("strings.mirrors", "9"),
    ("field.sector", "180 deg"),
    ("receiver.tilt", "60 deg"),
    ("heat.demand.power", "1 MW"),
];

/// The demo scenario itself.
pub const DEMO: Settings = &[];

/// All of the above.
pub const ALL: [Settings; 5] = [
    DEMO,
    RADIAL_ON_RAILS,
    CROSS_AND_UPRIGHT,
    SOUTHERN,
    ALL_ROUND,
];

/// Some settings with more laid over them.
pub fn laid_over<'a>(
    settings: &[(&'static str, &'a str)],
    more: &[(&'static str, &'a str)],
) -> Vec<(&'static str, &'a str)> {
    let is_kept = |key: &str| more.iter().all(|(other, _)| *other != key);
    let kept = settings.iter().filter(|(key, _)| is_kept(key));
    kept.chain(more).copied().collect()
}

/// Some of the settings above with more laid over them.
pub fn with(settings: Settings, more: &[(&'static str, &str)]) -> Works {
    Works::new(&laid_over(settings, more))
}
