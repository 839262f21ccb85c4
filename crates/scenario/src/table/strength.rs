//! Keys of structure and glass: wind, steel, ground and strength.

use quantity::Dimension::{Angle, Length, Number, Speed, Stress, Time};

use crate::choices::nth;
use crate::key::Put::Case;
use crate::key::{Key, choice, quantity, whole};
use crate::{Footing, Soil, WindCode};

pub(super) static KEYS: &[Key] = &[
    quantity(
        "structure.operating_wind",
        Speed,
        "m/s",
        (4.0, 30.0),
        Case(|draft, value| draft.scenario.structure.operating_wind_m_s = value),
        "Highest mean wind at 10 m in which the field stays on target.",
    )
    .or("12 m/s"),
    quantity(
        "structure.drive_wind",
        Speed,
        "m/s",
        (5.0, 50.0),
        Case(|draft, value| draft.scenario.structure.drive_wind_m_s = value),
        "Highest mean wind at 10 m in which a string still drives to stow.",
    )
    // From 12 m/s, rising by 0.01 m/s2 (from memory) while a string takes ten minutes to stow.
    .or("18 m/s"),
    quantity(
        "structure.survival_wind",
        Speed,
        "m/s",
        (10.0, 80.0),
        Case(|draft, value| draft.scenario.structure.survival_wind_m_s = value),
        "Mean wind at 10 m that the stowed field survives.",
    )
    .or("27 m/s"),
    quantity(
        "structure.roughness",
        Length,
        "m",
        (0.001, 1.0),
        Case(|draft, value| draft.scenario.structure.roughness_m = value),
        "Roughness length of the ground around.",
    )
    .or("0.03 m"),
    choice::<WindCode>(
        "structure.wind_code",
        Case(|draft, index| draft.scenario.structure.wind_code = nth(index)),
        "Whose profile of mean and gusts near the ground holds; both are constant below a least height.",
    )
    .or("EN 1991-1-4"),
    quantity(
        "structure.wind_factor",
        Number,
        "1",
        (1.0, 3.0),
        Case(|draft, value| draft.scenario.structure.wind_factor = value),
        "Partial factor on wind for steel and ground (EN 1990: 1.5, from memory).",
    )
    .or("1.5"),
    quantity(
        "structure.shelter",
        Number,
        "1",
        (0.2, 1.0),
        Case(|draft, value| draft.scenario.structure.shelter = value),
        "Wind load inside the field ÷ that on a lone mirror, in any position but stow (less than 1: Peterka and others 1989, abstract; how much is a cautious guess).",
    )
    .or("0.7"),
    whole(
        "structure.lee_mirrors",
        (0, 50),
        Case(|draft, value| draft.scenario.structure.lee_mirrors = value),
        "Mirrors that must stand within ten heights in each eighth of the horizon before one counts as sheltered; others bear the full load (common practice, no source).",
    )
    .or("2"),
    quantity(
        "structure.gust_width",
        Length,
        "m",
        (0.1, 1000.0),
        Case(|draft, value| draft.scenario.structure.gust_width_m = value),
        "Distance along a row over which what a gust does to two mirrors grows apart, to 1/e (Davenport, decay 10, gusts of 3 s at 15 m/s, from memory); very wide: all mirrors in phase.",
    )
    .or("5 m"),
    quantity(
        "structure.small_mirror_rise",
        Number,
        "1",
        (1.0, 3.0),
        Case(|draft, value| draft.scenario.structure.small_mirror_rise = value),
        "Greatest rise of stow loads of small mirrors over those measured on large ones (1.24: what the lift of a plate that one gust covers leaves; a doubling has been read from tests).",
    )
    .or("1.24"),
    quantity(
        "structure.stow_misfit",
        Angle,
        "deg",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.structure.stow_misfit_rad = value),
        "Tilt left in stow beyond what the mirrors' offsets leave: posts, drives, ground (common practice, no source).",
    )
    .or("0.5 deg"),
    quantity(
        "structure.stow_time",
        Time,
        "min",
        (0.5, 120.0),
        Case(|draft, value| draft.scenario.structure.stow_time_s = value),
        "Time to reach stow; sizes motors.",
    )
    .or("10 min"),
    quantity(
        "structure.steel_yield",
        Stress,
        "MPa",
        (150.0, 700.0),
        Case(|draft, value| draft.scenario.structure.steel_yield_pa = value),
        "Yield stress of the steel.",
    )
    .or("235 MPa"),
    choice::<Soil>(
        "structure.soil",
        Case(|draft, index| draft.scenario.structure.soil = nth(index)),
        "Soil that posts and piers stand in.",
    )
    .or("medium sand"),
    choice::<Footing>(
        "structure.footing",
        Case(|draft, index| draft.scenario.structure.footing = nth(index)),
        "How posts are set: driven, or in concrete in drilled holes.",
    )
    .or("driven"),
    quantity(
        "structure.hole",
        Length,
        "mm",
        (100.0, 1500.0),
        Case(|draft, value| draft.scenario.structure.hole_diameter_m = value),
        "Diameter of drilled holes.",
    )
    .or("250 mm"),
    quantity(
        "glass.strength",
        Stress,
        "MPa",
        (20.0, 60.0),
        Case(|draft, value| draft.scenario.glass.strength_pa = value),
        "Characteristic bending strength of annealed glass (EN 572-1: 45 MPa, from memory).",
    )
    .or("45 MPa"),
    quantity(
        "glass.wind_factor",
        Number,
        "1",
        (1.0, 2.0),
        Case(|draft, value| draft.scenario.glass.wind_factor = value),
        "Partial factor on wind for glass whose breakage endangers nobody (prEN 13474: 1.1, from memory).",
    )
    .or("1.1"),
];
