//! Which part of a panel other panels cover, under eight suns: exact areas of rectangle unions.

use geometry::rectangles::{self, Rectangle};
use geometry::{LANES, Lane};

/// Most rectangles kept for one panel and one sun. In a field whose panels do not clash about ten
/// are met with the sun at 5°; any beyond this number are left out.
const MOST: usize = 32;

/// The covered rectangles of one panel in its own plane, its centre the origin, clipped to it.
pub(crate) struct Cover {
    half_width_m: f64,
    half_height_m: f64,
    left: [Lane; MOST],
    right: [Lane; MOST],
    bottom: [Lane; MOST],
    top: [Lane; MOST],
    count: [usize; LANES],
    /// Some rectangle lies free of both ends of the panel, one way or the other.
    loose: bool,
}

impl Cover {
    pub fn new() -> Self {
        Self {
            half_width_m: 0.0,
            half_height_m: 0.0,
            left: [[0.0; LANES]; MOST],
            right: [[0.0; LANES]; MOST],
            bottom: [[0.0; LANES]; MOST],
            top: [[0.0; LANES]; MOST],
            count: [0; LANES],
            loose: false,
        }
    }

    /// Starts anew with an uncovered panel.
    pub fn clear(&mut self, width_m: f64, height_m: f64) {
        self.half_width_m = 0.5 * width_m;
        self.half_height_m = 0.5 * height_m;
        self.count = [0; LANES];
        self.loose = false;
    }

    pub fn half_width_m(&self) -> f64 {
        self.half_width_m
    }

    pub fn half_height_m(&self) -> f64 {
        self.half_height_m
    }

    /// Covers the rectangle of the given centre and half sides in one lane.
    pub fn add(&mut self, lane: usize, centre: [f64; 2], half: [f64; 2]) {
        let slot = self.count[lane];
        if slot == MOST {
            return;
        }
        let (w, h) = (self.half_width_m, self.half_height_m);
        let (left, right) = ((centre[0] - half[0]).max(-w), (centre[0] + half[0]).min(w));
        let (bottom, top) = ((centre[1] - half[1]).max(-h), (centre[1] + half[1]).min(h));
        self.loose |= (left > -w && right < w) || (bottom > -h && top < h);
        self.left[slot][lane] = left;
        self.right[slot][lane] = right;
        self.bottom[slot][lane] = bottom;
        self.top[slot][lane] = top;
        self.count[lane] = slot + 1;
    }

    /// Covered area [m²], each spot counted once.
    pub fn area_m2(&mut self) -> Lane {
        let most = self.count.into_iter().fold(0, usize::max);
        if most == 0 {
            return [0.0; LANES];
        }
        if self.loose {
            return std::array::from_fn(|lane| self.area_of_lane_m2(lane));
        }
        self.blank_unused(most);
        self.area_by_strips_m2(most)
    }

    /// Any rectangles, one lane.
    fn area_of_lane_m2(&self, lane: usize) -> f64 {
        let mut kept = [Rectangle::default(); MOST];
        for (slot, rectangle) in kept.iter_mut().enumerate().take(self.count[lane]) {
            *rectangle = Rectangle {
                x0: self.left[slot][lane],
                x1: self.right[slot][lane],
                y0: self.bottom[slot][lane],
                y1: self.top[slot][lane],
            };
        }
        rectangles::union_area(&kept[..self.count[lane]])
    }

    /// Makes the slots that a lane does not use empty rectangles on the panel's right edge.
    fn blank_unused(&mut self, most: usize) {
        for lane in 0..LANES {
            for slot in self.count[lane]..most {
                self.left[slot][lane] = self.half_width_m;
                self.right[slot][lane] = self.half_width_m;
                self.bottom[slot][lane] = -self.half_height_m;
                self.top[slot][lane] = -self.half_height_m;
            }
        }
    }

    /// All lanes at once, for rectangles that each reach an end of the panel both ways, as those
    /// of panels at least as large do. Between neighbouring sides the covered height is then what
    /// the highest one from below and the lowest one from above leave, at most all of it.
    fn area_by_strips_m2(&self, most: usize) -> Lane {
        let sides = self.sorted_sides(most);
        let height = 2.0 * self.half_height_m;
        let mut area = [0.0; LANES];
        let mut from = [-self.half_width_m; LANES];
        for strip in 0..=most {
            let to = if strip < most {
                sides[strip]
            } else {
                [self.half_width_m; LANES]
            };
            let (below, above) = self.reaches(most, &from, &to);
            for lane in 0..LANES {
                let covered = below[lane] + above[lane];
                let covered = if covered < height { covered } else { height };
                area[lane] += (to[lane] - from[lane]) * covered;
            }
            from = to;
        }
        area
    }

    /// How far the rectangles over the strip `from … to` reach up from the bottom edge and down
    /// from the top edge.
    #[inline]
    fn reaches(&self, most: usize, from: &Lane, to: &Lane) -> (Lane, Lane) {
        let h = self.half_height_m;
        let mut below = [0.0; LANES];
        let mut above = [0.0; LANES];
        for slot in 0..most {
            let (left, right) = (&self.left[slot], &self.right[slot]);
            let (bottom, top) = (&self.bottom[slot], &self.top[slot]);
            for lane in 0..LANES {
                let over = (left[lane] <= from[lane]) & (right[lane] >= to[lane]);
                let up = if over & (bottom[lane] <= -h) {
                    top[lane] + h
                } else {
                    0.0
                };
                let down = if over & (top[lane] >= h) {
                    h - bottom[lane]
                } else {
                    0.0
                };
                below[lane] = if up > below[lane] { up } else { below[lane] };
                above[lane] = if down > above[lane] {
                    down
                } else {
                    above[lane]
                };
            }
        }
        (below, above)
    }

    /// The one upright side of each rectangle that is not an end of the panel, in rising order.
    #[inline]
    fn sorted_sides(&self, most: usize) -> [Lane; MOST] {
        let mut sides = [[0.0; LANES]; MOST];
        for slot in 0..most {
            let mut side = [0.0; LANES];
            for lane in 0..LANES {
                let (left, right) = (self.left[slot][lane], self.right[slot][lane]);
                side[lane] = if left > -self.half_width_m {
                    left
                } else {
                    right
                };
            }
            for placed in &mut sides[..slot] {
                for lane in 0..LANES {
                    let (a, b) = (placed[lane], side[lane]);
                    placed[lane] = if a < b { a } else { b };
                    side[lane] = if a < b { b } else { a };
                }
            }
            sides[slot] = side;
        }
        sides
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn scalar_area_m2(half: f64, rectangles: &[([f64; 2], [f64; 2])]) -> f64 {
        let clipped: Vec<Rectangle> = rectangles
            .iter()
            .map(|(centre, sides)| Rectangle {
                x0: (centre[0] - sides[0]).max(-half),
                x1: (centre[0] + sides[0]).min(half),
                y0: (centre[1] - sides[1]).max(-half),
                y1: (centre[1] + sides[1]).min(half),
            })
            .collect();
        rectangles::union_area(&clipped)
    }

    proptest! {
        /// Lanes with different numbers of rectangles, as large as the panel or larger (`least` 1)
        /// or of any size, against the scalar union.
        #[test]
        fn equals_the_scalar_union(
            least in prop::sample::select(vec![0.2, 1.0]),
            lanes in prop::collection::vec(
                prop::collection::vec((-0.9..0.9_f64, -0.9..0.9_f64, 0.0..0.3_f64, 0.0..0.3_f64), 0..8),
                LANES,
            ),
        ) {
            let half = 0.5;
            let mut cover = Cover::new();
            cover.clear(2.0 * half, 2.0 * half);
            let mut expected = [0.0; LANES];
            for (lane, rectangles) in lanes.iter().enumerate() {
                let rectangles: Vec<_> = rectangles
                    .iter()
                    .map(|&(x, y, w, h)| ([x, y], [half * least + w, half * least + h]))
                    .filter(|(centre, sides)| centre[0].abs() < half + sides[0] && centre[1].abs() < half + sides[1])
                    .collect();
                for (centre, sides) in &rectangles {
                    cover.add(lane, *centre, *sides);
                }
                expected[lane] = scalar_area_m2(half, &rectangles);
            }
            let area = cover.area_m2();
            for lane in 0..LANES {
                prop_assert!((area[lane] - expected[lane]).abs() < 1e-12, "{} {}", area[lane], expected[lane]);
            }
        }
    }
}
