//! Keys of the strings' drives.

use quantity::Dimension::{Angle, Length, Number, TemperatureDifference};

use crate::choices::nth;
use crate::key::Put::{Case, Design};
use crate::key::{Key, choice, quantity, whole};
use crate::{Class, Defocus, Line, Rail, Sensing, SetBy};

pub(super) static KEYS: &[Key] = &[
    whole(
        "strings.alignment.instants",
        (0, 24),
        Design(|design, value| design.of_drives(|one| one.alignment_instants = value)),
        "Under how many suns mirrors are set: 1 for the field's best date and hour, more to part it by azimuth and set each sector under its own; 0 for the sun that azimuth and elevation give.",
    )
    .or("0"),
    choice::<SetBy>(
        "strings.alignment.by",
        Design(|design, index| design.of_drives(|one| one.set_by = nth(index))),
        "What mirrors are set by: the sun, or a laser at night.",
    )
    .or("sun"),
    quantity(
        "strings.alignment.survey",
        Length,
        "mm",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.strings.alignment.survey_m = value),
        "Error in the place of a laser and of a mark in each direction, one standard deviation.",
    )
    .or("5 mm"),
    choice::<Sensing>(
        "strings.sensing",
        Design(|design, index| design.of_drives(|one| one.sensing = nth(index))),
        "How a drive knows where its mirrors point: it counts turns, a sensor sits at each reference mirror, or cameras see the target.",
    )
    .or("open loop"),
    choice::<Line>(
        "strings.line",
        Design(|design, index| design.of_drives(|one| one.line = nth(index))),
        "What hands motion along a string, unless its levers slide on a bar: tight loops of rod or rope, or a push-rod for each motion.",
    )
    .or("rod"),
    whole(
        "strings.rod_guides",
        (0, 3),
        Design(|design, value| design.of_drives(|one| one.rod_guides = value)),
        "Swinging guides that keep a push-rod from buckling between two levers.",
    )
    .or("0"),
    choice::<Rail>(
        "strings.rail",
        Design(|design, index| design.of_drives(|one| one.rail = nth(index))),
        "What ties the posts together: a continuous rail that takes the lines' pull and warms as they do, or nothing.",
    )
    .or("continuous"),
    quantity(
        "strings.pretension",
        Number,
        "1",
        (0.2, 4.0),
        Design(|design, value| design.of_drives(|one| one.pretension_ratio = value)),
        "Pretension of a strand ÷ what the strongest operating gust and warmth take off it; below 1 it goes slack.",
    )
    .or("1.1"),
    choice::<Defocus>(
        "strings.defocus",
        Design(|design, index| design.of_drives(|one| one.defocus = nth(index))),
        "What turns mirrors away when the grid fails: stored electricity, springs, or nothing but the sun's own motion.",
    )
    .or("stored energy"),
    choice::<Class>(
        "strings.workmanship.posts",
        Design(|design, index| design.of_drives(|one| one.workmanship.posts = nth(index))),
        "How straight posts are set; errors under strings.tolerances are those of \"common\".",
    )
    .or("common"),
    choice::<Class>(
        "strings.workmanship.axes",
        Design(|design, index| design.of_drives(|one| one.workmanship.axes = nth(index))),
        "How square axes are made.",
    )
    .or("common"),
    choice::<Class>(
        "strings.workmanship.joints",
        Design(|design, index| design.of_drives(|one| one.workmanship.joints = nth(index))),
        "How closely joints fit.",
    )
    .or("common"),
    choice::<Class>(
        "strings.workmanship.levers",
        Design(|design, index| design.of_drives(|one| one.workmanship.levers = nth(index))),
        "How closely levers keep their length.",
    )
    .or("common"),
    choice::<Class>(
        "strings.workmanship.offsets",
        Design(|design, index| design.of_drives(|one| one.workmanship.offsets = nth(index))),
        "How closely mirrors are set on their targets.",
    )
    .or("common"),
    quantity(
        "strings.travel",
        Angle,
        "deg",
        (20.0, 180.0),
        Case(|draft, value| draft.scenario.strings.travel.axes_rad = value),
        "How far levers can turn an axis either way from where mirrors were set; a lever is dead at 90 deg.",
    )
    .or("75 deg"),
    // Fixed constant-velocity joints bend to 47-52 deg; from memory.
    quantity(
        "strings.ball_travel",
        Angle,
        "deg",
        (20.0, 180.0),
        Case(|draft, value| draft.scenario.strings.travel.ball_rad = value),
        "How far a roll-free joint can bend from where mirrors were set.",
    )
    .or("50 deg"),
    quantity(
        "strings.tolerances.line_warmth",
        TemperatureDifference,
        "K",
        (0.0, 40.0),
        Case(|draft, value| draft.scenario.strings.tolerances.line_warmth_k = value),
        "How much warmer one strand of a line is than the other, and both than the rail, root mean square.",
    )
    .or("2 K"),
    // Days and seasons of a dry inland climate, 7 K and 10 K; from memory.
    quantity(
        "strings.tolerances.air_warmth",
        TemperatureDifference,
        "K",
        (0.0, 60.0),
        Case(|draft, value| draft.scenario.strings.tolerances.air_warmth_k = value),
        "How much warmer lines are than when mirrors were set, root mean square; acts on posts without a rail.",
    )
    .or("12 K"),
    quantity(
        "strings.tolerances.sensor",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.sensor_rad = value),
        "Error of a sensor at the reference mirror as a turn of it, one standard deviation.",
    )
    .or("0.2 mrad"),
    quantity(
        "strings.tolerances.camera",
        Angle,
        "mrad",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.strings.tolerances.camera_rad = value),
        "Error of what a camera makes of a string's light as a turn of its mirrors, one standard deviation.",
    )
    .or("0.2 mrad"),
];
