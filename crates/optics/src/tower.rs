//! The tower's own shadow on the field.

use std::f64::consts::FRAC_PI_4;

use geometry::LANES;

use crate::coarse::{Coarse, CoarseVec3, array, column, dot};
use crate::convex::Convex;
use crate::cover::Cover;
use crate::neighbours::Post;
use crate::panel::Panel;
use crate::shading::Casting;

/// An upright round body about the axis through the origin: a tower's shaft, a receiver's housing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pillar {
    /// Diameter.
    pub width_m: f64,
    /// Height of its lower end.
    pub from_m: f64,
    /// Height of its upper end.
    pub to_m: f64,
}

/// What the sun sees of a pillar: an upright rectangle through the axis, square to the sun's azimuth.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Silhouette {
    half_width_m: f32,
    from_m: f32,
    to_m: f32,
}

impl Pillar {
    /// How far a round end reaches, in the mean over its width, beyond the rectangle through the
    /// axis when the sun stands at this slope (tangent of the elevation).
    fn round_end_m(&self, sun_slope: f64) -> f64 {
        0.5 * FRAC_PI_4 * self.width_m * sun_slope
    }
}

/// What the sun sees of pillar `index` of a tower, each of which stands on the one before. Where two
/// meet, the wider one hides the other's end.
fn silhouette(pillars: &[Pillar], index: usize, sun_slope: f64) -> Silhouette {
    let pillar = &pillars[index];
    let joint_m = |lower: &Pillar, upper: &Pillar| {
        if upper.width_m > lower.width_m {
            upper.from_m - upper.round_end_m(sun_slope)
        } else {
            lower.to_m + lower.round_end_m(sun_slope)
        }
    };
    let below = index.checked_sub(1).map(|below| &pillars[below]);
    let from_m = below.map_or(pillar.from_m, |below| joint_m(below, pillar));
    let to_m = pillars.get(index + 1).map_or_else(
        || pillar.to_m + pillar.round_end_m(sun_slope),
        |above| joint_m(pillar, above),
    );
    Silhouette {
        half_width_m: (0.5 * pillar.width_m) as f32,
        from_m: from_m as f32,
        to_m: to_m as f32,
    }
}

/// The tower's shadows under eight suns.
pub(crate) struct TowerShadows {
    /// Level unit vector towards each sun, and the tangent of its elevation; nothing for a sun
    /// straight above.
    towards: [Option<([f32; 2], f32)>; LANES],
    /// What each sun sees of each pillar.
    seen: Vec<[Silhouette; LANES]>,
}

impl TowerShadows {
    pub fn new(pillars: &[Pillar], suns: &CoarseVec3) -> Self {
        let towards = std::array::from_fn(|lane| {
            let [x, y, z] = column(suns, lane);
            let level = (x * x + y * y).sqrt();
            (level > 0.0).then(|| ([x / level, y / level], z / level))
        });
        let seen = |index: usize| {
            towards.map(|towards: Option<([f32; 2], f32)>| {
                let slope = towards.map_or(0.0, |(_, slope)| slope);
                silhouette(pillars, index, f64::from(slope))
            })
        };
        Self {
            towards,
            seen: (0..pillars.len()).map(seen).collect(),
        }
    }

    /// Adds what the tower shades of a panel to areas that are covered already.
    pub fn add_uncovered(
        &self,
        post: &Post,
        panel: &Panel,
        sunward: &Casting,
        cover: &Cover,
        covered_m2: &mut Coarse,
    ) {
        for seen in &self.seen {
            for lane in 0..LANES {
                let shadow = self.shadow(&seen[lane], lane, post, panel);
                if let Some(shadow) = shadow {
                    let shadow = shadow.cast(sunward, lane);
                    covered_m2[lane] += cover.uncovered_m2(lane, &shadow);
                }
            }
        }
    }

    /// The part of the tower that throws its shadow towards a panel, if it comes near.
    fn shadow(
        &self,
        seen: &Silhouette,
        lane: usize,
        post: &Post,
        panel: &Panel,
    ) -> Option<Standing> {
        let ([east, north], slope) = self.towards[lane]?;
        let [x_m, y_m, z_m] = array(post.centre_m);
        let sunward_m = -(x_m * east + y_m * north);
        let aside_m = x_m * north - y_m * east;
        let [half_width_m, half_height_m] = post.half_m;
        let reach_m = half_width_m + half_height_m;
        let meets_m = z_m + sunward_m * slope;
        let climb_m = reach_m * (1.0 + slope);
        let is_near = sunward_m > 0.0
            && panel.cosine[lane] > 0.0
            && aside_m.abs() < seen.half_width_m + reach_m
            && meets_m > seen.from_m - climb_m
            && meets_m < seen.to_m + climb_m;
        let side_m = [-seen.half_width_m * north, seen.half_width_m * east];
        is_near.then(|| Standing {
            corner_m: [-x_m - side_m[0], -y_m - side_m[1], seen.from_m - z_m],
            across_m: [2.0 * side_m[0], 2.0 * side_m[1], 0.0],
            up_m: [0.0, 0.0, seen.to_m - seen.from_m],
        })
    }
}

/// An upright rectangle, seen from a panel.
struct Standing {
    corner_m: [f32; 3],
    across_m: [f32; 3],
    up_m: [f32; 3],
}

impl Standing {
    fn cast(&self, sunward: &Casting, lane: usize) -> Convex {
        let cast = |way_m: [f32; 3]| {
            [
                dot(way_m, column(&sunward.across, lane)),
                dot(way_m, column(&sunward.along, lane)),
            ]
        };
        Convex::parallelogram(cast(self.corner_m), [cast(self.across_m), cast(self.up_m)])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wide_head_on_a_thin_shaft() {
        let pillars = [
            Pillar {
                width_m: 2.0,
                from_m: 0.0,
                to_m: 38.0,
            },
            Pillar {
                width_m: 4.0,
                from_m: 38.0,
                to_m: 42.0,
            },
        ];
        let reach_m = (2.0 * FRAC_PI_4 * 0.5) as f32;
        let (shaft, head) = (silhouette(&pillars, 0, 0.5), silhouette(&pillars, 1, 0.5));
        assert_eq!((shaft.from_m, shaft.to_m), (0.0, 38.0 - reach_m));
        assert_eq!((head.from_m, head.to_m), (38.0 - reach_m, 42.0 + reach_m));
    }
}
