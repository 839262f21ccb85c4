//! The plan: the only thing that drive, optics, rays and structure read of a field.

use std::ops::Range;

use geometry::Vec3;

/// The axis fixed to the ground about which the first turn of a string goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FirstAxis {
    /// Horizontal, square to the string.
    Across,
    /// Horizontal, along the string.
    Along,
    /// Straight up.
    Vertical,
    /// Parallel to the earth's axis.
    Polar,
}

/// How one motion is handed to every mirror of a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Linkage {
    /// Every mount turns by the same two angles; offsets are shims on the mounts.
    EqualAngle,
}

/// One string: a run of mirrors in the plan's columns that share a drive.
#[derive(Clone, Debug, PartialEq)]
pub struct StringRow {
    /// Index of the first mirror, the one most negative along the bearing.
    pub first_mirror: usize,
    /// How many mirrors.
    pub mirror_count: usize,
    /// Bearing of the string, radians clockwise from north.
    pub bearing_rad: f64,
    /// The axis fixed to the ground.
    pub first_axis: FirstAxis,
    /// How motion reaches the mirrors.
    pub linkage: Linkage,
    /// Index of the row (or ring) the string stands in, counted outwards from the tower.
    pub row: usize,
}

impl StringRow {
    /// The mirrors of this string, as a range into the plan's columns.
    #[must_use]
    pub fn mirrors(&self) -> Range<usize> {
        self.first_mirror..self.first_mirror + self.mirror_count
    }

    /// Index (into the plan's columns) of the mirror kept exactly on target: the middle one, or
    /// the one just past the middle of an even count.
    #[must_use]
    pub fn reference_mirror(&self) -> usize {
        self.first_mirror + self.mirror_count / 2
    }
}

/// A field as flat columns over mirrors, with its strings as ranges. Lengths in metres, origin at
/// the tower's foot, x east, y north, z up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Mirror centres, east.
    pub x_m: Vec<f64>,
    /// Mirror centres, north.
    pub y_m: Vec<f64>,
    /// Mirror centres, up.
    pub z_m: Vec<f64>,
    /// Panel width, along the carried second axis.
    pub width_m: Vec<f64>,
    /// Panel height.
    pub height_m: Vec<f64>,
    /// Focal length each panel is bent to; infinite for a flat one.
    pub focal_length_m: Vec<f64>,
    /// The strings, in place order; their mirrors fill the columns without gaps.
    pub strings: Vec<StringRow>,
    /// The point every mirror is set on.
    pub aim_m: Vec3,
}

impl Plan {
    /// How many mirrors stand in the field.
    #[must_use]
    pub fn mirror_count(&self) -> usize {
        self.x_m.len()
    }

    /// Centre of mirror `mirror`.
    #[must_use]
    pub fn centre_m(&self, mirror: usize) -> Vec3 {
        Vec3::new(self.x_m[mirror], self.y_m[mirror], self.z_m[mirror])
    }

    /// Glass area of mirror `mirror` [m²].
    #[must_use]
    pub fn area_m2(&self, mirror: usize) -> f64 {
        self.width_m[mirror] * self.height_m[mirror]
    }

    /// Glass area of the whole field [m²].
    #[must_use]
    pub fn total_area_m2(&self) -> f64 {
        (0..self.mirror_count()).map(|mirror| self.area_m2(mirror)).sum()
    }
}
