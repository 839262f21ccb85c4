//! Which part of a panel other panels cover, under eight suns: exact unions, how large they are and where.

use geometry::LANES;
use geometry::rectangles::{Moments, Rectangle, covered};

use crate::coarse::{Coarse, greater, lanes_where, lesser};
use crate::convex::Convex;

/// Room for rectangles of one sun before more is asked for.
const USUAL: usize = 16;
/// A side is taken as at least so long.
const LEAST_SIDE_M: f32 = 1e-6;
/// Sides that lean less than this count as straight.
const MOST_LEAN: f32 = 0.01;
/// The same for a quick look.
const QUICK_MOST_LEAN: f32 = 0.1;
/// A panel covered but for this share is taken as covered.
const LEAST_OPEN: f32 = 1e-6;

/// The covered parts of one panel in its own plane, its centre the origin, clipped to it.
pub(crate) struct Cover {
    panel: Rectangle,
    most_lean: f32,
    kept: [Vec<Rectangle>; LANES],
    /// Those whose sides lean.
    leaning: [Vec<Convex>; LANES],
    /// Of all that is covered, each spot counted once.
    covered: [Moments; LANES],
}

/// The part of a panel from which light comes through, as an even rectangle of the same middle and spread.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Opening {
    /// Its middle from the panel's, as a share of the panel's width and height.
    pub middle: [Coarse; 2],
    /// Its width and height, as shares of the panel's.
    pub stretch: [Coarse; 2],
}

impl Opening {
    /// All of the panel.
    pub const WHOLE: Self = Self {
        middle: [[0.0; LANES]; 2],
        stretch: [[1.0; LANES]; 2],
    };

    /// What is left of a `whole` panel.
    #[inline(always)]
    fn left(whole: &Moments, covered: &[Moments; LANES], sides_m: [f32; 2]) -> Self {
        let mut opening = Self::WHOLE;
        for lane in 0..LANES {
            let open = *whole - covered[lane];
            let is_open = open.area > LEAST_OPEN * whole.area;
            let per_m2 = 1.0 / greater(open.area, LEAST_OPEN * whole.area);
            for (side, [first, second]) in [[open.x, open.xx], [open.y, open.yy]]
                .into_iter()
                .enumerate()
            {
                let (middle_m, per_m) = (first * per_m2, 1.0 / sides_m[side]);
                let variance_m2 = second * per_m2 - middle_m * middle_m;
                let stretch = (12.0 * greater(variance_m2, 0.0)).sqrt() * per_m;
                opening.middle[side][lane] = if is_open { middle_m * per_m } else { 0.0 };
                opening.stretch[side][lane] = if is_open { stretch } else { 1.0 };
            }
        }
        opening
    }
}

/// Outlines of flat panels on a panel's plane, one for each lane.
pub(crate) struct Outline {
    /// Middle, along the panel's width and height.
    pub centre_m: [Coarse; 2],
    /// Half its width, mostly along the panel's own.
    pub width_m: [Coarse; 2],
    /// Half its height.
    pub height_m: [Coarse; 2],
    /// How far its middle lies before the panel's plane, and how much farther the ends of its width and height.
    pub ahead_m: [Coarse; 3],
}

impl Outline {
    /// Lower and upper bounds, along width and height, of what each has in common with a panel; they
    /// are crossed if that is nothing. A leaning side counts as straight where it crosses the middle
    /// of the part that meets the panel, which leaves the area as it is where the side runs through
    /// the panel from end to end.
    #[inline(always)]
    fn common_with(&self, panel: &Rectangle, leans: &[Coarse; 2]) -> ([Coarse; 2], [Coarse; 2]) {
        let none = [0.0; LANES];
        let (mut lows, mut highs) = ([none; 2], [none; 2]);
        for lane in 0..LANES {
            let (x, y) = (self.centre_m[0][lane], self.centre_m[1][lane]);
            let (half_x, half_y) = (self.width_m[0][lane].abs(), self.height_m[1][lane].abs());
            let middle_x = lesser(x + half_x, panel.x1) + greater(x - half_x, panel.x0);
            let middle_y = lesser(y + half_y, panel.y1) + greater(y - half_y, panel.y0);
            let leant_x = x + leans[0][lane] * (0.5 * middle_y - y);
            let leant_y = y + leans[1][lane] * (0.5 * middle_x - x);
            lows[0][lane] = greater(leant_x - half_x, panel.x0);
            highs[0][lane] = lesser(leant_x + half_x, panel.x1);
            lows[1][lane] = greater(leant_y - half_y, panel.y0);
            highs[1][lane] = lesser(leant_y + half_y, panel.y1);
        }
        (lows, highs)
    }

    /// How far the upright sides lean for each metre up, and the level ones for each metre across.
    #[inline(always)]
    fn leans(&self) -> [Coarse; 2] {
        let mut leans = [[0.0; LANES]; 2];
        for lane in 0..LANES {
            let (wide_m, high_m) = (self.width_m[0][lane], self.height_m[1][lane]);
            leans[0][lane] =
                self.height_m[0][lane] / LEAST_SIDE_M.max(high_m.abs()).copysign(high_m);
            leans[1][lane] =
                self.width_m[1][lane] / LEAST_SIDE_M.max(wide_m.abs()).copysign(wide_m);
        }
        leans
    }

    /// A bit for each lane in which corners count: sides lean, or pass through the panel's plane; and
    /// one for each in which any of it lies before that plane and near enough for its corners to meet the panel.
    #[inline(always)]
    fn cornered(&self, panel: &Rectangle, leans: &[Coarse; 2], most_lean: f32) -> [u32; 2] {
        let (mut cornered, mut ahead) = ([false; LANES], [false; LANES]);
        for lane in 0..LANES {
            let reach_x = panel.x1 + self.width_m[0][lane].abs() + self.height_m[0][lane].abs();
            let reach_y = panel.y1 + self.width_m[1][lane].abs() + self.height_m[1][lane].abs();
            let is_near =
                (self.centre_m[0][lane].abs() < reach_x) & (self.centre_m[1][lane].abs() < reach_y);
            let turned_m = self.ahead_m[1][lane].abs() + self.ahead_m[2][lane].abs();
            let lean = greater(leans[0][lane].abs(), leans[1][lane].abs());
            cornered[lane] = (lean > most_lean) | (turned_m > self.ahead_m[0][lane]);
            ahead[lane] = (self.ahead_m[0][lane] > -turned_m) & is_near;
        }
        [lanes_where(&cornered), lanes_where(&ahead)]
    }

    /// What of it lies before the panel's plane.
    fn convex(&self, lane: usize) -> Convex {
        let at = |columns: &[Coarse; 2]| columns.map(|column| column[lane]);
        let (centre, width, height) = (at(&self.centre_m), at(&self.width_m), at(&self.height_m));
        let corner = [0, 1].map(|side| centre[side] - width[side] - height[side]);
        let sides = [width, height].map(|side| side.map(|half_m| 2.0 * half_m));
        let mut ahead = Convex::parallelogram(corner, sides);
        let [middle_m, width_m, height_m] = self.ahead_m.map(|column| column[lane]);
        if width_m.abs() + height_m.abs() <= middle_m {
            return ahead;
        }
        let area = width[0] * height[1] - width[1] * height[0];
        ahead.keep(|[x, y]| {
            let (x, y) = (x - centre[0], y - centre[1]);
            let along_width = x * height[1] - y * height[0];
            let along_height = y * width[0] - x * width[1];
            middle_m + (along_width * width_m + along_height * height_m) / area
        });
        ahead
    }
}

impl Cover {
    pub fn new() -> Self {
        Self {
            panel: Rectangle::default(),
            most_lean: MOST_LEAN,
            kept: std::array::from_fn(|_| Vec::with_capacity(USUAL)),
            leaning: std::array::from_fn(|_| Vec::with_capacity(USUAL)),
            covered: [Moments::default(); LANES],
        }
    }

    /// Covered area.
    #[inline(always)]
    pub fn area_m2(&self) -> Coarse {
        self.covered.map(|covered| covered.area)
    }

    /// What is open.
    #[inline(always)]
    pub fn opening(&self) -> Opening {
        if self.covered.iter().all(|covered| covered.area == 0.0) {
            return Opening::WHOLE;
        }
        let sides_m = [2.0 * self.panel.x1, 2.0 * self.panel.y1];
        Opening::left(&self.panel.moments(), &self.covered, sides_m)
    }

    /// Takes sides that lean by up to a tenth as straight.
    pub const fn look_quickly(&mut self) {
        self.most_lean = QUICK_MOST_LEAN;
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
        self.leaning.iter_mut().for_each(Vec::clear);
        self.covered = [Moments::default(); LANES];
    }

    /// Covers what an outline on the panel's plane has in common with it, in the lanes whose bit is
    /// set in `near`.
    #[inline(always)]
    pub fn add(&mut self, outline: &Outline, near: u32) {
        let leans = outline.leans();
        let (lows, highs) = outline.common_with(&self.panel, &leans);
        let mut meets = [false; LANES];
        for lane in 0..LANES {
            meets[lane] = (lows[0][lane] < highs[0][lane]) & (lows[1][lane] < highs[1][lane]);
        }
        let [cornered, ahead] = outline.cornered(&self.panel, &leans, self.most_lean);
        let leaning = near & ahead & cornered;
        let mut meeting = near & ahead & lanes_where(&meets) & !leaning;
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
            self.add_leaning(outline, leaning);
        }
    }

    /// Covers leaning outlines in these lanes, corner by corner.
    #[inline(never)]
    fn add_leaning(&mut self, outline: &Outline, lanes: u32) {
        for lane in (0..LANES).filter(|lane| lanes >> lane & 1 == 1) {
            let cover = outline.convex(lane).within(&self.panel);
            let fresh = cover.outside(&self.kept[lane], &self.leaning[lane]);
            if self.is_new(lane, &fresh) {
                self.leaning[lane].push(cover);
            }
        }
    }

    /// Area of a shadow on the panel that nothing in the lane covers yet.
    pub fn uncovered_m2(&self, lane: usize, shadow: &Convex) -> f32 {
        let shadow = shadow.within(&self.panel);
        shadow.outside(&self.kept[lane], &self.leaning[lane]).area
    }

    /// Adds what is covered for the first time, if there is any.
    fn is_new(&mut self, lane: usize, fresh: &Moments) -> bool {
        let is_new = fresh.area > 0.0;
        if is_new {
            let covered = &mut self.covered[lane];
            *covered = *covered + *fresh;
            covered.area = lesser(covered.area, self.panel.area());
        }
        is_new
    }

    fn keep(&mut self, lane: usize, rectangle: Rectangle) {
        if self.covered[lane].area > (1.0 - LEAST_OPEN) * self.panel.area() {
            return;
        }
        let fresh = if self.leaning[lane].is_empty() {
            rectangle.moments() - covered(&rectangle, &self.kept[lane])
        } else {
            let cover = Convex::rectangle(&rectangle);
            cover.outside(&self.kept[lane], &self.leaning[lane])
        };
        if self.is_new(lane, &fresh) {
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
            width_m: [[half_m[0]; LANES], [0.0; LANES]],
            height_m: [[lean * half_m[1]; LANES], [half_m[1]; LANES]],
            ahead_m: [[1.0; LANES], [0.0; LANES], [0.0; LANES]],
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
        assert!((cover.area_m2()[3] - 2.0).abs() < 1e-6);
        assert_eq!(cover.area_m2()[0], 0.0);
        cover.clear([1.0, 0.5]);
        assert_eq!(cover.area_m2()[3], 0.0);
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
        assert!((cover.area_m2()[0] - 0.4).abs() < 1e-5);
        for _ in 0..3 {
            add(&mut cover, 0, [0.0, 0.0], [0.5, 0.5], 0.0);
            assert!((cover.area_m2()[0] - 1.0).abs() < 1e-5);
        }
    }

    /// The right two thirds of a panel covered, and in another lane all of it.
    #[test]
    fn what_is_left_open_is_known_by_middle_and_spread() {
        let mut cover = Cover::new();
        cover.clear([1.5, 0.5]);
        add(&mut cover, 2, [0.5, 0.0], [1.0, 0.5], 0.0);
        add(&mut cover, 5, [0.0, 0.0], [2.0, 0.6], 0.0);
        let opening = cover.opening();
        assert!((opening.middle[0][2] + 1.0 / 3.0).abs() < 1e-5);
        assert!((opening.stretch[0][2] - 1.0 / 3.0).abs() < 1e-5);
        for lane in [0, 2, 5] {
            assert!(opening.middle[1][lane].abs() < 1e-6, "{lane}");
            assert!((opening.stretch[1][lane] - 1.0).abs() < 1e-5, "{lane}");
        }
        assert_eq!((opening.middle[0][5], opening.stretch[0][5]), (0.0, 1.0));
    }

    /// A leaning side that crosses the panel covers as much as an upright one through its middle.
    #[test]
    fn leaning_sides_keep_their_area() {
        let mut cover = Cover::new();
        cover.clear([1.0, 1.0]);
        add(&mut cover, 0, [1.5, 0.75], [1.0, 3.0], 0.2);
        let edge = 0.5 - 0.2 * 0.75;
        assert!((cover.area_m2()[0] - 2.0 * (1.0 - edge)).abs() < 1e-6);
    }
}
