//! Keys of what is bought from stock and cut, and of spares.

use quantity::Dimension::{Fraction, Length};

use crate::key::Put::Case;
use crate::key::{Key, quantity};

pub(super) static KEYS: &[Key] = &[
    quantity(
        "stock.sheet_length",
        Length,
        "m",
        (0.2, 12.0),
        Case(|draft, value| draft.scenario.stock.sheet_length_m = value),
        "Longer side of the glass sheets that panels are cut from; 6 m is the float plants' large sheet (EN 572-2, from memory).",
    )
    .or("6 m"),
    quantity(
        "stock.sheet_width",
        Length,
        "m",
        (0.2, 6.0),
        Case(|draft, value| draft.scenario.stock.sheet_width_m = value),
        "Shorter side of those sheets; 3.21 m is the float plants' large sheet (EN 572-2, from memory).",
    )
    .or("3.21 m"),
    quantity(
        "stock.bar",
        Length,
        "m",
        (1.0, 24.0),
        Case(|draft, value| draft.scenario.stock.bar_m = value),
        "Length of the shorter bars that tubes and rods are sold in; 6 m is common practice, no source.",
    )
    .or("6 m")
    .aside(),
    quantity(
        "stock.long_bar",
        Length,
        "m",
        (1.0, 24.0),
        Case(|draft, value| draft.scenario.stock.long_bar_m = value),
        "Length of the longer bars; whichever leaves less is bought. 12 m is common practice, no source.",
    )
    .or("12 m")
    .aside(),
    quantity(
        "stock.saw_cut",
        Length,
        "mm",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.stock.saw_cut_m = value),
        "Width that each cut of the saw loses; common practice, no source.",
    )
    .or("3 mm")
    .aside(),
    quantity(
        "stock.spare_panels",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.stock.spare_panels = value),
        "Mirror panels bought as spares ÷ panels in the field; common practice, no source.",
    )
    .or("2 %"),
    quantity(
        "stock.spare_parts",
        Fraction,
        "%",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.stock.spare_parts = value),
        "Mounts, levers, lines, drives and controllers bought as spares ÷ those in the field; common practice, no source.",
    )
    .or("3 %"),
];
