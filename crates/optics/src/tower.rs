//! The tower's own shadow on the field.

use std::f64::consts::FRAC_PI_4;

use geometry::LANES;
use geometry::rectangles::Rectangle;

use crate::coarse::{Coarse, CoarseVec3, array, column, dot};
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
    fn cast(&self, sunward: &Casting, lane: usize) -> Parallelogram {
        let cast = |way_m: [f32; 3]| {
            [
                dot(way_m, column(&sunward.across, lane)),
                dot(way_m, column(&sunward.along, lane)),
            ]
        };
        Parallelogram {
            corner: cast(self.corner_m),
            sides: [cast(self.across_m), cast(self.up_m)],
        }
    }
}

/// A parallelogram on a panel's plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Parallelogram {
    pub corner: [f32; 2],
    pub sides: [[f32; 2]; 2],
}

/// Most corners of a parallelogram cut by a rectangle: each cut adds one at most.
const CORNERS: usize = 8;

/// A convex outline, corner after corner.
#[derive(Clone, Copy)]
struct Outline {
    corners: [[f32; 2]; CORNERS],
    count: usize,
}

impl Parallelogram {
    /// Area of what it has in common with a rectangle.
    pub fn area_in(&self, rectangle: &Rectangle) -> f32 {
        if rectangle.area() <= 0.0 {
            return 0.0;
        }
        let [[ax, ay], [bx, by]] = self.sides;
        let [x, y] = self.corner;
        let mut outline = Outline::empty();
        for corner in [
            [x, y],
            [x + ax, y + ay],
            [x + ax + bx, y + ay + by],
            [x + bx, y + by],
        ] {
            outline.push(corner);
        }
        outline
            .cut(|[x, _]| x - rectangle.x0)
            .cut(|[x, _]| rectangle.x1 - x)
            .cut(|[_, y]| y - rectangle.y0)
            .cut(|[_, y]| rectangle.y1 - y)
            .area()
    }

    /// Area of what it has in common with `whole` and with any of `covers`, each spot counted once:
    /// level slabs between the edges of covers, and in each the runs that covers fill without a gap.
    pub fn area_in_any(&self, whole: &Rectangle, covers: &[Rectangle]) -> f32 {
        let mut area = 0.0;
        let mut low = whole.y0;
        while low < whole.y1 {
            let edges = covers.iter().flat_map(|cover| [cover.y0, cover.y1]);
            let high = edges.filter(|edge| *edge > low).fold(whole.y1, f32::min);
            let slab = Rectangle {
                y0: low,
                y1: high,
                ..*whole
            };
            area += self.area_in_runs(&slab, covers);
            low = high;
        }
        area
    }

    /// [`Self::area_in_any`] within a slab that each cover spans in height or misses.
    fn area_in_runs(&self, slab: &Rectangle, covers: &[Rectangle]) -> f32 {
        let spanning = || {
            let covers = covers.iter();
            covers.filter(|cover| cover.y0 <= slab.y0 && cover.y1 >= slab.y1)
        };
        let mut area = 0.0;
        let mut from = slab.x0;
        while from < slab.x1 {
            let ahead = spanning().filter(|cover| cover.x1 > from);
            let x0 = ahead
                .map(|cover| cover.x0.max(from))
                .fold(slab.x1, f32::min);
            let mut x1 = x0;
            while let Some(cover) = spanning().find(|cover| cover.x0 <= x1 && cover.x1 > x1) {
                x1 = cover.x1;
            }
            let x1 = x1.min(slab.x1);
            area += self.area_in(&Rectangle { x0, x1, ..*slab });
            from = x1.max(x0);
        }
        area
    }
}

impl Outline {
    const fn empty() -> Self {
        Self {
            corners: [[0.0; 2]; CORNERS],
            count: 0,
        }
    }

    fn push(&mut self, corner: [f32; 2]) {
        if self.count < CORNERS {
            self.corners[self.count] = corner;
            self.count += 1;
        }
    }

    fn corners(&self) -> &[[f32; 2]] {
        &self.corners[..self.count]
    }

    /// The part where `inside`, a linear function, is not negative.
    fn cut(&self, inside: impl Fn([f32; 2]) -> f32) -> Self {
        let mut kept = Self::empty();
        let corners = self.corners();
        for (index, &to) in corners.iter().enumerate() {
            let from = corners[(index + corners.len() - 1) % corners.len()];
            let (before, after) = (inside(from), inside(to));
            if (before < 0.0) != (after < 0.0) {
                let share = before / (before - after);
                kept.push([
                    from[0] + share * (to[0] - from[0]),
                    from[1] + share * (to[1] - from[1]),
                ]);
            }
            if after >= 0.0 {
                kept.push(to);
            }
        }
        kept
    }

    fn area(&self) -> f32 {
        let corners = self.corners();
        let mut twice = 0.0;
        for (index, to) in corners.iter().enumerate() {
            let from = corners[(index + corners.len() - 1) % corners.len()];
            twice += from[0] * to[1] - from[1] * to[0];
        }
        0.5 * twice.abs()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const PANEL: Rectangle = Rectangle {
        x0: -1.0,
        x1: 1.0,
        y0: -1.0,
        y1: 1.0,
    };

    #[test]
    fn a_diamond_on_a_square() {
        let diamond = |size: f32| Parallelogram {
            corner: [-size, 0.0],
            sides: [[size, size], [size, -size]],
        };
        assert!((diamond(1.0).area_in(&PANEL) - 2.0).abs() < 1e-5);
        assert!((diamond(1.5).area_in(&PANEL) - (4.0 - 4.0 * 0.125)).abs() < 1e-5);
        assert!((diamond(5.0).area_in(&PANEL) - 4.0).abs() < 1e-5);
    }

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

    proptest! {
        /// Against counted points.
        #[test]
        fn equals_counted_points(
            corner in (-2.0..1.0_f32, -2.0..1.0_f32),
            a in (-2.0..2.0_f32, -2.0..2.0_f32),
            b in (-2.0..2.0_f32, -2.0..2.0_f32),
            rectangles in prop::collection::vec((-1.0..1.0_f32, -1.0..1.0_f32, 0.0..1.0_f32, 0.0..1.0_f32), 0..24),
        ) {
            let determinant = a.0 * b.1 - a.1 * b.0;
            prop_assume!(determinant.abs() > 0.1);
            let shadow = Parallelogram { corner: [corner.0, corner.1], sides: [[a.0, a.1], [b.0, b.1]] };
            let covers: Vec<Rectangle> = rectangles
                .iter()
                .map(|&(x, y, w, h)| Rectangle { x0: x, x1: x + w, y0: y, y1: y + h })
                .collect();
            let steps = 200_i16;
            let (mut inside, mut covered) = (0_u16, 0_u16);
            for i in 0..steps {
                for j in 0..steps {
                    let x = 2.0 * (f32::from(i) + 0.5) / f32::from(steps) - 1.0;
                    let y = 2.0 * (f32::from(j) + 0.5) / f32::from(steps) - 1.0;
                    let (dx, dy) = (x - corner.0, y - corner.1);
                    let along_a = (dx * b.1 - dy * b.0) / determinant;
                    let along_b = (dy * a.0 - dx * a.1) / determinant;
                    if (0.0..1.0).contains(&along_a) && (0.0..1.0).contains(&along_b) {
                        inside += 1;
                        covered += u16::from(covers.iter().any(|r| r.x0 < x && x < r.x1 && r.y0 < y && y < r.y1));
                    }
                }
            }
            let cell = 4.0 / (f32::from(steps) * f32::from(steps));
            prop_assert!((shadow.area_in(&PANEL) - cell * f32::from(inside)).abs() < 0.06);
            prop_assert!((shadow.area_in_any(&PANEL, &covers) - cell * f32::from(covered)).abs() < 0.06);
        }
    }
}
