//! The area that a few axis-parallel rectangles cover together.

/// A rectangle with sides parallel to the axes: `x0 ≤ x1`, `y0 ≤ y1`, any one unit of length.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rectangle {
    /// Left side.
    pub x0: f32,
    /// Right side.
    pub x1: f32,
    /// Lower side.
    pub y0: f32,
    /// Upper side.
    pub y1: f32,
}

impl Rectangle {
    /// Area; nothing if the sides are crossed.
    #[inline]
    #[must_use]
    pub fn area(&self) -> f32 {
        let (width, height) = (self.x1 - self.x0, self.y1 - self.y0);
        if width > 0.0 && height > 0.0 {
            width * height
        } else {
            0.0
        }
    }

    /// Whether two rectangles have no spot in common but on their sides.
    #[inline]
    #[must_use]
    pub fn is_apart(&self, other: &Self) -> bool {
        (self.x0 >= other.x1)
            | (self.x1 <= other.x0)
            | (self.y0 >= other.y1)
            | (self.y1 <= other.y0)
    }

    /// What two rectangles have in common; its sides are crossed if that is nothing.
    #[inline]
    #[must_use]
    pub fn common(&self, other: &Self) -> Self {
        Self {
            x0: if self.x0 > other.x0 {
                self.x0
            } else {
                other.x0
            },
            x1: if self.x1 < other.x1 {
                self.x1
            } else {
                other.x1
            },
            y0: if self.y0 > other.y0 {
                self.y0
            } else {
                other.y0
            },
            y1: if self.y1 < other.y1 {
                self.y1
            } else {
                other.y1
            },
        }
    }
}

/// Exact area of the union of `rectangles`. Meant for a handful: nothing is allocated, and the
/// effort grows with the number of subsets that have a spot in common.
#[must_use]
pub fn union_area(rectangles: &[Rectangle]) -> f32 {
    (0..rectangles.len())
        .map(|index| {
            rectangles[index].area() - covered_area(&rectangles[index], &rectangles[..index])
        })
        .sum()
}

/// Exact area of the part of `whole` that `covers` cover together; effort as for [`union_area`].
#[must_use]
pub fn covered_area(whole: &Rectangle, covers: &[Rectangle]) -> f32 {
    let Some((last, rest)) = covers.split_last() else {
        return 0.0;
    };
    let common = whole.common(last);
    let area = common.area();
    if area <= 0.0 {
        covered_area(whole, rest)
    } else if common == *whole {
        area
    } else {
        area + covered_area(whole, rest) - covered_area(&common, rest)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rectangle(x0: f32, x1: f32, y0: f32, y1: f32) -> Rectangle {
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
        fn equals_counted_cells(sides in prop::collection::vec((0..12_i16, 0..12_i16, 0..12_i16, 0..12_i16), 0..9)) {
            let rectangles: Vec<Rectangle> = sides
                .iter()
                .map(|&(a, b, c, d)| rectangle(f32::from(a.min(b)), f32::from(a.max(b)), f32::from(c.min(d)), f32::from(c.max(d))))
                .collect();
            let mut cells = 0_i16;
            for x in 0..12_i16 {
                for y in 0..12_i16 {
                    let (x, y) = (f32::from(x) + 0.5, f32::from(y) + 0.5);
                    cells += i16::from(rectangles.iter().any(|r| r.x0 < x && x < r.x1 && r.y0 < y && y < r.y1));
                }
            }
            prop_assert!((union_area(&rectangles) - f32::from(cells)).abs() < 1e-3);
        }
    }
}
