//! How much of an image falls inside the aperture, and how dense it is at the centre.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use geometry::erf::{erf, erf_and_slope};
use geometry::exp::exp;
use geometry::{LANES, Lane};

use crate::aureole;
use crate::image::{EVEN_STRETCH_EXCESS, Image, ImageAxis};
use crate::panel::{greater, lesser};

/// A patch narrower than this many standard deviations of the whole image counts as part of the
/// bell curve, with its fourth cumulant: the shares then differ by less than 1e-3.
const NARROW: f64 = 1.8;
/// The patch is kept at least this wide, in standard deviations of the image, so that
/// differences of nearly equal numbers stay exact.
const LEAST_PATCH: f64 = 0.3;
/// The bell curve's variance is kept at least this share of the image's.
const LEAST_BELL: f64 = 1e-9;

/// One axis of the image against one side of the aperture: its share inside −half … half, and the
/// jumps of its density and of the density's slope from one end to the other.
struct Across {
    share: Lane,
    density_jump_per_m: Lane,
    slope_jump_per_m2: Lane,
}

/// Share of each image that falls inside the aperture of half sides `half_m` (right, up).
///
/// The two axes are first taken as independent bell curves, or patches blurred by one. Cumulants
/// beyond that come in by their series (Edgeworth; Kendall & Stuart, The Advanced Theory of
/// Statistics, vol. 1, ch. 6; from memory): the fourth of each axis, the covariance c to its second
/// term, and that of x² and y², for a round core a third of the fourth along an axis. The result is kept within the
/// bounds that the two single shares allow (Fréchet). Against a bell curve in two dimensions this errs by less than
/// 1e-3 for a correlation up to 0.4, 4e-3 at 0.6.
pub(crate) fn share_inside(image: &Image, half_m: [f64; 2]) -> Lane {
    let right = Across::new(&image.right, half_m[0]);
    let up = Across::new(&image.up, half_m[1]);
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        let [x, y] = [right.share[lane], up.share[lane]];
        let (x, y) = (lesser(greater(x, 0.0), 1.0), lesser(greater(y, 0.0), 1.0));
        let shared_m2 = image.shared_m2[lane];
        let first = right.density_jump_per_m[lane] * up.density_jump_per_m[lane];
        let second = right.slope_jump_per_m2[lane] * up.slope_jump_per_m2[lane];
        let sun_m4 = image.right.sun_m2[lane] * image.up.sun_m2[lane];
        let mixed_m4 = image.sun.core_excess / 3.0 * sun_m4;
        let joint =
            x * y + shared_m2 * first + (0.5 * shared_m2 * shared_m2 + 0.25 * mixed_m4) * second;
        let joint = greater(joint, greater(x + y - 1.0, 0.0));
        shares[lane] = image.open[lane] * lesser(joint, lesser(x, y));
    }
    aureole::mix_in(image, half_m, &mut shares);
    shares
}

impl Across {
    fn new(axis: &ImageAxis, half_m: f64) -> Self {
        let none = [0.0; LANES];
        let mut across = Self {
            share: none,
            density_jump_per_m: none,
            slope_jump_per_m2: none,
        };
        if is_narrow(axis) {
            across.fill_bell(axis, half_m);
        } else {
            across.fill_patch(axis, half_m);
        }
        across
    }

    /// The image as a bell curve.
    fn fill_bell(&mut self, axis: &ImageAxis, half_m: f64) {
        for lane in 0..LANES {
            let scale = FRAC_1_SQRT_2 / axis.variance_m2[lane].sqrt();
            let high = scale * (half_m - axis.offset_m[lane]);
            let low = scale * (half_m + axis.offset_m[lane]);
            let (erf_high, slope_high) = erf_and_slope(high);
            let (erf_low, slope_low) = erf_and_slope(low);
            let scale2 = scale * scale;
            let patch_m2 = axis.patch_m[lane] * axis.patch_m[lane];
            let excess_m4 = axis.excess_m4[lane] - EVEN_STRETCH_EXCESS * patch_m2 * patch_m2;
            let third_jump = high * (12.0 - 8.0 * high * high) * slope_high
                + low * (12.0 - 8.0 * low * low) * slope_low;
            self.share[lane] =
                0.5 * (erf_high + erf_low) + excess_m4 / 48.0 * scale2 * scale2 * third_jump;
            self.density_jump_per_m[lane] = 0.5 * scale * (slope_high - slope_low);
            self.slope_jump_per_m2[lane] = -scale2 * (high * slope_high + low * slope_low);
        }
    }

    /// The image as an even patch blurred by a bell curve, exactly: the share is the difference of
    /// the integrals of erf from where the patch's one end passes the edge to where the other does.
    fn fill_patch(&mut self, axis: &ImageAxis, half_m: f64) {
        for lane in 0..LANES {
            let (patch_m, bell_m2) = parted(axis, lane);
            let scale = FRAC_1_SQRT_2 / bell_m2.sqrt();
            let reach = 0.5 * scale * patch_m;
            let high = Passing::new(scale * (half_m - axis.offset_m[lane]), reach);
            let low = Passing::new(scale * (half_m + axis.offset_m[lane]), reach);
            let even = 0.5 / patch_m;
            let third_jump = even * scale * scale * scale * (high.bend + low.bend);
            self.share[lane] = even / scale * (high.integral + low.integral)
                + axis.excess_m4[lane] / 24.0 * third_jump;
            self.density_jump_per_m[lane] = even * (high.erf - low.erf);
            self.slope_jump_per_m2[lane] = even * scale * (high.slope + low.slope);
        }
    }
}

/// What changes while a patch passes an edge: differences, from its near to its far end, of the
/// integral of erf, of erf, of erf's slope, and of that slope's second derivative.
struct Passing {
    integral: f64,
    erf: f64,
    slope: f64,
    bend: f64,
}

impl Passing {
    #[inline(always)]
    fn new(middle: f64, reach: f64) -> Self {
        let (outer, inner) = (middle + reach, middle - reach);
        let (erf_outer, slope_outer) = erf_and_slope(outer);
        let (erf_inner, slope_inner) = erf_and_slope(inner);
        let slope = slope_outer - slope_inner;
        Self {
            integral: outer * erf_outer - inner * erf_inner + 0.5 * slope,
            erf: erf_outer - erf_inner,
            slope,
            bend: (4.0 * outer * outer - 2.0) * slope_outer
                - (4.0 * inner * inner - 2.0) * slope_inner,
        }
    }
}

/// Is the patch narrow against the whole image under all suns?
fn is_narrow(axis: &ImageAxis) -> bool {
    let mut wide = 0;
    for lane in 0..LANES {
        let patch_m2 = axis.patch_m[lane] * axis.patch_m[lane];
        wide |= u64::from(patch_m2 > NARROW * NARROW * axis.variance_m2[lane]);
    }
    wide == 0
}

/// The patch, not quite vanishing, and the variance of the bell curve that blurs it.
#[inline(always)]
fn parted(axis: &ImageAxis, lane: usize) -> (f64, f64) {
    let variance_m2 = axis.variance_m2[lane];
    let patch_m = greater(axis.patch_m[lane], LEAST_PATCH * variance_m2.sqrt());
    let bell_m2 = greater(
        variance_m2 - patch_m * patch_m / 12.0,
        LEAST_BELL * variance_m2,
    );
    (patch_m, bell_m2)
}

/// Density of each image at the aperture's centre [1/m²]: the bell curve in two dimensions with
/// its covariance, lowered to what an even sun and an even patch of the same spread have at their
/// middle.
pub(crate) fn density_at_centre(image: &Image) -> Lane {
    let mut density = [0.0; LANES];
    for lane in 0..LANES {
        let (x, y) = (image.right.offset_m[lane], image.up.offset_m[lane]);
        let (var_x, var_y) = (image.right.variance_m2[lane], image.up.variance_m2[lane]);
        let shared = image.shared_m2[lane];
        let product = var_x * var_y;
        let spread2 = greater(product - shared * shared, 1e-6 * product);
        let spread = spread2.sqrt();
        let far = (x * x * var_y - 2.0 * x * y * shared + y * y * var_x) / spread2;
        let bell = exp(-0.5 * far) / (2.0 * PI * spread);
        let flattening =
            1.0 + image.sun.core_excess * (1.0 - sun_flattening(image.sun_m2[lane], spread));
        density[lane] = image.open[lane] * image.sun.core_share * bell * flattening;
    }
    for axis in [&image.right, &image.up] {
        if !is_narrow(axis) {
            for lane in 0..LANES {
                density[lane] *= patch_flattening(axis, lane);
            }
        }
    }
    density
}

/// Middle of an even disc blurred by a round bell curve ÷ middle of the bell curve of the same
/// variance: (1 − e^−x)(1/x + ½) with x = R²/(2σ²) = 2·(sun's variance)/(rest of the variance).
#[inline(always)]
fn sun_flattening(sun_m2: f64, all_m2: f64) -> f64 {
    let rest_m2 = greater(all_m2 - sun_m2, 1e-6 * all_m2);
    let x = greater(2.0 * sun_m2 / rest_m2, 1e-4);
    (1.0 - exp(-x)) * (1.0 / x + 0.5)
}

/// Middle of an even patch blurred by a bell curve ÷ middle of the bell curve of the same variance.
#[inline(always)]
fn patch_flattening(axis: &ImageAxis, lane: usize) -> f64 {
    let (patch_m, bell_m2) = parted(axis, lane);
    let middle_per_m = erf(0.5 * FRAC_1_SQRT_2 * patch_m / bell_m2.sqrt()) / patch_m;
    middle_per_m * (2.0 * PI * axis.variance_m2[lane]).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun_shape::SunBlur;

    fn axis(offset_m: f64, patch_m: f64, bell_m2: f64) -> ImageAxis {
        ImageAxis {
            offset_m: [offset_m; LANES],
            patch_m: [patch_m; LANES],
            variance_m2: [bell_m2 + patch_m * patch_m / 12.0; LANES],
            sun_m2: [0.0; LANES],
            reach_m2: [0.0; LANES],
            excess_m4: [0.0; LANES],
        }
    }

    fn image(offset_m: [f64; 2], patch_m: f64, bell_m2: f64, shared_m2: f64) -> Image {
        Image {
            right: axis(offset_m[0], patch_m, bell_m2),
            up: axis(offset_m[1], patch_m, bell_m2),
            shared_m2: [shared_m2; LANES],
            sun_m2: [0.0; LANES],
            sun: SunBlur::EVEN_DISC,
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
            let narrow = share_inside(&image(offset_m, 0.0, 1.0, 0.0), half_m)[0];
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
            let series = share_inside(&image(offset_m, 0.0, 1.0, correlation), half_m)[0];
            let exact = summed_bell(half_m, offset_m, [1.0; 2], correlation);
            let apart = share_inside(&image(offset_m, 0.0, 1.0, 0.0), half_m)[0];
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
            (3.0, 1.0, 0.2),
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
            let share = Across::new(&axis(offset_m, patch_m, bell_m * bell_m), half_m).share[0];
            assert!((share - exact).abs() < 2e-6, "{share} {exact}");
        }
    }

    /// A flat mirror far larger than its blur needs an aperture at least its own size: a target of
    /// half the width and height catches a quarter, the full size nearly all.
    #[test]
    fn flat_patch_needs_its_own_size() {
        let large = image([0.0; 2], 4.0, 0.01, 0.0);
        assert!((share_inside(&large, [1.0; 2])[0] - 0.25).abs() < 1e-6);
        assert!((share_inside(&large, [2.0; 2])[0] - 0.96).abs() < 0.01);
        assert!((density_at_centre(&large)[0] - 1.0 / 16.0).abs() < 1e-6);
    }

    /// The two forms meet where the kernel changes from one to the other.
    #[test]
    fn narrow_and_wide_meet() {
        for half_m in [0.5, 1.0, 1.5, 2.0, 2.5] {
            for offset_m in [0.0, 0.5, 1.5] {
                let patch_m = 1.0;
                let mut narrow = axis(
                    offset_m,
                    patch_m,
                    1.0 / (NARROW * NARROW) - 1.0 / 12.0 + 1e-9,
                );
                let narrow_share = Across::new(&narrow, half_m).share[0];
                narrow.variance_m2 = narrow.variance_m2.map(|variance_m2| variance_m2 - 2e-9);
                let wide_share = Across::new(&narrow, half_m).share[0];
                assert!(
                    (narrow_share - wide_share).abs() < 1e-3,
                    "{narrow_share} {wide_share}"
                );
            }
        }
    }

    /// An even disc without any blur has half the peak of the bell curve of its variance.
    #[test]
    fn even_sun_halves_the_bell() {
        assert!((sun_flattening(1.0, 1.0) - 0.5).abs() < 1e-5);
        assert!((sun_flattening(0.0, 1.0) - 1.0).abs() < 1e-8);
    }
}
