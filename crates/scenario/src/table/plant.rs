//! Keys of receiver, heat and storage.

use quantity::Dimension::{
    Angle, Conductivity, Energy, EnergyPerArea, Fraction, HeatTransfer, Length, Number, PerTime,
    Power, PowerPerArea, Pressure, Temperature, TemperatureDifference, ThermalResistance, Time,
};

use crate::choices::nth;
use crate::key::Put::{Case, Design};
use crate::key::{Key, choice, monthly, quantity, text};
use crate::{Carrier, Delivers, Door, Outline, ReceiverKind, WorkDays};

pub(super) static KEYS: &[Key] = &[
    choice::<ReceiverKind>(
        "receiver.kind",
        Case(|draft, index| draft.scenario.receiver.kind = nth(index)),
        "Flat panel, cavity, or upright cylinder lit all around.",
    )
    .or("billboard"),
    choice::<Outline>(
        "receiver.outline",
        Case(|draft, index| draft.scenario.receiver.outline = nth(index)),
        "What bounds the aperture of a panel or cavity; the diameter of a circle is its width.",
    )
    .or("rectangle"),
    quantity(
        "receiver.aperture_width",
        Length,
        "m",
        (0.3, 30.0),
        Design(|design, value| design.aperture_width_m = value),
        "Width of the aperture; diameter of a circle or cylinder.",
    )
    .required("3.4 m"),
    quantity(
        "receiver.aperture_height",
        Length,
        "m",
        (0.3, 30.0),
        Design(|design, value| design.aperture_height_m = value),
        "Height of the aperture along its slope; a circle's is not used.",
    )
    .required("3.4 m"),
    quantity(
        "receiver.tilt",
        Angle,
        "deg",
        (0.0, 80.0),
        Design(|design, value| design.aperture_tilt_rad = value),
        "How far the aperture looks down, from horizontal.",
    )
    .or("20 deg"),
    quantity(
        "receiver.cavity_inside_ratio",
        Number,
        "1",
        (1.0, 10.0),
        Case(|draft, value| draft.scenario.receiver.cavity_inside_ratio = value),
        "Inner surface of a cavity ÷ aperture area.",
    )
    .or("2.5"),
    quantity(
        "receiver.cavity_lower_lip",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.receiver.cavity_lower_lip = value),
        "Share of the inner surface that is the lower lip.",
    )
    .or("5 %"),
    quantity(
        "receiver.cavity_above_upper_lip",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.receiver.cavity_above_upper_lip = value),
        "Share of the inner surface above the aperture's upper edge.",
    )
    .or("20 %"),
    choice::<Door>(
        "receiver.door",
        Case(|draft, index| draft.scenario.receiver.door = nth(index)),
        "What closes a cavity while no light is taken.",
    )
    .or("none"),
    quantity(
        "receiver.absorptance",
        Fraction,
        "%",
        (50.0, 100.0),
        Case(|draft, value| draft.scenario.receiver.absorptance = value),
        "Solar absorptance of the surface.",
    )
    .or("94 %"),
    quantity(
        "receiver.emittance",
        Fraction,
        "%",
        (1.0, 100.0),
        Case(|draft, value| draft.scenario.receiver.emittance = value),
        "Thermal emittance of the surface.",
    )
    .or("87 %"),
    quantity(
        "receiver.flux_limit",
        PowerPerArea,
        "kW/m2",
        (50.0, 3000.0),
        Case(|draft, value| draft.scenario.receiver.flux_limit_w_m2 = value),
        "Largest flux that may fall on the aperture.",
    )
    .or("500 kW/m2"),
    quantity(
        "receiver.film_resistance",
        ThermalResistance,
        "m2.K/kW",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.receiver.film_resistance_m2_k_w = value),
        "Thermal resistance from the wall's outside to the fluid.",
    )
    .or("0.25 m2.K/kW"),
    quantity(
        "receiver.insulation_thickness",
        Length,
        "mm",
        (10.0, 1000.0),
        Case(|draft, value| draft.scenario.receiver.insulation_thickness_m = value),
        "Thickness of the insulation behind the panels.",
    )
    .or("150 mm"),
    quantity(
        "receiver.insulation_conductivity",
        Conductivity,
        "W/m/K",
        (0.01, 1.0),
        Case(|draft, value| draft.scenario.receiver.insulation_conductivity_w_m_k = value),
        "Conductivity of the insulation.",
    )
    .or("0.06 W/m/K"),
    quantity(
        "receiver.start_energy",
        EnergyPerArea,
        "kWh/m2",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.receiver.start_energy_j_m2 = value),
        "Heat that warms up the cold receiver and its water, per panel area.",
    )
    // Tubes and headers of 100 kg/m2 with 20 kg/m2 of water, from 15 to 230 degC (computed).
    .or("8 kWh/m2"),
    quantity(
        "receiver.cooling_time",
        Time,
        "h",
        (0.5, 100.0),
        Case(|draft, value| draft.scenario.receiver.cooling_time_s = value),
        "Time without sun after which the open receiver is fully cold; one behind a door stays warm longer.",
    )
    .or("10 h"),
    quantity(
        "receiver.rating",
        Number,
        "1",
        (0.1, 10.0),
        Case(|draft, value| draft.scenario.receiver.rating_ratio = value),
        "Largest heat flow to the fluid ÷ demand; loop and pumps are made for it, or for the most that the field can bring.",
    )
    .or("1.3"),
    quantity(
        "receiver.min_load",
        Fraction,
        "%",
        (0.0, 90.0),
        Case(|draft, value| draft.scenario.receiver.min_load = value),
        "Lowest heat flow to the fluid at which the loop is run ÷ rated heat flow.",
    )
    .or("10 %"),
    choice::<Delivers>(
        "heat.delivers",
        Case(|draft, index| draft.scenario.heat.delivers = nth(index)),
        "What crosses the fence.",
    )
    .or("steam"),
    choice::<Carrier>(
        "heat.carrier",
        Case(|draft, index| draft.scenario.heat.carrier = nth(index)),
        "What flows through receiver and store: pressurised water and salt make steam, salt and air run turbines, air is delivered hot.",
    )
    .or("water"),
    quantity(
        "heat.cold_temperature",
        Temperature,
        "degC",
        (0.0, 1000.0),
        Case(|draft, value| draft.scenario.heat.cold_temperature_k = value),
        "Temperature of salt or air entering the receiver; of hot air delivered, that of the air that comes back.",
    )
    .optional("290 degC"),
    quantity(
        "heat.hot_temperature",
        Temperature,
        "degC",
        (50.0, 1200.0),
        Case(|draft, value| draft.scenario.heat.hot_temperature_k = value),
        "Temperature of salt or air leaving the receiver.",
    )
    .optional("565 degC"),
    quantity(
        "heat.delivery_pressure",
        Pressure,
        "bar",
        (1.1, 100.0),
        Case(|draft, value| draft.scenario.heat.delivery_pressure_pa = value),
        "Absolute pressure of the saturated steam at the fence.",
    )
    .optional("16 bar"),
    quantity(
        "heat.condensate_temperature",
        Temperature,
        "degC",
        (5.0, 250.0),
        Case(|draft, value| draft.scenario.heat.condensate_temperature_k = value),
        "Temperature of the condensate that comes back, or of make-up water.",
    )
    .optional("85 degC"),
    quantity(
        "heat.approach",
        TemperatureDifference,
        "K",
        (1.0, 60.0),
        Case(|draft, value| draft.scenario.heat.approach_k = value),
        "How much warmer than the steam the loop water leaves the steam generator.",
    )
    .or("10 K"),
    quantity(
        "heat.loop_rise",
        TemperatureDifference,
        "K",
        (5.0, 150.0),
        Case(|draft, value| draft.scenario.heat.loop_rise_k = value),
        "Temperature rise of the loop water through the receiver.",
    )
    .or("40 K"),
    quantity(
        "heat.pressure_margin",
        Number,
        "1",
        (1.05, 3.0),
        Case(|draft, value| draft.scenario.heat.pressure_margin = value),
        "Loop pressure ÷ saturation pressure at the hottest point.",
    )
    .or("1.2"),
    quantity(
        "heat.pipe_run",
        Length,
        "m",
        (0.0, 10_000.0),
        Case(|draft, value| draft.scenario.heat.pipe_run_m = value),
        "Pipe run on the ground between tower and use.",
    )
    .or("100 m"),
    quantity(
        "heat.pipe_pressure_drop",
        Pressure,
        "bar",
        (0.005, 20.0),
        Case(|draft, value| draft.scenario.heat.pipe_pressure_drop_pa = value),
        "Pressure drop around the loop at rated flow; of air with its receiver some 0.05 bar.",
    )
    .or("3 bar"),
    quantity(
        "heat.pipe_loss",
        Fraction,
        "%",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.heat.pipe_loss = value),
        "Heat lost by warm pipes ÷ rated heat flow; at rest they go on losing it while they cool.",
    )
    // 0.1 m of mineral wool on 390 m of 0.12 m pipe at 230 degC lose 28 kW, supports and valves half
    // as much again: 1.1 % of 3.9 MW (computed).
    .or("1.2 %"),
    quantity(
        "heat.pump_efficiency",
        Fraction,
        "%",
        (10.0, 95.0),
        Case(|draft, value| draft.scenario.heat.pump_efficiency = value),
        "Hydraulic ÷ electric power of pumps or blower.",
    )
    .or("60 %"),
    quantity(
        "heat.drive_power",
        Power,
        "W",
        (0.0, 1000.0),
        Case(|draft, value| draft.scenario.heat.drive_power_w = value),
        "Mean electric power of each of a string's two drives while it follows the sun.",
    )
    .or("4 W"),
    quantity(
        "heat.standby_power",
        Power,
        "kW",
        (0.0, 500.0),
        Case(|draft, value| draft.scenario.heat.standby_power_w = value),
        "Electric power of controls at all hours.",
    )
    .or("2 kW"),
    quantity(
        "heat.availability",
        Fraction,
        "%",
        (50.0, 100.0),
        Case(|draft, value| draft.scenario.heat.availability = value),
        "Share of the sunlight that finds field and plant in working order.",
    )
    // Towers with turbines 90-96 % (from memory); heat alone at the upper end.
    .or("96 %"),
    quantity(
        "heat.demand.power",
        Power,
        "MW",
        (0.01, 500.0),
        Case(|draft, value| draft.scenario.heat.demand.power_w = value),
        "Heat or electricity wanted during shifts; receiver and loop are rated by it.",
    )
    .required("3 MW"),
    quantity(
        "heat.demand.min_power",
        Power,
        "MW",
        (0.0, 500.0),
        Case(|draft, value| draft.scenario.heat.demand.min_power_w = value),
        "Least heat flow that the works can use; a turbine set has its own least load.",
    )
    .or("0 MW"),
    choice::<WorkDays>(
        "heat.demand.days",
        Case(|draft, index| draft.scenario.heat.demand.days = nth(index)),
        "Days with shifts.",
    )
    .or("all"),
    quantity(
        "heat.demand.from",
        Time,
        "h",
        (0.0, 24.0),
        Case(|draft, value| draft.scenario.heat.demand.from_s = value),
        "Local standard time at which the first shift starts.",
    )
    .or("0 h"),
    quantity(
        "heat.demand.to",
        Time,
        "h",
        (0.0, 24.0),
        Case(|draft, value| draft.scenario.heat.demand.to_s = value),
        "Local standard time at which the last shift ends; not after the start means the next day.",
    )
    .or("24 h"),
    quantity(
        "heat.demand.serve_at_least",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.heat.demand.least_served = value),
        "Share of the year's demand that a design must serve.",
    )
    .or("0 %"),
    monthly(
        "heat.demand.monthly_share",
        Fraction,
        "%",
        (0.0, 200.0),
        |draft, values| draft.scenario.heat.demand.monthly_share = values,
        "Demand of each month ÷ demand, January first.",
    )
    .or("100 %"),
    text(
        "heat.demand.file",
        |draft, words| draft.scenario.heat.demand.file = words,
        "A CSV file that tells the power of each of 8,760 hours in a column power_kw, instead of shifts and months.",
    )
    .optional("demand.csv")
    .aside(),
    quantity(
        "storage.capacity",
        Energy,
        "MWh",
        (0.0, 10_000.0),
        Design(|design, value| design.storage_j = value),
        "Heat the store can hold; none if zero. Water is stored under pressure, salt in two tanks, the heat of air in a bed of stones.",
    )
    .or("0 MWh"),
    quantity(
        "storage.wall_loss",
        HeatTransfer,
        "W/m2/K",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.storage.wall_w_m2_k = value),
        "Heat that passes the insulated walls, floor and roof of the store.",
    )
    // The hot tank of the 10 MW test plant of 1996-99 lost 102 kW through some 520 m2 at 545 K
    // (Pacheco 2002, SAND2002-0120, from memory): 0.36.
    .or("0.35 W/m2/K"),
    quantity(
        "storage.loss",
        PerTime,
        "%/h",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.storage.loss_per_s = value),
        "Share of the stored heat that is lost beside what passes the walls.",
    )
    .or("0 %/h"),
    quantity(
        "storage.fill_time",
        Time,
        "h",
        (0.1, 100.0),
        Case(|draft, value| draft.scenario.storage.fill_time_s = value),
        "Time to fill the store at full charging power.",
    )
    .or("2 h"),
    quantity(
        "storage.empty_time",
        Time,
        "h",
        (0.1, 100.0),
        Case(|draft, value| draft.scenario.storage.empty_time_s = value),
        "Time to empty the store at full discharging power.",
    )
    .or("2 h"),
];
