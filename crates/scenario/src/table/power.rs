//! Keys of the turbine set.

use quantity::Dimension::{Fraction, Temperature, TemperatureDifference, Time};

use crate::Cooling;
use crate::choices::nth;
use crate::key::Put::Case;
use crate::key::{Key, choice, quantity};

pub(super) static KEYS: &[Key] = &[
    quantity(
        "power.efficiency",
        Fraction,
        "%",
        (5.0, 60.0),
        Case(|draft, value| draft.scenario.power.efficiency = value),
        "Gross electricity ÷ heat at full load and rated condensing temperature.",
    )
    // Gross Rankine efficiency of the 10 MW test plant of 1996-99 (Ortega et al. 2008, J. Sol. Energy
    // Eng.).
    .or("34 %"),
    quantity(
        "power.no_load_heat",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.power.no_load_heat = value),
        "Heat that runs the turbine set without load ÷ heat at full load; from there heat grows evenly with load.",
    )
    .or("8 %"),
    quantity(
        "power.min_load",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.power.min_load = value),
        "Least gross electricity at which the turbine set is run ÷ rated.",
    )
    .or("20 %"),
    quantity(
        "power.own_use",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.power.own_use = value),
        "Own use of feed pumps and cooling ÷ gross electricity; pumps of the carrier, tracking and controls come on top.",
    )
    // Plants use 8-12 % themselves in all (from memory), a third of it for salt and tracking.
    .or("6 %"),
    choice::<Cooling>(
        "power.cooling",
        Case(|draft, index| draft.scenario.power.cooling = nth(index)),
        "How steam is condensed: dry by air, wet by evaporating water.",
    )
    .or("dry"),
    quantity(
        "power.dry_approach",
        TemperatureDifference,
        "K",
        (2.0, 60.0),
        Case(|draft, value| draft.scenario.power.dry_approach_k = value),
        "How much warmer than the air steam condenses with dry cooling.",
    )
    .or("22 K"),
    quantity(
        "power.wet_approach",
        TemperatureDifference,
        "K",
        (2.0, 60.0),
        Case(|draft, value| draft.scenario.power.wet_approach_k = value),
        "How much warmer than the wet bulb steam condenses with wet cooling.",
    )
    .or("18 K"),
    quantity(
        "power.wet_bulb_depression",
        TemperatureDifference,
        "K",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.power.wet_bulb_depression_k = value),
        "How much cooler than the air its wet bulb is, in the mean over the year.",
    )
    .or("8 K"),
    quantity(
        "power.rated_condensing",
        Temperature,
        "degC",
        (10.0, 80.0),
        Case(|draft, value| draft.scenario.power.rated_condensing_k = value),
        "Temperature of condensing steam for which the efficiency is told; warmer steam gives less.",
    )
    .or("40 degC"),
    quantity(
        "power.start_time",
        Time,
        "h",
        (0.0, 1.0),
        Case(|draft, value| draft.scenario.power.start_time_s = value),
        "Heat of a start of the turbine set ÷ heat at full load.",
    )
    .or("0.25 h"),
];
