//! What stands on the tower's axis and shades the field.

use geometry::{LANES, Lane, Vec3};

use crate::panel::Rays;

/// An upright round body about the axis through the origin: a tower's shaft, a receiver's housing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pillar {
    /// Diameter [m].
    pub width_m: f64,
    /// Height of its lower end [m].
    pub from_m: f64,
    /// Height of its upper end [m].
    pub to_m: f64,
}

impl Pillar {
    /// Closes the way (1 open, 0 closed) of climbing rays from outside that meet it. Their origins are given
    /// from `from_m`.
    #[inline(always)]
    pub(crate) fn close(&self, from_m: Vec3, rays: &Rays, open: &mut Lane) {
        let radius_m = 0.5 * self.width_m;
        for lane in 0..LANES {
            let (origin_m, direction) = rays.one(lane, from_m);
            let speed2 = direction.x * direction.x + direction.y * direction.y;
            let closing = -(origin_m.x * direction.x + origin_m.y * direction.y);
            let outside_m2 =
                origin_m.x * origin_m.x + origin_m.y * origin_m.y - radius_m * radius_m;
            let under_root = closing * closing - speed2 * outside_m2;
            let root = under_root.max(0.0).sqrt();
            // Heights where the ray enters and leaves, times `speed2`.
            let enters_m = origin_m.z * speed2 + (closing - root) * direction.z;
            let leaves_m = origin_m.z * speed2 + (closing + root) * direction.z;
            let beside = (closing <= 0.0) | (under_root <= 0.0);
            let past = (enters_m >= self.to_m * speed2) | (leaves_m <= self.from_m * speed2);
            open[lane] = if beside | past { open[lane] } else { 0.0 };
        }
    }
}

#[cfg(test)]
mod tests {
    use geometry::lane::columns;

    use super::*;

    #[test]
    fn rays_pass_over_under_and_beside() {
        let pillar = Pillar {
            width_m: 2.0,
            from_m: 5.0,
            to_m: 9.0,
        };
        let meets = |from_m: Vec3, direction: Vec3| {
            let rays = Rays {
                origin_m: columns(&[Vec3::ZERO; LANES]),
                direction: columns(&[direction; LANES]),
            };
            let mut open = [1.0; LANES];
            pillar.close(from_m, &rays, &mut open);
            open == [0.0; LANES]
        };
        let up = |climb: f64| Vec3::new(0.0, -1.0, climb).normalize();
        let from = Vec3::new(0.0, 11.0, 0.0);
        assert!(meets(from, up(0.5)));
        assert!(meets(from, up(0.42)), "leaves above the lower end");
        assert!(meets(from, up(0.89)), "enters below the upper end");
        assert!(!meets(from, up(0.41)) && !meets(from, up(0.91)));
        assert!(!meets(from + 1.01 * Vec3::X, up(0.5)));
        assert!(meets(from + 0.99 * Vec3::X, up(0.5)));
        assert!(!meets(-from, up(0.5)), "behind");
    }
}
