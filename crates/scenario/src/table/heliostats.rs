//! Keys of heliostats: on pedestals, and single panels. What both have is declared once.

use quantity::Dimension::{Angle, Area, Fraction, Length, Number};

use crate::choices::nth;
use crate::key::Put::{Case, Design};
use crate::key::{Key, choice, quantity, whole};
use crate::{Defocus, Footing, PanelShape, Sensing};

/// The keys of a section of heliostats: its own, then those that all such sections have.
macro_rules! keys {
    ($section:literal, $footing:literal, [$($own:expr),* $(,)?]) => {
        &[
            whole(
                concat!($section, ".count"),
                (1, 200_000),
                Design(|design, value| design.of_heliostats(|one| one.count = value)),
                "How many heliostats.",
            )
            .required("100"),
            $($own,)*
            choice::<PanelShape>(
                concat!($section, ".panel_shape"),
                Design(|design, index| design.of_heliostats(|one| one.panel_shape = nth(index))),
                "Whether panels are bent to a focal length or flat.",
            )
            .or("focused"),
            quantity(
                concat!($section, ".glass"),
                Length,
                "mm",
                (0.9, 8.0),
                Design(|design, value| design.of_heliostats(|one| one.glass_thickness_m = value)),
                "Thickness of the glass.",
            )
            .or("4 mm"),
            quantity(
                concat!($section, ".clearance"),
                Length,
                "m",
                (0.1, 3.0),
                Design(|design, value| design.of_heliostats(|one| one.clearance_m = value)),
                "Lowest edge of the upright mirror above the ground.",
            )
            .or("0.3 m"),
            quantity(
                concat!($section, ".ring_spacing"),
                Number,
                "1",
                (0.3, 6.0),
                Design(|design, value| design.of_heliostats(|one| one.ring_spacing_ratio = value)),
                "Distance between rings ÷ that at which no mirror blocks another.",
            )
            .or("1"),
            quantity(
                concat!($section, ".side_spacing"),
                Number,
                "1",
                (1.0, 6.0),
                Design(|design, value| design.of_heliostats(|one| one.side_spacing_ratio = value)),
                "Distance between neighbours of a ring ÷ diagonal of the mirror; they clear each other from 1 on.",
            )
            .or("1.6"),
            quantity(
                concat!($section, ".aim_spread"),
                Fraction,
                "%",
                (0.0, 100.0),
                Design(|design, value| design.of_heliostats(|one| one.aim_spread = value)),
                "How far the heliostats' aim points are spread over the aperture; 0 % sets all on its middle.",
            )
            .or("80 %"),
            whole(
                concat!($section, ".focal_steps"),
                (0, 20),
                Design(|design, value| design.of_heliostats(|one| one.focal_steps = value)),
                "How many focal lengths are stocked; 0 bends every panel to its own distance.",
            )
            .or("0"),
            quantity(
                concat!($section, ".give"),
                Angle,
                "mrad",
                (0.1, 5.0),
                Design(|design, value| design.of_heliostats(|one| one.give_rad = value)),
                "How far wind and weight may turn each of pedestal, frame and panel stars, root mean square.",
            )
            .or("0.7 mrad"),
            choice::<Footing>(
                concat!($section, ".footing"),
                Design(|design, index| design.of_heliostats(|one| one.footing = nth(index))),
                "What a heliostat stands on: its own driven end, or a drilled pier of concrete.",
            )
            .or($footing),
            choice::<Sensing>(
                concat!($section, ".sensing"),
                Design(|design, index| design.of_heliostats(|one| one.sensing = nth(index))),
                "How a drive knows where its mirror points: it counts turns, a sensor sits at the mirror, or cameras see the target all day.",
            )
            .or("open loop"),
            choice::<Defocus>(
                concat!($section, ".defocus"),
                Design(|design, index| design.of_heliostats(|one| one.defocus = nth(index))),
                "What turns mirrors away when the grid fails: stored electricity, springs, or nothing but the sun's own motion.",
            )
            .or("stored energy"),
            quantity(
                concat!($section, ".tolerances.joint_play"),
                Angle,
                "mrad",
                (0.0, 20.0),
                Case(|draft, value| draft.scenario.heliostats.joint_play_rad = value),
                "Play in the joints as a turn of the mirror, one standard deviation.",
            )
            .or("0.7 mrad"),
            quantity(
                concat!($section, ".tolerances.encoder"),
                Angle,
                "mrad",
                (0.0, 20.0),
                Case(|draft, value| draft.scenario.heliostats.encoder_rad = value),
                "Error of each encoder, one standard deviation.",
            )
            .or("0.3 mrad"),
            quantity(
                concat!($section, ".tolerances.sensor"),
                Angle,
                "mrad",
                (0.0, 20.0),
                Case(|draft, value| draft.scenario.heliostats.sensor_rad = value),
                "Error of a sensor at the mirror as a turn of it, one standard deviation.",
            )
            .or("0.2 mrad"),
            quantity(
                concat!($section, ".tolerances.camera"),
                Angle,
                "mrad",
                (0.0, 20.0),
                Case(|draft, value| draft.scenario.heliostats.camera_rad = value),
                "Error of what a camera makes of a heliostat's light as a turn of its mirror, one standard deviation.",
            )
            .or("0.2 mrad"),
        ]
    };
}

pub(super) static PEDESTALS: &[Key] = keys!(
    "pedestals",
    "drilled",
    [
        quantity(
            "pedestals.area",
            Area,
            "m2",
            (2.0, 150.0),
            Design(|design, value| design.of_heliostats(|one| one.area_m2 = value)),
            "Glass of one heliostat.",
        )
        .required("30 m2"),
        quantity(
            "pedestals.width_over_height",
            Number,
            "1",
            (0.5, 3.0),
            Design(|design, value| design.of_heliostats(|one| one.width_over_height = value)),
            "Width ÷ height, as nearly as whole panels allow.",
        )
        .or("1.2"),
        quantity(
            "pedestals.panel",
            Length,
            "m",
            (0.2, 2.5),
            Design(|design, value| design.of_heliostats(|one| one.largest_panel_m = value)),
            "Side of the largest square panel; panels are as large as fill the mirror evenly.",
        )
        .or("1 m"),
        quantity(
            "pedestals.tolerances.panel_setting",
            Angle,
            "mrad",
            (0.0, 20.0),
            Case(|draft, value| draft.scenario.heliostats.panel_setting_rad = value),
            "Error left by setting a panel on its frame, as its turn, one standard deviation.",
        )
        .or("0.7 mrad"),
    ]
);

pub(super) static SINGLES: &[Key] = keys!(
    "singles",
    "driven",
    [quantity(
        "singles.side",
        Length,
        "m",
        (0.2, 2.5),
        Design(|design, value| {
            design.of_heliostats(|one| {
                one.area_m2 = value * value;
                one.width_over_height = 1.0;
                one.largest_panel_m = value;
            });
        }),
        "Side of a square mirror.",
    )
    .required("1 m")]
);
