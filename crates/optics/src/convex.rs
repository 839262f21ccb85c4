//! Convex outlines on a panel's plane, cut by one another.

use geometry::rectangles::{Moments, Rectangle};

use crate::coarse::{greater, lesser};

/// Most corners kept: every cut adds one at most, and a corner more could only trim a sliver.
const CORNERS: usize = 12;

/// A convex outline, corner after corner against the clock.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Convex {
    corners: [[f32; 2]; CORNERS],
    count: usize,
}

impl Convex {
    const EMPTY: Self = Self {
        corners: [[0.0; 2]; CORNERS],
        count: 0,
    };

    /// Four corners, one after the other either way round.
    pub fn of_four(corners: [[f32; 2]; 4]) -> Self {
        let mut outline = Self::EMPTY;
        let [a, b, c, d] = corners;
        let ordered = if turn(a, b, c) + turn(a, c, d) < 0.0 {
            [a, d, c, b]
        } else {
            corners
        };
        ordered.into_iter().for_each(|corner| outline.push(corner));
        outline
    }

    /// The outline from a corner along two sides.
    pub fn parallelogram([x, y]: [f32; 2], [[ax, ay], [bx, by]]: [[f32; 2]; 2]) -> Self {
        Self::of_four([
            [x, y],
            [x + ax, y + ay],
            [x + ax + bx, y + ay + by],
            [x + bx, y + by],
        ])
    }

    pub fn rectangle(rectangle: &Rectangle) -> Self {
        let Rectangle { x0, x1, y0, y1 } = *rectangle;
        Self::of_four([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
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

    const fn is_empty(&self) -> bool {
        self.count < 3
    }

    /// Keeps the part where `inside`, a linear function, is not negative.
    #[inline(always)]
    pub fn keep(&mut self, inside: impl Fn([f32; 2]) -> f32) {
        let mut sides = [0.0; CORNERS];
        let mut outer = 0;
        for (side, corner) in sides.iter_mut().zip(self.corners()) {
            *side = inside(*corner);
            outer += usize::from(*side < 0.0);
        }
        if outer == self.count {
            self.count = 0;
        } else if outer > 0 {
            self.part(&sides);
        }
    }

    /// Keeps the part where what corners have on their `sides` is not negative.
    fn part(&mut self, sides: &[f32; CORNERS]) {
        let whole = *self;
        self.count = 0;
        let mut before = whole.count - 1;
        for (at, &corner) in whole.corners().iter().enumerate() {
            if (sides[before] < 0.0) != (sides[at] < 0.0) {
                let share = sides[before] / (sides[before] - sides[at]);
                let from = whole.corners[before];
                self.push([0, 1].map(|side| from[side] + share * (corner[side] - from[side])));
            }
            if sides[at] >= 0.0 {
                self.push(corner);
            }
            before = at;
        }
    }

    /// The least rectangle around it; crossed sides if it is empty.
    #[inline]
    fn around(&self) -> Rectangle {
        let mut around = Rectangle {
            x0: f32::INFINITY,
            x1: f32::NEG_INFINITY,
            y0: f32::INFINITY,
            y1: f32::NEG_INFINITY,
        };
        for &[x, y] in self.corners() {
            around.x0 = lesser(x, around.x0);
            around.x1 = greater(x, around.x1);
            around.y0 = lesser(y, around.y0);
            around.y1 = greater(y, around.y1);
        }
        around
    }

    /// What it has in common with a rectangle.
    pub fn within(&self, rectangle: &Rectangle) -> Self {
        self.part_within(&self.around(), rectangle)
    }

    /// The same for one that knows what lies `around` it.
    #[inline]
    fn part_within(&self, around: &Rectangle, rectangle: &Rectangle) -> Self {
        if around.is_apart(rectangle) {
            return Self::EMPTY;
        }
        let mut common = *self;
        if around.x0 < rectangle.x0 {
            common.keep(|[x, _]| x - rectangle.x0);
        }
        if around.x1 > rectangle.x1 {
            common.keep(|[x, _]| rectangle.x1 - x);
        }
        if around.y0 < rectangle.y0 {
            common.keep(|[_, y]| y - rectangle.y0);
        }
        if around.y1 > rectangle.y1 {
            common.keep(|[_, y]| rectangle.y1 - y);
        }
        common
    }

    /// What two have in common.
    pub fn common(&self, other: &Self) -> Self {
        let mut common = *self;
        let mut before = other.count.max(1) - 1;
        for at in 0..other.count {
            let (from, to) = (other.corners[before], other.corners[at]);
            common.keep(|spot| turn(from, to, spot));
            before = at;
        }
        common
    }

    /// Area and moments as sums over triangles from the origin to each side.
    pub fn moments(&self) -> Moments {
        let mut sums = Moments::default();
        let mut before = self.count.max(1) - 1;
        for at in 0..self.count {
            let ([x0, y0], [x1, y1]) = (self.corners[before], self.corners[at]);
            let twice = x0 * y1 - y0 * x1;
            sums.area += twice * (1.0 / 2.0);
            sums.x += twice * (x0 + x1) * (1.0 / 6.0);
            sums.y += twice * (y0 + y1) * (1.0 / 6.0);
            sums.xx += twice * (x0 * x0 + x0 * x1 + x1 * x1) * (1.0 / 12.0);
            sums.yy += twice * (y0 * y0 + y0 * y1 + y1 * y1) * (1.0 / 12.0);
            before = at;
        }
        sums
    }

    /// Moments of what neither rectangles nor outlines cover: from the whole goes what it has in common with
    /// each of them and no later one covers. The effort grows with the number of subsets of them that have
    /// a spot of this in common.
    pub fn outside(&self, rectangles: &[Rectangle], outlines: &[Self]) -> Moments {
        if self.is_empty() {
            return Moments::default();
        }
        let (mut outside, around) = (self.moments(), self.around());
        for (at, rectangle) in rectangles.iter().enumerate() {
            if !around.is_apart(rectangle) {
                let common = self.part_within(&around, rectangle);
                outside = outside - common.outside(&rectangles[at + 1..], outlines);
            }
        }
        for (at, outline) in outlines.iter().enumerate() {
            if !around.is_apart(&outline.around()) {
                outside = outside - self.common(outline).outside(&[], &outlines[at + 1..]);
            }
        }
        outside
    }
}

/// Twice the area of a triangle, positive against the clock.
fn turn(a: [f32; 2], b: [f32; 2], c: [f32; 2]) -> f32 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
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

    fn area_within(outline: &Convex) -> f32 {
        outline.within(&PANEL).moments().area
    }

    #[test]
    fn a_diamond_on_a_square() {
        let diamond =
            |size: f32| Convex::parallelogram([-size, 0.0], [[size, size], [size, -size]]);
        assert!((area_within(&diamond(1.0)) - 2.0).abs() < 1e-5);
        assert!((area_within(&diamond(1.5)) - (4.0 - 4.0 * 0.125)).abs() < 1e-5);
        assert!((area_within(&diamond(5.0)) - 4.0).abs() < 1e-5);
    }

    type Sides = ((f32, f32), (f32, f32), (f32, f32));

    fn sides() -> impl Strategy<Value = Sides> {
        (
            (-2.0..1.0_f32, -2.0..1.0_f32),
            (-2.0..2.0_f32, -2.0..2.0_f32),
            (-2.0..2.0_f32, -2.0..2.0_f32),
        )
            .prop_filter("no slivers", |(_, a, b)| {
                (a.0 * b.1 - a.1 * b.0).abs() > 0.1
            })
    }

    fn holds((corner, a, b): Sides, [x, y]: [f32; 2]) -> bool {
        let determinant = a.0 * b.1 - a.1 * b.0;
        let (dx, dy) = (x - corner.0, y - corner.1);
        let along_a = (dx * b.1 - dy * b.0) / determinant;
        let along_b = (dy * a.0 - dx * a.1) / determinant;
        (0.0..1.0).contains(&along_a) && (0.0..1.0).contains(&along_b)
    }

    fn outline((corner, a, b): Sides) -> Convex {
        Convex::parallelogram([corner.0, corner.1], [[a.0, a.1], [b.0, b.1]])
    }

    proptest! {
        /// Against counted points.
        #[test]
        fn equals_counted_points(
            own in sides(),
            others in prop::collection::vec(sides(), 0..6),
            rectangles in prop::collection::vec((-1.0..1.0_f32, -1.0..1.0_f32, 0.0..1.0_f32, 0.0..1.0_f32), 0..8),
        ) {
            let rectangles: Vec<Rectangle> = rectangles
                .iter()
                .map(|&(x, y, w, h)| Rectangle { x0: x, x1: x + w, y0: y, y1: y + h })
                .collect();
            let steps = 200_i16;
            let cell = 4.0 / (f32::from(steps) * f32::from(steps));
            let mut open = Moments::default();
            for i in 0..steps {
                for j in 0..steps {
                    let [x, y] = [i, j].map(|step| 2.0 * (f32::from(step) + 0.5) / f32::from(steps) - 1.0);
                    let is_covered = others.iter().any(|other| holds(*other, [x, y]))
                        || rectangles.iter().any(|r| r.x0 < x && x < r.x1 && r.y0 < y && y < r.y1);
                    if holds(own, [x, y]) && !is_covered {
                        let spot = Moments { area: 1.0, x, y, xx: x * x, yy: y * y };
                        open = open + spot;
                    }
                }
            }
            let outlines: Vec<Convex> = others.iter().map(|other| outline(*other)).collect();
            let found = outline(own).within(&PANEL).outside(&rectangles, &outlines);
            for (found, counted) in [
                (found.area, open.area),
                (found.x, open.x),
                (found.y, open.y),
                (found.xx, open.xx),
                (found.yy, open.yy),
            ] {
                prop_assert!((found - cell * counted).abs() < 0.06);
            }
        }
    }
}
