//! How much of an image falls inside the aperture, and how dense it is at the centre.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use geometry::erf::{erf, erf_and_slope};
use geometry::exp::exp;
use geometry::{LANES, Lane};

use crate::image::Image;

/// A patch narrower than this many standard deviations of the whole image counts as part of the
/// bell curve: the shares then differ by less than 5e-4.
const NARROW: f64 = 1.0;
/// The patch is kept at least this wide, in standard deviations of the image, so that
/// differences of nearly equal numbers stay exact.
const LEAST_PATCH: f64 = 0.3;

/// One axis of the image against one side of the aperture: its share inside −half … half, and the
/// jumps of its density and of the density's slope from one end to the other.
#[derive(Clone, Copy)]
struct Across {
    share: f64,
    density_jump: f64,
    slope_jump: f64,
}

/// Share of each image that falls inside the aperture of half sides `half_m` (right, up).
///
/// The two axes are first taken as independent; their covariance c comes in by the series
/// exp(c·∂²/∂x∂y), to its second term, and the result is kept within the bounds that the two
/// single shares allow (Fréchet).
pub(crate) fn share_inside(image: &Image, half_m: [f64; 2]) -> Lane {
    let narrow = is_narrow(image);
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        let [right, up] = [0, 1].map(|axis| {
            let offset_m = image.offset_m[axis][lane];
            let patch_m = image.patch_m[axis][lane];
            let blur_m2 = image.blur_m2[axis][lane];
            if narrow {
                across_bell(half_m[axis], offset_m, blur_m2 + patch_m * patch_m / 12.0)
            } else {
                across_patch(half_m[axis], offset_m, patch_m, blur_m2)
            }
        });
        let shared_m2 = image.shared_m2[lane];
        let joint = right.share * up.share
            + shared_m2
                * (right.density_jump * up.density_jump
                    + 0.5 * shared_m2 * right.slope_jump * up.slope_jump);
        let most = if right.share < up.share {
            right.share
        } else {
            up.share
        };
        let least = right.share + up.share - 1.0;
        let least = if least > 0.0 { least } else { 0.0 };
        let joint = if joint < most { joint } else { most };
        let joint = if joint > least { joint } else { least };
        shares[lane] = image.open[lane] * joint;
    }
    shares
}

/// Is every patch narrow against the whole image, both ways?
fn is_narrow(image: &Image) -> bool {
    let mut widest = 0.0;
    for axis in 0..2 {
        for lane in 0..LANES {
            let patch_m2 = image.patch_m[axis][lane] * image.patch_m[axis][lane];
            let ratio = patch_m2 / (image.blur_m2[axis][lane] + patch_m2 / 12.0);
            widest = if ratio > widest { ratio } else { widest };
        }
    }
    widest < NARROW * NARROW
}

/// A bell curve of the given variance.
#[inline(always)]
fn across_bell(half_m: f64, offset_m: f64, variance_m2: f64) -> Across {
    let scale = FRAC_1_SQRT_2 / variance_m2.sqrt();
    let (high, low) = (scale * (half_m - offset_m), scale * (half_m + offset_m));
    let (erf_high, slope_high) = erf_and_slope(high);
    let (erf_low, slope_low) = erf_and_slope(low);
    Across {
        share: 0.5 * (erf_high + erf_low),
        density_jump: 0.5 * scale * (slope_high - slope_low),
        slope_jump: -scale * scale * (high * slope_high + low * slope_low),
    }
}

/// An even patch blurred by a bell curve, exactly: both of its ends pass the edge one after the
/// other, and the share is the difference of the integrals of erf.
#[inline(always)]
fn across_patch(half_m: f64, offset_m: f64, patch_m: f64, blur_m2: f64) -> Across {
    let variance_m2 = blur_m2 + patch_m * patch_m / 12.0;
    let least_m = LEAST_PATCH * variance_m2.sqrt();
    let patch_m = if patch_m > least_m { patch_m } else { least_m };
    let bell_m2 = variance_m2 - patch_m * patch_m / 12.0;
    let scale = FRAC_1_SQRT_2 / bell_m2.sqrt();
    let (reach, ends) = (
        0.5 * scale * patch_m,
        [half_m - offset_m, half_m + offset_m],
    );
    let [high, low] = ends.map(|end_m| {
        let (outer, inner) = (scale * end_m + reach, scale * end_m - reach);
        let (erf_outer, slope_outer) = erf_and_slope(outer);
        let (erf_inner, slope_inner) = erf_and_slope(inner);
        let integral = outer * erf_outer - inner * erf_inner + 0.5 * (slope_outer - slope_inner);
        [integral, erf_outer - erf_inner, slope_outer - slope_inner]
    });
    let even = 0.5 / patch_m;
    Across {
        share: even / scale * (high[0] + low[0]),
        density_jump: even * (high[1] - low[1]),
        slope_jump: even * scale * (high[2] + low[2]),
    }
}

/// Density of each image at the aperture's centre [1/m²]: the bell curve in two dimensions with
/// its covariance, lowered to what an even sun and an even patch of the same spread have at their
/// middle.
pub(crate) fn density_at_centre(image: &Image) -> Lane {
    let narrow = is_narrow(image);
    let mut density = [0.0; LANES];
    for lane in 0..LANES {
        let [x, y] = [image.offset_m[0][lane], image.offset_m[1][lane]];
        let [patch_x, patch_y] = [image.patch_m[0][lane], image.patch_m[1][lane]];
        let var_x = image.blur_m2[0][lane] + patch_x * patch_x / 12.0;
        let var_y = image.blur_m2[1][lane] + patch_y * patch_y / 12.0;
        let shared = image.shared_m2[lane];
        let spread2 = var_x * var_y - shared * shared;
        let least = 1e-6 * var_x * var_y;
        let spread2 = if spread2 > least { spread2 } else { least };
        let far = (x * x * var_y - 2.0 * x * y * shared + y * y * var_x) / spread2;
        let spread = spread2.sqrt();
        let bell = exp(-0.5 * far) / (2.0 * PI * spread);
        let flat = if narrow {
            1.0
        } else {
            flattening(patch_x, var_x) * flattening(patch_y, var_y)
        };
        density[lane] = image.open[lane] * bell * sun_flattening(image.sun_m2[lane], spread) * flat;
    }
    density
}

/// Middle of an even disc blurred by a round bell curve ÷ middle of the bell curve of the same
/// variance: (1 − e^−x)(1/x + ½) with x = R²/(2σ²) = 2·(sun's variance)/(rest of the variance).
#[inline(always)]
fn sun_flattening(sun_m2: f64, all_m2: f64) -> f64 {
    let rest_m2 = all_m2 - sun_m2;
    let least_m2 = 1e-6 * all_m2;
    let rest_m2 = if rest_m2 > least_m2 {
        rest_m2
    } else {
        least_m2
    };
    let x = 2.0 * sun_m2 / rest_m2;
    let x = if x > 1e-4 { x } else { 1e-4 };
    (1.0 - exp(-x)) * (1.0 / x + 0.5)
}

/// Middle of an even patch blurred by a bell curve ÷ middle of the bell curve of the same variance.
#[inline(always)]
fn flattening(patch_m: f64, variance_m2: f64) -> f64 {
    let least_m = LEAST_PATCH * variance_m2.sqrt();
    let patch_m = if patch_m > least_m { patch_m } else { least_m };
    let bell_m2 = variance_m2 - patch_m * patch_m / 12.0;
    let bell_m2 = if bell_m2 > 1e-9 * variance_m2 {
        bell_m2
    } else {
        1e-9 * variance_m2
    };
    let middle = erf(0.5 * FRAC_1_SQRT_2 * patch_m / bell_m2.sqrt()) / patch_m;
    middle * (2.0 * PI * variance_m2).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn image(offset_m: [f64; 2], patch_m: [f64; 2], blur_m2: [f64; 2], shared_m2: f64) -> Image {
        Image {
            offset_m: offset_m.map(|value| [value; LANES]),
            patch_m: patch_m.map(|value| [value; LANES]),
            blur_m2: blur_m2.map(|value| [value; LANES]),
            shared_m2: [shared_m2; LANES],
            sun_m2: [0.0; LANES],
            open: [1.0; LANES],
        }
    }

    /// Products of the error function, exact to the digits given (closed form).
    #[test]
    fn bell_in_a_rectangle() {
        let cases = [
            ([1.0, 1.0], [0.0, 0.0], 0.46606494),
            ([2.0, 1.0], [0.0, 0.0], 0.65162694),
            ([2.0, 2.0], [0.0, 0.0], 0.91106975),
            ([3.0, 2.0], [0.0, 0.0], 0.95192278),
            ([3.0, 3.0], [0.0, 0.0], 0.99460770),
            ([2.0, 2.0], [0.5, 1.0], 0.77866106),
        ];
        for (half_m, offset_m, share) in cases {
            let narrow = share_inside(&image(offset_m, [0.0; 2], [1.0; 2], 0.0), half_m)[0];
            assert!((narrow - share).abs() < 1e-6, "{narrow} {share}");
        }
    }

    /// Midpoint sums of the true density over the aperture: bell curve with covariance.
    fn summed_bell(
        half_m: [f64; 2],
        offset_m: [f64; 2],
        variance_m2: [f64; 2],
        shared_m2: f64,
    ) -> f64 {
        let steps = 400;
        let spread2 = variance_m2[0] * variance_m2[1] - shared_m2 * shared_m2;
        let mut sum = 0.0;
        for i in 0..steps {
            let x = half_m[0] * (2.0 * (f64::from(i) + 0.5) / f64::from(steps) - 1.0) - offset_m[0];
            for j in 0..steps {
                let y =
                    half_m[1] * (2.0 * (f64::from(j) + 0.5) / f64::from(steps) - 1.0) - offset_m[1];
                let far = (x * x * variance_m2[1] - 2.0 * x * y * shared_m2
                    + y * y * variance_m2[0])
                    / spread2;
                sum += libm::exp(-0.5 * far);
            }
        }
        let cell = 4.0 * half_m[0] * half_m[1] / f64::from(steps * steps);
        sum * cell / (2.0 * PI * spread2.sqrt())
    }

    #[test]
    fn covariance_of_right_and_up() {
        for (half_m, offset_m, correlation, allowed) in [
            ([1.6, 1.6], [0.0, 0.0], 0.4, 2e-4),
            ([1.6, 2.0], [0.3, -0.4], 0.4, 1e-3),
            ([1.6, 1.6], [0.5, 0.5], -0.4, 1e-3),
            ([1.2, 1.2], [0.0, 0.0], 0.6, 4e-3),
            ([1.6, 1.6], [0.3, 0.3], 0.6, 4e-3),
        ] {
            let series = share_inside(&image(offset_m, [0.0; 2], [1.0; 2], correlation), half_m)[0];
            let exact = summed_bell(half_m, offset_m, [1.0; 2], correlation);
            let apart = share_inside(&image(offset_m, [0.0; 2], [1.0; 2], 0.0), half_m)[0];
            println!(
                "{correlation} {offset_m:?}: series {series:.5} exact {exact:.5} apart {apart:.5}"
            );
            assert!((series - exact).abs() < allowed);
        }
    }

    /// An even patch blurred by a bell curve, against a midpoint sum over the patch.
    #[test]
    fn patch_blurred_by_a_bell() {
        for (patch_m, bell_m, offset_m) in [
            (2.0, 0.1, 0.0),
            (3.0, 0.4, 0.6),
            (1.5, 0.3, -0.9),
            (1.0, 1.0, 0.2),
        ] {
            let half_m = 1.0;
            let steps = 4000;
            let exact = (0..steps)
                .map(|step| {
                    let at_m =
                        offset_m + patch_m * ((f64::from(step) + 0.5) / f64::from(steps) - 0.5);
                    let scale = FRAC_1_SQRT_2 / bell_m;
                    0.5 * (libm::erf(scale * (half_m - at_m)) + libm::erf(scale * (half_m + at_m)))
                })
                .sum::<f64>()
                / f64::from(steps);
            let across = across_patch(half_m, offset_m, patch_m, bell_m * bell_m);
            assert!(
                (across.share - exact).abs() < 2e-6,
                "{} {exact}",
                across.share
            );
        }
    }

    /// A flat mirror far larger than its blur needs an aperture at least its own size: a target of
    /// half the width and height catches a quarter, the full size nearly all.
    #[test]
    fn flat_patch_needs_its_own_size() {
        let large = image([0.0; 2], [4.0; 2], [0.01; 2], 0.0);
        assert!((share_inside(&large, [1.0; 2])[0] - 0.25).abs() < 1e-6);
        assert!((share_inside(&large, [2.0; 2])[0] - 0.96).abs() < 0.01);
        assert!((density_at_centre(&large)[0] - 1.0 / 16.0).abs() < 1e-6);
    }

    /// The two forms meet where the kernel changes from one to the other.
    #[test]
    fn narrow_and_wide_meet() {
        for half_m in [0.5, 1.0, 1.5, 2.5] {
            let bell = across_bell(half_m, 0.3, 1.0);
            let patch = across_patch(half_m, 0.3, NARROW, 1.0 - NARROW * NARROW / 12.0);
            assert!((bell.share - patch.share).abs() < 5e-4);
            assert!((bell.density_jump - patch.density_jump).abs() < 2e-3);
            assert!((bell.slope_jump - patch.slope_jump).abs() < 5e-3);
        }
    }

    /// An even disc without any blur has half the peak of the bell curve of its variance.
    #[test]
    fn even_sun_halves_the_bell() {
        assert!((sun_flattening(1.0, 1.0) - 0.5).abs() < 1e-5);
        assert!((sun_flattening(0.0, 1.0) - 1.0).abs() < 1e-8);
    }
}
