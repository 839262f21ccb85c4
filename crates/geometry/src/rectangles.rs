//! The area that a few axis-parallel rectangles cover together.

/// A rectangle with sides parallel to the axes: `x0 ≤ x1`, `y0 ≤ y1`, any one unit of length.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rectangle {
    /// Left side.
    pub x0: f64,
    /// Right side.
    pub x1: f64,
    /// Lower side.
    pub y0: f64,
    /// Upper side.
    pub y1: f64,
}

impl Rectangle {
    /// Area; nothing if the sides are crossed.
    #[must_use]
    pub fn area(&self) -> f64 {
        (self.x1 - self.x0).max(0.0) * (self.y1 - self.y0).max(0.0)
    }
}

/// Exact area of the union of `rectangles`. Meant for a handful: the effort grows with the cube
/// of their number; nothing is allocated.
#[must_use]
pub fn union_area(rectangles: &[Rectangle]) -> f64 {
    let mut area = 0.0;
    let mut left = next_side(rectangles, f64::NEG_INFINITY);
    while let Some(x0) = left {
        let Some(x1) = next_side(rectangles, x0) else {
            break;
        };
        area += (x1 - x0) * covered_height(rectangles, 0.5 * (x0 + x1));
        left = Some(x1);
    }
    area
}

/// The least left or right side beyond `x`.
fn next_side(rectangles: &[Rectangle], x: f64) -> Option<f64> {
    rectangles
        .iter()
        .flat_map(|rectangle| [rectangle.x0, rectangle.x1])
        .filter(|&side| side > x)
        .min_by(f64::total_cmp)
}

/// Length of the upright line at `x` that the rectangles cover.
fn covered_height(rectangles: &[Rectangle], x: f64) -> f64 {
    let crossed = || {
        rectangles
            .iter()
            .filter(|rectangle| rectangle.x0 < x && x < rectangle.x1 && rectangle.y0 < rectangle.y1)
    };
    let mut height = 0.0;
    let mut reached = f64::NEG_INFINITY;
    loop {
        let start = crossed()
            .filter(|r| r.y1 > reached)
            .map(|r| r.y0.max(reached))
            .min_by(f64::total_cmp);
        let Some(start) = start else { return height };
        let end = crossed()
            .filter(|r| r.y0 <= start && r.y1 > start)
            .map(|r| r.y1)
            .max_by(f64::total_cmp);
        let Some(end) = end else { return height };
        height += end - start;
        reached = end;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rectangle(x0: f64, x1: f64, y0: f64, y1: f64) -> Rectangle {
        Rectangle { x0, x1, y0, y1 }
    }

    #[test]
    fn none_one_and_two() {
        assert_eq!(union_area(&[]), 0.0);
        assert_eq!(union_area(&[rectangle(0.0, 2.0, 0.0, 3.0)]), 6.0);
        let crossed = [rectangle(0.0, 3.0, 1.0, 2.0), rectangle(1.0, 2.0, 0.0, 3.0)];
        assert_eq!(union_area(&crossed), 3.0 + 3.0 - 1.0);
        let stacked = [rectangle(0.0, 1.0, 0.0, 1.0), rectangle(0.0, 1.0, 2.0, 3.0)];
        assert_eq!(union_area(&stacked), 2.0);
    }

    proptest! {
        /// Sides on whole numbers: counting unit cells is an exact judge.
        #[test]
        fn equals_counted_cells(sides in prop::collection::vec((0..12_i32, 0..12_i32, 0..12_i32, 0..12_i32), 0..9)) {
            let rectangles: Vec<Rectangle> = sides
                .iter()
                .map(|&(a, b, c, d)| rectangle(f64::from(a.min(b)), f64::from(a.max(b)), f64::from(c.min(d)), f64::from(c.max(d))))
                .collect();
            let mut cells = 0;
            for x in 0..12 {
                for y in 0..12 {
                    let (x, y) = (f64::from(x) + 0.5, f64::from(y) + 0.5);
                    cells += i32::from(rectangles.iter().any(|r| r.x0 < x && x < r.x1 && r.y0 < y && y < r.y1));
                }
            }
            prop_assert!((union_area(&rectangles) - f64::from(cells)).abs() < 1e-9);
        }
    }
}
