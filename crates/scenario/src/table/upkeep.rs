//! Keys of the work to build and of keeping the plant running.

use quantity::Dimension::{MassFlow, Number, PerTime, Time, VolumePerArea};

use crate::key::Put::{Case, Design};
use crate::key::{Key, quantity};

pub(super) static KEYS: &[Key] = &[
    quantity(
        "labour.panel",
        Time,
        "min",
        (0.0, 600.0),
        Case(|draft, value| draft.scenario.labour.panel_s = value),
        "Work to mount a panel with its frame and ties. Common practice, no source.",
    )
    .or("20 min"),
    quantity(
        "labour.post",
        Time,
        "min",
        (0.0, 600.0),
        Case(|draft, value| draft.scenario.labour.post_s = value),
        "Work to set a post. Common practice, no source.",
    )
    .or("10 min"),
    quantity(
        "labour.joint",
        Time,
        "min",
        (0.0, 600.0),
        Case(|draft, value| draft.scenario.labour.joint_s = value),
        "Work to fit one more joint: a clamp, a post head, a sleeve, a crank's bearing. Common practice, no source.",
    )
    .or("6 min"),
    quantity(
        "labour.driven_unit",
        Time,
        "h",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.labour.driven_unit_s = value),
        "Work to connect lines and drives of one driven unit: a string, or a mirror with drives of its own. Common practice, no source.",
    )
    .or("6 h"),
    quantity(
        "labour.alignment",
        Time,
        "min",
        (0.0, 600.0),
        Case(|draft, value| draft.scenario.labour.alignment_s = value),
        "Work to set one mirror on target and check it. Common practice, no source.",
    )
    .or("8 min"),
    quantity(
        "labour.lifted",
        MassFlow,
        "t/d",
        (0.1, 1000.0),
        Case(|draft, value| draft.scenario.labour.lifted_kg_s = value),
        "Steel of tower and receiver that one crane lifts. Common practice, no source.",
    )
    .or("8 t/d"),
    quantity(
        "labour.commissioning_unit",
        Time,
        "min",
        (0.0, 6000.0),
        Case(|draft, value| draft.scenario.labour.commissioning_unit_s = value),
        "Work to test and start one driven unit. Common practice, no source.",
    )
    .or("30 min"),
    quantity(
        "labour.commissioning_plant",
        Time,
        "h",
        (0.0, 100000.0),
        Case(|draft, value| draft.scenario.labour.commissioning_plant_s = value),
        "Work to test and start the plant. Common practice, no source.",
    )
    .or("300 h"),
    quantity(
        "upkeep.wash_interval",
        Time,
        "d",
        (1.0, 365.0),
        Design(|design, value| design.wash_interval_s = value),
        "Time from one wash of a mirror to the next; every two weeks is planned in large desert plants (ASTRI).",
    )
    .or("14 d"),
    quantity(
        "upkeep.wash_water",
        VolumePerArea,
        "l/m2",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.upkeep.wash_water_m = value),
        "Water for one wash; 0.3 to 1 l/m2 is usual (from memory).",
    )
    .or("0.6 l/m2"),
    quantity(
        "upkeep.staff",
        Number,
        "1",
        (0.0, 1000.0),
        Case(|draft, value| draft.scenario.upkeep.staff = value),
        "People who run and mend the plant beside those whom a works has anyway. Common practice, no source.",
    )
    .or("0.5"),
    quantity(
        "upkeep.mirrors_per_person",
        Number,
        "1",
        (100.0, 1000000.0),
        Case(|draft, value| draft.scenario.upkeep.mirrors_per_person = value),
        "Mirrors for which one more person is needed. Common practice, no source.",
    )
    .or("10000"),
    quantity(
        "upkeep.drives_replaced",
        PerTime,
        "%/yr",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.upkeep.drives_replaced_per_s = value),
        "Share of the drives that is replaced. Common practice, no source.",
    )
    .or("3 %/yr"),
    quantity(
        "upkeep.lines_replaced",
        PerTime,
        "%/yr",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.upkeep.lines_replaced_per_s = value),
        "Share of drive lines and sliding parts that is replaced. Common practice, no source.",
    )
    .or("2 %/yr"),
    quantity(
        "upkeep.glass_replaced",
        PerTime,
        "%/yr",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.upkeep.glass_replaced_per_s = value),
        "Share of the mirrors that breaks and is replaced. Common practice, no source.",
    )
    .or("0.3 %/yr"),
];
