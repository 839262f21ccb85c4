//! What stands on the tower's axis and shades the field.

use geometry::Vec3;

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
    /// Does a climbing ray from outside meet it?
    pub(crate) fn is_met(&self, origin_m: Vec3, direction: Vec3) -> bool {
        let (from, level) = (origin_m.with_z(0.0), direction.with_z(0.0));
        let (speed2, closing) = (level.length_squared(), -from.dot(level));
        let radius_m = 0.5 * self.width_m;
        let outside_m2 = from.length_squared() - radius_m * radius_m;
        let under_root = closing * closing - speed2 * outside_m2;
        if closing <= 0.0 || under_root <= 0.0 {
            return false;
        }
        let root = under_root.sqrt();
        let height_m = |distance_m: f64| origin_m.z + distance_m * direction.z;
        let (enters_m, leaves_m) = (
            height_m((closing - root) / speed2),
            height_m((closing + root) / speed2),
        );
        enters_m < self.to_m && leaves_m > self.from_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rays_pass_over_under_and_beside() {
        let pillar = Pillar {
            width_m: 2.0,
            from_m: 5.0,
            to_m: 9.0,
        };
        let up = |climb: f64| Vec3::new(0.0, -1.0, climb).normalize();
        let from = Vec3::new(0.0, 11.0, 0.0);
        assert!(pillar.is_met(from, up(0.5)));
        assert!(pillar.is_met(from, up(0.42)), "leaves above the lower end");
        assert!(pillar.is_met(from, up(0.89)), "enters below the upper end");
        assert!(!pillar.is_met(from, up(0.41)) && !pillar.is_met(from, up(0.91)));
        assert!(!pillar.is_met(from + 1.01 * Vec3::X, up(0.5)));
        assert!(pillar.is_met(from + 0.99 * Vec3::X, up(0.5)));
        assert!(!pillar.is_met(-from, up(0.5)), "behind");
    }
}
