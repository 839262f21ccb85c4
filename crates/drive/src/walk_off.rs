//! What happens to the beams of a string whose drive has stalled while the sun goes on.

use field::{Plan, Stance};
use geometry::{LANES, Vec3, direction, lane};

use crate::drives::Drives;
use crate::reflection::reflected;

/// The sun's rate of turn about the earth's axis [rad/s]: a day of 86,400 s.
const SUN_RATE_RAD_S: f64 = std::f64::consts::TAU / 86_400.0;

/// A plane that beams are watched on, with two unit vectors in it, square to one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// Where coordinates are counted from.
    pub centre_m: Vec3,
    /// To the right.
    pub right: Vec3,
    /// Upwards.
    pub up: Vec3,
}

/// Where the central rays of a stalled string meet a screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkOff {
    /// Middle of the group, to the right and up from the screen's centre [m].
    pub middle_m: [f64; 2],
    /// Root mean square distance of its rays from that middle [m].
    pub spread_m: f64,
    /// Rays that never meet the screen, as a share.
    pub lost: f64,
}

/// Unit vector to the sun a while after it stood at `sun`, from its turn about the earth's axis at a
/// latitude (north positive).
#[must_use]
pub fn sun_after(sun: Vec3, latitude_rad: f64, seconds: f64) -> Vec3 {
    let pole = direction::from_azimuth_elevation(0.0, latitude_rad);
    let (sine, cosine) = libm::sincos(-SUN_RATE_RAD_S * seconds);
    let along = pole * pole.dot(sun);
    along + (sun - along) * cosine + pole.cross(sun) * sine
}

impl Screen {
    /// Where a ray from `from_m` along `ray` meets the plane, to the right and up; none if it leads
    /// away from it.
    #[must_use]
    pub fn met_at_m(&self, from_m: Vec3, ray: Vec3) -> Option<[f64; 2]> {
        let normal = self.right.cross(self.up);
        let reach_m = (self.centre_m - from_m).dot(normal) / ray.dot(normal);
        (reach_m.is_finite() && reach_m > 0.0).then(|| {
            let off_m = from_m + ray * reach_m - self.centre_m;
            [off_m.dot(self.right), off_m.dot(self.up)]
        })
    }
}

impl Drives {
    /// The group of string `string` on a screen when its drive has stopped under the sun `stalled`
    /// and the sun has gone on to `sun`.
    ///
    /// Mirrors are set on one point each and turn no more, so every ray goes its own way: the group
    /// spreads while it walks.
    #[must_use]
    pub fn walk_off(
        &self,
        plan: &Plan,
        string: usize,
        screen: &Screen,
        stalled: Vec3,
        sun: Vec3,
    ) -> WalkOff {
        let mut stance = Stance::default();
        self.stand(plan, string, &lane::columns(&[stalled; LANES]), &mut stance);
        let row = &plan.strings[string];
        let rays = row.mirrors().zip(&stance.normals).map(|(mirror, normal)| {
            screen.met_at_m(
                plan.centre_m(mirror),
                reflected(sun, lane::vector(normal, 0)),
            )
        });
        let met: Vec<[f64; 2]> = rays.flatten().collect();
        let count = met.len().max(1) as f64;
        let middle_m = [0, 1].map(|axis| met.iter().map(|at| at[axis]).sum::<f64>() / count);
        let squares_m2: f64 = met
            .iter()
            .map(|at| {
                let off = [at[0] - middle_m[0], at[1] - middle_m[1]];
                off[0] * off[0] + off[1] * off[1]
            })
            .sum();
        WalkOff {
            middle_m,
            spread_m: (squares_m2 / count).sqrt(),
            lost: 1.0 - met.len() as f64 / row.mirror_count as f64,
        }
    }
}
