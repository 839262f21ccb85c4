//! One concrete design in SI: what a point of the space of designs stands for.

use crate::drive_design::DriveDesign;
use crate::heliostats::{Concept, HeliostatsDesign, PanelShape};

/// One design, without ranges.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Design {
    /// The mirrors.
    pub field: FieldDesign,
    /// Height of the aim point above the tower's foot [m].
    pub aim_height_m: f64,
    /// Width of the receiver's aperture [m].
    pub aperture_width_m: f64,
    /// Height of the receiver's aperture, along its tilted plane [m].
    pub aperture_height_m: f64,
    /// How far the aperture looks down, from horizontal [rad].
    pub aperture_tilt_rad: f64,
    /// Heat the store can hold [J].
    pub storage_j: f64,
    /// Time from one wash of a mirror to the next [s].
    pub wash_interval_s: f64,
}

/// The concept of the field with its values.
#[derive(Clone, Debug, PartialEq)]
pub enum FieldDesign {
    /// Strings of small mirrors, each string with one two-axis drive.
    Strings(StringsDesign),
    /// Mirrors of many facets, each on a pedestal with a two-axis drive of its own.
    Pedestals(HeliostatsDesign),
    /// Small mirrors of one panel, each on a post with a two-axis drive of its own.
    Singles(HeliostatsDesign),
}

impl Default for FieldDesign {
    fn default() -> Self {
        Self::Strings(StringsDesign::default())
    }
}

impl FieldDesign {
    /// A field of a concept, without values yet.
    pub(crate) fn of(concept: Concept) -> Self {
        match concept {
            Concept::Strings => Self::Strings(StringsDesign::default()),
            Concept::Pedestals => Self::Pedestals(HeliostatsDesign::default()),
            Concept::Singles => Self::Singles(HeliostatsDesign::default()),
        }
    }

    /// Which concept it is of.
    #[must_use]
    pub const fn concept(&self) -> Concept {
        match self {
            Self::Strings(_) => Concept::Strings,
            Self::Pedestals(_) => Concept::Pedestals,
            Self::Singles(_) => Concept::Singles,
        }
    }
}

/// The values of a field of strings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StringsDesign {
    /// How many strings.
    pub count: u32,
    /// Mirrors in each string.
    pub mirrors: u32,
    /// Side of a square mirror [m].
    pub side_m: f64,
    /// How its panels are shaped.
    pub panel_shape: PanelShape,
    /// Thickness of the glass [m].
    pub glass_thickness_m: f64,
    /// Distance between neighbouring mounts ÷ side.
    pub pitch_ratio: f64,
    /// How strings lie in the field.
    pub bearing: BearingRule,
    /// The axis fixed to the ground.
    pub first_axis: FirstAxis,
    /// How motion reaches the mirrors.
    pub linkage: Linkage,
    /// Where mirrors are set on their targets.
    pub offset: OffsetPlace,
    /// What the drive keeps on target.
    pub control: Control,
    /// Rise of the rail away from the tower [rad].
    pub rail_slope_rad: f64,
    /// Height of the mirror centres above ground at the string's low end [m].
    pub mount_height_m: f64,
    /// How much higher every second mirror stands [m].
    pub stagger_m: f64,
    /// Distance between rows at the inner edge of the field ÷ side.
    pub row_spacing_ratio: f64,
    /// Growth of the row distance per metre of distance from the tower [m/m].
    pub row_growth: f64,
    /// How far aim points are spread over the aperture, from 0 (all on its middle) to 1.
    pub aim_spread: f64,
    /// How many focal lengths are stocked; 0 bends every panel to its own slant range.
    pub focal_steps: u32,
    /// Length of the levers that turn the mounts [m].
    pub lever_m: f64,
    /// How far wind and weight may turn each of post head, panel frame and drive line, root mean
    /// square [rad].
    pub give_rad: f64,
    /// Where the drive sits.
    pub driven_from: DrivenFrom,
    /// How the drive is set, sensed, made and let go.
    pub drive: DriveDesign,
}

/// How strings lie in the field.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum BearingRule {
    /// Pointing at the tower.
    #[default]
    Radial,
    /// Square to the line of sight to the tower.
    Cross,
    /// All along one azimuth.
    Fixed {
        /// The azimuth, clockwise from north [rad].
        azimuth_rad: f64,
    },
    /// Whichever earns most, place by place, with the first axis that does so there.
    Best,
    /// Square to the sector's middle line, turned by a share of the place's own azimuth.
    Fan {
        /// The share, from 0 (all parallel) to below 1 (cross).
        share: f64,
    },
}

/// The axis fixed to the ground about which the first turn of a string's mounts goes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum FirstAxis {
    /// Horizontal, square to the string.
    #[default]
    Across,
    /// Horizontal, along the string.
    Along,
    /// Straight up.
    Vertical,
    /// Parallel to the earth's axis.
    Polar,
    /// Any direction.
    Fixed {
        /// Its azimuth, clockwise from north [rad].
        azimuth_rad: f64,
        /// Its elevation above the horizon [rad].
        elevation_rad: f64,
    },
    /// None: a ball or constant-velocity joint, which does not roll.
    RollFree,
}

/// How one motion is handed to every mirror of a string.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Linkage {
    /// Parallel levers: all mounts turn by the same angles.
    #[default]
    EqualAngle,
    /// Levers clamped at different angles whose ends travel alike.
    EqualTravel,
    /// Parallel levers whose lengths differ along the string.
    Graded,
    /// A stiff bar on cranks that moves the tips of sliding levers.
    SlidingLever,
}

/// Where the offset of each mirror from its neighbours is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OffsetPlace {
    /// By shims between mount and panel.
    #[default]
    Shim,
    /// Where levers are clamped.
    Lever,
    /// In the heads of the posts.
    Post,
}

/// What the shared drive keeps on target.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Control {
    /// One mirror in the middle, exactly.
    #[default]
    Reference,
    /// All mirrors, as well as two motions can.
    LeastSquares,
}

/// Where the drive of a string sits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DrivenFrom {
    /// In the middle, so that the lines run half the length.
    #[default]
    Middle,
    /// At one end.
    End,
}

impl FieldDesign {
    /// How many driven units: strings or heliostats.
    #[must_use]
    pub const fn units(&self) -> u32 {
        match self {
            Self::Strings(strings) => strings.count,
            Self::Pedestals(heliostats) | Self::Singles(heliostats) => heliostats.count,
        }
    }

    /// How many mirrors.
    #[must_use]
    pub fn mirrors(&self) -> f64 {
        let each = match self {
            Self::Strings(strings) => strings.mirrors,
            Self::Pedestals(_) | Self::Singles(_) => 1,
        };
        f64::from(self.units()) * f64::from(each)
    }

    /// The strings; none of another concept.
    #[must_use]
    pub const fn strings(&self) -> Option<&StringsDesign> {
        match self {
            Self::Strings(strings) => Some(strings),
            Self::Pedestals(_) | Self::Singles(_) => None,
        }
    }
}

impl Design {
    /// Sets a value of a field of strings; no other has it.
    pub(crate) fn of_strings(&mut self, set: impl FnOnce(&mut StringsDesign)) {
        if let FieldDesign::Strings(strings) = &mut self.field {
            set(strings);
        }
    }

    /// Sets a value of the strings' drives; no other field has it.
    pub(crate) fn of_drives(&mut self, set: impl FnOnce(&mut DriveDesign)) {
        self.of_strings(|strings| set(&mut strings.drive));
    }

    /// Sets a value of a field of heliostats; strings do not have it.
    pub(crate) fn of_heliostats(&mut self, set: impl FnOnce(&mut HeliostatsDesign)) {
        if let FieldDesign::Pedestals(heliostats) | FieldDesign::Singles(heliostats) =
            &mut self.field
        {
            set(heliostats);
        }
    }
}
