//! One panel as it stands, and whether a ray meets it.

use geometry::Vec3;

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

    /// Does a ray meet the panel, from either side, ahead of its origin and within `reach_m`?
    #[inline]
    pub fn is_met(&self, origin_m: Vec3, direction: Vec3, reach_m: f64) -> bool {
        let to_centre = self.centre_m - origin_m;
        // Ray and plane meet after ahead/closing; all is compared times closing, so that no
        // division is needed, and at once, for single answers can't be predicted.
        let closing = direction.dot(self.normal);
        let sign = 1_f64.copysign(closing);
        let (closing, ahead) = (closing.abs(), sign * to_centre.dot(self.normal));
        let off = ahead * direction - closing * to_centre;
        let beside = off.dot(self.across).abs() > closing * self.half_m[0];
        let over = off.dot(self.along).abs() > closing * self.half_m[1];
        let away = (ahead <= 0.0) | (ahead > reach_m * closing);
        !(beside | over | away)
    }

    /// Half the extent of the panel along each axis [m].
    pub fn half_extent_m(&self) -> Vec3 {
        self.across.abs() * self.half_m[0] + self.along.abs() * self.half_m[1]
    }
}

/// Two unit vectors square to `axis` and to each other (Duff et al., "Building an orthonormal
/// basis, revisited", J. Computer Graphics Techniques 6 (2017) 1, from memory).
#[inline]
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
    use super::*;

    #[test]
    fn rays_meet_the_outline_from_both_sides() {
        let panel = Panel::new(Vec3::Z * 5.0, Vec3::Z, Vec3::X, [1.0, 0.5]);
        let met = |x: f64, y: f64, z: f64, reach_m: f64| {
            let down = if z > 5.0 { -1.0 } else { 1.0 };
            panel.is_met(Vec3::new(x, y, z), Vec3::Z * down, reach_m)
        };
        assert!(met(0.99, 0.49, 0.0, 100.0) && met(0.99, -0.49, 9.0, 100.0));
        assert!(!met(1.01, 0.0, 0.0, 100.0) && !met(0.0, 0.51, 0.0, 100.0));
        assert!(!met(0.0, 0.0, 0.0, 4.9), "out of reach");
        assert!(!panel.is_met(Vec3::Z * 6.0, Vec3::Z, 100.0), "behind");
        assert!(
            !panel.is_met(Vec3::Z * 5.0, Vec3::X, 100.0),
            "in its own plane"
        );
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
