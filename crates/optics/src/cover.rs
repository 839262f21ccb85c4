//! Which part of a panel other panels cover, under eight suns: exact areas of rectangle unions.

use geometry::rectangles::{Rectangle, covered_area};
use geometry::{LANES, Lane};

use crate::panel::lesser;
use crate::tower::Parallelogram;

/// Most rectangles kept for one panel and one sun. In a field whose panels do not clash fewer than
/// ten are met with the sun at 5°. Any beyond this number count with what they cover afresh, but are
/// not kept: where they overlap one another, that spot counts twice.
const MOST: usize = 16;

/// The covered rectangles of one panel in its own plane, its centre the origin, clipped to it.
pub(crate) struct Cover {
    panel: Rectangle,
    kept: [[Rectangle; MOST]; LANES],
    count: [usize; LANES],
    /// Covered area, each spot counted once.
    pub area_m2: Lane,
}

impl Cover {
    pub fn new() -> Self {
        Self {
            panel: Rectangle::default(),
            kept: [[Rectangle::default(); MOST]; LANES],
            count: [0; LANES],
            area_m2: [0.0; LANES],
        }
    }

    /// Starts anew with an uncovered panel.
    pub fn clear(&mut self, width_m: f64, height_m: f64) {
        let (x1, y1) = (0.5 * width_m, 0.5 * height_m);
        self.panel = Rectangle {
            x0: -x1,
            x1,
            y0: -y1,
            y1,
        };
        self.count = [0; LANES];
        self.area_m2 = [0.0; LANES];
    }

    /// Half the panel's width and height.
    pub fn half_m(&self) -> [f64; 2] {
        [self.panel.x1, self.panel.y1]
    }

    /// Covers the rectangle of the given centre and half sides in one lane, where it meets the
    /// panel.
    #[inline(always)]
    pub fn add(&mut self, lane: usize, centre: [f64; 2], half: [f64; 2]) {
        let rectangle = self.panel.common(&Rectangle {
            x0: centre[0] - half[0],
            x1: centre[0] + half[0],
            y0: centre[1] - half[1],
            y1: centre[1] + half[1],
        });
        if rectangle.x0 < rectangle.x1 && rectangle.y0 < rectangle.y1 {
            self.keep(lane, rectangle);
        }
    }

    /// Area of a shadow on the panel that no rectangle of the lane covers yet.
    pub fn uncovered_m2(&self, lane: usize, shadow: &Parallelogram) -> f64 {
        let kept = &self.kept[lane][..self.count[lane]];
        shadow.area_in(&self.panel) - shadow.area_in_any(&self.panel, kept)
    }

    fn keep(&mut self, lane: usize, rectangle: Rectangle) {
        let count = self.count[lane];
        let mut fresh_m2 = rectangle.area();
        if count > 0 {
            fresh_m2 -= covered_area(&rectangle, &self.kept[lane][..count]);
        }
        if fresh_m2 <= 0.0 {
            return;
        }
        self.area_m2[lane] = lesser(self.area_m2[lane] + fresh_m2, self.panel.area());
        if count < MOST {
            self.kept[lane][count] = rectangle;
            self.count[lane] = count + 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four quarters, a middle piece that adds nothing, and another lane left alone.
    #[test]
    fn each_spot_counts_once() {
        let mut cover = Cover::new();
        cover.clear(2.0, 1.0);
        for centre in [[-1.0, -0.5], [1.0, -0.5], [-1.0, 0.5], [0.0, 0.0]] {
            cover.add(3, centre, [1.0, 0.5]);
        }
        assert!((cover.area_m2[3] - 2.0).abs() < 1e-15);
        assert_eq!(cover.area_m2[0], 0.0);
        cover.clear(2.0, 1.0);
        assert_eq!(cover.area_m2[3], 0.0);
    }

    /// Forty strips of a hundredth each, side by side, and a large one over them all.
    #[test]
    fn none_is_dropped_beyond_the_most() {
        let mut cover = Cover::new();
        cover.clear(1.0, 1.0);
        for strip in 0..40 {
            cover.add(0, [-0.495 + 0.02 * f64::from(strip), 0.0], [0.005, 0.5]);
        }
        assert!((cover.area_m2[0] - 0.4).abs() < 1e-12);
        for _ in 0..3 {
            cover.add(0, [0.0, 0.0], [0.5, 0.5]);
            assert!((cover.area_m2[0] - 1.0).abs() < 1e-12);
        }
    }
}
