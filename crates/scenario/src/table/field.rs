//! Keys of strings, tower and mirrors.

use quantity::Dimension::{Angle, Fraction, Length, Number, PerLength, PerTime};

use crate::choices::nth;
use crate::key::Put::{Case, Design};
use crate::key::{Key, bearing, choice, first_axis, quantity, whole};
use crate::{Control, DrivenFrom, Linkage, NightPosture, OffsetPlace, PanelShape};

pub(super) static KEYS: &[Key] = &[
    whole(
        "strings.count",
        (1, 200_000),
        Design(|design, value| design.of_strings(|one| one.count = value)),
        "How many strings.",
    )
    .required("400"),
    whole(
        "strings.mirrors",
        (1, 200),
        Design(|design, value| design.of_strings(|one| one.mirrors = value)),
        "Mirrors in each string.",
    )
    .required("15"),
    quantity(
        "strings.side",
        Length,
        "m",
        (0.2, 2.5),
        Design(|design, value| design.of_strings(|one| one.side_m = value)),
        "Side of a square mirror.",
    )
    .required("0.95 m"),
    choice::<PanelShape>(
        "strings.panel_shape",
        Design(|design, index| design.of_strings(|one| one.panel_shape = nth(index))),
        "Whether panels are bent to a focal length or flat.",
    )
    .or("focused"),
    quantity(
        "strings.glass",
        Length,
        "mm",
        (0.9, 8.0),
        Design(|design, value| design.of_strings(|one| one.glass_thickness_m = value)),
        "Thickness of the glass.",
    )
    .or("5 mm"),
    quantity(
        "strings.pitch_ratio",
        Number,
        "1",
        (1.0, 5.0),
        Design(|design, value| design.of_strings(|one| one.pitch_ratio = value)),
        "Distance between neighbouring mounts ÷ side.",
    )
    .required("1.28"),
    bearing(
        "strings.bearing",
        Design(|design, rule| design.of_strings(|one| one.bearing = rule)),
        "How strings lie: \"radial\", \"cross\", \"fan 0.33\", an azimuth such as \"90 deg\", or \"best\": laid in five ways (fans 0, 1/3 and 0.5, cross, radial) with each first axis that is built like the one asked for, and in a mixture of all, place by place; that which delivers most in the year stands. It takes as long as some forty designs.",
    )
    .required("fan 0.33"),
    first_axis(
        "strings.first_axis",
        Design(|design, axis| design.of_strings(|one| one.first_axis = axis)),
        "The axis fixed to the ground: \"along\" the string, \"across\" it, \"vertical\", \"polar\", \"roll-free\" (a ball joint) or azimuth and elevation such as \"axis 150 deg 30 deg\".",
    )
    .required("along"),
    choice::<Linkage>(
        "strings.linkage",
        Design(|design, index| design.of_strings(|one| one.linkage = nth(index))),
        "How motion reaches the mirrors; all but \"equal-angle\" take their offsets in the levers.",
    )
    .or("equal-angle"),
    choice::<OffsetPlace>(
        "strings.offset",
        Design(|design, index| design.of_strings(|one| one.offset = nth(index))),
        "Where mirrors are set on their targets: by shims, at the levers' clamps or in the post heads.",
    )
    .or("shim"),
    choice::<Control>(
        "strings.control",
        Design(|design, index| design.of_strings(|one| one.control = nth(index))),
        "What the drive keeps on target: the reference mirror, or all mirrors as well as it can.",
    )
    .or("reference"),
    quantity(
        "strings.rail_slope",
        Angle,
        "deg",
        (0.0, 30.0),
        Design(|design, value| design.of_strings(|one| one.rail_slope_rad = value)),
        "Rise of the rail away from the tower.",
    )
    .or("0 deg"),
    quantity(
        "strings.mount_height",
        Length,
        "m",
        (0.2, 5.0),
        Design(|design, value| design.of_strings(|one| one.mount_height_m = value)),
        "Height of the mirror centres above ground at a string's low end.",
    )
    .or("0.9 m"),
    quantity(
        "strings.stagger",
        Length,
        "m",
        (0.0, 2.0),
        Design(|design, value| design.of_strings(|one| one.stagger_m = value)),
        "How much higher every second mirror stands.",
    )
    .or("0 m"),
    quantity(
        "strings.row_spacing",
        Number,
        "1",
        (1.42, 12.0),
        Design(|design, value| design.of_strings(|one| one.row_spacing_ratio = value)),
        "Clear distance between rows at the inner edge of the field ÷ side; panels clear each other from √2 on.",
    )
    .or("2"),
    quantity(
        "strings.row_growth",
        Number,
        "1",
        (0.0, 0.2),
        Design(|design, value| design.of_strings(|one| one.row_growth = value)),
        "Growth of the row distance per metre of distance from the tower, m/m.",
    )
    .or("0.01"),
    quantity(
        "strings.aim_spread",
        Fraction,
        "%",
        (0.0, 100.0),
        Design(|design, value| design.of_strings(|one| one.aim_spread = value)),
        "How far the strings' aim points are spread over the aperture; 0 % sets all on its middle.",
    )
    .or("80 %"),
    whole(
        "strings.focal_steps",
        (0, 20),
        Design(|design, value| design.of_strings(|one| one.focal_steps = value)),
        "How many focal lengths are stocked; 0 bends every panel to its own distance.",
    )
    .or("0"),
    quantity(
        "strings.lever",
        Length,
        "m",
        (0.05, 2.0),
        Design(|design, value| design.of_strings(|one| one.lever_m = value)),
        "Length of the levers that turn the mounts.",
    )
    .or("0.4 m"),
    quantity(
        "strings.give",
        Angle,
        "mrad",
        (0.1, 5.0),
        Design(|design, value| design.of_strings(|one| one.give_rad = value)),
        "How far wind and weight may turn each of post head, panel frame and drive line, root mean square.",
    )
    .or("0.7 mrad"),
    choice::<DrivenFrom>(
        "strings.driven_from",
        Design(|design, index| design.of_strings(|one| one.driven_from = nth(index))),
        "Where the drive of a string sits.",
    )
    .or("middle"),
    quantity(
        "strings.end_gap",
        Length,
        "m",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.strings.end_gap_m = value),
        "Gap between string ends in one row.",
    )
    .or("1 m"),
    quantity(
        "strings.alignment.azimuth",
        Angle,
        "deg",
        (-360.0, 360.0),
        Case(|draft, value| draft.scenario.strings.alignment.azimuth_rad = value),
        "Azimuth of the sun under which all mirrors are set on target; noon if not given.",
    )
    .or_by_hemisphere("180 deg", "0 deg"),
    quantity(
        "strings.alignment.elevation",
        Angle,
        "deg",
        (1.0, 90.0),
        Case(|draft, value| draft.scenario.strings.alignment.elevation_rad = value),
        "Elevation of the sun under which all mirrors are set on target.",
    )
    .or("50 deg"),
    quantity(
        "strings.tolerances.post_tilt",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.post_tilt_rad = value),
        "Tilt of a post in each of two directions, one standard deviation.",
    )
    .or("1 mrad"),
    quantity(
        "strings.tolerances.axis_squareness",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.axis_squareness_rad = value),
        "Departure of the second axis from square to the first, one standard deviation.",
    )
    .or("0.7 mrad"),
    quantity(
        "strings.tolerances.joint_play",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.joint_play_rad = value),
        "Play in the joints as a turn of the mirror, one standard deviation.",
    )
    .or("0.7 mrad"),
    quantity(
        "strings.tolerances.offset_setting",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.offset_setting_rad = value),
        "Error left by setting a mirror on target, as its turn, one standard deviation.",
    )
    .or("0.7 mrad"),
    quantity(
        "strings.tolerances.lever_ratio",
        Fraction,
        "%",
        (0.0, 5.0),
        Case(|draft, value| draft.scenario.strings.tolerances.lever_ratio = value),
        "Relative error of lever lengths, one standard deviation.",
    )
    .or("0.2 %"),
    quantity(
        "strings.tolerances.encoder",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.encoder_rad = value),
        "Error of each encoder, common to a string, one standard deviation.",
    )
    .or("0.3 mrad"),
    quantity(
        "tower.aim_height",
        Length,
        "m",
        (10.0, 250.0),
        Design(|design, value| design.aim_height_m = value),
        "Height of the aim point above the tower's foot; the tower is a steel lattice, usual up to some 120 m.",
    )
    .required("40 m"),
    quantity(
        "mirror.reflectance",
        Fraction,
        "%",
        (50.0, 100.0),
        Case(|draft, value| draft.scenario.mirror.reflectance = value),
        "Solar reflectance of the silver if the glass took nothing.",
    )
    .or("96.6 %"),
    quantity(
        "mirror.extinction",
        PerLength,
        "1/m",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.mirror.extinction_per_m = value),
        "Extinction of sunlight in the glass; about 4 1/m for low-iron glass.",
    )
    .or("4 1/m"),
    quantity(
        "mirror.cleanliness",
        Fraction,
        "%",
        (30.0, 100.0),
        Case(|draft, value| draft.scenario.mirror.cleanliness = Some(value)),
        "Mean reflectance over the year ÷ clean reflectance, where it should not follow from soiling and washing.",
    )
    .optional("95 %"),
    // 0.25 %/d in dry zones (second-hand), 0.2-0.6 %/d in southern Spain (from memory).
    quantity(
        "mirror.soiling",
        PerTime,
        "%/d",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.mirror.soiling_per_s = value),
        "Share of the reflectance lost by mirrors that follow the sun and lie level at night.",
    )
    .or("0.45 %/d"),
    quantity(
        "mirror.washed",
        Fraction,
        "%",
        (50.0, 100.0),
        Case(|draft, value| draft.scenario.mirror.washed = value),
        "Reflectance right after a wash ÷ clean reflectance.",
    )
    .or("98 %"),
    choice::<NightPosture>(
        "mirror.night",
        Case(|draft, index| draft.scenario.mirror.night = nth(index)),
        "How mirrors stand at night; upright or face down they soil less.",
    )
    .or("level"),
    quantity(
        "mirror.slope_error",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.mirror.slope_error_rad = value),
        "Slope error of the surface along one axis, root mean square.",
    )
    .or("1.5 mrad"),
    quantity(
        "mirror.scatter",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.mirror.scatter_rad = value),
        "Spread of the beam by the reflecting layer along one axis, root mean square.",
    )
    .or("0.3 mrad"),
    quantity(
        "mirror.bending_residual",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.mirror.bending_residual = value),
        "Slope left over by bending ÷ slope of the ideal shape; 22.3 % for a square pulled at its corners.",
    )
    .or("22.3 %"),
];
