//! The plan: the only thing that drive, optics, rays and structure read of a field.

use std::ops::Range;

use geometry::Vec3;

/// The axis fixed to the ground about which the first turn of a string's mounts goes.
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
    /// Any direction.
    Fixed {
        /// Its azimuth, clockwise from north [rad].
        azimuth_rad: f64,
        /// Its elevation above the horizon [rad].
        elevation_rad: f64,
    },
    /// None: a ball or constant-velocity joint that turns by the smallest rotation from where it
    /// stood when the mirrors were set.
    RollFree,
}

/// How one motion is handed to every mirror of a string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Linkage {
    /// Every mount turns by the same two angles: all levers of a line stand parallel.
    EqualAngle,
    /// Every lever's end travels by the same length; levers are clamped at different angles.
    EqualTravel,
    /// Parallel levers whose lengths differ along the string.
    Graded,
    /// A stiff bar moves the tips of all levers by one vector; the levers slide in the mounts.
    SlidingLever,
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
    /// The point that mirrors are set on, unless `aim_shift_m` says otherwise.
    pub aim_m: Vec3,
    /// From `aim_m` to each mirror's own aim point; empty when all are set on `aim_m`.
    pub aim_shift_m: Vec<Vec3>,
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

    /// The point that mirror `mirror` is set on.
    #[must_use]
    pub fn aim_of_m(&self, mirror: usize) -> Vec3 {
        self.aim_m + self.aim_shift_m.get(mirror).copied().unwrap_or(Vec3::ZERO)
    }

    /// Unit vector from mirror `mirror` to the point it is set on.
    #[must_use]
    pub fn target(&self, mirror: usize) -> Vec3 {
        (self.aim_of_m(mirror) - self.centre_m(mirror)).normalize()
    }

    /// Glass area of mirror `mirror` [m²].
    #[must_use]
    pub fn area_m2(&self, mirror: usize) -> f64 {
        self.width_m[mirror] * self.height_m[mirror]
    }

    /// Glass area of the whole field [m²].
    #[must_use]
    pub fn total_area_m2(&self) -> f64 {
        (0..self.mirror_count())
            .map(|mirror| self.area_m2(mirror))
            .sum()
    }

    /// An empty plan with room for so many strings.
    pub(crate) fn with_room_for(strings: usize, mirrors_per_string: usize) -> Self {
        let column = || Vec::with_capacity(strings * mirrors_per_string);
        Self {
            x_m: column(),
            y_m: column(),
            z_m: column(),
            width_m: column(),
            height_m: column(),
            focal_length_m: column(),
            strings: Vec::with_capacity(strings),
            aim_m: Vec3::ZERO,
            aim_shift_m: Vec::new(),
        }
    }

    /// Adds a panel of the given width and height that is focused on the aim point.
    pub(crate) fn push(&mut self, centre_m: Vec3, [width_m, height_m]: [f64; 2]) {
        self.x_m.push(centre_m.x);
        self.y_m.push(centre_m.y);
        self.z_m.push(centre_m.z);
        self.width_m.push(width_m);
        self.height_m.push(height_m);
        self.focal_length_m.push((self.aim_m - centre_m).length());
    }

    /// Adds string `string` of another plan with its mirrors.
    pub(crate) fn push_string_of(&mut self, other: &Self, string: usize) {
        let row = &other.strings[string];
        let mirrors = row.mirrors();
        self.strings.push(StringRow {
            first_mirror: self.mirror_count(),
            ..row.clone()
        });
        self.x_m.extend_from_slice(&other.x_m[mirrors.clone()]);
        self.y_m.extend_from_slice(&other.y_m[mirrors.clone()]);
        self.z_m.extend_from_slice(&other.z_m[mirrors.clone()]);
        self.width_m
            .extend_from_slice(&other.width_m[mirrors.clone()]);
        self.height_m
            .extend_from_slice(&other.height_m[mirrors.clone()]);
        self.focal_length_m
            .extend_from_slice(&other.focal_length_m[mirrors.clone()]);
        if !other.aim_shift_m.is_empty() {
            self.aim_shift_m
                .extend_from_slice(&other.aim_shift_m[mirrors]);
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::layout::{candidates, tests::steam_field};

    #[test]
    fn the_reference_mirror_is_the_middle_or_just_past_it() {
        let mut row = candidates(&steam_field()).unwrap().plan.strings[1].clone();
        assert_eq!(row.reference_mirror(), row.first_mirror + 7);
        row.mirror_count = 4;
        assert_eq!(row.reference_mirror(), row.first_mirror + 2);
    }
}
