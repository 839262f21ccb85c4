//! An aperture as a few rectangles on the plane of the image.

use crate::aperture::{Aperture, Outline};
use crate::image::Image;

/// Most rectangles that an outline is cut into.
const MOST: usize = EDGES.len() - 1;
/// Edges of the strips that a round outline is cut into, as shares of its radius: equal steps of the
/// angle.
const EDGES: [f64; 7] = [
    -1.0,
    -0.866_025_403_784_438_6,
    -0.5,
    0.0,
    0.5,
    0.866_025_403_784_438_6,
    1.0,
];

/// A rectangle on the plane of the image, and how far what it stands for is no rectangle.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Window {
    /// From and to, along right, at the aperture's centre.
    pub right_m: [f32; 2],
    /// From and to, along up.
    pub up_m: [f32; 2],
    /// How the upper edge departs from its mean height, the lower one the other way.
    pub edge: Bend,
    /// How far before the plane of the image it lies, towards the mirror.
    pub depth_m: f32,
    /// How that departs from its mean.
    pub depth: Bend,
}

/// How a line departs from its mean over a strip.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Bend {
    /// Mean slope along right.
    pub slope: f32,
    /// Variance.
    pub variance_m2: f32,
}

impl Window {
    /// From and to, along right, on the plane of an image.
    #[inline(always)]
    pub fn right_from(&self, image: &Image) -> [f32; 2] {
        self.right_m.map(|edge_m| image.narrowing * edge_m)
    }

    pub fn is_straight(&self) -> bool {
        self.edge == Bend::default() && self.depth == Bend::default()
    }
}

/// The rectangles that stand for an aperture.
pub(crate) struct Windows {
    list: [Window; MOST],
    count: usize,
    /// One rectangle of about the same outline and area, for light that is spread widely.
    pub broad: Window,
}

impl Windows {
    pub fn new(aperture: &Aperture) -> Self {
        match aperture.outline {
            Outline::Rectangle { width_m, height_m } => Self::one(width_m, height_m),
            Outline::Circle { diameter_m } => Self::circle(0.5 * diameter_m),
            Outline::Cylinder {
                diameter_m,
                height_m,
            } => Self::cylinder(0.5 * diameter_m, height_m),
        }
    }

    pub fn as_slice(&self) -> &[Window] {
        &self.list[..self.count]
    }

    fn one(width_m: f64, height_m: f64) -> Self {
        let broad = Window::around(width_m, height_m);
        Self {
            list: [broad; MOST],
            count: 1,
            broad,
        }
    }

    /// Strips as high as their part of the circle is in the mean.
    fn circle(radius_m: f64) -> Self {
        let side_m = radius_m * std::f64::consts::PI.sqrt();
        let broad = Window::around(side_m, side_m);
        Self::cut(broad, |edges| {
            let arc = Arc::new(edges);
            Window {
                right_m: edges.map(|edge| (radius_m * edge) as f32),
                up_m: [-1.0, 1.0].map(|side| (side * radius_m * arc.mean) as f32),
                edge: arc.bend(radius_m),
                ..broad
            }
        })
    }

    /// Strips as far before the axis as their part of the mantle is in the mean.
    fn cylinder(radius_m: f64, height_m: f64) -> Self {
        let broad = Window::around(2.0 * radius_m, height_m);
        let mean = Arc::new([-1.0, 1.0]).mean;
        Self::cut(broad, |edges| {
            let arc = Arc::new(edges);
            Window {
                right_m: edges.map(|edge| (radius_m * edge) as f32),
                depth_m: (radius_m * (arc.mean - mean)) as f32,
                depth: arc.bend(radius_m),
                ..broad
            }
        })
    }

    fn cut(broad: Window, strip: impl Fn([f64; 2]) -> Window) -> Self {
        Self {
            list: std::array::from_fn(|index| strip([EDGES[index], EDGES[index + 1]])),
            count: MOST,
            broad,
        }
    }
}

impl Window {
    fn around(width_m: f64, height_m: f64) -> Self {
        Self {
            right_m: [-0.5, 0.5].map(|side| (side * width_m) as f32),
            up_m: [-0.5, 0.5].map(|side| (side * height_m) as f32),
            edge: Bend::default(),
            depth_m: 0.0,
            depth: Bend::default(),
        }
    }
}

/// √(1 − x²) between two places: its mean, its slope by least squares, its variance.
struct Arc {
    mean: f64,
    slope: f64,
    variance: f64,
}

impl Arc {
    fn new([from, to]: [f64; 2]) -> Self {
        let width = to - from;
        let height2 = |x: f64| (1.0 - x * x).max(0.0);
        let area = |x: f64| 0.5 * (x * height2(x).sqrt() + libm::asin(x));
        let moment = |x: f64| -height2(x) * height2(x).sqrt() / 3.0;
        let mean = (area(to) - area(from)) / width;
        let about_middle = (moment(to) - moment(from)) / width - 0.5 * (from + to) * mean;
        Self {
            mean,
            slope: 12.0 * about_middle / (width * width),
            variance: 1.0 - (from * from + from * to + to * to) / 3.0 - mean * mean,
        }
    }

    fn bend(&self, radius_m: f64) -> Bend {
        Bend {
            slope: self.slope as f32,
            variance_m2: (radius_m * radius_m * self.variance) as f32,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Midpoint sums of the same.
    #[test]
    fn arcs_as_summed() {
        for edges in EDGES.windows(2) {
            let steps = 100_000;
            let (mut mean, mut moment, mut square) = (0.0, 0.0, 0.0);
            let width = edges[1] - edges[0];
            for step in 0..steps {
                let off = width * ((f64::from(step) + 0.5) / f64::from(steps) - 0.5);
                let x = 0.5 * (edges[0] + edges[1]) + off;
                let height = (1.0 - x * x).sqrt() / f64::from(steps);
                mean += height;
                moment += off * height;
                square += (1.0 - x * x) / f64::from(steps);
            }
            let arc = Arc::new([edges[0], edges[1]]);
            assert!((arc.mean - mean).abs() < 1e-6);
            assert!((arc.slope - 12.0 * moment / (width * width)).abs() < 1e-4);
            assert!((arc.variance - (square - mean * mean)).abs() < 1e-6);
        }
    }

    #[test]
    fn strips_have_the_area_of_the_circle() {
        let area_m2: f32 = Windows::circle(1.5)
            .as_slice()
            .iter()
            .map(|strip| (strip.right_m[1] - strip.right_m[0]) * (strip.up_m[1] - strip.up_m[0]))
            .sum();
        assert!((area_m2 - 2.25 * std::f32::consts::PI).abs() < 1e-5);
    }
}
