//! What surface a panel is bent to.

use geometry::{LANES, Lane};

use crate::corner_pulled;

/// The surface of a panel, with the focal length that the plan gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Not bent, whatever the focal length.
    Flat,
    /// Paraboloid about the panel's normal.
    Paraboloid,
    /// Sphere of twice the focal length as radius.
    Sphere,
    /// A square plate pulled back at its corners against a support in its centre, so that its
    /// curvature is that of the paraboloid on the whole: 22 % of the slope is left over.
    CornerPulled,
}

/// The surface above a point of the panel's plane.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Spot {
    /// Height above the plane [m].
    pub height_m: f64,
    /// Slopes along width and height [-].
    pub slope: [f64; 2],
}

/// The surface above a point of each lane.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Spots {
    /// Height above the plane [m].
    pub height_m: Lane,
    /// Slopes along width and height [-].
    pub slope: [Lane; 2],
}

impl Spots {
    #[inline(always)]
    fn of(shape: Shape, at_m: &[Lane; 2], curvature_per_m: f64, half_side_m: f64) -> Self {
        let mut spots = Self::default();
        for lane in 0..LANES {
            let point_m = [at_m[0][lane], at_m[1][lane]];
            let spot = shape.at(point_m, curvature_per_m, half_side_m);
            spots.height_m[lane] = spot.height_m;
            spots.slope[0][lane] = spot.slope[0];
            spots.slope[1][lane] = spot.slope[1];
        }
        spots
    }
}

/// No shape is steeper anywhere than so many times the paraboloid at its corners.
pub(crate) const STEEPEST: f64 = 1.2;

impl Shape {
    /// The surface at places `[x, y]` metres from the panel's centre, bent to a curvature of
    /// `curvature_per_m` = 1 ÷ (2·focal length); `half_side_m` is half the panel's side.
    #[inline(always)]
    pub(crate) fn bend(self, at_m: &[Lane; 2], curvature_per_m: f64, half_side_m: f64) -> Spots {
        // One loop for each shape, so that none has a branch in it.
        match self {
            Self::Flat => Spots::default(),
            Self::Paraboloid => Spots::of(Self::Paraboloid, at_m, curvature_per_m, half_side_m),
            Self::Sphere => Spots::of(Self::Sphere, at_m, curvature_per_m, half_side_m),
            Self::CornerPulled => Spots::of(Self::CornerPulled, at_m, curvature_per_m, half_side_m),
        }
    }

    #[inline(always)]
    fn at(self, point_m: [f64; 2], curvature_per_m: f64, half_side_m: f64) -> Spot {
        let radius2_m2 = point_m[0] * point_m[0] + point_m[1] * point_m[1];
        match self {
            Self::Flat => Spot::default(),
            Self::Paraboloid => Spot {
                height_m: 0.5 * curvature_per_m * radius2_m2,
                slope: point_m.map(|along_m| curvature_per_m * along_m),
            },
            Self::Sphere => {
                let lean = (1.0 - curvature_per_m * curvature_per_m * radius2_m2).sqrt();
                Spot {
                    height_m: curvature_per_m * radius2_m2 / (1.0 + lean),
                    slope: point_m.map(|along_m| curvature_per_m * along_m / lean),
                }
            }
            Self::CornerPulled => {
                let halves_per_m = 1.0 / half_side_m;
                let plate = corner_pulled::at(point_m.map(|along_m| halves_per_m * along_m));
                let scale = curvature_per_m * half_side_m;
                Spot {
                    height_m: scale * half_side_m * plate.height_m,
                    slope: plate.slope.map(|slope| scale * slope),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Slopes are those of the heights.
        #[test]
        fn slopes_are_derivatives(x in -0.5..0.5_f64, y in -0.5..0.5_f64, focal_m in 20.0..200.0_f64) {
            prop_assume!(x * x + y * y > 1e-4);
            let step_m = 1e-5;
            for shape in [Shape::Flat, Shape::Paraboloid, Shape::Sphere, Shape::CornerPulled] {
                let at = |x_m, y_m| shape.at([x_m, y_m], 0.5 / focal_m, 0.5);
                let spot = at(x, y);
                let along_x = (at(x + step_m, y).height_m - at(x - step_m, y).height_m) / (2.0 * step_m);
                let along_y = (at(x, y + step_m).height_m - at(x, y - step_m).height_m) / (2.0 * step_m);
                prop_assert!((spot.slope[0] - along_x).abs() < 1e-8, "{shape:?}");
                prop_assert!((spot.slope[1] - along_y).abs() < 1e-8, "{shape:?}");
            }
        }
    }

    #[test]
    fn no_shape_is_steeper_than_said() {
        for (i, j) in (-50..=50).flat_map(|i| (-50..=50).map(move |j| (i, j))) {
            let point_m = [f64::from(i) / 100.0, f64::from(j) / 100.0];
            for shape in [
                Shape::Flat,
                Shape::Paraboloid,
                Shape::Sphere,
                Shape::CornerPulled,
            ] {
                let [x, y] = shape.at(point_m, 0.02, 0.5).slope;
                assert!(
                    (x * x + y * y).sqrt() <= STEEPEST * 0.02 * 0.5_f64.sqrt(),
                    "{shape:?} {point_m:?}"
                );
            }
        }
    }

    /// Corner sag of a paraboloid, side²/(8·focal length): elementary geometry.
    #[test]
    fn corner_sag() {
        let spot = Shape::Paraboloid.at([0.5, 0.5], 0.5 / 50.0, 0.5);
        assert!((spot.height_m - 1.0 / 400.0).abs() < 1e-15);
    }
}
