//! The area that a few axis-parallel rectangles cover together, and where it lies.

use std::ops::{Add, Sub};

/// An area with its first and second moments about the axes of its plane, any one unit of length. What
/// parts have in all is the sum of theirs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Area.
    pub area: f32,
    /// ∫ x.
    pub x: f32,
    /// ∫ y.
    pub y: f32,
    /// ∫ x².
    pub xx: f32,
    /// ∫ y².
    pub yy: f32,
}

impl Add for Moments {
    type Output = Self;

    #[inline]
    fn add(self, other: Self) -> Self {
        Self {
            area: self.area + other.area,
            x: self.x + other.x,
            y: self.y + other.y,
            xx: self.xx + other.xx,
            yy: self.yy + other.yy,
        }
    }
}

impl Sub for Moments {
    type Output = Self;

    #[inline]
    fn sub(self, other: Self) -> Self {
        Self {
            area: self.area - other.area,
            x: self.x - other.x,
            y: self.y - other.y,
            xx: self.xx - other.xx,
            yy: self.yy - other.yy,
        }
    }
}

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

    /// Area and where it lies; nothing if the sides are crossed.
    #[inline]
    #[must_use]
    pub fn moments(&self) -> Moments {
        let area = self.area();
        let (x, y) = (0.5 * (self.x0 + self.x1), 0.5 * (self.y0 + self.y1));
        Moments {
            area,
            x: area * x,
            y: area * y,
            xx: area * (self.x0 * self.x0 + self.x0 * self.x1 + self.x1 * self.x1) * (1.0 / 3.0),
            yy: area * (self.y0 * self.y0 + self.y0 * self.y1 + self.y1 * self.y1) * (1.0 / 3.0),
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

/// Exact moments of the part of `whole` that `covers` cover together. Meant for a handful: nothing is
/// allocated, and the effort grows with the number of subsets that have a spot in common.
#[must_use]
pub fn covered(whole: &Rectangle, covers: &[Rectangle]) -> Moments {
    let Some((last, rest)) = covers.split_last() else {
        return Moments::default();
    };
    let common = whole.common(last);
    if common.area() <= 0.0 {
        covered(whole, rest)
    } else if common == *whole {
        whole.moments()
    } else {
        common.moments() + covered(whole, rest) - covered(&common, rest)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rectangle(x0: f32, x1: f32, y0: f32, y1: f32) -> Rectangle {
        Rectangle { x0, x1, y0, y1 }
    }

    const WHOLE: Rectangle = Rectangle {
        x0: -1.0,
        x1: 20.0,
        y0: -2.0,
        y1: 20.0,
    };

    #[test]
    fn none_one_and_two() {
        let covered_area = |covers: &[Rectangle]| covered(&WHOLE, covers).area;
        assert_eq!(covered_area(&[]), 0.0);
        assert_eq!(covered_area(&[rectangle(0.0, 2.0, 0.0, 3.0)]), 6.0);
        let crossed = [rectangle(0.0, 3.0, 1.0, 2.0), rectangle(1.0, 2.0, 0.0, 3.0)];
        assert_eq!(covered_area(&crossed), 3.0 + 3.0 - 1.0);
        let stacked = [rectangle(0.0, 1.0, 0.0, 1.0), rectangle(0.0, 1.0, 2.0, 3.0)];
        assert_eq!(covered_area(&stacked), 2.0);
        assert_eq!(
            covered_area(&[rectangle(-5.0, 40.0, -5.0, 40.0)]),
            WHOLE.area()
        );
    }

    /// ∫ x² over a rectangle, (x1³ − x0³)/3 for each unit of height: elementary calculus.
    #[test]
    fn moments_of_one() {
        let Moments { area, x, y, xx, yy } = rectangle(-1.0, 2.0, 1.0, 3.0).moments();
        assert_eq!([area, x, y, xx], [6.0, 3.0, 12.0, 6.0]);
        assert!((yy - 26.0).abs() < 1e-5);
    }

    proptest! {
        /// Sides on whole numbers: counting unit cells is an exact judge of area and moments.
        #[test]
        fn equals_counted_cells(sides in prop::collection::vec((0..12_i16, 0..12_i16, 0..12_i16, 0..12_i16), 0..9)) {
            let rectangles: Vec<Rectangle> = sides
                .iter()
                .map(|&(a, b, c, d)| rectangle(f32::from(a.min(b)), f32::from(a.max(b)), f32::from(c.min(d)), f32::from(c.max(d))))
                .collect();
            let mut counted = Moments::default();
            for x in 0..12_i16 {
                for y in 0..12_i16 {
                    let cell = rectangle(f32::from(x), f32::from(x + 1), f32::from(y), f32::from(y + 1));
                    if rectangles.iter().any(|covering| cell.common(covering) == cell) {
                        counted = counted + cell.moments();
                    }
                }
            }
            let found = covered(&WHOLE, &rectangles) - counted;
            for off in [found.area, found.x, found.y, found.xx, found.yy] {
                prop_assert!(off.abs() < 2e-2, "{found:?}");
            }
        }
    }
}
