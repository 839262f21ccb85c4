//! Keys of the ground that a field of any concept stands on.

use quantity::Dimension::{Angle, Length, Number};

use crate::key::Put::Case;
use crate::key::{Key, quantity, whole};

pub(super) static KEYS: &[Key] = &[
    quantity(
        "field.sector",
        Angle,
        "deg",
        (5.0, 180.0),
        Case(|draft, value| draft.scenario.field.sector_half_rad = value),
        "Half-angle of the sector in which mirrors stand; 180 deg for all round.",
    )
    .or("60 deg"),
    quantity(
        "field.sector_centre",
        Angle,
        "deg",
        (-360.0, 360.0),
        Case(|draft, value| draft.scenario.field.sector_centre_rad = value),
        "Azimuth of the sector's middle seen from the tower; towards the pole if not given.",
    )
    .or_by_hemisphere("0 deg", "180 deg"),
    quantity(
        "field.inner_radius",
        Number,
        "1",
        (0.2, 10.0),
        Case(|draft, value| draft.scenario.field.inner_radius_ratio = value),
        "Inner edge of the field in aim heights.",
    )
    .or("0.7"),
    quantity(
        "field.outer_radius",
        Number,
        "1",
        (0.3, 20.0),
        Case(|draft, value| draft.scenario.field.outer_radius_ratio = value),
        "Outer edge of the field in aim heights.",
    )
    .or("4"),
    whole(
        "field.lane_every",
        (1, 1000),
        Case(|draft, value| draft.scenario.field.lane_every = value),
        "A lane after so many rows.",
    )
    .or("8"),
    quantity(
        "field.lane_width",
        Length,
        "m",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.field.lane_width_m = value),
        "Width of a lane for washing and service.",
    )
    .or("3 m"),
    quantity(
        "field.aim_clearance",
        Angle,
        "mrad",
        (0.0, 50.0),
        Case(|draft, value| draft.scenario.field.aim_clearance_rad = value),
        "Half-angle of an image, kept inside the aperture when aim points are spread.",
    )
    .or("8 mrad"),
];
