//! Which part of a panel other panels cover, under eight suns: exact areas of rectangle unions.

use geometry::LANES;
use geometry::rectangles::{Rectangle, covered_area};

use crate::coarse::{Coarse, greater, lanes_where, lesser};
use crate::tower::Parallelogram;

/// Room for rectangles of one sun before more is asked for.
const USUAL: usize = 16;
/// Sides that lean less than this count as straight.
const MOST_LEAN: f32 = 0.1;
/// A panel covered but for this share is taken as covered.
const LEAST_OPEN: f32 = 1e-6;

/// The covered rectangles of one panel in its own plane, its centre the origin, clipped to it.
pub(crate) struct Cover {
    panel: Rectangle,
    kept: [Vec<Rectangle>; LANES],
    /// Covered area, each spot counted once.
    pub area_m2: Coarse,
}

/// Outlines on a panel's plane, one for each lane: rectangles whose sides may lean a little.
pub(crate) struct Outline {
    /// Middle, along the panel's width and height.
    pub centre_m: [Coarse; 2],
    pub half_m: [Coarse; 2],
    /// How far the upright sides lean for each metre up, and the level ones for each metre across.
    pub leans: [Coarse; 2],
}

impl Outline {
    /// Lower and upper bounds, along width and height, of what each has in common with a panel; they
    /// are crossed if that is nothing. A leaning side counts as straight where it crosses the middle
    /// of the part that meets the panel, which leaves the area as it is where the side runs through
    /// the panel from end to end.
    #[inline(always)]
    fn common_with(&self, panel: &Rectangle) -> ([Coarse; 2], [Coarse; 2]) {
        let none = [0.0; LANES];
        let (mut lows, mut highs) = ([none; 2], [none; 2]);
        for lane in 0..LANES {
            let (x, y) = (self.centre_m[0][lane], self.centre_m[1][lane]);
            let (half_x, half_y) = (self.half_m[0][lane], self.half_m[1][lane]);
            let middle_x = lesser(x + half_x, panel.x1) + greater(x - half_x, panel.x0);
            let middle_y = lesser(y + half_y, panel.y1) + greater(y - half_y, panel.y0);
            let leant_x = x + self.leans[0][lane] * (0.5 * middle_y - y);
            let leant_y = y + self.leans[1][lane] * (0.5 * middle_x - x);
            lows[0][lane] = greater(leant_x - half_x, panel.x0);
            highs[0][lane] = lesser(leant_x + half_x, panel.x1);
            lows[1][lane] = greater(leant_y - half_y, panel.y0);
            highs[1][lane] = lesser(leant_y + half_y, panel.y1);
        }
        (lows, highs)
    }

    /// A bit for each lane in which sides lean so much that corners count.
    #[inline(always)]
    fn leaning(&self) -> u32 {
        let mut leans = [false; LANES];
        for lane in 0..LANES {
            leans[lane] =
                (self.leans[0][lane].abs() > MOST_LEAN) | (self.leans[1][lane].abs() > MOST_LEAN);
        }
        lanes_where(&leans)
    }

    fn parallelogram(&self, lane: usize) -> Parallelogram {
        let [half_x, half_y] = self.half_m.map(|half_m| half_m[lane]);
        let across = [half_x, self.leans[1][lane] * half_x];
        let along = [self.leans[0][lane] * half_y, half_y];
        Parallelogram {
            corner: [0, 1].map(|side| self.centre_m[side][lane] - across[side] - along[side]),
            sides: [across, along].map(|side| side.map(|half_m| 2.0 * half_m)),
        }
    }
}

impl Cover {
    pub fn new() -> Self {
        Self {
            panel: Rectangle::default(),
            kept: std::array::from_fn(|_| Vec::with_capacity(USUAL)),
            area_m2: [0.0; LANES],
        }
    }

    /// Starts anew with an uncovered panel of these half sides.
    pub fn clear(&mut self, [x1, y1]: [f32; 2]) {
        self.panel = Rectangle {
            x0: -x1,
            x1,
            y0: -y1,
            y1,
        };
        self.kept.iter_mut().for_each(Vec::clear);
        self.area_m2 = [0.0; LANES];
    }

    /// Covers what an outline on the panel's plane has in common with it, in the lanes whose bit is
    /// set in `near`.
    #[inline(always)]
    pub fn add(&mut self, outline: &Outline, near: u32) {
        let (lows, highs) = outline.common_with(&self.panel);
        let mut meets = [false; LANES];
        for lane in 0..LANES {
            meets[lane] = (lows[0][lane] < highs[0][lane]) & (lows[1][lane] < highs[1][lane]);
        }
        let leaning = near & outline.leaning();
        let mut meeting = near & lanes_where(&meets) & !leaning;
        while meeting != 0 {
            let lane = meeting.trailing_zeros() as usize;
            meeting &= meeting - 1;
            self.keep(
                lane,
                Rectangle {
                    x0: lows[0][lane],
                    x1: highs[0][lane],
                    y0: lows[1][lane],
                    y1: highs[1][lane],
                },
            );
        }
        if leaning != 0 {
            self.add_leaning(outline, leaning, &lows, &highs);
        }
    }

    /// Covers leaning outlines in these lanes: corner by corner what is fresh; for what comes later
    /// each is kept as the rectangle between its bounds.
    #[inline(never)]
    fn add_leaning(
        &mut self,
        outline: &Outline,
        lanes: u32,
        lows: &[Coarse; 2],
        highs: &[Coarse; 2],
    ) {
        for lane in (0..LANES).filter(|lane| lanes >> lane & 1 == 1) {
            let fresh_m2 = self.uncovered_m2(lane, &outline.parallelogram(lane));
            self.area_m2[lane] = lesser(self.area_m2[lane] + fresh_m2, self.panel.area());
            let kept = Rectangle {
                x0: lows[0][lane],
                x1: highs[0][lane],
                y0: lows[1][lane],
                y1: highs[1][lane],
            };
            if kept.area() > 0.0 {
                self.kept[lane].push(kept);
            }
        }
    }

    /// Area of a shadow on the panel that no rectangle of the lane covers yet.
    pub fn uncovered_m2(&self, lane: usize, shadow: &Parallelogram) -> f32 {
        shadow.area_in(&self.panel) - shadow.area_in_any(&self.panel, &self.kept[lane])
    }

    fn keep(&mut self, lane: usize, rectangle: Rectangle) {
        let whole_m2 = self.panel.area();
        if self.area_m2[lane] > (1.0 - LEAST_OPEN) * whole_m2 {
            return;
        }
        let mut fresh_m2 = rectangle.area();
        if !self.kept[lane].is_empty() {
            fresh_m2 -= covered_area(&rectangle, &self.kept[lane]);
        }
        if fresh_m2 > 0.0 {
            self.area_m2[lane] = lesser(self.area_m2[lane] + fresh_m2, whole_m2);
            self.kept[lane].push(rectangle);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Adds an outline in one lane only.
    fn add(cover: &mut Cover, lane: usize, centre_m: [f32; 2], half_m: [f32; 2], lean: f32) {
        let outline = Outline {
            centre_m: centre_m.map(|side_m| [side_m; LANES]),
            half_m: half_m.map(|side_m| [side_m; LANES]),
            leans: [[lean; LANES], [0.0; LANES]],
        };
        cover.add(&outline, 1 << lane);
    }

    /// Four quarters, a middle piece that adds nothing, and another lane left alone.
    #[test]
    fn each_spot_counts_once() {
        let mut cover = Cover::new();
        cover.clear([1.0, 0.5]);
        for centre_m in [[-1.0, -0.5], [1.0, -0.5], [-1.0, 0.5], [0.0, 0.0]] {
            add(&mut cover, 3, centre_m, [1.0, 0.5], 0.0);
        }
        assert!((cover.area_m2[3] - 2.0).abs() < 1e-6);
        assert_eq!(cover.area_m2[0], 0.0);
        cover.clear([1.0, 0.5]);
        assert_eq!(cover.area_m2[3], 0.0);
    }

    /// Forty strips of a hundredth each, side by side, and a large one over them all.
    #[test]
    fn many_are_as_exact_as_few() {
        let mut cover = Cover::new();
        cover.clear([0.5, 0.5]);
        for strip in 0..40_i16 {
            let centre_m = [-0.495 + 0.02 * f32::from(strip), 0.0];
            add(&mut cover, 0, centre_m, [0.005, 0.5], 0.0);
        }
        assert!((cover.area_m2[0] - 0.4).abs() < 1e-5);
        for _ in 0..3 {
            add(&mut cover, 0, [0.0, 0.0], [0.5, 0.5], 0.0);
            assert!((cover.area_m2[0] - 1.0).abs() < 1e-5);
        }
    }

    /// A leaning side that crosses the panel covers as much as an upright one through its middle.
    #[test]
    fn leaning_sides_keep_their_area() {
        let mut cover = Cover::new();
        cover.clear([1.0, 1.0]);
        add(&mut cover, 0, [1.5, 0.75], [1.0, 3.0], 0.2);
        let edge = 0.5 - 0.2 * 0.75;
        assert!((cover.area_m2[0] - 2.0 * (1.0 - edge)).abs() < 1e-6);
    }
}
