//! A square glass plate pulled back at its corners: the shape that thin-plate theory gives it.
//!
//! Kirchhoff's plate (Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, 1959) with a
//! point support in its centre, four equal corner forces and free edges, Poisson's ratio 0.22. The
//! point force bends it by r²·ln r; all else is biharmonic and has the square's symmetry, so it is
//! a sum of r^4k·cos 4kφ and r^(4k+2)·cos 4kφ. The coefficients make bending moment and edge force
//! vanish along the edges, by least squares; the corner forces then follow from equilibrium.

use geometry::log::log;

use crate::shape::Spot;

/// Factor of r²·ln r.
const POINT_FORCE: f64 = -0.294_659_520_1;
/// Factors of r^4k·cos 4kφ for k = 1, 2, 3.
const HARMONIC: [f64; 3] = [-0.071_691_376_5, 4.763_321_9e-4, -2.855_622e-5];
/// Factors of r^(4k+2)·cos 4kφ for k = 0 … 3.
const BIHARMONIC: [f64; 4] = [
    0.574_084_554_1,
    7.385_225_1e-3,
    -1.370_141_4e-4,
    -1.698_657e-5,
];

/// Surface of the plate with half side 1, scaled to a curvature of 1: the slopes then fit those of
/// the paraboloid ½·r² as closely as any curvature can make them (least squares).
#[inline(always)]
pub(crate) fn at([x, y]: [f64; 2]) -> Spot {
    let radius2 = x * x + y * y;
    let log = 0.5 * log(radius2.max(1e-18));
    let cube = times(times([x, y], [x, y]), [x, y]);
    let fourth = times(cube, [x, y]);
    let eighth = times(fourth, fourth);
    let cosines = [fourth[0], eighth[0], times(eighth, fourth)[0]];
    // r^4k·cos 4kφ is the real part of (x + iy)^4k; together these have the factors a and r²·b.
    let [b0, b1, b2, b3] = BIHARMONIC;
    let rising = b0 + b1 * cosines[0] + b2 * cosines[1] + b3 * cosines[2];
    let both = [0, 1, 2].map(|k| HARMONIC[k] + radius2 * BIHARMONIC[k + 1]);
    let by_fourth = [
        both[0] + 2.0 * both[1] * fourth[0] + 3.0 * both[2] * eighth[0],
        2.0 * both[1] * fourth[1] + 3.0 * both[2] * eighth[1],
    ];
    let turning = times(by_fourth, cube);
    let outward = POINT_FORCE * (2.0 * log + 1.0) + 2.0 * rising;
    Spot {
        height_m: radius2 * (POINT_FORCE * log + b0)
            + both[0] * cosines[0]
            + both[1] * cosines[1]
            + both[2] * cosines[2],
        slope: [
            outward * x + 4.0 * turning[0],
            outward * y - 4.0 * turning[1],
        ],
    }
}

#[inline(always)]
fn times(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums over a fine grid of the plate: slopes along the paraboloid's, the paraboloid's
    /// squared, the plate's squared.
    fn slope_sums() -> (f64, f64, f64) {
        let count = 200;
        let middle = |index: i32| (f64::from(index) + 0.5) / f64::from(count);
        let (mut along, mut ideal, mut own) = (0.0, 0.0, 0.0);
        for (i, j) in (0..count).flat_map(|i| (0..count).map(move |j| (i, j))) {
            let (x, y) = (middle(i), middle(j));
            let slope = at([x, y]).slope;
            along += slope[0] * x + slope[1] * y;
            ideal += x * x + y * y;
            own += slope[0] * slope[0] + slope[1] * slope[1];
        }
        (along, ideal, own)
    }

    /// Global Ritz and Argyris plate calculations, which agree: 22.3 % of the slope is no
    /// paraboloid's; the curvature fitted here is 1.
    #[test]
    fn the_residual_slope_is_that_of_two_other_plate_calculations() {
        let (along, ideal, own) = slope_sums();
        assert!((along / ideal - 1.0).abs() < 1e-3);
        let residual = ((own - along * along / ideal) / ideal).sqrt();
        assert!((residual - 0.223).abs() < 0.001, "{residual}");
    }

    /// The same two calculations: edge middles rise 0.432 of the corners, their slope is 61 % of
    /// the ideal one, corners are off by 0.115; a point force F bends by F·r²·ln r/(8πD), which
    /// makes the fitted curvature 0.1355·F/D and the corners' rise 0.03995·F·side²/D.
    #[test]
    fn edges_and_corners() {
        let (edge, corner) = (at([1.0, 0.0]), at([1.0, 1.0]));
        assert!((edge.height_m / corner.height_m - 0.432).abs() < 0.002);
        assert!((edge.slope[0] - 0.61).abs() < 0.005 && edge.slope[1].abs() < 1e-12);
        let off = (corner.slope[0] - 1.0) * (2.0_f64).sqrt();
        assert!((off - 0.115).abs() < 0.003, "{off}");
        let force = -8.0 * std::f64::consts::PI * POINT_FORCE;
        assert!((1.0 / force / 0.1355 - 1.0).abs() < 0.005);
        assert!((corner.height_m / (4.0 * force) / 0.039_95 - 1.0).abs() < 0.005);
    }

    /// Curvature along the middle axis falls and turns round at the edge; along the diagonal it
    /// holds (the same two calculations; the last values, next to the corner, are theirs to 0.1).
    #[test]
    fn curvature_along_the_axes() {
        let step = 1e-4;
        let along = |at_share: f64, direction: [f64; 2]| {
            let height = |share: f64| at(direction.map(|part| share * part)).height_m;
            let length2 = step * step * (direction[0] * direction[0] + direction[1] * direction[1]);
            (height(at_share + step) + height(at_share - step) - 2.0 * height(at_share)) / length2
        };
        for (share, middle, diagonal) in [
            (0.25, 1.05, 0.98),
            (0.5, 0.47, 0.85),
            (0.75, 0.03, 0.96),
            (1.0, -0.45, 1.18),
        ] {
            assert!((along(share, [1.0, 0.0]) - middle).abs() < 0.1, "{share}");
            assert!(
                (along(share, [1.0, 1.0]) - diagonal).abs() < 0.06,
                "{share}"
            );
        }
    }
}
