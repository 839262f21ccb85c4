//! Fields of heliostats: mirrors that each have two drives of their own.

use crate::drive_design::{Defocus, Sensing};
use crate::strength::Footing;

/// What kind of field a scenario stands for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Concept {
    /// Strings of small mirrors, each string with one two-axis drive (`[strings]`).
    #[default]
    Strings,
    /// Mirrors of many facets, each on a pedestal (`[pedestals]`).
    Pedestals,
    /// Small mirrors of one panel, each on a post (`[singles]`).
    Singles,
}

impl Concept {
    /// Each with its word, which is that of its section too.
    pub const ALL: [(&'static str, Self); 3] = [
        ("strings", Self::Strings),
        ("pedestals", Self::Pedestals),
        ("singles", Self::Singles),
    ];

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        Self::ALL[self as usize].0
    }

    /// The concept whose section a key stands in; none of a key that all share.
    pub(crate) fn of_key(path: &str) -> Option<Self> {
        let section = path.split('.').next()?;
        let found = Self::ALL.iter().find(|(word, _)| *word == section);
        found.map(|(_, concept)| *concept)
    }
}

/// The values of a field of heliostats.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeliostatsDesign {
    /// How many.
    pub count: u32,
    /// Glass of one [m²].
    pub area_m2: f64,
    /// Width ÷ height.
    pub width_over_height: f64,
    /// Side of the largest square panel that it is made of [m]; that of the whole mirror for a single
    /// one.
    pub largest_panel_m: f64,
    /// How its panels are shaped.
    pub panel_shape: PanelShape,
    /// Thickness of the glass [m].
    pub glass_thickness_m: f64,
    /// Lowest edge of the upright mirror above the ground [m].
    pub clearance_m: f64,
    /// Distance between rings ÷ that at which none blocks another.
    pub ring_spacing_ratio: f64,
    /// Distance between neighbours of a ring ÷ diagonal.
    pub side_spacing_ratio: f64,
    /// How far aim points are spread over the aperture, from 0 (all on its middle) to 1.
    pub aim_spread: f64,
    /// How many focal lengths are stocked; 0 bends every panel to its own slant range.
    pub focal_steps: u32,
    /// How far wind and weight may turn each of pedestal, frame and panel stars, root mean square
    /// [rad].
    pub give_rad: f64,
    /// What it stands on.
    pub footing: Footing,
    /// How a drive knows where its mirror points.
    pub sensing: Sensing,
    /// What turns the mirrors away when the grid fails.
    pub defocus: Defocus,
}

/// How panels of a heliostat are shaped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PanelShape {
    /// Each is bent to a focal length.
    #[default]
    Focused,
    /// Each is flat.
    Flat,
}

/// Standard deviations of what is left of a heliostat's errors when its mount has been calibrated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Heliostats {
    /// Play in the joints, as a turn of the normal [rad].
    pub joint_play_rad: f64,
    /// Error left by setting a panel on its frame, as a turn of the normal [rad]; none of a single
    /// one, whose own stand is calibrated.
    pub panel_setting_rad: f64,
    /// Error of each encoder [rad].
    pub encoder_rad: f64,
    /// Error of a sensor at the mirror, as a turn of it [rad].
    pub sensor_rad: f64,
    /// Error of what a camera makes of its light, as a turn of the mirror [rad].
    pub camera_rad: f64,
}

/// Where mirrors stand, of whatever concept (`[field]`).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FieldArea {
    /// Half-angle of the sector in which mirrors stand; π for all round [rad].
    pub sector_half_rad: f64,
    /// Azimuth of the sector's middle seen from the tower [rad].
    pub sector_centre_rad: f64,
    /// Inner edge of the field ÷ aim height.
    pub inner_radius_ratio: f64,
    /// Outer edge of the field ÷ aim height.
    pub outer_radius_ratio: f64,
    /// A lane after so many rows.
    pub lane_every: u32,
    /// Width of a lane [m].
    pub lane_width_m: f64,
    /// Half-angle of an image, kept inside the aperture when aim points are spread [rad].
    pub aim_clearance_rad: f64,
}
