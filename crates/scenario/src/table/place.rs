//! Keys of the top of the file, the site and the weather.

use quantity::Dimension::{
    Angle, EnergyPerArea, Fraction, Length, Number, Speed, Temperature, TemperatureDifference, Time,
};

use crate::choices::nth;
use crate::key::Put::Case;
use crate::key::{Key, choice, column, monthly, quantity, text, texts, whole};
use crate::{Concept, FieldDesign, SunShape, Visibility, WeatherFormat};

const SECONDS_PER_HOUR: f64 = 3600.0;

pub(super) static KEYS: &[Key] = &[
    text(
        "title",
        |draft, words| draft.scenario.title = words,
        "What the scenario is about.",
    )
    .required("Steam for a works")
    .aside(),
    text(
        "base",
        |_, _| (),
        "Another scenario file that this one is laid over.",
    )
    .optional("base.toml")
    .aside(),
    choice::<Concept>(
        "concept",
        Case(|draft, index| draft.scenario.space.fixed.field = FieldDesign::of(nth(index))),
        "What kind of field it is: strings of mirrors that share a drive, heliostats of many panels on pedestals, or single panels with drives of their own; the sections of the others are checked and left aside.",
    )
    .or("strings"),
    text(
        "currency",
        |draft, words| draft.scenario.currency = words,
        "Three letters; every price is in this currency.",
    )
    .or("USD")
    .price(),
    quantity(
        "site.latitude",
        Angle,
        "deg",
        (-66.0, 66.0),
        Case(|draft, value| draft.scenario.site.latitude_rad = value),
        "Latitude, north positive.",
    )
    .required("37 deg"),
    quantity(
        "site.longitude",
        Angle,
        "deg",
        (-180.0, 180.0),
        Case(|draft, value| draft.scenario.site.longitude_rad = value),
        "Longitude, east positive.",
    )
    .required("-4 deg"),
    quantity(
        "site.altitude",
        Length,
        "m",
        (-430.0, 5000.0),
        Case(|draft, value| draft.scenario.site.altitude_m = value),
        "Height above the sea.",
    )
    .required("400 m"),
    quantity(
        "site.utc_offset",
        Time,
        "h",
        (-12.0, 14.0),
        Case(|draft, value| draft.scenario.site.utc_offset_h = value / SECONDS_PER_HOUR),
        "Local standard time less universal time.",
    )
    .required("0 h"),
    quantity(
        "site.ground_slope_north",
        Fraction,
        "%",
        (-20.0, 20.0),
        Case(|draft, value| draft.scenario.site.ground_slope_north = value),
        "Rise ÷ run of the ground towards north.",
    )
    .or("0 %"),
    quantity(
        "site.ground_slope_east",
        Fraction,
        "%",
        (-20.0, 20.0),
        Case(|draft, value| draft.scenario.site.ground_slope_east = value),
        "Rise ÷ run of the ground towards east.",
    )
    .or("0 %"),
    text(
        "weather.file",
        |draft, words| draft.weather_file.paths = vec![words],
        "An hourly weather file, instead of monthly sums. It may hold several years: the one whose \
         DNI is nearest to their median stands for them, all of them give the spread.",
    )
    .optional("weather.epw")
    .aside(),
    texts(
        "weather.files",
        |draft, paths| draft.weather_file.paths = paths,
        "Several weather files instead of one, each of a year or more.",
    )
    .optional("2011.csv")
    .aside(),
    quantity(
        "weather.yearly_spread",
        Fraction,
        "%",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.weather.yearly_spread = value),
        "Standard deviation of a year's DNI from year to year, share of the mean; used where the \
         weather is a single year. 3 to 10 % at most sunny places, from memory.",
    )
    .or("6 %")
    .price(),
    choice::<WeatherFormat>(
        "weather.format",
        Case(|draft, index| draft.weather_file.format = nth(index)),
        "How the weather file is laid out; auto goes by its first lines.",
    )
    .or("auto"),
    quantity(
        "weather.bridged_gap",
        Time,
        "h",
        (0.0, 48.0),
        Case(|draft, value| draft.weather_file.bridged_gap_s = value),
        "Longest run of missing or impossible values in a weather file that a straight line \
         bridges; 0 refuses any.",
    )
    .or("0 h"),
    monthly(
        "weather.monthly_dni",
        EnergyPerArea,
        "kWh/m2",
        (0.0, 450.0),
        |draft, values| draft.monthly.dni_j_m2 = values,
        "Sum of direct normal irradiation in each month, January first.",
    )
    .optional("150 kWh/m2"),
    monthly(
        "weather.monthly_temperature",
        Temperature,
        "degC",
        (-40.0, 50.0),
        |draft, values| draft.monthly.air_temperature_k = values,
        "Mean air temperature of each month, January first.",
    )
    .optional("18 degC"),
    quantity(
        "weather.daily_swing",
        TemperatureDifference,
        "K",
        (0.0, 40.0),
        Case(|draft, value| draft.monthly.daily_swing_k = value),
        "Warmest less coolest hour of a day, for a year made from monthly sums.",
    )
    .or("12 K"),
    quantity(
        "weather.wind_speed",
        Speed,
        "m/s",
        (0.0, 15.0),
        Case(|draft, value| draft.monthly.wind_speed_m_s = value),
        "Mean wind speed at 10 m, for a year made from monthly sums.",
    )
    .or("3 m/s"),
    whole(
        "weather.seed",
        (0, u32::MAX),
        Case(|draft, value| draft.monthly.seed = value),
        "Seed of the runs of clear and dull days of a year made from monthly sums.",
    )
    .or("1"),
    quantity(
        "weather.linke_turbidity",
        Number,
        "1",
        (1.0, 10.0),
        Case(|draft, value| draft.scenario.weather.linke_turbidity = value),
        "Linke turbidity of the clear sky.",
    )
    .or("3"),
    quantity(
        "weather.min_sun_elevation",
        Angle,
        "deg",
        (1.0, 30.0),
        Case(|draft, value| draft.scenario.weather.min_sun_elevation_rad = value),
        "The field works while the sun stands higher than this.",
    )
    .or("8 deg"),
    choice::<Visibility>(
        "weather.visibility",
        Case(|draft, index| draft.scenario.weather.visibility = nth(index)),
        "Clearness of the air between mirrors and receiver.",
    )
    .or("clear"),
    choice::<SunShape>(
        "weather.sun_shape",
        Case(|draft, index| draft.scenario.weather.sun_shape = nth(index)),
        "How the sun's light is spread: an even disc, one darker towards its limb, that with circumsolar light, or as a table of brightness says.",
    )
    .or("circumsolar"),
    quantity(
        "weather.circumsolar",
        Fraction,
        "%",
        (0.0, 40.0),
        Case(|draft, value| draft.scenario.weather.circumsolar_ratio = value),
        "Share of the direct light that comes from beyond the sun's disc, for the circumsolar shape.",
    )
    .or("5 %"),
    column(
        "weather.sun_angles",
        Angle,
        "mrad",
        (0.0, 60.0),
        |draft, values| draft.scenario.weather.sun_angles_rad = values,
        "Angles from the sun's middle at which its brightness is tabled, rising from 0; for the shape of a table. \
         What comes from beyond 4.65 mrad is circumsolar light.",
    )
    .optional("\"0 mrad\", \"4.6 mrad\", \"4.7 mrad\", \"40 mrad\""),
    column(
        "weather.sun_brightness",
        Number,
        "1",
        (0.0, 1e12),
        |draft, values| draft.scenario.weather.sun_brightness = values,
        "Brightness at each of these angles, in any unit; straight lines join them, and beyond the last there is nothing.",
    )
    .optional("1, 0.4, 0.01, 0"),
];
