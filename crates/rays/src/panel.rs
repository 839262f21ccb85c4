//! One panel as it stands, and whether a ray meets it.

use geometry::{LANES, Lane, LaneVec3, Vec3, lane::vector};

/// Eight rays.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rays {
    /// Where they begin, from a place that they share [m].
    pub origin_m: LaneVec3,
    /// Unit vectors.
    pub direction: LaneVec3,
}

impl Rays {
    /// Where one of them begins, from a place from which theirs lies at `from_m`, and its direction.
    #[inline(always)]
    pub fn one(&self, lane: usize, from_m: Vec3) -> (Vec3, Vec3) {
        (
            from_m + vector(&self.origin_m, lane),
            vector(&self.direction, lane),
        )
    }
}

/// Eight numbers in single precision: enough to tell within hundredths of a millimetre whether a ray meets a
/// panel a hundred metres away, and half the work.
pub(crate) type Single = [f32; LANES];

/// Eight rays in single precision.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sights {
    origin_m: [Single; 3],
    direction: [Single; 3],
}

impl Sights {
    #[inline(always)]
    pub fn along(rays: &Rays) -> Self {
        let mut sights = Self {
            origin_m: [[0.0; LANES]; 3],
            direction: [[0.0; LANES]; 3],
        };
        for axis in 0..3 {
            sights.origin_m[axis] = single(&rays.origin_m[axis]);
            sights.direction[axis] = single(&rays.direction[axis]);
        }
        sights
    }
}

/// The same numbers in single precision.
#[inline(always)]
pub(crate) fn single(numbers: &Lane) -> Single {
    let mut singles = [0.0; LANES];
    for lane in 0..LANES {
        singles[lane] = numbers[lane] as f32;
    }
    singles
}

/// A panel's plane and outline.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panel {
    pub centre_m: Vec3,
    /// Unit normal, towards the glass.
    pub normal: Vec3,
    /// Unit vector along the width.
    pub across: Vec3,
    /// Unit vector along the height.
    pub along: Vec3,
    /// Half width and half height.
    pub half_m: [f64; 2],
}

impl Panel {
    /// A panel whose width runs along `width_edge`, laid into its plane.
    pub fn new(centre_m: Vec3, normal: Vec3, width_edge: Vec3, half_m: [f64; 2]) -> Self {
        let across = (width_edge - width_edge.dot(normal) * normal).normalize();
        Self {
            centre_m,
            normal,
            across,
            along: normal.cross(across),
            half_m,
        }
    }

    /// From its centre to its corners [m].
    pub fn half_diagonal_m(&self) -> f64 {
        let [width_m, height_m] = self.half_m;
        (width_m * width_m + height_m * height_m).sqrt()
    }

    /// Half the extent of the panel along a unit vector [m].
    pub fn half_along_m(&self, axis: Vec3) -> f64 {
        self.across.dot(axis).abs() * self.half_m[0] + self.along.dot(axis).abs() * self.half_m[1]
    }

    /// Half the extent of the panel along each axis [m].
    pub fn half_extent_m(&self) -> Vec3 {
        self.across.abs() * self.half_m[0] + self.along.abs() * self.half_m[1]
    }
}

/// A panel as rays see it that may meet it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Barrier {
    /// Normal, and the directions of width and height, each divided by half the panel's extent that way.
    axes: [[f32; 3]; 3],
    /// Where its centre lies along each of these, from the place that the rays share.
    centre: [f32; 3],
}

impl Barrier {
    /// A panel whose centre lies at `centre_m` from the place that rays share.
    pub fn new(panel: &Panel, centre_m: Vec3) -> Self {
        let axes = [
            panel.normal,
            panel.across / panel.half_m[0],
            panel.along / panel.half_m[1],
        ];
        Self {
            axes: axes.map(|axis| axis.as_vec3().to_array()),
            centre: axes.map(|axis| axis.dot(centre_m) as f32),
        }
    }

    /// Closes the way (1 open, 0 closed) of rays that meet the panel, from either side, ahead of their
    /// origins and within their reach.
    #[inline(always)]
    pub fn close(&self, rays: &Sights, reach_m: &Single, open: &mut Single) {
        let [normal, across, along] = self.axes;
        for lane in 0..LANES {
            let origin_m = [0, 1, 2].map(|axis| rays.origin_m[axis][lane]);
            let direction = [0, 1, 2].map(|axis| rays.direction[axis][lane]);
            let way_m = (self.centre[0] - dot(normal, origin_m)) / dot(normal, direction);
            let beside = dot(across, origin_m) - self.centre[1] + way_m * dot(across, direction);
            let over = dot(along, origin_m) - self.centre[2] + way_m * dot(along, direction);
            // A ray in the panel's own plane, for which these are no numbers, does not meet it.
            let is_met = (beside.abs() <= 1.0)
                & (over.abs() <= 1.0)
                & (way_m > 0.0)
                & (way_m <= reach_m[lane]);
            open[lane] = if is_met { 0.0 } else { open[lane] };
        }
    }
}

#[inline(always)]
fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Two unit vectors square to `axis` and to each other (Duff et al., "Building an orthonormal
/// basis, revisited", J. Computer Graphics Techniques 6 (2017) 1, from memory).
#[inline(always)]
pub(crate) fn square_to(axis: Vec3) -> [Vec3; 2] {
    let sign = 1_f64.copysign(axis.z);
    let a = -1.0 / (sign + axis.z);
    let b = axis.x * axis.y * a;
    [
        Vec3::new(1.0 + sign * axis.x * axis.x * a, sign * b, -sign * axis.x),
        Vec3::new(b, sign + axis.y * axis.y * a, -axis.y),
    ]
}

#[cfg(test)]
mod tests {
    use geometry::lane::columns;

    use super::*;

    #[test]
    fn rays_meet_the_outline_from_both_sides() {
        let panel = Panel::new(Vec3::Z * 5.0, Vec3::Z, Vec3::X, [1.0, 0.5]);
        let meets = |origin_m: Vec3, direction: Vec3, reach_m: f32| {
            let rays = Rays {
                origin_m: columns(&[origin_m; LANES]),
                direction: columns(&[direction; LANES]),
            };
            let mut open = [1.0; LANES];
            let barrier = Barrier::new(&panel, panel.centre_m);
            barrier.close(&Sights::along(&rays), &[reach_m; LANES], &mut open);
            open == [0.0; LANES]
        };
        let met = |x: f64, y: f64, z: f64, reach_m: f32| {
            let down = if z > 5.0 { -1.0 } else { 1.0 };
            meets(Vec3::new(x, y, z), Vec3::Z * down, reach_m)
        };
        assert!(met(0.99, 0.49, 0.0, 100.0) && met(0.99, -0.49, 9.0, 100.0));
        assert!(!met(1.01, 0.0, 0.0, 100.0) && !met(0.0, 0.51, 0.0, 100.0));
        assert!(!met(0.0, 0.0, 0.0, 4.9), "out of reach");
        assert!(!meets(Vec3::Z * 6.0, Vec3::Z, 100.0), "behind");
        assert!(!meets(Vec3::Z * 5.0, Vec3::X, 100.0), "in its own plane");
    }

    #[test]
    fn bases_are_square() {
        for axis in [
            Vec3::Z,
            -Vec3::Z,
            Vec3::new(0.6, 0.0, -0.8),
            Vec3::new(-0.48, 0.64, 0.6),
        ] {
            let [a, b] = square_to(axis);
            for (one, other) in [(a, b), (b, axis), (axis, a)] {
                assert!(one.dot(other).abs() < 1e-15 && (one.length() - 1.0).abs() < 1e-15);
            }
        }
    }
}
