//! Where the light should go: a flat opening or an upright cylinder, with a flux map.

use std::f64::consts::{PI, TAU};

use geometry::{LANES, Lane, LaneVec3, Vec3, lane::vector};

use crate::error::RaysError;
use crate::panel::Rays;
use crate::scene::check_unit;
use crate::whole::nearest;

/// What bounds an aperture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outline {
    /// A flat rectangle.
    Rectangle,
    /// A flat disc, as wide as the aperture.
    Disc,
    /// The mantle of an upright cylinder, as wide and high as the aperture. Rays that meet an end of
    /// it are lost.
    Cylinder,
}

/// What takes the light, and its flux map. `normal`, `right` and `up` are unit vectors, square to one
/// another. On a flat aperture light counts that comes against `normal`; a cylinder has `normal` in
/// the middle of its unrolled map and `right` a quarter of the way round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aperture {
    /// Its centre.
    pub centre_m: Vec3,
    /// Outward, towards the field.
    pub normal: Vec3,
    /// Along the width.
    pub right: Vec3,
    /// Along the height; straight up for a cylinder.
    pub up: Vec3,
    /// What bounds it.
    pub outline: Outline,
    /// Extent along `right`: width or diameter.
    pub width_m: f64,
    /// Extent along `up`.
    pub height_m: f64,
    /// Parts of the flux map along `right`, or round the mantle.
    pub columns: usize,
    /// Parts of the flux map along `up`.
    pub rows: usize,
}

impl Aperture {
    pub(crate) fn check(&self) -> Result<(), RaysError> {
        let Self {
            width_m,
            height_m,
            columns,
            rows,
            ..
        } = *self;
        let has_area = width_m > 0.0 && height_m > 0.0;
        if !has_area || columns == 0 || rows == 0 {
            return Err(RaysError::EmptyAperture {
                width_m,
                height_m,
                columns,
                rows,
            });
        }
        check_unit("aperture's normal", self.normal)?;
        check_unit("aperture's right", self.right)?;
        check_unit("aperture's up", self.up)
    }

    /// Area of one part of the flux map [m²]; of a disc, parts of the square around it.
    pub(crate) fn part_m2(&self) -> f64 {
        let width_m = match self.outline {
            Outline::Cylinder => PI * self.width_m,
            _ => self.width_m,
        };
        width_m * self.height_m / (self.columns * self.rows) as f64
    }

    /// How far along each ray it comes to the surface, to its plane beside it, or past a cylinder's axis;
    /// infinite if it does not come to the open side [m]. Rays begin at places given from `from_m`, itself
    /// given from the aperture's centre.
    #[inline(always)]
    pub(crate) fn distances_m(&self, from_m: Vec3, rays: &Rays) -> Lane {
        let mut distances_m = [0.0; LANES];
        // One loop for each kind, so that none has a branch in it.
        if self.outline == Outline::Cylinder {
            for lane in 0..LANES {
                let (origin_m, direction) = rays.one(lane, from_m);
                distances_m[lane] = self.way_to_mantle_m(origin_m, direction);
            }
        } else {
            for lane in 0..LANES {
                let (origin_m, direction) = rays.one(lane, from_m);
                distances_m[lane] = self.way_to_plane_m(origin_m, direction);
            }
        }
        distances_m
    }

    #[inline(always)]
    fn way_to_plane_m(&self, origin_m: Vec3, direction: Vec3) -> f64 {
        let closing = -direction.dot(self.normal);
        let ahead_m = origin_m.dot(self.normal);
        let distance_m = ahead_m / closing;
        if (closing > 0.0) & (ahead_m > 0.0) {
            distance_m
        } else {
            f64::INFINITY
        }
    }

    /// To where the ray enters the boundless cylinder, or where it passes nearest to it.
    #[inline(always)]
    fn way_to_mantle_m(&self, origin_m: Vec3, direction: Vec3) -> f64 {
        let speed2 = direction.x * direction.x + direction.y * direction.y;
        let closing = -(origin_m.x * direction.x + origin_m.y * direction.y);
        let radius_m = 0.5 * self.width_m;
        let outside_m2 = origin_m.x * origin_m.x + origin_m.y * origin_m.y - radius_m * radius_m;
        let under_root = closing * closing - speed2 * outside_m2;
        let distance_m = (closing - under_root.max(0.0).sqrt()) / speed2;
        if (closing > 0.0) & (outside_m2 > 0.0) {
            distance_m
        } else {
            f64::INFINITY
        }
    }

    /// The parts of the flux map in which points lie that rays have come to, given from the centre.
    #[inline(always)]
    pub(crate) fn parts(&self, off_m: &LaneVec3) -> Parts {
        let (columns, rows) = (self.columns as f64, self.rows as f64);
        let (columns_per_m, rows_per_m) = (columns / self.width_m, rows / self.height_m);
        let mut places = [[0.0; LANES]; 2];
        let mut within = [1.0; LANES];
        for lane in 0..LANES {
            let off_m = vector(off_m, lane);
            places[0][lane] = off_m.dot(self.right) * columns_per_m + 0.5 * columns;
            places[1][lane] = off_m.dot(self.up) * rows_per_m + 0.5 * rows;
        }
        match self.outline {
            Outline::Rectangle => {}
            Outline::Disc => self.keep_disc(off_m, &mut within),
            Outline::Cylinder => self.unroll(off_m, &mut places[0], &mut within),
        }
        // Beside the map any part will do: no branches, for chance can't be predicted.
        let mut index = [0; LANES];
        for lane in 0..LANES {
            let [place, level] = [places[0][lane], places[1][lane]];
            let is_on_map = (place >= 0.0) & (place < columns) & (level >= 0.0) & (level < rows);
            within[lane] = if is_on_map { within[lane] } else { 0.0 };
            let column = place.max(0.0).min(columns - 1.0).floor();
            let row = level.max(0.0).min(rows - 1.0).floor();
            index[lane] = nearest(row * columns + column) as usize;
        }
        Parts { index, within }
    }

    #[inline(always)]
    fn keep_disc(&self, off_m: &LaneVec3, within: &mut Lane) {
        for lane in 0..LANES {
            let off_m = vector(off_m, lane);
            let (right_m, up_m) = (off_m.dot(self.right), off_m.dot(self.up));
            let is_inside = 4.0 * (right_m * right_m + up_m * up_m) < self.width_m * self.width_m;
            within[lane] = f64::from(is_inside);
        }
    }

    /// Places round the mantle in columns of the map.
    #[inline(always)]
    fn unroll(&self, off_m: &LaneVec3, places: &mut Lane, within: &mut Lane) {
        let half_m = 0.5 * (1.0 + ON_MANTLE) * self.width_m;
        for lane in 0..LANES {
            let off_m = vector(off_m, lane);
            let (right_m, out_m) = (off_m.dot(self.right), off_m.dot(self.normal));
            let turn = libm::atan2(right_m, out_m) / TAU;
            places[lane] = (turn + 0.5).min(BELOW_ONE) * self.columns as f64;
            within[lane] = f64::from(right_m * right_m + out_m * out_m < half_m * half_m);
        }
    }
}

/// What parts of the flux map eight points lie in.
pub(crate) struct Parts {
    /// Numbers of the parts; any for points beside the map.
    pub index: [usize; LANES],
    /// 1 for points within the outline, else 0.
    pub within: Lane,
}

/// A point counts as one of the mantle if it is no more than this share of the radius beyond it.
const ON_MANTLE: f64 = 1e-9;
/// The largest number below 1.
const BELOW_ONE: f64 = 1.0 - f64::EPSILON / 2.0;

#[cfg(test)]
mod tests {
    use geometry::lane::columns;

    use super::*;

    fn aperture(outline: Outline) -> Aperture {
        Aperture {
            centre_m: 10.0 * Vec3::Z,
            normal: Vec3::Y,
            right: -Vec3::X,
            up: Vec3::Z,
            outline,
            width_m: 2.0,
            height_m: 2.0,
            columns: 4,
            rows: 2,
        }
    }

    fn part(outline: Outline, origin_m: Vec3, direction: Vec3) -> Option<usize> {
        let aperture = aperture(outline);
        let off_m = origin_m - aperture.centre_m;
        let rays = Rays {
            origin_m: columns(&[Vec3::ZERO; LANES]),
            direction: columns(&[direction; LANES]),
        };
        let meets_m = off_m + aperture.distances_m(off_m, &rays)[0] * direction;
        let parts = aperture.parts(&columns(&[meets_m; LANES]));
        (parts.within[0] > 0.0).then_some(parts.index[0])
    }

    #[test]
    fn a_disc_has_no_corners() {
        let from = Vec3::new(-0.8, 5.0, 10.8);
        assert_eq!(part(Outline::Rectangle, from, -Vec3::Y), Some(7));
        assert_eq!(part(Outline::Disc, from, -Vec3::Y), None);
        let from = Vec3::new(-0.6, 5.0, 10.6);
        assert_eq!(part(Outline::Disc, from, -Vec3::Y), Some(7));
    }

    /// From each side, over and beside it, and a climbing ray that passes below the axis plane's
    /// height at the mantle.
    #[test]
    fn a_cylinder_takes_light_on_all_sides() {
        let level = |from: Vec3, to: Vec3| part(Outline::Cylinder, from, to);
        assert_eq!(level(Vec3::new(-0.1, 9.0, 10.5), -Vec3::Y), Some(6));
        assert_eq!(level(Vec3::new(-9.0, -0.1, 10.5), Vec3::X), Some(7));
        assert_eq!(level(Vec3::new(0.1, -9.0, 9.5), Vec3::Y), Some(0));
        assert_eq!(level(Vec3::new(0.0, 9.0, 11.1), -Vec3::Y), None);
        assert_eq!(level(Vec3::new(1.1, 9.0, 10.5), -Vec3::Y), None);
        let climbing = Vec3::new(0.0, -1.0, 1.0).normalize();
        assert_eq!(
            level(Vec3::new(0.0, 9.0, 0.9), climbing),
            None,
            "8.9 m at the mantle"
        );
        assert!(level(Vec3::new(0.0, 9.0, 1.1), climbing).is_some());
        assert!(level(Vec3::new(0.0, 9.0, 2.9), climbing).is_some());
        assert_eq!(level(Vec3::new(0.0, 9.0, 3.1), climbing), None);
    }
}
