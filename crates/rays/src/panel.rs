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

    /// Closes the way (1 open, 0 closed) of rays that meet the panel, from either side, ahead of their
    /// origins and within their reach. Origins are given from a place from which the panel's centre lies
    /// at `centre_m`.
    #[inline(always)]
    pub fn close(&self, centre_m: Vec3, rays: &Rays, reach_m: &Lane, open: &mut Lane) {
        for lane in 0..LANES {
            let direction = vector(&rays.direction, lane);
            let to_centre = centre_m - vector(&rays.origin_m, lane);
            // Ray and plane meet after ahead/closing; all is compared times closing, so that no
            // division is needed.
            let closing = direction.dot(self.normal);
            let sign = 1_f64.copysign(closing);
            let (closing, ahead) = (closing.abs(), sign * to_centre.dot(self.normal));
            let off = ahead * direction - closing * to_centre;
            let beside = off.dot(self.across).abs() > closing * self.half_m[0];
            let over = off.dot(self.along).abs() > closing * self.half_m[1];
            let away = (ahead <= 0.0) | (ahead > reach_m[lane] * closing);
            open[lane] = if beside | over | away {
                open[lane]
            } else {
                0.0
            };
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
        let meets = |origin_m: Vec3, direction: Vec3, reach_m: f64| {
            let rays = Rays {
                origin_m: columns(&[origin_m; LANES]),
                direction: columns(&[direction; LANES]),
            };
            let mut open = [1.0; LANES];
            panel.close(panel.centre_m, &rays, &[reach_m; LANES], &mut open);
            open == [0.0; LANES]
        };
        let met = |x: f64, y: f64, z: f64, reach_m: f64| {
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
